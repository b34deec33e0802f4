"""Where a price comes from, in the words of `explain`: of what is picked on Prices.

The words are a run's. They stand on a sheet out of sight, a row a product and outlet in the order
of Workings; Prices shows those of the pick, with their day, and says when they are true no more.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from costbook.book import as_key
from costbook.costing.rows import Row
from costbook.costing.telling import tell
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.formula_text import quoted
from costbook.writing.layout import column_letters, sheet_name
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, Page

__all__ = ["IN_WORDS", "in_words_page", "picked", "words_of_the_pick"]

IN_WORDS: Final = "In words"
LINES: Final = 13
"""Lines of a price; where there are more, the last holds the rest."""
MOST: Final = 30
"""Prices that a run tells: a large book would wait for all of them."""
COMPARED: Final = ("price_on_step", "total")
"""Figures that have changed if the words are true no more."""
FIRST_ROW: Final = 4
FIRST_LINE: Final = 2 + len(COMPARED)
LOW_ROW: Final = 13.0

CHANGED = "A figure has changed since {day}: run costbook again to have it in words."
NOT_TOLD = "Run costbook again to have in words what is picked."


def picked(context: Context) -> Row:
    """What an earlier run found picked on Prices, if it is still sold so; else the first."""
    rows = context.costing.structure.rows["prices"]
    wanted = tuple(map(as_key, context.remembered.picked))
    for row in rows:
        if (as_key(str(row.fixed["product"])), as_key(str(row.fixed["outlet"] or ""))) == wanted:
            return row
    return rows[0]


def in_words_page(context: Context) -> SheetDescription:
    """Describe the sheet that holds the words, and the figures that they are of."""
    page = Page(context, IN_WORDS)
    sheet = page.sheet
    sheet.hidden = True
    in_lines = range(FIRST_LINE, FIRST_LINE + LINES)
    sheet.widths = {0: 34, 1: 24, 2: 13, 3: 13} | dict.fromkeys(in_lines, 60.0)
    sheet.line(IN_WORDS, Role.TITLE)
    sheet.line("Where each price came from at the last run; Prices shows it.", Role.NOTE)
    step_row(context, sheet, FIRST_LINE)
    lines = [f"Line {number}" for number in range(1, LINES + 1)]
    page.headings(("Product", "Outlet", "Charge", "Cost", *lines))
    rows = context.costing.structure.rows["prices"]
    first = picked(context).index if rows else 0
    told = {first, *[row.index for row in rows if row.index != first][: MOST - 1]}
    for row in rows:
        _row(page, row, _lines(context, row) if row.index in told else ())
    page.caution(FIRST_LINE)
    return sheet


def _row(page: Page, row: Row, lines: Sequence[str]) -> None:
    at = page.sheet.next_row
    for column, name in enumerate(("product", "outlet")):
        page.sheet.put(at, column, str(row.fixed[name] or ""), Look(Role.LABEL))
    for column, name in enumerate(COMPARED, 2):
        page.sheet.put(at, column, page.value((row, name)), Look(Role.COMPUTED, Show.MONEY))
    for column, line in enumerate(lines, FIRST_LINE):
        page.sheet.put(at, column, line, Look(Role.LABEL))
    page.sheet.next_row += 1


def _lines(context: Context, row: Row) -> list[str]:
    """The lines of a price to charge, as `explain` prints them."""
    told = tell(context.costing, row, COMPARED[0], context.places)
    said = [words for line in told for words in line.in_words()]
    rest = "; ".join(said[LINES - 1 :])
    return [*said[: LINES - 1], rest] if rest else said


def words_of_the_pick(
    page: Page, number: str, row: Row, now: Mapping[str, str], across: int
) -> None:
    """The lines of what is picked, below a line that says of which day they are.

    ``number`` is where it stands which row of Workings is picked, 0 for none; ``now`` where its
    figures stand.
    """
    context, sheet = page.context, page.sheet
    day = context.costing.structure.day_in_words
    said = f"Where it comes from, in words, as costed on {day}:"
    same = ",".join(
        f"COUNT({now[name]})=COUNT({_of(context, at, number)}),"
        f"ABS(SUM({now[name]})-SUM({_of(context, at, number)}))<0.0000005"
        for at, name in enumerate(COMPARED, 2)
    )
    changed = f"IF(AND({same}),{quoted(said)},{quoted(CHANGED.format(day=day))})"
    told = f"{_of(context, FIRST_LINE, number)}"
    formula = f'=IF({number}=0,"",IF({told}="",{quoted(NOT_TOLD)},{changed}))'
    at = sheet.next_row
    sheet.put(at, 0, said, Look(Role.SUM), formula=formula)
    sheet.merged.append((at, 0, at, across - 1))
    page.mark(at, (0,), f"{{cell}}<>{quoted(said)}")
    sheet.next_row += 1
    lines = _lines(context, row)
    for line in range(LINES):
        at, cell = sheet.next_row, _of(context, FIRST_LINE + line, number)
        words = lines[line] if line < len(lines) else ""
        shown = f'=IF({number}=0,"",{cell}&"")'
        sheet.put(at, 0, words, Look(Role.LABEL), formula=shown)
        sheet.merged.append((at, 0, at, across - 1))
        sheet.heights[at] = LOW_ROW
        sheet.next_row += 1


def _of(context: Context, column: int, number: str) -> str:
    """What a column of the sheet of words holds for what is picked."""
    count, letter = len(context.costing.structure.rows["prices"]), column_letters(column)
    tab = sheet_name(context.tabs[IN_WORDS])
    area = f"{tab}!${letter}${FIRST_ROW + 1}:${letter}${FIRST_ROW + count}"
    return f"INDEX({area},MAX({number},1))"
