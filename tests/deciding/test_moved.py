"""What moved: each item's part of a change, its order, and what pays for it."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import permutations
from pathlib import Path
from random import Random
from typing import Any

import pytest

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.moved import Moves, ProductMoved, Turning, moves
from costbook.deciding.trial import Trial, tried
from tests.deciding.asking import ON, STALL, answered, asked, costed, item_keys, number, read
from tests.helpers import make_book, product_of, run
from tests.random_books import COSTED_ON, random_book
from tests.tables import Sheets, close, sheets

D = Decimal

# A batch of 10 rolls takes 500 g of flour, 12 eggs, 1 m of film; 8 of 10 are sold.
# Then: 0.001 x 500 + 0.20 x 12 + 0.02 x 100 = 4.90 a batch, and now 0.002 x 500 + 0.35 x 12
# + 0.015 x 100 = 6.70; over 8 sold 0.6125 and 0.8375. Flour adds 0.0625, eggs 0.225, film -0.0625.
ROLLS = """
Settings
Setting         | Value
Currency        | USD
Target margin % | 60
Price step      | 0.25

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-09-01 | Flour | 1         | kg   | 1.00
2026-09-01 | Eggs  | 1         | tray | 6.00
2026-09-01 | Film  | 10        | m    | 20.00
2026-11-10 | Flour | 1         | kg   | 2.00
2026-11-11 | Eggs  | 1         | tray | 10.50
2026-11-12 | Film  | 10        | m    | 15.00

Recipes
Recipe | Uses  | Amount | Unit
Roll   | Flour | 500    | g
Roll   | Eggs  | 12     | ea

Batches
Recipe | Makes | Unit
Roll   | 10    | ea

Packaging
Product | Uses | Amount | Unit | Per
Roll    | Film | 1      | m    | batch

Products
Product | Recipe | Units per pack | Not sold % | Current price
Roll    | Roll   | 1              | 20         | 2.00
"""


def test_each_items_part_worked_by_hand() -> None:
    (roll,) = answered("moved", ROLLS, "--since", "2026-10-01")["products"]
    close(roll["before"], "0.6125")
    close(roll["after"], "0.8375")
    close(roll["change"], "0.225")
    assert list(roll["by_item"]) == ["Flour", "Eggs", "Film"]
    for item, part in (("Flour", "0.0625"), ("Eggs", "0.225"), ("Film", "-0.0625")):
        close(roll["by_item"][item], part)
    close(roll["margin_now"], (2 - Fraction("0.8375")) / 2)
    close(roll["change_share"], Fraction(2250, 6125))
    # at 2.00 its margin then was (2.00 - 0.6125) / 2.00 = 69.375 %; 0.8375 / 0.30625 = 2.7346…,
    # up to the next quarter, is the price that leaves as much of it now
    close(roll["restoring_price"], "2.75")
    # a batch costs 1.80 more; a roll leaves 1.1625: two rolls pay for it
    assert roll["packs_that_pay"] == 2


def test_the_json_of_what_moved() -> None:
    answer = answered("moved", ROLLS, "--since", "2026-10-01")
    assert {name: answer[name] for name in ("book", "costed_on", "since", "problems")} == {
        "book": "stall.xlsx",
        "costed_on": "2026-11-20",
        "since": "2026-10-01",
        "problems": [],
    }
    (roll,) = answer["products"]
    assert set(roll) == {
        *("product", "outlet", "before", "after", "change", "by_item", "price_now", "margin_now"),
        *("change_share", "ranked_with"),
        *("restoring_price", "packs_that_pay", "turning"),
    }
    assert {tuple(turn) for turn in roll["turning"]} == {
        ("item", "price_per_pack", "now_per_pack", "at")
    }


def test_what_moved_in_words() -> None:
    """A roll may cost 0.80 at 2.00 and 60 %, and costs more already; to be sold at 2.10, 0.84."""
    dearer = ROLLS.replace('| 2.00\n"""', "").replace("20         | 2.00", "20         | 2.10")
    _, out, _ = _text(dearer, "--since", "2026-10-01")
    lines = out.splitlines()
    assert lines[:4] == [
        "Since 2026-10-01, a pack sold, in the order of the rise in per cent:",
        "",
        "Product  Outlet  Cost then   Now  Change       %     Most by  Margin now  Restored at",
        "Roll          —       0.61  0.84    0.23  36.7 %  Eggs +0.23      60.1 %         3.00",
    ]  # 2.10 x 0.8375 / 0.6125 = 2.8714…
    # 0.84 - 0.8375 = 0.0025 a roll, 0.02 a batch: 0.02 / 12 an egg, 0.05 a tray. Of flour 0.02 /
    # 500 a gram, 0.04 a pack; of film 0.02 / 100 a cm, 0.20 a roll: eggs have the least room.
    assert lines[5] == "Roll: hold 2.10 until a pack of Eggs passes 10.55 (now 10.50)."


