"""Files that costbook can't or shouldn't write back into: what they are, and the way out."""

from __future__ import annotations

from typing import Final

from costbook.package.damage import damaged
from costbook.package.kinds import refuse_other_files, refuse_other_packages
from costbook.package.members import OLD_CONTAINER, Package
from costbook.package.relations import CONTENT_TYPES, ROOT, relations, types
from costbook.package.tabs import MAIN, Opened
from costbook.package.workbook_file import WorkbookFile
from costbook.package.xml import Malformed, parse
from costbook.problems import Place, Problem, Refused, Severity
from costbook.started import command

__all__ = ["OnlyCopies", "look_over"]

_ENCRYPTED: Final = "EncryptedPackage".encode("utf-16-le")
_SAVE_AS: Final = "Save it as an Excel workbook (.xlsx) and use that, "


def _or_copies(name: str) -> str:
    return (
        "or let costbook write a workbook of its own, with copies of what you typed: "
        f"{command('cost', name, '--output', 'NEW.xlsx')}."
    )


class OnlyCopies(Refused):
    """A file that can be read but not written into: its cells can be copied to a new workbook."""

    def __init__(self, reason: str, remedy: str, *, open_document: bool = False) -> None:
        super().__init__(reason, remedy)
        self.open_document = open_document


def look_over(theirs: WorkbookFile) -> list[Problem]:
    """What a person should know before costbook writes into the file, in reading order.

    Raises Refused, with the way out, for a file that can't be written into without loss;
    OnlyCopies if its cells can be read.
    """
    name = theirs.name
    refuse_other_files(theirs.content, name)
    if _is_old(theirs.content):
        raise OnlyCopies(
            "The workbook is of the old kind (.xls), whatever its name says, which costbook reads "
            "but doesn't write into.",
            _SAVE_AS + _or_copies(name),
        )
    package = theirs.package
    _refuse_no_workbook(package, name)
    if "mimetype" in package and b"opendocument" in package.data("mimetype"):
        raise OnlyCopies(
            "The file is an OpenDocument one, which costbook reads but doesn't write into.",
            _SAVE_AS + _or_copies(name),
            open_document=True,
        )
    _refuse_strict(theirs.book, name)
    _refuse_tracked(theirs.book, name)
    return [*_signed(package), *_protected(theirs.book)]


def _refuse_no_workbook(package: Package, name: str) -> None:
    refuse_other_packages(package, name)
    if CONTENT_TYPES in package:
        _refuse_binary(package)
    elif "mimetype" not in package:
        raise Refused("The file is no workbook.", "Give the name of an .xlsx workbook.")


def _is_old(theirs: bytes) -> bool:
    """Whether it is a workbook of the kind before 2007. Raises Refused for a locked one."""
    if not theirs.startswith(OLD_CONTAINER):
        return False
    if _ENCRYPTED in theirs:
        raise Refused(
            "The workbook is locked with a password.",
            "Open it, remove the password, save it, and run costbook again.",
        )
    return True


def _refuse_binary(package: Package) -> None:
    try:
        declared = types(parse(package.data(CONTENT_TYPES)))
        starts = [each.target for each in relations(package, ROOT) if each.kind == "officeDocument"]
    except Malformed as error:
        raise damaged("its list of parts can't be read") from error
    kinds = [declared.of(part) for part in starts]
    if any("binary" in kind for kind in kinds):
        raise Refused(
            "The workbook is of the binary kind (.xlsb).",
            "Open it, save it as an Excel workbook (.xlsx), and use that.",
        )
    if not any("spreadsheetml" in kind or "ms-excel" in kind for kind in kinds):
        raise Refused("The file is no workbook.", "Give the name of an .xlsx workbook.")


def _refuse_strict(book: Opened, name: str) -> None:
    if str(book.root.tag) != f"{{{MAIN}}}workbook":
        raise OnlyCopies(
            "The workbook is saved as Strict Open XML, which costbook doesn't write into.",
            "Save it as an ordinary Excel workbook (.xlsx) and use that, " + _or_copies(name),
        )


def _refuse_tracked(book: Opened, name: str) -> None:
    if book.related("revisionHeaders"):
        raise OnlyCopies(
            "The workbook is shared and tracks every change, so nothing can be added to it.",
            "Stop sharing it (Review, Unshare Workbook), save it, and run costbook again, "
            + _or_copies(name),
        )


def _signed(package: Package) -> list[Problem]:
    if not any(each.kind == "origin" for each in relations(package, ROOT)):
        return []
    return [
        Problem(
            Severity.DOUBTFUL,
            Place(),
            "The workbook is signed, and the signature no longer holds once costbook has written"
            " its sheets.",
            "Sign it again if you need the signature.",
        )
    ]


def _protected(book: Opened) -> list[Problem]:
    protection = book.one("workbookProtection")
    locked = protection is not None and protection.get("lockStructure", "0") in ("1", "true")
    if not locked:
        return []
    return [
        Problem(
            Severity.DOUBTFUL,
            Place(),
            "The workbook's structure is protected; costbook's sheets were added all the same,"
            " and the protection is still on.",
            "Take the protection off (Review, Protect Workbook) if you want to move or rename"
            " them.",
        )
    ]
