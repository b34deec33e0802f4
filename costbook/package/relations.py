"""How the parts of a package hang together: relations from part to part, and content types."""

from __future__ import annotations

import posixpath
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final
from urllib.parse import unquote

from costbook.package.members import Package, key
from costbook.package.xml import Element, children, parse

__all__ = [
    "CONTENT_TYPES",
    "ROOT",
    "Relation",
    "Types",
    "reached",
    "relations",
    "rels_name",
    "resolved",
    "types",
]

CONTENT_TYPES: Final = "[Content_Types].xml"
ROOT: Final = ""
"""The source of the package's own relations."""


@dataclass(frozen=True, slots=True)
class Relation:
    """One relation: its id, the last word of its type, its target as a part name or as written."""

    id: str
    type: str
    target: str
    outside: bool

    @property
    def kind(self) -> str:
        """What is at the other end: `worksheet`, `styles`, `chart` ..."""
        return self.type.rpartition("/")[2]


@dataclass(frozen=True, slots=True)
class Types:
    """The declared content types: by file ending, and by part (compared as `key`)."""

    endings: dict[str, str]
    parts: dict[str, str]

    def of(self, name: str) -> str:
        """The content type of a part; empty when nothing declares one."""
        ending = name.rpartition("/")[2].rpartition(".")[2].lower()
        return self.parts.get(key(name)) or self.endings.get(ending, "")


def types(root: Element) -> Types:
    """The content types declared in `[Content_Types].xml`."""
    return Types(
        {
            each.get("Extension", "").lower(): each.get("ContentType", "")
            for each in children(root, "Default")
        },
        {
            key(each.get("PartName", "")): each.get("ContentType", "")
            for each in children(root, "Override")
        },
    )


def rels_name(part: str) -> str:
    """The name of the part that lists a part's relations."""
    folder, _, name = part.replace("\\", "/").rpartition("/")
    return f"{folder}/_rels/{name}.rels".lstrip("/")


def resolved(source: str, target: str) -> str:
    """The part a target written in the source's relations means; some programs write `\\` there."""
    folder = "/" + source.replace("\\", "/").rpartition("/")[0]
    plain = target.partition("#")[0].replace("\\", "/")
    return posixpath.normpath(posixpath.join(folder, plain)).lstrip("/")


def relations(package: Package, source: str) -> tuple[Relation, ...]:
    """The relations of a part (`ROOT` for the package); none when it lists none."""
    name = rels_name(source)
    if name not in package:
        return ()
    return tuple(_relation(package, source, each) for each in children(parse(package.data(name))))


def _relation(package: Package, source: str, element: Element) -> Relation:
    target = element.get("Target", "")
    outside = element.get("TargetMode", "") == "External" or target.startswith("#")
    if not outside:
        part = resolved(source, target)
        target = part if part in package else unquote(part)
    return Relation(element.get("Id", ""), element.get("Type", ""), target, outside)


def reached(package: Package, sources: Iterable[str], never: Iterable[str] = ()) -> set[str]:
    """The keys of the parts that can be reached from the sources, which are counted in.

    Relations of the parts in `never` aren't followed, nor are those parts counted.
    """
    closed = {key(each) for each in never}
    seen: set[str] = set()
    waiting = list(sources)
    while waiting:
        part = waiting.pop()
        if key(part) in seen or key(part) in closed:
            continue
        seen.add(key(part))
        waiting += [each.target for each in relations(package, part) if not each.outside]
    return seen
