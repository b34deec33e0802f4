"""What formulas read in the person's cells is what the engine reads there, program by program."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from costbook.book import as_key, key_in_formulas
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.fields import Field
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.units import SPELLINGS, unit_key
from costbook.writing import lookups
from tests.judges import Judge, Value, compare
from tests.judges.books import write_book

GAP = "\N{NO-BREAK SPACE}"
NAMES = [
    "Flour",
    "  strong   FLOUR ",
    f"Eggs,{GAP}large",
    "Eggs large",
    "<5 g",
    "*",
    "Bread* 1?",
    "til~de",
    "Käse, Émmental",
    'said "so"',
    "k",
    "=not a formula",
    "Eggs,\nlarge",
    "Cr\u00e8me",
]


def computed(judge: Judge, folder: Path, cells: dict[str, object]) -> dict[str, Value]:
    """The values of a sheet once a program has computed it."""
    document = judge.open(write_book(folder / "book.xlsx", {"S": cells}))
    document.recalculate()
    values = document.values("S")
    document.close()
    return values


def typed(text: str) -> object:
    """A text as a cell's own content, not a formula."""
    return text if not text.startswith("=") else f'="{text}"'


def test_a_name_has_the_same_key_in_a_cell(judge: Judge, tmp_path: Path) -> None:
    cells: dict[str, object] = {f"A{at}": typed(name) for at, name in enumerate(NAMES, 1)}
    cells |= {f"B{at}": f"={lookups.key_of(f'A{at}')}" for at in range(1, len(NAMES) + 1)}
    expected = {f"B{at}": as_key(name) for at, name in enumerate(NAMES, 1)}
    assert [key_in_formulas(name) for name in NAMES] == [as_key(name) for name in NAMES]
    assert compare(expected, computed(judge, tmp_path, cells)) == []


UNITS = [*SPELLINGS, "T", "t", "KG", f" fl{GAP}oz ", "Fl   Oz", "cases", "*", "k?", "", "g~"]


def test_a_unit_is_found_in_the_same_row_of_the_table(judge: Judge, tmp_path: Path) -> None:
    cells: dict[str, object] = {f"A{at}": each for at, each in enumerate(SPELLINGS, 1)}
    table = f"$A$1:$A${len(SPELLINGS)}"
    for at, unit in enumerate(UNITS, 1):
        cells[f"B{at}"] = unit
        cells[f"C{at}"] = f"={lookups.unit_at(f'B{at}', table)}"
    rows = {key: float(at) for at, key in enumerate(SPELLINGS, 1)}
    expected = {f"C{at}": rows.get(unit_key(unit), "") for at, unit in enumerate(UNITS, 1)}
    assert compare(expected, computed(judge, tmp_path, cells)) == []


USABLE = INPUT_SHEETS["Items"].field("usable_share")
SPARE = INPUT_SHEETS["Packaging"].field("spare")
PACKS = INPUT_SHEETS["Purchases"].field("packs")
SIZE = INPUT_SHEETS["Purchases"].field("pack_size")
DAY = INPUT_SHEETS["Purchases"].field("day")
TYPED: list[tuple[Field, object, Value]] = [
    # field, what is typed, what it means: "blank" and "text" are what those lead to
    (SPARE, 0.15, 0.15),
    (SPARE, 15, 0.15),
    (SPARE, 1, 1.0),  # up to its limit it is a share
    (SPARE, 150, ""),  # more than the limit even as a percentage
    (SPARE, -0.1, ""),
    (SPARE, 0, 0.0),
    (USABLE, 89, 0.89),
    (USABLE, 1.25, 1.25),  # what takes up water
    (USABLE, 5, 5.0),
    (USABLE, 0, ""),
    (PACKS, -2, -2.0),  # a return
    (SIZE, 0, ""),
    (SIZE, 1.5, 1.5),
    (DAY, 46000.75, 46000.0),
    (DAY, 0, ""),
    (SIZE, "5 lb bag", "text"),
    (SIZE, "   ", "blank"),
    (SIZE, None, "blank"),
    (SIZE, "=1/0", ""),
]  # fmt: skip


def test_a_number_means_what_its_column_says(judge: Judge, tmp_path: Path) -> None:
    cells: dict[str, object] = {}
    for at, (field, content, _) in enumerate(TYPED, 1):
        formula = lookups.date_or_number_of(field, f"A{at}", '"blank"', '"text"')
        cells |= {f"A{at}": content, f"B{at}": f"={formula}"}
    expected: dict[str, Value | None] = {f"B{at}": each[2] for at, each in enumerate(TYPED, 1)}
    assert compare(expected, computed(judge, tmp_path, cells)) == []


def test_where_blanks_and_texts_are_both_unknown_nothing_asks_which_it_is(
    judge: Judge, tmp_path: Path
) -> None:
    formula = lookups.date_or_number_of(PACKS, "{}", '""', '""')
    assert "TRIM" not in formula
    assert "TRIM" in lookups.date_or_number_of(PACKS, "{}", "1", '""')
    cells: dict[str, object] = {"A1": 5, "A3": "soon", "A4": "n/a", "A5": "=1/0"}
    cells |= {f"B{at}": f"={formula.replace('{}', f'A{at}')}" for at in range(1, 6)}
    expected: dict[str, Value | None] = {"B1": 5, "B2": "", "B3": "", "B4": "", "B5": ""}
    assert compare(expected, computed(judge, tmp_path, cells)) == []


