"""What people really type, through the main path: a workbook in, what `cost --json` says out.

Each table below is one workbook, costed once; a row of a table is a test. Figures are worked by
hand beside the row. Pounds, ounces, quarts, cups, feet and inches are exact by definition (NIST
SP 811, from memory; GNU Units, read); a tray of 30 eggs is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

import pytest

from tests.helpers import Formula
from tests.reading.costed import costed
from tests.tables import close

F = Fraction  # short, since every row of the tables has one
LB, OZ = F("453.59237"), F("453.59237") / 16
QUART, CUP = F("946.352946"), F("236.5882365")
TABLESPOON, TEASPOON = CUP / 16, CUP / 48
NO_BREAK = "\u00a0"

RECEIPT: list[object] = [
    "Date",
    "Item",
    "Supplier",
    "Packs",
    "Pack count",
    "Pack size",
    "Unit",
    "Price per pack",
]
DAY = "2026-10-02"
FOUNDATION: dict[str, list[list[object]]] = {
    "Settings": [["Setting", "Value"], ["Currency", "USD"], ["Target margin %", 0.3]],
    "Batches": [["Recipe", "Makes", "Unit"], ["Loaf", 1, "ea"]],
    "Products": [["Product", "Recipe", "Units per pack"], ["Loaf", "Loaf", 1]],
    "Recipes": [["Recipe", "Uses", "Amount", "Unit"], ["Loaf", "Flour", 1, "kg"]],
    "Purchases": [RECEIPT, [DAY, "Flour", "Mill", 1, None, 1, "kg", 1]],
}


def at(problems: list[dict[str, Any]], sheet: str, cell: str) -> list[dict[str, Any]]:
    """What is said of one cell."""
    return [each for each in problems if (each["sheet"], each["cell"]) == (sheet, cell)]


def said(problems: list[dict[str, Any]]) -> str:
    return " ".join(f"{each['what']} {each['remedy']}" for each in problems)


def item(answer: dict[str, Any], name: str) -> dict[str, Any]:
    (found,) = [row for row in answer["items"] if row["item"] == name]
    return dict(found)


# ---------------------------------------------------------------- pack sizes

SIZES: list[tuple[str, object, F, str]] = [
    # typed, the unit beside it, what one pack holds in base units, the base unit
    ("2 x 18 ct", None, F(36), "ea"),
    ("2x18", "ct", F(36), "ea"),
    ("2 × 18", "ct", F(36), "ea"),
    ("2/18ct", None, F(36), "ea"),
    ("2 pk 18", "ct", F(36), "ea"),
    ("15 dz", None, F(180), "ea"),
    ("5 doz", None, F(60), "ea"),
    ("1 dozen", None, F(12), "ea"),
    ("1 tray", None, F(30), "ea"),
    ("1 flat", None, F(30), "ea"),
    ("5 lb bag", None, 5 * LB, "g"),
    ("5#", None, 5 * LB, "g"),
    ("40 #", None, 40 * LB, "g"),
    ("5lb", None, 5 * LB, "g"),
    (f"{NO_BREAK}5{NO_BREAK}lb ", None, 5 * LB, "g"),
    ("12/32 oz", None, 12 * 32 * OZ, "g"),
    ("4/5 lb", None, 20 * LB, "g"),
    ("12/1Qt", None, 12 * QUART, "ml"),
    ("1 (13.5 oz) tin", None, F("13.5") * OZ, "g"),
    ("2 9 oz jars", None, 18 * OZ, "g"),
    ("250 g/8¾ oz", None, F(250), "g"),
    ("2 lb 3 oz", None, 2 * LB + 3 * OZ, "g"),
    ("5 ft 6 in", None, F(66) * F("2.54"), "cm"),
    ("6 x 500 g", None, F(3000), "g"),
]
ASKED_SIZES = [
    ("1 case", "does not say what is in it", "how many"),
    ("#10", "has a can size in it, not a weight", "Write the weight"),
    ("6/#10", "has a can size in it, not a weight", "Write the weight"),
]


@pytest.fixture(scope="module")
def sizes() -> dict[str, Any]:
    rows = [[DAY, f"Size {n}", "Mill", 1, None, *typed[:2], 9] for n, typed in enumerate(SIZES)]
    asked = [
        [DAY, f"Asked {n}", "Mill", 1, None, each[0], None, 9] for n, each in enumerate(ASKED_SIZES)
    ]
    return costed(FOUNDATION | {"Purchases": [RECEIPT, *rows, *asked]})


@pytest.mark.parametrize(("number", "size"), list(enumerate(SIZES)), ids=[s[0] for s in SIZES])
def test_a_pack_size_is_understood(
    sizes: dict[str, Any], number: int, size: tuple[str, object, F, str]
) -> None:
    _, _, holds, unit = size
    found = item(sizes, f"Size {number}")
    assert found["base_unit"] == unit
    close(found["price_per_base_unit"], 9 / holds)


@pytest.mark.parametrize(("number", "size"), list(enumerate(SIZES)), ids=[s[0] for s in SIZES])
def test_a_pack_size_that_was_read_is_shown_as_read(
    sizes: dict[str, Any], number: int, size: tuple[str, object, F, str]
) -> None:
    here = at(sizes["problems"], "Purchases", f"F{number + 2}")
    assert [each["severity"] for each in here] == ["doubtful"]
    assert "was read as" in here[0]["what"]


@pytest.mark.parametrize(
    ("number", "asked"), list(enumerate(ASKED_SIZES)), ids=[a[0] for a in ASKED_SIZES]
)
def test_a_pack_size_that_says_too_little_is_asked(
    sizes: dict[str, Any], number: int, asked: tuple[str, str, str]
) -> None:
    here = at(sizes["problems"], "Purchases", f"F{len(SIZES) + number + 2}")
    assert [each["severity"] for each in here] == ["wrong"]
    assert asked[1] in said(here)
    assert asked[2] in said(here)
    assert item(sizes, f"Asked {number}")["price_per_base_unit"] is None


def test_what_was_read_is_shown_with_the_unit_beside_it(sizes: dict[str, Any]) -> None:
    assert said(at(sizes["problems"], "Purchases", "F3")) == (
        '"2x18" was read as 2 × 18 ct. Nothing, if that is right.'
    )


# ---------------------------------------------------------------- amounts of a recipe

# Oil costs 1.00 a litre, flour 1.00 a kilo, and nothing joins the two kinds of unit.
AMOUNTS: list[tuple[str, object, object, F]] = [
    # what is used, typed, the unit beside it, what the line costs
    ("Oil", "1/2 cup", None, CUP / 2000),
    ("Oil", "½ c", None, CUP / 2000),
    ("Flour", "2½", "kg", F("2.5")),
    ("Flour", "1 ½", "kg", F("1.5")),
    ("Flour", "1 1/2", "kg", F("1.5")),
    ("Flour", "1-1/2", "kg", F("1.5")),
    ("Oil", 2, "T", 2 * TABLESPOON / 1000),
    ("Oil", 2, "Tbl", 2 * TABLESPOON / 1000),
    ("Oil", 2, "tbs", 2 * TABLESPOON / 1000),
    ("Oil", 2, "Tbsp", 2 * TABLESPOON / 1000),
    ("Oil", 2, "t", 2 * TEASPOON / 1000),
    ("Oil", 2, "tsp", 2 * TEASPOON / 1000),
    ("Oil", "2 T", None, 2 * TABLESPOON / 1000),
    ("Oil", "2 t", None, 2 * TEASPOON / 1000),
    ("Oil", "3 fl oz", None, 3 * QUART / 32 / 1000),
    ("Flour", "a pinch", None, F(0)),
    ("Flour", "to taste", None, F(0)),
    ("Oil", "drizzle", None, F(0)),
    ("Flour", "1 lb 2 oz", None, 18 * OZ / 1000),
    ("Milk", "16 oz", None, 16 * OZ / F("1.03") / 1000),  # over its density, at 1.00 a litre
]
ASKED_AMOUNTS: list[tuple[str, object, object, str]] = [
    ("Oil", "½–1 tsp", None, "is a range"),
    ("Flour", "2026-01-02", "kg", "a date stands here (2 January 2026); was this 1/2?"),
    ("Oil", "16 oz", None, "its Grams per ml is not known"),
    ("Parsley", 50, "g", "its Grams per piece is not known"),
    ("Bread", 4, "slice", "bought by the loaf and used by the slice"),
    ("Flour", Formula("=NA()", "#N/A"), "kg", "shows #N/A"),
    ("Flour", Formula("=B1*2", None), "kg", "a formula that was never worked out"),
    ("Flour", Formula("=#REF!", "#REF!"), "kg", "shows #REF!"),
]


@pytest.fixture(scope="module")
def amounts() -> dict[str, Any]:
    lines = [*AMOUNTS, *ASKED_AMOUNTS]
    names = [f"Recipe {n}" for n, _ in enumerate(lines)]
    return costed(
        FOUNDATION
        | {
            "Purchases": [
                RECEIPT,
                [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
                [DAY, "Oil", "Mill", 1, None, 1, "l", 1],
                [DAY, "Milk", "Mill", 1, None, 1, "l", 1],
                [DAY, "Parsley", "Mill", 1, None, 1, "bunch", 1],
                [DAY, "Bread", "Mill", 1, None, 1, "loaf", 4],
            ],
            "Items": [["Item", "Grams per ml", "Kind"], ["Milk", 1.03, "milk"]],
            "Recipes": [
                ["Recipe", "Uses", "Amount", "Unit"],
                *(
                    [name, line[0], _as_cell(line[1]), line[2]]
                    for name, line in zip(names, lines, strict=True)
                ),
            ],
            "Batches": [["Recipe", "Makes", "Unit"], *([name, 1, "ea"] for name in names)],
            "Products": [["Product", "Recipe", "Units per pack"], ["Loaf", names[0], 1]],
        }
    )


def _as_cell(typed: object) -> object:
    from datetime import date

    return date(2026, 1, 2) if typed == "2026-01-02" else typed


def batch_cost(answer: dict[str, Any], number: int) -> object:
    (found,) = [row for row in answer["recipes"] if row["recipe"] == f"Recipe {number}"]
    return found["batch_cost"]


@pytest.mark.parametrize(
    ("number", "line"), list(enumerate(AMOUNTS)), ids=[f"{a[1]} {a[2] or ''}" for a in AMOUNTS]
)
def test_an_amount_is_understood(
    amounts: dict[str, Any], number: int, line: tuple[str, object, object, F]
) -> None:
    close(batch_cost(amounts, number), line[3])


@pytest.mark.parametrize(
    ("number", "line"), list(enumerate(ASKED_AMOUNTS)), ids=[str(a[3]) for a in ASKED_AMOUNTS]
)
def test_an_amount_that_says_too_little_is_asked(
    amounts: dict[str, Any], number: int, line: tuple[str, object, object, str]
) -> None:
    row = len(AMOUNTS) + number + 2
    here = [
        *at(amounts["problems"], "Recipes", f"C{row}"),
        *at(amounts["problems"], "Recipes", f"D{row}"),
    ]
    assert line[3] in said([each for each in here if each["severity"] == "wrong"])
    assert batch_cost(amounts, len(AMOUNTS) + number) is None


def test_a_pinch_is_said_to_be_in_the_allowance(amounts: dict[str, Any]) -> None:
    row = [line[1] for line in AMOUNTS].index("a pinch") + 2
    assert '"a pinch" is counted in the small-ingredient allowance.' in said(
        at(amounts["problems"], "Recipes", f"C{row}")
    )


# ---------------------------------------------------------------- prices

PRICES: list[tuple[object, object, str, F]] = [
    # price as typed, size, unit, price per base unit
    ("$3.99/lb", 5, "lb", F("3.99") / LB),
    ("3.99/lb", 2, "lb", F("3.99") / LB),
    ("@3.99", 1, "lb", F("3.99") / LB),
    ("2/$5", 500, "g", F("2.5") / 500),
    ("3 for 10", 400, "g", F(10) / 1200),
    ("89¢", 30, "g", F("0.89") / 30),
    (".89", 25, "g", F("0.89") / 25),
    ("$ 4.50 ", 200, "g", F("4.5") / 200),
    ("'12", 1, "kg", F(12) / 1000),
    ("12", 1, "kg", F(12) / 1000),
    ("4.50 F", 250, "g", F("4.5") / 250),
]


@pytest.fixture(scope="module")
def prices() -> dict[str, Any]:
    rows = [[DAY, f"Price {n}", "Mill", 1, None, p[1], p[2], p[0]] for n, p in enumerate(PRICES)]
    return costed(FOUNDATION | {"Purchases": [RECEIPT, *rows]})


@pytest.mark.parametrize(
    ("number", "price"), list(enumerate(PRICES)), ids=[str(p[0]) for p in PRICES]
)
def test_a_price_is_understood(
    prices: dict[str, Any], number: int, price: tuple[object, object, str, F]
) -> None:
    close(item(prices, f"Price {number}")["price_per_base_unit"], price[3])
    here = at(prices["problems"], "Purchases", f"H{number + 2}")
    assert [each["severity"] for each in here] == ["doubtful"]


def receipts(*rows: Sequence[object], **sheets: Any) -> dict[str, Any]:
    """A workbook with these receipts, costed."""
    return costed({**FOUNDATION, "Purchases": [RECEIPT, *rows], **sheets})


@pytest.mark.parametrize(
    ("typed", "comes_to"),
    [
        (["1.234,50", "2,75"], ["1234.5", "2.75"]),
        (["1 234,50", "2,75"], ["1234.5", "2.75"]),
        (["1,234.50", "2.75"], ["1234.5", "2.75"]),
        (["1,234", "2.75"], ["1234", "2.75"]),  # the second shows that a comma parts thousands
        (["1,234", "2,75"], ["1.234", "2.75"]),  # and here that it parts whole from tenths
    ],
)
def test_a_column_has_one_way_of_writing_numbers(typed: list[str], comes_to: list[str]) -> None:
    rows = [[DAY, f"Item {n}", "Mill", 1, None, 1, "ea", text] for n, text in enumerate(typed)]
    answer = receipts(*rows)
    for number, price in enumerate(comes_to):
        close(item(answer, f"Item {number}")["price_per_base_unit"], price)


def test_a_number_that_could_be_two_is_asked() -> None:
    answer = receipts([DAY, "Flour", "Mill", 1, None, 1, "kg", "1,234"])
    assert item(answer, "Flour")["price_per_base_unit"] is None
    assert '"1,234" could be 1.234 or 1234.' in said(at(answer["problems"], "Purchases", "H2"))


def test_what_one_sheet_shows_helps_to_read_another() -> None:
    """The prices show a decimal comma, so the recipe's 1,250 kg is a kilo and a quarter."""
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", "2,40"],
        Recipes=[["Recipe", "Uses", "Amount", "Unit"], ["Loaf", "Flour", "1,250", "kg"]],
    )
    close(answer["recipes"][0]["batch_cost"], F("1.25") * F("2.4"))


