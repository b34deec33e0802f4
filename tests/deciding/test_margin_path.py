"""Each product's margin over some months: what is known of them, and the one thing to know."""

from __future__ import annotations

from decimal import Decimal

from costbook.deciding.margin_path import MarginPath, MonthMargin, ProductPath

D = Decimal


def path(product: str, outlet: str, **margins: str | None) -> ProductPath:
    months = (
        MonthMargin(month, D(1), D(2), None if margin is None else D(margin))
        for month, margin in margins.items()
    )
    return ProductPath(product, outlet, tuple(months))


MARKET = path("Roll", "Market", May="0.4", June=None, July="0.125")
CAFE = path("Roll", "Cafe", May="0.1", June="0.1", July="0.1")
ALONE = path("Bun", "", May="0.3", June="0.3", July="0.3")


def test_the_lowest_margin_is_that_of_a_month_at_a_products_first_outlet() -> None:
    """An eighth is 12.5 %, shown as 13: halves up, as the sheets show them."""
    found = MarginPath("Eggs", (MARKET, CAFE, ALONE))
    assert found.at_first_outlet == (MARKET, ALONE)
    assert found.message == "Eggs: the lowest margin is 13%, for Roll, Market in July"
    assert MarginPath("Eggs", (ALONE,)).message == "Eggs: the lowest margin is 30%, for Bun in July"


def test_where_no_margin_is_known_that_is_said() -> None:
    unknown = MarginPath("Eggs", (path("Roll", "", May=None),))
    assert unknown.message == "Eggs: no margin is known in these months"


def test_a_path_as_data() -> None:
    month = {"month": "May", "price": D(1), "cost": D(2), "margin": D("0.3")}
    (bun,) = MarginPath("Eggs", (path("Bun", "", May="0.3"),)).as_data()["products"]
    assert bun == {"product": "Bun", "outlet": None, "months": [month]}
    assert MarginPath("Eggs", (MARKET,)).as_data()["products"][0]["outlet"] == "Market"
