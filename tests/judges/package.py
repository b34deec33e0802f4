"""The formula cells of an xlsx package, read and changed in its XML, apart from any library.

A spreadsheet library drops or renews stored values when it saves; here nothing changes but what
is asked.
"""

from __future__ import annotations

import posixpath
import zipfile
from collections.abc import Iterator
from pathlib import Path

from lxml import etree

from tests.judges import CannotJudge, Cell, ErrorValue, Value, position

__all__ = ["FormulaCell", "Package"]

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
LINK = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


class FormulaCell:
    """One `<c>` element that holds a formula."""

    def __init__(self, element: etree._Element, texts: list[str]) -> None:
        self._element = element
        self._texts = texts
        self.cell: Cell = str(element.attrib["r"])

    @property
    def formula(self) -> str:
        """The formula without its equals sign; empty for a follower of a shared formula."""
        return self._formula_element().text or ""

    @formula.setter
    def formula(self, text: str) -> None:
        self._formula_element().text = text or None

    @property
    def shared(self) -> bool:
        """Whether this formula is stated once for several cells, or is an array of them."""
        return self._formula_element().get("t") is not None

    @property
    def value(self) -> Value | None:
        """The stored value; None where nothing is stored."""
        stored = self._element.find(f"{MAIN}v")
        if stored is None:
            return None
        text = stored.text or ""
        match self._element.get("t", "n"):
            case "n":
                return float(text) if text else None
            case "b":
                return text.strip() in {"1", "true"}
            case "e":
                return ErrorValue(text)
            case "s":
                return self._texts[int(text)]
        return text

    def store(self, value: float | str | bool) -> None:
        """Put a value in the place of the stored one."""
        kind = {bool: "b", str: "str"}.get(type(value), "n")
        self._element.set("t", kind)
        stored = self._element.find(f"{MAIN}v")
        if stored is None:
            stored = etree.SubElement(self._element, f"{MAIN}v")
        stored.text = str(int(value)) if kind == "b" else str(value)

    def _formula_element(self) -> etree._Element:
        found = self._element.find(f"{MAIN}f")
        assert found is not None
        return found


class Package:
    """A workbook's parts by name, its sheets by theirs; raises CannotJudge for what is none."""

    def __init__(self, path: Path) -> None:
        try:
            with zipfile.ZipFile(path) as package:
                self._parts = {info: package.read(info) for info in package.infolist()}
            self._names = {info.filename: info for info in self._parts}
            places = self._sheet_places()
        except (zipfile.BadZipFile, KeyError, etree.XMLSyntaxError, OSError) as problem:
            raise CannotJudge(f"{path.name} is no workbook: {problem}") from problem
        self._places = places
        self._trees = {sheet: self._tree(place) for sheet, place in places.items()}
        self._texts = self._shared_texts()

    @property
    def sheets(self) -> list[str]:
        """The worksheets in their order; chart sheets hold no cells and are left out."""
        return list(self._places)

    def formula_cells(self, sheet: str) -> Iterator[FormulaCell]:
        """The cells with a formula, in the order of the file."""
        for element in self._trees[sheet].iter(f"{MAIN}f"):
            parent = element.getparent()
            if parent is not None and parent.tag == f"{MAIN}c":
                yield FormulaCell(parent, self._texts)

    def last_row(self, sheet: str) -> int:
        """The number of the last row that the file mentions; 0 for an empty sheet."""
        cells = self._trees[sheet].iter(f"{MAIN}c")
        return max((position(str(cell.attrib["r"]))[0] for cell in cells), default=0)

    def write(self, out: Path) -> None:
        """Write the package with its sheets as they are now, every other part untouched."""
        for sheet, place in self._places.items():
            info = self._names[place]
            self._parts[info] = etree.tostring(
                self._trees[sheet], xml_declaration=True, encoding="UTF-8", standalone=True
            )
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
            for info, content in self._parts.items():
                package.writestr(info.filename, content)

    def _tree(self, place: str) -> etree._Element:
        return etree.fromstring(self._parts[self._names[place]])

    def _sheet_places(self) -> dict[str, str]:
        book, links = self._tree("xl/workbook.xml"), self._tree("xl/_rels/workbook.xml.rels")
        places = {
            str(link.attrib["Id"]): posixpath.normpath(
                posixpath.join("/xl", str(link.attrib["Target"]))
            ).lstrip("/")
            for link in links
            if str(link.attrib["Type"]).endswith("/worksheet")
        }
        sheets = book.iter(f"{MAIN}sheet")
        return {
            str(sheet.attrib["name"]): places[str(sheet.attrib[LINK])]
            for sheet in sheets
            if str(sheet.attrib[LINK]) in places
        }

    def _shared_texts(self) -> list[str]:
        if "xl/sharedStrings.xml" not in self._names:
            return []
        items = self._tree("xl/sharedStrings.xml").iter(f"{MAIN}si")
        return ["".join(str(t.text or "") for t in item.iter(f"{MAIN}t")) for item in items]
