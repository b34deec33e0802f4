"""A question to costbook about the open document, asked aside while the window stays alive."""

from __future__ import annotations

import shutil
import tempfile
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import uno

from costbook.addon.office.desk import Desk
from costbook.addon.office.engine import (
    Engine,
    Failed,
    Home,
    place_in,
    places_remembered,
    remember,
)
from costbook.addon.office.uno_values import properties
from costbook.addon.office.windows import Button, Window, unforeseen

if TYPE_CHECKING:
    from costbook.addon.office.kinds import Reply

__all__ = ["ask", "at_work"]

_XLSX = "Calc MS Excel 2007 XML"


class _Work:
    """What is asked now, in any window: one question at a time."""

    def __init__(self) -> None:
        self.engine: Engine | None = None
        self.stopped = False
        self.going_on = False


_WORK = _Work()


def at_work() -> bool:
    """Whether a question is being answered."""
    return _WORK.going_on


def ask(desk: Desk, title: str, words: Sequence[str], then: Callable[[Reply], None]) -> None:
    """Ask costbook about the document as it is now, unsaved edits too; ``then`` takes the answer.

    ``{book}`` in the words stands for the copy that is asked about, ``{folder}`` for where it is.
    """
    if _WORK.going_on:
        return
    places = places_remembered(desk.extension, desk.profile)
    place = next((each for each in places if each.is_there()), None)
    if place is None:
        _ask_where(desk, title, places[0].folder if places else "", words, then)
    else:
        _ask_at(place, desk, title, words, then)


def _ask_at(
    place: Home, desk: Desk, title: str, words: Sequence[str], then: Callable[[Reply], None]
) -> None:
    folder = Path(tempfile.mkdtemp(prefix="costbook-"))
    _WORK.going_on, _WORK.stopped = True, False
    try:
        desk.tell("taking a copy of the workbook")
        book = folder / f"{desk.name}.xlsx"
        desk.document.storeToURL(uno.systemPathToFileUrl(str(book)), properties(FilterName=_XLSX))
        desk.tell("working out the costs")
        _WORK.engine = Engine(place, [*(_filled(each, book) for each in words), "--json"])
    except BaseException:
        _finished(desk, folder)
        raise
    window = Window(desk, title, "costbook works out the costs …", closing="Cancel", on_close=_stop)
    waiting = threading.Thread(
        target=_wait, args=(_WORK.engine, desk, title, folder, window, then), daemon=True
    )
    waiting.start()


def _filled(word: str, book: Path) -> str:
    return word.replace("{book}", str(book)).replace("{folder}", str(book.parent))


def _ask_where(
    desk: Desk, title: str, folder: str, words: Sequence[str], then: Callable[[Reply], None]
) -> None:
    """costbook has moved: let the person show where it is now, and go on."""

    def choose(_chosen: int) -> None:
        picker = desk.service("com.sun.star.ui.dialogs.FolderPicker")
        if picker.execute():
            place = place_in(Path(uno.fileUrlToSystemPath(picker.getDirectory())))
            if place.is_there():
                remember(desk.profile, place)
            ask(desk, title, words, then)

    was = f" in {folder}" if folder else ""
    text = f"costbook is not{was} any more. Choose the folder that holds its README.md."
    Window(desk, title, text, (), [Button("Choose folder", choose, closes=True)])


def _stop() -> None:
    _WORK.stopped = True
    if _WORK.engine is not None:
        _WORK.engine.stop()


def _finished(desk: Desk, folder: Path) -> None:
    desk.done()
    shutil.rmtree(folder, ignore_errors=True)
    _WORK.going_on, _WORK.engine = False, None


def _wait(
    engine: Engine,
    desk: Desk,
    title: str,
    folder: Path,
    window: Window,
    then: Callable[[Reply], None],
) -> None:
    """Wait for the answer apart from the window, and go on in LibreOffice's own thread."""
    answer: Reply = {}
    why = ""
    try:
        answer = engine.answer()
    except Failed as failed:
        why = str(failed)
    except Exception as error:  # noqa: BLE001 - whatever it is, the person is to hear of it
        why = unforeseen(error)

    def go_on() -> None:
        window.close()
        try:
            if why and not _WORK.stopped:
                Window(desk, title, why)
            elif not _WORK.stopped:
                then(answer)
        except Exception as error:  # noqa: BLE001 - the same
            Window(desk, title, unforeseen(error))
        finally:
            _finished(desk, folder)

    desk.later(go_on)
