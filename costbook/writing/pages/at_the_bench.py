"""Amounts as they are weighed and counted at the bench, for several batches at once."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.costing.structure import Row
from costbook.definitions import bench_rules
from costbook.definitions.columns import Show
from costbook.definitions.rounding import rounded
from costbook.definitions.units import Measure, Unit, find_unit
from costbook.writing.description import Look, Role
from costbook.writing.formula_text import quoted
from costbook.writing.pages.card_lines import unit_beside
from costbook.writing.pages.page import Page

__all__ = ["Count", "Said", "scaled_amount"]

Count = tuple[str, Value]
"""How many batches: the cell that says it, and the number in it."""
Said = tuple[str, str]
"""A text, and the formula that gives it."""

ON_A_SCALE, IN_PARTS = Decimal("0.05"), Decimal("0.25")
"""The finest steps in which an amount is weighed, and counted or spooned."""
FOR_A_PIECE = Decimal("0.01")
"""The finest step of what a piece has [g]."""
WITH_A_JUG: Final = ("ml", "cl", "dl", "l")
_PLACES: Final = 3


def scaled_amount(page: Page, column: int, line: Row, batch: Row, count: Count) -> list[Said]:
    """Put a line's amount as it is weighed or counted.

    Returns what is to stand beside it: the exact figure where that is more than a hundredth off,
    and how much each piece has of what is weighed.
    """
    at, unit = page.sheet.next_row, find_unit(unit_beside(line.sources["Recipes"]))
    amount = page.context.layout.absolute(line, "amount"), page.value((line, "amount"))
    by_part = unit is not None and _is_by_part(unit)
    rule = bench_rules.scaled_by_count if by_part else bench_rules.scaled_by_weight
    step = IN_PARTS if by_part else ON_A_SCALE
    figures = {"batch_figure": amount, "batches": count}
    look = Look(Role.COMPUTED, Show.NUMBER)
    shown = page.ruled((at, column), rule, {**figures, "fine": (f"{step}", step)}, look)
    beside = {**figures, "shown": (page.address(at, column), shown)}
    said = [_said(*page.reckoned(bench_rules.scaled_exactly, beside), "exactly ", "")]
    if unit is not None and unit.measure is Measure.WEIGHT:
        said += _each_has(page, batch, amount, unit.factor)
    return said


def _is_by_part(unit: Unit) -> bool:
    """Whether an amount in a unit is counted, or measured by the spoon and the cup."""
    if unit.measure is Measure.VOLUME:
        return unit.name not in WITH_A_JUG
    return unit.measure is Measure.PIECE


def _each_has(page: Page, batch: Row, amount: Count, factor: Decimal) -> Iterator[Said]:
    """How many grams of a line each piece of a batch has."""
    if page.value((batch, "measure")) != Measure.PIECE:
        return
    cell, typed = amount
    grams = typed * factor if isinstance(typed, Decimal) else None
    started = page.context.layout.absolute(batch, "started"), page.value((batch, "started"))
    fine = f"{FOR_A_PIECE}", FOR_A_PIECE
    figures = {"amount_in_grams": (f"{cell}*{factor}", grams), "started": started, "fine": fine}
    yield _said(*page.reckoned(bench_rules.grams_each, figures), "", " g each")


def _said(value: Value, formula: str, before: str, after: str) -> Said:
    """A number in words, to a thousandth; nothing where there is none."""
    text = f"{quoted(before)}&ROUND({formula},{_PLACES})&{quoted(after)}"
    shown = f'IF(ISNUMBER({formula}),{text},"")'
    if not isinstance(value, Decimal):
        return "", shown
    return f"{before}{rounded(value, _PLACES).normalize():f}{after}", shown
