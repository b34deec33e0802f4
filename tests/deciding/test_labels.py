"""Draft labels: the order of ingredients, allergens rolled up, net weight, what stays unknown.

21 CFR 101.4(a)(1), read in a copy of the Code: ingredients are listed "by common or usual name in
descending order of predominance by weight". 101.4(b)(2)(i), from memory: what an ingredient is
itself made of follows it in parentheses, in the same order. 21 CFR 101.7, from memory: the net
quantity in both systems, as "Net Wt 12 oz (340 g)".
"""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from datetime import date
from decimal import Decimal
from random import Random

import pytest

from costbook.deciding.ingredients import MOST_NAMES, Ingredient, has_labels
from costbook.deciding.labels import DRAFT, batch_code, labels
from tests.deciding.asking import costed
from tests.deciding.label_books import ROLL, changed, drafted, names

# ---------------------------------------------------------------- the order


def test_the_order_of_two_levels_is_the_one_worked_by_hand() -> None:
    label = drafted()
    assert label.statement == (
        "Ingredients: Filling (leek, cheddar (milk, salt), cream (milk), salt), wheat flour, egg, "
        "salt."
    )
    assert [each.grams for each in label.ingredients] == [
        *(Decimal(1200), Decimal(900), Decimal("100.32"), Decimal(18)),
    ]
    assert [each.grams for each in label.ingredients[0].within] == [
        *(Decimal(600), Decimal(500), Decimal(303), Decimal(5)),
    ]
    assert label.unfinished == ""


def test_equal_weights_stand_by_name() -> None:
    label = drafted({"Filling | Leek": "Filling | Leek | 1000 | g | as bought"})
    assert names(label.ingredients[0].within)[:2] == ["cheddar (milk, salt)", "leek"]


def test_binary_noise_makes_no_order() -> None:
    """A third of 1500 g and 500 g are equal, however the third was typed."""
    label = drafted({"Filling | Leek": "Filling | Leek | 1000.0000000001 | g | as bought"})
    assert names(label.ingredients[0].within)[:2] == ["cheddar (milk, salt)", "leek"]


def test_a_recipe_in_pieces_weighs_its_part_of_what_went_into_it() -> None:
    """6 of 21 started, of 600 + 500 + 303 + 5 = 1408 g: 402.2857 g; a reject weighs as much."""
    label = drafted(
        {
            "Filling | 1.3": "Filling | 21 | ea\n",
            "Roll    | Filling": "Roll | Filling | 6 | ea |",
        }
    )
    assert names(label.ingredients)[:2] == ["wheat flour", "Filling"]
    grams = label.ingredients[1].grams
    assert grams is not None
    assert abs(grams - Decimal(1408) * 6 / 21) < Decimal("1e-20")


def test_what_is_put_in_twice_stands_once_with_both_weights() -> None:
    label = drafted({"Roll    | Salt": "Roll | Salt | 18 | g |\nRoll | Salt | 100 | g |"})
    assert names(label.ingredients) == ["Filling", "wheat flour", "salt", "egg"]
    assert label.ingredients[2].grams == 118


def test_two_items_of_one_label_name_stand_once() -> None:
    label = drafted({"Salt ": "Salt | | | | | none | Wheat flour"})
    assert names(label.ingredients) == ["Filling", "Wheat flour", "egg"]
    assert set(label.ingredients[1].items) == {"Flour", "Salt"}


def test_a_recipes_label_name_is_its_name_and_its_lines_say_what_is_in_it() -> None:
    label = drafted(
        {"Salt ": "Salt | | | | | none | salt\nFilling | | | | | | leek sauce (secret)"}
    )
    assert label.statement.startswith("Ingredients: leek sauce (leek, cheddar (milk, salt), cream")


