"""The window that a command was chosen in, and its document."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import uno
import unohelper
from com.sun.star.awt import XCallback

from costbook.addon.office.uno_values import properties

__all__ = ["Desk"]


class Desk:
    """The window that a command was chosen in, its document, and where the add-on stands."""

    def __init__(self, context: Any, frame: Any, extension: Path) -> None:
        self.context = context
        self.frame = frame
        self.extension = extension
        self.document = frame.Controller.Model
        self._shown: Any = None

    def service(self, name: str) -> Any:
        """One of LibreOffice's services."""
        return self.context.ServiceManager.createInstanceWithContext(name, self.context)

    @property
    def profile(self) -> Path:
        """The user's own folder of LibreOffice."""
        paths = self.service("com.sun.star.util.PathSubstitution")
        return Path(uno.fileUrlToSystemPath(paths.substituteVariables("$(user)", True)))

    @property
    def name(self) -> str:
        """What the document is called, without its ending."""
        return Path(self.document.Title).stem or "Untitled"

    def tell(self, what: str) -> None:
        """Say on the status bar what is being done."""
        if self._shown is None:
            self._shown = self.frame.createStatusIndicator()
            self._shown.start(f"costbook: {what} …", 0)
        else:
            self._shown.setText(f"costbook: {what} …")

    def done(self) -> None:
        """Give the status bar back."""
        if self._shown is not None:
            self._shown.end()
            self._shown = None

    def ours(self, title: str) -> Any:
        """The sheet of ours with a title, whatever its tab is called now; None without one."""
        mark = f"costbook_sheet_{title.replace(' ', '_')}"
        sheets = (self.document.Sheets.getByName(tab) for tab in self.document.Sheets.ElementNames)
        return next((sheet for sheet in sheets if sheet.NamedRanges.hasByName(mark)), None)

    def selected(self) -> tuple[str, str]:
        """The selected cell, as `Sheet!A1`, and its formula; the first of several cells."""
        chosen = self.document.CurrentSelection
        if not hasattr(chosen, "RangeAddress"):
            return "", ""
        cell = chosen.getCellByPosition(0, 0)
        address = cell.AbsoluteName.rpartition(".")[2].replace("$", "")
        return f"{chosen.Spreadsheet.Name}!{address}", cell.Formula

    def named(self) -> str:
        """The text of the selected cell; else the first text in its row."""
        selected = self.document.CurrentSelection
        if not hasattr(selected, "RangeAddress"):
            return ""
        at, sheet = selected.RangeAddress, selected.Spreadsheet
        row = sheet.getCellRangeByPosition(0, at.StartRow, at.StartColumn, at.StartRow)
        values = row.getDataArray()[0]
        texts = (value for value in (values[-1], *values) if isinstance(value, str) and value)
        return next(texts, "")

    def go_to(self, sheet: str, cell: str) -> None:
        """Show a cell, if it is there."""
        sheets = self.document.Sheets
        if sheets.hasByName(sheet):
            controller, there = self.document.CurrentController, sheets.getByName(sheet)
            controller.setActiveSheet(there)
            controller.select(there.getCellRangeByName(cell or "A1"))

    def open_copy(self, said: dict[str, Any]) -> None:
        """Open a workbook that was made, as one that has no name yet."""
        url = uno.systemPathToFileUrl(said["book"])
        desktop = self.service("com.sun.star.frame.Desktop")
        desktop.loadComponentFromURL(url, "_blank", 0, properties(AsTemplate=True))

    def later(self, do: Callable[[], None]) -> None:
        """Have something done by LibreOffice's own thread, when it has time."""
        self.service("com.sun.star.awt.AsyncCallback").addCallback(_Then(do), None)


class _Then(unohelper.Base, XCallback):  # type: ignore[misc]  # uno carries no types
    """What LibreOffice calls when it has time."""

    def __init__(self, do: Callable[[], None]) -> None:
        self._do = do

    def notify(self, _data: Any) -> None:
        """Do it."""
        self._do()
