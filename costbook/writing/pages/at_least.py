"""What the price on the step is called: CHARGE, or AT LEAST while a part is not counted.

Both are live: they follow the settings by which a person says that there is nothing to pay.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from costbook.writing.description import Role
from costbook.writing.formula_text import quoted

if TYPE_CHECKING:
    from costbook.writing.pages.page import Context, Page

__all__ = ["at_least", "charge", "named"]

CHARGE, AT_LEAST = "CHARGE", "AT LEAST"


def charge(context: Context) -> str:
    """What the price on the step is called as of this run."""
    return named(context, CHARGE)[0]


def named(context: Context, name: str) -> tuple[str, str]:
    """A heading, and its formula where it says CHARGE."""
    least = name.replace(CHARGE, AT_LEAST)
    if least == name:
        return name, ""
    cell, left_out = _uncounted(context)
    return least if left_out else name, f'=IF({cell}="",{quoted(name)},{quoted(least)})'


def at_least(page: Page, before: str, after: str, across: int) -> None:
    """A line that stands where a part is not counted, and names each."""
    at = page.sheet.next_row
    cell, left_out = _uncounted(page.context)
    text = f"{before}{left_out}{after}" if left_out else ""
    page.sheet.line(text, Role.LEAD, across=across)
    formula = f'=IF({cell}="","",{quoted(before)}&{cell}&{quoted(after)})'
    page.sheet.rows[at][0] = replace(page.sheet.rows[at][0], formula=formula)
    page.mark(at, (0,), '{cell}<>""')


def _uncounted(context: Context) -> tuple[str, str]:
    """Where the parts that are not counted stand, and which they are."""
    settings = context.costing.structure.one("settings")
    said = context.costing.of(settings)["uncounted"]
    return context.layout.absolute(settings, "uncounted"), str(said or "")
