"""Fees and tax that nobody gave a share or a rate of: asked, never nothing."""

from __future__ import annotations

from typing import Any

import pytest

from tests.helpers import product_of
from tests.money_rules.wraps import answer, said
from tests.tables import close

# A wrap of 2.10 (12,600 g of flour a batch), 30 % to be left of its price.
DEAR = "Recipes\nRecipe|Uses|Amount|Unit\nWrap|Flour|12600|g"
SETTINGS = "Settings\nSetting | Value\nCurrency | USD\nTarget margin % | 30"
HEAD = (
    "Outlets\nOutlet | Kind | Commission % | Card share % | Card fee % | Card fixed fee | "
    "Units per sale | Hours per day\n"
)


def at_shop(outlet: str, more: str = "") -> tuple[dict[str, Any], dict[str, Any]]:
    """The answer, and the wrap at its one outlet, which takes no hours."""
    row = " | ".join(["Shop", *(outlet.split("|") + [""] * 6)[:6], "0"])
    found = answer(f"{SETTINGS}\n{more}", DEAR, f"{HEAD}{row}")
    return found, product_of(found, "Single", "Shop")


@pytest.mark.parametrize(
    ("outlet", "charged"),
    [
        ("| | 80 | 2.5 | |", 2.10 / (0.70 - 0.80 * 0.025)),
        ("| | 0 | 2.5 | |", 3.00),
        ("| | | 0 | 0 |", 3.00),
        ("| | | | |", 3.00),
        ("| | | 2.5 | |", None),
    ],
)
def test_a_card_fee_without_a_card_share_leaves_the_price_open(
    outlet: str, charged: float | None
) -> None:
    found, wrap = at_shop(outlet)
    close(wrap["cost"]["total"], "2.10")  # a percentage is in no cost
    ask = (
        "there is a card fee, and what share of sales is paid by card is not known. "
        "Fill in Card share %; 0 if nobody pays by card."
    )
    assert said(found, "Outlets", "D2") == ([ask] if charged is None else [])
    if charged is not None:
        close(wrap["price"]["at_target_margin"], charged)
        return
    assert wrap["price"]["at_target_margin"] is None
    assert wrap["complete"] is False
    assert wrap["missing"] == ["fees (commission, card share)"]


def test_a_fixed_card_fee_without_a_card_share_leaves_the_selling_open() -> None:
    found, wrap = at_shop("| | | | 0.30 | 2")
    assert (wrap["cost"]["selling"], wrap["cost"]["total"]) == (None, None)
    close(wrap["cost"]["known"], "2.10")
    assert wrap["missing"] == ["selling (hours, pay, units sold per day, card share)"]
    assert len(said(found, "Outlets", "D2")) == 1
    close(at_shop("| | 50 | | 0.30 | 2")[1]["cost"]["selling"], "0.075")  # half of 0.30 over 2


@pytest.mark.parametrize(
    ("outlet", "charged"),
    [
        ("commission | 20 | | | |", 4.20),  # 2.10 / 0.50
        ("commission | 0 | | | |", 3.00),
        ("stall | | | | |", 3.00),
        ("wholesale | | | | |", 3.00),
        ("commission | | | | |", None),
    ],
)
def test_a_commission_that_nobody_typed_leaves_the_price_open(
    outlet: str, charged: float | None
) -> None:
    found, wrap = at_shop(outlet)
    ask = (
        "the outlet takes a commission, and how much is not known. "
        "Fill in Commission %; 0 if it takes none."
    )
    assert said(found, "Outlets", "C2") == ([ask] if charged is None else [])
    if charged is None:
        assert wrap["price"]["at_target_margin"] is None
        assert wrap["missing"] == ["fees (commission, card share)"]
    else:
        close(wrap["price"]["at_target_margin"], charged)


@pytest.mark.parametrize(
    ("tax", "charged"),
    [
        ("Sales tax % | 10\nPrices include sales tax | yes", 3.30),
        ("Sales tax % | 0\nPrices include sales tax | yes", 3.00),
        ("Sales tax % |\nPrices include sales tax | no", 3.00),
        ("Sales tax % |\nPrices include sales tax | yes", None),
    ],
)
def test_tax_in_the_prices_at_no_rate_leaves_the_price_open(
    tax: str, charged: float | None
) -> None:
    found, wrap = at_shop("stall | | | | |", tax)
    ask = (
        "prices include sales tax, and its rate is not known. "
        "Fill in Sales tax % on Settings; 0 if there is none."
    )
    assert said(found, "Settings", "B4") == ([ask] if charged is None else [])
    if charged is None:
        assert wrap["price"]["at_target_margin"] is None
        assert wrap["missing"] == ["sales tax", "fees (commission, card share)"]
    else:
        close(wrap["price"]["at_target_margin"], charged)


def test_tax_at_no_rate_is_asked_at_its_question_where_there_is_no_row_for_the_rate() -> None:
    found, _ = at_shop("stall | | | | |", "Prices include sales tax | yes")
    assert len(said(found, "Settings", "B4")) == 1


def test_a_cafes_price_bears_no_tax_so_it_needs_no_rate() -> None:
    _, wrap = at_shop("wholesale | | | | |", "Prices include sales tax | yes")
    close(wrap["price"]["at_target_margin"], "3.00")


def test_sales_by_card_without_any_card_fee_are_said() -> None:
    doubt = (
        "people pay by card here, and no card fee is given, so cards cost nothing. "
        "Fill in Card fee %; 0 if there is none."
    )
    assert said(at_shop("| | 50 | | |")[0], "Outlets", "E2") == [doubt]
    assert said(at_shop("| | 50 | 0 | |")[0], "Outlets", "E2") == []
    assert said(at_shop("| | 50 | | 0.1 | 2")[0], "Outlets", "E2") == []
    assert said(at_shop("| | 0 | | |")[0], "Outlets", "E2") == []


def test_who_sells_on_takes_a_margin_of_what_is_without_tax() -> None:
    """2.10 / 0.50 = 4.20, + 10 % 4.62; of 4.20 they keep 40 %: 7.00, with tax 7.70."""
    inside = "Sales tax % | 10\nPrices include sales tax | yes"
    for kind, commission, shelf in (("commission", 20, 7), ("stall", "", 5), ("wholesale", "", 5)):
        head = "Outlet|Kind|Commission %|Their margin %|Hours per day"
        outlets = f"Outlets\n{head}\nShop|{kind}|{commission}|40|0"
        wrap = product_of(answer(f"{SETTINGS}\n{inside}", DEAR, outlets), "Single", "Shop")
        close(wrap["shelf_price"], shelf)
        close(wrap["shelf_price_with_tax"], shelf * 1.1)


def test_a_card_share_that_cannot_be_read_is_asked_once() -> None:
    found, wrap = at_shop("| | most | 2.5 | |")
    assert wrap["price"]["on_step"] is None
    (asked,) = said(found, "Outlets", "D2")
    assert "there is a card fee" not in asked
