"""To put right: every problem, with a link to its cell."""

from __future__ import annotations

from collections.abc import Sequence

from costbook.problems import Problem, Severity
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.page import Context, Page

__all__ = ["to_put_right_page"]

WORDS = {Severity.WRONG: "WRONG", Severity.DOUBTFUL: "check"}


def to_put_right_page(context: Context, problems: Sequence[Problem]) -> SheetDescription:
    """Describe the sheet To put right; it is dated, not live."""
    page = Page(context, "To put right")
    sheet = page.sheet
    sheet.widths = {0: 22, 1: 10, 2: 62, 3: 52}
    day = context.costing.structure.costed_on
    sheet.line("To put right", Role.TITLE)
    wrong = sum(problem.severity is Severity.WRONG for problem in problems)
    sheet.line(
        f"As costed on {day.day} {day:%B %Y}: {wrong} wrong, {len(problems) - wrong} to check. "
        "WRONG leaves a figure out until you act; what is to check was used as said.",
        Role.LEAD,
    )
    sheet.next_row += 1
    heading = page.headings(("Where", "Weight", "What", "What to do"))
    sheet.frozen = (heading + 1, 0)
    sheet.repeated_rows = (heading, heading)
    known = {each.tab for each in context.costing.structure.book.sheets.values()}
    for problem in problems:
        _problem(sheet, problem, known)
    if not problems:
        sheet.line("Nothing: every cell was read, and every name leads somewhere.", Role.LEAD)
    page.caution(4)
    return sheet


def _problem(sheet: SheetDescription, problem: Problem, tabs: set[str]) -> None:
    at = sheet.next_row
    place = problem.place
    link = ""
    if place.sheet in tabs:
        link = f"{sheet_name(place.sheet)}!{place.cell or 'A1'}"
    role = Role.FLAG if problem.severity is Severity.WRONG else Role.LABEL
    sheet.put(at, 0, str(place), Look(Role.LABEL), link=link)
    sheet.put(at, 1, WORDS[problem.severity], Look(role))
    sheet.put(at, 2, problem.what, Look(Role.LABEL, wrap=True))
    sheet.put(at, 3, problem.remedy, Look(Role.LABEL, wrap=True))
    longest = max(len(problem.what) / 60, len(problem.remedy) / 50)
    sheet.heights[at] = 15 * (1 + int(longest))
    sheet.next_row += 1
