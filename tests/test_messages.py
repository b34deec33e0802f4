# ruff: noqa: E501 - one line a case, however long its sentence is
"""Every sentence that a workbook can provoke, word for word: one line a case.

A case changes cells of a workbook in which all is well, and names what must be said. At the end a
test reads the code for sentences: a new one without a test that has its words fails.
"""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator, Mapping
from contextlib import closing
from datetime import date
from functools import cache
from pathlib import Path

import openpyxl
import pytest

from costbook.arranging import arranged
from costbook.costing.explain import FIGURES
from costbook.problems import Place, Problem, Severity
from tests.helpers import Formula, Shown, make_book, run

HOUSE = Path(__file__).parent.parent
# fmt: off
WELL: dict[str, list[list[object]]] = {
    "Settings": [
        ["Setting", "Value"],
        ["Currency", "USD"],
        ["Pay per hour", 12],
        ["Target margin %", 0.3],
        ["Small-ingredient allowance %", 0.02],
        ["Costing date", None],
    ],
    "Purchases": [
        ["Date", "Item", "Supplier", "Packs", "Pack count", "Pack size", "Unit", "Price per pack", "Other cost"],
        [date(2026, 11, 1), "Flour", "Mill", 1, None, 1, "kg", 2, None],
        [date(2026, 11, 1), "Film", "Shop", 1, None, 30, "m", 3, None],
        [],
    ],
    "Items": [
        [
            *(
                "Item",
                "Usable %",
                "Grams per piece",
                "Grams per ml",
                "Roll width",
                "Roll width unit",
            ),
            *("Usual supplier", "Also called"),
        ],
        ["Flour", 0.9, None, None, None, None, None, None],
        ["Film", None, None, None, None, None, None, None],
    ],
    "Recipes": [
        ["Recipe", "Uses", "Amount", "Unit", "Measured"],
        ["Loaf", "Flour", 2, "kg", None],
        [],
        [],
    ],
    "Batches": [["Recipe", "Makes", "Unit", "Rejects"], ["Loaf", 10, "ea", 1], []],
    "Stages": [
        ["Recipe", "Stage", "People", "Minutes per batch", "Waiting minutes", "Overlap minutes"],
        ["Loaf", "Bake", 1, 20, None, None],
    ],
    "Packaging": [["Product", "Uses", "Amount", "Unit", "Per"], ["Loaf", "Film", 30, "cm", "unit"]],
    "Products": [
        ["Product", "Recipe", "Units per pack", "Not sold %", "Current price", "Target margin %"],
        ["Loaf", "Loaf", 1, None, 4, None],
        [],
    ],
    "Overheads": [["Cost", "Amount", "Per", "Share %"], ["Oven", 10, "batch", None]],
    "Outlets": [
        [
            *(
                "Outlet",
                "Kind",
                "Fee per day",
                "Units sold per day",
                "Miles per day",
                "Cost per mile",
            ),
            *("Card share %", "Card fee %", "Card fixed fee", "Units per sale", "Commission %"),
            "Hours per day",
        ],
        ["Market", "stall", 20, 40, None, None, None, None, None, None, None, 0],
        [],
    ],
}
# fmt: on

Changes = Mapping[str, object]


def changed(changes: Changes) -> dict[str, list[list[object]]]:
    """The workbook with some cells changed: `Sheet!C2`; `Sheet` alone for all its rows, or none."""
    book = {name: [list(row) for row in rows] for name, rows in WELL.items()}
    for where, value in changes.items():
        sheet, _, cell = where.partition("!")
        if not cell:
            book.pop(sheet, None)
            if isinstance(value, list):
                book[sheet] = value
            continue
        column, row = ord(cell[0]) - 65, int(cell[1:]) - 1
        cells = book[sheet]
        cells += [[] for _ in range(row + 1 - len(cells))]
        cells[row] += [None] * (column + 1 - len(cells[row]))
        cells[row][column] = value
    return book


def checked(path: Path, *words: str) -> list[str]:
    """What `check` says of a workbook, a line each, in its order."""
    code, out, err = run("check", path, "--json", "--on", "2026-11-25", *words)
    assert code in (0, 1), err
    return [
        f"{each['severity']} {Place(each['sheet'], each['cell'])}: {each['what']} {each['remedy']}"
        for each in json.loads(out)["problems"]
    ]


def test_a_stage_may_overlap_for_all_the_minutes_it_takes(tmp_path: Path) -> None:
    assert checked(make_book(tmp_path / "stall.xlsx", changed({"Stages!F2": 20}))) == []


def test_all_is_well_to_begin_with(tmp_path: Path) -> None:
    assert checked(make_book(tmp_path / "stall.xlsx", changed({}))) == []


NEWER: Changes = {
    "Items!G2": "Mill",
    "Purchases!A4": date(2026, 11, 2),
    "Purchases!B4": "Flour",
    "Purchases!E4": 2,
    "Purchases!F4": 1,
    "Purchases!G4": "kg",
    "Purchases!H4": 5,
}
"""A newer receipt of flour, not from the usual supplier."""

