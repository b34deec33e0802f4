"""Headings that say more than their names: what they change in the figures, and what is said."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.definitions.fields import Field, InputSheet
from costbook.definitions.headings import InHeading, in_heading, what_is_lost
from costbook.definitions.units import Measure, find_unit
from costbook.problems import Severity
from costbook.reading.answers import Answer, CellsByField, Ways, as_text, ask, within
from costbook.reading.grid import column_letter
from costbook.reading.tables import FoundTable
from costbook.reading.texts import plainly, quoted
from costbook.reading.values import read_cell

__all__ = ["Sentence", "counts_for", "headings_of", "read_headed", "said_of", "unit_taken"]

Sentence = tuple[Severity, str, str, str]
"""How bad, which cell, what, and what to do."""

_PLAIN: Final = re.compile(r"[-+]?[\d.,\s'’½¼¾⅓⅔/]*%?")


def headings_of(
    sheet: InputSheet, table: FoundTable, rows: Iterable[CellsByField], ways: Ways
) -> dict[str, InHeading]:
    """What each heading of a table says beside its name, by field."""
    found: dict[str, InHeading] = {}
    for name, at in table.columns.items():
        text, field = table.headings[at].text, sheet.field(name)
        says = in_heading(sheet.title, field, text, ways.currency)
        if name in table.lost:
            says = what_is_lost(text)
        if says is not None:
            cell = f"{column_letter(at)}{table.headings[at].row}"
            typed = as_text(table.headings[at].typed)
            found[name] = replace(says, text=text, typed=typed, cell=cell)
    return {name: _of_a_period(sheet, says, rows, ways) for name, says in found.items()}


def _of_a_period(
    sheet: InputSheet, says: InHeading, rows: Iterable[CellsByField], ways: Ways
) -> InHeading:
    """A heading with a period can be read only where each row's own is the same."""
    if not says.period:
        return says
    own = [row["period"] for row in rows if "period" in row]
    other = any(
        read_cell(sheet.field("period"), cell, {}, ways).value != says.period for cell in own
    )
    remedy = 'Make it and the column Per say the same, or head it "Amount".'
    return replace(says, asked=other, remedy=remedy)


def read_headed(
    field: Field, says: InHeading | None, raw: CellsByField, values: Mapping[str, Value], ways: Ways
) -> tuple[Answer, Answer]:
    """What a cell says by itself, and what it counts for by its heading."""
    cell = raw[field.name]
    if says is None:
        plain = read_cell(field, cell, raw, ways)
        return plain, plain
    if says.asked:
        return Answer(), Answer()
    if says.changes and isinstance(cell, str) and not _PLAIN.fullmatch(cell.strip()):
        question = ask(
            f"{quoted(cell)} stands under the heading {quoted(says.text)}.",
            "Type the number alone, as the heading has it.",
        )
        return question, question
    if says.unit:
        return _with_unit(field, says, raw, ways)
    plain = read_cell(says.meant(field), cell, raw, ways)
    if not isinstance(plain.value, Decimal):
        return plain, plain
    if says.share:
        return plain, replace(plain, is_share=True)
    if says.lost and plain.value == 1:
        return plain, replace(within(field, Decimal(0)), refused=plain.value)
    return plain, replace(plain, value=counts_for(says, plain.value, values))


def counts_for(says: InHeading | None, figure: Value, values: Mapping[str, Value]) -> Value:
    """What a figure counts for by its heading, beside the row's other values."""
    if says is None or not isinstance(figure, Decimal):
        return figure
    packs = values.get("packs", Decimal(1))
    known = packs if isinstance(packs, Decimal) else None
    return None if says.asked else says.counted(figure, known)


def _with_unit(
    field: Field, says: InHeading, raw: CellsByField, ways: Ways
) -> tuple[Answer, Answer]:
    """A size or an amount whose heading names the unit; the cell beside it must not differ."""
    beside, unit = field.goes_with[0], find_unit(says.unit)
    typed = as_text(raw[beside]).strip() if beside in raw else ""
    if unit is not None and unit.measure is Measure.PIECE and typed:
        plain = read_cell(field, raw[field.name], raw, ways)
        return plain, plain
    if typed and find_unit(typed) != unit:
        cell = raw[field.name]
        seen = cell if isinstance(cell, Decimal) else None
        question = ask(
            f"the heading says {says.unit}, and the unit beside it says {quoted(typed)}.",
            "Make the two agree.",
            seen,
        )
        return question, question
    plain = read_cell(field, raw[field.name], raw if typed else {**raw, beside: says.unit}, ways)
    return plain, plain


def unit_taken(field: Field, says: InHeading | None, raw: CellsByField) -> str:
    """The unit that a heading gives a row whose own unit is blank; empty where it gives none."""
    return says.unit if says and field.goes_with and field.goes_with[0] not in raw else ""


# ---------------------------------------------------------------- saying


def said_of(
    sheet: InputSheet, headings: Mapping[str, InHeading], rows: Iterable[CellsByField]
) -> Iterator[Sentence]:
    """What is said of headings that say more than their names: each once."""
    lines = list(rows)
    for name, says in headings.items():
        field = sheet.field(name)
        filled = [row for row in lines if name in row]
        told = _told(field, says, filled) if filled else None
        if told:
            yield told


def _told(field: Field, says: InHeading, rows: Iterable[CellsByField]) -> Sentence | None:
    if says.asked:
        what = (
            f"the heading {quoted(says.text)} says {quoted(says.said)}, which is not how "
            f'"{field.title}" is counted, so its column was not used.'
        )
        remedy = says.remedy or f'Head it "{field.title}", and type the figures so.'
        return Severity.WRONG, says.cell, what, remedy
    if says.unread:
        what = (
            f"in the heading {quoted(says.text)}, {quoted(says.said)} was not taken into account."
        )
        return Severity.DOUBTFUL, says.cell, what, "Nothing, if it says no unit and no rate."
    what = _applied(field, says, rows)
    remedy = "Rename the heading if that is not what it is."
    return (Severity.DOUBTFUL, says.cell, what, remedy) if what else None


def _applied(field: Field, says: InHeading, rows: Iterable[CellsByField]) -> str:
    heading = quoted(says.text)
    if says.lost:
        return f"the heading {heading} was read as what is lost: 11 % is a {field.title} of 89."
    if says.share:
        return f"by the heading {heading}, a figure is a share of the batch: 4 is 4 %."
    if says.by_packs:
        return f"by the heading {heading}, each price was divided by the Packs of its row."
    if says.changes:
        more, less = sorted((says.times, says.over), reverse=True)
        one, other = (1, plainly(more / less))[:: 1 if says.times > says.over else -1]
        return f"by the heading {heading}, {one} counts as {other}."
    if any(unit_taken(field, says, row) for row in rows):
        return f"where the unit is blank, {says.unit} was taken from the heading {heading}."
    return ""
