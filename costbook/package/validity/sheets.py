"""Checks of the worksheets, all but their cells: order, views, columns, rules, merged cells."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from costbook.package.orders import SHEET
from costbook.package.validity.ranges import overlapping, range_of
from costbook.package.validity.styling import counted
from costbook.package.validity.subject import Sheet, Subject, number
from costbook.package.validity.workbook import order_faults
from costbook.package.xml import Element, children, local

__all__ = ["sheet_faults"]

_MANY: Final = ("conditionalFormatting",)  # may stand there more than once
_LONGEST_LIST: Final = 255  # characters of a drop-down list typed into its rule
_LAST_COLUMN: Final = 16_384


def sheet_faults(subject: Subject) -> Iterator[str]:
    """Faults in every worksheet outside its cells."""
    styles = subject.root("styles")
    for sheet in subject.sheets:
        yield from order_faults(sheet.part, sheet.root, SHEET)
        yield from _only_once(sheet)
        for check in (_columns, _merged, _validations, _links, _filters, _counts):
            yield from check(sheet)
        yield from _views(sheet, subject)
        yield from _conditional(sheet, counted(styles, "dxfs"))
        if styles is not None:
            yield from _column_formats(sheet, counted(styles, "cellXfs"))


def _within(root: Element, group: str, name: str) -> list[Element]:
    return [
        each for found in children(root, group) for each in children(found) if local(each) == name
    ]


def _only_once(sheet: Sheet) -> Iterator[str]:
    seen: set[str] = set()
    for each in children(sheet.root):
        name = local(each)
        if name in seen and name in SHEET and name not in _MANY:
            yield f"{sheet.part}: <{name}> stands there twice."
        seen.add(name)
    if "sheetData" not in seen:
        yield f"{sheet.part}: <sheetData> is missing."


def _counts(sheet: Sheet) -> Iterator[str]:
    for name in ("mergeCells", "dataValidations", "tableParts"):
        for group in children(sheet.root, name):
            said, held = number(group.get("count"), -2), len(list(children(group)))
            if said not in (-2, held):
                yield f"{sheet.part}: <{name}> says {said}, and there are {held}."
            if not held:
                yield f"{sheet.part}: <{name}> is empty."


def _views(sheet: Sheet, subject: Subject) -> Iterator[str]:
    views = subject.book.one("bookViews")
    windows = 0 if views is None else len(list(children(views, "workbookView")))
    for view in _within(sheet.root, "sheetViews", "sheetView"):
        if not 0 <= number(view.get("workbookViewId")) < windows:
            yield f"{sheet.part}: its view belongs to a window that the workbook lacks."


def _columns(sheet: Sheet) -> Iterator[str]:
    last = 0
    for each in _within(sheet.root, "cols", "col"):
        low, high = number(each.get("min")), number(each.get("max"))
        if not last < low <= high <= _LAST_COLUMN:
            yield f"{sheet.part}: the columns {low} to {high} are out of order."
        last = high


def _column_formats(sheet: Sheet, formats: int) -> Iterator[str]:
    for each in _within(sheet.root, "cols", "col"):
        if not 0 <= number(each.get("style")) < formats:
            yield f"{sheet.part}: a column has format {each.get('style')} of {formats}."


def _merged(sheet: Sheet) -> Iterator[str]:
    texts = [each.get("ref", "") for each in _within(sheet.root, "mergeCells", "mergeCell")]
    ranges = [range_of(text) for text in texts]
    for text, found in zip(texts, ranges, strict=True):
        if found is None:
            yield f"{sheet.part}: {text!r} can't be merged cells."
    if overlapping([found for found in ranges if found]):
        yield f"{sheet.part}: merged cells overlap."


def _areas(text: str) -> bool:
    """Whether the text is a list of ranges, as rules for cells have."""
    return bool(text.split()) and all(range_of(each) for each in text.split())


def _conditional(sheet: Sheet, formats: int) -> Iterator[str]:
    for group in children(sheet.root, "conditionalFormatting"):
        if not _areas(group.get("sqref", "")) and group.get("pivot") is None:
            yield f"{sheet.part}: a conditional format has no cells ({group.get('sqref')})."
        for rule in children(group, "cfRule"):
            used = rule.get("dxfId")
            if used is not None and not 0 <= number(used) < formats:
                yield f"{sheet.part}: a rule uses conditional format {used} of {formats}."
            if number(rule.get("priority"), -1) < 1 or not rule.get("type"):
                yield f"{sheet.part}: a conditional format lacks its priority or its type."


def _validations(sheet: Sheet) -> Iterator[str]:
    for rule in _within(sheet.root, "dataValidations", "dataValidation"):
        if not _areas(rule.get("sqref", "")):
            yield f"{sheet.part}: a rule for typing has no cells ({rule.get('sqref')})."
        for formula in children(rule, "formula1"):
            text = formula.text or ""
            if text.startswith('"') and len(text) - 2 > _LONGEST_LIST:
                yield f"{sheet.part}: a drop-down list is longer than {_LONGEST_LIST} characters."


def _links(sheet: Sheet) -> Iterator[str]:
    for link in _within(sheet.root, "hyperlinks", "hyperlink"):
        if range_of(link.get("ref", "")) is None:
            yield f"{sheet.part}: {link.get('ref')!r} can't be the cell of a link."


def _filters(sheet: Sheet) -> Iterator[str]:
    for each in children(sheet.root, "autoFilter"):
        if range_of(each.get("ref", "")) is None:
            yield f"{sheet.part}: {each.get('ref')!r} can't be a filter's range."
