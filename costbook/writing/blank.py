"""The blank workbook that ``new`` makes: every heading, its note, and example rows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.costing.result import CAUTION
from costbook.definitions.columns import Show
from costbook.definitions.fields import Example, Field, InputSheet, Kind
from costbook.definitions.offered import TOGETHER, FieldOf, NamesAt, offered
from costbook.definitions.sheets import SHEETS
from costbook.writing.description import Choices, Look, Role, SheetDescription
from costbook.writing.layout import column_letters, sheet_name
from costbook.writing.names_to_choose import NAMES_OFFERED, names_to_choose, source_of_names
from costbook.writing.workbook import draw

__all__ = ["HOW_TO_START", "added_described", "added_sheets", "blank_sheets", "blank_workbook"]

HOW_TO_START: Final = "How to start"
"""The first sheet of a workbook that we made."""
_FROM_1900: Final = date(1899, 12, 30)
ROWS_READY: Final = 500
"""Rows below the headings that have drop-downs."""
UNITS_OFFERED: Final = (
    *("g", "kg", "oz", "lb", "ml", "l", "tsp", "Tbsp", "cup", "fl oz", "pt", "qt", "gal"),
    *("ea", "dozen", "cm", "m", "in", "ft", "sq ft", "sq m"),
)
"""The units in the drop-downs; any other spelling may be typed too."""

_SHOWS: Final = {
    Kind.MONEY: Show.MONEY,
    Kind.SHARE: Show.SHARE,
    Kind.DATE: Show.DATE,
}


Where = Mapping[FieldOf, NamesAt]
"""Where the names stand that drop-downs may offer."""


def blank_workbook(*, full: bool) -> bytes:
    """The starter (Settings and what a price needs), or every sheet."""
    return draw(blank_sheets(full=full), places=2)


def added_sheets(sheets: Sequence[InputSheet], day_zero: date, there: Where) -> bytes:
    """A workbook of some blank sheets, for one that counts its days from ``day_zero``.

    ``there`` is where the workbook that they are for has its names.
    """
    return draw(added_described(sheets, day_zero, there), places=2)


def added_described(
    sheets: Sequence[InputSheet], day_zero: date, there: Where
) -> list[SheetDescription]:
    """Describe the same sheets."""
    names = {**_places(sheets), **there}
    return [_blank_sheet(each, names, day_zero) for each in sheets]


def blank_sheets(*, full: bool) -> list[SheetDescription]:
    """Describe the blank sheets, How to start first."""
    wanted = [each for each in SHEETS if full or each.needed or each.priced or each.upright]
    names = _places(wanted)
    filled_in = [_blank_sheet(each, names, together=True) for each in wanted]
    both = [_names_now(wanted, names[_first(each, names)]) for each in TOGETHER[USES]]
    return [_how_to_start(wanted), *filled_in, names_to_choose(both)]


USES: Final = ("Recipes", "uses")
"""What goes into a recipe: an item, or another recipe."""


def _first(candidates: Sequence[FieldOf], names: Where) -> FieldOf:
    return next(each for each in candidates if each in names)


def _names_now(sheets: Iterable[InputSheet], at: NamesAt) -> tuple[NamesAt, list[str]]:
    """Where names stand, and those of the example rows there."""
    sheet = next(each for each in sheets if each.title == at.tab)
    name = sheet.fields[at.column].name
    return at, [str(example[name]) for example in sheet.examples]


def _places(sheets: Iterable[InputSheet]) -> Where:
    """Where blank sheets have their names: below the headings, in the fields' order."""
    return {
        (each.title, field.name): NamesAt(each.title, 1, at)
        for each in sheets
        for at, field in enumerate(each.fields)
    }


def _how_to_start(sheets: list[InputSheet]) -> SheetDescription:
    sheet = SheetDescription(HOW_TO_START, HOW_TO_START)
    sheet.landscape = False
    sheet.widths = {0: 18, 1: 80}
    sheet.line(HOW_TO_START, Role.TITLE)
    sheet.next_row += 1
    for number, text in enumerate(_STEPS, 1):
        at = sheet.next_row
        sheet.put(at, 0, Decimal(number), Look(Role.LABEL, Show.WHOLE))
        sheet.put(at, 1, text, Look(Role.LABEL, wrap=True))
        sheet.heights[at] = 32
        sheet.next_row += 1
    sheet.next_row += 1
    sheet.line("The sheets, and what one row is", Role.SECTION)
    for each in sheets:
        at = sheet.line(each.title, Role.LABEL)
        needed = " (needed)" if each.needed else ""
        sheet.put(at, 1, f"{each.row_is}{needed}", Look(Role.LABEL))
    sheet.next_row += 1
    sheet.line(CAUTION, Role.NOTE, across=2, height=64)
    return sheet


