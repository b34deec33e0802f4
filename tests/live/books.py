"""The workbooks that are followed live: the samples, a book of oddities, and drawn ones."""

# ruff: noqa: E501 - a table is read in one piece

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from random import Random
from typing import Any, Final

import openpyxl

from costbook.definitions.sheets import SHEETS
from tests.helpers import make_book
from tests.random_books import COSTED_ON, random_book
from tests.tables import Sheets, sheets

__all__ = ["BOOKS", "SAMPLE_BOOKS", "crowded_book", "make", "odd_book"]

SAMPLES: Final = Path(__file__).parents[2] / "sample_workbooks"

# Four recipes deep; names with wildcards, quotes, brackets, an apostrophe, no-break spaces, a
# comma; other names of items; sizes and amounts typed as text; yen; prices with tax in; tabs with
# apostrophes, of the person's own too. Discounts, returns and rolls besides.
ODD = """
Settings
Setting                       | Value
Currency                      | JPY
Costing date                  | 2026-11-25
Pay per hour                  | 1400
Pay on-costs %                | 12
Target margin %               | 35
Price step                    | 10
Small-ingredient allowance %  | 3
Sales tax %                   | 8
Prices include sales tax      | yes
Kitchen hire per hour         | 900
Kitchen booking block minutes | 30
Batches per year              | 120

Purch'ases
Date       | Item              | Supplier             | Packs | Pack count | Pack size | Unit   | Price per pack | Other cost
2026-11-01 | Flour "00" strong | Mill & Sons' <best>  | 2     |            | 25        | kg     | 5200           | 300
2026-11-08 | tipo~0            | B*rn?                | 1     |            | 5 kg bag  |        | 1300           |
2026-11-08 | tipo~0            | B*rn?                |       |            |           |        |                | -50
2026-10-02 | Eggs? ~ large     | B*rn?                | 3     |            | 1         | tray   | 780            |
2026-11-09 | eggs? ~  LARGE    | Mill & Sons' <best>  | -1    |            | 1         | dozen  | 400            |
2026-11-10 | Eggs? ~ large     | nobody               | 1     | 2          | 18        | ct     | 900            |
2026-11-03 | <5 & oil*         |                      | 1     | 6          | 500       | ml     | 2400           |
2026-11-20 | <5 & oil*         |                      | 1     |            | 6 x 500 ml|        | 2700           |
2026-11-04 | Jo's cheese       | Mill & Sons' <best>  | 1     |            | 2.2       | lb     | 1850           | 120
2026-12-04 | Jo's cheese       | Mill & Sons' <best>  | 1     |            | 2.2       | lb     | 9999           |
2026-11-05 | Film, 30%         |                      | 1     |            | 30        | m      | 420            |
2026-09-05 | Foil\u00a0"wide"  |                      | 1     |            | 25        | sq ft  | 390            |
2026-11-05 | Bag               |                      | 1     | 2          | 100       | ea     | 1100           |

It'ems
Item              | Usable % | Grams per piece | Grams per ml | Roll width | Roll width unit | Usual supplier      | Also called
Flour "00" strong |          |                 | 0.53         |            |                 | B*rn?               | Tipo 00; Tipo~0
Eggs? ~ large     | 88       | 58              | 1.03         |            |                 | Mill & Sons' <best> | eggs
Jo's cheese       | 0.97     |                 | 0.45         |            |                 | mill &  sons' <BEST>| cheese*
<5 & oil*         |          |                 | 0.92         |            |                 |                     |
Film, 30%         |          |                 |              | 30         | cm              |                     |
Foil\u00a0"wide"  |          |                 |              | 12         | in              |                     |
Sponge            |          |                 | 0.9          |            |                 |                     |

Recipes
Recipe          | Uses              | Amount | Unit | Measured     | Usable %
Sponge          | tipo 00           | 300    | g    |              |
Sponge          | Eggs? ~ large     | 1      | ea   |              |
Dough "A"       | Flour "00" strong | 1 1/2  | kg   |              |
Dough "A"       | <5 & oil*         | ½      | cup  | as bought    |
Dough "A"       | Sponge            | 400    | ml   |              |
Fill~ing*       | cheese*           | 2      | cup  |              | 90
Fill~ing*       | eggs              | 6      | ea   | ready to use |
Fill~ing*       | <5 & oil*         | 2      | T    |              |
Fill~ing*       | Dough "A"         | 0.2    | kg   |              |
Wrap? <new>     | Dough "A"         | 1.4    | kg   |              |
Wrap? <new>     | Fill~ing*         | 900    | g    |              |
Wrap? <new>     | Jo's cheese       | 120    | g    | as bought    |

Batches
Recipe      | Makes | Unit | Rejects
Sponge      | 400   | g    |
Dough "A"   | 2.1   | kg   | 0.1
Fill~ing*   | 1.1   | kg   |
Wrap? <new> | 24    | ea   | 1

Stages
Recipe           | Stage         | People | Minutes per batch | Minutes per unit | Waiting minutes | Overlap minutes | Pay per hour
Sponge           | Stir "well"   |        | 5                 |                  | 60              | 50              |
Dough "A"        | Knead         | 1      | 18                |                  | 40              |                 |
Wrap? <new>      | Fill & fold   | 2      | 10                | 1.5              |                 |                 |
Wrap? <new>      | Cool          |        |                   |                  | 30              |                 | 1300
Six's of "wraps" | Bag up        |        | 4                 | 0.5              |                 |                 |

Packaging
Product          | Uses              | Amount | Unit   | Per   | Spare %
all              | Film, 30%         | 40     | cm     | unit  | 5
all              | foil "wide"       | 1      | sq ft  | unit  |
Six's of "wraps" | Bag               | 1      | ea     | pack  | 2

Products
Product          | Recipe      | Units per pack | Not sold % | Current price | Wholesale price now | Target margin %
Wrap & "one"     | Wrap? <new> | 1              | 6          | 900           | 700                 |
Six's of "wraps" | wrap?  <NEW>| 6              |            | 4800          |                     | 30

Overheads
Cost      | Amount | Per        | Share %
Insurance | 24000  | year       |
Phone     | 3000   | month      | 25
Ice       | 500    | market day |

Outlets
Outlet      | Kind      | Fee per day | Hours per day | Miles per day | Cost per mile | Units sold per day | Card share % | Card fee % | Card fixed fee | Units per sale | Their margin % | Target margin %
Jo's "pitch"| stall     | 3000        | 7             | 14            | 40            | 80                 | 55           | 2.5        | 10             | 2              |                |
Café d'été  | wholesale |             |               | 6             | 40            | 30                 |              |            |                |                | 30             | 20

Jo's 'own' notes
Anything | at all
1        | 2
"""


