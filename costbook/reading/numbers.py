"""Numbers, shares and prices as people write them, read exactly or asked about.

Nothing here guesses: a text has one reading, or it is answered with a sentence for the person.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from math import gcd
from types import MappingProxyType
from typing import Final

from costbook.definitions.currencies import minor_unit
from costbook.definitions.fields import share
from costbook.definitions.units import WRAPPERS, Unit, find_unit, near_units
from costbook.reading.number_style import NumberStyle, number_style, plain_number
from costbook.reading.number_words import in_figures
from costbook.reading.texts import LONGEST, Unclear, quoted, tidy

__all__ = [
    "FRACTION",
    "PRICES",
    "Money",
    "NumberStyle",
    "Unclear",
    "fraction",
    "number_style",
    "read_number",
    "read_price",
    "read_share",
]

_FRACTIONS: Final = frozenset({2, 3, 4, 5, 6, 8, 10, 12, 16, 32})
FRACTION: Final = re.compile(
    r"(?:(?P<whole>[0-9]{1,15})(?:[ ](?:and[ ]|&[ ])?|-))?"
    r"(?P<top>[0-9]{1,4})[ ]?(?P<bar>[/⁄])[ ]?(?P<bottom>[0-9]{1,4})(?![0-9]|[.,][0-9])"
)


def fraction(found: re.Match[str]) -> Decimal | None:
    """Return the value of `½`, `3/4`, `1 1/2`, `1-1/2`; None where it is no part people cut.

    A typed slash may also part two numbers, as in 12/32 oz. ⁄ comes from a single letter ½.
    """
    whole, top, bottom = (int(found[part] or 0) for part in ("whole", "top", "bottom"))
    usual = top < bottom and bottom in _FRACTIONS and gcd(top, bottom) == 1
    if bottom == 0 or not (usual or found["bar"] == "⁄"):
        return None
    return whole + Decimal(top) / bottom


def read_number(text: str, style: NumberStyle) -> Decimal | Unclear:
    """Return the number that a text is, with its sign.

    >>> read_number("-1,234.5", NumberStyle.POINT)
    Decimal('-1234.5')
    """
    typed = tidy(text[: LONGEST + 1])
    plain = in_figures(typed)
    if not plain:
        return Unclear("There is nothing here.", "Write a number, as 12.5.")
    digits = plain[1:].strip() if plain[0] in "+-" else plain
    if len(plain) > LONGEST or not digits:
        return _no_number(text)
    found = FRACTION.fullmatch(digits)
    number = fraction(found) if found else plain_number(digits, style)
    if number is None or (plain != typed and isinstance(number, Unclear)):
        return _no_number(text)
    return number if isinstance(number, Unclear) or plain[0] != "-" else -number


def _no_number(text: str) -> Unclear:
    return Unclear(f"{quoted(text)} is not a number.", "Write a number, as 12.5.")


# --- Shares ---

_SHARE: Final = re.compile(
    r"(?P<number>[^%a-z]*[0-9]) ?(?P<percent>%|percent|per cent|pct)?"
    r"(?: (?:is |as )?(?:(?P<lost>lost|loss|trim|trimmings|waste|wasted|refuse|shrink|shrinkage)"
    r"|usable|used|use|yield|good|left|ready to use))?",
    re.IGNORECASE,
)


def read_share(text: str, style: NumberStyle, limit: Decimal) -> Decimal | Unclear:
    """Return the share that is meant by `89`, `0.89`, `89 %` or `11% waste`."""
    plain = tidy(text[: LONGEST + 1])
    found = _SHARE.fullmatch(plain) if len(plain) <= LONGEST else None
    number = read_number(found["number"], style) if found else read_number(text, style)
    if isinstance(number, Unclear) or not found:
        return number
    part = number / 100 if found["percent"] else share(number, limit)
    if not found["lost"]:
        return part
    if not 0 <= part <= 1:
        return Unclear(f"{quoted(text)} loses more than there is.", "Write what is left, as 89 %.")
    return 1 - part


# --- Prices ---


@dataclass(frozen=True, slots=True)
class Money:
    """A price for one pack, or for one `per` unit; `currency` is the sign or code as typed."""

    amount: Decimal
    per: Unit | None
    currency: str = ""


_CODE: Final = r"[$€£¥\u20a0-\u20cf]|[A-Z]{1,2}\$|[A-Z]{3}|kr\.?|zł|Rs\.?|Fr\.?"
_SPOKEN: Final[Mapping[str, str]] = MappingProxyType(
    dict.fromkeys(("DOLLAR", "DOLLARS", "BUCKS"), "$")
    | dict.fromkeys(("EURO", "EUROS"), "EUR")
    | dict.fromkeys(("POUND", "POUNDS", "QUID"), "GBP")
)
"""Words for a money, and its sign or code."""
_SUM: Final = (
    rf"(?P<sign>{_CODE})? ?(?P<digits>[0-9.,][0-9.,'’ ]*)"
    rf" ?(?P<after>{_CODE}|{'|'.join(_SPOKEN)})?"
)
_PER: Final = r"(?: ?/ ?| (?:per|an?) )"


@dataclass(frozen=True, slots=True)
class _Typed:
    """A price's text, the parts that its form found, and the column's way of writing numbers."""

    text: str
    parts: re.Match[str]
    style: NumberStyle

    def amount(self) -> Money | Unclear:
        """Return the sum of money alone; a code that no country's money has is asked."""
        number = plain_number(self.parts["digits"].strip(), self.style)
        if isinstance(number, Unclear):
            return number
        typed = (self.parts["sign"] or self.parts["after"] or "").upper()
        currency = _SPOKEN.get(typed, typed)
        if re.fullmatch("[A-Z]{3}", currency) and minor_unit(currency) is None:
            return self.asked("is not understood as a price.", _LIKE_PRICE)
        if number == 0:
            return self.asked("is a price of nothing.", _WHAT_IT_COSTS)
        return Money(number, None, currency)

    def asked(self, says: str, remedy: str) -> Unclear:
        """Return a sentence that begins with the text."""
        return Unclear(f"{quoted(self.text)} {says}", remedy)


