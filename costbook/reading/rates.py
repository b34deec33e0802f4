"""A rate behind a figure, `15/h`, and the word that its heading says already, `20 min`.

Only a heading's own rate may be left out: 80/day is not what Kitchen hire per hour asks for.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from costbook.definitions.fields import Field
from costbook.definitions.sheets import OVERHEADS
from costbook.definitions.units import WRAPPERS, Measure, find_unit
from costbook.reading.answers import CellsByField
from costbook.reading.number_style import NumberStyle
from costbook.reading.number_words import in_figures
from costbook.reading.numbers import read_number
from costbook.reading.texts import LONGEST, Unclear, quoted, tidy

__all__ = ["in_its_measure", "without_own_rate"]

_WORDS: Final[Mapping[str, frozenset[str]]] = MappingProxyType(
    {
        "hour": frozenset({"h", "hr", "hrs", "hour", "hours"}),
        "day": frozenset({"d", "day", "days", "market", "market day", "market days"}),
        "week": frozenset({"w", "wk", "week", "weeks"}),
        "month": frozenset({"mo", "mth", "month", "months"}),
        "year": frozenset({"y", "yr", "year", "years", "annum"}),
        "mile": frozenset({"mi", "mile", "miles"}),
        "batch": frozenset({"batch", "batches"}),
        "pack": WRAPPERS,
        "sale": frozenset({"sale", "sales", "transaction"}),
        "trip": frozenset({"trip", "trips"}),
        "ml": frozenset({"ml", "cc"}),
    }
)
"""What people write for what a heading is counted by, or in."""

_RATES: Final[Mapping[str, str]] = MappingProxyType(
    dict.fromkeys(("makes", "rejects", "waiting_minutes", "overlap_minutes"), "batch")
    | dict.fromkeys(("net_weight", "current_price", "wholesale_price_now"), "pack")
    | {"yearly_sales_cap": "year", "trip_cost": "trip", "card_fixed_fee": "sale"}
)
"""The rate of a field whose title doesn't say it."""

_RATE: Final = re.compile(
    r"(?P<rest>.*[\w.)%€£¥¢])(?: ?/ ?| (?:per|an?|every|for each) )"
    r"(?P<word>[^\W\d_]+(?: [^\W\d_]+)?)\.?",
    re.IGNORECASE,
)
_EACH: Final = re.compile(r"(?P<rest>.*\S) (?P<word>each|apiece)", re.IGNORECASE)


def without_own_rate(field: Field, typed: str, row: CellsByField) -> str | Unclear:
    """Return the text without its heading's rate: 15/h as Pay per hour; another rate is asked."""
    plain = tidy(typed[: LONGEST + 1])
    found = _RATE.fullmatch(plain) or _EACH.fullmatch(plain)
    if found is None or not re.search("[0-9]", found["rest"]):
        return typed
    word, own = found["word"].lower(), _own_rate(field, row)
    if own and _means(word, own):
        pence = own != "mile" and re.search("[0-9] ?p$", found["rest"])
        return (
            Unclear(f"{quoted(typed)} could be in pence or not.", _ALONE)
            if pence
            else found["rest"]
        )
    if field.name == "amount" and not row.keys().isdisjoint(("product", "per")):
        return typed if found["rest"].isdigit() and word in _PIECE else _said_under_per(typed)
    if word in _PIECE or (field.goes_with and "period" not in field.goes_with):
        return typed  # a quantity's grammar asks by itself, and a pack's price may be by the pound
    return _another_rate(field, typed, word, own)


_PIECE: Final = ("each", "apiece")
_ALONE: Final = "Type the number alone."


def _said_under_per(typed: str) -> Unclear:
    return Unclear(
        f"{quoted(typed)} says what it is for, and that belongs under Per.",
        "Type the amount alone, and unit, pack or batch under Per.",
    )


