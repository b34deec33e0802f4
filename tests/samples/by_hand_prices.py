"""What the market stall's items cost, worked by hand from the receipts, step by step.

Straight-line arithmetic with exact fractions; receipts copied by eye. The first of the design's
money rules: price per base unit as bought.
"""

from __future__ import annotations

from fractions import Fraction

__all__ = [
    "ITEMS",
    "bags",
    "butter",
    "cheddar",
    "chickpeas",
    "cumin",
    "cup",
    "dill",
    "eggs",
    "film",
    "flour",
    "foil",
    "ft",
    "inch",
    "labels",
    "lb",
    "leeks",
    "lemons",
    "milk",
    "mushrooms",
    "oil",
    "onions",
    "oz",
    "paper",
    "parsley",
    "pepper",
    "potatoes",
    "salmon",
    "salt",
    "six_bags",
    "soft_cheese",
    "spinach",
    "sq_ft",
    "sugar",
    "tbsp",
    "tsp",
    "vinegar",
    "wraps",
    "yeast",
]

F = Fraction  # short, since every line has one

# Units: exact by definition (NIST Handbook 44; from memory, agreed with the printed tables).
lb = F("453.59237")  # g
oz = lb / 16  # g
gal = F("3785.411784")  # ml
cup = gal / 16
tbsp = gal / 256
tsp = gal / 768
fl_oz = gal / 128
ft = F("30.48")  # cm
inch = F("2.54")  # cm
sq_ft = ft * ft  # cm2

# --- 1. Price per base unit as bought: (packs x price + other) / (packs x count x size) ---------
# Costed on 20 November 2026. `now`: the latest receipt up to that day, from the usual supplier,
# of two on one day the lower. `before`: the same rule on the day before the date of `now`.
flour = F("17.25") / (25 * lb)  # 30 Oct; the 14 Nov bag is not from the usual supplier
flour_before = F("16.40") / (25 * lb)  # 28 Aug
yeast = F("5.95") / (16 * oz)  # 4 Sep
yeast_before = F("5.85") / (16 * oz)
salt = F("1.19") / (26 * oz)  # 28 Aug
salt_before = F("1.89") / (3 * lb)
oil = F("31.20") / 3000  # 18 Sep, 3 l, per ml
oil_before = F("29.00") / 3000
butter = F("4.10") / lb  # 30 Oct, the lower of two rows of that day
butter_before = F("4.45") / lb  # 2 Oct: neither row of 30 Oct
milk = F("4.05") / gal  # 14 Nov
milk_before = F("3.95") / gal
leeks = (1 * F("19.00") + F("2.50")) / (10 * lb)  # 13 Nov with 2.50 delivery; 22 Nov is too late
leeks_before = (1 * F("17.80") + F("2.50")) / (10 * lb)
potatoes = F("21.00") / (50 * lb)  # 13 Nov
potatoes_before = F("19.50") / (50 * lb)
spinach = (4 * F("6.75")) / (4 * F("2.5") * lb)  # 13 Nov, four bags of 2.5 lb
spinach_before = (4 * F("6.40")) / (4 * F("2.5") * lb)
eggs = F("13.90") / (2 * 18)  # 13 Nov, "2 x 18 ct"; 19 Nov is not from the usual supplier
eggs_before = (2 * F("5.38")) / (2 * 18)  # 30 Oct, two cartons of 18
mushrooms = F("14.50") / (5 * lb)  # 13 Nov
mushrooms_before = F("13.75") / (5 * lb)
cheddar = F("21.75") / (5 * lb)  # 30 Oct
cheddar_before = F("20.90") / (5 * lb)
chickpeas = F("9.00") / (6 * 500)  # 2 Oct, a case of 6 x 500 g
chickpeas_before = F("8.60") / (6 * 500)
onions = F("7.60") / (10 * lb)  # 13 Nov
onions_before = F("7.20") / (10 * lb)
sugar = F("3.85") / (4 * lb)  # 18 Sep
sugar_before = F("2.15") / (2 * lb)
vinegar = F("4.49") / (32 * fl_oz)  # 28 Aug
vinegar_before = F("4.25") / (32 * fl_oz)
salmon = (F("96.60") - F("5.00")) / (F("8.4") * lb)  # 13 Nov, less that day's discount row
salmon_before = F("85.25") / (F("7.75") * lb)
soft_cheese = F("9.90") / (3 * lb)  # 13 Nov
soft_cheese_before = F("9.60") / (3 * lb)
lemons = F("5.40") / 12  # 13 Nov, each
lemons_before = F("4.80") / 12
parsley = (3 * F("1.25")) / (3 * 1)  # 13 Nov, a bunch
parsley_before = (3 * F("1.10")) / (3 * 1)
dill = (2 * F("1.75")) / (2 * 1)  # 13 Nov, a bunch
dill_before = (2 * F("1.60")) / (2 * 1)
wraps = F("15.60") / (6 * 12)  # 30 Oct, six packets of 12
wraps_before = F("14.90") / (6 * 12)
pepper = F("3.20") / 100  # 28 Aug
pepper_before = F("3.00") / 100
cumin = F("6.40") / (8 * oz)  # 28 Aug, bought once
film = (2 * F("28.50") + F("6.00")) / (2 * 2000 * ft)  # 11 Sep, per cm; 25 Sep is a return
film_before = (1 * F("26.90") + F("6.00")) / (1 * 2000 * ft)
foil = F("24.80") / (500 * sq_ft)  # 18 Sep, per cm2, written as "Tin foil"
foil_before = F("11.90") / (200 * sq_ft)
bags = (2 * F("18.40") + F("3.00")) / (2 * 250)  # 11 Sep
bags_before = F("17.90") / 250
six_bags = F("14.20") / 100  # 11 Sep
six_bags_before = F("13.80") / 100
labels = (F("32.00") + F("4.50")) / 1000  # 11 Sep with 4.50 delivery
labels_before = (F("31.00") + F("4.50")) / 1000
paper = F("38.00") / 1000  # 13 Feb, a sheet, bought once

