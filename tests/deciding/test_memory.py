"""What a workbook remembers of its costings, and what goes there and what doesn't."""

from __future__ import annotations

import shutil
from dataclasses import fields
from datetime import date, timedelta
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costbook.book import as_key
from costbook.ours.earlier_page import with_costing
from costbook.ours.imprint import Imprint, Left, folded, unfolded
from costbook.ours.kept import LEFT, NOTHING_REMEMBERED, Past, Remembered, remembered
from costbook.package.workbook_file import WorkbookFile
from costbook.round_trip import read_and_cost
from costbook.writing.sheets import TITLES, describe, drawn
from tests.deciding.asking import asked
from tests.deciding.test_moved import ROLLS
from tests.helpers import run, save
from tests.package.making import graft
from tests.tables import close, sheets

Run = tuple[int, str]
"""A day of November, and what was found: the same letter is the same cost."""


def past(at: Run) -> Past:
    return Past(date(2026, 11, at[0]), "Roll", "", Decimal(ord(at[1])), Decimal(3))


def after(*runs: Run) -> list[Run]:
    """What is remembered after runs, one after another."""
    pasts: tuple[Past, ...] = ()
    for each in runs:
        pasts = with_costing(pasts, [past(each)])
    return [(each.day.day, chr(int(each.total or 0))) for each in pasts]


@pytest.mark.parametrize(
    ("runs", "kept"),
    [
        pytest.param([(1, "A"), (2, "A"), (3, "A")], [(1, "A")], id="nothing changed"),
        pytest.param([(1, "A"), (2, "B"), (3, "A")], [(1, "A"), (2, "B"), (3, "A")], id="A-B-A"),
        pytest.param([(1, "A"), (1, "B")], [(1, "B")], id="one day, the later run stands"),
        pytest.param([(1, "A"), (2, "B"), (2, "A")], [(1, "A")], id="the same day, taken back"),
        pytest.param([(3, "A"), (1, "B")], [(1, "B"), (3, "A")], id="an earlier day, later"),
        pytest.param([(1, "A"), (3, "B"), (2, "A")], [(1, "A"), (3, "B")], id="between, the same"),
    ],
)
def test_a_costing_is_kept_where_it_says_something_new(runs: list[Run], kept: list[Run]) -> None:
    assert after(*runs) == kept


@given(st.lists(st.tuples(st.integers(1, 28), st.sampled_from("ABC")), max_size=12))
def test_no_day_is_kept_twice_and_the_days_are_in_order(runs: list[Run]) -> None:
    kept = after(*runs)
    days = [day for day, _ in kept]
    assert days == sorted(set(days))
    assert after(*runs, *runs[-1:]) == kept  # the last run made again


def days_kept(first: date, *steps: int) -> list[date]:
    """The days remembered after runs so many days apart, each with another cost."""
    pasts: tuple[Past, ...] = ()
    day = first
    for number, step in enumerate((0, *steps)):
        day += timedelta(days=step)
        pasts = with_costing(pasts, [Past(day, "Roll", "", Decimal(number), None)])
    return [each.day for each in pasts]


def test_a_year_of_weeks_is_kept_then_one_a_month() -> None:
    """Costed each Monday for three years, from 6 January 2025 to 3 January 2028.

    Seen from the last: 53 Mondays back to 4 January 2027 lie within 366 days (364 days is 52
    weeks); before that the last Monday of each of the 24 months of 2025 and 2026.
    """
    kept = days_kept(date(2025, 1, 6), *[7] * 156)
    assert kept[-1] == date(2028, 1, 3)
    assert kept[-53:] == [date(2027, 1, 4) + timedelta(days=7 * n) for n in range(53)]
    months = kept[:-53]
    assert [(day.year, day.month) for day in months] == [
        (year, month) for year in (2025, 2026) for month in range(1, 13)
    ]
    assert all((day + timedelta(days=7)).month != day.month for day in months)


def test_each_costing_of_four_weeks_is_kept_and_then_the_last_of_its_week() -> None:
    """Costed on each of 42 days from Monday, 5 October 2026, to Sunday, 15 November.

    The 28 days from 19 October on are kept; of the two weeks before, their Sundays.
    """
    kept = days_kept(date(2026, 10, 5), *[1] * 41)
    assert kept[:3] == [date(2026, 10, 11), date(2026, 10, 18), date(2026, 10, 19)]
    assert (len(kept), kept[-1]) == (30, date(2026, 11, 15))


def test_a_month_that_had_one_costing_keeps_it_for_ever() -> None:
    kept = days_kept(date(2021, 3, 9), 40, 400, 400)
    assert kept == [date(2021, 3, 9), date(2021, 4, 18), date(2022, 5, 23), date(2023, 6, 27)]


