"""What the arguments here are; imported by type checkers alone, as old Pythons can't read it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Optional, Union

from costbook.addon.office.cells import CellSaid

__all__ = ["Block", "Change", "Held", "Later", "Progress", "Reply", "Spot"]

Held = Union[float, str, None]
Spot = tuple[int, int]
"""Row and column, from 0."""
Block = tuple[int, int, int, int]
"""First row, first column, last row, last column, all from 0."""
Change = tuple[Spot, Optional[CellSaid]]
"""What is to stand in a cell; nothing, where it is to be empty."""
Reply = dict[str, Any]
"""What costbook says, as JSON has it."""
Progress = Callable[[str], None]
"""Takes what is being done now."""
Later = Callable[[Callable[[], None]], None]
"""Takes what LibreOffice is to do when it has time."""
