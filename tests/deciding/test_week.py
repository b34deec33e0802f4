"""The week ahead: batches, minutes, the kitchen and the cost, against the sums in ``weeks.py``."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from costbook.book import Value
from costbook.deciding.week import Week, week
from tests.deciding.weeks import BOOK, DAY, costed, planned, with_rows
from tests.helpers import Book, make_book, run

FINE = Decimal("1e-20")


def week_of(folder: Path, book: Book = BOOK) -> Week:
    found = week(costed(folder, book).costing)
    assert found is not None
    return found


def near(found: Value, wanted: str) -> bool:
    return isinstance(found, Decimal) and abs(found - Decimal(wanted)) < FINE


def said_of(found: Week) -> dict[str, tuple[object, ...]]:
    """Of each product what is wanted, to make and out; of each recipe its batches."""
    names = ("wanted", "to_make", "out")
    products: dict[str, tuple[object, ...]] = {
        p.name: tuple(p.figures[name] for name in names) for p in found.products
    }
    return products | {r.name: (r.figures["batches"],) for r in found.recipes}


def test_the_plan_worked_by_hand(tmp_path: Path) -> None:
    found = week_of(tmp_path)
    single, six = found.products
    assert [p.figures["wanted"] for p in (single, six)] == [40, 5]
    assert near(single.figures["out"], "44")
    assert near(single.figures["spare"], "4")
    assert near(six.figures["out"], "5")  # 33 of the 77 rolls are five sixes, and three rolls
    assert near(six.figures["spare"], "0")
    filling, roll = found.recipes  # the filling first, as it is made first
    assert (filling.name, roll.name) == ("Leek filling", "Leek roll")
    assert (filling.figures["batches"], roll.figures["batches"]) == (Decimal("1.4"), Decimal("3.5"))
    assert near(filling.figures["units"], "4.2")  # kg
    assert near(roll.figures["units"], "70")
    assert near(filling.figures["left_over"], "0")
    assert near(roll.figures["left_over"], "3")  # 77 - 44 - 5 × 6
    assert near(filling.figures["cost"], "19.25")  # 7.70 and 42 minutes
    assert near(roll.figures["cost"], "60.06")  # 3.465 + 2.475 + 51.70 + 2.42
    whole = {
        "minutes": "241", "own_minutes": "230", "minutes_over": "30", "clock_minutes": "178",
        "kitchen_minutes": "180", "blocks": "3", "ingredients": "11.165", "packaging": "2.475",
        "labour": "65.67", "kitchen": "60", "overhead": "35", "cost": "174.31",
        "to_freeze": "49", "packs_over": "4",
    }  # fmt: skip
    assert {name for name in whole if not near(found.whole[name], whole[name])} == set()


def test_whose_minutes_they_are_is_open_while_a_pay_cannot_be_read(tmp_path: Path) -> None:
    def paying(pay: object) -> Book:
        head, cook, *others = BOOK["Stages"]
        return {**BOOK, "Stages": [head, (*cook[:6], pay, *cook[7:]), *others]}

    helped = week_of(tmp_path, paying(12)).whole  # 230 without the 42 of cooking
    assert (near(helped["own_minutes"], "188"), near(helped["minutes"], "241")) == (True, True)
    open_yet = week_of(tmp_path, paying("ask Ann")).whole
    assert (open_yet["own_minutes"], near(open_yet["minutes"], "241")) == (None, True)


def test_the_command_says_it_in_short_lines(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", BOOK)
    status, out, err = run("plan", path, "--on", DAY)
    assert (status, "wrong" in err) == (0, False)
    assert out.split("\n\nSums from")[0] == (
        "Leek roll, single: 40 wanted, 40 to make. 44 come out, 4 to spare.\n"
        "Leek roll, six: 5 wanted, 5 to make. 5 come out, 0 to spare.\n"
        "\n"
        "Leek filling: 1.4 batches, 42 minutes, 19.25.\n"
        "Leek roll: 3.5 batches, 199 minutes, 60.06. 3 left over.\n"
        "\n"
        "Your work: 230 minutes (with others' 241). You have 200: 30 too few.\n"
        "The kitchen: 178 minutes by the clock, 3 blocks booked, 60.00.\n"
        "The freezer: 49 packs once all is made. It holds 45: 4 too many.\n"
        "All of it costs 174.31: ingredients 11.17, packaging 2.48, your work 65.67, "
        "the kitchen 60.00, overheads 35.00."
    )


def test_the_command_s_json(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", BOOK)
    _, out, _ = run("plan", path, "--on", DAY, "--json")
    answer: dict[str, Any] = json.loads(out)
    assert answer["products"][0] == {
        "product": "Leek roll, single", "wanted": 40, "in_freezer": 0, "to_make": 40,
        "out": pytest.approx(44), "spare": pytest.approx(4), "for": ["Saturday", "the café"],
    }  # fmt: skip
    assert answer["recipes"][1] == {
        "recipe": "Leek roll", "batches": 3.5, "units": 70, "left_over": pytest.approx(3),
        "minutes": pytest.approx(199),
        "own_minutes": pytest.approx(188), "cost": pytest.approx(60.06),
    }  # fmt: skip
    assert answer["kitchen"] == {
        "clock_minutes": pytest.approx(178), "minutes": 180, "blocks": 3, "cost": 60,
    }  # fmt: skip
    assert answer["minutes"] == pytest.approx(241)
    assert answer["cost"] == pytest.approx(174.31)
    assert answer["freezer"] == {
        "packs": pytest.approx(49), "holds": 45, "over": pytest.approx(4),
    }  # fmt: skip
    assert {"book", "cautions", "problems", "parts", "uncounted"} <= answer.keys()


def test_without_a_plan_it_says_how_to_add_one(tmp_path: Path) -> None:
    book = {name: rows for name, rows in BOOK.items() if name != "Plan"}
    status, out, err = run("plan", make_book(tmp_path / "stall.xlsx", book))
    assert (status, out) == (2, "")
    assert "There is no sheet Plan. Add one, and fill it in: " in err
    assert "new --add Plan" in err


def test_an_empty_plan_asks_for_nothing(tmp_path: Path) -> None:
    found = week_of(tmp_path, planned())
    assert [*found.products, *found.recipes] == []
    assert not found.whole["cost"]
    assert list(found.in_words(2)) == ["Nothing is on the sheet Plan."]


def test_batches_that_are_typed_count(tmp_path: Path) -> None:
    found = week_of(tmp_path, planned(("Leek roll, single", 40, None, 1)))
    assert said_of(found)["Leek roll"] == (1,)
    assert near(found.products[0].figures["spare"], "-18")  # 22 of 40
    assert "18 too few" in next(found.in_words(2))
    none_wanted = week_of(tmp_path, planned(("Leek roll, single", 0, None, 2)))
    assert said_of(none_wanted)["Leek roll, single"] == (0, 0, 44)


def test_batches_of_their_own(tmp_path: Path) -> None:
    batches = [
        ("Leek filling", 3, "kg", None, None, "yes"),
        ("Leek roll", 24, "ea", 2, 0.5, None),
    ]
    found = week_of(tmp_path, with_rows("Batches", *batches))
    assert said_of(found)["Leek filling"] == (2,)  # 1.4, up to whole batches


ASKED = {
    "a product that nobody knows": (("Leek rol, single", 10), "no product is called"),
    "no product": ((None, 10, "Saturday"), "the row has no Product, so nobody knows whose it is."),
}


@pytest.mark.parametrize("case", ASKED)
def test_a_row_of_nobody_s_makes_no_sum_smaller(tmp_path: Path, case: str) -> None:
    row, sentence = ASKED[case]
    done = costed(tmp_path, planned(("Leek roll, six", 5), row))
    assert [str(each) for each in done.problems if sentence in str(each)]
    found = week(done.costing)
    assert found is not None
    assert said_of(found) == {
        "Leek roll, single": (None, None, None),
        "Leek roll, six": (None, None, None),
        "Leek filling": (None,),
        "Leek roll": (None,),
    }
    assert (found.whole["cost"], found.whole["minutes"]) == (None, None)


@pytest.mark.parametrize(
    ("wanted", "sentence"),
    [
        (None, "how many packs are wanted is missing. Fill in the cell."),
        (-3, "Wanted is -3. Type a number that is not below zero, or leave the cell empty."),
        ("lots", '"lots" is not a number. Write it with digits, as 12.5.'),
    ],
)
def test_a_number_that_is_missing_is_asked(tmp_path: Path, wanted: object, sentence: str) -> None:
    done = costed(tmp_path, planned(("Leek roll, six", 5), ("Leek roll, single", wanted)))
    assert [str(each) for each in done.problems if sentence in str(each)]
    found = week(done.costing)
    assert found is not None
    said = said_of(found)
    assert said["Leek roll, six"][:2] == (5, 5)  # what is wanted of the others is known
    assert said["Leek roll, single"][:2] == (None, None)
    assert said["Leek roll"] == (None,)
    assert found.whole["cost"] is None


def test_what_is_not_planned_may_lack_anything(tmp_path: Path) -> None:
    pie = ("Pie", "No such", 1)
    book = with_rows("Products", *list(BOOK["Products"])[1:], pie)
    found = week_of(tmp_path, {**book, "Plan": planned(("Leek roll, single", 22))["Plan"]})
    assert said_of(found)["Leek roll"] == (1,)
    assert found.whole["cost"] is not None
    unknown = week_of(tmp_path, {**book, "Plan": planned(("Pie", 2))["Plan"]})
    assert unknown.products[0].figures["out"] is None
    assert (unknown.whole["cost"], unknown.whole["minutes"]) == (None, None)


def test_what_is_not_to_be_made_and_what_is_not_known_are_said(tmp_path: Path) -> None:
    none = week_of(tmp_path, planned(("Leek roll, six", 0)))
    assert next(none.in_words(2)) == "Leek roll, six: 0 wanted, none to make."
    unknown = week_of(tmp_path, planned(("Leek roll, six", None, "Saturday")))
    assert list(unknown.in_words(2)) == [
        "Leek roll, six: ? wanted, ? to make. ? come out, ? to spare.",
        "",
        "Leek filling: ? batches, ? minutes, ?.",
        "Leek roll: ? batches, ? minutes, ?.",
        "",
        "Your work: ? minutes. You have 200: whether that is enough is not known.",
        "The kitchen: ? minutes by the clock, ?.",
        "The freezer: ? packs once all is made. It holds 45: whether that is enough is not known.",
        "All of it costs ?: ingredients ?, packaging ?, your work ?, the kitchen ?, overheads ?.",
    ]


def test_what_is_not_counted_is_said(tmp_path: Path) -> None:
    book = {name: rows for name, rows in BOOK.items() if name != "Packaging"}
    *_, cost = week_of(tmp_path, book).in_words(2)
    assert cost == (
        "All of it costs at least 171.84: ingredients 11.17, your work 65.67, the kitchen 60.00, "
        "overheads 35.00. Without: packaging."  # 174.31 - 2.475 = 171.835
    )


def test_nothing_is_said_of_time_and_room_that_nobody_told(tmp_path: Path) -> None:
    rows = [
        row for row in BOOK["Settings"] if row[0] not in ("Minutes I have", "Freezer holds packs")
    ]
    said = list(week_of(tmp_path, {**BOOK, "Settings": rows}).in_words(2))
    assert "Your work: 230 minutes (with others' 241)." in said
    assert not [line for line in said if "freezer" in line]


def test_it_is_said_in_one_line(tmp_path: Path) -> None:
    assert week_of(tmp_path).said_in_short() == (
        "45 packs, 230 minutes of your work, too little time, too little room."
    )
    settings = [
        (name, {"Minutes I have": 230, "Freezer holds packs": 49}.get(name, value), *more)  # type: ignore[call-overload]
        for name, value, *more in BOOK["Settings"]
    ]
    enough = week_of(tmp_path, {**BOOK, "Settings": settings})
    assert enough.said_in_short() == "45 packs, 230 minutes of your work."
    said = list(enough.in_words(2))
    assert "Your work: 230 minutes (with others' 241). You have 230: enough." in said
    assert "The freezer: 49 packs once all is made. It holds 49: room enough." in said


def test_one_batch_with_none_to_spare_and_none_wanted_with_a_batch(tmp_path: Path) -> None:
    said = list(week_of(tmp_path, planned(("Leek roll, single", 22))).in_words(2))
    assert said[0] == "Leek roll, single: 22 wanted, 22 to make. 22 come out, 0 to spare."
    assert [line[:19] for line in said if line.startswith("Leek roll: ")] == ["Leek roll: 1 batch,"]
    said = list(week_of(tmp_path, planned(("Leek roll, single", 0, None, 2))).in_words(2))
    assert said[0] == "Leek roll, single: 0 wanted, 0 to make. 44 come out, 44 to spare."


def test_a_kitchen_that_costs_nothing_is_no_part_of_what_is_said(tmp_path: Path) -> None:
    """The 174.31 without the 60.00."""
    settings = [row for row in BOOK["Settings"] if "Kitchen" not in str(row[0])]
    free = week_of(tmp_path, {**BOOK, "Settings": [*settings, ("No kitchen to pay", "yes")]})
    *_, cost = free.in_words(2)
    assert cost == (
        "All of it costs 114.31: ingredients 11.17, packaging 2.48, your work 65.67, "
        "overheads 35.00."
    )


def test_the_minutes_in_json(tmp_path: Path) -> None:
    found = week_of(tmp_path).as_data()
    assert [found[name] for name in ("own_minutes", "minutes_there", "minutes_over")] == [
        pytest.approx(230), 200, pytest.approx(30),
    ]  # fmt: skip


def test_a_workbook_without_a_plan_bears_no_row_of_it(tmp_path: Path) -> None:
    book = {name: rows for name, rows in BOOK.items() if name != "Plan"}
    rows = costed(tmp_path, book).costing.structure.rows
    assert [name for name in rows if name.startswith("plan_") and rows[name]] == []
