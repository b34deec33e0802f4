"""What a tired cook is told first: each line word for word, with the sheet that has the rest.

A flatbread is 1.00 made: 2.00 at a margin of a half, and sold for 1.50, a quarter below.
"""

from __future__ import annotations

import pytest

from costbook.deciding.in_short import ShortLine, at_one_look
from costbook.problems import Place, Problem, Severity
from tests.deciding.asking import costed
from tests.deciding.test_plan_words import DOCK, PIER, SOUP

STALL = """
Settings
Setting           | Value
Currency          | USD
Target margin %   | 50
Price step        | 0.5
Pay per hour      | 12
No kitchen to pay | yes
No overheads      | yes

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 1         | kg   | 2
2026-11-01 | Sugar | 1         | kg   | 3

Recipes
Recipe    | Uses  | Amount | Unit
Flatbread | Flour | 5      | kg

Batches
Recipe    | Makes | Unit
Flatbread | 10    | ea

Stages
Recipe    | Stage | Minutes per batch
Flatbread | Bake  | 0

Packaging
Product   | Uses  | Amount | Unit | Per
Flatbread | Flour | 0      | kg   | pack

Products
Product   | Recipe    | Units per pack | Current price
Flatbread | Flatbread | 1              | 1.5

Outlets
Outlet | Kind  | Fee per day | Hours per day | Units sold per day | Card share %
Market | stall | 0           | 0             | 10                 | 0
"""


def told(text: str, *problems: Problem) -> list[ShortLine]:
    return at_one_look(costed(text), problems, 2)


def test_every_line_says_what_it_is_about_and_where_the_rest_stands() -> None:
    assert told(STALL) == [
        ShortLine("Raise", "Flatbread at Market from 1.50 to 2.00.", "Prices"),
        ShortLine("What moved", "No price changed.", "What moved"),
        ShortLine("To put right", "Nothing.", "To put right"),
        ShortLine("Old prices", "None.", "Latest prices", live=True),
    ]


def test_three_prices_are_raised_first_the_furthest_below_before_the_others() -> None:
    four = "".join(f"Bun at {price} | Flatbread | 1 | {price}\n" for price in (1.5, 1.3, 1.4, 1.2))
    text = STALL.replace("Flatbread | Flour | 0", "all | Flour | 0")
    lines = told(text.replace("Flatbread | Flatbread | 1              | 1.5\n", four))
    raised = [line.words.split(" from ")[1] for line in lines if line.about == "Raise"]
    assert raised == ["1.20 to 2.00.", "1.30 to 2.00.", "1.40 to 2.00."]


def test_where_something_is_not_counted_the_price_is_the_least() -> None:
    raised, *_ = told(STALL.replace("No overheads      | yes\n", ""))
    assert raised.words == "Flatbread at Market from 1.50 to at least 2.00."


def test_without_an_outlet_no_place_is_named() -> None:
    raised, *_ = told(STALL.partition("Outlets")[0])
    assert raised.words.startswith("Flatbread from 1.50 to ")


def test_a_price_many_times_as_high_is_to_be_checked_first() -> None:
    raised, *_ = told(STALL.replace("| 1.5\n", "| 0.6\n"))
    assert raised.words == (
        "Flatbread at Market from 0.60 to 2.00. That is many times as much: check it first."
    )


def test_a_price_that_is_right_is_not_raised() -> None:
    raised, *_ = told(STALL.replace("| 1.5\n", "| 2\n"))
    assert raised == ShortLine("Raise", "Nothing to raise.", "Prices")


WRONG, DOUBT = (
    Problem(severity, Place("Stages", "A2"), "who bakes?", "Say it.") for severity in Severity
)


@pytest.mark.parametrize(
    ("problems", "words"),
    [
        ([WRONG], "Stages!A2: who bakes? Say it."),
        ([WRONG, DOUBT], "Stages!A2: who bakes? Say it."),
        ([WRONG, WRONG, WRONG], "Stages!A2: who bakes? Say it. And 2 more."),
        ([DOUBT], "Nothing is wrong; 1 to check."),
    ],
)
def test_of_what_is_wrong_the_first_is_named_and_the_others_counted(
    problems: list[Problem], words: str
) -> None:
    assert told(STALL, *problems)[2].words == words


TWO_SACKS = """
Items
Item  | Use per week
Flour | 5 kg
Sugar | 5 kg

Offers
Item  | Supplier | Pack size | Unit | Price per pack
Flour | Barn     | 10        | kg   | {flour}
Sugar | Barn     | 10        | kg   | {sugar}
"""


