"""`python3 -m tests.fuzz 10000 [first]`: damage workbooks by the numbers from the first on."""

from __future__ import annotations

import faulthandler
import sys
import time

from tests.fuzz.judging import fault_of


def main(words: list[str]) -> int:
    """Say what went wrong with which number; 1 if anything did. A hang ends with a traceback."""
    many, first = int(words[0]) if words else 1_000, int(words[1]) if len(words) > 1 else 0
    found = 0
    started = time.monotonic()
    for number in range(first, first + many):
        faulthandler.dump_traceback_later(120, exit=True)
        fault = fault_of(number)
        if fault:
            found += 1
            print(f"{number}: {fault}", flush=True)
        if (number + 1 - first) % 1_000 == 0:
            seconds = time.monotonic() - started
            print(f"… {number + 1 - first} workbooks, {found} faults, {seconds:.0f} s", flush=True)
    faulthandler.cancel_dump_traceback_later()
    return int(found > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
