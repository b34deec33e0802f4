"""Says at the end of a test run, loudly, what could not be run and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import pytest

__all__ = ["LeftOut", "sentences"]


def sentences(reasons: Iterable[str]) -> list[str]:
    """One line for each reason why tests were left out, the commonest first."""
    counted = Counter(reason.removeprefix("Skipped: ") for reason in reasons)
    return [
        f"{count} {'test' if count == 1 else 'tests'} NOT RUN: {reason}"
        for reason, count in counted.most_common()
    ]


class LeftOut:
    """A pytest plugin: one section above the closing line, only when something was left out."""

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        skipped = terminalreporter.stats.get("skipped", [])
        lines = sentences(str(report.longrepr[2]) for report in skipped)
        if lines:
            terminalreporter.section("WHAT THIS RUN DID NOT TEST", sep="!", red=True, bold=True)
            for line in lines:
                terminalreporter.line(line, red=True)
