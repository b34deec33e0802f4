"""Book → problems that no cell shows by itself: names that lead nowhere, rows that stand twice.

Each check looks at the whole book and yields what it finds; to add one, write the function in
the module it belongs to, and name it in CHECKS.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from costbook.book import Book
from costbook.problems import Problem
from costbook.reading.figure_checks import (
    currency_not_known,
    gaps,
    margins_of_all,
    none_sold,
    packs_without_units,
    units_not_known,
)
from costbook.reading.line_checks import (
    lines_of_nothing,
    lines_twice,
    names_of_two_things,
    usable_shares_of_nothing,
    usable_shares_of_recipes,
)
from costbook.reading.name_checks import (
    names_that_lead_nowhere,
    other_names_shared,
    rows_twice,
    rows_without_name,
)
from costbook.reading.purchase_checks import (
    bought_in_two_kinds,
    discounts_of_nothing,
    purchases_left_out,
    purchases_twice,
)
from costbook.reading.stock_checks import (
    counts_in_odd_units,
    months_that_are_none,
    stock_gaps,
    stock_of_nobody,
    stock_twice,
    use_by_too_early,
)
from costbook.reading.twin_checks import (
    items_nearly_the_same,
    rows_of_items_not_used,
    suppliers_nearly_the_same,
)

__all__ = ["CHECKS", "Check", "check"]

Check = Callable[[Book], Iterator[Problem]]

CHECKS: Final[tuple[Check, ...]] = (
    rows_without_name,
    names_that_lead_nowhere,
    items_nearly_the_same,
    rows_of_items_not_used,
    suppliers_nearly_the_same,
    other_names_shared,
    rows_twice,
    units_not_known,
    gaps,
    packs_without_units,
    none_sold,
    margins_of_all,
    currency_not_known,
    lines_of_nothing,
    lines_twice,
    names_of_two_things,
    usable_shares_of_nothing,
    usable_shares_of_recipes,
    purchases_left_out,
    purchases_twice,
    discounts_of_nothing,
    bought_in_two_kinds,
    stock_of_nobody,
    stock_gaps,
    counts_in_odd_units,
    months_that_are_none,
    use_by_too_early,
    stock_twice,
)


def check(book: Book) -> list[Problem]:
    """All that the checks find, in the order of the checks."""
    return [problem for each in CHECKS for problem in each(book)]
