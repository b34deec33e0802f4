"""LibreOffice recalculates what to make and to buy, from copies whose stored values are wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.deciding.asking import ON
from tests.deciding.test_buying_for_a_plan import text
from tests.helpers import make_book, run
from tests.judges import compare
from tests.judges.libreoffice import LibreOffice
from tests.judges.stored import (
    formulas,
    stored_values,
    with_one_wrong_formula,
    with_wrong_stored_values,
)
from tests.tables import sheets

SHEETS = ("The week", "Buy list")
STOCKED = "Bags | 2 | ea | | |\nLeeks |"
COUNTS = "\n\nCounts\nDate | What | Amount | Unit\n2026-11-18 | Leeks | 300 | g"


def wrong(office: LibreOffice, book: Path, costed: Path) -> dict[str, list[str]]:
    """By sheet, where what LibreOffice comes to is not what was stored when it was costed."""
    document = office.open(book)
    document.recalculate()
    stored = stored_values(costed)
    found = {sheet: compare(stored[sheet], document.values(sheet)) for sheet in SHEETS}
    document.close()
    return found


@pytest.mark.libreoffice
def test_libreoffice_comes_to_what_the_engine_says(
    libreoffice: LibreOffice, tmp_path: Path
) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(text().replace("Leeks |", STOCKED) + COUNTS))
    costed, stale, control = (tmp_path / f"{name}.xlsx" for name in ("out", "stale", "control"))
    assert run("cost", book, "--on", ON, "--output", costed)[0] in (0, 1)
    assert with_wrong_stored_values(costed, stale) > 500
    assert wrong(libreoffice, stale, costed) == {sheet: [] for sheet in SHEETS}
    listed = formulas(costed)["Buy list"]
    flour = next(cell for cell in listed if cell.startswith("E"))
    cash = f"E{flour[1:]}"
    assert cash in formulas(costed)["Buy list"]
    with_one_wrong_formula(stale, control, "Buy list", cash, f"C{flour[1:]}*11")
    found = wrong(libreoffice, control, costed)
    assert found["The week"] == []
    assert any(each.startswith(cash) for each in found["Buy list"])
