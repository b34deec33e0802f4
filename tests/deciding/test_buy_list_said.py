"""The words of a buy list, and what of it is lost, by hand: the smallest differences that count."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.deciding.asking import ON, answered
from tests.deciding.test_buy_list import ITEMS, LESSON, SHELVES, bought, lines
from tests.deciding.test_buying_for_a_plan import text
from tests.helpers import make_book, run
from tests.tables import close, sheets

MORE_OF_ITEMS = ITEMS.replace("Keeps days", "Keeps days | Usable % | Use per week")


def said(book: str, folder: Path) -> list[str]:
    """What `buy` says of a workbook drawn as text, to its cautions."""
    told = run("buy", make_book(folder / "stall.xlsx", sheets(book)), "--on", ON)[1].splitlines()
    return told[: next(at for at, line in enumerate(told) if line.startswith("Sums from"))]


def line_of(found: dict[str, Any], item: str) -> dict[str, Any]:
    """The one line of an item."""
    [line] = [each for shop in found["suppliers"] for each in shop["lines"] if each["item"] == item]
    return dict(line)


def test_what_is_asked_what_is_bought_and_what_there_is_enough_of(tmp_path: Path) -> None:
    """2.5 lb of tea in pounds at 8.00: 24.00, of which 20.00 are for the 2.5 lb, 8.00 a pound."""
    rows = "Tea | 0.5 | lb | 3 | lb | | |\nRye | | | 3 | lb | | |\nFlour | 3 | lb | 3 | lb | | |"
    assert (
        said(SHELVES + f"{ITEMS}{rows}".strip(), tmp_path)[:17]
        == [
            "To buy: 1 item for 24.00 (Corner 24.00); ask about Rye.",
            "",
            "Corner: 24.00",
            "[ ] Tea: 3 × 1 lb, 24.00",
            "",
            "To ask:",
            "[ ] Rye: No receipt says how it is sold: ask for its size and price.",
            "",
            "Why so much, and what is left:",
            "Tea: 3 lb to be there, 8 oz on hand",
            "  8 oz left over",
            "  another pack is worth taking below 8.00 a lb",
            "",
            "Enough is there:",
            "Flour: 3 lb to be there, 3 lb on hand",
            "",
        ][:17]
    )
    line = line_of(bought(f"{ITEMS}{rows}"), "Tea")
    close(line["any_other_below"], 8)
    assert line["cost"] == 24


def test_none_on_hand_and_none_left_over(tmp_path: Path) -> None:
    told = said(SHELVES + f"{ITEMS}Tea | | | 3 | lb | | |".strip(), tmp_path)
    assert "Tea: 3 lb to be there, none on hand" in told
    assert "  nothing left over" in told


def test_another_pack_has_its_price_and_no_general_one(tmp_path: Path) -> None:
    """22 lb in tens cost 13.20, so that eleven twos are as good at 1.20 each."""
    told = said(SHELVES + LESSON.strip(), tmp_path)
    assert "  2 lb from Corner is worth taking at 1.20 or less" in told
    assert not any(line.startswith("  another pack") for line in told)


def test_two_shops_stand_one_after_the_other_in_the_first_line(tmp_path: Path) -> None:
    told = said(SHELVES + f"{LESSON}\nTea | | | 1 | lb | | |".strip(), tmp_path)
    assert told[0] == "To buy: 2 items for 26.00 (Mill 18.00, Corner 8.00)."


def test_of_what_lacks_less_than_a_millionth_there_is_enough() -> None:
    """A billionth of a pound is 0.00000045 g."""
    found = bought(f"{ITEMS}Tea | 2.999999999 | lb | 3 | lb | | |")
    assert (found["suppliers"], len(found["enough"])) == ([], 1)


@pytest.mark.parametrize(("days", "packs"), [(4, ("Corner", 1, "2 lb")), (8, ("Mill", 1, "10 lb"))])
def test_what_is_trimmed_is_used_as_long_as_what_is_not(
    days: int, packs: tuple[str, int, str]
) -> None:
    """A pound a day as bought, half of which is usable, ordered every 2 days.

    What keeps 4 days serves for 4 lb of ten, at 0.60 / 0.4 = 1.50 a pound: two for 1.80 are 0.90.
    What keeps 8 days serves for 8 lb of ten, at 0.75.
    """
    row = f"Flour | | | 1 | lb | 2 | | {days} | 50 |"
    assert lines(bought(f"{MORE_OF_ITEMS}{row}")) == {"Flour": [packs]}


LEMONS = SHELVES.replace(
    "\n\nRecipes",
    "\n2026-11-02 | Lemon | Corner | 1 | ea | 1"
    "\n2026-11-02 | Lemon | Mill | 2 | ea | 1.50\n\nRecipes",
)


@pytest.mark.parametrize("row", [" | | 1 | ea | 1 | | 1 | |", "0 | ea | 1 | ea | | | 1 | | 7"])
def test_what_keeps_a_day_is_bought_for_a_day(row: str) -> None:
    """One a day that keeps a day: the second of two for 1.50 is lost, so one for 1.00."""
    found = answered("buy", LEMONS + f"{MORE_OF_ITEMS}Lemon | {row}".strip())
    assert lines(found) == {"Lemon": [("Corner", 1, "1 ea")]}


def test_what_is_used_by_the_week_is_lost_after_its_days(tmp_path: Path) -> None:
    """1.6 kg in kilos leave 0.4. Of 1.4 kg a week 1.8 are used in the 9 days that leeks keep.

    So 0.2 kg are used later, and 0.2 are lost. Nobody said how many batches a year there are.
    """
    drawn = text(keeps=9).replace("\nBatches per year | 52", "")
    drawn = drawn.replace("Par unit\n", "Par unit | Use per week\n").replace(
        "Leeks | | | 9 |  | kg", "Leeks | 0 | kg | 9 | | kg | 1.4"
    )
    line = line_of(answered("buy", drawn), "Leeks")
    close(line["left_over"], 0.4)
    assert line["keeps"] is False
    spoilt = "  400 g left over, of which 200 g spoils before it is used"
    assert spoilt in said(drawn, tmp_path)


def test_what_keeps_and_nobody_knows_how_much_of_it_is_used_is_not_said_to_keep() -> None:
    found = bought(f"{ITEMS}Tea | 0.5 | lb | 3 | lb | | | 30")
    assert line_of(found, "Tea")["keeps"] is None


def test_what_keeps_till_it_is_used_is_said_to(tmp_path: Path) -> None:
    told = said(SHELVES + f"{ITEMS}Flour | | | 1 | lb | 2 | | 20".strip(), tmp_path)
    assert "  8 lb left over, which keeps until it is used" in told


OFFERED = """

