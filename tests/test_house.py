"""What keeps the house a house: who may import whom, what stands where, and how big things are.

The table of allowed imports is read out of DEVELOPERS.md, so that the letter and the code can't
part company.
"""

from __future__ import annotations

import ast
import os
import re
import shlex
import shutil
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from flit_core import buildapi

from costbook.package import limits
from costbook.reading.cells import MOST_COLUMNS, column_letter
from costbook.reading.rows import MOST_BLANK_ROWS
from tests.reading.test_bulky import MEGABYTES
from tests.readme_sample import sample_now, shown

HOUSE = Path(__file__).parent.parent
PACKAGE = HOUSE / "costbook"
MODULES = sorted(PACKAGE.rglob("*.py"))
OFFICE = PACKAGE / "addon" / "office"
LETTER = (HOUSE / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (HOUSE / "README.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((HOUSE / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def short(path: Path) -> str:
    return path.relative_to(HOUSE).as_posix()


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), filename=path.name)


# ------------------------------------------------------------------ who may import whom


def table_under(heading: str, text: str = LETTER) -> list[list[str]]:
    """The cells of the first table after a heading, without its own headings; ` and spaces off."""
    after = text.split(f"\n{heading}\n", 1)[1]
    rows = re.search(r"(?:^\|.*\n)+", after, re.MULTILINE)
    assert rows, f"no table under {heading}"
    cells = [line.strip("|\n").split("|") for line in rows[0].splitlines()]
    return [[cell.strip().replace("`", "") for cell in row] for row in cells[2:]]


