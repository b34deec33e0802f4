"""The same business laid out in many ways: each workbook gives the same figures.

What was taken for what is said each time, so that a person can see it.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.definitions.sheets import SHEETS
from costbook.definitions.wordings import heading_words, tab_words
from costbook.reading.tables import heading_key, match_tabs
from costbook.writing.sheets import TITLES
from tests.helpers import Book, make_book, priced, save
from tests.reading.costed import costed

Rows = list[list[object]]

PURCHASES: Rows = [
    ["Date", "Item", "Supplier", "Packs", "Pack size", "Unit", "Price per pack"],
    ["2026-11-01", "Flour", "Mill", 1, 2, "kg", 1.5],
    ["2026-11-02", "Leeks", "Barn", 2, 500, "g", 2.25],
    ["2026-11-03", "Film", "Shop", 1, 30, "m", 3],
]
RECIPES: Rows = [
    ["Recipe", "Uses", "Amount", "Unit", "Usable %"],
    ["Leek roll", "Flour", 900, "g", None],
    ["Leek roll", "Leeks", 600, "g", 0.8],
]
BATCHES: Rows = [["Recipe", "Makes", "Unit"], ["Leek roll", 24, "ea"]]
PRODUCTS: Rows = [
    ["Product", "Recipe", "Units per pack", "Current price"],
    ["Leek roll, single", "Leek roll", 1, 2.5],
]
STAGES: Rows = [
    ["Recipe", "Stage", "People", "Minutes per batch"],
    ["Leek roll", "Fill", 1, 30],
]
SETTINGS: Rows = [
    ["Setting", "Value"],
    ["Currency", "EUR"],
    ["Pay per hour", 12],
    ["Target margin %", 0.3],
]
PLAIN: dict[str, Rows] = {
    "Settings": SETTINGS,
    "Purchases": PURCHASES,
    "Recipes": RECIPES,
    "Batches": BATCHES,
    "Stages": STAGES,
    "Products": PRODUCTS,
}


def figures(answer: dict[str, Any]) -> dict[str, Any]:
    """What a workbook comes to, without what is said of it."""
    return {part: answer[part] for part in ("products", "recipes", "items", "currency")}


@pytest.fixture(scope="module")
def plain() -> dict[str, Any]:
    answer = costed(PLAIN)
    # 900 g at 0.75 a kg, and 600 g over 0.8 at 4.50 a kg, by 24: 0.675 + 3.375 = 4.05
    assert answer["products"][0]["cost"]["ingredients"] == pytest.approx(4.05 / 24, rel=1e-12)
    assert answer["products"][0]["cost"]["labour"] == pytest.approx(6 / 24, rel=1e-12)
    assert [p for p in answer["problems"] if "2026-11-0" not in p["what"]] == []
    return figures(answer)


def renamed(rows: Rows, *headings: str) -> Rows:
    return [list(headings), *rows[1:]]


def moved(rows: Rows, right: int) -> Rows:
    return [[None] * right + row for row in rows]


def beside(one: Rows, other: Rows) -> Rows:
    """Two tables side by side, an empty column between them."""
    height = max(len(one), len(other))
    width = max(len(row) for row in one)
    left = [row + [None] * (width - len(row)) for row in one] + [[None] * width] * height
    right = other + [[]] * height
    return [left[at] + [None] + right[at] for at in range(height)]


def without(*names: str) -> dict[str, Rows]:
    return {name: rows for name, rows in PLAIN.items() if name not in names}


LAYOUTS: dict[str, tuple[Book, str]] = {
    "titles above, headings in row 5": (
        PLAIN | {"Purchases": [["Receipts 2026"], [], ["by Jo", None, "and Ann"], [], *PURCHASES]},
        "",
    ),
    "the table starts in column D": (PLAIN | {"Recipes": moved(RECIPES, 3)}, ""),
    "blank rows between": (
        PLAIN | {"Recipes": [RECIPES[0], [], RECIPES[1], [], [], RECIPES[2]]},
        "",
    ),
    "a totals row": (
        PLAIN | {"Purchases": [*PURCHASES, [], ["Total", None, None, None, None, None, 6.75]]},
        "Purchases!A6: this row was taken for totals, and left out.",
    ),
    "a totals row without a word": (
        PLAIN | {"Purchases": [*PURCHASES, [None] * 6 + [6.75]]},
        "Purchases!A5: this row was taken for totals, and left out.",
    ),
    "totals in other languages": (
        PLAIN | {"Recipes": [*RECIPES, ["Summe:", None, 1500, "g"]]},
        "Recipes!A4: this row was taken for totals, and left out.",
    ),
    "a note beside": (
        PLAIN | {"Recipes": [RECIPES[0], [*RECIPES[1], None, "ask Ann"], RECIPES[2]]},
        "",
    ),
    "a note below": (
        PLAIN | {"Purchases": [*PURCHASES, [], ["The mill closes in January."]]},
        "Purchases!A6: this row was taken for a note, and left out.",
    ),
    "a note below in the naming column": (
        PLAIN | {"Recipes": [*RECIPES, [], ["Ask Ann about the leeks"]]},
        "Recipes!A5: this row was taken for a note, and left out.",
    ),
    "headings repeated on each page": (
        PLAIN | {"Purchases": [*PURCHASES[:3], PURCHASES[0], PURCHASES[3]]},
        "",
    ),
    "two tables on a sheet, one below the other": (
        without("Batches") | {"Recipes": [*RECIPES, [], *BATCHES]},
        "Recipes!A5: by its headings, this was read as the sheet Batches.",
    ),
    "two tables on a sheet, side by side": (
        without("Batches") | {"Recipes": beside(RECIPES, BATCHES)},
        "Recipes!A1: by its headings, this was read as the sheet Batches.",
    ),
    "extra columns": (
        PLAIN | {"Purchases": [[row[0], f"R{at}", *row[1:]] for at, row in enumerate(PURCHASES)]},
        "",
    ),
    "extra sheets": (
        {"Diary": [["Saturday", "wet"], ["Sunday", 14]], **PLAIN, "Shopping": [["Milk"]]},
        "",
    ),
    "columns in another order": (
        PLAIN | {"Purchases": [list(reversed(row)) for row in PURCHASES]},
        "",
    ),
    "sheets in another order": (dict(reversed(PLAIN.items())), ""),
    "headings in capitals, with spaces and signs": (
        PLAIN
        | {
            "Purchases": renamed(
                PURCHASES,
                *(" DATE ", "item:", "SUPPLIER", "packs", "Pack-size", "unit", "PRICE PER PACK"),
            )
        },
        "",
    ),
    "headings with their unit in brackets": (
        PLAIN
        | {
            "Purchases": renamed(
                PURCHASES,
                *("Date", "Item", "Supplier", "Packs", "Pack size (each)", "Unit"),
                "Price per pack (EUR)",
            )
        },
        "",
    ),
    "the trade's short words": (
        PLAIN
        | {
            "Purchases": renamed(
                PURCHASES, "Date", "Ingredient", "Vendor", "Qty", "AP size", "UOM", "AP price"
            ),
            "Recipes": renamed(RECIPES, "Recipe", "Ingredient", "Qty", "UOM", "EP %"),
        },
        'Recipes!E1: the heading "EP %" was read as "Usable %".',
    ),
    "yield and labor": (
        without("Stages")
        | {
            "Labor": renamed(STAGES, "Recipe", "Step", "People", "Labor minutes"),
            "Recipes": renamed(RECIPES, "Recipe", "Item", "Quantity", "Unit", "Yield"),
        },
        "Labor: by its name, this was read as the sheet Stages.",
    ),
    "German": (
        {
            "Einstellungen": [
                ["Einstellung", "Wert"],
                ["Währung", "EUR"],
                ["Stundenlohn", "12,00"],
                ["Zielmarge %", 0.3],
            ],
            "Einkäufe": [
                ["Datum", "Artikel", "Lieferant", "Anzahl", "Packungsgröße", "Einheit", "Preis"],
                ["1.11.2026", "Flour", "Mill", 1, "2 kg", None, "1,50 €"],
                ["2.11.2026", "Leeks", "Barn", 2, 500, "g", "2,25"],
                ["13.11.2026", "Film", "Shop", 1, 30, "m", "3,00"],
            ],
            "Rezepte": renamed(RECIPES, "Rezept", "Zutat", "Menge", "Einheit", "Ausbeute"),
            "Chargen": renamed(BATCHES, "Rezept", "Ergibt", "Einheit"),
            "Arbeitsschritte": renamed(STAGES, "Rezept", "Schritt", "Personen", "Minuten"),
            "Produkte": renamed(PRODUCTS, "Produkt", "Rezept", "Stück je Packung", "Preis"),
        },
        'Einkäufe!E1: the heading "Packungsgröße" was read as "Pack size".',
    ),
    "French": (
        {
            "Réglages": [
                ["Réglage", "Valeur"],
                ["Devise", "EUR"],
                ["Salaire horaire", 12],
                ["Marge visée", 0.3],
            ],
            "Achats": renamed(
                PURCHASES,
                *("Date", "Ingrédient", "Fournisseur", "Quantité", "Contenance", "Unité", "Prix"),
            ),
            "Recettes": renamed(RECIPES, "Recette", "Ingrédient", "Quantité", "Unité", "Rendement"),
            "Fournées": renamed(BATCHES, "Recette", "Donne", "Unité"),
            "Étapes": renamed(STAGES, "Recette", "Étape", "Personnes", "Minutes par lot"),
            "Produits": renamed(PRODUCTS, "Produit", "Recette", "Pièces par paquet", "Prix"),
        },
        "Achats: by its name, this was read as the sheet Purchases.",
    ),
    "tabs of any name, known by their headings": (
        {
            "Settings": SETTINGS,
            "Shopping 2026": PURCHASES,
            "What goes in": RECIPES,
            "How many": BATCHES,
            "Hours": STAGES,
            "List": PRODUCTS,
        },
        "Shopping 2026!A1: by its headings, this was read as the sheet Purchases.",
    ),
    "one far away cell": (
        PLAIN | {"Recipes": [*RECIPES, *[[]] * 600, ["x"]]},
        "Recipes!A604: from this row on, nothing was read as part of the table above.",
    ),
}


def spoken(answer: dict[str, Any]) -> list[str]:
    return [
        f"{p['sheet']}!{p['cell']}: {p['what']}" if p["cell"] else f"{p['sheet']}: {p['what']}"
        for p in answer["problems"]
    ]


DATES_DIFFER = ("German",)  # its film is bought on the 13th, so that day and month are told apart


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_layout_comes_to_the_same(plain: dict[str, Any], name: str) -> None:
    book, says = LAYOUTS[name]
    answer = costed(book)
    found = figures(answer)
    if name in DATES_DIFFER:
        found["items"] = [
            row | {"date": row["date"].replace("-13", "-03")} for row in found["items"]
        ]
    assert found == plain
    assert [p for p in answer["problems"] if p["severity"] == "wrong"] == []
    assert not says or says in spoken(answer)


def test_merged_hidden_and_filtered_cells_change_nothing(
    plain: dict[str, Any], tmp_path: Path
) -> None:
    path = save(PLAIN | {"Purchases": [["Receipts"], *PURCHASES]}, tmp_path)
    book = openpyxl.load_workbook(path)
    sheet = book["Purchases"]
    sheet.merge_cells("A1:G1")
    sheet.row_dimensions[3].hidden = True
    sheet.column_dimensions["C"].hidden = True
    sheet.auto_filter.ref = "A2:G5"
    book["Recipes"].sheet_state = "hidden"
    book.save(path)
    assert figures(costed(path)) == plain


def test_a_row_without_its_name_under_an_empty_row_is_asked_and_the_name_above_is_offered() -> None:
    answer = costed(
        PLAIN | {"Recipes": [RECIPES[0], RECIPES[1], [], [None, "Leeks", 600, "g", 0.8]]},
    )
    assert "Recipes!A4: the row has no Recipe, so nobody knows whose it is." in spoken(answer)
    (remedy,) = {p["remedy"] for p in answer["problems"] if p["what"].startswith("the row has")}
    assert remedy == 'Fill it in ("Leek roll"?), or clear the row.'


def test_a_heading_that_is_nearly_one_of_ours_is_offered() -> None:
    answer = costed(PLAIN | {"Recipes": renamed(RECIPES, *RECIPES[0][:4], "Usabel %")})  # type: ignore[arg-type]  # headings are texts
    assert 'Recipes!E1: the heading "Usabel %" is not known, so its column was not read.' in spoken(
        answer
    )
    needed = costed(PLAIN | {"Recipes": renamed(RECIPES, "Recipe", "Uses", "Amuont", "Unit", "")})
    assert 'Recipes!A1: there is no heading "Amount".' in spoken(needed)
    assert 'Rename "Amuont", if it is that.' in [p["remedy"] for p in needed["problems"]]


def test_a_table_without_headings_is_said(tmp_path: Path) -> None:
    answer = costed(PLAIN | {"Recipes": RECIPES[1:]})
    assert "Recipes: no row of headings was found." in spoken(answer)


def test_settings_may_stand_anywhere_and_be_called_otherwise(plain: dict[str, Any]) -> None:
    odd: Rows = [
        ["My choices"],
        [],
        [None, "currency", "EUR", "as on the statement"],
        [None, "VAT", None],
        [None, "Hourly pay", None, 12],
        [None, "Target margin", 0.3],
    ]
    answer = costed(PLAIN | {"Settings": odd})
    assert figures(answer) == plain
    assert 'Settings!B5: "Hourly pay" was read as the setting "Pay per hour".' in spoken(answer)


def test_no_wording_means_two_things() -> None:
    for sheet in SHEETS:
        owner = {heading_key(field.title): field.name for field in sheet.fields}
        for name, words in heading_words(sheet).items():
            for word in words:
                assert owner.setdefault(heading_key(word), name) == name, (sheet.title, word)
    tabs = {heading_key(sheet.title): sheet.title for sheet in SHEETS}
    for sheet in SHEETS:
        for word in tab_words(sheet):
            assert tabs.setdefault(heading_key(word), sheet.title) == sheet.title, word


def test_none_of_our_own_sheets_is_taken_for_the_persons() -> None:
    assert match_tabs(SHEETS, TITLES) == {}


def test_a_costed_workbook_without_a_needed_sheet_is_not_read_from_ours(tmp_path: Path) -> None:
    """With Purchases gone, nothing of ours (Latest prices, say) stands in for it."""
    written = tmp_path / "costed.xlsx"
    priced(make_book(tmp_path / "stall.xlsx", PLAIN), output=written)
    book = openpyxl.load_workbook(written)
    del book["Purchases"]
    book.save(written)
    answer = costed(written)
    assert "Purchases: this sheet is missing." in spoken(answer)
    assert all(row["price_per_base_unit"] is None for row in answer["items"])


def test_headings_of_two_storeys_are_read(plain: dict[str, Any], tmp_path: Path) -> None:
    """Pack over size and unit, Money over the price; the others merged with the row below."""
    upper = ["Date", "Item", "Supplier", "Packs", "Pack", None, "Money"]
    lower = [None, None, None, None, "size", "unit", "price per pack"]
    answer = costed(PLAIN | {"Purchases": [upper, lower, *PURCHASES[1:]]})
    assert figures(answer) == plain
    assert [p for p in answer["problems"] if p["sheet"] == "Purchases"] == []


def test_one_word_alone_may_stand_over_two_headings(plain: dict[str, Any]) -> None:
    upper = [None, None, None, None, "Pack", None, None]
    lower = [*PURCHASES[0][:4], "size", "unit", "Price per pack"]
    answer = costed(PLAIN | {"Purchases": [upper, lower, *PURCHASES[1:]]})
    assert figures(answer) == plain
    assert [p for p in answer["problems"] if p["sheet"] == "Purchases"] == []


def test_one_heading_over_all_of_two_storeys_is_no_heading(plain: dict[str, Any]) -> None:
    answer = costed(PLAIN | {"Recipes": [["Our recipes", None, "by Jo"], *RECIPES]})
    assert figures(answer) == plain


@pytest.mark.parametrize(
    "heading", ["Bought", "DATE BOUGHT", "Date of purchase", "When", "purchased on", "Invoice date"]
)
def test_the_day_may_be_headed_in_many_words(plain: dict[str, Any], heading: str) -> None:
    answer = costed(PLAIN | {"Purchases": [[heading, *PURCHASES[0][1:]], *PURCHASES[1:]]})
    assert figures(answer) == plain
    assert f'Purchases!A1: the heading "{heading}" was read as "Date".' in spoken(answer)


def test_a_missing_heading_is_said_once_and_not_at_every_row() -> None:
    without_date = [row[1:] for row in PURCHASES]
    answer = costed(PLAIN | {"Purchases": without_date})
    said = [line for line in spoken(answer) if line.startswith("Purchases!")]
    assert said == ['Purchases!A1: there is no heading "Date".']
    no_unit = [[*row[:5], row[6]] for row in PURCHASES]
    answer = costed(PLAIN | {"Purchases": no_unit})
    said = [line for line in spoken(answer) if line.startswith("Purchases!")]
    assert said == ['Purchases!A1: there is no heading "Unit".']


@pytest.mark.parametrize("note", ["Winter", "see other book", "Ask Ann about the leeks"])
def test_a_note_below_a_table_is_no_fault(plain: dict[str, Any], note: str) -> None:
    answer = costed(PLAIN | {"Recipes": [*RECIPES, [], [note]]})
    assert figures(answer) == plain
    assert "Recipes!A5: this row was taken for a note, and left out." in spoken(answer)
    assert [p for p in answer["problems"] if p["severity"] == "wrong"] == []


def test_a_name_that_heads_the_lines_below_it_is_no_note() -> None:
    lines: Rows = [[], ["Cheese roll"], [None, "Flour", 100, "g"], [None, "Leeks", 50, "g"]]
    answer = costed(PLAIN | {"Recipes": [*RECIPES, *lines]})
    assert not any("taken for a note" in line for line in spoken(answer))


def test_a_name_that_the_table_knows_is_no_note() -> None:
    answer = costed(PLAIN | {"Recipes": [*RECIPES, [], ["leek roll"]]})
    assert "Recipes!B5: it is not said what the recipe uses." in spoken(answer)


def test_an_item_by_its_name_alone_is_a_line(plain: dict[str, Any]) -> None:
    answer = costed(PLAIN | {"Items": [["Item", "Usable %"], ["Flour"], [], ["Leeks"]]})
    assert figures(answer) == plain
    assert spoken(answer) == spoken(costed(PLAIN))
