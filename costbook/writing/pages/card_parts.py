"""One part of a cost card: what it comes to, and its lines, each with what it rests on."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from costbook.book import Record
from costbook.costing.structure import Row
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.formula_text import quoted
from costbook.writing.lookups import is_blank, text_of
from costbook.writing.pages.card_lines import CardLine
from costbook.writing.pages.page import Page, Ref, look_of

__all__ = [
    "BATCH",
    "EACH",
    "LAST",
    "SHARE",
    "WIDTH",
    "Scale",
    "headings",
    "of_a_filling",
    "of_a_product",
    "show_line",
    "show_part",
]

WHAT, AMOUNT, UNIT, PRICE, PER, BATCH, EACH, SHARE, LAST = range(9)
WIDTH = LAST + 1

CardRule = Callable[..., Any]


def headings(of_each: str) -> tuple[tuple[str, Show], ...]:
    """The headings of a card's lines; one is of what the card is for: a pack, or one filling."""
    return (
        ("What", Show.TEXT),
        ("Amount", Show.NUMBER),
        ("Unit", Show.TEXT),
        ("Price", Show.UNIT_PRICE),
        ("per", Show.TEXT),
        ("Batch", Show.MONEY),
        (of_each, Show.MONEY),
        ("Share", Show.SHARE),
        ("Price of", Show.DATE),
    )


@dataclass(frozen=True, slots=True)
class Scale:
    """What a card shows beside a batch: how much of it a pack, or a kg, bears, and which share.

    ``refs`` are the figures that its rules ask for beside the batch's.
    """

    refs: Mapping[str, Ref]
    each: CardRule
    share: CardRule


def of_a_product(product: Row) -> Scale:
    """A pack sold, and its share of the cost made."""
    refs = {"packs_sold": (product, "packs_sold"), "made": (product, "made")}
    return Scale(refs, rules.per_pack, _share_of_made)


def _share_of_made(batch_figure: Decimal, packs_sold: Decimal, made: Decimal) -> Decimal:
    return rules.share_of(rules.per_pack(batch_figure, packs_sold), made)


def of_a_filling(recipe: Row, whole: str) -> Scale:
    """A kg, l or piece of what a batch gives, and its share of a column of the recipe."""
    refs = {name: (recipe, name) for name in ("good_in_base_units", "large_unit_size")}
    return Scale({**refs, "whole": (recipe, whole)}, _a_large_unit, _share_of_whole)


def _a_large_unit(
    batch_figure: Decimal, good_in_base_units: Decimal, large_unit_size: Decimal
) -> Decimal:
    return rules.large_unit_cost(batch_figure, good_in_base_units, large_unit_size)


def _share_of_whole(batch_figure: Decimal, whole: Decimal) -> Decimal:
    return rules.share_of(batch_figure, whole)


def show_part(page: Page, scale: Scale, title: str, part: Ref, lines: Sequence[CardLine]) -> None:
    """A part in bold with what it comes to for a pack, and its lines; or a part that is one line.

    ``part`` is its figure for what the scale is for.
    """
    if len(lines) == 1 and isinstance(lines[0].what, str):
        show_line(page, scale, lines[0], Role.SUM)
        return
    at = page.sheet.next_row
    page.sheet.put(at, WHAT, title, look_of(Role.SUM, Show.TEXT, 0))
    page.figure((at, EACH), part, Show.MONEY, Role.SUM)
    if "made" in scale.refs:
        whole = {"part": part, "whole": scale.refs["made"]}
        page.computed((at, SHARE), rules.share_of, whole, Show.SHARE, Role.SUM)
    page.sheet.next_row += 1
    for line in lines:
        show_line(page, scale, line, None)


def show_line(page: Page, scale: Scale, line: CardLine, role: Role | None) -> None:
    """One line; with a role it is a whole part."""
    sheet, at = page.sheet, page.sheet.next_row
    indent = 0 if role else 2 if line.share else 1
    name = Look(role or Role.LABEL, wrap=True, indent=indent)
    link = page.context.link_to(line.record, line.field)
    if isinstance(line.what, str):
        sheet.put(at, WHAT, line.what, name)
    else:
        page.figure((at, WHAT), line.what, Show.TEXT, look=name, link=link)
    _amount(page, at, line, role)
    _price(page, at, line)
    if line.share:
        _of_the_share(page, (at, BATCH), line.cost, line.share, Show.MONEY)
    else:
        _costs(page, scale, line, role)
    _rests_on(page, at, line, role)
    sheet.next_row += 1


def _of_the_share(page: Page, at: tuple[int, int], figure: Ref, share: Ref, show: Show) -> None:
    """What of a used recipe's figure goes into this batch."""
    refs = {"batch_figure": figure, "share_of_batch": share}
    page.computed(at, rules.of_used_batch, refs, show)


