"""What the sheets can't follow, they count: Prices asks for a new run by itself."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from costbook.writing.sheets import TITLES
from tests.helpers import make_book
from tests.judges import Document, ErrorValue, Judge, Setting, Value
from tests.judges.libreoffice import LibreOffice
from tests.live.books import odd_book
from tests.live.conftest import Books
from tests.live.following import Costed, cost_book
from tests.tables import Sheets

STILL_TRUE = "The rows of your sheets are those that were costed."
ONE = (
    "1 row of your sheets was added, taken away, renamed or can't be read here since this was "
    "costed: run costbook again."
)
TWO = (
    "2 rows of your sheets were added, taken away, renamed or can't be read here since this was "
    "costed: run costbook again."
)

Typing = list[Setting]


JUDGES = [pytest.param("libreoffice", marks=pytest.mark.libreoffice), "ironcalc"]


@pytest.fixture(scope="module", params=JUDGES)
def opened(request: pytest.FixtureRequest, books: Books) -> Iterator[Stall]:
    """The book of oddities, open in each judge."""
    stall = Stall(request.getfixturevalue(request.param), books("odd"))
    yield stall
    stall.document.close()


@pytest.fixture
def odd(opened: Stall) -> Iterator[Stall]:
    """The book of oddities, as it was costed at the start of every test."""
    yield opened
    opened.put_back()


class Stall:
    """A costed book that is typed into, and what it says then."""

    def __init__(self, judge: Judge, book: Costed) -> None:
        self.book = book
        self.document: Document = judge.open(book.costed)
        self.document.recalculate()
        self.as_costed: dict[str, dict[str, Value]] = {}
        self.typed: set[tuple[str, str]] = set()

    def says(self, *typing: Setting) -> Value:
        """What Prices says of a new run once something was typed."""
        for sheet, cell, _ in typing:
            if sheet not in self.as_costed:
                self.as_costed[sheet] = self.document.values(sheet)
            self.typed.add((sheet, cell))
        self.document.set_many(typing)
        self.document.follow()
        return self.document.values("Prices")[self.book.new_run.banner]

    def put_back(self) -> None:
        """Take back all that was typed."""
        before = [(sheet, cell, self.as_costed[sheet].get(cell)) for sheet, cell in self.typed]
        assert self.says(*((s, c, v) for s, c, v in before if not isinstance(v, ErrorValue))) == (
            STILL_TRUE
        )
        self.typed.clear()

    def figure(self, table: str, column: str, at: int = 0) -> Value:
        """A figure of Workings."""
        layout = self.book.new_run.layout
        cell = f"{layout.letter(table, column)}{layout.first[table] + at}"
        return self.document.values("Workings")[cell]

    def price_of(self, item: str) -> Value:
        """The price per base unit of an item, as the sheets show it now."""
        rows = self.book.new_run.first.costing.structure.rows["prices_now"]
        [at] = [row.index for row in rows if row.fixed["item"] == item]
        return self.figure("prices_now", "price_per_base_unit", at)


def test_nothing_is_asked_while_the_rows_are_those_that_were_costed(odd: Stall) -> None:
    assert odd.says() == STILL_TRUE


# Row numbers are those of the sheets in books.py; a row is known by the cell that names it.
ADDED = {
    "an item": ("It'ems", "A9", "Leeks"),
    "a recipe line": ("Recipes", "A14", "Sponge"),
    "a batch": ("Batches", "A6", "Broth"),
    "a stage": ("Stages", "A7", "Sponge"),
    "a package": ("Packaging", "A5", "all"),
    "a product": ("Products", "A4", "Half a wrap"),
    "a running cost": ("Overheads", "A5", "Rent"),
    "an outlet": ("Outlets", "A4", "The other market"),
}


@pytest.mark.parametrize("what", ADDED)
def test_a_row_added_is_counted(odd: Stall, what: str) -> None:
    sheet, cell, name = ADDED[what]
    assert odd.says((sheet, cell, name)) == ONE
    assert odd.says((sheet, cell, None)) == STILL_TRUE


CHANGED: dict[str, Setting] = {
    "an item renamed": ("It'ems", "A6", "Cling film"),
    "what a recipe's bridges belong to": ("It'ems", "A8", "Biga"),
    "another name for an item": ("It'ems", "H3", "eggs; ova"),
    "a line that uses another item": ("Recipes", "B3", "Bag"),
    "a line that uses another recipe": ("Recipes", "B6", "Fill~ing*"),
    "a batch renamed": ("Batches", "A2", "Biga"),
    "a stage renamed": ("Stages", "B3", "Knead well"),
    "a stage of a product": ("Stages", "A6", 'Wrap & "one"'),
    "another bag": ("Packaging", "B4", "Film, 30%"),
    "a product of another recipe": ("Products", "B2", "Sponge"),
    "a running cost renamed": ("Overheads", "A2", "Cover"),
    "an outlet renamed": ("Outlets", "A3", "Café d'hiver"),
    "another currency": ("Settings", "B2", "KWD"),
}


@pytest.mark.parametrize("what", CHANGED)
def test_a_name_changed_is_counted(odd: Stall, what: str) -> None:
    assert odd.says(CHANGED[what]) == ONE


TEXTS: dict[str, Setting] = {
    "an amount, where a text was": ("Recipes", "C4", "1 3/4"),
    "an amount, where a number was": ("Recipes", "C2", "300 g"),
    "the unit beside an amount typed as text": ("Recipes", "D4", "lb"),
    "what a batch makes": ("Batches", "B2", "400 g"),
    "minutes": ("Stages", "D3", "18 min"),
    "how much film": ("Packaging", "C4", "1 ea"),
    "a price now": ("Products", "E2", "¥900"),
    "a running cost": ("Overheads", "B2", "24,000"),
    "a fee": ("Outlets", "C2", "3000 yen"),
    "grams per piece": ("It'ems", "C3", "58 g"),
    "a setting": ("Settings", "B4", "1400/h"),
    "a pack's size, where a number was": ("Purch'ases", "F2", "25 kg sack"),
    "a pack's size, where a text was": ("Purch'ases", "F3", "2 x 5 kg"),
    "the count beside a size typed as text": ("Purch'ases", "E9", 2),
    "a price": ("Purch'ases", "H2", "52.00"),
    "a cost beside it": ("Purch'ases", "I2", "300 yen"),
    "how many in a case": ("Purch'ases", "E14", "2 boxes"),
    "how many packs": ("Purch'ases", "D2", "two"),
}


@pytest.mark.parametrize("what", TEXTS)
def test_a_quantity_that_only_a_run_can_read_is_counted(odd: Stall, what: str) -> None:
    assert odd.says(TEXTS[what]) == ONE


def test_a_number_in_the_place_of_a_text_is_followed(odd: Stall) -> None:
    assert odd.says(("Recipes", "C4", 1.75)) == STILL_TRUE


RECEIPT: Typing = [
    ("Purch'ases", "A15", 46351),  # 2026-11-25
    ("Purch'ases", "B15", "Bag"),
    ("Purch'ases", "F15", 100),
    ("Purch'ases", "G15", "ea"),
    ("Purch'ases", "H15", 1300),
]


def test_a_receipt_added_below_is_followed_and_not_counted(odd: Stall) -> None:
    assert odd.says(*RECEIPT) == STILL_TRUE
    assert odd.price_of("Bag") == 13  # 1300 for 100


def test_a_receipt_added_below_as_text_is_counted_and_never_passed_over(odd: Stall) -> None:
    """The price before it must not stand as if it were today's: it is unknown until a run."""
    assert odd.price_of("Bag") == 5.5  # 1100 for 2 × 100
    assert odd.says(*RECEIPT, ("Purch'ases", "F15", "100 ea")) == ONE
    assert odd.price_of("Bag") == ""
    assert odd.says(("Purch'ases", "F15", "5 kg bag")) == ONE  # read there, with no unit beside it
    assert odd.price_of("Bag") == ""


