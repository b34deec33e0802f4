"""What our sheets promise on screen and on paper, read back from written workbooks."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils import coordinate_to_tuple, range_boundaries

from costbook.costing.result import CAUTION
from costbook.costing.structure import Row
from costbook.writing.description import Look, SheetDescription
from costbook.writing.pages.page import LEGEND
from costbook.writing.pages.parted import parted
from costbook.writing.paper import page_breaks
from costbook.writing.sheets import TITLES
from tests.helpers import make_book, run

ON = "2026-11-20"
OURS = ("Prices", "Cost cards", "Latest prices", "Workings", "To put right", "About")
LONG = "Flatbread of roasted aubergine, walnut and pomegranate number"
OIL = "Extra-virgin olive oil of the first pressing, from the hill farm"


def book(products: int, currency: str, dear: int) -> dict[str, list[tuple[Any, ...]]]:
    """Products with long names and dear ingredients, sold at a stall and to a café."""
    recipes = [f"Recipe {n}" for n in range(products)]
    bought = date(2026, 11, 1)
    return {
        "Settings": [
            ("Setting", "Value"),
            ("Business", "Hob & Peel"),
            ("Currency", currency),
            ("Pay per hour", 14 * dear),
            ("Target margin %", 0.3),
        ],
        "Purchases": [
            ("Date", "Item", "Supplier", "Pack size", "Unit", "Price per pack"),
            (bought, "Flour", "Mill & Co", 1, "kg", 2.5 * dear),
            (bought, OIL, "Mill & Co", 1, "kg", 9.5 * dear),
        ],
        "Recipes": [
            ("Recipe", "Uses", "Amount", "Unit"),
            *((name, item, 300, "g") for name in recipes for item in ("Flour", OIL)),
            ("Recipe 0", "Saffron", 1, "g"),
        ],
        "Batches": [("Recipe", "Makes", "Unit"), *((name, 12, "ea") for name in recipes)],
        "Stages": [
            ("Recipe", "Stage", "People", "Minutes per batch"),
            *((name, "Mix and fill", 1, 40) for name in recipes),
        ],
        "Products": [
            ("Product", "Recipe", "Units per pack", "Current price"),
            *((f"{LONG} {n}", name, 1, 2 * dear) for n, name in enumerate(recipes)),
        ],
        "Outlets": [
            ("Outlet", "Kind", "Fee per day", "Units sold per day", "Hours per day"),
            ("Saturday market by the old corn exchange", "stall", 30 * dear, 60, 0),
            ("Café", "wholesale", 0, 20, None),
        ],
    }


class Costed:
    """A costed workbook: its formulas and looks, and its stored values."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.looks: Any = openpyxl.load_workbook(path)
        self.values: Any = openpyxl.load_workbook(path, data_only=True)

    def shown(self, title: str) -> Iterator[tuple[Any, Any]]:
        """Every cell of a sheet with something in it, and its stored value."""
        values = self.values[title]
        for row in self.looks[title].iter_rows():
            for cell in row:
                value = values[cell.coordinate].value if cell.value is not None else None
                if value not in (None, ""):
                    yield cell, value

    def at(self, title: str, text: str) -> list[Any]:
        """The cells that show a text."""
        return [cell for cell, value in self.shown(title) if value == text]

    def in_full(self) -> Any:
        """The heading of the price to charge in the full table, below the one at a glance."""
        row = self.at("Prices", "Margin there")[0].row
        return next(cell for cell in self.at("Prices", "AT LEAST") if cell.row == row)


def costed(folder: Path, products: int, currency: str, dear: int) -> Costed:
    source = make_book(folder / "in.xlsx", book(products, currency, dear))
    out = folder / "out.xlsx"
    code, _, err = run("cost", source, "--on", ON, "--output", out)
    assert code == 1, err  # nothing was bought of one ingredient: a product lacks its price
    return Costed(out)


@pytest.fixture(scope="module")
def stall(tmp_path_factory: pytest.TempPathFactory) -> Costed:
    """Twelve products in Kuwaiti dinar, whose coins have three decimals, at over 100,000 each."""
    return costed(tmp_path_factory.mktemp("stall"), 12, "KWD", 100_000)


# ------------------------------------------------------------------ screen


