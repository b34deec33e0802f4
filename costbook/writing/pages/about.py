"""About: what the figures mean, and the cautions in full."""

from __future__ import annotations

from typing import Final

from costbook.costing.result import CAUTION
from costbook.definitions.columns import Show
from costbook.writing.description import Role, SheetDescription
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import LEGEND, Context, Page, look_of

__all__ = ["MORE_CAUTIONS", "about_page"]

MEANINGS: Final = (
    (
        "A pack sold",
        (
            "Every cost is for one pack sold: what is rejected, sampled or thrown away is "
            "carried by the packs that are sold."
        ),
    ),
    (
        "Margin and markup",
        (
            "Margin is what is left of a price, over the price; markup is the same "
            "over all cost. 30 % margin is 42.9 % markup. Both are without sales tax."
        ),
    ),
    (
        "?",
        (
            "A question mark is a figure that is not known. It is never counted as nothing: every "
            "figure that rests on it is a question mark too, and Lacks says what is missing."
        ),
    ),
    ("Known so far", "The parts of the cost that are known, added up. It is not the whole cost."),
    (
        "Live",
        (
            "Every figure is a formula over your own cells: change a price, an amount, a unit, "
            "minutes or a date and the sheets follow. A new recipe line, product or stage, or a "
            "text such as 2 x 18 ct, needs a new run; Prices says so by itself."
        ),
    ),
    (
        "Which receipt counts",
        (
            "The latest on or before the costing date, from the usual supplier if "
            "Items names one and there is any; of two on one day the lower row."
        ),
    ),
    (
        "Every sum on the way",
        (
            "stands on Workings, out of sight: show it from the menu of any tab (Unhide in Excel, "
            "Show Sheet in LibreOffice). The trial's sums and the earlier costings are kept so too."
        ),
    ),
    (
        "Your sheets",
        (
            "costbook writes its own sheets only, keeps a dated copy of your workbook "
            "beside it, and never changes, moves or restyles a sheet of yours."
        ),
    ),
)

LOOKS: Final = {
    Role.GIVEN: "Slanted, on a dotted line: it stands in a cell of yours, and you may change it "
    "there. The sheets follow.",
    Role.COMPUTED: "Plain: worked out by a formula. Change what it rests on, not the figure.",
    Role.TOTAL: "Bold, below a rule: the figures above it added up.",
    Role.ANSWER: "Bold, in a box: what the sheet is for.",
    Role.FLAG: "Bold, behind a bar, on a tint, and always with a word or a ?: raise, old: check "
    "it, WRONG.",
}
WIDTH: Final = 3

MORE_CAUTIONS: Final = (
    "Foods with cooked egg, meat or cheese need temperature control, and many places let them be "
    "made for sale only in an inspected kitchen; rules differ from place to place, and change."
)


def about_page(context: Context) -> SheetDescription:
    """Describe the sheet About."""
    page = Page(context, "About")
    sheet = page.sheet
    sheet.landscape = False
    sheet.widths = {0: 27.0, 1: 44.0, 2: 50.0}
    sheet.line("About these sheets", Role.TITLE)
    step_row(context, sheet, WIDTH)
    sheet.repeated_rows = (0, 1)
    sheet.frozen = (1, 0)
    page.section("Cautions", WIDTH)
    sheet.line(CAUTION, Role.CAUTION, across=WIDTH)
    sheet.line(MORE_CAUTIONS, Role.CAUTION, across=WIDTH)
    sheet.next_row += 1
    page.section("What each look means", WIDTH)
    for role, name in LEGEND:
        _meaning(sheet, (name, role), LOOKS[role])
    sheet.next_row += 1
    page.section("What the figures mean", WIDTH)
    for name, meaning in MEANINGS:
        _meaning(sheet, (name, Role.SUM), meaning)
    return sheet


def _meaning(sheet: SheetDescription, named: tuple[str, Role], meaning: str) -> None:
    """A word and what it means, the meaning over the two wide columns."""
    at, (name, role) = sheet.next_row, named
    sheet.put(at, 0, name, look_of(role, Show.TEXT, 0))
    sheet.put(at, 1, meaning, look_of(Role.LABEL, Show.TEXT, 1))
    sheet.merged.append((at, 1, at, WIDTH - 1))
    sheet.next_row += 1
