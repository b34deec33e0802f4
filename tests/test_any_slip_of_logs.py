"""One slip in a plan, a log, a count or a test: every answer stays, or the cell is named."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import pytest

from costbook.costing.result import problem_data
from costbook.deciding.buy_list import buy_list
from costbook.deciding.market_days import market_days
from costbook.deciding.measured import measured
from costbook.deciding.stock import in_freezer
from costbook.deciding.week import week
from costbook.deciding.year_sums import the_year
from costbook.round_trip import read_and_cost
from tests.helpers import make_book
from tests.random_books import COSTED_ON
from tests.slips import named, slips_in
from tests.tables import Sheets, sheets
from tests.test_any_slip import STALL

LOGS: Final = sheets(
    """
    Items
    Item    | Usable % | Usual supplier | On hand | On hand unit | Par | Par unit
    Spinach | 0.75     | Green Barn     | 0.5     | kg           |     |
    Feta    |          |                |         |              | 3   | kg

    Plan
    Product   | Wanted | For
    Roll, one | 20     | Saturday
    Bun       | 12     | Saturday

    Made
    Date       | Product   | Packs | Rejects | Minutes | Batch code | Use by
    2026-11-03 | Roll, one | 22    | 1       | 60      | A1         | 2027-02-03
    2026-11-10 | Roll, one | 20    | 2       | 58      | A2         | 2027-02-10

    Counts
    Date       | What      | Amount | Unit
    2026-11-05 | Roll, one | 6      |

    Market days
    Date       | Outlet          | Hours | Float | Cash counted | Card takings | Fee paid
    2026-11-07 | Saturday market | 6     | 50    | 150          | 62           | 30

    Sales
    Date       | Outlet          | Product   | Taken | Sold | Sampled
    2026-11-07 | Saturday market | Roll, one | 20    | 16   | 1
    2026-11-07 | Saturday market | Bun       | 12    | 3    |

    Tests
    Date       | What    | Kind  | In | Out | Unit | Minutes | Units
    2026-11-02 | Spinach | yield | 10 | 7.3 | lb   |         |
    2026-11-02 | Wrap    | time  |    |     |      | 12      | 20
    """
)
BOOK: Final[Sheets] = {**STALL, **LOGS}
Answers = dict[str, object]


def answers(folder: Path, book: Sheets) -> tuple[Answers, set[tuple[Any, ...]]]:
    """Every figure of plan, buy, day, freezer and year, by its way there; and what is said."""
    costed = read_and_cost(make_book(folder / "stall.xlsx", book), COSTED_ON)
    costing, theirs = costed.costing, costed.costing.structure.book
    found = week(costing)
    whole = {
        "plan": found and found.as_data(),
        "buy": buy_list(costing, costed.places).as_data(),
        "day": [each.as_data(theirs) for each in market_days(costing)],
        "freezer": [each.as_data(theirs) for each in in_freezer(costing)],
        "measured": [each.as_data() for each in measured(costing)],
        "year": the_year(costing).as_data(),
    }
    return dict(_leaves(whole, "")), {tuple(problem_data(p).values()) for p in costed.problems}


def _leaves(part: object, way: str) -> Iterator[tuple[str, object]]:
    if isinstance(part, Mapping):
        for name, each in part.items():
            yield from _leaves(each, f"{way}.{name}")
    elif isinstance(part, list | tuple):
        for at, each in enumerate(part):
            yield from _leaves(each, f"{way}.{at}")
    elif not isinstance(part, str):
        yield way, part


@pytest.mark.long
def test_no_slip_in_a_plan_or_a_log_is_silent(tmp_path: Path) -> None:
    """Every name and figure of them, blanked, misspelt, merged, repeated or moved."""
    before, said = answers(tmp_path, BOOK)
    assert sum(figure is not None for figure in before.values()) > 100
    silent, heard = dict[str, list[str]](), 0
    for slip in (each for each in slips_in(BOOK) if each.sheet in LOGS):
        after, told = answers(tmp_path, slip.book)
        if named(slip, told - said):
            heard += 1
        elif after != before:
            ways = sorted(before.keys() | after.keys())
            silent[slip.what] = [way for way in ways if before.get(way) != after.get(way)]
    assert heard > 100
    assert not silent
