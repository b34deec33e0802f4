"""Numbers, shares and prices: what is typed, what is read, and every sentence that asks."""

from __future__ import annotations

import re
import time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costbook.definitions.fields import share
from costbook.definitions.units import SPELLINGS
from costbook.reading.numbers import (
    PRICES,
    Money,
    NumberStyle,
    Unclear,
    number_style,
    read_number,
    read_price,
    read_share,
)

POINT, COMMA, UNKNOWN = NumberStyle.POINT, NumberStyle.COMMA, NumberStyle.UNKNOWN
USABLE, MOST = Decimal(5), Decimal(1)  # the limits of Usable % and of every other share


# --- How a column writes its numbers ---


@pytest.mark.parametrize(
    ("texts", "style"),
    [
        (["1,5 kg", "2,250"], COMMA),
        (["1.5", "2,250"], POINT),
        (["1.234,50"], COMMA),
        (["1,234.50"], POINT),
        (["1 234,50"], COMMA),
        (["1'234.50"], POINT),
        (["1.234.567"], COMMA),
        (["1,234,567"], POINT),
        (["0,125"], COMMA),
        (["1234.567"], POINT),
        (["1.234", "1,234"], UNKNOWN),  # either could be a thousand
        (["1,5", "1.5"], UNKNOWN),  # two people typed
        (["2 x 18 ct", "case", ""], UNKNOWN),
        ([], UNKNOWN),
    ],
)
def test_the_style_of_a_column_is_found(texts: list[str], style: NumberStyle) -> None:
    assert number_style(texts) is style


# --- Numbers ---


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("1,5", "1.5"),
        ("1.5", "1.5"),
        ("1.234,50", "1234.5"),
        ("1 234,50", "1234.5"),
        ("1\u202f234,50", "1234.5"),
        ("1,234.50", "1234.5"),
        ("1'234.50", "1234.5"),
        ("1 234", "1234"),
        (" 18\u00a0", "18"),
        ("-3", "-3"),
        ("\N{MINUS SIGN}3", "-3"),
        ("+ 3", "3"),
        (".5", "0.5"),
        ("½", "0.5"),
        ("2½", "2.5"),
        ("1 1/2", "1.5"),
        ("3/4", "0.75"),
        ("'12", "12"),
        ("six", "6"),
        ("Twenty-four", "24"),
        ("one half", "0.5"),
        ("one and a half", "1.5"),
        ("\uff11\uff12.\uff15", "12.5"),
    ],
)
def test_a_number_is_read(typed: str, number: str) -> None:
    assert read_number(typed, UNKNOWN) == Decimal(number)


@pytest.mark.parametrize(("style", "number"), [(POINT, "1234"), (COMMA, "1.234")])
def test_the_column_says_what_a_comma_is(style: NumberStyle, number: str) -> None:
    assert read_number("1,234", style) == Decimal(number)


DIGITS = "Write it with digits, as 12.5."
NUMBER = "Write a number, as 12.5."


@pytest.mark.parametrize(
    ("typed", "style", "what", "remedy"),
    [
        ("", UNKNOWN, "There is nothing here.", NUMBER),
        (
            "1.234",
            UNKNOWN,
            '"1.234" could be 1.234 or 1234.',
            "Write 1234, or type 1.234 as a number in a cell of its own.",
        ),
        (
            "1,5",
            POINT,
            '"1,5" is not written like the other numbers here.',
            "If it means 1.5, write it as they are.",
        ),
        ("abc", UNKNOWN, '"abc" is not a number.', DIGITS),
        ("1e5", UNKNOWN, '"1e5" is not a number.', DIGITS),
        ("٣", UNKNOWN, '"٣" is not a number.', DIGITS),
        ("1.2.3", UNKNOWN, '"1.2.3" is not a number.', DIGITS),
        ("-", UNKNOWN, '"-" is not a number.', NUMBER),
        ("12/32", UNKNOWN, '"12/32" is not a number.', NUMBER),
        ("half dozen", UNKNOWN, '"half dozen" is not a number.', NUMBER),
        ("1/0", UNKNOWN, '"1/0" is not a number.', NUMBER),
        ("1" * 16, UNKNOWN, '"1111111111111111" is too long a number.', "Write fewer digits."),
        ("1" * 201, UNKNOWN, f'"{"1" * 39}…" is not a number.', NUMBER),
    ],
)
def test_a_number_is_asked(typed: str, style: NumberStyle, what: str, remedy: str) -> None:
    assert read_number(typed, style) == Unclear(what, remedy)


@given(st.decimals(min_value="-999999999", max_value="999999999", places=4))
def test_a_number_is_read_exactly_in_both_styles(number: Decimal) -> None:
    point = f"{number:,}"
    comma = point.translate(str.maketrans(",.", ".,"))
    assert read_number(point, POINT) == number
    assert read_number(comma, COMMA) == number


