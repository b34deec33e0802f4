"""About: what the figures mean, every rule in words, and the cautions in full."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from costbook.costing.result import CAUTION
from costbook.definitions.algebra import words
from costbook.definitions.columns import Computed
from costbook.definitions.workings import TABLE_ORDER
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.page import Context, Page

__all__ = ["MORE_CAUTIONS", "about_page"]

MEANINGS: Final = (
    (
        "A pack sold",
        "Every cost is for one pack sold: what is rejected, sampled or thrown away is "
        "carried by the packs that are sold.",
    ),
    (
        "Margin and markup",
        "Margin is what is left of a price, over the price; markup is the same "
        "over all cost. 30 % margin is 42.9 % markup. Both are without sales tax.",
    ),
    (
        "?",
        "A question mark is a figure that is not known. It is never counted as nothing: every "
        "figure that rests on it is a question mark too, and Lacks says what is missing.",
    ),
    ("Known so far", "The parts of the cost that are known, added up. It is not the whole cost."),
    (
        "Live",
        "Every figure is a formula over your own cells: change a price, an amount, a unit, "
        "minutes or a date and the sheets follow. A new recipe line, product or stage, or a "
        "text such as 2 x 18 ct, needs a new run; Prices says so by itself.",
    ),
    (
        "Which receipt counts",
        "The latest on or before the costing date, from the usual supplier if "
        "Items names one and there is any; of two on one day the lower row.",
    ),
    (
        "Your sheets",
        "costbook writes its own sheets only, keeps a dated copy of your workbook "
        "beside it, and never changes, moves or restyles a sheet of yours.",
    ),
)

MORE_CAUTIONS: Final = (
    "Foods with cooked egg, meat or cheese need temperature control, and many places let them be "
    "made for sale only in an inspected kitchen; rules differ from place to place, and change."
)


def about_page(context: Context) -> SheetDescription:
    """Describe the sheet About."""
    page = Page(context, "About")
    sheet = page.sheet
    sheet.landscape = False
    sheet.widths = {0: 30, 1: 46, 2: 52}
    sheet.line("About these sheets", Role.TITLE)
    sheet.next_row += 1
    sheet.line("Cautions", Role.SECTION)
    sheet.line(CAUTION, Role.LEAD, across=3, height=48)
    sheet.line(MORE_CAUTIONS, Role.LEAD, across=3, height=32)
    sheet.next_row += 1
    sheet.line("What the figures mean", Role.SECTION)
    for name, meaning in MEANINGS:
        at = sheet.line(name, Role.LABEL)
        sheet.put(at, 1, meaning, Look(Role.LABEL, wrap=True))
        sheet.merged.append((at, 1, at, 2))
        sheet.heights[at] = 15 * (1 + len(meaning) // 88)
    sheet.next_row += 1
    sheet.line("The rules, in the words of Workings", Role.SECTION)
    for name, meaning, rule in rules_in_words():
        at = sheet.line(name, Role.LABEL)
        sheet.put(at, 1, meaning, Look(Role.LABEL, wrap=True))
        sheet.put(at, 2, rule, Look(Role.NOTE, wrap=True))
        sheet.heights[at] = 15 * (1 + max(len(meaning) // 46, len(rule) // 58))
    return sheet


def rules_in_words() -> Iterator[tuple[str, str, str]]:
    """Each rule once: the column it fills, what it is, and the rule itself, in words."""
    told = set()
    for table in reversed(TABLE_ORDER):
        for column in table.columns:
            how = column.how
            if isinstance(how, Computed) and how.rule not in told:
                told.add(how.rule)
                meaning = (how.rule.__doc__ or "").split("\n\n")[0].replace("\n", " ")
                yield column.heading, " ".join(meaning.split()), words(how.term())
