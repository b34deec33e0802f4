"""Columns that many tables have, each made in one way: a setting, the row a record stands on, …"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from inspect import signature
from typing import Any

from costbook.definitions import rules
from costbook.definitions.columns import (
    Column,
    Computed,
    Given,
    LookedUp,
    Renamed,
    Show,
    StandsOn,
)
from costbook.definitions.fields import QUANTITIES
from costbook.definitions.sheets import INPUT_SHEETS

__all__ = ["renamed", "row_on", "setting", "stands", "stands_as", "what_is_known", "what_lacks"]


def setting(name: str, show: Show, blank: Decimal | str | None = None) -> Column:
    """A setting of that name; ``blank`` is what a blank one counts as."""
    how = Given("Settings", name) if blank is None else Given("Settings", name, blank)
    return Column(name, how, show)


def what_is_known(rule: Callable[..., Any], *of: str, show: Show = Show.MONEY) -> Column:
    """What is known of a figure: by its own rule, from what is known ``of`` these arguments."""
    asked = (f"{name}_known" if name in of else name for name in signature(rule).parameters)
    return Column(f"{rule.__name__}_known", Computed(rule, columns=tuple(asked)), show)


def what_lacks(name: str, figure: str, one: str, other: str) -> Column:
    """What a sum lacks: the first thing that its parts do, by the columns that say so of these."""
    return Column(name, Computed(rules.first_lack, columns=(figure, one, other)), Show.TEXT)


def renamed(sheet: str, *names: str, column: str = "renamed") -> Column:
    """Whether a row's names, and the texts among its quantities, are those that were costed."""
    fields = INPUT_SHEETS[sheet].fields
    quantities = tuple(each.name for each in fields if each.kind in QUANTITIES)
    return Column(column, Renamed(sheet, names, quantities), Show.WHOLE)


def stands(sheet: str, *names: str) -> Column:
    """The row on which a record stands now, found by its names."""
    return Column(row_on(sheet), StandsOn(sheet, names), Show.WHOLE, f"Row on {sheet}")


def stands_as(table: str, sheet: str) -> Column:
    """The row on which the record of a linked row stands now."""
    row = row_on(sheet)
    return Column(row, LookedUp(table, row), Show.WHOLE, f"Row on {sheet}")


def row_on(sheet: str) -> str:
    """The name of the column that says on which row of a sheet a record stands now."""
    return f"{sheet.lower()}_row"