def test_two_are_two(odd: Stall) -> None:
    assert odd.says(("Recipes", "B3", "Bag"), ("Batches", "A6", "Broth")) == TWO


def test_more_than_two_hundred_receipts_are_counted(odd: Stall) -> None:
    """200 spare rows are wired in; what stands below them only a run takes in."""
    rows = range(15, 15 + 202)
    receipts: Typing = [
        (sheet, f"{cell[0]}{row}", content) for row in rows for sheet, cell, content in RECEIPT
    ]
    assert odd.says(*receipts[: 200 * len(RECEIPT)]) == STILL_TRUE
    assert odd.says(*receipts) == TWO


def test_a_receipt_far_below_is_counted(odd: Stall) -> None:
    """It stands below the rows that are wired in, though there are not 200 new ones."""
    below = [(sheet, f"{cell[0]}300", content) for sheet, cell, content in RECEIPT]
    assert odd.says(*below) == ONE


def test_a_receipt_taken_away_is_followed(odd: Stall) -> None:
    assert odd.price_of("Bag") == 5.5  # 1100 for 2 × 100
    assert odd.says(("Purch'ases", "B14", None)) == STILL_TRUE
    assert odd.price_of("Bag") == ""


FRACTIONS: dict[str, Setting] = {
    "an amount": ("Recipes", "C2", 46024),  # 2026-01-02
    "minutes": ("Stages", "E4", 46026),
    "what a batch makes": ("Batches", "B5", 46419),  # 2027-02-01
    "a fee": ("Outlets", "C2", 46024),
}


