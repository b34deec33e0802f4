"""The units people write, what each is worth in base units, and how a spelling is looked up.

`units.txt` beside this file says it all: each unit once, with its exact size, its source and its
spellings. costing needs only the exact sizes, so they are read here without pint; pint loads the
same file when a test asks for proofs of dimensions. This is the only module that knows pint.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import IntEnum
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from pint import UnitRegistry

__all__ = [
    "BASE_UNIT",
    "HOLDERS",
    "PARTS",
    "SPELLINGS",
    "UNITS",
    "WRAPPERS",
    "Measure",
    "Unit",
    "find_unit",
    "near_units",
    "registry",
    "unit_key",
]


class Measure(IntEnum):
    """The kinds of thing that can be measured; they cross only over an item's bridges."""

    WEIGHT = 1
    VOLUME = 2
    PIECE = 3
    LENGTH = 4
    AREA = 5


BASE_UNIT: Final[Mapping[Measure, str]] = MappingProxyType(
    {
        Measure.WEIGHT: "g",
        Measure.VOLUME: "ml",
        Measure.PIECE: "ea",
        Measure.LENGTH: "cm",
        Measure.AREA: "sq cm",
    }
)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: the name to show, its kind, its worth [base units each], its word for a piece.

    ``read_in`` says in which units people read what was bought in it: the one that prices are for,
    then the one for what is less than that, if there is another.
    """

    name: str
    measure: Measure
    factor: Decimal
    piece_word: str = ""
    read_in: tuple[str, ...] = ()


# A container that says nothing of what is in it. As a unit it is asked, never one piece:
# the same "case" holds 24 from one supplier and 36 from another.
WRAPPERS: Final = frozenset(
    {"bag", "bags", "box", "boxes", "bx", "carton", "cartons", "case", "cases", "crate", "crates"}
    | {"cs", "ctn", "ctns", "pack", "packs", "package", "packages", "packet", "packets", "pk"}
    | {"pkg", "pkgs", "pks", "pkt", "pkts", "sack", "sacks"}
)

# Words for a piece that say what holds a size rather than how many there are: 9 oz jars.
HOLDERS: Final = frozenset(
    {"block", "bottle", "bucket", "bunch", "can", "head", "jar", "keg", "loaf", "pot", "pouch"}
    | {"punnet", "roll", "sachet", "stick", "tray", "tub", "tube"}
)

# Words for a part of something: where one whole piece is bought, a slice of it is less than that.
PARTS: Final = frozenset(
    {"slice", "clove", "sprig", "stalk", "leaf", "rasher", "strip", "stick", "sheet"}
)

_DEFINITIONS: Final = Path(__file__).with_name("units.txt")
_NO_BREAK_SPACE: Final = "\u00a0"


def unit_key(text: str) -> str:
    """Return how a spelling is looked up: spaces tidied, lower case, but T apart from t.

    A spreadsheet gives the same, x being TRIM(SUBSTITUTE(cell, no-break space, " ")):
    IF(EXACT(x,"T"),"tbsp",IF(EXACT(x,"t"),"tsp",LOWER(x))). So no other tidying belongs here;
    a spelling with a dot is a spelling of its own.

    >>> unit_key("  Fl   Oz "), unit_key("T"), unit_key("t")
    ('fl oz', 'tbsp', 'tsp')
    """
    trimmed = " ".join(filter(None, text.replace(_NO_BREAK_SPACE, " ").split(" ")))
    return {"T": "tbsp", "t": "tsp"}.get(trimmed, trimmed.lower())


@dataclass(frozen=True, slots=True)
class _Entry:
    """A definition in the file: its name, its size, what people write for it and read it in."""

    name: str
    size: str
    written: list[str] = field(default_factory=list)
    read_in: list[str] = field(default_factory=list)


def _entries(text: str) -> list[_Entry]:
    """Return each definition in the file."""
    entries: list[_Entry] = []
    for line in text.splitlines():
        if line.startswith(("#:", "#>")):
            words = entries[-1].written if line.startswith("#:") else entries[-1].read_in
            words.extend(word.strip() for word in line[2:].split(","))
        elif "=" in (definition := line.partition("#")[0]):
            name, size = definition.split("=")
            entries.append(_Entry(name.strip().replace("_", " "), size.strip()))
    return entries


def _unit(entry: _Entry, read_in: Mapping[str, list[str]]) -> Unit:
    """Return the unit that a definition describes, its size one number of a base unit.

    ``read_in`` says in which units each base unit is read.
    """
    kinds = {base: kind for kind, base in BASE_UNIT.items()}
    if entry.name in kinds:
        return Unit(entry.name, kinds[entry.name], Decimal(1), read_in=tuple(entry.read_in))
    number, base = entry.size.replace("_", " ").split(" * ")
    measure, factor = kinds[base], Decimal(number)
    is_word = measure is Measure.PIECE and factor == 1
    own = tuple(entry.read_in or read_in.get(base, ()))
    return Unit(entry.name, measure, factor, entry.name if is_word else "", own)


def _spellings(text: str) -> Mapping[str, Unit]:
    """Return every key of every unit; refuse a spelling that two units claim."""
    found: dict[str, Unit] = {}
    read_in: dict[str, list[str]] = {}
    for entry in _entries(text):
        if not entry.written:  # money, minutes and miles are there for the proofs alone
            continue
        read_in[entry.name] = entry.read_in
        unit = _unit(entry, read_in)
        for spelling in (unit.name, *entry.written):
            if found.setdefault(unit_key(spelling), unit) is not unit:
                raise ValueError(f"units.txt: {spelling!r} is written for two units")
    return MappingProxyType(found)


SPELLINGS: Final = _spellings(_DEFINITIONS.read_text(encoding="utf-8"))
UNITS: Final = tuple(dict.fromkeys(SPELLINGS.values()))


def find_unit(text: str) -> Unit | None:
    """Return the unit a person means, or None where the spelling is not known.

    >>> find_unit("Ounces").name, find_unit("cases")
    ('oz', None)
    """
    return SPELLINGS.get(unit_key(text))


_NO_SLIPS: Final = frozenset(
    {"cooked", "fee", "free", "min", "mins", "pinch", "pinches", "see", "them"}
)
"""Words that look like a unit's and are words of their own: free is no slip for feet."""


def near_units(text: str) -> list[str]:
    """Return up to three spellings close to the text, each of another unit, the nearest first.

    >>> near_units("tabelspoon")
    ['tablespoon', 'teaspoon']
    """
    from difflib import get_close_matches  # needed only when something was mistyped

    if unit_key(text) in _NO_SLIPS:
        return []
    close = get_close_matches(unit_key(text)[:40], SPELLINGS, n=9, cutoff=0.7)
    one_each: dict[Unit, str] = {}
    for spelling in close:
        one_each.setdefault(SPELLINGS[spelling], spelling)
    return list(one_each.values())[:3]


@cache
def registry() -> UnitRegistry[Any]:
    """Return pint's reading of units.txt, with exact numbers; for proofs, so loaded when asked."""
    from pint import UnitRegistry  # a cook's run must not wait for it

    ours: UnitRegistry[Any] = UnitRegistry(None, non_int_type=Decimal)
    ours.load_definitions(_DEFINITIONS)
    return ours