def imported(path: Path) -> Iterator[str]:
    """Every module a file imports, at its top or lazily, as a dotted name."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{short(path)} imports by a relative name"
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield inner if module_file(inner) else str(node.module)


def module_file(dotted: str) -> Path | None:
    """The file of one of our own modules or packages."""
    stem = HOUSE.joinpath(*dotted.split("."))
    return next((p for p in (stem.with_suffix(".py"), stem / "__init__.py") if p.is_file()), None)


def part_of(path: Path) -> str:
    """The subpackage a module belongs to; a module of the top level is a part of its own."""
    inner = path.relative_to(PACKAGE)
    return inner.parts[0] if len(inner.parts) > 1 else inner.stem


def named_in(letter: str) -> set[str]:
    """The folders and modules that a letter names, each as it stands in the package."""
    parts = "|".join(path.name for path in PACKAGE.iterdir() if path.is_dir())
    return set(re.findall(rf"`((?:{parts})/[a-z_/]*(?:\.py)?)`", letter))


def test_every_module_that_the_letter_names_is_there() -> None:
    assert {name for name in named_in(LETTER) if not (PACKAGE / name).exists()} == set()


def test_a_module_that_is_named_is_seen() -> None:
    assert named_in("`ours/kept.py`, `package/`, `ours.kept`") == {"ours/kept.py", "package/"}


def test_the_parts_import_each_other_as_the_letter_says() -> None:
    said = {row[0]: words(row[1]) for row in table_under("### Which part may import which")}
    found: dict[str, set[str]] = {part_of(path): set() for path in MODULES}
    for path in MODULES:
        for dotted in imported(path):
            target = module_file(dotted)
            if dotted.split(".")[0] == "costbook" and target and part_of(target) != part_of(path):
                found[part_of(path)].add(listed_as(target, said.get(part_of(path), set())))
    assert found == said


def listed_as(target: Path, allowed: set[str]) -> str:
    """The one module by name where the letter allows only that module, else the whole part."""
    one = ".".join(target.relative_to(PACKAGE).with_suffix("").parts)
    return one if one in allowed else part_of(target)


def words(cell: str) -> set[str]:
    return {word.strip() for word in cell.split(",")} - {"nothing"}


def test_each_foreign_library_is_known_to_the_modules_the_letter_says() -> None:
    said = {row[0]: words(row[1]) for row in table_under("### Which module knows which library")}
    found: dict[str, set[str]] = {}
    for path in MODULES:
        for dotted in imported(path) if OFFICE not in path.parents else ():
            library = dotted.split(".")[0]
            if library not in sys.stdlib_module_names | {"costbook"}:
                found.setdefault(library, set()).add(short(path).removeprefix("costbook/"))
    assert found == said


def test_what_runs_in_libreoffice_knows_its_libraries_and_nothing_else_of_ours() -> None:
    found = {dotted for path in OFFICE.glob("*.py") for dotted in imported(path)}
    others = {each for each in found if each.split(".")[0] not in sys.stdlib_module_names}
    assert {each.split(".")[0] for each in others} == {"com", "costbook", "uno", "unohelper"}
    assert [
        each
        for each in others
        if each.split(".")[0] == "costbook" and not each.startswith("costbook.addon.office.")
    ] == []


@pytest.mark.parametrize("path", sorted(OFFICE.glob("*.py")), ids=lambda path: path.name)
def test_what_runs_in_libreoffice_is_understood_by_its_python(path: Path) -> None:
    """The oldest that LibreOffice 7.4 brings along is 3.8."""
    ast.parse(path.read_text(encoding="utf-8"), feature_version=(3, 8))


def test_every_dependency_is_used_and_every_library_is_a_dependency() -> None:
    asked = {re.split(r"[>=<]", line)[0].strip().lower() for line in PROJECT["dependencies"]}
    assert asked == {row[0] for row in table_under("### Which module knows which library")}


def test_no_import_hides_in_a_text() -> None:
    hidden = [
        f"{short(path)}:{node.lineno}"
        for path in MODULES
        for node in ast.walk(tree(path))
        if isinstance(node, ast.Call)
        and ast.unparse(node.func).rsplit(".", 1)[-1] in {"import_module", "__import__", "exec"}
    ]
    assert hidden == []


def test_a_name_of_a_type_is_borne_by_one() -> None:
    bearers: dict[str, list[str]] = {}
    for path in MODULES:
        for name in types_named(tree(path)):
            bearers.setdefault(name, []).append(short(path))
    assert {name: borne for name, borne in bearers.items() if len(borne) > 1} == {}


def types_named(module: ast.Module) -> Iterator[str]:
    """The classes of a module and its names for types, which have small letters and a capital."""
    for node in module.body:
        match node:
            case ast.ClassDef(name=name):
                yield name
            case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)):
                if name[0].isupper() and not name.isupper():
                    yield name


def test_the_names_of_types_are_seen() -> None:
    text = (
        "class _Own: ...\nclass Row: ...\nCell = int | str\nLine: Final = int\nMOST = 3\nat = 4\n"
    )
    assert list(types_named(ast.parse(text))) == ["_Own", "Row", "Cell", "Line"]


def test_the_reader_of_imports_sees_lazy_and_deep_ones(tmp_path: Path) -> None:
    file = tmp_path / "any.py"
    file.write_text(
        "import os.path\nfrom costbook import problems\n"
        "def f() -> None:\n    from costbook.problems import Place\n    import lxml.etree as e\n"
    )
    assert list(imported(file)) == [
        "os.path",
        "costbook.problems",
        "costbook.problems",
        "lxml.etree",
    ]


# ------------------------------------------------------------------ what stands where

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "costbook",
    "templates",
    "tests",
    "sample_workbooks",
}


def kept_files() -> list[Path]:
    """The files git keeps or would keep; all files where this is no git checkout."""
    listing = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=HOUSE,
        capture_output=True,
        text=True,
    )
    if listing.returncode != 0:
        pytest.skip("this folder is no git checkout")
    return [HOUSE / name for name in listing.stdout.split("\0") if name and (HOUSE / name).exists()]


def test_the_top_level_holds_only_what_it_should() -> None:
    tops = {path.relative_to(HOUSE).parts[0] for path in kept_files()}
    assert {top for top in tops if not top.startswith(".")} - TOP_LEVEL == set()


BUILT_ON = ("work", "tmp", "root", "home")
HOSTS = ("pypi.org", "pythonhosted", "debian.org/debian", "registry.npmjs")
FORBIDDEN = re.compile("|".join([*(f"(?<![\\w.])/{top}/" for top in BUILT_ON), *HOSTS]))


def test_no_file_names_the_machine_it_was_written_on_or_a_registry() -> None:
    named = []
    for path in kept_files():
        if path.suffix in {".py", ".md", ".toml", ".txt", ".csv", ".json", ""}:
            text = path.read_text(encoding="utf-8")
            named += [
                f"{short(path)}: {found[0]}"
                for found in FORBIDDEN.finditer(text)
                if path != Path(__file__)
            ]
    assert named == []


def test_the_forbidden_names_are_found_where_they_stand() -> None:
    assert FORBIDDEN.search("see /" + "tmp/x")
    assert FORBIDDEN.search("https://py" + "pi.org/")
    assert not FORBIDDEN.search("a/work/b or miles/home/")


def test_what_is_installed_is_whole_and_runs_anywhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every kept file of the package is in the wheel, and the wheel needs no checkout."""
    monkeypatch.chdir(HOUSE)
    with zipfile.ZipFile(tmp_path / buildapi.build_wheel(str(tmp_path))) as wheel:
        names = set(wheel.namelist())
        wheel.extractall(tmp_path / "installed")
    assert {short(path) for path in kept_files() if PACKAGE in path.parents} <= names
    done = subprocess.run(
        [sys.executable, "-m", "costbook", "--help"],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(tmp_path / "installed")},
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stderr) == (0, "")


