"""`python3 -m tests.benchmarks`: how costbook compares, as ratios measured side by side.

Nothing is asserted about time, which depends on the machine; that pandas stays unloaded is.
"""

from __future__ import annotations

import marshal
import sys
import tempfile
from pathlib import Path
from zipfile import ZipFile

from tests.benchmarks.generate import FULL, ON, TENTH, THREE_YEARS, Size, generate
from tests.benchmarks.measure import HOUSE, Taken, once, side_by_side
from tests.benchmarks.yardstick import cells_added

PYTHON = sys.executable
SAMPLE = str(HOUSE / "sample_workbooks" / "market_stall.xlsx")
LOADS_PANDAS = """
import sys
from costbook.cli import main
main(sys.argv[1:])
sys.exit("pandas" in sys.modules)
"""


def costing(book: str, out: Path) -> list[str]:
    return [PYTHON, "-m", "costbook", "cost", book, "--output", str(out), "--on", ON.isoformat()]


def line(name: str, against: str, ratio: float, detail: str, aim: str = "") -> None:
    print(f"{name:<12}{against:<52}{ratio:7.2f}  {aim:<9}{detail}", flush=True)


def times(ours: Taken, theirs: Taken) -> str:
    return f"{ours.seconds * 1000:.0f} ms / {theirs.seconds * 1000:.0f} ms"


def start_up(outputs: Path) -> None:
    ours, bare = side_by_side(
        [PYTHON, "-m", "costbook", "--help"], [PYTHON, "-c", "pass"], outputs=outputs, turns=15
    )
    ratio = ours.seconds / bare.seconds
    line("start-up", "costbook --help / python -c pass", ratio, times(ours, bare))


def main_sample(outputs: Path) -> None:
    ours, imports = side_by_side(
        costing(SAMPLE, outputs / "sample.xlsx"),
        [PYTHON, "-c", "import openpyxl, xlsxwriter"],
        outputs=outputs,
    )
    ratio = ours.seconds / imports.seconds
    line("main sample", "cost / only import openpyxl and XlsxWriter", ratio, times(ours, imports))


def book_of(size: Size, name: str, folder: Path, turns: int) -> Taken:
    """Cost a generated book, beside only reading and writing the same cells."""
    book, out, cells = folder / f"{name}.xlsx", folder / "outputs" / "costed.xlsx", folder / "cells"
    generate(book, size)
    once(costing(str(book), out), out.parent)
    cells.write_bytes(marshal.dumps(cells_added(book, out)))
    yardstick = [PYTHON, "-m", "tests.benchmarks.yardstick", str(book), str(cells), str(out)]
    ours, theirs = side_by_side(costing(str(book), out), yardstick, outputs=out.parent, turns=turns)
    theirs = Taken(theirs.seconds - float(theirs.printed), theirs.megabytes)
    ratio = ours.seconds / theirs.seconds
    line(name, "cost / only read and write its cells", ratio, times(ours, theirs), "aim 1.5")
    memory = f"{ours.megabytes:.0f} MB / {theirs.megabytes:.0f} MB"
    line("its memory", "the same, at its peak", ours.megabytes / theirs.megabytes, memory)
    return ours


def large_book(folder: Path) -> None:
    tenth = book_of(TENTH, "tenth book", folder, turns=3)
    large = book_of(FULL, "large book", folder, turns=1)
    growth = large.seconds / tenth.seconds / 10
    line(
        "growth", "a row of the large book / of a tenth of it", growth, times(large, tenth), "aim 1"
    )


def three_years(folder: Path) -> None:
    """The book of two cooks after three years: its time, and how heavy it is to open."""
    book_of(THREE_YEARS, "three years", folder, turns=1)
    book, out = folder / "three years.xlsx", folder / "outputs" / "costed.xlsx"
    once(costing(str(book), out), out.parent)
    with ZipFile(out) as package:
        sheets = [name for name in package.namelist() if name.startswith("xl/worksheets/sheet")]
        formulas = sum(package.read(name).count(b"<f>") for name in sheets)
    line("its weight", "thousands of formulas in it", formulas / 1000, f"{formulas}", "aim 60")
    size = out.stat().st_size
    line("its size", "megabytes of the costed file", size / 1e6, f"{size} bytes", "aim 1.3")


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        folder, outputs = Path(name), Path(name) / "outputs"
        start_up(outputs)
        main_sample(outputs)
        three_years(folder)
        large_book(folder)
        arguments = costing(SAMPLE, outputs / "sample.xlsx")[3:]
        once([PYTHON, "-c", LOADS_PANDAS, *arguments], outputs)
        print("pandas      not loaded by cost")
    return 0


if __name__ == "__main__":
    sys.exit(main())
