"""Buy list: what to buy, shop by shop, to be ticked with a pen or read on a phone; live."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any

from costbook.book import Value
from costbook.deciding.buy_list import NOTHING_TO_BUY, BuyList, buy_list
from costbook.deciding.buying import Bought, ItemToBuy
from costbook.deciding.shops import Shop
from costbook.definitions import buying_rules, rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Mark, Role, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import UNKNOWN_MARK, Context, Page, Ref, look_of

__all__ = ["NOT_LISTED", "buy_list_page"]

TICK, WHAT, PACKS, PACK, CASH, LEFT, UNIT = range(7)
GIVES, STILL, TAKEN, THROUGH = range(UNIT + 1, UNIT + 5)
"""Unseen columns: what a pack fills, what is left to fill by it, how many are taken, what is filled
with them."""
ACROSS, WIDTH = CASH + 1, UNIT + 1
WIDTHS = (4.0, 22.0, 10.0, 19.0, 11.0, 11.0, 7.0)
LIST = ("", "Item", "Packs", "of", "Cost")
LIST_SHOWS = (Show.TEXT, Show.TEXT, Show.NUMBER, Show.TEXT, Show.MONEY)
WHY = ("", "Item", "Wanted", "On hand", "To buy", "Left over", "in")
WHY_SHOWS = (Show.TEXT, Show.TEXT, *(Show.NUMBER,) * 4, Show.TEXT)

NOT_LISTED = "More is to be bought now than stands here: run costbook again."

FoundFigure = tuple[str, Value]
"""The formula that finds a figure, and what it is."""


def buy_list_page(context: Context) -> SheetDescription:
    """Describe the sheet Buy list: narrow, so that it is read on a phone and fits a pocket."""
    page = Page(context, "Buy list")
    sheet = page.sheet
    sheet.widths = dict(enumerate(WIDTHS)) | dict.fromkeys((GIVES, STILL, TAKEN, THROUGH), 0.5)
    sheet.landscape = False
    found = buy_list(context.costing, context.places)
    sheet.line(f"Buy list ({context.sign})", Role.TITLE)
    sheet.line(
        "Whole packs of what is cheapest for what is wanted. How many is live; which packs, and "
        "the sentences, are as of the last run.",
        Role.NOTE,
        across=ACROSS,
    )
    step_row(context, sheet, ACROSS)
    not_listed_at = sheet.next_row
    sheet.next_row += 1
    lines = _Lines(page, found)
    totals = [lines.of(shop) for shop in found.shops]
    _in_all(page, found, totals)
    _asked(page, found)
    _why(page, found, lines, not_listed_at)
    page.caution(WIDTH)
    return sheet


class _Lines:
    """The packs to tick: how many of each follows what is to be bought, and so does its cost.

    Of several packs of one item each fills what those above leave, but no more than the mix has of
    it; the last fills the rest.
    """

    def __init__(self, page: Page, found: BuyList) -> None:
        self.page = page
        bought = (each for shop in found.shops for each in shop.bought)
        self.to_come = Counter(each.item.key for each in bought)
        self.through: dict[str, FoundFigure] = {}
        """By item's key, what the packs that stand already fill of it."""

    def of(self, shop: Shop) -> FoundFigure:
        """What is bought at a shop, with its sum; gives the cell of the sum."""
        page, sheet = self.page, self.page.sheet
        page.section(shop.called, ACROSS)
        page.headings(LIST, shows=LIST_SHOWS)
        first = sheet.next_row
        for bought in shop.bought:
            self._line(bought)
        page.mark_unknown(first, (PACKS, CASH))
        every = f"{page.address(first, CASH)}:{page.address(sheet.next_row - 1, CASH)}"
        cell = _total(page, (every, sheet.next_row - first), shop.total)
        for words in shop.in_words(page.context.places):
            sheet.line(words, Role.LEAD, across=ACROSS)
        sheet.next_row += 1
        return cell

    def _line(self, bought: Bought) -> None:
        page, at, item, pack = self.page, self.page.sheet.next_row, bought.item, bought.pack
        self.to_come[item.key] -= 1
        figures = self._figures(bought)
        self._unseen(GIVES, buying_rules.pack_gives, figures)
        self._unseen(STILL, buying_rules.still_to_cover, figures)
        page.sheet.put(at, TICK, None, Look(Role.TICK))
        record = pack.row.sources.get("Offers") or pack.row.sources.get("Purchases")
        link, name = page.context.link_to(record, "item"), look_of(Role.LABEL, Show.TEXT, 0)
        page.sheet.put(at, WHAT, item.item, name, link=link)
        self._how_many(bought, figures)
        weight = f"{item.large_unit}, " if pack.cut_to_weight else ""
        page.sheet.put(at, PACK, f"{weight}{pack.name}", look_of(Role.LABEL, Show.TEXT, PACK))
        self._unseen(THROUGH, buying_rules.covered, figures)
        self.through[item.key] = figures["covered"]
        seen = pack.row.table == "packs_seen"
        cash = buying_rules.cash_for_an_order if seen else buying_rules.cash_for_packs
        page.ruled((at, CASH), cash, figures, Look(Role.COMPUTED, Show.MONEY))
        page.sheet.next_row += 1

    def _figures(self, bought: Bought) -> dict[str, FoundFigure]:
        """What the rules of a line ask for, each as a formula finds it and what it is."""
        page, item, row = self.page, bought.item, bought.pack.row
        figures = {name: _cell(page, (row, name)) for name in _OF_A_PACK}
        figures["item_usable_share"] = _cell(page, (row.links["items"], "usable_share"))
        figures["to_buy"] = _cell(page, (item.row, "to_buy"))
        above = self.through.get(item.key, ("0", Decimal(0)))
        return figures | {"covered": above, "covered_above": above}

    def _how_many(self, bought: Bought, figures: dict[str, FoundFigure]) -> None:
        """How many packs; of what is cut to weight, how much."""
        page, at = self.page, (self.page.sheet.next_row, PACKS)
        look = Look(Role.ANSWER, Show.NUMBER)
        if bought.pack.cut_to_weight:
            self._unseen(TAKEN, buying_rules.packs_cut, figures, "packs")
            _in_large_units(page, at, bought.item, figures["still_to_cover"], look)
            return
        self._unseen(TAKEN, buying_rules.packs_that_cover, figures)
        figures["packs"] = figures["packs_that_cover"]
        if self.to_come[bought.item.key]:
            figures["packs_chosen"] = f"{bought.count:f}", bought.count
            value = page.ruled(at, buying_rules.packs_of_a_mix, figures, look)
        else:
            value = figures["packs"][1]
            page.sheet.put(*at, _shown(value), look, formula=f"={figures['packs'][0]}")
        figures["packs"] = page.address(*at), value

    def _unseen(
        self, column: int, rule: Callable[..., Any], figures: dict[str, FoundFigure], name: str = ""
    ) -> None:
        """Put what a rule gives into an unseen column, and among the figures by its name."""
        at = self.page.sheet.next_row, column
        value = self.page.ruled(at, rule, figures, Look(Role.UNSEEN))
        figures[name or rule.__name__] = self.page.address(*at), value


