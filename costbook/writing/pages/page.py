"""What every page needs: to show a figure of Workings, or one more rule computed from such."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any

from costbook.book import Record, Value
from costbook.costing.engine import Costing
from costbook.costing.result import CAUTION, currency_of
from costbook.costing.structure import Row
from costbook.definitions.columns import Computed, Given, Show
from costbook.definitions.currencies import symbol
from costbook.definitions.workings import TABLES, row_column
from costbook.ours.kept import Remembered
from costbook.problems import Problem
from costbook.writing.description import Look, Mark, Role, SheetDescription
from costbook.writing.formula_text import guarded, printed
from costbook.writing.layout import Layout, column_letters, sheet_name
from costbook.writing.pages.at_least import named

__all__ = [
    "DATE_WIDTH",
    "LEGEND",
    "MONEY_WIDTH",
    "SHARE_WIDTH",
    "UNASKED_MARK",
    "UNKNOWN_MARK",
    "Context",
    "Page",
    "Ref",
    "look_of",
]

Ref = tuple[Row, str]
"""A figure of Workings: its row, and the name of its column."""

UNKNOWN_MARK = "?"
"""What stands where a figure is not known: never nothing, never a zero."""

UNASKED_MARK = "—"
"""What stands where there is nothing to know, as the shelf price of what stands on no shelf."""

MONEY_WIDTH = 12.3
"""Holds 1,234,567.89, and 1,234,567.890 of a currency with three decimals."""
SHARE_WIDTH = 9.3
DATE_WIDTH = 12.5


@dataclass(frozen=True, slots=True)
class Context:
    """What the pages are made from."""

    costing: Costing
    layout: Layout
    tabs: Mapping[str, str]
    places: int
    remembered: Remembered
    trial: Costing
    trial_layout: Layout
    problems: Sequence[Problem]

    @property
    def business(self) -> str:
        """The business's name on Settings."""
        settings = next(iter(self.costing.structure.book.records("Settings")), None)
        return settings.text("business") if settings else ""

    @property
    def money(self) -> str:
        """What money is in: the currency's code, or nothing."""
        return currency_of(self.costing)

    @property
    def sign(self) -> str:
        """What money is in, as titles say it: the currency's sign, or words where none is known."""
        return symbol(self.money) or "in your currency"

    def link_to(self, record: Record | None, field: str) -> str:
        """The address of a cell of the person's, for a link."""
        if record is None or field not in record.cells:
            return ""
        tab = self.costing.structure.book.sheets[record.sheet].tab
        return f"{sheet_name(tab)}!{record.cells[field]}"

    def typed_cell(self, row: Row, record: Record, field: str) -> str:
        """The cell that a row reads of its record, wherever the record stands now; or nothing."""
        sheet = self.costing.structure.book.sheets[record.sheet]
        found = row_column(row.table, record.sheet)
        if field not in record.cells or not found:
            return ""
        letter = sheet.columns[field]
        at = self.layout.absolute(row, found)
        return f"INDEX({sheet_name(sheet.tab)}!${letter}:${letter},{at})"

    def link_to_receipt(self, price: Row) -> str:
        """The receipt that an item's price rested on when this was costed."""
        number = self.costing.of(price)["purchase_row"]
        if not isinstance(number, Decimal):
            return ""
        return self.link_to(self.costing.structure.purchases.get(int(number)), "item")