@pytest.mark.parametrize("what", FRACTIONS)
def test_a_fraction_that_became_a_date_is_counted_and_never_a_number(odd: Stall, what: str) -> None:
    """1/2 typed by hand becomes the second of January, which is a number of 46,000 and more."""
    total = odd.figure("prices", "total")
    assert isinstance(total, float)
    assert odd.says(FRACTIONS[what]) == ONE
    assert odd.figure("prices", "total") == ""


def test_numbers_as_large_as_dates_count_where_there_are_such(odd: Stall) -> None:
    """Insurance costs 24,000 a year there; a fee of 46,000 is no date in a column of such."""
    assert odd.says(("Overheads", "B2", 46024)) == ONE
    assert odd.says(("Overheads", "B2", 24500)) == STILL_TRUE


# ---------------------------------------------------------------- every sheet


def test_every_sheet_that_can_be_printed_says_it(odd: Stall) -> None:
    """Each card too: they are what is pinned up, one for the packs of a recipe."""
    assert odd.says(("Recipes", "A14", "Sponge")) == ONE
    cards = [cell for cell, shown in odd.document.values("Cost cards").items() if shown == ONE]
    assert len(cards) == 1
    for title in TITLES:
        said = list(odd.document.values(title).values()).count(ONE)
        assert said == (0 if title == "Memory" else 1), title


@pytest.mark.libreoffice
def test_a_sheet_that_is_gone_is_said(libreoffice: LibreOffice, books: Books) -> None:
    document = libreoffice.open(books("odd").costed)
    document.remove("Stages")
    document.recalculate()
    assert document.values("Prices")[books("odd").new_run.banner] == (
        "A sheet of yours is no longer there, so nothing here can be trusted: put it back, or run "
        "costbook again."
    )
    document.close()


# ---------------------------------------------------------------- the day


def without_a_day(book: Sheets) -> Sheets:
    """The book without a costing date on Settings, but with the row for one."""
    rows: list[list[object]] = [
        [name, None if name == "Costing date" else value] for name, value, *_ in book["Settings"]
    ]
    return {**book, "Settings": rows}


DAY_ZERO = date(1899, 12, 30)


def test_without_a_costing_date_the_day_is_today_every_day(judge: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", without_a_day(odd_book()))
    stall = Stall(judge, cost_book(book, tmp_path / "costed.xlsx"))
    before = date.today()
    stall.document.recalculate()
    days = [(each - DAY_ZERO).days for each in (before, date.today())]
    assert stall.figure("settings", "today") in days
    assert stall.figure("settings", "costed_on") in days
    stall.says(("Settings", "B3", 46000))
    assert stall.figure("settings", "costed_on") == 46000
    stall.document.close()


def test_a_day_given_to_the_command_stays_until_the_next_run(judge: Judge, tmp_path: Path) -> None:
    book, on = make_book(tmp_path / "stall.xlsx", odd_book()), date(2026, 11, 12)
    stall = Stall(judge, cost_book(book, tmp_path / "costed.xlsx", on))
    for typing in ((), [("Settings", "B3", 46000)], [("Settings", "B3", None)]):
        assert stall.says(*typing) == STILL_TRUE
        assert stall.figure("settings", "costed_on") == (on - DAY_ZERO) / timedelta(days=1)
    stall.document.close()
