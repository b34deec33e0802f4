"""Is a workbook package sound? Asked of every file just before it takes the person's place.

Excel repairs or refuses a workbook for small reasons and doesn't say which. These are the rules
it holds a package to, as far as they are known; each check is a function that takes the opened
package and yields sentences. `CHECKS` is all of them, from the outside inwards.

A person's file may have had a fault before costbook came: `new_faults` tells only of those that
it lacked.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Final

from costbook.package.validity.cells import cell_faults
from costbook.package.validity.holding import holding_faults
from costbook.package.validity.pieces import comment_faults, pivot_faults, table_faults
from costbook.package.validity.sheets import sheet_faults
from costbook.package.validity.styling import style_faults
from costbook.package.validity.subject import Subject, TooBroken, subject
from costbook.package.validity.workbook import workbook_faults
from costbook.package.workbook_file import WorkbookFile
from costbook.problems import Refused

__all__ = ["CHECKS", "faults", "new_faults"]

CHECKS: Final[tuple[Callable[[Subject], Iterator[str]], ...]] = (
    holding_faults,
    workbook_faults,
    style_faults,
    sheet_faults,
    cell_faults,
    table_faults,
    comment_faults,
    pivot_faults,
)

_TOTAL: Final = re.compile(
    r"(?: of |, and there are )[0-9]+\.\Z| belongs to sheet [0-9]+(?=, and there is none\.\Z)"
)


def faults(file: WorkbookFile) -> list[str]:
    """What is wrong with the package, a sentence each that begins with the part; [] if sound."""
    try:
        opened = subject(file)
    except Refused as refused:
        return [refused.reason]
    except TooBroken as unreadable:
        return list(unreadable.sentences)
    return [sentence for check in CHECKS for sentence in check(opened)]


def new_faults(before: WorkbookFile, after: WorkbookFile) -> list[str]:
    """The faults of the package after a change that it didn't have before.

    `format 99 of 12` is the same fault as `format 99 of 40`: the change added formats.
    """
    found = faults(after)
    known = {_without_totals(sentence) for sentence in faults(before)} if found else set()
    return [sentence for sentence in found if _without_totals(sentence) not in known]


def _without_totals(sentence: str) -> str:
    return _TOTAL.sub("", sentence)
