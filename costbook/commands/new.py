"""`new`: a blank workbook, or a blank sheet in one that is there."""

from __future__ import annotations

import argparse

from costbook.costing.result import CAUTION
from costbook.printing import Output
from costbook.problems import Refused
from costbook.started import command as as_typed

__all__ = ["new"]


def new(options: argparse.Namespace, output: Output) -> int:
    """Make a blank workbook."""
    if options.add:
        return _add(options, output)
    from costbook.files import with_ending
    from costbook.keeping.replacing import create
    from costbook.writing.blank import blank_workbook

    file = with_ending(options.file, ".xlsx")
    create(file, blank_workbook(full=options.full), output.wrote)
    output.answer({"book": str(file), "cautions": [CAUTION]})
    output.text(
        f"Made {file}. Fill in Purchases, Recipes, Batches, Stages, Packaging and "
        "Products; then run"
    )
    output.text(f"  {as_typed('cost', file)}")
    output.text()
    output.text(CAUTION)
    return 0


def _add(options: argparse.Namespace, output: Output) -> int:
    """Put blank sheets into a workbook that is there."""
    from costbook.adding import add_sheets

    if options.full:
        raise Refused("--full makes a new workbook, and --add fills up one.", "Give one of them.")
    added = add_sheets(options.file, options.add, output.wrote)
    titles = ", ".join(added.titles)
    output.answer({"book": str(options.file), "added": added.titles, "cautions": [CAUTION]})
    output.text(f"Added to {options.file}: {titles}. Fill in, save, and run")
    output.text(f"  {as_typed('cost', options.file)}")
    if added.backup:
        output.text(f"Your workbook as it was: {added.backup}")
    output.text()
    output.text(CAUTION)
    return 0
