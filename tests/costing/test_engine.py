"""How figures come about: unknowns spread, sums say what they lack, the right receipt counts."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.costing import row_builder
from costbook.costing.engine import Costing
from costbook.definitions.columns import Table
from costbook.definitions.workings import TABLE_ORDER
from tests.costing.costed import costed, costed_sheets, figures
from tests.tables import sheets

D = Decimal


def recipe(costing: Costing, column: str) -> object:
    return figures(costing, "recipes", column)["Wrap"]


def test_every_column_of_every_row_is_computed() -> None:
    costing = costed()
    for table in TABLE_ORDER:
        for row in costing.figures[table.name]:
            assert list(row) == [column.name for column in table.columns], table.name


EVERY_SHEET = """
Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 600    | g
Bun    | Flour | 100    | g

Batches
Recipe | Makes | Unit
Wrap   | 12    | ea
Bun    | 2     | ea

Products
Product | Recipe | Units per pack
Single  | Wrap   | 1
Bun     | Bun    | 1

Stages
Recipe | Stage | Minutes per batch
Wrap   | Fold  | 10

Packaging
Product | Uses | Amount | Unit
Single  | Film | 1      | m

Outlets
Outlet | Units sold per day
Market | 20

Suppliers
Supplier | Membership per year
Mill     | 60

Offers
Item  | Supplier | Pack size | Unit | Price per pack
Flour | Mill     | 5         | kg   | 8
Flour | Mill     | a bag     | kg   | 8
"""


@pytest.mark.parametrize("more", ["", EVERY_SHEET])
def test_every_cell_that_the_run_writes_is_of_a_column(more: str) -> None:
    costing = costed(*([more] if more else ()))
    for table in TABLE_ORDER:
        for row in costing.structure.rows[table.name]:
            assert row.fixed.keys() <= table.index.keys(), table.name


def test_a_log_has_a_row_for_every_receipt_and_two_hundred_spare_ones_below() -> None:
    rows = [row["row_number"] for row in costed().figures["purchases"]]
    assert rows == list(range(2, 203))


def test_the_rows_of_each_sheet_are_counted_save_those_that_count_by_themselves() -> None:
    """Each sheet's heading is counted too; a receipt has a row of its own, wired to the sheet."""
    rows = costed().figures["rows"]
    assert {str(row["sheet"]): row["rows_costed"] for row in rows} == {
        "Settings": 2,
        "Purchases": 1,
        "Recipes": 2,
        "Batches": 2,
        "Products": 2,
    }


@pytest.mark.parametrize(
    ("sheet", "declared"), [("", []), ("Items\nItem\nFlour", ["jars"]), ("Offers\nItem\nFlour", [])]
)
def test_a_table_of_some_sheets_has_rows_where_one_of_them_is_there(
    monkeypatch: pytest.MonkeyPatch, sheet: str, declared: list[str]
) -> None:
    book = costed(*([sheet] if sheet else ())).structure.book
    jars = Table("jars", "", (), only_with=("Items", "Overheads"))
    monkeypatch.setattr(row_builder, "TABLES", {"jars": jars})
    assert [table.name for table in row_builder.RowBuilder(book).declared] == declared


def test_a_product_has_a_price_at_each_outlet_where_it_is_sold() -> None:
    outlets = "Outlets\nOutlet | Units sold per day\nMarket | 20\nFair | 30"
    sold = "Products\nProduct | Recipe | Units per pack | Sold at\nSingle | Wrap | 1 |\n"
    sold += "Pair | Wrap | 2 | Fair"
    structure = costed(outlets, sold).structure
    first = [(row.fixed["product"], row.fixed["outlet"]) for row in structure.at_first_outlet()]
    assert first == [("Single", "Market"), ("Pair", "Fair")]
    assert structure.one("settings") is structure.rows["settings"][0]
    prices = costed(outlets, sold).figures["prices"]
    assert [(row["product"], row["outlet"]) for row in prices] == [
        ("Single", "Market"),
        ("Single", "Fair"),
        ("Pair", "Fair"),
    ]
    assert [row["products_sold"] for row in costed(outlets, sold).figures["outlets"]] == [1, 2]


def test_a_roll_is_as_wide_as_items_says() -> None:
    """900 sq cm of a roll of 30 cm are 30 cm of it, at 3.00 for 3,000 cm: 0.03."""
    film = "2026-11-01 | Flour | | 1 | 1 | kg | 2 |\n2026-11-01 | Film | | 1 | 30 | m | 3 |"
    width = "Items\nItem | Roll width | Roll width unit\nFilm | 30 | cm"
    wrapped = "Packaging\nProduct | Uses | Amount | Unit | Per\nSingle | Film | 900 | sq cm | unit"
    costing = costed(HEAD + film, width, wrapped)
    assert figures(costing, "products", "packaging") == {"Single": D("0.03")}


def test_a_figure_is_decimal_a_text_or_unknown() -> None:
    kinds = {
        type(value) for rows in costed().figures.values() for row in rows for value in row.values()
    }
    assert kinds == {Decimal, str, type(None)}


# ------------------------------------------------------------------ what is not known

