"""`python3 -m tests.mutations [PATH ...]`: change each rule in every small way; do tests notice?

Judges the functions that changed since they were judged (`judged.json`), prints the changes that
no quick test notices, and compares them with `survivors.toml`, where each that is known stands with
its reason. Exit 1 where one is new, or one that is listed is noticed now.
"""

from __future__ import annotations

import argparse
import sys
from collections import defaultdict
from collections.abc import Sequence
from itertools import chain
from pathlib import Path

from tests.mutations.concerns import concerned, modules
from tests.mutations.judged import changed, judged, record
from tests.mutations.judging import survivors
from tests.mutations.known import compared
from tests.mutations.mutants import Mutant, mutants_of

ROOT = Path(__file__).parents[2]


def said(line: str) -> None:
    print(line, flush=True)


def main() -> int:
    reader = argparse.ArgumentParser(prog="python3 -m tests.mutations", description=__doc__)
    reader.add_argument("path", nargs="*", help="modules, or folders (default: all declared)")
    reader.add_argument("--all", action="store_true", help="judge again what was judged")
    reader.add_argument("--since", action="store_true", help="only say what changed since")
    reader.add_argument("--list", action="store_true", help="only list the mutants")
    reader.add_argument("--jobs", type=int, default=0, help="at a time (default: one a core)")
    reader.add_argument("--tests", nargs="+", help="only these, instead of those declared")
    options = reader.parse_args()
    before = {} if options.all else judged()
    together: dict[tuple[str, ...], list[tuple[str, Mutant]]] = defaultdict(list)
    for module in modules(ROOT, options.path):
        waiting = changed(source := (ROOT / module).read_text(encoding="utf-8"), before.get(module))
        if waiting and options.since:
            said(f"{module}: {', '.join(waiting)}")
        together[tuple(options.tests or concerned(module))] += [
            (module, mutant) for mutant in mutants_of(source) if mutant.function in waiting
        ]
    mutants = [each for some in together.values() for each in some]
    said(f"{len(mutants)} mutants to judge of what changed since it was judged")
    if options.list:
        for module, mutant in mutants:
            said(f"{module} {mutant}")
    if options.list or options.since:
        return 0
    return max(
        [_judge(some, tests, options.jobs) for tests, some in together.items() if some] or [0]
    )


def _judge(mutants: Sequence[tuple[str, Mutant]], tests: Sequence[str], jobs: int) -> int:
    """Say what these tests don't notice, and note what is judged; 1 where something is new."""
    status = 0
    for module, alive in survivors(ROOT, mutants, tests, said, jobs).items():
        of = {mutant.function for name, mutant in mutants if name == module}
        sentences = compared(module, alive, of)
        for line in chain.from_iterable(sentences.values()):
            said(line)
        source = (ROOT / module).read_text(encoding="utf-8")
        record(module, source, of - sentences.keys())
        said(f"{module}: {len(of)} functions judged, {len(alive)} survivors")
        status |= bool(sentences)
    return status


if __name__ == "__main__":
    sys.exit(main())
