"""The command line: what it says, on which stream, and with which exit status."""

from __future__ import annotations

import io
import json
import os
import pty
import subprocess
import sys
from contextlib import redirect_stderr
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from costbook.commands import check
from costbook.costing.result import CAUTION
from costbook.definitions.rounding import in_money, in_percent
from costbook.printing import MOST_SHOWN, Output, as_json, columns
from costbook.problems import Place, Problem, Severity
from tests.helpers import run, save
from tests.money_rules.wraps import WRAPS
from tests.tables import sheets

COMMANDS = (
    "new",
    "check",
    "cost",
    "explain",
    "compare",
    "moved",
    "try",
    "plan",
    "labels",
    "freezer",
    "addon",
    "describe",
    "watch",
    "launcher",
    "buy",
    "day",
    "year",
)
ON = ("--on", "2026-11-25")


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    """A workbook with nothing wrong: a target, pay and a price of every item."""
    settings = "Settings\nSetting | Value\nCurrency | USD\nPay per hour | 15\nTarget margin % | 50"
    return save(sheets(WRAPS, settings), tmp_path)


@pytest.fixture
def flawed(tmp_path: Path) -> Path:
    """The same with a recipe line that leads nowhere."""
    recipes = "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Flower | 600 | g"
    settings = "Settings\nSetting | Value\nCurrency | USD\nTarget margin % | 50"
    return save(sheets(WRAPS, settings, recipes), tmp_path, "flawed.xlsx")


# ------------------------------------------------------------------ help and wrong use


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_shows_an_example_that_it_would_take(command: str) -> None:
    code, out, err = run(command, "--help")
    assert (code, err) == (0, "")
    example = " ".join(out.split("Example: ")[1].split())
    assert example.startswith(
        f"costbook {command}" if command == "addon" else f"costbook {command} stall.xlsx"
    )


WHAT_EACH_DOES = {
    "new": "Make a blank workbook to fill in, or add a sheet to yours.",
    "check": "Say what in the workbook is wrong or doubtful.",
    "cost": "Cost every product and write the sheets into the workbook.",
    "explain": "Print how a price came about, down to the receipts.",
    "compare": "Put the packs of each item side by side: which is really cheapest.",
    "moved": "Say which products moved since a day, by how much, because of which item.",
    "try": "Show every product before and after a change; nothing is written.",
    "plan": "Say what to make for the sheet Plan: batches, minutes, the kitchen, the cost.",
    "labels": "Draft the label of every product, or of one; verify each against local law.",
    "freezer": "Say what is in the freezer, the oldest first, and what was measured.",
    "addon": "Put a menu into LibreOffice, so that no terminal is needed.",
    "describe": "Print the sheets of cost as data, for a program that draws them.",
    "watch": "Price workbooks as they are saved, until Ctrl-C.",
    "launcher": "Make what is double-clicked to price a workbook, without a terminal.",
    "buy": "Say what to buy for your plan, in whole packs, shop by shop.",
    "day": "Say what a market day brought, an hour of your work above all.",
    "year": "Add up the year for your tax preparer, in the order in which it is asked.",
}


def test_help_says_what_it_is_for_and_what_every_command_does() -> None:
    code, out, _ = run("--help")
    said = " ".join(out.split())
    assert (code, tuple(WHAT_EACH_DOES)) == (0, COMMANDS)
    assert "What each pack you sold cost, and what to charge: from your own workbook." in said
    assert " ".join(f"{name} {does}" for name, does in WHAT_EACH_DOES.items()) in said


EVERY = (
    "new, check, cost, explain, compare, moved, try, plan, labels, freezer, addon, describe, "
    "watch, launcher, buy, day, year"
)
WRONG_USE = {
    (): f"costbook: say what to do: {EVERY}. Example: costbook cost stall.xlsx\n",
    ("csot", "stall.xlsx"): 'costbook: there is no command "csot"; did you mean "cost"? '
    "Example: costbook cost stall.xlsx\n",
    ("bake", "stall.xlsx"): f'costbook: there is no command "bake"; there are: {EVERY}. '
    "Example: costbook cost stall.xlsx\n",
    ("cost",): "costbook cost: this is missing: FILE. Example: costbook cost stall.xlsx\n",
    ("explain", "stall.xlsx"): "costbook explain: this is missing: PRODUCT. "
    'Example: costbook explain stall.xlsx "Leek roll"\n',
    ("cost", "stall.xlsx", "--fast"): "costbook: this is not understood: --fast. "
    "Example: costbook cost stall.xlsx\n",
    ("cost", "stall.xlsx", "--on", "25.11."): 'costbook cost: --on: "25.11." is no date. '
    "Write it as 2026-03-14, or as 14 March 2026. Example: costbook cost stall.xlsx\n",
    ("moved", "stall.xlsx", "--since", "3/4/2026"): 'costbook moved: --since: "3/4/2026" could be '
    "4 March 2026 or 3 April 2026. Write the month as a word. "
    "Example: costbook moved stall.xlsx --since 2026-10-01\n",
    ("cost", "stall.xlsx", "--on"): "costbook cost: --on: expected one argument. "
    "Example: costbook cost stall.xlsx\n",
    ("compare", "stall.xlsx", "--weeks", "nan"): "costbook compare: --weeks: nan is no number of "
    'weeks; write it as 2. Example: costbook compare stall.xlsx "Eggs, large"\n',
}


