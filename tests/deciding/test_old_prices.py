"""Old prices, and what they would do if they had moved as they usually do."""

from __future__ import annotations

from pathlib import Path

from tests.deciding.asking import answered, costed
from tests.deciding.test_moved import ROLLS
from tests.deciding.test_pages_say import pages
from tests.helpers import run, save
from tests.tables import close, sheets

# Four receipts of flour, the last 51 days old: 1.00 to 1.10 is 10 %, no change, then down a
# quarter to 0.825. In the middle of 10 % and 25 % lies 17.5 %; what did not change is no change.
# Film is as old, and was bought once. Eggs are new.
OLD = """
Purchases
Date       | Item  | Packs | Pack size | Unit | Price per pack | Other cost
2026-06-01 | Flour |       | 1         | kg   | 1.00           |
2026-07-01 | Flour | 2     | 500       | g    | 0.50           | 0.10
2026-08-01 | Flour |       | 2         | kg   | 2.20           |
2026-09-30 | Flour |       | 1         | kg   | 0.825          |
2026-11-21 | Flour |       | 1         | kg   | 9.00           |
2026-09-30 | Film  |       | 10        | m    | 20.00          |
2026-11-11 | Eggs  |       | 1         | tray | 10.50          |
"""


def with_receipts(receipts: str, stale_after: str = "") -> str:
    settings, _, *rest = ROLLS.strip().split("\n\n")
    stale = f"\nPrices stale after days | {stale_after}" if stale_after else ""
    return "\n\n".join((settings + stale, receipts.strip(), *rest))


def test_an_old_price_and_what_its_usual_change_would_do() -> None:
    """A roll takes 62.5 g of flour at 0.000825: 0.0515625, of which 17.5 % are 0.0090234375."""
    flour, film = answered("moved", with_receipts(OLD))["old_prices"]
    assert (flour["item"], flour["age_days"]) == ("Flour", 51)
    close(flour["usual_change"], "0.175")
    assert list(flour["rises"]) == ["Roll"]
    close(flour["rises"]["Roll"], "0.0090234375")
    assert film == {"item": "Film", "age_days": 51, "usual_change": None, "rises": {}}


def test_the_product_that_would_cost_most_more_stands_first() -> None:
    """Six rolls take six times the flour of one: 6 × 0.0090234375."""
    six = with_receipts(OLD).replace("| 2.00", "| 2.00\nSix  | Roll | 6 | 20 | 9.00")
    flour, _ = answered("moved", six)["old_prices"]
    assert list(flour["rises"]) == ["Six", "Roll"]
    close(flour["rises"]["Six"], "0.054140625")


OILED = """
Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-06-01 | Flour | 1         | kg   | 1.00
2026-09-30 | Flour | 1000      | gm.  | 1.10
2026-06-01 | Oil   | 1         | l    | 4.00
2026-09-20 | Oil   | 500       | ml   | 2.40
2026-09-10 | Film  | 10        | m    | 20.00
2026-09-30 | Eggs  | 1         | tray | 10.50
2026-01-01 | Tea   | 1         | kg   | 9.00
"""


def test_a_price_by_another_unit_of_its_kind_is_a_change_too() -> None:
    """1.00 to 1.10 a kilogram is 10 %, 4.00 to 4.80 a litre 20 %."""
    text = with_receipts(OILED).replace(
        " 12     | ea", " 12 | ea\nRoll | Oil | 8 | ml\nRoll | Tea | 0 | g"
    )
    old = answered("moved", text)["old_prices"]
    # oil adds 8 × 0.0048 × 0.2 / 8, flour 500 × 0.0011 × 0.1 / 8; the others never changed, and
    # stand the oldest first; of tea there is nothing in a roll
    assert [each["item"] for each in old] == ["Flour", "Oil", "Film", "Eggs"]
    close(old[0]["usual_change"], "0.1")
    close(old[1]["usual_change"], "0.2")


def test_which_prices_are_old_is_the_persons_choice() -> None:
    """51 days old: not older than 51 days, but older than 50."""
    assert answered("moved", with_receipts(OLD, "51"))["old_prices"] == []
    assert len(answered("moved", with_receipts(OLD, "50"))["old_prices"]) == 2


def test_an_old_price_of_what_nothing_takes_is_not_listed() -> None:
    tea = f"{OLD.strip()}\n2026-01-01 | Tea | | 1 | kg | 9.00 |"
    found = answered("moved", with_receipts(tea))["old_prices"]
    assert [old["item"] for old in found] == ["Flour", "Film"]


SAID = [
    (
        "The price of Flour is 51 days old. It usually changes by 17.5 %; a rise like that would "
        "add 0.01 to Roll."
    ),
    "The price of Film is 51 days old, and has never changed; look what it costs now.",
]


def test_old_prices_in_words(tmp_path: Path) -> None:
    book = save(sheets(with_receipts(OLD)), tmp_path)
    _, out, _ = run("moved", book, "--on", "2026-11-20")
    assert [line for line in out.splitlines() if "days old" in line] == SAID


def test_the_page_says_the_same() -> None:
    cells = pages(costed(with_receipts(OLD)))["What moved"].cells()
    assert [cell.value for cell in cells if "days old" in str(cell.value)] == SAID


def test_a_discount_is_in_the_price_that_its_receipt_sets() -> None:
    """12.00 less 2.00 is 10.00 again, so the price has never changed; 12.00 alone is 20 % up."""
    head = "Date | Item | Supplier | Packs | Pack size | Unit | Price per pack"
    rows = (
        "2026-06-01 | Flour | Mill | | 10 | kg | 10.00",
        "2026-09-30 | Flour | Mill | | 10 | kg | 12.00",
        "2026-09-30 | Flour | Mill | | | | -2.00",
        "2026-09-30 | Film | Shop | | 10 | m | 20.00",
        "2026-11-11 | Eggs | Shop | | 1 | tray | 10.50",
    )

    def usual_change(*those: str) -> object:
        text = "\n".join(("Purchases", head, *those))
        found = answered("moved", with_receipts(text))["old_prices"]
        return next(old["usual_change"] for old in found if old["item"] == "Flour")

    assert usual_change(*rows) is None
    close(usual_change(*rows[:2], *rows[3:]), "0.2")
    # of two lines on one day the lower one takes what came off: 12.00, then 11.00 less 2.00 is 9.00
    two = (*rows[:2], "2026-09-30 | Flour | Mill | | 10 | kg | 11.00", *rows[2:])
    close(usual_change(*two), "0.225")  # in the middle of 20 % and 25 %
