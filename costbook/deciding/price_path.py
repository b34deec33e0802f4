"""What a published series of prices would have done: each product's margin, month by month.

With ``season`` the only module that knows pandas; it is loaded when a series is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Final
from warnings import catch_warnings, simplefilter

from costbook.costing.engine import Costing, Figures
from costbook.costing.rows import Row
from costbook.deciding.by_rule import by_rule
from costbook.deciding.margin_path import MarginPath, MonthMargin, ProductPath
from costbook.deciding.per_unit import PerUnit
from costbook.deciding.trial import named_item
from costbook.definitions import rules
from costbook.files import refuse_no_file
from costbook.package.limits import MEGABYTE, MOST_MONTHS, MOST_SERIES_BYTES
from costbook.problems import Refused

__all__ = ["Month", "margins", "price_path"]


MOST: Final = Decimal("1e12")
"""No price is as high as this."""


@dataclass(frozen=True, slots=True)
class Month:
    """A month as the file names it, and its price; None where the file has none."""

    name: str
    price: Decimal | None


def price_path(file: Path) -> list[Month]:
    """Read a series: a column of months, a column of prices; a gap stays a gap.

    Raises Refused for a file that is no such table.
    """
    refuse_no_file(file)
    _refuse_endless(file)
    import pandas as pd  # a third of a second to load, so only here

    try:
        with catch_warnings():
            # a comma too many, as in 9,00, would move a row's values by one column
            simplefilter("error", pd.errors.ParserWarning)
            table = pd.read_csv(file, dtype=str, keep_default_na=False, index_col=False)
    except (OSError, ValueError, pd.errors.ParserWarning) as error:
        why = error.strerror if isinstance(error, OSError) else "its rows aren't all alike"
        raise _no_table(file, str(why)) from error
    names = {str(name).strip().lower(): name for name in table.columns}
    if not {"month", "price"} <= names.keys():
        raise Refused(f"{file} has no columns month and price.", "Name its columns so.")
    months = table[names["month"]].str.strip()
    prices = table[names["price"]].str.strip()
    found = [
        Month(str(month), _price(file, str(month), str(price)))
        for month, price in zip(months, prices, strict=True)
        if month
    ]
    if not found:
        raise Refused(f"{file} names no month.", "Write one a row, in the column month.")
    return found


def _refuse_endless(file: Path) -> None:
    """Raise Refused for a series that is longer than any is, before it is read as a table."""
    try:
        short = file.stat().st_size <= MOST_SERIES_BYTES
        short = short and len(file.read_bytes().splitlines()) <= MOST_MONTHS + 1
    except OSError as error:
        raise _no_table(file, str(error.strerror)) from error
    if not short:
        raise Refused(
            f"{file} is longer than a series of prices: it has more than {MOST_MONTHS:,} rows, or "
            f"{MOST_SERIES_BYTES // MEGABYTE} MB.",
            "Keep the months that matter, one a row.",
        )


def _no_table(file: Path, why: str) -> Refused:
    return Refused(f"{file} can't be read as a table ({why}).", "Save it as .csv.")


def _price(file: Path, month: str, text: str) -> Decimal | None:
    if not text:
        return None
    try:
        price = Decimal(text)
    except ArithmeticError:
        price = Decimal("NaN")
    if not price.is_finite() or not 0 <= price < MOST:
        raise Refused(f'{file}: the price of {month} is "{text}".', "Type a number, or nothing.")
    return price


def margins(
    costing: Costing, item: str, months: Sequence[Month], per: PerUnit | None
) -> MarginPath:
    """The margins at today's prices, in each month, of the products that take an item.

    ``per`` says what the series' prices are for; without it they are for one pack of the
    purchase that counts. Cost is linear in the price, so each month is exact. Raises Refused
    where no product takes the item, or its unit can't be compared with the series'.
    """
    key = named_item(costing, item)
    rows = [row for row in costing.structure.rows["prices"] if _takes(costing, row, key)]
    bought = next(
        row for row in costing.structure.rows["prices_now"] if row.fixed["item_key"] == key
    )
    if not rows:
        raise Refused(
            f"No product takes {bought.fixed['item']}, so its price moves no margin.",
            "Name an item that a recipe or a package uses.",
        )
    packs = [_pack_price(costing, bought, month.price, per) for month in months]

    def path(row: Row) -> ProductPath:
        found = (_margin(costing, row, key, price) for price in packs)
        named = zip(months, found, strict=True)
        margins_then = tuple(MonthMargin(month.name, month.price, *each) for month, each in named)
        product, outlet = str(row.fixed["product"]), str(row.fixed["outlet"] or "")
        return ProductPath(product, outlet, margins_then)

    return MarginPath(item, tuple(map(path, rows)))


def _takes(costing: Costing, row: Row, item_key: str) -> bool:
    needs = row.links["products"].children["pack_needs"]
    return any(costing.figures["pack_needs"][at]["item_key"] == item_key for at in needs)


def _pack_price(
    costing: Costing, bought: Row, price: Decimal | None, per: PerUnit | None
) -> Decimal | None:
    """The series' price for the pack of the purchase that counts [money]."""
    figures = costing.of(bought)
    if per is not None and not per.fits(figures):
        raise Refused(
            f"{bought.fixed['item']} isn't bought in the kind of unit that the series is in.",
            "Give another unit with --per.",
        )
    if price is None or per is None:
        return price
    return per.for_pack(figures, price)


def _margin(
    costing: Costing, row: Row, item_key: str, price: Decimal | None
) -> tuple[Decimal | None, Decimal | None]:
    """Cost and margin at the price that counts, with a pack of the item at another price.

    What the pack cost beside its price (delivery, a discount) is held, as in a trial.
    """
    need = _need(costing, row, item_key)
    bought = costing.of(need.links["prices_now"])
    then = by_rule(rules.price_per_base_unit, {**bought, "price_per_pack": price})
    known: Figures = {**costing.of(row), **costing.of(need), "price_then": then}
    known["moved"] = by_rule(rules.need_moved, known)
    cost = by_rule(rules.cost_then, known)
    known |= {"total": cost, "now_before_tax": known["counted_price"]}
    known["now_all_cost"] = by_rule(rules.now_all_cost, known)
    known["now_profit"] = by_rule(rules.now_profit, known)
    return cost, by_rule(rules.now_margin, known)


def _need(costing: Costing, row: Row, item_key: str) -> Row:
    """What a pack of the product takes of the item."""
    rows = costing.structure.rows["pack_needs"]
    needs = (rows[at] for at in row.links["products"].children["pack_needs"])
    return next(need for need in needs if need.fixed["item_key"] == item_key)
