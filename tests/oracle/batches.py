"""What a batch costs: materials, work, kitchen and overhead."""

from __future__ import annotations

from fractions import Fraction

from tests.oracle.numbers import GAP, UNITS, ZERO, Part, Row, given, key, number, pct, up_to
from tests.oracle.owners import Owners

__all__ = ["Batches"]


class Batches(Owners):
    """Recipes, walked down to what is bought."""

    def is_recipe(self, name: str) -> bool:
        return name in self.batches or any(
            key(row["recipe"]) == name for row in self.rows("Recipes")
        )

    def lines(self, recipe: str) -> list[Row]:
        return self.sure("Recipes", recipe)

    def used_share(self, row: Row) -> Fraction | None:
        """The part of the used recipe's batch that this line takes."""
        recipe = key(row["uses"])
        kind, factor = UNITS[row["unit"]]
        wanted = UNITS[self.batches[recipe]["unit"]][0]
        bridge = self.cross(recipe, kind, wanted)
        if bridge is None:
            return None
        return given(row["amount"]) * factor * bridge / (self.good(recipe) * self.counted(recipe))

    def material(self, recipe: str) -> Part:
        """Everything a batch is made of, the recipes it uses included."""
        allowance = 1 + self.pct("small-ingredient allowance %")
        total = ZERO if self.lines(recipe) else GAP
        if any(key(row["uses"]) != recipe for row in self.perhaps("Recipes", recipe)):
            total += GAP
        for row in self.lines(recipe):
            used = key(row["uses"])
            if self.is_recipe(used):
                total += self.material(used) * self.used_share(row)
            else:
                by_piece = UNITS[row["unit"]][0] == "piece"
                measured = key(row["measured"]) or ("as bought" if by_piece else "ready to use")
                total += self.bought_line(row, ready=measured == "ready to use") * allowance
        return total

    def stages(self, name: str, units: Fraction | None) -> tuple[Part, Part, Part]:
        """Labour money, clock minutes and paid minutes of the stages under one name."""
        money = clock = paid = GAP if self.perhaps("Stages", name) else ZERO
        for row in self.sure("Stages", name):
            each = given(row["minutes per unit"])
            if each and units is None:
                money, clock, paid = money + GAP, clock + GAP, paid + GAP
                continue
            minutes = given(row["minutes per batch"]) + (each * units if units else 0)
            worked = given(row["people"], 1) * minutes
            pay = number(row["pay per hour"], self.pay)
            money += Part(worked * self.on_costs / 60) * pay if worked else ZERO
            clock += Part(minutes + given(row["waiting minutes"]) - given(row["overlap minutes"]))
            paid += Part(worked)
        return money, clock, paid

    def work(self, recipe: str) -> tuple[Part, Part, Part]:
        """The same for a whole batch, with the used recipes' in the share that is used."""
        sums = list(self.stages(recipe, self.units_started(recipe)))
        for row in self.perhaps("Recipes", recipe):
            if self.is_recipe(key(row["uses"])) and key(row["uses"]) != recipe:
                sums = [each + GAP for each in sums]
        for row in self.lines(recipe):
            if self.is_recipe(used := key(row["uses"])):
                share = self.used_share(row)
                sums = [
                    here + below * share for here, below in zip(sums, self.work(used), strict=True)
                ]
        return sums[0], sums[1], sums[2]

    def kitchen(self, clock: Part) -> Part:
        hire = number(self.settings.get("kitchen hire per hour"))
        if not hire:
            return ZERO
        if not clock.whole:
            return GAP
        block = given(self.settings.get("kitchen booking block minutes"))
        minutes = up_to(clock.known, block) if block else clock.known
        return Part(minutes / 60 * hire)

    def overhead(self) -> Part:
        """One batch's part of the year, and what each batch costs by itself."""
        year, batch = Fraction(0), Fraction(0)
        for row in self.rows("Overheads"):
            amount = given(row["amount"]) * pct(row["share %"], 1)
            times = {"year": 1, "month": 12}.get(key(row["per"]), 0)
            year += amount * times
            batch += amount if key(row["per"]) == "batch" else 0
        batches = number(self.settings.get("batches per year"))
        return Part(batch) + (Part(year) * (1 / batches if batches else None) if year else ZERO)

    def packaging(self, product: str, units: dict[str, Fraction | None]) -> Part:
        lines = self.sure("Packaging", product) + self.sure("Packaging", "all")
        doubtful = self.perhaps("Packaging", product)
        not_said = bool(self.rows("Packaging")) and not lines
        total = GAP if doubtful or not_said else ZERO
        for row in lines:
            times, spare = units[key(row["per"])], 1 + pct(row["spare %"])
            total += self.bought_line(row, ready=False) * (times and times * spare)
        return total
