"""Yield, butcher and cooking tests worked by others: weighed before, weighed after, what it costs.

Only what was weighed and paid is typed; every printed share, factor and cost is computed. What is
left of a batch after its rejects is what trimming leaves. Beside each: its source, and how it
reached us, as in test_worked_examples.py.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tests.helpers import priced, product_of
from tests.tables import close, row_of, sheets
from tests.truth.dish import DISH, cut, made_of, printed


@dataclass(frozen=True)
class Trimmed:
    """What was paid for a unit as bought, and what `cost --json` says of it trimmed."""

    paid: float
    whole: float
    each: float
    portion: float

    @property
    def left(self) -> float:
        return self.whole / self.each

    @property
    def share(self) -> float:
        return self.paid / self.each

    @property
    def factor(self) -> float:
        return self.each / self.paid


def trimmed(bought: str, paid: float, makes: str, portion: str, trimmings: str = "") -> Trimmed:
    """Buy ``bought`` ("12 lb") at ``paid`` a unit, less the ``trimmings``, and make ``makes``.

    ``makes`` is "12 | lb | 6" where 12 lb lose 6, and a portion is "5 | oz". Trimmings are a
    receipt line without a size: pounds of trimmings, and what a pound of them is worth, below zero.
    """
    weight, unit = bought.split()
    credited = "".join(f"\n2026-11-01|Meat|{line}" for line in trimmings.split(";") if line)
    answer = priced(
        sheets(
            DISH,
            "Purchases\nDate|Item|Packs|Price per pack|Pack size|Unit\n"
            f"2026-11-01|Meat|{weight}|{paid!r}|1|{unit}{credited}",
            "Recipes\nRecipe|Uses|Amount|Unit|Measured\n"
            f"Trimmed|Meat|{weight}|{unit}|as bought\nDish|Trimmed|{portion}|",
            f"Batches\nRecipe|Makes|Unit|Rejects\nTrimmed|{makes}\nDish|1|ea|",
        )
    )
    row = row_of(answer, "recipe", "Trimmed")
    each_portion = product_of(answer, "Portion")["cost"]["ingredients"]
    return Trimmed(paid, row["batch_cost"], row["unit_cost"], each_portion)


# W1. BC Cook Articulation Committee, Basic Kitchen and Food Service Management, BCcampus 2015,
# CC BY 4.0, "Yield Testing" (inputs read, outputs quoted).


@pytest.mark.parametrize(
    ("bought", "makes", "left", "share", "factor"),
    [
        ("1 kg", "800 | g |", "800", "80", None),  # carrots
        ("2.5 kg", "2.5 | kg | 0.75", "1750", "70", "1.42"),  # tenderloin, - 0.75 kg
        ("7.75 kg", "7.75 | kg | 2.75", "5000", "64.51", "1.55"),  # salmon, - 2.75 kg
    ],
)
def test_w1_what_is_left_is_the_share_and_the_factor(
    bought: str, makes: str, left: str, share: str, factor: str | None
) -> None:
    test = trimmed(bought, 1.00, makes, "1 | g")
    grams = test.left * (1 if " g " in makes else 1000)
    close(grams, left)
    whole = float(bought.partition(" ")[0]) * 1000  # at 1.00 a kilogram
    close(test.portion, whole / 1000 / float(left))
    cut(grams / whole * 100, share)
    if factor is not None:
        cut(test.factor, factor)


@pytest.mark.parametrize(("share", "factor"), [("80", "1.25"), ("70", "1.42"), ("64.51", "1.55")])
def test_w1_a_printed_share_costs_the_printed_factor(share: str, factor: str) -> None:
    """The other way: the share as printed, typed as Usable %. The carrots' 1.25 is ours (calc)."""
    cost = made_of(
        f"""
        Purchases
        Date       | Item | Pack size | Unit | Price per pack
        2026-11-01 | Fish | 1         | kg   | 1.00

        Items
        Item | Usable %
        Fish | {share}

        Recipes
        Recipe | Uses | Amount | Unit
        Dish   | Fish | 1000   | g
        """
    )
    cut(cost, factor)
    close(cost, 100 / float(share))


