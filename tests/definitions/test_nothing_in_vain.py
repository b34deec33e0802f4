"""Guards: what is asked is read, what is computed is used, and a cost reaches the price."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from costbook.definitions.columns import Column, Show
from costbook.definitions.parts import PARTS
from costbook.definitions.person_columns import StandsOn
from costbook.definitions.reads import reads
from costbook.definitions.sheets import SHEETS
from costbook.definitions.workings import LOGS, TABLES, row_column

COSTBOOK = Path(__file__).parents[2] / "costbook"
USERS = ("costing", "deciding", "writing")
"""The folders whose code makes something of a figure; reading only checks it."""

Place = tuple[str, str]

FOR_THEMSELVES = ("note", "source")
"""What people write for themselves."""


@cache
def words() -> frozenset[str]:
    """Every text in the code that uses figures."""
    trees = (
        ast.parse(path.read_text(encoding="utf-8"))
        for folder in USERS
        for path in (COSTBOOK / folder).rglob("*.py")
    )
    found = {str(n.value) for tree in trees for n in ast.walk(tree) if isinstance(n, ast.Constant)}
    return frozenset(found)


WAITING: dict[Place, str] = {}
"""Fields that are asked for what costbook can't do yet."""


def fields_of(column: Column) -> Iterator[Place]:
    """The person's fields that a column reads: those its kind names in any way."""
    how = column.how
    sheet = getattr(how, "sheet", "")
    for name in ("field", "text_in", "count_in"):
        yield sheet, getattr(how, name, "")
    for name in ("fields", "together_with"):
        for field in getattr(how, name, ()):
            yield sheet, field


def test_every_field_that_is_asked_is_read() -> None:
    read = {
        place for table in TABLES.values() for each in table.columns for place in fields_of(each)
    }
    asked = {
        (sheet.title, field.name): field.name in words()
        for sheet in SHEETS
        for field in sheet.fields
        if field.name not in FOR_THEMSELVES and (sheet.title, field.name) not in read
    }
    unread = {place for place, named in asked.items() if not named}
    assert unread == WAITING.keys()


@cache
def read_directly() -> dict[Place, frozenset[Place]]:
    """By column, the columns that it reads."""
    found: dict[Place, frozenset[Place]] = {}
    for table in TABLES.values():
        for column in table.columns:
            read = reads(column.how)
            own = {(table.name if n in table.index else "settings", n) for n in read.beside}
            found[table.name, column.name] = frozenset(own | set(read.elsewhere))
    return found


def reached(starts: set[Place]) -> set[Place]:
    """The columns that some columns rest on, and these."""
    found, waiting = set(starts), list(starts)
    while waiting:
        more = read_directly()[waiting.pop()] - found
        found |= more
        waiting += more
    return found


def test_every_column_is_read_or_shown() -> None:
    read = set().union(*read_directly().values())
    rows = {(name, row_column(name, sheet.title)) for name in TABLES for sheet in SHEETS}
    ditto = {(table, f"{field.name}_row") for log, (table, _) in LOGS.items() for sheet in SHEETS
             if sheet.title == log for field in sheet.fields}  # fmt: skip
    columns, parts = set(read_directly()), {part.name for part in PARTS}
    idle = {each for each in columns - read - rows - ditto if each[1] not in words() | parts}
    assert {each for each in idle if not isinstance(how_of(each), StandsOn)} == set()


def how_of(place: Place) -> object:
    table = TABLES[place[0]]
    return table.columns[table.index[place[1]]].how


COSTS = ("lines", "uses", "stages", "product_stages", "recipes", "overheads", "year", "packaging")
"""Tables of what is in a cost; what compares packs or prices is no part of it."""


ONLY_SHOWN = {"recipes": ("allowance",)}
"""A line of the cost card, which the cost of a batch counts as a part on top of its items."""


@pytest.mark.parametrize("table", COSTS)
def test_every_cost_reaches_the_price_and_what_is_known(table: str) -> None:
    reach = reached({("prices", "price_on_step"), ("prices", "known"), ("recipes", "unit_cost")})
    money = [
        each.name for each in TABLES[table].columns if each.show in (Show.MONEY, Show.FINE_MONEY)
    ]
    shown = ONLY_SHOWN.get(table, ())
    assert [name for name in money if (table, name) not in reach and name not in shown] == []


def test_a_cost_that_reaches_no_price_would_be_noticed() -> None:
    assert ("lines", "line_cost") in reached({("prices", "price_on_step")})
    assert ("lines", "line_cost") not in reached({("outlets", "selling_per_unit")})


BY_HAND = {
    "at_least.py": "a figure as text, with what it leaves out",
    "buy_list.py": "sums of a shop, and whether the list is whole",
    "card_lines.py": "texts of the card",
    "card_parts.py": "a person's text, and what stands for a missing day",
    "bench.py": "who is at a step and what waits, a note, a code, what is beside a unit",
    "cards.py": "the note on cents",
    "glance.py": "which rows stand out, of all that are to be raised",
    "in_short.py": "which of several to name first",
    "in_step.py": "whether the sheet is still true",
    "in_words.py": "the words of what was picked, and whether they are still true",
    "labels.py": "whether what they say is out of date",
    "ladder.py": "which row was picked",
    "packs_compared.py": "a verdict's word",
    "price_list.py": "a line left open where no price is typed",
    "page.py": "a cell of Workings, or a mark for what is unknown",
    "the_year.py": "notes with a figure in them, and that the year is over",
    "season.py": "which day comes next, and whether its own words mean rain",
    "try_a_change.py": "a box that is no number, and a trial's difference",
    "what_moved.py": "a difference of two figures, and a rank",
}
"""Pages with formulas that no rule made, and what these are for."""


def by_hand(source: str) -> bool:
    """Whether a module writes a formula of its own: a text that begins with "=" and a function."""
    for node in ast.walk(ast.parse(source)):
        text = node.values[0] if isinstance(node, ast.JoinedStr) and node.values else node
        if isinstance(text, ast.Constant) and isinstance(text.value, str):
            head = text.value.partition("(")[0]
            if head.startswith("=") and head[1:].isupper():
                return True
    return False


def test_no_other_page_writes_a_formula_of_its_own() -> None:
    pages = sorted((COSTBOOK / "writing" / "pages").glob("*.py"))
    found = {page.name for page in pages if by_hand(page.read_text(encoding="utf-8"))}
    assert found - BY_HAND.keys() == set()


def test_a_formula_by_hand_is_noticed() -> None:
    assert by_hand("""formula = f'=IF({cell}="",1,2)'""")
    assert not by_hand("""formula = f"={cell}" if cell else "= none" """)
