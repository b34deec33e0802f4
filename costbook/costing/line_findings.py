"""Costing → what lines lack: a price, a bridge between units, the same word for a piece."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal
from typing import Final, NamedTuple

from costbook.book import Book, Record, as_key
from costbook.costing.engine import Costing
from costbook.costing.rows import Figures, Row
from costbook.definitions import rules
from costbook.definitions.published import published
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.problems import Place, Problem, Severity

__all__ = [
    "items_without_price",
    "lines_without_bridge",
    "place_of",
    "trimmings_not_said",
    "uses_per_week_apart",
    "uses_without_cost",
]

_LINES: Final = (("lines", "Recipes"), ("packaging", "Packaging"))


def place_of(costing: Costing, record: Record, name: str) -> Place:
    """A field's cell; the row's first where its column isn't there."""
    tab = costing.structure.book.sheets[record.sheet].tab
    return Place(tab, record.cells.get(name, f"A{record.row}"))


def _lines(costing: Costing) -> Iterator[tuple[Row, Record]]:
    """Every line of the person's that uses an item, each once."""
    told: set[tuple[str, int]] = set()
    for table, sheet in _LINES:
        for row in costing.structure.rows[table]:
            record = row.sources.get(sheet)  # a product without packaging has a row without one
            if record and (sheet, record.row) not in told:
                told.add((sheet, record.row))
                yield row, record


def items_without_price(costing: Costing) -> Iterator[Problem]:
    """An item that is known and used, and has no price; one nobody knows was said by its name."""
    book = costing.structure.book
    if _no_price_can_be_read(book):
        return
    known = {
        as_key(r.text("item")) for sheet in ("Items", "Purchases") for r in book.records(sheet)
    }
    waiting: dict[str, list[Record]] = defaultdict(list)
    for row, record in _lines(costing):
        item = row.links["prices_now"].fixed["item"] if "prices_now" in row.links else None
        priced = costing.of(row)["price_per_base_unit"] is not None
        if (
            isinstance(item, str)
            and not priced
            and as_key(item) in known
            and not _asked(costing, row)
        ):
            waiting[item].append(record)
    day = costing.structure.day_in_words
    for item, records in waiting.items():
        lines = f" {len(records)} lines wait for it." if len(records) > 1 else ""
        yield Problem(
            Severity.WRONG,
            place_of(costing, records[0], "uses"),
            f"{item} has no price on or before {day}.{lines}",
            "Add a purchase with a date, a size, a unit and a price.",
        )


def _no_price_can_be_read(book: Book) -> bool:
    """Whether a heading, or another tab of receipts, leaves every price open; it was said there."""
    sheet = book.sheets.get("Purchases")
    if sheet is None or not sheet.columns:
        return False
    needed = {each.name for each in INPUT_SHEETS["Purchases"].fields if each.needed}
    says = sheet.in_headings.get("price_per_pack")
    return not needed <= sheet.columns.keys() or (says is not None and says.asked)


def _asked(costing: Costing, row: Row) -> bool:
    """Whether the receipt that counts is asked about already: a price in another money."""
    number = costing.of(row.links["prices_now"])["purchase_row"]
    record = costing.structure.purchases.get(int(number)) if isinstance(number, Decimal) else None
    return record is not None and bool(record.refused)


def lines_without_bridge(costing: Costing) -> Iterator[Problem]:
    """A line whose item has a price, but in a unit that leads nowhere."""
    for row, record in _lines(costing):
        figures = costing.of(row)
        asks = figures["amount_in_base_units"]  # nothing of it needs no bridge
        priced = figures["price_per_base_unit"] is not None
        if asks and priced and figures["usable_bridge"] is None and figures["uses"]:
            lack = _lack(costing, row)
            place = place_of(costing, record, "unit")
            yield Problem(Severity.WRONG, place, lack.what, lack.remedy)


def trimmings_not_said(costing: Costing) -> Iterator[Problem]:
    """An item that counts as if nothing of it were lost, where some is by what is published."""
    items = {as_key(r.text("item")): r for r in costing.structure.book.records("Items")}
    told: set[str] = set()
    for row in costing.structure.rows["lines"]:
        uses, line = str(costing.of(row)["uses"]), row.sources["Recipes"]
        record = items.get(as_key(uses))
        said = any("usable_share" in each.values for each in (record, line) if each)
        left = [each for each in published("usable_share", uses) if each.value < _ALL_BUT_ALL]
        if left and uses not in told and not said and _is_ready(costing.of(row)):
            told.add(uses)
            yield Problem(
                Severity.DOUBTFUL,
                place_of(costing, record or line, "item" if record else "uses"),
                f"{uses} counts as if nothing of it were lost in trimming. Published: of "
                f"{left[0].name}, often {left[0].value:.0%} is left ({left[0].cited}).",
                "Weigh what is left and fill in Usable % on Items; 100 if you lose nothing.",
            )