def _amount(page: Page, at: int, line: CardLine, role: Role | None) -> None:
    if not line.amount:
        return
    show = Show.MINUTES if line.unit == "min" else Show.NUMBER
    if line.packs:
        names = ("amount", "times_used", "spare")
        refs = {name: (line.amount[0], name) for name in names}
        page.computed((at, AMOUNT), rules.amount_for_a_batch, refs, show)
    elif line.share:
        _of_the_share(page, (at, AMOUNT), line.amount, line.share, show)
    else:
        page.figure((at, AMOUNT), line.amount, show, role)
    unit = "" if line.unit == "min" else line.unit
    look = look_of(role or Role.LABEL, Show.TEXT, UNIT)
    record = None if line.unit == "min" else line.record
    formula = typed_unit(page, line.amount[0], record) if record else ""
    page.sheet.put(at, UNIT, unit, look, formula=formula)


def typed_unit(page: Page, row: Row, record: Record) -> str:
    """The unit as it stands beside the amount; blank, it is the one in the amount's text."""
    cell = page.context.typed_cell(row, record, "unit")
    if not cell:
        return ""
    in_text = record.units_in_text.get("amount", "")
    settings = page.context.costing.structure.one("settings")
    blank = is_blank(cell, page.context.layout.absolute(settings, "blank_marks"))
    return f'=IFERROR(IF({blank},{quoted(in_text)},{text_of(cell)}),"")'


def _price(page: Page, at: int, line: CardLine) -> None:
    """The price of a kg, lb, l, piece or ft, whichever the item is bought in; of a recipe's too."""
    if not line.price or not line.read_in:
        return
    if line.is_recipe:
        page.figure((at, PRICE), line.price, Show.UNIT_PRICE)
    else:
        size = (line.read_in, "large_unit_size")
        refs = {"price_per_base_unit": line.price, "large_unit_size": size}
        page.computed((at, PRICE), rules.large_unit_price, refs, Show.UNIT_PRICE)
    page.figure((at, PER), (line.read_in, "large_unit"), Show.TEXT, Role.LABEL)


def _rests_on(page: Page, at: int, line: CardLine, role: Role | None) -> None:
    """The date of the price, which leads to its receipt; or what the line lacks."""
    if line.lacks:
        _date_or_lack(page, at, line, role)
    elif line.is_recipe:
        page.sheet.put(at, LAST, "a recipe", Look(Role.NOTE, indent=1))


def _date_or_lack(page: Page, at: int, line: CardLine, role: Role | None) -> None:
    """What the line lacks now; once it lacks nothing, the date of its price, if it has one."""
    assert line.lacks is not None
    layout, said = page.context.layout, page.value(line.lacks)
    lack, day, shown = layout.absolute(*line.lacks), '""', said
    if line.bought:
        day = layout.absolute(line.bought, "day")
        shown = said or page.value((line.bought, "day")) or ""
    link = page.context.link_to_receipt(line.bought) if line.bought else ""
    look = look_of(role or Role.COMPUTED, Show.DATE, LAST)
    if said:
        look = look_of(Role.FLAG, Show.TEXT, LAST)
    page.sheet.put(at, LAST, shown, look, formula=f'=IF({lack}="",{day},{lack})', link=link)


def _costs(page: Page, scale: Scale, line: CardLine, role: Role | None) -> None:
    """What the line costs a batch and a pack, and its share."""
    at, plain = page.sheet.next_row, role or Role.COMPUTED
    if not line.of_a_pack:
        refs = {"batch_figure": line.cost, **scale.refs}
        page.figure((at, BATCH), line.cost, Show.MONEY, role)
        page.computed((at, EACH), scale.each, _asked(scale.each, refs), Show.MONEY, plain)
        page.computed((at, SHARE), scale.share, _asked(scale.share, refs), Show.SHARE, plain)
        return
    of_batch = {"part": line.cost, "packs_sold": scale.refs["packs_sold"]}
    asked = _asked(rules.of_a_batch, of_batch)
    page.computed((at, BATCH), rules.of_a_batch, asked, Show.MONEY, plain)
    page.figure((at, EACH), line.cost, Show.MONEY, role)
    whole = {"part": line.cost, "whole": scale.refs["made"]}
    page.computed((at, SHARE), rules.share_of, whole, Show.SHARE, plain)


def _asked(rule: CardRule, refs: Mapping[str, Ref]) -> dict[str, Ref]:
    """The figures that a rule asks for, by the names of its arguments."""
    names = rule.__code__.co_varnames[: rule.__code__.co_argcount]
    return {name: refs[name] for name in names}
