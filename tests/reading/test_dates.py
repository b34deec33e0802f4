"""Dates typed as text: what is read, what the rest of the column tells, and what is asked."""

from __future__ import annotations

import time
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costbook.reading.dates import DateOrder, date_order, read_date
from costbook.reading.texts import Unclear

DMY, MDY, YMD, UNKNOWN = DateOrder.DMY, DateOrder.MDY, DateOrder.YMD, DateOrder.UNKNOWN


@pytest.mark.parametrize(
    ("texts", "order"),
    [
        (["3/4/26", "14/3/26"], DMY),
        (["3/4/26", "3/14/26"], MDY),
        (["3.4.2026", "14.3.2026"], DMY),
        (["99/3/14", "26/3/4"], YMD),
        (["2026-03-04", "3/14/26"], MDY),  # the first speaks for itself alone
        (["31/2/2026", "3/14/26"], MDY),  # a slip that is no date in any order says nothing
        (["3/4/26"], UNKNOWN),
        (["14/3/26", "3/14/26"], UNKNOWN),  # two people typed
        (["4 March 2026", "", "soon"], UNKNOWN),
        ([], UNKNOWN),
    ],
)
def test_the_order_of_a_column_is_found(texts: list[str], order: DateOrder) -> None:
    assert date_order(texts) is order


FOURTH_OF_MARCH = date(2026, 3, 4)


@pytest.mark.parametrize(
    "typed",
    [
        "2026-03-04",
        "2026/3/4",
        "20260304",
        "2026-03-04T10:00:00",
        "2026-03-04 10:00",
        "4 Mar 2026",
        "March 4, 2026",
        "4th of March 2026",
        "4-Mar-26",
        "Wed 4 Mar 2026",
        "2026 March 4",
        "MARCH 4 26",
        " 4\u00a0mar. 2026",
        "4. März 2026",
        "4 mars 2026",
        "4 de marzo de 2026",
        "4 Mrz 26",
    ],
)
@pytest.mark.parametrize("order", DateOrder)
def test_a_date_that_says_its_month_or_is_iso_needs_no_order(typed: str, order: DateOrder) -> None:
    assert read_date(typed, order) == FOURTH_OF_MARCH


@pytest.mark.parametrize(
    ("typed", "order"),
    [
        ("4/3/26", DMY),
        ("4.3.2026", DMY),
        ("3/4/26", MDY),
        ("3-4-2026 9:15 PM", MDY),
        ("26/3/4", YMD),
    ],
)
def test_the_order_tells_day_from_month(typed: str, order: DateOrder) -> None:
    assert read_date(typed, order) == FOURTH_OF_MARCH


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("14/3/26", date(2026, 3, 14)),
        ("3/14/26", date(2026, 3, 14)),
        ("3/3/26", date(2026, 3, 3)),
        ("1er août 2026", date(2026, 8, 1)),
        ("29 Feb 2024", date(2024, 2, 29)),
    ],
)
def test_some_dates_can_be_read_one_way_only(typed: str, day: date) -> None:
    assert read_date(typed, UNKNOWN) == day


LIKE = "Write it as 2026-03-14, or as 14 March 2026."


@pytest.mark.parametrize(
    ("typed", "order", "what", "remedy"),
    [
        ("", UNKNOWN, "There is nothing here.", LIKE),
        (
            "3/4/26",
            UNKNOWN,
            '"3/4/26" could be 4 March 2026 or 3 April 2026.',
            "Write the month as a word.",
        ),
        ("14/3/26", MDY, '"14/3/26" is no date as month/day/year.', LIKE),
        ("2026-13-01", DMY, '"2026-13-01" is no date as year/month/day.', LIKE),
        ("31/2/26", UNKNOWN, '"31/2/26" is no date.', LIKE),
        ("1/1/1850", UNKNOWN, '"1/1/1850" is no date.', LIKE),
        ("30 Feb 2026", UNKNOWN, '"30 Feb 2026" is no date.', LIKE),
        ("4 jui 2026", UNKNOWN, '"4 jui 2026" is no date.', LIKE),  # June and July in French
        ("Mar 2026", UNKNOWN, '"Mar 2026" is no date.', LIKE),
        ("4 Mar", UNKNOWN, '"4 Mar" is no date.', LIKE),
        ("4 Mar 0026", UNKNOWN, '"4 Mar 0026" is no date.', LIKE),
        ("yesterday", UNKNOWN, '"yesterday" is no date.', LIKE),
        ("45000", UNKNOWN, '"45000" is no date.', LIKE),
        ("1" * 201, UNKNOWN, f'"{"1" * 39}…" is no date.', LIKE),
    ],
)
def test_a_date_is_asked(typed: str, order: DateOrder, what: str, remedy: str) -> None:
    assert read_date(typed, order) == Unclear(what, remedy)


FORMS = {DMY: "{d}/{m}/{y}", MDY: "{m}/{d}/{y}", YMD: "{y}/{m}/{d}"}
DAYS = st.dates(date(1990, 1, 1), date(2099, 12, 31))


@given(DAYS, st.sampled_from(sorted(FORMS, key=str)))
def test_a_day_is_read_in_its_order(day: date, order: DateOrder) -> None:
    typed = FORMS[order].format(d=day.day, m=f"{day.month:02}", y=day.year)
    assert read_date(typed, order) == day
    assert read_date(day.isoformat(), order) == day


@given(DAYS, st.sampled_from([DMY, MDY]))
def test_a_column_with_a_day_past_the_twelfth_tells_its_order(day: date, order: DateOrder) -> None:
    late = day.replace(day=13 + day.day % 16)
    typed = [FORMS[order].format(d=each.day, m=each.month, y=each.year) for each in (day, late)]
    assert date_order(typed) is order
    assert [read_date(text, order) for text in typed] == [day, late]


PARTS = [
    "1",
    "3",
    "14",
    "26",
    "2026",
    "/",
    "-",
    ".",
    " ",
    "Mar",
    "March",
    "th",
    "jui",
    ",",
    "T10:00",
]
ANY = st.text() | st.lists(st.sampled_from(PARTS), max_size=40).map("".join)


@given(ANY, st.sampled_from(DateOrder))
def test_whatever_the_text_it_is_answered(text: str, order: DateOrder) -> None:
    answer = read_date(text, order)
    assert isinstance(answer, date | Unclear)
    if isinstance(answer, Unclear):
        assert answer.what.endswith(".")
        assert (answer.what + answer.remedy).isprintable()
    assert date_order([text]) in DateOrder


def test_no_text_takes_long() -> None:
    """Texts that make a careless pattern try for ever: each takes milliseconds at most."""
    started = time.perf_counter()
    for part in ("1", "1/", "1 ", "Mar ", " ", "1T", "1 1:11", "/"):
        read_date(part * (200 // len(part)), UNKNOWN)
        date_order([part * (200 // len(part))])
    assert time.perf_counter() - started < 2
