"""The command `addon`: the add-on for LibreOffice built, installed, or taken away."""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path
from typing import Final

from costbook.addon.building import extension
from costbook.addon.installing import install, remove
from costbook.files import with_ending
from costbook.keeping.replacing import create
from costbook.printing import Output

__all__ = ["addon"]

_WHERE: Final = Path(__file__).resolve().parents[2]
"""The folder that holds costbook, from which its Python runs it."""


def addon(options: argparse.Namespace, output: Output) -> int:
    """Build the add-on into a file, or install it for the current user, or take it away."""
    if options.remove:
        remove()
        output.text("The menu costbook is gone from LibreOffice. Your workbooks are as they were.")
        return 0
    built = extension(sys.executable, str(_WHERE))
    if options.build is not None:
        file = with_ending(options.build, ".oxt")
        create(file, built, output.wrote)
        output.text(f"Made {file}. Open it with LibreOffice to install it.")
        return 0
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "costbook.oxt"
        file.write_bytes(built)
        install(file)
    output.text("Installed. Start LibreOffice anew: its spreadsheets have a menu costbook.")
    return 0
