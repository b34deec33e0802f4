"""Sizes and amounts: what is typed, what is read, and every sentence that asks.

The texts of the first table are those that real kitchens type; the figures are worked by hand.
"""

from __future__ import annotations

import re
import time
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costbook.definitions.units import SPELLINGS, UNITS, Unit, find_unit
from costbook.reading.numbers import NumberStyle, Unclear
from costbook.reading.quantities import (
    GRAMMAR,
    Allowance,
    Quantity,
    Shape,
    read_amount,
    read_pack_size,
)
from costbook.reading.quantity_words import cut

POINT, COMMA, UNKNOWN = NumberStyle.POINT, NumberStyle.COMMA, NumberStyle.UNKNOWN

# typed as a pack size: what it shows as
SIZES = {
    # count and size
    "2 x 18 ct": "2 × 18 ea",
    "2x18": "2 × 18",
    "2 × 18": "2 × 18",
    "2*18": "2 × 18",
    "2/18ct": "2 × 18 ea",
    "2 pk 18": "2 × 18",
    "2-pack of 18": "2 × 18",
    "2 packs of 18 ct": "2 × 18 ea",
    "12/32 oz": "12 × 32 oz",
    "15/32 oz": "15 × 32 oz",
    "4/5 lb": "4 × 5 lb",
    "12/1Qt": "12 × 1 qt",
    "2/1 1/2 lb": "2 × 1.5 lb",
    "6 x 1/2 gal": "6 × 0.5 gal",
    "6/½ gal": "6 × 0.5 gal",
    "6 x 500 g": "6 × 500 g",
    "6 x 500 g each": "6 × 500 g",
    "6 x 80 g slices": "6 × 80 g",
    "80 g slice": "80 g",
    "500 g x 6": "6 × 500 g",
    "12 ct x 32 oz": "12 × 32 oz",
    "24 @ 12oz": "24 × 12 oz",
    "case of 24": "24",
    "24 per case": "24",
    "24/case": "24",
    "2 cases of 12 x 400 g": "24 × 400 g",
    "1 case of 15 dozen": "15 dozen",
    "24 pk/12 oz": "24 × 12 oz",
    "2 rolls of 200 ft": "2 × 200 ft",
    "1 (13.5 oz) tin": "13.5 oz",
    "2 (9 oz) jars": "2 × 9 oz",
    "2 (1 lb + 2 oz) tins": "2 × 1.125 lb",
    "1 (1 dozen)": "1 dozen",
    "2 9 oz jars": "2 × 9 oz",
    "2 500 g tins": "2 × 500 g",
    "a 12 oz can": "12 oz",
    "1 tin (400 g)": "400 g",
    "3 cloves (15 g each)": "3 × 15 g",
    "3 cloves (15 g ea)": "3 × 15 g",
    " " * 196 + "5 lb": "5 lb",  # 200 letters are no text too long
    "1 loaf 20 slices": "20 slice",
    # pieces
    "15 dz": "15 dozen",
    "5 doz": "5 dozen",
    "1 dozen": "1 dozen",
    "dozen": "1 dozen",
    "a dozen": "1 dozen",
    "half a dozen": "0.5 dozen",
    "1 tray": "1 tray",
    "1 flat": "1 tray",
    "2 dozen 6 ea": "2.5 dozen",
    "1 tray + 6 ea": "1.2 tray",
    "3 large": "3",
    "100 sheets": "100 sheet",
    # a unit, and words that add nothing
    "5 lb bag": "5 lb",
    "5 lb/bag": "5 lb",
    "5#": "5 lb",
    "40 #": "40 lb",
    "5lb": "5 lb",
    "12-oz bag": "12 oz",
    "about 500 g": "500 g",
    "'500 g": "500 g",
    "\u00a05\u00a0lb ": "5 lb",
    "2 fl.oz": "2 fl oz",
    "2 imp. fl. oz.": "2 imperial fl oz",
    "2 imp fl. oz": "2 imperial fl oz",
    "6 pkgs. of 12 ct": "6 × 12 ea",
    "3 T": "3 Tbsp",
    "3 t": "3 tsp",
    '12"': "12 in",
    "500 m²": "500 sq m",
    # fractions, sums, the same twice
    "½ gal": "0.5 gal",
    "2½": "2.5",
    "1 ½": "1.5",
    "1 1/2 lb": "1.5 lb",
    "1-1/2 lb": "1.5 lb",
    "2 lb 3 oz": "2.1875 lb",
    "2 lb, 3 oz": "2.1875 lb",
    "2 lb and 3 oz": "2.1875 lb",
    "5# 2 oz": "5.125 lb",
    "5 ft 6 in": "5.5 ft",
    "5 ft 7 in": "67 in",  # 5 7/12 ft has no end
    "5' 6\"": "5.5 ft",
    "250 g/8¾ oz": "250 g",
    "8¾ oz/250 g": "250 g",
    "8 3/4 oz (250 g)": "250 g",
    "6 x 250 g / 8¾ oz": "6 × 250 g",
    "2 lb = 32 oz": "2 lb",
    "100 g/105 g": "100 g",  # 5 % apart
    "1 cup (120 g)": "120 g",
    # numbers
    "1,5 kg": "1.5 kg",
    "1.234,50 g": "1234.5 g",
    "1,234.50 g": "1234.5 g",
    "1 234,50 g": "1234.5 g",
    "1 000 ct": "1000 ea",
    ".5 lb": "0.5 lb",
    "0 g": "0 g",
    # spelled out, noted, in wide letters
    "6 eggs": "6 egg",
    "12 Wraps": "12 wrap",
    "4 Stück": "4 ea",
    "twenty-four ct": "24 ea",
    "a hundred ct": "100 ea",
    "1.5 dozen eggs": "1.5 dozen",
    "500 g (sifted)": "500 g",
    "500 g, finely sifted": "500 g",
    "\uff15\uff10\uff10 \uff47": "500 g",
    # for each: of a pack it says the size
    "12 oz a can": "12 oz",
    "500 g each": "500 g",
    "1 half pint": "0.5 pt",
    "75 m rolls": "75 m",
}


