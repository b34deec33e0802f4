"""What a heading says of the figures below it beside their name: "(cents)", "(hours)", "Waste %".

Each kind of field knows the few things that may stand there; what is none of them, and a unit all
the same, is asked. Live formulas read the person's cells as they stand, so they do here, and only
while the heading says the same, what the reader did.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from costbook.definitions.currencies import minor_unit, symbol
from costbook.definitions.fields import Field, Kind, Least
from costbook.definitions.units import WRAPPERS, Measure, find_unit

__all__ = ["InHeading", "in_heading", "what_is_lost"]

_1: Final = Decimal(1)


@dataclass(frozen=True, slots=True)
class InHeading:
    """What the heading of a column says of each figure in it.

    A figure counts ``times`` as much, ``over`` so many; ``by_packs`` is one for the whole line,
    ``lost`` one for what is thrown away, ``share`` a share of the batch. ``unit`` and ``period``
    stand in for a blank cell beside it. ``asked`` is a heading by which no figure can be read,
    ``unread`` words that say nothing. ``text`` is the whole heading, ``typed`` what stands of it
    in its ``cell``.
    """

    said: str
    times: Decimal = _1
    over: Decimal = _1
    by_packs: bool = False
    lost: bool = False
    share: bool = False
    unit: str = ""
    period: str = ""
    asked: bool = False
    unread: bool = False
    remedy: str = ""
    text: str = ""
    typed: str = ""
    cell: str = ""

    @property
    def changes(self) -> bool:
        """Whether a figure counts for something else than it says."""
        return self.times != self.over or self.by_packs or self.lost

    def meant(self, field: Field) -> Field:
        """The field as the heading has it: of what is lost, 0 may be and 100 % is all."""
        return replace(field, least=Least.ZERO, limit=_1) if self.lost else field

    def counted(self, figure: Decimal, packs: Decimal | None) -> Decimal | None:
        """What a figure below the heading counts for; None where that isn't known."""
        if self.lost:
            return _1 - figure if figure < 1 else None
        if self.by_packs:
            return figure / packs if packs else None
        return figure * self.times / self.over


def what_is_lost(text: str) -> InHeading:
    """A heading such as "Waste %", above shares of which the rest is usable."""
    return InHeading(text, lost=True)


_BEHIND: Final = re.compile(r"[(\[]([^()\[\]]*)[)\]]\s*\Z|([%€£$¥₹¢])\s*\Z")
_TO_TITLE: Final = (Kind.TEXT, Kind.NAME, Kind.UNIT, Kind.CHOICE, Kind.DATE)

_MINUTES: Final = MappingProxyType(
    dict.fromkeys(("min", "mins", "minute", "minutes"), (_1, _1))
    | dict.fromkeys(("h", "hr", "hrs", "hour", "hours", "std", "stunden"), (Decimal(60), _1))
    | dict.fromkeys(("s", "sec", "secs", "second", "seconds", "sekunden"), (_1, Decimal(60)))
)
_HOURS: Final = MappingProxyType(
    {word: (times / 60, over) for word, (times, over) in _MINUTES.items()}
    | dict.fromkeys(("min", "mins", "minute", "minutes"), (_1, Decimal(60)))
    | dict.fromkeys(("s", "sec", "secs", "second", "seconds"), (_1, Decimal(3600)))
)
_DAYS: Final = MappingProxyType(
    dict.fromkeys(("d", "day", "days", "tage"), (_1, _1))
    | dict.fromkeys(("week", "weeks", "wk", "wks", "wochen"), (Decimal(7), _1))
)
_KM_IN_A_MILE: Final = Decimal("1.609344")
_MILES: Final = MappingProxyType(
    dict.fromkeys(("mi", "mile", "miles"), (_1, _1))
    | dict.fromkeys(("km", "kms"), (_1, _KM_IN_A_MILE))
)
_PER_MILE: Final = MappingProxyType(
    {"per mile": (_1, _1), "per mi": (_1, _1), "per km": (_KM_IN_A_MILE, _1)}
)
_COUNTED: Final = MappingProxyType(
    dict.fromkeys(
        ("minutes_per_batch", "minutes_per_unit", "waiting_minutes", "overlap_minutes"), _MINUTES
    )
    | {"hours_per_day": _HOURS, "hours": _HOURS, "keeps_days": _DAYS}
    | {"miles_per_day": _MILES, "miles": _MILES, "cost_per_mile": _PER_MILE}
)
"""Fields that are counted in a unit of their own, and what other units come to in it."""

