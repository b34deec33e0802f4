"""Make a large workbook that costs without a gap, the same for the same seed and size.

`python -m tests.benchmarks.generate FILE` writes 10,000 purchases, 1,000 items, 500 products and
5,000 recipe lines; `--tenth` a tenth of each; `--three-years` what two cooks have after three
years: 1,500 purchases of 120 items, 60 products at 4 outlets.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from tests.helpers import make_book

__all__ = ["FULL", "ON", "TENTH", "THREE_YEARS", "Size", "generate", "sheets"]

ON = date(2026, 11, 20)
Row = list[object]


@dataclass(frozen=True, slots=True)
class Size:
    """How many of each the book holds."""

    purchases: int
    items: int
    products: int
    lines: int
    outlets: int = 2
    days: int = 365
    packs: int = 0
    """In how many packs an item comes, at most; 0 where each receipt is of another."""

    @property
    def parts(self) -> int:
        """Recipes that are used inside others: a fifth as many as there are products."""
        return max(2, self.products // 5)

    @property
    def sold(self) -> int:
        """Recipes that are sold: four for every five products, as some are sold two ways."""
        return max(1, self.products * 4 // 5)


FULL = Size(purchases=10_000, items=1_000, products=500, lines=5_000)
TENTH = Size(purchases=1_000, items=100, products=50, lines=500)
THREE_YEARS = Size(1_500, 120, 60, 420, outlets=4, days=3 * 365, packs=3)

SUPPLIERS = tuple(f"Supplier {letter}" for letter in "ABCDEFGH")
# Units a thing of each kind is bought in, with pack sizes, and used in, with amounts of a line.
BOUGHT = {
    "weight": (("kg", 1, 25), ("lb", 1, 50), ("g", 250, 2000), ("oz", 8, 64)),
    "volume": (("l", 1, 20), ("gal", 1, 5), ("ml", 250, 2000), ("fl oz", 8, 64)),
    "piece": (("ea", 6, 60), ("dozen", 1, 15), ("ct", 6, 180)),
}
USED = {
    "weight": (("g", 20, 900), ("kg", 1, 3), ("oz", 1, 30), ("lb", 1, 4)),
    "volume": (("ml", 20, 900), ("cup", 1, 4), ("Tbsp", 1, 6), ("g", 20, 900)),
    "piece": (("ea", 1, 40), ("g", 50, 900)),
}
PACKAGING = ("Film", "Foil", "Bag", "Label")


def kind_of(item: int) -> str:
    """The kind of unit an item is bought in: seven weights to two volumes and a piece."""
    return "piece" if item % 10 == 9 else "volume" if item % 10 in (7, 8) else "weight"


def item_name(item: int) -> str:
    """An item's name; the first four are packaging."""
    return PACKAGING[item] if item < len(PACKAGING) else f"Item {item:05d}"


def part_name(part: int) -> str:
    return f"Part {part:04d}"


def sold_name(recipe: int) -> str:
    return f"Batch {recipe:04d}"


def settings() -> list[Row]:
    """Every setting a product needs."""
    return [
        ["Setting", "Value"],
        ["Currency", "USD"],
        ["Costing date", ON],
        ["Pay per hour", 15],
        ["Pay on-costs %", 0.08],
        ["Target margin %", 0.3],
        ["Price step", 0.25],
        ["Small-ingredient allowance %", 0.02],
        ["Prices stale after days", 400],
        ["Sales tax %", 0.05],
        ["Prices include sales tax", "yes"],
        ["Kitchen hire per hour", 18],
        ["Kitchen booking block minutes", 30],
        ["Batches per year", 150],
    ]


def items(size: Size, dice: random.Random) -> list[Row]:
    """Items with the bridges their lines need."""
    heading: Row = ["Item", "Kind", "Usable %", "Grams per piece", "Grams per ml"]
    rows: list[Row] = [[*heading, "Roll width", "Roll width unit", "Usual supplier"]]
    for item in range(size.items):
        if item < len(PACKAGING):
            width: Row = [18, "in"] if item_name(item) in ("Film", "Foil") else [None, None]
            rows.append([item_name(item), "packaging", None, None, None, *width, None])
            continue
        kind = kind_of(item)
        grams = dice.randint(20, 400) if kind == "piece" else None
        density = round(dice.uniform(0.4, 1.4), 3) if kind == "volume" else None
        usual = dice.choice(SUPPLIERS) if dice.random() < 0.5 else None
        usable = round(dice.uniform(0.5, 1), 2)
        rows.append([item_name(item), "ingredient", usable, grams, density, None, None, usual])
    return rows


