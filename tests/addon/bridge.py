"""Talks to a LibreOffice that has the add-on: installs it, dispatches commands, reads documents.

Run by the Python that has `uno`, as the judges' bridge is.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import Any

import uno
import unohelper
from com.sun.star.frame import XStatusListener
from com.sun.star.task import XInteractionHandler
from com.sun.star.ucb import XCommandEnvironment
from com.sun.star.util import URL

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.judges.bridge import Bridge, errors, main, properties, used

ACTION = uno.getTypeByName("com.sun.star.accessibility.XAccessibleAction")
SELECTION = uno.getTypeByName("com.sun.star.accessibility.XAccessibleSelection")
APPROVE = uno.getTypeByName("com.sun.star.task.XInteractionApprove")


class Agreeing(unohelper.Base, XInteractionHandler, XCommandEnvironment):  # type: ignore[misc]
    """Says yes where LibreOffice asks whether to install."""

    def getInteractionHandler(self) -> Any:  # noqa: N802
        return self

    def getProgressHandler(self) -> None:  # noqa: N802
        return None

    def handle(self, request: Any) -> None:
        for way in request.getContinuations():
            if way.queryInterface(APPROVE):
                way.select()
                return


class Enabled(unohelper.Base, XStatusListener):  # type: ignore[misc]
    """Hears whether a command can be chosen."""

    now = False

    def statusChanged(self, event: Any) -> None:  # noqa: N802
        self.now = event.IsEnabled

    def disposing(self, _event: Any) -> None:
        pass


class AddonBridge(Bridge):
    """One method a request, beside those of the judges' bridge."""

    def install(self, path: str) -> bool:
        manager = self.context.getValueByName(
            "/singletons/com.sun.star.deployment.ExtensionManager"
        )
        channel, agreeing = manager.createAbortChannel(), Agreeing()
        made = manager.addExtension(uno.systemPathToFileUrl(path), (), "user", channel, agreeing)
        return bool(made.isRegistered(channel, agreeing).Value.Value)

    def load(self, path: str) -> int:
        """Open a file, or a new document where none is named, in a window."""
        url = uno.systemPathToFileUrl(path) if path else "private:factory/scalc"
        document = self.desktop.loadComponentFromURL(url, "_blank", 0, properties(Hidden=False))
        if document is None:
            raise ValueError("LibreOffice loaded nothing from it")
        number = max(self.documents, default=0) + 1
        self.documents[number] = document
        return number

    def looks(self, document: int) -> dict[str, Any]:
        """By sheet: how cells look by areas, sizes, joined cells, boxes, notes, links, pages."""
        book = self.documents[document]
        return {
            name: sheet_looks(book, book.Sheets.getByName(name))
            for name in book.Sheets.ElementNames
        }

    def newest(self, document: int) -> int:
        """The document in the window that is in front, which another opened."""
        number = max(self.documents) + 1
        self.documents[number] = self.desktop.CurrentComponent
        return number

    def location(self, document: int) -> str:
        """The file it was opened from; empty where it has none yet."""
        return str(self.documents[document].getLocation())

    def dispatch(self, document: int, command: str, seconds: float) -> None:
        """Choose a command, and wait until it is done."""
        url, found = self.found(document, command)
        found.dispatch(url, ())
        if seconds:
            self.wait(document, command, seconds)

    def wait(self, document: int, command: str, seconds: float) -> None:
        """Wait until no command is at work."""
        deadline = time.monotonic() + seconds
        while not self.enabled(document, command):
            if time.monotonic() > deadline:
                raise ValueError(f"{command} was not done in {seconds:g} s")
            time.sleep(0.05)

    def enabled(self, document: int, command: str) -> bool:
        """Whether the menu would show the command as one that can be chosen."""
        url, found = self.found(document, command)
        hears = Enabled()
        found.addStatusListener(hears, url)
        found.removeStatusListener(hears, url)
        return hears.now

    def found(self, document: int, command: str) -> Any:
        url = URL()
        url.Complete = f"costbook.addon:{command}"
        _, url = self.service("com.sun.star.util.URLTransformer").parseStrict(url)
        frame = self.documents[document].CurrentController.Frame
        found = frame.queryDispatch(url, "_self", 0)
        if found is None:
            raise ValueError(f"nobody takes {url.Complete}")
        return url, found

    def steps(self, document: int) -> list[list[str]]:
        """The titles that Undo and Redo show."""
        undo = self.documents[document].UndoManager
        return [list(undo.getAllUndoActionTitles()), list(undo.getAllRedoActionTitles())]

    def undo(self, document: int) -> None:
        self.documents[document].UndoManager.undo()

    def redo(self, document: int) -> None:
        self.documents[document].UndoManager.redo()

    def contents(self, document: int) -> dict[str, Any]:
        """By sheet: formulas, values, errors, and whether it is in sight."""
        book = self.documents[document]
        book.calculate()
        return {
            name: {
                "formulas": used(page).getFormulaArray(),
                "values": used(page).getDataArray(),
                "errors": list(errors(page)),
                "visible": page.IsVisible,
            }
            for name in book.Sheets.ElementNames
            for page in (book.Sheets.getByName(name),)
        }

    def windows(self) -> list[list[str]]:
        """What each window says: its title, then every text and line in it, each once."""
        return [list(dict.fromkeys(name for name, _ in parts_of(each))) for each in self.tops()]

    def press(self, title: str, button: str) -> None:
        """Press a button in the window of that title."""
        for each in self.tops():
            parts = list(parts_of(each))
            if parts[0][0] == title:
                for name, part in parts:
                    action = part.queryInterface(ACTION)
                    if name == button and action is not None:
                        action.doAccessibleAction(0)
                        time.sleep(0.5)  # LibreOffice hears of it a little later
                        return
        raise ValueError(f"no button {button} in a window {title}")

    def pick(self, title: str, beginning: str) -> None:
        """Choose the line of a list that begins so."""
        for each in self.tops():
            for _, part in parts_of(each) if each.getAccessibleName() == title else ():
                lines = part.queryInterface(SELECTION)
                for at in range(part.getAccessibleChildCount() if lines else 0):
                    line = part.getAccessibleChild(at).getAccessibleContext()
                    if line.getAccessibleName().startswith(beginning):
                        lines.selectAccessibleChild(at)
                        time.sleep(0.2)
                        return
        raise ValueError(f"no line {beginning} in a window {title}")

    def close_windows(self) -> None:
        """Close all that have a button for it."""
        for each in self.tops():
            for name, part in list(parts_of(each)):
                action = part.queryInterface(ACTION)
                if name == "Close" and action is not None:
                    action.doAccessibleAction(0)
                    break

    def tops(self) -> list[Any]:
        toolkit = self.service("com.sun.star.awt.Toolkit")
        tops = [toolkit.getTopWindow(at) for at in range(toolkit.getTopWindowCount())]
        return [each.getAccessibleContext() for each in tops]

    def selected(self, document: int) -> str:
        """The cell that is selected, as `Sheet.A1`."""
        return str(self.documents[document].CurrentSelection.AbsoluteName).translate(
            {ord("$"): None, ord("'"): None}
        )

    def select_apart(self, document: int, cells: list[str]) -> None:
        """Select cells of the first sheet that don't lie together."""
        book = self.documents[document]
        several = book.createInstance("com.sun.star.sheet.SheetCellRanges")
        page = book.Sheets.getByIndex(0)
        areas = tuple(page.getCellRangeByName(cell).RangeAddress for cell in cells)
        several.addRangeAddresses(areas, False)
        book.CurrentController.select(several)

    def select(self, document: int, sheet: str, cell: str) -> None:
        controller = self.documents[document].CurrentController
        page = self.documents[document].Sheets.getByName(sheet)
        controller.setActiveSheet(page)
        controller.select(page.getCellRangeByName(cell))


