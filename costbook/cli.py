"""The command line: it reads the words, calls the parts, prints, and gives the exit status.

No other module prints or exits. Exit status: 0 fine (doubts alone are fine), 1 something in the
workbook is wrong (what could be costed was), 2 wrong use, or a file that can't be read, written
or trusted.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from costbook import commands, decisions
from costbook.printing import Output
from costbook.problems import Refused

__all__ = ["main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status."""
    parser = _parser()
    options = parser.parse_args(arguments)
    output = Output(json=options.json)
    try:
        run: Callable[[argparse.Namespace, Output], int] = options.run
        return run(options, output)
    except Refused as refused:
        output.refuse(str(options.file), refused)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except KeyboardInterrupt:
        output.say("Stopped. Your workbook is as it was.")
        return 2
    except Exception as error:  # noqa: BLE001 - the last resort: a cook can't read a traceback
        if os.environ.get("COSTBOOK_DEBUG") == "1":
            raise
        output.refuse(str(options.file), _unforeseen(error))
        return 2


def _unforeseen(error: Exception) -> Refused:
    """What is said of a fault of costbook's own."""
    return Refused(
        f"costbook met something that nobody foresaw ({type(error).__name__}), and stopped.",
        "Nothing was half written. Save the workbook once in your spreadsheet program and try "
        "again; if that doesn't help, run the same command with COSTBOOK_DEBUG=1 set, and show "
        "what it prints to whoever looks after costbook.",
    )


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="costbook",
        description="What each pack you sold cost, and what to charge: from your own workbook.",
        epilog="Example: costbook cost stall.xlsx",
    )
    added = parser.add_subparsers(title="commands", dest="command", required=True, metavar="")
    _add_new(added)
    _add_check(added)
    _add_cost(added)
    _add_explain(added)
    _add_compare(added)
    _add_moved(added)
    _add_try(added)
    return parser


def _command(added: Any, name: str, what: str, example: str) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = added.add_parser(
        name, help=what, description=what, epilog=f"Example: costbook {example}"
    )
    made.add_argument("file", type=Path, metavar="FILE", help="your workbook (.xlsx)")
    made.add_argument("--json", action="store_true", help="print one JSON object and nothing else")
    return made


def _add_on(made: argparse.ArgumentParser) -> None:
    made.add_argument(
        "--on", type=_day, metavar="DATE", help="cost as on this day, for example 2026-11-25"
    )


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text} is no date; write it as 2026-11-25") from None


def _add_new(added: Any) -> None:
    made = _command(added, "new", "Make a blank workbook to fill in.", "new stall.xlsx")
    made.add_argument("--full", action="store_true", help="with every sheet, not only the needed")
    made.set_defaults(run=commands.new)


def _add_check(added: Any) -> None:
    made = _command(
        added, "check", "Say what in the workbook is wrong or doubtful.", "check stall.xlsx"
    )
    _add_on(made)
    made.set_defaults(run=commands.check)


def _add_cost(added: Any) -> None:
    made = _command(
        added,
        "cost",
        "Cost every product and write the sheets into the workbook.",
        "cost stall.xlsx",
    )
    _add_on(made)
    made.add_argument(
        "--output", type=Path, metavar="OTHER", help="write here and leave FILE as it is"
    )
    made.set_defaults(run=commands.cost)


def _add_explain(added: Any) -> None:
    made = _command(
        added,
        "explain",
        "Print how a price came about, down to the receipts.",
        'explain stall.xlsx "Leek roll"',
    )
    made.add_argument("product", metavar="PRODUCT", help="a product's name")
    made.add_argument(
        "figure",
        metavar="FIGURE",
        nargs="?",
        default="price on step",
        help="which figure: ingredients, labour, total, price on step … (default: price on step)",
    )
    made.add_argument("--outlet", metavar="OUTLET", help="at which outlet (default: the first)")
    _add_on(made)
    made.set_defaults(run=commands.explain)


def _add_compare(added: Any) -> None:
    made = _command(
        added,
        "compare",
        "Put the packs of each item side by side: which is really cheapest.",
        'compare stall.xlsx "Eggs, large"',
    )
    made.add_argument("item", metavar="ITEM", nargs="?", help="one item (default: every item)")
    _add_on(made)
    made.add_argument(
        "--weeks",
        type=_weeks,
        default=Decimal(2),
        metavar="N",
        help="how many weeks a purchase is to last (default: 2)",
    )
    made.set_defaults(run=decisions.compare)


def _weeks(text: str) -> Decimal:
    try:
        weeks = Decimal(text)
    except ArithmeticError:
        weeks = Decimal(0)
    if not 0 < weeks <= 520:
        raise argparse.ArgumentTypeError(f"{text} is no number of weeks; write it as 2")
    return weeks


def _add_moved(added: Any) -> None:
    made = _command(
        added,
        "moved",
        "Say which products moved since a day, by how much, because of which item.",
        "moved stall.xlsx --since 2026-10-01",
    )
    _add_on(made)
    made.add_argument(
        "--since", type=_day, metavar="DATE", help="compare with this day (default: 28 days back)"
    )
    made.set_defaults(run=decisions.moved)


def _add_try(added: Any) -> None:
    made = _command(
        added,
        "try",
        "Show every product before and after a change; nothing is written.",
        'try stall.xlsx --price "Eggs, large=+40%%" --set "Pay per hour=20"',
    )
    _add_on(made)
    made.add_argument(
        "--price",
        action="append",
        default=[],
        metavar="ITEM=PRICE",
        help="another price per pack: =28.50, =+40%%, =-0.30",
    )
    made.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="SETTING=VALUE",
        help='another value for a setting: "Target margin %%=35"',
    )
    made.add_argument(
        "--sensitivity", action="store_true", help="show the inputs that move profit most"
    )
    made.add_argument(
        "--series", type=Path, metavar="FILE.csv", help="prices by month (columns month, price)"
    )
    made.add_argument("--item", metavar="ITEM", help="the item whose prices the series holds")
    made.add_argument(
        "--per",
        metavar="UNIT",
        help="what the series' prices are for: dozen, 1 lb (default: a pack)",
    )
    made.add_argument(
        "--output", type=Path, metavar="OTHER", help="write a workbook with the trial here"
    )
    made.set_defaults(run=decisions.try_change)
