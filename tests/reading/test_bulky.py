# ruff: noqa: E501 - one line a case, however long its sentence is
"""Files made to take minutes or gigabytes: each is refused in words, within a second and 200 MB.

Measured in a process of its own, by what the system says it computed and held at its peak: for
`check`, for `cost --output` and for `cost` into the file itself.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import pytest

from costbook.package.bounds import within_bounds
from costbook.package.limits import MEGABYTE, MOST_BYTES
from costbook.package.validity.ranges import Range, overlapping
from costbook.problems import Refused
from tests.benchmarks.generate import FULL, generate
from tests.helpers import make_book, run
from tests.reading.attacks import parts_of, sound
from tests.reading.bulky import OLD, OPEN, PARTS, WHOLE, packed
from tests.reading.test_layouts import PLAIN

SECONDS, MEGABYTES = 1, 200

CHILD = r"""
import json, re, resource, sys
from pathlib import Path
from costbook.cli import main
taken = []
for words in json.loads(sys.argv[1]):
    before = resource.getrusage(resource.RUSAGE_SELF) if taken else None
    status = main(words)
    after = resource.getrusage(resource.RUSAGE_SELF)
    used = sum(getattr(after, w) - getattr(before, w, 0) for w in ("ru_utime", "ru_stime"))
    taken.append([status, used])
