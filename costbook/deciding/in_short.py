"""In short: what a tired cook should know first, from all the answers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.buy_list import buy_list
from costbook.deciding.market_days import market_days
from costbook.deciding.moved import moves
from costbook.deciding.pack import money
from costbook.deciding.pack_words import OLDER
from costbook.deciding.packs import ComparedItem, compared
from costbook.deciding.stock import past_their_date
from costbook.deciding.week import week
from costbook.definitions import rules
from costbook.definitions.rounding import in_amount, in_money
from costbook.problems import Problem, Severity, to_check

__all__ = [
    "NOTHING",
    "NOT_KNOWN",
    "RAISED_FIRST",
    "ShortLine",
    "at_one_look",
    "in_short",
    "raised_first",
]

MOST_LINES = 8
"""Lines of the front sheet; where there is more to say, what is least urgent is left out."""
RAISED_FIRST = 3
"""Prices that are named first."""
NOTHING, NOT_KNOWN = "Nothing to raise.", "No price to charge is known yet."
"""What is said where no price is to be raised, and where none is known."""
_BY_URGENCY = (
    *("To put right", "Freezer", "To make", "To buy", "What to buy"),
    *("Last market day", "What moved", "Old prices"),
)
"""What a line may be about, the most urgent first."""
_WEEKS = Decimal(2)
"""How long what is bought is to last, as on Packs compared."""


@dataclass(frozen=True, slots=True)
class ShortLine:
    """One thing to know: what it is about, in a sentence, and the sheet that has the rest."""

    about: str
    words: str
    sheet: str
    live: bool = False
    """Whether the front sheet says it by formulas; else it is of the day of the costing."""


def raised_first(costing: Costing) -> list[Row]:
    """The prices that are furthest below what to charge, at most three.

    Furthest as a share of what to charge, so that a six-pack doesn't hide a single.
    """
    short = [(costing.of(row)["short_by"], row) for row in costing.structure.rows["prices"]]
    found = [(share, row) for share, row in short if isinstance(share, Decimal) and share > 0]
    return [row for _, row in sorted(found, key=lambda each: (-each[0], each[1].index))][
        :RAISED_FIRST
    ]


def at_one_look(costing: Costing, problems: Sequence[Problem], places: int) -> list[ShortLine]:
    """Everything on the front sheet: which prices to raise first and to what, and all else."""
    rows = raised_first(costing)
    raised = [ShortLine("Raise", _raised(costing, row, places), "Prices") for row in rows]
    known = any(row["price_on_step"] is not None for row in costing.figures["prices"])
    nothing = [ShortLine("Raise", NOTHING if known else NOT_KNOWN, "Prices")]
    return [*(raised or nothing), *in_short(costing, problems, places)]


def _raised(costing: Costing, row: Row, places: int) -> str:
    figures = costing.of(row)
    where = f" at {figures['outlet']}" if figures["outlet"] else ""
    least = "at least " if costing.one("settings")["uncounted"] else ""
    now, charge = (in_money(figures[name], places) for name in ("price_now", "price_on_step"))
    slip = (
        " That is many times as much: check it first."
        if figures["advice"] == rules.CHECK_FIRST
        else ""
    )
    return f"{figures['product']}{where} from {now} to {least}{charge}.{slip}"


def in_short(costing: Costing, problems: Sequence[Problem], places: int) -> list[ShortLine]:
    """What to make, what moved, what to buy otherwise, what is missing, which prices are old.

    In the order in which they are read; of too many, the most urgent.
    """
    moved = moves(costing).said(places)
    lines = [
        *_to_make(costing),
        ShortLine("What moved", f"{moved[:1].upper()}{moved[1:]}", "What moved"),
        *_to_buy(costing, places),
        *_past_their_date(costing),
        *_last_market_day(costing, places),
        ShortLine("To put right", _to_put_right(problems), "To put right"),
        ShortLine("Old prices", _old_prices(costing), "Latest prices", live=True),
    ]
    urgent = sorted(lines, key=lambda line: _BY_URGENCY.index(line.about))
    kept = urgent[: MOST_LINES - RAISED_FIRST]
    return [line for line in lines if line in kept]


def _to_make(costing: Costing) -> Iterator[ShortLine]:
    """How many packs the plan asks for, in how many minutes, where there is a plan."""
    if found := week(costing):
        yield ShortLine("To make", found.said_in_short(), "The week", live=True)


def _to_buy(costing: Costing, places: int) -> Iterator[ShortLine]:
    """What to buy where, if there is a list; else the item on which another pack saves most."""
    if costing.structure.book.has_buy_list:
        yield ShortLine("To buy", buy_list(costing, places).in_short, "Buy list")
    else:
        yield from _bought_otherwise(costing, places)


def _bought_otherwise(costing: Costing, places: int) -> Iterator[ShortLine]:
    """The item on which another pack saves most, if one does."""
    saving = [(_saved(item), item) for item in compared(costing, _WEEKS)]
    best = max(saving, key=lambda each: each[0], default=None)
    if best is not None and best[0] > 0:
        yield ShortLine("What to buy", _bought_for_less(costing, *best, places), "Packs compared")


def _bought_for_less(costing: Costing, saved: Decimal, item: ComparedItem, places: int) -> str:
    assert item.plan is not None
    assert item.need is not None
    bought = f"{item.item}: {item.packs_in_words(item.plan)} for {item.need.in_words}"
    book, costed_on = costing.structure.book, costing.structure.costed_on
    packs = zip(item.packs, item.plan.counts, strict=True)
    days = [pack.day for pack, count in packs if count]
    first = min((day for day in days if day is not None), default=None)
    asked = ""
    if first is not None and book.day_number(costed_on) - first > OLDER:
        asked = f" Ask first: the price is of {book.written(first)}."
    return f"{bought} saves {money(saved, places)}.{asked}"


def _saved(item: ComparedItem) -> Decimal:
    """What the cheapest way to buy saves against the pack bought last [money]."""
    if item.plan is None or item.usual_cost is None:
        return Decimal(0)
    return item.usual_cost - item.plan.cost


def _last_market_day(costing: Costing, places: int) -> Iterator[ShortLine]:
    """What an hour brought on the last market day, where they are kept."""
    for day in market_days(costing)[-1:]:
        said = f"{day.title(costing.structure.book)}: {day.verdict(places)}."
        yield ShortLine("Last market day", said, "Season")


def _past_their_date(costing: Costing) -> Iterator[ShortLine]:
    """What is in the freezer past the date that was typed for it, if anything is."""
    past = past_their_date(costing)
    if past:
        product, batch = past[0]
        named = f"{in_amount(batch.packs)} {product.product}"
        of_batch = f", batch {batch.code}" if batch.code else ""
        more = f"; and {len(past) - 1} more" if len(past) > 1 else ""
        yield ShortLine("Freezer", f"Past its date: {named}{of_batch}{more}.", "Freezer")


def _to_put_right(problems: Sequence[Problem]) -> str:
    wrong = [each for each in problems if each.severity is Severity.WRONG]
    doubts = to_check(problems)
    if not wrong:
        return f"Nothing is wrong; {doubts} to check." if doubts else "Nothing."
    more = f" And {len(wrong) - 1} more." if len(wrong) > 1 else ""
    return f"{wrong[0]}{more}"


def _old_prices(costing: Costing) -> str:
    old = [
        (age, str(row.fixed["item"]))
        for row in costing.structure.rows["item_prices"]
        if costing.of(row)["freshness"] == rules.OLD
        and isinstance(age := costing.of(row)["age_days"], Decimal)
    ]
    if not old:
        return "None."
    days, item = max(old, key=lambda each: each[0])
    count = "1 is old" if len(old) == 1 else f"{len(old)} are old"
    return f"{count}: {item}, {days} days."
