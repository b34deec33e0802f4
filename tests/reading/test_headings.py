# ruff: noqa: E501 - one line a sentence, however long it is
"""Headings that say more than a name: a unit in brackets, a rate, what is lost; columns not read.

The stall below costs the same in every case that is applied: 5 kg of flour at 6.00, of which
2,000 g go into 20 rolls, are 2,000 × 0.0012 = 2.40 or 0.12 a roll; 20 minutes and 90 seconds a
roll at 18 an hour are (20 + 20 × 1.5) × 0.3 = 15 or 0.75 a roll.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest

from tests.helpers import Shown
from tests.reading.costed import costed

Rows = list[list[object]]

STALL: Mapping[str, Rows] = {
    "Settings": [
        ["Setting", "Value"],
        ["Currency", "USD"],
        ["Pay per hour", 18],
        ["Target margin %", 0.3],
    ],
    "Purchases": [
        ["Date", "Item", "Packs", "Pack size", "Unit", "Price per pack"],
        ["2026-11-01", "Flour", 2, 5, "kg", 6],
        ["2026-11-01", "Egg", 1, 30, "ea", 9],
    ],
    "Items": [["Item", "Usable %", "Grams per piece"], ["Flour"], ["Egg", None, 50]],
    "Recipes": [["Recipe", "Uses", "Amount", "Unit"], ["Roll", "Flour", 2000, "g"]],
    "Batches": [["Recipe", "Makes", "Unit", "Rejects"], ["Roll", 20, "ea"]],
    "Stages": [
        ["Recipe", "Stage", "Minutes per batch", "Minutes per unit"],
        ["Roll", "Bake", 20, 1.5],
    ],
    "Products": [["Product", "Recipe", "Units per pack"], ["Roll", "Roll", 1]],
    "Overheads": [["Cost", "Amount", "Per"], ["Gas", 2, "batch"]],
}


def changed(sheet: str, old: str, new: str, *figures: object) -> dict[str, Rows]:
    """The stall with a heading changed, and the figures below it where they are given."""
    headings, *rows = STALL[sheet]
    at = headings.index(old)
    below = [
        [*row[:at], figure, *row[at + 1 :]] for row, figure in zip(rows, figures, strict=False)
    ]
    head = [*headings[:at], new, *headings[at + 1 :]]
    return {**STALL, sheet: [head, *(below or rows)]}


def part(answer: dict[str, Any], name: str) -> float | None:
    cost: dict[str, float | None] = answer["products"][0]["cost"]
    return cost[name]


def said(answer: dict[str, Any]) -> list[str]:
    return [
        f"{p['severity']} {p['sheet']}!{p['cell']}: {p['what']} {p['remedy']}"
        for p in answer["problems"]
        if p["sheet"]
    ]


RENAME = "Rename the heading if that is not what it is."

APPLIED = [
    (
        ("Purchases", "Price per pack", "Price per pack (cents)", 600, 900),
        f'Purchases!F1: by the heading "Price per pack (cents)", 100 counts as 1. {RENAME}',
    ),
    (
        ("Purchases", "Price per pack", "Price per pack (whole line)", 12, 9),
        f'Purchases!F1: by the heading "Price per pack (whole line)", each price was divided by the Packs of its row. {RENAME}',
    ),
    (
        ("Stages", "Minutes per batch", "Minutes per batch (hours)", Decimal(1) / 3),
        f'Stages!C1: by the heading "Minutes per batch (hours)", 1 counts as 60. {RENAME}',
    ),
    (
        ("Stages", "Minutes per unit", "Minutes per unit [secs]", 90),
        f'Stages!D1: by the heading "Minutes per unit [secs]", 60 counts as 1. {RENAME}',
    ),
    (
        ("Items", "Usable %", "Waste %", 0, 5),
        'Items!B1: the heading "Waste %" was read as what is lost: 11 % is a Usable % of 89. ' + RENAME,
    ),
]  # fmt: skip


@pytest.mark.parametrize(("change", "says"), APPLIED, ids=[says[:40] for _, says in APPLIED])
def test_a_unit_in_a_heading_is_applied_and_said(change: tuple[Any, ...], says: str) -> None:
    answer = costed(changed(*change))
    assert part(answer, "ingredients") == pytest.approx(0.12, rel=1e-12)
    assert part(answer, "labour") == pytest.approx(0.75, rel=1e-12)
    assert f"doubtful {says}" in said(answer)
    assert not [line for line in said(answer) if line.startswith("wrong")]


@pytest.mark.parametrize(
    ("sheet", "old", "new"),
    [
        ("Purchases", "Price per pack", "Price per pack ($)"),
        ("Purchases", "Price per pack", "Price per pack (USD)"),
        ("Purchases", "Price per pack", "Price per pack (each)"),
        ("Purchases", "Unit", "Unit (g, kg, ea)"),
        ("Purchases", "Date", "Date (y-m-d)"),
        ("Stages", "Minutes per batch", "Minutes per batch (min)"),
        ("Items", "Usable %", "Usable (%)"),
        ("Items", "Grams per piece", "Grams per piece (g)"),
        ("Batches", "Makes", "Makes (ea)"),
        ("Recipes", "Amount", "Amount (for one batch)"),
        ("Recipes", "Amount", "Amount (g)"),
        ("Overheads", "Amount", "Amount (per batch)"),
    ],
)
def test_a_heading_that_says_what_is_so_anyway_says_nothing(sheet: str, old: str, new: str) -> None:
    answer = costed(changed(sheet, old, new))
    plain = costed(STALL)
    assert answer["products"] == plain["products"]
    assert said(answer) == said(plain)


def asked(heading: str, words: str, title: str) -> str:
    return (
        f'the heading "{heading}" says "{words}", which is not how "{title}" is counted, so its '
        "column was not used. "
    )


ASKED = [
    (
        ("Purchases", "Price per pack", "Price per pack (per kg)"),
        "ingredients",
        "Purchases!F1: " + asked("Price per pack (per kg)", "per kg", "Price per pack") +
        "Type what one whole pack costs; or give each cell its unit, as in 3.99/kg, and head the "
        'column "Price per pack".',
    ),
    (
        ("Purchases", "Price per pack", "Price per pack (EUR)"),
        "ingredients",
        "Purchases!F1: " + asked("Price per pack (EUR)", "EUR", "Price per pack") +
        'Head it "Price per pack", and type the figures so.',
    ),
    (
        ("Stages", "Minutes per unit", "Minutes per unit (%)"),
        "labour",
        "Stages!D1: " + asked("Minutes per unit (%)", "%", "Minutes per unit") +
        'Head it "Minutes per unit", and type the figures so.',
    ),
    (
        ("Overheads", "Amount", "Amount (per month)"),
        "overhead",
        "Overheads!B1: " + asked("Amount (per month)", "per month", "Amount") +
        'Make it and the column Per say the same, or head it "Amount".',
    ),
]  # fmt: skip


@pytest.mark.parametrize(("change", "unknown", "says"), ASKED, ids=[a[0][2] for a in ASKED])
def test_a_unit_that_the_column_can_not_have_is_asked(
    change: tuple[Any, ...], unknown: str, says: str
) -> None:
    answer = costed(changed(*change))
    assert part(answer, unknown) is None
    assert part(answer, "total") is None
    assert f"wrong {says}" in said(answer)
    assert answer["products"][0]["price"]["on_step"] is None


@pytest.mark.parametrize("typed", [4, 0.04, "4", Shown(0.04, "0%")])
def test_rejects_by_a_heading_with_a_percent_sign_are_a_share_of_the_batch(typed: object) -> None:
    """4 % of 20 are 0.8 of a roll: 2.40 of flour are carried by 19.2."""
    batches: Rows = [["Recipe", "Makes", "Unit", "Rejects %"], ["Roll", 20, "ea", typed]]
    answer = costed({**STALL, "Batches": batches})
    assert part(answer, "ingredients") == pytest.approx(0.125, rel=1e-12)
    assert (
        f'doubtful Batches!D1: by the heading "Rejects %", a figure is a share of the batch: 4 is 4 %. {RENAME}'
    ) in said(answer)


def test_a_column_of_which_every_cell_is_blank_is_not_asked() -> None:
    answer = costed(changed("Batches", "Rejects", "Rejects (%)"))
    assert said(answer) == said(costed(STALL))


def test_other_words_in_brackets_are_said() -> None:
    answer = costed(changed("Purchases", "Packs", "Packs (at the mill)"))
    assert answer["products"] == costed(STALL)["products"]
    assert (
        'doubtful Purchases!C1: in the heading "Packs (at the mill)", "at the mill" was not taken '
        "into account. Nothing, if it says no unit and no rate."
    ) in said(answer)


def test_a_heading_gives_the_unit_where_the_cell_is_blank() -> None:
    """2 kg and 2,000 g are the same; the second line has its own cell."""
    recipes: Rows = [["Recipe", "Uses", "Amount (kg)"], ["Roll", "Flour", 2]]
    answer = costed({**STALL, "Recipes": recipes})
    assert part(answer, "ingredients") == pytest.approx(0.12, rel=1e-12)
    assert (
        f'doubtful Recipes!C1: where the unit is blank, kg was taken from the heading "Amount (kg)".'
        f" {RENAME}"
    ) in said(answer)


def test_a_unit_beside_that_differs_from_the_heading_is_asked() -> None:
    recipes: Rows = [["Recipe", "Uses", "Amount (kg)", "Unit"], ["Roll", "Flour", 2000, "g"]]
    answer = costed({**STALL, "Recipes": recipes})
    assert part(answer, "ingredients") is None
    assert (
        'wrong Recipes!C2: the heading says kg, and the unit beside it says "g". '
        "Make the two agree."
    ) in said(answer)


def test_a_text_under_a_heading_with_another_unit_is_asked() -> None:
    answer = costed(changed("Stages", "Minutes per batch", "Minutes per batch (hours)", "20 min"))
    assert part(answer, "labour") is None
    assert (
        'wrong Stages!C2: "20 min" stands under the heading "Minutes per batch (hours)". '
        "Type the number alone, as the heading has it."
    ) in said(answer)


def test_waste_of_all_there_is_leaves_nothing_to_use() -> None:
    answer = costed(changed("Items", "Usable %", "Waste %", 1, None))
    assert part(answer, "ingredients") is None
    assert (
        "wrong Items!B2: Usable % is 0. Type a number above zero, or leave the cell empty."
    ) in said(answer)


def test_a_fifth_of_waste_leaves_four_fifths() -> None:
    """0.12 ÷ 0.8 = 0.15."""
    answer = costed(changed("Items", "Usable %", "Waste %", 20, None))
    assert part(answer, "ingredients") == pytest.approx(0.15, rel=1e-12)


def test_waste_beside_usable_is_not_read_and_said() -> None:
    items: Rows = [["Item", "Usable %", "Waste %"], ["Flour", 80, 20]]
    answer = costed({**STALL, "Items": items})
    assert part(answer, "ingredients") == pytest.approx(0.15, rel=1e-12)  # 0.12 ÷ 0.8
    assert any('another column is headed "Usable %" or the like' in line for line in said(answer))


# ---------------------------------------------------------------- columns that weren't read


def test_columns_that_were_not_read_are_named_once() -> None:
    head, *rows = STALL["Purchases"]
    more = [[*head, "Slip no", "Paid by"], *([*row, 7, "card"] for row in rows)]
    answer = costed({**STALL, "Purchases": more})
    assert answer["products"] == costed(STALL)["products"]
    assert [line for line in said(answer) if "not read" in line] == [
        'doubtful Purchases!G1: these columns were not read: "Slip no", "Paid by". Nothing, if no cost stands there.'
    ]


def test_one_column_or_a_dozen() -> None:
    head, *rows = STALL["Batches"]
    answer = costed({**STALL, "Batches": [[*head, "Tin"], *([*row, None, "big"] for row in rows)]})
    assert 'doubtful Batches!E1: this column was not read: "Tin". ' in "".join(said(answer))
    many = [f"Tin {at}" for at in range(12)]
    book = {**STALL, "Batches": [[*head, *many], *([*row, None, *many] for row in rows)]}
    assert '"Tin 6", "Tin 7" and 4 more.' in "".join(said(costed(book)))


def test_a_column_that_holds_nothing_is_not_named() -> None:
    head, *rows = STALL["Batches"]
    assert said(costed({**STALL, "Batches": [[*head, "Tin"], *rows]})) == said(costed(STALL))
