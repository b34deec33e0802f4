"""What a change would do: other prices, other settings, everything costed again beside today's."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Final

from costbook.book import Value, as_key
from costbook.costing.engine import Costing, cost
from costbook.costing.names import item_keys
from costbook.costing.rows import Row, Structure
from costbook.deciding.per_unit import per_unit
from costbook.definitions.affected import TRIAL_CHANGES
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.fields import Field, Kind, Least
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.near_names import offer
from costbook.problems import Refused
from costbook.started import command

__all__ = [
    "TRIAL_SETTINGS",
    "Trial",
    "fixed_to",
    "named_item",
    "nothing_to_try",
    "read_trial",
    "tried",
    "typed_trial",
]

TRIAL_SETTINGS: Final = tuple(
    field for field in INPUT_SHEETS["Settings"].fields if ("settings", field.name) in TRIAL_CHANGES
)
"""The settings that a trial may change."""

_CHANGE: Final = re.compile(
    r"(?P<name>.+?)\s*=\s*(?P<sign>[+-]?)\s*(?P<number>\d{1,9}(?:\.\d{1,9})?)\s*"
    r"(?:(?P<percent>%)|/\s*(?P<unit>[^/]+))?"
)


_HOW_SETTING: Final = '--set "Pay per hour=20" or --set "Target margin %=35"'


@dataclass(frozen=True, slots=True)
class Trial:
    """Other prices per pack, by item key, and other settings, by column of Settings."""

    prices: Mapping[str, Decimal]
    settings: Mapping[str, Decimal]

    def __bool__(self) -> bool:
        return bool(self.prices or self.settings)


def read_trial(costing: Costing, prices: Iterable[str], settings: Iterable[str]) -> Trial:
    """Read changes such as ``Eggs, large=+40%``, ``Butter=5/lb`` and ``Pay per hour=20``.

    Raises Refused for a name that isn't there, or a change that can't be read.
    """
    return Trial(
        dict(_price(costing, text) for text in prices),
        dict(_setting(costing, text) for text in settings),
    )


def typed_trial(
    prices: Mapping[str, Decimal | str], settings: Mapping[str, Decimal | str]
) -> Trial:
    """The trial of what was typed into boxes: texts change nothing, as on the sheet.

    A number that a box can't hold is unknown.
    """
    fields = {field.name: field for field in TRIAL_SETTINGS}
    return Trial(
        {
            key: price if price >= 0 else UNKNOWN
            for key, price in prices.items()
            if isinstance(price, Decimal)
        },
        {
            name: UNKNOWN if fields[name].refused(number) else fields[name].held(number)
            for name, number in settings.items()
            if name in fields and isinstance(number, Decimal)
        },
    )


def tried(costing: Costing, trial: Trial) -> Costing:
    """Cost the same book with the trial's values; a trial of nothing is today's costing."""
    if not trial:
        return costing
    structure = costing.structure
    changed: dict[tuple[str, int], dict[str, Value]] = {}
    for row in structure.rows["prices_now"]:
        key = str(row.fixed["item_key"])
        if key in trial.prices:
            changed[row.table, row.index] = {"price_per_pack": _known(trial.prices[key])}
    settings = structure.one("settings")
    known = {name: _known(value) for name, value in trial.settings.items()}
    changed[settings.table, settings.index] = known
    return cost(fixed_to(structure, changed))


def nothing_to_try(costing: Costing, path: Path) -> Refused:
    """What to type for a trial, with an item of the person's own that has a price."""
    known = (
        row for row in costing.structure.rows["prices_now"] if costing.of(row)["price_per_pack"]
    )
    item = next((str(row.fixed["item"]) for row in known), "Eggs, large")
    typed = command("try", path)
    return Refused(
        "Say what to try: another price, or another setting.",
        f'Type {typed} --price "{item}=+10%" or {typed} --set "Pay per hour=20"',
    )


def _known(value: Decimal) -> Value:
    return None if value.is_nan() else value


def fixed_to(
    structure: Structure, changed: Mapping[tuple[str, int], Mapping[str, Value]]
) -> Structure:
    """The same structure with some cells fixed to other values."""
    fresh: dict[tuple[str, int], Row] = {
        (row.table, row.index): replace(row, fixed={**row.fixed, **changed[row.table, row.index]})
        for row in structure.order
        if (row.table, row.index) in changed
    }
    rows = {
        table: [fresh.get((table, row.index), row) for row in rows]
        for table, rows in structure.rows.items()
    }
    order = [fresh.get((row.table, row.index), row) for row in structure.order]
    return replace(structure, rows=rows, order=order)


