"""The message in each title of the decisions' pages and charts, word for word."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from costbook.costing.engine import Costing
from costbook.deciding.price_path import Month, margins
from costbook.deciding.sensitivity import most_moving
from costbook.writing.description import SheetDescription
from costbook.writing.pages.what_if import MATTERS, PATH, price_path_page, what_matters_page
from costbook.writing.sheets import TITLES, describe
from tests.deciding.asking import costed
from tests.deciding.test_moved import ROLLS

OCTOBER = date(2026, 10, 1)


def pages(costing: Costing, *more: object) -> dict[str, SheetDescription]:
    tabs = {title: title for title in (*TITLES, MATTERS, PATH)}
    found = describe(costing, (), tabs, more=more)  # type: ignore[arg-type]  # they make pages
    return {page.title: page for page in found}


def said(page: SheetDescription) -> list[str]:
    """The page's own message, in its title or below it; then its charts' titles."""
    title, below, *_ = (str(cell.value) for cell in page.cells() if cell.value)
    top = below if title == "What moved" else title
    return [top, *(chart.title for chart in page.charts)]


def test_what_moved_says_which_item_did_most() -> None:
    """Eggs: 0.15 more for each of 1.5 eggs is 0.225."""
    assert said(pages(costed(ROLLS, OCTOBER))["What moved"]) == [
        "As costed on 2026-11-20: Eggs added 0.23 for a pack of Roll.",
        "Eggs added 0.23 to Roll",
    ]


def test_what_fell_is_said_to_have_taken_off() -> None:
    """Eggs at 3.00 a tray instead of 6.00: 0.10 less for each of 1.5 eggs."""
    text = ROLLS.replace("| 10.50", "| 3.00")
    assert said(pages(costed(text, OCTOBER))["What moved"]) == [
        "As costed on 2026-11-20: Eggs took off 0.15 for a pack of Roll.",
        "Eggs took off 0.15 to Roll",
    ]


def test_where_nothing_moved_there_is_no_chart() -> None:
    moved = pages(costed(ROLLS, date(2026, 11, 20)))["What moved"]
    assert said(moved) == ["As costed on 2026-11-20: no price changed."]


def test_money_in_a_title_has_the_currencys_coins() -> None:
    text = ROLLS.replace("| USD", "| JPY").replace("| 10.50", "| 1050").replace("| 6.00", "| 600")
    assert said(pages(costed(text, OCTOBER))["What moved"])[1] == "Eggs added 23 to Roll"


def test_what_matters_most_names_the_first() -> None:
    costing = costed(ROLLS)
    page = pages(costing, what_matters_page(most_moving(costing)))[MATTERS]
    assert said(page) == [
        "What matters most: Price of Eggs moves profit most",
        "Price of Eggs moves profit most",
    ]
    nothing = pages(costing, what_matters_page([]))[MATTERS]
    assert said(nothing) == ["What matters most: Nothing known moves profit"]


def test_a_price_path_names_the_month_of_the_lowest_margin() -> None:
    """At 20.00 a tray a roll costs 0.475 more, 1.3125: 34.4 % of 2.00 is left."""
    costing = costed(ROLLS)
    prices = {"2026-01": "9", "2026-02": "20", "2026-03": ""}
    months = [Month(name, price(text)) for name, text in prices.items()]
    path = margins(costing, "Eggs", months, None)
    page = pages(costing, price_path_page(path))[PATH]
    assert said(page) == ["Eggs: the lowest margin is 34%, for Roll in 2026-02"] * 2
    gaps = margins(costing, "Eggs", months[2:], None)
    none = pages(costing, price_path_page(gaps))[PATH]
    assert said(none)[0] == "Eggs: no margin is known in these months"


def price(text: str) -> Decimal | None:
    return Decimal(text) if text else None


@pytest.mark.parametrize("title", ["Packs compared", "Try a change", "Earlier costings"])
def test_the_other_pages_have_a_title_and_no_chart(title: str) -> None:
    assert len(said(pages(costed(ROLLS))[title])) == 1


def test_packs_compared_says_what_the_command_says() -> None:
    text = ROLLS.replace(
        "2026-11-12 | Film", "2026-11-11 | Flour | 5 | kg | 7.50\n2026-11-12 | Film"
    )
    lines = [str(cell.value) for cell in pages(costed(text))["Packs compared"].cells()]
    assert (
        "The 5 kg is 25.0 % cheaper than the 1 kg, "
        "as long as less than 25.0 % of it is thrown away."
    ) in lines


def test_earlier_costings_says_what_it_keeps_and_what_it_forgets() -> None:
    page = pages(costed(ROLLS, OCTOBER))["Earlier costings"]
    assert [str(cell.value) for cell in page.cells() if cell.value][1:3] == [
        (
            "What each run found, as it was then. costbook compares with these rows; please leave "
            "them as they are."
        ),
        (
            "Each costing of the last four weeks is kept; of a year, the last of each week; before "
            "that, the last of each month. A day on which nothing had changed is left out."
        ),
    ]