def test_packaging_is_no_ingredient() -> None:
    label = drafted(
        {
            "Salt ": "Salt | | | | | none | salt\nBaking paper | Packaging | | 10 | | |",
            "Roll    | Salt": "Roll | Salt | 18 | g |\nRoll | Baking paper | 1 | ea |",
        }
    )
    assert names(label.ingredients) == ["Filling", "wheat flour", "egg", "salt"]
    assert label.allergens.unknown == ()


def test_a_label_name_without_a_letter_is_none() -> None:
    """Salt is the last one, under its own name: nobody eats a 0."""
    label = drafted({"Salt ": "Salt | | | | | none | 0"})
    assert names(label.ingredients)[-1] == "Salt"


# ---------------------------------------------------------------- what is unknown


def test_a_weight_that_is_unknown_is_shouted_and_has_no_place() -> None:
    label = drafted({"Egg ": "Egg | | 0.88 | | | egg | egg"})
    assert label.statement.endswith("wheat flour, salt, [WEIGHT UNKNOWN: egg].")
    assert label.unfinished == "NOT FINISHED. WEIGHT UNKNOWN: egg."


def test_an_unknown_weight_within_leaves_the_recipe_its_place_where_that_was_weighed() -> None:
    label = drafted({"Cream ": "Cream | | | | | milk | cream (milk)"})
    assert names(label.ingredients)[0] == "Filling"
    assert "[WEIGHT UNKNOWN: cream (milk)]), wheat flour" in label.statement


@pytest.mark.parametrize(
    "row",
    [
        "Leek | | 0.5 | | | | leek",
        "Leek | | 0.5 | | | ? | leek",
        "Leek | | 0.5 | | | see pack | leek",
        "Leek | | 0.5 | | | gluten-free | leek",
        "Leek | | 0.5 | | | may contain celery | leek",
        "",
    ],
    ids=["blank", "question mark", "elsewhere", "what is not in it", "what may be", "no row"],
)
def test_an_unknown_allergen_is_shouted_by_item_through_a_recipe(row: str) -> None:
    label = drafted({"Leek  ": row})
    assert label.allergens.unknown == ("Leek",)
    assert "ALLERGENS UNKNOWN: Leek." in label.unfinished
    assert label.allergens.in_words().endswith("[ALLERGENS UNKNOWN: Leek]")
    assert "[ALLERGENS UNKNOWN: Leek]" in "\n".join(label.in_words())


def test_allergens_are_rolled_up_once_each_in_the_usual_form() -> None:
    label = drafted()
    assert label.allergens.contains == ("milk", "eggs", "wheat")
    assert label.allergens.in_words() == "Contains: milk, eggs, wheat."


def test_what_may_be_in_it_is_said_apart_unless_it_is_in_it() -> None:
    label = drafted({"Salt ": "Salt | | | | | none; may contain celery, milk | salt"})
    assert label.allergens.may_contain == ("celery",)
    assert label.allergens.in_words() == "Contains: milk, eggs, wheat. May contain: celery."


def test_none_everywhere_is_none() -> None:
    items = {
        f"{name:7} |": f"{name} | | | 57 | 1 | none | x{name}"
        for name in ("Flour", "Leek", "Cheddar", "Egg", "Cream", "Salt")
    }
    label = drafted(items)
    assert (label.allergens.contains, label.allergens.unknown) == ((), ())
    assert label.allergens.in_words() == "Contains: nothing typed as an allergen."


def test_a_recipe_that_comes_round_to_itself_is_unknown() -> None:
    label = drafted({"Filling | Salt": "Filling | Salt | 5 | g |\nFilling | Roll | 1 | ea |"})
    assert set(label.allergens.unknown) & {"Roll", "Filling"}
    assert label.unfinished.startswith("NOT FINISHED. ALLERGENS UNKNOWN: ")


def test_a_line_of_nobodys_recipe_is_unknown_wherever_it_may_belong() -> None:
    label = drafted({"Filling | Cream": "Fillinng | Cream | 300 | ml |"})
    assert "milk" in label.allergens.contains
    assert "cream (milk)" in label.unknown_weights


