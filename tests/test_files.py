"""Which file is meant: no pipe, no lock file, no name that no program opens; and odd names work."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pytest

from tests.helpers import make_book, run
from tests.package.making import ours_in, xml_edited
from tests.write_back.books import ON, SHEETS, small

unix = pytest.mark.skipif(sys.platform == "win32", reason="pipes and bare bytes as Unix has them")


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return small(tmp_path / "stall.xlsx")


def refusal(*words: object) -> str:
    """What is said of a run that writes and prints nothing."""
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    return err.removeprefix("costbook: ").removesuffix("\n")


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


# ---------------------------------------------------------------- what is no file

WAY_OUT = "Give the name of your workbook as it is saved on the disk."


@unix
@pytest.mark.parametrize("command", ["check", "cost"])
def test_a_pipe_is_refused_at_once(command: str, tmp_path: Path) -> None:
    """Reading it would wait for ever for somebody to write into it."""
    pipe = tmp_path / "stall.xlsx"
    os.mkfifo(pipe)
    assert refusal(command, pipe) == f"{pipe} is a pipe and no file. {WAY_OUT}"


@unix
def test_a_device_is_refused_at_once() -> None:
    """This one never ends."""
    assert refusal("check", "/dev/zero") == f"/dev/zero is a device and no file. {WAY_OUT}"


@unix
def test_a_pipe_is_no_output_and_no_series(stall: Path) -> None:
    pipe = stall.with_name("out.xlsx")
    os.mkfifo(pipe)
    there = (
        "out.xlsx is already there, and costbook doesn't write over it. Give another name, or move "
        "that file away."
    )
    assert refusal("cost", stall, *ON, "--output", pipe) == there
    assert refusal("new", pipe) == there
    series = ("--series", pipe, "--item", "Flour")
    assert refusal("try", stall, *ON, *series) == f"{pipe} is a pipe and no file. {WAY_OUT}"


# ---------------------------------------------------------------- lock files


@pytest.mark.parametrize(
    ("lock", "program"), [("~$stall.xlsx", "Excel"), (".~lock.stall.xlsx#", "LibreOffice")]
)
def test_the_small_file_of_another_program_is_called_that(
    lock: str, program: str, stall: Path
) -> None:
    path = stall.with_name(lock)
    path.write_bytes(b"\x03Ann" + bytes(160))
    assert refusal("check", path) == (
        f"{lock} is no workbook: {program} keeps that small file beside stall.xlsx while it is "
        "open there, and may leave it behind. Give stall.xlsx itself."
    )


def test_a_workbook_of_such_a_name_is_read(stall: Path) -> None:
    path = stall.rename(stall.with_name("~$stall.xlsx"))
    assert run("check", path, *ON)[0] == 0


# ---------------------------------------------------------------- how names must end

MACROS = (
    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml",
    "application/vnd.ms-excel.sheet.macroEnabled.main+xml",
)
TEMPLATE = (MACROS[0], MACROS[0].replace("sheet.main", "template.main"))


def must_end(what: str, ending: str, name: str, right: str) -> str:
    return (
        f"What is written is {what}, which programs open only under a name that ends in {ending}; "
        f"{name} doesn't. Name it {right}."
    )


@pytest.mark.parametrize(
    ("name", "right"),
    [
        ("priced.csv", "priced.xlsx"),
        ("priced", "priced.xlsx"),
        ("priced.xlsm", "priced.xlsx"),
        ("priced.ods", "priced.xlsx"),
        ("priced.2026", "priced.2026.xlsx"),
    ],
)
def test_an_output_of_another_ending_is_refused_with_the_right_one(
    name: str, right: str, stall: Path
) -> None:
    said = must_end("an Excel workbook", ".xlsx", name, right)
    before = files(stall.parent)
    assert refusal("cost", stall, *ON, "--output", stall.with_name(name)) == said
    if Path(name).suffix:
        assert refusal("new", stall.with_name(name)) == said
    trial = ("--set", "Pay per hour=20", "--output", stall.with_name(name))
    assert refusal("try", stall, *ON, *trial) == said
    assert files(stall.parent) == before


def test_endings_in_capitals_are_right(stall: Path) -> None:
    assert run("cost", stall, *ON, "--output", stall.with_name("PRICED.XLSX"))[0] == 0


@pytest.mark.parametrize(
    ("kind", "ending", "what"),
    [
        (MACROS, ".xlsm", "an Excel workbook with macros"),
        (TEMPLATE, ".xltx", "an Excel template"),
    ],
)
def test_each_kind_of_workbook_is_answered_in_its_own(
    kind: tuple[str, str], ending: str, what: str, stall: Path
) -> None:
    own = stall.with_suffix(ending)
    own.write_bytes(xml_edited(stall.read_bytes(), "[Content_Types].xml", kind))
    said = must_end(what, ending, "priced.xlsx", f"priced{ending}")
    assert refusal("cost", own, *ON, "--output", stall.with_name("priced.xlsx")) == said
    right = stall.with_name(f"priced{ending}")
    assert run("cost", own, *ON, "--output", right)[0] == 0
    assert run("cost", own, *ON)[0] == 0
    assert ours_in(own.read_bytes()) == ours_in(right.read_bytes()) != {}


def test_names_that_are_no_names(stall: Path) -> None:
    assert refusal("new", stall.with_name(".xlsx")) == (
        ".xlsx is an ending without a name. Name it priced.xlsx."
    )
    assert refusal("cost", stall, *ON, "--output", stall.with_name("~$priced.xlsx")) == (
        "A name that begins with ~$ is what Excel gives its own small files. Name it priced.xlsx."
    )


# ---------------------------------------------------------------- odd names


@unix
def test_a_name_that_is_not_utf_8(stall: Path) -> None:
    odd = Path(os.fsdecode(os.fsencode(stall.parent) + b"/caf\xe9.xlsx"))
    try:
        stall.rename(odd)
    except OSError:
        pytest.skip("this disk takes no such names")
    code, out, err = run("cost", odd, *ON)
    assert (code, err) == (0, "")
    assert f"Written: {stall.parent}/caf?.xlsx. Begin with its sheet In short." in out
    (backup,) = odd.with_name(f"{odd.stem} backups").iterdir()
    assert os.fsencode(backup.name).startswith(b"caf\xe9 (before ")
    assert json.loads(run("check", odd, "--json", *ON)[1])["book"] == "caf\ufffd.xlsx"
    assert run("explain", odd, "Leek roll", *ON)[0] == 0


# ---------------------------------------------------------------- hard links


@unix
def test_a_hard_link_that_is_cut_is_said(stall: Path) -> None:
    other, before = stall.with_name("market.xlsx"), stall.read_bytes()
    other.hardlink_to(stall)
    code, _, err = run("cost", stall, *ON)
    assert (code, err) == (
        0,
        (
            "stall.xlsx: check: stall.xlsx also stood under another name on this disk (a hard "
            "link). What was written stands under stall.xlsx alone; the workbook as it was is "
            "still under another name. If you use it under another name too, copy stall.xlsx "
            "there.\n"
        ),
    )
    assert other.read_bytes() == before
    assert run("cost", stall, *ON)[2] == ""


@unix
def test_so_it_is_of_an_earlier_output(stall: Path) -> None:
    out = stall.with_name("priced.xlsx")
    assert run("cost", stall, *ON, "--output", out)[0] == 0
    for name in ("a.xlsx", "b.xlsx"):
        stall.with_name(name).hardlink_to(out)
    err = run("cost", stall, "--on", "2026-12-01", "--output", out)[2]
    assert "priced.xlsx also stood under 2 other names on this disk (a hard link)." in err


# ---------------------------------------------------------------- a sheet of theirs called Settings


Rows = list[list[object]]


def settings_said(tmp_path: Path, rows: Rows) -> list[str]:
    sheets: dict[str, Rows] = {**SHEETS, "Settings": rows}
    path = make_book(tmp_path / "stall.xlsx", sheets)
    found = json.loads(run("check", path, "--json", *ON)[1])["problems"]
    return [
        f"{each['cell']}: {each['what']} {each['remedy']}"
        for each in found
        if each["sheet"] == "Settings" and "read" in each["what"]
    ]


MACHINES: Rows = [
    ["Oven", 210],
    ["Mixer", "slow"],
    ["Proving box", 28],
    ["Printer", "A4"],
    ["Label width", 62],
]


def test_settings_that_are_something_else_are_one_doubt(tmp_path: Path) -> None:
    assert settings_said(tmp_path, [["Machine", "Set to"], *MACHINES]) == [
        (
            'A1: from here on 6 rows name no setting ("Machine", "Oven", "Mixer" …), so they were '
            "not read. If this sheet is for something else, give its tab another name."
        )
    ]


def test_many_rows_among_settings_are_one_doubt_and_near_names_stay_asked(tmp_path: Path) -> None:
    mine: Rows = [["Setting", "Value"], ["Currency", "EUR"], ["Price stpe", 0.25], *MACHINES]
    assert settings_said(tmp_path, mine) == [
        (
            'A3: no setting is called "Price stpe", so this row was not read. Did you mean '
            '"Price step"?'
        ),
        (
            'A4: from here on 5 rows name no setting ("Oven", "Mixer", "Proving box" …), so they '
            "were not read. Move them to a sheet of your own."
        ),
    ]


def test_few_rows_are_named_one_by_one(tmp_path: Path) -> None:
    mine: Rows = [["Setting", "Value"], ["Currency", "EUR"], *MACHINES[:2]]
    assert [each[:42] for each in settings_said(tmp_path, mine)] == [
        'A3: no setting is called "Oven", so this r',
        'A4: no setting is called "Mixer", so this ',
    ]
