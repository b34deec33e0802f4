"""What must be so for the plan and buy list of any workbook: random stalls with stock."""

from __future__ import annotations

import random
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from costbook.costing.engine import Costing
from costbook.deciding.buy_list import BuyList, buy_list
from costbook.definitions.parts import MADE
from costbook.round_trip import read_and_cost
from tests.helpers import save
from tests.random_books import COSTED_ON, random_book

NOISE = Decimal("0.00001")
SEEDS = pytest.mark.parametrize("seed", range(6))
Sheets = dict[str, list[Any]]


def drawn(seed: int, times: int = 1, more: int = 0) -> Sheets:
    """A random stall with a plan, On hand and Par: so many times as much wanted, more on hand."""
    draw = random.Random(f"buying{seed}")
    book: Sheets = {name: list(rows) for name, rows in random_book(draw).items()}
    book["Plan"] = [("Product", "Wanted")]
    book["Plan"] += [(row[0], draw.randint(1, 60) * times) for row in book["Products"][1:]]
    units = {row[1]: row[6] for row in reversed(book["Purchases"][1:]) if row[6]}
    headings, *rows = book["Items"]
    stock = ("On hand", "On hand unit", "Par", "Par unit")
    book["Items"] = [[*headings, *stock]]
    for row in rows:
        held, par = draw.choice((None, draw.randint(0, 40))), draw.choice((None, None, 5))
        unit = units.get(row[0])
        known = [(held or 0) + more if held is not None or more else None, unit, par, unit]
        book["Items"].append([*row, *(known if unit else [None] * 4)])
    return book


def costed(folder: Path, book: Sheets) -> tuple[Costing, BuyList]:
    costing = read_and_cost(save(book, folder), COSTED_ON).costing
    return costing, buy_list(costing, 2)


def bills(found: BuyList) -> dict[str, Decimal]:
    """By item, what the need costs; of what there is enough, nothing."""
    costs = {item.item: item.plan.cost for item in found.items if item.plan}
    return costs | {item.item: Decimal(0) for item in found.enough}


@SEEDS
def test_twice_as_many_never_lower_what_is_bought(tmp_path: Path, seed: int) -> None:
    (_, once), (_, twice) = (costed(tmp_path, drawn(seed, times)) for times in (1, 2))
    more = {item.item: item.to_buy for item in twice.items}
    assert once.items
    for item in once.items:
        then = more[item.item]
        if item.to_buy is not None and then is not None:
            assert then >= item.to_buy - NOISE
    dearer = bills(twice)
    assert all(dearer[item] >= cost - NOISE for item, cost in bills(once).items() if item in dearer)


@SEEDS
def test_more_on_hand_never_raises_the_bill(tmp_path: Path, seed: int) -> None:
    (_, less), (_, more) = (costed(tmp_path, drawn(seed, more=by)) for by in (0, 7))
    before, after = bills(less), bills(more)
    assert before
    assert all(cost <= before[item] + NOISE for item, cost in after.items() if item in before)


@SEEDS
def test_what_is_bought_and_on_hand_covers_what_is_to_be_there(tmp_path: Path, seed: int) -> None:
    _, found = costed(tmp_path, drawn(seed))
    seen = 0
    for item in found.items:
        if item.plan is None or item.need is None:
            continue
        seen += 1
        gives = (
            each.count
            * (each.pack.number("pack_in_units_of_now") or 0)
            * (each.pack.number("usable_share") or 1)
            for each in item.bought
        )
        assert sum(gives, Decimal(0)) >= item.need.ready - NOISE * (1 + item.need.ready)
    assert seen


@SEEDS
def test_nothing_wanted_and_no_par_nothing_to_buy(tmp_path: Path, seed: int) -> None:
    book = drawn(seed, times=0)
    book["Items"] = [[*row[:-2]] for row in book["Items"]]
    costing, found = costed(tmp_path, book)
    assert not found.items
    assert found.total == costing.one("plan_whole")["cost"] == 0


@SEEDS
def test_a_batch_of_the_plan_costs_what_it_costs_on_prices(tmp_path: Path, seed: int) -> None:
    """One batch, of each product in turn: its packs sold carry all of it."""
    book = drawn(seed)
    compared = 0
    for at, (product, *_) in enumerate(book["Products"][1:]):
        one = {**book, "Plan": [("Product", "Wanted", "Batches"), (product, 0, 1)]}
        costing, _ = costed(tmp_path, one)
        priced, whole = costing.figures["products"][at], costing.one("plan_whole")
        for part in MADE:
            each, sold = priced[part.name], priced["packs_sold"]
            if isinstance(each, Decimal) and isinstance(sold, Decimal):
                compared += 1
                planned = whole[part.name]
                assert isinstance(planned, Decimal), (product, part.name)
                assert abs(planned - each * sold) < NOISE * (1 + planned), (product, part.name)
    assert compared
