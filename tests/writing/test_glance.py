"""Prices and Packs compared at one look: colour on the few rows to act on, and few pages.

Flatbreads and dozens of them at three outlets, all alike but for a commission: at a margin of a
half, p × (1 − c) − 1.00 = p ÷ 2, so 2.00 without one, 2.50 at a tenth, and 3.33 (on the step 3.50)
at a fifth. At 1.50 now they are 25, 40 and 57 % short; the dozens, of 24.00, 30.00 and 40.00 to
charge, at 20.00 now 17, 33 and 50 %.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

import pytest

from costbook.round_trip import read_and_cost
from costbook.writing.description import Role, SheetDescription
from costbook.writing.paper import page_breaks, row_heights
from costbook.writing.sheets import TITLES, describe
from tests.helpers import make_book, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import sheets
from tests.writing.test_in_short import PRICED

SAMPLE = Path(__file__).parents[2] / "sample_workbooks" / "market_stall.xlsx"
ON = date(2026, 11, 20)
THREE = f"""{PRICED.rstrip()}
    Deli   | stall | 0          | 0             | 10                 | 10           | 0
    Cafe   | stall | 0          | 0             | 10                 | 20           | 0
"""


def described(path: Path) -> dict[str, SheetDescription]:
    costed = read_and_cost(path, ON)
    tabs = {title: title for title in TITLES}
    found = describe(costed.costing, costed.problems, tabs, costed.remembered, (), "")
    return {sheet.title: sheet for sheet in found}


def at_a_glance(values: Mapping[str, object]) -> Iterator[tuple[object, float, float]]:
    """Each product, how far it is below at an outlet, and the least of the first three.

    The unseen figures stand right of Cost made, an outlet a column.
    """
    top = 1 + next(int(at[1:]) for at, value in values.items() if value == "Product")
    for row in (top, top + 1):
        for column in "LMN":
            yield (
                values[f"A{row}"],
                float(str(values[f"{column}{row}"])),
                float(str(values[f"L{top - 1}"])),
            )


def test_what_to_do_stands_out_for_the_three_that_are_furthest_below(
    tmp_path: Path, ironcalc: IronCalc
) -> None:
    path = make_book(tmp_path / "stall.xlsx", sheets(THREE))
    run("cost", path, "--on", ON.isoformat())
    values = ironcalc.open(path).values("Prices")
    found = list(at_a_glance(values))
    shares = [short for _, short, _ in found]
    expected = (0.25, 0.4, 2 / 3.5, 4 / 24, 1 / 3, 0.5)
    assert shares == pytest.approx(expected, abs=1e-6)
    assert [round(short, 4) for _, short, least in found if short >= least] == [0.4, 0.5714, 0.5]
    document = ironcalc.open(path)
    document.set("Products", "D2", 4)  # no flatbread is below any more
    document.recalculate()
    found = list(at_a_glance(document.values("Prices")))
    assert [round(short, 4) for _, short, least in found if short >= least > 0] == [
        *(0.1667, 0.3333, 0.5),
    ]


def test_the_marks_ask_the_unseen_figures() -> None:
    prices = described(SAMPLE)["Prices"]
    flags = [mark for mark in prices.marks if mark.role is Role.FLAG and ">=$L$" in mark.when]
    assert [mark.area[1] for mark in flags] == [3, 6, 9]
    top = flags[0].area[0] + 1
    assert [mark.when.split(",")[1] for mark in flags] == [f"{at}{top}>0" for at in "LMN"]


def test_the_cheapest_pack_never_wears_the_colour_of_alarm() -> None:
    packs = described(SAMPLE)["Packs compared"]
    words = [cell for cell in packs.cells() if cell.value in ("cheapest", "overtaken")]
    assert {cell.value for cell in words} == {"cheapest", "overtaken"}
    assert {cell.look.role for cell in words} == {Role.LABEL}
    marks = [mark for mark in packs.marks if "cheapest" in mark.when]
    assert {mark.role for mark in marks} == {Role.ANSWER}


def test_the_main_sample_prints_on_twenty_pages() -> None:
    pages = {
        title: 1 + len(page_breaks(sheet, row_heights(sheet)))
        for title, sheet in described(SAMPLE).items()
        if not sheet.hidden
    }
    assert pages == {
        "In short": 1,
        "Prices": 3,
        "Cost cards": 9,
        "Latest prices": 1,
        "Packs compared": 1,
        "What moved": 2,
        "Try a change": 1,
        "To put right": 1,
        "About": 1,
    }
    assert sum(pages.values()) == 20


def test_three_outlets_stand_on_a_screen_of_1366_pixels(tmp_path: Path) -> None:
    """At 9.35 pixels to a character, as in a workbook of a wide font, and 40 at the side.

    Product, and three times CHARGE, Price now and What to do, with Cost made: to 1,290 pixels.
    """
    prices = described(SAMPLE)["Prices"]
    assert 40 + 9.35 * sum(prices.widths[at] for at in range(11)) < 1290
    dear = make_book(tmp_path / "dear.xlsx", sheets(THREE.replace("kg   | 2\n", "kg   | 40000\n")))
    widths = described(dear)["Prices"].widths
    assert {widths[at] for at in range(2, 12)} == {12.3}  # 480,000.00 and more
