"""One cell → one exact value, or a question: nothing is guessed, an unknown is never a zero.

What each kind of field makes of a cell stands in one function a kind. The formulas that look at
the same cells (``writing/lookups.py``) mean the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from types import MappingProxyType
from typing import Final

from costbook.definitions.fields import Field, Kind, shown_number
from costbook.reading.answers import Answer, CellsByField, Parsed, Ways, as_text, ask, within
from costbook.reading.dates import read_date
from costbook.reading.grid import NEVER_WORKED_OUT, TIME, Cell, CellError, Formatted
from costbook.reading.texts import Unclear, plainly, quoted
from costbook.reading.typed import is_foreign, read_text

__all__ = ["MARGINS", "read_cell"]

MARGINS: Final = frozenset(
    {"target_margin", "product_target_margin", "outlet_target_margin", "their_margin"}
)
"""Shares of a price that must leave some of it for cost."""

FIRST_DAY: Final = date(1990, 1, 1)
LAST_DAY: Final = date(2099, 12, 31)
"""Days that a workbook may speak of; another was mistyped."""


def read_cell(field: Field, cell: Cell, row: CellsByField, ways: Ways) -> Answer:
    """What the cell of a field is."""
    if isinstance(cell, CellError):
        return _of_error(field, cell)
    if field.kind in (Kind.TEXT, Kind.NAME, Kind.UNIT):
        return Answer(as_text(cell))
    if field.kind is Kind.CHOICE:
        return _choice(field, cell)
    if field.kind is Kind.DATE:
        return _day(cell, ways)
    if isinstance(cell, bool):
        word = str(cell).upper()
        return ask(f"{word} stands here, not a number.", "Type the number.", Decimal(int(cell)))
    if isinstance(cell, date):
        return _date_for_number(cell, ways)
    if isinstance(cell, Formatted):
        return _formatted(field, cell, ways)
    if isinstance(cell, Decimal):
        return _typed_number(field, cell)
    return read_text(field, cell, row, ways)


def _of_error(field: Field, cell: CellError) -> Answer:
    if cell.code == NEVER_WORKED_OUT:
        remedy = "Open the workbook in your spreadsheet program, save it there, and run again."
        return ask(f"the cell holds {cell.code}.", remedy)
    if cell.code == TIME:
        wanted = "minutes" if "minutes" in field.name else "number"
        return ask(
            f"the cell holds {cell.code}.",
            f"Set its format to number, and type the {wanted}.",
            cell.number,
        )
    if cell.number is not None:
        return ask(f"the cell holds {cell.code}.", "Check it.", cell.number)
    if cell.code == "#VALUE!" and field.kind is Kind.DATE:
        return ask(
            "the cell shows #VALUE!, as a date after the year 9999 does.",
            "Type the date again, as 2026-03-14.",
        )
    if cell.code[:1] == "#" or cell.code.startswith("Err:"):
        return ask(
            f"the cell shows {cell.code}.",
            "Correct its formula, or type the value; then save and run again.",
        )
    return ask(f"the cell holds {cell.code}.", "Type the value again.")


# ---------------------------------------------------------------- choices and dates


def _choice(field: Field, cell: Cell) -> Answer:
    typed = as_text(cell).strip()
    for choice in field.choices:
        if typed.lower() == choice.value:
            return Answer(choice.value)
        if typed.lower() in choice.also:
            said = Unclear(
                f'{quoted(typed)} was read as "{choice.value}".', "Nothing, if that is right."
            )
            return Answer(choice.value, doubt=None if isinstance(cell, bool) else said)
    wanted = ", ".join(choice.value for choice in field.choices)
    return Answer("", asked=Unclear(f"{quoted(typed)} is none of: {wanted}.", "Type one of them."))


def _day(cell: Cell, ways: Ways) -> Answer:
    if isinstance(cell, date):
        return _within_reach(cell, _day_number(cell, ways))
    if isinstance(cell, Decimal):
        return _day_of_number(cell, ways)
    read = read_date(str(cell), ways.order)
    if isinstance(read, Unclear):
        return Answer(asked=read)
    if not FIRST_DAY <= read <= LAST_DAY:
        return ask(f"{quoted(str(cell))} is too far from today.", "Check the year.")
    return Answer(_day_number(read, ways), Parsed(shown=read.isoformat()))


def _day_number(day: date, ways: Ways) -> Decimal:
    return Decimal((day - ways.day_zero).days)


def _day_of_number(number: Decimal, ways: Ways) -> Answer:
    """A plain number where a day belongs: the day that it stands for, where that can be meant."""
    whole = number.to_integral_value(ROUND_FLOOR)
    if _day_number(FIRST_DAY, ways) <= whole <= _day_number(LAST_DAY, ways):
        return Answer(whole)
    return ask(f"{shown_number(number)} is no date.", "Type it as a date: 2026-03-14.", number)


def _within_reach(day: date, number: Decimal) -> Answer:
    if FIRST_DAY <= day <= LAST_DAY:
        return Answer(number)
    return ask(f"{day.isoformat()} is too far from today.", "Check the year.", number)


def _date_for_number(day: date, ways: Ways) -> Answer:
    """A number that a program made a date of: 2 January was 1/2, 2 March perhaps 3-2."""
    return ask(
        f"a date stands here ({day.day} {day:%B %Y}); was this {day.month}/{day.day}?",
        "Set the cell's format to number or text, and type the figure again.",
        _day_number(day, ways),
    )


# ---------------------------------------------------------------- numbers


_RARELY_ABOVE: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        "card_fee": Decimal("0.1"),
        "sales_tax": Decimal("0.3"),
        "small_ingredient_allowance": Decimal("0.25"),
        "spare": Decimal("0.3"),
        "usable_share": Decimal(1),
    }
)
"""Shares that are seldom larger: 0.5 as a card fee may be meant as half a per cent."""


def _formatted(field: Field, cell: Formatted, ways: Ways) -> Answer:
    """A number with a format that says more: another money, or a share where it is none."""
    number = Decimal(cell)
    if field.kind is Kind.MONEY and is_foreign(cell.money, ways.currency):
        return ask(
            f"{field.title} is shown in {cell.money}, and the workbook's currency is "
            f"{ways.currency}.",
            f"Type what it came to in {ways.currency}, and give the cell that format.",
            number,
        )
    if not cell.percent or field.kind is Kind.SHARE:
        return _typed_number(field, number)
    if field.or_share:
        return replace(within(field, number), is_share=True)
    return ask(
        f"{field.title} is shown as {shown_number(number * 100)} %, and is no percentage.",
        "Set the cell's format to number, and type the figure again.",
        number,
    )


def _typed_number(field: Field, number: Decimal) -> Answer:
    """A number as typed; of a share, what is doubtful is said."""
    answer = within(field, number)
    if field.kind is not Kind.SHARE or answer.asked or number > field.limit:
        return answer
    if number == 1 and field.name in MARGINS:
        return answer  # asked about by itself, as a margin that leaves nothing for cost
    if number == 1 or number > _RARELY_ABOVE.get(field.name, Decimal(1)):
        typed, part = plainly(number), f"{plainly(number * 100)} %"
        said = Unclear(
            f"{typed} was read as {part}.", f"If {typed} % is meant, type {plainly(number / 100)}."
        )
        return replace(answer, doubt=said)
    return answer
