"""What must be so for any buy list, over many wants, stocks and shelf lives.

Of a purchase, what the need costs is held, not what is paid at the till: with more on hand a large
pack may become the cheaper way to fill the rest, though more is paid for it at once.
"""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from costbook.costing.engine import Costing
from costbook.deciding.buy_list import BuyList, buy_list
from tests.deciding.asking import read
from tests.deciding.test_buying_for_a_plan import text
from tests.tables import sheets

NOISE = Decimal("0.000001")
WANTED = st.integers(0, 200)
KEEPS = st.sampled_from(["", 1, 3, 8, 20, 90])
STOCK = st.integers(0, 6000)


def listed(
    singles: int, sixes: int, keeps: object = "", stock: int = 0, par: object = ""
) -> tuple[Costing, BuyList]:
    drawn = text(singles=singles, sixes=sixes, keeps=keeps, par=par)
    costing = read(sheets(drawn.replace("Flour | 500 | g | |", f"Flour | {stock} | g | {keeps} |")))
    return costing, buy_list(costing, 2)


def costs(found: BuyList) -> dict[str, Decimal]:
    """By item what the need costs."""
    return {item.item: item.plan.cost for item in found.items if item.plan}


def to_buy(found: BuyList) -> dict[str, Decimal]:
    return {item.item: item.to_buy or Decimal(0) for item in found.items}


@settings(max_examples=20, deadline=None, derandomize=True)
@given(WANTED, WANTED, KEEPS, STOCK)
def test_doubling_what_is_wanted_never_lowers_what_is_bought(
    singles: int, sixes: int, keeps: object, stock: int
) -> None:
    once = listed(singles, sixes, keeps, stock)[1]
    twice = listed(2 * singles, 2 * sixes, keeps, stock)[1]
    for item, amount in to_buy(once).items():
        assert to_buy(twice)[item] >= amount
    for item, cost in costs(once).items():
        assert costs(twice)[item] >= cost - NOISE


@settings(max_examples=20, deadline=None, derandomize=True)
@given(WANTED, WANTED, KEEPS, STOCK, STOCK)
def test_more_on_hand_never_raises_what_the_rest_costs(
    singles: int, sixes: int, keeps: object, stock: int, more: int
) -> None:
    less, with_more = (listed(singles, sixes, keeps, stock + by)[1] for by in (0, more))
    for item, cost in costs(with_more).items():
        assert costs(less)[item] >= cost - NOISE


@settings(max_examples=30, deadline=None, derandomize=True)
@given(WANTED, WANTED, KEEPS, STOCK, st.sampled_from(["", 0, 1, 7]))
def test_what_is_bought_and_on_hand_covers_what_is_to_be_there(
    singles: int, sixes: int, keeps: object, stock: int, par: object
) -> None:
    costing, found = listed(singles, sixes, keeps, stock, par)
    wanted = {str(row["item"]): row["to_be_there"] for row in costing.figures["to_buy"]}
    for item in found.items:
        assert item.on_hand is not None
        there = wanted[item.item]
        assert isinstance(there, Decimal)
        held = sum(
            (
                each.count * (each.pack.number("pack_in_units_of_now") or Decimal(0))
                for each in item.bought
            ),
            Decimal(0),
        )
        assert held + item.on_hand >= there - NOISE
        if item.plan:
            assert abs(held - (item.to_buy or 0) - item.plan.left_over) < NOISE
    assert found.total == sum((each.cash for s in found.shops for each in s.bought), Decimal(0))


@settings(max_examples=10, deadline=None, derandomize=True)
@given(KEEPS, STOCK)
def test_nothing_wanted_nothing_to_buy(keeps: object, stock: int) -> None:
    _, found = listed(0, 0, keeps, stock)
    assert not found.items
    assert not found.shops
    assert found.total == 0
