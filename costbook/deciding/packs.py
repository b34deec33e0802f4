"""Which pack: every pack of an item side by side, and the finding in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from typing import Any, Final

from costbook.book import Record, Value, as_key
from costbook.costing.engine import Costing, Figures
from costbook.costing.names import item_keys
from costbook.costing.rows import Row
from costbook.deciding.mix import Mix, PackChoice, cheapest_mix
from costbook.definitions.units import BASE_UNIT, Measure

__all__ = ["ComparedItem", "Pack", "as_data", "compared"]

SOURCES: Final = {"packs_bought": "Purchases", "packs_seen": "Offers"}
SPOILAGE: Final = {"packs_bought": "spoilage_bought", "packs_seen": "spoilage_seen"}
SAME_PRICE: Final = Decimal("0.02")
"""A pack whose price moved by less than this is said to have held it."""


@dataclass(frozen=True, slots=True)
class Pack:
    """One pack: where it stands in Workings, and its figures."""

    row: Row
    figures: Figures
    spoilage: Figures
    name: str

    @property
    def used_price(self) -> Decimal | None:
        """Price of what is really used [money/base]; None where it isn't known."""
        value = self.figures["used_price"]
        return value if isinstance(value, Decimal) else None

    @property
    def supplier(self) -> str:
        """The supplier's name; empty where none is given."""
        return str(self.figures["supplier"] or "")


@dataclass(frozen=True, slots=True)
class ComparedItem:
    """An item's packs, the cheapest by what is used first, and what there is to say."""

    item: str
    key: str
    base_unit: str
    packs: tuple[Pack, ...]
    in_words: str
    need: Decimal | None
    mix: Mix | None
    usual_cost: Decimal | None


def compared(costing: Costing, weeks: Decimal) -> list[ComparedItem]:
    """Every item of which a pack is known; ``weeks`` is how long the mix is to last."""
    by_item: dict[str, list[Pack]] = {}
    for table, spoilage in SPOILAGE.items():
        for row in costing.structure.rows[table]:
            figures, lost = costing.of(row), costing.of(row.links[spoilage])
            pack = Pack(row, figures, lost, str(row.fixed["pack"]))
            by_item.setdefault(str(row.fixed["item_key"]), []).append(pack)
    shrunk = _shrunk(costing)
    return [_item(key, packs, shrunk.get(key, ()), weeks) for key, packs in by_item.items()]


def _item(key: str, packs: list[Pack], shrunk: Sequence[str], weeks: Decimal) -> ComparedItem:
    ordered = sorted(packs, key=lambda pack: (pack.used_price is None, pack.used_price or 0))
    measure = ordered[0].figures["measure"]
    base = BASE_UNIT[Measure(int(measure))] if isinstance(measure, Decimal) else ""
    item = str(ordered[0].row.fixed["item"])
    need = _need(ordered[0].figures, weeks)
    mix, usual = _mix(ordered, need), _usual(ordered, need)
    in_words = " ".join((_finding(ordered), *shrunk))
    return ComparedItem(item, key, base, tuple(ordered), in_words, need, mix, usual)


def _plain(value: Value) -> str:
    return f"{value.normalize():f}" if isinstance(value, Decimal) else "?"


def _finding(packs: Sequence[Pack]) -> str:
    """The finding in words: which pack is cheapest, by how much, and as long as what holds."""
    priced = [pack for pack in packs if pack.used_price]
    if len(priced) < 2:
        return "Only one pack of it is known."
    best, next_best = priced[0], priced[1]
    assert best.used_price is not None
    assert next_best.used_price is not None
    saved = 1 - best.used_price / next_best.used_price
    if saved == 0:
        return f"The {_called(best)} and the {_called(next_best)} come to the same."
    said = f"The {_called(best)} is {saved:.1%} cheaper than the {_called(next_best)}"
    return f"{said}{_as_long_as(best)}."


def _called(pack: Pack) -> str:
    return f"{pack.name} from {pack.supplier}" if pack.supplier else pack.name


def _as_long_as(pack: Pack) -> str:
    """What must not be wasted for a large pack to stay the cheaper one."""
    spoilage = pack.spoilage["break_even_spoilage"]
    if not isinstance(spoilage, Decimal):
        return ""
    pieces = pack.figures["pack_held"]
    if pack.figures["price_measure"] == int(Measure.PIECE) and isinstance(pieces, Decimal):
        broken = (pieces * spoilage).to_integral_value(ROUND_FLOOR) + 1
        return f", but only if fewer than {broken} of {_plain(pieces)} are lost"
    return f", as long as less than {spoilage:.1%} of it is thrown away"


