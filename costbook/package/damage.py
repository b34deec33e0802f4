"""What is said of a workbook that is broken, or made to do harm, and the way out."""

from __future__ import annotations

from typing import Final

from costbook.package import limits
from costbook.problems import Refused

__all__ = [
    "REPAIR",
    "damaged",
    "refuse_long_text",
    "too_many_formats",
    "too_many_sheets",
    "untrusted",
]

REPAIR: Final = (
    "Open it in a spreadsheet program, let it repair the file, save it under a new name, and use"
    " that; or go back to a backup."
)


def damaged(what: str) -> Refused:
    """The refusal of a workbook in which something is broken."""
    return Refused(f"The workbook is damaged: {what}.", REPAIR)


def untrusted(what: str) -> Refused:
    """The refusal of a file that no spreadsheet program wrote as it is."""
    return Refused(f"The file can't be trusted: {what}.", "Ask whoever sent it for a clean copy.")


def refuse_long_text(text: str) -> None:
    """Raise Refused for a cell's text that no spreadsheet program takes."""
    if len(text) > limits.LONGEST_TEXT:
        raise untrusted(
            f"a cell of it holds more than {limits.LONGEST_TEXT:,} letters, which no spreadsheet"
            " program writes"
        )


def too_many_sheets() -> Refused:
    """The refusal of a workbook with more sheets than anybody keeps."""
    return Refused(
        f"The workbook has more than {limits.MOST_SHEETS:,} sheets.",
        "Move those that costbook need not read to another workbook.",
    )


def too_many_formats() -> Refused:
    """The refusal of a workbook with more cell formats than there can be."""
    return Refused(
        "The workbook has more cell formats than any spreadsheet program allows.",
        "Copy what you typed into a new workbook, as values, and use that.",
    )