@pytest.mark.parametrize(("typed", "shown"), SIZES.items())
def test_a_pack_size_is_understood(typed: str, shown: str) -> None:
    assert str(read_pack_size(typed, UNKNOWN)) == shown


AMOUNTS = {
    "1/2 cup": "0.5 cup",
    "½ c": "0.5 cup",
    "2½": "2.5",
    "1 ½": "1.5",
    "1 1/2": "1.5",
    "1-1/2": "1.5",
    "1 and 1/2 cups": "1.5 cup",
    "1 and a half cups": "1.5 cup",
    "half a cup": "0.5 cup",
    "a quarter cup": "0.25 cup",
    "1/3 cup": "⅓ cup",
    "1/6 cup": "⅙ cup",
    "1 5/6 cups": "1⅚ cup",
    "2 2/3 cups": "2⅔ cup",
    "3/4 lb": "0.75 lb",
    "1 cup + 2 Tbsp": "1.125 cup",
    "1 cup plus 2 tbsp": "1.125 cup",
    "1 cup + 20 Tbsp": "2.25 cup",
    "2 Tbsp + 1 cup": "18 Tbsp",
    "1 cup 1 tsp": "49 tsp",  # a cup is 48 teaspoons
    "2 x 400 g tins": "2 × 400 g",
    "2 level tsp": "2 tsp",
    "three cloves": "3 clove",
    # halves and quarters in words: a number in front says how many, and is no whole
    "one half cup": "0.5 cup",
    "1 half cup": "0.5 cup",
    "one-half cup": "0.5 cup",
    "one quarter cup": "0.25 cup",
    "three quarter cup": "0.75 cup",
    "three quarters cup": "0.75 cup",
    "3 quarters of a cup": "0.75 cup",
    "two thirds cup": "⅔ cup",
    "one eighth tsp": "0.125 tsp",
    "1 half-dozen": "0.5 dozen",
    "quarter lb": "0.25 lb",
    "1 quarter pound": "0.25 lb",
    "one and one half cups": "1.5 cup",
    "two and one quarter cups": "2.25 cup",
    "two and a half cups": "2.5 cup",
    "1 1/2 dozen": "1.5 dozen",
    "a dozen and a half": "1.5 dozen",
    "2 lb and a half": "2.5 lb",
    "cup and three quarters": "1.75 cup",
    "half cup and 1 Tbsp": "0.5625 cup",
    "1/2 a dozen": "0.5 × 1 dozen",
    "2 onions, chopped": "2 onion",
    "200 g onions": "200 g",
    "2 cups packed": "2 cup",
    "2 each": "2 ea",
    "6 x 80 g each": "6 × 80 g",
}