@pytest.mark.parametrize(
    ("title", "pane"),
    [
        ("Prices", "C2"),
        ("Cost cards", "B1"),
        ("Latest prices", "B7"),
        ("Workings", "B2"),
        ("To put right", "A5"),
        ("About", "A2"),
    ],
)
def test_headings_and_names_stay_in_sight(stall: Costed, title: str, pane: str) -> None:
    assert stall.looks[title].freeze_panes == pane


ARIAL = {",": 3.71, ".": 3.71, "-": 4.44, "%": 11.85, " ": 3.71, "+": 7.79}
"""Widths at 10 points on screen [pixels], from memory of Adobe's metrics: 13.33 px an em."""


def pixels(text: str) -> float:
    """At most as wide as this: a digit is 0.556 em, a letter on average no wider than that."""
    return sum(ARIAL.get(letter, 7.41) for letter in text)


def as_shown(value: float, code: str) -> str:
    """A number in the formats that our sheets use."""
    code = code.split(";", maxsplit=1)[0]
    if code == "d mmm yyyy":
        return "30 Sep 2026"
    if "%" in code:
        return f"{value:.1%}"
    decimals = re.sub(r"[^0#.]", "", code).partition(".")[2]
    text = f"{value:,.{len(decimals)}f}"
    spare = len(decimals) - decimals.count("0")
    while spare and text.endswith("0"):
        text, spare = text[:-1], spare - 1
    return text.rstrip(".") + (" min" if "min" in code else "")


def width_of(sheet: Any, column: int) -> float:
    """A column's width in pixels, less what programs keep free at its edges."""
    for each in sheet.column_dimensions.values():
        if each.min <= column <= each.max:
            return int(each.width * 7 + 5 - 5)
    raise AssertionError(f"{sheet.title} gives column {column} no width")


def room_of(sheet: Any, cell: Any) -> float:
    """The width of a cell with those that are merged into it."""
    areas: list[Any] = [range_boundaries(str(area)) for area in sheet.merged_cells]
    last = next((each[2] for each in areas if each[:2] == (cell.column, cell.row)), cell.column)
    return float(sum(width_of(sheet, at) for at in range(cell.column, last + 1)))


def figures(stall: Costed, title: str) -> Iterator[tuple[Any, str]]:
    for cell, value in stall.shown(title):
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            if cell.number_format != ";;;@":
                yield cell, as_shown(value, cell.number_format)
        elif hasattr(value, "year"):
            yield cell, "30 Sep 2026"


@pytest.mark.parametrize("title", OURS)
def test_every_figure_fits_its_column(stall: Costed, title: str) -> None:
    sheet = stall.looks[title]
    wide = [
        f"{cell.coordinate}: {text}"
        for cell, text in figures(stall, title)
        if pixels(text) * cell.font.sz / 10 > room_of(sheet, cell)
    ]
    assert wide == []


MONEY = "#,##0.00"


def test_columns_of_money_hold_more_than_a_million(stall: Costed) -> None:
    for title in ("Prices", "Cost cards", "Latest prices"):
        sheet = stall.looks[title]
        money = [cell for cell, _ in stall.shown(title) if MONEY in cell.number_format]
        columns = {cell.column for cell in money if cell.font.sz == 10}
        assert columns, title
        for column in columns:
            assert pixels("1,234,567.890") <= width_of(sheet, column), (title, column)


def spilling(stall: Costed, title: str) -> Iterator[str]:
    """Texts longer than their cell that neither wrap nor have room to run on."""
    sheet = stall.looks[title]
    merged = {str(area).split(":")[0]: range_boundaries(str(area)) for area in sheet.merged_cells}
    widest = sheet.max_column
    for cell, value in stall.shown(title):
        if not isinstance(value, str) or cell.alignment.wrap_text:
            continue
        first, _, last, _ = merged.get(cell.coordinate, (cell.column, 0, cell.column, 0))
        while last < widest and sheet.cell(cell.row, last + 1).value is None:
            last += 1
        room = sum(width_of(sheet, at) for at in range(first, last + 1))
        if 0.75 * len(value) * 7.41 > room:
            yield f"{cell.coordinate}: {value}"


@pytest.mark.parametrize("title", [title for title in OURS if title != "Workings"])
def test_no_text_runs_into_its_neighbour(stall: Costed, title: str) -> None:
    assert list(spilling(stall, title)) == []


