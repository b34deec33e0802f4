"""Rows that are nobody's, and parts that no row speaks of: unknown, never a smaller sum.

The wrap of `wraps.py` in two products, beside a bun of its own recipe. Every slip here made a
figure smaller once.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.helpers import product_of, run, save
from tests.money_rules.wraps import answer, said
from tests.tables import close, row_of, sheets

BOOK = """
Settings
Setting         | Value
Currency        | USD
Pay per hour    | 12
Target margin % | 50

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 1000      | g    | 2.00
2026-11-01 | Oil   | 1000      | ml   | 5.00
2026-11-01 | Film  | 100       | m    | 4.00

Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 500    | g
Wrap   | Paste | 100    | g
Bun    | Flour | 300    | g
Paste  | Oil   | 200    | ml

Batches
Recipe | Makes | Unit
Wrap   | 10    | ea
Bun    | 10    | ea
Paste  | 400   | g

Stages
Recipe | Stage | Minutes per batch
Wrap   | Roll  | 30
Bun    | Bake  | 20

Packaging
Product | Uses | Amount | Unit | Per
Single  | Film | 1      | m    | unit
Six     | Film | 4      | m    | pack
Bun     | Film | 50     | cm   | unit

Products
Product | Recipe | Units per pack
Single  | Wrap   | 1
Six     | Wrap   | 6
Bun     | Bun    | 1
"""
# A single: flour 1.00 + paste 0.25 x 1.00 over 10; 30 min at 12 over 10; a metre of film.
WHOLE = {"ingredients": "0.125", "labour": "0.60", "packaging": "0.04"}


def book(**sheets: str) -> dict[str, Any]:
    return answer(BOOK, *(f"{name}\n{rows.strip()}" for name, rows in sheets.items()))


def lacking(found: dict[str, Any], part: str) -> list[str]:
    """The products that lack a part; each says so, and has no price."""
    rows = [row for row in found["products"] if row["cost"][part] is None]
    for row in rows:
        assert not row["complete"]
        assert row["missing"]
        assert row["cost"]["total"] is None
        assert row["price"]["on_step"] is None
    return [row["product"] for row in rows]


def missing(found: dict[str, Any], product: str) -> list[str]:
    names: list[str] = product_of(found, product)["missing"]
    return names


def test_the_book_is_whole_to_begin_with() -> None:
    found = book()
    assert found["problems"] == []
    for part, wanted in WHOLE.items():
        close(product_of(found, "Single")["cost"][part], wanted)


# ---------------------------------------------------------------- lines of recipes


def recipes(second: str) -> dict[str, Any]:
    """The book with another second line of the wrap, between its own and the bun's."""
    return book(
        Recipes=f"""
        Recipe | Uses  | Amount | Unit
        Wrap   | Flour | 500    | g
        {second}
        Bun    | Flour | 300    | g
        Paste  | Oil   | 200    | ml
        """
    )


def test_a_line_under_a_name_that_is_nearly_a_recipes_may_be_that_ones() -> None:
    found = recipes("Wrp | Oil | 100 | ml")
    assert lacking(found, "ingredients") == ["Single", "Six"]
    assert missing(found, "Single") == ["Oil (whose line?)"]
    close(product_of(found, "Single")["cost"]["known"], "0.74")  # 1.00 / 10, 0.60 and 0.04
    assert said(found, "Recipes", "A3") == ['"Wrp" has no row on Batches. Did you mean "Wrap"?']
    assert [row["recipe"] for row in found["recipes"]] == ["Wrap", "Bun", "Paste"]


def test_a_line_under_a_name_like_no_other_may_be_anyones() -> None:
    found = recipes("Zzyzx | Oil | 100 | ml")
    assert lacking(found, "ingredients") == ["Single", "Six", "Bun"]
    assert row_of(found, "recipe", "Paste")["batch_cost"] is None


def test_several_lines_under_a_new_name_are_a_recipe_that_has_no_batch_yet() -> None:
    found = recipes("Wraps | Oil | 100 | ml\n Wraps | Flour | 100 | g")
    assert lacking(found, "ingredients") == []
    assert said(found, "Recipes", "A3") == ['"Wraps" has no row on Batches. Did you mean "Wrap"?']


def test_several_lines_of_which_the_near_recipe_has_none_may_be_its() -> None:
    found = recipes("Wraps | Oil | 100 | ml\n Wraps | Paste | 100 | g")
    assert lacking(found, "ingredients") == ["Single", "Six"]


def test_a_line_of_nobodys_that_uses_a_recipe_may_bring_its_work_too() -> None:
    found = recipes("Wrp | Paste | 100 | g")
    assert lacking(found, "ingredients") == lacking(found, "labour") == ["Single", "Six"]
    assert missing(found, "Single") == ["Paste (whose line?)"]


