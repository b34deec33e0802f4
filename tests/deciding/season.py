"""A stall drawn as text whose market days can be worked in the head, and what `day` says of it.

A bun costs 1.00 without its maker's work (20 of flour for 20 buns), and takes 3 minutes of hers: an
hour a batch. It sells at 5.00, without sales tax. A day at the pier costs 10.00 of fee.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.helpers import make_book, run
from tests.tables import sheets

__all__ = ["ON", "STALL", "days_of", "one_day", "said_of"]

ON = "2026-11-25"

STALL = """
Settings
Setting            | Value
Currency           | USD
Pay per hour       | 12
Target margin %    | 0.1
No kitchen to pay  | yes
No overheads       | yes

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 10        | kg   | 20.00

Recipes
Recipe | Uses  | Amount | Unit
Buns   | Flour | 10     | kg

Batches
Recipe | Makes | Unit
Buns   | 20    | ea

Stages
Recipe | Stage | Minutes per batch
Buns   | Bake  | 60

Packaging
Product | Uses  | Amount | Unit | Per
Bun     | Flour | 0      | g    | pack

Products
Product | Recipe | Units per pack | Current price
Bun     | Buns   | 1              | 5

Outlets
Outlet | Fee per day | Hours per day | Units sold per day
Pier   | 10          | 4             | 40
"""

DAY = """
Market days
Date       | Outlet | Hours | Float | Cash counted | Weather
2026-11-07 | Pier   | 3     | 50    | 150          | sun

Sales
Date       | Outlet | Product | Taken | Sold | Sampled | Spoiled
2026-11-07 | Pier   | Bun     | 30    | 20   | 1       | 2
"""


def said_of(folder: Path, *texts: str, words: tuple[str, ...] = ()) -> tuple[int, Any, list[str]]:
    """The status of `day --json` for the stall with some other sheets, its answer, and problems."""
    path = make_book(folder / "stall.xlsx", sheets(STALL, DAY, *texts))
    code, out, _ = run("day", path, *words, "--json", "--on", ON)
    answer = json.loads(out)
    problems = [
        f"{'' if each['severity'] == 'wrong' else 'check: '}{each['sheet']}!{each['cell']}: "
        f"{each['what']} {each['remedy']}"
        for each in answer.get("problems", ())
    ]
    return code, answer, problems


def days_of(folder: Path, *texts: str) -> list[dict[str, Any]]:
    """The days of `day --json`."""
    days: list[dict[str, Any]] = said_of(folder, *texts)[1]["days"]
    return days


def one_day(folder: Path, *texts: str) -> dict[str, Any]:
    """The only day."""
    (found,) = days_of(folder, *texts)
    return found
