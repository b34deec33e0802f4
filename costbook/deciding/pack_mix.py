"""Which packs to buy for the coming weeks: an item's packs as choices, and the cheapest mix."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from decimal import Decimal

from costbook.costing.engine import Costing
from costbook.deciding.mix import Mix, PackChoice, cheapest_mix
from costbook.deciding.pack import Pack

__all__ = ["days_of", "mix_of", "need_of", "spent_at", "usable_of", "usual_cost"]


def days_of(packs: Sequence[Pack], weeks: Decimal) -> Decimal:
    """How long a purchase is to last: the weeks, or until it spoils if that comes first [days]."""
    keeps = packs[0].number("keeps_days")
    return min(weeks * 7, keeps) if keeps is not None and keeps > 0 else weeks * 7


def need_of(packs: Sequence[Pack], days: Decimal) -> Decimal | None:
    """What is used in so many days, as bought [base]; None where no use is known."""
    use = packs[0].number("use_per_week")
    return use * days / 7 if use is not None and use > 0 else None


def mix_of(
    costing: Costing,
    packs: Sequence[Pack],
    need: Decimal | None,
    without: Collection[str] = (),
) -> Mix | None:
    """The cheapest mix for a need, counted pack by pack; left-over as bought, like the need.

    What counts is what is left of a pack after trimming, since packs may differ in that. Packs
    whose price isn't known are left out, and those of the suppliers ``without`` (their keys).
    """
    choices = [None if pack.supplier_key in without else _choice(pack) for pack in packs]
    known = [choice for choice in choices if choice]
    if need is None or not known:
        return None
    usable = usable_of(costing, packs[0])
    found = cheapest_mix(known, need * usable)
    if found is None:
        return None
    counts = iter(found.counts)
    every = tuple(next(counts) if choice else 0 for choice in choices)
    return Mix(every, found.cost, found.left_over / usable, found.proved)


def usable_of(costing: Costing, pack: Pack) -> Decimal:
    """The usable share of the item itself, with which its need was reckoned; 1 if unknown."""
    share = costing.of(pack.row.links["items"])["usable_share"]
    return share if isinstance(share, Decimal) and share > 0 else Decimal(1)


def _choice(pack: Pack) -> PackChoice | None:
    """A pack as a choice; delivery of an offer is paid once an order, however many are taken."""
    holds, usable = pack.number("pack_in_units_of_now"), pack.number("usable_share")
    cost, each = pack.number("pack_cost"), pack.number("other_cost_per_pack")
    share, other = pack.number("supplier_share"), pack.number("other_cost")
    if holds is None or cost is None or each is None or share is None or other is None:
        return None
    seen = pack.row.table == "packs_seen"
    paid = cost - each * (1 + share) if seen else cost
    once = other * (1 + share) if seen else Decimal(0)
    least = pack.number("least_packs")
    held = holds * (1 if usable is None else usable)
    if held <= 0 or paid < 0 or once < 0:
        return None
    whole = int(least.to_integral_value("ROUND_CEILING")) if least is not None else 1
    return PackChoice(held, paid, max(whole, 1), once)


def usual_cost(costing: Costing, packs: Sequence[Pack], need: Decimal | None) -> Decimal | None:
    """What the need costs in the pack that was bought last."""
    bought = [pack for pack in packs if pack.row.table == "packs_bought"]
    if not bought:
        return None
    last = max(bought, key=lambda pack: pack.number("rank") or Decimal(0))
    mix = mix_of(costing, [last], need)
    return mix.cost if mix else None


def spent_at(supplier: str, packs: Sequence[Pack], mix: Mix | None) -> Decimal:
    """What a mix lays out at a supplier, by its key, at the packs' own prices [money]."""
    counts = mix.counts if mix else (0,) * len(packs)
    return sum(
        (
            count * (pack.number("price_per_pack") or Decimal(0))
            for pack, count in zip(packs, counts, strict=True)
            if pack.supplier_key == supplier
        ),
        Decimal(0),
    )
