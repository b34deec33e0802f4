"""A thousand price sets: arrays, the exact engine and the linear table say the same."""

from __future__ import annotations

from decimal import Decimal
from random import Random

import numpy as np
import pytest

from costbook.costing.engine import Costing
from costbook.deciding.arrays import Array, array_of
from costbook.deciding.trial import Trial, tried
from costbook.deciding.what_ifs import WhatIfs
from costbook.definitions.affected import TRIAL_ANSWERS
from tests.deciding.asking import number, read
from tests.random_books import COSTED_ON, random_book

SETS = 1000

PriceSets = dict[str, list[Decimal]]


def price_sets(costing: Costing, seed: int, count: int) -> PriceSets:
    """So many prices for a pack of each item, from two fifths of today's to two and a half."""
    random, found = Random(seed), PriceSets()
    for row in costing.structure.rows["prices_now"]:
        price = costing.of(row)["price_per_pack"]
        if isinstance(price, Decimal):
            factors = (Decimal(random.randint(400, 2500)) / 1000 for _ in range(count))
            found[str(row.fixed["item_key"])] = [price * factor for factor in factors]
    return found


def arrays(prices: PriceSets) -> dict[str, Array]:
    return {key: array_of(each) for key, each in prices.items()}


@pytest.fixture(scope="module")
def sets(stall: Costing) -> PriceSets:
    found = price_sets(stall, 2026, SETS)
    assert len(found) == 30  # every item of the main sample that was bought
    return found


def test_fifty_of_a_thousand_price_sets_cost_what_the_exact_engine_gives(
    stall: Costing, sets: PriceSets
) -> None:
    cases = WhatIfs(stall, arrays(sets))
    for at in range(0, SETS, SETS // 50):
        exact = tried(stall, Trial({key: prices[at] for key, prices in sets.items()}, {}))
        for row in stall.structure.rows["prices"]:
            for column in TRIAL_ANSWERS:
                same(cases.of(row, column), at, exact.of(row)[column])


def same(found: Array, at: int, exact: object) -> None:
    """An element is the exact figure, or not a number where that is unknown."""
    value = float(found[at if len(found) > 1 else 0])
    if exact is None:
        assert np.isnan(value)
    else:
        assert value == pytest.approx(float(number(exact)), rel=1e-9, abs=1e-9)


def test_all_thousand_cost_what_the_table_of_needs_gives(stall: Costing, sets: PriceSets) -> None:
    """Cost is linear: for each item the need of a pack x the change of its price."""
    cases = WhatIfs(stall, arrays(sets))
    for row in stall.structure.rows["prices"]:
        found = cases.of(row, "total")
        expected = np.full(SETS, float(number(stall.of(row)["total"])))
        for at in row.links["products"].children["pack_needs"]:
            need = stall.structure.rows["pack_needs"][at]
            bought = stall.of(need.links["prices_now"])
            held, price = number(bought["whole_pack"]), number(bought["price_per_pack"])
            per_pack = float(number(stall.of(need)["pack_need"]) / held)
            changes = [each - price for each in sets[str(need.fixed["item_key"])]]
            expected += per_pack * np.array(changes, dtype=float)
        assert np.allclose(found, expected, rtol=1e-9, atol=0)
        assert len(set(found)) > SETS * 0.99


@pytest.mark.parametrize("seed", range(6))
def test_in_any_workbook_arrays_give_what_the_exact_engine_gives(seed: int) -> None:
    costing = read(random_book(Random(seed), gaps=seed % 2 == 0), on=COSTED_ON)
    sets = price_sets(costing, seed, 4)
    settings = {
        name: [Decimal(text) for text in texts]
        for name, texts in {
            "pay_per_hour": ("9", "14.5", "20", "0"),
            "target_margin": ("0.1", "0.35", "0.6", "0"),
            "sales_tax": ("0", "0.05", "0.2", "0.08"),
            "price_step": ("0.01", "0.25", "1", "5"),
            "batches_per_year": ("20", "100", "365", "1"),
            "booking_block_minutes": ("15", "60", "1", "30"),
        }.items()
    }
    cases = WhatIfs(costing, arrays(sets), arrays(settings))
    for at in range(4):
        trial = Trial(
            {key: prices[at] for key, prices in sets.items()},
            {name: values[at] for name, values in settings.items()},
        )
        exact = tried(costing, trial)
        for row in costing.structure.rows["prices"]:
            for column in TRIAL_ANSWERS:
                same(cases.of(row, column), at, exact.of(row)[column])


def test_without_a_change_every_figure_is_todays(stall: Costing) -> None:
    cases = WhatIfs(stall, {})
    assert cases.varied == {}
    row = stall.structure.rows["prices"][0]
    assert float(cases.of(row, "total")[0]) == float(number(stall.of(row)["total"]))
