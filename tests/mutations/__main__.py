"""`python3 -m tests.mutations [PATH ...]`: change each rule in every small way; do tests notice?

Prints the changes that no quick test notices, and compares them with `survivors.toml`, where each
that is known stands with its reason. Exit 1 where one is new, or one that is listed is noticed now.
"""

from __future__ import annotations

import argparse
import sys
from collections import defaultdict
from pathlib import Path

from tests.mutations.concerns import concerned, modules
from tests.mutations.judging import survivors
from tests.mutations.known import compared
from tests.mutations.mutants import mutants_of

ROOT = Path(__file__).parents[2]


def said(line: str) -> None:
    print(line, flush=True)


def main() -> int:
    reader = argparse.ArgumentParser(prog="python3 -m tests.mutations", description=__doc__)
    reader.add_argument("path", nargs="*", help="modules, or folders (default: all declared)")
    reader.add_argument("--list", action="store_true", help="only list the mutants")
    reader.add_argument("--jobs", type=int, default=0, help="at a time (default: one a core)")
    reader.add_argument("--tests", nargs="+", help="only these, instead of those declared")
    options = reader.parse_args()
    status = 0
    together: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for module in modules(ROOT, options.path):
        together[tuple(options.tests or concerned(module))].append(module)
    for tests, alike in together.items():
        if options.list:
            for module in alike:
                for mutant in mutants_of((ROOT / module).read_text(encoding="utf-8")):
                    said(f"{module} {mutant}")
            continue
        for module, alive in survivors(ROOT, alike, tests, said, options.jobs).items():
            sentences = compared(module, alive)
            for line in sentences or [f"{module}: {len(alive)} survivors, each known"]:
                said(line)
            status |= bool(sentences)
    return status


if __name__ == "__main__":
    sys.exit(main())
