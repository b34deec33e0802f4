"""A workbook's file, opened once: whoever reads, marks, grafts or checks looks at one object."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from costbook.package.bulk import look_through
from costbook.package.marks import marked
from costbook.package.members import Package, listed_in, unfolded
from costbook.package.tabs import Opened, Tab, opened
from costbook.problems import Refused

__all__ = ["WorkbookFile"]


@dataclass(frozen=True, eq=False)
class WorkbookFile:
    """A file's bytes, and what is in them, each looked at when it is first asked for.

    What it gives is everybody's: whoever changes a tree works on a copy of their own.
    """

    content: bytes
    name: str = "The file"
    made: bool = False
    """Whether this run made it, so that it need not be looked through for harm."""

    @cached_property
    def package(self) -> Package:
        """The parts, unfolded. Raises Refused for what is no sound package, or no cook's file."""
        listed = listed_in(self.content)
        if not self.made:
            look_through(self.content, listed)
        return unfolded(self.content, listed)

    @cached_property
    def book(self) -> Opened:
        """Its sheets, names and relations. Raises Refused where it holds no workbook."""
        return opened(self.package)

    @cached_property
    def ours(self) -> Mapping[str, Tab]:
        """The sheets that an earlier run wrote, by title; a file that can't bear any has none."""
        try:
            return marked(self.book)
        except Refused:
            return {}