# name: price, base unit, usable share, date, supplier, before
ITEMS = {
    "Strong flour": (flour, "g", F(1), "2026-10-30", "Millbrook Cash & Carry", flour_before),
    "Dried yeast": (yeast, "g", F(1), "2026-09-04", "Millbrook Cash & Carry", yeast_before),
    "Salt": (salt, "g", F(1), "2026-08-28", "Oak Street Grocer", salt_before),
    "Olive oil": (oil, "ml", F(1), "2026-09-18", "Millbrook Cash & Carry", oil_before),
    "Butter": (butter, "g", F(1), "2026-10-30", "Millbrook Cash & Carry", butter_before),
    "Whole milk": (milk, "ml", F(1), "2026-11-14", "Oak Street Grocer", milk_before),
    "Leeks": (leeks, "g", F("0.44"), "2026-11-13", "Green Lane Produce", leeks_before),
    "Potatoes": (potatoes, "g", F("0.75"), "2026-11-13", "Green Lane Produce", potatoes_before),
    "Spinach": (spinach, "g", F("0.72"), "2026-11-13", "Green Lane Produce", spinach_before),
    "Eggs, large": (eggs, "ea", F("0.88"), "2026-11-13", "Millbrook Cash & Carry", eggs_before),
    "Chestnut mushrooms": (
        *(mushrooms, "g", F("0.97"), "2026-11-13", "Green Lane Produce", mushrooms_before),
    ),
    "Cheddar": (cheddar, "g", F(1), "2026-10-30", "Millbrook Cash & Carry", cheddar_before),
    "Chickpeas, dried": (
        *(chickpeas, "g", F("2.2"), "2026-10-02", "Millbrook Cash & Carry", chickpeas_before),
    ),
    "Red onions": (onions, "g", F("0.9"), "2026-11-13", "Green Lane Produce", onions_before),
    "Brown sugar": (sugar, "g", F(1), "2026-09-18", "Millbrook Cash & Carry", sugar_before),
    "Cider vinegar": (vinegar, "ml", F(1), "2026-08-28", "Oak Street Grocer", vinegar_before),
    "Salmon side": (salmon, "g", F("0.65"), "2026-11-13", "Harbour Steps Fish", salmon_before),
    "Soft cheese": (
        *(soft_cheese, "g", F(1), "2026-11-13", "Millbrook Cash & Carry", soft_cheese_before),
    ),
    "Lemons": (lemons, "ea", F("0.45"), "2026-11-13", "Green Lane Produce", lemons_before),
    "Parsley": (parsley, "ea", F("0.6"), "2026-11-13", "Green Lane Produce", parsley_before),
    "Dill": (dill, "ea", F("0.7"), "2026-11-13", "Green Lane Produce", dill_before),
    "Wraps, 10 inch": (wraps, "ea", F(1), "2026-10-30", "Millbrook Cash & Carry", wraps_before),
    "Black pepper": (pepper, "g", F(1), "2026-08-28", "Oak Street Grocer", pepper_before),
    "Ground cumin": (cumin, "g", F(1), "2026-08-28", "Oak Street Grocer", None),
    "Film": (film, "cm", F(1), "2026-09-11", "Northside Packaging", film_before),
    "Foil": (foil, "cm²", F(1), "2026-09-18", "Millbrook Cash & Carry", foil_before),
    "Freezer bags": (bags, "ea", F(1), "2026-09-11", "Northside Packaging", bags_before),
    "Six-pack bags": (six_bags, "ea", F(1), "2026-09-11", "Northside Packaging", six_bags_before),
    "Labels": (labels, "ea", F(1), "2026-09-11", "Northside Packaging", labels_before),
    "Baking paper": (paper, "ea", F(1), "2026-02-13", "Northside Packaging", None),
}