def test_a_product_without_a_recipe_has_no_ingredients() -> None:
    label = drafted({"Leek roll": "Leek roll | Rolls of another kind | 1 | 12 | oz"})
    assert label.statement == "Ingredients: [UNKNOWN]."
    assert label.unfinished == "NOT FINISHED. INGREDIENTS UNKNOWN."
    assert label.allergens.in_words() == "Contains: [UNKNOWN]."


# ---------------------------------------------------------------- net weight, batch, maker


@pytest.mark.parametrize(
    ("typed", "said", "grams"),
    [
        # 12 × 28.349523125 = 340.19; a declaration may be rounded down, never up (NIST Handbook
        # 130, Uniform Packaging and Labeling Regulation; quoted); three digits (16 CFR 500.19(b);
        # read)
        ("12 | oz", "Net Wt 12 oz (340 g)", "340.1942775"),
        # 16 × 28.349523125 = 453.59237: the pound, exactly
        ("1 | lb", "Net Wt 1 lb (453 g)", "453.59237"),
        ("1.5 | lb", "Net Wt 1.5 lb (680 g)", "680.388555"),
        # 340 ÷ 28.349523125 = 11.993: never 12
        ("340 | g", "Net Wt 340 g (11.9 oz)", "340"),
        # 42.328 oz; 16.931; 16.225: a tenth of an ounce is the third digit
        ("1.2 | kg", "Net Wt 1.2 kg (2 lb 10.3 oz)", "1200"),
        ("480 | g", "Net Wt 480 g (1 lb 0.9 oz)", "480"),
        ("460 | g", "Net Wt 460 g (1 lb 0.2 oz)", "460"),
    ],
)
def test_net_weight_is_said_in_both_systems(typed: str, said: str, grams: str) -> None:
    label = drafted({"Leek roll": f"Leek roll | Roll | 1 | {typed}"})
    assert label.net_said == said
    assert label.net is not None
    data = label.net.as_data()
    assert data["g"] == Decimal(grams)
    # NIST Handbook 44, App. C, and SP 811 (from memory): 1 oz is 28.349523125 g, exactly
    assert abs(data["oz"] * Decimal("28.349523125") - Decimal(grams)) < Decimal("1e-20")


def test_a_volume_is_said_in_both_systems_too() -> None:
    """12 × 29.5735295625 ml = 354.88 (a 128th of a US gallon of 231 cubic inches)."""
    label = drafted({"Leek roll": "Leek roll | Roll | 1 | 12 | fl oz"})
    assert label.net_said == "Net 12 fl oz (354 ml)"


def test_units_per_pack_by_weight_are_a_net_weight() -> None:
    label = drafted({"Leek roll": "Leek roll | Filling | 250 g | |"})
    assert label.net_said == "Net Wt 250 g (8.81 oz)"


@pytest.mark.parametrize("typed", [" | ", "6 | ea", "12 | "])
def test_a_net_weight_that_is_none_is_unknown(typed: str) -> None:
    label = drafted({"Leek roll": f"Leek roll | Roll | 1 | {typed}"})
    assert label.net is None
    assert label.net_said == "[NET WEIGHT UNKNOWN]"
    assert label.unfinished == "NOT FINISHED. NET WEIGHT UNKNOWN."


def test_the_batch_code_is_the_day_of_the_year() -> None:
    """ISO 8601 ordinal dates (from memory): 31 January is 031; a leap year has 366 days."""
    days = (date(2026, 11, 26), date(2026, 1, 31), date(2028, 12, 31))
    assert [batch_code(day) for day in days] == ["26-330", "26-031", "28-366"]
    label = drafted()
    assert (label.batch_said, label.day) == ("Batch 26-324. Packed 2026-11-20.", date(2026, 11, 20))
    assert drafted(code=" Tuesday\tA ").batch_code == "Tuesday A"


def test_business_and_address_stand_on_it() -> None:
    assert drafted().maker == "Hill stall, 1 Mill Lane, Ourtown"
    assert drafted({"Business": "", "Address": ""}).maker == "[NAME AND ADDRESS MISSING]"