@pytest.mark.parametrize(("typed", "shown"), AMOUNTS.items())
def test_an_amount_is_understood(typed: str, shown: str) -> None:
    assert str(read_amount(typed, UNKNOWN)) == shown


@pytest.mark.parametrize(
    "typed",
    [
        "a pinch",
        "2 pinches",
        "pinch of salt",
        "a good pinch",
        "½ dash",
        "drizzle",
        "Drizzle of oil",
        "to taste",
        "salt, to taste",
        "a little",
        "some",
        "as needed",
        "for dusting",
        "2-3 drops",
    ],
)
def test_a_little_is_for_the_allowance(typed: str) -> None:
    assert isinstance(read_amount(typed, UNKNOWN), Allowance)


def test_what_has_a_figure_is_no_allowance() -> None:
    assert read_amount("5 g to taste", UNKNOWN) == Unclear(
        'In "5 g to taste", "taste" is not understood.', LIKE
    )


def test_a_sum_without_an_end_in_any_unit_is_in_the_first() -> None:
    """⅓ of a cup and ⅓ of a teaspoon: a cup is 48 of them, so 49/144 of a cup."""
    found = read_amount("⅓ cup + ⅓ tsp", UNKNOWN)
    assert isinstance(found, Quantity)
    assert found.unit == find_unit("cup")
    assert round(found.size * 144, 20) == 49


def test_an_allowance_keeps_the_words() -> None:
    assert read_amount(" a  pinch ", UNKNOWN) == Allowance("a pinch")


LIKE = "Write it like 500 g, 5 lb or 2 x 18 ea."
ONE = "Write the one it is."
CAN = "has a can size in it, not a weight."
HELD = "Write how many or how much one holds, as 24 ea or 6 x 500 g."
ON_CAN = "Write the weight that is printed on the can, as 6 x 3 kg."

