"""Costing → problems that only show once everything is computed: gaps, loops, old prices."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Final

from costbook.book import Record
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.problems import Place, Problem, Severity

__all__ = ["FINDINGS", "find"]

Finding = Callable[[Costing], Iterator[Problem]]


def find(costing: Costing) -> list[Problem]:
    """All findings, in their order."""
    return [problem for each in FINDINGS for problem in each(costing)]


def _place(costing: Costing, record: Record, name: str) -> Place:
    tab = costing.structure.book.sheets[record.sheet].tab
    return Place(tab, record.cells.get(name, f"A{record.row}"))


def loops(costing: Costing) -> Iterator[Problem]:
    """A recipe that uses itself, directly or through others, has no cost."""
    for loop in costing.structure.loops:
        names = " → ".join(loop)
        user = loop[1]
        place = Place("Recipes")
        for record in costing.structure.book.records("Recipes"):
            if record.text("recipe") == user and record.text("uses") == loop[0]:
                place = _place(costing, record, "uses")
        yield Problem(
            Severity.WRONG,
            place,
            f"these recipes use one another in a circle: {names}.",
            "Take one of these lines out.",
        )


def lines_without_cost(costing: Costing) -> Iterator[Problem]:
    """A line whose item has a price, but in a unit that leads nowhere; or an item never bought."""
    told: set[tuple[str, str]] = set()
    for table, sheet in (("lines", "Recipes"), ("packaging", "Packaging")):
        for row in costing.structure.rows[table]:
            figures = costing.of(row)
            what = _line_problem(costing, row)
            record = row.sources[sheet]
            key = (f"{sheet}{record.row}", what[0] if what else "")
            if figures["line_cost"] is None and what and key not in told:
                told.add(key)
                yield Problem(Severity.WRONG, _place(costing, record, what[2]), what[0], what[1])


def _line_problem(costing: Costing, row: Row) -> tuple[str, str, str] | None:
    """What a line lacks, what to do, and which field shows it; None where a check said it."""
    figures = costing.of(row)
    uses = figures["uses"]
    if figures["amount"] is None or figures["unit_factor"] is None or not uses:
        return None
    if "prices_now" not in row.links:
        return None
    if figures["price_per_base_unit"] is None:
        return (
            f"{uses} has no price on or before {costing.structure.costed_on.isoformat()}.",
            "Add a purchase with a date, a size, a unit and a price.",
            "uses",
        )
    if figures["usable_bridge"] is None:
        return _bridge_problem(costing, row)
    return None


_MISSING: Final = {
    1: "Grams per piece or Grams per ml",
    2: "Grams per ml",
    3: "Grams per piece",
    4: "Roll width",
    5: "Roll width",
}


def _bridge_problem(costing: Costing, row: Row) -> tuple[str, str, str]:
    figures = costing.of(row)
    uses = figures["uses"]
    if figures["bridge"] is not None:
        return (
            f"{uses} is bought by the {figures['price_word']} and used by the "
            f"{figures['piece_word']}.",
            "Use the same piece in both, or weigh them and use grams.",
            "unit",
        )
    measures = [figures["measure"], figures["price_measure"]]
    numbers = [int(m) for m in measures if isinstance(m, Decimal)]
    if (max(numbers) > 3) != (min(numbers) > 3):
        return (
            f"{uses} is used in a unit that can't be compared with the one it is bought in.",
            "Use a unit of the same kind as on its receipt.",
            "unit",
        )
    number = figures["measure"] if figures["worth"] is None else figures["price_measure"]
    assert isinstance(number, Decimal)
    return (
        f"{uses} is used in another kind of unit than it is bought in, "
        f"and its {_MISSING[int(number)]} is not known.",
        f"Weigh or measure one and fill in {_MISSING[int(number)]} on Items.",
        "unit",
    )


def uses_without_cost(costing: Costing) -> Iterator[Problem]:
    """A line that uses a recipe in an amount that its batch can't be compared with."""
    for row in costing.structure.rows["uses"]:
        figures = costing.of(row)
        amount_known = figures["amount_in_base_units"] is not None
        if not amount_known or figures["share_of_batch"] is not None or "recipes" not in row.links:
            continue
        if figures["good_in_base_units"] is None:
            continue
        what, remedy, name = _bridge_problem(costing, row)
        remedy = remedy.replace(" on Items", f" on Items, in a row named {figures['uses']}")
        place = _place(costing, row.sources["Recipes"], name)
        yield Problem(Severity.WRONG, place, what.replace("bought", "made"), remedy)