def test_a_price_without_a_size_leaves_that_purchase_out() -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        ["2026-11-02", "Flour", "Mill", 1, None, None, None, 3],
    )
    close(item(answer, "Flour")["price_per_base_unit"], "0.001")
    assert said(at(answer["problems"], "Purchases", "F3")) == (
        "there is a price but no size, so this purchase was left out. Type what one pack holds."
    )


# ---------------------------------------------------------------- shares

SHARES: list[tuple[object, object, str]] = [
    # typed as Usable %, the share, what is said of it
    (89, 0.89, ""),
    (0.89, 0.89, ""),
    ("89 %", 0.89, '"89 %" was read as 89 %.'),
    ("11% waste", 0.89, '"11% waste" was read as 89 %.'),
    ("0.89", 0.89, '"0.89" was read as 89 %.'),
    (1, 1, "1 was read as 100 %. If 1 % is meant, type 0.01."),
    (1.2, 1.2, "1.2 was read as 120 %."),
    (0, None, "Usable % is 0."),
    ("most", None, '"most" is not a number.'),
]


@pytest.mark.parametrize(("typed", "share", "says"), SHARES, ids=[str(s[0]) for s in SHARES])
def test_a_share_is_read_or_asked(typed: object, share: object, says: str) -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        Items=[["Item", "Usable %"], ["Flour", typed]],
    )
    assert item(answer, "Flour")["usable_share"] == share
    here = at(answer["problems"], "Items", "B2")
    assert says in said(here)
    assert bool(says) == bool(here)


