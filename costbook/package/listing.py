"""The person's workbook part, relations and content types, with our sheets in them.

Everything of theirs stays as it is; what counts sheets (`localSheetId`, `activeTab`) keeps
meaning the same sheet.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import count
from typing import Final

from costbook.package.marks import is_mark, is_ours, mark, quoted, tab_marked
from costbook.package.members import key
from costbook.package.orders import WORKBOOK
from costbook.package.plan import GraftPlan
from costbook.package.relations import CONTENT_TYPES, rels_name, types
from costbook.package.tabs import OFFICE, Tab, names_in
from costbook.package.xml import Element, added, children, local, parse, placed, serialise, whole

__all__ = ["declared", "linked", "listed", "relative"]

_HIGH_SHEET_ID: Final = 65_000  # programs take numbers below 65,535
_OWN_ID: Final = re.compile(r"rId([0-9]+)\Z")


def relative(source: str, target: str) -> str:
    """The target part as the source's relations write it."""
    return posixpath.relpath("/" + target, "/" + source.rpartition("/")[0])


def linked(plan: GraftPlan, styles: str) -> tuple[bytes, dict[str, str]]:
    """The workbook's relations, and the relation of each sheet of ours by its tab name.

    `styles`: the styles part to link, empty when the person's workbook has one.
    """
    original = plan.book.package.data(rels_name(plan.book.part))
    root = parse(original)
    dropped = {tab.relation for tab in plan.gone} | _calculation_chain(plan)
    for each in list(children(root)):
        if each.get("Id") in dropped:
            root.remove(each)
    ids = {name: tab.relation for name, tab in plan.standing.items()}
    free = _free_ids((each.get("Id", "") for each in children(root)), set(ids.values()))
    if styles:
        _link(plan, root, next(free), "styles", styles)
    listed_now = {each.get("Id"): each for each in children(root)}
    for tab in plan.made.tabs:
        if tab.name in ids:
            root.append(listed_now[ids[tab.name]])  # to the end, so that ours keep our order
        else:
            ids[tab.name] = next(free)
            _link(plan, root, ids[tab.name], "worksheet", plan.brought[tab.part])
    return serialise(root, original), ids


def _calculation_chain(plan: GraftPlan) -> set[str]:
    return {each.id for each in plan.book.relations if each.kind == "calcChain"}


def _free_ids(present: Iterable[str], ours: set[str]) -> Iterator[str]:
    """Ids above the person's, the lowest first, so that a sheet that returns gets its own."""
    theirs = [_OWN_ID.match(each) for each in present if each not in ours]
    highest = max((int(found[1]) for found in theirs if found), default=0)
    return (name for number in count(highest + 1) if (name := f"rId{number}") not in ours)


def _link(plan: GraftPlan, root: Element, number: str, kind: str, part: str) -> None:
    target = relative(plan.book.part, part)
    added(root, "Relationship", {"Id": number, "Type": f"{OFFICE}/{kind}", "Target": target})


def declared(plan: GraftPlan, parts: Mapping[str, str], dropped: Iterable[str]) -> bytes:
    """The content types: those of parts that left taken out, those of `parts` put in."""
    original = plan.book.package.data(CONTENT_TYPES)
    root = parse(original)
    away = {*plan.leaving, *(key(each) for each in dropped)}
    for each in list(children(root, "Override")):
        if key(each.get("PartName", "")) in away:
            root.remove(each)
    known = types(root)
    for name, kind in parts.items():
        if known.of(name) != kind:
            added(root, "Override", {"PartName": f"/{name}", "ContentType": kind})
    return serialise(root, original)


def listed(plan: GraftPlan, ids: Mapping[str, str], recalculated: bool) -> bytes:
    """The workbook part. `ids`: the relation of each of our tabs."""
    root = plan.book.root
    placed(root, "bookViews", WORKBOOK)
    _seen(root)
    own = _sheets(plan, root, ids)
    after = list(children(placed(root, "sheets", WORKBOOK)))
    moved = {
        old: after.index(tab.element)
        for old, tab in enumerate(plan.book.tabs)
        if tab.element in after
    }
    _views(plan, root, moved, after)
    _names(plan, root, _scopes(plan, moved, after), {n: after.index(e) for n, e in own.items()})
    if recalculated:
        placed(root, "calcPr", WORKBOOK).set("fullCalcOnLoad", "1")
    return serialise(root, plan.book.package.data(plan.book.part))


def _scopes(plan: GraftPlan, moved: Mapping[int, int], after: list[Element]) -> Mapping[int, int]:
    """The sheets that names belong to, by number before and after; a number that no sheet bore
    goes on being none's, else the name would come to be one of ours."""
    before, used = (
        len(plan.book.tabs),
        (each.get("localSheetId", "") for each in names_in(plan.book)),
    )
    none = {int(each) for each in used if each.isdecimal() and int(each) >= before}
    return {**moved, **{each: each - before + len(after) for each in none}}


def _seen(root: Element) -> None:
    """A window on the workbook: a sheet's view must belong to one."""
    views = placed(root, "bookViews", WORKBOOK)
    if not len(views):
        added(views, "workbookView")