TYPE = "Type one: g, oz, ml, cup, ct, in …"
# fmt: off
CASES: list[tuple[Changes, str]] = [
    # --- a cell that is no value
    ({"Recipes!C2": Formula("=NA()", "#N/A")}, "wrong Recipes!C2: the cell shows #N/A. Correct its formula, or type the value; then save and run again."),
    ({"Recipes!C2": Formula("=B1", None)}, "wrong Recipes!C2: the cell holds a formula that was never worked out. Open the workbook in your spreadsheet program, save it there, and run again."),
    ({"Stages!D2": Formula("=TIME(0,20,0)", "#NUM!")}, "wrong Stages!D2: the cell shows #NUM!. Correct its formula, or type the value; then save and run again."),
    ({"Recipes!C2": 10**16}, "wrong Recipes!C2: the cell holds a number too large to be meant. Check it."),
    ({"Stages!D2": Shown(0.25, "hh:mm")}, "wrong Stages!D2: the cell holds a time of day. Set its format to number, and type the minutes."),
    ({"Recipes!C2": Shown(0.25, "hh:mm")}, "wrong Recipes!C2: the cell holds a time of day. Set its format to number, and type the number."),
    ({"Recipes!C2": True}, "wrong Recipes!C2: TRUE stands here, not a number. Type the number."),
    ({"Recipes!C2": date(2026, 1, 2)}, "wrong Recipes!C2: a date stands here (2 January 2026); was this 1/2? Set the cell's format to number or text, and type the figure again."),
    # --- lines that may not be meant
    ({"Recipes!C2": 0}, "doubtful Recipes!C2: the amount is 0, so this line costs nothing. Type the amount, or take the line away."),
    ({"Packaging!C2": 0, "Packaging!A3": "Loaf", "Packaging!B3": "Film", "Packaging!C3": 1, "Packaging!D3": "m", "Packaging!E3": "pack"}, "doubtful Packaging!C2: the amount is 0, so this line costs nothing. Type the amount, or take the line away."),
    ({"Recipes!A3": "loaf", "Recipes!B3": "FLOUR", "Recipes!C3": 2, "Recipes!D3": "kg"}, "doubtful Recipes!B3: this line says the same as row 2, and both count. Take one away, if it was typed twice."),
    ({"Batches!A3": "Flour", "Batches!B3": 1, "Batches!C3": "kg", "Recipes!A3": "Flour", "Recipes!B3": "Film", "Recipes!C3": 1, "Recipes!D3": "m"}, 'doubtful Purchases!B2: "Flour" is bought, and a recipe has the same name; where it is used, the recipe counts. Give one of them another name, if the bought one is meant.'),
    ({"Recipes!F1": "Usable %", "Recipes!F2": 0.8, "Recipes!B2": "Dough", "Recipes!A3": "Dough", "Recipes!B3": "Flour", "Recipes!C3": 2, "Recipes!D3": "kg", "Batches!A3": "Dough", "Batches!B3": 2, "Batches!C3": "kg"}, 'doubtful Recipes!F2: "Dough" is a recipe, so Usable % doesn\'t count here. Type what is lost of it under Rejects on Batches.'),
    ({"Settings!B2": "QQQ"}, 'doubtful Settings!B2: no currency has the code "QQQ", so money is shown with two decimals. Type the three letters of ISO 4217: USD, EUR, JPY …'),
    # --- ditto marks
    ({"Purchases!C3": '"'}, "doubtful Purchases!C3: this was read as a ditto mark: it repeats the cell above. Nothing, if that is right."),
    ({"Purchases!C2": "ditto"}, "wrong Purchases!C2: this was read as a ditto mark, and there is nothing above that it repeats. Type what is meant."),
    # --- a newer receipt than the one that counts
    ({**NEWER, "Purchases!C4": "Shop"}, "doubtful Purchases!C4: this receipt of Flour (2026-11-02, 2 × 1 kg at 5) is newer than the one that counts (2026-11-01, 1 kg at 2, row 2): Mill is the usual supplier. If this price is to count, clear or change Usual supplier on Items."),
    (NEWER, "doubtful Purchases!C4: this receipt of Flour (2026-11-02, 2 × 1 kg at 5) is newer than the one that counts (2026-11-01, 1 kg at 2, row 2): Mill is the usual supplier. Fill in its supplier; or clear Usual supplier on Items, for the latest to count."),
    ({**NEWER, "Purchases!C4": "Mil"}, 'doubtful Purchases!C4: this receipt of Flour (2026-11-02, 2 × 1 kg at 5) is newer than the one that counts (2026-11-01, 1 kg at 2, row 2): Mill is the usual supplier. If "Mil" is Mill, give both one name.'),
    # --- names that are nearly another's
    ({"Purchases!C3": "Mil"}, 'doubtful Purchases!C3: "Mil" is read as another supplier than "Mill". If they are one, give both one name.'),
    ({"Items!A2": "Flours"}, 'wrong Items!A2: "Flours" is used nowhere, and "Flour", nearly the same name, has no row here, so its Usable % is not known. If they are one thing, give both one name; if not, give "Flour" a row.'),
    ({"Items!A2": "Barley"}, 'doubtful Items!A2: "Barley" is neither bought nor used, so this row counts for nothing. Correct the name, if it is of something that you use.'),
    ({"Items!A3": "Flim"}, 'doubtful Items!A3: "Flim" is used nowhere, and "Film", nearly the same name, has no row here, so nothing of this row counts. If they are one thing, give both one name; if not, give "Film" a row.'),
    ({"Purchases!B4": "Films", "Purchases!A4": date(2026, 11, 1), "Purchases!F4": 1, "Purchases!G4": "m", "Purchases!H4": 1, "Recipes!A3": "Loaf", "Recipes!B3": "Films", "Recipes!C3": 1, "Recipes!D3": "m"}, 'doubtful Purchases!B3: "Film" and "Films" are read as two things. If they are one thing, give both one name, or fill in Also called on Items.'),
    # --- dates
    ({"Purchases!A2": "3/4/26"}, 'wrong Purchases!A2: "3/4/26" could be 4 March 2026 or 3 April 2026. Write the month as a word.'),
    ({"Purchases!A2": "some day"}, 'wrong Purchases!A2: "some day" is no date. Write it as 2026-03-14, or as 14 March 2026.'),
    ({"Purchases!A2": 20261101}, "wrong Purchases!A2: 20261101 is no date. Type it as a date: 2026-03-14."),
    ({"Purchases!A2": date(1926, 11, 1)}, "wrong Purchases!A2: 1926-11-01 is too far from today. Check the year."),
    ({"Purchases!A2": date(2027, 11, 1)}, "doubtful Purchases!A2: the date, 2027-11-01, is after the costing date, 2026-11-25, so this purchase doesn't count yet. Check the year, or cost on a later date."),
    ({"Purchases!A2": None}, "wrong Purchases!A2: the date is missing, so this purchase was left out. Type the day on the receipt."),
    # --- numbers
    ({"Recipes!C2": -5}, "wrong Recipes!C2: Amount is -5. Type a number that is not below zero, or leave the cell empty."),
    ({"Batches!B2": 0}, "wrong Batches!B2: Makes is 0. Type a number above zero, or leave the cell empty."),
    ({"Products!D2": 150}, "wrong Products!D2: Not sold % is 150 %. Type a percentage of 100 at most."),
    ({"Products!D2": 1}, "doubtful Products!D2: 1 was read as 100 %. If 1 % is meant, type 0.01."),
    ({"Outlets!G2": "most"}, 'wrong Outlets!G2: "most" is not a number. Write it with digits, as 12.5.'),
    ({"Batches!D2": "?"}, 'wrong Batches!D2: "?" stands for a figure that is not known yet. Type it, or clear the cell to do without.'),
    ({"Recipes!C2": "TBD"}, 'wrong Recipes!C2: "TBD" stands for a figure that is not known yet. Type it.'),
    ({"Packaging!B2": None}, 'wrong Packaging!B2: it is not said what the line uses. Fill in the cell.'),
    ({"Settings!B4": 1}, 'wrong Settings!B4: Target margin % is 100 %, which leaves nothing of a price for cost. Type less, as 35 %; if 1 % is meant, type 0.01.'),
    ({"Products!F2": "100 %"}, 'wrong Products!F2: Target margin % is 100 %, which leaves nothing of a price for cost. Type less, as 35 %; if 1 % is meant, type 0.01.'),
    ({"Recipes!D2": "pinch"}, 'wrong Recipes!D2: "pinch" is too little to cost by itself. Type "pinch" as the amount, and the small-ingredient allowance counts it.'),
    ({"Recipes!D2": "free"}, 'wrong Recipes!D2: no unit is called "free". Type one: g, oz, ml, cup, ct, in …'),
    ({"Recipes!C2": "0 kg"}, 'doubtful Recipes!C2: the amount is 0, so this line costs nothing. Type the amount, or take the line away.'),
    ({"Purchases!A2": "#VALUE!"}, 'wrong Purchases!A2: the cell shows #VALUE!, as a date after the year 9999 does. Type the date again, as 2026-03-14.'),
    ({"Stages!C2": "a pair"}, 'wrong Stages!C2: "a pair" is not a number. Write it with digits, as 12.5.'),
    ({"Recipes!E2": "raw"}, 'wrong Recipes!E2: "raw" is none of: as bought, ready to use. Type one of them.'),
    ({"Recipes!E2": "AP"}, 'doubtful Recipes!E2: "AP" was read as "as bought". Nothing, if that is right.'),
    ({"Packaging!C2": "a little"}, 'wrong Packaging!C2: "a little" is no amount. Type a number.'),
    ({"Recipes!C2": "a pinch"}, 'doubtful Recipes!C2: "a pinch" is counted in the small-ingredient allowance. Type an amount to have it costed by itself.'),
    ({"Recipes!C2": "a pinch", "Settings!B5": None}, "doubtful Recipes!C2: the small-ingredient allowance is 0 %, so amounts like this one cost nothing. Fill in Small-ingredient allowance % on Settings: 2 % is a usual start."),
    ({"Batches!B2": "a pinch"}, 'wrong Batches!B2: "a pinch" is no amount. Type a number.'),
    ({"Recipes!C2": "5 lb"}, 'wrong Recipes!C2: it says lb, and the unit beside it says "kg". Make the two agree, or keep the unit in one of them.'),
    ({"Recipes!C2": "2½"}, 'doubtful Recipes!C2: "2½" was read as 2.5 kg. Nothing, if that is right.'),
    ({"Recipes!C2": "½–1"}, 'wrong Recipes!C2: "½–1" is a range. Write one amount.'),
    ({"Purchases!F2": "1 case"}, 'wrong Purchases!F2: "1 case" does not say what is in it. Write how many or how much one holds, as 24 ea or 6 x 500 g.'),
    # --- money
    ({"Purchases!H2": "ask Ann"}, 'wrong Purchases!H2: "ask Ann" is not understood as a price. Write the price of one pack, as 4.50.'),
    ({"Purchases!H2": "€4.50"}, "wrong Purchases!H2: \"€4.50\" is not in USD, the workbook's currency. Type what it came to in USD."),
    ({"Purchases!H2": "3.99/l"}, "wrong Purchases!H2: the price is by the l, and the pack's size is not known in it. Type the price of the whole pack."),
    ({"Outlets!C2": "ask"}, 'wrong Outlets!C2: "ask" is not understood as a sum of money. Write it as 4.50, or 0.'),
    # --- receipts
    ({"Purchases!F2": None}, "wrong Purchases!F2: there is a price but no size, so this purchase was left out. Type what one pack holds."),
    ({"Purchases!H2": None}, "wrong Purchases!H2: the price is missing, so this purchase was left out. Type what one pack cost."),
    ({"Purchases!A4": date(2026, 11, 2), "Purchases!B4": "Flour"}, "doubtful Purchases!H4: the row has neither a size nor a price, so it was left out. Fill them in; or the price alone, below zero, if it is a discount."),
    ({"Purchases!H2": 0}, "doubtful Purchases!H2: the price is zero, so this purchase sets no price. Type the price, if it wasn't free."),
    ({"Purchases!D2": 0}, "doubtful Purchases!D2: no packs were bought, so this purchase sets no price. Type how many, or leave the cell empty for one."),
    ({"Purchases!D2": -1}, "doubtful Purchases!D2: this was taken for a return, which sets no price. Take the minus away, if it was a purchase."),
    ({"Purchases!I2": -3}, "wrong Purchases!I2: what is taken off leaves nothing to pay, so this purchase sets no price. Correct the discount, or the price."),
    ({"Purchases!A4": date(2026, 11, 1), "Purchases!B4": "Flour", "Purchases!H4": -1}, "doubtful Purchases!B4: this discount was not counted: there is no purchase of the same item, from the same supplier, on the same day. Make the three the same as on the purchase, or use its Other cost."),
    ({f"Purchases!{column}3": WELL["Purchases"][1][at] for at, column in enumerate("ABCDEFGH")}, "doubtful Purchases!B3: this row is the same as row 2. Delete one, if it was typed twice."),
    ({f"Purchases!{column}4": value for column, value in zip("ABCDEFGH", [date(2026, 11, 2), "Flour", "Mill", 1, None, 1, "l", 2], strict=True)}, 'doubtful Purchases!G4: "Flour" is bought in another kind of unit here than in row 2, and its Grams per ml is not known, so the two prices can\'t be compared. Fill in Grams per ml on Items.'),
    ({"Purchases!A2": date(2026, 9, 1)}, "doubtful Purchases!A2: the price of Flour is 85 days old. Type a newer receipt when you have one."),
    ({"Items!G2": "Mil"}, 'doubtful Items!G2: Flour has no purchase from Mil; the price from Mill counts. Did you mean "Mill"?'),
    ({"Items!G2": "The barn"}, "doubtful Items!G2: Flour has no purchase from The barn; the price from Mill counts. Correct the name, if it was bought there."),
    # --- units
    ({"Purchases!G2": None}, f"wrong Purchases!G2: the unit is missing. {TYPE}"),
    ({"Recipes!D2": "glug"}, f'wrong Recipes!D2: no unit is called "glug". {TYPE}'),
    ({"Recipes!D2": "tabelspoon"}, 'wrong Recipes!D2: no unit is called "tabelspoon". Did you mean "tablespoon"?'),
    ({"Recipes!D2": "cup"}, "wrong Recipes!D2: Flour is used in another kind of unit than it is bought in, and its Grams per ml is not known. Weigh or measure one and fill in Grams per ml on Items. Published: wheat flour often has 0.521 g/ml (FAO/INFOODS Density Database 2.0, 2012). Type it if it fits."),
    ({"Recipes!D2": "cm"}, "wrong Recipes!D2: Flour is used in a unit that can't be compared with the one it is bought in. Use a unit of the same kind as on its receipt."),
    ({"Purchases!G2": "loaf", "Recipes!D2": "slice"}, "wrong Recipes!D2: Flour is bought by the loaf and used by the slice. Use the same piece in both, or weigh them and use grams."),
    ({"Recipes!A3": "Roll", "Recipes!B3": "Loaf", "Recipes!C3": 1, "Recipes!D3": "kg", "Batches!A3": "Roll", "Batches!B3": 9, "Batches!C3": "ea"}, "wrong Recipes!D3: Loaf is used in another kind of unit than it is made in, and its Grams per piece is not known. Weigh or measure one and fill in Grams per piece on Items, in a row named Loaf."),
    ({"Purchases!B2": "Potatoes", "Items!A2": "Potatoes", "Items!B2": None, "Recipes!B2": "Potatoes", "Recipes!D2": "g"}, "doubtful Items!A2: Potatoes counts as if nothing of it were lost in trimming. Published: of potato, often 75% is left (USDA SR28, 1 − refuse, 2016). Weigh what is left and fill in Usable % on Items; 100 if you lose nothing."),
    ({"Purchases!B2": "Potatoes", "Items!A2": "Potatos", "Recipes!B2": "Potatoes", "Recipes!D2": "g"}, 'wrong Items!A2: "Potatos" is used nowhere, and "Potatoes", nearly the same name, has no row here, so its Usable % is not known. If they are one thing, give both one name; if not, give "Potatoes" a row.'),
    # --- names
    ({"Recipes!B2": "Flower"}, 'wrong Recipes!B2: no item is called "Flower". Did you mean "Flour"?'),
    ({"Recipes!B2": "Saffron"}, 'wrong Recipes!B2: no item is called "Saffron". Add a purchase of it.'),
    ({"Packaging!B2": "Bag"}, 'wrong Packaging!B2: no item is called "Bag". Add a purchase of it.'),
    ({"Packaging!A2": "Bun"}, 'wrong Packaging!A2: no product is called "Bun". Add it to Products.'),
    ({"Products!B2": "Bun"}, 'wrong Products!B2: no recipe is called "Bun". Add its lines to Recipes.'),
    ({"Batches!A2": "Bun"}, 'wrong Batches!A2: no recipe is called "Bun". Add its lines to Recipes.'),
    ({"Stages!A2": "Bun"}, 'wrong Stages!A2: no recipe or product is called "Bun". Add its lines to Recipes.'),
    ({"Batches!A2": "Bun"}, 'wrong Products!B2: "Loaf" has no row on Batches. Add a row with what one batch makes.'),
    ({"Batches!A2": "Loaff"}, 'wrong Recipes!A2: "Loaf" has no row on Batches. Did you mean "Loaff"?'),
    ({"Purchases!B4": "Flours", "Purchases!A4": date(2026, 11, 2), "Purchases!F4": 1, "Purchases!G4": "kg", "Purchases!H4": 2}, 'doubtful Purchases!B4: "Flours" is used nowhere, and "Flour" is nearly the same name. If they are one thing, give both one name, or fill in Also called on Items.'),
    ({"Items!H2": "Dust", "Items!H3": "Dust"}, 'doubtful Items!H3: "Dust" stands for "Flour" already, and so it does not stand for "Film". Take it out of one of the two rows.'),
    ({"Items!A3": "flour"}, 'wrong Items!A3: "flour" stands here again, after row 2; the first row counts. Delete one of the rows, or give it another name.'),
    ({"Batches!A3": "Loaf", "Batches!B3": 12, "Batches!C3": "ea"}, 'wrong Batches!A3: "Loaf" stands here again, after row 2; the two differ, so neither counts. Delete the row that is wrong, or give its recipe another name.'),
    ({"Outlets!A3": "Market"}, 'doubtful Outlets!A3: "Market" stands here again, after row 2; each row is an outlet of its own. Give one of them another name.'),
    ({"Recipes!B3": "Flour", "Recipes!C3": 1, "Recipes!D3": "kg"}, 'doubtful Recipes!A3: the row has no Recipe, so it was read as a row of "Loaf", above it. Fill in its own, if it belongs to another.'),
    ({"Recipes!B4": "Flour", "Recipes!C4": 1, "Recipes!D4": "kg"}, 'wrong Recipes!A4: the row has no Recipe, so nobody knows whose it is. Fill it in ("Loaf"?), or clear the row.'),
    ({"Recipes!A2": None}, "wrong Recipes!A2: the row has no Recipe, so nobody knows whose it is. Fill it in, or clear the row."),
    ({"Items!A2": None, "Items!G2": "Mill"}, "wrong Items!A2: the row has no Item, so nobody knows whose it is. Fill it in, or clear the row."),
    ({"Purchases!B2": None}, "wrong Purchases!B2: the row has no Item, so it was left out. Fill it in, or clear the row."),
    ({"Overheads!A2": None}, "doubtful Overheads!A2: the row has no Cost, and it counts all the same. Fill it in."),
    ({"Packaging!A2": "All products"}, 'doubtful Packaging!A2: "All products" was read as "all": every product. Nothing, if that is right.'),
    ({"Products!A2": "Loaf, one", "Products!A3": "Loaf, two", "Products!B3": "Loaf", "Products!C3": 2}, 'wrong Packaging!A2: "Loaf" is a recipe, and packaging is for a product. Type "Loaf, one" and "Loaf, two", a row for each that is packed so.'),
    ({"Products!A3": "Two", "Products!B3": "Loaf", "Products!C3": 2}, 'wrong Products!A3: Packaging has no row for "Two", so what it is packed in is not known. Add what it is packed in; if it is nothing, one row with the Amount 0.'),
    ({"Stages!A2": "Bun", "Recipes!A3": "Bun", "Recipes!B3": "Flour", "Recipes!C3": 1, "Recipes!D3": "kg", "Batches!A3": "Bun", "Batches!B3": 9, "Batches!C3": "ea"}, 'wrong Products!A2: Stages has no row for "Loaf" or its recipe, so what its work costs is not known. Time it and add its stages; if there is no work, one row with 0 minutes.'),
    ({"Outlets!L2": None}, "wrong Outlets!L2: how many hours a day at this stall takes is not known. Fill in Hours per day, setting up and driving too; 0, if it takes none."),
    ({"Recipes!A3": "Bun", "Recipes!B3": "Loaf", "Recipes!C3": 1, "Recipes!D3": "ea", "Recipes!A4": "Loaf", "Recipes!B4": "Bun", "Recipes!C4": 1, "Recipes!D4": "ea", "Batches!A3": "Bun", "Batches!B3": 9, "Batches!C3": "ea"}, "wrong Recipes!B3: these recipes use one another in a circle: Loaf → Bun → Loaf. Take one of these lines out."),
    # --- gaps
    ({"Recipes!C2": None}, "wrong Recipes!C2: the amount is missing. Fill in the cell."),
    ({"Recipes!A3": "Loaf", "Recipes!C3": 1, "Recipes!D3": "g"}, "wrong Recipes!B3: it is not said what the recipe uses. Fill in the cell."),
    ({"Batches!B2": None}, "wrong Batches!B2: how much a batch makes is missing. Fill in the cell."),
    ({"Products!B2": None}, "wrong Products!B2: the recipe is missing. Fill in the cell."),
    ({"Products!C2": None}, "wrong Products!C2: the units per pack are missing. Fill in the cell."),
    ({"Packaging!E2": None}, "wrong Packaging!E2: it is not said per what: unit, pack or batch. Fill in the cell."),
    ({"Overheads!B2": None}, "wrong Overheads!B2: the amount is missing. Fill in the cell."),
    ({"Overheads!C2": None}, "wrong Overheads!C2: it is not said per what: year, month, batch, market day. Fill in the cell."),
    ({"Stages!D2": None}, "wrong Stages!D2: the stage has no minutes. Time it once and fill them in."),
    ({"Stages!F2": 30}, "wrong Stages!F2: the stage overlaps another for longer than it takes itself. Type at most the minutes that the stage takes."),
    ({"Batches!D2": 10}, "wrong Batches!D2: the rejects are all that the batch makes, so nothing is left to sell. Correct Makes or Rejects."),
    ({"Products!D2": 1}, "wrong Products!D2: Not sold % is 100 %, so no pack is left to carry the cost. If 1 % is meant, type 0.01."),
    ({"Settings!B3": None}, "wrong Settings!B3: Pay per hour is not known. Fill in Pay per hour on Settings."),
    ({"Settings!B4": None}, "wrong Settings!B4: Target margin % is not known. Fill in Target margin % on Settings."),
    ({"Overheads!C2": "year"}, "wrong Settings: Batches per year is not known. Fill in Batches per year on Settings."),
    ({"Outlets!D2": None}, "wrong Outlets!D2: the day has costs, and how many units it sells is not known. Fill in Units sold per day."),
    ({"Outlets!E2": 12}, "wrong Outlets!F2: there are miles, and what one costs is not known. Fill in Cost per mile, or clear the miles."),
    ({"Outlets!G2": 0.5, "Outlets!I2": 0.1}, "doubtful Outlets!J2: the fixed card fee was counted for sales of 1 unit each. Fill in Units per sale, if people buy more at once."),
    ({"Outlets!K2": 0.7}, "wrong Outlets!K2: no product has a price at Market: the target margin and the percentage fees take all of it. Lower the target margin, the commission or the card fee."),
    ({"Products!F2": 0.99, "Outlets!K2": 0.05, "Products!A3": "Two", "Products!B3": "Loaf", "Products!C3": 2}, "wrong Products!F2: Loaf has no price at Market: the target margin and the percentage fees take all of it. Lower the target margin, the commission or the card fee."),
    ({"Purchases!A2": date(2027, 11, 1)}, "wrong Recipes!B2: Flour has no price on or before 2026-11-25. Add a purchase with a date, a size, a unit and a price."),
    ({"Purchases!A2": date(2027, 11, 1), "Recipes!A3": "Loaf", "Recipes!B3": "Flour", "Recipes!C3": 1, "Recipes!D3": "g"}, "wrong Recipes!B2: Flour has no price on or before 2026-11-25. 2 lines wait for it. Add a purchase with a date, a size, a unit and a price."),
    # --- layout
    ({"Batches": None}, "wrong Batches: this sheet is missing. Add it, to be filled in: costbook new --add Batches stall.xlsx"),
    ({"Batches": [["Loaf", 10]]}, "wrong Batches: no row of headings was found. Put these above the table: Recipe, Makes."),
    ({"Recipes!C1": "Amuont"}, 'wrong Recipes!A1: there is no heading "Amount". Rename "Amuont", if it is that.'),
    ({"Recipes!C1": "x"}, 'wrong Recipes!A1: there is no heading "Amount". Add it above its column.'),
    ({"Recipes!B1": "Ingredient"}, 'doubtful Recipes!B1: the heading "Ingredient" was read as "Uses". Rename the heading if that is not what it is.'),
    ({"Recipes!F1": "Quantity"}, 'doubtful Recipes!F1: another column is headed "Amount" or the like: column C was read, not this one. Rename one of them, if the wrong one was read.'),
    ({"Recipes!E1": "Measurd"}, 'doubtful Recipes!E1: the heading "Measurd" is not known, so its column was not read. Did you mean "Measured"?'),
    ({"Recipes!A4": "Total", "Recipes!C4": 2}, "doubtful Recipes!A4: this row was taken for totals, and left out. If it is a line of the table, fill in its other cells."),
    ({"Recipes!B4": "by Jo"}, "doubtful Recipes!A4: this row was taken for a note, and left out. If it is a line of the table, fill in its other cells."),
    ({"Recipes!A700": "x"}, "doubtful Recipes!A700: from this row on, nothing was read as part of the table above. If it belongs to it, move it up against the table's last row."),
    ({"Stages": None, "Labour": WELL["Stages"]}, 'doubtful Labour: by its name, this was read as the sheet Stages. If that is right, you may rename the tab "Stages".'),
    ({"Batches": None, "Sizes": WELL["Batches"]}, 'doubtful Sizes!A1: by its headings, this was read as the sheet Batches. If that is right, you may rename the tab "Batches".'),
    ({"Batches": None, "Recipes": [*WELL["Recipes"][:2], [], *WELL["Batches"]]}, 'doubtful Recipes!A4: by its headings, this was read as the sheet Batches. If that is right, you may move it to a tab "Batches".'),
    # --- settings
    ({"Settings!A7": "Price stpe", "Settings!B7": 0.25}, 'doubtful Settings!A7: no setting is called "Price stpe", so this row was not read. Did you mean "Price step"?'),
    ({"Settings!A7": "Weather", "Settings!B7": "wet"}, 'doubtful Settings!A7: no setting is called "Weather", so this row was not read. Remove the row, or put a note beside a setting.'),
    ({"Settings!A7": "Currency", "Settings!B7": "EUR"}, 'doubtful Settings!A7: "Currency" stands here a second time; B2 counts. Delete one of the two.'),
    ({"Settings!A3": "Hourly pay"}, 'doubtful Settings!A3: "Hourly pay" was read as the setting "Pay per hour". Rename it if that is not what it is.'),
]
# fmt: on