_LIKE_PRICE: Final = "Write the price of one pack, as 4.50."
_WHAT_IT_COSTS: Final = "Write what it would have cost, or leave the row out."


def _several(typed: _Typed) -> Money | Unclear:
    """Return the price of one, of `2/$5` or `3 for 10`; 2 for 1 names no price."""
    money, many = typed.amount(), Decimal(typed.parts["many"])
    if isinstance(money, Unclear):
        return money
    if many == 0 or (not money.currency and money.amount < many):
        return typed.asked("is an offer, not a price.", _LIKE_PRICE)
    return Money(money.amount / many, None, money.currency)


def _in_cents(typed: _Typed) -> Money | Unclear:
    """Return `89¢` as 0.89; 0.89¢ or $2¢ are not what they say."""
    money = typed.amount()
    if isinstance(money, Unclear):
        return money
    if money.currency or money.amount < 1:
        return typed.asked("could be in cents or not.", _LIKE_PRICE)
    return Money(money.amount / 100, None)


def _rate(typed: _Typed) -> Money | Unclear:
    """Return `3.99/lb` as 3.99 a pound, `4.50/pack` as 4.50."""
    money, word = typed.amount(), typed.parts["unit"]
    unit = find_unit(word)
    if isinstance(money, Unclear) or word.lower() in WRAPPERS:
        return money
    if unit is None:
        near = " or ".join(f'"{name}"' for name in near_units(word))
        return Unclear(
            f"In {quoted(typed.text)}, {quoted(word)} is not understood.",
            f"Did you mean {near}?" if near else _LIKE_PRICE,
        )
    many = plain_number(typed.parts["many"] or "1", typed.style)
    if isinstance(many, Unclear) or many == 0:
        return typed.asked("is not understood as a price.", _LIKE_PRICE)
    return Money(money.amount / many, unit, money.currency)


def _each(typed: _Typed) -> Money | Unclear:
    """Ask what each is: a carton at 5.38, or an egg at 0.30."""
    digits = typed.parts["digits"].strip()
    return typed.asked(
        "could be for each pack or each piece.",
        f"Write {digits} for a pack, or {digits}/ct for a piece.",
    )


# Each form, an example, and what reads it; the first that fits is taken. They are compiled when
# a price first comes as text (and then kept by re): few workbooks have any.
PRICES: Final[tuple[tuple[str, str, Callable[[_Typed], Money | Unclear]], ...]] = (
    (r"(?:free|gift|nil|none|no charge|gratis)(?P<digits>)(?P<sign>)(?P<after>)", "free",
        lambda typed: typed.asked("is a price of nothing.", _WHAT_IT_COSTS)),
    (rf"{_SUM}(?:{_PER}| )(?:each|ea\.?|apiece|unit)", "5.38 each", _each),
    (rf"(?P<many>[0-9]{{1,4}}) for {_SUM}", "3 for 10", _several),
    (rf"(?P<many>[0-9]{{1,4}}) ?/ ?(?=[^0-9. ]){_SUM}", "2/$5", _several),
    (rf"{_SUM}(?:¢|c|cents?|p|pence)", "89¢", _in_cents),
    (rf"@? ?{_SUM}{_PER}(?P<many>[0-9][0-9.,]*)? ?(?P<unit>[^0-9 ].*)", "$3.99/lb", _rate),
    (rf"@? ?{_SUM}(?: [FTNXAB])?", "4.50 F", _Typed.amount),
)  # fmt: skip
_NEGATIVE: Final = re.compile(r"([^0-9(-]*)\(([^()]+)\)|([^0-9-]*)- ?([^-]+)|([^-]+[0-9]) ?-")


def read_price(text: str, style: NumberStyle) -> Money | Unclear:
    """Return the price of one pack, or a rate: `$ 4.50`, `89¢`, `(1.99)`, `2/$5`, `3.99/lb`.

    >>> read_price("2/$5", NumberStyle.POINT)
    Money(amount=Decimal('2.5'), per=None, currency='$')
    """
    plain = in_figures(tidy(text[: LONGEST + 1]))
    if not plain:
        return Unclear("There is nothing here.", _LIKE_PRICE)
    minus = _NEGATIVE.fullmatch(plain)
    price = "".join(filter(None, minus.groups())) if minus else plain
    forms = ((re.fullmatch(form, price, re.IGNORECASE), read) for form, _, read in PRICES)
    money = next((read(_Typed(text, found, style)) for found, read in forms if found), None)
    if money is None or len(plain) > LONGEST:
        return Unclear(f"{quoted(text)} is not understood as a price.", _LIKE_PRICE)
    return (
        money if isinstance(money, Unclear) or not minus else replace(money, amount=-money.amount)
    )
