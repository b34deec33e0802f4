"""What to buy for a need, in the words a cook reads; the sums are worked by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from costbook.deciding.compared_item import ComparedItem
from costbook.deciding.packs import compared
from costbook.deciding.plan import Need, spent_at
from tests.deciding.asking import costed

SOUP = """
Purchases
Date       | Item | Supplier | Pack size | Unit | Price per pack
{}

Recipes
Recipe | Uses | Amount | Unit
Soup   | Peas | 4      | kg

Batches
Recipe | Makes | Unit
Soup   | 40    | ea

Products
Product | Recipe | Units per pack
Bowl    | Soup   | 1

Settings
Setting          | Value
Batches per year | 26

Items
Item | Keeps days
Peas | {}
"""


LEAST = """
Suppliers
Supplier | Least order
Dock     | 500
Pier     | 100
"""


def words(*receipts: str, keeps: str = "2") -> str:
    """A batch of 4 kg every two weeks, bought for four weeks."""
    (item,) = compared(costed(SOUP.format("\n".join(receipts), keeps)), Decimal(4))
    return item.plan_in_words(2)


DOCK, PIER = "2026-11-19 | Peas | Dock | 3 | kg | 66", "2026-11-20 | Peas | Pier | 1 | kg | 25"


def test_packs_that_are_mixed_are_named_one_by_one() -> None:
    """66.00 + 25.00 for 4 kg; as usual, in the pack bought last, 4 x 25.00."""
    assert words(DOCK, PIER) == (
        "For a batch: 1 × (1 kg from Pier) and 1 × (3 kg from Dock) for 91.00 in cash, nothing "
        "left over; what is used costs 91.00, as usual 100.00."
    )


OFFERS = """
Offers
Item | Supplier | Pack size | Unit | Price per pack | Delivery | Least packs
Peas | Web      | {}
"""


@pytest.mark.parametrize(
    ("offer", "keeps", "bought"),
    [
        # one of 4 kg and its delivery: 80.00 + 6.00; as usual two of 3 kg
        ("4 | kg | 80 | 6 |", "2", "1 × (4 kg from Web) for 86.00 in cash, nothing left over"),
        # three of 2 kg at least: 60.00 + 6.00
        ("2|kg|20|6|3", "2", "3 × (2 kg from Web) for 66.00 in cash, 2 kg left over that spoils"),
        # two and a half at least are three
        (
            "2|kg|20|6|2.5",
            "2",
            "3 × (2 kg from Web) for 66.00 in cash, 2 kg left over that spoils",
        ),
        # how many at least can't be read, so what they cost is not known: two of 3 kg
        (
            "4|kg|80||a few",
            "2",
            "2 × (3 kg from Dock) for 132.00 in cash, 2 kg left over that spoils",
        ),
        # 8 kg for four weeks, in one order: 80.00 + 6.00
        ("2 | kg | 20 | 6 |", "42", "4 × (2 kg from Web) for 86.00 in cash, nothing left over"),
        # what isn't ordered isn't delivered
        (
            "4|kg|200|6|",
            "2",
            "2 × (3 kg from Dock) for 132.00 in cash, 2 kg left over that spoils",
        ),
    ],
)
def test_delivery_is_in_the_cash_of_what_is_ordered(offer: str, keeps: str, bought: str) -> None:
    book = SOUP.format(DOCK, keeps) + OFFERS.format(offer)
    (item,) = compared(costed(book), Decimal(4))
    cash = bought.partition(" for ")[2].partition(" ")[0]  # none of it is left for later
    # as usual two of 3 kg; of what keeps, 8 of 3 x 3 kg
    days, usual = ("28 days", "176.00") if keeps == "42" else ("a batch", "132.00")
    assert item.plan_in_words(2) == (
        f"For {days}: {bought}; what is used costs {cash}, as usual {usual}."
    )


def test_in_a_mix_what_is_not_ordered_is_not_delivered() -> None:
    book = SOUP.format(f"{DOCK}\n{PIER}", "2") + OFFERS.format("4 | kg | 200 | 6 |")
    (item,) = compared(costed(book), Decimal(4))
    assert item.plan is not None
    assert (item.plan.cash, item.plan.cost) == (Decimal(91), Decimal(91))


def test_what_is_not_planned_lays_nothing_out() -> None:
    """Four of 1 kg are 100.00."""
    (item,) = compared(costed(SOUP.format(PIER, "2")), Decimal(4))
    key = item.packs[0].supplier_key
    laid_out = [spent_at(key, item.packs, plan) for plan in (item.plan, None)]
    assert laid_out == [Decimal(100), Decimal(0)]


def test_where_no_cost_is_usual_none_is_said() -> None:
    (item,) = compared(costed(SOUP.format(PIER, "2")), Decimal(4))
    assert item.plan_in_words(2).endswith("; what is used costs 100.00, as usual 100.00.")
    assert replace(item, usual_cost=None).plan_in_words(2).endswith("; what is used costs 100.00.")


def test_each_supplier_of_a_mix_who_takes_no_small_order_is_said() -> None:
    (item,) = compared(costed(SOUP.format(f"{DOCK}\n{PIER}", "2") + LEAST), Decimal(4))
    assert item.in_words.endswith(
        " Dock takes no order below 500.00, and what is to be bought there comes to 66.00. Pier "
        "takes no order below 100.00, and what is to be bought there comes to 25.00. Order more "
        "there."
    )


def test_what_was_not_proved_the_cheapest_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a step to search in, nothing but the pack that is cheapest by content is known."""
    monkeypatch.setattr("costbook.deciding.mix.MOST_STEPS", 0)
    kilos = "2026-11-20 | Peas | Pier | 2 | kg | 40"
    assert words(kilos) == (
        "For a batch: 2 × (2 kg from Pier) for 80.00 in cash (the best found; there are too many "
        "mixes to try them all), nothing left over; what is used costs 80.00, as usual 80.00."
    )


@pytest.mark.parametrize(
    ("keeps", "left"),
    [
        ("2", "2 kg left over that spoils; what is used costs 90.00, as usual 90.00."),
        # 28 days' 8 kg of 12, all used by the 42nd day
        ("42", "4 kg left over; what is used costs 120.00, as usual 120.00."),
    ],
)
def test_what_is_left_over_keeps_or_spoils(keeps: str, left: str) -> None:
    assert (
        words("2026-11-20 | Peas | Pier | 6 | kg | 90", keeps=keeps).partition("cash, ")[2] == left
    )


def test_of_what_is_left_over_a_part_may_spoil() -> None:
    """Batches of today and of the 14th day take 8 of 10 kg before the 20th: 2 spoil, and a kilo is
    90.00 / 8. Of 2 kg a week those 20 days take 5.714: 64.29.
    """
    assert words("2026-11-20 | Peas | Pier | 10 | kg | 90", keeps="20") == (
        "For 20 days: 1 × (10 kg from Pier) for 90.00 in cash, 4.29 kg left over, of which 2 kg "
        "spoils; what is used costs 64.29, as usual 64.29."
    )


@pytest.mark.parametrize("need", [None, Need(Decimal(4000), Decimal(14), Decimal(1))])
def test_without_a_plan_nothing_is_said_of_it(need: Need | None) -> None:
    assert ComparedItem("Peas", "peas", "g", "kg", (), "", need, None, None).plan_in_words(2) == ""