def _text(text: str, *words: object) -> tuple[int, str, str]:
    with tempfile.TemporaryDirectory() as folder:
        book = make_book(Path(folder) / "stall.xlsx", sheets(text))
        return run("moved", book, *words, "--on", ON)


def test_an_item_bought_for_the_first_time_since_counts_from_its_first_receipt() -> None:
    """Film was first bought on 12 November, so it did not move."""
    text = ROLLS.replace("2026-09-01 | Film  | 10        | m    | 20.00\n", "")
    (roll,) = answered("moved", text, "--since", "2026-10-01")["products"]
    assert roll["by_item"]["Film"] == 0
    close(roll["change"], "0.2875")


def test_an_item_without_a_price_leaves_the_change_unknown_and_its_part_too() -> None:
    text = ROLLS.replace("2026-09-01 | Film  | 10        | m    | 20.00\n", "").replace(
        "2026-11-12 | Film  | 10        | m    | 15.00\n", ""
    )
    (roll,) = answered("moved", text, "--since", "2026-10-01")["products"]
    assert (roll["before"], roll["after"], roll["by_item"]["Film"]) == (None, None, None)
    close(roll["by_item"]["Eggs"], "0.225")
    assert roll["turning"] == []


def test_what_fell_needs_no_packs_to_pay_for_it() -> None:
    text = ROLLS.replace("| 10.50", "| 3.00").replace("kg   | 2.00", "kg   | 0.80")
    (roll,) = answered("moved", text, "--since", "2026-10-01")["products"]
    assert roll["change"] < 0
    assert roll["packs_that_pay"] is None


def test_products_are_ranked_by_the_rise_and_what_is_unknown_is_last() -> None:
    text = ROLLS.replace(
        "Roll    | Roll   | 1              | 20         | 2.00",
        """Bun  | Bun  | 1 | | 2.00
Roll | Roll | 1 | 20 | 2.00
Six  | Roll | 6 | 20 | 9.00
Bread | Bread | 1 | | 2.00""",
    )
    text = text.replace(
        "Roll   | Eggs  | 12     | ea", "Roll | Eggs | 12 | ea\nBun | Flour | 1 | kg"
    )
    text = text.replace("Roll   | 10    | ea", "Roll | 10 | ea\nBun | 100 | ea")
    products = answered("moved", text, "--since", "2026-10-01")["products"]
    assert [each["product"] for each in products] == ["Bun", "Six", "Roll", "Bread"]


SIX = ROLLS.replace(
    "| 2.00\n", "| 2.00\nSix  | Roll | 6 | 20 | 9.00\nGift | Roll | 1 | 20 | 4.00\n"
)
SIX = SIX.replace(
    "| m    | batch", "| m    | batch\nSix | Film | 2 | m | batch\nGift | Film | 9 | m | pack"
)


def test_packs_that_differ_in_number_alone_have_one_row() -> None:
    """Six rolls move by six times the money, and by nearly the same share; a gift has a sheet."""
    products = answered("moved", SIX, "--since", "2026-10-01")["products"]
    assert {each["product"]: each["ranked_with"] for each in products} == {
        "Roll": None,
        "Six": "Roll",
        "Gift": None,
    }
    lines = _text(SIX, "--since", "2026-10-01")[1].splitlines()
    assert [line.split()[0] for line in lines[3:5]] == ["Roll", "Gift"]
    assert lines[6] == "Six: as Roll."


def test_a_six_says_nothing_of_what_moved_most_where_a_single_moved_more_of_its_cost() -> None:
    """In money six rolls move most; a roll is ranked by its share, and leads."""
    message = moves(costed(SIX, date(2026, 10, 1))).message(2)
    assert message == "As costed on 2026-11-20: Eggs added 0.23 for a pack of Roll."


def test_ranks_follow_the_share_and_packs_that_differ_in_number_alone_count_once() -> None:
    costing = costed(SIX, date(2026, 10, 1))
    ranks = {row["product"]: row["move_rank"] for row in costing.figures["move_ranks"]}
    # the gift's nine metres of film fell, so that it costs less
    assert ranks == {"Roll": 1, "Six": 2, "Gift": 2}


# ---------------------------------------------------------------- one product's answer


def roll(
    index: int = 0,
    outlet: str = "",
    parts: Sequence[tuple[str, Value]] = (),
    turning: Sequence[Turning] = (),
    share: str | None = "0.5",
) -> ProductMoved:
    """A roll sold for 2.00, of which this moved."""
    return ProductMoved(
        row=Row("prices", index, {"product": f"Roll {index}", "outlet": outlet}),
        before=None,
        after=None,
        change=None,
        change_share=None,
        by_item=tuple(parts),
        moved_by=(),
        price_now=D(2),
        margin_now=None,
        restoring_price=None,
        charge=None,
        packs_that_pay=None,
        turning=tuple(turning),
        known_share=None if share is None else D(share),
        ranked_with="",
    )


