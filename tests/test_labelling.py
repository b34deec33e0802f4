"""The command `labels`: in words, as JSON, as a list for a label printer; and what it refuses."""

from __future__ import annotations

import csv
import json
import re
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

from costbook.costing.result import CAUTION
from costbook.deciding.labels import DRAFT
from costbook.writing.label_list import HEADINGS, is_label_list
from tests.deciding.label_books import changed
from tests.helpers import run, save
from tests.tables import sheets
from tests.test_terminal import EVIL, STEERING

ON = ("--on", "2026-11-26")


def book(folder: Path, changes: dict[str, str] | None = None) -> Path:
    return save(sheets(changed(changes or {})), folder)


def rows(path: Path) -> list[dict[str, str]]:
    """A list for a label printer, as another program reads it."""
    return list(csv.DictReader(StringIO(path.read_text(encoding="utf-8-sig"))))


def answered(path: Path, *words: object) -> dict[str, Any]:
    code, out, _ = run("labels", path, *words, "--json", *ON)
    assert code in (0, 1)
    answer: dict[str, Any] = json.loads(out)
    return answer


def test_the_label_in_words_and_what_stands_below_it(tmp_path: Path) -> None:
    _, out, err = run("labels", book(tmp_path), *ON)
    assert out == (
        "Leek roll   [Draft: verify against local law]\n"
        "Ingredients: Filling (leek, cheddar (milk, salt), cream (milk), salt), wheat flour, egg, "
        "salt.\n"
        "Contains: milk, eggs, wheat.\n"
        "Net Wt 12 oz (340 g)\n"
        "Batch 26-330. Packed 2026-11-26.\n"
        "Hill stall, 1 Mill Lane, Ourtown\n"
        "\n"
        "Ingredients stand in descending order by the weight put in, as of this run. Water stands "
        "among them where a recipe line names it, and what of it cooks off is not guessed.\n"
        "Draft: verify against local law.\n"
        f"{CAUTION}\n"
    )
    # what prices lack is no concern of a label: it is counted
    assert re.fullmatch(r"stall.xlsx: \d+ other things to look at: `.* lists them\.\n", err)


def test_json_has_what_the_words_have(tmp_path: Path) -> None:
    answer = answered(book(tmp_path, {"Salt ": "Salt | | | | | none; may contain celery | salt"}))
    (label,) = answer["labels"]
    assert (answer["book"], answer["draft"], answer["cautions"]) == ("stall.xlsx", DRAFT, [CAUTION])
    assert label["ingredients"][0] == {
        "name": "Filling",
        "grams": 1200,
        "recipe": "Filling",
        "made_of": [
            {"name": "leek", "grams": 600, "items": ["Leek"]},
            {"name": "cheddar (milk, salt)", "grams": 500, "items": ["Cheddar"]},
            {"name": "cream (milk)", "grams": 303, "items": ["Cream"]},
            {"name": "salt", "grams": 5, "items": ["Salt"]},
        ],
    }
    del label["ingredients"]
    assert label == {
        "product": "Leek roll",
        "statement": "Ingredients: Filling (leek, cheddar (milk, salt), cream (milk), salt), wheat "
        "flour, egg, salt.",
        "allergens": ["milk", "eggs", "wheat"],
        "may_contain": ["celery"],
        "unknown_allergens": [],
        "unknown_weights": [],
        "net_weight": {"g": pytest.approx(340.1942775), "oz": pytest.approx(12)},
        "batch_code": "26-330",
        "packed_on": "2026-11-26",
        "business": "Hill stall",
        "address": "1 Mill Lane, Ourtown",
        "unfinished": "",
        "draft": True,
    }


def test_an_unknown_allergen_ends_with_1_and_is_said_with_its_cell(tmp_path: Path) -> None:
    path = book(tmp_path, {"Salt ": "Salt | | | | | | salt"})
    code, out, err = run("labels", path, *ON)
    assert code == 1
    assert "NOT FINISHED. ALLERGENS UNKNOWN: Salt.\n" in out
    assert 'stall.xlsx: Items!F7: the allergens of "Salt" are unknown.' in err
    (label,) = answered(path)["labels"]
    assert (label["unknown_allergens"], label["draft"]) == (["Salt"], True)


