"""What must hold for any workbook, whatever is in it, through the command line."""

from __future__ import annotations

import copy
from collections import defaultdict
from collections.abc import Callable
from fractions import Fraction
from random import Random
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from tests.comparing import MONEY, Figures, differences, figures
from tests.helpers import priced
from tests.oracle import UNITS
from tests.quickly import figures_only
from tests.random_books import COSTED_ON, random_book
from tests.tables import Sheets

__all__ = ["figures_only"]  # a fixture of every test here

pytestmark = pytest.mark.long

ON = COSTED_ON.isoformat()
# A failing book is shown as it was drawn: shrinking one takes minutes and tells little more.
SOME_BOOKS = settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    database=None,
    phases=[Phase.generate],
)

any_random = st.randoms(use_true_random=False)


def costed(book: Sheets) -> Figures:
    return figures(priced(book, on=ON))


def column(book: Sheets, sheet: str, heading: str) -> int:
    return book[sheet][0].index(heading)


def changed(book: Sheets, sheet: str, heading: str, change: Callable[[Any], object]) -> Sheets:
    """The same book with every filled cell under one heading changed."""
    other = copy.deepcopy(book)
    at = column(book, sheet, heading) if sheet in book else 0
    for row in other.get(sheet, [])[1:]:
        if row[at] is not None:
            row[at] = change(row[at])
    return other


def setting(book: Sheets, name: str, value: object) -> Sheets:
    """The same book with one setting put to a value."""
    rows = [row for row in book["Settings"] if row[0] != name]
    return {**book, "Settings": [*rows, [name, value]]}


# The same figures, written otherwise

OTHER_UNIT = {
    "kg": ("g", 1000), "lb": ("oz", 16), "l": ("ml", 1000), "gal": ("cup", 16), "qt": ("pt", 2),
    "cup": ("fl oz", 8), "tbsp": ("tsp", 3), "dozen": ("ea", 12), "m": ("cm", 100),
    "ft": ("in", 12), "sq ft": ("sq in", 144), "sq m": ("sq cm", 10000),
}  # fmt: skip


def test_the_other_units_are_the_same_amounts() -> None:
    for unit, (other, times) in OTHER_UNIT.items():
        assert UNITS[unit] == (UNITS[other][0], UNITS[other][1] * times)


def rewritten_units(book: Sheets, random: Random) -> Sheets:
    other = copy.deepcopy(book)
    for sheet, amount in (
        ("Purchases", "Pack size"),
        ("Recipes", "Amount"),
        ("Packaging", "Amount"),
    ):
        if sheet not in other:
            continue
        at, unit_at = column(book, sheet, amount), column(book, sheet, "Unit")
        for row in other[sheet][1:]:
            if row[unit_at] in OTHER_UNIT and random.random() < 0.7:
                unit, times = OTHER_UNIT[str(row[unit_at])]
                row[at], row[unit_at] = float(Fraction(str(row[at])) * times), unit
    return other


@SOME_BOOKS
@given(any_random)
def test_other_units_give_the_same_figures(random: Random) -> None:
    book = random_book(random)
    other = rewritten_units(book, random)
    assert not differences(costed(other), costed(book))


@SOME_BOOKS
@given(any_random)
def test_the_order_of_rows_and_sheets_says_nothing(random: Random) -> None:
    """But for purchases of one date, of which the lower row counts: those keep their order."""
    book = random_book(random)
    other = {
        sheet: [rows[0], *random.sample(rows[1:], len(rows) - 1)] for sheet, rows in book.items()
    }
    by_date: dict[object, list[list[object]]] = defaultdict(list)
    for row in book["Purchases"][1:]:
        by_date[row[0]].append(row)
    dates = random.sample(list(by_date), len(by_date))
    other["Purchases"] = [book["Purchases"][0], *(row for day in dates for row in by_date[day])]
    names = random.sample(list(other), len(other))
    assert not differences(costed({name: other[name] for name in names}), costed(book))


MONEY_COLUMNS = (
    ("Purchases", "Price per pack"),
    ("Purchases", "Other cost"),
    ("Stages", "Pay per hour"),
    ("Products", "Current price"),
    ("Products", "Wholesale price now"),
    ("Overheads", "Amount"),
    ("Outlets", "Fee per day"),
    ("Outlets", "Cost per mile"),
    ("Outlets", "Other per day"),
    ("Outlets", "Card fixed fee"),
)
MONEY_SETTINGS = ("Pay per hour", "Price step", "Kitchen hire per hour")


def times(factor: int) -> Callable[[Any], object]:
    return lambda money: float(Fraction(str(money)) * factor)


@SOME_BOOKS
@given(any_random, st.sampled_from([10, 100, 1000]))
def test_a_currency_of_another_scale_gives_the_same_business(random: Random, scale: int) -> None:
    """Every money a thousand times as much: so is every cost and price; no margin moves."""
    book = setting(random_book(random), "Price step", 0.05)
    other = book
    for sheet, heading in MONEY_COLUMNS:
        other = changed(other, sheet, heading, times(scale))
    for name in MONEY_SETTINGS:
        value = next((row[1] for row in book["Settings"] if row[0] == name), None)
        if value is not None:
            other = setting(other, name, times(scale)(value))
    wanted = {
        name: value * scale if value is not None and name[-1] in MONEY else value
        for name, value in costed(book).items()
    }
    assert not differences(costed(other), wanted)


