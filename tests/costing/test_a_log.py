"""A sheet that grows without a run is its fields, its table and a line: one is added, and grows.

The package is copied, and three of its lists are changed as DEVELOPERS.md says under "a sheet" and
"a table". The copy costs a workbook with a log of packs given away; then one more is typed below.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.copied import copied_into, costed_by, put_before
from tests.helpers import Book, make_book
from tests.judges.ironcalc_judge import IronCalc, IronDocument

SHEET = """
GIVEN_AWAY = InputSheet(
    "Given away",
    "packs given away on one day",
    (
        Field("day", "Date", Kind.DATE, needed=True),
        _name("whom", "To whom", "", needed=True),
        _number("packs_given", "Packs given", ""),
    ),
    spare_rows=20,
)

"""
TABLES = """
GIVEN = Table(
    "given",
    "Given away",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("asked", Fixed(), Show.WHOLE),
        Column("whom_row", RowOf("Given away", "whom"), Show.WHOLE),
        Column("whom_key", Key("Given away", "whom"), Show.TEXT),
        Column("packs_given", Given("Given away", "packs_given", _0)),
    ),
    RowsOfSheet("Given away", key="whom_key", figures=("packs_given",)),
)
ALL_GIVEN = Table(
    "all_given",
    "Given away in all",
    (Column("given_in_all", Gathered("given", "packs_given", "total")),),
    OneRow(),
    only_with=("Given away",),
)

"""

BOOK: Book = {
    "Settings": [("Setting", "Value"), ("Currency", "USD")],
    "Purchases": [
        ("Date", "Item", "Pack size", "Unit", "Price per pack"),
        (date(2026, 11, 1), "Rye", 1, "kg", 2),
    ],
    "Recipes": [("Recipe", "Uses", "Amount", "Unit"), ("Bun", "Rye", 1, "kg")],
    "Batches": [("Recipe", "Makes", "Unit"), ("Bun", 20, "ea")],
    "Given away": [
        ("Date", "To whom", "Packs given"),
        (date(2026, 11, 1), "School", 4),
        (date(2026, 11, 2), "ditto", 3),
        (date(2026, 11, 3), "Choir", "half"),
    ],
}


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    there = tmp_path_factory.mktemp("copy")
    definitions = copied_into(there) / "definitions"
    put_before(definitions / "sheets.py", "\nSHEETS: Final = (\n", SHEET)
    put_before(definitions / "sheets.py", "    OFFERS,\n", "    GIVEN_AWAY,\n")
    put_before(definitions / "workings.py", "\nTABLE_ORDER: Final = (\n", TABLES)
    put_before(definitions / "workings.py", "    PURCHASES,\n)\n", "    GIVEN,\n    ALL_GIVEN,\n")
    make_book(there / "stall.xlsx", BOOK)
    return there


def test_its_rows_are_read_as_any_sheet_s_are_and_a_new_one_counts_without_a_run(
    copy: Path,
) -> None:
    answer = costed_by(copy)
    said = [each["cell"] for each in answer["problems"] if each["sheet"] == "Given away"]
    assert "C4" in said  # "half" is no number of packs
    with IronCalc() as judge:
        document = judge.open(copy / "out.xlsx")
        assert 7.0 in document.values("Workings").values()  # 4 and 3
        document.set_many([("Given away", "A5", 46_000), ("Given away", "B5", "Band")])
        document.set("Given away", "C5", 115)
        document.recalculate()
        assert 122.0 in document.values("Workings").values()  # and 115 in a spare row
        assert asks_for_a_run(document) == []
        document.set("Given away", "B25", "Shelter")  # below the spare rows
        document.recalculate()
        assert asks_for_a_run(document) != []


def test_without_its_sheet_a_table_has_no_rows(copy: Path) -> None:
    costed_by(copy)
    assert "Given away in all" in rows_of_workings(copy / "out.xlsx")
    make_book(copy / "stall.xlsx", {name: BOOK[name] for name in BOOK if name != "Given away"})
    costed_by(copy)
    assert "Given away in all" not in rows_of_workings(copy / "out.xlsx")


def rows_of_workings(path: Path) -> set[object]:
    with IronCalc() as judge:
        return set(judge.open(path).values("Workings").values())


def asks_for_a_run(document: IronDocument) -> list[str]:
    """The cells that say that rows were added since."""
    cells = document.values("Workings").values()
    return [str(each) for each in cells if "of your sheets w" in str(each)]