def settings_missing(costing: Costing) -> Iterator[Problem]:
    """Pay, target margin and the like, where a figure waits for them."""
    figures = costing.one("settings")
    structure = costing.structure
    sheet = structure.book.sheets.get("Settings")
    record = next(iter(structure.book.records("Settings")), None)

    def ask(name: str, title: str, waits: bool) -> Iterator[Problem]:
        if not waits or figures[name] is not None or (record and name in record.values):
            return
        cell = record.cells.get(name, "") if record else ""
        place = Place(sheet.tab if sheet else "Settings", cell)
        yield Problem(
            Severity.WRONG, place, f"{title} is not known.", f"Fill in {title} on Settings."
        )

    stages = [*costing.figures["stages"], *costing.figures["product_stages"]]
    unpaid = any(f["stage_labour"] is None and f["person_minutes"] for f in stages)
    unpaid = unpaid or any(f["own_pay_per_day"] is None for f in costing.figures["outlets"])
    no_target = any(f["applied_target_margin"] is None for f in costing.figures["prices"])
    yield from ask("pay_per_hour", "Pay per hour", unpaid)
    yield from ask("target_margin", "Target margin %", no_target)
    year = costing.one("year")
    yearly = year["yearly"] is not None and year["yearly_per_batch"] is None
    yield from ask("batches_per_year", "Batches per year", yearly)


def stages_without_minutes(costing: Costing) -> Iterator[Problem]:
    """A stage without any minutes is a gap, not nothing."""
    for table in ("stages", "product_stages"):
        for row in costing.structure.rows[table]:
            record = row.sources["Stages"]
            names = ("minutes_per_batch", "minutes_per_unit", "waiting_minutes")
            if not any(name in record.values for name in names):
                yield Problem(
                    Severity.WRONG,
                    _place(costing, record, "minutes_per_batch"),
                    "the stage has no minutes.",
                    "Time it once and fill them in.",
                )


def outlets_without_units(costing: Costing) -> Iterator[Problem]:
    """The costs of a day can't be shared out without the units sold on it."""
    for row in costing.structure.rows["outlets"]:
        figures = costing.of(row)
        if not row.sources or figures["selling_per_unit"] is not None:
            continue
        record = row.sources["Outlets"]
        if figures["units_sold_per_day"] is None and "units_sold_per_day" not in record.values:
            yield Problem(
                Severity.WRONG,
                _place(costing, record, "units_sold_per_day"),
                "the day has costs, and how many units it sells is not known.",
                "Fill in Units sold per day.",
            )
        if figures["travel_per_day"] is None and "cost_per_mile" not in record.values:
            yield Problem(
                Severity.WRONG,
                _place(costing, record, "cost_per_mile"),
                "there are miles, and what one costs is not known.",
                "Fill in Cost per mile, or clear the miles.",
            )


def prices_out_of_reach(costing: Costing) -> Iterator[Problem]:
    """Margin and percentage fees that together take the whole price."""
    for row in costing.structure.rows["prices"]:
        figures = costing.of(row)
        room = figures["room"]
        if isinstance(room, Decimal) and room <= 0:
            record = row.sources["Products"]
            where = figures["outlet"] or "any outlet"
            yield Problem(
                Severity.WRONG,
                _place(costing, record, "product"),
                f"{figures['product']} has no price at {where}: the target margin and the "
                "percentage fees take all of it.",
                "Lower the target margin, the commission or the card fee.",
            )


def prices_old(costing: Costing) -> Iterator[Problem]:
    """Prices older than the person allows."""
    for row in costing.structure.rows["item_prices"]:
        figures = costing.of(row)
        number = costing.of(row.links["prices_now"])["purchase_row"]
        if figures["freshness"] != "old: check it" or not isinstance(number, Decimal):
            continue
        record = costing.structure.purchases[int(number)]
        yield Problem(
            Severity.DOUBTFUL,
            _place(costing, record, "day"),
            f"the price of {figures['item']} is {figures['age_days']} days old.",
            "Type a newer receipt when you have one.",
        )


def supplier_not_used(costing: Costing) -> Iterator[Problem]:
    """A usual supplier from whom the item was never bought: another's price counts."""
    for row in costing.structure.rows["prices_now"]:
        figures = costing.of(row)
        usual = figures["usual_supplier"]
        if usual != "k" and figures["day"] is not None and figures["supplier_key"] != usual:
            record = row.sources["Items"]
            yield Problem(
                Severity.DOUBTFUL,
                _place(costing, record, "usual_supplier"),
                f"{figures['item']} has no purchase from {record.text('usual_supplier')}; "
                f"the price from {figures['supplier'] or 'an unnamed supplier'} counts.",
                "Correct the name, if it was bought there.",
            )


def readings(costing: Costing) -> Iterator[Problem]:
    """Texts that were understood, and as what."""
    for reading in costing.structure.book.readings:
        if reading.shown and reading.shown != "in the allowance":
            tab = costing.structure.book.sheets[reading.sheet].tab
            yield Problem(
                Severity.DOUBTFUL,
                Place(tab, reading.cell),
                f'"{reading.typed}" was read as {reading.shown}.',
                "Nothing, if that is right.",
            )


FINDINGS: Final[tuple[Finding, ...]] = (
    loops,
    lines_without_cost,
    uses_without_cost,
    settings_missing,
    stages_without_minutes,
    outlets_without_units,
    prices_out_of_reach,
    supplier_not_used,
    prices_old,
    readings,
)
