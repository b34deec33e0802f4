"""Workings: the flat tables in which every rule is computed, left to right."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from costbook.costing.result import CAUTION
from costbook.definitions.columns import Column, Computed, Given, Key, Show, Table, UnitRow
from costbook.definitions.figures_told import FIGURES_TOLD
from costbook.definitions.words import words
from costbook.definitions.workings import TABLE_ORDER
from costbook.writing.description import CellContent, Look, Role, SheetDescription
from costbook.writing.folded import laid_out
from costbook.writing.formulas import Formulas
from costbook.writing.layout import tables_shown
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, look_of

__all__ = ["ACROSS", "rules_in_words", "workings_page"]

NOTHING = '=""'
"""What stands in the cell of an unknown that the run writes: a cell left empty would be a zero to
every formula that looks at it."""

_GIVEN = (Given, Key, UnitRow)


def workings_page(context: Context) -> SheetDescription:
    """Describe the sheet Workings."""
    sheet = SheetDescription("Workings", context.tabs["Workings"])
    _set_up(sheet, context)
    structure, layout, costing = context.costing.structure, context.layout, context.costing
    formulas = Formulas(costing, layout)
    for table in tables_shown(structure):
        at = layout.first[table.name] - 1
        shown = [table.columns[table.index[name]] for name in laid_out(table.name)]
        looks = _heads(sheet, table, shown, at)
        columns = tuple(zip(range(len(looks)), shown, looks, strict=True))
        for row, figures in zip(
            structure.rows[table.name], costing.figures[table.name], strict=True
        ):
            if not layout.has_cells(row):
                continue
            for number, column, look in columns:
                formula = formulas.of(row, column)
                value = figures[column.name]
                if not formula and value in (None, ""):
                    formula = NOTHING
                sheet.add(CellContent(at, number, look, value, formula or ""))
            at += 1
    sheet.next_row = at + 1
    _rules(sheet, tables_shown(structure))
    return sheet


def _rules(sheet: SheetDescription, tables: Sequence[Table]) -> None:
    """Every rule in words, below the last table: its column, what that is, and how it is found."""
    sheet.line("The rules in words", Role.SECTION)
    for texts in rules_in_words(tables):
        for column, text in enumerate(texts):
            sheet.put(sheet.next_row, column, text, look_of(Role.NOTE, Show.TEXT, 0))
        sheet.next_row += 1


def rules_in_words(tables: Sequence[Table] = TABLE_ORDER) -> Iterator[tuple[str, str, str]]:
    """Each rule of some tables once: the column it fills, what it is, how it is found, in words."""
    told = set()
    for table in reversed(tables):
        for column in table.columns:
            how = column.how
            if isinstance(how, Computed) and how.rule not in told:
                told.add(how.rule)
                meaning = (how.rule.__doc__ or "").split("\n\n")[0].replace("\n", " ")
                yield column.heading, " ".join(meaning.split()), _to_follow(table, column, how)


_GUARD = re.compile(r"\d{5,}")
"""A number that keeps binary noise away, or that makes one of a day and a row."""


def _to_follow(table: Table, column: Column, how: Computed) -> str:
    """A rule in words, where these say more than what it is: a sum that a person can follow."""
    told = FIGURES_TOLD.get(table.name, {}).get(column.name)
    if told is not None and told.code:
        return ""
    rule = words(how.term())
    return "" if _GUARD.search(rule) else rule


WIDE, PLAIN_WIDTH = 40.0, 16.0
"""Widths of the columns of names, at most, and of every other: 1,234,567.123456 fits."""
ACROSS = 8
"""Columns that the first screen shows."""
COLUMNS_A_PAGE = 18


def _set_up(sheet: SheetDescription, context: Context) -> None:
    """Title, cautions, widths and pages: wide tables go on beside each other, names repeated.

    Out of sight: nothing is decided here, and who wants to follow a sum can show it.
    """
    sheet.hidden = True
    most = max(len(laid_out(table.name)) for table in tables_shown(context.costing.structure))
    sheet.widths = dict.fromkeys(range(most), PLAIN_WIDTH) | _name_widths(context)
    sheet.frozen = (1, 1)
    sheet.repeated_rows = (0, 0)
    sheet.repeated_columns = (0, 0)
    sheet.pages_wide = -(-most // COLUMNS_A_PAGE)
    title = f"Workings ({context.sign}): every rule, table by table, left to right"
    sheet.line(title, Role.TITLE)
    sheet.line(
        "Slanted, on a dotted line: read from your own sheets. Everything else is computed from "
        "there; the rules stand in words at the foot. An empty cell is not known.",
        Role.NOTE,
        across=ACROSS,
    )
    sheet.line(CAUTION, Role.CAUTION, across=ACROSS)
    step_row(context, sheet, ACROSS)


def _name_widths(context: Context) -> dict[int, float]:
    """The first two columns hold names: as wide as the longest, within reason."""
    widths = {}
    for at in (0, 1):
        names = (
            str(row.fixed.get(name) or "")
            for table in TABLE_ORDER
            for name in list(laid_out(table.name))[at : at + 1]
            for row in context.costing.structure.rows[table.name]
        )
        longest = max((len(name) for name in names), default=0)
        widths[at] = float(min(WIDE, max(PLAIN_WIDTH, longest + 2)))
    return widths


def _heads(
    sheet: SheetDescription, table: Table, columns: Sequence[Column], first: int
) -> list[Look]:
    """A table's title and headings above its first row; gives the looks of its columns."""
    sheet.put(first - 2, 0, table.title, Look(Role.SECTION))
    sheet.heights[first - 2] = 20
    looks = []
    for number, column in enumerate(columns):
        if number:
            sheet.put(first - 2, number, None, Look(Role.SECTION))
        sheet.put(first - 1, number, column.heading, look_of(Role.HEADING, column.show, number))
        role = Role.GIVEN if isinstance(column.how, _GIVEN) else Role.COMPUTED
        indent = 1 if number and column.show is Show.TEXT else 0
        looks.append(Look(role, column.show, indent=indent))
    return looks
