"""What a pack of each product costs to make, worked by hand from the batches, step by step.

Straight-line arithmetic with exact fractions; numbers copied by eye. Packaging, the product's own
stage, the booked kitchen and overheads, all carried by the packs that are sold.
"""

from __future__ import annotations

from fractions import Fraction

from tests.samples.by_hand_made import (
    chickpea_clock,
    chickpea_cost,
    chickpea_pay,
    flatbread_clock,
    flatbread_cost,
    flatbread_pay,
    hire,
    leek_clock,
    leek_cost,
    leek_pay,
    own,
    salmon_clock,
    salmon_pay,
    salmon_wraps_cost,
    spinach_clock,
    spinach_pay,
    spinach_wraps_cost,
)
from tests.samples.by_hand_prices import (
    bags,
    film,
    foil,
    inch,
    labels,
    paper,
    six_bags,
    sq_ft,
)

__all__ = ["MADE"]

F = Fraction  # short, since every line has one

# --- 5. Per pack sold: a batch's cost / (good / units per pack x (1 - not sold)) ----------------
# The product's own stage: 3 minutes a batch and so many a pack made (good / units per pack).
# Overheads: a year's (insurance 420, licence 180, phone 40 x 12 at half) / 150 batches, and 3.50
# of cleaning stuff a batch.
overhead = (420 + 180 + 40 * 12 * F("0.5")) / 150 + F("3.50")

# Packaging: film by length, spare 5 %; foil 12 in of a roll 12 in wide; a bag and a label a pack.
film_14 = 14 * inch * film * F("1.05")
film_16 = 16 * inch * film * F("1.05")
film_area = F("1.75") * sq_ft / (18 * inch) * film * F("1.05")  # 1.75 sq ft of a roll 18 in wide
foil_12 = 12 * inch * (12 * inch) * foil  # length x the roll's width
foil_area = F("1.2") * sq_ft * foil
label = 1 * labels * F("1.03")  # all products, spare 3 %
batch_paper = 4 * paper  # all products, four sheets a batch

leek_packs = 46 / F(1)
leek_sold = leek_packs * (1 - F("0.06"))
leek_pack_minutes = 3 + F("0.3") * leek_packs
six_packs = 46 / F(6)
six_sold = six_packs * (1 - F("0.04"))
six_pack_minutes = 3 + F("1.2") * six_packs
chickpea_sold = 48 * (1 - F("0.05"))
chickpea_pack_minutes = 3 + F("0.3") * 48
spinach_sold = 57 * (1 - F("0.08"))
spinach_pack_minutes = 3 + F("0.3") * 57
flatbread_sold = 40 * (1 - F("0.05"))
flatbread_pack_minutes = 3 + F("0.4") * 40
salmon_sold = 39 * (1 - F("0.1"))
salmon_pack_minutes = 3 + F("0.3") * 39

# product: units per pack, then per pack sold: ingredients, packaging, labour, kitchen, overhead
MADE = {
    "Leek & potato roll": (
        1,
        leek_cost / leek_sold,
        (48 * (film_14 + foil_12) + leek_packs * (bags + label) + batch_paper) / leek_sold,
        (leek_pay + leek_pack_minutes * own) / leek_sold,
        hire(leek_clock + leek_pack_minutes) / leek_sold,
        overhead / leek_sold,
    ),
    "Leek & potato rolls, six": (
        6,
        leek_cost / six_sold,
        (48 * (film_14 + foil_12) + six_packs * (six_bags * F("1.02") + label) + batch_paper)
        / six_sold,
        (leek_pay + six_pack_minutes * own) / six_sold,
        hire(leek_clock + six_pack_minutes) / six_sold,
        overhead / six_sold,
    ),
    "Chickpea & relish roll": (
        1,
        chickpea_cost / chickpea_sold,
        (48 * (film_14 + foil_12) + 48 * (bags + label) + batch_paper) / chickpea_sold,
        (chickpea_pay + chickpea_pack_minutes * own) / chickpea_sold,
        hire(chickpea_clock + chickpea_pack_minutes) / chickpea_sold,
        overhead / chickpea_sold,
    ),
    "Spinach & egg wrap": (
        1,
        spinach_wraps_cost / spinach_sold,
        (60 * (film_16 + foil_12) + 57 * (bags + label) + batch_paper) / spinach_sold,
        (spinach_pay + spinach_pack_minutes * own) / spinach_sold,
        hire(spinach_clock + spinach_pack_minutes) / spinach_sold,
        overhead / spinach_sold,
    ),
    "Mushroom flatbread": (
        1,
        flatbread_cost / flatbread_sold,
        (40 * (film_area + foil_area) + 40 * (bags + label) + batch_paper) / flatbread_sold,
        (flatbread_pay + flatbread_pack_minutes * own) / flatbread_sold,
        hire(flatbread_clock + flatbread_pack_minutes) / flatbread_sold,
        overhead / flatbread_sold,
    ),
    "Salmon & dill wrap": (
        1,
        salmon_wraps_cost / salmon_sold,
        (40 * (film_16 + foil_12) + 39 * (bags + label) + batch_paper) / salmon_sold,
        (salmon_pay + salmon_pack_minutes * own) / salmon_sold,
        hire(salmon_clock + salmon_pack_minutes) / salmon_sold,
        overhead / salmon_sold,
    ),
}