ASKED = [
    ("", "There is nothing here.", LIKE),
    ("1 case", '"1 case" does not say what is in it.', HELD),
    ("10 bags", '"10 bags" does not say what is in it.', HELD),
    ("#10", f'"#10" {CAN}', ON_CAN),
    ("6/#10", f'"6/#10" {CAN}', ON_CAN),
    ("6 #10 cans", f'"6 #10 cans" {CAN}', ON_CAN),
    ("No. 10 can", f'"No. 10 can" {CAN}', ON_CAN),
    ("1/2 gal", '"1/2 gal" could be 0.5 gal or 1 x 2 gal.', ONE),
    ("1/8 lb", '"1/8 lb" could be 0.125 lb or 1 x 8 lb.', ONE),
    ("1/2 gal tin", '"1/2 gal tin" could be 0.5 gal tin or 1 x 2 gal tin.', ONE),
    ("2/3", '"2/3" could be 0.6667 or 2 x 3.', ONE),
    ("2 500 g", '"2 500 g" could be 2500 g or 2 x 500 g.', ONE),
    ("1 250 g", '"1 250 g" could be 1250 g or 1 x 250 g.', ONE),
    ("100 250 g", '"100 250 g" could be 100250 g or 100 x 250 g.', ONE),
    (
        "1,234 g",
        '"1,234" could be 1.234 or 1234.',
        "Write 1234, or type 1.234 as a number in a cell of its own.",
    ),
    ("1.2.3 kg", '"1.2.3" is not a number.', "Write it with digits, as 12.5."),
    ("1234567890123456 g", '"1234567890123456" is too long a number.', "Write fewer digits."),
    (
        "3 cloves (15 g)",
        '"3 cloves (15 g)" could be 15 g each or 15 g in all.',
        "Write 3 x 15 g, or 15 g.",
    ),
    (
        "2 tins 400 g",
        '"2 tins 400 g" could be 400 g each or 400 g in all.',
        "Write 2 x 400 g, or 400 g.",
    ),
    (
        "3 boxes (1 lb 2 oz)",
        '"3 boxes (1 lb 2 oz)" could be 1.125 lb each or 1.125 lb in all.',
        "Write 3 x 1.125 lb, or 1.125 lb.",
    ),
    ("250 g/12 oz", '"250 g/12 oz" gives two sizes that differ.', "Write the one to cost by."),
    ("100 g/106 g", '"100 g/106 g" gives two sizes that differ.', "Write the one to cost by."),
    (
        "2 lb 3 ml/900 g",  # the first is no size at all
        '"2 lb 3 ml/900 g" gives two sizes that differ.',
        "Write the one to cost by.",
    ),
    ("12 ct/32 oz", '"12 ct/32 oz" gives two sizes that differ.', "Write the one to cost by."),
    ("1 cup (8 oz)", '"1 cup (8 oz)" gives two sizes that differ.', "Write the one to cost by."),
    (
        "18 in x 2000 ft",
        '"18 in x 2000 ft" is a width and a length.',
        "Write the length here, and the width as the item's Roll width.",
    ),
    ("2 lb x 3 oz", '"2 lb x 3 oz" is not understood.', LIKE),
    ("½–1 tsp", '"½–1 tsp" is a range.', "Write one amount."),
    ("1 to 2 lb", '"1 to 2 lb" is a range.', "Write one amount."),
    ("2-3", '"2-3" is a range.', "Write one amount."),
    ("-5 lb", '"-5 lb" is less than nothing.', "Write it without the minus."),
    ("lb", '"lb" has no number.', "Write how many, as 5 lb."),
    (
        "2 lb 3 ml",
        '"2 lb 3 ml" can\'t be added up.',
        "Write it in one unit, as 2.5 lb.",
    ),
    (
        "3 oz 2 lb",
        '"3 oz 2 lb" can\'t be added up.',
        "Write it in one unit, as 2.5 lb.",
    ),
    ("1 kg, 1000 g", '"1 kg, 1000 g" can\'t be added up.', "Write it in one unit, as 2.5 lb."),
    ("1 kg 1000 g", '"1 kg 1000 g" can\'t be added up.', "Write it in one unit, as 2.5 lb."),
    ("5 lb zo", 'In "5 lb zo", "zo" is not understood.', LIKE),
    ("5 kgz", 'In "5 kgz", "kgz" is not understood.', 'Did you mean "kg"?'),
    ("1/0 cup", 'In "1/0 cup", "1/0" is not understood.', LIKE),
    ("5 lb 6", '"5 lb 6" is not understood.', LIKE),
    ("24/1/2 lb", '"24/1/2 lb" is not understood.', LIKE),
    ("0.0000000001 g", '"0.0000000001 g" can\'t be right.', "Check the number."),
    ("x" * 201, f'"{"x" * 39}…" is too long to be an amount.', LIKE),
    # what a cook would read otherwise
    ("1 half case of 15 dozen", '"1 half case of 15 dozen" could be 7.5 dozen or 15 dozen.', ONE),
    ("half a case of 24 ct", '"half a case of 24 ct" could be 12 ea or 24 ea.', ONE),
    ("2 x 2.5 kg + 1 kg", '"2 x 2.5 kg + 1 kg" could be 7 kg or 6 kg.', ONE),
    # 2 x 21 oz, or 2 x 19 oz and 2
    ("2 x 1 lb 3 oz + 2 oz", '"2 x 1 lb 3 oz + 2 oz" could be 2.625 lb or 2.5 lb.', ONE),
    ("2 x 1 kg, 500 g", '"2 x 1 kg, 500 g" could be 3 kg or 2.5 kg.', ONE),
    (
        "1 M ct",
        '"1 M ct" could be 1 thousand or 1 m.',
        "Write the number, as 1000 ct, or a small m.",
    ),
    (
        "1 M count",
        '"1 M count" could be 1 thousand or 1 m.',
        "Write the number, as 1000 ct, or a small m.",
    ),
    (
        "2 M 50 cm wraps",
        '"2 M 50 cm wraps" does not say how many.',
        "Write how many, as 6 x 2.5 m.",
    ),
    ("1 case eggs", '"1 case eggs" does not say what is in it.', HELD),
    ("12 (1 dozen)", '"12 (1 dozen)" could be 12 × 1 dozen or 1 dozen.', ONE),
    ("80 g slices", '"80 g slices" does not say how many.', "Write how many, as 6 x 80 g."),
    ("12 in wraps", '"12 in wraps" does not say how many.', "Write how many, as 6 x 12 in."),
    (
        "2 half pint jars",
        '"2 half pint jars" could be so many halves, or a half more.',
        "Write the number, as 1 or 2.5.",
    ),
    ("1 .5 lb", '"1 .5 lb" could be 1.5 lb or 1 x .5 lb.', ONE),
    ("1 .5 lb bags", '"1 .5 lb bags" could be 1.5 lb or 1 x .5 lb.', ONE),
    ("1.3/4 lb", '"1.3/4 lb" is not understood.', LIKE),
    ("0x10 g", '"0 × 10 g" can\'t be right.', "Check the number."),
    ("500 g (each batch)", 'In "500 g (each batch)", "batch" is not understood.', LIKE),
    (
        "2 Tbsp (heaped)",  # more than is costed, so no mere note
        'In "2 Tbsp (heaped)", "heaped" is not understood.',
        'Did you mean "head"?',
    ),
    ("2 (dozen)", '"2 (dozen)" is not understood.', LIKE),
    (
        "1 gal 5 qt 1 pt",  # one part that falls short of the unit before it is not enough
        '"1 gal 5 qt 1 pt" can\'t be added up.',
        "Write it in one unit, as 2.5 lb.",
    ),
    (
        "2 teespoon",
        'In "2 teespoon", "teespoon" is not understood.',
        'Did you mean "teaspoon" or "tablespoon"?',
    ),
    ("2 pinches", 'In "2 pinches", "pinches" is not understood.', LIKE),
    ("free", 'In "free", "free" is not understood.', LIKE),
]


