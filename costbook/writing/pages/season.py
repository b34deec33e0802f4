"""Season: the last market day first, then every day, then what they say together.

The days follow what is typed by themselves; what they say together is as of the run.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.deciding.market_days import MarketDay, market_days
from costbook.deciding.season import Season, SeasonLine, season
from costbook.definitions.columns import Show
from costbook.definitions.market_days_workings import FEWEST_DAYS
from costbook.definitions.weather import DRY, WET, is_wet
from costbook.writing.description import ColumnChart, Look, Role, Series, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import UNKNOWN_MARK, Context, Page, look_of

__all__ = ["SEASON", "season_page"]

SEASON: Final = "Season"
_NAMED: Final = (
    ("Date", "day", Show.DATE, 10.5),
    ("Outlet", "outlet", Show.TEXT, 15.0),
    ("Weather", "weather", Show.TEXT, 9.0),
)
"""What is read from the rows of Market days themselves."""
_FIGURES: Final = (
    ("By count", "takings_by_count", Show.MONEY, 10.0),
    ("By the till", "takings_by_till", Show.MONEY, 10.0),
    ("Over or short", "over_short", Show.MONEY, 9.0),
    ("Sold of what was taken", "day_sell_through", Show.SHARE, 9.3),
    ("Cost of what is gone", "cost_of_gone", Show.MONEY, 10.0),
    ("Costs of the day", "costs_of_the_day", Show.MONEY, 9.3),
    ("Left for your work", "left_for_own_work", Show.MONEY, 10.0),
    ("Your hours", "own_hours", Show.NUMBER, 7.3),
    ("Pay an hour", "pay_an_hour", Show.MONEY, 8.3),
    ("Margin with your pay", "margin_of_the_day", Show.SHARE, 9.3),
    ("What is missing", "day_lacks", Show.TEXT, 20.0),
)
_COLUMNS: Final = (*_NAMED, *_FIGURES)
ACROSS: Final = len(_COLUMNS)
_WEATHER, _PAY = 2, 11
"""Where the weather and the pay an hour stand."""
_DRY_PAY, _WET_PAY, _DAY, _NUMBER = range(ACROSS, ACROSS + 4)
"""Columns out of sight: the chart's two series and its days, and the row of Workings of a line."""
_MORE_LINES: Final = 5
"""Lines for days that are typed before the next run."""
_MONTHS: Final = [
    "Jan",
    "Feb",
    "Mar",
    "Apr",
    "May",
    "Jun",
    "Jul",
    "Aug",
    "Sep",
    "Oct",
    "Nov",
    "Dec",
]
_NO_DAY: Final = "No market day that can be read yet: a day has a date and an outlet."

_TOGETHER: Final = (
    ("Days", Show.WHOLE),
    ("Median", Show.MONEY),
    ("Best", Show.MONEY),
    ("Worst", Show.MONEY),
    ("In all, an hour", Show.MONEY),
    ("Sold of what was taken", Show.SHARE),
    ("Days something sold out", Show.WHOLE),
)


def season_page(context: Context) -> SheetDescription:
    """Describe the sheet Season."""
    page = Page(context, SEASON)
    sheet = page.sheet
    sheet.widths = {at: width for at, (*_, width) in enumerate(_COLUMNS)}
    sheet.widths |= dict.fromkeys((_DRY_PAY, _WET_PAY, _DAY, _NUMBER), 4.0)
    sheet.line(f"Season ({context.sign}): what each market day brought", Role.TITLE)
    sheet.line(
        "Left for your work: takings without sales tax, less what the goods cost that are gone "
        "(without your own work) and the day's own costs. Your hours: there, and making what was "
        "sold. What came home is stock, and no loss. A ? is not known.",
        Role.NOTE,
        across=ACROSS,
    )
    step_row(context, sheet, ACROSS)
    days = market_days(context.costing)
    if days:
        _days(page, days)
        _season(page, season(days))
    else:
        sheet.line(_NO_DAY, Role.LABEL, across=ACROSS)
    page.caution(ACROSS)
    return sheet


def _days(page: Page, days: Sequence[MarketDay]) -> None:
    sheet = page.sheet
    page.section("The last day", ACROSS)
    names, shows = [name for name, *_ in _COLUMNS], [show for _, _, show, _ in _COLUMNS]
    page.headings(names, shows=shows)
    first = sheet.next_row
    _line(page, days[-1], "LARGE", 1)
    _wished(page, days)
    page.mark_unknown(first, range(ACROSS))
    chart_at = sheet.next_row + 1
    sheet.next_row = chart_at + 13
    page.section("Every day", ACROSS)
    page.headings(names, shows=shows)
    heading = sheet.next_row - 1
    for at in range(len(days) + _MORE_LINES):
        _line(page, days[at] if at < len(days) else None, "SMALL", at + 1)
    page.mark_unknown(heading + 1, range(ACROSS))
    _not_shown(page, len(days) + _MORE_LINES)
    below = sheet.next_row
    sheet.put_chart(_chart(heading, len(days), chart_at))
    sheet.next_row = below + 1


