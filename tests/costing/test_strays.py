"""Rows of nobody's stand with whoever may own them, with their cost left open."""

from __future__ import annotations

from decimal import Decimal

from costbook.book import Value
from tests.costing.costed import costed, costed_sheets
from tests.tables import sheets

BATCHES = "Batches\nRecipe | Makes | Unit\nWrap | 12 | ea\nDip | 1 | kg"
HEAD = "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Flour | 600 | g\nDip | Flour | 10 | g\n"


def fixed(table: str, lines: str, name: str) -> list[tuple[str, Value]]:
    """A fixed cell of the rows of a table that have it, with the recipe that each is of."""
    rows = costed(BATCHES, HEAD + lines).structure.rows[table]
    return [(str(row.fixed["recipe"]), row.fixed[name]) for row in rows if name in row.fixed]


def test_a_recipe_used_by_nobody_leaves_its_share_and_its_work_open() -> None:
    line = "Wrpa | Dip | 1 | kg"
    for lacks in ("lacks", "labour_lacks"):
        assert fixed("uses", line, lacks) == [("Wrap", "Dip (whose line?)")]
    assert fixed("uses", line, "share_of_batch") == [("Wrap", None)]


def test_an_item_used_by_nobody_leaves_its_cost_open() -> None:
    line = "Wrpa | Salt | 1 | g"
    assert fixed("lines", line, "lacks") == [("Wrap", "Salt (whose line?)")]
    assert fixed("lines", line, "labour_lacks") == []


def test_whoever_may_own_a_row_is_given_it_and_one_of_them_watches_its_name() -> None:
    """Near no recipe's name, each line may be anybody's."""
    lines = "Zzz | Salt | 1 | g\nQqq | Oil | 1 | g"
    salt, oil = "Salt (whose line?)", "Oil (whose line?)"
    assert fixed("lines", lines, "lacks") == [
        *(("Wrap", salt), ("Wrap", oil), ("Dip", salt), ("Dip", oil)),
    ]
    assert fixed("lines", lines, "renamed") == [("Dip", Decimal(0)), ("Dip", Decimal(0))]


def test_a_row_that_nobody_can_own_is_in_nobodys_way() -> None:
    book = {
        **sheets("Purchases\nDate | Item | Pack size\n2026-11-01 | Flour | 1"),
        **sheets("Recipes\nRecipe | Uses\n\nBatches\nRecipe | Makes\n\nProducts\nProduct | Recipe"),
        **sheets("Stages\nRecipe | Stage | Minutes per batch\nZzz | Roll | 5"),
    }
    costing = costed_sheets(book)
    assert [each.owners for each in costing.structure.book.strays] == [()]
    assert costing.structure.rows["stages"] == []