@pytest.mark.parametrize(
    ("changes", "sentence"), CASES, ids=[f"{at}: {case[1][:60]}" for at, case in enumerate(CASES)]
)
def test_it_is_said_in_these_words(changes: Changes, sentence: str, tmp_path: Path) -> None:
    assert sentence in checked(make_book(tmp_path / "stall.xlsx", changed(changes)))


# ---------------------------------------------------------------- order, and many at once


def test_what_is_wrong_comes_first_then_sheet_by_sheet_down_the_rows(tmp_path: Path) -> None:
    changes = {
        "Recipes!C2": "½–1",
        "Purchases!F3": "1 case",
        "Purchases!A2": "some day",
        "Items!B2": 1,
        "Settings!B3": "lots",
    }
    places = [
        line.split(": ")[0] for line in checked(make_book(tmp_path / "a.xlsx", changed(changes)))
    ]
    assert places == [
        *("wrong Settings!B3", "wrong Purchases!A2", "wrong Purchases!F3"),
        *("wrong Recipes!B2", "wrong Recipes!C2", "wrong Packaging!B2", "doubtful Items!B2"),
    ]


def problem(cell: str, what: str = "x.", severity: Severity = Severity.DOUBTFUL) -> Problem:
    return Problem(severity, Place("Recipes", cell), what, "y.")


