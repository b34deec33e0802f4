"""The survivors that are known, each with its reason."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from pathlib import Path

from tests.mutations.mutants import Mutant

__all__ = ["LIST", "compared"]

LIST = Path(__file__).with_name("survivors.toml")


def compared(module: str, alive: Sequence[Mutant], known: Path = LIST) -> list[str]:
    """What is new among a module's survivors, and what is listed and noticed now, in sentences."""
    listed = {
        (each["function"], change)
        for each in tomllib.loads(known.read_text(encoding="utf-8")).get("survivor", ())
        if each["module"] == module
        for change in each["changes"]
    }
    found = {mutant.key: mutant for mutant in alive}
    new = [
        f"{module}: no test notices {mutant}. Write one, or list it in {known.name} with a reason."
        for key, mutant in found.items()
        if key not in listed
    ]
    gone = [
        f"{module}: a test notices {function}: {change} now. Take it off {known.name}."
        for function, change in sorted(listed - set(found))
    ]
    return new + gone
