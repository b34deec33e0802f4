"""`python3 -m tests.benchmarks`: how costbook compares, as ratios measured side by side.

Nothing is asserted about time, which depends on the machine; that pandas stays unloaded is.
"""

from __future__ import annotations

import marshal
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.generate import FULL, ON, TENTH, generate
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


def large_book(folder: Path, outputs: Path) -> None:
    book = generate(folder / "large.xlsx", FULL)
    large, small = str(book), str(generate(folder / "small.xlsx", TENTH))
    out, cells = outputs / "costed.xlsx", folder / "cells"
    once(costing(large, out), outputs)
    cells.write_bytes(marshal.dumps(cells_added(book, out)))
    yardstick = [PYTHON, "-m", "tests.benchmarks.yardstick", large, str(cells), str(out)]
    ours, tenth, theirs = side_by_side(
        costing(large, out), costing(small, out), yardstick, outputs=outputs, turns=3
    )
    theirs = Taken(theirs.seconds - float(theirs.printed), theirs.megabytes)
    ratio = ours.seconds / theirs.seconds
    line(
        "large book", "cost / only read and write its cells", ratio, times(ours, theirs), "aim 1.5"
    )
    growth = ours.seconds / tenth.seconds / 10
    line(
        "growth", "a row of the large book / of a tenth of it", growth, times(ours, tenth), "aim 1"
    )
    memory = f"{ours.megabytes:.0f} MB / {theirs.megabytes:.0f} MB"
    ratio = ours.megabytes / theirs.megabytes
    line("peak memory", "large book: cost / only read and write its cells", ratio, memory)


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        folder, outputs = Path(name), Path(name) / "outputs"
        start_up(outputs)
        main_sample(outputs)
        large_book(folder, outputs)
        arguments = costing(SAMPLE, outputs / "sample.xlsx")[3:]
        once([PYTHON, "-c", LOADS_PANDAS, *arguments], outputs)
        print("pandas      not loaded by cost")
    return 0


if __name__ == "__main__":
    sys.exit(main())
