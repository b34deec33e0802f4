"""Texts where numbers belong: each kind of field reads them in its own way, or asks."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from costbook.definitions.currencies import symbol
from costbook.definitions.fields import Field, Kind
from costbook.definitions.units import find_unit
from costbook.reading.answers import Answer, CellsByField, Parsed, Ways, as_read, as_text, ask
from costbook.reading.number_style import thousand_times_less
from costbook.reading.numbers import Money, read_price, read_share
from costbook.reading.quantities import Allowance, Quantity, read_amount, read_pack_size
from costbook.reading.rates import in_its_measure, without_own_rate
from costbook.reading.texts import Unclear, plainly, quoted

__all__ = ["IN_THE_ALLOWANCE", "is_foreign", "read_text"]

IN_THE_ALLOWANCE: Final = "in the allowance"
"""How an amount is shown that is left to the small-ingredient allowance."""

_Reader = Callable[[Field, str, CellsByField, Ways], Answer]


_NOT_KNOWN: Final = re.compile(
    r"\?+|tbd|tbc|unknown|not known|not yet|don'?t know|to come", re.IGNORECASE
)
"""What people type for a figure that they still have to find out."""


def read_text(field: Field, typed: str, row: CellsByField, ways: Ways) -> Answer:
    """What a text is, in a field that holds a number."""
    if _NOT_KNOWN.fullmatch(typed.strip()):
        remedy = "Type it." if field.needed else "Type it, or clear the cell to do without."
        return ask(f"{quoted(typed)} stands for a figure that is not known yet.", remedy)
    return _READERS[field.kind](field, typed, row, ways)


def _share(field: Field, typed: str, _: CellsByField, ways: Ways) -> Answer:
    read = read_share(typed, ways.style, field.limit)
    if isinstance(read, Unclear):
        return Answer(asked=read)
    return as_read(field, read, Parsed(shown=f"{plainly(read * 100)} %"))


def _number(field: Field, typed: str, row: CellsByField, ways: Ways) -> Answer:
    if field.goes_with:
        return _amount(field, typed, row, ways)
    plain = without_own_rate(field, typed, row)
    read = plain if isinstance(plain, Unclear) else in_its_measure(field, plain, ways.style)
    if isinstance(read, Unclear):
        percent = field.or_share and typed.strip().endswith("%")
        return _percent_in_text(typed) if percent else Answer(asked=read)
    return as_read(field, read, Parsed(shown=_plain(read)))


def _percent_in_text(typed: str) -> Answer:
    """A percentage that stands as a text, so that no formula can count with it."""
    return ask(
        f"{quoted(typed)} stands here as a text, not as a percentage.",
        "Clear the cell, set its format to percentage and type it again; or type how many.",
    )


def _size(field: Field, typed: str, row: CellsByField, ways: Ways) -> Answer:
    read = read_pack_size(typed, ways.style)
    if isinstance(read, Unclear):
        return Answer(asked=read)
    return _of_grams(typed, read, row, ways) or _quantity(field, read, row)


def _amount(field: Field, typed: str, row: CellsByField, ways: Ways) -> Answer:
    plain = without_own_rate(field, typed, row)
    read = plain if isinstance(plain, Unclear) else read_amount(plain, ways.style)
    if isinstance(read, Unclear):
        return Answer(asked=read)
    if isinstance(read, Quantity):
        return _of_grams(typed, read, row, ways) or _quantity(field, read, row)
    return _little(field, read, row)


def _of_grams(typed: str, read: Quantity, row: CellsByField, ways: Ways) -> Answer | None:
    """Ask of 2,000 g, where commas part whole from tenths: no scale shows thousandths of a gram."""
    beside = row.get("unit")
    unit = read.unit or (find_unit(beside) if isinstance(beside, str) else None)
    found = thousand_times_less(typed, ways.style)
    if found is None or unit is None or unit.factor > 1:
        return None
    low, high = (f"{plainly(number)} {unit.name}" for number in found)
    return ask(f"{quoted(typed)} could be {low} or {high}.", f"Write {high}, or {low}.")


def _little(field: Field, read: Allowance, row: CellsByField) -> Answer:
    """A pinch, which only a line of a recipe can leave to the allowance."""
    if field.name != "amount" or not row.keys().isdisjoint(("product", "per", "what")):
        return ask(f"{quoted(read.text)} is no amount.", "Type a number.")
    said = Unclear(
        f"{quoted(read.text)} is counted in the small-ingredient allowance.",
        "Type an amount to have it costed by itself.",
    )
    return Answer(Decimal(0), Parsed(unit="g", shown=IN_THE_ALLOWANCE), doubt=said)


def _quantity(field: Field, quantity: Quantity, row: CellsByField) -> Answer:
    """A text with a count, a size and perhaps a unit: the unit beside it must agree."""
    beside = next((as_text(row[name]).strip() for name in field.goes_with[:1] if name in row), "")
    unit = quantity.unit.name if quantity.unit else ""
    if unit and beside and find_unit(beside) != quantity.unit:
        return ask(
            f"it says {unit}, and the unit beside it says {quoted(beside)}.",
            "Make the two agree, or keep the unit in one of them.",
        )
    count, size = quantity.count, quantity.size
    if field.kind is not Kind.SIZE or "pack_count" in row:
        count, size = Decimal(1), count * size
    shown = str(quantity) if unit or not beside else f"{quantity} {beside}"
    return as_read(field, size, Parsed(count if count != 1 else None, unit, shown))


# ---------------------------------------------------------------- money


def _money(field: Field, typed: str, row: CellsByField, ways: Ways) -> Answer:
    """A price; one given by the pound or the like needs the pack's size."""
    plain = without_own_rate(field, typed, row)
    if isinstance(plain, Unclear):
        return Answer(asked=plain)
    read = read_price(plain, ways.style)
    if isinstance(read, Unclear):
        return Answer(asked=_in_its_words(field, typed, read))
    if is_foreign(read.currency, ways.currency):
        return ask(
            f"{quoted(typed)} is not in {ways.currency}, the workbook's currency.",
            f"Type what it came to in {ways.currency}.",
        )
    if read.per is None:
        return as_read(field, read.amount, Parsed(shown=_plain(read.amount)))
    held = _held(field, row, read, ways)
    if held is None:
        return ask(
            f"the price is by the {read.per.name}, and the pack's size is not known in it.",
            "Type the price of the whole pack.",
        )
    price = read.amount * held
    return as_read(field, price, Parsed(shown=f"{_plain(price)} a pack"))