@pytest.mark.parametrize(
    ("flour", "sugar", "words"),
    [
        # 10 kg in 14 days: 10 × 2.00 = 20.00 of flour, 10 × 3.00 = 30.00 of sugar as bought
        (16, 28, "Flour: 1 × (10 kg from Barn) for 14 days saves 4.00."),
        (18, 24, "Sugar: 1 × (10 kg from Barn) for 14 days saves 6.00."),
        (19.5, 31, "Flour: 1 × (10 kg from Barn) for 14 days saves 0.50."),
    ],
)
def test_of_two_savings_the_larger_is_named(flour: float, sugar: float, words: str) -> None:
    lines = told(STALL + TWO_SACKS.format(flour=flour, sugar=sugar))
    assert lines[2] == ShortLine("What to buy", words, "Packs compared")


def test_nothing_is_saved_against_a_pack_whose_cost_is_not_known() -> None:
    """What the barn costs a year is part of a pack's cost, and can't be read."""
    text = STALL.replace("Item  | Pack size", "Item  | Supplier | Pack size")
    text = text.replace("| Flour | 1 ", "| Flour | Barn | 1 ")
    club = """
Suppliers
Supplier | Membership per year
Barn     | ?

Items
Item  | Use per week
Flour | 5 kg

Offers
Item  | Supplier | Pack size | Unit | Price per pack
Flour | Mill     | 10        | kg   | 10
"""
    assert "What to buy" not in [line.about for line in told(text + club)]
    named = [
        line.words for line in told(text + club.replace("?", "0")) if line.about == "What to buy"
    ]
    assert named == ["Flour: 1 × (10 kg from Mill) for 14 days saves 10.00."]


def test_of_two_old_prices_the_oldest_is_named() -> None:
    """From 1 August to 20 November are 111 days, from 1 September 80."""
    flour, sugar = "2026-11-01 | Flour", "2026-11-01 | Sugar"
    old = STALL.replace(flour, "2026-08-01 | Flour").replace(sugar, "2026-09-01 | Sugar")
    assert told(old)[-1].words == "2 are old: Flour, 111 days."


def test_what_saves_nothing_is_not_named() -> None:
    lines = told(STALL + TWO_SACKS.format(flour=20, sugar=31))
    assert [line.about for line in lines] == ["Raise", "What moved", "To put right", "Old prices"]


def test_of_two_packs_the_older_price_is_to_be_asked() -> None:
    """66.00 + 25.00 for a batch of 4 kg; 4 × 25.00 in the pack bought last. One is 8 days old."""
    text = SOUP.format(f"{DOCK.replace('11-19', '11-12')}\n{PIER}", 2)
    (bought,) = [line.words for line in told(text) if line.about == "What to buy"]
    assert bought.endswith("saves 9.00. Ask first: the price is of 2026-11-12.")


# Each brings a line or two: a plan, a market day, and a batch that is past its date.
PLAN = """
Plan
Product    | Wanted
Bun at 1.2 | 20
"""
DAYS = """
Market days
Date       | Outlet | Hours | Float | Cash counted | Card takings
2026-11-14 | Market | 4     | 50    | 62           | 0

Sales
Date       | Outlet | Product    | Taken | Sold
2026-11-14 | Market | Bun at 1.2 | 12    | 10
"""
MADE = """
Made
Date       | Product    | Packs | Use by
2026-11-01 | Bun at 1.2 | 30    | 2026-11-18
"""
RAISED = ["Raise"] * 3


def crowded(*more: str) -> str:
    """A stall with four prices to raise, an old one to ask for again, and more sheets."""
    four = "".join(f"Bun at {price} | Flatbread | 1 | {price}\n" for price in (1.5, 1.3, 1.4, 1.2))
    text = STALL.replace("Flatbread | Flatbread | 1              | 1.5\n", four)
    text = text.replace("Flatbread | Flour | 0", "all | Flour | 0")
    return "".join((text.replace("2026-11-01 | Sugar", "2026-08-01 | Sugar"), *more))


@pytest.mark.parametrize(
    ("more", "about"),
    [
        ((), ["What moved", "To put right", "Old prices"]),
        ((PLAN, MADE), ["To make", "What moved", "To buy", "Freezer", "To put right"]),
        ((DAYS,), ["What moved", "Last market day", "To put right", "Old prices"]),
        ((PLAN, DAYS, MADE), ["To make", "To buy", "Freezer", "Last market day", "To put right"]),
    ],
)
def test_of_ten_lines_the_least_urgent_are_left_out(
    more: tuple[str, ...], about: list[str]
) -> None:
    """First old prices, then what moved; what is to be put right stays."""
    lines = told(crowded(*more), WRONG)
    assert [line.about for line in lines] == [*RAISED, *about]
    assert len(lines) <= 8
    assert "Stages!A2: who bakes? Say it." in [line.words for line in lines]