UNPRICED = """
Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 600    | g
Wrap   | Salt  | 10     | g
"""


def test_an_unknown_line_leaves_the_sum_unknown_and_the_known_part_known() -> None:
    costing = costed(UNPRICED)
    assert figures(costing, "recipes", "items_cost") == {"Wrap": None}
    assert recipe(costing, "items_cost_known") == D("1.2")  # 600 g at 2.00 a kilogram
    assert recipe(costing, "batch_cost") is None
    assert recipe(costing, "batch_cost_known") == D("1.2")
    (price,) = costing.figures["prices"]
    assert (price["total"], price["known"]) == (None, D("0.1"))  # twelve wraps


def test_the_first_lack_is_named_and_reaches_the_price() -> None:
    costing = costed(UNPRICED)
    assert recipe(costing, "lacks") == "Salt (price)"
    assert costing.figures["prices"][0]["lacks"] == "Salt (price)"


def test_none_of_an_item_costs_nothing_though_it_has_no_price() -> None:
    nothing = UNPRICED.replace("10 ", "0 ")
    assert recipe(costed(nothing), "batch_cost") == D("1.2")


def test_no_kitchen_hire_costs_nothing_though_the_minutes_are_unknown() -> None:
    costing = costed("Stages\nRecipe | Stage | Waiting minutes\nWrap | Rest | ?")
    assert figures(costing, "products", "kitchen_minutes") == {"Single": None}
    assert figures(costing, "products", "kitchen") == {"Single": D(0)}


def test_a_sum_over_no_rows_is_nothing_not_unknown() -> None:
    costing = costed()
    assert figures(costing, "products", "packaging") == {"Single": D(0)}
    assert recipe(costing, "own_labour") == D(0)


def test_what_a_recipe_takes_of_an_item_is_the_sum_of_that_items_lines() -> None:
    twice = UNPRICED + "Wrap | Flour | 150 | g\n"
    salt = "2026-11-01 | Flour | | 1 | 1 | kg | 2 |\n2026-11-01 | Salt | | 1 | 1 | kg | 1 |"
    needs = costed(twice, HEAD + salt).figures["recipe_needs"]
    assert [row["own_need"] for row in needs] == [D(750), D(10)]


def test_what_recipes_that_use_each_other_take_of_an_item_nobody_knows() -> None:
    costing = costed(
        "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Flour | 600 | g\nWrap | Dip | 1 | kg\n"
        "Dip | Salt | 10 | g\nDip | Wrap | 1 | ea",
        "Batches\nRecipe | Makes | Unit\nWrap | 12 | ea\nDip | 1 | kg",
    )
    needs = costing.figures["pack_needs"]
    assert [(row["item"], row["pack_need"]) for row in needs] == [("Flour", None), ("Salt", None)]


def test_a_recipe_without_lines_is_unknown_not_nothing() -> None:
    empty = "Batches\nRecipe | Makes | Unit\nWrap | 12 | ea\nDip | 1 | kg"
    costing = costed(empty)
    assert figures(costing, "recipes", "batch_cost")["Dip"] is None
    assert figures(costing, "recipes", "lacks")["Dip"] == "lines of the recipe"


# ------------------------------------------------------------------ which receipt counts

HEAD = (
    "Purchases\nDate | Item | Supplier | Packs | Pack size | Unit | Price per pack | Other cost\n"
)


def price_of_flour(receipts: str, *more: str) -> object:
    costing = costed(HEAD + receipts, *more)
    return figures(costing, "prices_now", "price_per_base_unit")["Flour"]


RECEIPTS = {
    "the latest": (
        "2026-11-01|Flour|| 1|1000|g|2.00|\n2026-11-02|Flour|| 1|1000|g|3.00|",
        "0.003",
    ),
    "of two on one day the lower row": (
        "2026-11-02|Flour|| 1|1000|g|3.00|\n2026-11-02|Flour|| 1|1000|g|2.00|",
        "0.002",
    ),
    "not one after the costing date": (
        "2026-11-01|Flour|| 1|1000|g|2.00|\n2026-11-26|Flour|| 1|1000|g|3.00|",
        "0.002",
    ),
    "on the costing date itself": (
        "2026-11-01|Flour|| 1|1000|g|2.00|\n2026-11-25|Flour|| 1|1000|g|3.00|",
        "0.003",
    ),
    "not a return": (
        "2026-11-01|Flour|| 1|1000|g|2.00|\n2026-11-02|Flour|| -1|1000|g|3.00|",
        "0.002",
    ),
    "lowered by a discount of that item, supplier and day": (
        "2026-11-01|Flour|Mill|1|1000|g|2.00|\n2026-11-01|Flour|Mill|1|||-0.50|",
        "0.0015",
    ),
    "not lowered by another supplier's discount": (
        "2026-11-01|Flour|Mill|1|1000|g|2.00|\n2026-11-01|Flour|Shop|1|||-0.50|",
        "0.002",
    ),
    "delivery on top, over all its packs": (
        "2026-11-01|Flour|Mill|2|1000|g|2.00|1.00",
        "0.0025",
    ),
}  # fmt: skip