_ALL_BUT_ALL: Final = Decimal("0.95")
"""A share that is left, above which what is lost is within a receipt's rounding."""


def _is_ready(figures: Figures) -> bool:
    """Whether a line's amount is ready to use, as the rule has it: a share would then count."""
    half, measure = Decimal("0.5"), figures["measure"]
    return (
        isinstance(measure, Decimal)
        and figures["applied_usable_share"] == 1  # not one that is asked about
        and rules.applied_usable_share(str(figures["measured"]), measure, half) == half
    )


def uses_without_cost(costing: Costing) -> Iterator[Problem]:
    """A line that uses a recipe in an amount that its batch can't be compared with."""
    for row in costing.structure.rows["uses"]:
        figures = costing.of(row)
        readable = figures["amount_in_base_units"] is not None
        made = figures["good_in_base_units"] is not None
        if readable and made and figures["share_of_batch"] is None and "recipes" in row.links:
            lack = _lack(costing, row)
            remedy = lack.remedy.replace("is bought", "is made").replace(
                " on Items", f" on Items, in a row named {lack.uses}"
            )
            place = place_of(costing, row.sources["Recipes"], "unit")
            what = lack.what.replace("bought", "made")
            yield Problem(Severity.WRONG, place, what, remedy.replace("on its receipt", "there"))


def uses_per_week_apart(costing: Costing) -> Iterator[Problem]:
    """A use per week in a unit that can't be compared with the one the item is bought in."""
    for row in costing.structure.rows["item_use"]:
        figures = costing.of(row)
        typed = figures["typed_amount"] and figures["measure"] is not None
        if typed and figures["price_measure"] is not None and figures["use_bridge"] is None:
            yield Problem(
                Severity.WRONG,
                place_of(costing, row.sources["Items"], "use_per_week"),
                "it is in another kind of unit than the item is bought in, and does not count.",
                "Give Use per week in a unit that it is bought in.",
            )


class _Lack(NamedTuple):
    """What joins no two units, and what to do."""

    uses: str
    what: str
    remedy: str


_MISSING: Final = {
    1: "Grams per piece or Grams per ml",
    2: "Grams per ml",
    3: "Grams per piece",
    4: "Roll width",
    5: "Roll width",
}
_WEIGHED: Final = 3
"""Measures up to this (weight, volume, piece) are joined by grams; the others by a width."""


def _lack(costing: Costing, row: Row) -> _Lack:
    """Why the line's unit can't be compared with the one that its price, or batch, is in."""
    figures = costing.of(row)
    uses = str(figures["uses"])
    if figures["bridge"] is not None and not figures["price_word"]:
        piece = figures["piece_word"]
        what = f"{uses} is bought as 1 piece, and used by the {piece}."
        remedy = f"Say where it is bought how many it has, as 20 {piece}; or weigh one, in grams."
        return _Lack(uses, what, remedy)
    if figures["bridge"] is not None:
        words = f"{figures['price_word']} and used by the {figures['piece_word']}"
        what = f"{uses} is bought by the {words}."
        return _Lack(uses, what, "Use the same piece in both, or weigh them and use grams.")
    measures = (figures["measure"], figures["price_measure"])
    numbers = [int(measure) for measure in measures if isinstance(measure, Decimal)]
    if (max(numbers) > _WEIGHED) != (min(numbers) > _WEIGHED):
        what = f"{uses} is used in a unit that can't be compared with the one it is bought in."
        return _Lack(uses, what, "Use a unit of the same kind as on its receipt.")
    number = numbers[0] if figures["worth"] is None else numbers[-1]
    missing = _MISSING[number]
    what = (
        f"{uses} is used in another kind of unit than it is bought in, and its {missing} "
        "is not known."
    )
    remedy = f"Weigh or measure one and fill in {missing} on Items."
    return _Lack(uses, what, " ".join((remedy, *_often(uses, missing))))


_PER: Final = {"grams_per_ml": "g/ml", "grams_per_piece": "g"}


def _often(uses: str, missing: str) -> Iterator[str]:
    """The figures that are published of it, for a person who can't weigh one."""
    titled = {field: INPUT_SHEETS["Items"].field(field).title for field in _PER}
    found = [
        f"{each.name} often has {each.value} {_PER[field]} ({each.cited})"
        for field, title in titled.items()
        if title in missing
        for each in published(field, uses)
    ]
    if found:
        yield f"Published: {'; '.join(found)}. Type it if it fits."