def _sheets(plan: GraftPlan, root: Element, ids: Mapping[str, str]) -> dict[str, Element]:
    """Our tabs' elements: those there stay, those gone leave, new ones come beside ours."""
    sheets = placed(root, "sheets", WORKBOOK)
    for tab in plan.gone:
        sheets.remove(tab.element)
    own = {name: tab.element for name, tab in plan.standing.items()}
    free = _free_sheet_ids(plan)
    before: Element | None = None
    for tab in plan.made.tabs:
        if tab.name not in own:
            own[tab.name] = _new_sheet(sheets, tab, next(free), ids[tab.name])
            _put(plan, own, before, own[tab.name])
        if tab.name not in _in_front(plan):
            before = own[tab.name]
    return own


def _free_sheet_ids(plan: GraftPlan) -> Iterator[int]:
    ours = {tab.sheet_id for tab in plan.standing.values()}
    theirs = {tab.sheet_id for tab in plan.book.tabs if tab not in plan.ours}
    highest = max(theirs, default=0)
    first = highest + 1 if highest < _HIGH_SHEET_ID else 1
    return (number for number in count(first) if number not in ours | theirs)


def _new_sheet(sheets: Element, tab: Tab, number: int, relation: str) -> Element:
    said = {"name": tab.name, "sheetId": str(number)}
    if tab.state != "visible":
        said["state"] = tab.state
    new = added(sheets, "sheet", said, {"r": OFFICE})
    new.set(f"{{{OFFICE}}}id", relation)
    return new


def _put(plan: GraftPlan, own: Mapping[str, Element], before: Element | None, new: Element) -> None:
    """Move a new sheet behind the one it was made behind, else before the first of ours."""
    apart = _in_front(plan)
    ours = [
        own[tab.name]
        for tab in plan.made.tabs
        if tab.name in plan.standing and tab.name not in apart
    ]
    ours += [] if plan.titles else [tab.element for tab in plan.kept]
    first = next(iter(ours), None)
    if new.get("name") in apart:
        plan.book.tabs[0].element.addprevious(new)
    elif before is not None:
        before.addnext(new)
    elif first is not None:
        first.addprevious(new)


def _in_front(plan: GraftPlan) -> set[str]:
    """The tab of ours that comes before all others, and isn't beside the rest of ours."""
    return {tab.name for tab in plan.made.tabs[:1]} if plan.in_front else set()


def _views(plan: GraftPlan, root: Element, moved: Mapping[int, int], after: list[Element]) -> None:
    """The sheet that was open stays the open one."""
    shown = next((n for n, each in enumerate(after) if each.get("state") in (None, "visible")), 0)
    for view in children(placed(root, "bookViews", WORKBOOK), "workbookView"):
        for attribute in ("activeTab", "firstSheet"):
            old = whole(view.get(attribute))
            new = moved.get(old, shown)
            if new != old:
                view.set(attribute, str(new))
    gone = {str(tab.sheet_id) for tab in plan.gone}
    custom = plan.book.one("customWorkbookViews")
    for view in () if custom is None else children(custom):
        if view.get("activeSheetId") in gone:
            view.set("activeSheetId", after[shown].get("sheetId", "1"))


def _names(
    plan: GraftPlan, root: Element, moved: Mapping[int, int], own: Mapping[str, int]
) -> None:
    """The defined names: the person's in front, then each sheet's mark and names of ours."""
    theirs = names_in(plan.book)
    group = placed(root, "definedNames", WORKBOOK)
    for each in theirs:
        if _replaced(plan, each):
            group.remove(each)
    for each in children(group):
        scope = each.get("localSheetId", "")
        if scope.isdecimal() and moved.get(int(scope), int(scope)) != int(scope):
            each.set("localSheetId", str(moved[int(scope)]))
    for number, tab in enumerate(plan.made.tabs):
        place = str(own[tab.name])
        if tab.name in plan.titles:
            said = {"name": mark(plan.titles[tab.name]), "localSheetId": place, "hidden": "1"}
            added(group, "definedName", said).text = f"{quoted(tab.name)}!$A$1"
        _names_brought(plan, group, str(number), place)
    if not len(group):
        root.remove(group)


def _names_brought(plan: GraftPlan, group: Element, scope: str, place: str) -> None:
    for each in names_in(plan.made):
        if each.get("localSheetId") == scope:
            said = {str(name): str(text) for name, text in each.items()}
            new = added(group, local(each), {**said, "localSheetId": place})
            new.text = each.text


def _replaced(plan: GraftPlan, element: Element) -> bool:
    """Whether a defined name goes: our own of an earlier run, or one of a sheet that is gone.

    A name that the person gave to cells of our sheet stays, unless we now write that name.
    """
    name, scope = element.get("name", ""), element.get("localSheetId", "")
    if is_mark(name):
        marked = tab_marked(plan.book, element)
        return marked is None or marked not in plan.kept
    if not scope.isdecimal() or int(scope) >= len(plan.book.tabs):
        return False
    tab = plan.book.tabs[int(scope)]
    if tab in plan.gone:
        return True
    return tab in plan.standing.values() and (is_ours(name) or name in _written(plan))


def _written(plan: GraftPlan) -> set[str]:
    return {each.get("name", "") for each in names_in(plan.made)}
