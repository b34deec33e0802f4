"""In short: what to raise first, live; and one line for each other thing to know."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.costing.rows import Row
from costbook.deciding.in_short import (
    NOT_KNOWN,
    NOTHING,
    RAISED_FIRST,
    ShortLine,
    in_short,
    raised_first,
)
from costbook.deciding.week import NOT_YET_KNOWN, NOTHING_TO_MAKE
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.at_least import at_least
from costbook.writing.pages.cards import PRICES
from costbook.writing.pages.in_step import STILL_TRUE, step_row
from costbook.writing.pages.page import MONEY_WIDTH, UNKNOWN_MARK, Context, Page, look_of
from costbook.writing.pages.prices import WITHOUT

__all__ = ["in_short_page"]

COLUMNS = (
    ("Product", "product", Show.TEXT, Role.LABEL),
    ("Sold at", "outlet", Show.TEXT, Role.LABEL),
    ("Price now", "price_now", Show.MONEY, Role.GIVEN),
    ("CHARGE", "price_on_step", Show.MONEY, Role.ANSWER),
    ("Margin now", "now_margin", Show.SHARE, Role.COMPUTED),
    ("Target margin", "applied_target_margin", Show.SHARE, Role.GIVEN),
)
WIDTH = len(COLUMNS)
RANKED = WIDTH
"""The column, unseen, of the row that each line shows."""


def in_short_page(context: Context) -> SheetDescription:
    """Describe the sheet In short, the first of ours."""
    page = Page(context, "In short")
    sheet = page.sheet
    sheet.widths = {0: 27.0, 1: 22.0} | dict.fromkeys(range(2, WIDTH), MONEY_WIDTH)
    sheet.landscape = False
    name = f"{context.business}: in short" if context.business else "In short"
    sheet.line(name, Role.TITLE)
    step_row(context, sheet, WIDTH, STILL_TRUE)
    at_least(page, *WITHOUT, WIDTH)
    _raise_first(page)
    page.section("To know", WIDTH)
    for line in in_short(context.costing, context.problems, context.places):
        _to_know(page, line)
    page.caution(WIDTH)
    return sheet


def _to_know(page: Page, line: ShortLine) -> None:
    """A line that follows by itself, or bears the day that it is of."""
    at, structure = page.sheet.next_row, page.context.costing.structure
    link, look = f"#page: {line.sheet}", look_of(Role.LABEL, Show.TEXT, 1)
    page.sheet.put(at, 0, line.about, look_of(Role.LABEL, Show.TEXT, 0), link=link)
    costed_on = structure.day_in_words
    words = line.words if line.live else f"{line.words} ({costed_on})"
    formula = LIVE[line.about](page) if line.live else ""
    page.sheet.put(at, 1, words, look, formula=formula)
    page.sheet.merged.append((at, 1, at, WIDTH - 1))
    page.sheet.next_row += 1


def _old_prices(page: Page) -> str:
    """How many prices are old, and which is the oldest, as a formula."""
    layout = page.context.layout
    if not layout.count["item_prices"]:
        return ""
    tab, names = sheet_name(layout.tab), ("item", "age_days", "freshness")
    item, age, fresh = (f"{tab}!{layout.column_range('item_prices', name)}" for name in names)
    count = f'COUNTIF({fresh},"{rules.OLD}")'
    oldest = f'INDEX({item},MATCH(MAX({age}),{age},0))&", "&MAX({age})&" days."'
    counted = f'IF({count}=1,"1 is old: ",{count}&" are old: ")'
    return f'=IF({count}=0,"None.",{counted}&{oldest})'


def _to_make(page: Page) -> str:
    """How many packs the plan asks for, in how many minutes, as ``Week.said_in_short`` has it."""
    whole, layout = page.context.costing.structure.one("plan_whole"), page.context.layout
    packs, minutes, time, room = (
        layout.absolute(whole, name) for name in ("to_make", "own_minutes", "time_said", "room")
    )
    lacking = "".join(f'&IF(LEFT({each},3)="too",", "&{each},"")' for each in (time, room))
    counted = f'IF({packs}=1,"1 pack",ROUND({packs},2)&" packs")'
    work = f'", "&IF(ISNUMBER({minutes}),ROUND({minutes},2),"?")&" minutes of your work"'
    said = f'IF({packs}=0,"{NOTHING_TO_MAKE}",{counted}&{work}{lacking}&".")'
    return f'=IF(ISNUMBER({packs}),{said},"{NOT_YET_KNOWN}")'


LIVE: Final = {"Old prices": _old_prices, "To make": _to_make}
"""What gives a line that follows by itself, by what it is about."""


def _raise_first(page: Page) -> None:
    """The prices furthest below what to charge, the furthest first; live."""
    sheet, layout = page.sheet, page.context.layout
    page.section(f"Raise these first ({page.context.sign} a pack)", WIDTH)
    page.headings([name for name, *_ in COLUMNS], shows=[show for _, _, show, _ in COLUMNS])
    if not layout.count["prices"]:
        sheet.put(sheet.next_row, 0, NOT_KNOWN, look_of(Role.LABEL, Show.TEXT, 0), link=PRICES)
        sheet.next_row += 1
        return
    rows = raised_first(page.context.costing)
    for rank in range(RAISED_FIRST):
        _line(page, rank, rows[rank] if rank < len(rows) else None)
    sheet.next_row += 1


def _line(page: Page, rank: int, row: Row | None) -> None:
    at, sheet, layout = page.sheet.next_row, page.sheet, page.context.layout
    tab = sheet_name(layout.tab)
    every = f"{tab}!{layout.column_range('prices', 'short_by')}"
    which = f"=IF(COUNT({every})<{rank + 1},0,IF(LARGE({every},{rank + 1})>0,MATCH(LARGE({every},"
    which += f"{rank + 1}),{every},0),0))"
    shown = Decimal(row.index + 1 if row else 0)
    sheet.put(at, RANKED, shown, Look(Role.UNSEEN), formula=which)
    number = page.address(at, RANKED)
    for column, (_, name, show, role) in enumerate(COLUMNS):
        of_all = f"{tab}!{layout.column_range('prices', name)}"
        none, no_row = _none(page) if rank == column == 0 else ("", '""')
        found = f"INDEX({of_all},MAX({number},1))"
        unknown = "" if show is Show.TEXT else UNKNOWN_MARK
        formula = f'=IF({number}=0,{no_row},IF({found}="","{unknown}",{found}))'
        value: Value = none
        if row is not None:
            value = page.value((row, name))
            value = unknown if value in (None, "") else value
        link = PRICES if column == 0 else ""
        page.sheet.put(at, column, value, look_of(role, show, column), formula=formula, link=link)
    sheet.next_row += 1


def _none(page: Page) -> tuple[str, str]:
    """What stands where no price is to be raised, and its formula."""
    layout, figures = page.context.layout, page.context.costing.figures["prices"]
    prices = f"{sheet_name(layout.tab)}!{layout.column_range('prices', 'price_on_step')}"
    known = any(each["price_on_step"] is not None for each in figures)
    return NOTHING if known else NOT_KNOWN, f'IF(COUNT({prices})=0,"{NOT_KNOWN}","{NOTHING}")'