# the system's other figure, ru_maxrss, has in it what the process that started this one held
peak = int(re.search(r"VmHWM:\s+(\d+)", Path("/proc/self/status").read_text())[1]) // 1024
print(json.dumps({"taken": taken, "peak": peak}))
"""

TRUST: Final = "The file can't be trusted: "
CLEAN: Final = " Ask whoever sent it for a clean copy."
REPAIR: Final = " Open it in a spreadsheet program, let it repair the file, save it under a new name, and use that; or go back to a backup."
VALUES: Final = " Copy what you typed into a new workbook, as values, and use that."
BELOW: Final = (
    f'{TRUST}its sheet "Purchases" has a cell below row 1,048,576, where no sheet has one.{CLEAN}'
)
RIGHT: Final = (
    f'{TRUST}its sheet "Purchases" has a cell right of column XFD, where no sheet has one.{CLEAN}'
)
MUCH: Final = 'The sheets to be read hold more than 1,000,000 rows, cells and values, most of them on "Purchases". Delete what is no longer needed there, or move it to another workbook.'
ROWS: Final = 'The sheets to be read hold more than 50,000 rows, most of them on "Purchases". Delete what is no longer needed there, or move it to another workbook.'
TEXT: Final = f"{TRUST}a cell of it holds more than 32,767 letters, which no spreadsheet program writes.{CLEAN}"
AROUND: Final = (
    f"A sheet of the workbook has more than 250,000 merged cells, rules and links.{VALUES}"
)
FORMATS: Final = f"The workbook has more cell formats than any spreadsheet program allows.{VALUES}"
SHEETS: Final = "The workbook has more than 1,000 sheets. Move those that costbook need not read to another workbook."
NAME: Final = f"{TRUST}a sheet of it has a name of more than 255 letters.{CLEAN}"
CELLS: Final = f"{TRUST}it holds more than 1,000,000 cells.{CLEAN}"
OVERLAP: Final = f"The workbook is damaged: parts of the file overlap.{REPAIR}"
TEXTS: Final = f"The workbook is damaged: it says to hold more texts than it has letters.{REPAIR}"
PARTS_MANY: Final = f"{TRUST}it holds more than 10,000 parts.{CLEAN}"
PURCHASES: Final = "xl/worksheets/sheet2.xml"
STRINGS: Final = "xl/sharedStrings.xml"


def holds(part: str, what: str) -> str:
    return f"{TRUST}its part {part} holds {what}.{CLEAN}"


LONG: Final = holds(PURCHASES, "a single mark or text of more than 1 MB")
CROWDED: Final = holds(PURCHASES, "more than 1,000 attributes on one element")
DEEP: Final = "more than 500 elements within each other"
ENCODED: Final = (
    f"{TRUST}its part {STRINGS} is written in an encoding that no workbook is in.{CLEAN}"
)


SAID: Final = {
    "a row numbered 2,000,000,000": BELOW,
    "a row numbered in entities": BELOW,
    "a row numbered by 400 digits": BELOW,
    "a row numbered 1e9": BELOW,
    "a cell in row 1,048,577": BELOW,
    "a cell in column XFE": RIGHT,
    "a million rows of one number": MUCH,
    "60,000 numbered rows": ROWS,
    "a million numbered rows": MUCH,
    "a million rows without a dimension": MUCH,
    "three million empty rows": MUCH,
    "five million empty cells in a row": MUCH,
    "cells in the last column of 300,000 rows": MUCH,
    "four million cells in a sheet that is not read": holds(
        "xl/worksheets/sheet5.xml", "more than 8,000,000 elements"
    ),
    "a text of 5 MB in a cell": TEXT,
    "a shared text of 5 MB": TEXT,
    "a shared text of 40,000 letters": TEXT,
    "a text of a million runs": holds(STRINGS, "more than 1,000,000 elements"),
    "a text of 5 MB of entities": TEXT,
    "a text of 5 MB of numbered entities": TEXT,
    "a text of 5 MB in CDATA": LONG,
    "a comment of 20 MB": LONG,
    "a formula of 5 MB": TEXT,
    "a million shared texts more": holds(STRINGS, "more than 1,000,000 elements"),
    "shared texts under another name": holds("xl/texts.bin", "more than 1,000,000 elements"),
    "shared texts in UTF-7": ENCODED,
    "shared texts in UTF-16": holds(STRINGS, "more than 1,000,000 elements"),
    "an attribute of 20 MB": LONG,
    "two million attributes on one element": CROWDED,
    "5,000 attributes on each of 400 elements": CROWDED,
    "a thousand attributes on each of 2,000 elements": holds(
        PURCHASES, "more than 1,000,000 attributes"
    ),
    "300,000 namespaces on one element": CROWDED,
    "300,000 namespaces on as many elements": holds(PURCHASES, "more than 50,000 namespaces"),
    "200,000 elements within each other": holds(PURCHASES, DEEP),
    "texts within each other": holds(STRINGS, DEEP),
    "a million merged cells": AROUND,
    "merged cells before the cells": AROUND,
    "500,000 conditional formats": AROUND,
    "500,000 validations": AROUND,
    "500,000 hyperlinks": AROUND,
    "500,000 page breaks": AROUND,
    "500,000 columns": AROUND,
    "500,000 scenarios": AROUND,
    "500,000 table parts": AROUND,
    "240,000 cell formats": FORMATS,
    "240,000 named styles": FORMATS,
    "240,000 fonts": FORMATS,
    "240,000 fills": FORMATS,
    "240,000 borders": FORMATS,
    "240,000 number formats": FORMATS,
    "240,000 differential formats": FORMATS,
    "240,000 colours in one fill": FORMATS,
    "60,000 sheets of one part": SHEETS,
    "1,100 sheets": SHEETS,
    "a tab's name of 500 letters": NAME,
    "a tab's name of 900,000 letters": NAME,
    "500,000 defined names": holds("xl/workbook.xml", "more than 100,000 elements"),
    "500,000 relations of the workbook": holds(
        "xl/_rels/workbook.xml.rels", "more than 100,000 elements"
    ),
    "500,000 relations of a sheet": holds(
        "xl/worksheets/_rels/sheet2.xml.rels", "more than 100,000 elements"
    ),
    "500,000 declared parts": holds("[Content_Types].xml", "more than 100,000 elements"),
    "500,000 notes": holds("xl/comments1.xml", "more than 250,000 elements"),
    "500,000 shapes": holds("xl/drawings/drawing1.xml", "more than 250,000 elements"),
    "a table of 500,000 columns": holds("xl/tables/table1.xml", "more than 250,000 elements"),
    "a calculation chain of three million cells": holds(
        "xl/calcChain.xml", "more than 2,000,000 elements"
    ),
    "custom XML of two million elements": holds(
        "customXml/item1.xml", "more than 250,000 elements"
    ),
    "custom XML with a text of 20 MB": holds(
        "customXml/item1.xml", "a single mark or text of more than 10 MB"
    ),
    "properties of two million elements": holds(
        "docProps/custom.xml", "more than 250,000 elements"
    ),
    "60,000 further parts": PARTS_MANY,
    "140 MB of blanks between two elements": TEXT,
    "140 MB of short blanks": holds(PURCHASES, "more than 20 MB in hardly any cells"),
    "60,000 overlapping entries": PARTS_MANY,
    "5,000 overlapping entries": OVERLAP,
    "10,000 rows repeated 100,000 times (.ods)": MUCH,
    "3 rows repeated 20,000 times (.ods)": ROWS,
    "20 rows repeated 50,000 times (.ods)": MUCH,
    "a row repeated 2,000,000,000 times (.ods)": BELOW,
    "a cell repeated 100,000 times (.ods)": RIGHT,
    "200 rows of a cell repeated 16,000 times (.ods)": MUCH,
    "600,000 rows of one number (.ods)": holds("content.xml", "more than 1,000,000 elements"),
    "a million empty cells (.ods)": holds("content.xml", "more than 1,000,000 elements"),
    "a cell of 5 MB (.ods)": TEXT,
    "a cell of a million paragraphs (.ods)": holds("content.xml", "more than 1,000,000 elements"),
    "a cell of 20,000 spaces a hundred at a time (.ods)": TEXT,
    "5,000 sheets (.ods)": SHEETS,
    "a sheet's name of 900,000 letters (.ods)": NAME,
    "100,000 spans within each other (.ods)": holds("content.xml", DEEP),
    "tables within each other (.ods)": holds("content.xml", DEEP),
    "300,000 styles (.ods)": holds("styles.xml", "more than 250,000 elements"),
    "60,000 rows (.xls)": ROWS,
    "1.1 million packed numbers (.xls)": CELLS,
    "a million empty records (.xls)": CELLS,
    "5,000 sheets (.xls)": SHEETS,
    "900 sheets of the same records (.xls)": OVERLAP,
    "60,000 rows with a cell in the last column (.xls)": CELLS,
    "a text of 60,000 letters (.xls)": TEXT,
    "4,000,000,000 shared texts (.xls)": TEXTS,
    "shared texts that lead back (.xls)": TEXTS,
}
NAMED: Final = frozenset(
    {
        "a row numbered 2,000,000,000",
        "60,000 overlapping entries",
        "10,000 rows repeated 100,000 times (.ods)",
        "a text of 5 MB in a cell",
        "a shared text of 5 MB",
        "an attribute of 20 MB",
        "two million attributes on one element",
        "a million merged cells",
        "500,000 conditional formats",
        "500,000 validations",
        "240,000 cell formats",
        "300,000 namespaces on one element",
        "300,000 namespaces on as many elements",
        "60,000 sheets of one part",
        "a million numbered rows",
        "60,000 numbered rows",
        "200,000 elements within each other",
        "1.1 million packed numbers (.xls)",
    }
)
"""The shapes that once broke the promise; the others are their neighbours, and wait for a long run."""


def made(name: str, folder: Path) -> Path:
    """The file of that shape."""
    shape = name.removesuffix(" (.ods)").removesuffix(" (.xls)")
    if name.endswith(" (.ods)"):
        path, data = folder / "stall.ods", OPEN[shape]()
    elif name.endswith(" (.xls)"):
        path, data = folder / "stall.xls", OLD[shape]()
    elif shape in WHOLE:
        path, data = folder / "stall.xlsx", WHOLE[shape]()
    else:
        parts = parts_of(sound(folder))
        PARTS[shape]()(parts)
        path, data = folder / "stall.xlsx", packed(parts)
    path.write_bytes(data)
    return path


@dataclass(frozen=True, slots=True)
class Measured:
    """Of each command its exit status and how long it computed [s]; the peak of memory [MB]."""

    taken: list[tuple[int, float]]
    peak: int
    said: str


def in_a_child(*commands: list[str]) -> Measured:
    """What the commands took, each by itself, and what was said."""
    done = subprocess.run(
        [sys.executable, "-c", CHILD, json.dumps(commands)], capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return Measured(**json.loads(done.stdout.splitlines()[-1]), said=done.stderr)


TRIES = 3
"""Whatever else a machine does only adds to the time that a command computed."""


def in_a_quiet_child(*commands: list[str]) -> Measured:
    """The same, again where it took too long: the last of at most three tries."""
    for _ in range(TRIES):
        measured = in_a_child(*commands)
        if max(seconds for _, seconds in measured.taken) < SECONDS:
            break
    return measured


def test_every_shape_has_its_sentence() -> None:
    marked = {*(f"{each} (.ods)" for each in OPEN), *(f"{each} (.xls)" for each in OLD)}
    assert SAID.keys() == {*PARTS, *WHOLE} | marked
    assert SAID.keys() >= NAMED


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells a peak of memory so")
@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=() if name in NAMED else pytest.mark.long) for name in SAID],
)
def test_it_is_refused_within_a_second_and_200_megabytes(name: str, tmp_path: Path) -> None:
    path = made(name, tmp_path)
    before = path.read_bytes(), sorted(tmp_path.iterdir())
    measured = in_a_quiet_child(
        ["check", str(path)],
        ["cost", str(path), "--output", str(tmp_path / "other.xlsx")],
        ["cost", str(path)],
    )
    assert measured.said.splitlines() == [f"costbook: {SAID[name]}"] * 3
    assert [status for status, _ in measured.taken] == [2, 2, 2]
    assert max(seconds for _, seconds in measured.taken) < SECONDS
    assert measured.peak < MEGABYTES
    assert (path.read_bytes(), sorted(tmp_path.iterdir())) == before


# ---------------------------------------------------------------- what is no workbook


def test_a_file_too_large_to_be_read_is_not(tmp_path: Path) -> None:
    path = tmp_path / "stall.xlsx"
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    code, _, err = run("check", path)
    assert code == 2
    assert err == (
        "costbook: stall.xlsx is larger than 150 MB. Take pictures and sheets out of it that "
        "costbook need not read, or start a new workbook for the new year.\n"
    )


@pytest.mark.parametrize(
    "series",
    [
        b"month,price\n" + b"2026-01,1\n" * 3_000_000,
        b"month,price\n" + b"2026-01,1\n" * 10_001,
        b"month,price\r" + b"2026-01,1\r" * 10_001,
        b"month,price\n" + b"2026-01," + b"1" * 20_000_000,
    ],
    ids=["three million lines", "10,001 lines", "lines that end in a return", "a price of 20 MB"],
)
def test_an_endless_series_of_prices_is_refused(series: bytes, tmp_path: Path) -> None:
    book, file = make_book(tmp_path / "stall.xlsx", PLAIN), tmp_path / "prices.csv"
    file.write_bytes(series)
    words = ["try", str(book), "--series", str(file), "--item", "Flour"]
    measured = in_a_quiet_child(words)
    assert measured.said == (
        f"costbook: {file} is longer than a series of prices: it has more than 10,000 rows, or 2 MB."
        " Keep the months that matter, one a row.\n"
    )
    ((status, seconds),) = measured.taken
    assert (status, seconds < SECONDS, measured.peak < MEGABYTES) == (2, True, True)


def test_a_large_picture_is_kept_folded_and_written_back_as_it_is(tmp_path: Path) -> None:
    """A picture that unfolds to 100 MB: it may be somebody's, and nothing need unfold it."""
    parts = parts_of(sound(tmp_path))
    path, priced = tmp_path / "stall.xlsx", tmp_path / "priced.xlsx"
    path.write_bytes(packed(parts | {"xl/media/image1.bmp": b"BM" + bytes(100 * MEGABYTE)}))
    measured = in_a_child(["check", str(path)], ["cost", str(path), "--output", str(priced)])
    assert [status for status, _ in measured.taken] == [0, 0], measured.said
    assert measured.peak < MEGABYTES
    picture = parts_of(priced.read_bytes())["xl/media/image1.bmp"]
    assert picture == b"BM" + bytes(100 * MEGABYTE)


