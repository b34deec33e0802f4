"""Which names are items, and what the texts of a workbook are read as, a row for each."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.book import Value, as_key
from costbook.costing.names import SUPPLIER, differing
from tests.costing.costed import costed, figures

D = Decimal

DIP = """
Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 600    | g
Wrap   | Dip   | 1      | kg
Dip    | Salt  | 1      | g

Batches
Recipe | Makes | Unit
Wrap   | 12    | ea
Dip    | 1     | kg
"""
BRIDGE = "Items\nItem | Grams per piece\nDip | 5\nOil | 3"
BOUGHT = "Purchases\nDate | Item | Pack size | Unit | Price per pack\n2026-11-01 | Dip | 1 | kg | 4"
WRAPPED = """
Packaging
Product | Uses | Amount | Unit
Single  | Film | 1      | m
Single  | Bag  | 0      | ea
"""


def items(*texts: str) -> list[str]:
    return list(figures(costed(*texts), "prices_now", "item_key"))


def test_items_are_those_that_are_listed_bought_used_or_wrapped_around() -> None:
    assert items() == ["Flour"]
    assert items(DIP, BRIDGE, WRAPPED) == ["Oil", "Flour", "Salt", "Film"]


def test_what_is_made_is_an_item_only_where_it_is_bought_too() -> None:
    assert "Dip" not in items(DIP, BRIDGE)
    assert "Dip" in items(DIP, BOUGHT)


@pytest.mark.parametrize(
    ("again", "differ"), [("12 | ea | by hand", set()), ("13 | ea | at dawn", {as_key("Wrap")})]
)
def test_rows_of_one_name_differ_where_they_do_not_say_the_same_notes_aside(
    again: str, differ: set[str]
) -> None:
    batches = f"Batches\nRecipe | Makes | Unit | Note\nWrap | 12 | ea | at dawn\nWrap | {again}"
    book = costed(batches).structure.book
    assert differing(book.records("Batches"), "recipe") == differ


def texts(table: str, *drawn: str) -> list[dict[str, Value]]:
    return costed(*drawn).figures[table]


def test_a_text_that_is_read_or_asked_has_its_row() -> None:
    receipts = "Purchases\nDate | Item | Pack size | Unit | Price per pack\n{}"
    typed = "2026-11-01 | Flour | 6 x 500 g | | 6\n2026-11-01 | Flour | a bag | g | 2"
    assert texts("readings", receipts.format(typed)) == [
        {"key": "Purchases.pack_size|6 x 500 g||", "value": D(500), "count": D(6), "unit": "g"},
        {"key": "Purchases.pack_size|a bag|g|", "value": None, "count": None, "unit": ""},
    ]


def test_a_spelling_leads_to_its_unit() -> None:
    """A pound is 453.59237 g (international yard and pound agreement, 1959)."""
    rows = {str(row["spelling"]): row for row in texts("units")}
    assert rows["lbs"] == {
        "spelling": "lbs",
        "unit": "lb",
        "measure": D(1),
        "factor": D("453.59237"),
        "piece_word": "",
        "part": D(0),
        "large_unit": "lb",
        "large_unit_size": D("453.59237"),
    }
    assert (rows["slice"]["piece_word"], rows["slice"]["part"]) == ("slice", D(1))
    assert (rows["g"]["large_unit"], rows["g"]["large_unit_size"]) == ("kg", D(1000))


def test_a_word_for_a_choice_leads_to_it() -> None:
    rows = texts("choices")
    assert {"key": "Settings.tax_included|y", "meaning": "yes"} in rows
    assert {"key": "Settings.tax_included|yes", "meaning": "yes"} in rows


def test_another_name_leads_to_its_item_and_an_item_s_own_to_itself() -> None:
    also = "Items\nItem | Also called\nStrong flour | Flour; Bread flour ;\nFlour |"
    assert texts("aliases", also) == [
        {"other_key": as_key("Bread flour"), "item_key": as_key("Strong flour")}
    ]


def test_a_name_that_formulas_read_otherwise_leads_to_its_key() -> None:
    """A space without a width is nothing in a name; a formula sees a letter there."""
    bought = "Purchases\nDate | Item | Supplier | Pack size | Unit | Price per pack\n"
    row = "2026-11-01 | Rye\u200b flour | Old\u200b mill | 1 | kg | 2"
    rye, mill = as_key("Rye flour"), as_key("Old mill")
    assert {
        str(each["other_key"]): each["item_key"] for each in texts("aliases", bought + row)
    } == {
        rye.replace(" ", "\u200b "): rye,
        SUPPLIER + mill.replace(" ", "\u200b "): mill,
    }
