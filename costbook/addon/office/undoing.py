"""One step of Undo for all that is done to a document."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import unohelper
from com.sun.star.document import XUndoAction

__all__ = ["as_one_step", "on_redo"]


class _Redone(unohelper.Base, XUndoAction):  # type: ignore[misc]  # uno carries no types
    """A part of a step that hears when it is done again."""

    def __init__(self, title: str, redo: Callable[[], None]) -> None:
        self.Title = title
        self._redo = redo

    def undo(self) -> None:
        """Nothing: what hangs on a sheet goes with it."""

    def redo(self) -> None:
        """All before it in the step was done again."""
        self._redo()


@contextmanager
def as_one_step(document: Any, title: str) -> Iterator[None]:
    """All that is done inside is one step; where it fails, all of it is taken back."""
    undo = document.UndoManager
    undo.enterUndoContext(title)
    done = False
    try:
        with _at_rest(document):
            yield
        done = True
    finally:
        undo.leaveUndoContext()
        if not done:
            _take_back(undo, title)


@contextmanager
def _at_rest(document: Any) -> Iterator[None]:
    """Nothing is computed or painted while much is done inside."""
    automatic = document.isAutomaticCalculationEnabled()
    document.enableAutomaticCalculation(False)
    document.lockControllers()
    document.addActionLock()
    try:
        yield
    finally:
        document.removeActionLock()
        document.unlockControllers()
        document.enableAutomaticCalculation(automatic)


def _take_back(undo: Any, title: str) -> None:
    if title in undo.getAllUndoActionTitles()[:1]:
        undo.undo()
        undo.clearRedo()


def on_redo(document: Any, title: str, redo: Callable[[], None]) -> None:
    """Have this called when the step is done again, after all before it.

    It must not change the document itself: LibreOffice takes that for a new step in the middle of
    its own, and ends.
    """
    document.UndoManager.addUndoAction(_Redone(title, redo))
