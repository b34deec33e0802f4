"""Words for allergens, each in its usual form, with the other words and the kinds there are of it.

The nine major allergens of US law (FALCPA 2004, FASTER Act 2021) stand first, then what Annex II of
Regulation (EU) 1169/2011 names beside them. They are words to recognise: whether a food must bear
one, or needn't, is nowhere said here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

__all__ = ["ALLERGENS", "NONE_IN_IT", "SAYS_NOTHING", "Allergen", "allergen_key"]


@dataclass(frozen=True, slots=True)
class Allergen:
    """An allergen's usual name, the other words for all of it, and the kinds that may be named."""

    name: str
    also: tuple[str, ...] = ()
    kinds: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """By the kind's name, other words for it."""


def _kinds(*names: str, **others: tuple[str, ...]) -> Mapping[str, tuple[str, ...]]:
    named = {name.replace("_", " "): words for name, words in others.items()}
    return MappingProxyType(dict.fromkeys(names, ()) | named)


ALLERGENS: Final = (
    Allergen(
        "milk",
        (
            *("dairy", "dairy product", "milk product", "milk powder", "lactose", "casein", "whey"),
            *("butter", "buttermilk", "cheese", "cream", "yoghurt", "yogurt"),
        ),
    ),
    Allergen("eggs", ("egg", "egg white", "egg yolk", "egg powder", "albumen")),
    Allergen(
        "fish",
        kinds=_kinds(
            *("anchovies", "bass", "cod", "flounder", "haddock", "herring", "mackerel"),
            *("pollock", "salmon", "sardines", "trout", "tuna"),
        ),
    ),
    Allergen(
        "crustacean shellfish",
        ("crustaceans", "crustacean"),
        _kinds("crab", "crayfish", "lobster", "prawns", "shrimp"),
    ),
    Allergen(
        "tree nuts",
        ("nuts", "tree nut", "treenuts"),
        _kinds(
            *("almonds", "Brazil nuts", "pecans", "pistachios", "walnuts"),
            cashews=("cashew nuts",),
            hazelnuts=("filberts",),
            macadamia_nuts=("macadamias", "Queensland nuts"),
            pecans=("pecan nuts",),
            pistachios=("pistachio nuts",),
        ),
    ),
    Allergen("peanuts", ("groundnuts", "monkey nuts")),
    Allergen(
        "wheat",
        ("wheat flour", "wheat gluten", "wheat starch"),
        _kinds("durum", "semolina", "spelt", khorasan=("kamut", "khorasan wheat")),
    ),
    Allergen("soybeans", ("soy", "soya", "soybean", "soya bean", "soy lecithin", "soya lecithin")),
    Allergen("sesame", ("sesame seeds", "sesame oil", "tahini")),
    Allergen("cereals containing gluten", ("gluten",), _kinds("barley", "oats", "rye")),
    Allergen("celery", ("celeriac",)),
    Allergen("mustard", ("mustard seeds",)),
    Allergen(
        "sulphur dioxide and sulphites",
        ("sulphites", "sulfites", "sulphur dioxide", "sulfur dioxide", "so2", "sulphite"),
    ),
    Allergen("lupin", ("lupine",)),
    Allergen(
        "molluscs",
        ("mollusks",),
        _kinds("clams", "mussels", "oysters", "scallops", "snails", "squid"),
    ),
)
"""In the order in which a label names them."""

NONE_IN_IT: Final = frozenset(
    {"none", "no", "nil", "nothing", "no allergen", "none in it", "keine", "aucun", "ninguno"}
    | {"nessuno", "contains none", "does not contain any"}
)
"""What a person types who says that there is none, by their keys."""

SAYS_NOTHING: Final = frozenset(
    {"unknown", "not known", "ask", "check", "to check", "tbc", "tba", "tbd", "yes", "y", "x"}
    | {"see pack", "see label", "n/a", "n.a.", "na", "not applicable", "various", "some"}
    | {"any", "allergen", "todo", "to do", "don't know", "not sure", "unsure"}
)
"""Words that leave open what is in it, by their keys."""


def allergen_key(word: str) -> str:
    """What a word is looked up by: its case, hyphens and a plural's ending don't count.

    >>> allergen_key("Tree-Nuts"), allergen_key("anchovies")
    ('tree nut', 'anchovy')
    """
    plain = " ".join(word.replace("-", " ").lower().split())
    if plain.endswith("ies"):
        return f"{plain[:-3]}y"
    return plain.removesuffix("s") if len(plain) > 3 else plain
