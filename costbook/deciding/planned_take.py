"""What the plan takes of an item that no receipt says how it is sold: as recipes measure it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.costing.engine import Costing, Figures
from costbook.definitions.amounts import amount_in_words, read_in_like
from costbook.definitions.units import SPELLINGS, Measure, Unit, unit_key

__all__ = ["taken_in_words"]


def taken_in_words(costing: Costing, item: str) -> str:
    """`` The plan takes 90 g.``; nothing where it takes none, or that can't be added up."""
    taken = list(_taken(costing, item))
    amounts = [amount for amount, _ in taken if amount is not None]
    units = [unit for _, unit in taken if unit is not None]
    measures = {unit.measure for unit in units}
    known = len(amounts) == len(units) == len(taken) and len(measures) == 1
    if not known or not sum(amounts):
        return ""
    large = read_in_like(Measure(measures.pop()), units)
    return f" The plan takes {amount_in_words(sum(amounts, Decimal(0)), large.name)}."


def _taken(costing: Costing, item: str) -> Iterator[tuple[Decimal | None, Unit | None]]:
    """By line of the plan, how much is taken as bought [base], and the unit it is typed in."""
    for table in ("lines", "packaging"):
        for row in costing.structure.rows[f"planned_{table}"]:
            if row.fixed["item_key"] != item:
                continue
            figures = {**costing.of(row.links[table]), "batches": costing.of(row)["batches"]}
            yield _AS_BOUGHT[table](figures), _unit(costing, figures["unit_row"])


def _of_a_line(figures: Figures) -> Decimal | None:
    times = [figures[name] for name in ("amount_in_base_units", "batches")]
    return _product(times, figures["applied_usable_share"])


def _of_packaging(figures: Figures) -> Decimal | None:
    times = [figures[name] for name in ("amount_in_base_units", "batches", "times_used")]
    spare = figures["spare"]
    return _product([*times, 1 + spare if isinstance(spare, Decimal) else None], Decimal(1))


_AS_BOUGHT: Final = {"lines": _of_a_line, "packaging": _of_packaging}
"""What is taken by a line of each table, in the kind of unit that it is typed in [base]."""


def _product(factors: Sequence[Value], share: Value) -> Decimal | None:
    """Factors multiplied, over a share; None where one of them isn't known."""
    found = Decimal(1)
    for factor in factors:
        if not isinstance(factor, Decimal):
            return None
        found *= factor
    return found / share if isinstance(share, Decimal) and share else None


def _unit(costing: Costing, row: object) -> Unit | None:
    if not isinstance(row, Decimal):
        return None
    named = costing.figures["units"][int(row) - 1]["unit"]
    return SPELLINGS.get(unit_key(str(named)))
