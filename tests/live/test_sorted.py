"""A person sorts a sheet, or puts a row in: every figure stays, since rows are found by name."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Final

import openpyxl
import pytest

from tests.judges import Setting, Value, address, compare
from tests.judges.libreoffice import LibreOffice, OfficeDocument
from tests.live.conftest import Books
from tests.live.following import Costed
from tests.live.test_asks_for_a_run import DAY_ZERO, STILL_TRUE

pytestmark = pytest.mark.libreoffice

SORTED: Final = (
    *("Settings", "It'ems", "Batches", "Stages", "Packaging", "Products", "Overheads", "Outlets"),
    "Recipes",
)


def turned_over(book: Costed, sheet: str) -> list[Setting]:
    """What is to be typed so that the rows below the headings stand in the opposite order."""
    page = openpyxl.load_workbook(book.book)[sheet]
    rows = [[cell.value for cell in row] for row in page.iter_rows(min_row=2)]
    return [
        (sheet, address(number, column), _typed(value))
        for number, row in enumerate(reversed(rows), 2)
        for column, value in enumerate(row, 1)
    ]


def _typed(value: object) -> float | str | None:
    if isinstance(value, datetime):
        return float((value.date() - DAY_ZERO).days)
    return value if isinstance(value, float | str | None) else float(str(value))


def answers(document: OfficeDocument) -> Mapping[str, Value]:
    return {f"{sheet} {cell}": value for sheet in ("Prices", "Cost cards", "Latest prices")
            for cell, value in document.values(sheet).items()}  # fmt: skip


@pytest.mark.parametrize("sheet", SORTED)
def test_sorting_a_sheet_changes_no_figure(
    libreoffice: LibreOffice, books: Books, sheet: str
) -> None:
    book = books("odd")
    document = libreoffice.open(book.costed)
    document.recalculate()
    before = answers(document)
    document.set_many(turned_over(book, sheet))
    document.follow()
    assert document.values("Prices")[book.new_run.banner] == STILL_TRUE
    assert not compare(before, answers(document))
    document.close()


def test_the_comparison_can_fail(libreoffice: LibreOffice, books: Books) -> None:
    """Two rows that change only their figures are no sorting."""
    book = books("odd")
    document = libreoffice.open(book.costed)
    document.recalculate()
    before = answers(document)
    names = [each for each in turned_over(book, "It'ems") if not each[1].startswith("A")]
    document.set_many(names)
    document.follow()
    assert compare(before, answers(document))
    document.close()