@dataclass(frozen=True, slots=True)
class _Change:
    """A change as typed: of what, by or to how much, as a percentage, for how much of it."""

    name: str
    sign: str
    number: Decimal
    percent: bool
    unit: str


def _change(text: str, example: str) -> _Change:
    found = _CHANGE.fullmatch(text.strip())
    if found is None:
        raise Refused(f'"{text}" is no change.', f"Write it like this: {example}")
    number = Decimal(found["number"])
    return _Change(
        found["name"], found["sign"], number, bool(found["percent"]), found["unit"] or ""
    )


def _price(costing: Costing, text: str) -> tuple[str, Decimal]:
    change = _change(text, '--price "Eggs, large=+40%" or --price "Film=28.50"')
    key, row = _item(costing, change.name)
    now = costing.of(row)["price_per_pack"]
    if not isinstance(now, Decimal):
        raise Refused(
            f"No purchase of {row.fixed['item']} counts, so it has no pack to price.",
            "Add a receipt of it to Purchases.",
        )
    by = change.number / 100 * now if change.percent else _for_pack(costing, row, change)
    changed = now + (-by if change.sign == "-" else by) if change.sign else by
    if changed < 0:
        raise Refused(f'"{text}" makes the price less than nothing.', "Give a smaller change.")
    return key, changed


def _for_pack(costing: Costing, row: Row, change: _Change) -> Decimal:
    """The number of a change for the pack of the purchase that counts [money]."""
    if not change.unit:
        return change.number
    bought, example = costing.of(row), f'--price "{change.name}=5/lb"'
    per = per_unit(change.unit, example)
    price = per.for_pack(bought, change.number) if per.fits(bought) else None
    if price is None:
        unit = bought["pack_unit"] or "not known"
        raise Refused(
            f"{row.fixed['item']} is bought in another kind of unit ({unit}) than {change.unit}.",
            "Give the price of such a unit, or of the whole pack.",
        )
    return price


def named_item(costing: Costing, name: str) -> str:
    """The key of the item that a person names. Raises Refused where there is none."""
    return _item(costing, name)[0]


def _item(costing: Costing, name: str) -> tuple[str, Row]:
    keys = item_keys(costing.structure.book)
    key = keys.get(as_key(name), as_key(name))
    rows = {str(row.fixed["item_key"]): row for row in costing.structure.rows["prices_now"]}
    if key in rows:
        return key, rows[key]
    names = [str(row.fixed["item"]) for row in rows.values()]
    raise Refused(f'No item is called "{name}".', offer(name, names))


def _setting(costing: Costing, text: str) -> tuple[str, Decimal]:
    change = _change(text, _HOW_SETTING)
    if change.unit:
        raise Refused(f'"{text}" is no change.', f"Write it like this: {_HOW_SETTING}")
    sign, number, percent = change.sign, change.number, change.percent
    field = _setting_field(change.name)
    if field.kind is Kind.SHARE:
        if number == 1 and not percent:
            raise Refused(f'"{text}" may mean 1 % or 100 %.', "Write 1% or 100%.")
        value = number / 100 if percent else field.held(number)
        return field.name, _allowed(field, text, _moved(costing, field, sign, value))
    if percent:
        now = costing.one("settings")[field.name]
        if not isinstance(now, Decimal):
            raise Refused(f"{field.title} is not known.", f"Give a value: {field.title}=20")
        number = number / 100 * now
    return field.name, _allowed(field, text, _moved(costing, field, sign, number))


def _moved(costing: Costing, field: Field, sign: str, number: Decimal) -> Decimal:
    """The new value: the number itself, or so much more or less than now."""
    if not sign:
        return number
    now = costing.one("settings")[field.name]
    base = now if isinstance(now, Decimal) else Decimal(0)
    return base - number if sign == "-" else base + number


def _allowed(field: Field, text: str, value: Decimal) -> Decimal:
    """The value, if the cell on Settings may hold it. Raises Refused."""
    if value < 0:
        raise Refused(f'"{text}" makes {field.title} less than nothing.', "Give another value.")
    if field.least is Least.ABOVE_ZERO and value == 0:
        raise Refused(f'"{text}" makes {field.title} nothing.', "Give a value above zero.")
    if field.kind is Kind.SHARE and value > field.limit:
        raise Refused(f'"{text}" makes {field.title} more than 100 %.', "Give another value.")
    return value


def _setting_field(name: str) -> Field:
    wanted = "".join(character for character in name.casefold() if character.isalnum())
    for field in TRIAL_SETTINGS:
        for title in (field.title, *field.also):
            if "".join(c for c in title.casefold() if c.isalnum()) == wanted:
                return field
    titles = [field.title for field in TRIAL_SETTINGS]
    raise Refused(f'No setting is called "{name}".', offer(name, titles))