def test_the_smallest_parts_are_one_step() -> None:
    """Of nine parts the seven largest are shown; 0.02 - 0.01 is left."""
    large = [(f"Item {size}", D(size)) for size in range(9, 2, -1)]
    small: list[tuple[str, Value]] = [("Salt", D("0.02")), ("Yeast", D("-0.01"))]
    assert roll(parts=[*small, *large]).steps == (*large, ("Other items", D("0.01")))
    assert roll(parts=large).steps == tuple(large)


def test_of_parts_that_are_not_known_or_nothing_none_is_shown() -> None:
    parts: list[tuple[str, Value]] = [("Film", None), ("Salt", D(0)), ("Eggs", D("-0.2"))]
    assert roll(parts=parts).most(2) == "Eggs took off 0.20"
    assert roll(parts=parts[:2]).most(2) == ""


def test_a_share_that_is_not_known_has_no_size() -> None:
    assert (roll(share="-0.5").size, roll(share=None).size) == (D("0.5"), D(0))


EGGS = Turning("Eggs", D("10.55"), D("10.50"), "target")


@pytest.mark.parametrize(
    ("turning", "said"),
    [
        ([EGGS], "hold 2.00 until a pack of Eggs passes 10.55 (now 10.50)."),
        # 5.10 to 5.00 is 2 % of room, 10.55 to 10.50 half a per cent
        ([Turning("Film", D("5.10"), D(5), "target"), EGGS], "hold 2.00 until a pack of Eggs"),
        ([Turning("Eggs", D("10.55"), D("10.50"), "zero")], ""),
        ([Turning("Eggs", D("10.50"), D("10.50"), "target")], ""),
        ([Turning("Eggs", D("9.00"), D("10.50"), "target")], ""),
        ([Turning("Tap water", D("0.01"), D(0), "target")], ""),
        ([Turning("Film", D("0.01"), None, "target")], ""),
    ],
)
def test_a_price_holds_until_the_item_with_least_room_passes_its_mark(
    turning: list[Turning], said: str
) -> None:
    where = {"": "Roll 0: ", "Market": "Roll 0 at Market: "}
    for outlet, begins in where.items():
        held = roll(outlet=outlet, turning=turning).hold(2)
        assert held.startswith(begins + said) if said else held == ""


def test_of_two_that_moved_alike_the_first_is_named() -> None:
    alike = tuple(roll(index, parts=[("Eggs", D("0.2"))]) for index in (1, 0, 2))
    found = Moves(date(2026, 10, 1), date(2026, 11, 20), "", alike, ()).most_moved
    assert found is not None
    assert found.product == "Roll 0"


def test_moved_by_are_those_whose_price_moved_or_is_not_known() -> None:
    first = ROLLS.replace("2026-09-01 | Film  | 10        | m    | 20.00\n", "")
    (product,) = moves(costed(first, date(2026, 10, 1))).products
    assert [need.fixed["item"] for need in product.moved_by] == ["Flour", "Eggs"]
    never = first.replace("2026-11-12 | Film  | 10        | m    | 15.00\n", "")
    (product,) = moves(costed(never, date(2026, 10, 1))).products
    assert [need.fixed["item"] for need in product.moved_by] == ["Flour", "Eggs", "Film"]


# ---------------------------------------------------------------- since when


def test_changes_are_shown_since_28_days_back_unless_a_day_is_given() -> None:
    assert answered("moved", ROLLS)["since"] == "2026-10-23"


def test_a_day_after_the_costing_date_is_refused() -> None:
    code, out, err = _text(ROLLS, "--since", "2026-11-21")
    assert (code, out) == (2, "")
    assert err == (
        "costbook: --since 2026-11-21 is after the costing date, 2026-11-20. Give an earlier day.\n"
    )


# ---------------------------------------------------------------- for any workbook


def cut(book: Sheets, since: date) -> Sheets:
    """The book without receipts after a day; of an item bought only later, its first receipt."""
    heads, *rows = book["Purchases"]
    at = {str(name): heads.index(name) for name in heads}
    by_item: dict[object, list[list[object]]] = {}
    for row in sorted(rows, key=lambda row: _day(row, at)):
        if _sets_a_price(row, at):
            by_item.setdefault(row[at["Item"]], []).append(row)
    kept = set()
    for receipts in by_item.values():
        early = [row for row in receipts if _day(row, at) <= since]
        kept |= {id(row) for row in early or receipts[:1]}
    others = (row for row in rows if not _sets_a_price(row, at) or id(row) in kept)
    return {**book, "Purchases": [heads, *others]}


