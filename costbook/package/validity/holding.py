"""Checks of how the package holds together: content types, relations, and ids that use them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Final

from costbook.package.members import key
from costbook.package.relations import CONTENT_TYPES, Relation, rels_name
from costbook.package.tabs import OFFICE, STRICT_OFFICE
from costbook.package.validity.subject import Subject
from costbook.package.xml import Element, children, local

__all__ = ["holding_faults", "repeated"]

_SPREADSHEET: Final = "application/vnd.openxmlformats-officedocument.spreadsheetml."
_DRAWING: Final = "application/vnd.openxmlformats-officedocument.drawing"
_KINDS: Final = {
    "worksheet": (f"{_SPREADSHEET}worksheet+xml",),
    "chartsheet": (f"{_SPREADSHEET}chartsheet+xml",),
    "dialogsheet": (f"{_SPREADSHEET}dialogsheet+xml",),
    "styles": (f"{_SPREADSHEET}styles+xml",),
    "sharedStrings": (f"{_SPREADSHEET}sharedStrings+xml",),
    "calcChain": (f"{_SPREADSHEET}calcChain+xml",),
    "comments": (f"{_SPREADSHEET}comments+xml",),
    "table": (f"{_SPREADSHEET}table+xml",),
    "pivotTable": (f"{_SPREADSHEET}pivotTable+xml",),
    "drawing": (f"{_DRAWING}+xml",),
    "chart": (f"{_DRAWING}ml.chart+xml",),
    "vmlDrawing": ("application/vnd.openxmlformats-officedocument.vmlDrawing",),
}
_ID_SPACES: Final = (f"{{{OFFICE}}}", f"{{{STRICT_OFFICE}}}")
_ROOTS: Final = {
    "worksheet": "worksheet",
    "chartsheet": "chartsheet",
    "styles": "styleSheet",
    "sharedStrings": "sst",
    "comments": "comments",
    "table": "table",
    "drawing": "wsDr",
    "chart": "chartSpace",
    "officeDocument": "workbook",
}
_ID_OF: Final = {
    "sheet": {"worksheet", "chartsheet", "dialogsheet", "xlMacrosheet", "xlIntlMacrosheet"},
    "drawing": {"drawing"},
    "legacyDrawing": {"vmlDrawing"},
    "legacyDrawingHF": {"vmlDrawing"},
    "tablePart": {"table"},
    "hyperlink": {"hyperlink"},
    "picture": {"image"},
    "pivotCache": {"pivotCacheDefinition"},
    "externalReference": {"externalLink", "externalLinkLongPath", "xlExternalLinkPath"},
    "chart": {"chart"},
}


def holding_faults(subject: Subject) -> Iterator[str]:
    """Faults in content types and relations."""
    yield from _declarations(subject)
    for part, linked in subject.relations.items():
        yield from _relations(subject, part, linked)
    for member in subject.package.members:
        root = subject.roots.get(key(member.name))
        if root is not None and not member.name.endswith(".rels"):
            yield from _ids_used(subject, member.name, root)
        yield from _unowned(subject, member.name)


def repeated(values: list[str]) -> list[str]:
    """The values that occur more than once."""
    return [value for value, times in Counter(values).items() if times > 1]


def _declarations(subject: Subject) -> Iterator[str]:
    root = subject.roots[key(CONTENT_TYPES)]
    parts = [key(each.get("PartName", "")) for each in children(root, "Override")]
    endings = [each.get("Extension", "").lower() for each in children(root, "Default")]
    for name in repeated(parts) + repeated(endings):
        yield f"{CONTENT_TYPES}: {name} is declared twice."
    for member in subject.package.members:
        plain = member.name != CONTENT_TYPES and not member.name.endswith("/")
        if plain and not subject.types.of(member.name):
            yield f"{CONTENT_TYPES}: it says nothing of {member.name}."


def _relations(subject: Subject, part: str, linked: tuple[Relation, ...]) -> Iterator[str]:
    where = rels_name(part)
    for name in repeated([each.id for each in linked]):
        yield f"{where}: the id {name} is used twice."
    for each in linked:
        if not each.id or not each.type:
            yield f"{where}: a relation lacks its id or its type."
        elif not each.outside and each.target not in subject.package:
            yield f"{where}: {each.id} leads to {each.target}, which isn't there."
        elif not each.outside:
            yield from _end(subject, where, each)


def _end(subject: Subject, where: str, relation: Relation) -> Iterator[str]:
    """The part at the other end must be of the kind that the relation says."""
    allowed, declared = _KINDS.get(relation.kind), subject.types.of(relation.target)
    if allowed and declared not in allowed:
        yield (
            f"{where}: {relation.id} says that {relation.target} is a {relation.kind},"
            f" but it is declared as {declared}."
        )
    root, wanted = subject.roots.get(key(relation.target)), _ROOTS.get(relation.kind)
    if root is not None and wanted and local(root) != wanted:
        yield f"{relation.target}: it should hold a {wanted} and holds a {local(root)}."


def _ids_used(subject: Subject, part: str, root: Element) -> Iterator[str]:
    """Every id of a relation that the part uses must exist, and lead to the right kind."""
    known = {each.id: each.kind for each in subject.relations.get(key(part), ())}
    for element in root.iter():
        for name, value in _texts(element):
            if not value or not name.startswith(_ID_SPACES):
                continue
            if value not in known:
                yield f"{part}: <{local(element)}> uses the relation {value}, which isn't there."
            elif known[value] not in _ID_OF.get(local(element), {known[value]}):
                yield f"{part}: <{local(element)}> uses {value}, a {known[value]}."


def _texts(element: Element) -> list[tuple[str, str]]:
    return [(str(name), str(value)) for name, value in element.items()]


def _unowned(subject: Subject, name: str) -> Iterator[str]:
    folder, _, file = name.replace("\\", "/").rpartition("_rels/")
    if file.endswith(".rels") and file != ".rels":
        owner = folder + file.removesuffix(".rels")
        if owner not in subject.package:
            yield f"{name}: it lists the relations of {owner}, which isn't there."
