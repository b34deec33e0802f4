"""Windows that say something, and let go: the document stays free to be worked in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import unohelper
from com.sun.star.awt import XActionListener, XTopWindowListener

__all__ = ["Button", "Window", "unforeseen"]

_WIDTH, _MARGIN, _LINE, _BUTTON = 300, 6, 10, (70, 14)
"""Sizes in the units of dialogs: a quarter of a letter wide, an eighth high."""


class Button(NamedTuple):
    """A button: what stands on it, and what it does with the number of the chosen line."""

    label: str
    do: Callable[[int], None]
    closes: bool = False


class Window:
    """A window with a text, perhaps a list, and buttons."""

    def __init__(
        self,
        desk: Any,
        title: str,
        text: str,
        lines: Sequence[str] = (),
        buttons: Sequence[Button] = (),
        closing: str = "Close",
        on_close: Callable[[], None] = lambda: None,
    ) -> None:
        self._desk, self._title = desk, title
        self._on_close = on_close
        self._open = True
        self._model = desk.service("com.sun.star.awt.UnoControlDialogModel")
        self._control = desk.service("com.sun.star.awt.UnoControlDialog")
        self._model.Title = title
        self._model.Width = _WIDTH
        below = self._say(text, lines)
        self._buttons([*buttons, Button(closing, lambda _: on_close(), closes=True)], below)
        self._listeners: list[Any] = []
        self._show(buttons)

    def close(self) -> None:
        """Take the window away."""
        if self._open:
            self._open = False
            self._control.setVisible(False)
            self._control.dispose()

    def closed_by_hand(self) -> None:
        """The same, by the person."""
        self.close()
        self._on_close()

    def chosen(self) -> int:
        """The number of the line that is chosen; -1 where none is."""
        listed = self._control.getControl("lines")
        return -1 if listed is None else int(listed.getSelectedItemPos())

    def say_instead(self, text: str) -> None:
        """A window of the same title with another text."""
        self.close()
        Window(self._desk, self._title, text)

    def _say(self, text: str, lines: Sequence[str]) -> int:
        """The text and the list; gives where the buttons stand."""
        rows = sum(1 + len(line) // 75 for line in text.split("\n"))
        top = _MARGIN
        self._add(
            "FixedText",
            "text",
            (_MARGIN, top, _WIDTH - 2 * _MARGIN, rows * _LINE),
            Label=text,
            MultiLine=True,
        )
        top += rows * _LINE + _MARGIN
        if lines:
            high = min(14, max(4, len(lines) + 1)) * _LINE
            self._add(
                "ListBox",
                "lines",
                (_MARGIN, top, _WIDTH - 2 * _MARGIN, high),
                StringItemList=tuple(lines),
            )
            top += high + _MARGIN
        return top

    def _buttons(self, buttons: Sequence[Button], top: int) -> None:
        wide, high = _BUTTON
        for at, button in enumerate(reversed(buttons)):
            left = _WIDTH - (at + 1) * (wide + _MARGIN)
            self._add("Button", button.label, (left, top, wide, high), Label=button.label)
        self._model.Height = top + high + _MARGIN
        self._wanted = buttons

    def _add(
        self, kind: str, name: str, place: tuple[int, int, int, int], **properties: Any
    ) -> None:
        model = self._model.createInstance(f"com.sun.star.awt.UnoControl{kind}Model")
        model.PositionX, model.PositionY, model.Width, model.Height = place
        for each, value in properties.items():
            setattr(model, each, value)
        self._model.insertByName(name, model)

    def _show(self, _buttons: Sequence[Button]) -> None:
        self._control.setModel(self._model)
        toolkit = self._desk.service("com.sun.star.awt.Toolkit")
        self._control.createPeer(toolkit, self._desk.frame.ContainerWindow)
        for button in self._wanted:
            pressed = _Pressed(self, button)
            self._listeners.append(pressed)
            self._control.getControl(button.label).addActionListener(pressed)
        self._control.addTopWindowListener(_Closed(self))
        listed = self._control.getControl("lines")
        if listed is not None:
            listed.selectItemPos(0, True)
            listed.addActionListener(_Pressed(self, self._wanted[0]))
        self._control.setVisible(True)


class _Pressed(unohelper.Base, XActionListener):  # type: ignore[misc]  # uno carries no types
    """Hears that a button was pressed."""

    def __init__(self, window: Window, button: Button) -> None:
        self._window, self._button = window, button

    def actionPerformed(self, _event: Any) -> None:  # noqa: N802 - UNO's name
        """Do what the button is for."""
        chosen = self._window.chosen()
        if self._button.closes:
            self._window.close()
        try:
            self._button.do(chosen)
        except Exception as error:  # noqa: BLE001 - LibreOffice would drop it unsaid
            self._window.say_instead(unforeseen(error))

    def disposing(self, _event: Any) -> None:
        """Nothing is kept."""


class _Closed(unohelper.Base, XTopWindowListener):  # type: ignore[misc]  # uno carries no types
    """Hears that a window was closed by its frame."""

    def __init__(self, window: Window) -> None:
        self._window = window

    def windowClosing(self, _event: Any) -> None:  # noqa: N802 - UNO's name
        """Take it away."""
        self._window.closed_by_hand()

    def windowOpened(self, _event: Any) -> None:  # noqa: N802 - UNO's name
        """Nothing to do."""

    windowClosed = windowMinimized = windowNormalized = windowOpened  # noqa: N815
    windowActivated = windowDeactivated = disposing = windowOpened  # noqa: N815


def unforeseen(error: Exception) -> str:
    """What is said of an error that nothing was made for."""
    return (
        f"costbook met something that nobody foresaw ({type(error).__name__}: {error}). "
        "The workbook is as it was."
    )
