"""Which problems touch the verdict on an item's packs."""

from __future__ import annotations

from costbook.book import as_key
from costbook.deciding.about_item import about_item
from costbook.problems import Place, Problem, Severity
from tests.deciding.asking import costed
from tests.deciding.test_moved import ROLLS

BOOK = f"""{ROLLS.replace("2026-11-11 | Eggs ", "2026-11-11 | Hen's eggs ")}
Suppliers
Supplier | Least order
Mill     | 20

Items
Item | Also called
Eggs | Hen's eggs
Film |
"""


def touching(*cells: str) -> list[str]:
    """Those of some cells in whose rows a problem touches the verdict on eggs."""
    places = (Place(*cell.split("!")) for cell in cells)
    problems = [Problem(Severity.DOUBTFUL, place, "what?") for place in places]
    return [str(each.place) for each in about_item(costed(BOOK), as_key("Eggs"), problems)]


def test_a_problem_touches_an_item_in_a_row_of_its_own_by_any_of_its_names() -> None:
    of_eggs = ["Purchases!C3", "Purchases!C6", "Items!B2"]
    assert touching(*of_eggs, "Purchases!C2", "Purchases!C4", "Items!A3") == of_eggs


def test_what_every_verdict_rests_on_touches_it_too_and_a_recipe_does_not() -> None:
    of_all = ["Suppliers!B2", "Settings!B2"]
    assert touching(*of_all, "Recipes!C3", "Products!A2", "Suppliers") == of_all
