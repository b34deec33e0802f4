"""`watch`: each workbook priced as it is saved, one line a run, until Ctrl-C."""

from __future__ import annotations

import argparse
from datetime import datetime

from costbook.costing.result import CAUTION
from costbook.printing import Output
from costbook.problems import Refused
from costbook.watching.pricing import Priced

__all__ = ["watch"]


def watch(options: argparse.Namespace, output: Output) -> int:
    """Price workbooks as they are saved."""
    from costbook.watching.changes import changes
    from costbook.watching.watcher import Watcher

    if not options.file.exists():
        raise Refused(f"There is no file or folder {options.file}.", "Check the name.")
    watcher, runs = Watcher(options.file), list[Priced]()
    what = "a workbook in it" if options.file.is_dir() else "it"
    try:
        output.text(f"Watching {options.file}: save {what}, and it is priced. Ctrl-C ends this.")
        output.text(CAUTION)
        output.done()
        for changed in changes(watcher.folder):
            for run in watcher.look(changed):
                runs.append(run)
                output.text(f"{datetime.now().astimezone():%H:%M} {run.in_words}")
                output.done()
    except KeyboardInterrupt:
        output.answer({"runs": [each.as_data() for each in runs], "cautions": [CAUTION]})
    return 0