Offers
Item | Supplier | Pack size | Unit | Price per pack | Seen on
Flour | Corner | {} | lb | {} | 2026-11-19
"""


@pytest.mark.parametrize(
    ("receipt", "offer"), [("2 | lb | 1.80", ("10", "6")), ("10 | lb | 6", ("2", "1.80"))]
)
def test_the_largest_pack_of_a_shop_stands_first(receipt: str, offer: tuple[str, str]) -> None:
    """12 lb for a day: one of ten and one of two, whichever was bought and whichever only seen."""
    drawn = SHELVES.replace("2026-11-01 | Flour | Mill | 10 | lb | 6\n", "").replace(
        "2 | lb | 1.80", receipt
    )
    row = f"{ITEMS}Flour | | | 12 | lb | 1 | | 1".strip()
    found = answered("buy", drawn + row + OFFERED.format(*offer))
    assert lines(found) == {"Flour": [("Corner", 1, "10 lb"), ("Corner", 1, "2 lb")]}


def test_a_shop_without_a_name_is_anywhere(tmp_path: Path) -> None:
    told = said(SHELVES.replace("| Mill |", "| |") + LESSON.strip(), tmp_path)
    assert told[0] == "To buy: 1 item for 18.00 (anywhere 18.00)."
    assert "Anywhere (no supplier on its receipts): 18.00" in told


def test_an_order_as_large_as_the_least_is_one(tmp_path: Path) -> None:
    text_of = SHELVES + LESSON.strip() + "\n\nSuppliers\nSupplier | Least order\nMill | 18\n"
    assert not any("takes no order below" in line for line in said(text_of, tmp_path))


@pytest.mark.parametrize(
    ("items", "named"),
    [(("Tea", "Rye", "Oats"), "Tea, Rye, Oats"), (("Tea", "Rye", "Oats", "Bran"), "4 of these")],
)
def test_what_only_one_shop_has_is_named_or_counted(
    items: tuple[str, ...], named: str, tmp_path: Path
) -> None:
    receipts = "".join(f"\n2026-11-02 | {item} | Corner | 1 | lb | 8" for item in items[1:])
    drawn = SHELVES.replace("\n\nRecipes", f"{receipts}\n\nRecipes")
    rows = "".join(f"\n{item} | | | 1 | lb | | |" for item in items)
    told = said(drawn + f"{LESSON}{rows}".strip(), tmp_path)
    assert f"Corner is the only shop known for {named}." in told


def test_a_trip_is_held_against_what_is_lost_elsewhere(tmp_path: Path) -> None:
    """1.5 lb a day for a day: one of two at 1.80, half a pound lost; ten at the mill for 6.00.

    Nothing that is left is used, so the whole pack is what the day costs: the corner saves 4.20.
    """
    rows = "Flour | | | 1.5 | lb | 1 | | 1\nTea | | | 1 | lb | | |"
    drawn = SHELVES.replace("| Tea | Corner", "| Tea | Mill") + f"{ITEMS}{rows}".strip()
    told = said(f"{drawn}\n\nSuppliers\nSupplier | Trip cost\nCorner | 5\n", tmp_path)
    assert (
        "Buying at Corner saves 4.20, and its trip costs 5.00: it doesn't pay. "
        "Take 1 × 10 lb of Flour at Mill instead."
    ) in told


def test_another_pack_may_be_worth_less_than_a_coin_s_unit() -> None:
    """A pound a day that keeps the day: one at 0.50. Ten of which one is used are worth as much."""
    drawn = SHELVES.replace("Corner | 2 | lb | 1.80", "Corner | 1 | lb | 0.50")
    row = f"{ITEMS}Flour | | | 1 | lb | 1 | | 1"
    line = line_of(answered("buy", drawn + row.strip()), "Flour")
    assert line["others"] == [{"supplier": "Mill", "pack": "10 lb", "worth_taking_at": 0.5}]


TWINE = text().replace(
    "Roll | Flour | 900 | g | as bought", "Roll | Flour | 900 | g | as bought{line}"
)


def drawn_with(line: str, packaging: str, item: str = "") -> str:
    """The plan's book with a line of the roll, a row of packaging and one of Items more."""
    drawn = TWINE.replace("{line}", f"\n{line}" if line else "").replace(
        "Uses | Amount | Unit | Per\n", "Uses | Amount | Unit | Per | Spare %\n"
    )
    drawn = drawn.replace("Rolls, six | Bags", f"{packaging}Rolls, six | Bags")
    return (
        drawn.replace("\nItem | On hand |", "\nItem | Usable % | On hand |")
        .replace("\nFlour | 500 | g | |", f"{item}\nFlour | | 500 | g | |")
        .replace("\nLeeks | | |", "\nLeeks | | | |")
    )


