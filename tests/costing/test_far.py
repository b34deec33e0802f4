"""Results that may hide a slip: used as they stand, each said once with both figures."""

from __future__ import annotations

from pathlib import Path

import pytest

from costbook.costing.findings import find
from tests.costing.costed import costed_sheets
from tests.helpers import make_book, run
from tests.tables import sheets

# 24 rolls of 2 kg of flour at 1.20 and 12 eggs at 0.30: 6.00, so 0.25; an hour at 12.00 is 0.50;
# a bag 0.05; a day of 20.00 over 40 rolls 0.50. 1.30 over 0.60 is 2.1667, so 2.25 is charged.
ROLLS = """
Settings
Setting         | Value
Currency        | USD
Pay per hour    | 12
Target margin % | 40
Price step      | 0.25
No kitchen to pay | yes

Purchases
Date       | Item  | Supplier | Pack size | Unit | Price per pack
2026-11-01 | Flour | Mill     | 10        | kg   | 12.00
2026-11-01 | Eggs  | Farm     | 18        | ct   | 5.40
2026-11-01 | Bags  | Shop     | 100       | ct   | 5.00
{receipt}

Recipes
Recipe | Uses  | Amount | Unit
Roll   | Flour | 2000   | g
Roll   | Eggs  | 12     | ea

Batches
Recipe | Makes | Unit
Roll   | 24    | ea

Stages
Recipe | Stage | Minutes per batch
Roll   | Bake  | 60

Packaging
Product | Uses | Amount | Unit | Per
Roll    | Bags | {bags} | ea   | pack

Overheads
Cost | Amount | Per
None | 0      | batch

Products
Product | Recipe | Units per pack | Current price
Roll    | Roll   | 1              | {now}

Outlets
Outlet | Fee per day | Units sold per day | Hours per day
Market | 20          | {sold}             | 0
"""


def doubts(
    receipt: str = "", bags: object = 1, now: object = "2.25", sold: object = 40
) -> list[str]:
    """What is said of the rolls with a further receipt, or one figure otherwise."""
    text = ROLLS.format(receipt=receipt, bags=bags, now=now, sold=sold).replace("\n\n\n", "\n\n")
    found = find(costed_sheets(sheets(text)))
    return [f"{p.severity.value} {p.place}: {p.what} {p.remedy}" for p in found]


def test_nothing_is_said_of_the_rolls() -> None:
    assert doubts() == []


CHECK = "Check the price, the size and the unit."
SIZE = "Check the size and the unit."


@pytest.mark.parametrize(
    ("receipt", "said"),
    [
        pytest.param(
            "2026-11-10 | Eggs | Farm | 18 | ct | 54.00",
            (
                "doubtful Purchases!F5: the price of Eggs is 3.00 a piece "
                f"here, and was 0.30 in row 3: 10.0 times as much. {CHECK}"
            ),
            id="a point too far",
        ),
        pytest.param(
            "2026-11-10 | Eggs | Farm | 180 | ct | 5.50",
            (
                "doubtful Purchases!D5: a pack of Eggs holds 180 pieces "
                "here, and held 18 pieces in row 3 at nearly the same price: 10.0 times as much. "
                f"{SIZE}"
            ),
            id="a nought too many in the size",
        ),
        pytest.param(
            "2026-11-10 | Eggs | Farm | 6 | ct | 5.40",
            (
                "doubtful Purchases!D5: a pack of Eggs holds 6 pieces "
                f"here, and held 18 pieces in row 3 at nearly the same price: 33 % of that. {SIZE}"
            ),
            id="a third of the size",
        ),
        pytest.param(
            "2026-11-10 | Flour | Mill | 10 | kg | 4.00",
            (
                "doubtful Purchases!F5: the price of Flour is 0.40 a kg "
                f"here, and was 1.20 in row 2: 33 % of that. {CHECK}"
            ),
            id="a third of the price",
        ),
        pytest.param(
            "2026-11-10 | Bags | Shop | 1000 | ct | 3.00",
            (
                "doubtful Purchases!F5: the price of Bags is 0.0030 a piece "
                f"here, and was 0.05 in row 4: 6 % of that. {CHECK}"
            ),
            id="small money to two digits",
        ),
        pytest.param(
            "2026-11-10 | Flour | Mill | 10 | lb | 12.00", "", id="pounds for kilos: 2.2 times"
        ),
        pytest.param("2026-11-10 | Eggs | Farm | 18 | ct | 16.00", "", id="not quite three times"),
        pytest.param("2026-11-10 | Eggs | Farm | 180 | ct | 48.00", "", id="ten cartons at once"),
        pytest.param(
            "2026-11-10 | Eggs | Farm | 54 | ct | 8.10",
            (
                "doubtful Purchases!D5: a pack of Eggs holds 54 pieces "
                "here, and held 18 pieces in row 3 at nearly the same price: 3.0 times as much. "
                f"{SIZE}"
            ),
            id="three times as many for half as much again",
        ),
        pytest.param("2026-11-10 | Eggs | Farm | 54 | ct | 8.20", "", id="or for a little more"),
        pytest.param(
            "2026-10-10 | Eggs | Farm | 18 | ct | 54.00",
            (
                "doubtful Purchases!F3: the price of Eggs is 0.30 a piece here, and was 3.00 in "
                f"row 5: 10 % of that. {CHECK}"
            ),
            id="back again",
        ),
    ],
)
def test_a_price_or_a_size_far_from_the_last_is_said(receipt: str, said: str) -> None:
    found = [each for each in doubts(receipt) if "Purchases" in each]
    assert found == ([said] if said else [])


