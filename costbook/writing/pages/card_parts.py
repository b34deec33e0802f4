"""One part of a cost card: its lines, each with what it rests on, and their subtotal."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from costbook.costing.structure import Row
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.formula_text import quoted
from costbook.writing.lookups import is_blank, text_of
from costbook.writing.pages.card_lines import ALLOWANCE, Line
from costbook.writing.pages.page import Page, Ref, look_of

__all__ = ["show_part"]

WHAT, AMOUNT, UNIT, PRICE, BATCH, PACK, SHARE, DAY = range(8)


def show_part(
    page: Page, product: Row, part: str, lines: Sequence[Line], product_name: str
) -> None:
    """A part's name, its lines and their subtotal; kitchen and overheads are a line each.

    ``product_name`` stands beside the part's name where the card may go on over the page.
    """
    sheet = page.sheet
    if len(lines) == 1 and isinstance(lines[0].what, str):
        _line(page, product, lines[0], Role.TOTAL)
        return
    sheet.put(sheet.next_row, WHAT, part, look_of(Role.SUM, Show.TEXT, 0))
    if product_name:
        sheet.put(sheet.next_row, PRICE, product_name, Look(Role.NOTE, indent=1))
    sheet.next_row += 1
    for line in lines:
        _line(page, product, line, None)
    at = sheet.next_row
    for column in _BARE:
        sheet.put(at, column, None, look_of(Role.TOTAL, Show.TEXT, 0))
    sheet.put(at, WHAT, f"{part}, together", look_of(Role.TOTAL, Show.TEXT, 0))
    own: Ref = (product, part.lower())
    page.figure((at, PACK), own, Show.MONEY, Role.TOTAL)
    whole = {"part": own, "whole": (product, "made")}
    page.computed((at, SHARE), rules.share_of, whole, Show.SHARE, Role.TOTAL)
    sheet.next_row += 1


_BARE = (AMOUNT, UNIT, PRICE, BATCH, DAY)
"""What a subtotal leaves empty under its rule."""


def _line(page: Page, product: Row, line: Line, role: Role | None) -> None:
    sheet, at = page.sheet, page.sheet.next_row
    name = look_of(role or Role.LABEL, Show.TEXT, 0 if role else 1)
    link = page.context.link_to(line.record, line.field)
    if isinstance(line.what, str):
        sheet.put(at, WHAT, line.what, name)
    else:
        page.figure((at, WHAT), line.what, Show.TEXT, look=name, link=link)
    _amount(page, at, line, role)
    if line.price:
        page.figure((at, PRICE), line.price, Show.FINE_MONEY)
    elif role:
        sheet.put(at, PRICE, None, look_of(role, Show.TEXT, 0))
    costs = _ALLOWANCE if line.what == ALLOWANCE else _OF_A_PACK if line.of_a_pack else _PLAIN
    _costs(page, product, line, costs, role)
    _rests_on(page, at, line, role)
    sheet.next_row += 1


def _amount(page: Page, at: int, line: Line, role: Role | None) -> None:
    if line.amount:
        show = Show.MINUTES if line.unit == "min" else Show.NUMBER
        if line.packs:
            names = ("amount", "times_used", "spare")
            refs = {name: (line.amount[0], name) for name in names}
            page.computed((at, AMOUNT), rules.amount_for_a_batch, refs, show)
        else:
            page.figure((at, AMOUNT), line.amount, show, role)
        unit = "" if line.unit == "min" else line.unit
        look = look_of(role or Role.LABEL, Show.TEXT, UNIT)
        page.sheet.put(at, UNIT, unit, look, formula=_typed_unit(page, line))
    elif role:
        for column in (AMOUNT, UNIT):
            page.sheet.put(at, column, None, look_of(role, Show.TEXT, 0))


def _typed_unit(page: Page, line: Line) -> str:
    """The unit as it stands beside the amount; blank, it is the one in the amount's text."""
    if line.unit == "min" or not line.amount or not line.record:
        return ""
    cell = page.context.typed_cell(line.amount[0], line.record, "unit")
    if not cell:
        return ""
    in_text = line.record.units_in_text.get("amount", "")
    settings = page.context.costing.structure.one("settings")
    blank = is_blank(cell, page.context.layout.absolute(settings, "blank_marks"))
    return f'=IFERROR(IF({blank},{quoted(in_text)},{text_of(cell)}),"")'


