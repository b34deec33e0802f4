"""The units: their sizes against published ones, their spellings, and the look-up of a sheet.

*read*: read in the source itself; *quoted*: read as somebody else's quotation; *memory*: not read.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costbook.definitions.columns import WORTHS
from costbook.definitions.units import (
    BASE_UNIT,
    SPELLINGS,
    UNITS,
    WRAPPERS,
    Measure,
    Unit,
    _spellings,
    find_unit,
    near_units,
    registry,
    unit_key,
)
from tests.helpers import Formula, make_book
from tests.judges import Judge


def unit(text: str) -> Unit:
    found = find_unit(text)
    assert found is not None, text
    return found


# NIST SP 811, SP 1038 and Handbook 44 App. C (memory; the cup's "8 fl oz exactly": quoted).
NIST = {
    "oz": "28.349523125",
    "lb": "453.59237",
    "tsp": "4.92892159375",
    "Tbsp": "14.78676478125",
    "fl oz": "29.5735295625",
    "cup": "236.5882365",
    "pint": "473.176473",
    "quart": "946.352946",
    "gallon": "3785.411784",
    "imperial fl oz": "28.4130625",
    "imperial pint": "568.26125",
    "imperial gallon": "4546.09",
    "in": "2.54",
    "sq ft": "929.0304",
}


@pytest.mark.parametrize(("name", "size"), NIST.items())
def test_sizes_are_those_of_nist(name: str, size: str) -> None:
    assert unit(name).factor == Decimal(size)


# Unicode CLDR 48.2.0, supplemental/units.json (read), in its own constants: ft_to_m 0.3048,
# lb_to_kg 0.45359237, gal_to_m3 231 cubic inches, gal_imp_to_m3 0.00454609.
US_GALLON = 231 * Decimal("2.54") ** 3
UK_GALLON = Decimal("4546.09")
CLDR = {
    "gal": US_GALLON,
    "qt": US_GALLON / 4,
    "pt": US_GALLON / 8,
    "cup": US_GALLON / 16,
    "fl oz": US_GALLON / 128,
    "Tbsp": US_GALLON / 256,
    "tsp": US_GALLON / 768,
    "imperial qt": UK_GALLON / 4,
    "imperial pt": UK_GALLON / 8,
    "imperial fl oz": UK_GALLON / 160,
    "metric cup": Decimal(250),
    "oz": Decimal("453.59237") / 16,
    "ft": Decimal("30.48"),
    "yd": Decimal("30.48") * 3,
    "in": Decimal("30.48") / 12,
    "dozen": Decimal(12),
}


@pytest.mark.parametrize(("name", "size"), CLDR.items())
def test_sizes_are_those_of_cldr(name: str, size: Decimal) -> None:
    assert unit(name).factor == size


# How GNU units calls what we call otherwise; it has no tray.
GNU = {
    "Tbsp": "ustablespoon",
    "tsp": "usteaspoon",
    "fl oz": "usfloz",
    "cup": "uscup",
    "pt": "uspint",
    "qt": "usquart",
    "gal": "usgallon",
    "imperial fl oz": "brfloz",
    "imperial pt": "brpint",
    "imperial qt": "brquart",
    "imperial gal": "brgallon",
    "metric tsp": "brteaspoon",
    "metric tbsp": "brtablespoon",
    "metric cup": "metriccup",
    "sq cm": "cm^2",
    "sq m": "m^2",
    "sq in": "in^2",
    "sq ft": "ft^2",
}
MEASURED = [unit for unit in UNITS if unit.measure is not Measure.PIECE]


def test_gnu_units_agrees_on_everything_that_is_measured() -> None:
    program = shutil.which("units")
    if program is None:
        pytest.skip("GNU units is missing, so no size was compared with its own. Install: units")
    for each in MEASURED:
        ours, base = GNU.get(each.name, each.name), GNU.get(BASE_UNIT[each.measure])
        said = subprocess.run(
            [program, "-t", "-o", "%.15g", f"1 {ours}", base or BASE_UNIT[each.measure]],
            capture_output=True,
            text=True,
        ).stdout
        assert float(said) == pytest.approx(float(each.factor), rel=1e-14), each.name


def test_pint_reads_the_same_sizes_from_the_same_file() -> None:
    for each in UNITS:
        size = registry().Quantity(Decimal(1), each.name.replace(" ", "_"))
        base = size.to(BASE_UNIT[each.measure].replace(" ", "_"))
        assert base.magnitude == each.factor, each.name


def test_kinds_of_unit_do_not_cross_by_themselves() -> None:
    bases = [registry().Quantity(1, BASE_UNIT[measure].replace(" ", "_")) for measure in Measure]
    assert len({str(base.dimensionality) for base in bases}) == len(Measure)
    width, length = registry().Quantity(Decimal(45), "cm"), registry().Quantity(Decimal(2), "m")
    assert (width * length).to("sq_m").magnitude == Decimal("0.9")


def test_costing_does_not_wait_for_pint() -> None:
    script = "import sys, costbook.definitions.units; print('pint' in sys.modules)"
    run = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
    )
    assert (run.stdout, run.stderr) == ("False\n", "")


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("T", "Tbsp"),
        ("t", "tsp"),
        ("Tbl", "Tbsp"),
        ("TBS", "Tbsp"),
        ("C", "cup"),
        ("#", "lb"),
        ("LBS.", "lb"),
        ("fl. oz.", "fl oz"),
        ("Fluid\u00a0Ounces", "fl oz"),
        ("flat", "tray"),
        ("Tins", "can"),
        ('"', "in"),
        ("'", "ft"),
        ("m²", "sq m"),
        ("ft2", "sq ft"),
        ("count", "ea"),
        ("Doz", "dozen"),
    ],
)
def test_spellings_of_the_trade(typed: str, name: str) -> None:
    assert unit(typed).name == name


def test_oz_is_weight_and_fl_oz_is_volume() -> None:
    assert unit("oz").measure is Measure.WEIGHT
    assert unit("fl oz").measure is Measure.VOLUME


def test_a_piece_word_is_a_word_and_ea_is_none() -> None:
    words = {each.name: each.piece_word for each in UNITS if each.measure is Measure.PIECE}
    assert {name for name, word in words.items() if not word} == {"ea", "dozen", "tray"}
    assert all(word in ("", name) for name, word in words.items())


def test_measures_are_numbered_as_workings_looks_up_their_worths() -> None:
    assert [measure.value for measure in Measure] == [*range(1, len(WORTHS) + 1)]


def test_a_wrapper_is_no_unit() -> None:
    assert [word for word in WRAPPERS if find_unit(word)] == []


def test_near_names_are_of_different_units() -> None:
    assert near_units("onces") == ["ounces", "inches"]
    assert near_units("Tabel spoon") == ["tablespoon", "teaspoon"]
    assert near_units("ars") == ["jars", "ears", "bars"]  # and yards: three are enough
    assert near_units("bag") == []


def test_a_spelling_of_two_units_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^units.txt: 'C' is written for two units$"):
        _spellings("cup = 236.5882365 * ml\n#: c\ncl = 10 * ml\n#: C\n")


# What a sheet does with a unit cell: x is the cell with plain spaces, trimmed.
X = 'TRIM(SUBSTITUTE(A{row},"\u00a0"," "))'
KEY = f'IF(EXACT({X},"T"),"tbsp",IF(EXACT({X},"t"),"tsp",LOWER({X})))'
TYPED = [
    " T",
    "t\u00a0",
    "T.",
    "Fl  Oz",
    "\u00a0LB ",
    "m²",
    "Tt",
    "  ",
    "ea\u00a0\u00a0 ea",
    "ÖL",
    '"',
]


def test_a_sheet_looks_a_spelling_up_by_the_same_key(tmp_path: Path, judge: Judge) -> None:
    rows = [[text, Formula("=" + KEY.format(row=row), "-")] for row, text in enumerate(TYPED, 1)]
    book = judge.open(make_book(tmp_path / "keys.xlsx", {"Units": rows}))
    book.recalculate()
    cells = book.values("Units")
    keys = [cells.get(f"B{row}", "") for row in range(1, len(TYPED) + 1)]
    assert keys == [unit_key(text) for text in TYPED]


def test_no_key_is_a_pattern_to_a_sheet() -> None:
    assert [key for key in SPELLINGS if set(key) & set("*?~<>=")] == []


@given(st.text())
def test_a_key_is_its_own_key(text: str) -> None:
    key = unit_key(text)
    assert unit_key(key) == ("tsp" if key == "t" else key)


@given(st.sampled_from(sorted(SPELLINGS)), st.sampled_from(["", " ", "\u00a0", "  \u00a0"]))
def test_spaces_and_capitals_change_nothing(key: str, space: str) -> None:
    shouted = key if len(key) == 1 else key.upper()
    assert find_unit(space + shouted.replace(" ", space or " ") + space) is SPELLINGS[key]
