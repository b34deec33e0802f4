"""ironcalc as a judge: a second opinion, and the only one where there is no LibreOffice.

What it can't do, found by trying version 0.9.1 (`test_judges.py` pins each, so that a better
version is noticed):

- It drops brackets when it loads `(a>b)=(c>d)`, `a&(b=c)` and `(a-b)%`, and computes another thing.
- A range given to a function of one value (EXACT, LEN, ISNUMBER) is cut to one cell, also inside
  SUMPRODUCT; operators on ranges are fine, and so is a formula written as an array formula.
- TEXTJOIN does not skip empty texts; TEXT does not round 2.005 as Excel does; `""&1/3` shows 16
  digits; `~` in a criterion of MAXIFS or SUMIFS is taken as it stands.
- MATCH and COUNTA over a whole column take a third of a second each, so the private copy has
  its whole columns cut to the used rows and some spare ones.
- It makes no PDF.
"""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Iterable
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from tests.judges import CannotJudge, Cell, ErrorValue, Setting, Value, address, position
from tests.judges.package import Package

__all__ = ["IronCalc", "IronDocument"]

SPARE_ROWS = 2_000
# A quoted text, so that nothing in it is touched, or a whole column such as $F:$F.
TEXT_OR_COLUMNS = re.compile(r'"(?:[^"]|"")*"|(?<![\w.$])(\$?[A-Z]{1,3}):(\$?[A-Z]{1,3})(?![\w.(])')


class IronCalc:
    """Opens workbooks in this process; a context manager, like the other judge.

    Raises CannotJudge where the package is not installed or refuses a file.
    """

    def __enter__(self) -> Self:
        try:
            import ironcalc
        except ImportError as problem:
            raise CannotJudge("ironcalc is missing. Get it with: pip install ironcalc") from problem
        self._ironcalc: Any = ironcalc
        self._folder = Path(tempfile.mkdtemp(prefix="costbook-ironcalc-"))
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        shutil.rmtree(self._folder, ignore_errors=True)

    def open(self, path: Path) -> IronDocument:
        """Open a copy whose whole columns are cut to the used rows and SPARE_ROWS more."""
        copy = self._folder / "book.xlsx"
        last = bound_whole_columns(path, copy)
        try:
            return IronDocument(self._ironcalc, copy, last)
        except self._ironcalc.WorkbookError as problem:
            raise CannotJudge(f"{path.name}: ironcalc refused it: {problem}") from problem


def bound_whole_columns(path: Path, out: Path) -> int:
    """Write a copy with `$F:$F` as `$F$1:$F$last`; returns that last row."""
    package = Package(path)
    last = SPARE_ROWS + max((package.last_row(sheet) for sheet in package.sheets), default=0)
    for sheet in package.sheets:
        for cell in package.formula_cells(sheet):
            cell.formula = TEXT_OR_COLUMNS.sub(lambda found: _bounded(found, last), cell.formula)
    package.write(out)
    return last


def _bounded(found: re.Match[str], last: int) -> str:
    if found[1] is None:
        return found[0]
    return f"{found[1]}$1:{found[2]}${last}"


class IronDocument:
    """One workbook open in ironcalc; only rows up to `last` can be typed into."""

    def __init__(self, ironcalc: Any, path: Path, last: int) -> None:
        self._model = ironcalc.load_from_xlsx(str(path))
        self._error = ironcalc.CellType.ErrorValue
        self._names = [sheet["name"] for sheet in self._model.get_worksheets_properties()]
        self._last = last

    def sheets(self) -> list[str]:
        """The names of the sheets, in their order."""
        return list(self._names)

    def set(self, sheet: str, cell: Cell, value: float | str | None) -> None:
        """Type a number or a text into a cell, or clear it with None."""
        place = (self._names.index(sheet), *position(cell))
        if place[1] > self._last:
            raise CannotJudge(f"{sheet}!{cell} lies below the rows that whole columns were cut to")
        if value is None or value == "":
            self._model.clear_cell_contents(*place)
        elif isinstance(value, str):
            self._model.update_cell_with_text(*place, value)
        else:
            self._model.update_cell_with_number(*place, float(value))

    def set_many(self, settings: Iterable[Setting]) -> None:
        """Type into several cells; nothing is computed until `recalculate`."""
        for sheet, cell, value in settings:
            self.set(sheet, cell, value)

    def recalculate(self) -> None:
        """Compute every formula again."""
        self._model.evaluate()

    def follow(self) -> None:
        """Compute every formula again: it has no other way."""
        self._model.evaluate()

    def values(self, sheet: str) -> dict[Cell, Value]:
        """Every cell that holds a formula, a number, a text or a truth."""
        found: dict[Cell, Value] = {}
        for place in self._cells(sheet):
            value = self._model.get_cell_value(*place)
            if self._model.get_cell_type(*place) == self._error:
                value = ErrorValue(str(value))
            if value not in ("", None) or self._model.get_cell_formula(*place) is not None:
                found[address(*place[1:])] = "" if value is None else value
        return found

    def formulas(self, sheet: str) -> dict[Cell, str]:
        """Every formula as ironcalc understood it: brackets it lost are not there."""
        texts = ((place, self._model.get_cell_formula(*place)) for place in self._cells(sheet))
        return {address(*place[1:]): text for place, text in texts if text is not None}

    def save_as(self, path: Path) -> None:
        """Write the workbook as xlsx, over a file that is there."""
        path.unlink(missing_ok=True)
        self._model.save_to_xlsx(str(path))

    def close(self) -> None:
        """Let the workbook go."""
        del self._model

    def _cells(self, sheet: str) -> list[tuple[int, int, int]]:
        wanted = self._names.index(sheet)
        return [place for place in self._model.get_all_cells() if place[0] == wanted]
