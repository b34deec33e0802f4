"""Plumbing: workbooks that other programs made, workbooks as a person's, and sheets as ours.

The workbooks of other programs lie outside the checkout, since they belong to others: in the
folder that COSTBOOK_CORPUS names, or in ../shared/corpus beside it. Without them the tests run
on the workbooks made here.
"""

from __future__ import annotations

import io
import os
import zipfile
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import xlsxwriter

from costbook.package import graft as grafting
from costbook.package import marks, validity
from costbook.package.workbook_file import WorkbookFile

__all__ = [
    "TITLES",
    "corpus",
    "counts_from_1904",
    "edited",
    "faults",
    "file_of",
    "graft",
    "grafted",
    "named",
    "new_faults",
    "our_book",
    "ours_in",
    "parts",
    "plain",
    "quiet",
    "refused_files",
    "rich",
    "tab_names",
    "xml_edited",
]

TITLES = ("Prices", "Cost cards", "To put right")
REFUSED = ("open-xml-sdk__OLE-O12-XL-OLE.xlsx", "poi__workbookProtection_workbook_revision")


def _folder() -> Path:
    beside = Path(__file__).parents[2].parent / "shared" / "corpus"
    return Path(os.environ.get("COSTBOOK_CORPUS", beside))


@cache
def _files() -> dict[str, bytes]:
    found = sorted(_folder().glob("*.xlsx")) if _folder().is_dir() else []
    return {path.stem: path.read_bytes() for path in found}


def corpus() -> dict[str, bytes]:
    """The workbooks of other programs that can be written into, by name."""
    return {name: data for name, data in _files().items() if not f"{name}.xlsx".startswith(REFUSED)}


def refused_files() -> dict[str, bytes]:
    """Those that can't: strict, and shared with tracked changes."""
    return {name: data for name, data in _files().items() if f"{name}.xlsx".startswith(REFUSED)}


def quiet(package: bytes) -> bytes:
    """Without XlsxWriter's request, in every book it makes, to work out all on opening."""
    return xml_edited(package, "xl/workbook.xml", (' fullCalcOnLoad="1"', ""))


def plain(*sheets: str, **cells: str) -> bytes:
    """A person's workbook with these sheets; `cells`: a cell of the first one and what it holds."""
    book, close = _made()
    for name in sheets or ("Recipes",):
        sheet = book.add_worksheet(name)
        if name == (sheets or ("Recipes",))[0]:
            for cell, text in cells.items():
                sheet.write(cell, text)
    return quiet(close())


@cache
def rich() -> bytes:
    """A person's workbook with a bit of everything that XlsxWriter can make."""
    book, close = _made()
    recipes, mine = book.add_worksheet("Recipes"), book.add_worksheet("My own")
    amount = book.add_format({"num_format": '0.000 "kg"', "bold": True, "bg_color": "#DDEEFF"})
    late = book.add_format({"font_color": "#AA0000"})
    recipes.write_row("A1", ["Recipe", "Uses", "Amount"], amount)
    recipes.write_row("A2", ["Flatbread", "Flour", 1.2], amount)
    recipes.write_formula("D2", "='My own'!A1*C2", amount, 4.8)
    recipes.write_comment("A2", "from my grandmother")
    recipes.conditional_format(
        "C2:C9", {"type": "cell", "criteria": ">", "value": 1, "format": late}
    )
    recipes.data_validation("B2:B9", {"validate": "list", "source": ["Flour", "Salt"]})
    recipes.add_table("F1:G3", {"name": "Costs", "columns": [{"header": "A"}, {"header": "B"}]})
    recipes.merge_range("I1:J2", "both", amount)
    recipes.add_sparkline("H2", {"range": "Recipes!C2:C3"})
    recipes.write_url("A5", "https://example.org/")
    recipes.protect()
    mine.write("A1", 4)
    chart = book.add_chart({"type": "line"})
    chart.add_series({"values": "='My own'!$A$1:$A$3"})
    mine.insert_chart("C3", chart)
    mine.repeat_rows(0)
    book.define_name("Pay", "='My own'!$A$1")
    return quiet(close())


