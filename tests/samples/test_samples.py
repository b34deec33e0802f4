"""The sample workbooks, through the command line, against figures worked by hand."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.helpers import run
from tests.samples.build import SAMPLES, SHEETS, build
from tests.samples.by_hand import EXPECTED, as_json
from tests.samples.by_hand_bought import FOR_A_BATCH
from tests.samples.slips import hints_to_json
from tests.tables import close

ON = "2026-11-20"


def expectation(name: str) -> dict[str, Any]:
    told: dict[str, Any] = json.loads((SAMPLES / f"{name}.expected.json").read_text("utf-8"))
    return told


@pytest.fixture(scope="module")
def costed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[int, dict[str, Any], str]]:
    """Each sample costed once: exit code, answer, what was said."""
    folder = tmp_path_factory.mktemp("costed")
    answers = {}
    for name in SHEETS:
        path, output = SAMPLES / f"{name}.xlsx", folder / f"{name}.xlsx"
        code, out, err = run("cost", path, "--json", "--on", ON, "--output", output)
        assert code in (0, 1), err
        answers[name] = (code, json.loads(out), err)
    return answers


def differences(expected: object, found: object, where: str = "") -> Iterator[str]:
    """Each place where what was found is not what was expected: numbers to 1e-9, the rest exactly.

    What is found may say more than what is expected; lists are told by their names, not by order.
    """
    if isinstance(expected, dict) and isinstance(found, dict):
        for key, value in expected.items():
            if key in found:
                yield from differences(value, found[key], f"{where}/{key}")
            else:
                yield f"{where}/{key}: missing"
    elif not same(expected, found):
        yield f"{where}: expected {expected!r}, found {found!r}"


def same(expected: object, found: object) -> bool:
    """Whether two figures agree to 1e-9 of the expected one (0 must be 0), or are the same."""
    if isinstance(expected, bool) or not isinstance(expected, (int, float)):
        return expected == found
    if isinstance(found, bool) or not isinstance(found, (int, float)):
        return False
    return abs(found - expected) <= 1e-9 * abs(expected)


def by_name(rows: list[dict[str, Any]], *names: str) -> dict[str, dict[str, Any]]:
    """Rows by what they are called; two of one name are a fault."""
    named = {" @ ".join(str(row[name]) for name in names): row for row in rows}
    assert len(named) == len(rows), f"two rows of one name among {[row[names[0]] for row in rows]}"
    return named


@pytest.mark.parametrize("name", list(EXPECTED))
@pytest.mark.parametrize(
    ("part", "names"),
    [("products", ("product", "outlet")), ("recipes", ("recipe",)), ("items", ("item",))],
)
def test_a_sample_comes_to_what_was_worked_by_hand(
    costed: dict[str, Any], name: str, part: str, names: tuple[str, ...]
) -> None:
    expected = by_name(expectation(name)[part], *names)
    found = by_name(costed[name][1][part], *names)
    assert sorted(found) == sorted(expected)
    assert list(differences(expected, found)) == []


@pytest.mark.parametrize("name", list(EXPECTED))
def test_a_sample_without_slips_exits_0_with_doubts_at_most(
    costed: dict[str, Any], name: str
) -> None:
    code, answer, _ = costed[name]
    wrong = [problem for problem in answer["problems"] if problem["severity"] != "doubtful"]
    assert (code, wrong) == (0, [])
    assert (answer["costed_on"], answer["currency"]) == (
        expectation(name)["costed_on"],
        expectation(name)["currency"],
    )
    assert "not advice" in " ".join(answer["cautions"])


def test_the_main_sample_has_a_few_doubts_and_they_name_these_cells(costed: dict[str, Any]) -> None:
    doubts = costed["market_stall"][1]["problems"]
    said = {f"{doubt['sheet']}!{doubt['cell']}" for doubt in doubts}
    # "to taste" in the leek rolls, and leeks bought two days after the costing date.
    assert "Recipes!C24" in said
    assert any(place.startswith("Purchases!") and place.endswith("141") for place in said)
    assert len(doubts) <= 25


def of_cell(problems: list[dict[str, Any]], hint: dict[str, Any]) -> list[dict[str, Any]]:
    """The problems that stand at one of a hint's cells."""
    return [
        problem
        for problem in problems
        if problem["sheet"] == hint["sheet"] and problem["cell"] in hint["cells"]
    ]


def unmet(problems: list[dict[str, Any]], hint: dict[str, Any]) -> bool:
    """Whether what must be said about a cell isn't, or what must not be is."""
    here = of_cell(problems, hint)
    if hint["severity"] == "quiet":
        return any(problem["severity"] == "wrong" for problem in here)
    fitting = [
        problem
        for problem in here
        if hint["severity"] in ("either", problem["severity"])
        and speaks_of(f"{problem['what']} {problem['remedy']}", hint["keywords"])
    ]
    return not fitting


def speaks_of(text: str, keywords: list[str]) -> bool:
    return not keywords or any(word.casefold() in text.casefold() for word in keywords)


def test_every_slip_is_told_at_its_cell(costed: dict[str, Any]) -> None:
    code, answer, _ = costed["everything_wrong"]
    hints = expectation("everything_wrong")["cells"]
    missed = [
        f"{hint['sheet']}!{hint['cells'][0]} ({hint['shows']}): {hint['severity']} "
        f"{hint['keywords']}, said {[p['what'] for p in of_cell(answer['problems'], hint)]}"
        for hint in hints
        if unmet(answer["problems"], hint)
    ]
    assert (code, missed) == (1, [])


