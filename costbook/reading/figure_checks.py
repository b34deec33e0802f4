"""Figures: units that nobody knows, gaps, and figures that can't go together."""

from __future__ import annotations

from collections.abc import Iterator

from costbook.book import Book, Record, as_key
from costbook.definitions.currencies import minor_unit
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.units import Measure, find_unit, near_units
from costbook.problems import Problem
from costbook.reading.number_style import NumberStyle
from costbook.reading.quantities import Allowance, read_amount
from costbook.reading.saying import doubt, wrong
from costbook.reading.texts import quoted
from costbook.reading.values import MARGINS

__all__ = [
    "currency_not_known",
    "gaps",
    "margins_of_all",
    "none_sold",
    "packs_without_units",
    "units_not_known",
]

_TYPE_ONE = "Type one: g, oz, ml, cup, ct, in …"


def units_not_known(book: Book) -> Iterator[Problem]:
    """A unit that is blank where one is needed, or that nobody knows."""
    needs = (
        ("Purchases", "unit", "pack_size"),
        ("Offers", "unit", "pack_size"),
        ("Recipes", "unit", "amount"),
        ("Packaging", "unit", "amount"),
        ("Items", "roll_width_unit", "roll_width"),
        ("Items", "on_hand_unit", "use_per_week"),
        ("Items", "par_unit", "par"),
        ("Batches", "unit", "makes"),
    )
    for sheet, name, amount in needs:
        for record in book.records(sheet):
            yield from _unit_problem(book, record, name, amount)
    for record in book.records("Items") if book.has_buy_list else ():
        if not (record.text("on_hand_unit") or record.number("use_per_week")):
            yield from _unit_problem(book, record, "on_hand_unit", "on_hand")


def _unit_problem(book: Book, record: Record, name: str, amount: str) -> Iterator[Problem]:
    text = record.text(name)
    if not text:
        if record.number(amount) and amount not in record.units_in_text:
            yield wrong(book, record, name, "the unit is missing.", _TYPE_ONE)
    elif record.sheet == "Recipes" and _is_little(text):
        yield wrong(
            book,
            record,
            name,
            f"{quoted(text)} is too little to cost by itself.",
            f"Type {quoted(text)} as the amount, and the small-ingredient allowance counts it.",
        )
    elif find_unit(text) is None:
        near = near_units(text)
        offer = f'Did you mean "{near[0]}"?' if near else _TYPE_ONE
        yield wrong(book, record, name, f"no unit is called {quoted(text)}.", offer)


def _is_little(text: str) -> bool:
    return isinstance(read_amount(text, NumberStyle.UNKNOWN), Allowance)


def gaps(book: Book) -> Iterator[Problem]:
    """A cell without which a row can't be counted."""
    needs = (
        ("Recipes", "uses", "amount", "the amount is missing."),
        ("Recipes", "recipe", "uses", "it is not said what the recipe uses."),
        ("Batches", "recipe", "makes", "how much a batch makes is missing."),
        ("Products", "product", "recipe", "the recipe is missing."),
        ("Packaging", "amount", "uses", "it is not said what the line uses."),
        ("Packaging", "uses", "amount", "the amount is missing."),
        ("Packaging", "uses", "per", "it is not said per what: unit, pack or batch."),
        ("Plan", "product", "wanted", "how many packs are wanted is missing."),
        ("Overheads", "cost", "amount", "the amount is missing."),
        ("Overheads", "cost", "period", "it is not said per what: year, month, batch, market day."),
    )
    for sheet, having, name, what in needs:
        for record in book.records(sheet):
            if having not in record.values or name in record.values:
                continue
            # packaging of which there is none need not be named, nor said per what
            if sheet != "Packaging" or record.number("amount") != 0:
                yield wrong(book, record, name, what, "Fill in the cell.")


def packs_without_units(book: Book) -> Iterator[Problem]:
    """A pack without its units; one of a batch by weight or volume may go by its net weight."""
    made = {as_key(each.text("recipe")): each for each in book.records("Batches")}
    for record in book.records("Products"):
        batch = made.get(as_key(record.text("recipe")))
        weighed = "net_weight" in record.values and batch is not None and _by_measure(batch)
        if "product" in record.values and "units_per_pack" not in record.values and not weighed:
            what = "the units per pack are missing."
            yield wrong(book, record, "units_per_pack", what, "Fill in the cell.")


def _by_measure(batch: Record) -> bool:
    """Whether a batch is made by weight or volume, not in pieces."""
    unit = find_unit(batch.text("unit") or batch.units_in_text.get("makes", ""))
    return unit is not None and unit.measure is not Measure.PIECE


def margins_of_all(book: Book) -> Iterator[Problem]:
    """A margin of the whole price leaves nothing for cost, so that no price is high enough."""
    for sheet in ("Settings", "Products", "Outlets"):
        margins = [each for each in INPUT_SHEETS[sheet].fields if each.name in MARGINS]
        for record in book.records(sheet):
            for each in margins:
                if record.number(each.name) == 1:
                    what = f"{each.title} is 100 %, which leaves nothing of a price for cost."
                    remedy = "Type less, as 35 %; if 1 % is meant, type 0.01."
                    yield wrong(book, record, each.name, what, remedy)


def none_sold(book: Book) -> Iterator[Problem]:
    """A product of which nothing is sold has nobody to carry its cost."""
    for record in book.records("Products"):
        if record.number("not_sold") == 1:
            yield wrong(
                book,
                record,
                "not_sold",
                "Not sold % is 100 %, so no pack is left to carry the cost.",
                "If 1 % is meant, type 0.01.",
            )


def currency_not_known(book: Book) -> Iterator[Problem]:
    """A currency that ISO 4217 doesn't list, so that nobody knows its smallest coin."""
    for record in book.records("Settings"):
        code = record.text("currency")
        if code and minor_unit(code) is None:
            yield doubt(
                book,
                record,
                "currency",
                f"no currency has the code {quoted(code)}, so money is shown with two decimals.",
                "Type the three letters of ISO 4217: USD, EUR, JPY …",
            )