_OF_A_PACK = (
    *("pack_in_units_of_now", "usable_share", "price_per_pack", "other_cost_per_pack"),
    "least_packs",
)


def _cell(page: Page, ref: Ref) -> FoundFigure:
    return page.context.layout.absolute(*ref), page.value(ref)


def _shown(value: Value) -> Value:
    return UNKNOWN_MARK if value is None else value


def _in_large_units(
    page: Page, at: tuple[int, int], item: ItemToBuy, amount: FoundFigure, look: Look
) -> None:
    """An amount in the unit that the item's prices are said for."""
    size = _cell(page, (item.row.links["prices_now"], "large_unit_size"))
    page.ruled(at, rules.in_large_units, {"base_amount": amount, "large_unit_size": size}, look)


def _total(page: Page, cells: tuple[str, int], total: Decimal) -> FoundFigure:
    """The sum of so many cells of costs, below them; not known where one of them isn't."""
    sheet, at, (every, count) = page.sheet, page.sheet.next_row, cells
    formula = f'=IF(COUNT({every})={count},SUM({every}),"{UNKNOWN_MARK}")'
    sheet.put(at, WHAT, "In all", Look(Role.TOTAL))
    for column in (PACKS, PACK):
        sheet.put(at, column, None, Look(Role.TOTAL))
    sheet.put(at, CASH, total, Look(Role.TOTAL, Show.MONEY), formula=formula)
    sheet.next_row += 1
    return page.address(at, CASH), total


