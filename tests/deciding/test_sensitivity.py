"""Which inputs move profit most: each is what costing again gives."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.arrays import array_of
from costbook.deciding.sensitivity import in_words, most_moving, profit_of
from costbook.deciding.trial import TRIAL_SETTINGS, Trial, tried
from costbook.deciding.what_ifs import WhatIfs
from tests.deciding.asking import ON, STALL, answered, asked, item_keys, number, read
from tests.deciding.test_moved import ROLLS
from tests.helpers import read_back
from tests.tables import close, sheets


def test_a_tenth_worked_by_hand() -> None:
    """A roll takes flour for 0.125, eggs for 0.525, film for 0.1875; nothing else costs it.

    Of 10 rolls that cost 6.70, 20 % aren't sold: 18 % leave 8.2 rolls, 22 % leave 7.8.
    """
    answer = answered("try", ROLLS, "--sensitivity")
    sold = Fraction(67, 80)
    expected: list[tuple[str, Fraction | str, Fraction | str]] = [
        ("Price of Eggs", "0.0525", "-0.0525"),
        ("Not sold: Roll", sold - Fraction(67, 82), sold - Fraction(67, 78)),
        ("Price of Film", "0.01875", "-0.01875"),
        ("Price of Flour", "0.0125", "-0.0125"),
    ]
    found = answer["sensitivity"]
    assert [each["input"] for each in found] == [name for name, _, _ in expected]
    for each, (_, less, more) in zip(found, expected, strict=True):
        close(each["tenth_less"], less)
        close(each["tenth_more"], more)


def test_where_no_products_profit_is_known_nothing_is_known_to_move_it() -> None:
    """The roll takes an item that was never bought, so that its cost is not known."""
    unbought = ROLLS.replace("Roll   | Eggs ", "Roll   | Duck eggs ")
    unbought = unbought.replace("Price step      | 0.25", "Pay per hour    | 15")
    assert answered("try", unbought, "--sensitivity")["sensitivity"] == []


SALTED = """
Recipes
Recipe | Uses  | Amount | Unit
Roll   | Flour | 500    | g
Roll   | Eggs  | 12     | ea
Roll   | Salt  | 0      | g
"""
SWOLLEN = "Items\nItem | Usable %\nFlour | 1.1\n"


def moving(*texts: str) -> dict[str, tuple[Decimal, Decimal]]:
    """What a tenth less and a tenth more of each input do, by its name."""
    return {each.name: (each.down, each.up) for each in most_moving(read(sheets(ROLLS, *texts)))}


def test_none_of_an_item_without_a_price_moves_nothing() -> None:
    assert moving(SALTED) == moving()


def test_an_item_that_swells_may_swell_more() -> None:
    """Flour for 0.125 a roll as bought, at 110 % usable: 0.99 and 1.21 of it are usable."""
    now, less, more = (Fraction("0.125") / Fraction(share) for share in ("1.1", "0.99", "1.21"))
    down, up = moving(SWOLLEN)["Usable share: Flour"]
    close(float(down), now - less)
    close(float(up), now - more)


def test_what_cannot_be_a_tenth_more_is_left_out() -> None:
    """Of 95 % not sold a tenth more is above all of them."""
    lost = ROLLS.partition("Products")[2].replace("| 20  ", "| 95  ")
    assert "Not sold: Roll" in moving()
    assert "Not sold: Roll" not in moving(f"Products{lost}")


OUTLET = "Outlets\nOutlet | Units sold per day\n{}"
TWO = """
Products
Product | Recipe | Units per pack | Not sold % | Current price | Sold at
Roll    | Roll   | 1              | 20         | 2.00          | Market
Pair    | Roll   | 2              | 20         | 4.00          | Fair
"""


@pytest.mark.parametrize(
    ("texts", "where"),
    [
        ([], ""),
        ([OUTLET.format("Market | 10")], " at Market"),
        ([OUTLET.format("Market | 10\nFair | 5")], " at Market"),
        ([OUTLET.format("Market | 10\nFair | 5"), TWO], " at the first outlet where it is sold"),
        (["Products\nProduct | Recipe"], ""),
    ],
)
def test_it_is_said_whose_profit_it_is(texts: list[str], where: str) -> None:
    assert profit_of(read(sheets(ROLLS, *texts))).startswith(
        f"Profit of one pack of each product{where}, at the price now, else the one to charge"
    )


def test_the_one_thing_to_know_is_what_moves_profit_most() -> None:
    assert in_words(most_moving(read(sheets(ROLLS)))) == "Price of Eggs moves profit most"
    assert in_words([]) == "Nothing known moves profit"


def test_the_largest_come_first_and_no_more_than_twelve(stall: Costing) -> None:
    answer = asked("try", STALL, "--on", ON, "--sensitivity")["sensitivity"]
    reaches = [max(abs(each["tenth_less"]), abs(each["tenth_more"])) for each in answer]
    assert reaches == sorted(reaches, reverse=True)
    assert len(answer) == 12
    assert all(set(each) == {"input", "tenth_less", "tenth_more"} for each in answer)
    names = [moved.name for moved in most_moving(stall, 100)]
    assert [each["input"] for each in answer] == names[:12]
    # what says what to charge moves nothing at today's prices
    assert "Target margin %" not in names
    assert "Price step" not in names


def profit(costing: Costing, before: Costing) -> Decimal:
    """Of one pack of every product at its first outlet, at the prices quoted before."""
    total = Decimal(0)
    for row in first_rows(before):
        now, then = costing.of(row), before.of(row)
        quoted = then["price_now"] if then["price_now"] is not None else then["price_on_step"]
        price = number(quoted) / (1 + number(now["tax_in_price"]))
        total += price * (1 - number(now["fee_share"])) - number(now["total"])
    return total


def first_rows(costing: Costing) -> list[Row]:
    first = costing.structure.rows["outlets"][0]
    return [row for row in costing.structure.rows["prices"] if row.links["outlets"] is first]


@pytest.mark.parametrize("item", ["Leeks", "Eggs, large", "Film", "Onions", "Wraps, 10 inch"])
def test_an_items_tenth_is_what_costing_again_gives(stall: Costing, item: str) -> None:
    name = {"Onions": "Red onions"}.get(item, item)
    key = item_keys(stall)[name]
    (row,) = (r for r in stall.structure.rows["prices_now"] if r.fixed["item_key"] == key)
    (found,) = (each for each in most_moving(stall, 100) if each.name == f"Price of {name}")
    pack, today = number(stall.of(row)["price_per_pack"]), profit(stall, stall)
    for factor, change in (("0.9", found.down), ("1.1", found.up)):
        again = tried(stall, Trial({key: pack * Decimal(factor)}, {}))
        assert profit(again, stall) - today == pytest.approx(change, abs=Decimal("1e-20"))


SETTINGS = [field for field in TRIAL_SETTINGS if field.name not in ("target_margin", "price_step")]


@pytest.mark.parametrize("field", SETTINGS, ids=lambda field: field.name)
def test_a_settings_tenth_is_what_costing_again_gives(stall: Costing, field: object) -> None:
    """Sales tax too: what is quoted stays, so more of it is tax."""
    name, title = field.name, field.title  # type: ignore[attr-defined]  # a field
    (found,) = (each for each in most_moving(stall, 100) if each.name == title)
    value, today = number(stall.one("settings")[name]), profit(stall, stall)
    for factor, change in (("0.9", found.down), ("1.1", found.up)):
        again = tried(stall, Trial({}, {name: value * Decimal(factor)}))
        assert profit(again, stall) - today == pytest.approx(change, abs=Decimal("1e-8"))


# ---------------------------------------------------------------- what a person can move


def edited(folder: Path, edits: dict[tuple[str, str, str], Decimal]) -> Costing:
    """The main sample with figures multiplied: of a sheet, the rows that name something, a heading.

    Names stand in the first two columns.
    """
    opened: Any = openpyxl.load_workbook(STALL)
    for (sheet, names, heading), factor in edits.items():
        heads = [cell.value for cell in opened[sheet][1]]
        named = set(names.split(" / "))
        (row,) = (row for row in opened[sheet] if named <= {row[0].value, row[1].value})
        cell = row[heads.index(heading)]
        cell.value = float(Decimal(repr(cell.value)) * factor)
    opened.save(folder / "edited.xlsx")
    return read(folder / "edited.xlsx", date(2026, 2, 1))


@pytest.mark.parametrize(
    ("name", "sheet", "names", "headings"),
    [
        ("Units sold a day at Saturday market", "Outlets", "Saturday market", "Units sold per day"),
        ("Hours a day at Saturday market", "Outlets", "Saturday market", "Hours per day"),
        ("Usable share: Leeks", "Items", "Leeks", "Usable %"),
        ("Not sold: Leek & potato roll", "Products", "Leek & potato roll", "Not sold %"),
        (
            "Minutes: Fill and shape, Leek rolls",
            "Stages",
            "Leek rolls / Fill and shape",
            "Minutes per batch / Minutes per unit",
        ),
    ],
)
def test_a_tenth_of_what_a_person_can_move_is_what_costing_again_gives(
    tmp_path: Path, name: str, sheet: str, names: str, headings: str
) -> None:
    before = edited(tmp_path, {})
    (found,) = (each for each in most_moving(before, 1000) if each.name == name)
    today, columns = profit(before, before), [column.value for column in head(sheet)]
    moved = [each for each in headings.split(" / ") if filled(sheet, names, columns.index(each))]
    for factor, change in (("0.9", found.down), ("1.1", found.up)):
        edits = {(sheet, names, heading): Decimal(factor) for heading in moved}
        again = edited(tmp_path, edits)
        assert profit(again, before) - today == pytest.approx(change, abs=Decimal("1e-8"))


def head(sheet: str) -> Any:
    return read_back(STALL)[sheet][1]


def filled(sheet: str, names: str, column: int) -> bool:
    rows: Any = read_back(STALL)[sheet]
    named = set(names.split(" / "))
    return any(row[column].value for row in rows if named <= {row[0].value, row[1].value})


def test_a_usable_share_goes_up_to_all_of_it_and_no_further(stall: Costing) -> None:
    """Butter is used whole: a tenth less of it can be, and not a tenth more."""
    (found,) = (each for each in most_moving(stall, 1000) if each.name == "Usable share: Butter")
    assert found.down < 0
    assert found.up == 0


def test_whose_profit_it_is_is_said_and_what_it_goes_without() -> None:
    """The other's recipe is not there, so that nothing of it is known."""
    answer = answered("try", ROLLS, "--sensitivity")
    assert answer["sensitivity_of"] == (
        "Profit of one pack of each product, at the price now, else the one to charge."
    )
    other = ROLLS.replace("| 2.00\n", "| 2.00\nOther | Nothing | 1 | | 3.00\n")
    answer = answered("try", other, "--sensitivity")
    assert answer["sensitivity_of"] == (
        "Profit of one pack of each product, at the price now, else the one to charge, without "
        "Other, of which it is not known."
    )


def test_only_what_profit_rests_on_is_computed_again(stall: Costing) -> None:
    """Other minutes change what to charge too, and that is not asked."""
    row = stall.structure.rows["stages"][0]
    cell = (row.table, row.index, "minutes_per_batch")
    cases = WhatIfs(
        stall, {}, others={cell: array_of([Decimal(5), Decimal(9)])}, answers=("total",)
    )
    columns = {(table, column) for table, _, column in cases.varied}
    assert ("prices", "total") in columns
    assert columns.isdisjoint({("prices", "price_on_step"), ("prices", "now_margin")})
