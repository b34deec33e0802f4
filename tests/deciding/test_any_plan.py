"""What must be so for the plan of any workbook: random stalls, each with a plan of its own."""

from __future__ import annotations

import random
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from costbook.costing.engine import Costing
from costbook.round_trip import read_and_cost
from tests.helpers import save
from tests.random_books import COSTED_ON, random_book


def planned(folder: Path, seed: int, times: int) -> Costing:
    """A random stall in which so many times as many packs are wanted of each product."""
    draw = random.Random(f"plan{seed}")
    book: dict[str, list[Any]] = {n: list(rows) for n, rows in random_book(draw).items()}
    names = [row[0] for row in book["Products"][1:]]
    wanted = [(name, draw.randint(1, 60) * times) for name in names]
    book["Plan"] = [("Product", "Wanted"), *wanted]
    folder.mkdir(exist_ok=True)
    return read_and_cost(save(book, folder), COSTED_ON).costing


@pytest.mark.parametrize("seed", range(6))
def test_twice_as_many_take_no_fewer_batches_and_none_take_nothing(
    tmp_path: Path, seed: int
) -> None:
    none, one, two = (planned(tmp_path / str(n), seed, n) for n in (0, 1, 2))
    assert {row["batches"] for row in none.figures["plan_recipes"]} == {0}
    assert none.one("plan_whole")["cost"] == 0
    compared = 0
    for once, twice in zip(one.figures["plan_recipes"], two.figures["plan_recipes"], strict=True):
        if isinstance(once["batches"], Decimal) and isinstance(twice["batches"], Decimal):
            compared += 1
            assert twice["batches"] >= once["batches"]
    assert compared
    for row in one.figures["plan_products"]:
        if isinstance(row["spare"], Decimal):
            assert row["spare"] > -Decimal("1e-3")  # what comes out covers what is wanted
