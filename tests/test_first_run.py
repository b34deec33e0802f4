"""The first run from a fresh checkout, without a network: pip is shown a folder with one package.

The checkout is made here: the real modules that set it up, a pyproject.toml that asks for an
invented package, and a command line that prints its arguments and leaves with status 7.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

from costbook import first_run
from costbook import set_up as set_up_code
from tests.left_out import sentences

HOUSE = Path(__file__).parent.parent
FETCHING = (
    "costbook: Fetching what this needs into the folder .venv beside it. "
    "This happens once and takes about a minute.\n"
)
WAITING = "costbook: Another run is setting up costbook here; waiting for it to finish.\n"
Ended = tuple[int, str, str]  # status, what was printed, what was said
COMMAND_LINE = """
import sys, pantry
def main():
    print(sys.argv[1:], sys.flags.utf8_mode, pantry.shelf, flush=True)
    return 7
"""


def fresh_checkout(folder: Path, requirement: str = "pantry>=1.0") -> Path:
    package = folder / "costbook"
    package.mkdir(parents=True)
    for name in ("__init__.py", "__main__.py", "first_run.py", "set_up.py"):
        shutil.copy(HOUSE / "costbook" / name, package)
    (package / "cli.py").write_text(COMMAND_LINE)
    (folder / "pyproject.toml").write_text(f'[project]\ndependencies = ["{requirement}"]\n')
    return folder


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that holds the invented package, as pip wants it."""
    folder = tmp_path_factory.mktemp("shelf")
    with zipfile.ZipFile(folder / "pantry-1.0-py3-none-any.whl", "w") as wheel:
        wheel.writestr("pantry/__init__.py", "shelf = 'full'")
        info = "pantry-1.0.dist-info"
        wheel.writestr(f"{info}/METADATA", "Metadata-Version: 2.1\nName: pantry\nVersion: 1.0\n")
        wheel.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nTag: py3-none-any\n")
        wheel.writestr(f"{info}/RECORD", "")
    return folder


def start(
    checkout: Path, shelf: Path, *arguments: str, path: Path | None = None
) -> subprocess.Popen[str]:
    environment = {key: value for key, value in os.environ.items() if not key.startswith("PIP_")}
    environment |= {
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": str(shelf),
        "PIP_CONFIG_FILE": os.devnull,
        "PYTHONPATH": str(path or ""),
    }
    return subprocess.Popen(
        [sys.executable, "-X", "utf8", "-m", "costbook", *arguments],
        cwd=checkout,
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )


def finish(process: subprocess.Popen[str]) -> Ended:
    out, err = process.communicate(timeout=120)
    return process.returncode, out, err


@pytest.fixture(scope="module")
def set_up(tmp_path_factory: pytest.TempPathFactory, shelf: Path) -> tuple[Path, list[Ended]]:
    """A checkout whose half-made .venv two runs find at once, and how those two ended."""
    checkout = fresh_checkout(tmp_path_factory.mktemp("checkout") / "with a space")
    (checkout / ".venv" / "bin").mkdir(parents=True)
    (checkout / ".venv" / "left over").touch()
    (checkout / ".venv" / "costbook-has.txt").write_text("unfinished")
    both = [start(checkout, shelf, "cost", "my stall.xlsx", "--json") for _ in range(2)]
    return checkout, [finish(process) for process in both]


def test_arguments_options_and_status_pass_through(
    set_up: tuple[Path, list[Ended]],
) -> None:
    for status, out, _ in set_up[1]:
        assert (status, out) == (7, "['cost', 'my stall.xlsx', '--json'] 1 full\n")


def test_of_two_at_once_one_sets_up_and_the_other_waits(
    set_up: tuple[Path, list[Ended]],
) -> None:
    assert sorted(err for _, _, err in set_up[1]) == sorted([FETCHING, WAITING])