@pytest.mark.parametrize(
    ("line", "packaging", "item", "asked"),
    [
        # two batches of 15 g, ready to use, of which three quarters are usable: 40 g
        ("Roll | Dill | 15 | g | ready to use", "", "\nDill | 75 | | | | |", {"Dill": "40 g"}),
        ("Roll | Dill | 15 | g | ready to use", "", "\nDill | lots | | | | |", {"Dill": ""}),
        # three packs of 30 cm and a tenth to spare; 30 cm and a piece are nobody knows how much
        ("", "Rolls, six | Twine | 30 | cm | pack | 10\n", "", {"Twine": "99 cm"}),
        (
            "",
            "Rolls, six | Twine | 30 | cm | pack | 10\nRoll, single | Twine | 1 | ea | pack |\n",
            "",
            {"Twine": ""},
        ),
    ],
)
def test_what_the_plan_takes_of_what_has_no_receipt(
    line: str, packaging: str, item: str, asked: dict[str, str]
) -> None:
    found = answered("buy", drawn_with(line, packaging, item))
    unsold = "No receipt says how it is sold: ask for its size and price."
    assert {each["item"]: each["why"] for each in found["ask"]} == {
        name: f"{unsold} The plan takes {amount}." if amount else unsold
        for name, amount in asked.items()
    }