@pytest.mark.parametrize(("typed", "what", "remedy"), ASKED)
def test_a_pack_size_is_asked(typed: str, what: str, remedy: str) -> None:
    assert read_pack_size(typed, UNKNOWN) == Unclear(what, remedy)


@pytest.mark.parametrize(
    ("typed", "what"),
    [
        ("12/32 oz", '"12/32 oz" could be 0.375 oz or 12 x 32 oz.'),
        ("3/2 cup", '"3/2 cup" could be 1.5 cup or 3 x 2 cup.'),
    ],
)
def test_an_amount_is_asked_where_a_slash_is_no_usual_fraction(typed: str, what: str) -> None:
    assert read_amount(typed, UNKNOWN) == Unclear(what, ONE)


@pytest.mark.parametrize(
    "typed",
    ["10 g per roll", "10 g/roll", "10 g a roll", "10 g each", "10 g apiece", "10 g ea."],
)
def test_an_amount_for_one_is_asked(typed: str) -> None:
    """As the amount of a batch of 24 rolls it would be a twenty-fourth of what is meant."""
    assert read_amount(typed, UNKNOWN) == Unclear(
        f'"{typed}" is for one, not for all.', "Write what it is in all, as 24 x 10 g."
    )


@pytest.mark.parametrize("style", [POINT, COMMA])
def test_a_thousand_is_never_one(style: NumberStyle) -> None:
    """One `1,2 kg` in a column must not make 2,000 g of flour 2 g."""
    typed = "2,000 g" if style is COMMA else "2.000 g"
    mark = typed[:5]
    assert read_pack_size(typed, style) == Unclear(
        f'"{mark}" could be 2 or 2000.',
        "Write 2000, or type 2 as a number in a cell of its own.",
    )
    assert str(read_pack_size(typed, COMMA if style is POINT else POINT)) == "2000 g"


def test_the_column_says_what_a_mark_means() -> None:
    kilos = [read_pack_size("1,234 kg", style) for style in (POINT, COMMA)]
    kg = find_unit("kg")
    assert kilos == [Quantity(Decimal(1), Decimal(size), kg) for size in ("1234", "1.234")]
    assert read_pack_size("1,5 kg", POINT) == Unclear(
        '"1,5" is not written like the other numbers here.',
        "If it means 1.5, write it as they are.",
    )


