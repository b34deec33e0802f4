"""A cost rule applied to figures that are known by their names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from costbook.book import Value
from costbook.definitions.columns import Computed

__all__ = ["by_rule"]


def by_rule(rule: Callable[..., Any], known: Mapping[str, Value]) -> Decimal | None:
    """What a rule makes of the figures that its arguments name; None where one is unknown."""
    values = [known[name] for name in Computed(rule).arguments]
    if None in values:
        return None
    try:
        figure = Decimal(rule(*values))
    except ArithmeticError:
        return None
    return None if figure.is_nan() else figure