def test_a_name_on_the_first_line_of_its_block_is_for_all_of_them_and_said() -> None:
    found = recipes("       | Paste | 100 | g")
    assert [row["cost"] for row in found["products"]] == [row["cost"] for row in book()["products"]]
    assert said(found, "Recipes", "A3") == [
        (
            'the row has no Recipe, so it was read as a row of "Wrap", above it. '
            "Fill in its own, if it belongs to another."
        )
    ]


def test_a_line_without_a_name_below_an_empty_row_may_be_anyones() -> None:
    found = recipes(" | | | \n | Oil | 100 | ml")
    assert lacking(found, "ingredients") == ["Single", "Six", "Bun"]
    assert said(found, "Recipes", "A4") == [
        (
            "the row has no Recipe, so nobody knows whose it is. "
            'Fill it in ("Wrap"?), or clear the row.'
        )
    ]


# ---------------------------------------------------------------- work


def stages(*rows: str) -> dict[str, Any]:
    return book(Stages="\n".join(["Recipe | Stage | Minutes per batch", *rows]))


def test_a_stage_of_nearly_a_recipe_may_be_that_ones() -> None:
    found = stages("Wrpa | Roll | 30", "Bun | Bake | 20")
    assert lacking(found, "labour") == ["Single", "Six"]
    assert missing(found, "Six") == ["Roll (whose work?)"]
    assert row_of(found, "recipe", "Wrap")["labour_minutes"] is None


def test_a_stage_of_nearly_a_product_may_be_that_ones() -> None:
    found = stages("Wrap | Roll | 30", "Bun | Bake | 20", "Singel | Bag | 5")
    assert lacking(found, "labour") == ["Single"]


@pytest.mark.parametrize("name", ["Zzyzx", ""])
def test_a_stage_of_nobody_may_be_anyones(name: str) -> None:
    found = stages(f"{name} | Wash up | 10", "Wrap | Roll | 30", "Bun | Bake | 20")
    assert lacking(found, "labour") == ["Single", "Six", "Bun"]


def test_a_product_without_work_is_asked_where_others_have_it_and_0_minutes_answer() -> None:
    found = stages("Wrap | Roll | 30")
    assert lacking(found, "labour") == ["Bun"]
    assert missing(found, "Bun") == ["labour (no row on Stages)"]
    assert said(found, "Products", "A4") == [
        (
            'Stages has no row for "Bun" or its recipe, so what its work costs is not known. '
            "Time it and add its stages; if there is no work, one row with 0 minutes."
        )
    ]
    answered = stages("Wrap | Roll | 30", "Bun | none | 0")
    assert answered["problems"] == []
    close(product_of(answered, "Bun")["cost"]["labour"], "0")


def test_the_work_of_a_used_recipe_is_not_the_work_on_the_product() -> None:
    assert lacking(stages("Paste | Stir | 10", "Bun | Bake | 20"), "labour") == ["Single", "Six"]


def test_work_on_one_product_alone_says_nothing_of_the_other() -> None:
    assert lacking(stages("Six | Bag | 10", "Bun | Bake | 20"), "labour") == ["Single"]


def test_without_any_stage_labour_is_not_counted() -> None:
    found = stages()
    assert lacking(found, "labour") == []
    assert "your work (no rows on Stages)" in found["not_counted"]


# ---------------------------------------------------------------- packaging


def packaging(*rows: str) -> dict[str, Any]:
    return book(Packaging="\n".join(["Product | Uses | Amount | Unit | Per", *rows]))


@pytest.mark.parametrize("word", ["all", "All products", "EVERY PRODUCT", "everything"])
def test_all_in_other_words_is_all(word: str) -> None:
    found = packaging(f"{word} | Film | 1 | m | unit")
    assert lacking(found, "packaging") == []
    close(product_of(found, "Bun")["cost"]["packaging"], "0.04")
    doubt = [f'"{word}" was read as "all": every product. Nothing, if that is right.']
    assert said(found, "Packaging", "A2") == ([] if word == "all" else doubt)


def test_a_product_that_is_called_like_all_is_itself() -> None:
    found = book(
        Products="Product | Recipe | Units per pack\nEverything | Wrap | 1\nBun | Bun | 1",
        Packaging="Product|Uses|Amount|Unit|Per\nEverything|Film|1|m|unit\nBun|Film|2|m|unit",
    )
    close(product_of(found, "Bun")["cost"]["packaging"], "0.08")


def test_packaging_for_a_recipe_may_be_any_of_its_products() -> None:
    found = packaging("Wrap | Film | 1 | m | unit", "Bun | Film | 1 | m | unit")
    assert lacking(found, "packaging") == ["Single", "Six"]
    assert missing(found, "Six") == ["Film (whose packaging?)"]
    assert said(found, "Packaging", "A2") == [
        (
            '"Wrap" is a recipe, and packaging is for a product. '
            'Type "Single" and "Six", a row for each that is packed so.'
        )
    ]


def test_packaging_of_nearly_a_product_may_be_that_ones() -> None:
    found = packaging(
        "Singel | Film | 1 | m | unit", "Single | Film | 1 | m | unit", "all | Film | 1 | m | pack"
    )
    assert lacking(found, "packaging") == ["Single"]


