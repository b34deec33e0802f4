"""The command finds what no test notices, and nothing else, in a module of four lines."""

from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.mutations.concerns import CONCERNS, concerned, modules
from tests.mutations.judged import changed, judged, record
from tests.mutations.known import LIST, compared
from tests.mutations.mutants import Mutant, mutants_of

ROOT = Path(__file__).parents[2]

PRICE = '''"""A price."""


from functools import cache


def _least(of):
    return of / 2


LEAST = _least(6)


@cache
def _times():
    return 2


def price(cost, step=1):
    """Twice the cost, and no less than 3."""
    return max(cost * _times(), LEAST) if cost > 0 else step


def returned(cost):
    return -cost
'''
TESTS = """
def price(cost):
    from price import price

    return price(cost)

def test_a_cheap_thing_is_three():
    assert price(1) == 3

def test_a_price_is_twice_the_cost():
    assert price(2) == 4
"""
JUDGED = """
import json, sys
from pathlib import Path
from tests.mutations.judging import survivors
from tests.mutations.mutants import mutants_of
root = Path(sys.argv[1])
mutants = [("price.py", each) for each in mutants_of((root / "price.py").read_text())]
alive = survivors(root, mutants, ["test_price.py"], print)["price.py"]
Path(sys.argv[1], "alive.json").write_text(json.dumps([mutant.change for mutant in alive]))
"""


def test_what_no_test_notices_is_found(tmp_path: Path) -> None:
    """Nobody looks at a cost of zero, the step, or a return; nine other changes are noticed.

    The module is first imported where a test runs it, as a command imports what it needs.
    """
    (tmp_path / "price.py").write_text(PRICE)
    (tmp_path / "test_price.py").write_text(TESTS)
    words = [sys.executable, "-c", JUDGED, str(tmp_path)]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert len(mutants_of(PRICE)) == 12
    alive = json.loads((tmp_path / "alive.json").read_text())
    assert alive == ["1 → 2", "cost > 0 → cost >= 0", "-cost → cost"]
    # Only the step, and what LEAST is made of:
    assert "\n4 to be judged in copies\n" in done.stdout


@pytest.mark.parametrize(
    ("source", "changes"),
    [
        ("a + b", ["a + b → a - b"]),
        ("a / b", ["a / b → a * b"]),
        ("a < b", ["a < b → a <= b", "a < b → a >= b"]),
        ("a == b", ["a == b → a != b"]),
        ("a and b", ["a and b → a or b"]),
        ("not a", ["not a → a"]),
        ("-a", ["-a → a"]),
        ("a if b else c", ["a if b else c → c if b else a"]),
        ("f(60)", ["60 → 61"]),
        ("def g():\n    f('kg')", ["'kg' → 'kg~'"]),
        ("UNITS = ('kg', 1)", ["1 → 2"]),
        ("f(True)", ["True → False"]),
        ("choose(a, b, c)", ["choose(a, b, c) → choose(a, c, b)"]),
        ("above(a, b)", ["above(a, b) → above(b, a)", "above(a, b) → opposite(above(b, a))"]),
        ("both(a, b)", ["both(a, b) → either(a, b)", "both(a, b) → b", "both(a, b) → a"]),
        ("only_if(a, b)", ["only_if(a, b) → b"]),
        ("opposite(a)", ["opposite(a) → a"]),
        ("known(a)", ["known(a) → opposite(known(a))"]),
        ("whole_up(a)", ["whole_up(a) → whole_down(a)"]),
        ("'A docstring.'", []),
        ("__all__ = ['a']", []),
        ("if a:\n    b()", ["a → not a"]),
    ],
)
def test_each_small_change(source: str, changes: list[str]) -> None:
    assert [mutant.change for mutant in mutants_of(source)] == changes


def test_a_change_is_on_the_lines_of_its_statement_up_to_what_it_holds() -> None:
    """So only the tests that come there can notice it."""
    source = "def f(a):\n    if (\n        a > 1\n    ):\n        return (\n            2)\n"
    assert {mutant.change: [*mutant.lines] for mutant in mutants_of(source)} == {
        "a > 1 → a >= 1": [2, 3, 4, 5],
        "a > 1 → a <= 1": [2, 3, 4, 5],
        "1 → 2": [2, 3, 4, 5],
        "2 → 3": [5, 6],
    }


def test_a_survivor_is_new_known_or_gone(tmp_path: Path) -> None:
    known = tmp_path / "survivors.toml"
    known.write_text(
        '[[survivor]]\nmodule = "a.py"\nfunction = "f"\nchanges = ["1 → 2", "3 → 4"]\n'
    )
    alive = [Mutant("f", "1 → 2", 7, ""), Mutant("f", "5 → 6", 9, "")]
    assert compared("a.py", [], {"g"}, known) == {}
    new, gone = compared("a.py", alive, {"f"}, known)["f"]
    assert new == (
        "a.py: no test notices line 9, f: 5 → 6. Write one, or list it in survivors.toml with a "
        "reason."
    )
    assert gone == "a.py: a test notices f: 3 → 4 now. Take it off survivors.toml."


ONCE = '''
"""Words."""

import a


def f(b):
    """Twice."""
    return b * 2


class G:
    c = 1

    def h(self):
        return 3
'''


@pytest.mark.parametrize(
    ("before", "after", "found"),
    [
        ("Twice.", "Two times.", []),
        ("Words.", "Other words.", []),
        ("import a", "import a, b", []),
        ("    return b", "\n    # so\n    return b", []),
        ("b * 2", "b * 3", ["f"]),
        ("f(b)", "f(b, d)", ["f"]),
        ("return 3", "return 4", ["G.h"]),
        ("c = 1", "c = 2", ["G"]),
        ("class G", "class K", ["K", "K.h"]),
    ],
)
def test_what_changed_since_it_was_judged(
    before: str, after: str, found: list[str], tmp_path: Path
) -> None:
    file = tmp_path / "judged.json"
    file.write_text('{"b.py": {"old": "1"}}')
    record("a.py", ONCE, ["f", "G", "G.h"], file)
    assert changed(ONCE, judged(file)["a.py"]) == []
    assert changed(ONCE.replace(before, after), judged(file)["a.py"]) == found
    record("a.py", ONCE.replace(before, after), [], file)  # what isn't judged is forgotten
    assert changed(ONCE.replace(before, after), judged(file)["a.py"]) == found
    assert judged(file)["b.py"] == {"old": "1"}
    assert sorted(changed(ONCE, None)) == ["G", "G.h", "f"]


def test_every_declared_module_has_tests_that_are_there() -> None:
    assert all((ROOT / test).exists() for tests in CONCERNS.values() for test in tests)
    declared = modules(ROOT, [])
    assert "costbook/definitions/rules.py" in declared
    assert "costbook/reading/quantities.py" in declared
    assert all(concerned(module) for module in declared)
    with pytest.raises(KeyError, match="no tests are declared"):
        concerned("costbook/cli.py")


def test_every_known_survivor_is_of_a_function_that_is_there_and_has_a_reason() -> None:
    """Whether the list is true today is the command's question; it takes minutes."""
    for each in tomllib.loads(LIST.read_text(encoding="utf-8"))["survivor"]:
        source = (ROOT / each["module"]).read_text(encoding="utf-8")
        function = each["function"].rpartition(".")[2]
        there = (f"def {function}(", f"class {function}:", f"class {function}(")
        assert function == "module" or any(each in source for each in there)
        assert each["changes"]
        assert each["reason"]
