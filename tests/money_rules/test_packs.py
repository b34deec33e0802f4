"""Packaging, overheads and selling: each sum stands beside its figure."""

from __future__ import annotations

from tests.helpers import product_of
from tests.money_rules.wraps import STALL, answer, costs, said
from tests.tables import close

# Packaging

PACKED = """
Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 1000      | g    | 2.00
2026-11-01 | Film  | 100       | m    | 4.80
2026-11-01 | Bag   | 100       | ct   | 6.00
2026-11-01 | Box   | 10        | ct   | 12.00
2026-11-01 | Label | 200       | ct   | 8.00

Batches
Recipe | Makes | Unit | Rejects
Wrap   | 12    | ea   | 2

Products
Product | Recipe | Units per pack | Not sold %
Single  | Wrap   | 1              | 20
Six     | Wrap   | 6              | 20
"""


def packaging(product: str, rows: str) -> float:
    found = answer(PACKED, f"Packaging\nProduct | Uses | Amount | Unit | Per | Spare %\n{rows}")
    cost: float = product_of(found, product)["cost"]["packaging"]
    return cost


def test_packaging_per_unit_is_used_by_every_unit_started() -> None:
    # 12 x 0.25 m x 0.048 = 0.144; sold 8: 0.018 each, 0.108 for six
    rows = "Single | Film | 25 | cm | unit |\nSix | Film | 25 | cm | unit |"
    close(packaging("Single", rows), "0.018")
    close(packaging("Six", rows), "0.108")


def test_packaging_per_pack_is_used_by_every_pack_made() -> None:
    # 10 / 6 packs made, 8 / 6 sold: 0.06 x 10 / 8 = 0.075
    close(packaging("Six", "Six | Bag | 1 | ea | pack |"), "0.075")


def test_packaging_per_batch_is_used_once() -> None:
    # 1.20 a batch over 8 sold = 0.15; over 8 / 6 packs sold = 0.90
    rows = "Single | Box | 1 | ea | batch |\nSix | Box | 1 | ea | batch |"
    close(packaging("Single", rows), "0.15")
    close(packaging("Six", rows), "0.90")


def test_spare_is_added() -> None:
    # 0.018 x 1.25
    close(packaging("Single", "Single | Film | 25 | cm | unit | 25"), "0.0225")


def test_lines_for_all_come_on_top_of_a_products_own() -> None:
    # bag 0.06 + label 0.04, each x 10 / 8
    rows = "Single | Bag | 1 | ea | pack |\nall | Label | 1 | ea | pack |"
    close(packaging("Single", rows), "0.125")
    close(packaging("Six", rows), "0.05")


# Overheads


def test_the_years_costs_are_spread_over_its_batches() -> None:
    # (600 + 12 x 50 x 0.40) / 70 = 12.00, + 1.20 a batch x 0.50 = 12.60, a twelfth is 1.05
    found = costs(
        """
        Settings
        Setting          | Value
        Currency         | USD
        Batches per year | 70

        Overheads
        Cost      | Amount | Per   | Share %
        Insurance | 600    | year  |
        Phone     | 50     | month | 40
        Cleaning  | 1.20   | batch | 50
        """
    )
    close(found["overhead"], "1.05")


def test_years_costs_without_batches_a_year_are_asked() -> None:
    found = answer("Overheads\nCost | Amount | Per\nInsurance | 600 | year")
    wrap = product_of(found, "Single")
    assert wrap["cost"]["overhead"] is None
    assert wrap["cost"]["total"] is None
    close(wrap["cost"]["known"], "0.10")
    assert any("atches per year" in problem["what"] for problem in found["problems"])


# Selling


def test_a_stalls_day_is_carried_by_the_units_it_sells() -> None:
    # 35 + 20 x 0.70 + 3 + 8 x 0.50 + 6 x 12 x 1.25 = 146 over 100 units
    close(costs(STALL, outlet="Market")["selling"], "1.46")
    close(costs(STALL, outlet="Market")["total"], "1.56")


def test_market_days_belong_to_stalls() -> None:
    # 10 x 0.70 over 50 units
    close(costs(STALL, outlet="Cafe")["selling"], "0.14")


def test_a_six_pack_carries_six_units_of_selling_and_of_fixed_card_fees() -> None:
    found = answer(
        STALL,
        "Products\nProduct | Recipe | Units per pack\nSix | Wrap | 6",
        """
        Outlets
        Outlet | Fee per day | Hours per day | Units sold per day | Card share % | Card fixed fee | Units per sale
        Market | 31          | 0             | 50                 | 80           | 0.30           | 3
        """,  # noqa: E501  # a wide sheet
    )
    # day (31 + 8 x 0.50) / 50 = 0.70; card 0.80 x 0.30 / 3 = 0.08; six units: 4.68
    close(product_of(found, "Six")["cost"]["selling"], "4.68")


def test_a_blank_units_per_sale_is_one_and_said() -> None:
    found = answer("""
        Outlets
        Outlet | Fee per day | Hours per day | Units sold per day | Card share % | Card fixed fee | Units per sale
        Market | 50          | 0             | 50                 | 50           | 0.30           |
    """)  # noqa: E501  # a wide sheet
    close(product_of(found, "Single")["cost"]["selling"], "1.15")  # 1.00 + 0.50 x 0.30
    assert said(found, "Outlets", "G2")
