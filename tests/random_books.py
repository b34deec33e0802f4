"""Whole workbooks drawn at random: several suppliers, recipes in recipes, outlets, gaps.

Every cell is clean (a number, a date, a plain unit), so that what varies is the shape of a
business. A share is written now as 15, now as 0.15. Each sheet keeps all its columns.
"""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import Final

from tests.oracle import UNITS
from tests.tables import Sheets

__all__ = ["COSTED_ON", "random_book"]

COSTED_ON: Final = date(2026, 11, 25)

Cells = list[object]

_HEADINGS: Final = {
    "Settings": "Setting|Value",
    "Purchases": "Date|Item|Supplier|Packs|Pack count|Pack size|Unit|Price per pack|Other cost",
    "Items": "Item|Usable %|Grams per piece|Grams per ml|Roll width|Roll width unit|Usual supplier",
    "Recipes": "Recipe|Uses|Amount|Unit|Measured|Usable %",
    "Batches": "Recipe|Makes|Unit|Rejects",
    "Stages": "Recipe|Stage|People|Minutes per batch|Minutes per unit|Waiting minutes"
    "|Overlap minutes|Pay per hour",
    "Packaging": "Product|Uses|Amount|Unit|Per|Spare %",
    "Products": "Product|Recipe|Units per pack|Not sold %|Current price|Wholesale price now"
    "|Target margin %|Net weight|Net weight unit|Sold at",
    "Overheads": "Cost|Amount|Per|Share %",
    "Outlets": "Outlet|Kind|Fee per day|Hours per day|Miles per day|Cost per mile|Other per day"
    "|Units sold per day|Days per year|Commission %|Card share %|Card fee %|Card fixed fee"
    "|Units per sale|Their margin %|Target margin %",
    "Offers": "Item|Supplier|Pack count|Pack size|Unit|Price per pack|Delivery|Least packs",
    "Suppliers": "Supplier|Membership per year|Trip cost|Trips per year",
}
_BY_KIND: Final = {
    kind: [unit for unit, (its_kind, _) in UNITS.items() if its_kind == kind]
    for kind in ("mass", "volume", "piece", "length", "area")
}
_FOODS: Final = ("Flour", "Oil", "Eggs", "Beans", "Leeks", "Milk", "Salt")
_WRAPPERS: Final = ("Film", "Foil", "Labels")
_SUPPLIERS: Final = ("Mill", "Barn", None)