def odd_book() -> Sheets:
    """The book of oddities."""
    return sheets(ODD)


def drawn(seed: int, *, gaps: bool = False) -> Sheets:
    """A book drawn by a seed, with a costing date, so that it is costed alike on every day."""
    book = random_book(Random(seed), gaps=gaps)
    book["Settings"].append(["Costing date", COSTED_ON])
    return book


def with_gaps(seed: int) -> Sheets:
    """A book that lacks prices, bridges and settings, and the sheet Outlets."""
    return {name: rows for name, rows in drawn(seed, gaps=True).items() if name != "Outlets"}


def dated_from_1904(path: Path) -> Path:
    """Turn a workbook into one whose days count from 1904, as old Macs counted."""
    book: Any = openpyxl.load_workbook(path)
    book.epoch = datetime(1904, 1, 1)
    book.save(path)
    return path


# Two tables on one tab, a total, a note where sizes stand, texts that nobody can read.
CROWDED = """
Settings
Setting         | Value
Costing date    | 2026-11-25
Target margin % | 30
Pay per hour    | 12

Purchases
Date       | Item      | Supplier  | Pack size | Unit | Price per pack
2026-11-01 | Flour     | Mill      | 5 lb bag  |      | 4.20
2026-11-08 | Flour     | Mill      | a sack    |      | 6
           | Total     |           |           |      | 10.20
           |           |           | see the receipt in the tin, it is torn |      |
           |           |           |           |      |
           |           |           |           |      |
Item       | Usable %  | Grams per piece | Grams per ml
Flour      | 98        | sacks     | 0.53
Salt       | 1         | 2 x 18    | heavy

Recipes
Recipe | Uses  | Amount | Unit
Roll   | Flour | 900    | g

Batches
Recipe | Makes | Unit
Roll   | 24    | ea

Products
Product | Recipe | Units per pack
Roll    | Roll   | 1
"""


def crowded_book() -> Sheets:
    """A book whose tab Purchases holds more than receipts."""
    return sheets(CROWDED)


def fewest_columns(book: Sheets) -> Sheets:
    """The book with the needed sheets and Settings alone, and only the needed columns in them."""
    kept: Sheets = {"Settings": book["Settings"]}
    for sheet in (each for each in SHEETS if each.needed):
        needed = {field.title for field in sheet.fields if field.needed} | {"Unit"}
        headings, *rows = book[sheet.title]
        at = [number for number, heading in enumerate(headings) if heading in needed]
        kept[sheet.title] = [[row[number] for number in at] for row in (headings, *rows)]
    return kept


Make = Callable[[Path], Path]

BOOKS: Final[dict[str, Make]] = {
    "market_stall": lambda path: _sample("market_stall", path),
    "starter": lambda path: _sample("starter", path),
    "everything_wrong": lambda path: _sample("everything_wrong", path),
    "market_season": lambda path: _sample("market_season", path),
    "odd": lambda path: make_book(path, odd_book()),
    "drawn": lambda path: make_book(path, drawn(8)),
    "fewest": lambda path: make_book(path, fewest_columns(drawn(5))),
    "gaps": lambda path: dated_from_1904(make_book(path, with_gaps(25))),
}
"""Drawn: three products at three outlets, in KWD, with tax in prices, and offers of a club. Fewest:
the needed columns alone. Gaps: what can be missing is, four recipes are used one in another, there
are no outlets, and days count from 1904."""

SAMPLE_BOOKS: Final = ("market_stall", "starter", "everything_wrong", "market_season")


def _sample(name: str, path: Path) -> Path:
    shutil.copyfile(SAMPLES / f"{name}.xlsx", path)
    return path


def make(name: str, folder: Path) -> Path:
    """Make a book of that name in a folder."""
    return BOOKS[name](folder / "stall.xlsx")
