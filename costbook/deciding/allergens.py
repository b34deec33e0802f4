"""What a cell says of allergens: in their usual form, or as typed; and whether it says it at all.

A blank says nothing, and never none. What a cell leaves open is open for whatever the item is in.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

from costbook.book import one_line
from costbook.definitions.allergen_words import (
    ALLERGENS,
    NONE_IN_IT,
    SAYS_NOTHING,
    allergen_key,
)
from costbook.definitions.marks import is_ditto

__all__ = ["KNOWN_WORDS", "FoundAllergen", "SaidOfAllergens", "in_words", "said_of_allergens"]


class FoundAllergen(NamedTuple):
    """An allergen by its usual name, and the kind of it that was named, or nothing."""

    name: str
    kind: str = ""


@dataclass(frozen=True, slots=True)
class SaidOfAllergens:
    """What a cell says: what is in it, what may be, and what it leaves open."""

    contains: tuple[FoundAllergen, ...] = ()
    may_contain: tuple[FoundAllergen, ...] = ()
    is_known: bool = False
    """Whether it says what is in it, or that nothing is."""
    not_in_it: tuple[str, ...] = ()
    """Words that say what is not in it, which leave the rest open."""
    as_typed: tuple[str, ...] = ()
    """Words that are none of those known here."""


def _words() -> dict[str, FoundAllergen]:
    found: dict[str, FoundAllergen] = {}
    for allergen in ALLERGENS:
        for word in (allergen.name, *allergen.also):
            found[allergen_key(word)] = FoundAllergen(allergen.name)
        for kind, others in allergen.kinds.items():
            for word in (kind, *others):
                found[allergen_key(word)] = FoundAllergen(allergen.name, kind)
    return found


_FOUND: Final = _words()
_ORDER: Final = {allergen.name: at for at, allergen in enumerate(ALLERGENS)}
KNOWN_WORDS: Final = tuple(
    word for each in ALLERGENS for word in (each.name, *each.also, *each.kinds)
)
"""Every word that is known here, as it is written."""

_MAY: Final = re.compile(
    r"\(?\b(?:(?:may|might|can) (?:also )?contain|(?:with )?traces? of)\b:?", re.IGNORECASE
)
_APART: Final = re.compile(r"[,;/|+\n](?![^(]*\))")
"""What parts one word from the next, outside brackets."""
_JOINED: Final = re.compile(r"\s*(?:&|\band\b|\bor\b)\s*(?![^(]*\))", re.IGNORECASE)
_BEFORE: Final = re.compile(r"^(?:allergens?|contains?|with|has|and)\b:?\s*", re.IGNORECASE)
_NOT: Final = re.compile(r"\b(?:no|not|non|without|free|doesn't|0)\b", re.IGNORECASE)
_KIND: Final = re.compile(r"(.+?)\s*[(:]\s*(.+?)\s*\)?")


def said_of_allergens(text: str) -> SaidOfAllergens:
    """What the text of an Allergens cell says."""
    before, *rest = _MAY.split(text)
    contains, none, left_open, denied, strange = _read(before)
    may, _, may_open, may_denied, may_strange = _read(", ".join(rest))
    denied, left_open = (*denied, *may_denied), left_open or may_open
    return SaidOfAllergens(
        _once(contains),
        tuple(each for each in _once(may) if each not in contains),
        (bool(contains) or none) and not left_open,
        denied,
        (*strange, *may_strange),
    )


def _read(text: str) -> tuple[list[FoundAllergen], bool, bool, tuple[str, ...], tuple[str, ...]]:
    """What is named, whether none is, whether something is left open; what isn't in it; strange."""
    found: list[FoundAllergen] = []
    none, left_open = False, False
    denied: list[str] = []
    strange: list[str] = []
    whole = allergen_key(one_line(text))
    if whole in SAYS_NOTHING or is_ditto(text):
        return found, none, True, (), ()
    for word in _apart(text):
        key = allergen_key(word)
        if key in NONE_IN_IT:
            none = True
        elif key in _FOUND:
            found.append(_FOUND[key])
        elif key in SAYS_NOTHING or not any(map(str.isalpha, word)):
            left_open = True
        elif _NOT.search(word):
            denied.append(word)
        else:
            kinds = list(_of_a_kind(word))
            found += kinds or [FoundAllergen(word)]
            strange += [] if kinds else [word]
    return found, none, left_open, tuple(denied), tuple(strange)


def _apart(text: str) -> Iterator[str]:
    """The words of a list; one with a question mark behind it is in it, and left open."""
    for part in _APART.split(text):
        whole = _BEFORE.sub("", one_line(part)).strip(" .*:-–—")
        whole = whole if "(" in whole else whole.strip(")")
        known = allergen_key(whole) in _FOUND
        for word in [whole] if known else _JOINED.split(whole):
            yield from filter(None, (word.strip(" ?"), "?" if "?" in word else ""))


def _of_a_kind(word: str) -> Iterator[FoundAllergen]:
    """The kinds named in brackets behind an allergen: tree nuts (almonds, walnuts).

    One that is an allergen by itself is named by itself, too: nobody knows which was meant.
    """
    match = _KIND.fullmatch(word)
    named = _FOUND.get(allergen_key(match[1])) if match else None
    if match is None or named is None:
        return
    for part in _APART.split(match[2]):
        for kind in _JOINED.split(one_line(part)):
            usual = _FOUND.get(allergen_key(kind))
            known = usual is not None and usual.name == named.name
            yield FoundAllergen(named.name, usual.kind if usual and known else kind)
            if usual and not known:
                yield usual


def _once(found: Iterable[FoundAllergen]) -> tuple[FoundAllergen, ...]:
    return tuple(dict.fromkeys(found))


def in_words(found: Iterable[FoundAllergen]) -> tuple[str, ...]:
    """Allergens as a label names them, each once, its kinds in brackets; the usual ones first."""
    kinds: dict[str, list[str]] = {}
    for each in sorted(found, key=lambda each: (_ORDER.get(each.name, len(_ORDER)), each)):
        named = kinds.setdefault(each.name, [])
        if each.kind and each.kind not in named:
            named.append(each.kind)
    return tuple(f"{name} ({', '.join(of)})" if of else name for name, of in kinds.items())
