"""Costing → the descriptions of all our sheets, in their order, and the workbook of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from costbook.book import Book
from costbook.costing.engine import Costing
from costbook.costing.result import currency_of
from costbook.deciding.ingredients import has_labels
from costbook.deciding.trial import tried, typed_trial
from costbook.definitions.currencies import minor_unit
from costbook.ours.earlier_page import earlier_costings_page
from costbook.ours.kept import LEFT, NOTHING_REMEMBERED, Remembered
from costbook.ours.memory_page import memory_page
from costbook.problems import Problem
from costbook.writing.description import SheetDescription
from costbook.writing.layout import lay_out_tables
from costbook.writing.pages.about import about_page
from costbook.writing.pages.buy_list import buy_list_page
from costbook.writing.pages.cards import cost_cards_page
from costbook.writing.pages.freezer import freezer_page
from costbook.writing.pages.in_short import in_short_page
from costbook.writing.pages.in_words import IN_WORDS, in_words_page
from costbook.writing.pages.labels import LABELS, labels_page
from costbook.writing.pages.latest import latest_prices_page
from costbook.writing.pages.packs_compared import packs_compared_page
from costbook.writing.pages.page import Context
from costbook.writing.pages.prices import prices_page
from costbook.writing.pages.season import SEASON, season_page
from costbook.writing.pages.the_year import THE_YEAR, the_year_page
from costbook.writing.pages.to_put_right import to_put_right_page
from costbook.writing.pages.try_a_change import trial_workings_page, try_a_change_page
from costbook.writing.pages.week import THE_WEEK, has_plan, week_page
from costbook.writing.pages.what_moved import what_moved_page
from costbook.writing.pages.workings_page import workings_page
from costbook.writing.plain import plain
from costbook.writing.workbook import draw

__all__ = ["ONLY_IF", "PAGES", "TITLES", "describe", "drawn", "titles_for"]

PAGES: Final[Mapping[str, Callable[[Context], SheetDescription]]] = {
    "In short": in_short_page,
    THE_WEEK: week_page,
    "Buy list": buy_list_page,
    "Prices": prices_page,
    "Cost cards": cost_cards_page,
    "Latest prices": latest_prices_page,
    "Packs compared": packs_compared_page,
    "What moved": what_moved_page,
    SEASON: season_page,
    "Freezer": freezer_page,
    THE_YEAR: the_year_page,
    "Try a change": try_a_change_page,
    LABELS: labels_page,
    "To put right": to_put_right_page,
    "About": about_page,
    "Workings": workings_page,
    "Trial workings": trial_workings_page,
    IN_WORDS: in_words_page,
    "Earlier costings": earlier_costings_page,
}
"""Our sheets in their order, and what makes each: the answers first, what they rest on last."""

ONLY_IF: Final[Mapping[str, Callable[[Book], bool]]] = {
    THE_WEEK: has_plan,
    "Freezer": lambda book: not {"Made", "Counts", "Tests"}.isdisjoint(book.sheets),
    LABELS: has_labels,
    "Buy list": lambda book: book.has_buy_list,
    SEASON: lambda book: "Market days" in book.sheets,
    THE_YEAR: lambda book: "Market days" in book.sheets,
}
"""By title, what a workbook must have for a page that not every workbook gets."""

TITLES: Final = (*(title for title in PAGES if title not in ONLY_IF), LEFT.sheet)
"""The titles that every workbook gets; Memory, which looks at all others, is made after them."""


def titles_for(book: Book) -> tuple[str, ...]:
    """The titles of our sheets in a workbook, in their order."""
    made = (title for title in PAGES if title not in ONLY_IF or ONLY_IF[title](book))
    return (*made, LEFT.sheet)


def describe(
    costing: Costing,
    problems: Sequence[Problem],
    tabs: Mapping[str, str],
    remembered: Remembered = NOTHING_REMEMBERED,
    more: Sequence[Callable[[Context], SheetDescription]] = (),
    beside: str = "",
) -> list[SheetDescription]:
    """Describe our sheets; ``tabs`` says which are made, and which tab name each title gets.

    ``more`` describes sheets beside the usual ones; ``beside`` is a hash of the person's own.
    """
    layout = lay_out_tables(costing.structure, tabs["Workings"])
    trial = tried(costing, typed_trial(remembered.trial_prices, remembered.trial_settings))
    trial_layout = replace(layout, tab=tabs["Trial workings"])
    places = _places(costing)
    context = Context(costing, layout, tabs, places, remembered, trial, trial_layout, problems)
    made = (make for title, make in PAGES.items() if title in tabs)
    sheets = [make(context) for make in (*made, *more)]
    return [*sheets, memory_page(context, sheets, beside)]


def drawable(costing: Costing, sheets: Sequence[SheetDescription]) -> dict[str, Any]:
    """Sheets that were described as plain data, for whoever draws them."""
    book = costing.structure.book
    return plain(sheets, _places(costing), book.day_code)


def drawn(costing: Costing, sheets: Sequence[SheetDescription]) -> bytes:
    """The workbook of sheets that were described."""
    return draw(sheets, _places(costing), costing.structure.book.day_code)


def _places(costing: Costing) -> int:
    """Decimal places of money; two where the currency isn't known."""
    places = minor_unit(currency_of(costing))
    return 2 if places is None else places
