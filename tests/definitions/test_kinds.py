"""Every reader of the kinds of column knows every kind, and the columns themselves by no name."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from costbook.definitions.affected import trial_columns
from costbook.definitions.columns import (
    AsCosted,
    Computed,
    Fold,
    Gathered,
    Given,
    How,
    LookedUp,
    Over,
    RowsNow,
    Same,
    UnitFact,
    Worth,
)
from costbook.definitions.reads import Reads, reads
from costbook.definitions.rules import line_cost
from costbook.definitions.workings import TABLES

COSTBOOK = Path(__file__).parents[2] / "costbook"
READERS = (
    "definitions/reads.py",
    "costing/engine.py",
    "costing/cells.py",
    "costing/filed.py",
    "costing/trail.py",
    "deciding/what_ifs.py",
    "writing/formulas.py",
    "writing/lookups.py",
)
"""Modules that read kinds of column, and what the kinds are made of."""

NAMELESS = (
    "costing/engine.py",
    "costing/filed.py",
    "costing/explain.py",
    "costing/spoken.py",
    "costing/telling.py",
    "costing/trail.py",
    "costing/wording.py",
    "writing/formulas.py",
)
"""Modules that know no column by its name."""


def open_matches(source: str) -> list[int]:
    """The lines of those matches that don't end by asserting that no kind is left."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Match)
        and not ast.unparse(node.cases[-1]).startswith("case _:\n    assert_never(")
    ]


@pytest.mark.parametrize("module", READERS)
def test_a_kind_that_a_reader_does_not_know_is_a_type_error(module: str) -> None:
    source = (COSTBOOK / module).read_text(encoding="utf-8")
    assert "assert_never(" in source
    assert open_matches(source) == []


def test_a_match_that_passes_over_the_rest_is_noticed() -> None:
    assert open_matches("match how:\n  case Computed(): pass\n  case _: pass") == [1]
    assert open_matches("match how:\n  case Computed(): pass") == [1]
    assert open_matches("match how:\n  case A(): pass\n  case _: assert_never(how)") == []


def names_in(source: str) -> Iterator[str]:
    """The columns of Workings that stand in a source as texts; folds and tables are none."""
    columns = {column.name for table in TABLES.values() for column in table.columns}
    columns -= {*get_args(Fold), *TABLES}
    for statement in ast.parse(source).body:
        if ast.unparse(statement).startswith("__all__"):
            continue
        for node in ast.walk(statement):
            if isinstance(node, ast.Constant) and node.value in columns:
                yield str(node.value)


@pytest.mark.parametrize("module", NAMELESS)
def test_engine_and_formula_writer_know_no_column_by_name(module: str) -> None:
    assert list(names_in((COSTBOOK / module).read_text(encoding="utf-8"))) == []


def test_a_column_known_by_name_is_noticed() -> None:
    assert list(names_in('figures["rank"], figures[name], rows["settings"]')) == ["rank"]


@pytest.mark.parametrize(
    ("how", "read"),
    [
        (Computed(line_cost), Reads(("amount_as_bought", "price_per_base_unit"))),
        (Given("Items", "usable_share", stands_in="mine", at_row="at"), Reads(("mine", "at"))),
        (RowsNow("then"), Reads(("then",))),
        (AsCosted("now"), Reads(("now",))),
        (LookedUp("jars", "price"), Reads((), (("jars", "price"),))),
        (Gathered("jars", "price"), Reads((), (("jars", "price"),))),
        (Gathered("jars", "lid", "first"), Reads((), (("jars", "lid"),))),
        (
            Gathered("jars", "price", key="of"),
            Reads(("of",), (("jars", "price"), ("jars", "of"))),
        ),
        (UnitFact("factor", "at"), Reads(("at",), (("units", "factor"),))),
        (
            Over("jars", "least", "price", (Same("of", "mine"),)),
            Reads(("mine",), (("jars", "price"), ("jars", "of"))),
        ),
    ],
    ids=lambda each: type(each).__name__,
)
def test_what_a_kind_reads(how: How, read: Reads) -> None:
    assert reads(how) == read


def test_a_worth_reads_a_measures_number_and_every_bridge() -> None:
    read = reads(Worth("items", "measure"))
    assert read.beside == ("measure",)
    assert [name for _, name in read.elsewhere] == [
        "worth_weight", "worth_volume", "worth_piece", "worth_length", "worth_area"
    ]  # fmt: skip


def test_a_trial_reaches_only_kinds_that_are_computed_case_by_case() -> None:
    columns = {(table.name, each.name): each for table in TABLES.values() for each in table.columns}
    kinds = {type(columns[place].how) for place in trial_columns()}
    assert kinds == {Computed, LookedUp, Gathered, Given}  # what deciding/what_ifs.py varies