def inlined(book: Sheets) -> Sheets:
    """The same business with the first used recipe written out inside those that use it."""
    other = copy.deepcopy(book)
    recipes = {str(row[0]) for row in book["Batches"][1:]}
    # the units of what is sold by weight or volume are those of its packs: no batch's own
    recipes -= {
        str(row[0])
        for row in book["Batches"][1:]
        if row[2] != "ea" and row[0] in {sold[1] for sold in book["Products"]}
    }
    used = min((str(row[1]) for row in book["Recipes"][1:] if row[1] in recipes), default=None)
    if used is None:
        return other
    batch = next(row for row in book["Batches"][1:] if row[0] == used)
    inside = [row for row in book["Recipes"][1:] if row[0] == used]
    kind, size = UNITS[str(batch[2])]
    # a batch made in pieces counts pieces, and so do its rejects: 34 dozen less 1 are 407
    each = size if kind == "piece" else Fraction(1)
    started = Fraction(str(batch[1])) * each
    good = (started - Fraction(str(batch[3] or 0))) * size / each
    for row in [row for row in book["Recipes"][1:] if row[1] == used]:
        share = Fraction(str(row[2])) * UNITS[str(row[3])][1] / good
        other["Recipes"].remove(row)
        other["Recipes"] += [
            [row[0], line[1], float(Fraction(str(line[2])) * share), *line[3:]] for line in inside
        ]
        for stage in [stage for stage in book.get("Stages", [])[1:] if stage[0] == used]:
            minutes = Fraction(str(stage[3])) + Fraction(str(stage[4] or 0)) * started
            waiting, overlap = (
                float(Fraction(str(minutes or 0)) * share) for minutes in (stage[5], stage[6])
            )
            other["Stages"].append(
                [
                    *(row[0], f"{used}: {stage[1]}", stage[2], float(minutes * share), None),
                    *(waiting, overlap, stage[7]),
                ]
            )
    return other


@SOME_BOOKS
@given(any_random)
def test_a_recipe_written_out_costs_what_it_cost_as_a_recipe(random: Random) -> None:
    book = random_book(random)
    assert not differences(costed(inlined(book)), costed(book))


# What changes, and what doesn't


@SOME_BOOKS
@given(any_random)
def test_doubling_every_price_doubles_every_material_cost(random: Random) -> None:
    book = random_book(random)
    double = changed(
        changed(book, "Purchases", "Price per pack", times(2)), "Purchases", "Other cost", times(2)
    )
    before, after = costed(book), costed(double)
    for name, value in before.items():
        if name[-1] in ("ingredients", "packaging", "batch_cost", "price_per_base_unit"):
            assert not differences({name: after[name]}, {name: value * 2})
        elif name[-1] in ("labour", "kitchen", "overhead", "selling", "change"):
            assert not differences({name: after[name]}, {name: value})


@SOME_BOOKS
@given(any_random)
def test_the_parts_add_up_to_the_cost_and_the_cost_to_the_price(random: Random) -> None:
    for row in priced(random_book(random), on=ON)["products"]:
        cost = dict(row["cost"])
        total, known = cost.pop("total"), cost.pop("known")
        assert not differences({("total",): total}, {("total",): sum(map(_exact, cost.values()))})
        assert not differences({("known",): known}, {("known",): total})
        # at any price: price without tax = all cost + profit, and margin and markup say the same
        for at in ("at_step", "at_current"):
            margin, markup, profit = (row[at][part] for part in ("margin", "markup", "profit"))
            if profit:
                net, all_cost = _exact(profit) / _exact(margin), _exact(profit) / _exact(markup)
                assert not differences(
                    {("net",): float(net)}, {("net",): all_cost + _exact(profit)}
                )


def _exact(figure: object) -> Fraction:
    return Fraction(str(figure))


@settings(SOME_BOOKS, max_examples=10)  # each is costed once for every line
@given(any_random)
def test_lines_add_up_to_the_recipe(random: Random) -> None:
    """A recipe's lines costed one at a time, in a book of their own each, come to the recipe."""
    book = random_book(random)
    recipe = book["Batches"][-1][0]  # the one that may use all others
    mine = [row for row in book["Recipes"][1:] if row[0] == recipe]
    rest = [row for row in book["Recipes"] if row[0] != recipe]
    name = ("recipe", str(recipe), "batch_cost")
    whole = costed(book)[name]
    alone = [costed({**book, "Recipes": [*rest, line]})[name] for line in mine]
    assert not differences({name: whole}, {name: sum(map(_exact, alone))})


SHARES_OF_ALL = (
    ("Items", "Usable %"),
    ("Overheads", "Share %"),
)


@SOME_BOOKS
@given(any_random, st.sampled_from([1, 100]))
def test_a_share_of_all_changes_nothing(random: Random, whole: int) -> None:
    """Written as 1 or as 100, where the cell was empty."""
    book = random_book(random)
    other = copy.deepcopy(book)
    for sheet, heading in SHARES_OF_ALL:
        for row in other.get(sheet, [])[1:]:
            at = column(book, sheet, heading)
            row[at] = whole if row[at] is None else row[at]
    assert not differences(costed(other), costed(book))


@SOME_BOOKS
@given(any_random, st.integers(2, 60), st.integers(0, 30))
def test_a_higher_margin_never_lowers_a_price(random: Random, margin: int, more: int) -> None:
    book = random_book(random)
    for sheet in ("Products", "Outlets"):
        book = changed(book, sheet, "Target margin %", lambda _: None)
    low = costed(setting(book, "Target margin %", margin))
    high = costed(setting(book, "Target margin %", margin + more))
    for name, price in low.items():
        # a price that is out of reach at the higher margin is null there, never lower
        if name[-1] in ("at_target_margin", "on_step") and high[name] is not None:
            assert price is not None
            assert price <= high[name] + 1e-12