class Page:
    """A sheet's description with the means to fill it."""

    def __init__(self, context: Context, title: str) -> None:
        self.context = context
        self.sheet = SheetDescription(title, context.tabs[title])
        self.sheet.anchors[f"page: {title}"] = (0, 0)

    def value(self, ref: Ref) -> Value:
        """The engine's figure."""
        return self.context.costing.of(ref[0])[ref[1]]

    def figure(
        self,
        at: tuple[int, int],
        ref: Ref,
        show: Show,
        role: Role | None = None,
        *,
        link: str = "",
        look: Look | None = None,
        dash_if: tuple[Ref, bool] | None = None,
    ) -> None:
        """Show a figure of Workings; an unknown is a `?`, and what the run wrote stands as it is.

        ``link`` is where it leads. Without a role, what the person typed looks typed. ``look`` says
        more than role and kind of figure can. ``dash_if``: where this figure is unknown and that
        other is known, or isn't, there is nothing to know.
        """
        cell = self.context.layout.absolute(*ref)
        value = self.value(ref)
        unknown = "" if show is Show.TEXT else UNKNOWN_MARK
        otherwise = f'"{unknown}"'
        if dash_if:
            other, is_known = dash_if
            test = f'{self.context.layout.absolute(*other)}{"<>" if is_known else "="}""'
            otherwise = f'IF({test},"{UNASKED_MARK}",{otherwise})'
            if (self.value(other) not in (None, "")) is is_known:
                unknown = UNASKED_MARK
        known = value not in (None, "")
        stays = known and self.context.layout.is_written(*ref)
        formula = "" if stays else f'=IF({cell}="",{otherwise},{cell})'
        shown = value if known else unknown
        if look is None:
            look = look_of(role or _role_of(ref), show, at[1])
        self.sheet.put(*at, shown, look, formula=formula, link=link)

    def computed(
        self,
        at: tuple[int, int],
        rule: Callable[..., Any],
        refs: Mapping[str, Ref],
        show: Show,
        role: Role = Role.COMPUTED,
        *,
        look: Look | None = None,
        none: str = UNKNOWN_MARK,
    ) -> Value:
        """Show what a rule gives for figures of Workings, and return it.

        ``none`` stands where all of these are known and the rule gives no figure.
        """
        layout = self.context.layout
        figures = {name: (layout.absolute(*ref), self.value(ref)) for name, ref in refs.items()}
        return self.ruled(at, rule, figures, look or Look(role, show), none)

    def ruled(
        self,
        at: tuple[int, int],
        rule: Callable[..., Any],
        figures: Mapping[str, tuple[str, Value]],
        look: Look,
        none: str = UNKNOWN_MARK,
    ) -> Value:
        """Show what a rule gives for figures, each as a formula finds it and what it is."""
        value, formula = self.reckoned(rule, figures, none)
        unknown = any(value is None for _, value in figures.values())
        missing = UNKNOWN_MARK if unknown else none
        self.sheet.put(*at, missing if value is None else value, look, formula=f"={formula}")
        return value

    def reckoned(
        self,
        rule: Callable[..., Any],
        figures: Mapping[str, tuple[str, Value]],
        none: str = UNKNOWN_MARK,
    ) -> tuple[Value, str]:
        """What a rule gives for figures, and its formula, to stand in one of the page's."""
        how, template = _read(rule, none)
        formula = template.format_map({name: cell for name, (cell, _) in figures.items()})
        return how.figure([figures[name][1] for name in how.arguments]), formula

    def headings(
        self,
        names: Sequence[str],
        *,
        first: int = 0,
        shows: Sequence[Show] = (),
        across: int = 0,
    ) -> int:
        """Put a row of headings and give its number.

        A heading stands as its column's figures do: ``shows`` says what each column shows, texts
        where it says nothing. The band goes over at least ``across`` columns.
        """
        row = self.sheet.next_row
        for at in range(first, max(first + len(names), across)):
            name = names[at - first] if at - first < len(names) else ""
            show = shows[at - first] if at - first < len(shows) else Show.TEXT
            look = look_of(Role.HEADING, show, at)
            shown, formula = named(self.context, name)
            self.sheet.put(row, at, shown or None, look, formula=formula)
        self.sheet.next_row += 1
        return row

    def section(self, text: str, across: int) -> int:
        """Begin a part of the page that is kept together on paper; its rule goes all across."""
        self.sheet.begin_block()
        row = self.sheet.line(text, Role.SECTION)
        self.sheet.heights[row] = 20
        for at in range(1, across):
            self.sheet.put(row, at, None, Look(Role.SECTION))
        return row

    def legend(self, columns: Sequence[int]) -> None:
        """A row that shows what each look means, a word in each of five columns."""
        row = self.sheet.next_row
        for at, (role, text) in zip(columns, LEGEND, strict=True):
            self.sheet.put(row, at, text, look_of(role, Show.TEXT, 0))
        self.sheet.next_row += 1

    def mark_unknown(self, first: int, columns: Sequence[int]) -> None:
        """From a row to the last one: what is not known stands out."""
        self.mark(first, columns, f'{{cell}}="{UNKNOWN_MARK}"', Role.UNKNOWN)

    def mark(self, first: int, columns: Sequence[int], when: str, role: Role = Role.FLAG) -> None:
        """Mark cells of some columns, from a row to the last one, by a test of ``{cell}``."""
        last = self.sheet.next_row - 1
        if last < first or not columns:
            return
        start = self.address(first, columns[0])
        area = (first, columns[0], last, columns[-1])
        self.sheet.marks.append(Mark(area, when.format(cell=start), role))

    def caution(self, across: int) -> None:
        """The cautions, at the foot of the page."""
        self.sheet.next_row += 1
        self.sheet.line(CAUTION, Role.CAUTION, across=across)

    def address(self, row: int, column: int) -> str:
        """The address of a cell of this page, for formulas on it."""
        return f"{column_letters(column)}{row + 1}"


LEGEND = (
    (Role.GIVEN, "typed by you"),
    (Role.COMPUTED, "computed"),
    (Role.TOTAL, "a total"),
    (Role.ANSWER, "the answer"),
    (Role.FLAG, "look at this"),
)
"""What each look means; ``?`` and the words of a flag say it once more."""


def look_of(role: Role, show: Show, column: int, *, ruled: bool = False) -> Look:
    """A cell's look: texts beside figures wrap and keep their distance."""
    text = show is Show.TEXT
    beside = text and column > 0
    return Look(role, show, wrap=text, indent=1 if beside else 0, ruled=ruled)


def _role_of(ref: Ref) -> Role:
    """What a person typed looks typed on every page."""
    row, name = ref
    table = TABLES[row.table]
    typed = isinstance(table.columns[table.index[name]].how, Given) and name not in row.fixed
    return Role.GIVEN if typed else Role.COMPUTED


@cache
def _read(rule: Callable[..., Any], none: str) -> tuple[Computed, str]:
    """A rule, and its formula with ``{names}`` for its figures: a `?` where one is unknown."""
    how = Computed(rule)
    if how.meets_unknowns:
        return how, printed(how.term(), lambda name: f"{{{name}}}")
    formula = guarded(how.term(), how.arguments, lambda name: f"{{{name}}}")
    # an empty text stands for an unknown wherever it stands in a guarded formula, and for a figure
    # it reads only at the very end
    known, unknown, end = formula.rpartition('""')
    return how, known.replace(unknown, f'"{none}"') + f'"{UNKNOWN_MARK}"{end}'
