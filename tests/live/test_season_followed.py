"""Season follows whatever is changed in the rows that were there when the workbook was costed.

Each change is made to the cells of a costed workbook, and to the rows of another that is costed
anew: every formula of Season must then show the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from datetime import date
from pathlib import Path
from typing import Final

import pytest

from tests.deciding.season import ON, STALL
from tests.helpers import make_book, run
from tests.judges import Cell, Setting, Value, compare, position
from tests.judges.ironcalc_judge import IronCalc, IronDocument
from tests.judges.stored import stored_values, with_wrong_stored_values
from tests.tables import Sheets, sheets

SEASON: Final = """
Outlets
Outlet | Fee per day | Hours per day | Miles per day | Cost per mile | Units sold per day | Card share % | Card fee %
Pier   | 10          | 4             | 6             | 0.50          | 40                 | 0            |
Square | 25          | 6             | 10            | 0.50          | 40                 | 50           | 2

Market days
Date       | Outlet | Hours | Float | Cash counted | Cash paid out | Card takings | Card payout | Fee paid | Miles | Weather
2026-11-07 | Pier   | 3     | 50    | 150          |               |              |             |          |       | sun
2026-11-08 | Square | 5     | 40    | 80           | 10            | 60           | 58.50       | 30       | 12    | showers
2026-11-14 | Pier   | 4     | 50    | 140          |               |              |             |          | 0     |

Sales
Date       | Outlet | Product | Taken | Sold | Sampled | Spoiled | Price
2026-11-07 | Pier   | Bun     | 30    | 20   | 1       | 2       |
2026-11-08 | Square | Bun     | 25    | 22   |         |         | 5.50
2026-11-14 | Pier   | Bun     | 18    | 18   |         |         |
"""  # noqa: E501 - a table is read in one piece

Typed = float | str | date | None
Followed = tuple[IronDocument, dict[Cell, Value | None]]
CHANGES: Final[dict[str, list[tuple[str, Cell, Typed]]]] = {
    "as it was": [],
    "other hours, a short till, a fee of the day": [
        *(("Market days", "C4", 6.5), ("Market days", "E2", 138), ("Market days", "D4", 45)),
        *(("Market days", "I2", 0), ("Market days", "I3", None)),
    ],
    "no hours, and cards that nobody noted": [
        *(("Market days", "C2", None), ("Market days", "G3", None), ("Market days", "H3", None)),
    ],
    "a till that nobody counted, other miles": [
        *(("Market days", "E3", None), ("Market days", "J2", 20), ("Market days", "J3", None)),
    ],
    "a day later than the last, and rain after all": [
        *(("Market days", "A2", date(2026, 11, 21)), ("Sales", "A2", date(2026, 11, 21))),
        *(("Market days", "K2", "rain"), ("Market days", "K3", "no rain")),
    ],
    "a day at the other outlet": [("Market days", "B4", "Square"), ("Sales", "B4", "square")],
    "two rows of one day": [
        *(("Market days", "A4", date(2026, 11, 7)), ("Sales", "A4", date(2026, 11, 7))),
    ],
    "a sale of no day, a day whose date is gone": [
        *(("Sales", "A3", date(2026, 11, 9)), ("Market days", "A4", None)),
    ],
    "an outlet and a product of nobody's": [("Market days", "B4", "Peer"), ("Sales", "C2", "Bum")],
    "more sold, more than taken, and nothing said of it": [
        *(("Sales", "E2", 27), ("Sales", "F2", None), ("Sales", "E3", None), ("Sales", "E4", 19)),
    ],
    "a price of that day, and another now": [
        *(("Sales", "H2", 4.25), ("Sales", "H3", None), ("Products", "D2", 6)),
    ],
    "a dearer pitch, and flour at twice the price": [
        *(("Outlets", "B2", 45), ("Purchases", "E2", 40)),
    ],
}


def costed(book: Sheets, path: Path) -> Path:
    out = path.with_name(f"{path.stem}-out.xlsx")
    code, _, said = run("cost", make_book(path, book), "--on", ON, "--output", out)
    assert code in (0, 1), said
    return out


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Followed]:
    """The costed workbook, with wrong values stored in it, open in a judge; and the right ones."""
    folder = tmp_path_factory.mktemp("season")
    stale = folder / "stale.xlsx"
    out = costed(sheets(STALL, SEASON), folder / "stall.xlsx")
    with_wrong_stored_values(out, stale)
    with IronCalc() as judge:
        yield judge.open(stale), stored_values(out)["Season"]


def edited(change: list[tuple[str, Cell, Typed]]) -> tuple[Sheets, list[Setting]]:
    """The sheets with a change in them, and what undoes it in a judge."""
    book: Sheets = deepcopy(sheets(STALL, SEASON))
    undone = []
    for sheet, cell, typed in change:
        row, column = position(cell)
        undone.append((sheet, cell, serial(book[sheet][row - 1][column - 1])))
        book[sheet][row - 1][column - 1] = typed
    return book, undone


def serial(typed: object) -> float | str | None:
    """What a judge types: a day as the number that it is in a workbook."""
    if isinstance(typed, date):
        return (typed - date(1899, 12, 30)).days
    assert typed is None or isinstance(typed, float | int | str)
    return typed


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_of_a_day_is_followed(followed: Followed, tmp_path: Path, change: str) -> None:
    document, before = followed
    book, undone = edited(CHANGES[change])
    wanted = stored_values(costed(book, tmp_path / "then.xlsx"))["Season"]
    document.set_many((tab, cell, serial(typed)) for tab, cell, typed in CHANGES[change])
    document.recalculate()
    shown = document.values("Season")
    document.set_many(undone)
    assert len(wanted) > 100
    assert compare(wanted, shown) == []
    assert bool(compare(before, shown)) == bool(CHANGES[change])
