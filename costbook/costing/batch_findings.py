"""Costing → batches and the packs they are sold in: what is left, and how much one pack holds."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from costbook.book import Record, Value
from costbook.costing.engine import Costing, Figures
from costbook.costing.far import is_far
from costbook.costing.line_findings import place_of
from costbook.costing.rows import Row
from costbook.definitions.rules import FAR
from costbook.definitions.units import Measure
from costbook.problems import Problem, Severity

__all__ = [
    "batches_without_good",
    "minutes_of_no_unit",
    "packs_of_odd_size",
    "packs_without_amount",
]


def _wrong(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.WRONG, place_of(costing, record, name), what, remedy)


def batches_without_good(costing: Costing) -> Iterator[Problem]:
    """A batch of which every unit is a reject leaves nothing to carry its cost."""
    for row in costing.structure.rows["batches"]:
        figures = costing.of(row)
        known = figures["started"] is not None and figures["rejects"] is not None
        if known and figures["good"] is None:
            yield _wrong(
                costing,
                row.sources["Batches"],
                "rejects",
                "the rejects are all that the batch makes, so nothing is left to sell.",
                "Correct Makes or Rejects.",
            )


# ---------------------------------------------------------------- packs


def packs_without_amount(costing: Costing) -> Iterator[Problem]:
    """A pack of which it isn't known how much of its batch it holds."""
    for row in costing.structure.rows["packs"]:
        record, figures = row.sources["Products"], costing.of(row)
        if figures["units_per_pack"] is not None or figures["price_measure"] is None:
            continue
        if figures["typed_units"] is None or not record.values.keys() & _SAY_HOW_MUCH:
            continue  # what was typed, or that nothing was, is asked about already
        if figures["price_measure"] == Measure.PIECE:
            asked = _in_pieces(costing, row)
        else:
            asked = _in_bulk(costing, row)
        if asked:
            yield _wrong(costing, record, "units_per_pack", *asked)


_SAY_HOW_MUCH: Final = frozenset({"units_per_pack", "net_weight"})

Objection = tuple[str, str] | None
"""What is wrong, and what to do."""


def _in_pieces(costing: Costing, row: Row) -> Objection:
    """A pack given by weight, of a batch that is counted; a blank is asked as a gap."""
    figures = costing.of(row)
    if figures["pack_measure"] is None:
        return None
    unit = _unit(costing, figures["pack_unit_row"])
    what = f"{_recipe(row)} is made in pieces, and a pack of it can't be counted in {unit}."
    return what, "Type how many pieces one pack holds."


def _in_bulk(costing: Costing, row: Row) -> Objection:
    """A pack of a batch by weight or volume, without an amount that can be compared with it."""
    figures, made = costing.of(row), _made_in(costing, row)
    typed, net = figures["typed_units"], figures["net_weight"]
    if figures["portion"] is not None and figures["bridge"] is None:
        what = f"{made}, and a pack of it is given in another kind of unit."
        bridge = f"Grams per ml or Grams per piece on Items, in a row named {_recipe(row)}"
        return what, f"Give the pack in the same kind of unit, or fill in {bridge}."
    if isinstance(net, Decimal) and net > 0 and figures["net_factor"] is None:
        return (
            f"{made}, and the net weight of a pack has no unit.",
            "Fill in Net weight unit.",
        )
    if isinstance(net, Decimal) and net > 0:
        weight = f"{_shown(net)} {_unit(costing, figures['net_unit_row'])}"
        what = f"{made}: {_shown(typed)} of what, where the net weight of a pack is {weight}?"
        return what, f'Type "{weight}" for one portion a pack; for six in it, as "6 x 150 g".'
    return (
        f"{made}, and it is not said how much of it one pack holds.",
        f'Type the amount with its unit, as "{_likely(costing, row)}".',
    )


def _likely(costing: Costing, row: Row) -> str:
    """What may be meant by a number alone: that many of the batch's own unit, if it has as many."""
    typed, batch = costing.of(row)["typed_units"], costing.of(row.links["batches"])
    made = batch["started"]
    if typed == 1 or not isinstance(typed, Decimal) or not isinstance(made, Decimal):
        return "250 g"
    return f"{_shown(typed)} {_unit(costing, batch['unit_row'])}" if typed <= made else "6 x 150 g"