def _wished(page: Page, days: Sequence[MarketDay]) -> None:
    """What an hour is to bring, below what the last day's brought."""
    at = page.sheet.next_row
    page.sheet.put(at, _PAY - 1, "wished", look_of(Role.NOTE, Show.TEXT, _PAY - 1))
    page.figure((at, _PAY), (days[0].row, "pay_wished"), Show.MONEY)
    page.sheet.next_row += 1


def _line(page: Page, day: MarketDay | None, fold: str, place: int) -> None:
    """One day: the one that stands in its place among all, found live."""
    sheet, at = page.sheet, page.sheet.next_row
    ranks = _range(page, "market_days", "day_rank")
    found = f"MATCH({fold}({ranks},{place}),{ranks},0)"
    shown = Decimal(day.row.index + 1 if day else 0)
    which = f"=IF(COUNT({ranks})<{place},0,{found})"
    sheet.put(at, _NUMBER, shown, Look(Role.UNSEEN), formula=which)
    number = page.address(at, _NUMBER)
    for column, (text, value) in enumerate(_named(page, day, number)):
        _put(page, column, number, text, value if day else "")
    for column, (_, name, _, _) in enumerate(_FIGURES, len(_NAMED)):
        text = f"INDEX({_range(page, 'market_days', name)},MAX(1,{number}))"
        _put(page, column, number, text, day.figures[name] if day else "")
    _for_the_chart(page, day)
    sheet.next_row += 1


def _named(page: Page, day: MarketDay | None, number: str) -> Iterator[tuple[str, Value]]:
    """The date, the outlet and the weather, each as a formula finds it and what it is."""
    here = f"MAX(1,{number})"
    yield f"INDEX({_range(page, 'market_rows', 'day')},{here})", day.day if day else ""
    outlets, keys = (_range(page, "sold_at", name) for name in ("outlet", "outlet_key"))
    key = f"INDEX({_range(page, 'market_rows', 'outlet_key')},{here})"
    yield f'IFERROR(INDEX({outlets},MATCH({key},{keys},0)),"")', _outlet(page, day)
    sheet = page.context.costing.structure.book.sheets["Market days"]
    typed: Value = day.row.sources["Market days"].text("weather") if day else ""
    if "weather" in sheet.columns:
        letter = sheet.columns["weather"]
        row = f"INDEX({_range(page, 'market_rows', 'row_number')},{here})"
        yield f"TRIM(INDEX({sheet_name(sheet.tab)}!${letter}:${letter},{row}))", typed
    else:
        yield '""', typed


def _outlet(page: Page, day: MarketDay | None) -> Value:
    """The outlet's name as Outlets has it; unknown where it has none, as a formula finds it."""
    known = {row.fixed["outlet"] for row in page.context.costing.structure.rows["sold_at"]}
    return day.outlet if day and day.outlet in known else None


def _range(page: Page, table: str, column: str) -> str:
    layout = page.context.layout
    return f"{sheet_name(layout.tab)}!{layout.column_range(table, column)}"


def _put(page: Page, column: int, number: str, text: str, value: Value) -> None:
    """A figure of a line; nothing on a line without a day, a `?` for what isn't known."""
    _, name, show, _ = _COLUMNS[column]
    unknown = "" if name in ("weather", "day_lacks") else UNKNOWN_MARK
    role = Role.SUM if column == _PAY else Role.COMPUTED
    look = replace(look_of(role, show, column), signed=name == "over_short")
    formula = f'=IF({number}=0,"",IF({text}="","{unknown}",{text}))'
    shown = unknown if value is None else value
    page.sheet.put(page.sheet.next_row, column, shown, look, formula=formula)


