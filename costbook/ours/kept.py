"""What our pages keep for the next run, each thing declared once.

A `Kept` says on which sheet a thing stands and under which headings, which its page writes from
here, and how what is found below them is read back. `Remembered` is all of them as they came back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import date
from decimal import Decimal
from itertools import dropwhile, takewhile
from typing import Any, Final

from costbook.book import as_key
from costbook.definitions.fields import Field, Kind
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.package.workbook_file import WorkbookFile
from costbook.reading.cells import Cell, Grid, read_workbook
from costbook.reading.numbers import Money, NumberStyle, Unclear, read_price, read_share
from costbook.reading.tables import heading_key

__all__ = ["LEFT", "NOTHING_REMEMBERED", "PASTS", "PICKED", "TRIAL_PRICES", "TRIAL_SETTINGS"]
__all__ += ["Kept", "Past", "Remembered", "remembered"]

KeptCells = tuple[Cell | None, ...]
"""The cells of a row that stand under the headings."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What a page keeps: the sheet, the headings above it, and how the lines below are read.

    Without headings it is all that the sheet holds.
    """

    sheet: str
    headings: tuple[str, ...]
    read: Callable[[Sequence[KeptCells]], Any]

    def found_on(self, grids: Mapping[str, Grid]) -> Any:
        """What is below the first row with all the headings; what no line gives without one."""
        rows = sorted(grids[self.sheet].rows.items()) if self.sheet in grids else []
        if not self.headings:
            return self.read([tuple(cells.values()) for _, cells in rows])
        wanted = [heading_key(heading) for heading in self.headings]
        for number, cells in rows:
            at: dict[str, int] = {}
            for column, cell in sorted(cells.items()):
                if isinstance(cell, str):
                    at.setdefault(heading_key(cell), column)
            if at.keys() >= set(wanted):
                below = (held for row, held in rows if row > number)
                return self.read([tuple(held.get(at[key]) for key in wanted) for held in below])
        return self.read(())


# ---------------------------------------------------------------- earlier costings


@dataclass(frozen=True, slots=True)
class Past:
    """What one product at one outlet cost, and was to be charged, on a costing date."""

    day: date
    product: str
    outlet: str
    total: Decimal | None
    price: Decimal | None


def _pasts(lines: Sequence[KeptCells]) -> tuple[Past, ...]:
    return tuple(
        Past(day, product, _text(outlet), _number(cost), _number(charge))
        for day, product, outlet, cost, charge in lines
        if isinstance(day, date) and isinstance(product, str)
    )


def _text(cell: Cell | None) -> str:
    return cell if isinstance(cell, str) else ""


def _number(cell: Cell | None) -> Decimal | None:
    return cell if isinstance(cell, Decimal) else None


PASTS: Final = Kept(
    "Earlier costings", ("Costed on", "Product", "Outlet", "Cost", "Charge"), _pasts
)


# ---------------------------------------------------------------- boxes


def _prices(lines: Sequence[KeptCells]) -> dict[str, Decimal | str]:
    return {as_key(item): _price(typed) for item, typed in _typed(lines)}


def _settings(lines: Sequence[KeptCells]) -> dict[str, Decimal | str]:
    known = {heading_key(field.title): field for field in INPUT_SHEETS["Settings"].fields}
    named = ((known.get(heading_key(name)), typed) for name, typed in _typed(lines))
    return {field.name: _setting(field, typed) for field, typed in named if field}


def _typed(lines: Sequence[KeptCells]) -> Iterator[tuple[str, Decimal | str]]:
    """Names and the trial values typed beside them, as far as names follow each other."""
    named = dropwhile(lambda line: line[0] is None, lines)
    for name, value in takewhile(lambda line: line[0] is not None, named):
        if isinstance(name, str) and isinstance(value, Decimal | str):
            yield name, value


def _price(typed: Decimal | str) -> Decimal | str:
    """A price in a box; one typed as text is read, and stays text where it is no price."""
    if not isinstance(typed, str):
        return typed
    price = read_price(typed, NumberStyle.UNKNOWN)
    plain = isinstance(price, Money) and price.per is None
    return price.amount if isinstance(price, Money) and plain else typed


def _setting(field: Field, typed: Decimal | str) -> Decimal | str:
    """A setting in a box, as a price is."""
    if isinstance(typed, str) and field.kind is Kind.SHARE:
        share = read_share(typed, NumberStyle.UNKNOWN, field.limit)
        return typed if isinstance(share, Unclear) else share
    return _price(typed)


def _picked(lines: Sequence[KeptCells]) -> tuple[str, str]:
    product, outlet = lines[0] if lines else ("", "")
    return _text(product), _text(outlet)


TRIAL_SETTINGS: Final = Kept("Try a change", ("Setting", "Try"), _settings)
TRIAL_PRICES: Final = Kept("Try a change", ("Item", "Try"), _prices)
PICKED: Final = Kept("Prices", ("Pick a product", "Pick where it is sold"), _picked)


# ---------------------------------------------------------------- imprints


def _folded(lines: Sequence[KeptCells]) -> tuple[str, ...]:
    """The lines that hold imprints; what is said to people has spaces."""
    texts = (_text(cell) for line in lines for cell in line)
    return tuple(text for text in texts if len(text) > _SHORTEST and " " not in text)


_SHORTEST: Final = 60

LEFT: Final = Kept("Memory", (), _folded)


# ---------------------------------------------------------------- all of it


def _as(kept: Kept) -> Any:
    """The field that holds it, and what reading nothing gives while there is nothing."""
    return field(default_factory=lambda: kept.read(()), metadata={"kept": kept})


@dataclass(frozen=True, slots=True)
class Remembered:
    """What came back on our sheets.

    Trial prices are by item key, trial settings by column of Settings, both as typed: what is no
    number changes nothing, but stays where it was typed.
    """

    pasts: tuple[Past, ...] = _as(PASTS)
    trial_prices: Mapping[str, Decimal | str] = _as(TRIAL_PRICES)
    trial_settings: Mapping[str, Decimal | str] = _as(TRIAL_SETTINGS)
    picked: tuple[str, str] = _as(PICKED)
    """The product and the outlet whose price ladder is shown."""
    left: tuple[str, ...] = _as(LEFT)
    """What the run before left on each sheet: imprints, as `imprint.py` folds them."""

    def last_before(self, day: date) -> date | None:
        """The latest costing date before a day."""
        return max((past.day for past in self.pasts if past.day < day), default=None)

    def on(self, day: date) -> dict[tuple[str, str], Past]:
        """What was costed on a day, by product and outlet."""
        return {(past.product, past.outlet): past for past in self.pasts if past.day == day}


NOTHING_REMEMBERED: Final = Remembered()


def remembered(file: WorkbookFile) -> Remembered:
    """What came back on our sheets in a file. Raises Refused where they can't be read."""
    kept: dict[str, Kept] = {each.name: each.metadata["kept"] for each in fields(Remembered)}
    sheets = {each.sheet for each in kept.values()}
    tabs = {title: tab.name for title, tab in file.ours.items() if title in sheets}
    if not tabs:
        return NOTHING_REMEMBERED
    found = read_workbook(file, lambda _: set(tabs.values()), plainly=True).grids
    grids = {title: found[tab] for title, tab in tabs.items() if tab in found}
    return Remembered(**{name: each.found_on(grids) for name, each in kept.items()})
