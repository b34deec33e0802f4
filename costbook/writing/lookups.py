"""How the person's cells are read, and tables looked up, in formulas: the engine's twin.

Every function here gives formula text. What the same column means as a figure stands in
``costing/engine.py``; tests hold the two together by recalculating in a spreadsheet program.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import assert_never

from costbook.book import Label
from costbook.definitions.algebra import known
from costbook.definitions.columns import Fold
from costbook.definitions.fields import Field, Kind, Least
from costbook.writing.formula_text import quoted

__all__ = [
    "LONGEST_LITERAL",
    "Days",
    "any_filled",
    "beside",
    "choice_of",
    "date_or_number_of",
    "escaped_formula",
    "found_at",
    "if_numbers",
    "is_blank",
    "is_ditto",
    "key_of",
    "label_at",
    "literal",
    "over",
    "over_none",
    "reading_at",
    "row_found",
    "row_where",
    "text_of",
    "text_was_seen",
    "total_where",
    "unit_at",
]

NO_BREAK_SPACE = "\u00a0"
WILDCARDS = "*?~"
LONGEST_LITERAL = 200
"""Characters of a name that are compared in a formula; formulas take 255 in a literal."""


def literal(value: Decimal | str) -> str:
    """A constant as a formula has it; empty text for an unknown."""
    if isinstance(value, str):
        return quoted(value)
    return format(value, "f") if known(value) else '""'


def found_at(values: str, key: str, keys: str, otherwise: str = '""') -> str:
    """The value beside a key; something else where the key isn't there."""
    return f"IFERROR(INDEX({values},MATCH({key},{keys},0)),{otherwise})"


def escaped_formula(text: str) -> str:
    """A text without the characters that MATCH and SUMIFS take for wildcards."""
    for character, instead in (("*", "+"), ("?", "!"), ("~", "-")):
        text = f'SUBSTITUTE({text},"{character}","{instead}")'
    return text


def text_of(cell: str) -> str:
    """A cell's text without needless spaces."""
    return f'TRIM(SUBSTITUTE({cell},"{NO_BREAK_SPACE}"," "))'


def label_at(tab: str, label: Label) -> str:
    """The row of an upright sheet that a label stands in."""
    text = "".join(f"~{each}" if each in WILDCARDS else each for each in label.text)
    return f"MATCH({quoted(text)},{tab}!${label.column}:${label.column},0)"


def beside(tab: str, label: Label) -> str:
    """The cell with the value of a row of an upright sheet."""
    column = label.value_column
    return f"INDEX({tab}!${column}:${column},{label_at(tab, label)})"


def row_where(names: Iterable[tuple[str, str]]) -> str:
    """The last row in which each range of cells holds its name; empty where none does."""
    both = [(cells, text) for cells, text in names if 0 < len(text) <= LONGEST_LITERAL]
    if not both:
        return '""'
    tests = "*".join(f"({text_of(cells)}={quoted(text)})" for cells, text in both)
    # one over one over it makes an error of a zero
    return f'IFERROR(1/(1/SUMPRODUCT(MAX({tests}*ROW({both[0][0]})))),"")'


def row_found(here: str, stand: Sequence[str], elsewhere: str) -> str:
    """The row of a cell while the names stand there; else where they are found."""
    if not stand:
        return f"ROW({here})"
    # over a test that fails a number is an error, as is a test of a row that was deleted
    return f"IFERROR(ROW({here})/AND({','.join(stand)}),{elsewhere})"


def key_of(cell: str) -> str:
    """What a name is looked up by; the steps are those of ``book.key_in_formulas``."""
    spaced = f'SUBSTITUTE({escaped_formula(cell)},"{NO_BREAK_SPACE}"," ")'
    spaced = f'SUBSTITUTE({spaced},CHAR(10)," ")'
    return f'"k"&LOWER(TRIM(SUBSTITUTE({spaced},","," ")))'


def is_ditto(cell: str, marks: str) -> str:
    """A test that a cell holds a ditto mark; as ``definitions.marks.is_ditto`` has it.

    FIND knows no wildcards; a stroke on both sides makes it look for whole marks.
    """
    return f'ISNUMBER(FIND("|"&LOWER({text_of(cell)})&"|",{marks}))'


def is_blank(cell: str, marks: str) -> str:
    """A test that a cell is blank, or says so; as ``definitions.marks.is_blank`` has it."""
    return is_ditto(cell, marks) if marks else f'{text_of(cell)}=""'


def reading_at(field: Field, sheet: str, cell: str, beside: Sequence[str]) -> str:
    """What a typed text is looked up by; the steps are those of ``reading.reading_key``."""
    typed = '&"|"&'.join((cell, *beside))
    return f'"{sheet}.{field.name}|"&SUBSTITUTE({escaped_formula(typed)},"T","T^")'