def our_book(
    names: Mapping[str, str],
    figure: float = 1.5,
    drop: Sequence[str] = (),
    more: Callable[[xlsxwriter.Workbook], None] | None = None,
) -> bytes:
    """Our sheets alone, as the writer makes them: formats, texts, formulas, notes, a chart."""
    book, close = _made()
    money = book.add_format({"num_format": '0.00 "each"', "bold": True, "bg_color": "#FFEEDD"})
    bad = book.add_format({"bg_color": "#FFC0C0", "num_format": '0.0 "!"'})
    for title in names:
        if title in drop:
            continue
        sheet = book.add_worksheet(names[title])
        sheet.write("A1", f" {title} & <more> ", money)
        sheet.write_rich_string("A2", "plain ", money, "bold", " end")
        sheet.write_formula("B1", "='Recipes'!C2*2", money, figure)
        sheet.write_comment("B1", "how it was worked out")
        sheet.conditional_format(
            "B1:B9", {"type": "cell", "criteria": ">", "value": 9, "format": bad}
        )
        sheet.write_url("A4", "internal:'Recipes'!A1", string="see")
        sheet.write_url("A5", "https://example.org/?a=1&b=2")
        sheet.repeat_rows(0)
        chart = book.add_chart({"type": "bar"})
        chart.add_series({"values": f"='{names[title]}'!$B$1:$B$4"})
        sheet.insert_chart("D3", chart)
    if more:
        more(book)
    return close()


MADE = datetime(2026, 1, 1, tzinfo=UTC)


def _made() -> tuple[xlsxwriter.Workbook, Callable[[], bytes]]:
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    book.set_properties({"created": MADE})  # else two of one content may differ by a second

    def close() -> bytes:
        book.close()
        return out.getvalue()

    return book, close


def file_of(package: bytes) -> WorkbookFile:
    """A package that a test made."""
    return WorkbookFile(package, made=True)


def faults(package: bytes) -> list[str]:
    """What is wrong with a package."""
    return validity.faults(file_of(package))


def new_faults(before: bytes, after: bytes) -> list[str]:
    """What is wrong with a package that wasn't before."""
    return validity.new_faults(file_of(before), file_of(after))


def ours_in(package: bytes) -> dict[str, str]:
    """Our sheets: tab name -> title."""
    return {tab.name: title for title, tab in file_of(package).ours.items()}


def tab_names(theirs: bytes, wanted: Sequence[str]) -> dict[str, str]:
    """The tab name to use for each of our titles."""
    return marks.tab_names(file_of(theirs).book, wanted)


def graft(theirs: bytes, ours: bytes, titles: Mapping[str, str]) -> bytes:
    """A person's workbook with our sheets in it."""
    return grafting.graft(file_of(theirs), ours, titles).content


def named(theirs: bytes, drop: Sequence[str] = ()) -> dict[str, str]:
    """Tab name -> title, for the sheets of ours that are made."""
    return {tab: title for title, tab in tab_names(theirs, TITLES).items() if title not in drop}


@cache
def grafted(theirs: bytes, figure: float = 1.5, drop: tuple[str, ...] = ()) -> bytes:
    """The person's workbook after a run."""
    names = tab_names(theirs, TITLES)
    return graft(theirs, our_book(names, figure, drop), named(theirs, drop))


def parts(package: bytes) -> dict[str, bytes]:
    """The parts of a package, read by another hand than ours."""
    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


def edited(package: bytes, changes: Mapping[str, bytes | None]) -> bytes:
    """The package with parts replaced, added, or (None) left out."""
    contents: dict[str, bytes | None] = {**parts(package), **changes}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in contents.items():
            if data is not None:
                info = zipfile.ZipInfo(name)  # its date is 1980, whatever the day
                archive.writestr(info, data, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def xml_edited(package: bytes, part: str, *changes: tuple[str, str]) -> bytes:
    """The package with text in one part replaced, once each; what isn't there is a mistake."""
    text = parts(package)[part].decode()
    for old, new in changes:
        assert old in text, (part, old, text[:3000])
        text = text.replace(old, new, 1)
    return edited(package, {part: text.encode()})


def counts_from_1904(package: bytes) -> bool:
    """Whether a workbook counts its days from 1904."""
    settings = file_of(package).book.one("workbookPr")
    return settings is not None and settings.get("date1904", "0") in ("1", "true", "on")
