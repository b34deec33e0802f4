"""What comparing packs found, said of packs whose figures are given."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from costbook.book import Book, Value
from costbook.costing.rows import Row
from costbook.deciding.pack import Pack
from costbook.deciding.pack_words import finding
from costbook.definitions.rules import ROWS_IN_RANK
from costbook.definitions.units import Measure
from tests.deciding.asking import costed
from tests.deciding.test_moved import ROLLS

D = Decimal


@pytest.fixture(scope="module")
def book() -> Book:
    return costed(ROLLS).structure.book


def pack(name: str, price: str, **others: Value) -> Pack:
    """A pack of one kilogram from Mill by its price for a kilogram ready to use.

    ``day`` counts from the first day of the workbook; ``spoils_at`` is the share that may be lost.
    """
    figures: dict[str, Value] = {"supplier": "Mill", "used_price": D(price), "overtaken": D(0)}
    figures |= {"compared_ready": D(price), "price_measure": D(int(Measure.WEIGHT))}
    figures |= {"pack_in_units_of_now": D(1), "pack_held": D(1), "order_used": D(1)} | others
    day = figures.pop("day", None)
    figures["rank"] = day * ROWS_IN_RANK if isinstance(day, Decimal) else None
    spoilage = {"break_even_spoilage": figures.pop("spoils_at", None)}
    return Pack(Row("packs_bought", 0), figures, spoilage, name)


def test_an_overtaken_price_is_said_with_the_last_pack_bought_since(book: Book) -> None:
    """0.60 against 0.80 was a quarter less."""
    first, second, third = (book.day_number(date(2026, month, 1)) for month in (6, 8, 10))
    packs = [
        pack("1 kg", "0.80", day=third),
        pack("2 kg", "0.90", day=second),
        pack("3 kg", "0.60", day=first, overtaken=D(1)),
    ]
    for those in (packs, [packs[0], packs[2], packs[1]]):
        assert finding(those, book).endswith(
            "The 3 kg from Mill was 25.0 % cheaper on 2026-06-01, but a later receipt has "
            "overtaken that price (1 kg, 2026-10-01): ask what it costs now."
        )


@pytest.mark.parametrize(("days", "said"), [(7, False), (8, True)])
def test_a_price_that_wins_and_is_more_than_a_week_older_is_said(
    book: Book, days: int, said: bool
) -> None:
    then = book.day_number(date(2026, 11, 1))
    packs = [pack("1 kg", "1", day=then), pack("2 kg", "2", day=then + days)]
    assert ("The price of the 1 kg from Mill is of 2026-11-01." in finding(packs, book)) == said


@pytest.mark.parametrize(
    ("price", "said"),
    [
        # a two-thousandth less is 0.05 %, which would be shown as 0.1 %
        ("0.9995", "The 1 kg from Mill is 0.1 % cheaper than the 2 kg from Mill."),
        ("0.9996", "The 1 kg from Mill and the 2 kg from Mill come to the same."),
    ],
)
def test_less_than_a_tenth_of_a_per_cent_is_the_same(book: Book, price: str, said: str) -> None:
    assert finding([pack("1 kg", price), pack("2 kg", "1")], book) == said


def test_an_overtaken_price_that_would_be_the_same_is_not_said(book: Book) -> None:
    then = book.day_number(date(2026, 11, 1))
    packs = [pack("1 kg", "1", day=then), pack("2 kg", "1.1")]
    for price, said in (("0.9995", True), ("0.9996", False)):
        overtaken = pack("3 kg", price, day=then - 30, overtaken=D(1))
        assert ("was 0.1 % cheaper" in finding([*packs, overtaken], book)) == said


PIECES = D(int(Measure.PIECE))


@pytest.mark.parametrize(
    ("spoils_at", "said"),
    [
        # of 18 pieces a twentieth is 0.9, a ninth 2
        ("0.05", ", but only if none of 18 is lost."),
        (str(D(2) / 18), ", but only if fewer than 2 of 18 are lost."),
    ],
)
def test_how_many_pieces_may_be_lost(book: Book, spoils_at: str, said: str) -> None:
    eighteen = pack(
        *("18 ea", "1"),
        pack_in_units_of_now=D(18),
        pack_held=D(18),
        price_measure=PIECES,
        spoils_at=D(spoils_at),
    )
    assert finding([eighteen, pack("6 ea", "2", pack_in_units_of_now=D(6))], book) == (
        f"The 18 ea from Mill is 50.0 % cheaper than the 6 ea from Mill{said}"
    )


def test_of_smaller_packs_the_cheapest_is_what_it_beats(book: Book) -> None:
    large = pack("9 kg", "1", pack_in_units_of_now=D(9), spoils_at=D("0.2"))
    others = [pack("9 l", "2", pack_in_units_of_now=D(9)), pack("1 kg", "4"), pack("3 kg", "3")]
    assert finding([large, *others], book) == (
        "The 9 kg from Mill is 50.0 % cheaper than the 9 l from Mill. It beats the smaller 3 kg "
        "from Mill, as long as less than 20.0 % of it is thrown away."
    )


def test_where_nothing_says_how_much_may_be_lost_no_smaller_pack_is_named(book: Book) -> None:
    large = pack("9 kg", "1", pack_in_units_of_now=D(9))
    assert finding([large, pack("1 kg", "2")], book) == (
        "The 9 kg from Mill is 50.0 % cheaper than the 1 kg from Mill."
    )


@pytest.mark.parametrize(
    ("used", "said"),
    [("0.4", " Of the 2 kg from Mill, only 40.0 % is used before it spoils."), ("1", "")],
)
def test_a_cheaper_pack_of_which_all_is_used_did_not_lose_by_spoiling(
    book: Book, used: str, said: str
) -> None:
    other = pack("2 kg", "2", compared_ready=D("0.5"), order_used=D(used))
    assert finding([pack("1 kg", "1"), other], book) == (
        f"The 1 kg from Mill is 50.0 % cheaper than the 2 kg from Mill.{said}"
    )