@pytest.mark.parametrize("name", ["Zzyzx", ""])
def test_packaging_of_nobody_may_be_anyones(name: str) -> None:
    found = packaging(f"{name} | Film | 1 | m | unit", "all | Film | 1 | m | unit")
    assert lacking(found, "packaging") == ["Single", "Six", "Bun"]


@pytest.mark.parametrize(
    "row", ["Bun | none | 0 | | ", "Bun | | 0 | ea | pack", "Bun | Film | 0 | m |"]
)
def test_a_product_without_packaging_is_asked_where_others_have_it_and_0_answers(row: str) -> None:
    others = ("Single | Film | 1 | m | unit", "Six | Film | 4 | m | pack")
    found = packaging(*others)
    assert lacking(found, "packaging") == ["Bun"]
    assert missing(found, "Bun") == ["packaging (no row on Packaging)"]
    assert said(found, "Products", "A4") == [
        (
            'Packaging has no row for "Bun", so what it is packed in is not known. '
            "Add what it is packed in; if it is nothing, one row with the Amount 0."
        )
    ]
    answered = packaging(*others, row)
    assert answered["problems"] == []
    close(product_of(answered, "Bun")["cost"]["packaging"], "0")
    assert "none" not in [each["item"] for each in answered["items"]]


# ---------------------------------------------------------------- hours at a stall


def outlets(row: str) -> dict[str, Any]:
    return book(Outlets=f"Outlet|Kind|Fee per day|Hours per day|Units sold per day\n{row}")


@pytest.mark.parametrize("kind", ["stall", ""])
def test_a_stall_without_hours_is_asked(kind: str) -> None:
    found = outlets(f"Market|{kind}|20||40")
    assert lacking(found, "selling") == ["Single", "Six", "Bun"]
    assert said(found, "Outlets", "D2") == [
        (
            "how many hours a day at this stall takes is not known. "
            "Fill in Hours per day, setting up and driving too; 0, if it takes none."
        )
    ]
    close(product_of(found, "Single")["cost"]["known"], "1.265")  # 0.765 and 20 / 40


def test_no_hours_at_a_stall_are_an_answer() -> None:
    found = outlets("Market|stall|20|0|40")
    close(product_of(found, "Single")["cost"]["selling"], "0.50")
    assert found["problems"] == []


@pytest.mark.parametrize("kind", ["wholesale", "commission"])
def test_elsewhere_no_hours_are_ordinary(kind: str) -> None:
    found = outlets(f"Shop|{kind}|20||40")
    close(product_of(found, "Single")["cost"]["selling"], "0.50")
    assert said(found, "Outlets", "D2") == []


def test_hours_that_cannot_be_read_are_unknown_anywhere() -> None:
    assert lacking(outlets("Café|wholesale|20|some|40"), "selling") == ["Single", "Six", "Bun"]


# ---------------------------------------------------------------- usable shares


def test_a_usable_share_of_nobodys_may_be_of_any_item_without_a_row() -> None:
    found = book(Items="Item | Kind | Usable %\n | food | 80\nFlour | food | 90")
    assert lacking(found, "ingredients") == ["Single", "Six"]  # the paste is of oil
    assert said(found, "Items", "A2") == [
        "the row has no Item, so nobody knows whose it is. Fill it in, or clear the row."
    ]
    close(product_of(found, "Bun")["cost"]["ingredients"], "1/15")  # 300 / 0.90 g at 2.00, over 10


# ---------------------------------------------------------------- what is told of it


def told(found: str, *words: str) -> list[str]:
    """The lines of `explain` that name a thing."""
    return [line.strip() for line in found.splitlines() if all(word in line for word in words)]


def test_explain_ends_at_what_is_not_known(tmp_path: Path) -> None:
    stages = "Recipe | Stage | Minutes per batch\nWrpa | Roll | 30"
    path = save(sheets(BOOK, f"Stages\n{stages}"), tmp_path)
    _, out, _ = run("explain", path, "Single", "labour", "--all", "--on", "2026-11-25")
    assert told(out, "[Roll]") == ["Stage labour [Roll]: ? = Roll (whose work?)"]
    _, out, _ = run("explain", path, "Bun", "labour", "--all", "--on", "2026-11-25")
    assert told(out, "[Work]") == ["Stage labour [Work]: ? = labour (no row on Stages)"]


def test_what_moved_and_what_a_batch_takes_of_an_item_are_unknown_with_its_line(
    tmp_path: Path,
) -> None:
    """The line that uses the paste is nobody's: nobody knows how much oil a single takes."""
    path = save(sheets(BOOK.replace("Wrap   | Paste", "Wrp    | Paste")), tmp_path)
    _, out, _ = run("moved", path, "--json", "--on", "2026-11-25")
    single = next(row for row in json.loads(out)["products"] if row["product"] == "Single")
    assert single["after"] is None
    assert single["by_item"]["Oil"] is None
    assert single["by_item"]["Flour"] == 0