_STEPS: Final = (
    "Type over the example rows of each sheet, or leave them: untouched, they are not counted.",
    "Rest the pointer on a heading to read what belongs there.",
    (
        "Purchases: one row for each line of a receipt. Recipes: one row for each thing that goes "
        "into a batch. Batches: how many a batch makes. Products: what you sell."
    ),
    (
        "Stages: the work on a batch; time it once, and type the minutes. Packaging: film, bags, "
        "labels. Where there is nothing to pay "
        "for, a row with a 0 says so; for kitchen, overheads and selling, Settings takes a yes."
    ),
    "Leave a cell empty when you don't know it: it is asked about, and never counted as zero.",
    "Save, close, and run: costbook cost with the name of this file.",
)


def _blank_sheet(
    each: InputSheet, names: Where, day_zero: date = _FROM_1900, *, together: bool = False
) -> SheetDescription:
    """A blank sheet; ``together``: the workbook has the sheet that lists names of two."""
    if each.upright:
        return _settings_sheet(each)
    sheet = _table_sheet(each, day_zero)
    for at, field in enumerate(each.fields):
        if source := _source((each.title, field.name), names, together=together):
            sheet.choices.append(Choices(at, 1, ROWS_READY, source=source))
    return sheet


def _source(field: FieldOf, names: Where, *, together: bool) -> str:
    """The cells whose names a field is offered; nothing where there are none."""
    if together and field in TOGETHER:
        return source_of_names()
    own = offered(field, names)
    return "" if own is None else _all_of(names[own])


def _settings_sheet(each: InputSheet) -> SheetDescription:
    sheet = SheetDescription(each.title, each.title)
    sheet.landscape = False
    sheet.widths = {0: 32, 1: 16, 2: 70}
    for at, heading in enumerate(("Setting", "Value", "Note")):
        sheet.put(0, at, heading, Look(Role.HEADING))
    sheet.frozen = (1, 0)
    for row, field in enumerate(each.fields, 1):
        sheet.put(row, 0, field.title, Look(Role.LABEL))
        sheet.put(row, 1, None, Look(Role.TYPE_HERE, _SHOWS.get(field.kind, Show.TEXT)))
        sheet.put(row, 2, _setting_note(field), Look(Role.NOTE))
        if field.choices:
            options = tuple(choice.value for choice in field.choices)
            sheet.choices.append(Choices(1, row, row, options))
    return sheet


def _setting_note(field: Field) -> str:
    """The note, and an example: a setting has no example value, since it would be counted."""
    if field.example == "":
        return field.note
    is_share = field.kind is Kind.SHARE
    shown = f"{float(field.example):.0%}" if is_share else field.example
    return f"{field.note} For example: {shown}".strip()


def _table_sheet(each: InputSheet, day_zero: date) -> SheetDescription:
    sheet = SheetDescription(each.title, each.title)
    sheet.frozen = (1, 1)
    sheet.repeated_rows = (0, 0)
    sheet.heights[0] = 32
    for at, field in enumerate(each.fields):
        sheet.widths[at] = _width(field)
        if field.kind in _SHOWS:
            sheet.column_shows[at] = _SHOWS[field.kind]
        sheet.put(0, at, field.title, Look(Role.HEADING, wrap=True))
        if field.note:
            sheet.notes[0, at] = field.note
        if options := _options(field):
            sheet.choices.append(Choices(at, 1, ROWS_READY, options))
        look = Look(Role.EXAMPLE, _SHOWS.get(field.kind, Show.TEXT))
        for row, example in enumerate(each.examples, 1):
            sheet.put(row, at, _as_cell(field, example[field.name], day_zero), look)
    return sheet


def _all_of(names: NamesAt) -> str:
    """The cells from the first name down to the last one typed, so that a list has no blank end."""
    tab, letter, first = sheet_name(names.tab), column_letters(names.column), names.row + 1
    start, end = f"{tab}!${letter}${first}", f"${letter}${names.row + NAMES_OFFERED}"
    cells = f"{start}:{end}"
    last = f'SUMPRODUCT(MAX(({cells}<>"")*(ROW({cells})-{names.row})))'
    return f"={start}:INDEX({cells},MAX(1,{last}))"


def _width(field: Field) -> float:
    if field.kind in (Kind.NAME, Kind.TEXT):
        return 26.0
    return max(11.0, min(len(field.title) + 2.0, 18.0))


def _options(field: Field) -> tuple[str, ...]:
    if field.kind is Kind.UNIT:
        return UNITS_OFFERED
    return tuple(choice.value for choice in field.choices)


def _as_cell(field: Field, example: Example, day_zero: date) -> Value:
    """An example as a cell holds it; None for a blank."""
    if example == "":
        return None
    if field.kind is Kind.DATE:
        return Decimal((date.fromisoformat(str(example)) - day_zero).days)
    return example if isinstance(example, str) else Decimal(str(example))