def test_w4_a_portion_cost_factor() -> None:
    """BCcampus 2015, "Cooking Loss Test" (quoted): 125 g, factor 0.2931; share 0.42648 (calc).

    The factor is the kilograms as bought that one portion takes.
    """
    roast = trimmed("0.2931 kg", 1.00, "125 | g |", "125 | g")
    printed(roast.portion, "0.2931")
    printed(1 / (roast.each * 1000), "0.42648")
    typed = made_of(
        """
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Roast | 1         | kg   | 1.00

        Items
        Item  | Usable %
        Roast | 0.42648

        Recipes
        Recipe | Uses  | Amount | Unit
        Dish   | Roast | 125    | g
        """
    )
    printed(typed, "0.2931")


def test_w5_three_quarters_of_fifty_pounds() -> None:
    """Class slides on Blocker & Hill, Culinary Math, ch. 9-10 (read): 37.5 lb at 2.48; 93.00.

    By weight: of 50 lb at 1.86, 12.5 lb are peel.
    """
    peeled = trimmed("50 lb", 1.86, "50 | lb | 12.5", "1 | lb")
    close(peeled.whole, "93.00")
    close(peeled.left, "37.5")
    close(peeled.each, "2.48")
    close(peeled.share, "0.75")


def test_w6_a_trimmed_striploin() -> None:
    """G. Wall, Trade Calculations: Yield and Cost of Edible Product, 2007 (read); cost (calc)."""
    striploin = trimmed("5.2 kg", 11.95, "4.6 | kg |", "1 | kg")
    printed(striploin.share * 100, "88.5")
    printed(striploin.portion, "13.508696")


# W8, W9. Student solution, "Exercise 6.3", a lamb loin of 12 lb at 6.65 (read; book not visible).


def test_w8_a_loin_whose_trimmings_are_credited() -> None:
    """Kidneys 1 lb at 6.10 and flanks 1.5 lb at 4.60 come off 79.80; 6 lb are usable."""
    loin = trimmed("12 lb", 6.65, "6 | lb |", "5 | oz", "1|-6.10||;1.5|-4.60||")
    close(loin.whole, "66.80")
    printed(loin.each, "11.13")
    close(loin.each, 66.80 / 6)
    printed(loin.factor, "1.67")
    printed(loin.portion, "3.48")
    close(loin.portion, 66.80 / 6 * 5 / 16)  # 3.479167
    printed(loin.portion / loin.paid, "0.52")
    printed(loin.portion / 5, "0.70")  # an ounce
    assert abs(loin.factor - 12 / 6) > 0.3  # with credits the factor is not 1 / yield


def test_w9_the_same_loin_after_cooking() -> None:
    """5 lb of 12 are saleable: 41.67 %, 15.96 a pound, 5 oz 4.99, factors 2.40 and 0.75."""
    loin = trimmed("12 lb", 6.65, "5 | lb |", "5 | oz")
    close(loin.whole, "79.80")
    printed(loin.share * 100, "41.67")
    close(loin.each, "15.96")
    close(loin.factor, "2.40")
    close(loin.portion, "4.9875")
    printed(loin.portion, "4.99")
    close(loin.portion / loin.paid, "0.75")


def test_w11_pork_at_three_quarters() -> None:
    """Ontario Pork, Costing for Foodservice (read): 5 kg at 25 -> 3.75 kg: 75 %; cost (calc)."""
    pork = trimmed("5 kg", 5.00, "3.75 | kg |", "1 | kg")
    close(pork.whole, "25")
    close(pork.share, "0.75")
    close(pork.portion, "20/3")