@pytest.mark.parametrize("day", ["1 Oct 2026", "13.10.2026", "10/13/26", "October 1st, 2026"])
def test_a_day_is_taken_as_people_write_it(day: str, tmp_path: Path) -> None:
    code, _, err = run("moved", tmp_path / "stall.xlsx", "--since", day)
    assert (code, "There is no file" in err) == (2, True)  # the day was understood


@pytest.mark.parametrize("words", WRONG_USE, ids=" ".join)
def test_wrong_use_is_told_in_a_sentence(words: tuple[str, ...]) -> None:
    assert run(*words) == (2, "", WRONG_USE[words])


# ------------------------------------------------------------------ files that won't do


def test_a_missing_file_is_named_with_the_way_to_a_blank_one(tmp_path: Path) -> None:
    path = tmp_path / "stal.xlsx"
    assert run("check", path) == (
        2,
        "",
        (
            f"costbook: There is no file {path}. Check its name, or make a blank workbook: "
            "costbook new stal.xlsx\n"
        ),
    )


def test_a_folder_is_no_workbook(tmp_path: Path) -> None:
    code, out, err = run("check", tmp_path)
    assert (code, out) == (2, "")
    assert err == f"costbook: {tmp_path} can't be read (Is a directory). Check the file.\n"


def test_a_refusal_is_an_object_too(tmp_path: Path) -> None:
    path = tmp_path / "gone.xlsx"
    code, out, err = run("cost", path, "--json")
    assert (code, json.loads(out)) == (
        2,
        {
            "book": str(path),
            "refused": f"There is no file {path}.",
            "remedy": "Check its name, or make a blank workbook: costbook new gone.xlsx",
        },
    )
    assert err.startswith("costbook: There is no file")


def test_what_is_no_workbook_is_refused_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "stall.xlsx"
    path.write_text("Recipe,Uses,Amount\n")
    code, out, err = run("cost", path)
    assert (code, out, path.read_text()) == (2, "", "Recipe,Uses,Amount\n")
    assert err.startswith("costbook: ")


# ------------------------------------------------------------------ exit status and streams


def test_a_sound_workbook_ends_with_0(stall: Path) -> None:
    for words in (("check",), ("cost", "--output", stall.with_name("out.xlsx")), ("moved",)):
        code, _, err = run(words[0], stall, *words[1:], *ON)
        assert (words[0], code, err) == (words[0], 0, "")


def test_doubts_alone_end_with_0(tmp_path: Path) -> None:
    purchases = """
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-01-05 | Flour | 1000      | g    | 2.00
    """
    settings = "Settings\nSetting | Value\nCurrency | USD\nTarget margin % | 50"
    path = save(sheets(WRAPS, settings, purchases), tmp_path)
    code, out, err = run("check", path, *ON)
    assert (code, out.splitlines()[0]) == (0, "0 wrong, 1 to check.")
    assert err == (
        "stall.xlsx: check: Purchases!A2: the price of Flour is 324 days old. "
        "Type a newer receipt when you have one.\n"
    )


def test_something_wrong_ends_with_1_and_names_file_sheet_and_cell(flawed: Path) -> None:
    code, out, err = run("check", flawed, *ON)
    assert (code, out.splitlines()[0]) == (1, "1 wrong, 0 to check.")
    assert err == ('flawed.xlsx: Recipes!B2: no item is called "Flower". Did you mean "Flour"?\n')


@pytest.mark.parametrize(
    "command", ["check", "cost", "explain", "compare", "moved", "try", "labels"]
)
def test_json_is_one_object_and_nothing_else_on_standard_output(flawed: Path, command: str) -> None:
    words = {"cost": ("--output", flawed.with_name("out.xlsx")), "explain": ("Single",)}
    words["try"] = ("--set", "Target margin %=40")
    code, out, err = run(command, flawed, *words.get(command, ()), "--json", *ON)
    found = json.loads(out)
    assert (code, type(found)) == (1, dict)
    assert found["cautions"] == [CAUTION]
    assert "Recipes!B2" in err


