"""What a plan makes one buy, by hand: batches × lines, packaging, less what is on hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.deciding.asking import ON, answered
from tests.helpers import make_book, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import close, sheets

STALL = """
Settings
Setting | Value
Currency | USD
Small-ingredient allowance % | 10
Batches per year | 52

Purchases
Date | Item | Supplier | Pack size | Unit | Price per pack
2026-11-01 | Flour | Mill | 10 | kg | 12
2026-11-02 | Flour | Corner | 1.5 | kg | 2.40
2026-11-02 | Leeks | Corner | 1 | kg | 3
2026-11-02 | Film | Corner | 30 | m | 4.50
2026-11-02 | Bags | Mill | 100 | ea | 8

Recipes
Recipe | Uses | Amount | Unit | Measured
Roll | Flour | 900 | g | as bought
Roll | Filling | 600 | g |
Filling | Leeks | 1600 | g | as bought

Batches
Recipe | Makes | Unit | Rejects
Roll | 24 | ea | {rejects}
Filling | 1.2 | kg |

Products
Product | Recipe | Units per pack
Roll, single | Roll | 1
Rolls, six | Roll | 6

Packaging
Product | Uses | Amount | Unit | Per
all | Film | 40 | cm | unit
Rolls, six | Bags | 1 | ea | pack

Items
Item | On hand | On hand unit | Keeps days | Par | Par unit
Flour | 500 | g | | |
Leeks | | | {keeps} | {par} | kg