@pytest.mark.parametrize("which", RECEIPTS)
def test_the_receipt_that_counts_is(which: str) -> None:
    receipts, expected = RECEIPTS[which]
    assert price_of_flour(receipts) == D(expected)


TWO_MILLS = (
    "2026-11-01 | Flour | Mill | 1 | 1000 | g | 2.00 |\n"
    "2026-11-05 | Flour | Shop | 1 | 1000 | g | 3.00 |"
)


@pytest.mark.parametrize(
    ("usual", "expected"), [("Mill", "0.002"), ("shop", "0.003"), ("", "0.003"), ("Barn", "0.003")]
)
def test_the_usual_suppliers_receipt_counts_where_there_is_one(usual: str, expected: str) -> None:
    items = f"Items\nItem | Usual supplier\nFlour | {usual}"
    assert price_of_flour(TWO_MILLS, items) == D(expected)


def test_the_price_before_is_what_counted_the_day_before() -> None:
    costing = costed(HEAD + TWO_MILLS)
    (row,) = costing.figures["item_prices"]
    assert (row["price_per_base_unit"], row["before_in_units_of_now"]) == (D("0.003"), D("0.002"))
    assert row["change"] == D("0.5")


def test_another_name_of_an_item_is_the_item() -> None:
    items = "Items\nItem | Also called\nStrong flour | Flour; Bread flour"
    costing = costed(items)
    assert recipe(costing, "batch_cost") == D("1.2")
    assert list(figures(costing, "prices_now", "item_key")) == ["Strong flour"]


def test_an_items_own_name_wins_over_another_items_other_name() -> None:
    items = "Items\nItem | Also called\nStrong flour | Flour\nFlour |"
    assert list(figures(costed(items), "prices_now", "item_key")) == ["Strong flour", "Flour"]


# ------------------------------------------------------------------ recipes inside recipes


def nested(depth: int) -> Costing:
    """Each of a chain of recipes takes half of the batch of the one before it."""
    lines = "\n".join(f"R{at} | R{at - 1} | 1 | kg" for at in range(1, depth + 1))
    makes = "\n".join(f"R{at} | 2 | kg" for at in range(depth + 1))
    return costed(
        f"Recipes\nRecipe | Uses | Amount | Unit\nR0 | Flour | 600 | g\n{lines}",
        f"Batches\nRecipe | Makes | Unit\n{makes}",
        f"Products\nProduct | Recipe | Units per pack\nSingle | R{depth} | 1",
    )


def test_a_recipe_used_inside_another_brings_its_share() -> None:
    found = figures(nested(3), "recipes", "batch_cost")
    assert found == {"R0": D("1.2"), "R1": D("0.6"), "R2": D("0.3"), "R3": D("0.15")}


def test_recipes_may_be_nested_deeper_than_calls_may_be() -> None:
    found = figures(nested(1500), "recipes", "batch_cost")
    assert found["R10"] == D("1.2") / 2**10
    assert found["R1500"] is not None


def test_the_order_of_rows_does_not_matter() -> None:
    lines = ["A | Flour | 600 | g", "B | A | 1 | kg", "C | B | 1 | kg", "C | A | 1 | kg"]
    batches = "Batches\nRecipe | Makes | Unit\nC | 2 | kg\nB | 2 | kg\nA | 2 | kg"
    products = "Products\nProduct | Recipe | Units per pack\nSingle | C | 1"
    head = "Recipes\nRecipe | Uses | Amount | Unit\n"
    straight = costed(head + "\n".join(lines), batches, products)
    turned = costed(head + "\n".join(reversed(lines)), batches, products)
    assert figures(straight, "recipes", "batch_cost") == figures(turned, "recipes", "batch_cost")
    assert figures(straight, "recipes", "batch_cost")["C"] == D("0.9")  # 0.3 of B, 0.6 of A


# ------------------------------------------------------------------ rows that aren't there


@pytest.mark.parametrize("title", ["Purchases", "Recipes", "Batches", "Products"])
def test_a_sheet_with_headings_only_is_costed_as_far_as_it_goes(title: str) -> None:
    book = sheets()
    book |= costed_book()
    book[title] = book[title][:1]
    costing = costed_sheets(book)
    totals = [row["total"] for row in costing.figures["prices"]]
    assert totals == ([] if title == "Products" else [None])


def costed_book() -> dict[str, list[list[object]]]:
    from tests.money_rules.wraps import WRAPS

    return sheets(WRAPS)


def test_of_what_was_never_bought_the_supplier_is_an_empty_text_and_the_day_unknown() -> None:
    costing = costed("Recipes\nRecipe | Uses | Amount | Unit\nWrap | Salt | 6 | g")
    assert figures(costing, "prices_now", "supplier")["Salt"] == ""
    assert figures(costing, "prices_now", "day")["Salt"] is None


def test_without_an_outlet_selling_is_nothing_and_no_day_breaks_even() -> None:
    (price,) = costed().figures["prices"]
    assert (price["outlet"], price["selling"]) == ("", D(0))
    assert (price["break_even"], price["break_even_without_pay"]) == (None, None)
