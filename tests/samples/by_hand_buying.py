"""What the season sample's plan makes one buy, worked by hand; its batches are in ``by_hand_week``.

Of flour 9 kg were counted on 26 October and of lentils 4, and nothing is typed as On hand: 2 and
1.5 kg, and 2 kg, are taken, so there is enough. 120 batches a year are 40 of each product, one in
9.125 days: cabbage that keeps 14 days serves one batch more, carrots (21 days) two, mushrooms (5)
and plums (7) none. Flour, lentils and sugar keep for half a year; how long pots do, nobody said.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

__all__ = ["to_buy"]

F = Fraction  # short, since every line has one


def _line(
    item: str, need: F | int, unit: str, pack: str, cost: F, left: F, keeps: bool | None, used: F
) -> dict[str, Any]:
    """One pack of an item; ``used`` is how much of it is used before it spoils."""
    amounts = {"need": need, "on_hand": 0, "to_buy": need, "unit": unit, "counted": None}
    bought = {"packs": 1, "pack": pack, "cost": cost, "left_over": left, "keeps": keeps}
    return {"item": item, **amounts, **bought, "others": [], "any_other_below": cost / used}


def _shop(supplier: str, total: F, lines: list[dict[str, Any]]) -> dict[str, Any]:
    """A shop that is the only one for all that is bought there; nobody said what a trip costs."""
    only = [line["item"] for line in lines]
    trip = {"saves": None, "cost": None, "pays": True, "only_there": only, "instead": []}
    return {
        "supplier": supplier, "total": total, "least_order": None, "lines": lines, "trip": trip,
    }  # fmt: skip


def _enough(item: str, need: F, there: int) -> dict[str, Any]:
    counted = {"amount": there, "on": "2026-10-26", "is_on_hand": True}
    amounts = {"need": need, "on_hand": there, "to_buy": 0, "unit": "kg", "counted": counted}
    return {"item": item, **amounts}


def to_buy() -> dict[str, Any]:
    """What `buy` says of the season sample."""
    farm = [
        _line("Cabbage", 2, "kg", "5 kg", F(6), F(3), False, F(4)),  # 2 now, 2 later, 1 lost
        _line("Mushrooms", 1, "kg", "2 kg", F(12), F(1), False, F(1)),
        _line("Carrots", 3, "kg", "5 kg", F(5), F(2), True, F(5)),
        _line("Plums", F("1.2"), "kg", "3 kg", F(9), F("1.8"), False, F("1.2")),
    ]
    stores = [
        _line("Sugar", F("0.5"), "kg", "2 kg", F("2.40"), F("1.5"), True, F(2)),
        _line("Soup pots", 20, "piece", "50 ea", F("12.50"), F(30), None, F(50)),
        _line("Paper trays", 16, "piece", "100 ea", F(8), F(84), None, F(100)),
        _line("Paper bags", 28, "piece", "100 ea", F(4), F(72), None, F(100)),
    ]
    return {
        "suppliers": [
            _shop("Bramble Farm", F(32), farm),
            _shop("Weir Street Stores", F("26.90"), stores),
        ],
        "ask": [],
        "enough": [_enough("Plain flour", F("3.5"), 9), _enough("Red lentils", F(2), 4)],
        "total": F("58.90"),
        "known": F("58.90"),
    }