def test_a_half_made_environment_is_made_anew(
    set_up: tuple[Path, list[Ended]],
) -> None:
    home = set_up[0] / ".venv"
    assert not (home / "left over").exists()
    assert (home / "costbook-has.txt").read_text() == "pantry>=1.0"


def test_the_next_run_says_nothing(set_up: tuple[Path, list[Ended]], shelf: Path) -> None:
    assert finish(start(set_up[0], shelf)) == (7, "[] 1 full\n", "")


def test_what_was_set_up_and_then_lost_is_said(
    set_up: tuple[Path, list[Ended]], shelf: Path, tmp_path: Path
) -> None:
    checkout = fresh_checkout(tmp_path / "checkout", "larder>=1.0")
    (checkout / ".venv").symlink_to(set_up[0] / ".venv", target_is_directory=True)
    state = set_up[0] / ".venv" / "costbook-has.txt"
    state.write_text("pantry>=1.0\nlarder>=1.0")
    status, out, err = finish(start(checkout, shelf))
    assert (status, out) == (2, "")
    assert err == (
        f"costbook: Something is missing from the folder {checkout.resolve() / '.venv'}. "
        "Delete that folder and run the same command again.\n"
    )


NO_ENSUREPIP = """
import sys
if "--without-pip" not in sys.argv:
    sys.exit("ensurepip is not available")
sys.path[:] = [folder for folder in sys.path if folder != HERE]
del sys.modules["venv"]
import venv
venv.main(sys.argv[1:])
"""


def hidden(folder: Path, module: str, main: str) -> Path:
    """A folder whose module stands before Python's own of that name."""
    (folder / module).mkdir(parents=True)
    (folder / module / "__init__.py").touch()
    (folder / module / "__main__.py").write_text(f"HERE = {str(folder)!r}\n{main}")
    return folder


@pytest.fixture
def no_ensurepip(tmp_path: Path) -> Path:
    """To stand before Python's own modules: a venv that can't install pip; the system's pip can."""
    base = str(getattr(sys, "_base_executable", sys.executable))
    if subprocess.run([base, "-m", "pip", "--version"], capture_output=True).returncode != 0:
        pytest.skip("this system's Python has no pip of its own")
    return hidden(tmp_path / "path", "venv", NO_ENSUREPIP)


def test_where_venv_lacks_its_installer_the_systems_pip_serves(
    tmp_path: Path, shelf: Path, no_ensurepip: Path
) -> None:
    checkout = fresh_checkout(tmp_path / "checkout")
    assert finish(start(checkout, shelf, path=no_ensurepip)) == (7, "[] 1 full\n", FETCHING)


def test_without_a_network(tmp_path: Path, shelf: Path, no_ensurepip: Path) -> None:
    checkout = fresh_checkout(tmp_path / "checkout", "larder>=1.0")
    status, out, err = finish(start(checkout, shelf, path=no_ensurepip))
    assert (status, out) == (2, "")
    assert err == (
        f"{FETCHING}costbook: Can't reach the internet to fetch what this needs. "
        "Connect this computer and run the same command again; it is needed only this once.\n"
    )


def test_where_there_is_neither_the_way_out_is_named(tmp_path: Path, shelf: Path) -> None:
    checkout = fresh_checkout(tmp_path / "checkout")
    path = hidden(tmp_path / "path", "venv", NO_ENSUREPIP)
    hidden(path, "pip", "raise SystemExit('No module named pip')")
    status, out, err = finish(start(checkout, shelf, path=path))
    assert (status, out) == (2, "")
    remedy = (
        "Run `sudo apt install python3-venv` "
        f"(or python3.{sys.version_info.minor}-venv), then the same command again.\n"
        if Path("/etc/debian_version").exists()
        else "Install Python from python.org, then run the same command again with it.\n"
    )
    assert err == (f"{FETCHING}costbook: This Python can't make a virtual environment. {remedy}")


