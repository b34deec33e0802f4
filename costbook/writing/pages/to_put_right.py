"""To put right: every problem, with a link to its cell."""

from __future__ import annotations

from costbook.definitions.columns import Show
from costbook.problems import Problem, Severity, to_check
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, Page, look_of

__all__ = ["to_put_right_page"]

WORDS = {Severity.WRONG: "WRONG", Severity.DOUBTFUL: "check"}
READ = "read"
"""What stands there of a text that was only read as something."""
HEADINGS = ("Done", "Where", "How bad", "What", "What to do")
WIDTH = len(HEADINGS)


def to_put_right_page(context: Context) -> SheetDescription:
    """Describe the sheet To put right; it is dated, not live."""
    problems = context.problems
    page = Page(context, "To put right")
    sheet = page.sheet
    sheet.widths = {0: 7.0, 1: 24.0, 2: 11.0, 3: 62.0, 4: 52.0}
    day = context.costing.structure.day_in_words
    sheet.line("To put right", Role.TITLE)
    wrong = sum(problem.severity is Severity.WRONG for problem in problems)
    sheet.line(
        f"As costed on {day}: {wrong} wrong, {to_check(problems)} to check. "
        "WRONG leaves a figure out until you act; what is to check was used as said; read says as "
        "what a text was read. Where leads to the cell. The list is made anew when you run "
        "costbook again.",
        Role.LEAD,
        across=WIDTH,
    )
    step_row(context, sheet, WIDTH)
    heading = page.headings(HEADINGS)
    sheet.frozen = (heading + 1, 0)
    sheet.repeated_rows = (heading, heading)
    book = context.costing.structure.book
    known = {*book.other_tabs, *(each.tab for each in book.sheets.values())}
    for problem in problems:
        _problem(sheet, problem, known)
    if not problems:
        text = "Nothing: every cell was read, and every name leads somewhere."
        sheet.line(text, Role.LEAD, across=WIDTH)
    page.caution(WIDTH)
    return sheet


def _problem(sheet: SheetDescription, problem: Problem, tabs: set[str]) -> None:
    at, place = sheet.next_row, problem.place
    link = ""
    if place.sheet in tabs:
        link = f"{sheet_name(place.sheet)}!{place.cell or 'A1'}"
    role = Role.FLAG if problem.severity is Severity.WRONG else Role.LABEL
    sheet.put(at, 0, None, Look(Role.TICK))
    for column, (text, each) in enumerate(
        (
            (str(place), Role.LABEL),
            (READ if problem.as_read else WORDS[problem.severity], role),
            (problem.what, Role.LABEL),
            (problem.remedy, Role.LABEL),
        ),
        1,
    ):
        look = look_of(each, Show.TEXT, column, ruled=True)
        sheet.put(at, column, text, look, link=link if column == 1 else "")
    sheet.heights[at] = 18
    sheet.next_row += 1