def _in_all(page: Page, found: BuyList, totals: Sequence[FoundFigure]) -> None:
    """What is paid in all, or that nothing is to be bought."""
    if not found.shops and not found.asked:
        page.sheet.line(NOTHING_TO_BUY, Role.LEAD, across=ACROSS)
    if len(totals) > 1:
        page.section("At all shops", ACROSS)
        _total(page, (",".join(cell for cell, _ in totals), len(totals)), found.known)
        page.sheet.next_row += 1
    if found.shops and found.asked:
        page.sheet.line("Without what is to be asked.", Role.NOTE, across=ACROSS)


def _asked(page: Page, found: BuyList) -> None:
    """What can't be said to be bought: a box to tick, and what to ask; of several alike, once."""
    sheet = page.sheet
    if found.asked:
        page.section("To ask", ACROSS)
    for why, items in found.asked_by_why.items():
        if len(items) > 1:
            sheet.line(why, Role.FLAG, across=ACROSS)
        for item in items:
            at = sheet.next_row
            sheet.put(at, TICK, None, Look(Role.TICK))
            sheet.put(at, WHAT, item.item, look_of(Role.LABEL, Show.TEXT, 0))
            if len(items) == 1:
                sheet.put(at, PACKS, why, look_of(Role.FLAG, Show.TEXT, 0))
                sheet.merged.append((at, PACKS, at, CASH))
            sheet.next_row += 1


def _why(page: Page, found: BuyList, lines: _Lines, not_listed_at: int) -> None:
    """What is wanted of each item and what is there; what is left over; what another may cost."""
    sheet = page.sheet
    if not found.items:
        return
    page.section("Why so much, and what is left", WIDTH)
    page.headings(WHY, shows=WHY_SHOWS)
    first = sheet.next_row
    for item in found.items:
        at = sheet.next_row
        sheet.put(at, WHAT, item.item, look_of(Role.LABEL, Show.TEXT, 0))
        for column, name in enumerate(("to_be_there", "held_on_hand", "to_buy"), PACKS):
            _in_large_units(
                page, (at, column), item, _cell(page, (item.row, name)), Look(show=Show.NUMBER)
            )
        _left(page, item, lines.through.get(item.key))
        unit = item.row.links["prices_now"], "large_unit"
        page.figure((at, UNIT), unit, Show.TEXT)
        sheet.next_row += 1
    page.mark_unknown(first, (PACKS, PACK, CASH, LEFT))
    _not_listed(page, first, not_listed_at)
    for item in found.items:
        there = item.on_hand_in_words if item.counted else ""
        for words in (there, item.left_in_words, *found.another_in_words(item)):
            if words:
                sheet.line(f"{item.item}: {words}.", Role.NOTE, across=WIDTH)


def _left(page: Page, item: ItemToBuy, through: FoundFigure | None) -> None:
    """What is left over of the packs on the list, in the item's large unit."""
    at = page.sheet.next_row, LEFT
    if through is None:
        return
    figures = {"covered": through, "to_buy": _cell(page, (item.row, "to_buy"))}
    value, formula = page.reckoned(buying_rules.left_over, figures)
    _in_large_units(page, at, item, (formula, value), Look(show=Show.NUMBER))


def _not_listed(page: Page, first: int, at: int) -> None:
    """A line that shows once something is to be bought that had no line when this was costed."""
    layout = page.context.layout
    every = f"{sheet_name(layout.tab)}!{layout.column_range('to_buy', 'to_buy')}"
    here = f"{page.address(first, CASH)}:{page.address(page.sheet.next_row - 1, CASH)}"
    more = f'COUNTIF({every},">0.000001")>COUNTIF({here},">0.000000001")'
    look, cell = Look(Role.NOTE, wrap=True), page.address(at, 0)
    page.sheet.put(at, 0, None, look, formula=f'=IF({more},"{NOT_LISTED}","")')
    page.sheet.merged.append((at, 0, at, ACROSS - 1))
    page.sheet.marks.append(Mark((at, 0, at, 0), f'{cell}<>""', Role.FLAG))
