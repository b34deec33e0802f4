"""Labels: a draft of each product's label, two by four on a printed sheet.

They are texts as of the run: what each says rests on rows that only a run puts in order.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from costbook.deciding.labels import DRAFT, ORDER_AS_OF_RUN, DraftLabel, labels
from costbook.definitions.columns import Show
from costbook.problems import Problem, Severity
from costbook.writing.description import Look, Mark, Role, SheetDescription
from costbook.writing.formula_text import quoted
from costbook.writing.layout import sheet_name
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, Page, look_of
from costbook.writing.paper import PIXELS_A_LETTER, text_height

__all__ = ["LABELS", "labels_page"]

LABELS = "Labels"
PLACE, WORDS, GAP, RIGHT = 0, 1, 2, 3
SIDES = ((PLACE, WORDS), (RIGHT, RIGHT))
"""The first and last column of the labels on the left and on the right."""
WIDTH = 4
WIDTHS = {PLACE: 15.0, WORDS: 32.3, GAP: 2.5, RIGHT: 48.0}
"""Two labels and the gap between them are as wide as a sheet of A4 or US Letter between margins."""
HIGH = 150.0
"""How high a label is [points], unless its texts need more: four on a sheet, with their gaps."""
BETWEEN = 8.0
LONGEST = 1_500
"""Letters that a cell shows on paper: a row grows to 409 points and no higher."""

LabelLine = tuple[str, Role]


def labels_page(context: Context) -> SheetDescription:
    """Describe the sheet Labels: what is to be put right first, then the labels themselves."""
    page = Page(context, LABELS)
    sheet = page.sheet
    sheet.landscape = False
    sheet.widths = dict(WIDTHS)
    found = labels(context.costing)
    day = context.costing.structure.book.written(context.costing.structure.costed_on)
    sheet.line("Labels", Role.TITLE)
    sheet.repeated_rows = (sheet.next_row, sheet.next_row)
    _draft_row(page, f"{DRAFT}. As of the run of {day}.")
    sheet.line(
        f"{ORDER_AS_OF_RUN} What you type after it isn't on them: run costbook again, and look "
        "here, before you print. `costbook labels` writes them as a list for a label printer.",
        Role.NOTE,
        across=WIDTH,
    )
    step_row(context, sheet, WIDTH)
    _to_do(page, found)
    page.caution(WIDTH)
    sheet.page_breaks.append(sheet.next_row)
    for first in range(0, len(found), 2):
        _side_by_side(page, found[first : first + 2])
    return sheet


def _draft_row(page: Page, in_step: str) -> None:
    """The row on each printed page: that these are drafts; and, live, whether out of date."""
    sheet, layout, at = page.sheet, page.context.layout, page.sheet.next_row
    one = page.context.costing.structure.one
    changed = layout.absolute(one("labels_since"), "changed_since")
    since = layout.absolute(one("since"), "to_cost_again")
    formula = f"=IF(IFERROR({changed}+{since},1)=0,{quoted(in_step)},{quoted(OUT_OF_DATE)})"
    sheet.put(at, PLACE, in_step, Look(Role.SUM), formula=formula)
    sheet.marks.append(
        Mark((at, PLACE, at, PLACE), f"{page.address(at, PLACE)}={quoted(OUT_OF_DATE)}", Role.FLAG)
    )
    sheet.next_row += 1


OUT_OF_DATE = f"OUT OF DATE: run costbook again, and print none of these. {DRAFT}."
"""What stands there once a word or an allergen on Items, or a row of the person's, has changed."""


def _to_do(page: Page, found: Sequence[DraftLabel]) -> None:
    """What keeps the labels from being more than rough drafts, each with a link to its cell."""
    problems = dict.fromkeys(each for label in found for each in label.problems)
    for problem in sorted(problems, key=lambda each: each.severity is not Severity.WRONG):
        _problem(page, problem)


def _problem(page: Page, problem: Problem) -> None:
    sheet, at, place = page.sheet, page.sheet.next_row, problem.place
    role = Role.FLAG if problem.severity is Severity.WRONG else Role.LABEL
    link = f"{sheet_name(place.sheet)}!{place.cell or 'A1'}" if place.sheet else ""
    sheet.put(at, PLACE, str(place), Look(role), link=link)
    said = f"{problem.what} {problem.remedy}"
    sheet.put(at, WORDS, said, look_of(role, Show.TEXT, WORDS))
    sheet.merged.append((at, WORDS, at, RIGHT))
    sheet.next_row += 1


FOOT = 4
"""Lines at the foot of a label: what it holds, the batch, who made it, and that it is a draft."""


def _side_by_side(page: Page, pair: Sequence[DraftLabel]) -> None:
    """Two labels, or the last one alone, kept on one sheet of paper."""
    sheet = page.sheet
    sheet.begin_block()
    first = sheet.next_row
    columns = [tuple(_lines(label)) for label in pair]
    rows = max(map(len, columns))
    for (left, right), label, lines in zip(SIDES, pair, columns, strict=False):
        sheet.anchors[f"label: {label.product}"] = (first, left)
        # the feet of both stand side by side, whatever is above them
        filled = (*lines[:-FOOT], *[NO_LINE] * (rows - len(lines)), *lines[-FOOT:])
        for at, (text, role) in enumerate(filled):
            look = Look(role, wrap=True, cut=_cut(at, rows))
            sheet.put(first + at, left, text or None, look)
            if right > left:
                sheet.merged.append((first + at, left, first + at, right))
    _stretch(sheet, first, rows)
    sheet.heights[first + rows] = BETWEEN
    sheet.next_row = first + rows + 1


NO_LINE: LabelLine = ("", Role.LABEL)


def _cut(at: int, rows: int) -> tuple[str, ...]:
    """The sides along which a line of a label is cut out of the paper."""
    return ("left", "right", *["above"] * (at == 0), *["below"] * (at == rows - 1))


def _lines(label: DraftLabel) -> Iterator[LabelLine]:
    """The lines of a label: as many as it needs, and then those of its foot."""
    yield label.product, Role.HEADING
    if label.unfinished:
        yield label.unfinished, Role.FLAG
    for text in (label.statement, label.allergens.in_words()):
        for part in wrap(text, LONGEST):
            yield part, Role.LABEL
    yield label.net_said, Role.SUM if label.net else Role.FLAG
    yield label.batch_said, Role.LABEL
    yield label.maker, Role.LABEL
    yield DRAFT, Role.NOTE


def _stretch(sheet: SheetDescription, first: int, rows: int) -> None:
    """Make a pair of labels as high as any, by the row above their foot."""
    pixels = sheet.widths[RIGHT] * PIXELS_A_LETTER + 5
    needed = [
        max(text_height(str(each.value or ""), pixels, each.look) for each in cells.values())
        for cells in (sheet.rows[at] for at in range(first, first + rows))
    ]
    above_foot = rows - FOOT - 1
    free = HIGH - sum(needed)
    sheet.heights[first + above_foot] = needed[above_foot] + max(free, 0.0)
