"""What everything_wrong.xlsx must be told, cell by cell, and the figures that must stand anyway.

The hints stand in the CSVs beside the rows they are about and never reach the workbook:

- SAYS: `Heading: severity: keyword or keyword`, several joined by ` & `. `*` for the heading is any
  cell of the row, `*^` any cell of this row or the one above. Severity `either` asks that it is
  said at all; `quiet` that nothing at that cell is wrong (a doubt is fine).
- COMES TO: price and size, as `10.80/36 ea`, by hand; `none` is no price; `any` is not judged.
- USABLE: the usable share.
"""

from __future__ import annotations

import json
import re
from fractions import Fraction
from typing import Any

from tests.samples.typed import sheet_rows

__all__ = ["HIDDEN", "SLIPS", "hints_to_json", "is_hint"]

F = Fraction  # short, since every line has one

NAME = "everything_wrong"
SLIPS = (
    *("Settings", "Purchases", "Items", "Recipes", "Batches", "Stages", "Packaging"),
    *("Products", "Outlets"),
)
FIRST = {"Purchases": 3, "Recipes": 3}  # the row of the headings, where it isn't 1
HIDDEN = {(NAME, "Purchases"): (8,)}  # rows the person hid: they count all the same

# One of each unit in base units: exact by definition.
UNITS = {
    "ea": (F(1), "ea"),
    "g": (F(1), "g"),
    "kg": (F(1000), "g"),
    "lb": (F("453.59237"), "g"),
    "oz": (F("453.59237") / 16, "g"),
    "l": (F(1000), "ml"),
    "qt": (F("946.352946"), "ml"),
    "in": (F("2.54"), "cm"),
}


def is_hint(heading: str) -> bool:
    """Whether a column of the CSV is for the tests only."""
    return heading in ("SAYS", "COMES TO", "USABLE")


def _says(sheet: str, headings: list[str], row: int, hint: str, shows: str) -> dict[str, Any]:
    """One expectation: the cells it may stand at, how severe, and words of which one must occur."""
    where, severity, words = ([*hint.split(": ", 2), ""])[:3]
    rows = [row - 1, row] if where == "*^" else [row]
    columns = range(len(headings)) if where.startswith("*") else [headings.index(where)]
    return {
        "sheet": sheet,
        "cells": [f"{chr(ord('A') + column)}{at}" for at in rows for column in columns],
        "severity": severity,
        "keywords": words.split(" or ") if words else [],
        "shows": shows,
    }


def _rows(sheet: str) -> list[tuple[int, dict[str, str]]]:
    """Each row of a sheet with its row number in the workbook, as {heading: field}."""
    headings, *rows = sheet_rows(NAME, sheet)
    first = FIRST.get(sheet, 1) + 1
    return [
        (at, dict(zip(headings, row, strict=True))) for at, row in enumerate(rows, first) if row
    ]


def cells() -> list[dict[str, Any]]:
    """Every expectation about a cell, sheet by sheet."""
    found = []
    for sheet in SLIPS:
        headings = [heading for heading in sheet_rows(NAME, sheet)[0] if not is_hint(heading)]
        for row, fields in _rows(sheet):
            hints = [hint for hint in fields["SAYS"].split(" & ") if hint]
            found += [_says(sheet, headings, row, hint, fields["Note"]) for hint in hints]
    return found


def _price(comes_to: str) -> tuple[F | None, str | None]:
    """Price per base unit and base unit, from `10.80/36 ea`; none for `none`."""
    if comes_to == "none":
        return None, None
    found = re.fullmatch(r"([\d.]+)/([\d.]+) (\w+)", comes_to)
    assert found, comes_to
    size, unit = UNITS[found[3]]
    return F(found[1]) / (F(found[2]) * size), unit


def items() -> list[dict[str, Any]]:
    """What each item costs a base unit, where that is decided."""
    found = []
    for _, fields in _rows("Purchases"):
        comes_to, _, name = fields["COMES TO"].partition(" = ")
        if comes_to not in ("", "any"):
            price, unit = _price(comes_to)
            named = name or fields["Item"]
            found.append({"item": named, "price_per_base_unit": price, "base_unit": unit})
    return found


def usable() -> list[dict[str, Any]]:
    """What share of each item is usable, where Items says so."""
    shares = [(row["Item"], row["USABLE"]) for _, row in _rows("Items") if row["USABLE"]]
    return [
        {"item": item, "usable_share": None if share == "none" else F(share)}
        for item, share in shares
    ]


# The good roll at the market, by hand. Flour 1/2 + 2 1/2 + 1 1/2 + 1 1/2 + 1 1/2 kg at 1.00; oil
# 1/2 + 1/2 cup, 2 + 1 + 1 tablespoons, 3 teaspoons at 1.00 a litre. Ten good, all sold. Mixing
# 10 minutes at 15.00 and 8 % on top; one booked half-hour at 12.00 an hour; a bag at 0.05; the
# market's 20.00 over 40 units.
cup = F("236.5882365")
good_batch = F("7.5") + (cup + 4 * cup / 16 + 3 * cup / 48) / 1000
good_roll = {
    "ingredients": good_batch / 10,
    "packaging": F("0.05"),
    "labour": 10 * F(15) / 60 * F("1.08") / 10,
    "kitchen": F(30) / 60 * 12 / 10,
    "overhead": F(0),
    "selling": F(20) / 40,
}
good_total = sum(good_roll.values(), F(0))


def products() -> list[dict[str, Any]]:
    """Which products at the market are whole, and the good roll's cost."""
    names = [fields["Product"] for _, fields in _rows("Products")]
    return [
        {"product": name, "outlet": "Saturday market", "complete": name == "Good roll"}
        | ({"cost": good_roll | {"total": good_total}} if name == "Good roll" else {})
        for name in names
    ]


def hints_to_json() -> str:
    """The whole expectation as JSON text, each fraction as the nearest double."""
    told = {"cells": cells(), "items": items(), "usable": usable(), "products": products()}
    return json.dumps(told, indent=1, ensure_ascii=False, default=float) + "\n"
