"""What a trial would do, as one answer: products before and after, and what was asked beside."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from costbook.costing.engine import Costing
from costbook.costing.result import answer
from costbook.deciding.margin_path import MarginPath
from costbook.deciding.pack import money, plain
from costbook.deciding.sensitivity import Moved, profit_of
from costbook.deciding.trial import Trial, tried
from costbook.definitions import rules

__all__ = ["PriceTried", "TriedOut", "try_out"]


@dataclass(frozen=True, slots=True)
class PriceTried:
    """A price that is tried: of which pack [money], beside today's, and what is doubted of it."""

    item: str
    pack: str
    pack_unit: str
    price_per_pack: Decimal
    now_per_pack: Decimal
    doubt: str

    def in_words(self, places: int) -> str:
        """Which pack it is the price of; where it is doubted, with both figures."""
        tried, now = (money(each, places) for each in (self.price_per_pack, self.now_per_pack))
        said = f"{self.item}: {tried} for a pack of {self.pack}, instead of {now}."
        if self.doubt:
            said += f" That is {self.doubt}: is it for this whole pack?"
        if self.doubt and self.price_per_pack < self.now_per_pack and self.pack_unit:
            said += f' For the price of one {self.pack_unit} type "{self.item}=5/{self.pack_unit}".'
        return said

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "item": self.item,
            "pack": self.pack,
            "price_per_pack": self.price_per_pack,
            "now_per_pack": self.now_per_pack,
            "doubt": self.doubt or None,
        }


@dataclass(frozen=True, slots=True)
class TriedOut:
    """A trial; each product at each outlet as ``cost`` says it, without the change and with it.

    ``moving`` says which inputs move profit most, and ``path`` how margins went; None: not asked.
    """

    trial: Trial
    products: tuple[tuple[dict[str, Any], dict[str, Any]], ...]
    prices: tuple[PriceTried, ...]
    profit_of: str
    moving: Sequence[Moved] | None = None
    path: MarginPath | None = None

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        data: dict[str, Any] = {
            "products": [
                {"product": b["product"], "outlet": b["outlet"], "before": b, "after": a}
                for b, a in self.products
            ],
            "prices_tried": [each.as_data() for each in self.prices],
        }
        if self.moving is not None:
            data["sensitivity"] = [each.as_data() for each in self.moving]
            data["sensitivity_of"] = self.profit_of
        if self.path is not None:
            data["series"] = self.path.as_data()
        return data


def try_out(
    costing: Costing, trial: Trial, moving: Sequence[Moved] | None, path: MarginPath | None
) -> TriedOut:
    """Cost every product with the trial's values, beside today's."""
    before, after = (answer(each, ())["products"] for each in (costing, tried(costing, trial)))
    products = tuple(zip(before, after, strict=True))
    return TriedOut(
        trial, products, tuple(_prices_tried(costing, trial)), profit_of(costing), moving, path
    )


def _prices_tried(costing: Costing, trial: Trial) -> Iterator[PriceTried]:
    """The prices of a trial that a person typed, each with its pack."""
    rows = {str(row.fixed["item_key"]): row for row in costing.structure.rows["prices_now"]}
    for key, tried_price in trial.prices.items():
        bought = costing.of(rows[key])
        now, holds, supplier = (
            bought[name] for name in ("price_per_pack", "pack_in_its_unit", "supplier")
        )
        if isinstance(now, Decimal):
            size = plain(holds if isinstance(holds, Decimal) else None)
            unit = str(bought["pack_unit"] or "")
            pack = " ".join(filter(None, (size, unit, f"from {supplier}" if supplier else "")))
            doubt = str(rules.trial_doubt(tried_price, now))
            yield PriceTried(str(bought["item"]), pack, unit, tried_price, now, doubt)
