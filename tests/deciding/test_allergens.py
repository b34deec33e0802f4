"""What an Allergens cell says: usual forms, what is left open, what is kept as typed.

The nine major allergens of US law: FALCPA 2004 and the FASTER Act 2021 (read). The fourteen of
Annex II of Regulation (EU) 1169/2011, and the kinds it names: as a university's food allergy centre
lists them (farrp.unl.edu; read).
"""

from __future__ import annotations

import pytest

from costbook.deciding.allergens import in_words, said_of_allergens

NINE = (
    *("milk", "eggs", "fish", "crustacean shellfish", "tree nuts", "peanuts", "wheat"),
    *("soybeans", "sesame"),
)
FOURTEEN = {
    "Cereals containing gluten": "cereals containing gluten",
    "Crustaceans": "crustacean shellfish",
    "Egg": "eggs",
    "Fish": "fish",
    "Peanut": "peanuts",
    "Soybeans": "soybeans",
    "Milk": "milk",
    "Nuts": "tree nuts",
    "Celery": "celery",
    "Mustard": "mustard",
    "Sesame seeds": "sesame",
    "Sulphur dioxide and sulphites": "sulphur dioxide and sulphites",
    "Lupin": "lupin",
    "Molluscs": "molluscs",
}
"""The words of Annex II, and the usual form of each."""
KINDS = {
    "cereals containing gluten": ("rye", "barley", "oats"),
    "wheat": ("spelt", "Khorasan"),
    "crustacean shellfish": ("prawns", "lobster", "crab", "crayfish"),
    "tree nuts": (
        *("almond", "hazelnut", "walnut", "cashew", "pecan nut", "Brazil nut", "pistachio nut"),
        *("Macadamia nut", "Queensland nut"),
    ),
    "molluscs": ("clams", "oysters", "scallops", "snails", "squid"),
}
"""The kinds that Annex II names, or its examples are."""


def contains(text: str) -> tuple[str, ...]:
    """What a cell says is in it, where it leaves nothing open."""
    said = said_of_allergens(text)
    assert said.is_known
    return in_words(said.contains)


def test_the_nine_are_known_in_their_own_words_and_stand_in_their_order() -> None:
    assert contains(", ".join(sorted(NINE))) == NINE
    assert said_of_allergens(", ".join(NINE)).as_typed == ()


@pytest.mark.parametrize("word", FOURTEEN)
def test_the_fourteen_are_known(word: str) -> None:
    assert contains(word) == contains(word.upper()) == (FOURTEEN[word],)


@pytest.mark.parametrize(
    ("name", "kind"), [(n, kind) for n, kinds in KINDS.items() for kind in kinds]
)
def test_a_kind_stands_behind_the_name_of_all(name: str, kind: str) -> None:
    (said,) = contains(kind)
    assert said.startswith(f"{name} (")
    assert said_of_allergens(kind).as_typed == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Milk & egg", ("milk", "eggs")),
        ("contains: WHEAT, soya.", ("wheat", "soybeans")),
        ("milk/egg; Fish\nmustard + celery", ("milk", "eggs", "fish", "celery", "mustard")),
        ("tree nuts (almonds, walnuts)", ("tree nuts (almonds, walnuts)",)),
        ("walnuts, tree-nuts (almonds)", ("tree nuts (almonds, walnuts)",)),
        ("nuts, almonds", ("tree nuts (almonds)",)),
        ("Fish: cod", ("fish (cod)",)),
        ("fish (pollack)", ("fish (pollack)",)),  # a kind that isn't listed is kept as typed
        ("butter, cheese", ("milk",)),
        ("milk*", ("milk",)),
        ("none, milk", ("milk",)),
    ],
)
def test_what_people_write_is_put_in_the_usual_form(text: str, said: tuple[str, ...]) -> None:
    assert contains(text) == said


@pytest.mark.parametrize(
    "text", ["none", "None.", "NO", "nil", "no allergens", "Contains none", "keine"]
)
def test_none_is_what_the_person_says(text: str) -> None:
    said = said_of_allergens(text)
    assert (said.is_known, said.contains, said.may_contain) == (True, (), ())


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", "-", "–", "?", "0", "n/a", "unknown", "see pack", "yes", "tbc", '"', "ditto"),
        *("gluten-free", "no nuts", "without milk", "dairy free", "may contain milk", "=1+1"),
    ],
)
def test_what_does_not_say_what_is_in_it_leaves_that_open(text: str) -> None:
    assert not said_of_allergens(text).is_known


def test_a_question_mark_leaves_open_what_else_is_in_it() -> None:
    said = said_of_allergens("milk?")
    assert (said.is_known, in_words(said.contains)) == (False, ("milk",))


def test_what_is_not_in_it_is_on_no_label_and_what_is_beside_it_counts() -> None:
    said = said_of_allergens("milk, gluten-free")
    assert (said.is_known, in_words(said.contains)) == (True, ("milk",))
    assert said.not_in_it == ("gluten-free",)


@pytest.mark.parametrize(
    ("text", "sure", "perhaps"),
    [
        ("milk; may contain nuts", ("milk",), ("tree nuts",)),
        ("Contains milk. May also contain traces of egg, sesame", ("milk",), ("eggs", "sesame")),
        ("none (may contain celery)", (), ("celery",)),
        ("milk, might contain milk", ("milk",), ()),
    ],
)
def test_what_may_be_in_it_is_apart(
    text: str, sure: tuple[str, ...], perhaps: tuple[str, ...]
) -> None:
    said = said_of_allergens(text)
    assert said.is_known
    assert (in_words(said.contains), in_words(said.may_contain)) == (sure, perhaps)


@pytest.mark.parametrize("word", ["mlik", "Shellfish", "kiwi", "Milch"])
def test_any_other_word_is_kept_as_typed(word: str) -> None:
    said = said_of_allergens(f"egg, {word}")
    assert in_words(said.contains) == ("eggs", word)
    assert said.as_typed == (word,)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("tree nuts (Almond)", "tree nuts (almonds)"),
        ("crustaceans (shrimps)", "crustacean shellfish (shrimp)"),
        ("tree nuts (pine kernels)", "tree nuts (pine kernels)"),
    ],
)
def test_what_stands_in_brackets_stays_there_in_its_usual_form(text: str, shown: str) -> None:
    assert (contains(text), said_of_allergens(text).as_typed) == ((shown,), ())


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("wheat (Milk)", ("milk", "wheat (Milk)")),
        (
            "cereals containing gluten (Wheat)",
            ("wheat", "cereals containing gluten (Wheat)"),
        ),
    ],
)
def test_another_allergen_in_brackets_is_named_by_itself_too(
    text: str, shown: tuple[str, ...]
) -> None:
    assert contains(text) == shown


def test_brackets_behind_what_is_no_allergen_are_kept_as_typed() -> None:
    assert (contains("bananas (ripe)"), said_of_allergens("bananas (ripe)").as_typed) == (
        ("bananas (ripe)",),
        ("bananas (ripe)",),
    )
