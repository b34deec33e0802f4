"""The commands, and what may be said behind each: their options, helps and examples."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

from costbook.arguments import day, weeks
from costbook.command_options import Run
from costbook.command_options import add_on as _add_on
from costbook.command_options import command as _command
from costbook.desk_words import DESK_COMMANDS
from costbook.printing import Output

__all__ = ["COMMANDS", "Run"]


def _command_on(added: Any, name: str, what: str, example: str, run: Run) -> None:
    """A command that takes a workbook and a day, and nothing else."""
    made = _command(added, name, what, example)
    _add_on(made)
    made.set_defaults(run=run)


def _add_new(added: Any) -> None:
    made = _command(
        added, "new", "Make a blank workbook to fill in, or add a sheet to yours.", "new stall.xlsx"
    )
    made.add_argument("--full", action="store_true", help="with every sheet, not only the needed")
    made.add_argument(
        "--add",
        action="append",
        default=[],
        metavar="SHEET",
        help="put this blank sheet into FILE, which is there already: Stages, Overheads …",
    )
    made.set_defaults(run=_new)


def _add_check(added: Any) -> None:
    what = "Say what in the workbook is wrong or doubtful."
    _command_on(added, "check", what, "check stall.xlsx", _check)


def _add_cost(added: Any) -> None:
    what = "Cost every product and write the sheets into the workbook."
    made = _command(added, "cost", what, "cost stall.xlsx")
    _add_on(made)
    made.add_argument(
        "--output", type=Path, metavar="OTHER", help="write here and leave FILE as it is"
    )
    made.set_defaults(run=_cost)


def _add_explain(added: Any) -> None:
    what = "Print how a price came about, down to the receipts."
    made = _command(added, "explain", what, 'explain stall.xlsx "Leek roll"')
    made.add_argument("product", metavar="PRODUCT", nargs="?", help="a product's name")
    made.add_argument(
        "figure",
        metavar="FIGURE",
        nargs="?",
        default="price on step",
        help="which figure: ingredients, labour, total, price on step … (default: price on step)",
    )
    made.add_argument("--outlet", metavar="OUTLET", help="at which outlet (default: the first)")
    made.add_argument("--cell", metavar="CELL", help="what stands in a cell, as Prices!E12")
    made.add_argument("--all", action="store_true", help="every step, not the ten that matter")
    _add_on(made)
    made.set_defaults(run=_explain, refuse=made.error)


def _add_compare(added: Any) -> None:
    what = "Put the packs of each item side by side: which is really cheapest."
    made = _command(added, "compare", what, 'compare stall.xlsx "Eggs, large"')
    made.add_argument("item", metavar="ITEM", nargs="?", help="one item (default: every item)")
    _add_on(made)
    made.add_argument(
        "--weeks",
        type=weeks,
        default=Decimal(2),
        metavar="N",
        help="how many weeks a purchase is to last (default: 2)",
    )
    made.set_defaults(run=_compare)


def _add_moved(added: Any) -> None:
    what = "Say which products moved since a day, by how much, because of which item."
    made = _command(added, "moved", what, "moved stall.xlsx --since 2026-10-01")
    _add_on(made)
    made.add_argument(
        "--since", type=day, metavar="DATE", help="compare with this day (default: 28 days back)"
    )
    made.set_defaults(run=_moved)


def _add_try(added: Any) -> None:
    what = "Show every product before and after a change; nothing is written."
    made = _command(
        added, "try", what, 'try stall.xlsx --price "Eggs, large=+40%%" --set "Pay per hour=20"'
    )
    _add_on(made)
    made.add_argument(
        "--price",
        action="append",
        default=[],
        metavar="ITEM=PRICE",
        help="another price: per pack =28.50, =+40%%, =-0.30, or per unit =5/lb",
    )
    made.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="SETTING=VALUE",
        help='another value for a setting: "Target margin %%=35"',
    )
    made.add_argument(
        "--sensitivity",
        action="store_true",
        help="show which prices, minutes, hours, shares … move profit most",
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
    made.set_defaults(run=_try_change)


def _add_plan(added: Any) -> None:
    what = "Say what to make for the sheet Plan: batches, minutes, the kitchen, the cost."
    _command_on(added, "plan", what, "plan stall.xlsx", _plan)


def _add_labels(added: Any) -> None:
    what = "Draft the label of every product, or of one; verify each against local law."
    made = _command(added, "labels", what, 'labels stall.xlsx "Leek roll" --csv labels.csv')
    made.add_argument("product", metavar="PRODUCT", nargs="?", help="one (default: every product)")
    _add_on(made)
    made.add_argument(
        "--code",
        default="",
        metavar="CODE",
        help="the batch code (default: year and day of the year, as 26-330)",
    )
    made.add_argument(
        "--csv", type=Path, metavar="OTHER.csv", help="write them here, for a label printer"
    )
    made.set_defaults(run=_labels)


def _add_freezer(added: Any) -> None:
    what = "Say what is in the freezer, the oldest first, and what was measured."
    _command_on(added, "freezer", what, "freezer stall.xlsx", _freezer)


def _add_day(added: Any) -> None:
    what = "Say what a market day brought, an hour of your work above all."
    made = _command(added, "day", what, "day stall.xlsx 2026-11-21")
    when = "of this day (default: the last one)"
    made.add_argument("date", type=day, metavar="DATE", nargs="?", help=when)
    _add_on(made)
    made.set_defaults(run=_day)


def _add_year(added: Any) -> None:
    made = _command(
        added,
        "year",
        "Add up the year for your tax preparer, in the order in which it is asked.",
        "year stall.xlsx 2026",
    )
    made.add_argument(
        "year", type=int, metavar="YEAR", nargs="?", help="begun in this one (default: the last)"
    )
    _add_on(made)
    made.set_defaults(run=_year)


# Each command is imported when it is run: `--help` must not wait for the libraries.


def _add_buy(added: Any) -> None:
    what = "Say what to buy for your plan, in whole packs, shop by shop."
    made = _command(added, "buy", what, "buy stall.xlsx")
    _add_on(made)
    made.set_defaults(run=_buy)


def _new(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.new import new

    return new(options, output)


def _check(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.check import check

    return check(options, output)


def _cost(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.cost import cost

    return cost(options, output)


def _explain(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.explain import explain

    if not (options.product or options.cell):
        options.refuse("the following arguments are required: PRODUCT")
    return explain(options, output)


def _compare(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.compare import compare

    return compare(options, output)


def _moved(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.moved import moved

    return moved(options, output)


def _try_change(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.try_change import try_change

    return try_change(options, output)


def _plan(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.plan import plan

    return plan(options, output)


def _labels(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.labels import draft_labels

    return draft_labels(options, output)


def _freezer(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.freezer import freezer

    return freezer(options, output)


def _buy(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.buy import buy

    return buy(options, output)


def _day(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.day import day

    return day(options, output)


def _year(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.year import year

    return year(options, output)


COMMANDS: Final[dict[str, Callable[[Any], None]]] = {
    "new": _add_new,
    "check": _add_check,
    "cost": _add_cost,
    "explain": _add_explain,
    "compare": _add_compare,
    "moved": _add_moved,
    "try": _add_try,
    "plan": _add_plan,
    "labels": _add_labels,
    "freezer": _add_freezer,
    **DESK_COMMANDS,
    "buy": _add_buy,
    "day": _add_day,
    "year": _add_year,
}