def _rests_on(page: Page, at: int, line: Line, role: Role | None) -> None:
    """The date of the price, which leads to its receipt; or what the line lacks."""
    if line.lacks:
        _date_or_lack(page, at, line, role)
    elif line.is_recipe:
        page.sheet.put(at, DAY, "a recipe", Look(Role.NOTE, indent=1))
    elif role:
        page.sheet.put(at, DAY, None, look_of(role, Show.TEXT, 0))


def _date_or_lack(page: Page, at: int, line: Line, role: Role | None) -> None:
    """What the line lacks now; once it lacks nothing, the date of its price, if it has one."""
    assert line.lacks is not None
    layout, said = page.context.layout, page.value(line.lacks)
    lack, day, shown = layout.absolute(*line.lacks), '""', said
    if line.bought:
        day = layout.absolute(line.bought, "day")
        shown = said or page.value((line.bought, "day")) or ""
    link = page.context.link_to_receipt(line.bought) if line.bought else ""
    look = look_of(role or Role.COMPUTED, Show.DATE, DAY)
    if said:
        look = look_of(Role.FLAG, Show.TEXT, DAY)
    page.sheet.put(at, DAY, shown, look, formula=f'=IF({lack}="",{day},{lack})', link=link)


Rule = Callable[..., Any]


def _costs(
    page: Page,
    product: Row,
    line: Line,
    costs: tuple[Rule | None, Rule | None, Rule],
    role: Role | None,
) -> None:
    """What the line costs a batch and a pack, and its share of the cost made."""
    at, (batch, pack, share) = page.sheet.next_row, costs
    settings = page.context.costing.structure.one("settings")
    refs: Mapping[str, Ref] = {
        "batch_figure": line.cost,
        "part": line.cost,
        "whole": (product, "made"),
        "items_cost": line.cost,
        "small_ingredient_allowance": (settings, "small_ingredient_allowance"),
        "packs_sold": (product, "packs_sold"),
        "made": (product, "made"),
    }
    plain = role or Role.COMPUTED
    if batch is None:
        page.figure((at, BATCH), line.cost, Show.MONEY, role)
    else:
        page.computed((at, BATCH), batch, _asked(batch, refs), Show.MONEY, plain)
    if pack is None:
        page.figure((at, PACK), line.cost, Show.MONEY, role)
    else:
        page.computed((at, PACK), pack, _asked(pack, refs), Show.MONEY, plain)
    page.computed((at, SHARE), share, _asked(share, refs), Show.SHARE, plain)


def _asked(rule: Rule, refs: Mapping[str, Ref]) -> dict[str, Ref]:
    """The figures that a rule asks for, by the names of its arguments."""
    names = rule.__code__.co_varnames[: rule.__code__.co_argcount]
    return {name: refs[name] for name in names}


def _share(batch_figure: Decimal, packs_sold: Decimal, made: Decimal) -> Decimal:
    return rules.share_of(rules.per_pack(batch_figure, packs_sold), made)


def _allowance_per_pack(
    items_cost: Decimal, small_ingredient_allowance: Decimal, packs_sold: Decimal
) -> Decimal:
    whole = rules.allowance_cost(items_cost, small_ingredient_allowance)
    return rules.per_pack(whole, packs_sold)


def _allowance_share(
    items_cost: Decimal, small_ingredient_allowance: Decimal, packs_sold: Decimal, made: Decimal
) -> Decimal:
    part = _allowance_per_pack(items_cost, small_ingredient_allowance, packs_sold)
    return rules.share_of(part, made)


_PLAIN: tuple[Rule | None, Rule, Rule] = (None, rules.per_pack, _share)
_OF_A_PACK: tuple[Rule, Rule | None, Rule] = (rules.of_a_batch, None, rules.share_of)
_ALLOWANCE: tuple[Rule | None, Rule, Rule] = (
    rules.allowance_cost,
    _allowance_per_pack,
    _allowance_share,
)
"""The rules for a batch, a pack and a share: the allowance comes on top of the bought lines."""
