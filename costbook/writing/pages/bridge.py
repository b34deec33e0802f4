"""The bridge from the cost then to the cost now of the product that moved most, item by item."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import ROUND_FLOOR, Decimal

from costbook.deciding.moved import ProductMoved
from costbook.deciding.packs import money
from costbook.definitions.columns import Show
from costbook.writing.description import BarChart, Look, Role
from costbook.writing.pages.page import Page

__all__ = ["bridge"]

BESIDE, WIDE = 6, 600
"""The column at which the chart begins, right of its table, and its width [pixels]."""


def bridge(page: Page, moved: ProductMoved | None, across: int) -> None:
    """From the cost then to the cost now of the product that moved most, item by item.

    Its figures are as of this run, since another product may move most after a change.
    """
    sheet = page.sheet
    if moved is None:
        return
    then, now = moved.before, moved.after
    if not isinstance(then, Decimal) or not isinstance(now, Decimal):
        return
    page.section(f"From then to now: {moved.product}, as of this run", across)
    names = ("Step", "Where", "Below", "Whole", "Rose", "Fell")
    heading = page.headings(names, shows=(Show.TEXT, Show.TEXT, *(Show.MONEY,) * 4))
    steps = [("Cost then", Decimal(0), then, Decimal(0), Decimal(0)), *_steps(then, moved.steps)]
    steps.append(("Cost now", Decimal(0), now, Decimal(0), Decimal(0)))
    for name, *figures in steps:
        at = sheet.next_row
        sheet.put(at, 0, name, Look(Role.LABEL))
        sheet.put(at, 1, moved.outlet or "—", Look(Role.LABEL))
        for number, figure in enumerate(figures, 2):
            sheet.put(at, number, figure, Look(Role.COMPUTED, Show.MONEY))
        sheet.next_row += 1
    below = sheet.next_row
    _draw(page, moved, (heading, steps))
    sheet.next_row = max(below + 1, sheet.next_row)


BridgeStep = tuple[str, Decimal, Decimal, Decimal, Decimal]
"""A step of the bridge: its name, where its bar begins, a whole cost, a rise, a fall."""


def _draw(
    page: Page,
    moved: ProductMoved,
    table: tuple[int, list[BridgeStep]],
) -> None:
    """The chart of the steps, beside their table; its title says which item did most."""
    sheet, places = page.sheet, page.context.places
    heading, steps = table
    title = f"{moved.most(places)} to {moved.product}"
    last = sheet.next_row - 1
    labels = _labels(steps, places)
    begins = _beginning(steps)
    cut = f"; the bars begin at {money(begins, places)}" if begins else ""
    chart = BarChart(
        title,
        f"{page.context.sign}{cut}",
        heading,
        heading + 1,
        last,
        (0, 0),
        (2, 3, 4, 5),
        heading,
        BESIDE,
        steps=True,
        in_bars=labels,
        begins=begins,
        width=WIDE,
    )
    sheet.put_chart(chart)


def _beginning(steps: list[BridgeStep]) -> Decimal:
    """Where the bars are cut off, so that small steps between large costs can be seen [money].

    A round amount that leaves the lowest level about as high as all levels lie apart; nothing
    where the steps can be seen in whole bars.
    """
    levels = [below + whole + rise + fall for _, below, whole, rise, fall in steps]
    lows = [below for _, below, whole, _, _ in steps if not whole]
    lowest, highest = min(*lows, *levels), max(levels)
    apart = highest - lowest
    if not apart or apart * 4 > highest:
        return Decimal(0)
    unit = Decimal(1).scaleb(apart.adjusted())
    return max(Decimal(0), ((lowest - apart) / unit).to_integral_value(ROUND_FLOOR) * unit)


def _steps(start: Decimal, parts: Sequence[tuple[str, Decimal]]) -> Iterator[BridgeStep]:
    """Each item's step from where the one before ended."""
    for name, part in parts:
        nothing = Decimal(0)
        rise, fall = (part, nothing) if part > 0 else (nothing, -part)
        yield name, min(start, start + part), nothing, rise, fall
        start += part


def _labels(steps: list[BridgeStep], places: int) -> tuple[tuple[str | None, ...], ...]:
    """What stands in the bars: the whole costs, and each rise or fall with its sign."""
    return (
        tuple("" for _ in steps),
        tuple(money(whole, places) if whole else "" for _, _, whole, _, _ in steps),
        tuple(f"+{money(rise, places)}" if rise else "" for _, _, _, rise, _ in steps),
        tuple(f"−{money(fall, places)}" if fall else "" for _, _, _, _, fall in steps),
    )