def test_slips_leave_what_can_be_priced_priced(costed: dict[str, Any]) -> None:
    found = {row["item"]: row for row in costed["everything_wrong"][1]["items"]}
    missed = []
    for row in expectation("everything_wrong")["items"]:
        if row["price_per_base_unit"] is None:
            price = found.get(row["item"], {}).get("price_per_base_unit")
            missed += [] if price is None else [f"{row['item']}: should have no price, has {price}"]
        else:
            missed += differences(row, found.get(row["item"], {}), row["item"])
    assert missed == []


def test_slips_in_usable_shares_are_read_or_asked(costed: dict[str, Any]) -> None:
    found = {row["item"]: row for row in costed["everything_wrong"][1]["items"]}
    expected = expectation("everything_wrong")["usable"]
    assert [
        line for row in expected for line in differences(row, found[row["item"]], row["item"])
    ] == []


def test_slips_leave_the_good_roll_whole_and_the_others_marked(costed: dict[str, Any]) -> None:
    rows = costed["everything_wrong"][1]["products"]
    found = by_name(
        [row for row in rows if row["outlet"] == "Saturday market"], "product", "outlet"
    )
    expected = by_name(expectation("everything_wrong")["products"], "product", "outlet")
    assert list(differences(expected, found)) == []
    lacking = [row for row in rows if not row["complete"]]
    assert all(row["cost"]["total"] is None and row["missing"] for row in lacking)
    assert all(row["price"]["at_target_margin"] is None for row in lacking)


def meaning(path: Path) -> dict[str, Any]:
    """A workbook's sheets, cells, number formats, notes, charts, widths and hidden rows."""
    book = openpyxl.load_workbook(path)
    shown = openpyxl.load_workbook(path, data_only=True)
    return {
        str(sheet.title): {
            "cells": {
                str(cell.coordinate): (
                    cell.value,
                    shown[str(sheet.title)][str(cell.coordinate)].value,
                    cell.number_format,
                    cell.font.bold,
                    cell.comment.text if cell.comment else None,
                )
                for row in sheet.iter_rows()
                for cell in row
                if cell.value is not None
            },
            "merged": [str(cells) for cells in sheet.merged_cells.ranges],
            "frozen": sheet.freeze_panes,
            "hidden": [at for at, row in sheet.row_dimensions.items() if row.hidden],
            "widths": {at: column.width for at, column in sheet.column_dimensions.items()},
            "charts": len(sheet._charts),
        }
        for sheet in book.worksheets
    }


@pytest.mark.parametrize("name", list(SHEETS))
def test_the_checked_in_workbook_is_what_the_builder_makes(name: str, tmp_path: Path) -> None:
    assert meaning(build(name, tmp_path)) == meaning(SAMPLES / f"{name}.xlsx")


@pytest.mark.parametrize("name", list(EXPECTED))
def test_the_checked_in_figures_are_the_ones_worked_by_hand(name: str) -> None:
    assert (SAMPLES / f"{name}.expected.json").read_text("utf-8") == as_json(EXPECTED[name]())


def test_the_checked_in_slips_are_the_ones_declared_beside_the_rows() -> None:
    told = (SAMPLES / "everything_wrong.expected.json").read_text("utf-8")
    assert told == hints_to_json()


@pytest.mark.parametrize("name", FOR_A_BATCH)
def test_what_is_bought_for_a_batch_of_the_main_sample_is_as_worked_by_hand(name: str) -> None:
    need, packs, cash, left_over, used_price = FOR_A_BATCH[name]
    code, out, _ = run("compare", SAMPLES / "market_stall.xlsx", name, "--json", "--on", ON)
    (item,) = json.loads(out)["items"]
    (pack,) = item["packs"]
    assert (code, pack["used_part"]) == (0, 1)
    close(item["need"], need)
    for found, (called, count) in zip(item["mix"]["packs"], packs, strict=True):
        assert found["pack"] == called
        close(found["count"], count)
    close(item["mix"]["cash"], cash)
    close(item["mix"]["cost"], cash)
    close(item["mix"]["left_over"], left_over)
    close(item["mix"]["spoils"], left_over)
    close(pack["price_per_base_unit_used"], used_price)


def test_the_season_s_plan_comes_to_what_was_worked_by_hand() -> None:
    code, out, _ = run("plan", SAMPLES / "market_season.xlsx", "--json", "--on", ON)
    assert code == 0
    answer, expected = json.loads(out), expectation("market_season")["week"]
    for part, name in (("products", "product"), ("recipes", "recipe")):
        found, wanted = (by_name(each.pop(part), name) for each in (answer, expected))
        assert sorted(found) == sorted(wanted)
        assert list(differences(wanted, found)) == []
    assert list(differences(expected, answer)) == []


def test_what_to_buy_for_the_season_s_plan_is_what_was_worked_by_hand() -> None:
    code, out, _ = run("buy", SAMPLES / "market_season.xlsx", "--json", "--on", ON)
    assert code == 0
    answer, expected = json.loads(out), expectation("market_season")["buy"]
    for part, name in (("suppliers", "supplier"), ("enough", "item")):
        found, wanted = (by_name(each.pop(part), name) for each in (answer, expected))
        assert sorted(found) == sorted(wanted)
        for key, worked in wanted.items():
            lines, of_hand = (
                by_name(each.pop("lines", []), "item") for each in (found[key], worked)
            )
            assert sorted(lines) == sorted(of_hand)
            assert list(differences(of_hand, lines)) == []
            assert list(differences(worked, found[key])) == []
    assert list(differences(expected, answer)) == []
