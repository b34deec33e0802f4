"""Currencies against the package iso4217, which is made from the standard's own published list."""

from __future__ import annotations

import iso4217
import pytest

from costbook.definitions.currencies import minor_unit, symbol


def test_every_listed_currency_has_its_published_minor_unit() -> None:
    published = {currency.code: currency.exponent for currency in iso4217.Currency}
    assert len(published) > 150
    assert {code: minor_unit(code) for code in published} == published


@pytest.mark.parametrize(
    ("code", "places"),
    # issue: "JPY 0, KWD 3"; the rest as in ISO 4217's list one (read)
    [("USD", 2), ("JPY", 0), ("KWD", 3), (" eur ", 2), ("XAU", None), ("dollars", None)],
)
def test_minor_units(code: str, places: int | None) -> None:
    assert minor_unit(code) == places


@pytest.mark.parametrize(
    ("code", "sign"),
    # common knowledge at the till; CHF and unknown codes have none of their own
    [("USD", "$"), ("CAD", "$"), ("eur", "€"), ("GBP", "£"), ("SEK", "kr"), ("CHF", "CHF")],
)
def test_signs(code: str, sign: str) -> None:
    assert symbol(code) == sign


def test_a_code_that_is_not_listed_is_shown_as_typed() -> None:
    assert symbol(" abc") == "ABC"
