"""The allergens within a recipe and all that it is made of, as typed on Items; what isn't known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from costbook.book import Record, one_line
from costbook.costing.rows import Row
from costbook.deciding.allergens import SaidOfAllergens, in_words, said_of_allergens
from costbook.deciding.ingredients import MadeOf, item_name, item_record

__all__ = ["AllergensWithin", "allergens_within"]


@dataclass(frozen=True, slots=True)
class AllergensWithin:
    """What is in it and what may be, as a label names them, each once."""

    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    unknown: tuple[str, ...]
    """The names, as on Items or Recipes, of all that may bring any allergen."""
    of_nothing: bool
    """Whether nothing is known to go in."""

    def in_words(self) -> str:
        """What is in it, what may be, and of what that is unknown."""
        unknown = "; ".join(self.unknown)
        none = "[UNKNOWN]" if unknown or self.of_nothing else "nothing typed as an allergen"
        said = f"Contains: {', '.join(self.contains) or none}."
        if self.may_contain:
            said += f" May contain: {', '.join(self.may_contain)}."
        return f"{said} [ALLERGENS UNKNOWN: {unknown}]" if unknown else said


def allergens_within(made_of: MadeOf) -> AllergensWithin:
    """The allergens of all lines of a recipe, those of recipes inside too."""
    said = {at: _said(line) for at, line in made_of.lines.items()}
    contains = [each for one in said.values() for each in one.contains]
    may = [each for one in said.values() for each in one.may_contain if each not in contains]
    unknown = dict.fromkeys(_unknown(made_of, said))
    return AllergensWithin(
        in_words(contains), in_words(may), tuple(unknown), not made_of.ingredients
    )


def _said(line: Row) -> SaidOfAllergens:
    record: Record | None = item_record(line)
    return said_of_allergens(record.text("allergens")) if record else SaidOfAllergens()


def _unknown(made_of: MadeOf, said: dict[int, SaidOfAllergens]) -> Iterator[str]:
    for at, line in made_of.lines.items():
        if not said[at].is_known:
            yield item_name(line)
    for use in made_of.uses.values():
        if "recipes" not in use.links:
            yield one_line(str(use.fixed["uses"]))
