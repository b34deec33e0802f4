"""Names that are nearly the same: offered to the person, never taken."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from typing import Final

from costbook.book import one_line

__all__ = ["NearNames", "did_you_mean"]

_CLOSE: Final = 0.6
_LOOKED_AT: Final = 8


def _pairs(text: str) -> list[str]:
    """The letters of a text two by two, its ends marked."""
    marked = f" {text.lower()[:60]} "
    return [marked[at : at + 2] for at in range(len(marked) - 1)]


class NearNames:
    """Some names, ready to be asked which is nearest to a text.

    Few of a thousand names share pairs of letters with a text; only those are compared closely,
    so that a thousand slips in a workbook don't take minutes.
    """

    def __init__(self, names: Iterable[str]) -> None:
        self._sizes = {name: len(_pairs(name)) for name in names}
        self._with_pair: dict[str, list[str]] = defaultdict(list)
        for name in self._sizes:
            for pair in set(_pairs(name)):
                self._with_pair[pair].append(name)

    def nearest(self, text: str, close: float = _CLOSE) -> str:
        """The nearest other name; empty if none is close."""
        from difflib import SequenceMatcher  # needed only when something was mistyped

        shared: Counter[str] = Counter()
        pairs = set(_pairs(text))
        for pair in pairs:
            shared.update(self._with_pair.get(pair, ()))
        likely = sorted(shared, key=lambda name: -shared[name] / (len(pairs) + self._sizes[name]))
        best, ratio = "", close
        for name in likely[:_LOOKED_AT]:
            found = SequenceMatcher(None, text.lower(), name.lower()).ratio()
            if found >= ratio and name != text:
                best, ratio = name, found
        return best


def did_you_mean(text: str, names: NearNames, otherwise: str) -> str:
    """The nearest name as an offer, else what to do."""
    near = names.nearest(text)
    return f'Did you mean "{one_line(near)}"?' if near else otherwise
