"""The labels of the season's stall, worked by hand from its sheets.

In descending order of predominance by weight (21 CFR 101.4(a)(1), read), as put in, ready to use.
"""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from tests.helpers import run
from tests.samples.build import SAMPLES
from tests.tables import close

WEIGHTS = {
    # 2 kg of cabbage as bought, 80 % usable: 1600; 1 kg of mushrooms, 97 %: 970
    "Cabbage dumplings, six": [("Dumpling dough", 3000), ("cabbage", 1600), ("mushrooms", 970)],
    # 3 kg of carrots as bought, 89 % usable: 2670, before 2 kg of lentils
    "Lentil soup": [("carrots", 2670), ("red lentils", 2000)],
    "Plum bun": [("wheat flour", 1500), ("plums", 1200), ("sugar", 500)],
}
STATEMENTS = {
    "Cabbage dumplings, six": "Ingredients: Dumpling dough (wheat flour), cabbage, mushrooms.",
    "Lentil soup": "Ingredients: carrots, red lentils.",
    "Plum bun": "Ingredients: wheat flour, plums, sugar.",
}
ALLERGENS = {
    "Cabbage dumplings, six": (["wheat"], [], []),
    "Lentil soup": ([], ["mustard"], []),
    "Plum bun": (["wheat"], [], ["Plums"]),
}
"""What is in it, what may be, and what of that is unknown."""
GRAMS = {"Cabbage dumplings, six": 300, "Lentil soup": 400, "Plum bun": 90}
OUNCE = Fraction("28.349523125")
"""Grams of an ounce, exactly (NIST Handbook 44, Appendix C; from memory): 10.58, 14.11, 3.17 oz."""


@pytest.fixture(scope="module")
def labels() -> dict[str, dict[str, Any]]:
    """The labels by product."""
    code, out, _ = run("labels", SAMPLES / "market_season.xlsx", "--json", "--on", "2026-11-20")
    assert code == 1  # one isn't finished
    return {each["product"]: each for each in json.loads(out)["labels"]}


@pytest.mark.parametrize("product", WEIGHTS)
def test_ingredients_stand_by_the_weights_worked_by_hand(
    labels: dict[str, Any], product: str
) -> None:
    label = labels[product]
    found = label["ingredients"]
    assert [each["name"] for each in found] == [name for name, _ in WEIGHTS[product]]
    for each, (_, grams) in zip(found, WEIGHTS[product], strict=True):
        close(each["grams"], grams)
    assert label["statement"] == STATEMENTS[product]


@pytest.mark.parametrize("product", ALLERGENS)
def test_allergens_are_those_of_the_sheet_and_one_is_unknown(
    labels: dict[str, Any], product: str
) -> None:
    label = labels[product]
    found = (label["allergens"], label["may_contain"], label["unknown_allergens"])
    assert found == ALLERGENS[product]
    finished = not label["unknown_allergens"]
    assert label["unfinished"] == ("" if finished else "NOT FINISHED. ALLERGENS UNKNOWN: Plums.")


@pytest.mark.parametrize("product", GRAMS)
def test_net_weight_is_exact_in_both_systems(labels: dict[str, Any], product: str) -> None:
    net = labels[product]["net_weight"]
    close(net["g"], GRAMS[product])
    close(net["oz"], GRAMS[product] / OUNCE)