def pack(item: int, dice: random.Random) -> tuple[int, str]:
    """A pack's size and unit."""
    if item < len(PACKAGING):
        return {"Film": (2000, "ft"), "Foil": (500, "sq ft")}.get(item_name(item), (500, "ct"))
    unit, least, most = dice.choice(BOUGHT[kind_of(item)])
    return dice.randint(least, most), unit


Bought = tuple[str, "int | None", int, str]
"""A supplier, a count, a size and its unit."""


def pack_bought(item: int, dice: random.Random) -> Bought:
    """A pack as somebody sells it."""
    amount, unit = pack(item, dice)
    return dice.choice(SUPPLIERS), dice.choice((None, None, 6)), amount, unit


def packs_of(item: int, size: Size, dice: random.Random) -> list[Bought]:
    """The packs that an item comes in, where these are few: half of the items in one only."""
    several = item % 2 and item >= len(PACKAGING)
    return [pack_bought(item, dice) for _ in range(dice.randint(2, size.packs) if several else 1)]


def purchases(size: Size, dice: random.Random) -> list[Row]:
    """Receipt lines, oldest first, every item among them."""
    rows: list[Row] = []
    few = [packs_of(item, size, dice) for item in range(size.items)] if size.packs else []
    for line in range(size.purchases):
        item = line % size.items
        amount, unit = pack(item, dice)
        day = ON - timedelta(days=dice.randint(0, size.days - 1))
        price = dice.randint(120, 6000) / 100
        other = dice.choice((None, None, None, 2.5))
        supplier, number = dice.choice(SUPPLIERS), dice.randint(1, 4)
        count = dice.choice((None, None, 6))
        if few:
            supplier, count, amount, unit = dice.choice(few[item])
        head: Row = [day, item_name(item), supplier, number]
        rows.append([*head, count, amount, unit, price, other])
    rows.sort(key=lambda row: str(row[0]))
    heading: Row = ["Date", "Item", "Supplier", "Packs", "Pack count", "Pack size", "Unit"]
    return [[*heading, "Price per pack", "Other cost"], *rows]


def bought_line(recipe: str, size: Size, dice: random.Random) -> Row:
    """A line that uses an item, over a bridge now and then."""
    item = dice.randrange(len(PACKAGING), size.items)
    unit, least, most = dice.choice(USED[kind_of(item)])
    measured = dice.choice((None, None, "as bought", "ready to use"))
    return [recipe, item_name(item), dice.randint(least, most), unit, measured]


def used_line(recipe: str, part: int, dice: random.Random) -> Row:
    """A line that uses another recipe, which makes kilos."""
    return [recipe, part_name(part), dice.randint(100, 900), "g", None]


