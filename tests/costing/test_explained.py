"""An explanation as an answer: what is printed of it, and what JSON holds."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.book import Book, Value
from costbook.costing.explain import Step, explain, figure_named
from costbook.costing.explained import Explained, explained
from costbook.costing.line import Line, SourceCell, together
from costbook.definitions.columns import Show
from costbook.problems import Place, Problem, Severity
from tests.costing.costed import costed

D = Decimal

CELL = SourceCell("Stages", "C2")
DOUBT = Problem(Severity.DOUBTFUL, Place("Stages", "C2"), "so long?", "Time it.")
WRONG = Problem(Severity.WRONG, Place("Outlets", "B2"), "which day?", "Say it.")
READ = Problem(Severity.DOUBTFUL, Place("Stages", "C2"), "read as 9.", "Nothing.", as_read=True)
LINE = Line(1, "labour", "Bake", D(3), "your work: 3.00", (CELL,), (DOUBT, READ))


@pytest.fixture(scope="module")
def book() -> Book:
    return costed().structure.book


def answer(book: Book, *steps: Step, outlet: str = "Market") -> Explained:
    """An explanation of what a wrap costs."""
    return Explained(
        "Wrap", outlet, "total", D("1.5"), (LINE,), steps, (WRONG,), 4, ("kitchen",), 2, book
    )


def step(
    value: Value, show: Show = Show.NUMBER, rule: str = "", cell: SourceCell | None = None
) -> Step:
    return Step(1, "Amount", value, show, rule, cell)


def test_where_a_wrap_is_sold_is_said(book: Book) -> None:
    assert answer(book).about == "Wrap at Market"
    assert answer(book, outlet="").about == "Wrap"


def test_a_line_with_its_cells_and_what_is_doubtful_in_them(book: Book) -> None:
    assert list(answer(book).in_words()) == [
        "   your work: 3.00  ← Stages!C2",
        "      check: Stages!C2: so long? Time it.",
        "      read: Stages!C2: read as 9.",
    ]


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (Step(0, "Total", D("1.5"), Show.MONEY, "a + b"), "Total: 1.5000 = a + b"),
        (Step(2, "Day", D(46347), Show.DATE, "", CELL), "      Day: 2026-11-21  ← Stages!C2"),
        (Step(0, "Share", D("0.125"), Show.SHARE), "Share: 12.5 %"),
        (Step(0, "Amount", D("1234567"), Show.NUMBER), "Amount: 1.23457e+06"),
        (Step(0, "Day", None, Show.DATE), "Day: ?"),
        (Step(0, "Kind", "stall", Show.TEXT, subject="Market"), "Kind [Market]: stall"),
    ],
)
def test_a_step_with_its_rule_or_its_cell(book: Book, told: Step, words: str) -> None:
    assert list(answer(book, told).every_step()) == [words]


def test_all_of_it_as_data(book: Book) -> None:
    day = Step(1, "Day", D(46347), Show.DATE, "", CELL, "Market")
    total = Step(0, "Total", D("1.5"), Show.MONEY, "a + b")
    stages = {"severity": "doubtful", "sheet": "Stages", "cell": "C2"}
    wrong = {"severity": "wrong", "sheet": "Outlets", "cell": "B2"}
    problems = [
        {**stages, "what": "so long?", "remedy": "Time it."},
        {**stages, "what": "read as 9.", "remedy": "Nothing."},
        {**wrong, "what": "which day?", "remedy": "Say it."},
    ]
    line = {"depth": 1, "figure": "labour", "of": "Bake", "value": D(3), "words": "your work: 3.00"}
    of_day = {"depth": 1, "figure": "Day", "of": "Market", "value": "2026-11-21", "rule": ""}
    of_total = {"depth": 0, "figure": "Total", "of": "", "value": D("1.5"), "rule": "a + b"}
    found = answer(book, total, day).as_data(every_step=True)
    assert found == {
        "product": "Wrap",
        "outlet": "Market",
        "figure": "total",
        "value": D("1.5"),
        "lines": [{**line, "cells": ["Stages!C2"], "problems": problems[:2]}],
        "steps": [{**of_total, "cell": ""}, {**of_day, "cell": "Stages!C2"}],
        "uncounted": ["kitchen"],
        "problems": problems,
        "other_problems": 4,
    }
    assert "steps" not in answer(book).as_data(every_step=False)
    assert answer(book, outlet="").as_data(every_step=False)["outlet"] is None


def test_cells_of_one_row_are_a_range_and_fields_stand_alone() -> None:
    """Z stands before AA; a field of Settings shares no row with another."""
    cells = [SourceCell("Stages", address) for address in ("AA2", "Z2", "C3", "B2")]
    fields = [SourceCell("Settings", address, upright=True) for address in ("B2", "C2")]
    assert together([*cells, *fields]) == [
        "Stages!B2:AA2",
        "Stages!C3",
        "Settings!B2",
        "Settings!C2",
    ]
    assert SourceCell("Stages", "C2").row_of_tab == ("Stages", "2")
    assert SourceCell("Stages", "").column == (0, "")


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Price on step", "price_on_step"),
        (" PRICE_ON_STEP ", "price_on_step"),
        ("selling", "selling"),
        ("your work", "labour"),
        ("weather", None),
        ("~", None),
        ("", None),
    ],
)
def test_a_figure_goes_by_its_name_its_heading_or_a_cooks_words(
    typed: str, name: str | None
) -> None:
    assert figure_named(typed) == name


def test_what_a_recipe_takes_of_itself_leads_nowhere() -> None:
    lines = "Recipe | Uses | Amount | Unit\nWrap | Flour | 600 | g\nWrap | Wrap | 1 | ea"
    costing = costed(f"Recipes\n{lines}")
    (use,) = costing.structure.rows["uses"]
    (only,) = explain(costing, use, "batch_cost")
    assert (only.rule, only.value, only.depth) == ("leads nowhere", None, 0)


def test_a_problem_touches_a_figure_that_is_read_from_its_row() -> None:
    costing = costed()
    (price,) = costing.structure.rows["prices"]
    cells = (Place("Recipes", "D2"), Place("Recipes", "D9"), Place("Outlets", "D2"))
    problems = [Problem(Severity.DOUBTFUL, place, "what?") for place in cells]
    found = explained(costing, price, "total", problems, 2)
    assert (found.product, found.outlet, found.value) == ("Single", "", D("0.1"))
    assert [str(each.place) for each in found.touching] == ["Recipes!D2"]
    assert found.others == 2
