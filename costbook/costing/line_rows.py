"""Rows for the lines of a recipe or a product: what goes into it, and what is done for it.

Which table has which lines is declared (``LinesOf``). A row of nobody's is given to each that it
may belong to, with its cost left open.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from functools import cache
from typing import Final

from costbook.book import Record, Value, as_key
from costbook.costing.names import grouped
from costbook.costing.row_builder import RowBuilder
from costbook.costing.rows import Row
from costbook.costing.strays import Strays
from costbook.definitions.columns import Table
from costbook.definitions.row_sources import LinesOf
from costbook.definitions.sheets import EVERY_PRODUCT, EVERY_PRODUCT_TOO, INPUT_SHEETS
from costbook.definitions.workings import TABLES

__all__ = ["LineRows"]

_EVERY_PRODUCT: Final = frozenset(as_key(word) for word in (EVERY_PRODUCT, *EVERY_PRODUCT_TOO))

Links = Mapping[str, Row | None]


class LineRows:
    """Adds the rows of all tables that are declared to have the lines of another table's rows."""

    def __init__(self, builder: RowBuilder, aliases: Mapping[str, str]) -> None:
        self.builder, self.aliases = builder, aliases
        self.strays = Strays(builder.book)
        self.owned = {
            sheet: self._by_owner(sheet)
            for sheet in dict.fromkeys(how.sheet for _, how in _declared())
        }
        named = builder.book.records("Products")
        self.anybodys = _EVERY_PRODUCT - {as_key(each.text("product")) for each in named}
        self.items: Mapping[str, Row] = {}
        self.batches: Mapping[str, Row] = {}
        self.recipes: Mapping[str, Row] = {}
        self.cut: Container[tuple[str, str]] = ()
        """Recipes, each with one that it uses and that comes round to it."""
        self.whose: dict[tuple[str, str], str] = {}
        """By sheet and name, the table of whom its lines are: the first that has the name."""

    def _by_owner(self, sheet: str) -> Mapping[str, list[Record]]:
        own = (each for each in self.builder.book.records(sheet) if each not in self.strays)
        return grouped(own, INPUT_SHEETS[sheet].naming_field.name)

    def add(self, of: str, key: str, name: Value, links: Links) -> dict[str, range]:
        """Add the rows of one recipe's lines, or of a product's; which are its, by table.

        ``links`` are those of which its lines may have some.
        """
        found = {}
        for table, how in _declared():
            if how.table == of:
                first = len(self.builder.rows[table.name])
                for record in self._lines(how, key):
                    self._add(table, how, record, (key, name), links)
                found[table.name] = range(first, len(self.builder.rows[table.name]))
        return found

    def _lines(self, how: LinesOf, key: str) -> Iterator[Record]:
        if self.whose.setdefault((how.sheet, key), how.table) != how.table:
            return
        names = (key, *self.anybodys) if how.shared else (key,)
        lines = [line for name in names for line in self.owned[how.sheet].get(name, ())]
        yield from sorted(lines, key=lambda line: line.row)
        yield from self.strays.of(how.sheet, key)

    def _add(
        self, table: Table, how: LinesOf, record: Record, owner: tuple[str, Value], links: Links
    ) -> None:
        of, name = owner
        is_stray = record in self.strays
        used = as_key(record.text("uses"))
        uses_recipe = used in self.batches and how.sheet == "Recipes"
        if uses_recipe != (how.uses == "recipes"):
            return  # it stands in the other table of the sheet's lines
        if uses_recipe and is_stray and used == of:
            return
        fixed: dict[str, Value] = {table.columns[0].name: name}
        fixed[table.about] = record.text(table.about)
        own = {each: links[each] for each in how.links}
        if how.uses == "recipes" and not is_stray:
            # a recipe that comes round to itself has no cost: its row is left without a link
            recipe = None if (of, used) in self.cut else self.recipes[used]
            own |= {"batches": self.batches[used], "recipes": recipe}
        if how.uses == "items":
            fixed["item_key"] = item = self.aliases.get(used, used)
            row = self.items.get(item)
            own |= {"prices_now": row.links["prices_now"] if row else None, "items": row}
        if is_stray:
            fixed |= self.strays.left_open(table.name, record)
        self.builder.add(table.name, fixed, {how.sheet: record}, own)


@cache
def _declared() -> tuple[tuple[Table, LinesOf], ...]:
    """The tables of lines, and what each says of them."""
    every = TABLES.values()
    return tuple((each, each.rows) for each in every if isinstance(each.rows, LinesOf))