def test_half_as_a_card_fee_is_doubted() -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        Outlets=[
            ["Outlet", "Units sold per day", "Card share %", "Card fee %"],
            ["Stall", 9, 0.6, 0.5],
        ],
    )
    assert said(at(answer["problems"], "Outlets", "D2")) == (
        "0.5 was read as 50 %. If 0.5 % is meant, type 0.005."
    )


# ---------------------------------------------------------------- names and receipts


def test_case_spaces_and_commas_in_a_name_do_not_matter() -> None:
    answer = receipts(
        [DAY, "EGGS LARGE ", "Mill", 1, None, 12, "ct", 3],
        Recipes=[["Recipe", "Uses", "Amount", "Unit"], ["Loaf", "Eggs, large", 2, "ea"]],
    )
    close(answer["recipes"][0]["batch_cost"], "0.5")
    assert not at(answer["problems"], "Recipes", "B2")


def test_a_near_name_is_offered_and_never_taken() -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        Recipes=[["Recipe", "Uses", "Amount", "Unit"], ["Loaf", "Flower", 1, "kg"]],
    )
    assert answer["recipes"][0]["batch_cost"] is None
    assert said(at(answer["problems"], "Recipes", "B2")) == (
        'no item is called "Flower". Did you mean "Flour"?'
    )


