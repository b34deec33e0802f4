"""What a pack costs and must sell at, product by outlet."""

from __future__ import annotations

from fractions import Fraction

from tests.oracle.batches import Batches
from tests.oracle.numbers import (
    GAP,
    MINOR,
    ZERO,
    Part,
    Row,
    given,
    key,
    number,
    pct,
    share,
    total_of,
    up_to,
)

__all__ = ["Products"]


class Products(Batches):
    """Products at outlets, with their prices."""

    def made(self, row: Row) -> dict[str, Part]:
        """The costs of one pack that is sold, before selling it."""
        product, recipe = key(row["product"]), key(row["recipe"])
        per_pack, unit = self.pack(row)
        base = self.counted(recipe)
        started = self.started(recipe) * base / unit if unit else None
        packs = self.good(recipe) * base / unit / per_pack if unit and per_pack else None
        money, clock, _ = self.work(recipe)
        if product != recipe:
            own_money, own_clock, _ = self.stages(product, packs)
            money, clock = money + own_money, clock + own_clock
        if self.rows("Stages") and not self._worked_on(product, recipe):
            money, clock = money + GAP, clock + GAP
        units = {"unit": started, "pack": packs, "batch": Fraction(1)}
        whole_batch = {
            "ingredients": self.material(recipe),
            "packaging": self.packaging(product, units),
            "labour": money,
            "kitchen": self.kitchen(clock),
            "overhead": self.overhead(),
        }
        sold = packs and packs * (1 - pct(row["not sold %"]))
        nothing = {"kitchen", "overhead"}  # nothing of these is nothing a pack, however many
        return {
            name: part if name in nothing and part == ZERO else part * (sold and 1 / sold)
            for name, part in whole_batch.items()
        }

    def uncounted(self) -> set[str]:
        """The parts of which nothing is said: neither rows, nor a hire, nor that there is none."""

        def none(setting: str) -> bool:
            return key(self.settings.get(setting)) == "yes"

        left = {
            "labour": not self.rows("Stages"),
            "packaging": not self.rows("Packaging"),
            "kitchen": self.settings.get("kitchen hire per hour") is None
            and not none("no kitchen to pay"),
            "overhead": not self.rows("Overheads") and not none("no overheads"),
            "selling": not self.rows("Outlets") and not none("no selling costs"),
        }
        return {part for part, is_left in left.items() if is_left}

    def _worked_on(self, *names: str) -> bool:
        """Whether any stage is, or may be, of one of these."""
        return any(self.sure("Stages", name) or self.perhaps("Stages", name) for name in names)

    def day(self, outlet: Row, *, own_pay: bool = True) -> Part:
        """What one day at the outlet costs, with own pay or without."""
        market = Fraction(0)
        if key(outlet["kind"]) in ("", "stall"):
            for row in self.rows("Overheads"):
                if key(row["per"]) == "market day":
                    market += given(row["amount"]) * pct(row["share %"], 1)
        travel = given(outlet["miles per day"]) * given(outlet["cost per mile"])
        fixed = given(outlet["fee per day"]) + travel + given(outlet["other per day"]) + market
        if own_pay and outlet["hours per day"] is None and key(outlet["kind"]) in ("", "stall"):
            return Part(fixed) + GAP
        hours = given(outlet["hours per day"]) if own_pay else 0
        return Part(fixed) + (Part(hours * self.on_costs) * self.pay if hours else ZERO)

    def by_card(self, outlet: Row) -> Fraction | None:
        """The part of the sales that is paid by card; with a fee on them it must be said."""
        fee = given(outlet.get("card fee %")) or given(outlet.get("card fixed fee"))
        return share(outlet.get("card share %"), None if fee else 0)

    def fees(self, outlet: Row, tax: Fraction | None) -> Fraction | None:
        """What the outlet's percentages take of a price without tax."""
        takes_some = key(outlet.get("kind")) == "commission"
        commission = share(outlet.get("commission %"), None if takes_some else 0)
        fee = pct(outlet.get("card fee %"))
        card = self.by_card(outlet) if fee else Fraction(0)
        if commission is None or card is None or tax is None:
            return None
        return commission + card * fee * (1 + tax)

    def selling_per_unit(self, outlet: Row) -> tuple[Part, Part]:
        """The day's cost per unit, and the fixed card fee per unit."""
        fee, fixed = given(outlet["card fixed fee"]), ZERO
        if fee:
            fixed = Part(fee / given(outlet["units per sale"], 1)) * self.by_card(outlet)
        day, sold = self.day(outlet), number(outlet["units sold per day"])
        if day == ZERO:
            return ZERO, fixed
        return day * (1 / sold if sold else None), fixed

    def target(self, row: Row, outlet: Row) -> Fraction | None:
        for cell in (outlet.get("target margin %"), row["target margin %"]):
            if cell is not None:
                return share(cell)
        return share(self.settings.get("target margin %"), None)

    def step(self) -> Fraction:
        minor = Fraction(1, 10 ** MINOR[str(self.settings["currency"])])
        return given(self.settings.get("price step"), minor)

    def product(self, row: Row, outlet: Row) -> Row:
        """One product at one outlet, as `cost --json` shows it."""
        wholesale = key(outlet.get("kind")) == "wholesale"
        tax = Fraction(0) if wholesale else self.tax
        quoted = None if tax is None else 1 + tax if self.included else Fraction(1)
        per_pack = self.pack(row)[0]
        day, fixed = self.selling_per_unit(outlet) if outlet else (ZERO, ZERO)
        cost = self.made(row)
        made = total_of(cost.values())
        selling = day + fixed
        cost["selling"] = ZERO if selling == ZERO else selling * per_pack
        total = total_of(cost.values())
        fees = self.fees(outlet, tax)
        price = price_without_tax(total, self.target(row, outlet), fees)
        price = None if price is None or quoted is None else price * quoted
        step = None if price is None else up_to(price, self.step())
        current = number(row["wholesale price now" if wholesale else "current price"])
        at_step, at_now = (
            result_at(step, quoted, total, fees),
            result_at(current, quoted, total, fees),
        )
        figures: Row = {f"cost.{name}": part.figure for name, part in cost.items()}
        figures |= {"cost.total": total.figure, "cost.known": total.known}
        figures |= {"price.at_target_margin": price, "price.on_step": step}
        figures |= {"price.current": current}
        figures |= {f"at_step.{name}": value for name, value in at_step.items()}
        figures |= {f"at_current.{name}": value for name, value in at_now.items()}
        asked = current if current is not None else step
        left = None
        if asked is not None and quoted is not None and fees is not None and fixed.whole:
            left = per_pack and asked / quoted / per_pack * (1 - fees) - fixed.known
        for name, own_pay in (("", True), ("_without_own_pay", False)):
            figures[f"break_even_units_per_day{name}"] = (
                break_even(self.day(outlet, own_pay=own_pay), left, made * (1 / per_pack))
                if outlet and left is not None and per_pack
                else None
            )
        # whoever sells it on takes their part of what they pay, which is without tax
        theirs = share(outlet.get("their margin %"), None)
        shelf = None
        if theirs is not None and step is not None and quoted is not None:
            shelf = step / quoted / (1 - theirs)
        figures["shelf_price"] = shelf
        taxed = None if shelf is None or self.tax is None else shelf * (1 + self.tax)
        figures["shelf_price_with_tax"] = taxed
        return figures


def price_without_tax(
    total: Part, margin: Fraction | None, fees: Fraction | None
) -> Fraction | None:
    """The price without tax that leaves the margin; none where nothing could."""
    if not total.whole or margin is None or fees is None or (left := 1 - margin - fees) <= 0:
        return None
    return total.known / left


def result_at(
    price: Fraction | None, quoted: Fraction | None, total: Part, fees: Fraction | None
) -> Row:
    """Margin, markup and profit at a price as quoted."""
    if price is None or quoted is None or fees is None or not total.whole:
        return dict.fromkeys(("margin", "markup", "profit"))
    net = price / quoted
    all_cost = total.known + net * fees
    profit = net - all_cost
    return {"margin": profit / net, "markup": profit / all_cost, "profit": profit}


def break_even(day: Part, left: Fraction, made: Part) -> Fraction | None:
    """Whole units that pay for the day; none where each one sold loses money."""
    if not (day.whole and made.whole) or left - made.known <= 0:
        return None
    return up_to(day.known / (left - made.known), Fraction(1))
