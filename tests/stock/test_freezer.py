"""The freezer, worked by hand: the last count, what was made and went since, and which batches."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from tests.helpers import make_book, run
from tests.judges import compare
from tests.judges.ironcalc_judge import IronCalc
from tests.judges.stored import stored_values, with_wrong_stored_values
from tests.stock.books import ON, Sheets, day, stall


def freezer(book: Sheets, folder: Path, on: str = ON) -> dict[str, Any]:
    path = make_book(folder / "stall.xlsx", book)
    code, out, err = run("freezer", path, "--json", "--on", on)
    assert code in (0, 1), err
    found: dict[str, Any] = json.loads(out)
    return found


def product(answer: dict[str, Any], name: str) -> dict[str, Any]:
    found: list[dict[str, Any]] = [each for each in answer["products"] if each["product"] == name]
    assert len(found) == 1
    return found[0]


def test_the_last_count_and_what_came_and_went_since(tmp_path: Path) -> None:
    """18 counted on the 8th, and 22 + 10 made since, less 15 + 1 + 2 that went: 32 are left.

    First made, first gone. Of the first twenty 18 were there on the 8th, and those went; so the 22
    of the 9th and the 10 of the 10th are left. By the rows there were 20 − 5 − 1 = 14 on the 8th.
    """
    answer = freezer(stall(), tmp_path)
    assert product(answer, "Bun, single") == {
        "product": "Bun, single",
        "packs": 32,
        "lacks": None,
        "oldest": "2026-11-09",
        "count_found_more": 4,
        "batches": [
            {"batch_code": "A2", "made": "2026-11-09", "use_by": "2026-11-28", "packs": 22},
            {"batch_code": "A3", "made": "2026-11-10", "use_by": "2026-12-20", "packs": 10},
        ],
    }
    assert product(answer, "Bun, six") == {
        "product": "Bun, six",
        "packs": 2,
        "lacks": None,
        "oldest": "2026-11-16",
        "count_found_more": None,
        "batches": [{"batch_code": "B1", "made": "2026-11-16", "use_by": None, "packs": 2}],
    }


def test_each_day_by_hand(tmp_path: Path) -> None:
    """20 on the 2nd; 14 on the 7th; 18 counted on the 8th; 40, 50; 32 after the 14th."""
    left = {"2026-11-01": 0, "2026-11-06": 20, "2026-11-07": 14, "2026-11-08": 18}
    left |= {"2026-11-09": 40, "2026-11-13": 50, "2026-11-14": 32}
    for on, packs in left.items():
        assert product(freezer(stall(), tmp_path, on), "Bun, single")["packs"] == packs, on


def test_more_than_was_made_is_older_than_made(tmp_path: Path) -> None:
    """25 counted, of which Made brought 20: five are older, and go first."""
    answer = freezer(stall({"Counts": [(day(8), "Bun, single", 25, None)]}), tmp_path, "2026-11-08")
    batches = [
        (each["batch_code"], each["packs"]) for each in product(answer, "Bun, single")["batches"]
    ]
    assert batches == [(None, 5), ("A1", 20)]


def test_of_two_counts_on_a_day_the_lower_row_stands_and_dozens_are_twelves(tmp_path: Path) -> None:
    counts = [(day(8), "Bun, single", 30, None), (day(8), "Bun, single", 1.5, "dozen")]
    assert product(freezer(stall({"Counts": counts}), tmp_path), "Bun, single")["packs"] == 32


def test_a_count_of_none_is_a_count(tmp_path: Path) -> None:
    counts = [(day(20), "Bun, single", 0, None)]
    found = product(freezer(stall({"Counts": counts}), tmp_path), "Bun, single")
    assert (found["packs"], found["batches"], found["oldest"]) == (0, [], None)


UNKNOWN: dict[str, tuple[Sheets, str]] = {
    "a row of Made without packs": (
        {"Made": [(day(9), "Bun, single", None, None, None, "A2", None)]},
        "a row without its day or its packs",
    ),
    "one without its day": (
        {"Made": [(None, "Bun, single", 22, None, None, "A2", None)]},
        "a row without its day or its packs",
    ),
    "one with a number nobody can read": (
        {"Made": [(day(9), "Bun, single", "some", None, None, "A2", None)]},
        "a row without its day or its packs",
    ),
    "a row of Sales without what was sold": (
        {"Sales": [(day(14), "Bun, single", None, 1, 2)]},
        "a row without its day or its packs",
    ),
    "a name nearly like it": (
        {"Made": [(day(9), "Bun, singel", 22, None, None, "A2", None)]},
        "a row with a name nearly like it",
    ),
    "one nearly like it on Sales": (
        {"Sales": [(day(14), "Bun singles", 15, 1, 2)]},
        "a row with a name nearly like it",
    ),
    "one nearly like it on Counts": (
        {"Counts": [(day(8), "Bun, singel", 18, None)]},
        "a row with a name nearly like it",
    ),
    "a count that can't be read": (
        {"Counts": [(day(8), "Bun, single", "a few", None)]},
        "what was counted",
    ),
    "a count without its day": (
        {"Counts": [(None, "Bun, single", 18, None)]},
        "a row without its day or its packs",
    ),
    "packs by weight": ({"Counts": [(day(8), "Bun, single", 2, "kg")]}, "what was counted"),
    "more gone than there was": (
        {"Sales": [(day(14), "Bun, single", 60, None, None)]},
        "more went than was there",
    ),
}


@pytest.mark.parametrize("slip", UNKNOWN)
def test_a_slip_makes_the_packs_unknown_and_never_fewer(slip: str, tmp_path: Path) -> None:
    changes, lacks = UNKNOWN[slip]
    answer = freezer(stall(changes), tmp_path)
    found = product(answer, "Bun, single")
    assert (found["packs"], found["lacks"], found["batches"]) == (None, lacks, [])
    said = {each["sheet"] for each in answer["problems"] if each["severity"] == "wrong"}
    assert said or "Sales" in changes


def test_a_count_puts_right_what_was_not_readable_before_it(tmp_path: Path) -> None:
    made = [(day(2), "Bun, single", None, 2, 80, "A1", None)]
    found = product(freezer(stall({"Made": made}), tmp_path), "Bun, single")
    assert (found["packs"], found["count_found_more"]) == (0, None)


def test_rows_yet_to_come_do_not_count(tmp_path: Path) -> None:
    made = [*stall()["Made"][1:], (day(1, 12), "Bun, single", None, None, None, None, None)]
    assert product(freezer(stall({"Made": made}), tmp_path), "Bun, single")["packs"] == 32


def test_a_product_under_a_name_with_other_signs_is_the_same(tmp_path: Path) -> None:
    made = [(day(9), "bun\u00a0, Single ", 22, None, None, None, None)]
    assert product(freezer(stall({"Made": made}), tmp_path), "Bun, single")["packs"] == 22


# ---------------------------------------------------------------- what was measured


def measured(answer: dict[str, Any], what: str) -> dict[str, Any]:
    found: list[dict[str, Any]] = [each for each in answer["measured"] if each["what"] == what]
    assert len(found) == 1
    return found[0]


def test_a_yield_is_all_that_was_left_over_all_that_was_weighed(tmp_path: Path) -> None:
    """440 + 1000 g of 1000 + 2000 g are 48 %, where the mean of the shares is 47 %.

    500 g ready of a batch cost 500 × 0.003 / 0.5 = 3.00, and at 48 % 3.125: 0.125 over 23 buns.
    """
    found = measured(freezer(stall(), tmp_path), "Leeks: what is left")
    assert {name: found[name] for name in ("measured", "found", "from", "to", "typed")} == {
        "measured": 2,
        "found": pytest.approx(0.48),
        "from": pytest.approx(0.44),
        "to": pytest.approx(0.5),
        "typed": pytest.approx(0.5),
    }
    assert (found["to_copy"], found["copy_into"]) == (pytest.approx(0.48), "Items, Usable %")
    adds = Fraction("0.125") / 23
    assert found["adds_to_a_pack"] == {
        "Bun, single": pytest.approx(float(adds)),
        "Bun, six": pytest.approx(float(6 * adds)),
    }


def test_a_stage_is_all_minutes_over_all_units(tmp_path: Path) -> None:
    """80 minutes for 40 units are 2 a unit, as typed; 36 for 24 are 1.5, where 40 / 24 is typed.

    So a batch bakes in 36 minutes, not 40: 4 minutes at 15 an hour are 1.00, over 23 buns.
    """
    answer = freezer(stall(), tmp_path)
    shape = measured(answer, "Bun, Shape: minutes a unit")
    assert (shape["measured"], shape["found"], shape["from"], shape["to"]) == (2, 2, 1.5, 2.5)
    assert (shape["to_copy"], shape["copy_into"]) == (2, "Stages, Minutes per unit")
    assert shape["adds_to_a_pack"] == {}
    bake = measured(answer, "Bun, Bake: minutes a unit")
    assert (bake["found"], bake["typed"]) == (1.5, pytest.approx(40 / 24))
    assert (bake["to_copy"], bake["copy_into"]) == (pytest.approx(36), "Stages, Minutes per batch")
    assert bake["adds_to_a_pack"]["Bun, single"] == pytest.approx(-1 / 23)


def test_the_stage_of_a_product_is_timed_by_the_pack(tmp_path: Path) -> None:
    """12 minutes for 8 packs are 1.5 each, one more than typed, at 15 an hour: 0.25."""
    tests = [(day(9), "Bag", "time", None, None, None, 12, 8)]
    bag = measured(freezer(stall({"Tests": tests}), tmp_path), "Bun, six, Bag: minutes a unit")
    assert (bag["found"], bag["typed"], bag["to_copy"]) == (1.5, 0.5, 1.5)
    assert bag["adds_to_a_pack"] == {"Bun, six": pytest.approx(0.25)}


def test_what_made_shows_of_minutes_and_rejects(tmp_path: Path) -> None:
    """220 minutes for 52 singles; typed are 24 × 2 + 40 = 88 for 23. Work costs 88 / 60 × 15 / 23.

    3 rejects beside 52 singles are 3 of 55, where 1 of 24 is typed; of a batch, 24 × 3 / 55.
    """
    answer = freezer(stall(), tmp_path)
    minutes = measured(answer, "Bun, single: minutes a pack")
    assert (minutes["measured"], minutes["to_copy"], minutes["copy_into"]) == (3, None, None)
    assert minutes["found"] == pytest.approx(220 / 52)
    assert (minutes["from"], minutes["to"]) == (4, 5)
    assert minutes["typed"] == pytest.approx(88 / 23)
    labour = Fraction(88 * 15, 60 * 23)
    adds = labour * (Fraction(220, 52) / Fraction(88, 23) - 1)
    assert minutes["adds_to_a_pack"] == {"Bun, single": pytest.approx(float(adds))}
    rejects = measured(answer, "Bun, single: rejected")
    assert rejects["found"] == pytest.approx(3 / 55)
    assert rejects["typed"] == pytest.approx(1 / 24)
    assert (rejects["from"], rejects["to"]) == (0, pytest.approx(2 / 22))
    assert rejects["to_copy"] == pytest.approx(24 * 3 / 55)
    # a batch costs 2 + 3 for what goes in and 22 for the work, over 23 buns, or over 24 × 52 / 55
    batch = Fraction(5 + 22)
    adds = batch / (24 * Fraction(52, 55)) - batch / 23
    assert rejects["adds_to_a_pack"] == {"Bun, single": pytest.approx(float(adds))}


def test_a_test_with_a_gap_is_asked_and_not_counted(tmp_path: Path) -> None:
    tests = [*stall()["Tests"][1:3], (day(4), "Leeks", "yield", 500, None, "g", None, None)]
    answer = freezer(stall({"Tests": tests}), tmp_path)
    assert measured(answer, "Leeks: what is left")["found"] == pytest.approx(0.48)
    assert [each["cell"] for each in answer["problems"]] == ["E4"]


def test_weights_and_volumes_are_not_added_up(tmp_path: Path) -> None:
    tests = [*stall()["Tests"][1:3], (day(4), "Leeks", "yield", 500, 250, "ml", None, None)]
    found = measured(freezer(stall({"Tests": tests}), tmp_path), "Leeks: what is left")
    assert (found["found"], found["adds_to_a_pack"]) == (None, None)


def told(folder: Path, changes: dict[str, list[tuple[Any, ...]]]) -> list[str]:
    """The lines of `freezer` on what was measured."""
    path = make_book(folder / "stall.xlsx", stall(changes))
    lines = [" ".join(line.split()) for line in run("freezer", path, "--on", ON)[1].splitlines()]
    return [line for line in lines if line.startswith(("Leeks: ", "Bun, "))]


def test_what_a_difference_does_is_said_with_its_sign_or_that_it_is_nothing(tmp_path: Path) -> None:
    """Of six buns six times as much; baking is 1.00 less over 23; shaping takes what is typed."""
    lines = told(tmp_path, {})
    assert next(line for line in lines if "Bake" in line).endswith(
        "-0.26 Bun, six; -0.04 Bun, single"
    )
    assert next(line for line in lines if "Shape" in line).endswith(
        "Stages, Minutes per unit nothing"
    )


def test_of_many_products_three_are_named(tmp_path: Path) -> None:
    """At 48 % for 50 %: 0.125 over 23 for each bun."""
    products = [
        *stall()["Products"][1:],
        ("Bun, ten", "Bun", 10, 18),
        ("Bun, dozen", "Bun", 12, 20),
    ]
    [line] = [each for each in told(tmp_path, {"Products": products}) if each.startswith("Leeks")]
    assert line.endswith("+0.07 Bun, dozen; +0.05 Bun, ten; +0.03 Bun, six; and 1 more")
    [line] = [
        each for each in told(tmp_path, {"Products": products[:3]}) if each.startswith("Leeks")
    ]
    assert line.endswith("+0.05 Bun, ten; +0.03 Bun, six; +0.01 Bun, single")


def test_what_it_does_is_not_known_where_no_cost_is(tmp_path: Path) -> None:
    """Leeks without a price: no bun's cost is known. Of a pie beside it nobody knows it either."""
    rye = stall()["Purchases"][1]
    lines = told(tmp_path, {"Purchases": [rye]})
    assert next(line for line in lines if line.startswith("Leeks")).endswith(
        "Items, Usable % not known"
    )
    products = [*stall()["Products"][1:], ("Pie", "Pie", 1, 3)]
    shape = measured(freezer(stall({"Products": products}), tmp_path), "Bun, Shape: minutes a unit")
    assert shape["adds_to_a_pack"] == {}


