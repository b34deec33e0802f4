"""What is really used of each pack, by the second costing in tests/oracle, in random workbooks."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from random import Random

import pytest

from costbook.costing.engine import Costing, Figures
from tests.deciding.asking import read
from tests.oracle.buying import Buying
from tests.oracle.numbers import UNITS, Row, given, key, share
from tests.random_books import COSTED_ON, random_book
from tests.tables import Sheets, close

KEEPS = (2, "", 20, 7, 60)


def book_of(seed: int) -> Sheets:
    """A random workbook in which items keep for some days, and batches are made in a year."""
    book = random_book(Random(seed))
    head, *rows = book["Items"]
    keeping = [[*row, KEEPS[(at + seed) % 5]] for at, row in enumerate(rows)]
    settings = [row for row in book["Settings"] if row[0] != "Batches per year"]
    if seed % 4:
        settings.append(["Batches per year", 20 + seed])
    return book | {"Items": [[*head, "Keeps days"], *keeping], "Settings": settings}


def sold_by(oracle: Buying, supplier: str) -> set[str]:
    """What a supplier sells: what was bought there, and what was seen."""
    bought = {
        key(row["item"])
        for row in oracle.rows("Purchases")
        if key(row["supplier"]) == supplier and oracle._qualifies(row, COSTED_ON)
    }
    return bought | {
        key(row["item"]) for row in oracle.rows("Offers") if key(row["supplier"]) == supplier
    }


def paid_for(oracle: Buying, row: Row) -> Fraction:
    """What a pack of a receipt cost: the last line of its day takes what was taken off."""
    last = max(
        (
            other
            for other in oracle.rows("Purchases")
            if all(key(other[name]) == key(row[name]) for name in ("item", "supplier"))
            and other["date"] == row["date"]
            and oracle._qualifies(other, COSTED_ON)
        ),
        key=lambda other: int(other["#"]),
    )
    off = oracle._discounts(row) if last is row else Fraction(0)
    beside = (given(row["other cost"]) + off) / given(row["packs"], 1)
    return given(row["price per pack"]) + beside


@pytest.mark.parametrize("seed", range(24))
def test_two_reckonings_of_what_is_really_used_agree(seed: int) -> None:
    book = book_of(seed)
    costing, oracle = read(book, on=COSTED_ON), Buying(book, COSTED_ON)
    rows = {int(row["#"]) + 1: row for row in oracle.rows("Purchases")}
    for pack in costing.figures["packs_bought"]:
        compared(costing, oracle, pack, rows[int(str(pack["row_number"]))])


def compared(costing: Costing, oracle: Buying, pack: Figures, row: Row) -> None:
    item, supplier = key(row["item"]), key(row["supplier"])
    kind, factor = UNITS[row["unit"]]
    now = oracle.as_bought(item, COSTED_ON)
    bridge = oracle.cross(item, kind, now[1]) if now else None
    if now is None or bridge is None:
        assert pack["used_price"] is None
        return
    usable = given(share(oracle.items.get(item, {}).get("usable %"), 1, 5))
    held = given(row["pack count"], 1) * given(row["pack size"]) * factor * bridge
    used = oracle.really_used(item, held * usable, Fraction(1))
    if pack["cut_to_weight"] == 0:
        close(float(number(pack["order_used"])), used)
    day: date = row["date"]
    assert (pack["overtaken"] == 1) is oracle.is_overtaken(item, supplier, day)
    on_top, paid = oracle.yearly(supplier, sold_by(oracle, supplier)), paid_for(oracle, row)
    if on_top is None or paid <= 0:
        assert pack["used_price"] is None
        return
    way, part = on_top
    cost = paid * (1 + part) if way == "spent" else paid + part * now[0] * held
    if pack["cut_to_weight"] == 0:
        close(float(number(pack["used_price"])), cost / held / usable / used)


def number(value: object) -> Decimal:
    assert isinstance(value, Decimal)
    return value