def _day(row: list[object], at: dict[str, int]) -> date:
    day = row[at["Date"]]
    assert isinstance(day, date)
    return day


def _sets_a_price(row: list[object], at: dict[str, int]) -> bool:
    packs, size, price = (row[at[name]] for name in ("Packs", "Pack size", "Price per pack"))
    counts = packs is None or (isinstance(packs, int | float) and packs > 0)
    return counts and bool(size) and isinstance(price, int | float) and price > 0


@pytest.mark.parametrize("seed", range(6))
def test_the_cost_then_is_what_todays_recipes_cost_with_the_receipts_of_then(seed: int) -> None:
    """The book is costed again on the same day without the receipts that came since."""
    book = random_book(Random(seed))
    since = COSTED_ON - timedelta(days=40)
    now = read(book, since, COSTED_ON)
    then = read(cut(book, since), since, COSTED_ON)
    costs = {
        (row.fixed["product"], row.fixed["outlet"]): then.of(row)["total"]
        for row in then.structure.rows["prices"]
    }
    rows = _products(now)
    assert rows
    for product in rows:
        cost = costs[product["product"], product["outlet"] or ""]
        assert (product["before"] is None) == (cost is None)
        if cost is not None:
            assert product["before"] == pytest.approx(cost, abs=Decimal("1e-18"))


@pytest.mark.parametrize("seed", range(6))
def test_the_parts_add_up_to_the_change_exactly(seed: int) -> None:
    """To the last of Decimal's 28 digits, in which each figure is rounded once."""
    for product in _products(
        read(random_book(Random(seed)), COSTED_ON - timedelta(days=40), COSTED_ON)
    ):
        if product["before"] is not None:
            parts = sum(product["by_item"].values())
            assert product["change"] == parts
            largest = max(
                map(abs, (product["after"], product["before"], *product["by_item"].values()))
            )
            apart = abs(product["after"] - product["before"] - parts)
            assert apart <= largest * Decimal("1e-26")


@pytest.mark.parametrize("order", [*permutations(("Flour", "Eggs", "Film"))])
def test_the_order_of_changes_does_not_matter(order: tuple[str, ...]) -> None:
    """From the prices of then, one item after another goes to its price of now."""
    now = costed(ROLLS, date(2026, 10, 1))
    (product,) = _products(now)
    keys = item_keys(now)
    prices = {keys["Flour"]: Decimal(1), keys["Eggs"]: Decimal(6), keys["Film"]: Decimal(20)}
    last = _cost(now, prices)
    assert last == product["before"]
    for item in order:
        del prices[keys[item]]
        cost = _cost(now, prices)
        assert cost - last == product["by_item"][item]
        last = cost
    assert last == product["after"]


def _products(costing: Costing) -> list[dict[str, Any]]:
    products: list[dict[str, Any]] = moves(costing).as_data()["products"]
    return products


def _cost(costing: Costing, prices: dict[str, Decimal]) -> Decimal:
    after = tried(costing, Trial(dict(prices), {}))
    return number(after.of(after.structure.rows["prices"][0])["total"])


# ---------------------------------------------------------------- the main sample's eggs


def test_the_jump_of_the_egg_price_in_the_main_sample() -> None:
    """36 at 13.90 since 13 November, before two of 18 at 5.38, both worked by hand.

    A spinach & egg wrap takes of a batch 72 shell eggs and 500 g out of the shell (57 g an egg,
    88 % usable), all x 1.02 for small ingredients; sold are 57 good ones without 8 %.
    """
    products = asked("moved", STALL, "--on", ON, "--since", "2026-11-12")["products"]
    wraps = [p for p in products if p["product"] == "Spinach & egg wrap"]
    eggs = (72 + Fraction(500) / 57 / Fraction("0.88")) * Fraction("1.02")
    part = eggs / (57 * Fraction("0.92")) * (Fraction("13.90") / 36 - Fraction("5.38") / 18)
    for wrap in wraps:
        close(wrap["by_item"]["Eggs, large"], part)
    shares = [p["change_share"] for p in products]
    assert shares == sorted(shares, reverse=True)
    first = next(p for p in wraps if p["outlet"] == "Saturday market")
    today = product_of(_by_hand(), "Spinach & egg wrap", "Saturday market")
    close(first["after"], today["cost"]["total"])
    # the price now was a multiple of the cost then, and is to be as large a multiple of today's
    cost, price = Fraction(str(today["cost"]["total"])), Fraction(str(first["price_now"]))
    restored = price * cost / (cost - Fraction(str(first["change"])))
    close(first["restoring_price"], Fraction(-(-restored * 4 // 1), 4))


def _by_hand() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(
        STALL.with_suffix(".expected.json").read_text(encoding="utf-8")
    )
    return found