# --- Shares ---


@pytest.mark.parametrize(
    ("typed", "limit", "part"),
    [
        ("89", USABLE, "0.89"),
        ("0.89", USABLE, "0.89"),
        ("89 %", USABLE, "0.89"),
        ("89%", MOST, "0.89"),
        ("89,5 %", MOST, "0.895"),
        ("89 per cent", MOST, "0.89"),
        ("89% usable", USABLE, "0.89"),
        ("11% waste", USABLE, "0.89"),
        ("11 % trim", USABLE, "0.89"),
        ("11% loss", USABLE, "0.89"),
        ("11 waste", USABLE, "0.89"),
        ("0.11 Waste", USABLE, "0.89"),
        ("1", USABLE, "1"),
        ("1 %", USABLE, "0.01"),
        ("0.5 %", MOST, "0.005"),
        ("1.2", USABLE, "1.2"),  # rice takes up water
        ("120", USABLE, "1.2"),
        ("1.2", MOST, "0.012"),
        ("¾", MOST, "0.75"),
        ("-5", MOST, "-5"),  # whether a column may hold it is the column's to say
    ],
)
def test_a_share_is_read(typed: str, limit: Decimal, part: str) -> None:
    assert read_share(typed, UNKNOWN, limit) == Decimal(part)


def test_a_share_is_asked() -> None:
    assert read_share("110% waste", UNKNOWN, USABLE) == Unclear(
        '"110% waste" loses more than there is.', "Write what is left, as 89 %."
    )
    assert read_share("most", UNKNOWN, USABLE) == Unclear('"most" is not a number.', DIGITS)


@pytest.mark.parametrize(
    ("number", "limit", "part"),
    [("89", "5", "0.89"), ("5", "5", "5"), ("5.01", "5", "0.0501"), ("1", "1", "1")],
)
def test_a_number_above_the_limit_is_a_percentage(number: str, limit: str, part: str) -> None:
    assert share(Decimal(number), Decimal(limit)) == Decimal(part)


# --- Prices ---

LB, GRAM, DOZEN, EA = (SPELLINGS[key] for key in ("lb", "g", "dozen", "ea"))


@pytest.mark.parametrize(
    ("typed", "amount"),
    [
        ("$ 4.50 ", "4.50"),
        ("89¢", "0.89"),
        ("89 cents", "0.89"),
        ("99p", "0.99"),
        (".89", "0.89"),
        ("'12", "12"),
        ("(1.99)", "-1.99"),
        ("($1.99)", "-1.99"),
        ("$(1.99)", "-1.99"),
        ("-$4.50", "-4.50"),
        ("$ -4.50", "-4.50"),
        ("1.99-", "-1.99"),
        ("4.50 F", "4.50"),
        ("@3.99", "3.99"),
        ("4,50 €", "4.50"),
        ("€4,50", "4.50"),
        ("USD 4.50", "4.50"),
        ("4.50 usd", "4.50"),
        ("US$4.50", "4.50"),
        ("12 kr", "12"),
        ("1 234,50", "1234.50"),
        ("1.234,50", "1234.50"),
        ("1,234.50", "1234.50"),
        ("2/$5", "2.50"),
        ("2 / $5.00", "2.50"),
        ("4 for 10", "2.5"),
        ("9.90 dollars", "9.90"),
        ("six dollars", "6"),
        ("4.50/pack", "4.50"),
        ("4.50 per case", "4.50"),
    ],
)
def test_a_price_of_one_pack_is_read(typed: str, amount: str) -> None:
    money = read_price(typed, UNKNOWN)
    assert isinstance(money, Money)
    assert (money.amount, money.per) == (Decimal(amount), None)


def test_three_for_ten_is_a_third_of_ten() -> None:
    assert read_price("3 for 10", UNKNOWN) == Money(Decimal(10) / 3, None)


@pytest.mark.parametrize(
    ("typed", "money"),
    [
        ("$3.99/lb", Money(Decimal("3.99"), LB, "$")),
        ("3.99/lb", Money(Decimal("3.99"), LB)),
        ("@ 3.99 / #", Money(Decimal("3.99"), LB)),
        ("3.99 per pound", Money(Decimal("3.99"), LB)),
        ("3.99 a dozen", Money(Decimal("3.99"), DOZEN)),
        ("3.99/100 g", Money(Decimal("0.0399"), GRAM)),
        ("0.30/ct", Money(Decimal("0.30"), EA)),
    ],
)
def test_a_rate_keeps_its_unit(typed: str, money: Money) -> None:
    assert read_price(typed, UNKNOWN) == money