class _Drawing:
    """One workbook in the making."""

    def __init__(self, random: Random, *, gaps: bool) -> None:
        self.random = random
        self.gaps = gaps
        self.portions: dict[str, tuple[int, str]] = {}
        self.rows: dict[str, list[Cells]] = {name: [] for name in _HEADINGS}
        self.foods = random.sample(_FOODS, random.randint(2, 5))
        # The kinds of unit in which an item may be written, the first being how it is bought.
        self.kinds: dict[str, list[str]] = {}
        self.recipes = [f"Recipe {at}" for at in range(1, random.randint(1, 4) + 1)]
        self.made_in: dict[str, str] = {}
        self.products = [f"Product {at}" for at in range(1, random.randint(1, 3) + 1)]

    def maybe(self, *values: object, chance: float = 0.6) -> object:
        """One of the values, or an empty cell."""
        return self.random.choice(values) if self.random.random() < chance else None

    def number(self, low: float, high: float, places: int = 2) -> float:
        return round(self.random.uniform(low, high), places)

    def share(self, low: int, high: int) -> float:
        """A percentage as a person types it, or the fraction it is."""
        percent = self.random.randint(low, high)
        return percent if percent > 1 and self.random.random() < 0.5 else percent / 100

    def unit(self, kind: str) -> str:
        return self.random.choice(_BY_KIND[kind])

    def settings(self) -> None:
        tax, included = self.share(2, 20), self.maybe("yes", "no")
        rows = {
            "Currency": self.random.choice(("USD", "EUR", "JPY", "KWD")),
            "Pay per hour": None if self._gap() else self.number(8, 25),
            "Pay on-costs %": self.maybe(self.share(2, 30)),
            "Target margin %": None if self._gap() else self.share(10, 45),
            "Price step": self.maybe(0.05, 0.25, 0.5, 1),
            "Small-ingredient allowance %": self.maybe(self.share(2, 9)),
            "Sales tax %": self.maybe(tax) if included != "yes" else self.answer(tax),
            "Prices include sales tax": included,
            "Kitchen hire per hour": self.maybe(self.number(5, 30)),
            "Kitchen booking block minutes": self.maybe(15, 30, 60),
            "Batches per year": None if self._gap() else self.random.randint(20, 300),
        }
        self.rows["Settings"] = [[setting, value] for setting, value in rows.items()]

    def none_to_pay(self) -> None:
        """What is declared not to be there."""
        for setting in ("No kitchen to pay", "No overheads", "No selling costs"):
            self.rows["Settings"].append([setting, self.maybe("yes", "yes", "no")])

    def _gap(self) -> bool:
        return self.gaps and self.random.random() < 0.15

    def answer(self, value: object) -> object:
        """A cell that is asked about where it is empty."""
        return None if self._gap() else value

    def items(self) -> None:
        """What each is bought by, and the bridges that the other kinds need."""
        for item in self.foods:
            kinds = self.random.sample(("mass", "volume", "piece"), self.random.randint(1, 3))
            self.kinds[item] = kinds
            needs = len(kinds) > 1
            piece = self.number(20, 200) if needs and "piece" in kinds else None
            density = self.number(0.3, 1.5) if needs and "volume" in kinds else None
            if self._gap():
                piece = density = None
            usable = self.maybe(self.share(40, 99), 1.2, 2.5, 0.5)
            usual = self.maybe(*_SUPPLIERS)
            self.rows["Items"].append([item, usable, piece, density, None, None, usual])
        for item in _WRAPPERS[:2]:
            self.kinds[item] = self.random.sample(("length", "area"), 2)
            width = self.number(8, 20, 1)
            usual = self.maybe(*_SUPPLIERS)
            self.rows["Items"].append([item, None, None, None, width, "in", usual])
        self.kinds["Labels"] = ["piece"]

    def purchases(self) -> None:
        for item in (*self.foods, *_WRAPPERS):
            first = self._purchase(item, self.random.randint(0, 90))
            others = [
                self._purchase(item, self.random.randint(-20, 200))
                for _ in range(self.random.randint(0, 4))
            ]
            # The first is sound and in time, and stays, unless the book may have gaps.
            self.rows["Purchases"] += [] if self._gap() else [first]
            self.rows["Purchases"] += [self._varied(row, first) for row in others]
        self.random.shuffle(self.rows["Purchases"])

    def _purchase(self, item: str, days_ago: int) -> Cells:
        kind = self.kinds[item][0 if self.random.random() < 0.7 else -1]
        unit = self.unit(kind)
        bought_on = COSTED_ON - timedelta(days=days_ago)
        size = self.number(0.5, 50, 1)
        supplier = self.random.choice(_SUPPLIERS)
        packs, count = self.maybe(1, 2, 3), self.maybe(1, 6, 12, chance=0.3)
        price, other = self.number(1, 60), self.maybe(self.number(0, 5), chance=0.3)
        return [bought_on, item, supplier, packs, count, size, unit, price, other]

    def _varied(self, row: Cells, first: Cells) -> Cells:
        """Mostly the purchase itself; else a return, no price, a discount, or a second receipt."""
        which = self.random.random()
        if which < 0.1:
            return [*row[:3], -1, *row[4:8], None]
        if which < 0.2:
            return [*row[:7], 0, None]
        if which < 0.35:
            return [*first[:3], None, None, None, None, -self.number(0.01, 0.2), None]
        if which < 0.5:
            return [first[0], *row[1:]]
        return row

    def recipe_rows(self) -> None:
        """Each recipe uses foods, and recipes that come before it."""
        for at, recipe in enumerate(self.recipes):
            for food in self.random.sample(self.foods, self.random.randint(1, len(self.foods))):
                kind = self.random.choice(self.kinds[food])
                measured = self.maybe("as bought", "ready to use")
                usable = self.maybe(self.share(50, 99), chance=0.2)
                amount, unit = self.number(0.5, 30, 1), self.unit(kind)
                if measured is None and kind == "piece":
                    usable = None
                self.rows["Recipes"].append([recipe, food, amount, unit, measured, usable])
            for used in self.random.sample(self.recipes[:at], self.random.randint(0, at)):
                amount, unit = self.number(0.5, 20, 1), self.unit(self.kinds[used][0])
                measured = self.maybe("ready to use", chance=0.3)
                self.rows["Recipes"].append([recipe, used, amount, unit, measured, None])
            makes = self.random.randint(6, 60)
            kind = self.random.choice(("piece", "piece", "mass", "volume"))
            self.kinds[recipe] = [kind]
            units = {"piece": ["ea", "ea", "dozen"], "mass": ["kg", "lb", "g"], "volume": ["l"]}
            unit = self.random.choice(units[kind])
            if unit == "g":
                makes *= 100
            rejects = self.maybe(1, 2, 0.5, chance=0.4)
            self.made_in[recipe] = unit
            self.rows["Batches"].append([recipe, makes, unit, rejects])

    def stages(self) -> None:
        """None at all now and then; else each recipe has one, unless the book may have gaps."""
        if self.random.random() < 0.1:
            return
        for name in (*self.recipes, *self.products):
            least = 1 if name in self.recipes and not self._gap() else 0
            for at in range(self.random.randint(least, 2)):
                minutes = self.number(1, 60, 1)
                each = self.maybe(self.number(0.1, 2), chance=0.4)
                waiting = self.maybe(20, 45, chance=0.3)
                overlap = self.maybe(self.number(0, minutes, 1), chance=0.2)
                pay = self.maybe(self.number(8, 30), chance=0.2)
                people = self.maybe(1, 2)
                self.rows["Stages"].append(
                    [name, f"Stage {at}", people, minutes, each, waiting, overlap, pay]
                )

    def product_rows(self) -> None:
        for product in self.products:
            price, wholesale = self.number(4, 90), self.number(4, 60)
            recipe = self.random.choice(self.recipes)
            units, weight, unit = self._pack_of(recipe)
            self.rows["Products"].append(
                [
                    product,
                    recipe,
                    units,
                    self.maybe(self.share(2, 20)),
                    self.maybe(price),
                    self.maybe(wholesale),
                    self.maybe(self.share(10, 50), chance=0.3),
                    weight,
                    unit,
                ]
            )
            least = 0 if self._gap() else 1
            for item in self.random.sample(_WRAPPERS, self.random.randint(least, 3)):
                self._packaging(product, item)
        if self.random.random() < 0.5:
            self._packaging("all", "Labels")
        elif self.random.random() < 0.2:
            self.rows["Packaging"] = []

    def _pack_of(self, recipe: str) -> Cells:
        """Units per pack, net weight and its unit: pieces, or an amount of what is made in bulk."""
        kind = self.kinds[recipe][0]
        weight, in_grams = self.random.choice((150, 250, 500)), self.random.choice(("g", "oz"))
        if not self.gaps:  # packs of different amounts leave a recipe's units open
            weight, in_grams = self.portions.setdefault(recipe, (weight, in_grams))
        if kind == "piece":
            known = self.random.random() < 0.3  # a net weight on the label changes no figure
            units = self.random.choice((1, 2, 6, "1 dozen"))
            return [units, weight if known else None, "g" if known else None]
        if self._gap():
            return [self.random.choice((1, 6)), self.maybe(weight), None]
        unit = "ml" if kind == "volume" else in_grams
        bulk: tuple[Cells, ...] = (
            [f"{weight} {unit}", None, None],
            [f"6 x {weight} {unit}", None, None],
            [1, weight, unit],
            [None, weight, unit],
        )
        return self.random.choice(bulk)

    def _packaging(self, product: str, item: str) -> None:
        unit = "ea" if item == "Labels" else self.unit(self.random.choice(self.kinds[item]))
        per = self.random.choice(("unit", "pack", "batch"))
        spare = self.maybe(self.share(2, 30), chance=0.3)
        amount = self.random.randint(1, 3) if item == "Labels" else self.number(0.5, 30, 1)
        self.rows["Packaging"].append([product, item, amount, unit, per, spare])

    def overheads(self) -> None:
        for at in range(self.random.randint(0, 4)):
            per = self.random.choice(("year", "month", "batch", "market day"))
            share = self.maybe(self.share(5, 90), chance=0.4)
            self.rows["Overheads"].append([f"Cost {at}", self.number(1, 400), per, share])

    def outlets(self) -> None:
        for at in range(self.random.randint(0, 3)):
            kind = self.random.choice(("stall", None, "wholesale", "commission"))
            commission = self.maybe(self.share(2, 30), chance=0.3)
            if commission is None and kind == "commission":
                commission = self.answer(self.random.choice((0, 15, 0.2)))
            fee, fixed = (
                self.random.choice((0, 2.5, 0.029, 0.05)),
                self.random.choice((0, 0.1, 0.3)),
            )
            card = self.maybe(self.share(2, 100))
            if card is None and (fee or fixed):
                card = self.answer(self.random.choice((0, 40, 0.75)))
            self.rows["Outlets"].append(
                [
                    f"Outlet {at}",
                    kind,
                    self.number(0, 60),
                    None if self._gap() else self.number(0, 8, 1),
                    self.random.randint(0, 60),
                    self.number(0.2, 1),
                    self.number(0, 10),
                    self.random.randint(20, 200),
                    self.random.randint(10, 100),
                    commission,
                    card,
                    fee,
                    fixed,
                    self.maybe(1, 2, 3),
                    self.share(20, 40) if kind == "wholesale" else self.maybe(30, chance=0.2),
                    self.maybe(self.share(5, 50), chance=0.2),
                ]
            )

    def sold_at(self) -> None:
        """Some products are sold at some of the outlets only."""
        outlets = [str(row[0]) for row in self.rows["Outlets"]]
        for row in self.rows["Products"]:
            some = self.random.sample(outlets, self.random.randint(0, len(outlets)))
            row.append(self.maybe(", ".join(some) or None, chance=0.3))

    def offers(self) -> None:
        """Packs seen and not bought, some of them at a club that nothing was bought from."""
        for item in self.random.sample(self.foods, self.random.randint(0, 2)):
            unit = self.unit(self.random.choice(self.kinds[item]))
            size, price = self.number(0.5, 50, 1), self.number(1, 60)
            supplier = self.random.choice(("Mill", "Club"))
            delivery, least = self.maybe(self.number(1, 9), chance=0.3), self.maybe(2, chance=0.3)
            self.rows["Offers"].append(
                [item, supplier, self.maybe(1, 6), size, unit, price, delivery, least]
            )
        for supplier in self.random.sample(("Mill", "Club"), self.random.randint(0, 2)):
            trips = self.maybe(12, chance=0.3)
            self.rows["Suppliers"].append([supplier, self.maybe(60), trips and 5, trips])

    def slips(self) -> None:
        """Now and then one row a sheet whose recipe or product is nobody's, or the one above's."""
        for sheet in ("Recipes", "Stages", "Packaging"):
            rows = self.rows[sheet]
            if rows and self._gap():
                at = self.random.randrange(len(rows))
                name = str(rows[at][0])
                slips: list[object] = ["Zzyzx", name[:3] + name[2:]]
                if sheet == "Packaging":
                    slips += self.recipes
                if at == 0 or rows[at - 1][0] == name:
                    slips.append(None)
                rows[at] = [self.random.choice(slips), *rows[at][1:]]


def random_book(random: Random, *, gaps: bool = False) -> Sheets:
    """A workbook with its own shape; with gaps, some prices, bridges and choices are missing."""
    drawing = _Drawing(random, gaps=gaps)
    for draw in (
        drawing.settings,
        drawing.items,
        drawing.purchases,
        drawing.recipe_rows,
        drawing.stages,
        drawing.product_rows,
        drawing.overheads,
        drawing.outlets,
        drawing.offers,
        drawing.slips,
        drawing.none_to_pay,
        drawing.sold_at,
    ):
        draw()
    needed = ("Purchases", "Recipes", "Batches", "Products")
    return {
        name: [[*headings.split("|")], *drawing.rows[name]]
        for name, headings in _HEADINGS.items()
        if drawing.rows[name] or name in needed
    }
