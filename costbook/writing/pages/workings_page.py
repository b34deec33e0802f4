"""Workings: the flat tables in which every rule is computed, left to right."""

from __future__ import annotations

from costbook.definitions.columns import Given, Key, UnitRow
from costbook.definitions.workings import TABLE_ORDER
from costbook.writing.description import CellContent, Look, Role, SheetDescription
from costbook.writing.formulas import Formulas
from costbook.writing.pages.page import Context

__all__ = ["workings_page"]

NOTHING = '=""'
"""What stands in the cell of an unknown that the run writes: a cell left empty would be a zero to
every formula that looks at it."""

_GIVEN = (Given, Key, UnitRow)


def workings_page(context: Context) -> SheetDescription:
    """Describe the sheet Workings."""
    sheet = SheetDescription("Workings", context.tabs["Workings"])
    sheet.widths = {0: 26, 1: 20} | dict.fromkeys(range(2, 60), 13.0)
    sheet.frozen = (2, 1)
    sheet.line("Workings: every rule, table by table, left to right", Role.TITLE)
    sheet.line(
        "In italics behind a dashed rule: read from your own sheets. Everything else is computed "
        "from there; the rules stand in words on About.",
        Role.NOTE,
    )
    structure, layout, costing = context.costing.structure, context.layout, context.costing
    formulas = Formulas(structure, layout)
    for table in TABLE_ORDER:
        at = layout.first[table.name] - 1
        sheet.put(at - 2, 0, table.title, Look(Role.SECTION))
        looks = []
        for number, column in enumerate(table.columns):
            sheet.put(at - 1, number, column.heading, Look(Role.HEADING))
            role = Role.GIVEN if isinstance(column.how, _GIVEN) else Role.COMPUTED
            looks.append(Look(role, column.show))
        columns = tuple(zip(range(len(looks)), table.columns, looks, strict=True))
        for row, figures in zip(
            structure.rows[table.name], costing.figures[table.name], strict=True
        ):
            cells = sheet.rows.setdefault(at, [])
            for number, column, look in columns:
                formula = formulas.of(row, column)
                value = figures[column.name]
                if not formula and value in (None, ""):
                    formula = NOTHING
                cells.append(CellContent(at, number, look, value, formula or ""))
            at += 1
    sheet.next_row = at
    return sheet