def test_two_rows_the_same_are_flagged() -> None:
    row = [DAY, "Flour", "Mill", 1, None, 1, "kg", 1]
    answer = receipts(row, row)
    assert said(at(answer["problems"], "Purchases", "B3")) == (
        "this row is the same as row 2. Delete one, if it was typed twice."
    )


@pytest.mark.parametrize(("packs", "price"), [(-1, 9), (1, "(9.00)"), (1, -9)])
def test_a_return_never_sets_a_price(packs: int, price: object) -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        ["2026-11-02", "Flour", "Mill", packs, None, 1, "kg", price],
    )
    close(item(answer, "Flour")["price_per_base_unit"], "0.001")
    assert "this was taken for a return, which sets no price." in said(answer["problems"])


def test_a_discount_line_lowers_the_purchase_it_belongs_to() -> None:
    """5.99 for 500 g, less 1.99, is 4.00."""
    answer = receipts(
        [DAY, "Yeast", "Mill", 1, None, 500, "g", 5.99],
        [DAY, "Yeast", "Mill", None, None, None, None, "(1.99)"],
    )
    close(item(answer, "Yeast")["price_per_base_unit"], F(4, 500))


def test_a_discount_that_belongs_to_nothing_is_said() -> None:
    answer = receipts(
        [DAY, "Yeast", "Mill", 1, None, 500, "g", 5.99],
        [DAY, "Yeast", "Barn", None, None, None, None, "(1.99)"],
    )
    assert "this discount was not counted" in said(at(answer["problems"], "Purchases", "B3"))


