"""Every single small change to a module that ought to change what it says.

A text that a module declares outside its functions stays as it is: a name that leads nowhere is
refused when the tables are imported (definitions/wiring.py), and the words that are shown are held
word for word by tests/test_messages.py and the tests of sheets.
"""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

__all__ = ["Mutant", "mutants_of"]

ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div, ast.Mod: ast.FloorDiv,
}  # fmt: skip
COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt), ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,), ast.In: (ast.NotIn,), ast.NotIn: (ast.In,),
}  # fmt: skip
OTHER_CALL = {
    "both": "either", "either": "both", "whole_up": "whole_down", "whole_down": "whole_up",
    "min": "max", "max": "min", "any": "all", "all": "any",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Mutant:
    """A module with one change: in which function, which change, and the source that results.

    ``lines`` are those of the statement that is changed, up to what it holds inside; ``which``
    counts changes of the same words in one function, from 1.
    """

    function: str
    change: str
    line: int
    source: str
    which: int = 1
    lines: range = range(0)

    @property
    def key(self) -> tuple[str, str]:
        """What the list of survivors knows it by: no line number, which moves."""
        nth = f" (number {self.which})" if self.which > 1 else ""
        return self.function, f"{self.change}{nth}"

    def __str__(self) -> str:
        function, change = self.key
        return f"line {self.line}, {function}: {change}"


def mutants_of(source: str) -> list[Mutant]:
    """All mutants of a module's source."""
    tree = ast.parse(source)
    found: list[Mutant] = []
    seen: Counter[tuple[str, str]] = Counter()
    for function, lines, node, parent, field, at in list(_places(tree, "module", range(0))):
        decides = isinstance(parent, ast.If | ast.While) and field == "test"
        for other in _others(node, decides=decides):
            change = f"{_short(node)} → {_short(other)}"
            seen[function, change] += 1
            which, text = seen[function, change], _with(tree, parent, field, at, other)
            found.append(Mutant(function, change, getattr(node, "lineno", 0), text, which, lines))
    return found


def _short(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= 90 else f"{text[:60]} … {text[-27:]}"


Place = tuple[str, range, ast.expr, ast.AST, str, int | None]


def _places(node: ast.AST, function: str, lines: range) -> Iterator[Place]:
    """Every expression that may be changed: in which function and lines, and where it hangs."""
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns", "decorator_list", "bases", "type_params"):
            continue
        for at, child in enumerate(value) if isinstance(value, list) else ((None, value),):
            if not isinstance(child, ast.AST) or _says_only(child):
                continue
            inside = _inside(child, function)
            held = _lines(child) if isinstance(child, ast.stmt) else lines
            declared = inside == "module" and _is_text(child)
            if isinstance(child, ast.expr) and not declared:
                yield inside, held, child, node, field, at
            if not isinstance(child, ast.JoinedStr):
                yield from _places(child, inside, held)


def _lines(statement: ast.stmt) -> range:
    """A statement's own lines, without those of the statements in its body."""
    body = getattr(statement, "body", None)
    last = body[0].lineno if body else statement.end_lineno or statement.lineno
    return range(statement.lineno, last + 1)


def _inside(node: ast.AST, function: str) -> str:
    """The function that a node's own parts are in."""
    if not isinstance(node, ast.FunctionDef | ast.ClassDef):
        return function
    return node.name if function == "module" else f"{function}.{node.name}"


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _says_only(node: ast.AST) -> bool:
    """Whether it is words to a reader: a docstring, what a module exports, an import, an alias."""
    if isinstance(node, ast.Import | ast.ImportFrom | ast.Assert | ast.Raise):
        return True
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)
    if isinstance(node, ast.Assign):
        return any(isinstance(t, ast.Name) and t.id == "__all__" for t in node.targets)
    return False


def _others(node: ast.expr, *, decides: bool) -> Iterator[ast.expr]:
    """What might stand in an expression's place; the opposite of what an `if` decides by."""
    if decides and not isinstance(node, ast.Compare | ast.UnaryOp):
        yield ast.UnaryOp(ast.Not(), node)
    match node:
        case ast.BinOp(left, op, right) if type(op) in ARITHMETIC:
            yield ast.BinOp(left, ARITHMETIC[type(op)](), right)
        case ast.Compare(left, [op], right):
            for other in COMPARISONS[type(op)]:
                yield ast.Compare(left, [other()], right)
        case ast.BoolOp(op, values):
            yield ast.BoolOp(ast.Or() if isinstance(op, ast.And) else ast.And(), values)
        case ast.UnaryOp(ast.Not() | ast.USub(), operand):
            yield operand
        case ast.IfExp(test, body, orelse):
            yield ast.IfExp(test, orelse, body)
        case ast.Constant(value):
            yield from _constants(value)
        case ast.Call(ast.Name(name), args, _):
            yield from _calls(node, name, args)


def _constants(value: object) -> Iterator[ast.expr]:
    match value:
        case bool():
            yield ast.Constant(not value)
        case int() | float():
            yield ast.Constant(value + 1)
        case str():
            yield ast.Constant(f"{value}~")


def _calls(node: ast.Call, name: str, args: list[ast.expr]) -> Iterator[ast.expr]:
    """Changes in the words that rules are written in."""

    def with_args(*others: ast.expr, called: str = name) -> ast.Call:
        return ast.Call(ast.Name(called), list(others), node.keywords)

    if name in OTHER_CALL:
        yield with_args(*args, called=OTHER_CALL[name])
    if name in ("both", "either") and len(args) > 1:
        for left_out in range(len(args)):
            rest = args[:left_out] + args[left_out + 1 :]
            yield rest[0] if len(rest) == 1 else with_args(*rest)
    if name == "choose" and len(args) == 3:
        yield with_args(args[0], args[2], args[1])
    if name == "above" and len(args) == 2:
        yield with_args(args[1], args[0])
        yield ast.Call(ast.Name("opposite"), [with_args(args[1], args[0])], [])
    if name == "opposite":
        yield args[0]
    if name == "only_if":
        yield args[1]
    if name in ("known", "same"):
        yield ast.Call(ast.Name("opposite"), [node], [])


def _with(tree: ast.Module, parent: ast.AST, field: str, at: int | None, other: ast.expr) -> str:
    """The module's source with one expression replaced; the tree is left as it was."""
    old = getattr(parent, field)
    setattr(parent, field, other if at is None else [*old[:at], other, *old[at + 1 :]])
    try:
        return ast.unparse(tree)
    finally:
        setattr(parent, field, old)