def test_a_folder_that_cannot_be_written(tmp_path: Path, shelf: Path) -> None:
    checkout = fresh_checkout(tmp_path / "checkout")
    (checkout / ".venv").write_text("a file where the folder should be")
    status, _, err = finish(start(checkout, shelf))
    assert status == 2
    assert err == (
        f"{FETCHING}costbook: Can't write {checkout.resolve() / '.venv'}: Not a directory. Copy "
        "costbook to a folder of your own and run the same command there.\n"
    )


def test_setting_up_that_is_stopped_is_begun_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(set_up_code, "_build", stopped)
    home = str(tmp_path / ".venv")
    with pytest.raises(SystemExit) as left:
        set_up_code.make_ready(home, f"{home}/bin/python", f"{home}/listing", ["pantry>=1.0"])
    assert left.value.code == 130
    assert capsys.readouterr().err == (
        "costbook: Stopped while setting up. The next run starts that afresh.\n"
    )


def test_an_installed_costbook_sets_nothing_up(tmp_path: Path, shelf: Path) -> None:
    checkout = fresh_checkout(tmp_path / "site-packages")
    (checkout / "pyproject.toml").unlink()
    (checkout / "pantry.py").write_text("shelf = 'installed'")
    assert finish(start(checkout, shelf, "new")) == (7, "['new'] 1 installed\n", "")
    assert not (checkout / ".venv").exists()


OPENERS = ("__init__", "__main__")
PYENV = Path("~/.pyenv/versions").expanduser()
OLD = sorted(p for v in ("2.7", "3.6", "3.10") for p in PYENV.glob(f"{v}.*/bin/python"))


@pytest.mark.parametrize("name", ["costbook", "tests"])
@pytest.mark.parametrize("python", OLD, ids=lambda path: str(path.parent.parent.name))
def test_an_old_python_is_told_its_age(python: Path, name: str) -> None:
    done = subprocess.run(
        [python, "-B", "-m", name, "x"], cwd=HOUSE, capture_output=True, text=True
    )
    version = ".".join(python.parent.parent.name.split(".")[:2])
    what = "costbook" if name == "costbook" else "the tests"
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        f"costbook: this is Python {version}, and costbook needs 3.11 or newer. Install a newer "
        f"Python from python.org or your system's packages, then start {what} with it, "
        f"as in: python3.13 -m {name}\n"
    )


@pytest.mark.parametrize(
    "name",
    ["costbook/__init__.py", "costbook/__main__.py", "tests/__init__.py", "tests/__main__.py"],
)
def test_what_an_old_python_reads_has_nothing_new_in_it(name: str) -> None:
    """Where no old Python is at hand: no imports from __future__, annotations or f-strings."""
    text = (HOUSE / name).read_text(encoding="utf-8")
    assert text.isascii()
    assert not any(new in text for new in ("__future__", "->", ": str", ' f"', '(f"', ":="))


@pytest.mark.parametrize(
    ("requirement", "here"),
    [
        ("pytest>=8.4", True),
        ("pytest>=999.0", False),
        ("larder>=1.0", False),
    ],
)
def test_the_systems_own_python_must_have_it_new_enough(
    requirement: str, here: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "prefix", sys.base_prefix)  # as where no virtual environment is
    assert first_run._is_here(requirement) is here


def test_the_quick_reader_of_requirements_agrees_with_a_toml_parser() -> None:
    project = tomllib.loads((HOUSE / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    assert first_run._requirements(str(HOUSE), ()) == project["dependencies"]
    assert first_run._requirements(str(HOUSE), ("test", "dev")) == [
        *project["dependencies"],
        *extras["test"],
        *extras["dev"],
    ]


def test_what_was_left_out_is_said_the_commonest_reason_first() -> None:
    reasons = ["Skipped: no pip", "Skipped: LibreOffice is not here", "LibreOffice is not here"]
    assert sentences(reasons) == [
        "2 tests NOT RUN: LibreOffice is not here",
        "1 test NOT RUN: no pip",
    ]