def _shrunk(costing: Costing) -> dict[str, list[str]]:
    """By item: packs that shrank while their price held: one supplier, one unit, less in it."""
    aliases = item_keys(costing.structure.book)
    last: dict[tuple[str, ...], Record] = {}
    said: dict[str, list[str]] = {}
    for record in costing.structure.book.records("Purchases"):
        size, price = record.number("pack_size"), record.number("price_per_pack")
        if not size or not price or price <= 0:
            continue
        key = as_key(record.text("item"))
        own = aliases.get(key, key)
        unit = record.text("unit") or record.units_in_text.get("pack_size", "")
        where = (own, as_key(record.text("supplier")), unit)
        before = last.get(where)
        if before is not None and _has_shrunk(before, record):
            said.setdefault(own, []).append(
                f"The pack from {record.text('supplier') or 'one supplier'} shrank from "
                f"{_plain(before.number('pack_size'))} to {_plain(size)} {unit} while its price "
                f"held (Purchases row {record.row})."
            )
        last[where] = record
    return said


def _has_shrunk(before: Record, now: Record) -> bool:
    """Is there less in it, but more than half, for nearly the same price?"""
    then, size = before.number("pack_size"), now.number("pack_size")
    paid, price = before.number("price_per_pack"), now.number("price_per_pack")
    if not then or not size or not paid or not price:
        return False
    return then / 2 < size < then and abs(price / paid - 1) < SAME_PRICE


def _need(figures: Figures, weeks: Decimal) -> Decimal | None:
    """What is used in the coming weeks, or until it spoils if that comes first [base]."""
    use, keeps = figures["use_per_week"], figures["keeps_days"]
    if not isinstance(use, Decimal) or use <= 0:
        return None
    lasting = min(weeks, keeps / 7) if isinstance(keeps, Decimal) and keeps > 0 else weeks
    return use * lasting


def _choice(pack: Pack) -> PackChoice | None:
    holds, cost = pack.figures["pack_in_units_of_now"], pack.figures["pack_cost"]
    usable, least = pack.figures["usable_share"], pack.figures["least_packs"]
    if not isinstance(holds, Decimal) or not isinstance(cost, Decimal) or holds <= 0 or cost < 0:
        return None
    share = usable if isinstance(usable, Decimal) else Decimal(1)
    return PackChoice(holds * share, cost, int(least) if isinstance(least, Decimal) else 1)


def _mix(packs: Sequence[Pack], need: Decimal | None) -> Mix | None:
    """The cheapest mix for the need; the need is as bought, so usable shares are put back."""
    choices = [_choice(pack) for pack in packs]
    if need is None or not all(choices):
        return None
    usable = packs[0].figures["usable_share"]
    ready = need * (usable if isinstance(usable, Decimal) else Decimal(1))
    return cheapest_mix([choice for choice in choices if choice], ready)


def _usual(packs: Sequence[Pack], need: Decimal | None) -> Decimal | None:
    """What the need costs in the pack that was bought last."""
    bought = [pack for pack in packs if pack.row.table == "packs_bought"]
    if need is None or not bought:
        return None
    usual = max(bought, key=lambda pack: _rank(pack.figures))
    mix = _mix([usual], need)
    return mix.cost if mix else None


def _rank(figures: Figures) -> Decimal:
    rank = figures["rank"]
    return rank if isinstance(rank, Decimal) else Decimal(0)


def as_data(item: ComparedItem) -> dict[str, Any]:
    """An item's comparison as JSON has it."""
    return {
        "item": item.item,
        "base_unit": item.base_unit,
        "packs": [_pack_data(pack) for pack in item.packs],
        "in_words": item.in_words,
        "need": item.need,
        "mix": _mix_data(item),
    }


def _pack_data(pack: Pack) -> dict[str, Any]:
    figures = pack.figures
    return {
        "supplier": pack.supplier or None,
        "pack": pack.name,
        "price_per_pack": figures["price_per_pack"],
        "price_per_base_unit": figures["compared_price"],
        "price_per_base_unit_ready": figures["compared_ready"],
        "price_per_base_unit_used": figures["used_price"],
        "used_part": figures["used_part"],
        "cash_tied_up": figures["cash_tied_up"],
        "break_even_spoilage": pack.spoilage["break_even_spoilage"],
        "from": SOURCES[pack.row.table],
    }


def _mix_data(item: ComparedItem) -> dict[str, Any] | None:
    if item.mix is None:
        return None
    return {
        "packs": [
            {"supplier": pack.supplier or None, "pack": pack.name, "count": count}
            for pack, count in zip(item.packs, item.mix.counts, strict=True)
            if count
        ],
        "cost": item.mix.cost,
        "left_over": item.mix.left_over,
        "usual_cost": item.usual_cost,
    }