def test_the_same_is_said_once_and_nothing_hides_another() -> None:
    twice = [problem("C9"), problem("C9"), problem("C9", "z.")]
    assert [each.what for each in arranged(twice, ["Recipes"])] == ["x.", "z."]


def test_a_doubt_about_many_cells_of_a_column_is_said_once_with_the_rows() -> None:
    cells = ("C5", "C3", "C4", "C9", "C2", "D2")
    found = arranged([problem(cell) for cell in cells], ["Recipes"])
    assert [(each.place.cell, each.what) for each in found] == [
        ("C2", "x. So it is in rows 3–5, 9."),
        ("D2", "x."),
    ]


def test_what_is_wrong_is_said_at_each_of_many_cells() -> None:
    wrong = [problem(f"C{row}", severity=Severity.WRONG) for row in range(2, 50)]
    assert list(arranged(wrong, ["Recipes"])) == wrong


def test_a_share_that_is_asked_about_is_not_taken_for_none(tmp_path: Path) -> None:
    """Its name is a slip on Items: what is left is unknown, and nothing is said to count whole."""
    slip: Changes = {"Items!A2": "Potatos", "Recipes!D2": "g"}
    named: Changes = {"Purchases!B2": "Potatoes", "Recipes!B2": "Potatoes"}
    said = checked(make_book(tmp_path / "stall.xlsx", changed({**slip, **named})))
    assert not [each for each in said if "lost in trimming" in each]