Plan
Product | Wanted
Roll, single | {singles}
Rolls, six | {sixes}
"""
USUAL = {"rejects": "", "keeps": "", "par": "", "singles": 30, "sixes": 3}


def text(**more: object) -> str:
    return STALL.format(**{**USUAL, **more})


def bought(**more: object) -> dict[str, Any]:
    return answered("buy", text(**more))


def by_item(found: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {line["item"]: line for shop in found["suppliers"] for line in shop["lines"]}


def test_the_plan_s_batches_are_bought_for_and_their_packaging() -> None:
    """30 + 3 × 6 = 48 rolls are two batches, and 1200 g of filling one.

    Flour 2 × 900 - 500 on hand = 1300 g, leeks 1600 g, film 48 × 40 cm = 19.2 m, three bags. The
    allowance of 10 % for small ingredients is not bought. All keeps: flour is 1.20 a kilo in tens.
    """
    found = bought()
    lines = by_item(found)
    expected: dict[str, tuple[float | str, ...]] = {
        "Flour": (1.8, 0.5, 1.3, "kg", 1, "10 kg", 12, 8.7),
        "Leeks": (1.6, 0, 1.6, "kg", 2, "1 kg", 6, 0.4),
        "Film": (19.2, 0, 19.2, "m", 1, "30 m", 4.5, 10.8),
        "Bags": (3, 0, 3, "piece", 1, "100 ea", 8, 97),
    }
    assert set(lines) == set(expected)
    names = ("need", "on_hand", "to_buy", "unit", "packs", "pack", "cost", "left_over")
    for item, figures in expected.items():
        for name, figure in zip(names, figures, strict=True):
            if isinstance(figure, str):
                assert lines[item][name] == figure
            else:
                close(lines[item][name], figure)
    assert {shop["supplier"]: shop["total"] for shop in found["suppliers"]} == {
        "Mill": 20,
        "Corner": 10.5,
    }
    assert (found["total"], found["ask"]) == (30.5, [])


def test_what_is_rejected_is_wrapped_and_filled_all_the_same() -> None:
    """20 of 24 are good: 36 + 0 rolls are two batches, so 48 are wrapped; none is bagged."""
    lines = by_item(bought(rejects=4, singles=36, sixes=0))
    close(lines["Film"]["need"], 19.2)
    close(lines["Flour"]["need"], 1.8)
    assert "Bags" not in lines


def test_what_doesn_t_keep_till_the_next_batch_is_lost() -> None:
    """A batch a week: leeks that keep 2 days are lost, those that keep 9 are used in the next."""
    short, long = (by_item(bought(keeps=days))["Leeks"] for days in (2, 9))
    assert (short["keeps"], long["keeps"]) == (False, True)
    close(short["left_over"], 0.4)
    assert by_item(bought())["Leeks"]["keeps"] is None


def test_a_par_above_the_need_is_bought_up_to() -> None:
    """The plan takes 1.6 kg. To a par of 3 kg it is three packs, to one of 1 kg two."""
    assert by_item(bought(par=3))["Leeks"]["packs"] == 3
    assert by_item(bought(par=1))["Leeks"]["packs"] == 2


def test_nothing_wanted_nothing_to_buy() -> None:
    found = bought(singles=0, sixes=0)
    assert (found["suppliers"], found["ask"], found["total"]) == ([], [], 0)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("Rolls, six | 3", "Rolls, sixes | 3"),  # a product that nobody sells
        ("Roll, single | 30", "Roll, single | a few"),
    ],
)
def test_a_slip_on_the_plan_leaves_nothing_out(before: str, after: str) -> None:
    found = answered("buy", text().replace(before, after))
    said = "What the plan takes of it can't be counted: see To put right."
    assert {each["item"]: each["why"] for each in found["ask"]} == dict.fromkeys(
        ("Flour", "Leeks", "Film", "Bags"), said
    )
    assert (found["total"], found["known"]) == (None, 0)


def test_one_question_about_many_items_is_asked_once(tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(text(singles="a few")))
    out = run("buy", book, "--on", ON)[1]
    assert out.split("\n\nSums from")[0] == (
        "To buy: Ask about 4 items.\n"
        "\n"
        "To ask:\n"
        "What the plan takes of it can't be counted: see To put right.\n"
        "[ ] Flour\n"
        "[ ] Leeks\n"
        "[ ] Film\n"
        "[ ] Bags"
    )
    run("cost", book, "--on", ON, "--output", tmp_path / "out.xlsx")
    with IronCalc() as judge:
        said = list(judge.open(tmp_path / "out.xlsx").values("Buy list").values())
    assert said.count("What the plan takes of it can't be counted: see To put right.") == 1
    assert [said.count(name) for name in ("Flour", "Leeks", "Film", "Bags")] == [2] * 4


def test_what_has_no_receipt_is_asked_for_with_what_the_plan_takes() -> None:
    """Two batches of 15 g, trimmed to three quarters: 40 g; one of 30 g for each bag: 90 g."""
    more = "Roll | Flour | 900 | g | as bought\nRoll | Dill | 15 | g | ready to use"
    drawn = text().replace("Roll | Flour | 900 | g | as bought", more)
    drawn = drawn.replace("Roll | Dill | 15 | g | ready to use", "Roll | Dill | 15 | g | as bought")
    drawn = drawn.replace(
        "Rolls, six | Bags", "Rolls, six | Twine | 30 | cm | pack\nRolls, six | Bags"
    )
    found = answered("buy", drawn)
    said = "No receipt says how it is sold: ask for its size and price. The plan takes {}."
    assert {each["item"]: each["why"] for each in found["ask"]} == {
        "Dill": said.format("30 g"),
        "Twine": said.format("90 cm"),
    }
    assert (found["total"], found["known"]) == (None, 30.5)


def test_the_sheet_follows_the_plan(tmp_path: Path) -> None:
    """Twice as much: 4 batches. Flour 3.6 - 0.5 = 3.1 kg, leeks 3.2 kg, film 38.4 m, six bags.

    Nothing: no pack is left on the list. As of the run all of it again.
    """
    book = make_book(tmp_path / "stall.xlsx", sheets(text()))
    run("cost", book, "--on", ON, "--output", tmp_path / "out.xlsx")
    with IronCalc() as judge:
        document = judge.open(tmp_path / "out.xlsx")
        for singles, sixes, packs, total in (
            (60, 6, {"Flour": 1, "Leeks": 4, "Film": 2, "Bags": 1}, 12 + 12 + 9 + 8),
            (0, 0, {"Flour": 0, "Leeks": 0, "Film": 0, "Bags": 0}, 0),
            (30, 3, {"Flour": 1, "Leeks": 2, "Film": 1, "Bags": 1}, 30.5),
        ):
            document.set_many([("Plan", "B2", singles), ("Plan", "B3", sixes)])
            document.recalculate()
            shown = document.values("Buy list")
            rows = {shown[f"B{at}"]: at for at in range(30, 0, -1) if f"B{at}" in shown}
            assert {item: shown[f"C{rows[item]}"] for item in packs} == packs
            last = max(at for at in range(30) if shown.get(f"B{at}") == "In all")
            close(shown[f"E{last}"], total)


def test_what_is_to_be_bought_only_now_is_said(tmp_path: Path) -> None:
    """No six was wanted when it was costed; a bag is on no line then."""
    book = make_book(tmp_path / "stall.xlsx", sheets(text(sixes=0)))
    run("cost", book, "--on", ON, "--output", tmp_path / "out.xlsx")
    said = "More is to be bought now than stands here: run costbook again."
    with IronCalc() as judge:
        document = judge.open(tmp_path / "out.xlsx")
        for sixes, shown in ((3, True), (0, False)):
            document.set("Plan", "B3", sixes)
            document.recalculate()
            assert (said in document.values("Buy list").values()) is shown
