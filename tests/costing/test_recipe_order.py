"""In which order recipes are costed, and which use is cut where they go round in a circle."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from costbook.costing.recipe_order import in_order
from tests.costing.costed import costed, figures


def test_each_comes_after_those_it_uses() -> None:
    order, cut = in_order(
        {"pie": ["crust", "filling"], "crust": ["dough"], "filling": [], "dough": []}
    )
    assert order.index("dough") < order.index("crust") < order.index("pie")
    assert order.index("filling") < order.index("pie")
    assert cut == {}


CIRCLES = {
    "itself": {"a": ["a"]},
    "two": {"a": ["b"], "b": ["a"]},
    "three": {"a": ["b"], "b": ["c"], "c": ["a"]},
    "two circles": {"a": ["b"], "b": ["a", "c"], "c": ["c"]},
}


def test_a_circle_is_cut_once_and_told_as_it_goes_round() -> None:
    found = {name: in_order(uses)[1] for name, uses in CIRCLES.items()}
    assert {name: len(cut) for name, cut in found.items()} == {
        "itself": 1, "two": 1, "three": 1, "two circles": 2,
    }  # fmt: skip
    assert found["itself"] == {("a", "a"): ("a", "a")}
    (((user, used), circle),) = found["three"].items()
    assert (circle[0], circle[-1], len(circle)) == (used, used, 4)
    assert used in CIRCLES["three"][user]


names = st.integers(0, 7).map(str)


@given(st.dictionaries(names, st.lists(names, max_size=4), max_size=8))
def test_whatever_uses_whatever_there_is_an_order_once_circles_are_cut(
    uses: dict[str, list[str]],
) -> None:
    order, cut = in_order(uses)
    at = {name: place for place, name in enumerate(order)}
    assert len(at) == len(order)
    for user, all_used in uses.items():
        for used in all_used:
            assert at[used] < at[user] or (user, used) in cut


LOOP = """
Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 600    | g
Wrap   | Sauce | 100    | g
Sauce  | Wrap  | 1      | ea
Plain  | Flour | 600    | g

Batches
Recipe | Makes | Unit
Wrap   | 12    | ea
Sauce  | 1     | kg
Plain  | 12    | ea

Products
Product | Recipe | Units per pack
Single  | Wrap   | 1
Other   | Plain  | 1
"""


def test_a_circle_has_no_cost_and_costs_nothing_else() -> None:
    costing = costed(LOOP)
    assert figures(costing, "products", "made")["Single"] is None
    assert figures(costing, "products", "made")["Other"] == Decimal("0.1")  # 1.20 over twelve
    assert costing.structure.loops in ([("Sauce", "Wrap", "Sauce")], [("Wrap", "Sauce", "Wrap")])
