"""What market days leave open or in doubt: rows of no day, and figures that can't be."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from decimal import Decimal
from statistics import median
from typing import Final

from costbook.book import NOBODY, Record, Value, as_key
from costbook.costing.engine import Costing, Figures
from costbook.costing.far import how_far, is_far
from costbook.costing.line_findings import place_of
from costbook.definitions.market_days_workings import FEWEST_DAYS
from costbook.problems import Problem, Severity

__all__ = ["MARKET_DAY_FINDINGS"]

_Typed = Iterator[tuple[Record, Figures]]


def _typed(costing: Costing, table: str, sheet: str) -> _Typed:
    """The records of a log, with the figures of their rows."""
    records = set(map(id, costing.structure.book.records(sheet)))
    for row in costing.structure.rows[table]:
        if sheet in row.sources and id(row.sources[sheet]) in records:
            yield row.sources[sheet], costing.of(row)


def _sales(costing: Costing) -> _Typed:
    """The rows of Sales, where market days are kept; else they are only what is gone."""
    kept = bool(costing.structure.book.records("Market days"))
    return _typed(costing, "sales", "Sales") if kept else iter(())


def _days(costing: Costing) -> _Typed:
    return _typed(costing, "market_days", "Market days")


def _wrong(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.WRONG, place_of(costing, record, name), what, remedy)


def _doubt(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.DOUBTFUL, place_of(costing, record, name), what, remedy)


def days_without_date(costing: Costing) -> Iterator[Problem]:
    """A row without a date, or of no outlet, belongs to no day."""
    for record, _ in (*_days(costing), *_sales(costing)):
        if "day" not in record.values:
            what = "the date is missing, so the row belongs to no day."
            yield _wrong(costing, record, "day", what, "Fill it in.")
        if record.sheet == "Sales" and not record.text("outlet"):
            what = "the row has no Outlet, so it belongs to no day."
            yield _wrong(costing, record, "outlet", what, "Fill it in, as on Market days.")


def days_yet_to_come(costing: Costing) -> Iterator[Problem]:
    """A market day after the costing date."""
    for record, figures in _days(costing):
        day = figures["day"]
        if isinstance(day, Decimal) and day > _today(costing):
            what = f"{costing.structure.book.written(day)} is after the costing date."
            yield _doubt(costing, record, "day", what, "Check the date.")


def _today(costing: Costing) -> Decimal:
    return costing.structure.book.day_number(costing.structure.costed_on)


def sales_of_no_day(costing: Costing) -> Iterator[Problem]:
    """Sales on a day that Market days has no row of, said once a day."""
    told: set[tuple[Value, Value]] = set()
    for record, figures in _sales(costing):
        day, outlet = figures["day"], figures["outlet_key"]
        if not isinstance(day, Decimal) or outlet == NOBODY or not figures["of_no_day"]:
            continue
        if (day, outlet) not in told:
            told.add((day, outlet))
            where = f"{costing.structure.book.written(day)} at {record.text('outlet')}"
            what = f"Market days has no row for {where}, so these sales count nowhere."
            yield _wrong(costing, record, "day", what, "Add the day there, or put the date right.")


def more_gone_than_taken(costing: Costing) -> Iterator[Problem]:
    """Packs sold, sampled and spoiled that are more than were taken along."""
    for record, figures in _sales(costing):
        sold, taken = record.number("sold"), record.number("taken")
        if sold is None or taken is None or figures["gone"] is not None:
            continue
        others = (figures["sampled"], figures["spoiled"])
        if all(isinstance(each, Decimal) for each in others):
            gone = sum((each for each in others if isinstance(each, Decimal)), sold)
            what = f"{_plain(gone)} were sold, sampled or spoiled, and {_plain(taken)} taken along."
            yield _wrong(costing, record, "sold", what, "Put Taken or Sold right.")


def sales_without_figures(costing: Costing) -> Iterator[Problem]:
    """A product of which nobody said how many were sold, or what a pack was sold at."""
    for record, figures in _sales(costing):
        if "sold" not in record.values:
            what = "how many were sold is missing."
            yield _wrong(costing, record, "sold", what, "Fill in Sold; 0 if none was.")
        known = figures["pays_wholesale"] is not None and figures["units_per_pack"] is not None
        if known and figures["price"] is None and "price" not in record.values:
            what = "what a pack was sold at isn't known."
            remedy = "Fill in Price here, or the price now on Products."
            yield _wrong(costing, record, "price", what, remedy)


def days_half_filled(costing: Costing) -> Iterator[Problem]:
    """What a day lacks to be judged, in the first of its rows."""
    for record, figures in _days(costing):
        if figures["leads"] != 1:
            continue
        if (figures["card_payout_typed"] or 0) != 0 and figures["card_takings_typed"] == 0:
            what = "Card takings is blank, so what the cards cost isn't known."
            remedy = "Fill in what was taken by card, before its fees."
            yield _wrong(costing, record, "card_takings", what, remedy)
        if figures["hours_typed"] == 0 and figures["hours"] is not None:
            what = "Hours is blank, so what an hour brought isn't known."
            yield _wrong(costing, record, "hours", what, "Fill in your own hours that day.")
        yield from _till_half_filled(costing, record, figures)


_OF_THE_TILL: Final = (
    ("cash_counted", "Cash counted"),
    ("float_cash", "Float"),
    ("card_takings", "Card takings"),
)


def _till_half_filled(costing: Costing, record: Record, figures: Figures) -> Iterator[Problem]:
    blank = [each for each in _OF_THE_TILL if figures[f"{each[0]}_typed"] == 0]
    if len(blank) == len(_OF_THE_TILL) or figures["takings_by_till"] is not None:
        return  # nobody counted the till that day, or it is known
    if figures["card_share"] == 0:
        blank = [each for each in blank if each[0] != "card_takings"]
    for name, title in (each for each in blank if figures[each[0]] is not None):
        what = f"{title} is blank, so what the till holds isn't known."
        yield _doubt(costing, record, name, what, "Fill it in; 0 if there was none.")


def days_in_two_rows(costing: Costing) -> Iterator[Problem]:
    """A day that stands in several rows, which are added up."""
    for record, figures in _days(costing):
        first = figures["first_row"]
        named = figures["outlet_key"] != NOBODY
        if named and isinstance(first, Decimal) and figures["leads"] == 0:
            what = f"row {first} is of the same day at this outlet: the two were added up."
            remedy = "Nothing, if that is right; else delete one of them."
            yield _doubt(costing, record, "day", what, remedy)


def sales_twice(costing: Costing) -> Iterator[Problem]:
    """A row of Sales that says the same as another of that day."""
    told: dict[tuple[Value, ...], int] = {}
    for record, figures in _sales(costing):
        same = tuple(figures[name] for name in ("day", "outlet_key", "product_key", *_COUNTED))
        if figures["day"] is None or figures["sold"] is None:
            continue
        first = told.setdefault(same, record.row)
        if first != record.row:
            what = f"row {first} says the same: both count."
            yield _doubt(costing, record, "product", what, "Delete one, if it was typed twice.")


_COUNTED: Final = ("taken", "sold", "sampled", "spoiled", "price")


def payouts_above_takings(costing: Costing) -> Iterator[Problem]:
    """More paid out than was taken by card."""
    for record, _ in _days(costing):
        paid, taken = record.number("card_payout"), record.number("card_takings")
        if paid is not None and taken is not None and paid > taken:
            what = "Card payout is more than Card takings, so the fees are below nothing."
            yield _doubt(costing, record, "card_payout", what, "Check the two.")


def units_far_from_sold(costing: Costing) -> Iterator[Problem]:
    """Units sold per day as typed, beside the middle one of what market days tell."""
    sold: dict[Value, list[Decimal]] = defaultdict(list)
    for _, figures in _days(costing):
        units = figures["units_sold"]
        if figures["leads"] == 1 and figures["sales_rows"] and isinstance(units, Decimal):
            sold[figures["outlet_key"]].append(units)
    for record in costing.structure.book.records("Outlets"):
        typed, days = record.number("units_sold_per_day"), sold[as_key(record.text("outlet"))]
        if typed is None or len(days) < FEWEST_DAYS or not is_far(usual := median(days), typed):
            continue
        what = (
            f"on {len(days)} market days {_plain(usual)} units were usually sold here a day, and "
            f"{_plain(typed)} are typed: {how_far(usual, typed)}."
        )
        remedy = "Type what you sell a day, in singles: a pack of six is six."
        yield _doubt(costing, record, "units_sold_per_day", what, remedy)


def tills_far_off(costing: Costing) -> Iterator[Problem]:
    """A till that holds half as much more, or less, than what was counted as sold."""
    for record, figures in _days(costing):
        over, count = figures["over_short"], figures["takings_by_count"]
        if figures["leads"] != 1 or not (isinstance(over, Decimal) and isinstance(count, Decimal)):
            continue
        if abs(over) > count / 2 > 0:
            way = "over" if over > 0 else "short"
            what = f"the till is {_plain(abs(over))} {way}, and {_plain(count)} was sold by count."
            remedy = "Check Float, Cash counted and Card takings, and Sold and Price on Sales."
            yield _doubt(costing, record, "cash_counted", what, remedy)


_HOURS_OF_A_DAY: Final = 24


def hours_of_more_than_a_day(costing: Costing) -> Iterator[Problem]:
    """More hours than a day has, which only several people work."""
    for record, _ in _days(costing):
        hours = record.number("hours")
        if hours is not None and hours > _HOURS_OF_A_DAY:
            what = f"{_plain(hours)} hours are more than a day has."
            remedy = "Nothing, if several of you were there so long; else put it right."
            yield _doubt(costing, record, "hours", what, remedy)


def prices_far_off(costing: Costing) -> Iterator[Problem]:
    """A price of the day three times that of now, or a third of it."""
    for record, figures in _sales(costing):
        price, now = record.number("price"), figures["price_then"]
        if price is not None and isinstance(now, Decimal) and is_far(price, now):
            far = how_far(price, now)
            what = f"the price now is {_plain(now)}, and a pack was sold at {_plain(price)}: {far}."
            yield _doubt(costing, record, "price", what, "Check the price of one pack that day.")


def _plain(number: Decimal) -> str:
    return f"{float(number):g}"


MARKET_DAY_FINDINGS: Final[tuple[Callable[[Costing], Iterator[Problem]], ...]] = (
    days_without_date,
    days_yet_to_come,
    days_half_filled,
    days_in_two_rows,
    payouts_above_takings,
    tills_far_off,
    hours_of_more_than_a_day,
    prices_far_off,
    sales_of_no_day,
    more_gone_than_taken,
    sales_without_figures,
    sales_twice,
    units_far_from_sold,
)
"""What is looked for in a workbook with market days."""
