"""A workbook opened far enough to graft: its list of sheets, defined names and relations."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from costbook.package.damage import damaged
from costbook.package.members import Package
from costbook.package.relations import (
    CONTENT_TYPES,
    ROOT,
    Relation,
    Types,
    relations,
    types,
)
from costbook.package.xml import Element, Malformed, children, local, parse, whole

__all__ = [
    "MAIN",
    "OFFICE",
    "STRICT_OFFICE",
    "Opened",
    "Tab",
    "names_in",
    "opened",
    "sheet_named",
    "table_names",
]

MAIN: Final = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE: Final = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
STRICT_OFFICE: Final = "http://purl.oclc.org/ooxml/officeDocument/relationships"

_SHEET_OF: Final = re.compile(r"\s*=?\s*\$?(?:'((?:[^']|'')+)'|([^'!\s]+))!")
_TABLE: Final = "spreadsheetml.table+xml"


@dataclass(frozen=True, slots=True)
class Tab:
    """One sheet as the workbook lists it; `part` is empty where the list leads nowhere."""

    name: str
    sheet_id: int
    relation: str
    state: str
    part: str
    kind: str
    element: Element


@dataclass(frozen=True, slots=True)
class Opened:
    """A package, its workbook part, and what that part lists."""

    package: Package
    part: str
    root: Element
    relations: tuple[Relation, ...]
    types: Types
    tabs: tuple[Tab, ...]

    def one(self, name: str) -> Element | None:
        """The workbook's child element of that name, if it has one."""
        return next(children(self.root, name), None)

    def promised(self, kind: str) -> str:
        """The part that a relation of that kind leads to, where the package lacks it."""
        found = (each.target for each in self.relations if each.kind == kind and not each.outside)
        part = next(found, "")
        sound = part and ".." not in part.split("/") and not part.endswith("/")
        return part if sound and part not in self.package else ""

    def related(self, kind: str) -> str:
        """The part that the workbook's relation of that kind leads to; empty if none."""
        found = (each.target for each in self.relations if each.kind == kind and not each.outside)
        return next((part for part in found if part in self.package), "")


def opened(package: Package) -> Opened:
    """The package with its list of sheets. Raises Refused when it holds no workbook."""
    try:
        part = next(
            each.target for each in relations(package, ROOT) if each.kind == "officeDocument"
        )
        root = parse(package.data(part))
        declared = types(parse(package.data(CONTENT_TYPES)))
        linked = relations(package, part)
    except (StopIteration, Malformed) as error:
        raise damaged("its list of sheets can't be read") from error
    return Opened(package, part, root, linked, declared, _tabs(root, linked))


def _tabs(root: Element, linked: tuple[Relation, ...]) -> tuple[Tab, ...]:
    by_id = {each.id: each for each in linked}
    listed = next(children(root, "sheets"), None)
    return () if listed is None else tuple(_tab(each, by_id) for each in children(listed, "sheet"))


def _tab(element: Element, by_id: dict[str, Relation]) -> Tab:
    relation = element.get(f"{{{OFFICE}}}id", "") or element.get(f"{{{STRICT_OFFICE}}}id", "")
    leads = by_id.get(relation)
    return Tab(
        name=element.get("name", ""),
        sheet_id=whole(element.get("sheetId")),
        relation=relation,
        state=element.get("state", "visible"),
        part=leads.target if leads and not leads.outside else "",
        kind=leads.kind if leads else "",
        element=element,
    )


def names_in(book: Opened) -> tuple[Element, ...]:
    """The workbook's defined names."""
    listed = book.one("definedNames")
    return () if listed is None else tuple(children(listed, "definedName"))


def sheet_named(formula: str) -> str:
    """The sheet that a reference such as `'To put right'!$A$1` names; empty if it names none."""
    found = _SHEET_OF.match(formula)
    return (found[1] or "").replace("''", "'") or found[2] or "" if found else ""


def table_names(book: Opened) -> set[str]:
    """The names of the workbook's tables, as written."""
    parts = (each for each in book.package.members if book.types.of(each.name).endswith(_TABLE))
    roots = (parse(each.data) for each in parts)
    tables = [root for root in roots if local(root) == "table"]
    return {root.get(which, "") for root in tables for which in ("name", "displayName")} - {""}
