"""One slip in any workbook: a figure stays, or its cell is named. None is silently smaller."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from tests.helpers import priced
from tests.quickly import figures_only
from tests.random_books import COSTED_ON, random_book
from tests.slips import silent, slips_in
from tests.tables import sheets

__all__ = ["figures_only"]  # a fixture of every test here

ON = COSTED_ON.isoformat()

STALL = sheets(
    """
    Settings
    Setting                      | Value
    Currency                     | USD
    Pay per hour                 | 15
    Target margin %              | 0.35
    Price step                   | 0.5
    Small-ingredient allowance % | 0.02
    Sales tax %                  | 0.05
    Prices include sales tax     | yes
    Kitchen hire per hour        | 12
    Batches per year             | 50

    Purchases
    Date       | Item    | Supplier   | Packs | Pack count | Pack size | Unit | Price per pack | Other cost
    2026-10-07 | Flour   | Mill Lane  |       |            | 5         | lb   | 3.9            |
    2026-11-07 | Flour   | Mill Lane  |       |            | 5         | lb   | 4.2            |
    2026-11-07 | Spinach | Green Barn | 2     |            | 1         | kg   | 5.38           | 1
    2026-11-14 | Spinach | Green Barn | 1     |            | 2         | kg   | 9.9            |
    2026-11-07 | Feta    | Dairy Hill | 1     | 6          | 200       | g    | 15             |
    2026-11-07 | Film    | Packer     | 1     |            | 300       | ft   | 12             |
    2026-11-07 | Labels  | Packer     | 1     |            | 500       | ct   | 20             |

    Items
    Item    | Usable % | Usual supplier
    Spinach | 0.75     | Green Barn
    Feta    |          |

    Recipes
    Recipe       | Uses    | Amount | Unit
    Green mix    | Spinach | 1.2    | kg
    Green mix    | Feta    | 400    | g
    Spinach roll | Flour   | 900    | g
    Spinach roll | Green mix | 1.5  | kg
    Plain bun    | Flour   | 700    | g
    Plain bun    | Feta    | 50     | g
    Soup         | Spinach | 3      | kg

    Batches
    Recipe       | Makes | Unit | Rejects
    Green mix    | 1.6   | kg   |
    Spinach roll | 24    | ea   | 1
    Plain bun    | 12    | ea   |
    Soup         | 10    | l    |

    Stages
    Recipe       | Stage | People | Minutes per batch | Minutes per unit | Waiting minutes
    Green mix    | Chop  | 1      | 15                |                  |
    Spinach roll | Fill  | 2      | 20                | 1.5              | 30
    Spinach roll | Wrap  |        | 12                |                  |
    Plain bun    | Bake  | 1      | 25                |                  |
    Soup         | Cook  | 1      | 40                |                  |

    Packaging
    Product      | Uses   | Amount | Unit | Per  | Spare %
    all          | Film   | 14     | in   | unit | 0.03
    Rolls, six   | Labels | 1      | ea   | pack |
    Roll, one    | Labels | 1      | ea   | pack |
    Bun          | Labels | 2      | ea   | pack |
    Soup, jar    | Labels | 1      | ea   | pack |
    Soup, four   | Labels | 1      | ea   | pack |

    Products
    Product      | Recipe       | Units per pack | Not sold % | Current price
    Roll, one    | Spinach roll | 1              | 0.05       | 9
    Rolls, six   | Spinach roll | 6              | 0.05       | 52
    Bun          | Plain bun    | 1              | 0.05       | 5.5
    Soup, jar    | Soup         | 500 ml         | 0.05       | 6
    Soup, four   | Soup         | 4 x 500 ml     | 0.05       | 20

    Overheads
    Cost      | Amount | Per
    Insurance | 240    | year
    Ice       | 5      | market day

    Outlets
    Outlet          | Kind      | Fee per day | Hours per day | Units sold per day | Card share % | Card fee % | Units per sale | Commission %
    Saturday market | stall     | 30          | 6             | 60                 | 0.5          | 0.0175     | 2              |
    Farm shop       | commission | 0          |               | 40                 | 0            | 0          | 1              | 0.2
    """  # noqa: E501 (a table is read across)
)


@pytest.mark.long
def test_no_slip_in_a_tidy_stall_is_silent() -> None:
    """Every name and figure of it, blanked, misspelt, merged, repeated or moved."""
    before = priced(STALL, on=ON)
    assert all(row["complete"] for row in before["products"])
    found = {s.what: silent(s, before, priced(s.book, on=ON)) for s in slips_in(STALL)}
    assert len(found) > 400
    assert not {what: lines for what, lines in found.items() if lines}


SLIPS_A_BOOK = 12


@pytest.mark.long
@pytest.mark.parametrize("seed", range(12))
def test_no_slip_in_any_workbook_is_silent(seed: int) -> None:
    random = Random(seed)
    book = random_book(random)
    before = priced(book, on=ON)
    for slip in random.sample(list(slips_in(book)), SLIPS_A_BOOK):
        assert not silent(slip, before, priced(slip.book, on=ON)), slip.what


# One of each kind, so that the quick tests see it too.
EXAMPLES = (
    "Recipes!2: Recipe misspelt as 'Green mx'",
    "Recipes!3: Recipe blank",
    "Recipes!4: Recipe merged over two rows",
    "Stages!5: Recipe misspelt as 'Plain bn'",
    "Packaging!2: Product blank",
    "Packaging!5: Product misspelt as 'Bunx'",
    "Purchases!5: Supplier blank",
    "Purchases!5: Item misspelt as 'Spinah'",
    "Items!2: Item misspelt as 'Spinah'",
    "Batches!2: Makes moved",
    "Outlets!2: Hours per day blank",
    "Outlets!2: Card share % blank",
    "Stages!3: repeated",
    "Products!5: Units per pack as 500 l",
    "Products!6: Units per pack as 4 x 500 l",
)


@pytest.fixture(scope="module")
def tidy() -> dict[str, Any]:
    return priced(STALL, on=ON)


@pytest.mark.parametrize("what", EXAMPLES)
def test_a_slip_is_not_silent(tidy: dict[str, Any], what: str) -> None:
    [slip] = [each for each in slips_in(STALL) if each.what == what]
    assert not silent(slip, tidy, priced(slip.book, on=ON))


@pytest.mark.parametrize("what", EXAMPLES)
def test_the_judge_would_hear_a_silent_one(tidy: dict[str, Any], what: str) -> None:
    """The same answer without its sentences: what changed is told, unless nothing had to change."""
    [slip] = [each for each in slips_in(STALL) if each.what == what]
    unsaid = {**priced(slip.book, on=ON), "problems": tidy["problems"]}
    assert bool(silent(slip, tidy, unsaid)) == (what not in SAID_ONLY)


SAID_ONLY = {"Recipes!3: Recipe blank", "Recipes!4: Recipe merged over two rows"}
"""Slips that change no figure: the name above is the one that is meant, and that is said."""
