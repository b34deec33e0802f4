"""What costbook left on each of its sheets, in short, to be compared with what stands there later.

An imprint says of every cell whether it held a text or number, a formula, a box to type into or
nothing, and holds a short hash of each text, number, formula and note. So a later run tells what
somebody typed there, though figures, rows and the program that saved the file have changed.
"""

from __future__ import annotations

import base64
import binascii
import json
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import blake2b
from typing import Final

__all__ = ["BOX", "FORMULA", "NOTHING", "VALUE", "Imprint", "Left", "bones", "folded", "of_number"]
__all__ += ["TICK", "short", "skin", "unfolded"]

NOTHING: Final = "."
VALUE: Final = "v"
FORMULA: Final = "f"
BOX: Final = "b"
TICK: Final = "t"
"""What a cell held; of a box it isn't said, since it waits for whatever is typed, or for a tick."""

_LINE: Final = 30_000
"""Characters of one cell of the sheet that remembers; a cell holds 32,767."""
_KEPT: Final = b"()=<>+-*/&^%,;{}\"'"
_DROPPED: Final = bytes(set(range(256)) - set(_KEPT))


@dataclass(frozen=True, slots=True)
class Imprint:
    """One sheet: a letter for each cell of each row from the first, and the hashes."""

    rows: tuple[str, ...] = ()
    values: frozenset[str] = frozenset()
    formulas: frozenset[str] = frozenset()
    notes: frozenset[str] = frozenset()
    drawings: int = 0

    def row(self, number: int) -> str:
        """What the cells of a row held, a letter each; rows count from 0."""
        return self.rows[number] if number < len(self.rows) else ""

    @property
    def filled(self) -> int:
        """How many cells held a text, a number or a formula."""
        return sum(len(row) - sum(map(row.count, (NOTHING, BOX, TICK))) for row in self.rows)


@dataclass(frozen=True, slots=True)
class Left:
    """All our sheets by title, and a hash of the person's own sheets beside them."""

    sheets: Mapping[str, Imprint] = field(default_factory=dict)
    beside: str = ""


def short(text: str) -> str:
    """A hash of a text, whatever its spaces and line ends: programs write these each their way."""
    return blake2b(" ".join(text.split()).encode(), digest_size=4).hexdigest()


def of_number(number: float) -> str:
    """A number as it is compared: programs keep 15 digits, some of them 17."""
    return f"{number:.12g}"


def skin(formula: bytes) -> bytes:
    """A formula without letters and digits: a million formulas have few skins."""
    return formula.translate(None, _DROPPED)


def bones(skinned: bytes) -> bytes:
    """What is left of a formula's skin without its texts and the tabs it names.

    It stays as it was when rows are put in or tabs renamed, and whoever saves the file.
    """
    bare = b'"'.join(skinned.split(b'"')[::2])
    return b"".join(bare.split(b"'")[::2]).replace(b"()", b"")


def folded(left: Left) -> list[str]:
    """The imprints as lines of text, each short enough for a cell."""
    said = {
        "beside": left.beside,
        "sheets": {
            title: {
                "rows": each.rows,
                "values": sorted(each.values),
                "formulas": sorted(each.formulas),
                "notes": sorted(each.notes),
                "drawings": each.drawings,
            }
            for title, each in left.sheets.items()
        },
    }
    squeezed = zlib.compress(json.dumps(said, separators=(",", ":")).encode(), 6)
    text = base64.b64encode(squeezed).decode("ascii")
    # all about as long, so that none looks like a word that somebody typed there
    size = -(-len(text) // -(-len(text) // _LINE))
    return [text[start : start + size] for start in range(0, len(text), size)]


def unfolded(lines: Iterable[str]) -> Left:
    """The imprints that lines hold; none where somebody changed the lines."""
    try:
        said = json.loads(_unsqueezed("".join(lines)))
        sheets = {str(title): _imprint(each) for title, each in said["sheets"].items()}
        return Left(sheets, str(said["beside"]))
    except (ValueError, TypeError, KeyError, AttributeError, zlib.error, binascii.Error):
        return Left()


_MOST_UNFOLDED: Final = 64 * 1024 * 1024


def _unsqueezed(text: str) -> bytes:
    """The bytes that were squeezed. Raises ValueError beyond what any workbook can need."""
    worker = zlib.decompressobj()
    data = worker.decompress(base64.b64decode(text, validate=True), _MOST_UNFOLDED)
    if not worker.eof:
        raise ValueError("more than any workbook needs, or cut short")
    return data


def _imprint(said: Mapping[str, object]) -> Imprint:
    def texts(name: str) -> Iterator[str]:
        listed = said[name]
        if not isinstance(listed, list):
            raise TypeError(name)
        return map(str, listed)

    return Imprint(
        tuple(texts("rows")),
        frozenset(texts("values")),
        frozenset(texts("formulas")),
        frozenset(texts("notes")),
        int(str(said["drawings"])),
    )
