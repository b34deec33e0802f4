"""Which purchase counts and what it makes of a price: each sum stands beside its figure."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest

from costbook.definitions.units import SPELLINGS
from tests.helpers import make_book, run
from tests.money_rules.wraps import WRAPS, answer, flour, said
from tests.tables import close, row_of, sheets


def test_packs_counts_and_other_costs_make_one_price() -> None:
    # (2 x 9.00 + 1.20 delivery) / (2 x 6 x 500 g) = 19.20 / 6,000
    bought = flour("""
        Date       | Item  | Packs | Pack count | Pack size | Unit | Price per pack | Other cost
        2026-11-01 | Flour | 2     | 6          | 500       | g    | 9.00           | 1.20
    """)
    close(bought["price_per_base_unit"], "0.0032")
    assert bought["base_unit"] == "g"


def test_the_latest_purchase_counts_and_before_is_the_one_before() -> None:
    bought = flour("""
        Date       | Item  | Supplier | Pack size | Unit | Price per pack
        2026-11-10 | Flour | Mill     | 1         | kg   | 3.00
        2026-10-01 | Flour | Mill     | 1         | kg   | 2.00
        2026-11-05 | Flour | Barn     | 1         | kg   | 2.40
    """)
    close(bought["price_per_base_unit"], "0.003")
    close(bought["change"], "0.25")  # 3.00 / 2.40 - 1
    assert (bought["date"], bought["supplier"]) == ("2026-11-10", "Mill")


def test_of_two_purchases_on_one_date_the_lower_row_counts() -> None:
    # Before is the day before, so the upper row of the same date is not it.
    bought = flour("""
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 1         | kg   | 2.00
        2026-11-10 | Flour | 1         | kg   | 9.00
        2026-11-10 | Flour | 1         | kg   | 3.00
    """)
    close(bought["price_per_base_unit"], "0.003")
    close(bought["change"], "0.5")  # 3.00 / 2.00 - 1


def test_a_purchase_after_the_costing_date_is_not_yet() -> None:
    purchases = """
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 1         | kg   | 2.00
        2026-11-20 | Flour | 1         | kg   | 5.00
    """
    close(flour(purchases, on="2026-11-19")["price_per_base_unit"], "0.002")
    close(flour(purchases, on="2026-11-20")["price_per_base_unit"], "0.005")


def test_the_settings_name_the_costing_date(tmp_path: Path) -> None:
    dated = """
        Settings
        Setting      | Value
        Currency     | USD
        Costing date | 2026-11-19
        Target margin % | 40

        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 1         | kg   | 2.00
        2026-11-20 | Flour | 1         | kg   | 5.00
        """
    book = make_book(tmp_path / "stall.xlsx", sheets(WRAPS, dated))
    code, out, _ = run("cost", book, "--json", "--output", tmp_path / "costed.xlsx")
    found = json.loads(out)
    assert (code, found["costed_on"]) == (0, "2026-11-19")
    close(row_of(found, "item", "Flour")["price_per_base_unit"], "0.002")


def test_only_the_usual_supplier_sets_the_price() -> None:
    purchases = """
        Date       | Item  | Supplier | Pack size | Unit | Price per pack
        2026-10-01 | Flour | Mill     | 1         | kg   | 1.00
        2026-11-01 | Flour | Mill     | 1         | kg   | 2.00
        2026-11-10 | Flour | Barn     | 1         | kg   | 9.00
    """
    bought = flour(purchases, "Items\nItem | Usual supplier\nFlour | Mill")
    close(bought["price_per_base_unit"], "0.002")
    close(bought["change"], "1")  # 2.00 / 1.00 - 1: before is from the usual supplier too
    assert bought["supplier"] == "Mill"


def test_another_supplier_serves_where_the_usual_one_has_none_and_is_said() -> None:
    purchases = """
        Purchases
        Date       | Item  | Supplier | Pack size | Unit | Price per pack
        2026-11-10 | Flour | Barn     | 1         | kg   | 9.00
        2026-12-10 | Flour | Mill     | 1         | kg   | 2.00
    """
    found = answer(purchases, "Items\nItem | Usual supplier\nFlour | Mill")
    bought = row_of(found, "item", "Flour")
    close(bought["price_per_base_unit"], "0.009")  # the Mill's is after the costing date
    assert bought["supplier"] == "Barn"
    assert any("Mill" in problem["what"] for problem in found["problems"])


def test_a_return_never_sets_a_price() -> None:
    bought = flour("""
        Date       | Item  | Packs | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 3     | 1         | kg   | 2.00
        2026-11-10 | Flour | -1    | 1         | kg   | 2.50
    """)
    close(bought["price_per_base_unit"], "0.002")
    assert bought["date"] == "2026-11-01"


def test_a_discount_row_lowers_the_row_of_its_item_supplier_and_date() -> None:
    # (2 x 3.00 - 1.50) / 2 kg = 2.25 a kilogram; the Barn's discount is another receipt's
    bought = flour("""
        Date       | Item  | Supplier | Packs | Pack size | Unit | Price per pack
        2026-11-10 | Flour | Mill     | 2     | 1         | kg   | 3.00
        2026-11-10 | Flour | Mill     |       |           |      | -1.50
        2026-11-10 | Flour | Barn     |       |           |      | -0.70
        2026-11-09 | Flour | Mill     |       |           |      | -0.60
    """)
    close(bought["price_per_base_unit"], "0.00225")


@pytest.mark.parametrize(("packs", "size"), [(-1, "1 case"), (-1, ""), ("", "1 case")])
def test_a_return_whose_size_cannot_be_read_is_no_discount(packs: object, size: str) -> None:
    # 2 x 5.40 for 36 eggs are 0.30 each, with one carton sent back or not
    price = "5.40" if packs else "-5.40"
    found = answer(f"""
        Purchases
        Date       | Item  | Supplier | Packs   | Pack size | Unit | Price per pack
        2026-11-10 | Flour | Mill     | 2       | 18        | g    | 5.40
        2026-11-10 | Flour | Mill     | {packs} | {size}    |      | {price}
    """)
    close(row_of(found, "item", "Flour")["price_per_base_unit"], "0.30")
    taken = "this was taken for a return, which sets no price. Take the minus away, if it was a "
    asked = '"1 case" does not say what is in it. Write how many or how much one holds, as 24 ea '
    assert said(found, "Purchases", "D3") == ([f"{taken}purchase."] if packs else [])
    assert said(found, "Purchases", "E3") == ([f"{asked}or 6 x 500 g."] if size else [])


def test_a_price_of_zero_is_no_price() -> None:
    bought = flour("""
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 1         | kg   | 2.00
        2026-11-10 | Flour | 1         | kg   | 0
    """)
    close(bought["price_per_base_unit"], "0.002")


def test_a_price_without_a_size_is_left_out_and_said() -> None:
    found = answer("""
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 1         | kg   | 2.00
        2026-11-10 | Flour |           |      | 3.00
    """)
    close(row_of(found, "item", "Flour")["price_per_base_unit"], "0.002")
    assert any(problem["cell"][1:] == "3" for problem in found["problems"])


def test_however_a_unit_is_spelled_a_pack_of_one_holds_one_of_it() -> None:
    """Each spelling of units.txt, bought at 1.00: a base unit costs 1.00 by what the unit holds."""
    bought = "\n".join(
        f"2026-11-01 | Item {at} | 1 | {spelling} | 1.00" for at, spelling in enumerate(SPELLINGS)
    )
    head = "Date | Item | Pack size | Unit | Price per pack"
    found = answer(f"Purchases\n{head}\n{bought}")
    for at, unit in enumerate(SPELLINGS.values()):
        price = row_of(found, "item", f"Item {at}")["price_per_base_unit"]
        close(price, 1 / Fraction(unit.factor))
