"""What is really used of a pack: the year's batches, what spoils between them, yearly costs."""

from __future__ import annotations

import math
from datetime import date
from fractions import Fraction

from tests.oracle.numbers import UNITS, Row, given, key, number, pct, sells, share
from tests.oracle.products import Products

__all__ = ["Buying"]

_WEEKS = 52
_NOISE = Fraction(1, 10**6)


class Buying(Products):
    """Packs of an item, each with the price of what is used of it."""

    def line_takes(self, row: Row, item: str, *, ready: bool) -> Fraction | None:
        """What a line takes of an item as bought, in the kind of unit of its price now."""
        price = self.as_bought(item, self.on)
        kind, factor = UNITS[row["unit"]]
        bridge = None if price is None else self.cross(item, kind, price[1])
        if bridge is None:
            return None
        general = share(self.items.get(item, {}).get("usable %"), 1, 5)
        usable = share(row.get("usable %"), general, 5) if ready else Fraction(1)
        return given(row["amount"]) * factor * bridge / given(usable)

    def recipe_takes(self, recipe: str, item: str) -> Fraction | None:
        """What a batch takes of an item, down through the recipes that it uses."""
        total = Fraction(0)
        for row in self.lines(recipe):
            used = key(row["uses"])
            if self.is_recipe(used):
                below, part = self.recipe_takes(used, item), self.used_share(row)
                taken = below and (None if part is None else below * part)
            elif used == item:
                by_piece = UNITS[row["unit"]][0] == "piece"
                measured = key(row["measured"]) or ("as bought" if by_piece else "ready to use")
                taken = self.line_takes(row, item, ready=measured == "ready to use")
                taken = taken and taken * (1 + self.pct("small-ingredient allowance %"))
            else:
                continue
            if taken is None:
                return None
            total += taken
        return total

    def product_takes(self, product: Row, item: str) -> Fraction | None:
        """What a batch takes, as if all of it became this product, with what wraps it."""
        recipe = key(product["recipe"])
        total = self.recipe_takes(recipe, item)
        size, unit = self.pack(product)
        good = self.good(recipe) * self.counted(recipe)
        units = None if unit is None else good / unit
        started = None if unit is None else self.started(recipe) * self.counted(recipe) / unit
        times = {
            "unit": started,
            "pack": None if units is None or not size else units / size,
            "batch": Fraction(1),
        }
        name = key(product["product"])
        for row in self.sure("Packaging", name) + self.sure("Packaging", "all"):
            if key(row["uses"]) == item:
                each, often = self.line_takes(row, item, ready=False), times[key(row["per"])]
                if each is None or often is None or total is None:
                    return None
                total += each * often * (1 + pct(row["spare %"]))
        return total

    def taken(self, item: str) -> list[Fraction] | None:
        """What a batch of each product takes of an item."""
        all_of_it = [self.product_takes(row, item) for row in self.rows("Products")]
        found = [each for each in all_of_it if each is not None]
        return found if len(found) == len(all_of_it) else None

    def made_a_week(self, item: str) -> Fraction | None:
        """By the year's batches, each product as often."""
        taken, batches = self.taken(item), number(self.settings.get("batches per year"))
        if not taken or batches is None:
            return None
        return sum(taken, Fraction(0)) / len(taken) * batches / _WEEKS

    def sold_a_week(self, item: str) -> Fraction | None:
        """By what the outlets sell, each product as often."""
        taken, a_week = self.taken(item), Fraction(0)
        for product, takes in zip(self.rows("Products"), taken or [], strict=False):
            recipe, unit = key(product["recipe"]), self.pack(product)[1]
            if unit is None:
                return None
            good = self.good(recipe) * self.counted(recipe) / unit
            sold = sum(
                (self.of_each(row) for row in self.rows("Outlets") if sells(product, row)),
                Fraction(0),
            )
            a_week += takes / (good * (1 - pct(product["not sold %"]))) * sold / _WEEKS
        return a_week if taken else None

    def of_each(self, outlet: Row) -> Fraction:
        """How many units of each of its products an outlet sells in a year."""
        products = sum(sells(product, outlet) for product in self.rows("Products"))
        return given(outlet["units sold per day"]) * given(outlet["days per year"]) / products

    def used_a_week(self, item: str) -> Fraction | None:
        made = self.made_a_week(item)
        return self.sold_a_week(item) if made is None else made

    def really_used(self, item: str, held: Fraction, least: Fraction) -> Fraction:
        """The part of packs that hold so much, ready to use, that is used before it spoils."""
        keeps, week = number(self.items.get(item, {}).get("keeps days")), self.used_a_week(item)
        taking = [each for each in self.taken(item) or [] if each]
        if not keeps or not week or not taking:
            return Fraction(1)
        usable = given(share(self.items.get(item, {}).get("usable %"), 1, 5))
        at_once = sum(taking, Fraction(0)) / len(taking)
        made = self.made_a_week(item)
        if made is None:
            in_time = max(at_once, week * keeps / 7)
            return min(Fraction(1), in_time * usable / (held * least))
        later = math.floor(keeps / (7 * at_once / made) + _NOISE)
        if later:
            return min(Fraction(1), at_once * (1 + later) * usable / (held * least))
        packs = max(Fraction(math.ceil(at_once * usable / held - _NOISE / 2)), least)
        return at_once * usable / (packs * held)

    def yearly(self, supplier: str, items: set[str]) -> tuple[str, Fraction] | None:
        """A supplier's yearly costs over a year's need of what it sells, else over the receipts."""
        costs = Fraction(0)
        for row in self.rows("Suppliers"):
            if key(row["supplier"]) == supplier:
                costs += given(row["membership per year"])
                costs += given(row["trip cost"]) * given(row["trips per year"])
        if not costs:
            return "need", Fraction(0)
        need = Fraction(0)
        for item in items:
            week, price = self.used_a_week(item), self.as_bought(item, self.on)
            need += week * _WEEKS * price[0] if week is not None and price else 0
        if need > 0:
            return "need", costs / need
        dates = [row["date"] for row in self.rows("Purchases") if row["date"] <= self.on]
        days = min((self.on - min(dates)).days + 1, 365) if dates else 0
        spent = sum(
            (
                given(row["packs"], 1) * given(row["price per pack"]) + given(row["other cost"])
                for row in self.rows("Purchases")
                if key(row["supplier"]) == supplier and 0 <= (self.on - row["date"]).days < 365
            ),
            Fraction(0),
        )
        return ("spent", costs / (spent * 365 / days)) if days >= 28 and spent > 0 else None

    def is_overtaken(self, item: str, supplier: str, day: date | None) -> bool:
        """Whether a later receipt of the item from a supplier that is named sets a price."""
        return bool(supplier) and any(
            day is not None and row["date"] > day
            for row in self.rows("Purchases")
            if key(row["item"]) == item and key(row["supplier"]) == supplier
            if self._qualifies(row, self.on)
        )