def _for_the_chart(page: Page, day: MarketDay | None) -> None:
    """The pay an hour once more: of a dry day in one column, of a wet one in the other."""
    at = page.sheet.next_row
    weather, pay = page.address(at, _WEATHER), page.address(at, _PAY)
    wet, dry = (",".join(f'ISNUMBER(SEARCH("{e}",{weather}))' for e in each) for each in (WET, DRY))
    rains = f"AND(OR({wet}),NOT(OR({dry})))"
    date = page.address(at, 0)
    months = ",".join(f'"{month}"' for month in _MONTHS)
    named = f'=IF({date}="","",DAY({date})&" "&CHOOSE(MONTH({date}),{months}))'
    on = page.context.costing.structure.book.day(day.day) if day else None
    shown_day = f"{on.day} {_MONTHS[on.month - 1]}" if on else ""
    page.sheet.put(at, _DAY, shown_day, Look(Role.UNSEEN), formula=named)
    known = day.number("pay_an_hour") if day else None
    typed = day.row.sources["Market days"].text("weather") if day else ""
    for column, test, shown in (
        (_DRY_PAY, f"NOT({rains})", not is_wet(typed)),
        (_WET_PAY, rains, is_wet(typed)),
    ):
        formula = f'=IF(ISNUMBER({pay}),IF({test},{pay},""),"")'
        value: Value = known if known is not None and shown else ""
        page.sheet.put(at, column, value, Look(Role.UNSEEN, Show.MONEY), formula=formula)


def _not_shown(page: Page, lines: int) -> None:
    """How many days there is no line for; nothing as a rule."""
    ranks = _range(page, "market_days", "day_rank")
    said = f'COUNT({ranks})-{lines}&" more: run costbook again to see them."'
    formula = f'=IF(COUNT({ranks})>{lines},{said},"")'
    page.sheet.put(page.sheet.next_row, 0, "", Look(Role.NOTE), formula=formula)
    page.sheet.next_row += 1


def _chart(heading: int, days: int, at_row: int) -> ColumnChart:
    """Pay an hour by day, of wet days with another filling."""
    first, last = heading + 1, heading + days
    series = (("dry, or nobody said", _DRY_PAY), ("rain", _WET_PAY))
    return ColumnChart(
        "Pay an hour, day by day",
        "",
        (first, _DAY, last, _DAY),
        tuple(Series(name, (first, at, last, at)) for name, at in series),
        at_row,
        width=1000,
        height=240,
    )


# ---------------------------------------------------------------- all days together


def _season(page: Page, found: Season) -> None:
    places = page.context.places
    outlets = [(each, found.of_outlet(each, places)) for each in found.outlets]
    products = [(each, found.of_product(each, places)) for each in found.products]
    words = list(found.rain_in_words(places))
    weather = [
        (each, words[0] if words and not at else "") for at, each in enumerate(found.weather)
    ]
    _together(page, "By outlet, as of this run: pay an hour of a day", "Outlet", outlets)
    _together(
        page,
        "By product, as of this run: packs a day; what an hour of making left, the day unpaid",
        "Product",
        products,
    )
    if weather:
        _together(page, "Rain and dry, as of this run: pay an hour of a day", "Weather", weather)


_Said = tuple[SeasonLine, str]
"""What some days say, and the sentence on it."""


def _together(page: Page, title: str, name: str, rows: Sequence[_Said]) -> None:
    sheet = page.sheet
    page.section(title, ACROSS)
    packs = name == "Product"
    shows = [Show.NUMBER if packs and show is Show.MONEY else show for _, show in _TOGETHER]
    shows[4] = Show.MONEY
    columns = [*range(3, 3 + len(_TOGETHER)), 3 + len(_TOGETHER)]
    names = (name, "", "", *(title for title, _ in _TOGETHER), "What to do")
    at = page.headings(names, shows=(Show.TEXT, Show.TEXT, Show.TEXT, *shows), across=ACROSS)
    sheet.merged.append((at, columns[-1], at, ACROSS - 1))
    for each, said in rows:
        at = sheet.next_row
        sheet.put(at, 0, each.name, look_of(Role.LABEL, Show.TEXT, 0))
        sheet.merged.append((at, 0, at, 2))
        figures = (each.days, each.median, each.best, each.worst, each.pay, each.sell_through)
        for column, show, figure in zip(
            columns, shows, (*figures, each.sold_out_days), strict=False
        ):
            shown = Decimal(figure) if isinstance(figure, int) else figure
            look = Look(Role.COMPUTED, show)
            sheet.put(at, column, UNKNOWN_MARK if shown is None else shown, look)
        words = said if each.speaks else f"Fewer than {FEWEST_DAYS} days tell."
        sheet.put(at, columns[-1], words, look_of(Role.LABEL, Show.TEXT, columns[-1]))
        sheet.merged.append((at, columns[-1], at, ACROSS - 1))
        sheet.heights[at] = 30.0
        sheet.next_row += 1
    sheet.next_row += 1
