"""Which functions stand as they were judged: a fingerprint of each, in `judged.json`.

The command judges what changed since, so that all of it can be judged in a moment, and what isn't
is known. Words to a reader don't count, nor does a test that was taken away: `--all` judges anew.
"""

from __future__ import annotations

import ast
import hashlib
import json
from collections import defaultdict
from collections.abc import Collection, Mapping
from pathlib import Path

from tests.mutations.mutants import mutants_of

__all__ = ["JUDGED", "changed", "fingerprints", "judged", "record"]

JUDGED = Path(__file__).with_name("judged.json")


def judged(file: Path = JUDGED) -> dict[str, dict[str, str]]:
    """By module and function, the fingerprint of what was judged, each survivor with a reason."""
    found: dict[str, dict[str, str]] = json.loads(file.read_text(encoding="utf-8"))
    return found


def fingerprints(source: str) -> dict[str, str]:
    """Of each function that can be changed in some way: what tells it from any other."""
    apart = _Apart()
    apart.found["module"].append(ast.unparse(apart.visit(ast.parse(source))))
    return {
        function: hashlib.sha256("\n".join(apart.found[function]).encode()).hexdigest()[:8]
        for function in dict.fromkeys(mutant.function for mutant in mutants_of(source))
    }


def changed(source: str, before: Mapping[str, str] | None) -> list[str]:
    """The functions of a module that don't stand as they were judged."""
    now = fingerprints(source)
    return [function for function in now if (before or {}).get(function) != now[function]]


def record(module: str, source: str, done: Collection[str], file: Path = JUDGED) -> None:
    """Note that functions of a module were judged; those that are gone are forgotten."""
    now, known = fingerprints(source), judged(file)
    before = known.get(module, {})
    noted = {name: now[name] for name in now if name in done or before.get(name) == now[name]}
    lines = {**known, module: noted}
    text = ",\n".join(f"{json.dumps(name)}: {json.dumps(lines[name])}" for name in sorted(lines))
    file.write_text(f"{{\n{text}\n}}\n", encoding="utf-8")


class _Apart(ast.NodeTransformer):
    """Takes each function out of what it is in, and notes its text without its docstring."""

    def __init__(self) -> None:
        self.within: list[str] = []
        self.found: dict[str, list[str]] = defaultdict(list)

    def visit_FunctionDef(self, node: ast.FunctionDef | ast.ClassDef) -> ast.AST:  # ast's own name
        self.within.append(node.name)
        self.generic_visit(node)
        said = ast.get_docstring(node) is not None
        node.body = node.body[said:] or [ast.Pass()]
        self.found[".".join(self.within)].append(ast.unparse(node))
        self.within.pop()
        return ast.Expr(ast.Name(node.name))

    visit_ClassDef = visit_FunctionDef  # noqa: N815  # ast's own name

    def visit_Module(self, node: ast.Module) -> ast.AST:  # ast's own name
        node.body = [
            each for each in node.body if not isinstance(each, ast.Import | ast.ImportFrom)
        ]
        said = ast.get_docstring(node) is not None
        node.body = node.body[said:]
        return self.generic_visit(node)