def recipes(size: Size, dice: random.Random) -> list[Row]:
    """Lines shared out evenly; a batch may use two parts, a part one of the first ones."""
    names = [part_name(part) for part in range(size.parts)]
    names += [sold_name(recipe) for recipe in range(size.sold)]
    rows: list[Row] = []
    for at, name in enumerate(names):
        count = size.lines // len(names) + (at < size.lines % len(names))
        is_part = at < size.parts
        below = min(at, max(1, size.parts // 10)) if is_part else size.parts
        most = dice.randint(0, 1 if is_part else 2)
        used = dice.sample(range(below), min(below, count - 1, most))
        rows += [used_line(name, part, dice) for part in used]
        rows += [bought_line(name, size, dice) for _ in range(count - len(used))]
    return [["Recipe", "Uses", "Amount", "Unit", "Measured"], *rows]


def batches(size: Size, dice: random.Random) -> list[Row]:
    """Parts make kilos, what is sold makes pieces with a reject or two."""
    rows: list[Row] = [["Recipe", "Makes", "Unit", "Rejects"]]
    rows += [[part_name(part), dice.randint(2, 9), "kg", 0.1] for part in range(size.parts)]
    rows += [
        [sold_name(recipe), dice.randint(12, 60), "ea", dice.randint(0, 2)]
        for recipe in range(size.sold)
    ]
    return rows


def stages(size: Size, dice: random.Random) -> list[Row]:
    """One stage a part, three a batch that is sold."""
    heading: Row = ["Recipe", "Stage", "People", "Minutes per batch", "Minutes per unit"]
    rows: list[Row] = [[*heading, "Waiting minutes", "Overlap minutes"]]
    rows += [
        [part_name(part), "Mix", 1, dice.randint(10, 40), None, None, None]
        for part in range(size.parts)
    ]
    for recipe in range(size.sold):
        name = sold_name(recipe)
        rows.append([name, "Prepare", 1, dice.randint(10, 40), None, None, None])
        rows.append([name, "Fill", 2, 5, dice.randint(20, 90) / 100, None, None])
        rows.append([name, "Bake", 1, 6, None, dice.randint(20, 60), 10])
    return rows


def product_names(size: Size) -> list[tuple[str, str, int]]:
    """Each product, its recipe and its units per pack; the last ones are packs of six."""
    return [
        (f"Product {at:04d}", sold_name(at % size.sold), 1 if at < size.sold else 6)
        for at in range(size.products)
    ]


def packaging(size: Size, dice: random.Random) -> list[Row]:
    """A label on everything; film, foil and a bag for each product."""
    rows: list[Row] = [["Product", "Uses", "Amount", "Unit", "Per", "Spare %"]]
    rows.append(["all", "Label", 1, "ea", "pack", 0.03])
    for product, _, _ in product_names(size):
        rows.append([product, "Film", dice.randint(10, 18), "in", "unit", 0.05])
        rows.append([product, "Foil", dice.randint(8, 14), "in", "unit", None])
        rows.append([product, "Bag", 1, "ea", "pack", None])
    return rows


def products(size: Size, dice: random.Random) -> list[Row]:
    """Every product with a price now at either outlet."""
    heading: Row = ["Product", "Recipe", "Units per pack", "Not sold %", "Current price"]
    rows: list[Row] = [[*heading, "Wholesale price now"]]
    for product, recipe, units in product_names(size):
        price = dice.randint(8, 60) / 2 * units
        rows.append([product, recipe, units, dice.choice((0, 0.05, 0.08)), price, price * 0.75])
    return rows


def overheads() -> list[Row]:
    """One of each kind."""
    return [
        ["Cost", "Amount", "Per", "Share %"],
        ["Insurance", 420, "year", None],
        ["Phone", 40, "month", 0.5],
        ["Cleaning", 3.5, "batch", None],
        ["Ice", 6, "market day", None],
    ]


def outlets(size: Size) -> list[Row]:
    """A stall and a café, by turns."""
    day: Row = ["Fee per day", "Hours per day", "Miles per day", "Cost per mile", "Other per day"]
    sold: Row = ["Units sold per day", "Days per year", "Card share %", "Card fee %"]
    last: Row = ["Card fixed fee", "Units per sale", "Their margin %", "Target margin %"]
    stall: Row = ["stall", 35, 6, 24, 0.7, 5, 140, 46, 0.6, 0.026, 0.1, 3, None, None]
    cafe: Row = ["wholesale", 0, 0.75, 6, 0.7, 0, 30, 50, None, None, None, 1, 0.4, 0.25]
    names = ("Market", "Café", "Fair", "Bistro")[: size.outlets]
    rows = [[name, *(cafe if at % 2 else stall)] for at, name in enumerate(names)]
    return [["Outlet", "Kind", *day, *sold, *last], *rows]


def sheets(size: Size = FULL, seed: int = 2026) -> dict[str, list[Row]]:
    """All sheets of the book as rows; each sheet has dice of its own, so none shifts another."""
    made: dict[str, Callable[[Size, random.Random], list[Row]]] = {
        "Purchases": purchases,
        "Items": items,
        "Recipes": recipes,
        "Batches": batches,
        "Stages": stages,
        "Packaging": packaging,
        "Products": products,
    }
    rolled = {name: rows(size, random.Random(f"{seed} {name}")) for name, rows in made.items()}
    return {"Settings": settings(), **rolled, "Overheads": overheads(), "Outlets": outlets(size)}


def generate(path: Path | str, size: Size = FULL, seed: int = 2026) -> Path:
    """Write the book of that size to the path."""
    return make_book(path, sheets(size, seed))


def main(words: Sequence[str] | None = None) -> int:
    """Write one book, as the command line says."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--tenth", action="store_true", help="a tenth of each")
    parser.add_argument("--three-years", action="store_true", help="the book of two cooks")
    parser.add_argument("--seed", type=int, default=2026)
    given = parser.parse_args(words)
    size = TENTH if given.tenth else THREE_YEARS if given.three_years else FULL
    generate(given.file, size, given.seed)
    print(f"wrote {given.file}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
