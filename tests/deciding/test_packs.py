"""Which pack: sums worked by hand, and the finding word for word."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

import pytest

from costbook.deciding.packs import compared as compared_items
from costbook.definitions.workings import TABLES
from costbook.writing.folded import is_laid_out
from costbook.writing.formulas import Formulas
from costbook.writing.layout import lay_out_tables
from tests.deciding.asking import ON, STALL, answered, asked, costed, number, read
from tests.helpers import Shown, make_book, run, save
from tests.random_books import COSTED_ON, random_book
from tests.tables import close, sheets

# a product that needs 10 g of the item a unit; by default no outlet sells it, so no use is known
MADE = """
Recipes
Recipe | Uses | Amount | Unit
Bar    | {}   | 100    | {}

Batches
Recipe | Makes | Unit
Bar    | 10    | ea

Products
Product | Recipe | Units per pack
Bar     | Bar    | 1
"""


def compared(item: str, unit: str, *blocks: str) -> dict[str, Any]:
    """What `compare` says of one item that a bar is made of."""
    text = "\n\n".join((*(block.strip() for block in blocks), MADE.format(item, unit).strip()))
    found: dict[str, Any] = answered("compare", text, item)["items"][0]
    return found


def bought(*rows: str) -> str:
    head = "Date | Item | Supplier | Packs | Pack count | Pack size | Unit | Price per pack"
    return "\n".join(("Purchases", f"{head} | Other cost", *rows))


def offered(*rows: str) -> str:
    head = (
        "Item | Supplier | Pack count | Pack size | Unit | Price per pack | Delivery | Least packs"
    )
    return "\n".join(("Offers", f"{head} | Usable % | Seen on", *rows))


def named(item: dict[str, Any]) -> list[str]:
    return [pack["pack"] for pack in item["packs"]]


# ---------------------------------------------------------------- the finding


def test_up_to_53_7_percent_of_the_big_bag_of_oats_may_be_thrown_away() -> None:
    """Calc, illustrative (issue): 10 lb at 7.99 against 2.6 lb at 4.49."""
    item = compared(
        "Oats",
        "lb",
        bought(
            "2026-11-20 | Oats | Mill | | | 10 | lb | 7.99 |",
            "2026-11-20 | Oats | Mill | | | 2.6 | lb | 4.49 |",
        ),
    )
    best, other = item["packs"]
    exact = 1 - Fraction("0.799") / (Fraction("4.49") / Fraction("2.6"))
    assert round(float(exact), 3) == 0.537
    close(best["break_even_spoilage"], exact)
    assert (best["pack"], other["break_even_spoilage"]) == ("10 lb", None)
    assert item["in_words"] == (
        "The 10 lb from Mill is 53.7 % cheaper than the 2.6 lb from Mill, "
        "as long as less than 53.7 % of it is thrown away."
    )


def test_two_cartons_of_eighteen_against_a_tray_of_thirty() -> None:
    """36 at 10.00 are 0.2778 each, 30 at 7.33 are 0.2443: 12.04 % of 30 are 3.6 eggs."""
    item = compared(
        "Eggs",
        "ea",
        bought(
            "2026-11-20 | Eggs | Farm | | | 1 | tray | 7.33 |",
            "2026-11-20 | Eggs | Shop | | 2 | 18 | ct | 10 |",
            "2026-11-20 | Eggs | Shop | | | 18 | ct | 5 |",
        ),
    )
    assert named(item) == ["1 tray", "2 × 18 ea", "18 ea"]
    saved = 1 - Fraction("7.33") / 30 / (Fraction(10) / 36)
    close(item["packs"][0]["break_even_spoilage"], saved)
    assert item["in_words"] == (
        "The 1 tray from Farm is 12.0 % cheaper than the 2 × 18 ea from Shop. "
        "It beats the smaller 18 ea from Shop, but only if fewer than 4 of 30 are lost."
    )


@pytest.mark.parametrize(
    ("tray", "said"),
    [
        ("7.33", "12.0 % cheaper than the 18 ea from Shop, but only if fewer than 4 of 30 are"),
        # 0.20 against 0.25 each: with 6 of 30 lost they come to the same, so 5 is the most
        ("6.00", "cheaper than the 18 ea from Shop, but only if fewer than 6 of 30 are"),
        ("8.30", "0.4 % cheaper than the 18 ea from Shop, but only if none of 30 is"),
    ],
)
def test_pieces_are_counted_in_pieces(tray: str, said: str) -> None:
    carton = "4.50" if tray == "6.00" else "5.00"
    item = compared(
        "Eggs",
        "ea",
        bought(
            f"2026-11-20 | Eggs | Farm | | | 30 | ct | {tray} |",
            f"2026-11-20 | Eggs | Shop | | | 18 | ct | {carton} |",
        ),
    )
    assert item["in_words"].startswith("The 30 ea from Farm is ")
    assert f"{said} lost." in item["in_words"]


def test_a_roll_of_film_of_half_the_price_by_length() -> None:
    """2,000 ft at 28.50 and 100 ft at 3.40: 0.01425 and 0.034 a foot, so 58.1 % may be wasted."""
    item = compared(
        "Film",
        "ft",
        bought(
            "2026-11-20 | Film | Shop | | | 100 | ft | 3.40 |",
            "2026-11-20 | Film | North | | | 2000 | ft | 28.50 |",
        ),
    )
    assert named(item) == ["2000 ft", "100 ft"]
    close(item["packs"][0]["price_per_base_unit"], Fraction("28.50") / (2000 * Fraction("30.48")))
    close(item["packs"][0]["break_even_spoilage"], 1 - Fraction("0.01425") / Fraction("0.034"))
    assert "is 58.1 % cheaper" in item["in_words"]


def test_what_is_bought_by_its_area_is_compared_by_the_square_centimetre() -> None:
    """A square metre is 10,000 of them."""
    item = compared("Foil", "sq m", bought("2026-11-20 | Foil | Shop | | | 1 | sq m | 4 |"))
    assert item["base_unit"] == "cm²"
    close(item["packs"][0]["price_per_base_unit"], "0.0004")


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (["2026-11-20 | Oats | Mill | | | 1 | kg | 4 |"], "Only one pack of it is known."),
        (
            [
                "2026-11-20 | Oats | Mill | | | 1 | kg | 4 |",
                "2026-11-20 | Oats | Shop | | | 2 | kg | 8 |",
            ],
            "The 1 kg from Mill and the 2 kg from Shop come to the same.",
        ),
        (
            [
                "2026-11-20 | Oats | | | | 1 | kg | 4 |",
                "2026-11-12 | Oats | | | | 500 | g | 3 |",
            ],
            (
                "The 1 kg is 33.3 % cheaper than the 500 g, as long as less than 33.3 % of it is "
                "thrown away."
            ),
        ),
        (
            [
                "2026-11-20 | Oats | Mill | | | 1 | kg | 4 |",
                "2026-11-12 | Oats | Shop | | | 2 | kg | 4 |",
            ],
            (
                "The 2 kg from Shop is 50.0 % cheaper than the 1 kg from Mill, as long as less "
                "than 50.0 % of it is thrown away. The price of the 2 kg from Shop is of "
                "2026-11-12."
            ),
        ),
    ],
)
def test_the_finding_word_for_word(rows: list[str], said: str) -> None:
    """A price of eight days before another may not hold any more, so its day is said."""
    assert compared("Oats", "g", bought(*rows))["in_words"] == said


def test_a_small_pack_wins_where_the_large_one_spoils_and_it_is_said_why() -> None:
    """500 g a week for 14 days: of 5 kg 1 kg is used, a fifth: 0.002 / 0.2 = 0.01 a gram."""
    item = compared(
        "Oats",
        "g",
        bought(
            "2026-11-20 | Oats | Mill | | | 5 | kg | 10 |",
            "2026-11-20 | Oats | Shop | | | 500 | g | 2 |",
        ),
        "Items\nItem | Keeps days | Use per week | On hand unit\nOats | 14 | 500 | g",
    )
    small, large = item["packs"]
    assert named(item) == ["500 g", "5 kg"]
    close(large["used_part"], "0.2")
    close(large["price_per_base_unit_used"], "0.01")
    close(small["price_per_base_unit_used"], "0.004")
    assert item["in_words"] == (
        "The 500 g from Shop is 60.0 % cheaper than the 5 kg from Mill. "
        "Of the 5 kg from Mill, only 20.0 % is used before it spoils."
    )


# ---------------------------------------------------------------- what a pack really costs


def test_an_offer_counts_with_its_delivery_its_least_packs_and_its_own_usable_share() -> None:
    """(6.00 + 9.00 / 3) / 2000 g = 0.0045; 80 % of it usable: 0.005625; 27.00 is laid out."""
    item = compared(
        "Beans",
        "g",
        bought("2026-11-20 | Beans | Shop | | | 1 | kg | 5 |"),
        offered("Beans | Web | | 2 | kg | 6 | 9 | 3 | 80 | 2026-11-18"),
    )
    shop, web = item["packs"]
    assert (shop["from"], shop["date"], web["from"], web["date"]) == (
        *("Purchases", "2026-11-20"),
        *("Offers", "2026-11-18"),
    )
    close(web["price_per_base_unit"], "0.0045")
    close(web["price_per_base_unit_ready"], "0.005625")
    close(web["cash_tied_up"], 27)
    close(shop["price_per_base_unit_ready"], "0.005")


def test_the_other_cost_of_a_receipt_is_shared_by_its_packs() -> None:
    """Two cartons of 18 at 5.00 and 0.80 delivery: 5.40 for 18."""
    item = compared("Eggs", "ea", bought("2026-11-20 | Eggs | Shop | 2 | | 18 | ct | 5 | 0.80"))
    close(item["packs"][0]["price_per_base_unit"], "0.3")
    close(item["packs"][0]["cash_tied_up"], "5.40")


def test_membership_and_trips_are_spread_over_what_is_spent_in_a_year() -> None:
    """60 + 8 x 5 = 100 a year over 3 x 100 + 4 x 25 = 400 spent there: a quarter on top.

    The receipt of 2025-11-01 is more than a year old and counts no more.
    """
    item = compared(
        "Oats",
        "g",
        bought(
            "2025-11-01 | Oats | Club | | | 25 | kg | 999 |",
            "2026-03-01 | Oats | Club | 3 | | 100 | kg | 100 |",
            "2026-11-20 | Oats | Club | 4 | | 10 | kg | 25 |",
            "2026-11-20 | Oats | Shop | | | 10 | kg | 30 |",
        ),
        "Suppliers\nSupplier | Membership per year | Trip cost | Trips per year\nclub | 60 | 8 | 5",
    )
    by_pack = {(pack["pack"], pack["supplier"]): pack for pack in item["packs"]}
    close(by_pack["10 kg", "Club"]["price_per_base_unit"], "0.003125")
    close(by_pack["100 kg", "Club"]["price_per_base_unit"], "0.00125")
    close(by_pack["10 kg", "Shop"]["price_per_base_unit"], "0.003")


OFFER = "Eggs | Club | | 180 | ct | 36 | | | |"
CARTONS = "2026-11-01 | Eggs | Ash | 2 | | 18 | ct | 5.40 |"
CLUB = "Suppliers\nSupplier | Membership per year\nClub | 60"


def test_a_club_never_bought_from_is_compared_with_its_fee_over_the_years_need() -> None:
    """50 eggs a week are 2,600 a year: 60 over them is 0.0231 an egg, on top of 36 / 180."""
    item = compared(
        "Eggs",
        "ea",
        bought(CARTONS),
        offered(OFFER),
        CLUB,
        "Items\nItem | Use per week | On hand unit\nEggs | 50 | ea",
    )
    club, ash = item["packs"]
    assert (club["supplier"], ash["supplier"]) == ("Club", "Ash")
    close(club["price_per_base_unit"], Fraction(36, 180) + Fraction(60, 2600))
    close(ash["price_per_base_unit"], "0.30")
    close(club["cash_tied_up"], 36)  # the fee is paid whether a pack is bought or not
    # two weeks need 100: of a pack of 180 eighty are left and keep, so 100 of 0.2231 are the cost
    assert item["mix"]["packs"] == [{"supplier": "Club", "pack": "180 ea", "count": 1}]
    close(item["mix"]["cost"], 100 * (Fraction(36, 180) + Fraction(60, 2600)))
    assert (item["mix"]["cash"], item["mix"]["left_over"], item["mix"]["spoils"]) == (36, 80, 0)


def test_its_fee_is_shared_by_all_that_it_sells_as_their_needs_cost_now() -> None:
    """A year: 2,600 eggs at 0.30 are 780.00, 52 kg of rice at 5.00 260.00: 60 is 3/52 of 1,040.

    An egg bears 3/52 of 0.30, a gram 3/52 of 0.005: together 2,600 and 52,000 times that, 60.00.
    """
    text = "\n\n".join(
        (
            bought(CARTONS, "2026-11-01 | Rice | Ash | | | 1 | kg | 5 |"),
            offered(OFFER, "Rice | Club | | 10 | kg | 40 | | | |"),
            CLUB,
            "Items\nItem | Use per week | On hand unit\nEggs | 50 | ea\nRice | 1 | kg",
            MADE.format("Eggs", "ea").strip(),
        )
    )
    found = {item["item"]: item for item in answered("compare", text)["items"]}
    by_club = {
        name: next(pack for pack in item["packs"] if pack["supplier"] == "Club")
        for name, item in found.items()
    }
    eggs, rice = Fraction(3, 52) * Fraction("0.30"), Fraction(3, 52) * Fraction("0.005")
    assert 2600 * eggs + 52000 * rice == 60
    close(by_club["Eggs"]["price_per_base_unit"], Fraction("0.20") + eggs)
    close(by_club["Rice"]["price_per_base_unit"], Fraction("0.004") + rice)


FEWER = "Fewer than two packs of it have a price that can be compared."
NOT_YET = (
    " The 180 ea from Club is not compared yet: Club costs 60.00 a year beside its prices, and "
    "how much of what it sells you use is not known. Fill in Batches per year on Settings, or Use "
    "per week on Items."
)


@pytest.mark.parametrize(
    ("price", "said"),
    [
        # 0.30 - 0.20 is 0.10 an egg: 60 / 0.10 = 600
        (
            "36",
            (
                " Without that it is 33.3 % cheaper than the 18 ea from Ash, so it pays if you use "
                "more than 600 pieces a year."
            ),
        ),
        ("54", " Without that it is no cheaper than the 18 ea from Ash."),
        ("", ""),
    ],
)
def test_a_club_whose_fee_cannot_be_spread_is_said_and_from_where_on_it_pays(
    price: str, said: str
) -> None:
    item = compared("Eggs", "ea", bought(CARTONS), offered(OFFER.replace("36", price)), CLUB)
    assert item["packs"][1]["price_per_base_unit"] is None
    assert item["in_words"] == FEWER + NOT_YET + said


def test_what_pays_for_a_club_is_counted_as_bought() -> None:
    """A fifth is trimmed off both packs, so that 600 as bought pay for it as before."""
    trimmed = "Items\nItem | Usable %\nEggs | 80"
    item = compared("Eggs", "ea", bought(CARTONS), offered(OFFER), CLUB, trimmed)
    assert item["in_words"].endswith("so it pays if you use more than 600 pieces a year.")


YEARS_NEED = (
    "Settings\nSetting | Value\nBatches per year | {}",
    "Suppliers\nSupplier | Membership per year\nClub | 60",
)


def test_a_years_fee_is_spread_over_what_a_years_batches_need_not_over_ten_weeks_receipts() -> None:
    """50 batches of 100 g are 5 kg of butter a year, 40.00 at the 8.00 a kilo of now.

    60 over 40.00 is 1.5: on top of a club's kilo at 5.00 come 12.00. Over the one receipt
    of ten weeks, 5.00, the fee would have made it 65.00.
    """
    rows = ("2026-09-12 | Butter | Club | | | 1 | kg | 5 |", "2026-11-19|Butter|Shop|||1|kg|8|")
    settings, club = YEARS_NEED
    item = compared("Butter", "g", bought(*rows), settings.format(50), club)
    by_supplier = {pack["supplier"]: pack for pack in item["packs"]}
    close(by_supplier["Club"]["price_per_base_unit"], Fraction(5 + 12, 1000))
    close(item["need"], Fraction(5000, 26))


def test_where_no_need_is_known_receipts_are_scaled_to_a_year_and_too_few_days_are_asked() -> None:
    """73 days up to the costing date are a fifth of a year: 20.00 is 100.00 a year, 60 is 0.6."""
    _, club = YEARS_NEED
    shop = "2026-11-19|Butter|Shop|||1|kg|8|"
    once = bought("2026-09-09 | Butter | Club | | | 4 | kg | 20 |", shop)
    by_supplier = {pack["supplier"]: pack for pack in compared("Butter", "g", once, club)["packs"]}
    close(by_supplier["Club"]["price_per_base_unit"], Fraction(20, 4000) * (1 + Fraction(60, 100)))
    few = bought("2026-11-01 | Butter | Club | | | 4 | kg | 20 |", shop)
    assert (
        " The 4 kg from Club is not compared yet: Club costs 60.00 a year beside its prices"
        in (compared("Butter", "g", few, club)["in_words"])
    )


def test_a_supplier_that_costs_nothing_a_year_needs_no_need() -> None:
    free = CLUB.replace("60", "0")
    club, _ = compared("Eggs", "ea", bought(CARTONS), offered(OFFER), free)["packs"]
    close(club["price_per_base_unit"], "0.20")


# ---------------------------------------------------------------- one price a receipt line


def test_a_discount_is_in_the_price_that_is_compared_as_in_the_one_that_is_costed() -> None:
    """2 x 5.40 less 2.40 for 36 eggs: 0.2333; with a tray of 30 at 8.40 0.28 is dearer."""
    receipts = bought(
        CARTONS,
        "2026-11-01 | Eggs | Ash | | | | | -2.40 |",
        "2026-11-01 | Eggs | Birch | 1 | | 30 | ct | 8.40 |",
    )
    item = compared("Eggs", "ea", receipts, "Items\nItem | Usual supplier\nEggs | Ash")
    ash, birch = item["packs"]
    close(ash["price_per_base_unit"], Fraction("8.40") / 36)
    close(birch["price_per_base_unit"], "0.28")
    close(ash["cash_tied_up"], "4.20")


@pytest.mark.parametrize("supplier", ["Ash", ""])
def test_of_two_lines_of_a_day_the_lower_takes_what_was_taken_off(supplier: str) -> None:
    day = f"2026-11-01 | Eggs | {supplier} |"
    receipts = bought(f"{day} | | 18 | ct | 5.40 |", f"{day} | | 30 | ct | 9 |", f"{day}||||| -3 |")
    by_pack = {pack["pack"]: pack for pack in compared("Eggs", "ea", receipts)["packs"]}
    close(by_pack["30 ea"]["price_per_base_unit"], "0.20")
    close(by_pack["18 ea"]["price_per_base_unit"], "0.30")


def test_a_pack_that_a_discount_leaves_nothing_to_pay_for_is_not_compared() -> None:
    receipts = bought(
        "2026-11-01 | Eggs | Birch | | | 30 | ct | 9 |",
        "2026-11-02 | Eggs | Ash | | | 18 | ct | 5.40 | -5.40",
    )
    birch, ash = compared("Eggs", "ea", receipts)["packs"]
    assert (birch["supplier"], ash["price_per_base_unit"]) == ("Birch", None)


@pytest.mark.parametrize("seed", range(20))
def test_the_receipt_that_counts_has_one_price_in_cost_and_compare(seed: int) -> None:
    plain = random_book(Random(seed)) | {"Suppliers": [["Supplier"]]}  # no membership on top
    costing = read(plain, on=COSTED_ON)
    counts = {f["item_key"]: f for f in costing.figures["prices_now"]}
    packs = [
        pack
        for pack in costing.figures["packs_bought"]
        if pack["row_number"] == counts[pack["item_key"]]["purchase_row"]
    ]
    assert packs
    for pack in packs:
        price = number(counts[pack["item_key"]]["price_per_base_unit"])
        if pack["supplier_share"] is None:
            assert pack["compared_price"] is None
            continue
        on_top = number(pack["supplier_share"]) + number(pack["need_share"])
        close(float(number(pack["compared_price"])), Fraction(price * (1 + on_top)))


@pytest.mark.parametrize(
    ("day", "spent", "days"),
    [
        ("2025-11-20", 100, 365),
        ("2025-11-21", 400, 365),
        ("2026-11-20", 400, 265),
        ("2026-11-21", 100, 265),
    ],
)
def test_a_year_ends_on_the_costing_date_and_has_365_days(day: str, spent: int, days: int) -> None:
    """Costed on 2026-11-20: 2025-11-21 is the 365th day back, that one counted; 40 a year.

    Where the first receipt is of 2026-03-01, 265 days back, what was spent is scaled to a year.
    """
    item = compared(
        "Oats",
        "g",
        bought(f"{day} | Oats | Club | | | 99 | kg | 300 |", "2026-03-01|Oats|Club|||10|kg|100|"),
        "Suppliers\nSupplier | Membership per year\nClub | 40",
    )
    pack = next(each for each in item["packs"] if each["pack"] == "10 kg")
    a_year = Fraction(spent * 365, days)
    close(pack["price_per_base_unit"], Fraction("0.01") * (1 + 40 / a_year))


def test_the_formula_of_a_years_spending_has_the_same_days() -> None:
    club = "Suppliers\nSupplier | Membership per year\nClub | 40"
    receipts = bought("2026-03-01 | Oats | Club | | | 1 | kg | 5 |")
    costing = costed("\n\n".join((receipts, club, MADE.format("Oats", "g").strip())))
    row = costing.structure.one("supplier_shares")
    columns = [each for each in TABLES[row.table].columns if is_laid_out(row.table, each.name)]
    formulas = Formulas(costing, lay_out_tables(costing.structure, "Workings"))
    text = " ".join(formulas.of(row, column) or "" for column in columns)
    [spent] = {*re.findall(r"SUMIFS\((?:[^()]|\([^()]*\))*\)", text)}
    at = re.findall(r'"(>=?|<=?)"&\(?\$?[A-Z]+\$?[0-9]+(-[0-9]+)?', spent)
    assert at == [(">", "-365"), ("<=", "")]


def test_no_pack_is_compared_of_which_none_was_bought() -> None:
    """A receipt of 0 packs has a size and a price, and brought nothing."""
    rows = [
        "2026-11-20 | Tea | Shop | | | 1 | kg | 4 |",
        "2026-11-20 | Tea | Mill | 0 | | 2 | kg | 4 |",
    ]
    assert named(compared("Tea", "g", bought(*rows))) == ["1 kg"]


def test_the_fee_of_an_offers_supplier_is_in_the_mix_by_what_is_needed() -> None:
    """50 a year over the 52 kg of a year is 0.9615 a kilo, on top of 8.00; 5.00 is paid once.

    The 2 kg that are needed are 16.00, 1.92 and 5.00, 22.92, against 2 x 11.60 at the shop; the
    500 that were spent there on bags, which no batch takes, say nothing of tea.
    """
    item = compared(
        "Tea",
        "g",
        bought(
            "2026-03-01 | Bags | Web | | | 100 | ct | 500 |",
            "2026-11-20 | Tea | Shop | | | 1 | kg | 11.60 |",
        ),
        offered("Tea | Web | | 1 | kg | 8 | 5 | | |"),
        "Items\nItem | Use per week | On hand unit\nTea | 1 | kg",
        "Suppliers\nSupplier | Membership per year\nWeb | 50",
    )
    assert item["mix"]["packs"] == [{"supplier": "Web", "pack": "1 kg", "count": 2}]
    close(item["mix"]["cost"], 2 * (8 + Fraction(50, 52)) + 5)


def test_a_pack_in_another_kind_of_unit_is_compared_over_the_items_bridge() -> None:
    """50 g each: a kilo is 20 pieces. 6.00 a kilo is 0.30 each, a dozen at 3.00 is 0.25 each."""
    item = compared(
        "Leeks",
        "ea",
        bought("2026-11-20 | Leeks | Farm | | | 1 | dozen | 3 |"),
        offered("Leeks | Shop | | 1 | kg | 6 | | | |"),
        "Items\nItem | Grams per piece\nLeeks | 50",
    )
    assert item["base_unit"] == "ea"
    assert [round(pack["price_per_base_unit"], 9) for pack in item["packs"]] == [0.25, 0.3]


def test_a_pack_that_no_bridge_reaches_comes_last_and_is_not_compared() -> None:
    item = compared(
        "Leeks",
        "ea",
        bought("2026-11-20 | Leeks | Farm | | | 1 | dozen | 3 |"),
        offered("Leeks | Shop | | 1 | kg | 1 | | | |"),
    )
    assert named(item) == ["1 dozen", "1 kg"]
    assert item["packs"][1]["price_per_base_unit"] is None
    assert item["in_words"] == "Fewer than two packs of it have a price that can be compared."


# ---------------------------------------------------------------- packs that shrank


SHRANK = (
    "The pack from Shop shrank from {before} to {now} while its price held (Purchases row {row})."
)


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        pytest.param(
            ["2026-03-01|Tea|Shop|||500|g|2|", "2026-11-20|Tea|Shop|||450|g|2.02|"],
            SHRANK.format(before="500 g", now="450 g", row=3),
            id="smaller",
        ),
        pytest.param(
            ["2026-11-20|Tea|Shop||5|500|g|9|", "2026-03-01|Tea|Shop||6|500|g|9|"],
            SHRANK.format(before="6 × 500 g", now="5 × 500 g", row=2),
            id="one bag fewer; the later date is the higher row",
        ),
        pytest.param(
            ["2026-03-01|Tea|Shop|||500|g|2|", "2026-11-20|Tea|Shop|||450|g|1.80|"],
            "",
            id="its price fell with it",
        ),
        pytest.param(
            ["2026-03-01|Tea|Shop|||8.1|kg|87.48|", "2026-11-20|Tea|Shop|||7.9|kg|86.11|"],
            "",
            id="no two sides of fish weigh the same: 0.9 % more by weight",
        ),
        pytest.param(
            ["2026-03-01|Tea|Shop|||500|g|2|", "2026-11-20|Tea|Shop|||250|g|2|"],
            "",
            id="half of it is another pack",
        ),
        pytest.param(
            ["2026-03-01|Tea|Shop|||500|g|2|", "2026-11-20|Tea|Mill|||450|g|2|"],
            "",
            id="another supplier",
        ),
        pytest.param(
            [
                *("2026-03-01|Tea|Shop|||500|g|2|", "2026-04-01|Tea|Shop|||450|g|2|"),
                "2026-11-20|Tea|Shop|||500|g|2.30|",
            ],
            "",
            id="it holds as much again",
        ),
        pytest.param(
            ["2026-03-01|Tea|Shop|||500|g|2|", "2026-11-21|Tea|Shop|||450|g|2|"],
            "",
            id="after the costing date",
        ),
        pytest.param(
            ["2026-03-01|Tea|Shop|||500|g|2|", "2026-11-20|Tea|Shop|-1||450|g|2|"],
            "",
            id="a return",
        ),
    ],
)
def test_a_pack_that_shrank_while_its_price_held_is_pointed_out(rows: list[str], said: str) -> None:
    in_words = compared("Tea", "g", bought(*rows))["in_words"]
    assert ("shrank" in in_words) == bool(said)
    assert in_words.endswith(said)


# ---------------------------------------------------------------- use in a week, and what to buy

SOLD = """
Outlets
Outlet | Fee per day | Units sold per day | Days per year
Market | 1           | 104                | 50
Fair   | 1           | 52                 | 2
"""


def test_use_in_a_week_comes_from_what_the_outlets_sell() -> None:
    """(104 x 50 + 52 x 2) / 52 = 102 bars a week of 10 g ready to use, half of it lost: 2,040 g.

    It keeps 7 days, so of 5 kg 40.8 % is used.
    """
    item = compared(
        "Tea",
        "g",
        bought("2026-11-20 | Tea | Shop | | | 5 | kg | 20 |"),
        "Items\nItem | Usable % | Keeps days\nTea | 50 | 7",
        SOLD,
    )
    close(item["packs"][0]["used_part"], "0.408")
    close(item["need"], 2040)
    assert item["need_days"] == 7


def test_a_use_that_was_typed_goes_before_what_the_products_need() -> None:
    item = compared(
        "Tea",
        "g",
        bought("2026-11-20 | Tea | Shop | | | 5 | kg | 20 |"),
        "Items\nItem | Use per week | On hand unit\nTea | 1.5 | kg",
        SOLD,
    )
    close(item["need"], 3000)
    assert item["need_days"] == 14


@pytest.mark.parametrize(
    ("use", "keeps", "need", "days"),
    [
        ("1", "", 2, 14),  # one a week, for two weeks
        ("0.5", "", 1, 14),
        ("7", "1", 1, 1),  # a day's, as it keeps no longer
        ("7", "20", 14, 14),
        ("7", "0", 14, 14),  # no days at all are no answer
        ("0", "", None, None),
    ],
)
def test_a_need_is_of_two_weeks_or_of_as_long_as_it_keeps(
    use: str, keeps: str, need: int | None, days: int | None
) -> None:
    item = compared(
        "Eggs",
        "ea",
        bought("2026-11-20 | Eggs | Farm | | | 12 | ea | 4 |"),
        f"Items\nItem | Use per week | On hand unit | Keeps days\nEggs | {use} | ea | {keeps}",
    )
    assert (item["need"], item["need_days"]) == (need, days)


def test_the_mix_for_the_coming_weeks_beside_what_it_costs_as_usual() -> None:
    """1.8 kg a week for two weeks: three of 1.5 kg for 10.50, of which 900 g are left and keep.

    3.6 kg of 4.5 kg are 8.40 of it: less than 1.5 + 1.5 kg and 600 g, which leave nothing over, for
    3.50 + 3.50 + 1.80 = 8.80. As usual, in the pack bought last: six of 600 g for 10.80.
    """
    item = compared(
        "Tea",
        "g",
        bought(
            "2026-11-19 | Tea | Mill | | | 1.5 | kg | 3.50 |",
            "2026-11-20 | Tea | Shop | | | 600 | g | 1.80 |",
        ),
        "Items\nItem | Use per week | On hand unit\nTea | 1.8 | kg",
    )
    assert item["mix"] == {
        "packs": [
            {"supplier": "Mill", "pack": "1.5 kg", "count": 3},
        ],
        "cash": 10.5,
        "cost": 8.4,
        "left_over": 900,
        "spoils": 0,
        "usual_cost": 10.8,
        "proved_cheapest": True,
    }


def test_a_need_is_reckoned_with_the_items_share_and_filled_with_each_packs_own() -> None:
    """1 kg a week as bought, half usable: 500 g ready. An offer of 90 % usable in packs of 560 g
    holds 504 g ready; one is enough, at 4.00 against two of 500 g at 2.50.
    """
    item = compared(
        "Tea",
        "g",
        bought("2026-11-20 | Tea | Shop | | | 500 | g | 2.50 |"),
        offered("Tea | Web | | 560 | g | 4 | | | 90 |"),
        "Items\nItem | Usable % | Use per week | On hand unit | Keeps days\nTea | 50 | 1 | kg | 7",
    )
    assert item["mix"]["packs"] == [{"supplier": "Web", "pack": "560 g", "count": 1}]
    close(item["mix"]["cost"], 4)
    close(item["mix"]["left_over"], 8)  # 4 g ready to use, as bought at the item's own half
    close(item["mix"]["usual_cost"], 5)


@pytest.mark.parametrize("usable", ["some", "0"])
def test_where_the_usable_share_is_not_known_a_need_is_bought_as_it_was_typed(usable: str) -> None:
    """1 kg in two weeks, of which nobody knows what is left: one pack."""
    item = compared(
        "Tea",
        "g",
        bought("2026-11-20 | Tea | Shop | | | 1 | kg | 4 |"),
        f"Items\nItem | Usable % | Use per week | On hand unit\nTea | {usable} | 500 | g",
    )
    assert item["need"] == 1000
    assert item["mix"]["packs"] == [{"supplier": "Shop", "pack": "1 kg", "count": 1}]
    close(item["mix"]["cost"], 4)


def test_a_pack_may_hold_one_piece_for_less_than_one() -> None:
    """Seven eggs a week for two weeks, one by one at 0.40."""
    item = compared(
        "Eggs",
        "ea",
        bought("2026-11-20 | Eggs | Farm | | | 1 | ea | 0.40 |"),
        "Items\nItem | Use per week | On hand unit\nEggs | 7 | ea",
    )
    assert item["mix"]["packs"] == [{"supplier": "Farm", "pack": "1 ea", "count": 14}]
    close(item["mix"]["cash"], "5.60")


def test_a_pack_without_a_price_does_not_spoil_the_mix() -> None:
    item = compared(
        "Tea",
        "g",
        bought("2026-11-20 | Tea | Shop | | | 500 | g | 2.50 |"),
        offered("Tea | Web | | 560 | g | | | | |"),
        "Items\nItem | Use per week | On hand unit\nTea | 250 | g",
    )
    assert item["mix"]["packs"] == [{"supplier": "Shop", "pack": "500 g", "count": 1}]


# ---------------------------------------------------------------- verdict and plan, one sum


def test_film_that_keeps_is_bought_on_the_roll_that_was_found_the_cheapest() -> None:
    """100 ft a week for two weeks: of 2,000 ft at 28.50 200 ft are used, 2.85; else 2 x 3.40."""
    item = compared(
        "Film",
        "ft",
        bought(
            "2026-11-20 | Film | Shop | | | 100 | ft | 3.40 |",
            "2026-11-20 | Film | North | | | 2000 | ft | 28.50 |",
        ),
        "Items\nItem | Use per week | On hand unit\nFilm | 100 | ft",
    )
    assert item["in_words"].startswith("The 2000 ft from North is 58.1 % cheaper")
    mix = item["mix"]
    assert mix["packs"] == [{"supplier": "North", "pack": "2000 ft", "count": 1}]
    close(mix["cash"], "28.50")
    close(mix["cost"], "2.85")
    close(mix["left_over"], 1800 * Fraction("30.48"))
    assert mix["spoils"] == 0


@pytest.mark.parametrize("seed", range(12))
def test_in_any_book_the_plan_costs_no_more_than_the_pack_that_was_found_the_cheapest(
    seed: int,
) -> None:
    """It is that pack, unless several packs for one batch together cost less still."""
    plain = random_book(Random(seed))
    days = [3, "", 20, 7, 60]
    head, *rows = plain["Items"]
    plain["Items"] = [
        [*head, "Keeps days"],
        *([*row, days[(at + seed) % 5]] for at, row in enumerate(rows)),
    ]
    costing = read(plain, on=COSTED_ON)
    weighed = 0
    for item in compared_items(costing, Decimal(2)):
        best = item.packs[0]
        if item.plan is None or item.need is None:
            continue
        assert best.alone is not None
        assert item.plan.cost <= best.alone * item.need.ready * (1 + Decimal("1e-20"))
        if not item.need.of_a_batch:
            assert item.plan.counts[0]
        assert all(pack.stands for pack, n in zip(item.packs, item.plan.counts, strict=True) if n)
        weighed += len(item.packs) > 1
    assert weighed or seed


# ---------------------------------------------------------------- what spoils, by the batch

SALMON = """
Recipes
Recipe | Uses   | Amount | Unit
Wraps  | Salmon | 2.6    | kg