@pytest.mark.parametrize(
    "command", ["check", "cost", "explain", "compare", "moved", "try", "labels"]
)
def test_every_answer_ends_with_the_cautions(stall: Path, command: str) -> None:
    words = {"cost": ("--output", stall.with_name("out.xlsx")), "explain": ("Single",)}
    words["try"] = ("--set", "Target margin %=40")
    _, out, _ = run(command, stall, *words.get(command, ()), *ON)
    assert out.rstrip().endswith(CAUTION)


def test_json_numbers_are_whole_and_full(stall: Path) -> None:
    """600 g at 2.00 a kilogram over twelve: 0.1, and a margin of a half makes it 0.2."""
    _, out, _ = run("cost", stall, "--output", stall.with_name("out.xlsx"), "--json", *ON)
    found = json.loads(out, parse_float=Decimal)
    (product,) = found["products"]
    assert product["cost"]["total"] == Decimal("0.1")
    assert product["price"]["on_step"] == Decimal("0.2")
    assert product["cost"]["selling"] == 0
    assert (product["complete"], product["missing"]) == (False, [])
    assert product["uncounted"] == ["labour", "packaging", "kitchen", "overhead", "selling"]


# ------------------------------------------------------------------ explain


def test_a_product_nearly_named_is_asked_about(stall: Path) -> None:
    assert run("explain", stall, "singel", *ON) == (
        2, "", 'costbook: No product is called "singel". Did you mean "Single"?\n',
    )  # fmt: skip


def test_a_product_far_off_is_answered_with_all_there_are(stall: Path) -> None:
    assert run("explain", stall, "Quiche", *ON) == (
        2, "", 'costbook: No product is called "Quiche". There are: Single.\n',
    )  # fmt: skip


def test_an_outlet_that_is_not_there_is_answered_with_all_there_are(tmp_path: Path) -> None:
    outlets = "Outlets\nOutlet | Fee per day | Units sold per day\nMarket | 30 | 60\nFair | 5 | 60"
    path = save(sheets(WRAPS, outlets), tmp_path)
    code, out, err = run("explain", path, "Single", "--outlet", "Shop", *ON)
    assert (code, out) == (2, "")
    assert err == 'costbook: No outlet is called "Shop". There are: Market, Fair.\n'


def test_a_figure_that_is_not_there_is_answered_with_all_there_are(stall: Path) -> None:
    code, out, err = run("explain", stall, "Single", "colour", *ON)
    assert (code, out) == (2, "")
    assert err.startswith('costbook: No figure is called "colour". Name one of: ')


def test_product_and_figure_are_found_whatever_their_case_and_spaces(stall: Path) -> None:
    code, out, _ = run("explain", stall, " SINGLE ", "ingredients_known", "--all", *ON)
    assert (code, out.splitlines()[0].split(":")[0]) == (0, "Ingredients known [Single]")


# ------------------------------------------------------------------ colour, pipes, terminals


def problem(weight: Severity = Severity.WRONG) -> Problem:
    return Problem(weight, Place("Recipes", "D7"), "Amount is blank.", "Fill it in.")


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_a_terminal_gets_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    with redirect_stderr(Terminal()) as terminal:
        Output(json=False).problems("stall.xlsx", [problem()])
    assert terminal.getvalue() == (
        "\x1b[31mstall.xlsx\x1b[0m: Recipes!D7: Amount is blank. Fill it in.\n"
    )