# ------------------------------------------------------------------ how big things are


@pytest.mark.parametrize("path", MODULES, ids=short)
def test_every_module_says_what_it_is(path: Path) -> None:
    assert ast.get_docstring(tree(path))


def test_no_module_is_longer_than_300_lines_unless_the_letter_says_why() -> None:
    lengths = {short(p): len(p.read_text(encoding="utf-8").splitlines()) for p in MODULES}
    long = {name.removeprefix("costbook/") for name, lines in lengths.items() if lines > 300}
    assert long == {row[0] for row in table_under("### Modules past 300 lines")}


def test_no_function_is_longer_than_40_lines() -> None:
    long = [
        f"{short(path)}:{node.lineno} {node.name}: {lines} lines"
        for path in MODULES
        for node in ast.walk(tree(path))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (lines := (node.end_lineno or 0) - node.lineno + 1) > 40
    ]
    assert long == []


# ------------------------------------------------------------------ the README

CAUTIONS = (
    "Sums from your own figures, not advice. They do not show that food is safe, lawful to sell, "
    "correctly labelled or free from any allergen; a blank allergen cell means unknown. Ask your "
    "local food inspector before making or selling, and a licensed adviser on law and tax."
)


def paragraphs(text: str) -> list[str]:
    return [" ".join(part.split()) for part in text.split("\n\n")]


def commands() -> list[str]:
    """Every command a README block of the kind `sh` shows."""
    blocks = re.findall(r"^```sh\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
    return [line for block in blocks for line in block.splitlines() if line.strip()]


def test_the_readme_opens_with_the_job_in_one_paragraph() -> None:
    title, job, *_ = paragraphs(README)
    assert title == "# costbook"
    for promise in ("pack", "sold", "cost", "charge", "cheapest", "egg"):
        assert promise in job


def test_the_readme_holds_the_cautions_and_ends_with_the_changelog() -> None:
    assert CAUTIONS in paragraphs(README)
    assert re.findall(r"^## (.*)$", README, re.MULTILINE)[-1] == "Changelog"
    assert f"### {PROJECT['version']}" in README.split("\n## Changelog\n")[1]


def test_the_readme_shows_the_two_commands_first() -> None:
    assert commands()[:2] == [
        "python3 -m costbook cost sample_workbooks/market_stall.xlsx --output priced_stall.xlsx",
        "python3 -m tests",
    ]


def test_the_readme_states_the_limits_there_are() -> None:
    readme = " ".join((HOUSE / "README.md").read_text(encoding="utf-8").split())
    for limit in (
        f"where {MOST_BLANK_ROWS} rows below each other are blank",
        f"columns after the {MOST_COLUMNS:,}th",
        f"within a second of computing and {MEGABYTES} MB of memory",
        f"larger than {limits.MOST_BYTES // limits.MEGABYTE} MB",
        f"to more than {limits.USUAL_FOLDING} times its size",
        f"more than {limits.MOST_SHEETS:,} sheets",
        f"more than {limits.MOST_ROWS:,} filled rows",
        f"or {limits.MOST_READ:,} rows, cells and values, on the sheets that are read",
        f"more than {limits.AROUND_CELLS:,} merged cells, rules and links",
        f"more than {limits.MOST_FORMATS:,} cell formats",
        f"a text of more than {limits.LONGEST_TEXT:,} letters",
        f"below row {limits.LAST_ROW:,} or right of column {column_letter(limits.LAST_COLUMN)}",
        f"a series of more than {limits.MOST_MONTHS:,} prices",
        f"more than {limits.MOST_SECONDS} seconds of computing",
    ):
        assert limit in readme


@pytest.mark.long
def test_every_command_of_the_readme_runs(tmp_path: Path) -> None:
    """In order, in one folder, as a cook would; the tests themselves are running already."""
    shutil.copytree(HOUSE / "sample_workbooks", tmp_path / "sample_workbooks")
    environment = os.environ | {"PYTHONPATH": str(HOUSE)}
    failed = []
    for command in commands():
        program, *arguments = shlex.split(command)
        assert program == "python3"
        if arguments[:2] == ["-m", "tests"]:
            continue
        done = subprocess.run(
            [sys.executable, *arguments],
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            text=True,
            timeout=120,
        )
        if done.returncode != 0:
            failed.append(f"{command}: {done.returncode}\n{done.stderr}")
    assert failed == []


def test_the_readmes_sample_is_what_the_main_sample_gives() -> None:
    assert shown(README) == sample_now()
