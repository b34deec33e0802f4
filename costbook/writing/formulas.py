"""The formula of every cell of Workings: the third reading of ``definitions.workings``.

A column's formula is worked out once, with ``{names}`` for what differs from row to row, and
filled in for each row.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from costbook.book import Book, Record
from costbook.costing.ledger import DAYS_IN_YEAR, NEAR, NOBODY
from costbook.costing.names import item_keys
from costbook.costing.rows import Row, Structure
from costbook.definitions.columns import (
    Column,
    Computed,
    Discounts,
    FirstRank,
    FirstText,
    Given,
    Key,
    LatestPack,
    LatestRank,
    LeastWhere,
    LookedUp,
    Renamed,
    RowsNow,
    Table,
    Today,
    Totalled,
    TotalledWhere,
    UnitFact,
    UnitRow,
    Worth,
    YearSpend,
)
from costbook.definitions.fields import InputSheet, Kind
from costbook.definitions.rules import ROWS_IN_RANK
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.workings import TABLES, WORTHS
from costbook.writing import lookups
from costbook.writing.formula_text import guarded, printed, quoted
from costbook.writing.layout import Layout, sheet_name

__all__ = ["Formulas"]

LONGEST_LITERAL = 200
"""Characters of a name that are compared in a formula; formulas take 255 in a literal."""

ONE_ROW = ("settings", "year")
"""Tables of which every row may look up the only row."""


class Formulas:
    """Gives the formula of a cell of Workings, or None for a cell that the run writes."""

    def __init__(self, structure: Structure, layout: Layout) -> None:
        self.structure = structure
        self.layout = layout
        self.book: Book = structure.book
        self.aliased = any(key != own for key, own in item_keys(self.book).items())
        texts = (*(reading.key for reading in self.book.readings), *self.book.asked)
        self.with_texts = {key.partition("|")[0] for key in texts}
        """The fields, as Sheet.field, in which the run found quantities typed as text."""
        self.template = lru_cache(maxsize=None)(self._template)
        self.makers: Mapping[type, Callable[[Table, Any], str]] = {
            Computed: self._computed,
            LookedUp: self._looked_up,
            Totalled: self._totalled,
            TotalledWhere: self._totalled_where,
            FirstText: self._first_text,
            UnitFact: self._unit_fact,
            Worth: self._worth,
            LatestRank: self._latest_rank,
            LatestPack: self._latest_pack,
            FirstRank: self._first_rank,
            YearSpend: self._year_spend,
            LeastWhere: self._least_where,
            Discounts: self._discounts,
        }

    def of(self, row: Row, column: Column) -> str | None:
        """The formula of a cell, with its equals sign."""
        how = column.how
        if isinstance(how, Today):
            return None if self.structure.on_given else "=TODAY()"
        if column.name in row.fixed:
            return None
        if isinstance(how, Given | Key | UnitRow | Renamed):
            text = self._from_person(row, how)
            return f"={text}" if text else None
        if isinstance(how, RowsNow):
            return f"={self._rows_now(row)}"
        if not self._has_what_it_reads(row, how):
            return None
        template = self.template(row.table, column.name)
        return template.format_map(self._numbers(row)) if template else None

    def _has_what_it_reads(self, row: Row, how: Any) -> bool:
        """Without a linked row, or rows of its own, a cell is a constant."""
        if isinstance(how, LookedUp):
            return how.table in ONE_ROW or how.table in row.links
        if isinstance(how, Worth):
            return how.table in row.links
        if isinstance(how, Totalled | TotalledWhere | FirstText):
            return bool(row.children.get(how.table))
        if isinstance(how, LatestRank | LatestPack | FirstRank | Discounts | YearSpend):
            return self.layout.count["purchases"] > 0
        return True

    def _numbers(self, row: Row) -> dict[str, int]:
        """The row numbers that a template leaves open."""
        numbers = {"r": self.layout.row_number(row)}
        for table, link in row.links.items():
            numbers[f"L_{table}"] = self.layout.row_number(link)
        for table, children in row.children.items():
            first = self.layout.first[table]
            numbers[f"F_{table}"] = first + children.start
            numbers[f"T_{table}"] = first + children.stop - 1
            numbers[f"N_{table}"] = len(children)
        return numbers

    def _template(self, table: str, column: str) -> str:
        here = TABLES[table]
        how = here.columns[here.index[column]].how
        maker = self.makers.get(type(how))
        return f"={maker(here, how)}" if maker else ""

    def _cell(self, table: Table, name: str) -> str:
        """A column of the same row, else a setting."""
        if name in table.index:
            prefix = self.prefix(table.name, name)
            return f"{prefix}{self.layout.letter(table.name, name)}{{r}}"
        setting = self.structure.one("settings")
        letter = self.layout.letter("settings", name)
        prefix = self.prefix("settings", name)
        return f"{prefix}${letter}${self.layout.row_number(setting)}"

    def prefix(self, table: str, column: str) -> str:
        """The sheet on which a column stands, as formulas write it; nothing for this one."""
        del table, column
        return ""

    # ------------------------------------------------------------ within Workings

    def _computed(self, table: Table, how: Computed) -> str:
        def cell_of(name: str) -> str:
            return self._cell(table, name)

        term = how.term()
        if how.meets_unknowns:
            return f'IFERROR({printed(term, cell_of)},"")'
        formula = guarded(term, how.arguments, cell_of)
        if how.nothing_of:
            nothing = self._cell(table, how.nothing_of)
            return f"IF({nothing}=0,0,{formula})"
        return formula

    def _looked_up(self, table: Table, how: LookedUp) -> str:
        letter = self.layout.letter(how.table, how.column)
        prefix = self.prefix(how.table, how.column)
        if how.table in ONE_ROW:
            return f"{prefix}${letter}${self.layout.first[how.table]}"
        return f"{prefix}{letter}{{L_{how.table}}}"

    def _totalled(self, table: Table, how: Totalled) -> str:
        cells = self._children(how.table, how.column)
        if how.known:
            return f"SUM({cells})"
        return f'IF(COUNT({cells})={{N_{how.table}}},SUM({cells}),"")'

    def _totalled_where(self, table: Table, how: TotalledWhere) -> str:
        keys, cells = (self._children(how.table, column) for column in (how.key, how.column))
        return lookups.total_where(keys, self._cell(table, how.key), cells)

    def _first_text(self, table: Table, how: FirstText) -> str:
        cells = self._children(how.table, how.column)
        return lookups.found_at(cells, '"?*"', cells)

    def _children(self, table: str, column: str) -> str:
        letter = self.layout.letter(table, column)
        return f"{self.prefix(table, column)}{letter}{{F_{table}}}:{letter}{{T_{table}}}"

    def _unit_fact(self, table: Table, how: UnitFact) -> str:
        at = self._cell(table, how.unit_row)
        facts = self.layout.column_range("units", how.column)
        return f"IF(ISNUMBER({at}),INDEX({facts},{at}),{lookups.literal(how.without)})"

    def _worth(self, table: Table, how: Worth) -> str:
        measure = self._cell(table, how.measure)
        first, last = (self.layout.letter(how.table, WORTHS[at]) for at in (0, -1))
        link = f"{{L_{how.table}}}"
        return f'IF(ISNUMBER({measure}),INDEX({first}{link}:{last}{link},{measure}),"")'

    def _latest_rank(self, table: Table, how: LatestRank) -> str:
        column = self.layout.column_range
        criteria = [(column("purchases", "item_key"), self._cell(table, how.key))]
        if how.supplier:
            criteria.append((column("purchases", "supplier_key"), self._cell(table, how.supplier)))
        up_to = self._cell(table, how.up_to)
        latest = lookups.latest_rank(up_to, ROWS_IN_RANK, column("purchases", "rank"), criteria)
        if not how.supplier:
            return latest
        supplier = self._cell(table, how.supplier)
        return f'IF({supplier}="{NOBODY}",IF(ISNUMBER({up_to}),0,""),{latest})'

    def _latest_pack(self, table: Table, how: LatestPack) -> str:
        column = self.layout.column_range
        held, sizes = self._cell(table, how.held), column("purchases", "pack_held")
        up_to = self._cell(table, how.up_to)
        criteria = [
            (column("purchases", "item_key"), self._cell(table, how.key)),
            (column("purchases", "supplier_key"), self._cell(table, how.supplier)),
            (sizes, f'">"&{held}*{1 - NEAR}'),
            (sizes, f'"<"&{held}*{1 + NEAR}'),
        ]
        latest = lookups.latest_rank(up_to, ROWS_IN_RANK, column("purchases", "rank"), criteria)
        return f'IF(ISNUMBER({held}),{latest},"")'

    def _first_rank(self, table: Table, how: FirstRank) -> str:
        column = self.layout.column_range
        ranks, keys = column("purchases", "rank"), column("purchases", "item_key")
        return f"_xlfn.MINIFS({ranks},{keys},{self._cell(table, how.key)})"

    def _year_spend(self, table: Table, how: YearSpend) -> str:
        column = self.layout.column_range
        day, supplier = self._cell(table, how.day), self._cell(table, how.supplier)
        days = column("purchases", "day")
        total = (
            f"SUMIFS({column('purchases', 'line_total')},{column('purchases', 'supplier_key')},"
            f'{supplier},{days},">"&({day}-{DAYS_IN_YEAR}),{days},"<="&{day})'
        )
        return f'IF(ISNUMBER({day}),{total},"")'

    def _least_where(self, table: Table, how: LeastWhere) -> str:
        if not self.layout.count[how.table]:
            return "0"
        column = self.layout.column_range
        values, keys, sizes = (column(how.table, name) for name in (how.column, how.key, how.size))
        key, size = self._cell(table, how.key), self._cell(table, how.size)
        least = f'_xlfn.MINIFS({values},{keys},{key},{sizes},"<"&{size})'
        return f"IF(ISNUMBER({size}),{least},0)"

    def _discounts(self, table: Table, how: Discounts) -> str:
        column = self.layout.column_range
        pairs = ",".join(
            f"{column('purchases', name)},{self._cell(table, where)}"
            for name, where in (
                ("item_key", how.key),
                ("supplier_key", how.supplier),
                ("day", how.day),
            )
        )
        total = f"SUMIFS({column('purchases', 'discount')},{pairs})"
        return f'IF(ISNUMBER({self._cell(table, how.day)}),{total},"")'

    # ------------------------------------------------------------ from the person's cells

    def _rows_now(self, row: Row) -> str:
        sheet = self.book.sheets[str(row.fixed["sheet"])]
        return f"COUNTA({sheet_name(sheet.tab)}!${sheet.named_in}:${sheet.named_in})"

    def _renamed(self, row: Row, how: Renamed, cell_of: Callable[[str], str]) -> str:
        """0 while each name, and each quantity typed as text, is still one that was costed."""
        record = row.sources.get(how.sheet)
        names = [(cell_of(name), record.text(name)) for name in how.fields] if record else []
        tests = [
            f"{lookups.text_of(cell)}={quoted(text)}"
            for cell, text in names
            if cell and len(text) <= LONGEST_LITERAL
        ]
        sheet = INPUT_SHEETS[how.sheet]
        for name in how.quantities:
            if cell := cell_of(name):
                key = self._reading_key(sheet, name, cell_of)
                keys = self.layout.column_range("readings", "key") if key else ""
                tests.append(lookups.text_was_seen(cell, key, keys))
        return f"IFERROR(IF(AND({','.join(tests)}),0,1),1)" if tests else ""

    def _from_person(self, row: Row, how: Given | Key | UnitRow | Renamed) -> str:
        """The formula over the person's cell; empty where there is no cell to look at."""
        cell_of = self._person_cells(row, how)
        sheet = INPUT_SHEETS[how.sheet]
        if isinstance(how, Key):
            return self._key(how, cell_of(how.field))
        if isinstance(how, UnitRow):
            return self._unit_row(sheet, how, cell_of)
        if isinstance(how, Renamed):
            return self._renamed(row, how, cell_of)
        return self._given(row, sheet, how, cell_of)

    def _person_cells(self, row: Row, how: Given | Key | UnitRow | Renamed) -> Callable[[str], str]:
        """The address of each of a row's cells on a sheet of the person's, or nothing."""
        sheet = self.book.sheets.get("Purchases")
        if how.sheet == "Purchases" and sheet is not None:
            number = f"{self.layout.letter(row.table, getattr(how, 'at_row', '') or 'row_number')}"
            at = f"{number}{self.layout.row_number(row)}"
            tab = sheet_name(sheet.tab)

            def bought(name: str) -> str:
                letter = sheet.columns.get(name)
                return f"INDEX({tab}!${letter}:${letter},{at})" if letter else ""

            return bought
        record = row.sources.get(how.sheet)
        if record is None:
            return lambda name: ""
        tab = sheet_name(self.book.sheets[how.sheet].tab)
        cells = record.cells
        return lambda name: f"{tab}!{cells[name]}" if name in cells else ""

    def _key(self, how: Key, cell: str) -> str:
        if not cell:
            return ""
        key = lookups.key_of(cell)
        if how.field == "item" and self.aliased:
            column = self.layout.column_range
            own, other = column("aliases", "item_key"), column("aliases", "other_key")
            key = lookups.found_at(own, key, other, key)
        return f'IFERROR({key},"{NOBODY}")'

    def _reading(
        self, sheet: InputSheet, name: str, cell_of: Callable[[str], str], what: str
    ) -> str:
        """What a text was read as, where the field has texts that were read; else empty text."""
        key = self._reading_key(sheet, name, cell_of)
        if not key:
            return '""'
        column = self.layout.column_range
        return lookups.found_at(column("readings", what), key, column("readings", "key"))

    def _reading_key(self, sheet: InputSheet, name: str, cell_of: Callable[[str], str]) -> str:
        """What a text is looked up by; nothing where the field has no texts, or no cell."""
        cell = cell_of(name)
        if not cell or f"{sheet.title}.{name}" not in self.with_texts:
            return ""
        field = sheet.field(name)
        beside = [cell_of(each) or '""' for each in field.goes_with]
        return lookups.reading_at(field, sheet.title, cell, beside)

    def _unit_row(self, sheet: InputSheet, how: UnitRow, cell_of: Callable[[str], str]) -> str:
        cell = cell_of(how.field)
        spellings = self.layout.column_range("units", "spelling")
        typed = lookups.unit_at(cell, spellings) if cell else '""'
        in_text = self._reading(sheet, how.text_in, cell_of, "unit")
        if in_text == '""':
            return typed if cell else ""
        brought = f'IFERROR(MATCH({in_text},{spellings},0),"")'
        return f'IFERROR(IF(TRIM({cell})<>"",{typed},{brought}),"")' if cell else brought

    def _given(self, row: Row, sheet: InputSheet, how: Given, cell_of: Callable[[str], str]) -> str:
        cell = cell_of(how.field)
        field = sheet.field(how.field)
        blank = self._blank(row, sheet, how, cell_of)
        if not cell:
            return blank if how.stands_in or (how.count_in and blank != '""') else ""
        if field.kind in (Kind.TEXT, Kind.NAME, Kind.UNIT):
            text = lookups.text_of(cell)
            return f'IFERROR({text},"")' if how.blank == "" else f'IF({text}="",{blank},{text})'
        if field.kind is Kind.CHOICE:
            column = self.layout.column_range
            words = {name: column("choices", name) for name in ("key", "meaning")}
            return lookups.choice_of(sheet.title, field, cell, blank, words)
        otherwise = self._reading(sheet, how.field, cell_of, "value")
        refused = self._record_of(row, how)
        number = refused.refused.get(how.field) if refused else None
        return lookups.date_or_number_of(field, cell, blank, otherwise, number)

    def _record_of(self, row: Row, how: Given) -> Record | None:
        return row.sources.get(how.sheet)

    def _blank(self, row: Row, sheet: InputSheet, how: Given, cell_of: Callable[[str], str]) -> str:
        """What a blank cell means, as formula text."""
        if how.stands_in:
            return self._cell(TABLES[row.table], how.stands_in).format(
                r=self.layout.row_number(row)
            )
        constant = lookups.literal(how.blank)
        if how.count_in:
            count = self._reading(sheet, how.count_in, cell_of, "count")
            if count != '""':
                return f"IF(ISNUMBER({count}),{count},{constant})"
        if how.together_with:
            cells = [cell for name in how.together_with if (cell := cell_of(name))]
            return f'IF({lookups.any_filled(cells)},{constant},"")' if cells else '""'
        return constant
