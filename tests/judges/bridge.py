"""Talks to a running LibreOffice for the tests: JSON lines in, JSON lines out.

It is run by the Python that LibreOffice's `uno` was made for, which is seldom the Python of the
tests; so it imports nothing of the project's, and keeps to the standard library and `uno`.

Usage: bridge.py NAME_OF_PIPE SECONDS_TO_WAIT
"""

from __future__ import annotations

import json
import sys
import time
from typing import Any

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

XLSX = "Calc MS Excel 2007 XML"
FORMULA_CELLS = 16  # com.sun.star.sheet.CellFlags.FORMULA
ERROR_RESULTS = 4  # com.sun.star.sheet.FormulaResult.ERROR
# Codes of com.sun.star.sheet that spreadsheets show by a name instead of a number.
ERRORS = {
    503: "#NUM!",
    519: "#VALUE!",
    521: "#NULL!",
    524: "#REF!",
    525: "#NAME?",
    532: "#DIV/0!",
    32767: "#N/A",
}


def connect(pipe: str, seconds: float) -> Any:
    """The context of the LibreOffice that listens on a pipe; it may need a while to start."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    deadline = time.monotonic() + seconds
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.1)


def properties(**wanted: Any) -> tuple[Any, ...]:
    """Named arguments as LibreOffice takes them."""
    made = []
    for name, value in wanted.items():
        one = PropertyValue()
        one.Name, one.Value = name, value
        made.append(one)
    return tuple(made)


class Bridge:
    """The open documents by number; one method a request."""

    def __init__(self, context: Any) -> None:
        self.context = context
        self.desktop = self.service("com.sun.star.frame.Desktop")
        self.documents: dict[int, Any] = {}
        self.told: dict[tuple[int, str], Any] = {}

    def service(self, name: str) -> Any:
        return self.context.ServiceManager.createInstanceWithContext(name, self.context)

    def open(self, path: str) -> dict[str, Any]:
        document = self.desktop.loadComponentFromURL(
            uno.systemPathToFileUrl(path),
            "_blank",
            0,
            properties(Hidden=True, FilterName=XLSX, UpdateDocMode=0, MacroExecutionMode=0),
        )
        if document is None:
            raise ValueError("LibreOffice loaded nothing from it")
        if not document.supportsService("com.sun.star.sheet.SpreadsheetDocument"):
            document.close(True)
            raise ValueError("LibreOffice does not take it for a spreadsheet")
        document.enableAutomaticCalculation(False)
        number = max(self.documents, default=0) + 1
        self.documents[number] = document
        return {"document": number, "sheets": list(document.Sheets.ElementNames)}

    def set_many(self, document: int, settings: list[list[Any]]) -> None:
        sheets = self.documents[document].Sheets
        for sheet, row, column, value in settings:
            cell = sheets.getByName(sheet).getCellByPosition(column - 1, row - 1)
            if value is None:
                cell.setFormula("")
            elif isinstance(value, str):
                cell.setString(value)
            else:
                cell.setValue(float(value))

    def remove(self, document: int, sheet: str) -> None:
        self.documents[document].Sheets.removeByName(sheet)

    def recalculate(self, document: int) -> None:
        self.documents[document].calculateAll()

    def follow(self, document: int) -> None:
        self.documents[document].calculate()

    def values(self, document: int, sheet: str) -> dict[str, Any]:
        """All data in one call, since one call a cell takes minutes; then what is an error.

        Only the rows that show something else than when they were last told are told again.
        """
        page = self.documents[document].Sheets.getByName(sheet)
        formulas = page.queryContentCells(FORMULA_CELLS).getRangeAddresses()
        data, before = used(page).getDataArray(), self.told.get((document, sheet), ())
        self.told[document, sheet] = data
        return {
            "rows": len(data),
            "changed": [
                [at, line] for at, line in enumerate(data) if before[at : at + 1] != (line,)
            ],
            "formulas": [[a.StartRow, a.StartColumn, a.EndRow, a.EndColumn] for a in formulas],
            "errors": list(errors(page)),
        }

    def formulas(self, document: int, sheet: str) -> Any:
        page = self.documents[document].Sheets.getByName(sheet)
        return used(page).getFormulaArray()

    def save_as(self, document: int, path: str, kind: str) -> None:
        self.documents[document].storeToURL(
            uno.systemPathToFileUrl(path), properties(FilterName=kind)
        )

    def close(self, document: int) -> None:
        self.documents.pop(document).close(True)
        # the next document may have this one's number, and has been told nothing
        self.told = {key: data for key, data in self.told.items() if key[0] != document}

    def stop(self) -> None:
        for document in list(self.documents):
            self.close(document)
        self.desktop.terminate()


def used(page: Any) -> Any:
    """The range from A1 to the last cell that holds something."""
    cursor = page.createCursor()
    cursor.gotoEndOfUsedArea(False)
    end = cursor.getRangeAddress()
    return page.getCellRangeByPosition(0, 0, end.EndColumn, end.EndRow)


def errors(page: Any) -> Any:
    """Row, column (from 0) and name of every formula that gives an error."""
    for area in page.queryFormulaCells(ERROR_RESULTS).getRangeAddresses():
        for row in range(area.StartRow, area.EndRow + 1):
            for column in range(area.StartColumn, area.EndColumn + 1):
                code = page.getCellByPosition(column, row).getError()
                if code:
                    yield [row, column, ERRORS.get(code, f"Err:{code}")]


def answer(bridge: Bridge, request: dict[str, Any]) -> dict[str, Any]:
    """What came of one request: its result, or why there is none."""
    try:
        method = getattr(bridge, request.pop("do"))
        return {"result": method(**request)}
    except Exception as problem:  # noqa: BLE001 - whatever LibreOffice raises goes to the test
        return {"problem": f"{type(problem).__name__}: {problem}"}


def say(reply: dict[str, Any]) -> None:
    """One reply on one line."""
    sys.stdout.write(json.dumps(reply) + "\n")
    sys.stdout.flush()


def main(kind: type[Bridge] = Bridge) -> None:
    """Connect, say so, then answer one line at a time until the input ends."""
    bridge = kind(connect(sys.argv[1], float(sys.argv[2])))
    say({"result": "ready"})
    for line in sys.stdin:
        say(answer(bridge, json.loads(line)))


if __name__ == "__main__":
    main()