def test_a_hundred_problems_are_counted_on_the_screen_and_whole_in_json_and_on_the_sheet(
    tmp_path: Path,
) -> None:
    lines: list[list[object]] = [["Loaf", f"Thing {n}", 1, "g", None] for n in range(100)]
    path = make_book(tmp_path / "stall.xlsx", changed({"Recipes": [WELL["Recipes"][0], *lines]}))
    code, out, err = run("cost", path, "--json", "--on", "2026-11-25")
    wrong = [each for each in json.loads(out)["problems"] if each["severity"] == "wrong"]
    assert (code, len(wrong)) == (1, 100)
    *shown, last = err.splitlines()
    assert len(shown) == 40
    assert shown[0] == 'stall.xlsx: Recipes!B2: no item is called "Thing 0". Add a purchase of it.'
    assert last == (
        "stall.xlsx: and 60 more. --json prints them all, and `costbook cost stall.xlsx` lists "
        "them on the sheet To put right."
    )
    with closing(openpyxl.load_workbook(path, read_only=True)) as book:
        written = {cell for row in book["To put right"].iter_rows(values_only=True) for cell in row}
    assert {f"Recipes!B{row}" for row in range(2, 102)} <= written


def test_many_later_purchases_are_said_as_one(tmp_path: Path) -> None:
    later: list[list[object]] = [
        [date(2026, 12, 1), "Flour", "Mill", n, None, 1, "kg", 2, None] for n in range(1, 31)
    ]
    book = changed({"Purchases": [*WELL["Purchases"][:3], *later]})
    assert (
        "doubtful Purchases!A4: this purchase and 29 others are dated after the costing date, "
        "2026-11-25, so they don't count yet. Check the years, or cost on a later date."
    ) in checked(make_book(tmp_path / "stall.xlsx", book))