Batches
Recipe | Makes | Unit
Wraps  | 40    | ea

Products
Product | Recipe | Units per pack
Wrap    | Wraps  | 1

Settings
Setting | Value
Batches per year | 26

Items
Item | Usable % | Keeps days
Salmon | 65 | {}
"""


def salmon(keeps: int, *rows: str) -> dict[str, Any]:
    """A batch every two weeks takes 2.6 kg of 65 %: 4 kg as bought."""
    text = "\n\n".join((bought(*rows), SALMON.format(keeps).strip()))
    found: dict[str, Any] = answered("compare", text, "Salmon")["items"][0]
    return found


def test_what_a_batch_takes_is_used_at_once_though_it_keeps_two_days() -> None:
    """4 kg at 88.00: all of it is used. Of 5 kg at 100.00 4 are, so they are 25.00 a kilo."""
    item = salmon(
        2, "2026-11-20 | Salmon | Dock | | | 4 | kg | 88 |", "2026-11-20|Salmon|Pier|||5|kg|100|"
    )
    four, five = item["packs"]
    assert (four["pack"], four["used_part"], five["used_part"]) == ("4 kg", 1, 0.8)
    close(four["price_per_base_unit_used"], Fraction(88, 2600))
    close(five["price_per_base_unit_used"], Fraction(100, 2600))
    assert item["in_words"] == (
        "The 4 kg from Dock is 12.0 % cheaper than the 5 kg from Pier. "
        "Of the 5 kg from Pier, only 80.0 % is used before it spoils."
    )
    assert (item["need"], item["need_days"]) == (4000, 14)
    mix = item["mix"]
    assert (mix["cash"], mix["cost"], mix["left_over"], mix["spoils"]) == (88, 88, 0, 0)


def test_what_waits_for_the_next_batch_is_lost_only_if_it_does_not_keep_so_long() -> None:
    """14 days are until the next batch, so 8 kg are used; with 13 the half of them is lost."""
    rows = ("2026-11-20 | Salmon | Dock | | | 8 | kg | 160 |",)
    kept, lost = salmon(14, *rows), salmon(13, *rows)
    assert (kept["packs"][0]["used_part"], lost["packs"][0]["used_part"]) == (1, 0.5)
    assert (kept["mix"]["left_over"], kept["mix"]["spoils"], kept["mix"]["cost"]) == (4000, 0, 80)
    assert (lost["mix"]["left_over"], lost["mix"]["spoils"], lost["mix"]["cost"]) == (
        *(4000, 4000),
        160,
    )


def test_what_is_left_of_the_last_of_several_packs_for_a_batch_is_lost_too() -> None:
    """Two of 3 kg at 66.00 for 4 kg: 132.00, so four of 1 kg at 25.00 are cheaper; and a mix of
    3 kg and 1 kg at 91.00 is cheapest of all.
    """
    item = salmon(
        2, "2026-11-20 | Salmon | Dock | | | 3 | kg | 66 |", "2026-11-20|Salmon|Pier|||1|kg|25|"
    )
    one, three = item["packs"]
    assert (one["pack"], one["used_part"], three["used_part"]) == ("1 kg", 1, 1)
    close(one["price_per_base_unit_used"], Fraction(100, 2600))
    close(three["price_per_base_unit_used"], Fraction(132, 2600))
    assert [(pack["pack"], pack["count"]) for pack in item["mix"]["packs"]] == [
        ("1 kg", 1),
        ("3 kg", 1),
    ]
    assert item["mix"]["cost"] == 91


def test_pieces_cut_to_weight_are_one_pack_of_which_any_weight_is_bought() -> None:
    """1.31 kg at 31.44 last: 24.00 a kilo, so 4 kg are 96.00."""
    weights = ("1.234", "29.60"), ("1.262", "30.20"), ("1.195", "28.50"), ("1.31", "31.44")
    rows = [
        f"2026-{month}-20 | Salmon | Dock | | | {size} | kg | {price} |"
        for month, (size, price) in enumerate(weights, 8)
    ]
    item = salmon(2, *rows)
    (pack,) = item["packs"]
    assert (pack["pack"], pack["date"], pack["used_part"]) == (
        *("piece cut to weight", "2026-11-20"),
        1,
    )
    close(pack["price_per_base_unit"], "0.024")
    close(item["mix"]["cost"], 96)
    assert item["in_words"] == "Only one pack of it is known."


@pytest.mark.parametrize(
    "sizes",
    [
        pytest.param(["2.5 | lb", "3 | lb"], id="two sizes of a bag"),
        pytest.param(["340 | g", "397 | g", "454 | g"], id="as packers print"),
        pytest.param(["12 | oz", "14 | oz", "16 | oz"], id="in ounces too"),
        pytest.param(["5 | lb", "25 | lb", "50 | lb"], id="much larger ones"),
        pytest.param(
            ["2 | lb", "2.25 | lb", "2.5 | lb", "2 | lb", "2.25 | lb", "2.5 | lb"], id="x"
        ),
    ],
)
def test_packs_of_several_sizes_are_not_cut_to_weight(sizes: list[str]) -> None:
    rows = [f"2026-11-{10 + at} | Tea | Shop | | | {size} | 4 |" for at, size in enumerate(sizes)]
    found = named(compared("Tea", "g", bought(*rows)))
    assert len(found) == len(set(sizes))


# ---------------------------------------------------------------- a price that was overtaken

CARTON = "2026-10-30 | Eggs | Carry | 1 | | 18 | ct | 5.38 |"
TWO = "2026-11-13 | Eggs | Carry | 1 | 2 | 18 | ct | 13.90 |"
GROCER = "2026-11-19 | Eggs | Grocer | 1 | | 12 | ct | 5.29 |"


def test_a_price_that_a_later_receipt_has_overtaken_is_shown_with_its_day_and_never_wins() -> None:
    """13.90 for 36 is 0.3861, 12.4 % less than 5.29 for 12; the 0.2989 of October is gone.

    The 5.38 for 18 were 1 - 0.2989 / 0.3861 = 22.6 % cheaper.
    """
    item = compared("Eggs", "ea", bought(CARTON, TWO, GROCER))
    assert [(pack["pack"], pack["date"], pack["overtaken"]) for pack in item["packs"]] == [
        ("2 × 18 ea", "2026-11-13", False),
        ("12 ea", "2026-11-19", False),
        ("18 ea", "2026-10-30", True),
    ]
    assert item["in_words"] == (
        "The 2 × 18 ea from Carry is 12.4 % cheaper than the 12 ea from Grocer, but only if fewer "
        "than 5 of 36 are lost. The 18 ea from Carry was 22.6 % cheaper on 2026-10-30, but a later "
        "receipt has overtaken that price (2 × 18 ea, 2026-11-13, the same inner pack): ask what "
        "it costs now."
    )


@pytest.mark.parametrize(
    ("rows", "dead"),
    [
        pytest.param([CARTON, TWO.replace("2026-11-13", "2026-10-30")], [], id="of one day"),
        pytest.param([CARTON, TWO.replace("Carry", "Grocer")], [], id="another supplier"),
        pytest.param([CARTON, TWO.replace("Carry", "")], [], id="nobody's"),
        pytest.param([CARTON, TWO.replace("2026-11-13", "2026-11-21")], [], id="yet to come"),
        pytest.param([CARTON, TWO.replace("| 2 | 18", "| | 30")], ["18 ea"], id="another size"),
        pytest.param([CARTON.replace("10-30", "11-14"), TWO], ["2 × 18 ea"], id="the other way"),
    ],
)
def test_which_prices_a_later_receipt_overtakes(rows: list[str], dead: list[str]) -> None:
    item = compared("Eggs", "ea", bought(*rows))
    assert [pack["pack"] for pack in item["packs"] if pack["overtaken"]] == dead
    assert item["packs"][0]["overtaken"] is False


def test_where_a_receipt_in_another_money_overtakes_every_price_none_is_said_to_win(
    tmp_path: Path,
) -> None:
    def in_words(*rows: str) -> str:
        text = bought(CARTON, "2026-11-13 | Eggs | Carry | 1 | | 12 | ct | 4.00 |", *rows)
        dollars = "Settings\nSetting | Value\nCurrency | USD"
        book = sheets("\n\n".join((text, dollars, MADE.format("Eggs", "ea").strip())))
        book["Purchases"][2][7] = Shown(4, '"€"0.00')
        (item,) = asked("compare", save(book, tmp_path), "--on", ON)["items"]
        words: str = item["in_words"]
        return words

    assert in_words() == "No price of it still stands: later receipts have overtaken them all."
    assert in_words(GROCER) == (
        "The 12 ea from Grocer is the only pack whose price still stands. The 18 ea from Carry was "
        "32.2 % cheaper on 2026-10-30, but a later receipt has overtaken that price: ask what it "
        "costs now."
    )


def test_what_was_seen_before_a_receipt_from_there_is_overtaken_too() -> None:
    seen = "Eggs | Carry | | 60 | ct | 12 | | | | {}"
    for day, overtaken in (("2026-11-01", True), ("2026-11-14", False), ("", False)):
        item = compared("Eggs", "ea", bought(TWO), offered(seen.format(day)))
        (offer,) = (pack for pack in item["packs"] if pack["from"] == "Offers")
        assert offer["overtaken"] is overtaken
    said = compared("Eggs", "ea", bought(TWO), offered(seen.format("2026-11-01")))["in_words"]
    assert said == (
        "The 2 × 18 ea from Carry is the only pack whose price still stands. The 60 ea from Carry "
        "was 48.2 % cheaper on 2026-11-01, but a later receipt has overtaken that price (2 × 18 "
        "ea, 2026-11-13): ask what it costs now."
    )


# ---------------------------------------------------------------- least orders

USED = "Items\nItem | Use per week | On hand unit\nTea | 500 | g\nMilk | {} | l"
CHEAP = "Tea | Web | | 1 | kg | 3 | | | |"


def both(milk_a_week: int, *offers: str) -> dict[str, dict[str, Any]]:
    """Tea at a shop, and at a supplier whose least order is 30.00; milk there too."""
    text = "\n\n".join(
        (
            bought(
                "2026-11-20 | Tea | Shop | | | 1 | kg | 4 |",
                "2026-11-20 | Milk | Web | | | 1 | l | 2 |",
            ),
            offered(*offers),
            USED.format(milk_a_week),
            "Suppliers\nSupplier | Least order\nWeb | 30",
            MADE.format("Tea", "g").strip(),
        )
    )
    return {item["item"]: item for item in answered("compare", text)["items"]}


def test_a_mix_below_a_suppliers_least_order_is_said_with_the_way_out() -> None:
    """1 kg of tea at 3.00 and 4 litres of milk at 2.00 are 11.00 at Web, which asks for 30.00."""
    found = both(2, CHEAP)
    assert found["Tea"]["in_words"].endswith(
        " Web takes no order below 30.00, and what is to be bought there comes to 11.00. Order "
        "more there, or take 1 × (1 kg from Shop) for 4.00."
    )
    assert found["Milk"]["in_words"].endswith(
        " Web takes no order below 30.00, and what is to be bought there comes to 11.00. Order "
        "more there."
    )


def test_an_order_is_filled_by_all_items_together() -> None:
    """1 kg of tea at 3.00 and 14 litres of milk at 2.00 are 31.00."""
    found = both(7, CHEAP)
    assert not any("takes no order below" in item["in_words"] for item in found.values())


def test_an_order_of_exactly_the_least_is_taken() -> None:
    """14 litres of milk at 2.00 are 28.00: with a kilo of tea at 2.00 they are 30.00."""
    assert "below" not in both(7, CHEAP.replace("| 3 |", "| 2 |"))["Tea"]["in_words"]
    assert "below" in both(7, CHEAP.replace("| 3 |", "| 1.99 |"))["Tea"]["in_words"]


def test_where_no_need_is_known_the_cheapest_packs_least_is_held_against_the_least_order() -> None:
    def said(price: str, least: str) -> str:
        words: str = compared(
            "Tea",
            "g",
            bought("2026-11-20 | Tea | Shop | | | 1 | kg | 4 |"),
            offered(f"Tea | Web | | 1 | kg | {price} | | {least} | |"),
            "Suppliers\nSupplier | Least order\nWeb | 30",
        )["in_words"]
        return words

    assert said("3", "9").endswith(
        " cheaper than the 1 kg from Shop. Web takes no order below 30.00."
    )
    assert "takes no order" not in said("3", "10")
    assert "takes no order" not in said("5", "1")


def test_a_least_order_may_be_as_small_as_one() -> None:
    """Three at 0.30 are 0.90."""
    item = compared(
        "Tea",
        "g",
        bought("2026-11-20 | Tea | Shop | | | 1 | kg | 4 |"),
        offered("Tea | Web | | 1 | kg | 0.30 | | 3 | |"),
        "Suppliers\nSupplier | Least order\nWeb | 1",
    )
    assert item["in_words"].endswith(" Web takes no order below 1.00.")


# ---------------------------------------------------------------- through the command line


def test_the_json_of_a_comparison() -> None:
    answer = asked("compare", STALL, "Eggs large", "--on", ON)  # another name of Eggs, large
    assert list(answer) == ["book", "items", "cautions", "problems"]
    (item,) = answer["items"]
    assert item["item"] == "Eggs, large"
    assert [(pack["supplier"], pack["pack"], pack["from"]) for pack in item["packs"]] == [
        ("Millbrook Cash & Carry", "2 × 18 ea", "Purchases"),
        ("Oak Street Grocer", "1 dozen", "Purchases"),
        ("Millbrook Cash & Carry", "18 ea", "Purchases"),
    ]
    assert [pack["overtaken"] for pack in item["packs"]] == [False, False, True]
    first, second, _ = (pack["price_per_base_unit_used"] for pack in item["packs"])
    assert first < second
    close(item["packs"][0]["price_per_base_unit"], Fraction("13.90") / 36)
    close(item["packs"][0]["price_per_base_unit_used"], Fraction("13.90") / 36 / Fraction("0.88"))
    assert set(item["packs"][0]) == {
        *("supplier", "pack", "price_per_pack", "price_per_base_unit", "price_per_base_unit_ready"),
        *("price_per_base_unit_used", "used_part", "cash_tied_up", "break_even_spoilage", "from"),
        *("date", "overtaken"),
    }


def test_the_text_of_a_comparison() -> None:
    code, out, _ = run("compare", STALL, "Film", "--on", ON, "--weeks", "1")
    assert code == 0
    *table, said, mix = out.splitlines()[:6]
    assert table == [
        "Film",
        "Pack                Supplier       From          Of  Price    a ft    used  May be lost",
        "2000 ft  Northside Packaging  Purchases  2026-09-11  28.50  0.0158  0.0158       53.7 %",
        "100 ft     Oak Street Grocer  Purchases  2025-12-05   3.40  0.0340  0.0340            —",
    ]
    assert said == (
        "The 2000 ft from Northside Packaging is 53.7 % cheaper than the 100 ft from Oak Street "
        "Grocer, as long as less than 53.7 % of it is thrown away."
    )
    # 28.50 and half of 6.00 for delivery: 31.50 for 60960 cm. A batch takes, with 5 % spare, in
    # inches: 3 x 48 x 14, 60 x 16, 40 x 14 (1.75 sq ft of a roll 18 in wide) and 40 x 16; a sixth
    # of that, 150 times a year: 4176 x 2.54 x 1.05 / 6 x 150 / 52 = 5355 cm, 2.77; they are
    # 175.7 ft. A foot is 31.50 / 2000 = 0.01575, and 3.40 / 100 = 0.034
    assert mix == (
        "For 7 days: 1 × (2000 ft from Northside Packaging) for 31.50 in cash, 1824 ft left over; "
        "what is used costs 2.77, as usual 2.77."
    )


def test_the_text_says_which_price_was_overtaken() -> None:
    _, out, _ = run("compare", STALL, "Eggs, large", "--on", ON)
    *_, last = [line for line in out.splitlines() if "Purchases" in line]
    assert last.split() == [
        *("18", "ea", "Millbrook", "Cash", "&", "Carry", "Purchases", "2026-10-30", "5.38"),
        *("0.2989", "0.3396", "overtaken"),
    ]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("Flim",), 'No item is called "Flim". Did you mean "Film"?'),
        (
            ("Paper",),
            (
                "No pack of Paper is known on or before the costing date. Add a purchase of it, or "
                "a row on Offers."
            ),
        ),
        (("Film", "--weeks", "0"), "--weeks: 0 is no number of weeks; write it as 2."),
    ],
)
def test_what_cannot_be_compared_is_said(words: tuple[str, ...], said: str, tmp_path: Path) -> None:
    receipts = bought(
        "2026-11-20 | Film | Shop | | | 1 | m | 4 |", "2026-11-21 | Paper | Shop | | | 1 | m | 4 |"
    )
    book = save(sheets(f"{receipts}\n\n{MADE.format('Film', 'm').strip()}"), tmp_path)
    code, out, err = run("compare", book, *words, "--on", ON)
    assert (code, out) == (2, "")
    assert said in err


def test_a_missing_target_margin_is_no_fault_of_a_comparison(tmp_path: Path) -> None:
    """Nothing is charged by comparing packs: `check` asks for the margin, `compare` doesn't."""
    rows = bought("2026-11-01 | Oats | Mill | 1 | | 1 | kg | 2 |")
    text = "\n\n".join((rows, MADE.format("Oats", "g").strip()))
    book = make_book(tmp_path / "stall.xlsx", sheets(text))
    for command, wants_it in (("compare", False), ("check", True)):
        code, out, _ = run(command, book, "--json", "--on", "2026-11-25")
        said = [each["what"] for each in json.loads(out)["problems"]]
        assert ("Target margin % is not known." in said, code) == (wants_it, int(wants_it))
