"""What was measured beside what is typed: yields, minutes and rejects, and what that costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, Final

from costbook.book import Value
from costbook.costing.engine import Costing, cost
from costbook.costing.rows import Row
from costbook.deciding.pack import money
from costbook.deciding.trial import fixed_to
from costbook.definitions.columns import Show

__all__ = ["Measurement", "measured"]

NAMED_AT_MOST: Final = 3
"""Products that are named with what a difference does to them."""


@dataclass(frozen=True, slots=True)
class FoundIn:
    """Which columns of a table have what was found, its spread, what is typed, what to copy."""

    kind: str
    found: str
    typed: str
    to_copy: str
    show: Show
    copied_as: Show = Show.NUMBER
    least: str = "least"
    most: str = "most"


_STAGE: Final = FoundIn(
    "stage", "real_minutes", "planned_minutes", "unit_minutes_to_type", Show.NUMBER
)
_BY_BATCH: Final = replace(_STAGE, to_copy="batch_minutes_to_type")
"""Of a stage of which only minutes per batch are typed."""

_KINDS: Final[Mapping[str, FoundIn]] = {
    "yields": FoundIn(
        "yield", "real_share", "usable_share", "real_share", Show.SHARE, copied_as=Show.SHARE
    ),
    "stage_times": _STAGE,
    "pack_times": _STAGE,
    "made_times": FoundIn("minutes", "real_minutes", "planned_minutes", "", Show.NUMBER),
    "made_rejects": FoundIn(
        "rejects",
        "rejected_share",
        "rejects_typed",
        "rejects_to_type",
        Show.SHARE,
        least="least_share",
        most="most_share",
    ),
}
"""By table of what was measured."""


@dataclass(frozen=True, slots=True)
class Measurement:
    """One thing that was measured.

    ``does`` says what a pack of each product would cost more, or less, with what was found
    [money]; None where that isn't known.
    """

    row: Row
    places: FoundIn
    what: str
    count: Decimal
    found: Decimal | None
    least: Decimal | None
    most: Decimal | None
    typed: Decimal | None
    to_copy: Decimal | None
    copy_into: str
    does: Mapping[str, Decimal] | None

    @property
    def show(self) -> Show:
        """How what was found is shown."""
        return self.places.show

    @property
    def copied_as(self) -> Show:
        """How the figure to copy is shown."""
        return self.places.copied_as

    def does_in_words(self, places: int) -> str:
        """What the difference does to a pack's cost, the most moved first."""
        if self.does is None:
            return "not known"
        moved = sorted(self.does.items(), key=lambda each: -abs(each[1]))
        if not moved:
            return "nothing"
        named = "; ".join(f"{_signed(by, places)} {name}" for name, by in moved[:NAMED_AT_MOST])
        more = len(moved) - NAMED_AT_MOST
        return f"{named}; and {more} more" if more > 0 else named

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "kind": self.places.kind,
            "what": self.what,
            "measured": self.count,
            "found": self.found,
            "from": self.least,
            "to": self.most,
            "typed": self.typed,
            "to_copy": self.to_copy,
            "copy_into": self.copy_into or None,
            "adds_to_a_pack": None if self.does is None else dict(self.does),
        }


def measured(costing: Costing) -> list[Measurement]:
    """All that was measured, yields first."""
    return [
        _measured(costing, row, _BY_BATCH if _is_by_batch(costing, row) else places)
        for table, places in _KINDS.items()
        for row in costing.structure.rows[table]
        if costing.of(row)["measured"]
    ]


def _is_by_batch(costing: Costing, row: Row) -> bool:
    return costing.of(row).get("minutes_per_unit") == 0


def _measured(costing: Costing, row: Row, places: FoundIn) -> Measurement:
    figures = costing.of(row)
    return Measurement(
        row,
        places,
        _what(row),
        _number(figures["measured"]) or Decimal(0),
        _number(figures[places.found]),
        _number(figures[places.least]),
        _number(figures[places.most]),
        _number(figures[places.typed]),
        _number(figures[places.to_copy]) if places.to_copy else None,
        _into(costing, row),
        _does(costing, row),
    )


def _what(row: Row) -> str:
    match row.table:
        case "yields":
            return f"{row.fixed['item']}: what is left"
        case "made_times":
            return f"{row.fixed['product']}: minutes a pack"
        case "made_rejects":
            return f"{row.fixed['product']}: rejected"
        case _:
            return f"{row.fixed['recipe']}, {row.fixed['stage']}: minutes a unit"


def _into(costing: Costing, row: Row) -> str:
    """Where the figure to copy belongs."""
    match row.table:
        case "yields":
            return "Items, Usable %"
        case "made_times":
            return ""
        case "made_rejects":
            return "Batches, Rejects"
        case _:
            of = "batch" if _is_by_batch(costing, row) else "unit"
            return f"Stages, Minutes per {of}"


def _does(costing: Costing, row: Row) -> Mapping[str, Decimal] | None:
    """What a pack of each product would cost more if what was found were typed."""
    figures = costing.of(row)
    if row.table == "made_times":
        by = _number(figures["labour_apart"])
        return None if by is None else {str(figures["product"]): by} if by else {}
    changed = _as_found(costing, row)
    if changed is None:
        return None
    after = cost(fixed_to(costing.structure, changed)).figures["products"]
    return dict(_apart(costing, row, after)) or ({} if _known(costing) else None)


def _known(costing: Costing) -> bool:
    """Is it known of any product what it costs?"""
    return any(each["made"] is not None for each in costing.figures["products"])


def _apart(costing: Costing, row: Row, after: list[Any]) -> Iterator[tuple[str, Decimal]]:
    own = row.fixed["product"] if row.table == "made_rejects" else None
    for before, now in zip(costing.figures["products"], after, strict=True):
        was, becomes = _number(before["made"]), _number(now["made"])
        if was is None or becomes is None or own not in (None, before["product"]):
            continue
        if abs(becomes - was) > _NOISE:
            yield str(before["product"]), becomes - was


_NOISE: Final = Decimal("1e-12")
"""Below this, a difference is of the sums' last digits."""


def _as_found(costing: Costing, row: Row) -> Mapping[tuple[str, int], Mapping[str, Value]] | None:
    """The cell of Workings that what was found would change, and to what."""
    figures = costing.of(row)
    match row.table:
        case "yields":
            at, column, value = row.links["items"], "usable_share", figures["real_share"]
        case "made_rejects":
            batch = row.links["packs"].links.get("batches")
            if batch is None:
                return None
            at, column, value = batch, "rejects", figures["rejects_to_type"]
        case _:
            stage = "stages" if row.table == "stage_times" else "product_stages"
            real, units = (_number(figures[name]) for name in ("real_minutes", "units_started"))
            known = real is not None and units is not None
            at, column = row.links[stage], "work_minutes"
            value = real * units if known else None  # type: ignore[operator]  # both are known
    return None if value is None else {(at.table, at.index): {column: value}}


def _signed(amount: Decimal, places: int) -> str:
    shown = money(amount, places)
    return shown if shown.startswith("-") else f"+{shown}"


def _number(value: Value) -> Decimal | None:
    return value if isinstance(value, Decimal) else None
