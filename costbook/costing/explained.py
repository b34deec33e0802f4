"""A figure explained, as one answer: its lines, its steps, and what is doubtful in them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from costbook.book import Book, Value
from costbook.costing.engine import Costing
from costbook.costing.explain import Step, explain
from costbook.costing.lacking import uncounted
from costbook.costing.line import Line, SourceCell
from costbook.costing.result import problem_data
from costbook.costing.rows import Row
from costbook.costing.telling import tell
from costbook.definitions.columns import Show
from costbook.definitions.rounding import in_money, in_percent
from costbook.definitions.workings import TABLES
from costbook.problems import Problem

__all__ = ["Explained", "explained"]

_FINER = 2
"""Decimal places of money that a step shows beside those of the coin."""


@dataclass(frozen=True, slots=True)
class Explained:
    """A figure of a product at an outlet: in about ten lines, and in every step.

    ``problems`` touch it in what no line tells; ``others`` counts those that don't touch it.
    """

    product: str
    outlet: str
    figure: str
    value: Value
    lines: tuple[Line, ...]
    steps: tuple[Step, ...]
    problems: tuple[Problem, ...]
    others: int
    uncounted: tuple[str, ...]
    places: int
    book: Book = field(repr=False)

    @property
    def about(self) -> str:
        """What is explained: the product, and where it is sold."""
        return f"{self.product} at {self.outlet}" if self.outlet else self.product

    @property
    def touching(self) -> list[Problem]:
        """All that is wrong or doubtful in what the figure rests on."""
        return [*(each for line in self.lines for each in line.problems), *self.problems]

    def in_words(self) -> Iterator[str]:
        """The lines, and what is wrong or doubtful in them."""
        for line in self.lines:
            yield from line.in_words()

    def every_step(self) -> Iterator[str]:
        """Every step, with its rule, or with the cell that it is read from."""
        for step in self.steps:
            subject = f" [{step.subject}]" if step.subject else ""
            come = f"  ← {step.cell}" if step.cell else f" = {step.rule}" if step.rule else ""
            yield f"{'   ' * step.depth}{step.name}{subject}: {self._shown(step)}{come}"

    def as_data(self, *, every_step: bool) -> dict[str, Any]:
        """As JSON has it."""
        data: dict[str, Any] = {
            "product": self.product,
            "outlet": self.outlet or None,
            "figure": self.figure,
            "value": self.value,
            "lines": [line.as_data() for line in self.lines],
        }
        if every_step:
            data["steps"] = [self._step_data(step) for step in self.steps]
        return data | {
            "uncounted": list(self.uncounted),
            "problems": [problem_data(each) for each in self.touching],
            "other_problems": self.others,
        }

    def _step_data(self, step: Step) -> dict[str, object]:
        return {
            "depth": step.depth,
            "figure": step.name,
            "of": step.subject,
            "value": self._day(step) or step.value,
            "rule": step.rule,
            "cell": str(step.cell or ""),
        }

    def _day(self, step: Step) -> str:
        """A day as people write it; empty for any other figure."""
        if step.show is not Show.DATE or not isinstance(step.value, Decimal):
            return ""
        return self.book.day(step.value).isoformat()

    def _shown(self, step: Step) -> str:
        value = step.value
        if not isinstance(value, Decimal):
            return value or "?"
        match step.show:
            case Show.MONEY:
                return in_money(value, self.places + _FINER)
            case Show.SHARE:
                return in_percent(value)
            case _:
                return self._day(step) or f"{float(value):.6g}"


def explained(
    costing: Costing, price: Row, figure: str, problems: Sequence[Problem], places: int
) -> Explained:
    """Explain a figure of a product at an outlet, or of any row; money to so many decimal places.

    Of another row, the product is what the row is about, if it has no product.
    """
    steps = tuple(explain(costing, price, figure))
    read = [step.cell for step in steps if step.cell]
    touching = [each for each in problems if _touches(each, read)]
    left, lines = list(touching), list[Line]()
    for line in tell(costing, price, figure, places):
        own = tuple(each for each in left if _touches(each, line.cells))
        left = [each for each in left if each not in own]
        lines.append(replace(line, problems=own))
    return Explained(
        str(price.fixed.get("product") or price.fixed.get(TABLES[price.table].about) or ""),
        str(price.fixed.get("outlet") or ""),
        figure,
        costing.of(price)[figure],
        tuple(lines),
        steps,
        tuple(left),
        len(problems) - len(touching),
        tuple(part.name for part in uncounted(costing)),
        places,
        costing.structure.book,
    )


def _touches(problem: Problem, cells: Sequence[SourceCell]) -> bool:
    """Whether a problem is in a row that a figure is read from; of Settings, in its very cell."""
    tab, address = problem.place.sheet, problem.place.cell
    return any(
        cell.row == SourceCell(tab, address, cell.upright).row for cell in cells if cell.tab == tab
    )