def test_a_number_that_a_cell_does_not_mean_is_unknown(judge: Judge, tmp_path: Path) -> None:
    """½ that became a date: refused while the cell holds it, taken once it is typed anew."""
    formula = lookups.date_or_number_of(SIZE, "A1", '"blank"', '"text"', Decimal(46000))
    cells: dict[str, object] = {"A1": 46000, "B1": f"={formula}"}
    assert computed(judge, tmp_path, cells)["B1"] == ""
    assert computed(judge, tmp_path, cells | {"A1": 0.5})["B1"] == 0.5


def test_a_choice_is_known_by_all_its_words(judge: Judge, tmp_path: Path) -> None:
    field = INPUT_SHEETS["Packaging"].field("per")
    answers = {
        "pack": "pack",
        " Packs ": "pack",
        "BAG": "pack",
        "unit": "unit",
        "week": "",
        "p*": "",
    }
    words = [(word, each.value) for each in field.choices for word in (each.value, *each.also)]
    cells: dict[str, object] = {"E1": "", "F1": ""}
    for at, (word, meaning) in enumerate(words, 1):
        cells |= {f"E{at}": f"Packaging.per|{word}", f"F{at}": meaning}
    table = {"key": f"$E$1:$E${len(words)}", "meaning": f"$F$1:$F${len(words)}"}
    for at, text in enumerate((*answers, ""), 1):
        formula = lookups.choice_of("Packaging", field, f"A{at}", '"blank"', table)
        cells |= {f"A{at}": text, f"B{at}": f"={formula}"}
    expected = {f"B{at}": meaning for at, meaning in enumerate((*answers.values(), "blank"), 1)}
    assert compare(expected, computed(judge, tmp_path, cells)) == []


LATEST = [
    # up to which day, which supplier (or any), the rank that counts
    (46000, None, 4600000003.0),
    (45999, None, 4599900002.0),
    (46000, "kmill", 4599900002.0),
    (45000, None, 0.0),
    (46000, "kbarn", 0.0),
]  # fmt: skip


def test_the_purchase_that_counts_is_found_by_rank(judge: Judge, tmp_path: Path) -> None:
    cells: dict[str, object] = {
        "A1": 4599900002, "B1": "kflour", "C1": "kmill",
        "A2": 4600000003, "B2": "kflour", "C2": "kshop",
        "A3": 4600000009, "B3": "ksalt", "C3": "kmill",
        "A4": '=""', "B4": "kflour", "C4": "kmill",
    }  # fmt: skip
    for at, (day, supplier, _) in enumerate(LATEST, 1):
        criteria = [("$A$1:$A$4", f'"<"&(E{at}+1)*100000'), ("$B$1:$B$4", '"kflour"')]
        criteria += [("$C$1:$C$4", f'"{supplier}"')] if supplier else []
        largest = lookups.over("largest", "$A$1:$A$4", criteria)
        formula = lookups.if_numbers([f"E{at}"], largest, UNKNOWN)
        cells |= {f"E{at}": day, f"F{at}": f"={formula}"}
    expected = {f"F{at}": rank for at, (*_, rank) in enumerate(LATEST, 1)}
    assert compare(expected, computed(judge, tmp_path, cells)) == []


def test_what_bears_a_key_is_totalled_whole_or_as_far_as_it_is_known(
    judge: Judge, tmp_path: Path
) -> None:
    of, price = "$A$1:$A$4", "$B$1:$B$4"
    cells: dict[str, object] = {"A1": "kjam", "B1": 4, "A2": "khoney", "B2": '=""', "A3": "kjam"}
    cells |= {"B3": 3, "A4": "khoney", "B4": 7, "C1": "kjam", "C2": "khoney", "C3": "ksalt"}
    for at in (1, 2, 3):
        cells[f"D{at}"] = f"={lookups.total_where(of, f'C{at}', price)}"
        cells[f"E{at}"] = f"={lookups.total_where(of, f'C{at}', price, known=True)}"
    expected: dict[str, Value] = {
        "D1": 7.0,
        "D2": "",
        "D3": 0.0,
        "E1": 7.0,
        "E2": 7.0,
        "E3": 0.0,
    }  # 4 + 3; ? + 7
    assert compare(expected, computed(judge, tmp_path, cells)) == []


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Decimal("0.10"), "0.10"),
        (Decimal("1E+3"), "1000"),
        (UNKNOWN, '""'),
        ('say "so"', '"say ""so"""'),
    ],
)
def test_constants_as_a_formula_has_them(value: Decimal | str, text: str) -> None:
    assert lookups.literal(value) == text


def test_a_filled_cell_among_blank_ones_is_noticed(judge: Judge, tmp_path: Path) -> None:
    test = lookups.any_filled(["A1", "A2"])
    cells: dict[str, object] = {"A1": " ", "A2": 0, "B1": f"=IF({test},1,0)"}
    assert computed(judge, tmp_path, cells)["B1"] == 1
    assert computed(judge, tmp_path, cells | {"A2": ""})["B1"] == 0
