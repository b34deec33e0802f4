"""When two names are so alike that one of them may be a slip of the other."""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import lru_cache

__all__ = ["Alike", "alike", "nearly", "same_words", "words_of"]

_LONG_ENOUGH = 3
"""Letters from which one may be mistyped, and the name still be known."""

_LONGEST = 80
"""Letters of a name that are compared: a longer one is a note."""


def _spelled(name: str) -> str:
    """A name in small letters without accents, everything else a space."""
    plain = unicodedata.normalize("NFKD", name[:_LONGEST].casefold())
    return "".join(c if c.isalnum() else " " for c in plain if not unicodedata.combining(c))


@lru_cache(maxsize=10_000)
def words_of(name: str) -> tuple[str, ...]:
    """A name's words and numbers in one order, those of several in the singular."""
    return tuple(sorted(_one_only(word) for word in _spelled(name).split()))


def _one_only(word: str) -> str:
    """A word without the ending of the plural."""
    for ending in ("es", "s"):
        if word.endswith(ending) and len(word) - len(ending) >= _LONG_ENOUGH:
            return word.removesuffix(ending)
    return word


@lru_cache(maxsize=10_000)
def _letters(name: str) -> str:
    """The letters of a name in their own order."""
    return _spelled(name).replace(" ", "")


def same_words(one: str, other: str) -> bool:
    """Do two names differ by no more than spaces, signs, accents, order or the plural?"""
    if not _letters(one):
        return False
    return _letters(one) == _letters(other) or words_of(one) == words_of(other)


def alike(one: str, other: str) -> bool:
    """Do two names have the same words, but for one slip?

    A slip is a letter left out, put in, changed, or two that changed places. Another number, or
    another letter that stands alone, is another thing: Tray 30, Stall B.
    """
    if same_words(one, other):
        return True
    telling = _telling(one) == _telling(other)
    return telling and _one_slip(_letters(one), _letters(other))


def nearly(one: str, other: str) -> bool:
    """May one name be a bad slip of the other: Flower for Flour, Leak for Leeks?

    As a whole, or word for word.
    """
    if _telling(one) != _telling(other):
        return False
    mine, others = words_of(one), words_of(other)
    pairs = map(_likeness, mine, others)
    by_word = len(mine) == len(others) and all(alike >= _WORD_FOR_WORD for alike in pairs)
    return by_word or _likeness(_letters(one), _letters(other)) >= _AS_A_WHOLE


_WORD_FOR_WORD, _AS_A_WHOLE = 0.65, 0.85
"""How alike words, and names, must be to be taken for a slip where one of them leads nowhere."""


def _likeness(one: str, other: str) -> float:
    from difflib import SequenceMatcher  # needed only when something was mistyped

    return SequenceMatcher(None, one, other).ratio()


def _telling(name: str) -> list[str]:
    """The words that no slip changes: numbers, and letters that stand alone."""
    return sorted(each for each in _spelled(name).split() if len(each) == 1 or not each.isalpha())


def _one_slip(one: str, other: str) -> bool:
    shorter, longer = sorted((one, other), key=len)
    if len(shorter) < _LONG_ENOUGH:
        return False
    pairs = enumerate(zip(shorter, longer, strict=False))
    start = next((at for at, (a, b) in pairs if a != b), len(shorter))
    if len(shorter) < len(longer):
        return shorter[start:] == longer[start + 1 :]
    swapped = shorter[start : start + 2] == longer[start : start + 2][::-1]
    rest = 2 if swapped else 1
    return shorter[start + rest :] == longer[start + rest :]


class Alike:
    """Some names, ready to be asked which are like another; a thousand take no time."""

    def __init__(self, names: Iterable[str]) -> None:
        self._with_trace: dict[str, list[str]] = defaultdict(list)
        for name in dict.fromkeys(names):
            for trace in _traces(name):
                self._with_trace[trace].append(name)

    def to(self, name: str) -> Iterator[str]:
        """The names that are like a name, each once."""
        found = (each for trace in _traces(name) for each in self._with_trace.get(trace, ()))
        return (each for each in dict.fromkeys(found) if alike(name, each))


def _traces(name: str) -> set[str]:
    """Texts of which two names that are alike have one in common: each with a letter left out."""
    letters = _letters(name)
    left_out = (letters[:at] + letters[at + 1 :] for at in range(len(letters)))
    return {letters, " ".join(words_of(name)), *left_out}
