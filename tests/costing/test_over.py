"""What is found by looking through all rows of a table: the largest, the least, the total."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.book import NOBODY, Value
from costbook.costing.filed import Filed
from costbook.costing.rows import Figures, Row
from costbook.definitions.algebra import N
from costbook.definitions.columns import Compared, Over, Same
from costbook.definitions.over import (
    a_year_before,
    rank_of_the_next_day,
)

D = Decimal

JARS: list[Figures] = [
    {"of": "kjam", "from": "kmill", "holds": D(340), "price": D(4)},
    {"of": "kjam", "from": NOBODY, "holds": D(500), "price": D(3)},
    {"of": "kjam", "from": "kmill", "holds": None, "price": D(9)},
    {"of": "kjam", "from": "kmill", "holds": D(900), "price": None},
    {"of": "khoney", "from": "kmill", "holds": D(340), "price": D(7)},
]
OF = Same("of", "of")


def found(how: Over, **own: Value) -> Value:
    return Filed({"jars": JARS}).over(how)(Row("asking", 0), own)


def test_the_largest_the_least_and_the_total_of_the_rows_with_the_same_key() -> None:
    assert found(Over("jars", "largest", "price", (OF,)), of="kjam") == 9
    assert found(Over("jars", "least", "price", (OF,)), of="kjam") == 3
    assert found(Over("jars", "total", "price", (OF,)), of="kjam") == 16  # 4 + 3 + 9


@pytest.mark.parametrize("fold", ["largest", "least", "total", "count"])
def test_none_that_passes_is_zero(fold: str) -> None:
    how = Over("jars", fold, "price", (OF,))  # type: ignore[arg-type]  # one of the four
    assert found(how, of="ksalt") == 0


@pytest.mark.parametrize("fold", ["all", "only"])
def test_of_none_that_passes_a_whole_figure_is_unknown(fold: str) -> None:
    how = Over("jars", fold, "price", (Same("of", "of", named=True),))  # type: ignore[arg-type]  # one of the two
    assert found(how, of="ksalt") is None
    assert found(how, of=NOBODY) is None


def test_how_many_are_known_and_the_total_where_all_are() -> None:
    assert found(Over("jars", "count", "price", (OF,)), of="kjam") == 3
    assert found(Over("jars", "all", "price", (OF,)), of="kjam") is None  # one has no price
    priced = Over("jars", "all", "price", (OF, Compared("holds", "<=", "mine")))
    assert found(priced, of="kjam", mine=D(500)) == 7  # 4 + 3


def test_the_figure_of_the_only_one_that_passes() -> None:
    assert found(Over("jars", "only", "price", (OF,)), of="khoney") == 7
    assert found(Over("jars", "only", "price", (OF,)), of="kjam") is None  # which of four?
    larger = Over("jars", "only", "price", (OF, Compared("holds", ">", "mine")))
    assert found(larger, of="kjam", mine=D(600)) is None  # its price isn't known


def test_rows_whose_compared_number_is_unknown_do_not_pass() -> None:
    larger = Over("jars", "total", "price", (OF, Compared("holds", ">", "mine")))
    assert found(larger, of="kjam", mine=D(1)) == 7  # the jar of 9 is of no known size


@pytest.mark.parametrize(("sign", "total"), [("<", 4), ("<=", 7), ("=", 3), (">", 0)], ids=str)
def test_a_number_is_compared(sign: str, total: int) -> None:
    how = Over("jars", "total", "price", (OF, Compared("holds", sign, "mine")))  # type: ignore[arg-type]  # a sign
    assert found(how, of="kjam", mine=D(500)) == total


def twice(number: N) -> N:
    return number * 2


@pytest.mark.parametrize("sign", ["=", "<="])
def test_a_bound_is_a_rule_of_the_rows_own_number(sign: str) -> None:
    how = Over("jars", "total", "price", (OF, Compared("holds", sign, "mine", twice)))  # type: ignore[arg-type]  # a sign
    assert found(how, of="kjam", mine=D(170)) == 4


def test_an_unknown_number_to_compare_with_leaves_it_unknown_or_what_it_is_without() -> None:
    smaller = (OF, Compared("holds", "<", "mine"))
    assert found(Over("jars", "least", "price", smaller), of="kjam", mine=None) is None
    without = Over("jars", "least", "price", smaller, without=D(0))
    assert found(without, of="kjam", mine=None) == 0


def test_nobodys_rows_pass_unless_somebody_must_be_named() -> None:
    anybodys = Over("jars", "largest", "price", (OF, Same("from", "mine")))
    somebodys = Over("jars", "largest", "price", (OF, Same("from", "mine", named=True)))
    assert found(anybodys, of="kjam", mine=NOBODY) == 3
    assert found(somebodys, of="kjam", mine=NOBODY) == 0
    assert found(somebodys, of="kjam", mine="kmill") == 9


def test_rows_that_are_not_computed_yet_are_an_error_and_not_passed_over() -> None:
    filed = Filed({"jars": [*JARS, {}]})
    with pytest.raises(KeyError):
        filed.over(Over("jars", "total", "price", (OF,)))(Row("asking", 0), {"of": "kjam"})


def test_the_bounds_of_the_tables_worked_by_hand() -> None:
    assert rank_of_the_next_day(D(46000)) == D(4600100000)  # 46001 × 100000
    assert a_year_before(D(46000)) == D(45635)  # 46000 - 365