def test_a_recipe_that_uses_itself_through_others_is_named() -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        Recipes=[
            ["Recipe", "Uses", "Amount", "Unit"],
            *(
                ["Loaf", "Dough", 1, "kg"],
                ["Dough", "Sponge", 1, "kg"],
                ["Sponge", "Loaf", 1, "ea"],
            ),
        ],
        Batches=[
            ["Recipe", "Makes", "Unit"],
            ["Loaf", 1, "ea"],
            ["Dough", 2, "kg"],
            ["Sponge", 2, "kg"],
        ],
    )
    for cell in ("B2", "B3", "B4"):
        assert "these recipes use one another in a circle:" in said(
            at(answer["problems"], "Recipes", cell)
        )
    assert answer["products"][0]["cost"]["total"] is None


@pytest.mark.parametrize(
    ("dates", "first"),
    [
        (["3/4/26", "3/14/26"], "2026-03-04"),  # only the month can stand first
        (["3/4/26", "14/3/26"], "2026-04-03"),
        (["3/4/26", "5/6/26"], None),  # nothing tells
        (["3/3/26"], "2026-03-03"),
        (["4 March 2026"], "2026-03-04"),
        (["4. März 2026"], "2026-03-04"),
    ],
)
def test_a_date_as_text_is_read_by_what_the_other_rows_show(
    dates: list[str], first: str | None
) -> None:
    rows = [[day, f"Item {n}", "Mill", 1, None, 1, "kg", 1] for n, day in enumerate(dates)]
    answer = receipts(*rows)
    assert item(answer, "Item 0")["date"] == first
    asked = said(at(answer["problems"], "Purchases", "A2"))
    assert ("could be 4 March 2026 or 3 April 2026" in asked) == (first is None)


# ---------------------------------------------------------------- other cells


def cases() -> Iterator[tuple[str, object, str]]:
    """A heading of Outlets or Stages, what was typed below it, and the number that it is."""
    yield "Minutes per batch", "20 min", "20"
    yield "Minutes per batch", "20", "20"
    yield "Minutes per batch", "1 1/2 minutes", "1.5"
    yield "People", "2 people", "2"
    yield "Pay per hour", "$15/hr", "15"
    yield "Pay per hour", "15 an hour", "15"


