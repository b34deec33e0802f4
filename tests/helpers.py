"""Plumbing for tests: make a workbook, run a command in this process, price a book.

The command line is imported when it is called, so that a test of one part needs only that part.
"""

from __future__ import annotations

import io
import json
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import openpyxl
import xlsxwriter

__all__ = [
    "Book",
    "Formula",
    "Merged",
    "Shown",
    "costed",
    "make_book",
    "priced",
    "product_of",
    "read_back",
    "run",
    "save",
]

type_of_day = "yyyy-mm-dd"


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula cell with its stored value ("#N/A" is stored as an error; None as nothing)."""

    text: str
    value: object = 0


@dataclass(frozen=True, slots=True)
class Shown:
    """A value in a cell with a number format, as in Shown(0.15, "0%")."""

    value: object
    number_format: str


@dataclass(frozen=True, slots=True)
class Merged:
    """A value in a cell that is merged over so many rows; the cells below are to be empty."""

    value: object
    rows: int


Row = Sequence[object]
Book = Mapping[str, Iterable[Row]]


def make_book(path: Path | str, sheets: Book) -> Path:
    """Write a plain workbook: each sheet a list of rows, the headings usually the first.

    Cells: None or "" is an empty cell; text, numbers, Decimal, bool, date, datetime, Formula,
    Shown, Merged. A text that begins with "=" stays text.
    """
    book = xlsxwriter.Workbook(
        str(path),
        {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False},
    )
    book.set_properties({"created": datetime(2026, 1, 1)})
    formats: dict[str, Any] = {}
    for name, rows in sheets.items():
        sheet = book.add_worksheet(name)
        for at, row in enumerate(rows):
            for column, value in enumerate(row):
                _write(book, formats, sheet, at, column, value)
    book.close()
    return Path(path)


def _format(book: Any, formats: dict[str, Any], code: str) -> Any:
    """The workbook's one format object for a number format."""
    if code not in formats:
        formats[code] = book.add_format({"num_format": code})
    return formats[code]


def _write(
    book: Any,
    formats: dict[str, Any],
    sheet: Any,
    row: int,
    column: int,
    value: object,
    code: str = "",
) -> None:
    """Write one cell by the kind of its value."""
    form = _format(book, formats, code) if code else None
    match value:
        case None | "":
            pass
        case Shown():
            _write(book, formats, sheet, row, column, value.value, value.number_format)
        case Merged():
            last = row + value.rows - 1
            sheet.merge_range(row, column, last, column, "", _format(book, formats, code))
            _write(book, formats, sheet, row, column, value.value, code)
        case Formula():
            stored = "" if value.value is None else value.value
            sheet.write_formula(row, column, value.text, form, stored)
        case bool():
            sheet.write_boolean(row, column, value, form)
        case datetime() | date():
            day = form or _format(book, formats, type_of_day)
            sheet.write_datetime(row, column, value, day)
        case int() | float() | Decimal():
            sheet.write_number(row, column, float(value), form)
        case str():
            sheet.write_string(row, column, value, form)
        case _:
            raise TypeError(f"no cell can hold {value!r}")


class _Captured(io.TextIOWrapper):
    """A text stream kept in memory that also has a byte buffer, as standard output has."""

    def __init__(self) -> None:
        super().__init__(io.BytesIO(), encoding="utf-8", newline="", write_through=True)

    def text(self) -> str:
        self.flush()
        bytes_written: bytes = self.buffer.getvalue()  # type: ignore[attr-defined]  # a BytesIO
        return bytes_written.decode("utf-8")


def run(*args: object) -> tuple[int, str, str]:
    """Run the command line in this process: exit code, standard output, standard error."""
    from costbook.cli import main

    out, err = _Captured(), _Captured()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            code: object = main([str(arg) for arg in args])
        except SystemExit as stop:
            code = stop.code
    return code if isinstance(code, int) else 0 if code is None else 2, out.text(), err.text()


def priced(book: Book | Path | str, on: str = "2026-11-25", **options: object) -> dict[str, Any]:
    """What `cost --json` says of a workbook, given as its file or as {sheet: rows}.

    The result is written to a throw-away file; further options are passed as `--name value`.
    Raises AssertionError, with what was said, where the exit code is neither 0 nor 1.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = (
            Path(book) if isinstance(book, (str, Path)) else make_book(f"{folder}/book.xlsx", book)
        )
        given = {"on": on, "output": f"{folder}/costed.xlsx"} | options
        words = [word for name, value in given.items() for word in (f"--{name}", value)]
        code, out, err = run("cost", path, "--json", *words)
    assert code in (0, 1), f"exit {code}: {err}"
    answer: dict[str, Any] = json.loads(out)
    return answer


def costed(book: Path, *words: object, out: Path | None = None) -> Path:
    """Cost a workbook as `cost` does, in its place or into another file; returns what was written.

    One of the same name and bytes is costed once, for all tests that begin with it.
    """
    there = book if out is None else out
    given = tuple(map(str, words))
    there.write_bytes(_costed(book.name, book.read_bytes(), given, in_place=out is None))
    return there


@cache
def _costed(name: str, content: bytes, words: tuple[str, ...], *, in_place: bool) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder, name)
        book.write_bytes(content)
        out = book if in_place else Path(folder, "out", "costed.xlsx")
        out.parent.mkdir(exist_ok=True)
        code, _, said = run("cost", book, *(() if in_place else ("--output", out)), *words)
        assert code in (0, 1), said
        return out.read_bytes()


def read_back(path: Path | str, *, data_only: bool = False) -> openpyxl.Workbook:
    """A workbook as openpyxl reads it, to look at only: of the same bytes it is read once."""
    return _read_back(Path(path).read_bytes(), data_only)


@lru_cache(maxsize=8)
def _read_back(content: bytes, data_only: bool) -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(content), data_only=data_only)


def product_of(answer: dict[str, Any], product: str, outlet: str | None = None) -> dict[str, Any]:
    """One product of `cost --json`; the outlet may be left out where there is one only."""
    found: list[dict[str, Any]] = [
        row
        for row in answer["products"]
        if row["product"] == product and (outlet is None or row["outlet"] == outlet)
    ]
    assert len(found) == 1, f"{len(found)} rows for {product} at {outlet}"
    return found[0]


def save(book: Mapping[str, Iterable[Row]], folder: Path, name: str = "stall.xlsx") -> Path:
    """Write the book into a test's folder under a name that messages will carry."""
    return make_book(folder / name, book)