def text_was_seen(cell: str, key: str, keys: str, days: Days | None, marks: str = "") -> str:
    """A test that a cell holds what needs no run: a number, or a text that was seen at costing.

    A number that is one of the ``days`` is a fraction that became a date.
    """
    seen = is_blank(cell, marks)
    if key:
        seen = f"OR({seen},ISNUMBER(MATCH({key},{keys},0)))"
    number = f"IF(ISNUMBER({cell}),NOT({_is_day(cell, days)}),TRUE)" if days else "TRUE"
    return f"IF(ISTEXT({cell}),{seen},{number})"


Days = tuple[int, int]
"""The day numbers of a date that was meant for a fraction: the middle one, and how far about it."""


def _is_day(cell: str, days: Days) -> str:
    return f"ABS({cell}-{days[0]})<{days[1]}"


def date_or_number_of(
    field: Field,
    cell: str,
    blank: str,
    otherwise: str,
    refused: Decimal | None = None,
    days: Days | None = None,
    marks: str = "",
) -> str:
    """A number or a date, if the field may hold it; else what a blank or a text means.

    What is one of the ``days`` is a date in a field for numbers: 1/2, as a program takes it.
    """
    number = within(field, cell)
    if days:
        number = f'IF({_is_day(cell, days)},"",{number})'
    of_text = f"IF({is_blank(cell, marks)},{blank},{otherwise})"
    if blank == otherwise == '""':
        of_text = otherwise
    inside = f"IF(ISNUMBER({cell}),{number},{of_text})"
    if refused is not None:
        inside = f'IF({cell}={refused},"",{inside})'
    return f'IFERROR({inside},"")'


def within(field: Field, cell: str) -> str:
    """The number, unless the field may not hold it; a share above its limit is a percentage."""
    if field.kind is Kind.DATE:
        return f'IF({cell}<=0,"",INT({cell}))'
    value, refused = cell, []
    if field.kind is Kind.SHARE:
        value = f"IF({cell}>{field.limit},{cell}/100,{cell})"
        refused.append(f"{cell}/100>{field.limit}")
    if field.least is not Least.ANY:
        refused.append(f"{cell}<{'=' if field.least is Least.ABOVE_ZERO else ''}0")
    for test in refused:
        value = f'IF({test},"",{value})'
    return value


def choice_of(
    sheet: str, field: Field, cell: str, blank: str, words: Mapping[str, str], marks: str = ""
) -> str:
    """What a typed choice means; empty for a word that is none of them."""
    key = f'"{sheet}.{field.name}|"&{escaped_formula(f"TRIM({cell})")}'
    meaning = found_at(words["meaning"], key, words["key"])
    return f'IFERROR(IF({is_blank(cell, marks)},{blank},{meaning}),"")'


def unit_at(cell: str, spellings: str) -> str:
    """The row of the table of units that a unit cell's spelling stands in."""
    text = text_of(cell)
    spelled = f'IF(EXACT({text},"T"),"tbsp",IF(EXACT({text},"t"),"tsp",{text}))'
    return f'IFERROR(MATCH({escaped_formula(spelled)},{spellings},0),"")'


def over(fold: Fold, values: str, criteria: Iterable[tuple[str, str]]) -> str:
    """What is made of the values whose rows meet the criteria.

    What is no number is passed over, among the values and where it is compared with one; ``all``
    and ``only`` are empty then.
    """
    given = [f"{where},{what}" for where, what in criteria]
    pairs = "".join(f",{each}" for each in given)
    total, rows = f"SUMIFS({values}{pairs})", f"COUNTIFS({','.join(given)})"
    known = f'COUNTIFS({values},">-1E+300"{pairs})'
    match fold:
        case "largest":
            return f"_xlfn.MAXIFS({values}{pairs})"
        case "least":
            return f"_xlfn.MINIFS({values}{pairs})"
        case "total":
            return total
        case "count":
            return known
        case "all":
            return f'IF({known}=MAX(1,{rows}),{total},"")'
        case "every":
            return f'IF({known}={rows},{total},"")'
        case "only":
            return f'IF({rows}=1,IF({known}=1,{total},""),"")'
        case _:
            assert_never(fold)


def over_none(fold: Fold) -> str:
    """What is made of no values."""
    return '""' if fold in ("all", "only") else "0"


def if_numbers(cells: Iterable[str], text: str, without: Decimal | str) -> str:
    """A formula where all the cells are numbers, else a constant."""
    constant = literal(without)
    for cell in cells if text != constant else ():
        text = f"IF(ISNUMBER({cell}),{text},{constant})"
    return text


def total_where(keys: str, key: str, cells: str, known: bool = False) -> str:
    """The sum of the cells beside a key; empty where one is no number, unless of what is known."""
    if known:
        return f"SUMIF({keys},{key},{cells})"
    numbers = f'COUNTIFS({keys},{key},{cells},">-1E+300")'
    return f'IF(COUNTIF({keys},{key})={numbers},SUMIF({keys},{key},{cells}),"")'


def any_filled(cells: Sequence[str], marks: str = "") -> str:
    """A test that at least one of some cells is filled in."""
    return f"NOT(AND({','.join(is_blank(cell, marks) for cell in cells)}))"