def test_two_kinds_of_unit_are_compared_over_the_items_bridge() -> None:
    """50 g each: 0.30 a piece is 6.00 a kilo, and 20.00 a kilo 3.3 times that."""
    text = ROLLS.format(
        receipt="2026-11-10 | Eggs | Farm | 1 | kg | 20.00", bags=1, now="2.25", sold=40
    )
    items = "Items\nItem | Grams per piece\nEggs | 50"
    found = [p.what for p in find(costed_sheets(sheets(text, items)))]
    assert (
        found[0]
        == "the price of Eggs is 20.00 a kg here, and was 6.00 in row 3: 3.3 times as much."
    )


def test_sizes_in_two_kinds_of_unit_are_compared_too() -> None:
    """18 eggs of 50 g are 0.9 kg: 9 kg at the same price are ten times as much."""
    text = ROLLS.format(
        receipt="2026-11-10 | Eggs | Farm | 9 | kg | 5.40", bags=1, now="2.25", sold=40
    )
    items = "Items\nItem | Grams per piece\nEggs | 50"
    (said,) = (p.what for p in find(costed_sheets(sheets(text, items))))
    assert said == (
        "a pack of Eggs holds 9 kg here, and held 900 g in row 3 at nearly the same price: 10.0 "
        "times as much."
    )


def test_a_doubt_of_a_product_is_said_at_its_first_outlet_only() -> None:
    """At the café the roll costs no 0.50 to sell: 0.80 over 0.60 is 1.3333, so 1.50."""
    outlets = (
        "Outlets\nOutlet | Kind | Hours per day | Fee per day | Units sold per day\n"
        "Cafe | wholesale | 0 | |\nMarket | stall | 0 | 20 | 40"
    )
    text = ROLLS.format(receipt="", bags=1, now="0.50", sold=40)
    products = (
        "Products\nProduct | Recipe | Units per pack | Current price | Wholesale price now\n"
        "Roll | Roll | 1 | 0.50 | {}"
    )

    def said(wholesale: str) -> list[tuple[str, str]]:
        book = sheets(text, outlets, products.format(wholesale))
        return [(p.place.cell, p.what) for p in find(costed_sheets(book))]

    assert said("0.30") == [
        (
            "E2",
            (
                "the price to charge for Roll at Cafe is 1.50, and the price now is 0.30: 5.0 "
                "times as much."
            ),
        )
    ]
    ((cell, what),) = said("1.50")
    assert (cell, what.partition(" is ")[0]) == ("D2", "the price to charge for Roll at Market")


@pytest.mark.parametrize(
    ("now", "how_far"),
    [
        # 2.25 is three times 0.75, and a third of 6.75
        ("0.75", "3.0 times as much"),
        ("0.76", ""),
        ("6.75", "33 % of that"),
        ("6.74", ""),
        ("", ""),
    ],
)
def test_a_price_to_charge_far_from_the_price_now_is_said(now: str, how_far: str) -> None:
    sentence = (
        f"doubtful Products!D2: the price to charge for Roll at Market is 2.25, and the price now "
        f"is {now}: {how_far}. "
        "Check the price now, the amounts, the minutes and what a batch makes."
    )
    assert doubts(now=now) == ([sentence] if how_far else [])


FIRST = ": check that first; then the price now, and the rest."


@pytest.mark.parametrize(
    ("sold", "now", "remedy"),
    [
        # 20.00 over 24 rolls are 0.8333 of 1.6333, and over 25 0.80 of 1.60: half of it
        ("24", "0.90", f"Most of the cost, 0.83, is selling{FIRST}"),
        ("25", "0.90", "Check the price now, the amounts, the minutes and what a batch makes."),
        ("24", "9", "Check the price now, the amounts, the minutes and what a batch makes."),
    ],
)
def test_what_makes_most_of_a_price_so_high_is_named(sold: str, now: str, remedy: str) -> None:
    (said,) = (each for each in doubts(now=now, sold=sold) if "and the price now is" in each)
    assert said.endswith(f". {remedy}")


