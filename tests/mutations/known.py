"""The survivors that are known, each with its reason."""

from __future__ import annotations

import tomllib
from collections import defaultdict
from collections.abc import Collection, Sequence
from pathlib import Path

from tests.mutations.mutants import Mutant

__all__ = ["LIST", "compared"]

LIST = Path(__file__).with_name("survivors.toml")


def compared(
    module: str, alive: Sequence[Mutant], functions: Collection[str], known: Path = LIST
) -> dict[str, list[str]]:
    """By function judged: what is new among its survivors, or listed and noticed now, said."""
    listed = {
        (each["function"], change)
        for each in tomllib.loads(known.read_text(encoding="utf-8")).get("survivor", ())
        if each["module"] == module and each["function"] in functions
        for change in each["changes"]
    }
    found = {mutant.key: mutant for mutant in alive}
    said: dict[str, list[str]] = defaultdict(list)
    for key, mutant in found.items():
        if key not in listed:
            said[mutant.function].append(
                f"{module}: no test notices {mutant}. Write one, or list it in {known.name} with a "
                "reason."
            )
    for function, change in sorted(listed - set(found)):
        said[function].append(
            f"{module}: a test notices {function}: {change} now. Take it off {known.name}."
        )
    return said
