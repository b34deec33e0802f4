"""A rule read as a phrase: what explain --all and Workings show."""

from __future__ import annotations

import re

import pytest

from costbook.definitions import rules
from costbook.definitions.algebra import UNKNOWN, Term, choose, joined, known, same
from costbook.definitions.columns import Computed
from costbook.definitions.words import words
from costbook.writing.pages.workings_page import rules_in_words
from tests.definitions.rule_cases import RULES

PHRASES = {
    "units_of_each": "weekly units ÷ products sold",
    "other_cost_per_pack": "other cost ÷ packs",
    "pack_need": "(recipe need + packaging need) ÷ packs sold",
    "price_ready_to_use": "price per base unit ÷ usable share",
    "change": "price per base unit ÷ before in units of now − 1",
    "stage_labour": "person minutes × stage pay ÷ 60 × (1 + on costs)",
    "kitchen_minutes": "batch clock minutes + product clock minutes, up to the next "
    "booking block minutes",
    "room": "1 − applied target margin − fee share",
    "good": "started − rejects, if started is above rejects",
    "day_before": "day − 1",
    "break_even": "day costs ÷ contribution per unit, up to the next whole number, "
    "if contribution per unit is above 0",
    "contribution_per_unit": "(counted price × (1 − fee share) − made) ÷ units per pack "
    "− card fixed per unit",
    "counted_price": "if now before tax is known: now before tax, else step before tax",
    "price_now": "if kind is “wholesale”: wholesale price now, else current price",
}


@pytest.mark.parametrize("name", PHRASES)
def test_the_phrase_of_a_rule(name: str) -> None:
    assert words(Computed(RULES[name]).term()) == PHRASES[name]


A, B = Term("name", ("first_one",)), Term("name", ("other",))


@pytest.mark.parametrize(
    ("tree", "phrase"),
    [
        (A - (B - 1), "first one − (other − 1)"),
        (2 * (A + B), "2 × (first one + other)"),
        (A / (B / 3), "first one ÷ (other ÷ 3)"),
        (A / (B * 3), "first one ÷ (other × 3)"),
        (
            choose(known(A), joined(A, "!"), ""),
            "if first one is known: first one “!”, else “”",
        ),
        (choose(same(A, B), UNKNOWN, 1), "if first one is other: unknown, else 1"),
    ],
    ids=str,
)  # fmt: skip
def test_the_phrase_of_a_tree(tree: Term, phrase: str) -> None:
    assert words(tree) == phrase


@pytest.mark.parametrize("name", sorted(RULES))
def test_every_rule_can_be_said_without_a_word_of_code(name: str) -> None:
    phrase = words(Computed(RULES[name]).term())
    assert re.findall(r"[_*/{}\[\]]|Term|NaN|None", phrase) == []


def test_a_rule_says_each_of_its_arguments() -> None:
    how = Computed(rules.turning_at_target)
    phrase = words(how.term())
    assert [name for name in how.arguments if name.replace("_", " ") not in phrase] == []


def test_no_rule_on_workings_needs_the_code_to_be_understood() -> None:
    """What stands for a row, or guards against binary noise, is told by what it is alone."""
    told = {heading: (meaning, rule) for heading, meaning, rule in rules_in_words()}
    assert told["Purchase row"] == ("The row on Purchases that the rank names.", "")
    assert told["Batches kept"][1] == ""
    assert told["Line cost"][1] == "amount as bought × price per base unit"
    assert [rule for _, rule in told.values() if re.search(r"\d{4,}|[_*{}]", rule)] == []
    assert [heading for heading, (meaning, _) in told.items() if not meaning] == []