def test_no_color_turns_colour_off(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    with redirect_stderr(Terminal()) as terminal:
        Output(json=False).problems("stall.xlsx", [problem()])
    assert terminal.getvalue() == "stall.xlsx: Recipes!D7: Amount is blank. Fill it in.\n"


def test_a_pipe_turns_colour_off(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    Output(json=False).problems("stall.xlsx", [problem(Severity.DOUBTFUL)])
    assert capsys.readouterr().err == (
        "stall.xlsx: check: Recipes!D7: Amount is blank. Fill it in.\n"
    )


def test_what_is_wrong_comes_first_and_many_are_counted(
    capsys: pytest.CaptureFixture[str],
) -> None:
    many = [problem(Severity.DOUBTFUL)] * MOST_SHOWN + [problem()]
    Output(json=False).problems("stall.xlsx", many)
    first, *_, last = capsys.readouterr().err.splitlines()
    assert "check:" not in first
    assert last == (
        "stall.xlsx: and 1 more. --json prints them all, and `costbook cost stall.xlsx` lists "
        "them on the sheet To put right."
    )


def test_a_terminal_sees_what_is_being_done_and_nothing_of_it_stays() -> None:
    output = Output(json=False)
    with redirect_stderr(Terminal()) as terminal:
        output.step("Reading stall.xlsx")
        output.step("Costing")
        output.say("A message.")
    assert terminal.getvalue() == (
        "Reading stall.xlsx …\r                    \rCosting …\r         \rA message.\n"
    )


def test_a_pipe_is_not_told_what_is_being_done(capsys: pytest.CaptureFixture[str]) -> None:
    output = Output(json=False)
    output.step("Costing")
    output.done()
    assert capsys.readouterr().err == ""


def test_cost_tells_its_steps(stall: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from costbook.cli import main

    with redirect_stderr(Terminal()) as terminal:
        code = main(["cost", str(stall), "--output", str(stall.with_name("out.xlsx")), *ON])
    assert code == 0
    steps = [part.strip() for part in terminal.getvalue().split("\r") if part.strip()]
    assert steps == [
        "Reading stall.xlsx …", "Costing …", "Writing the sheets …", "Checking what was written …",
    ]  # fmt: skip
    assert "Reading" not in capsys.readouterr().out


PROGRAM = [sys.executable, "-m", "costbook"]
HOUSE = Path(__file__).parent.parent


def test_a_reader_who_leaves_is_no_fault(flawed: Path) -> None:
    """As in `costbook check … | head -0`: quiet, and the workbook's own status."""
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "w") as closed:
        done = subprocess.run(
            [*PROGRAM, "check", flawed, *ON],
            stdout=closed, stderr=subprocess.PIPE, text=True, cwd=HOUSE,
        )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr.splitlines() == [
        'flawed.xlsx: Recipes!B2: no item is called "Flower". Did you mean "Flour"?'
    ]


def test_a_real_terminal_ends_clean(stall: Path) -> None:
    """The last thing on the line of steps is a return to its start."""
    mine, theirs = pty.openpty()
    done = subprocess.run(
        [*PROGRAM, "check", stall, *ON], stdout=subprocess.PIPE, stderr=theirs, cwd=HOUSE
    )
    os.close(theirs)
    shown = os.read(mine, 10_000).decode()
    os.close(mine)
    assert done.returncode == 0
    assert "Reading stall.xlsx …" in shown
    assert shown.endswith(" \r")


def test_stopping_by_hand_says_that_nothing_was_touched(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_words: Any, **_more: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(check, "read_and_cost", stop)
    assert run("check", stall) == (2, "", "Stopped. Your workbook is as it was.\n")


def test_a_fault_of_our_own_is_told_without_a_traceback(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_words: Any, **_more: Any) -> None:
        raise ZeroDivisionError("boom")

    monkeypatch.setattr(check, "read_and_cost", fail)
    monkeypatch.delenv("COSTBOOK_DEBUG", raising=False)
    code, out, err = run("check", stall)
    assert (code, out) == (2, "")
    assert err.startswith(
        "costbook: costbook met something that nobody foresaw (ZeroDivisionError), and stopped."
    )
    monkeypatch.setenv("COSTBOOK_DEBUG", "1")
    with pytest.raises(ZeroDivisionError):
        run("check", stall)


# ------------------------------------------------------------------ how figures are printed


def test_json_keeps_every_digit_that_a_number_can() -> None:
    third = Decimal(1) / 3
    assert json.loads(as_json({"a": third, "b": Decimal("2.00"), "c": None})) == {
        "a": 0.3333333333333333, "b": 2, "c": None,
    }  # fmt: skip


def test_json_refuses_what_it_can_not_hold() -> None:
    with pytest.raises(TypeError, match="JSON can't hold"):
        as_json({"a": object()})


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [("1234.565", 2, "1,234.57"), ("0.005", 2, "0.01"), ("1234.5", 0, "1,235"), ("2", 3, "2.000")],
)
def test_money_is_shown_to_its_coin(value: str, places: int, text: str) -> None:
    assert in_money(Decimal(value), places) == text


def test_what_is_not_known_is_a_question_mark() -> None:
    assert (in_money(None, 2), in_percent(None), in_percent(Decimal("0.065"))) == (
        "?", "?", "6.5 %",
    )  # fmt: skip


def test_columns_are_aligned() -> None:
    assert columns([("Product", "Cost"), ("Leek roll", "1.20"), ("Bun", "10.00")]) == [
        "Product     Cost",
        "Leek roll   1.20",
        "Bun        10.00",
    ]