# --- The grammar ---


@pytest.mark.parametrize("row", GRAMMAR, ids=lambda row: row.example or "nothing")
def test_each_row_of_the_grammar_reads_its_own_example(row: Shape) -> None:
    """The rows above must not catch it: a row that is never reached is a row too many."""
    pieces = cut(row.example, UNKNOWN, counts=True)
    assert not isinstance(pieces, Unclear)
    letters = "".join(piece.letter for piece in pieces)
    assert next(each for each in GRAMMAR if re.fullmatch(each.shape, letters)) is row


# --- Whatever the text ---

PARTS = [
    "1",
    "2/3",
    "½",
    "x",
    " ",
    "lb",
    "case",
    "(",
    ")",
    "-",
    "–",
    "#",
    "10",
    ".",
    ",",
    "of",
    "T",
]
PARTS += ["dozen", "0", "tin", "$", "500", "g", "/", "and", "half", "'", '"', "+", "=", "each", "⁄"]
ANY = st.text() | st.lists(st.sampled_from(PARTS), max_size=40).map("".join)
STYLES = st.sampled_from(NumberStyle)


@given(ANY, STYLES)
def test_whatever_the_text_it_is_answered(text: str, style: NumberStyle) -> None:
    for answer in (read_pack_size(text, style), read_amount(text, style)):
        match answer:
            case Unclear(what, remedy):
                assert what.endswith(".")
                assert remedy.endswith((".", "?"))
                assert (what + remedy).isprintable()
            case Quantity(count, size, _):
                assert count >= 0
                assert size >= 0
            case Allowance(words):
                assert words


@given(ANY, STYLES)
def test_what_is_shown_reads_back_the_same(text: str, style: NumberStyle) -> None:
    for answer in (read_pack_size(text, style), read_amount(text, style)):
        if isinstance(answer, Quantity):
            assert read_pack_size(str(answer), POINT) == answer
            assert read_amount(str(answer), POINT) == answer


NUMBERS = st.decimals(min_value="0.01", max_value="9999.99", places=2)


@given(st.integers(1, 999).map(Decimal), NUMBERS, st.sampled_from(UNITS) | st.none())
def test_a_quantity_reads_back_the_same(count: Decimal, size: Decimal, unit: Unit | None) -> None:
    quantity = Quantity(count, size, unit)
    assert read_pack_size(str(quantity), POINT) == quantity
    assert read_amount(str(quantity), POINT) == quantity


SPACE = st.sampled_from([" ", "  ", "\u00a0", "\t", " \u202f"])
TIMES = st.sampled_from(["x", "X", "×", "*", " x ", " × ", "\u00a0x\u00a0"])


@given(st.integers(2, 99), NUMBERS, st.sampled_from(sorted(SPELLINGS)), SPACE, TIMES, st.booleans())
def test_other_spellings_spaces_and_capitals_give_the_same(
    count: int, size: Decimal, key: str, space: str, times: str, shouted: bool
) -> None:
    spelling = (key.upper() if shouted else key).replace(" ", space)
    expected = Quantity(Decimal(count), size, SPELLINGS[key])
    for style, number in ((POINT, str(size)), (COMMA, str(size).replace(".", ","))):
        typed = f"{space}{count}{times}{number}{space}{spelling}{space}"
        assert read_pack_size(typed, style) == expected
        assert read_amount(typed, style) == expected


def test_no_text_takes_long() -> None:
    """Texts that make a careless pattern try for ever: each takes milliseconds at most."""
    repeated = [part * (200 // len(part)) for part in ("1 ", "1", "1/", "1,", " ", "a ", "case ")]
    repeated += [
        part * (200 // len(part)) for part in ("1 case ", "1 lb ", "1-", "( ", "fl. ", "x1")
    ]
    started = time.perf_counter()
    for text, end in product(repeated, ("", "!", "pinch")):
        read_pack_size(text[:195] + end, UNKNOWN)
        read_amount(text[:195] + end, UNKNOWN)
    assert time.perf_counter() - started < 2
