"""The freezer follows by itself: what a new run would say, after edits and rows in spare ones."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from tests.helpers import make_book, run
from tests.judges import Setting, compare
from tests.judges.ironcalc_judge import IronCalc, IronDocument
from tests.judges.stored import stored_values, with_wrong_stored_values
from tests.stock.books import ON, Sheets, day, stall

FREEZER = "Freezer"


def costed(book: Sheets, folder: Path, name: str) -> Path:
    path, out = make_book(folder / f"{name}.xlsx", book), folder / f"{name}-out.xlsx"
    code, _, said = run("cost", path, "--on", ON, "--output", out)
    assert code in (0, 1), said
    return out


def shown(path: Path) -> dict[str, Any]:
    return {cell: each for cell, each in stored_values(path)[FREEZER].items() if each is not None}


def serial(of: date) -> int:
    return (of - date(1899, 12, 30)).days


def followed(document: IronDocument, *settings: Setting) -> dict[str, Any]:
    document.set_many(settings)
    document.recalculate()
    return dict(document.values(FREEZER))


def test_every_figure_is_what_the_engine_says(tmp_path: Path) -> None:
    out, stale = costed(stall(), tmp_path, "stall"), tmp_path / "stale.xlsx"
    with_wrong_stored_values(out, stale)
    with IronCalc() as judge:
        document = judge.open(stale)
        document.recalculate()
        for sheet in (FREEZER, "Workings"):
            assert compare(stored_values(out)[sheet], document.values(sheet)) == []


def test_what_is_typed_into_spare_rows_counts_as_after_a_new_run(tmp_path: Path) -> None:
    """Made, sold and counted below the last rows: 5 of six-packs made, 1 gone, 2 then counted."""
    out, more = costed(stall(), tmp_path, "stall"), stall()
    more["Made"].append((day(22), "Bun, six", 5, 1, 60, "B2", None))
    more["Sales"].append((day(24), "Bun, six", 1, None, None))
    more["Counts"].append((day(23), "Bun, six", 2, None))
    more["Tests"].append((day(9), "Leeks", "yield", 500, 250, "g", None, None))
    expected = shown(costed(more, tmp_path, "more"))
    with IronCalc() as judge:
        document = judge.open(out)
        found = followed(
            document,
            *(("Made", "A6", serial(day(22))), ("Made", "B6", "Bun, six"), ("Made", "C6", 5)),
            *(("Made", "D6", 1), ("Made", "E6", 60)),
            *(("Sales", "A5", serial(day(24))), ("Sales", "B5", "Bun, six"), ("Sales", "C5", 1)),
            *(("Counts", "A4", serial(day(23))), ("Counts", "B4", "Bun, six"), ("Counts", "C4", 2)),
            *(("Tests", "A7", serial(day(9))), ("Tests", "B6", "Leeks"), ("Tests", "C7", "yield")),
            *(("Tests", "D7", 500), ("Tests", "E7", 250), ("Tests", "F7", "g")),
        )
    figures = {
        cell: each for cell, each in expected.items() if cell[0] in "BCDEFGH" and int(cell[1:]) < 8
    }
    assert len(figures) > 10
    assert compare(figures, found) == []
    assert 1.0 in found.values()  # 2 counted, and 1 gone since


def test_a_slip_in_a_spare_row_makes_the_packs_unknown(tmp_path: Path) -> None:
    out = costed(stall(), tmp_path, "stall")
    with IronCalc() as judge:
        document = judge.open(out)
        assert followed(document)["B6"] == 32.0
        found = followed(document, ("Made", "A6", serial(day(22))), ("Made", "B6", "Bun, single"))
        assert (found["B6"], found["H6"]) == ("?", "a row without its day or its packs")
        assert followed(document, ("Made", "C6", 4))["B6"] == 36.0
        found = followed(document, ("Made", "C6", None), ("Made", "B6", None), ("Sales", "C3", 99))
        assert (found["B6"], found["H6"]) == ("?", "more went than was there")