@pytest.mark.parametrize("shared", [False, True])
def test_very_many_merged_cells_are_looked_at_in_a_moment(shared: bool) -> None:
    """Each two of 100,000 would be five thousand million pairs."""
    ranges = [Range(row, 1, row, 9) for row in range(1, 100_001)]
    started = time.process_time()
    assert overlapping([*ranges, Range(100_000, 9, 100_001, 9)] if shared else ranges) is shared
    assert time.process_time() - started < SECONDS


# ---------------------------------------------------------------- the bounds behind the limits

WAY_OUT = "Copy what you typed into a new workbook, as values, and use that; if it isn't your own, ask whoever sent it for a clean copy."


def for_ever() -> None:
    while True:
        with suppress(Exception):  # as parsers do that take all for a broken file
            sum(range(1000))


def test_what_computes_for_ever_is_stopped() -> None:
    with pytest.raises(Refused) as refused, within_bounds(seconds=0.05):
        for_ever()
    assert str(refused.value) == (
        f"The workbook can't be read: it takes more than 0.05 seconds of computing, as none that a person keeps does. {WAY_OUT}"
    )


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux bounds memory so")
def test_what_takes_all_memory_is_stopped() -> None:
    with pytest.raises(Refused) as refused, within_bounds(space=64 * MEGABYTE):
        bytearray(256 * MEGABYTE)
    assert str(refused.value) == (
        f"The workbook can't be read: it takes more than 64 MB of memory, as none that a person keeps does. {WAY_OUT}"
    )
    assert len(bytearray(256 * MEGABYTE)) == 256 * MEGABYTE  # as before


@pytest.mark.long
def test_a_book_of_ten_thousand_purchases_is_read(tmp_path: Path) -> None:
    """The largest that is costed in the benchmarks: no limit comes near it."""
    path = tmp_path / "large.xlsx"
    generate(path, FULL)
    code, _, err = run("check", path, "--on", "2026-11-20")
    assert code == 0, err
