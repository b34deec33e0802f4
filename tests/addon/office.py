"""LibreOffice with the add-on, and a document open in it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.judges import CannotJudge
from tests.judges.libreoffice import LibreOffice

__all__ = ["AddonOffice", "Opened"]

SECONDS = 300.0


class AddonOffice(LibreOffice):
    """A LibreOffice whose commands of the add-on can be dispatched."""

    bridge = Path(__file__).with_name("bridge.py")

    def __init__(self) -> None:
        super().__init__(request_seconds=SECONDS)
        self.python = Path()
        """costbook's Python, as the add-on starts it."""

    def install(self, file: Path) -> None:
        """Install the add-on into this LibreOffice's own profile."""
        if not self.ask("install", path=str(file)):
            raise CannotJudge("LibreOffice did not register the add-on")

    def document(self, path: Path | str | None = None) -> Opened:
        """A document open in a window; a new one where none is named."""
        return Opened(self, self.ask("load", path=str(path or "")))

    def window(self, title: str) -> list[str]:
        """What the window of that title says; nothing where there is none."""
        return next((said[1:] for said in self.ask("windows") if said[:1] == [title]), [])

    @property
    def kept_place(self) -> Path:
        """The file in which the add-on remembers where costbook is."""
        return self._folder / "profile" / "user" / "costbook-addon.json"


@dataclass(frozen=True, slots=True)
class Opened:
    """A document open in a window."""

    office: AddonOffice
    number: int

    def choose(self, command: str) -> None:
        """Choose a command of ours, and wait until it is done."""
        self.office.ask("dispatch", document=self.number, command=command, seconds=SECONDS - 20)

    def ask(self, do: str, **more: Any) -> Any:
        """Ask the bridge about this document."""
        return self.office.ask(do, document=self.number, **more)

    def begin(self, command: str) -> None:
        """Choose a command, and don't wait."""
        self.office.ask("dispatch", document=self.number, command=command, seconds=0)

    def wait(self) -> None:
        """Wait until no command is at work."""
        self.office.ask("wait", document=self.number, command="update", seconds=SECONDS - 20)

    @property
    def undo_steps(self) -> list[str]:
        """What Undo would take back, the last first."""
        steps: list[str] = self.ask("steps")[0]
        return steps

    def contents(self) -> dict[str, Any]:
        """By sheet: formulas, values, errors, and whether it is in sight."""
        found: dict[str, Any] = self.ask("contents")
        return found

    def close(self) -> None:
        """Let it go, with all changes."""
        self.ask("close")