@pytest.mark.parametrize(
    ("typed", "currency"),
    [
        *(("$4", "$"), ("4 €", "€"), ("4 eur", "EUR"), ("US$4", "US$"), ("4", "")),
        *(("4 dollars", "$"), ("4 euros", "EUR"), ("4 pounds", "GBP")),
    ],
)
def test_the_sign_is_kept_so_that_two_in_one_column_can_be_seen(typed: str, currency: str) -> None:
    money = read_price(typed, UNKNOWN)
    assert isinstance(money, Money)
    assert money.currency == currency


ONE_PACK = "Write the price of one pack, as 4.50."
WORTH = "Write what it would have cost, or leave the row out."


@pytest.mark.parametrize(
    ("typed", "what", "remedy"),
    [
        ("", "There is nothing here.", ONE_PACK),
        ("free", '"free" is a price of nothing.', WORTH),
        ("0", '"0" is a price of nothing.', WORTH),
        ("$0.00", '"$0.00" is a price of nothing.', WORTH),
        ("2 for 1", '"2 for 1" is an offer, not a price.', ONE_PACK),
        ("0 for $5", '"0 for $5" is an offer, not a price.', ONE_PACK),
        (
            "5.38 each",
            '"5.38 each" could be for each pack or each piece.',
            "Write 5.38 for a pack, or 5.38/ct for a piece.",
        ),
        ("0.89¢", '"0.89¢" could be in cents or not.', ONE_PACK),
        ("$89¢", '"$89¢" could be in cents or not.', ONE_PACK),
        ("3.99/zo", 'In "3.99/zo", "zo" is not understood.', ONE_PACK),
        (
            "3.99/onces",
            'In "3.99/onces", "onces" is not understood.',
            'Did you mean "ounces" or "inches"?',
        ),
        ("3.99/0 g", '"3.99/0 g" is not understood as a price.', ONE_PACK),
        ("2/5", '"2/5" is not understood as a price.', ONE_PACK),
        ("4.50 TAX", '"4.50 TAX" is not understood as a price.', ONE_PACK),
        ("4-5", '"4-5" is not understood as a price.', ONE_PACK),
        ("about right", '"about right" is not understood as a price.', ONE_PACK),
        (
            "1,234",
            '"1,234" could be 1.234 or 1234.',
            "Write 1234, or type 1.234 as a number in a cell of its own.",
        ),
        ("$" * 201, f'"{"$" * 39}…" is not understood as a price.', ONE_PACK),
    ],
)
def test_a_price_is_asked(typed: str, what: str, remedy: str) -> None:
    assert read_price(typed, UNKNOWN) == Unclear(what, remedy)


@pytest.mark.parametrize("at", range(len(PRICES)), ids=lambda at: PRICES[at][1])
def test_each_form_of_a_price_reads_its_own_example(at: int) -> None:
    """The forms above must not catch it: one that is never reached is one too many."""
    example = PRICES[at][1]
    first = next(form for form, _, _ in PRICES if re.fullmatch(form, example, re.IGNORECASE))
    assert first == PRICES[at][0]


# --- Whatever the text ---

PARTS = ["1", "2", "0", ".", ",", " ", "$", "¢", "%", "/", "for", "each", "lb", "(", ")", "-", "½"]
PARTS += ["waste", "USD", "'", "per", "free", "@", "F", "kr", "g", "pack"]
ANY = st.text() | st.lists(st.sampled_from(PARTS), max_size=40).map("".join)


@given(ANY, st.sampled_from(NumberStyle))
def test_whatever_the_text_it_is_answered(text: str, style: NumberStyle) -> None:
    number, part = read_number(text, style), read_share(text, style, USABLE)
    price = read_price(text, style)
    assert isinstance(number, Decimal | Unclear)
    assert isinstance(part, Decimal | Unclear)
    assert isinstance(price, Money | Unclear)
    for answer in (number, part, price):
        if isinstance(answer, Unclear):
            assert answer.what.endswith(".")
            assert (answer.what + answer.remedy).isprintable()
    assert not isinstance(price, Money) or price.amount != 0


@given(st.lists(ANY, max_size=5))
def test_whatever_the_column_it_has_a_style(texts: list[str]) -> None:
    assert number_style(texts) in NumberStyle


def test_no_text_takes_long() -> None:
    """Texts that make a careless pattern try for ever: each takes milliseconds at most."""
    parts = ("1 ", "1", "1,", "1'", "$", " ", "1/", "-", "(", "1 111 ", "a ", "1 for ", "%")
    started = time.perf_counter()
    for text in (part * (200 // len(part)) for part in parts):
        number_style([text])
        for end in ("", "!", " waste"):
            read_number(text[:190] + end, UNKNOWN)
            read_share(text[:190] + end, UNKNOWN, USABLE)
            read_price(text[:190] + end, UNKNOWN)
    assert time.perf_counter() - started < 2
