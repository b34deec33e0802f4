"""What to buy for a need: the packs, what is paid now, and what of that is used, left or lost."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from typing import Final

from costbook.costing.engine import Costing
from costbook.deciding.mix import PackChoice, cheapest_mix
from costbook.deciding.pack import Pack, plain
from costbook.definitions.rounding import rounded

__all__ = [
    "Need",
    "Plan",
    "as_cheap_at",
    "cheapest_plan",
    "need_of",
    "plan_of",
    "spent_at",
    "usable_of",
    "usual_cost",
]

_BEFORE_NOISE: Final = Decimal("0.000001")


@dataclass(frozen=True, slots=True)
class Need:
    """What is to be bought for: so much as bought [base], for so many days.

    ``usable`` is the item's usable share, with which it was reckoned. ``later`` is how much of what
    is left over is used before it spoils, ready to use [base]; where it is None, each pack has its
    own share that is.
    """

    amount: Decimal
    days: Decimal
    usable: Decimal
    later: Decimal | None = None

    @property
    def of_a_batch(self) -> bool:
        """Whether it is what a batch takes at once, and doesn't keep for the next one."""
        return self.later == 0

    @property
    def ready(self) -> Decimal:
        """The amount ready to use [base]."""
        return self.amount * self.usable

    @property
    def in_words(self) -> str:
        """How long it is for."""
        return "a batch" if self.of_a_batch else f"{plain(rounded(self.days, 1))} days"


@dataclass(frozen=True, slots=True)
class Plan:
    """How many of each pack; what is paid for them at the till, and what is used costs [money].

    Cash has no yearly costs in it, which are paid anyhow; cost bears its part of them. What is left
    and keeps is worth what was paid for it; what spoils is lost. Both are as bought.
    ``proved`` is False where there were too many mixes to rule out a cheaper one.
    """

    counts: tuple[Decimal, ...]
    cash: Decimal
    cost: Decimal
    left_over: Decimal
    lost: Decimal
    proved: bool = True


def need_of(costing: Costing, pack: Pack, weeks: Decimal) -> Need | None:
    """What is used in some weeks, or until it spoils; a batch's where it keeps for no other.

    None where no use is known.
    """
    item = costing.of(pack.row.links["item_use"])
    use, keeps = item["use_per_week"], item["keeps_days"]
    at_once, made = item["taken_at_once"], item["made_per_week"]
    if not isinstance(use, Decimal) or use <= 0:
        return None
    if item["batches_kept"] == 0 and isinstance(at_once, Decimal) and isinstance(made, Decimal):
        return Need(at_once, at_once / made * 7, usable_of(costing, pack), later=Decimal(0))
    days = min(weeks * 7, keeps) if isinstance(keeps, Decimal) and keeps > 0 else weeks * 7
    return Need(use * days / 7, days, usable_of(costing, pack))


def usable_of(costing: Costing, pack: Pack) -> Decimal:
    """The usable share of the item itself, with which its need was reckoned; 1 if unknown."""
    share = costing.of(pack.row.links["items"])["usable_share"]
    return share if isinstance(share, Decimal) and share > 0 else Decimal(1)


def plan_of(pack: Pack, need: Need) -> Plan | None:
    """A need filled with one pack alone; None where its price isn't known."""
    choice, filled = _choice(pack), _filled(pack, need)
    if choice is None or filled is None:
        return None
    count, left, lost = filled
    # whatever is used, now and later, bears its part of what is lost
    cost = (count * choice.price + choice.once) * need.ready / (need.ready + left - lost)
    amounts = left / need.usable, lost / need.usable
    return Plan((count,), pack.cash(count), cost, *amounts)


def _filled(pack: Pack, need: Need) -> tuple[Decimal, Decimal, Decimal] | None:
    """How many of a pack fill a need; what is left of them, and what is lost [base, ready]."""
    choice, used = _choice(pack), pack.number("order_used")
    if choice is None or used is None or used <= 0:
        return None
    count = need.ready / choice.holds
    if not pack.cut_to_weight:
        whole = count.quantize(_BEFORE_NOISE).to_integral_value(ROUND_CEILING)
        count = max(whole, Decimal(choice.least))
    held = count * choice.holds
    left = held - need.ready
    kept = held * used - need.ready if need.later is None else need.later
    return count, left, min(left, max(Decimal(0), left - kept))


