"""Costing → what is to be said of fees and tax: each counts nothing until its share is typed."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from costbook.book import Record
from costbook.costing.engine import Costing, Figures
from costbook.costing.line_findings import place_of
from costbook.problems import Place, Problem, Severity

__all__ = ["card_fees_missing", "card_shares_missing", "commissions_missing", "tax_rate_missing"]


def _outlets(costing: Costing) -> Iterator[tuple[Figures, Record]]:
    """The outlets that have a row of the person's."""
    for row in costing.structure.rows["outlets"]:
        if record := row.sources.get("Outlets"):
            yield costing.of(row), record


def card_shares_missing(costing: Costing) -> Iterator[Problem]:
    """A card fee, and nobody said on which part of the sales."""
    for figures, record in _outlets(costing):
        if "card_share" not in record.values and figures["card_share"] is None:
            yield Problem(
                Severity.WRONG,
                place_of(costing, record, "card_share"),
                "there is a card fee, and what share of sales is paid by card is not known.",
                "Fill in Card share %; 0 if nobody pays by card.",
            )


def card_fees_missing(costing: Costing) -> Iterator[Problem]:
    """Sales by card, and nobody said what they cost."""
    for figures, record in _outlets(costing):
        share = figures["card_share"]
        by_card = isinstance(share, Decimal) and share > 0
        if by_card and not {"card_fee", "card_fixed_fee"} & record.values.keys():
            yield Problem(
                Severity.DOUBTFUL,
                place_of(costing, record, "card_fee"),
                "people pay by card here, and no card fee is given, so cards cost nothing.",
                "Fill in Card fee %; 0 if there is none.",
            )


def commissions_missing(costing: Costing) -> Iterator[Problem]:
    """An outlet that takes a commission, and nobody said how much."""
    for figures, record in _outlets(costing):
        if figures["kind"] == "commission" and "commission" not in record.values:
            yield Problem(
                Severity.WRONG,
                place_of(costing, record, "commission"),
                "the outlet takes a commission, and how much is not known.",
                "Fill in Commission %; 0 if it takes none.",
            )


def tax_rate_missing(costing: Costing) -> Iterator[Problem]:
    """Prices with sales tax in them, and nobody said at which rate."""
    book, settings = costing.structure.book, costing.one("settings")
    record = next(iter(book.records("Settings")), None)
    if record and settings["tax_included"] == "yes" and "sales_tax" not in record.values:
        tab = book.sheets["Settings"].tab
        cell = record.cells.get("sales_tax", record.cells["tax_included"])
        yield Problem(
            Severity.WRONG,
            Place(tab, cell),
            "prices include sales tax, and its rate is not known.",
            "Fill in Sales tax % on Settings; 0 if there is none.",
        )
