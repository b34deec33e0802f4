"""Names that are nearly the same: offered to the person, never taken."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator
from typing import Final

from costbook.book import one_line

__all__ = ["NearNames", "did_you_mean", "offer"]

_CLOSE: Final = 0.6
_ABOUT: Final = 0.1
"""How much less alike than the nearest a name may be, and still be meant."""
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
        best, ratio = "", close
        for name, found in self._compared(text):
            if found >= ratio:
                best, ratio = name, found
        return best

    def likely(self, text: str) -> list[str]:
        """All other names that are close, and about as close as the nearest; none if many are."""
        found = [(name, ratio) for name, ratio in self._compared(text) if ratio >= _CLOSE]
        best = max((ratio for _, ratio in found), default=0.0)
        likely = [name for name, ratio in found if ratio >= best - _ABOUT]
        return likely if len(likely) < _LOOKED_AT else []

    def _compared(self, text: str) -> Iterator[tuple[str, float]]:
        """The other names that share most with a text, and how alike each is."""
        from difflib import SequenceMatcher  # needed only when something was mistyped

        shared: Counter[str] = Counter()
        pairs = set(_pairs(text))
        for pair in pairs:
            shared.update(self._with_pair.get(pair, ()))
        likely = sorted(shared, key=lambda name: -shared[name] / (len(pairs) + self._sizes[name]))
        for name in likely[:_LOOKED_AT]:
            if name != text:
                yield name, SequenceMatcher(None, text.lower(), name.lower()).ratio()


def did_you_mean(text: str, names: NearNames, otherwise: str) -> str:
    """The nearest name as an offer, else what to do."""
    near = names.nearest(text)
    return f'Did you mean "{one_line(near)}"?' if near else otherwise


def offer(text: str, names: Collection[str]) -> str:
    """The name that is near, or is the only one with all words of the text; else all there are."""
    words = text.lower().split()
    holding = [name for name in names if all(word in name.lower() for word in words)]
    otherwise = f"There are: {', '.join(map(one_line, names))}."
    if words and len(holding) == 1:
        return f'Did you mean "{one_line(holding[0])}"?'
    return did_you_mean(text, NearNames(names), otherwise)
