"""What to buy for a batch of the main sample, worked by hand: what doesn't keep until the next one.

Six products share 150 batches a year, so the two of leek rolls take leeks every 52 x 7 / 50 = 7.28
days, and the others their own every 14.56; leeks keep 7 days, mushrooms 5, salmon 2. The
small-ingredient allowance is 2 %.
"""

from __future__ import annotations

from fractions import Fraction

__all__ = ["FOR_A_BATCH"]

F = Fraction
lb = F("453.59237")

# 7418 g of leeks, so two cases of 10 lb, 19.00 and 2.50 for delivery each
leeks = 3200 / F("0.44") * F("1.02")
mushrooms = 4000 / F("0.6") * F("1.02")  # 6800 g, so three of 5 lb at 14.50; 97 % is left of them
salmon = 2600 / F("0.65") * F("1.02")  # 4080 g of sides cut to weight, 96.60 less 5.00 for 8.4 lb

Bought = tuple[Fraction, list[tuple[str, Fraction]], Fraction, Fraction, Fraction]
"""As bought for a batch [g], the packs and how many, cash, what is left over and spoils [g], and
the price of what is used, ready to use [money/g]."""

FOR_A_BATCH: dict[str, Bought] = {
    "Leeks": (leeks, [("10 lb", F(2))], F(43), 20 * lb - leeks, 43 / (leeks * F("0.44"))),
    "Chestnut mushrooms": (
        mushrooms,
        [("5 lb", F(3))],
        F("43.50"),
        15 * lb - mushrooms,
        F("43.50") / (mushrooms * F("0.97")),
    ),
    "Salmon side": (
        salmon,
        [("piece cut to weight", salmon / (F("8.4") * lb))],
        F("91.60") / (F("8.4") * lb) * salmon,
        F(0),
        F("91.60") / (F("8.4") * lb) / F("0.65"),
    ),
}