def _plain(number: Decimal) -> str:
    """A number for people: thirds cut after four places."""
    return plainly(number if number == round(number, 6) else round(number, 4))


def _in_its_words(field: Field, typed: str, read: Unclear) -> Unclear:
    """Advice on a price of a pack, in words that fit another sum of money."""
    if field.name in ("price_per_pack", "current_price", "wholesale_price_now"):
        return read
    if "pack" in read.remedy or "cost" in read.remedy:
        return Unclear(
            f"{quoted(typed)} is not understood as a sum of money.", "Write it as 4.50, or 0."
        )
    return read


_CODES: Final = re.compile("[A-Z]{3}|[€£¥₹]")


def is_foreign(typed: str, currency: str) -> bool:
    """Whether a price names another money than the workbook's; $ is many countries'."""
    if not _CODES.fullmatch(typed) or not currency:
        return False
    return typed not in (currency, symbol(currency))


def _held(field: Field, row: CellsByField, money: Money, ways: Ways) -> Decimal | None:
    """How many of the price's unit one whole pack holds; None where that isn't known."""
    size, unit_cell, count = row.get("pack_size"), row.get("unit"), row.get("pack_count")
    unit = find_unit(unit_cell) if isinstance(unit_cell, str) else None
    packs = count if isinstance(count, Decimal) else Decimal(1)
    if field.name != "price_per_pack" or money.per is None:
        return None
    if isinstance(size, str):
        read = read_pack_size(size, ways.style)
        if isinstance(read, Unclear):
            return None
        unit, size = read.unit or unit, read.count * read.size
    if not isinstance(size, Decimal) or unit is None or unit.measure is not money.per.measure:
        return None
    return packs * size * unit.factor / money.per.factor


_READERS: Final[Mapping[Kind, _Reader]] = MappingProxyType(
    {
        Kind.SIZE: _size,
        Kind.AMOUNT: _amount,
        Kind.MONEY: _money,
        Kind.SHARE: _share,
        Kind.NUMBER: _number,
    }
)
