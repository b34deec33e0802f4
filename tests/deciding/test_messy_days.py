"""What is typed on the sheets of market days and of stock, slip by slip: what is said, what stands.

The stall sells 20 buns at 5.00 on a day with a fee of 10.00; a bun costs 1.00, and 23 are gone, so
that 67.00 is left for 4 hours: 16.75. Whatever can't be read must leave open what rests on it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

import pytest

from tests.deciding.season import ON, STALL
from tests.helpers import make_book, run
from tests.tables import sheets

_DAY: Final = "Date, Outlet, Hours, Float, Cash counted"
ROWS: Final[Mapping[str, Mapping[str, str]]] = {
    title: dict(zip(names.split(", "), cells.split(", "), strict=True))
    for title, names, cells in (
        (
            "Market days",
            f"{_DAY}, Cash paid out, Card takings, Card payout, Fee paid, Miles, Other paid",
            "2026-11-07, Pier, 3, 50, 150, , , , , , ",
        ),
        (
            "Sales",
            "Date, Outlet, Product, Taken, Sold, Sampled, Spoiled, Price",
            "2026-11-07, Pier, Bun, 30, 20, 1, 2, ",
        ),
        ("Made", "Date, Product, Packs, Minutes", "2026-11-06, Bun, 60, 90"),
        ("Counts", "Date, What, Amount, Unit", "2026-11-08, Bun, 10, "),
    )
}


def asked(folder: Path, command: str, slips: Mapping[str, str]) -> tuple[Any, list[str]]:
    """What a command says as data with some cells typed otherwise, and the problems."""
    text = [STALL]
    for title, row in ROWS.items():
        typed = {name: slips.get(f"{title}: {name}", cell) for name, cell in row.items()}
        text += [title, " | ".join(typed), " | ".join(typed.values()), ""]
    path = make_book(folder / "stall.xlsx", sheets("\n".join(text)))
    found = json.loads(run(command, path, "--json", "--on", ON)[1])
    problems = [
        f"{'' if each['severity'] == 'wrong' else 'check: '}{each['sheet']}!{each['cell']}: "
        f"{each['what']} {each['remedy']}"
        for each in found["problems"]
    ]
    return found, problems


_COSTS, _HOURS, _SOLD = (
    "its costs, on Market days or Outlets",
    "your hours",
    "what was sold, or its price",
)
_NO_NUMBER: Final = "Write it with digits, as 12.5."
_NO_MONEY: Final = "is not understood as a sum of money. Write it as 4.50, or 0."
_TAKINGS_BLANK: Final = (
    "Market days!G2: Card takings is blank, so what the cards cost isn't known. Fill in what was "
    "taken by card, before its fees."
)
_IN_EUROS: Final = (
    'Market days!I2: "30 EUR" is not in USD, the workbook\'s currency. Type what it came to in USD.'
)
_MORE_THAN_TAKEN: Final = (
    "Sales!E2: 1e+09 were sold, sampled or spoiled, and 30 taken along. Put Taken or Sold right."
)
_WEIGHED: Final = (
    'Counts!D2: a product is counted in packs, not in "kg". Count the packs, and leave Unit empty.'
)
_BELOW: Final = "Type a number that is not below zero, or leave the cell empty."

LEAVE_OPEN: Final = {
    ("Market days: Hours", "8:30"): (
        _HOURS,
        f'Market days!C2: "8:30" is not a number. {_NO_NUMBER}',
    ),
    ("Market days: Hours", "9-14"): (
        _HOURS,
        f'Market days!C2: "9-14" is not a number. {_NO_NUMBER}',
    ),
    ("Market days: Hours", "-3"): (_HOURS, f"Market days!C2: Hours is -3. {_BELOW}"),
    ("Market days: Card takings", "lots"): (_COSTS, f'Market days!G2: "lots" {_NO_MONEY}'),
    ("Market days: Card payout", "30"): (
        _COSTS,
        _TAKINGS_BLANK,
    ),
    ("Market days: Fee paid", "-20"): (_COSTS, f"Market days!I2: Fee paid is -20. {_BELOW}"),
    ("Market days: Fee paid", "30 EUR"): (
        _COSTS,
        _IN_EUROS,
    ),
    ("Market days: Miles", "12 km"): (
        _COSTS,
        f'Market days!J2: "12 km" is not a number. {_NO_NUMBER}',
    ),
    ("Market days: Other paid", "lots"): (_COSTS, f'Market days!K2: "lots" {_NO_MONEY}'),
    ("Sales: Sold", "few"): (_SOLD, f'Sales!E2: "few" is not a number. {_NO_NUMBER}'),
    ("Sales: Sold", "1000000000"): (
        _SOLD,
        _MORE_THAN_TAKEN,
    ),
    ("Sales: Sampled", "2 packs"): (_SOLD, f'Sales!F2: "2 packs" is not a number. {_NO_NUMBER}'),
    ("Sales: Spoiled", "-2"): (_SOLD, f"Sales!G2: Spoiled is -2. {_BELOW}"),
    ("Sales: Product", "Bum"): (
        _SOLD,
        'Sales!C2: no product is called "Bum". Did you mean "Bun"?',
    ),
    ("Sales: Outlet", "Pir"): (
        "the date or outlet of a row on Sales",
        'Sales!B2: no outlet is called "Pir". Did you mean "Pier"?',
    ),
    ("Sales: Date", ""): (
        "the date or outlet of a row on Sales",
        "Sales!A2: the date is missing, so the row belongs to no day. Fill it in.",
    ),
    ("Market days: Outlet", "Pir"): (
        "the outlet, on Outlets",
        'Market days!B2: no outlet is called "Pir". Did you mean "Pier"?',
    ),
}


@pytest.mark.parametrize(("cell", "typed"), LEAVE_OPEN)
def test_what_cant_be_read_leaves_the_day_open(tmp_path: Path, cell: str, typed: str) -> None:
    lacks, said = LEAVE_OPEN[cell, typed]
    found, problems = asked(tmp_path, "day", {cell: typed})
    [day] = found["days"]
    assert (day["pay_per_hour"], day["lacks"]) == (None, lacks)
    assert said in problems


UNDERSTOOD: Final = {
    ("Market days: Hours", "6h"): 67 / 7,
    ("Market days: Hours", "6.5 hours"): 67 / 7.5,
    ("Market days: Hours", "0"): 67 / 1,
    ("Market days: Fee paid", "$30"): 47 / 4,
    ("Sales: Sold", "½"): (2.5 - 3.5 - 10) / (3 + 0.5 * 3 / 60),
}


@pytest.mark.parametrize(("cell", "typed"), UNDERSTOOD)
def test_what_can_be_read_counts(tmp_path: Path, cell: str, typed: str) -> None:
    found, _ = asked(tmp_path, "day", {cell: typed})
    assert found["days"][0]["pay_per_hour"] == pytest.approx(UNDERSTOOD[cell, typed])


_TILL: Final = "Check Float, Cash counted and Card takings, and Sold and Price on Sales."
DOUBTED: Final = {
    ("Market days: Hours", "30"): (
        "check: Market days!C2: 30 hours are more than a day has. Nothing, if several of you were "
        "there so long; else put it right."
    ),
    ("Market days: Float", "120"): (
        f"check: Market days!E2: the till is 70 short, and 100 was sold by count. {_TILL}"
    ),
    ("Market days: Cash counted", "1500"): (
        f"check: Market days!E2: the till is 1350 over, and 100 was sold by count. {_TILL}"
    ),
    ("Sales: Price", "15"): (
        "check: Sales!H2: the price now is 5, and a pack was sold at 15: 3.0 times as much. "
        "Check the price of one pack that day."
    ),
    ("Sales: Price", "1.5"): (
        "check: Sales!H2: the price now is 5, and a pack was sold at 1.5: 30 % of that. Check the "
        "price of one pack that day."
    ),
}


@pytest.mark.parametrize(("cell", "typed"), DOUBTED)
def test_what_is_hardly_so_is_doubted(tmp_path: Path, cell: str, typed: str) -> None:
    _, problems = asked(tmp_path, "day", {cell: typed})
    assert DOUBTED[cell, typed] in problems


@pytest.mark.parametrize(
    ("cell", "typed"),
    [
        *(("Market days: Hours", "24"), ("Market days: Float", "100")),
        *(
            ("Market days: Cash counted", "200"),
            ("Sales: Price", "14.99"),
            ("Sales: Price", "1.67"),
        ),
        ("Sales: Price", "0"),
    ],
)
def test_what_may_well_be_so_is_not_doubted(tmp_path: Path, cell: str, typed: str) -> None:
    _, problems = asked(tmp_path, "day", {cell: typed})
    assert [each for each in problems if "till is" in each and "Price" not in cell] == []
    assert [each for each in problems if "hours are" in each or "the price now is" in each] == []


def test_a_till_that_cant_be_read_is_not_called_blank(tmp_path: Path) -> None:
    found, problems = asked(tmp_path, "day", {"Market days: Cash counted": "lots"})
    assert found["days"][0]["takings"] == {"count": 100, "till": None}
    assert problems == [f'Market days!E2: "lots" {_NO_MONEY}']


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("some", 'Counts!C2: "some" is no amount. Type a number.'),
        ("-4", f"Counts!C2: Amount is -4. {_BELOW}"),
        (
            "3 kg",
            _WEIGHED,
        ),
    ],
)
def test_a_count_that_cant_be_read_leaves_the_packs_open(
    tmp_path: Path, typed: str, said: str
) -> None:
    found, problems = asked(tmp_path, "freezer", {"Counts: Amount": typed})
    assert found["products"][0]["packs"] is None
    assert said in problems


def test_packs_made_that_cant_be_read_leave_the_packs_open_until_counted(tmp_path: Path) -> None:
    slip = {"Made: Packs": "many"}
    found, problems = asked(tmp_path, "freezer", {**slip, "Counts: Date": "2026-11-05"})
    assert found["products"][0]["packs"] is None
    assert f'Made!C2: "many" is not a number. {_NO_NUMBER}' in problems
    assert asked(tmp_path, "freezer", slip)[0]["products"][0]["packs"] == 10


def test_a_day_that_cant_be_read_is_named_before_the_refusal(tmp_path: Path) -> None:
    path = make_book(
        tmp_path / "stall.xlsx",
        sheets(STALL, "Market days\nDate | Outlet | Hours\nSaturday | Pier | 3\n"),
    )
    assert run("day", path, "--on", ON)[2].splitlines()[:2] == [_SATURDAY, _NO_DAY]


_SATURDAY: Final = (
    'stall.xlsx: Market days!A2: "Saturday" is no date. '
    "Write it as 2026-03-14, or as 14 March 2026."
)
_NO_DAY: Final = (
    "costbook: stall.xlsx has no market day that can be read. "
    "Fill in Market days and Sales, a row a day and one for each product on it."
)