def test_one_product_is_found_as_names_are(tmp_path: Path) -> None:
    two = {"Leek roll": "Leek roll | Roll | 1 | 12 | oz\nLeek rolls, six | Roll | 6 | 72 | oz"}
    path = book(tmp_path, two)
    assert [each["product"] for each in answered(path)["labels"]] == [
        "Leek roll",
        "Leek rolls, six",
    ]
    assert [each["product"] for each in answered(path, "leek ROLLS six")["labels"]] == [
        "Leek rolls, six"
    ]
    code, _, err = run("labels", path, "Leek rol", *ON)
    assert (code, err) == (
        2,
        'costbook: There is no product "Leek rol". Did you mean "Leek roll"?\n',
    )


def test_a_code_of_ones_own_stands_in_for_the_day(tmp_path: Path) -> None:
    (label,) = answered(book(tmp_path), "--code", "B\u202e7")["labels"]
    assert label["batch_code"] == "B7"


# ---------------------------------------------------------------- for a label printer


def test_the_list_for_a_printer_has_a_row_a_label(tmp_path: Path) -> None:
    path, out = book(tmp_path, {"Salt ": "Salt | | | | | | salt"}), tmp_path / "labels.csv"
    _, said, _ = run("labels", path, "--csv", out, *ON)
    assert f"Written: {out}, a row for each label.\n" in said
    assert rows(out) == [
        {
            "Product": "Leek roll",
            "Not finished": "NOT FINISHED. ALLERGENS UNKNOWN: Salt.",
            "Ingredients": "Ingredients: Filling (leek, cheddar (milk, salt), cream (milk), salt), "
            "wheat flour, egg, salt.",
            "Allergens": "Contains: milk, eggs, wheat. [ALLERGENS UNKNOWN: Salt]",
            "Net weight": "Net Wt 12 oz (340 g)",
            "Batch and day": "Batch 26-330. Packed 2026-11-26.",
            "Business and address": "Hill stall, 1 Mill Lane, Ourtown",
            DRAFT: DRAFT,
        }
    ]


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\uff1d", "\t=", " ="])
def test_no_text_in_it_is_a_formula(sign: str, tmp_path: Path) -> None:
    name = f'{sign}HYPERLINK("http://x","y")'
    path, out = book(tmp_path, {"Leek roll": f"{name} | Roll | 1 | 12 | oz"}), tmp_path / "a.csv"
    run("labels", path, "--csv", out, *ON)
    (row,) = rows(out)
    assert row["Product"] == f"'{name.strip()}"


@pytest.mark.parametrize("name", EVIL.values(), ids=EVIL)
def test_nothing_in_a_name_steers_a_terminal_or_ends_a_row(name: str, tmp_path: Path) -> None:
    found = sheets(changed({}))
    found["Products"][1][0] = name
    found["Items"][1][6], found["Items"][2][5] = name, name
    path, out = save(found, tmp_path), tmp_path / "a.csv"
    code, said, err = run("labels", path, "--csv", out, *ON)
    assert code in (0, 1), err
    told = run("labels", path, "--json", *ON)[1]
    text = out.read_text(encoding="utf-8-sig")
    for each in (said, err, told, text):
        assert STEERING.findall(each.replace("\r\n", "\n")) == []
    assert len(rows(out)) == 1


def test_a_list_of_ours_is_replaced_with_a_backup_and_no_other_file_is(tmp_path: Path) -> None:
    path, out = book(tmp_path), tmp_path / "labels.csv"
    run("labels", path, "--csv", out, *ON)
    before = out.read_bytes()
    assert is_label_list(before)
    _, said, _ = run("labels", path, "--csv", tmp_path / "labels", "--code", "7", *ON)
    (backup,) = (tmp_path / "labels backups").iterdir()
    assert f"labels.csv as it was: {backup}\n" in said
    assert (rows(out)[0]["Batch and day"], backup.read_bytes()) == (
        "Batch 7. Packed 2026-11-26.",
        before,
    )
    for theirs in (b"Product,Price\r\nRoll,3\r\n", b"", before[3:]):
        out.write_bytes(theirs)
        code, _, err = run("labels", path, "--csv", out, *ON)
        assert (code, out.read_bytes()) == (2, theirs)
        assert err == (
            "costbook: labels.csv is already there, and costbook doesn't write over it. Give "
            "another name, or move that file away.\n"
        )


def test_a_list_goes_under_no_other_ending(tmp_path: Path) -> None:
    path = book(tmp_path)
    before = path.read_bytes()
    code, _, err = run("labels", path, "--csv", path, *ON)
    assert (code, path.read_bytes()) == (2, before)
    assert err == (
        "costbook: What is written is a list for a label printer, which programs open only under a "
        "name that ends in .csv; stall.xlsx doesn't. Name it stall.csv.\n"
    )


def test_its_headings_say_that_it_is_a_draft() -> None:
    assert HEADINGS[-1] == DRAFT