@pytest.mark.parametrize("title", OURS)
def test_headings_wrap_and_stand_as_their_figures_do(stall: Costed, title: str) -> None:
    sheet = stall.looks[title]
    headings = [c for c, v in stall.shown(title) if c.fill.fgColor.rgb == "FFECE8DC" and c.font.b]
    headings = [c for c in headings if c.border.left.style is None]
    for heading in headings:
        below = sheet.cell(heading.row + 1, heading.column)
        assert heading.alignment.wrap_text
        if below.number_format not in ("General", ";;;@"):
            assert heading.alignment.horizontal == "right", heading.coordinate
    assert headings or title in ("Cost cards", "About")


def test_the_looks_of_the_legend_differ_without_colour(stall: Costed) -> None:
    words = [word for _, word in LEGEND]
    cells = [stall.at("Prices", word)[0] for word in words]
    seen = [
        (
            cell.font.b,
            cell.font.i,
            *(getattr(cell.border, side).style for side in ("left", "right", "top", "bottom")),
        )
        for cell in cells
    ]
    assert words == ["typed by you", "computed", "a total", "the answer", "look at this"]
    assert len(set(seen)) == len(words)


def test_what_is_not_known_is_a_mark_that_stands_out(stall: Costed) -> None:
    sheet = stall.looks["Prices"]
    unknown = stall.at("Prices", "?")
    marked = [
        range_boundaries(str(area))
        for formats in sheet.conditional_formatting
        for area in formats.sqref.ranges
        if any('="?"' in rule.formula[0] for rule in formats.rules)
    ]
    assert unknown
    day = stall.at("Prices", "Before own pay")[0].row
    for cell in unknown:
        inside = [
            left <= cell.column <= right and top <= cell.row <= bottom
            for left, top, right, bottom in marked
        ]
        assert any(inside) or cell.row > day, cell.coordinate


@pytest.mark.parametrize(
    ("currency", "dear", "code"),
    [("USD", 1, "#,##0.00"), ("JPY", 100, "#,##0"), ("KWD", 1, "#,##0.000")],
)
def test_money_has_its_currencys_decimals(
    tmp_path: Path, currency: str, dear: int, code: str
) -> None:
    made = costed(tmp_path, 2, currency, dear)
    sheet = made.looks["Prices"]
    charge = made.in_full()
    assert sheet.cell(charge.row + 1, charge.column).number_format == f"{code};-{code}"
    assert sheet.cell(charge.row + 1, charge.column + 1).number_format == "0.0%"
    sign = {"USD": "$", "JPY": "¥", "KWD": "KWD"}[currency]
    assert made.at("Prices", f"At a glance ({sign} a pack)")


# ------------------------------------------------------------------ paper


@pytest.mark.parametrize(
    ("title", "orientation", "rows"),
    [
        ("Prices", "landscape", "$1:$1"),
        ("Cost cards", "portrait", None),
        ("Latest prices", "landscape", "$6:$6"),
        ("Workings", "landscape", "$1:$1"),
        ("To put right", "landscape", "$4:$4"),
        ("About", "portrait", "$1:$2"),
    ],
)
def test_pages_fit_the_width_and_repeat_their_titles(
    stall: Costed, title: str, orientation: str, rows: str | None
) -> None:
    sheet = stall.looks[title]
    assert sheet.page_setup.orientation == orientation
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.page_setup.fitToHeight == 0
    assert sheet.print_title_rows == rows
    assert sheet.page_setup.fitToWidth in ((None, 1) if title != "Workings" else range(2, 9))


