"""The rules of labels worked by hand, in the form of ``rule_cases``.

Bridges are grams a base unit: 1 for grams, so many g/ml, so many g/ea; measures are 1 weight,
2 volume, 3 piece, 4 length, 5 area.
"""

from __future__ import annotations

__all__ = ["LABEL_TABLE"]

LABEL_TABLE = """
grams_of_line(900 g, 1, 1, '', '', 0, 1, 5000, 0.8, 0.8) = 900 g | 900 g ready to use are put in
grams_of_line(1000 g, 1, 1, '', '', 0, 1, 2000, 0.5, 1) = 500 g | 1 kg as bought, half of it trimmed off
grams_of_line(3 ea, 3, 57 g/ea, '', '', 0, 3, 30, 0.88, 1) = 150.48 g | 3 eggs in their shells: 3 × 57 × 0.88
grams_of_line(250 ml, 2, 1.03 g/ml, '', '', 0, 2, 1000, 1, 1) = 257.5 g | milk: 250 × 1.03
grams_of_line(250 ml, 2, ? g/ml, '', '', 0, 2, 1000, 1, 1) = ? g | nobody typed its Grams per ml
grams_of_line(30, 4, 45, '', '', 0, 4, 100, 1, 1) = ? | a length has no weight, however wide its roll
grams_of_line(2 ea, 3, 800 g/ea, 'slice', 'loaf', 1, 3, 1, 1, 1) = ? g | slices, and loaves are what was weighed
grams_of_line(2 ea, 3, 800 g/ea, 'slice', '', 1, 3, 1, 1, 1) = ? g | slices of what is bought as one piece
grams_of_line(2 ea, 3, 400 g/ea, 'loaf', 'loaf', 0, 3, 1, 1, 1) = 800 g | loaves of loaves: 2 × 400
grams_of_line(? g, 1, 1, '', '', 0, 1, 5000, 1, 1) = ? g | no amount
grams_of_line(100 g, ?, ?, '', '', 0, 1, 5000, 1, 1) = ? g | a unit that nobody knows
grams_of_used(500 g, 1, 1, '', '', 0, 1, 1800, 0.2777, 1.8, 2, 2100 g) = 500 g | as weighed, though 2.1 kg went in
grams_of_used(6 ea, 3, ? g/ea, '', '', 0, 3, 20, 0.3, 20 ea, 21 ea, 2100 g) = 600 g | 6 of 20 good, of 21 started: 2100 × 6/21
grams_of_used(6 ea, 3, 90 g/ea, '', '', 0, 3, 20, 0.3, 20 ea, 21 ea, 2100 g) = 540 g | its own Grams per piece: 6 × 90
grams_of_used(500 ml, 2, ? g/ml, '', '', 0, 2, 2000, 0.25, 2 ml, 2 ml, 2100 g) = 525 g | a quarter of what went in
grams_of_used(30, 4, 45, '', '', 0, 4, 120, 0.25, 2, 2, 2100) = 525 | a length of a filled roll: a quarter of what went in
grams_of_used(6 ea, 3, ? g/ea, '', '', 0, 3, 20, 0.3, 20 ea, 21 ea, ? g) = ? g | something in it isn't weighed
held_in_pack(12, 28.349523125 g, 250 g, 6) = 340.1942775 g | 12 oz × 28.349523125 (NIST Handbook 44, App. C; from memory)
held_in_pack(?, ? g, 250 g, 2) = 500 g | no net weight, but two portions of 250 g
held_in_pack(12, ? g, 250 g, 2) = ? g | a net weight without its unit is asked
held_in_pack(?, ? g, ? g, 6) = ? g | six pieces say nothing of a weight
measure_of_pack(12, 1, 2) = 1 | a net weight
measure_of_pack(?, ?, 2) = 2 | no net weight: the portion's kind
measure_of_pack(12, ?, 2) = ? | a unit that nobody knows
"""  # noqa: E501  # one case a line