# ---------------------------------------------------------------- always a draft


@pytest.mark.parametrize("changes", [{}, {"Salt ": "Salt | | | | | | salt"}])
def test_no_label_is_ever_more_than_a_draft(changes: dict[str, str]) -> None:
    label = drafted(changes)
    assert DRAFT == "Draft: verify against local law"
    assert DRAFT in "\n".join(label.in_words())
    assert label.as_data()["draft"] is True
    with pytest.raises(FrozenInstanceError):
        label.batch_code = "final"  # type: ignore[misc]  # that is what is tried


def test_labels_are_begun_where_an_item_has_words_for_one() -> None:
    assert has_labels(costed(ROLL).structure.book)
    without = {
        f"{name:7} |": f"{name} | | | | | none |"
        for name in ("Flour", "Leek", "Cheddar", "Egg", "Cream", "Salt")
    }
    assert not has_labels(costed(changed(without)).structure.book)


# ---------------------------------------------------------------- whatever is in the workbook


def doubling(levels: int) -> str:
    """A workbook in which each recipe uses the one before it under two names: 2 ** levels."""
    lines = ["Recipe | Uses | Amount | Unit", "R0a | Salt | 1 | g", "R0b | Salt | 1 | g"]
    batches = ["Recipe | Makes | Unit", "R0a | 100 | g", "R0b | 100 | g"]
    for level in range(1, levels):
        for side in "ab":
            lines += [f"R{level}{side} | R{level - 1}{each} | 1 | g" for each in "ab"]
            batches.append(f"R{level}{side} | 100 | g")
    items = "Items\nItem | Allergens\nSalt | none"
    sold = f"Products\nProduct | Recipe | Net weight | Net weight unit\nX | R{levels - 1}a | 1 | oz"
    return "\n\n".join(
        [items, "Recipes\n" + "\n".join(lines), "Batches\n" + "\n".join(batches), sold]
    )


def test_a_list_that_would_double_at_each_level_ends() -> None:
    (label,) = labels(costed(doubling(30)))
    assert label.is_too_long
    assert len(label.statement) < 100 * MOST_NAMES
    assert "TOO LONG: recipes in it are not opened." in label.unfinished
    assert label.allergens.unknown == ()


def every(ingredients: tuple[Ingredient, ...]) -> list[tuple[Ingredient, ...]]:
    """A list, and each that is within."""
    return [ingredients, *(each for one in ingredients for each in every(one.within))]


def amounts(random: Random) -> dict[str, str]:
    """Other amounts of some lines, and other kinds of unit, some of which say no weight."""
    lines = [("Roll", "Salt"), ("Roll", "Flour"), ("Roll", "Egg"), ("Filling", "Salt")]
    found = {}
    for recipe, item in lines:
        amount = random.choice([0, "", random.randint(1, 999)])
        unit = random.choice(["g", "ml", "ea", "oz", "cm", ""])
        found[f"{recipe:7} | {item}"] = f"{recipe} | {item} | {amount} | {unit} |"
    return found


@pytest.mark.parametrize("seed", range(40))
def test_each_list_descends_names_each_item_once_and_drops_no_unknown(seed: int) -> None:
    unsaid = {"Leek  ": "Leek | | 0.5 | | | | leek"} if seed % 2 else {}
    label = drafted(amounts(Random(seed)) | unsaid)
    named: set[str] = set()
    for found in every(label.ingredients):
        known = [each.grams for each in found if each.grams is not None]
        assert known == sorted(known, reverse=True)
        assert all(each.grams is None for each in found[len(known) :])
        items = [item for each in found for item in each.items]
        assert len(items) == len(set(items))
        named |= set(items)
    assert named == {"Flour", "Leek", "Cheddar", "Egg", "Cream", "Salt"}
    assert ("Leek" in label.allergens.unknown) is bool(unsaid)