def _another_rate(field: Field, typed: str, word: str, own: str) -> Unclear:
    """Ask about a figure by the day where one by the hour is wanted."""
    if "period" in field.goes_with:
        per = f"says {own}" if own else "is blank"
        return Unclear(f"{quoted(typed)} is by the {word}, and Per {per}.", "Make the two agree.")
    wanted = f"by the {own}" if own else "not"
    return Unclear(
        f"{quoted(typed)} is by the {word}, and {field.title} is {wanted}.",
        f"Type what it comes to as {field.title}, as a number alone.",
    )


def _own_rate(field: Field, row: CellsByField) -> str:
    """What a field is counted by; an overhead says it in the cell beside."""
    if "period" in field.goes_with:
        return _period(row)
    if field.name == "amount":
        return "batch" if row.keys().isdisjoint(("product", "per")) else ""
    per = field.title.lower().partition(" per ")[2]
    return per or _RATES.get(field.name, "")


def _period(row: CellsByField) -> str:
    """What the Per of an overhead says."""
    typed = str(row.get("period", "")).strip().lower()
    choices = OVERHEADS.field("period").choices
    named = next((each.value for each in choices if typed in (each.value, *each.also)), "")
    return named.removeprefix("market ")


def _means(word: str, what: str) -> bool:
    """Tell whether a word is what something is counted by: `h` an hour, `roll` a unit."""
    if what in ("unit", "piece"):
        unit = find_unit(word)
        return word in _PIECE or bool(unit and unit.measure is Measure.PIECE and unit.factor == 1)
    return word in _WORDS.get(what, ())


# --- What a heading is counted in ---


_NUMBER: Final = r"[0-9½¼¾⅓⅔.,'’ ⁄/]*[0-9½¼¾⅓⅔]"
_TIME: Final = (
    rf"(?:(?P<hours>{_NUMBER}) ?(?:h|hrs?|hours?)\.?)?"
    rf"(?: ?(?:and )?(?P<minutes>{_NUMBER}) ?(?:m|min|mins|minutes?)\.?)?"
    rf"(?: ?(?:and )?(?P<seconds>{_NUMBER}) ?(?:s|secs?|seconds?)\.?)?"
)
_SECONDS: Final = {"hours": 3600, "minutes": 60, "seconds": 1}
_WITH_WORD: Final = rf"(?P<number>{_NUMBER}) ?(?P<word>[^\W\d_]+)\.?"


def in_its_measure(field: Field, typed: str, style: NumberStyle) -> Decimal | Unclear:
    """Return the number of a text that may say what its heading says: 20 min, 1 h 30 min.

    >>> from costbook.definitions.sheets import STAGES
    >>> in_its_measure(STAGES.field("minutes_per_batch"), "1 h 30 min", NumberStyle.POINT)
    Decimal('90')
    """
    plain = in_figures(tidy(typed[: LONGEST + 1]))
    title = field.title.lower().partition(" per ")[0]
    unit = next((each for each in ("hours", "minutes") if each in title), "")
    time = re.fullmatch(_TIME, plain, re.IGNORECASE) if unit else None
    if time and any(time.groups()):
        return _in_time(time, unit, style)
    found = re.fullmatch(_WITH_WORD, plain, re.IGNORECASE)
    if found and _counts(title, found["word"].lower()):
        return read_number(found["number"], style)
    return read_number(typed, style)


def _in_time(found: re.Match[str], unit: str, style: NumberStyle) -> Decimal | Unclear:
    """Return hours, minutes and seconds as one figure in a unit."""
    total = Decimal(0)
    for name, seconds in _SECONDS.items():
        if found[name]:
            number = read_number(found[name], style)
            if isinstance(number, Unclear):
                return number
            total += number * seconds
    return total / _SECONDS[unit]


def _counts(title: str, word: str) -> bool:
    """Tell whether a heading counts what a word names: packs in bags, units in rolls."""
    if "pack" in title:
        return word in WRAPPERS
    if title.startswith(("units", "rejects")):
        return word in ("reject", "rejects") or _means(word, "unit")
    if title == "people":
        return word in ("person", "persons", "people")
    if title.startswith("grams"):
        return find_unit(word) is find_unit("g")
    return any(what in title and word in words for what, words in _WORDS.items())
