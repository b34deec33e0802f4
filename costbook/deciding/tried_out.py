"""What a trial would do, as one answer: products before and after, and what was asked beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from costbook.costing.engine import Costing
from costbook.costing.result import answer
from costbook.deciding.margin_path import MarginPath
from costbook.deciding.sensitivity import Moved
from costbook.deciding.trial import Trial, tried

__all__ = ["TriedOut", "try_out"]


@dataclass(frozen=True, slots=True)
class TriedOut:
    """A trial; each product at each outlet as ``cost`` says it, without the change and with it.

    ``moving`` says which inputs move profit most, and ``path`` how margins went; None: not asked.
    """

    trial: Trial
    products: tuple[tuple[dict[str, Any], dict[str, Any]], ...]
    moving: Sequence[Moved] | None = None
    path: MarginPath | None = None

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        data: dict[str, Any] = {
            "products": [
                {"product": b["product"], "outlet": b["outlet"], "before": b, "after": a}
                for b, a in self.products
            ]
        }
        if self.moving is not None:
            data["sensitivity"] = [each.as_data() for each in self.moving]
        if self.path is not None:
            data["series"] = self.path.as_data()
        return data


def try_out(
    costing: Costing, trial: Trial, moving: Sequence[Moved] | None, path: MarginPath | None
) -> TriedOut:
    """Cost every product with the trial's values, beside today's."""
    before, after = (answer(each, ())["products"] for each in (costing, tried(costing, trial)))
    return TriedOut(trial, tuple(zip(before, after, strict=True)), moving, path)