def as_cheap_at(pack: Pack, need: Need, cost: Decimal) -> Decimal | None:
    """The price of a pack at which it fills a need, alone, for so much [money]; or None."""
    choice, filled, price = _choice(pack), _filled(pack, need), pack.number("price_per_pack")
    share = pack.number("supplier_share")
    if choice is None or filled is None or price is None or share is None:
        return None
    count, left, lost = filled
    as_cheap = (cost * (need.ready + left - lost) / need.ready - choice.once) / count
    return price + (as_cheap - choice.price) / (1 + share)


def cheapest_plan(
    packs: Sequence[Pack], need: Need | None, without: Collection[str] = ()
) -> Plan | None:
    """The packs that fill a need for the least cost, of equally cheap those that leave least.

    Left out are packs whose price isn't known or was overtaken, and those of the suppliers
    ``without`` (their keys). Packs are mixed where it is known how much of what is left over is
    lost; what keeps is worth what was paid for it, so that one pack is the cheapest for all of it.
    """
    if need is None:
        return None
    asked = [pack.stands and pack.supplier_key not in without for pack in packs]
    alone = [plan_of(pack, need) if ask else None for pack, ask in zip(packs, asked, strict=True)]
    found = [
        _among(len(packs), {at: plan.counts[0]}, plan) for at, plan in enumerate(alone) if plan
    ]
    if need.later is not None and need.later.is_finite():
        found += _mixed(packs, asked, need, need.later)
    best = min(found, key=lambda plan: (plan.cost, plan.left_over), default=None)
    return best and replace(best, proved=all(plan.proved for plan in found))


def _mixed(packs: Sequence[Pack], asked: Sequence[bool], need: Need, later: Decimal) -> list[Plan]:
    """The cheapest mix of whole packs, where there are any."""
    choices = {
        at: choice
        for at, pack in enumerate(packs)
        if asked[at] and not pack.cut_to_weight and (choice := _choice(pack))
    }
    ready, later = (amount.quantize(_BEFORE_NOISE) for amount in (need.ready, later))
    mix = cheapest_mix(list(choices.values()), ready, later)
    if mix is None:
        return []
    counts = {at: Decimal(count) for at, count in zip(choices, mix.counts, strict=True)}
    cash = sum((packs[at].cash(count) for at, count in counts.items()), Decimal(0))
    left, lost = mix.left_over, max(Decimal(0), mix.left_over - later)
    amounts = left / need.usable, lost / need.usable
    return [_among(len(packs), counts, Plan((), cash, mix.cost, *amounts, mix.proved))]


def _among(packs: int, counts: dict[int, Decimal], plan: Plan) -> Plan:
    """The plan, with its counts among all packs."""
    return replace(plan, counts=tuple(counts.get(at, Decimal(0)) for at in range(packs)))


def _choice(pack: Pack) -> PackChoice | None:
    """A pack as a choice; delivery of an offer is paid once an order, however many are taken."""
    names = ("pack_in_units_of_now", "pack_cost", "other_cost_per_pack", "supplier_share")
    known = [pack.number(name) for name in (*names, "other_cost", "least_packs")]
    numbers = [each for each in known if each is not None]
    if len(numbers) < len(known):
        return None
    holds, cost, each, share, other, least = numbers
    seen, usable = pack.row.table == "packs_seen", pack.number("usable_share")
    paid = cost - each * (1 + share) if seen else cost
    once = other * (1 + share) if seen else Decimal(0)
    held = holds * (1 if usable is None else usable)
    if held <= 0 or paid < 0 or once < 0:
        return None
    return PackChoice(held, paid, int(least.to_integral_value(ROUND_CEILING)), once)


def usual_cost(packs: Sequence[Pack], need: Need | None) -> Decimal | None:
    """What the need costs in the pack that was bought last."""
    bought = [pack for pack in packs if pack.row.table == "packs_bought"]
    if not bought or need is None:
        return None
    last = max(bought, key=lambda pack: pack.number("rank") or Decimal(0))
    plan = plan_of(last, need)
    return plan.cost if plan else None


def spent_at(supplier: str, packs: Sequence[Pack], plan: Plan | None) -> Decimal:
    """What a plan lays out at a supplier, by its key, at the packs' own prices [money]."""
    counts = plan.counts if plan else (Decimal(0),) * len(packs)
    return sum(
        (
            count * (pack.number("price_per_pack") or Decimal(0))
            for pack, count in zip(packs, counts, strict=True)
            if pack.supplier_key == supplier
        ),
        Decimal(0),
    )
