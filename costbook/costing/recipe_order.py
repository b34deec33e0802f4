"""In which order recipes are costed: each after those it uses; a circle is cut, and remembered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from graphlib import CycleError, TopologicalSorter

from costbook.book import Record, as_key

__all__ = ["in_order", "used_by"]

Use = tuple[str, str]
"""The keys of a recipe and of one that it uses."""


def used_by(lines: Mapping[str, Sequence[Record]], others: Iterable[str]) -> dict[str, list[str]]:
    """Each recipe's key → the keys of the recipes among its lines, given the lines by recipe."""
    keys = dict.fromkeys([*lines, *others])
    return {
        key: [used for line in lines.get(key, ()) if (used := as_key(line.text("uses"))) in keys]
        for key in keys
    }


def in_order(uses: Mapping[str, Sequence[str]]) -> tuple[list[str], dict[Use, tuple[str, ...]]]:
    """The recipes in order, and each use that was cut → the circle that it closed."""
    left = {key: list(used) for key, used in uses.items()}
    cut: dict[Use, tuple[str, ...]] = {}
    while True:
        try:
            return list(TopologicalSorter(left).static_order()), cut
        except CycleError as error:
            loop: list[str] = error.args[1]
            used, user = loop[:2]
            left[user] = [key for key in left[user] if key != used]
            cut[user, used] = tuple(loop)
