"""Which inputs move profit most: each is what costing again gives."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.sensitivity import most_moving
from costbook.deciding.trial import TRIAL_SETTINGS, Trial, tried
from tests.deciding.asking import ON, STALL, answered, asked, item_keys, number
from tests.deciding.test_moved import ROLLS
from tests.tables import close


def test_a_tenth_worked_by_hand() -> None:
    """A roll takes flour for 0.125, eggs for 0.525, film for 0.1875; nothing else costs it."""
    answer = answered("try", ROLLS, "--sensitivity")
    expected = [("Eggs", "0.0525"), ("Film", "0.01875"), ("Flour", "0.0125")]
    found = answer["sensitivity"]
    assert [each["input"] for each in found] == [f"Price of {item}" for item, _ in expected]
    for each, (_, part) in zip(found, expected, strict=True):
        close(each["tenth_less"], part)
        close(each["tenth_more"], f"-{part}")


def test_where_no_products_profit_is_known_nothing_is_known_to_move_it() -> None:
    """The roll takes an item that was never bought, so that its cost is not known."""
    unbought = ROLLS.replace("Roll   | Eggs ", "Roll   | Duck eggs ")
    unbought = unbought.replace("Price step      | 0.25", "Pay per hour    | 15")
    assert answered("try", unbought, "--sensitivity")["sensitivity"] == []


def test_the_largest_come_first_and_no_more_than_twelve(stall: Costing) -> None:
    answer = asked("try", STALL, "--on", ON, "--sensitivity")["sensitivity"]
    reaches = [max(abs(each["tenth_less"]), abs(each["tenth_more"])) for each in answer]
    assert reaches == sorted(reaches, reverse=True)
    assert len(answer) == 12
    assert all(set(each) == {"input", "tenth_less", "tenth_more"} for each in answer)
    names = [moved.name for moved in most_moving(stall, 100)]
    assert [each["input"] for each in answer] == names[:12]
    # what says what to charge moves nothing at today's prices
    assert "Target margin %" not in names
    assert "Price step" not in names


def profit(costing: Costing, before: Costing) -> Decimal:
    """Of one pack of every product at its first outlet, at the prices quoted before."""
    total = Decimal(0)
    for row in first_rows(before):
        now, then = costing.of(row), before.of(row)
        quoted = then["price_now"] if then["price_now"] is not None else then["price_on_step"]
        price = number(quoted) / (1 + number(now["tax_in_price"]))
        total += price * (1 - number(now["fee_share"])) - number(now["total"])
    return total


def first_rows(costing: Costing) -> list[Row]:
    first = costing.structure.rows["outlets"][0]
    return [row for row in costing.structure.rows["prices"] if row.links["outlets"] is first]


@pytest.mark.parametrize("item", ["Leeks", "Eggs, large", "Film", "Onions", "Wraps, 10 inch"])
def test_an_items_tenth_is_what_costing_again_gives(stall: Costing, item: str) -> None:
    name = {"Onions": "Red onions"}.get(item, item)
    key = item_keys(stall)[name]
    (row,) = (r for r in stall.structure.rows["prices_now"] if r.fixed["item_key"] == key)
    (found,) = (each for each in most_moving(stall, 100) if each.name == f"Price of {name}")
    pack, today = number(stall.of(row)["price_per_pack"]), profit(stall, stall)
    for factor, change in (("0.9", found.down), ("1.1", found.up)):
        again = tried(stall, Trial({key: pack * Decimal(factor)}, {}))
        assert profit(again, stall) - today == pytest.approx(change, abs=Decimal("1e-20"))


SETTINGS = [field for field in TRIAL_SETTINGS if field.name not in ("target_margin", "price_step")]


@pytest.mark.parametrize("field", SETTINGS, ids=lambda field: field.name)
def test_a_settings_tenth_is_what_costing_again_gives(stall: Costing, field: object) -> None:
    """Sales tax too: what is quoted stays, so more of it is tax."""
    name, title = field.name, field.title  # type: ignore[attr-defined]  # a field
    (found,) = (each for each in most_moving(stall, 100) if each.name == title)
    value, today = number(stall.one("settings")[name]), profit(stall, stall)
    for factor, change in (("0.9", found.down), ("1.1", found.up)):
        again = tried(stall, Trial({}, {name: value * Decimal(factor)}))
        assert profit(again, stall) - today == pytest.approx(change, abs=Decimal("1e-8"))