def test_of_what_kind_a_measurement_is_and_where_it_goes(tmp_path: Path) -> None:
    answer = freezer(stall(), tmp_path)
    assert {
        each["what"].split(": ")[1]: (each["kind"], each["copy_into"])
        for each in answer["measured"]
    } == {
        "what is left": ("yield", "Items, Usable %"),
        "minutes a unit": ("stage", "Stages, Minutes per batch"),
        "minutes a pack": ("minutes", None),
        "rejected": ("rejects", "Batches, Rejects"),
    }


# ---------------------------------------------------------------- what is printed and shown


def test_the_command_prints_it(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", stall())
    code, out, err = run("freezer", path, "--on", ON)
    assert (code, err) == (0, "")
    lines = [" ".join(line.split()) for line in out.splitlines()]
    assert lines[:7] == [
        "In the freezer on 2026-11-25, packs, first made, first out:",
        "",
        "Product Packs Made on Use by Batch",
        "Bun, single 32 the last count found 4 more than the rows said",
        "22 2026-11-09 2026-11-28 A2 within a week",
        "10 2026-11-10 2026-12-20 A3",
        "Bun, six 2",
    ]
    assert (
        "Leeks: what is left 2 48.0 % 44.0 % 50.0 % 50.0 % 48.0 % Items, Usable % "
        "+0.03 Bun, six; +0.01 Bun, single"
    ) in lines


def test_what_is_past_its_date_stands_on_the_front(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", stall())
    _, out, _ = run("cost", path, "--on", "2026-11-29", "--output", tmp_path / "out.xlsx")
    assert "Freezer: Past its date: 22 Bun, single, batch A2." in out
    _, out, _ = run("cost", path, "--on", "2026-11-28", "--output", tmp_path / "out.xlsx")
    assert "Freezer:" not in out


def test_several_past_their_date_are_counted(tmp_path: Path) -> None:
    book = stall({"Counts": [], "Sales": []})
    path = make_book(tmp_path / "stall.xlsx", book)
    _, out, _ = run("cost", path, "--on", "2026-11-29", "--output", tmp_path / "out.xlsx")
    assert "Freezer: Past its date: 20 Bun, single, batch A1; and 1 more." in out


def test_without_these_sheets_the_command_says_which_to_add(tmp_path: Path) -> None:
    book = {
        title: rows for title, rows in stall().items() if title not in ("Made", "Counts", "Tests")
    }
    path = make_book(tmp_path / "stall.xlsx", book)
    said = f"Add one: costbook new --add Made {path}"
    assert run("freezer", path) == (
        2,
        "",
        f"costbook: stall.xlsx has no sheet Made, Counts or Tests. {said}\n",
    )


def test_its_help_says_what_it_does() -> None:
    _, out, _ = run("freezer", "--help")
    said = "Say what is in the freezer, the oldest first, and what was measured."
    assert said in " ".join(out.split())


# ---------------------------------------------------------------- what is there need not be made

PLANNED = [("Product", "Wanted"), ("Bun, single", 40), ("Bun, six", 2)]


def planned(book: Sheets, folder: Path) -> dict[str, tuple[object, object]]:
    path = make_book(folder / "stall.xlsx", {**book, "Plan": PLANNED})
    found = json.loads(run("plan", path, "--json", "--on", ON)[1])["products"]
    return {each["product"]: (each["in_freezer"], each["to_make"]) for each in found}


def test_the_plan_makes_what_is_not_in_the_freezer(tmp_path: Path) -> None:
    """Of 40 singles 32 are there; of two six-packs both."""
    assert planned(stall(), tmp_path) == {"Bun, single": (32, 8), "Bun, six": (2, 0)}


def test_what_is_not_known_to_be_there_is_not_planned_as_none(tmp_path: Path) -> None:
    made = [*stall()["Made"][1:], (day(20), "Bun, single", None, None, None, None, None)]
    assert planned(stall({"Made": made}), tmp_path)["Bun, single"] == (None, None)


def test_without_made_and_counts_nothing_is_there(tmp_path: Path) -> None:
    book = {title: rows for title, rows in stall().items() if title not in ("Made", "Counts")}
    assert planned(book, tmp_path)["Bun, single"] == (0, 40)


def test_the_plan_follows_the_freezer(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", {**stall(), "Plan": PLANNED})
    run("cost", path, "--on", ON, "--output", tmp_path / "out.xlsx")
    with_wrong_stored_values(tmp_path / "out.xlsx", tmp_path / "stale.xlsx")
    with IronCalc() as judge:
        document = judge.open(tmp_path / "stale.xlsx")
        document.recalculate()
        stored = stored_values(tmp_path / "out.xlsx")["Workings"]
        assert compare(stored, document.values("Workings")) == []