def test_a_difference_too_small_for_a_cell_is_none() -> None:
    one = [Past(date(2026, 11, 1), "Roll", "", Decimal(1) / 3, None)]
    other = [Past(date(2026, 11, 2), "Roll", "", Decimal(repr(1 / 3)), None)]
    assert with_costing(one, other) == tuple(one)


def test_the_last_costing_before_a_day() -> None:
    pasts = tuple(past((day, "A")) for day in (3, 9))
    memory = Remembered(pasts)
    assert memory.last_before(date(2026, 11, 9)) == date(2026, 11, 3)
    assert memory.last_before(date(2026, 11, 10)) == date(2026, 11, 9)
    assert memory.last_before(date(2026, 11, 3)) is None
    assert memory.on(date(2026, 11, 9)) == {("Roll", ""): pasts[1]}
    assert NOTHING_REMEMBERED.last_before(date(2026, 11, 9)) is None


def pasts_of(book: Path) -> list[tuple[str, str, str, float]]:
    return [
        (past.day.isoformat(), past.product, past.outlet, float(past.total or 0))
        for past in remembered(WorkbookFile(book.read_bytes())).pasts
    ]


def test_a_workbook_keeps_its_costings_through_runs_and_wherever_it_is_copied(
    tmp_path: Path,
) -> None:
    """By hand, over 8 sold: 4.90 in October; with dearer flour 5.40; with all three 6.70."""
    book = save(sheets(ROLLS), tmp_path)
    for day in ("2026-10-01", "2026-11-10", "2026-11-20", "2026-11-21"):
        assert run("cost", book, "--on", day)[0] == 0
    kept = pasts_of(book)
    assert [each[:3] for each in kept] == [
        ("2026-10-01", "Roll", ""),
        ("2026-11-10", "Roll", ""),
        ("2026-11-20", "Roll", ""),
    ]
    for (*_, found), batch in zip(kept, ("4.90", "5.40", "6.70"), strict=True):
        close(found, float(batch) / 8)

    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    copied = Path(shutil.copy(book, elsewhere / "another name.xlsx"))
    since = {
        on: asked("moved", copied, "--on", on)["since"]
        for on in ("2026-11-20", "2026-11-10", "2026-10-01", "2026-12-01")
    }
    assert since == {
        "2026-11-20": "2026-11-10",  # the last costing before
        "2026-11-10": "2026-10-01",
        "2026-10-01": "2026-09-03",  # none before: 28 days back
        "2026-12-01": "2026-11-20",
    }
    (roll,) = asked("moved", copied, "--on", "2026-11-20")["products"]
    close(roll["before"], "0.675")
    close(roll["by_item"]["Eggs"], "0.225")
    assert run("cost", copied, "--on", "2026-12-01")[0] == 0
    assert pasts_of(copied) == kept


def test_whatever_a_page_keeps_comes_back_as_it_was_written(tmp_path: Path) -> None:
    book = save(sheets(ROLLS), tmp_path)
    costed = read_and_cost(book, date(2026, 11, 20))
    kept = Remembered(
        pasts=(Past(date(2026, 10, 1), "Roll", "", Decimal("0.6125"), None),),
        trial_prices={as_key("Flour"): Decimal("4.5"), as_key("Eggs"): "ask Ann"},
        trial_settings={"target_margin": Decimal(35)},
        picked=("Roll", ""),
    )
    titles = {title: title for title in TITLES}
    ours = drawn(costed.costing, describe(costed.costing, (), titles, kept))
    back = remembered(WorkbookFile(graft(book.read_bytes(), ours, titles)))
    assert (back.trial_prices, back.trial_settings) == (kept.trial_prices, kept.trial_settings)
    assert back.picked == kept.picked
    assert (back.pasts[:1], {past.day for past in back.pasts[1:]}) == (
        kept.pasts,
        {date(2026, 11, 20)},
    )
    assert {*unfolded(back.left).sheets, "Memory"} == set(TITLES)
    for each in fields(Remembered):  # none is forgotten here
        assert getattr(back, each.name) != getattr(NOTHING_REMEMBERED, each.name), each.name


def test_imprints_come_back_however_long_they_are() -> None:
    """Cut into cells of 30,000 letters, some would leave a last line as short as a word."""
    short_ends = 0
    for count in range(4_000, 4_800, 6):
        digests = frozenset(sha256(b"%d" % each).hexdigest()[:8] for each in range(count))
        left = Left({"Prices": Imprint(values=digests)})
        lines = folded(left)
        short_ends += sum(map(len, lines)) % 30_000 <= 60
        assert unfolded(LEFT.read([(line,) for line in lines])) == left
    assert short_ends


def test_a_run_that_changes_nothing_leaves_the_workbook_as_it_was(tmp_path: Path) -> None:
    book = save(sheets(ROLLS), tmp_path)
    assert run("cost", book, "--on", "2026-11-20")[0] == 0
    first = book.read_bytes()
    assert run("cost", book, "--on", "2026-11-20")[0] == 0
    assert book.read_bytes() == first
