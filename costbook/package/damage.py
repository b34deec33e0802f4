"""What is said of a workbook that is broken, and the way out."""

from __future__ import annotations

from typing import Final

from costbook.problems import Refused

__all__ = ["REPAIR", "damaged"]

REPAIR: Final = (
    "Open it in a spreadsheet program, let it repair the file, save it under a new name, and use"
    " that; or go back to a backup."
)


def damaged(what: str) -> Refused:
    """The refusal of a workbook in which something is broken."""
    return Refused(f"The workbook is damaged: {what}.", REPAIR)
