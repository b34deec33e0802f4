"""A cost rule applied to figures that are known by their names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from typing import Any

from costbook.book import Value
from costbook.definitions.columns import Computed

__all__ = ["by_rule"]


def by_rule(rule: Callable[..., Any], known: Mapping[str, Value]) -> Decimal | None:
    """What a rule makes of the figures that its arguments name; None where one is unknown."""
    how = _read(rule)
    figure = how.figure([known[name] for name in how.arguments])
    return figure if isinstance(figure, Decimal) else None


_read = cache(Computed)