@pytest.mark.parametrize("title", OURS)
def test_the_cautions_stand_on_every_sheet_wholly_in_sight(stall: Costed, title: str) -> None:
    sheet = stall.looks[title]
    cells = stall.at(title, CAUTION)
    assert len(cells) == 1
    areas: dict[str, Any] = {
        str(area).split(":")[0]: range_boundaries(str(area)) for area in sheet.merged_cells
    }
    for cell in cells:
        first, _, last, _ = areas[cell.coordinate]
        room = sum(width_of(sheet, at) for at in range(first, last + 1))
        lines = -(-0.9 * len(CAUTION) * 6 // room)  # 6 px is the mean of Arial's letters
        assert cell.alignment.wrap_text
        assert sheet.row_dimensions[cell.row].height >= 12.5 * lines


def test_each_card_begins_a_page(stall: Costed) -> None:
    sheet = stall.looks["Cost cards"]
    titles = [c.row - 1 for c, v in stall.shown("Cost cards") if str(v).startswith("Cost card")]
    breaks = {each.id for each in sheet.row_breaks.brk}  # the row after which the page ends
    assert len(titles) == 12
    assert {row - 1 for row in titles[1:]} <= breaks


def test_no_page_ends_within_a_chart(stall: Costed) -> None:
    sheet = stall.looks["Prices"]
    breaks = [each.id for each in sheet.row_breaks.brk]
    assert breaks
    assert len(sheet._charts) > 1
    for chart in sheet._charts:
        top, end = chart.anchor._from.row + 1, chart.anchor.to.row + 1
        assert not [row for row in breaks if top <= row < end]


def test_no_table_of_prices_is_cut(stall: Costed) -> None:
    sheet = stall.looks["Prices"]
    breaks = [each.id for each in sheet.row_breaks.brk]
    for row in breaks:
        first = sheet.cell(row + 1, 1)
        assert first.font.sz == 12, first.coordinate  # a section's title
        assert first.font.b


# ------------------------------------------------------------------ links and charts


@pytest.mark.parametrize("title", OURS)
def test_every_link_leads_to_a_cell_with_something_in_it(stall: Costed, title: str) -> None:
    links = [cell.hyperlink for row in stall.looks[title].iter_rows() for cell in row]
    targets = [each.location for each in links if each is not None]
    for target in targets:
        tab, _, place = target.rpartition("!")
        there = stall.looks[tab.strip("'").replace("''", "'")]
        assert there[place].value is not None, target
    assert bool(targets) == (title not in ("Workings", "About"))


def test_nine_sheets_at_most_are_in_sight_and_no_link_leads_out_of_it(stall: Costed) -> None:
    hidden = {sheet.title for sheet in stall.looks.worksheets if sheet.sheet_state != "visible"}
    assert hidden == {"Workings", "Trial workings", "In words", "Earlier costings", "Memory"}
    ours = [title for title in TITLES if title not in hidden]
    assert len(ours) <= 9
    for title in ours:
        links = [c.hyperlink.location for row in stall.looks[title] for c in row if c.hyperlink]
        assert not [each for each in links if each.rpartition("!")[0].strip("'") in hidden]


def test_figures_lead_to_what_they_rest_on(stall: Costed) -> None:
    prices, cards = stall.looks["Prices"], stall.looks["Cost cards"]
    heading = stall.in_full()
    row = heading.row + 3  # the second product's first row
    name = f"{LONG} 1"
    card = next(c for c, v in stall.shown("Cost cards") if v == name and c.font.sz == 16)
    assert stall.values["Prices"].cell(row, 1).value == name
    assert prices.cell(row, 1).hyperlink.location == f"'Cost cards'!A{card.row}"
    assert prices.cell(row, heading.column).hyperlink.location == f"'Cost cards'!A{card.row}"
    line = next(c for c, v in stall.shown("Cost cards") if v == "Flour" and c.row > card.row)
    assert line.hyperlink.location == "'Recipes'!B4"
    assert cards.cell(line.row, 9).hyperlink.location == "'Purchases'!B2"
    latest = next(c for c, v in stall.shown("Latest prices") if v == "Flour")
    day = stall.looks["Latest prices"].cell(latest.row, 6)
    assert day.hyperlink.location == "'Purchases'!B2"


def area(reference: str) -> tuple[int, int, int, int]:
    tab, _, cells = reference.rpartition("!")
    assert tab.strip("'") == "Prices", reference
    first, _, last = cells.replace("$", "").partition(":")
    return (*coordinate_to_tuple(first), *coordinate_to_tuple(last or first))


def categories(series: Any) -> str:
    return str((series.cat.numRef or series.cat.strRef).f)


def charts(stall: Costed) -> list[Any]:
    return list(stall.looks["Prices"]._charts)


def test_the_bars_are_drawn_from_shares_that_add_up_to_the_whole_price(stall: Costed) -> None:
    values = stall.values["Prices"]
    bars = [chart for chart in charts(stall) if chart.tagname == "barChart" and chart.overlap]
    names: list[str] = []
    for chart in bars:
        assert chart.grouping == "percentStacked"
        columns = []
        for series in chart.series:
            top, column, bottom, _ = area(series.val.numRef.f)
            heading = area(series.tx.strRef.f)
            assert heading == (top - 1, column, top - 1, column)
            columns.append(column)
            assert values.cell(top, column).value == 1  # the key: a bar of equal parts
        for row in range(top + 1, bottom + 1):
            parts = [values.cell(row, column).value for column in columns]
            assert sum(parts) == pytest.approx(1, abs=1e-12)
            names.append(str(values.cell(row, 1).value))
        assert area(categories(chart.series[0])) == (top, 1, bottom, 1)
    # the first product lacks a price: no bar may show it as if it were whole
    assert names == [f"{LONG} {n}" for n in range(1, 12)]


def test_the_first_bar_names_the_parts(stall: Costed) -> None:
    with zipfile.ZipFile(stall.path) as package:
        parts = [package.read(name).decode() for name in package.namelist() if "charts/" in name]
    bars = next(part for part in parts if "percentStacked" in part)
    named = [re.findall(r"<a:t>([^<]*)</a:t>", each)[0] for each in bars.split("<c:ser>")[1:]]
    assert named == [
        *("Ingredients", "Packaging", "Labour", "Kitchen"),
        *("Overhead", "Selling", "Fees", "Profit"),
    ]
    # a pack's labour is 1,400,000 × 40 ÷ 60 ÷ 12 = 77,778; its selling 3,000,000 ÷ 60 = 50,000;
    # its ingredients (0.3 × 250,000 + 0.3 × 950,000) ÷ 12 = 30,000
    title = re.search(r"<c:title>.*?<a:t>([^<]*)</a:t>", bars)
    assert title
    assert title[1] == (
        "Labour is the largest cost of 11 of the 11 products at Saturday market by the old corn "
        "exchange (as costed on 2026-11-20)"
    )


def test_the_ladder_is_drawn_from_its_own_two_lines(stall: Costed) -> None:
    values = stall.values["Prices"]
    (ladder,) = [chart for chart in charts(stall) if chart.type == "col"]
    (series,) = ladder.series
    top, first, bottom, last = area(series.val.numRef.f)
    prices = area(categories(series))
    assert prices == (top - 1, first, top - 1, last)
    assert bottom == top
    assert last - first == 6
    assert values.cell(top, 3).value == "left"
    assert values.cell(top - 1, 1).value == f"{LONG} 0"


def test_the_same_workbook_gives_the_same_file(tmp_path: Path) -> None:
    source = make_book(tmp_path / "in.xlsx", book(2, "USD", 1))
    files = [tmp_path / "a.xlsx", tmp_path / "b.xlsx"]
    for each in files:
        run("cost", source, "--on", ON, "--output", each)
    assert files[0].read_bytes() == files[1].read_bytes()


# ------------------------------------------------------------------ parts and pages


def rows_of(products: list[int]) -> list[Row]:
    return [Row("prices", at, {"product": str(name)}) for at, name in enumerate(products)]


@given(st.lists(st.tuples(st.integers(0, 4), st.integers(1, 90)), max_size=40))
def test_parts_hold_every_row_and_fit(sizes: list[tuple[int, int]]) -> None:
    rows = rows_of([name for name, _ in sizes])
    parts = list(parted(rows, lambda row: sizes[row.index][1], 100, 60))
    assert [row for part in parts for row in part] == rows
    for number, part in enumerate(parts):
        high = sum(sizes[row.index][1] for row in part)
        assert high <= (100 if number else 60) or len(part) == 1


def test_a_product_is_not_parted_if_it_fits_a_page() -> None:
    parts = parted(rows_of([1, 1, 2, 2, 2, 3]), lambda row: 20.0, 80)
    assert [[row.fixed["product"] for row in part] for part in parts] == [
        ["1", "1"],
        ["2", "2", "2", "3"],
    ]


ROWS_A_PAGE = 46
"""Of 15 points, upright on US Letter less its margins: 0.98 × 9.9 in × 72 ÷ 15 = 46.6."""


@given(st.lists(st.integers(1, ROWS_A_PAGE), min_size=1, max_size=30))
def test_what_fits_a_page_is_not_cut(lengths: list[int]) -> None:
    sheet = SheetDescription("Any", "Any", landscape=False, widths={0: 90.0})
    for length in lengths:
        sheet.begin_block()
        sheet.put(sheet.next_row, 0, "text", Look())
        sheet.next_row += length
    breaks = page_breaks(sheet, {})
    assert set(breaks) <= set(sheet.blocks)
    blocks = [*sheet.blocks, sheet.next_row]
    for first, end in pairwise([0, *breaks, sheet.next_row]):
        assert end - first <= ROWS_A_PAGE
        if end != sheet.next_row:  # the next block would not have fitted
            assert blocks[blocks.index(end) + 1] - first > ROWS_A_PAGE
