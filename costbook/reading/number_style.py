"""How a column writes its numbers, 1,234.50 or 1.234,50, and what digits and marks then make."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from enum import Enum
from typing import Final

from costbook.reading.texts import LONGEST, Unclear, plainly, quoted, tidy

__all__ = ["NumberStyle", "number_style", "plain_number", "thousand_times_less"]


class NumberStyle(Enum):
    """Which mark parts whole from tenths: `1,234.50`, `1.234,50`, or not known."""

    POINT = "1,234.50"
    COMMA = "1.234,50"
    UNKNOWN = "?"


def _styled(decimal: str, group: str) -> re.Pattern[str]:
    """Return the form of a number with these marks; groups may also be parted by ' or a space."""
    return re.compile(
        rf"(?:[1-9][0-9]{{0,2}}(?P<mark>[{group} '’])[0-9]{{3}}(?:(?P=mark)[0-9]{{3}})*|[0-9]*)"
        rf"(?:{decimal}(?P<part>[0-9]+))?"
    )


_FORMS: Final[Mapping[NumberStyle, re.Pattern[str]]] = {
    NumberStyle.POINT: _styled("[.]", ","),
    NumberStyle.COMMA: _styled("[,]", "."),
}
_IN_TEXT: Final = re.compile(
    r"[0-9]{1,3}(?:[ '’][0-9]{3})+(?![0-9])(?:[.,][0-9]+)?|[0-9]*(?:[.,][0-9]+)+"
)


def _readings(digits: str) -> dict[NumberStyle, Decimal]:
    """Return what the digits say in each style in which they are well formed."""
    values = {}
    for style, form in _FORMS.items():
        found = form.fullmatch(digits)
        if found and any(c.isdigit() for c in digits):
            part = found["part"] or ""
            whole = re.sub("[^0-9]", "", digits[: len(digits) - len(part)])
            values[style] = Decimal(f"{whole or 0}.{part}" if part else whole)
    return values


def number_style(texts: Iterable[str]) -> NumberStyle:
    """Return the one style that a column's texts are written in; UNKNOWN if none or both show.

    >>> number_style(["1,5 kg", "2,250"])
    <NumberStyle.COMMA: '1.234,50'>
    """
    seen: set[NumberStyle] = set()
    for text in texts:
        for found in _IN_TEXT.finditer(tidy(text[:LONGEST])):
            readings = _readings(found[0])
            if len(readings) == 1:
                seen.update(readings)
    return seen.pop() if len(seen) == 1 else NumberStyle.UNKNOWN


def thousand_times_less(text: str, style: NumberStyle) -> tuple[Decimal, Decimal] | None:
    """Return the two readings of a number that the style takes for the thousandth of the other.

    >>> thousand_times_less("2,000 g", NumberStyle.COMMA)
    (Decimal('2.000'), Decimal('2000'))
    """
    for found in _IN_TEXT.finditer(tidy(text[:LONGEST])):
        readings = _readings(found[0])
        low, high = min(readings.values(), default=0), max(readings.values(), default=0)
        if low < high and readings.get(style) == low:
            return Decimal(low), Decimal(high)
    return None


def plain_number(digits: str, style: NumberStyle) -> Decimal | Unclear:
    """Return the number that digits and marks make, without sign or fraction."""
    whole = re.split("[.,]", digits)[0]
    if len(whole) > 15 or len(digits) > 50:
        return Unclear(f"{quoted(digits)} is too long a number.", "Write fewer digits.")
    readings = _readings(digits)
    values = sorted(set(readings.values()))
    many = len(values) > 1
    a_thousand = many and digits.endswith("000")  # nobody writes 2,000 for 2
    if style in readings and not (a_thousand and readings[style] == values[0]):
        return readings[style]
    if not values:
        return Unclear(f"{quoted(digits)} is not a number.", "Write it with digits, as 12.5.")
    if many:
        low, high = map(plainly, values)
        return Unclear(
            f"{quoted(digits)} could be {low} or {high}.",
            f"Write {high}, or type {low} as a number in a cell of its own.",
        )
    if style is not NumberStyle.UNKNOWN:
        return Unclear(
            f"{quoted(digits)} is not written like the other numbers here.",
            f"If it means {plainly(values[0])}, write it as they are.",
        )
    return values[0]
