"""After any edit, in any spreadsheet program, every figure is what a new run would give.

Each sample is edited 200 times by a seed, from copies whose stored values are wrong; the book of
oddities 100 times, each drawn book 50 times; in ironcalc each five times, or all of it 200 times
where there is no LibreOffice. COSTBOOK_LIVE_EDITS sets how often, and the rest in proportion.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from costbook.writing.folded import laid_out
from tests.helpers import make_book
from tests.judges import CannotJudge, Judge
from tests.judges.edits import random_changes
from tests.judges.ironcalc_judge import IronCalc
from tests.judges.libreoffice import LibreOffice, find_soffice
from tests.judges.stored import formulas, with_one_wrong_formula
from tests.live.books import BOOKS, crowded_book
from tests.live.conftest import EDITS, SEED, Books, edits_of
from tests.live.following import Costed, Tally, cost_book, differences

SECOND_OPINION = EDITS if find_soffice() is None else max(EDITS // 40, 5)


def follows(judge: Judge, book: Costed, edits: int) -> Tally:
    tally = differences(judge, book, random_changes(book.book, SEED, edits))
    assert not tally.wrong, "\n".join(tally.wrong[:20])
    return tally


@pytest.mark.long
@pytest.mark.libreoffice
@pytest.mark.parametrize("name", BOOKS)
def test_libreoffice_shows_what_a_new_run_gives(
    name: str, books: Books, libreoffice: LibreOffice
) -> None:
    edits = edits_of(name)
    tally = follows(libreoffice, books(name), edits)
    assert tally.exact + tally.left_unknown == edits + 1
    assert tally.exact >= 0.9 * edits  # few books have many quantities typed as text
    assert tally.cells >= 3000 * tally.exact
    assert tally.pages >= 7 * (edits // 20)  # of eight sheets, at the first and each twentieth


@pytest.mark.long
@pytest.mark.parametrize("name", BOOKS)
def test_ironcalc_shows_the_same(name: str, books: Books, ironcalc: IronCalc) -> None:
    tally = follows(ironcalc, books(name), SECOND_OPINION)
    assert tally.exact + tally.left_unknown == SECOND_OPINION + 1


def test_what_else_stands_on_a_tab_is_nobodys_receipt(judge: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", crowded_book())
    crowded = cost_book(book, tmp_path / "costed.xlsx")
    tally = follows(judge, crowded, 0)
    assert tally.exact == 1
    document = judge.open(crowded.costed)
    document.recalculate()
    asked = document.values("Workings")[crowded.new_run.at("since", "to_cost_again")]
    document.close()
    assert asked == 0


# The control: a check that trusts what is stored, or looks away, would not see these.
WRONG = {
    "the price on the step, not taken up": ("prices", "price_on_step", "{price_at_target}{r}"),
    "a markup for a margin": ("prices", "step_margin", "{step_profit}{r}/{total}{r}"),
    "the cost without the stall": ("prices", "total", "{total}{r}-{selling}{r}"),
}


@pytest.mark.parametrize("fault", WRONG)
def test_one_wrong_formula_is_caught(
    judge: Judge, fault: str, books: Books, tmp_path: Path
) -> None:
    book = books("odd")
    layout = book.new_run.layout
    table, column, formula = WRONG[fault]
    letters = {name: layout.letter(table, name) for name in laid_out(table)}
    row = layout.first[table]
    control = tmp_path / "control.xlsx"
    cell = f"{letters[column]}{row}"
    with_one_wrong_formula(book.costed, control, "Workings", cell, formula.format(**letters, r=row))
    tally = differences(judge, Costed(book.book, control, book.new_run), [])
    assert any(each.startswith(f"[] Workings!{cell}: ") for each in tally.wrong)


def test_a_formula_that_shows_an_error_is_caught(
    judge: Judge, books: Books, tmp_path: Path
) -> None:
    book, control = books("starter"), tmp_path / "control.xlsx"
    cell = next(iter(formulas(book.costed)["Prices"]))
    with_one_wrong_formula(book.costed, control, "Prices", cell, "1/0")
    tally = differences(judge, Costed(book.book, control, book.new_run), [])
    assert any("#DIV/0!" in each for each in tally.wrong)
    with pytest.raises(CannotJudge):
        with_one_wrong_formula(control, tmp_path / "again.xlsx", "Prices", cell, "1/0")
