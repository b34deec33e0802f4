"""What every page needs: to show a figure of Workings, or one more rule computed from such."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal, DecimalException
from typing import Any

from costbook.book import Record, Value
from costbook.costing.engine import Costing
from costbook.costing.result import CAUTION, currency_of
from costbook.costing.rows import Row
from costbook.definitions.columns import Computed, Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.formula_text import guarded
from costbook.writing.layout import Layout, column_letters, sheet_name

__all__ = ["Context", "Page"]

Ref = tuple[Row, str]
"""A figure of Workings: its row, and the name of its column."""

UNKNOWN_MARK = "?"
"""What stands where a figure is not known: never nothing, never a zero."""


@dataclass(frozen=True, slots=True)
class Context:
    """What the pages are made from."""

    costing: Costing
    layout: Layout
    tabs: Mapping[str, str]
    places: int

    @property
    def business(self) -> str:
        """The business's name on Settings."""
        settings = next(iter(self.costing.structure.book.records("Settings")), None)
        return settings.text("business") if settings else ""

    @property
    def money(self) -> str:
        """What money is in: the currency's code, or nothing."""
        return currency_of(self.costing)

    def link_to(self, record: Record | None, field: str) -> str:
        """The address of a cell of the person's, for a link."""
        if record is None or field not in record.cells:
            return ""
        return f"{sheet_name(self.costing.structure.book.sheets[record.sheet].tab)}!{record.cells[field]}"


class Page:
    """A sheet's description with the means to fill it."""

    def __init__(self, context: Context, title: str) -> None:
        self.context = context
        self.sheet = SheetDescription(title, context.tabs[title])

    def value(self, ref: Ref) -> Value:
        """The engine's figure."""
        return self.context.costing.of(ref[0])[ref[1]]

    def figure(
        self,
        at: tuple[int, int],
        ref: Ref,
        show: Show,
        role: Role = Role.COMPUTED,
        *,
        linked: bool = False,
    ) -> None:
        """Show a figure of Workings, with a link to it on request; an unknown is a `?`."""
        cell = self.context.layout.absolute(*ref)
        value = self.value(ref)
        unknown = "" if show is Show.TEXT else UNKNOWN_MARK
        formula = f'=IF({cell}="","{unknown}",{cell})'
        shown = unknown if value in (None, "") else value
        link = cell.replace("$", "") if linked else ""
        self.sheet.put(*at, shown, Look(role, show), formula=formula, link=link)

    def computed(
        self,
        at: tuple[int, int],
        rule: Callable[..., Any],
        refs: Mapping[str, Ref],
        show: Show,
        role: Role = Role.COMPUTED,
    ) -> Value:
        """Show what a rule gives for figures of Workings, and return it."""
        how = Computed(rule)
        cells = {name: self.context.layout.absolute(*ref) for name, ref in refs.items()}
        formula = guarded(how.term(), how.arguments, cells.__getitem__)
        formula = formula.removesuffix('"")') + f'"{UNKNOWN_MARK}")'
        value = _applied(how, {name: self.value(ref) for name, ref in refs.items()})
        shown = UNKNOWN_MARK if value is None else value
        self.sheet.put(*at, shown, Look(role, show), formula=f"={formula}")
        return value

    def headings(self, names: tuple[str, ...], *, first: int = 0) -> int:
        """Put a row of headings and give its number."""
        row = self.sheet.next_row
        for at, name in enumerate(names):
            self.sheet.put(row, first + at, name, Look(Role.HEADING, wrap=True))
        self.sheet.heights[row] = 32
        self.sheet.next_row += 1
        return row

    def caution(self, across: int) -> None:
        """The cautions, at the foot of the page."""
        self.sheet.next_row += 1
        self.sheet.line(CAUTION, Role.NOTE, across=across, height=40)

    def address(self, row: int, column: int) -> str:
        """The address of a cell of this page, for formulas on it."""
        return f"{column_letters(column)}{row + 1}"


def _applied(how: Computed, values: Mapping[str, Value]) -> Value:
    """The rule's figure; None where something it needs is unknown or it divides by nothing."""
    if None in values.values():
        return None
    try:
        result = how.rule(**values)
    except DecimalException:
        return None
    number = Decimal(result)
    return None if number.is_nan() else number
