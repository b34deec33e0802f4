"""Freezer: packs of each product, live; its batches, first made, first out; what was measured."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.deciding.measured import Measurement, measured
from costbook.deciding.stock import BEFORE_MADE, PAST, Batch, InFreezer, in_freezer
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import (
    DATE_WIDTH,
    UNASKED_MARK,
    UNKNOWN_MARK,
    Context,
    Page,
    look_of,
)

__all__ = ["freezer_page"]

PACKS: Final = (
    ("Packs left", "packs_left", Show.NUMBER, Role.ANSWER),
    ("Last counted on", "counted_on", Show.DATE, Role.COMPUTED),
    ("Packs then", "packs_at_count", Show.NUMBER, Role.COMPUTED),
    ("Made since", "made_since", Show.NUMBER, Role.COMPUTED),
    ("Gone since", "gone_since", Show.NUMBER, Role.COMPUTED),
    ("The count found more", "found_at_count", Show.NUMBER, Role.COMPUTED),
    ("Not known because of", "lacks", Show.TEXT, Role.COMPUTED),
)
"""The columns of the packs, behind the product."""
BATCHES: Final = ("Product", "Packs", "Made on", "Use by", "Batch code", "")
FOUND: Final = ("What", "Measured", "Found", "Lowest", "Highest", "Typed", "Copy this", "into")
SHOWN: Final = (Show.TEXT, Show.WHOLE, *(Show.NUMBER,) * 5)
"""How the headings of what was measured stand."""
WIDTHS: Final = (36.0, 9.3, DATE_WIDTH, DATE_WIDTH, 9.3, 9.3, 11.0, 20.0, 27.0)
WIDTH: Final = len(WIDTHS)


def freezer_page(context: Context) -> SheetDescription:
    """Describe the sheet Freezer."""
    page = Page(context, "Freezer")
    sheet = page.sheet
    sheet.widths = dict(enumerate(WIDTHS))
    sheet.line("Freezer: what is left, and what was measured", Role.TITLE)
    step_row(context, sheet, WIDTH)
    if context.costing.structure.rows["freezer"]:
        _packs(page)
        _batches(page)
    if found := measured(context.costing):
        _measured(page, found)
    page.caution(WIDTH)
    return sheet


def _packs(page: Page) -> None:
    page.section("In the freezer (packs)", WIDTH)
    page.sheet.line(
        "The last count, and what was made since, less what was sold, sampled and spoiled since. A "
        "count is of the evening: what was made or went that day is in it.",
        Role.NOTE,
        across=WIDTH,
    )
    shows = (Show.TEXT, *(show for _, _, show, _ in PACKS))
    heading = page.headings(["Product", *(name for name, *_ in PACKS)], shows=shows, across=WIDTH)
    for row in page.context.costing.structure.rows["freezer"]:
        at = page.sheet.next_row
        link = page.context.link_to(row.sources.get("Products"), "product")
        page.figure((at, 0), (row, "product"), Show.TEXT, Role.LABEL, link=link)
        for column, (_, name, show, role) in enumerate(PACKS, 1):
            look = Look(role, show, signed=True) if name == "found_at_count" else None
            never = (row, "counted_on"), False
            none = never if name in ("counted_on", "found_at_count") else None
            page.figure((at, column), (row, name), show, role, look=look, dash_if=none)
        page.sheet.merged.append((at, len(PACKS), at, WIDTH - 1))
        page.sheet.next_row += 1
    page.mark_unknown(heading + 1, range(1, 4))
    page.sheet.next_row += 1


def _batches(page: Page) -> None:
    """The batches that the packs left are of, as on the day of the run."""
    book, costed_on = page.context.costing.structure.book, page.context.costing.structure.costed_on
    page.section(f"First made, first out, on {book.written(costed_on)}", WIDTH)
    shows = (Show.TEXT, Show.NUMBER, Show.DATE, Show.DATE)
    heading = page.headings(BATCHES, shows=shows, across=WIDTH)
    today = book.day_number(costed_on)
    for product in in_freezer(page.context.costing):
        for batch in product.batches:
            _batch(page, product, batch, today)
    flag = page.address(heading + 1, len(BATCHES) - 1)
    page.mark(heading + 1, range(len(BATCHES)), f'${flag}="{PAST}"')
    page.sheet.next_row += 1


def _batch(page: Page, product: InFreezer, batch: Batch, today: Decimal) -> None:
    at = page.sheet.next_row
    made: Value = BEFORE_MADE if batch.made is None else batch.made
    shown: tuple[tuple[Value, Show], ...] = (
        (product.product, Show.TEXT),
        (batch.packs, Show.NUMBER),
        (made, Show.DATE),
        (UNKNOWN_MARK if batch.use_by is None else batch.use_by, Show.DATE),
        (batch.code or UNASKED_MARK, Show.TEXT),
        (batch.said(today) or None, Show.TEXT),
    )
    for column, (value, show) in enumerate(shown):
        page.sheet.put(at, column, value, look_of(Role.LABEL, show, column))
    page.sheet.merged.append((at, len(BATCHES) - 1, at, len(BATCHES)))
    page.sheet.next_row += 1


def _measured(page: Page, found: list[Measurement]) -> None:
    context = page.context
    costed_on = context.costing.structure.book.written(context.costing.structure.costed_on)
    page.section("What was measured, beside what is typed", WIDTH)
    page.sheet.line(
        "Found is all that was left over all that was weighed, and all minutes over all units, not "
        "a mean of shares. Minutes a pack are everybody's. The last column is as of "
        f"{costed_on}: what a pack would cost more with what was found.",
        Role.NOTE,
        across=WIDTH,
    )
    heading = page.headings([*FOUND, "Adds to a pack's cost"], shows=SHOWN)
    for each in found:
        _line(page, each)
    page.mark_unknown(heading + 1, range(1, WIDTH))


def _line(page: Page, each: Measurement) -> None:
    at, row, places = page.sheet.next_row, each.row, each.places
    link = page.context.link_to(next(iter(row.sources.values()), None), _NAMED[row.table])
    page.sheet.put(at, 0, each.what, look_of(Role.LABEL, Show.TEXT, 0), link=link)
    names = ("measured", places.found, places.least, places.most, places.typed)
    for column, name in enumerate(names, 1):
        show = Show.WHOLE if name == "measured" else places.show
        page.figure((at, column), (row, name), show, Role.COMPUTED)
    copied, words = each.copy_into or UNASKED_MARK, each.does_in_words(page.context.places)
    if places.to_copy:
        page.figure((at, 6), (row, places.to_copy), places.copied_as, Role.ANSWER)
    else:
        page.sheet.put(at, 6, UNASKED_MARK, look_of(Role.COMPUTED, Show.TEXT, 6))
    page.sheet.put(at, 7, copied, look_of(Role.LABEL, Show.TEXT, 7))
    page.sheet.put(at, 8, words, look_of(Role.LABEL, Show.TEXT, 8))
    page.sheet.next_row += 1


_NAMED: Final = {
    "yields": "item",
    "stage_times": "stage",
    "pack_times": "stage",
    "made_times": "product",
    "made_rejects": "product",
}
"""By table, the field that names what was measured."""
