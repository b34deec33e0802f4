"""Every rule as a formula, computed by a spreadsheet program, gives the hand-worked figure."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

import pytest

from costbook.definitions import rules
from costbook.definitions.algebra import UNKNOWN, Term, choose, known
from costbook.definitions.columns import Computed
from costbook.writing.formula_text import guarded, printed, quoted
from tests.definitions.rule_cases import CASES, RULES, Case, Figure
from tests.judges import Judge, address, compare
from tests.judges.books import write_book

AREA = 26
"""Columns of a test's sheet: one case a row, its arguments first, its formula in the last."""


class Sum(NamedTuple):
    """One case as cells."""

    case: Case
    cells: dict[str, object]
    answer: str


def cell_content(figure: Figure) -> object:
    """What stands in a cell: an unknown is an empty text, as Workings has it."""
    if figure.value is None:
        return '=""'
    return float(figure.value) if isinstance(figure.value, Fraction) else f"={quoted(figure.value)}"


def formula(how: Computed, row: int) -> str:
    """The rule's formula with its arguments in the first cells of the row."""
    cells = {name: address(row, at) for at, name in enumerate(how.arguments, 1)}
    if how.meets_unknowns:
        return f'=IFERROR({printed(how.term(), cells.__getitem__)},"")'
    return f"={guarded(how.term(), how.arguments, cells.__getitem__)}"


def as_cells(case: Case, row: int) -> Sum:
    cells = {address(row, at): cell_content(each) for at, each in enumerate(case.arguments, 1)}
    answer = address(row, AREA)
    return Sum(case, cells | {answer: formula(Computed(RULES[case.rule]), row)}, answer)


def test_every_formula_gives_the_figure_worked_by_hand(judge: Judge, tmp_path: Path) -> None:
    sums = [as_cells(case, row) for row, case in enumerate(CASES, 1)]
    cells = {cell: content for each in sums for cell, content in each.cells.items()}
    document = judge.open(write_book(tmp_path / "rules.xlsx", {"Rules": cells}))
    document.recalculate()
    found = document.values("Rules")
    document.close()
    by_cell = {each.answer: each.case for each in sums}
    wrong = compare({cell: expected(case.result) for cell, case in by_cell.items()}, found)
    assert [f"{by_cell[line.split(':')[0]].text}: {line}" for line in wrong] == []


def expected(figure: Figure) -> float | str:
    if isinstance(figure.value, Fraction):
        return float(figure.value)
    return figure.value or ""


# ------------------------------------------------------------------ how formulas are written


def read(rule: object) -> str:
    """A rule's tree as formula text, its arguments by their names."""
    return printed(rule, str)


A, B, C = (Term("name", (name,)) for name in "ABC")


@pytest.mark.parametrize(
    ("tree", "text"),
    [
        (A + B * C, "A+B*C"),
        ((A + B) * C, "(A+B)*C"),
        (A - (B - C), "A-(B-C)"),
        (A - B - C, "A-B-C"),
        (A / (B * C), "A/(B*C)"),
        (A / B * C, "A/B*C"),
        (A * (B / C), "A*B/C"),  # the same without them
        (1 + A, "1+A"),
        (1 - (1 - A), "1-(1-A)"),
        (2 * A / 3, "2*A/3"),
        (choose(known(A), A, UNKNOWN), 'IF(ISNUMBER(A),A,"")'),
        (choose(known(A), 'say "so"', 0), 'IF(ISNUMBER(A),"say ""so""",0)'),
    ],
    ids=str,
)
def test_brackets_stand_where_they_are_needed(tree: Term, text: str) -> None:
    assert read(tree) == text


@pytest.mark.parametrize(
    ("text", "literal"),
    [
        ("Leek (price)", '"Leek (price)"'),
        ('say "so"', '"say ""so"""'),
        ("LEMON DROP(S)", '"LEMON DROP"&"(S)"'),  # DROP( is a function, also in a literal
        ("", '""'),
    ],
)
def test_a_text_as_a_literal(text: str, literal: str) -> None:
    assert quoted(text) == literal


def test_a_formula_is_empty_until_all_its_arguments_are_numbers() -> None:
    how = Computed(rules.line_cost)
    assert guarded(how.term(), how.arguments, str) == (
        'IF(COUNT(amount_as_bought,price_per_base_unit)=2,amount_as_bought*price_per_base_unit,"")'
    )


def test_a_formula_that_divides_is_empty_instead_of_an_error() -> None:
    how = Computed(rules.packs_made)
    assert guarded(how.term(), how.arguments, str) == (
        'IF(COUNT(units_good,units_per_pack)=2,IFERROR(units_good/units_per_pack,""),"")'
    )


def test_a_cell_asked_for_twice_is_counted_once() -> None:
    """Two arguments may stand in one cell: of two of them COUNT would say one."""
    how = Computed(rules.line_cost)
    assert guarded(how.term(), how.arguments, lambda _name: "A1") == 'IF(COUNT(A1)=1,A1*A1,"")'


SHARED = {"ABS", "CEILING", "COUNT", "FALSE", "IF", "IFERROR", "INT", "ISNUMBER", "NOT", "ROUND"}
"""Functions that Excel 2019, LibreOffice 7.4 and Google Sheets all have."""


@pytest.mark.parametrize("name", sorted(RULES))
def test_only_functions_that_every_program_has_are_used(name: str) -> None:
    text = re.sub(r'"(?:[^"]|"")*"', "", formula(Computed(RULES[name]), 1))
    assert set(re.findall(r"([A-Z][A-Z.]*)\(", text)) <= SHARED
