"""What the brackets of a heading say of the figures below it; the stall of test_headings.py in
reading/ is costed by them."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.definitions.headings import InHeading, in_heading, what_is_lost
from costbook.definitions.sheets import INPUT_SHEETS


def said(sheet: str, name: str, heading: str) -> InHeading | None:
    return in_heading(sheet, INPUT_SHEETS[sheet].field(name), heading, "USD")


@pytest.mark.parametrize(
    ("sheet", "name", "heading", "times", "over"),
    [  # an ounce is 28.349523125 g (NIST SP 811), a US cup 236.5882365 ml, a mile 1.609344 km
        ("Items", "grams_per_piece", "Grams per piece (oz)", "28.349523125", "1"),
        ("Items", "grams_per_piece", "Grams per piece (kg each)", "1", "1"),
        ("Items", "grams_per_piece", "Grams per piece (oz per ea)", "28.349523125", "1"),
        ("Items", "grams_per_ml", "Grams per ml (kg/l)", "1000", "1000"),
        ("Items", "grams_per_ml", "Grams per ml (g per cup)", "1", "236.5882365"),
        ("Items", "keeps_days", "Keeps days (weeks)", "7", "1"),
        ("Stages", "minutes_per_unit", "Minutes per unit (hours)", "60", "1"),
        ("Stages", "minutes_per_unit", "Minutes per unit (secs)", "1", "60"),
        ("Outlets", "hours_per_day", "Hours per day (h)", "1", "1"),
        ("Outlets", "hours_per_day", "Hours per day (minutes)", "1", "60"),
        ("Outlets", "hours_per_day", "Hours per day (seconds)", "1", "3600"),
        ("Outlets", "miles_per_day", "Miles per day (km)", "1", "1.609344"),
        ("Outlets", "cost_per_mile", "Cost per mile (per km)", "1.609344", "1"),
        ("Outlets", "fee_per_day", "Fee per day (pence)", "1", "100"),
        ("Outlets", "fee_per_day", "Fee per day (in cents)", "1", "100"),
    ],
)
def test_what_a_unit_comes_to(sheet: str, name: str, heading: str, times: str, over: str) -> None:
    says = said(sheet, name, heading)
    assert says is not None
    assert (says.times, says.over) == (Decimal(times), Decimal(over))
    assert says.counted(Decimal(3), None) == 3 * Decimal(times) / Decimal(over)
    assert says.changes is (times != over)


@pytest.mark.parametrize(
    ("sheet", "name", "heading"),
    [
        ("Items", "grams_per_piece", "Grams per piece (ml)"),
        ("Items", "grams_per_ml", "Grams per ml (g/ea)"),
        ("Outlets", "fee_per_day", "Fee per day (per month)"),
        ("Outlets", "units_sold_per_day", "Units sold per day (per week)"),
        ("Products", "current_price", "Current price (per kg)"),
        ("Offers", "price_per_pack", "Price per pack (whole line)"),
        ("Purchases", "packs", "Packs (kg)"),
        ("Purchases", "packs", "Packs (a kg)"),
        ("Purchases", "packs", "Packs (per stall)"),
        ("Purchases", "packs", "Packs (/stall)"),
        ("Purchases", "packs", "Packs (per batch)"),
        ("Items", "grams_per_piece", "Grams per piece (oz per ml)"),
        ("Purchases", "other_cost", "Other cost (%)"),
    ],
)
def test_what_can_not_be_meant(sheet: str, name: str, heading: str) -> None:
    says = said(sheet, name, heading)
    assert says is not None
    assert says.asked


@pytest.mark.parametrize(
    ("sheet", "name", "heading"),
    [
        ("Purchases", "packs", "Packs"),
        ("Purchases", "packs", "Packs ()"),
        ("Purchases", "note", "Note (kg)"),  # a text
        ("Items", "usable_share", "Usable (%)"),
        ("Purchases", "packs", "Packs (number)"),
        ("Purchases", "packs", "Packs (no.)"),
        ("Purchases", "packs", "Packs (count)"),
        ("Stages", "minutes_per_batch", "Minutes (per batch)"),
        ("Items", "keeps_days", "Keeps days (your figure, not a safe storage life)"),
    ],
)
def test_what_the_title_says_itself_is_nothing_more(sheet: str, name: str, heading: str) -> None:
    assert said(sheet, name, heading) is None


@pytest.mark.parametrize(
    ("sheet", "name", "heading"),
    [
        ("Items", "usable_share", "Usable (percent)"),
        ("Items", "usable_share", "Usable (per cent)"),
        ("Recipes", "amount", "Amount (per batch)"),
        ("Recipes", "amount", "Amount (one batch)"),
        ("Recipes", "amount", "Amount (a batch)"),
        ("Recipes", "amount", "Amount (for one batch)"),
        ("Purchases", "price_per_pack", "Price per pack ($)"),
        ("Purchases", "price_per_pack", "Price per pack (USD)"),
        ("Purchases", "price_per_pack", "Price per pack (per bag)"),
    ],
)
def test_what_is_so_anyway_changes_nothing(sheet: str, name: str, heading: str) -> None:
    says = said(sheet, name, heading)
    assert says is not None
    assert not any((says.changes, says.asked, says.unread, says.share))


def test_a_price_in_another_money_is_asked_where_the_books_own_is_known() -> None:
    price = INPUT_SHEETS["Purchases"].field("price_per_pack")
    for currency, asked in (("USD", True), ("EUR", False), ("", False)):
        says = in_heading("Purchases", price, "Price per pack (EUR)", currency)
        assert says is not None
        assert says.asked is asked


def test_a_price_for_a_unit_is_asked_and_answered() -> None:
    says = said("Purchases", "price_per_pack", "Price per pack (per kg)")
    assert says is not None
    assert says.asked
    assert says.remedy.startswith("Type what one whole pack costs; or give each cell its unit")


def test_an_overheads_period_is_taken_from_its_heading() -> None:
    says = said("Overheads", "amount", "Amount (per month)")
    assert says is not None
    assert says.period == "month"


@pytest.mark.parametrize("words", ["%", "percent"])
def test_the_batches_rejects_in_percent_are_a_share(words: str) -> None:
    says = said("Batches", "rejects", f"Rejects ({words})")
    assert says is not None
    assert says.share


def test_a_whole_line_in_capitals_is_no_currency() -> None:
    """12.00 for a line of 3 packs is 4.00 a pack."""
    says = said("Purchases", "price_per_pack", "Price per pack (WHOLE LINE)")
    assert says is not None
    assert says.changes
    assert says.counted(Decimal(12), Decimal(3)) == 4
    assert says.counted(Decimal(12), None) is None


def test_a_remark_about_an_amount_is_not_read() -> None:
    says = said("Recipes", "amount", "Amount (as weighed)")
    assert says is not None
    assert says.unread
    amount = INPUT_SHEETS["Recipes"].field("amount")
    assert says.meant(amount) == amount
    assert not any((says.unit, says.period, says.remedy, says.text, says.typed, says.cell))


def test_what_is_lost_leaves_the_rest() -> None:
    assert what_is_lost("Waste %").counted(Decimal("0.2"), None) == Decimal("0.8")
    assert what_is_lost("Waste %").counted(Decimal(1), None) is None
    assert what_is_lost("Waste %").changes
    of_lost = what_is_lost("Waste %").meant(INPUT_SHEETS["Items"].field("usable_share"))
    assert of_lost.refused(Decimal(0)) is None  # nothing is lost
    assert of_lost.held(Decimal(2)) == Decimal("0.02")  # of what is usable, 2 is twice as much