@pytest.mark.parametrize(("heading", "typed", "number"), list(cases()))
def test_a_word_that_the_heading_says_already_is_no_trouble(
    heading: str, typed: object, number: str
) -> None:
    """Labour: people × minutes × pay ÷ 60, with 1 person, 60 minutes and 12.00 where not typed."""
    columns = {"People": 1, "Minutes per batch": 60, "Pay per hour": 12} | {heading: typed}
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        Stages=[["Recipe", "Stage", *columns], ["Loaf", "Bake", *columns.values()]],
    )
    plain = {"People": F(1), "Minutes per batch": F(60), "Pay per hour": F(12)} | {
        heading: F(number)
    }
    close(
        answer["products"][0]["cost"]["labour"],
        plain["People"] * plain["Minutes per batch"] * plain["Pay per hour"] / 60,
    )


def test_a_price_in_another_money_is_asked() -> None:
    answer = receipts([DAY, "Flour", "Mill", 1, None, 1, "kg", "€4.50"])
    assert item(answer, "Flour")["price_per_base_unit"] is None
    assert said(at(answer["problems"], "Purchases", "H2")) == (
        '"€4.50" is not in USD, the workbook\'s currency. Type what it came to in USD.'
    )


def test_an_item_bought_by_the_piece_and_by_the_kilo_is_said() -> None:
    answer = receipts(
        [DAY, "Cabbage", "Mill", 1, None, 1, "ea", 1.5],
        ["2026-10-09", "Cabbage", "Mill", 1, None, 1, "kg", 1.2],
    )
    assert "its Grams per piece is not known" in said(at(answer["problems"], "Purchases", "G3"))
    joined = receipts(
        [DAY, "Cabbage", "Mill", 1, None, 1, "ea", 1.5],
        ["2026-10-09", "Cabbage", "Mill", 1, None, 1, "kg", 1.2],
        Items=[["Item", "Grams per piece"], ["Cabbage", 900]],
    )
    assert not at(joined["problems"], "Purchases", "G3")


def test_of_three_suppliers_the_latest_counts_unless_one_is_usual() -> None:
    rows = [
        [DAY, "Oats", "Mill", 1, None, 1, "kg", 1],
        ["2026-10-03", "Oats", "Barn", 1, None, 1, "kg", 2],
        ["2026-10-04", "Oats", "Shop", 1, None, 1, "kg", 3],
    ]
    close(item(receipts(*rows), "Oats")["price_per_base_unit"], "0.003")
    usual = receipts(*rows, Items=[["Item", "Usual supplier"], ["Oats", "Barn"]])
    close(item(usual, "Oats")["price_per_base_unit"], "0.002")
    slip = receipts(*rows, Items=[["Item", "Usual supplier"], ["Oats", "Bran"]])
    close(item(slip, "Oats")["price_per_base_unit"], "0.003")
    assert 'Did you mean "Barn"?' in said(at(slip["problems"], "Items", "B2"))


def test_a_free_pack_is_said_and_sets_no_price() -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        ["2026-11-02", "Flour", "Mill", 1, None, 1, "kg", 0],
    )
    close(item(answer, "Flour")["price_per_base_unit"], "0.001")
    assert "the price is zero" in said(at(answer["problems"], "Purchases", "H3"))


def test_a_purchase_after_the_costing_date_is_said_and_waits() -> None:
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        ["2026-12-24", "Flour", "Mill", 1, None, 1, "kg", 2],
    )
    close(item(answer, "Flour")["price_per_base_unit"], "0.001")
    assert "after the costing date" in said(at(answer["problems"], "Purchases", "A3"))


def test_an_egg_is_a_piece_by_any_of_its_words() -> None:
    """Bought by the count, used as eggs: 2 × 18 of them for 10.80, so 6 cost 1.80."""
    answer = receipts(
        [DAY, "Flour", "Mill", 1, None, 1, "kg", 1],
        [DAY, "Eggs", "Farm", 2, None, 18, "ct", 5.4],
        Recipes=[["Recipe", "Uses", "Amount", "Unit"], ["Loaf", "Eggs", 6, "eggs"]],
    )
    close(answer["products"][0]["cost"]["ingredients"], F("1.80"))
    assert not [each for each in answer["problems"] if each["sheet"] == "Recipes"]