_CENTS: Final = frozenset(
    {"c", "ct", "cts", "cent", "cents", "¢", "p", "pence", "penny", "centimes", "céntimos"}
    | {"centesimi", "rappen"}
)
_WHOLE_LINE: Final = frozenset(
    {"whole line", "line", "line total", "total", "per line", "all packs", "for all", "together"}
)
_A_PACK: Final = WRAPPERS | {"each", "one"}
_PERIODS: Final = MappingProxyType(
    dict.fromkeys(("year", "yearly", "annual", "annually", "yr"), "year")
    | dict.fromkeys(("month", "monthly", "mo"), "month")
    | {"batch": "batch", "market day": "market day"}
)
_NO_REMARKS: Final = frozenset(
    {*_MINUTES, *_DAYS, *_PERIODS, *_WHOLE_LINE, *_CENTS, *"€£$¥₹%", "percent", "per cent"}
    | {"months", "years", "weekly", "daily", "hourly"}
)
"""What says how figures are counted, so that it can't be passed over."""
_RATE: Final = re.compile(r"\A(?:per |an? |each |/) ?")


def in_heading(sheet: str, field: Field, text: str, currency: str) -> InHeading | None:
    """What a heading's brackets, or the sign at its end, say of its figures; None for nothing."""
    found = _BEHIND.search(text)
    said = " ".join((found[1] or found[2] or "").split()).strip(" .:") if found else ""
    if not said or field.kind in _TO_TITLE or said.lower() in field.title.lower().split():
        return None
    if said.lower() in _own_words(field):
        return None
    plain = said.lower().removeprefix("in ")
    if field.kind is Kind.MONEY and _is_money(said):
        return InHeading(said, asked=bool(currency) and said not in (currency, symbol(currency)))
    return replace(_meant(sheet, field, plain), said=said)


def _is_money(said: str) -> bool:
    """A currency's sign, or its code in capitals."""
    return said in tuple("€£$¥₹") or (said.isupper() and minor_unit(said) is not None)


def _own_words(field: Field) -> tuple[str, ...]:
    """What says only what the title says already."""
    rate = field.title.lower().partition(" per ")[2]
    brackets = field.title.lower().partition("(")[2].rstrip(")")
    return (f"per {rate}", f"a {rate}", f"/{rate}", brackets, "number", "no", "count")


def _meant(sheet: str, field: Field, said: str) -> InHeading:
    if field.name in _COUNTED and said in _COUNTED[field.name]:
        times, over = _COUNTED[field.name][said]
        return InHeading(said, times, over)
    if said in ("%", "percent", "per cent") and (field.kind is Kind.SHARE or field.or_share):
        return InHeading(said, share=field.or_share)
    if field.kind is Kind.MONEY:
        return _of_money(sheet, field, said)
    if field.name in ("grams_per_piece", "grams_per_ml"):
        return _of_grams(field, said)
    if field.goes_with and (unit := find_unit(said)):
        return InHeading(said, unit=unit.name)
    if said in ("per batch", "one batch", "for one batch", "a batch") and sheet == "Recipes":
        return InHeading(said)
    return _other(said)


def _of_money(sheet: str, field: Field, said: str) -> InHeading:
    if said in _CENTS:
        return InHeading(said, over=Decimal(100))
    rate = _RATE.sub("", said)
    if field.name == "price_per_pack":
        if said in _WHOLE_LINE and sheet == "Purchases":
            return InHeading(said, by_packs=True)
        if rate in _A_PACK:
            return InHeading(said)
        if find_unit(rate):
            return InHeading(said, asked=True, remedy=_BY_THE_UNIT)
    if sheet == "Overheads" and rate in _PERIODS:
        return InHeading(said, period=_PERIODS[rate])
    return _other(said)


_BY_THE_UNIT: Final = (
    "Type what one whole pack costs; or give each cell its unit, as in 3.99/kg, and head the "
    'column "Price per pack".'
)


def _of_grams(field: Field, said: str) -> InHeading:
    """A weight for each piece, or for each measure of volume, in other units than grams."""
    weight, _, volume = said.replace(" per ", "/").partition("/")
    of, by = find_unit(weight.strip()), find_unit(volume.strip())
    if of is None or of.measure is not Measure.WEIGHT:
        return _other(said)
    if field.name == "grams_per_piece" and (not volume or (by and by.measure is Measure.PIECE)):
        return InHeading(said, times=of.factor)
    if field.name == "grams_per_ml" and by and by.measure is Measure.VOLUME:
        return InHeading(said, times=of.factor, over=by.factor)
    return InHeading(said, asked=True)


def _other(said: str) -> InHeading:
    """Other words: a unit or a rate that isn't this column's is asked, a remark is not."""
    rate = _RATE.sub("", said)
    unit = any(each in _NO_REMARKS or find_unit(each) for each in (said, rate))
    asked = unit or said.startswith(("per ", "/"))
    return InHeading(said, asked=asked, unread=not asked)
