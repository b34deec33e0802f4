"""Turning prices, proved by putting them back: the margin is then the target, or nothing."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from random import Random

import openpyxl
import pytest

from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.arrays import array_of
from costbook.deciding.moved import Turning, turning_prices
from costbook.deciding.trial import Trial, tried
from costbook.deciding.what_ifs import WhatIfs
from tests.deciding.asking import STALL, answered, item_keys, number, read, row_at
from tests.deciding.test_moved import ROLLS
from tests.random_books import COSTED_ON, random_book
from tests.tables import Sheets, close

BILLIONTH = Decimal("1e-9")


def turns(costing: Costing) -> Iterator[tuple[Row, Turning]]:
    for row in costing.structure.rows["prices"]:
        for turn in turning_prices(costing, row):
            yield row, turn


def margin(before: Costing, row: Row, total: Decimal) -> Decimal:
    """What is left of the price that counted before, with another cost."""
    figures = before.of(row)
    price, fees = number(figures["counted_price"]), number(figures["fee_share"])
    return (price * (1 - fees) - total) / price


def wanted(costing: Costing, row: Row, turn: Turning) -> Decimal:
    return number(costing.of(row)["applied_target_margin"]) if turn.at == "target" else Decimal(0)


# ---------------------------------------------------------------- by hand


def test_turning_prices_worked_by_hand() -> None:
    """At 1.00 a roll costs 0.8375; at 60 % it may cost 0.40, 0.4375 less; at nothing 0.1625 more.

    A roll takes 62.5 g of flour (0.125), 1.5 eggs (0.525), 12.5 cm of film (0.1875). Flour and
    film can't fall so far. Eggs: (0.525 - 0.4375) / 1.5 x 30 = 1.75. Until nothing is left: flour
    0.2875 / 62.5 x 1000 = 4.60, eggs 0.6875 / 1.5 x 30 = 13.75, film 0.35 / 12.5 x 1000 = 28.00.
    """
    text = ROLLS.replace("20         | 2.00", "20         | 1.00")
    (roll,) = answered("moved", text)["products"]
    expected = [
        ("Flour", "4.60", "zero"),
        ("Eggs", "1.75", "target"),
        ("Eggs", "13.75", "zero"),
        ("Film", "28", "zero"),
    ]
    found = [(turn["item"], turn["at"]) for turn in roll["turning"]]
    assert found == [(item, at) for item, _, at in expected]
    for turn, (_, price, _) in zip(roll["turning"], expected, strict=True):
        close(turn["price_per_pack"], price)


def test_what_a_pack_costs_beside_its_price_is_held() -> None:
    """Two trays at 10.50 with 3.00 delivery are 0.40 an egg, 0.60 a roll: 0.9125 in all.

    At 1.00, eggs may cost 0.6875 a roll, 13.75 a tray, of which 1.50 is delivery.
    """
    text = ROLLS.replace("20         | 2.00", "20         | 1.00")
    text = text.replace("Price per pack\n", "Price per pack | Packs | Other cost\n", 1)
    text = text.replace("| 10.50", "| 10.50 | 2 | 3.00")
    (roll,) = answered("moved", text)["products"]
    close(roll["after"], "0.9125")
    (eggs,) = (t for t in roll["turning"] if (t["item"], t["at"]) == ("Eggs", "zero"))
    close(eggs["price_per_pack"], "12.25")
    close(eggs["now_per_pack"], "10.50")


# ---------------------------------------------------------------- put back through a trial


def test_every_turning_price_of_the_main_sample_brings_the_margin_to_its_mark(
    stall: Costing,
) -> None:
    """For every product, outlet and item: all prices of an item at once over arrays."""
    keys, by_item = item_keys(stall), dict[str, list[tuple[Row, Turning]]]()
    for row, turn in turns(stall):
        by_item.setdefault(turn.item, []).append((row, turn))
    for item, those in by_item.items():
        prices = array_of([turn.price_per_pack for _, turn in those])
        cases = WhatIfs(stall, {keys[item]: prices})
        for at, (row, turn) in enumerate(those):
            total = Decimal(float(cases.of(row, "total")[at]))
            assert abs(margin(stall, row, total) - wanted(stall, row, turn)) < BILLIONTH
    counted = sum(map(len, by_item.values()))
    assert counted > 250  # of 18 rows with about ten items and two marks each


def test_a_turning_price_put_back_exactly_brings_the_margin_to_its_mark(stall: Costing) -> None:
    """The same in Decimal, for one in twelve."""
    keys = item_keys(stall)
    for row, turn in [*turns(stall)][::12]:
        after = tried(stall, Trial({keys[turn.item]: turn.price_per_pack}, {}))
        total = number(after.of(row)["total"])
        assert abs(margin(stall, row, total) - wanted(stall, row, turn)) < Decimal("1e-24")


def test_only_what_would_have_to_cost_nothing_or_less_has_no_turning_price(stall: Costing) -> None:
    """Each item that a product takes turns at both marks, or is too small to turn it at all."""
    for row in stall.structure.rows["prices"]:
        turning = {(turn.item, turn.at) for turn in turning_prices(stall, row)}
        total, price = number(stall.of(row)["total"]), number(stall.of(row)["counted_price"])
        fees = number(stall.of(row)["fee_share"])
        target = number(stall.of(row)["applied_target_margin"])
        for at in row.links["products"].children["pack_needs"]:
            need = stall.figures["pack_needs"][at]
            bought = stall.of(stall.structure.rows["pack_needs"][at].links["prices_now"])
            beside = number(bought["beside_price"]) / number(bought["whole_pack"])
            part = number(need["pack_need"]) * (number(need["price_per_base_unit"]) - beside)
            for mark, margin_there in (("target", target), ("zero", Decimal(0))):
                may_cost = price * (1 - fees - margin_there)
                turns_it = bool(need["pack_need"]) and total - part < may_cost
                assert ((need["item"], mark) in turning) == turns_it


@pytest.mark.parametrize("seed", range(20, 26))
def test_in_any_workbook_a_turning_price_put_back_brings_the_margin_to_its_mark(seed: int) -> None:
    costing = read(random_book(Random(seed)), on=COSTED_ON)
    keys = item_keys(costing)
    for row, turn in [*turns(costing)][::3]:
        after = tried(costing, Trial({keys[turn.item]: turn.price_per_pack}, {}))
        total = number(after.of(row)["total"])
        assert abs(margin(costing, row, total) - wanted(costing, row, turn)) < Decimal("1e-20")


# ---------------------------------------------------------------- put back in the workbook


def receipt_of(costing: Costing, item: str) -> int:
    """The row on Purchases of the receipt that counts."""
    key = item_keys(costing)[item]
    rows = costing.structure.rows["prices_now"]
    (row,) = (row for row in rows if row.fixed["item_key"] == key)
    return int(number(costing.of(row)["purchase_row"]))


@pytest.mark.parametrize("seed", range(20, 26))
def test_typed_on_the_receipt_of_any_workbook_it_does_the_same(seed: int) -> None:
    book = random_book(Random(seed))
    costing = read(book, on=COSTED_ON)
    for row, turn in [*turns(costing)][::9]:
        typed = with_price(book, receipt_of(costing, turn.item), turn.price_per_pack)
        after = read(typed, on=COSTED_ON)
        total = number(after.figures["prices"][row.index]["total"])
        assert abs(margin(costing, row, total) - wanted(costing, row, turn)) < BILLIONTH


def with_price(book: Sheets, at: int, price: Decimal) -> Sheets:
    column = book["Purchases"][0].index("Price per pack")
    rows = [list(row) for row in book["Purchases"]]
    rows[at - 1][column] = float(price)
    return {**book, "Purchases": rows}


def test_typed_on_the_receipts_of_the_main_sample_it_does_the_same(
    stall: Costing, tmp_path: Path
) -> None:
    """Eggs for the wrap at the market, and leeks for the roll there, each in a copy of its own."""
    for product, item, mark in (
        ("Spinach & egg wrap", "Eggs, large", "target"),
        ("Leek & potato roll", "Leeks", "zero"),
    ):
        row = row_at(stall, product, "Saturday market")
        (turn,) = (
            turn for turn in turning_prices(stall, row) if (turn.item, turn.at) == (item, mark)
        )
        book = tmp_path / f"{item}.xlsx"
        shutil.copyfile(STALL, book)
        opened = openpyxl.load_workbook(book)
        heads = [cell.value for cell in opened["Purchases"][1]]
        column = heads.index("Price per pack") + 1
        opened["Purchases"].cell(receipt_of(stall, item), column).value = float(turn.price_per_pack)
        opened.save(book)
        after = read(book)
        found = number(after.of(row_at(after, product, "Saturday market"))["now_margin"])
        assert abs(found - wanted(stall, row, turn)) < BILLIONTH