@pytest.mark.parametrize("left_out", ["Stages", "Outlets"])
def test_a_price_far_below_tells_nothing_where_work_or_selling_is_not_counted(
    left_out: str,
) -> None:
    book = sheets(ROLLS.format(receipt="", bags=1, now="9.75", sold=40).replace("\n\n\n", "\n\n"))
    del book[left_out]
    assert find(costed_sheets(book)) == []


def test_while_a_part_is_not_counted_it_is_the_least_to_charge() -> None:
    """Without a stall 0.80 over 0.60 is 1.3333, so 1.50: three times 0.50."""
    book = sheets(ROLLS.format(receipt="", bags=1, now="0.50", sold=40).replace("\n\n\n", "\n\n"))
    del book["Outlets"]
    (said,) = find(costed_sheets(book))
    assert said.what == (
        "the least to charge for Roll is 1.50, and the price now is 0.50: 3.0 times as much."
    )


def test_packaging_above_half_the_price_is_said_at_the_dearest_of_its_lines() -> None:
    """60 bags are 3.00; with 1.25 more 4.25 over 0.60 is 7.0833, so 7.25: half is 3.625.

    80 are 4.00 of 5.25: over 0.60 8.75, of which half is 4.375; with 200 bags it is 10.00 of
    11.25, 18.75 to charge, and more than half.
    """
    assert not any("Packaging" in each for each in doubts(bags=80, now="8.75"))
    cheap_line_first = "Product | Uses | Amount | Unit | Per\nRoll | Bags | 1 | ea | batch"
    text = ROLLS.format(receipt="", bags=200, now="18.75", sold=40)
    two = text.replace("Product | Uses | Amount | Unit | Per", cheap_line_first)
    (dearest,) = find(costed_sheets(sheets(two)))
    assert dearest.place.cell == "C3"
    (said,) = doubts(bags=200, now="18.75")
    assert said == (
        "doubtful Packaging!C2: the packaging of Roll at Market costs 10.00, more than half of the "
        "price to charge, 18.75. Check the amount, its unit, and Per."
    )


def test_selling_above_half_the_price_is_said_once_an_outlet() -> None:
    """20.00 over 4 rolls are 5.00 of 5.80: over 0.60 9.6667, so 9.75; 5.00 is more than 4.875."""
    (said,) = doubts(sold=4, now="9.75")
    assert said == (
        "doubtful Outlets!C2: the selling of Roll at Market costs 5.00, more than half of the "
        "price to charge, 9.75. Check Units sold per day, and what the day costs."
    )
    assert doubts(sold=5, now="8") == []  # 4.00 of 4.80: over 0.60 8.00, and half of it


def test_the_price_is_the_one_without_tax() -> None:
    text = ROLLS.format(receipt="", bags=1, now="10.25", sold=4)
    taxed = text.replace(
        "Price step      | 0.25",
        "Price step | 0.25\nSales tax % | 5\nPrices include sales tax | yes",
    ).replace("\n\n\n", "\n\n")
    # 5.80 / 0.60 = 9.6667, with 5 % 10.15, so 10.25, which is 9.76 without
    (said,) = (p.what for p in find(costed_sheets(sheets(taxed))))
    assert said.endswith("costs 5.00, more than half of the price to charge, 9.76 without tax.")


def test_a_cost_far_from_the_last_costing_is_said_once(tmp_path: Path) -> None:
    """In place of 24 rolls 6: what a batch costs, 19.20 with bags, is then over a fourth of them.

    6.00 + 12.00 over 24 is 0.75, and 0.05 and 0.50 beside it; over 6 it is 3.00. In all 1.30 and
    3.55, 2.7 times; over 5 it is 3.60, in all 4.15, which is 3.2 times.
    """
    text = ROLLS.format(receipt="", bags=1, now="", sold=40).replace("\n\n\n", "\n\n")

    def said(makes: int, on: str) -> list[str]:
        """Costed on a day, over what was costed before."""
        changed = text.replace("Roll   | 24    | ea", f"Roll | {makes} | ea")
        book = make_book(tmp_path / "stall.xlsx", sheets(changed))
        code, _, err = run("cost", book, "--output", tmp_path / "costed.xlsx", "--on", on)
        assert code == 0, err
        return [line for line in err.splitlines() if "when it was costed" in line]

    assert said(24, "2026-11-20") == []
    assert said(6, "2026-11-21") == []
    assert said(24, "2026-11-22") == []
    assert said(5, "2026-11-23") == [
        (
            "stall.xlsx: check: Products!A2: Roll at Market costs 4.15, and cost 1.30 when it was "
            "costed on 2026-11-22: 3.2 times as much. Look at what was changed since: receipts, "
            "amounts, minutes, what a batch makes."
        )
    ]
    assert len(said(5, "2026-11-23")) == 1  # the same day again
    assert said(5, "2026-11-24") == []