def test_w22_a_rib_of_beef_and_its_credits() -> None:
    """Textbook butcher test, a card filled in on a study-help site (read).

    38 lb 12 oz at 3.19; bones 4 lb 4 oz at 0.32, short ribs 3 lb 4 oz at 1.49, chopped 2 lb 8 oz at
    1.59, fat at nothing; 22 lb are left. The card prints 113.433 for 113.435, and goes on from it.
    """
    beef = trimmed(
        "38.75 lb", 3.19, "22 | lb |", "22 | oz", "4.25|-0.32||;3.25|-1.49||;2.5|-1.59||"
    )
    close(beef.whole, "113.435")
    assert abs(beef.whole - 113.433) < 0.0025  # printed
    printed(beef.each, "5.156")
    close(beef.each, 113.435 / 22)
    printed(beef.portion / 22, "0.322")
    printed(beef.portion, "7.090")
    close(beef.portion, "7.0896875")
    printed(beef.factor, "1.616")
    cut(beef.portion / beef.paid, "2.222")  # 2.22247


def test_w23_carrots_by_the_ounce() -> None:
    """The Culinary Institute of America, The Ultimate Guide to Recipe Calculation, p. 9 (quoted).

    0.106 an ounce at 75 % is 0.141; four ounces 0.564, from the rounded 0.141; exactly 0.565333.
    """
    carrots = """
        Purchases
        Date       | Item    | Pack size | Unit | Price per pack
        2026-11-01 | Carrots | 1         | oz   | 0.106

        Items
        Item    | Usable %
        Carrots | 75
        """
    head = "Recipes\nRecipe | Uses | Amount | Unit"
    ounce = made_of(carrots, f"{head}\nDish | Carrots | 1 | oz")
    printed(ounce, "0.141")
    four = made_of(carrots, f"{head}\nDish | Carrots | 4 | oz")
    close(four, 0.424 / 0.75)
    assert abs(four - 0.564) <= 4 * 0.0005  # printed


def test_w28_ten_legs_of_veal() -> None:
    """Textbook butcher test (inputs read); what a 5-oz portion costs is ours (calc).

    247 lb 8 oz for 814.28; fat 41.5 lb at 0.10, bones 56.5 at 0.38, shanks 19.75 at 1.49 and
    trimmings 47.25 at 1.89 come off, 144.35; 80 lb of cutlets are left.
    """
    paid = 814.28 / 247.5
    trimmings = "41.5|-0.10||;56.5|-0.38||;19.75|-1.49||;47.25|-1.89||"
    veal = trimmed("247.5 lb", paid, "80 | lb |", "5 | oz", trimmings)
    close(veal.whole, "669.93")
    printed(veal.portion, "2.61691406")


def test_frozen_spinach_loses_a_fifth_in_cooking() -> None:
    """USDA SR28 (read): a package of 284 g yields 220 g cooked, 77.5 % (calc)."""
    spinach = trimmed("284 g", 0.01, "220 | g |", "220 | g")
    close(spinach.portion, "2.84")
    printed(spinach.share * 100, "77.5")


# Published errors are said, or don't come out.


def test_a_yield_printed_as_bought_over_usable_is_said() -> None:
    """Published error: W1's factor, 1.42, written where its share, 0.70, belongs."""
    answer = priced(
        sheets(
            DISH,
            """
            Purchases
            Date       | Item | Pack size | Unit | Price per pack
            2026-11-01 | Beef | 1         | kg   | 1.00

            Items
            Item | Usable %
            Beef | 1.42

            Recipes
            Recipe | Uses | Amount | Unit
            Dish   | Beef | 1      | kg
            """,
        )
    )
    places = {(said["sheet"], said["cell"]) for said in answer["problems"]}
    assert ("Items", "B2") in places


def test_750_less_300_is_not_400() -> None:
    """Published error: 750 g that lose 300 g, printed as 400 g left."""
    close(trimmed("750 g", 1.00, "750 | g | 300", "1 | g").left, "450")
