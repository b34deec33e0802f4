"""The formulas of Trial workings: the same rules again, over what is typed on Try a change.

Only columns that a trial reaches are computed again; everything else is read from Workings. Each
stands at the address it has there.
"""

from __future__ import annotations

from collections.abc import Mapping

from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.definitions.affected import TRIAL_CHANGES, trial_columns
from costbook.definitions.columns import Column
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.writing.formulas import Formulas
from costbook.writing.layout import Layout, sheet_name
from costbook.writing.lookups import within

__all__ = ["TrialFormulas", "TypedCells"]

TypedCells = Mapping[tuple[str, int], str]
"""Where a trial value is typed: ("price", index of the item) or (setting, 0) → its address."""


class TrialFormulas(Formulas):
    """Gives the formula of a cell of Trial workings."""

    def __init__(self, costing: Costing, layout: Layout, typed: TypedCells) -> None:
        super().__init__(costing, layout)
        self.typed = typed
        self.columns = trial_columns()

    def prefix(self, table: str, column: str) -> str:
        """Nothing for a column that is computed again, else Workings."""
        return "" if (table, column) in self.columns else f"{sheet_name(self.layout.tab)}!"

    def of(self, row: Row, column: Column) -> str | None:
        """The formula of a cell, with its equals sign; what may be typed comes first."""
        if (row.table, column.name) not in TRIAL_CHANGES:
            return super().of(row, column)
        today = self.layout.absolute(row, column.name)
        if row.table == "settings":
            return self._setting(column, today)
        cell = self.typed[("price", row.index)]
        return f'=IF(ISNUMBER({cell}),IF({cell}<0,"",{cell}),{today})'

    def _setting(self, column: Column, today: str) -> str:
        cell = self.typed[(column.name, 0)]
        field = INPUT_SHEETS["Settings"].field(column.name)
        return f"=IF(ISNUMBER({cell}),{within(field, cell)},{today})"