LOOKS = sorted(
    (
        *("CharFontName", "CharHeight", "CharColor", "CharWeight", "CharPosture", "CharUnderline"),
        *("CellBackColor", "IsCellBackgroundTransparent", "HoriJustify", "VertJustify"),
        *("ParaIndent", "IsTextWrapped", "NumberFormat", "ConditionalFormat"),
        *("TopBorder2", "BottomBorder2", "LeftBorder2", "RightBorder2"),
    )
)
"""Asked for all at once, which takes their names in the order of letters."""


def sheet_looks(book: Any, page: Any) -> dict[str, Any]:
    """How a sheet looks; cells that look alike are asked once for all of them."""
    end = used(page).RangeAddress
    cells = {}
    for alike in page.UniqueCellFormatRanges:
        said = cell_looks(book, alike.getByIndex(0).getCellByPosition(0, 0))
        for at in alike.RangeAddresses:
            for row in range(at.StartRow, min(at.EndRow, end.EndRow) + 1):
                for column in range(at.StartColumn, min(at.EndColumn, end.EndColumn) + 1):
                    cells[f"{row} {column}"] = said
    return {
        "cells": cells,
        "heights": [page.Rows.getByIndex(row).Height for row in range(end.EndRow + 1)],
        "notes": [
            [each.Position.Row, each.Position.Column, each.String] for each in page.Annotations
        ],
        "breaks": [each.Position for each in page.RowPageBreaks if each.ManualBreak],
        "titles": [page.PrintTitleRows, page.TitleRows.EndRow if page.PrintTitleRows else 0],
        "page": page_looks(book, page.PageStyle),
    }


def cell_looks(book: Any, cell: Any) -> dict[str, Any]:
    """How one cell looks: its number format by its text, and whether its look depends."""
    said = dict(zip(LOOKS, map(plain, cell.getPropertyValues(tuple(LOOKS))), strict=True))
    said["NumberFormat"] = book.NumberFormats.getByKey(said["NumberFormat"]).FormatString
    said["ConditionalFormat"] = bool(said["ConditionalFormat"].Count)
    return said


def page_looks(book: Any, name: str) -> list[Any]:
    style = book.StyleFamilies.getByName("PageStyles").getByName(name)
    foot = style.RightPageFooterContent
    told = ["IsLandscape", "LeftMargin", "RightMargin", "TopMargin", "BottomMargin"]
    told += ("HeaderIsOn", "FooterIsOn", "ScaleToPagesX", "ScaleToPagesY")
    texts = (foot.LeftText, foot.CenterText, foot.RightText)
    return [*(style.getPropertyValue(each) for each in told), *(each.String for each in texts)]


def plain(value: Any) -> Any:
    if hasattr(value, "OuterLineWidth"):
        drawn = value.OuterLineWidth or value.LineWidth
        return [value.Color, value.OuterLineWidth, value.LineStyle] if drawn else []
    return value.value if isinstance(value, uno.Enum) else value


def parts_of(seen: Any) -> Any:
    """A part of a window and all in it, each with its name."""
    yield seen.getAccessibleName(), seen
    for at in range(min(seen.getAccessibleChildCount(), 200)):
        child = seen.getAccessibleChild(at)
        if child is not None:
            yield from parts_of(child.getAccessibleContext())


if __name__ == "__main__":
    main(AddonBridge)