def _recipe(row: Row) -> str:
    return str(row.links["batches"].fixed["recipe"])


def _made_in(costing: Costing, row: Row) -> str:
    unit = _unit(costing, costing.of(row.links["batches"])["unit_row"])
    return f"{_recipe(row)} is made in {unit}"


def _unit(costing: Costing, unit_row: Value) -> str:
    """The name of the unit in a row of the table of units."""
    return str(costing.structure.rows["units"][int(str(unit_row)) - 1].fixed["unit"])


def _shown(number: Value) -> str:
    return f"{Decimal(str(number)).normalize():f}"


def packs_of_odd_size(costing: Costing) -> Iterator[Problem]:
    """A pack that can't be as large as was typed, as with litres for millilitres: each once."""
    for row in costing.structure.rows["packs"]:
        what = _above_its_batch(costing, row) or _apart_from_its_net_weight(costing, row)
        if what:
            place = place_of(costing, row.sources["Products"], _says_how_much(costing.of(row)))
            remedy = "Check how much a pack holds and its unit, and Makes on Batches."
            yield Problem(Severity.DOUBTFUL, place, what, remedy)


def _says_how_much(figures: Figures) -> str:
    """The field that says what a pack holds: Net weight, where Units per pack has no amount."""
    return "net_weight" if figures["pack_measure"] is None else "units_per_pack"


def _above_its_batch(costing: Costing, row: Row) -> str:
    """What is said of a pack that holds more than a whole batch makes by weight or volume.

    Pieces of several batches may be put into one box.
    """
    figures = costing.of(row)
    units, whole, made = (figures[name] for name in ("units_per_pack", "units_started", "started"))
    if not (
        isinstance(units, Decimal) and isinstance(whole, Decimal) and isinstance(made, Decimal)
    ):
        return ""
    if figures["price_measure"] == Measure.PIECE or not 0 < whole < units:
        return ""
    unit = _unit(costing, costing.of(row.links["batches"])["unit_row"])
    held = Decimal(f"{units / whole * made:.4g}")
    return (
        f"a pack of {figures['product']} holds {_shown(held)} {unit}, more than a whole batch: "
        f"{_recipe(row)} makes {_shown(made)} {unit}."
    )


def _apart_from_its_net_weight(costing: Costing, row: Row) -> str:
    """What is said of a pack whose net weight is that neither of one portion nor of all."""
    figures = costing.of(row)
    names = ("typed_units", "unit_factor", "units_in_text", "net_weight", "net_factor")
    known = [each for each in (figures[name] for name in names) if isinstance(each, Decimal)]
    kinds = {figures["pack_measure"], figures["net_measure"]}
    if len(known) < len(names) or not kinds <= {Measure.WEIGHT, Measure.VOLUME}:
        return ""
    typed, factor, times, net, net_factor = known
    most = FAR if len(kinds) == 1 else _GRAMS_APART_FROM_ML
    if not all(is_far(each * typed * factor, net * net_factor, most) for each in (1, times)):
        return ""
    count = f"{_shown(times)} × " if times != 1 else ""
    held = f"{count}{_shown(typed)} {_unit(costing, figures['pack_unit_row'])}"
    weight = f"{_shown(net)} {_unit(costing, figures['net_unit_row'])}"
    return f"a pack of {figures['product']} holds {held}, and its net weight is {weight}."


_GRAMS_APART_FROM_ML: Final = 100
"""No food is so many times as heavy as water, or as light: popcorn has 0.03 g/ml."""


# ---------------------------------------------------------------- minutes


def minutes_of_no_unit(costing: Costing) -> Iterator[Problem]:
    """Minutes per unit of a batch by weight whose products are of different amounts."""
    for row in costing.structure.rows["stages"]:
        figures = costing.of(row)
        if figures["minutes_per_unit"] and _differ(figures):
            yield _wrong(
                costing,
                row.sources["Stages"],
                "minutes_per_unit",
                f"{figures['recipe']} is sold in packs of different amounts, so it is not known "
                "how many units a batch starts.",
                "Type them as minutes per batch, or as a stage of each product.",
            )


def _differ(figures: Figures) -> bool:
    agreed = figures["agreed_units"]
    return figures["units_started"] is None and isinstance(agreed, Decimal) and agreed < 0
