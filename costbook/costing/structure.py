"""Book → rows of Workings: which rows there are, and which belongs to which.

Nothing is computed here. A row knows its fixed cells, the person's records it reads, the rows it
is linked to, and the rows that belong to it. What a table's declaration says of its rows is done by
``row_builder``; here are those that follow from one another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from itertools import groupby

from costbook.book import NOBODY, Book, Value, as_key
from costbook.costing.batch_rows import WORTH, BatchRows
from costbook.costing.buy_rows import add_buy_rows
from costbook.costing.line_rows import LineRows
from costbook.costing.names import (
    first_of,
    item_keys,
    item_names,
    text_rows,
)
from costbook.costing.needs import NeedRows
from costbook.costing.pack_rows import PackRows
from costbook.costing.plan_rows import PlanRows
from costbook.costing.product_rows import ProductRows
from costbook.costing.recipe_order import in_order, used_by
from costbook.costing.row_builder import RowBuilder, in_computing_order
from costbook.costing.rows import Row, Structure
from costbook.costing.since_rows import add_rows_since, costing_date
from costbook.costing.stock_names import slips_of
from costbook.costing.year_rows import add_year_rows
from costbook.definitions.currencies import minor_unit
from costbook.definitions.marks import MARKS
from costbook.definitions.workings import LOGS

__all__ = ["Row", "Structure", "lay_out"]

_PLAIN_COIN = 2
"""Decimal places of money where the currency is unknown."""


def lay_out(
    book: Book, today: date, on: date | None = None, since: date | None = None
) -> Structure:
    """Lay out the rows of every table.

    ``on`` is a costing date given by the command; else Settings' own, else today. ``since`` is
    the day that price changes are shown since; else some weeks before the costing date.
    """
    return _Layout(book, today, on, since).build()


class _Layout(RowBuilder):
    """Lays out the rows, each after those it is linked to."""

    def __init__(self, book: Book, today: date, on: date | None, since: date | None) -> None:
        super().__init__(book)
        self.today, self.on = today, on
        self.settings = next(iter(book.records("Settings")), None)
        self.costed_on = costing_date(book, today, on)
        self.since = since
        self.aliases = item_keys(book)
        self.item_records = first_of(book.records("Items"), "item")
        self.batch_records = first_of(book.records("Batches"), "recipe")
        self.product_records = first_of(book.records("Products"), "product")
        self.lines = LineRows(self, self.aliases)
        self.recipe_lines = self.lines.owned["Recipes"]
        self.names: dict[str, str] = {}

    def build(self) -> Structure:
        self._settings()
        for table, fixed in text_rows(self.book, self.aliases, self.declared):
            self.add(table, fixed)
        self.add_rows_of_sheets()
        self._items()
        self._batches()
        self._recipes()
        self._products()
        self._stock()
        PlanRows(self).add_all(self.products, self.recipes)
        self._packs_compared()
        add_year_rows(self, self.costed_on, self.aliases)
        self.add_pairs()
        self._firsts_of_recipes()
        self._on_sale()
        add_rows_since(self.add, self.rows, self.book)
        self.add_single_rows()
        return Structure(
            self.book,
            self.costed_on,
            self.on is not None,
            self.rows,
            in_computing_order(self.added),
            self.loops,
            {log: {each.row: each for each in self.book.records(log)} for log in LOGS},
        )

    def _settings(self) -> None:
        currency = self.settings.text("currency") if self.settings else ""
        places = minor_unit(currency)
        coin = Decimal(1).scaleb(-(_PLAIN_COIN if places is None else places))
        today = self.book.day_number(self.today)
        fixed: dict[str, Value] = {"today": today, "minor_unit": coin}
        fixed |= MARKS
        for sheet in ("Stages", "Packaging", "Overheads", "Outlets"):
            rows = len(self.book.records(sheet))
            fixed[f"rows_on_{sheet.lower()}"] = Decimal(rows) if rows else None
        if self.since:
            fixed["moved_since"] = self.book.day_number(self.since)
        if self.on:
            fixed["costed_on"] = self.book.day_number(self.on)
        self.add("settings", fixed, {"Settings": self.settings})

    def _items(self) -> None:
        used_as_recipe = self.recipe_lines.keys() | self.batch_records.keys()
        names = item_names(self.book, self.aliases, used_as_recipe)
        self.now: dict[str, Row] = {}
        self.items: dict[str, Row] = {}
        self.needs = NeedRows(self.add, self.rows, self.items, self._items_in)
        for key, name in names.items():
            record = self.item_records.get(key)
            own_name = record.text("item") if record else name
            fixed: dict[str, Value] = {"item": own_name, "item_key": key}
            sources = {"Items": record}
            self.now[key] = now = self.add("prices_now", fixed, sources)
            asked = {"usable_share": None} if key in self.book.shares_asked else {}
            worths: dict[str, Value] = {"item": own_name, **WORTH, **asked}
            self.items[key] = self.add("items", worths, sources, {"prices_now": now})
            now.links["items"] = self.items[key]
        self.add_rows_of("prices_now")

    def _batches(self) -> None:
        rows = BatchRows(self.add, self.book, self.product_records)
        names = ((key, self._recipe_name(key)) for key in self._recipe_order())
        rows.add_all(names, self.item_records)
        self.batches, self.packs, self.packs_of = rows.batches, rows.packs, rows.packs_of

    def _recipe_name(self, key: str) -> str:
        if key not in self.names:
            record = self.batch_records.get(key) or self.recipe_lines[key][0]
            self.names[key] = record.text("recipe")
        return self.names[key]

    def _items_in(self, recipe: str) -> Iterator[str]:
        """The keys of the items that go into a recipe, itself or through others."""
        found, waiting = {recipe}, [recipe]
        while waiting:
            for line in self.recipe_lines.get(waiting.pop(), ()):
                used = as_key(line.text("uses"))
                if used not in self.batches:
                    yield self.aliases.get(used, used)
                elif used not in found:
                    found.add(used)
                    waiting.append(used)

    def _recipe_order(self) -> list[str]:
        """The keys of all recipes, each after those it uses."""
        uses = used_by(self.recipe_lines, self.batch_records)
        order, cut = in_order(uses)
        self.lines.cut = cut
        self.loops = [tuple(self._recipe_name(key) for key in loop) for loop in cut.values()]
        return order

    def _recipes(self) -> None:
        self.recipes: dict[str, Row] = {}
        self.lines.items, self.lines.batches = self.items, self.batches
        self.lines.recipes = self.recipes
        for key, batch in self.batches.items():
            name, links = batch.fixed["recipe"], {"batches": batch, "packs": self.packs_of.get(key)}
            # the row computes after its own lines, which stand just before it in the order
            its = self.lines.add("recipes", key, name, links)
            count = Decimal(len(self.recipe_lines.get(key, ())))
            self.recipes[key] = row = self.add(
                "recipes", {"recipe": name, "lines": count}, {}, {"batches": batch}
            )
            row.children = its
            self.needs.of_a_recipe(row)
            self.add_rows_with(row)

    def _products(self) -> None:
        rows = ProductRows(self.add, self.lines, self.now)
        for key, record in self.product_records.items():
            rows.add(self.packs[key], key, record, self.recipes, self.needs)
            self.add_rows_with(rows.products[key])
        self.products = rows.products

    def _stock(self) -> None:
        """The names that may be meant for a product of which the freezer's rows are asked."""
        for column, slips in slips_of(self.book).items():
            for row in self.rows["freezer"]:
                row.fixed[column] = slips.get(as_key(str(row.fixed["product"])), NOBODY)

    def _firsts_of_recipes(self) -> None:
        """Link what moved of a product to that of the first one of its recipe at the outlet."""
        firsts: dict[tuple[int, int], Row] = {}
        for row in self.rows["moves"]:
            recipe = row.links["products"].links.get("recipes")
            if recipe:
                first = firsts.setdefault((row.links["outlets"].index, recipe.index), row)
                if first is not row:
                    row.links["moves"] = first

    def _packs_compared(self) -> None:
        rows = PackRows(self.add, self.rows, self.items, self.now, self.item_records)
        until = self.book.day_number(self.costed_on)
        rows.add_all(self.book, self.aliases, until)
        self.add_rows_of("packs_bought")
        self.add_rows_of("packs_seen")
        add_buy_rows(self, self.items, rows.use, self.item_records)

    def _on_sale(self) -> None:
        """How many products each outlet has, and the prices of what each pack takes."""
        prices = self.rows["prices"]
        sold = Counter(price.links["outlets"].index for price in prices)
        for outlet in self.rows["outlets"]:
            outlet.fixed["products_sold"] = Decimal(sold[outlet.index])
        first = 0
        for product, its in groupby(prices, lambda price: price.links["products"].index):
            here = range(first, first := first + len(list(its)))
            for at in self.rows["products"][product].children["pack_needs"]:
                self.rows["pack_needs"][at].children["prices"] = here