# ---------------------------------------------------------------- files that are refused


def refused(path: Path, *words: object) -> str:
    """What is said of a file that is turned away; nothing is written, and no traceback printed."""
    before = sorted(path.parent.iterdir())
    code, out, err = run("check", path, *words)
    assert (code, out, sorted(path.parent.iterdir())) == (2, "", before)
    assert "Traceback" not in err
    return err.removeprefix("costbook: ").rstrip("\n")


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    path = tmp_path / "stall.xlsx"
    assert refused(path) == (
        f"There is no file {path}. Check its name, or make a blank workbook: "
        "costbook new stall.xlsx"
    )


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "stall.xlsx").mkdir()
    assert refused(tmp_path / "stall.xlsx").endswith(
        "can't be read (Is a directory). Check the file."
    )


def test_a_workbook_of_another_job_is_told_what_is_missing(tmp_path: Path) -> None:
    tabs = {f"Sheet{n}": [["hello"]] for n in range(1, 8)}
    assert refused(make_book(tmp_path / "stall.xlsx", tabs)) == (
        "None of the sheets Purchases, Recipes, Batches, Products is in this workbook, so it holds "
        'nothing to cost. Its sheets are "Sheet1", "Sheet2", "Sheet3", "Sheet4", "Sheet5" and 2 '
        "more. Name your sheets like that, or start with: costbook new my-stall.xlsx"
    )


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["Laof"], 'No product is called "Laof". Did you mean "Loaf"?'),
        (["zzz"], 'No product is called "zzz". There are: Loaf.'),
        (["Loaf", "--outlet", "Shop"], 'No outlet is called "Shop". There are: Market.'),
        (
            ["Loaf", "colour"],
            f'No figure is called "colour". Name one of: {", ".join(FIGURES.values())}.',
        ),
    ],
)
def test_explain_knows_only_what_is_there(words: list[str], sentence: str, tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", changed({}))
    code, _, err = run("explain", path, *words)
    assert code == 2
    assert err.startswith(f"costbook: {sentence}")


def test_a_product_of_a_workbook_without_any(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", changed({"Products": WELL["Products"][:1]}))
    code, _, err = run("explain", path, "Loaf")
    assert (code, err) == (2, 'costbook: No product is called "Loaf". Products has no rows.\n')


def test_check_ends_with_a_count(tmp_path: Path) -> None:
    well = make_book(tmp_path / "well.xlsx", changed({}))
    _, out, _ = run("check", well, "--on", "2026-11-25")
    assert out.splitlines()[0] == "Nothing is wrong, and nothing is doubtful."
    slips = make_book(tmp_path / "slips.xlsx", changed({"Recipes!C2": "½–1", "Items!B2": 1}))
    _, out, _ = run("check", slips, "--on", "2026-11-25")
    assert out.splitlines()[0] == "1 wrong, 1 to check."


def test_a_workbook_that_would_not_be_sound_is_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("costbook.write_back.new_faults", lambda *_: ["it has a hole"])
    path = make_book(tmp_path / "stall.xlsx", changed({}))
    before = path.read_bytes()
    code, _, err = run("cost", path)
    assert (code, path.read_bytes()) == (2, before)
    assert err == (
        "costbook: The new workbook would not be sound (it has a hole), so nothing was written. "
        "Save your workbook once in your spreadsheet program and try again.\n"
    )


def test_cost_says_what_is_not_counted_and_where_it_wrote(tmp_path: Path) -> None:
    changes: Changes = dict.fromkeys(("Stages", "Packaging", "Overheads", "Outlets"))
    path = make_book(tmp_path / "stall.xlsx", changed(changes))
    code, out, _ = run("cost", path, "--on", "2026-11-25")
    assert code == 0
    assert (
        "No price to charge yet: at least, without: your work, packaging, the kitchen, overheads, "
        "selling (no rows on Stages; no rows on Packaging; no Kitchen hire per hour on Settings; no "
        "rows on Overheads; no rows on Outlets).\n"
        "To add what is missing: costbook new --add Stages --add Packaging --add Overheads "
        f"--add Outlets {path}\n"
    ) in out
    assert f"Written: {path}. Begin with its sheet In short." in out


def test_a_fault_of_our_own_is_said_in_words_and_shown_when_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.delenv("COSTBOOK_DEBUG", raising=False)
    monkeypatch.setattr("costbook.round_trip.read_book", broken)
    path = make_book(tmp_path / "stall.xlsx", changed({}))
    assert refused(path) == (
        "costbook met something that nobody foresaw (ZeroDivisionError), and stopped. Nothing was "
        "half written. Save the workbook once in your spreadsheet program and try again; if that "
        "doesn't help, run the same command with COSTBOOK_DEBUG=1 set, and show what it prints to "
        "whoever looks after costbook."
    )
    monkeypatch.setenv("COSTBOOK_DEBUG", "1")
    with pytest.raises(ZeroDivisionError):
        run("check", path)


def test_being_stopped_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("costbook.round_trip.read_book", stopped)
    path = make_book(tmp_path / "stall.xlsx", changed({}))
    assert run("check", path) == (2, "", "Stopped. Your workbook is as it was.\n")


# ---------------------------------------------------------------- no sentence without a case

CODE = HOUSE / "costbook"
SAYING = sorted(
    path
    for path in CODE.rglob("*.py")
    # what stands on a sheet is no message; the words of rules and headings stand on sheets too
    if path.relative_to(CODE).parts[0] not in ("definitions", "writing")
)
GAP = "\0"


def texts_in(path: Path) -> Iterator[str]:
    """Every text that the code of a file makes, what is filled in marked; docstrings left out."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    left_out: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr):
            left_out.add(id(node.value))
        if isinstance(node, ast.JoinedStr):
            left_out |= {id(inner) for inner in ast.walk(node) if inner is not node}
    for node in ast.walk(tree):
        if id(node) in left_out:
            continue
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield re.sub(r"\{\w+\}", GAP, node.value)
        elif isinstance(node, ast.JoinedStr):
            parts = (p.value if isinstance(p, ast.Constant) else GAP for p in node.values)
            yield "".join(str(part) for part in parts)


def is_sentence(text: str) -> bool:
    pattern = re.search(r"\(\?|\\|\[\^?0-9", text)
    return " " in text.strip() and text.rstrip().endswith((".", "?", "!")) and not pattern


@cache
def pinned() -> str:
    """Every text in the tests, joined."""
    files = (HOUSE / "tests").rglob("*.py")
    return "\n".join(text for path in files for text in texts_in(path))


def without_a_case(path: Path) -> list[str]:
    said = [text for text in texts_in(path) if is_sentence(text)]
    return [text.replace(GAP, "{}") for text in said if not is_pinned(text)]


def is_pinned(text: str) -> bool:
    """Whether a text of the tests, on one line, has it: looked for around its longest part."""
    texts, parts = pinned(), text.split(GAP)
    pattern = re.compile(".*?".join(map(re.escape, parts)))
    if "\n" in text:
        return pattern.search(texts) is not None
    longest, at = max(parts, key=len), -1
    while (at := texts.find(longest, at + 1)) >= 0:
        begins, ends = texts.rfind("\n", 0, at) + 1, texts.find("\n", at)
        if pattern.search(texts, begins, ends if ends >= 0 else len(texts)):
            return True
    return False


@pytest.mark.parametrize("path", SAYING, ids=lambda path: str(path.relative_to(CODE)))
def test_every_sentence_in_the_code_is_pinned_by_a_test(path: Path) -> None:
    assert without_a_case(path) == []


def test_a_sentence_without_a_case_is_found(tmp_path: Path) -> None:
    code = tmp_path / "any.py"
    new = "this sentence " + "stands nowhere else."
    code.write_text(f'"""Docs are left out."""\nWHAT = f"{{1}}: {new}"\n')
    assert without_a_case(code) == ["{}: " + new]
