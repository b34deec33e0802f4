"""The year follows what is typed: in rows that were there, and in the spare ones below them.

Each change is made to the cells of a costed workbook, and to the rows of another that is costed
anew: every formula of The year must then show the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from datetime import date
from pathlib import Path
from typing import Final

import pytest

from tests.deciding.season import STALL
from tests.judges import Cell, Value, compare, position
from tests.judges.ironcalc_judge import IronCalc, IronDocument
from tests.judges.stored import stored_values, with_wrong_stored_values
from tests.live.test_season_followed import SEASON, Typed, costed, serial
from tests.tables import Sheets, sheets

YEAR: Final = """
Settings
Setting            | Value
Currency           | USD
Pay per hour       | 12
Target margin %    | 0.1
Sales tax %        | 5
Yearly sales cap   | 400
No kitchen to pay  | yes
No overheads       | yes

Purchases
Date       | Item  | Pack size | Unit | Price per pack | Other cost
2025-12-30 | Flour | 10        | kg   | 18.00          |
2026-11-01 | Flour | 10        | kg   | 20.00          |
2026-11-02 | Salt  | 1         | kg   | 1.50           | 0.30
2026-11-03 | Soap  | 1         | kg   | 3.00           |

Items
Item  | Kind       | Grams per ml
Flour | ingredient | 0.5
Salt  | seasoning  |
Soap  |            |
Mace  | seasoning  |

Made
Date       | Product | Packs
2026-11-06 | Bun     | 90

Counts
Date       | What  | Amount | Unit
2025-12-31 | Flour | 3      | kg
2026-11-20 | Flour | 2      | kg
2026-11-20 | Salt  | 500    | g
"""
CHANGES: Final[dict[str, list[tuple[str, Cell, Typed]]]] = {
    "as it was": [],
    "a market day and its sale below the last rows": [
        *(("Market days", "A5", date(2026, 11, 21)), ("Market days", "B5", "Pier")),
        *(("Market days", "C5", 3), ("Sales", "A5", date(2026, 11, 21)), ("Sales", "B5", "Pier")),
        *(("Sales", "C5", "Bun"), ("Sales", "D5", 12), ("Sales", "E5", 10)),
    ],
    "a receipt and a count below the last rows": [
        *(("Purchases", "A6", date(2026, 11, 22)), ("Purchases", "B6", "Salt")),
        *(("Purchases", "C6", 2), ("Purchases", "D6", "kg"), ("Purchases", "E6", 2.8)),
        *(("Counts", "A5", date(2026, 11, 23)), ("Counts", "B5", "Flour"), ("Counts", "C5", 7)),
        ("Counts", "D5", "cup"),
    ],
    "a receipt of what was never bought": [
        *(("Purchases", "A6", date(2026, 11, 22)), ("Purchases", "B6", "Leeks")),
        *(("Purchases", "C6", 2), ("Purchases", "D6", "kg"), ("Purchases", "E6", 2.8)),
    ],
    "a day of the year before, and one that is to come": [
        *(("Market days", "A2", date(2025, 12, 31)), ("Sales", "A2", date(2025, 12, 31))),
        *(("Market days", "A4", date(2026, 11, 30)), ("Sales", "A4", date(2026, 11, 30))),
        *(("Sales", "E2", 0), ("Sales", "F2", 0), ("Sales", "G2", 0)),
        ("Purchases", "A4", date(2025, 12, 31)),
    ],
    "a market day without its date": [("Market days", "A3", None)],
    "a market day without its outlet": [("Market days", "B4", None)],
    "a sale of no market day": [("Sales", "A3", date(2026, 11, 9))],
    "a sale without its date": [("Sales", "A3", None)],
    "a receipt without its date": [("Purchases", "A3", None)],
    "a receipt without its price": [("Purchases", "E4", None)],
    "a gift, and what was paid for its parcel": [("Purchases", "E5", 0), ("Purchases", "F5", 2)],
    "bought for oneself": [("Items", "B4", "Own use")],
    "another kind, as one that is there": [("Items", "B3", "INGREDIENT ")],
    "no till and no sale": [("Market days", "E3", None), ("Sales", "E3", None)],
    "miles, a fee, what else was paid": [
        *(("Market days", "J2", 40), ("Market days", "I3", 0), ("Outlets", "B2", 12)),
    ],
    "less tax, more pay, another cap": [
        *(("Settings", "B5", 3), ("Settings", "B3", 20), ("Settings", "B6", 900)),
    ],
    "a cap that is reached": [("Settings", "B6", 100)],
    "nothing left of the flour, more made": [("Counts", "C3", 0), ("Made", "C2", 120)],
    "more went than was made": [("Made", "C2", 5)],
    "a count without its date": [("Counts", "A3", None)],
    "a count of nobody's": [("Counts", "B4", "Slat")],
    "a count without its unit": [("Counts", "D3", None)],
}


ASKS_FOR_A_RUN: Final = "A2"
"""Where the sheet asks for a run, as after a receipt that can't be read; a new run doesn't."""


@pytest.fixture(scope="module")
def followed(
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[tuple[IronDocument, dict[Cell, Value | None]]]:
    """The costed workbook, with wrong values stored in it, open in a judge; and the right ones."""
    folder = tmp_path_factory.mktemp("year")
    stale = folder / "stale.xlsx"
    out = costed(sheets(STALL, SEASON, YEAR), folder / "stall.xlsx")
    with_wrong_stored_values(out, stale)
    with IronCalc() as judge:
        yield judge.open(stale), stored_values(out)["The year"]


def edited(change: list[tuple[str, Cell, Typed]]) -> tuple[Sheets, list[tuple[str, Cell, Typed]]]:
    """The sheets with a change in them, and what undoes it in a judge."""
    book: Sheets = deepcopy(sheets(STALL, SEASON, YEAR))
    undone: list[tuple[str, Cell, Typed]] = []
    for sheet, cell, typed in change:
        row, column = position(cell)
        if row > len(book[sheet]):
            book[sheet].append([None] * len(book[sheet][0]))
        undone.append((sheet, cell, serial(book[sheet][row - 1][column - 1])))
        book[sheet][row - 1][column - 1] = typed
    return book, undone


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_is_followed_by_the_year(
    followed: tuple[IronDocument, dict[Cell, Value | None]], tmp_path: Path, change: str
) -> None:
    document, before = followed
    book, undone = edited(CHANGES[change])
    wanted = stored_values(costed(book, tmp_path / "then.xlsx"))["The year"]
    document.set_many((tab, cell, serial(typed)) for tab, cell, typed in CHANGES[change])
    document.recalculate()
    shown = document.values("The year")
    document.set_many([(tab, cell, serial(typed)) for tab, cell, typed in undone])
    assert len(wanted) > 50
    del wanted[ASKS_FOR_A_RUN]
    assert compare(wanted, shown) == []
    assert bool(compare(before, shown)) == bool(CHANGES[change])
