"""What a batch of each of the market stall's recipes costs, worked by hand, step by step.

Straight-line arithmetic with exact fractions. The numbers are copied from the receipts, recipes
and stages by eye; nothing reads the workbook and nothing here is shared with the costing code.
Order: the design's money rules; the prices per base unit come first, in by_hand_prices. Units stand
in the names or comments.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from tests.samples.by_hand_prices import (
    butter,
    cheddar,
    chickpeas,
    cumin,
    cup,
    dill,
    eggs,
    flour,
    lb,
    leeks,
    lemons,
    milk,
    mushrooms,
    oil,
    onions,
    oz,
    parsley,
    potatoes,
    salmon,
    salt,
    soft_cheese,
    spinach,
    sugar,
    tbsp,
    tsp,
    vinegar,
    wraps,
    yeast,
)

__all__ = [
    "RECIPES",
    "chickpea_clock",
    "chickpea_cost",
    "chickpea_pay",
    "flatbread_clock",
    "flatbread_cost",
    "flatbread_pay",
    "hire",
    "leek_clock",
    "leek_cost",
    "leek_pay",
    "own",
    "salmon_clock",
    "salmon_pay",
    "salmon_wraps_cost",
    "spinach_clock",
    "spinach_pay",
    "spinach_wraps_cost",
]

F = Fraction  # short, since every line has one

# --- 2. Recipes: bought lines x (1 + 2 % for small ingredients) + lines that use a recipe -------
# A line is amount x price as bought (/ usable share where it is measured ready to use).
small = 1 + F("0.02")

# Roll dough: makes 4.2 kg, 0.1 kg stays on the bowl: 4,100 g are good.
dough_cost = small * (
    2500 * flour
    + 35 * yeast
    + F("2.5") * tsp * F("1.217") * salt  # 2 1/2 tsp; 1.217 g per ml
    + 120 / F("0.918") * oil  # 120 g; 0.918 g per ml
    + 3 * cup * milk
)
dough_good = 4100  # g
dough_per_g = dough_cost / dough_good

# Herb butter: makes 1.05 kg.
herb_cost = small * (
    2 * lb * butter
    + 90 / F(70) * parsley / F("0.6")  # 90 g ready to use; a bunch is 70 g, 60 % of it leaves
    + 2 * lemons  # pieces: as bought
    + 1 * tsp * F("1.217") * salt
)
herb_per_g = herb_cost / 1050

# Onion relish: makes 1.6 l; the dish weighs 1.08 g per ml.
relish_cost = small * (
    4 * lb * onions  # as bought
    + 12 * oz * sugar
    + F("1.5") * cup * vinegar
    + 3 * tbsp * oil
)
relish_per_ml = relish_cost / 1600

# Flatbread base: makes 42, 2 rejects: 40 good.
base_cost = small * (2 * tbsp * oil + 150 * flour) + 3800 * dough_per_g
base_each = base_cost / 40

# Leek rolls: makes 48, 2 rejects. Black pepper "to taste" is in the 2 %.
leek_cost = (
    small
    * (
        3200 * leeks / F("0.44")
        + 8 * lb * potatoes  # as bought
        + 16 * oz * butter
        + 2 * cup * milk
        + 3 * eggs  # pieces: as bought
    )
    + 4000 * dough_per_g
)

# Chickpea rolls: makes 48.
chickpea_cost = (
    small
    * (
        3600 * chickpeas / F("2.2")  # weighed cooked: 1 g dried becomes 2.2 g
        + 4 * tbsp * F("0.42") * cumin  # 0.42 g per ml
        + 150 * oil
    )
    + 4000 * dough_per_g
    + 900 / F("1.08") * relish_per_ml  # 900 g
)

# Spinach wraps: makes 60, 3 rejects.
spinach_wraps_cost = small * (
    60 * wraps
    + 3600 * spinach / F("0.72")
    + 72 * eggs  # pieces: as bought
    + 500 / F(57) * eggs / F("0.88")  # 500 g chopped; an egg in its shell is 57 g, 88 % edible
    + 3 * cup * milk
    + 800 * onions / F("0.9")
)

# Mushroom flatbreads: makes 40.
flatbread_cost = (
    small
    * (
        4000 * mushrooms / F("0.6")  # weighed fried: this line's own usable share
        + 1600 * cheddar
    )
    + 40 * base_each
    + 500 * herb_per_g
)

# Salmon wraps: makes 40, 1 reject.
salmon_wraps_cost = (
    small
    * (
        40 * wraps
        + 2600 * salmon / F("0.65")
        + 3 * lb * soft_cheese
        + 100 / F(40) * dill / F("0.7")  # 100 g ready to use; a bunch is 40 g
        + 5 * lemons
    )
    + 200 * herb_per_g
)

# --- 3. Labour: people x (minutes a batch + minutes a unit x started) x pay / 60 x (1 + 8 %) ----
# Money and person-minutes of each recipe; a used recipe brings the share that is used.
own = F(15) / 60 * F("1.08")  # a minute of own pay
helper = F(12) / 60 * F("1.08")  # the helper who cleans down: 12.00 an hour on that stage

dough_minutes = F(18 + 2)
dough_pay = dough_minutes * own
herb_minutes = F(14)
herb_pay = herb_minutes * own
relish_minutes = F(25)
relish_pay = relish_minutes * own
base_minutes = 2 * (6 + F("0.5") * 42) + 3800 / F(4100) * dough_minutes
base_pay = base_minutes * own
leek_own = 2 * 28 + 15 + 2 * (5 + F("0.45") * 48) + 6 + 4000 / F(4100) * dough_minutes
leek_minutes = leek_own + 20
leek_pay = leek_own * own + 20 * helper
relish_share = 900 / F("1.08") / 1600  # of a batch of relish
chickpea_own = (
    20
    + 2 * (5 + F("0.45") * 48)
    + 6
    + 4000 / F(4100) * dough_minutes
    + relish_share * relish_minutes
)
chickpea_minutes = chickpea_own + 20
chickpea_pay = chickpea_own * own + 20 * helper
spinach_own = 35 + 2 * (4 + F("0.4") * 60)
spinach_minutes = F(spinach_own + 15)
spinach_pay = spinach_own * own + 15 * helper
flatbread_own = (
    30 + 2 * (5 + F("0.35") * 40) + base_minutes * 40 / F(40) + 500 / F(1050) * herb_minutes
)
flatbread_minutes = flatbread_own + 15
flatbread_pay = flatbread_own * own + 15 * helper
salmon_own = 30 + 2 * (4 + F("0.5") * 40) + 200 / F(1050) * herb_minutes
salmon_minutes = salmon_own + 15
salmon_pay = salmon_own * own + 15 * helper

# name: cost of a batch, good amount in the unit of Batches, that unit, person-minutes
RECIPES = {
    "Roll dough": (dough_cost, F("4.1"), "kg", dough_minutes),
    "Herb butter": (herb_cost, F("1.05"), "kg", herb_minutes),
    "Onion relish": (relish_cost, F("1.6"), "l", relish_minutes),
    "Flatbread base": (base_cost, F(40), "ea", base_minutes),
    "Leek rolls": (leek_cost, F(46), "ea", leek_minutes),
    "Chickpea rolls": (chickpea_cost, F(48), "ea", chickpea_minutes),
    "Spinach wraps": (spinach_wraps_cost, F(57), "ea", spinach_minutes),
    "Mushroom flatbreads": (flatbread_cost, F(40), "ea", flatbread_minutes),
    "Salmon wraps": (salmon_wraps_cost, F(39), "ea", salmon_minutes),
}

# --- 4. The clock in the kitchen: minutes + waiting - overlap, used recipes in their share ------
dough_clock = F(18 + (2 + 75 - 60))
herb_clock = F(14)
relish_clock = F(25 + 45 - 45)
base_clock = (6 + F("0.5") * 42) + 10 + 3800 / F(4100) * dough_clock
leek_clock = (
    28 + (15 + 10 - 10) + (5 + F("0.45") * 48) + (6 + 50 - 40) + 20 + 4000 / F(4100) * dough_clock
)
chickpea_clock = (
    20
    + (5 + F("0.45") * 48)
    + (6 + 50 - 40)
    + 20
    + 4000 / F(4100) * dough_clock
    + relish_share * relish_clock
)
spinach_clock = (35 + 12 - 12) + (4 + F("0.4") * 60) + 15
flatbread_clock = (
    30 + (5 + F("0.35") * 40 + 12) + 15 + base_clock * 40 / F(40) + 500 / F(1050) * herb_clock
)
salmon_clock = (30 + 10 - 5) + (4 + F("0.5") * 40) + 15 + 200 / F(1050) * herb_clock


def hire(clock: F) -> F:
    """Kitchen hire at 18.00 an hour, in booked half-hours, the clock rounded once upwards."""
    return ceil(round(clock, 6) / 30) * F(30) / 60 * 18
