"""Every cost rule worked by hand, once for all its readings: figure, formula, array, units.

    name(argument, …) = result | the sum

Arguments stand in the rule's own order: a number (or a fraction) with its unit, a ``'text'``, or
``?`` for what is not known. ``unit`` and ``pack`` are what a batch gives and what is sold; a share
has no unit. Sums are the writer's own unless a source stands beside them.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from costbook.definitions import (
    astray_rules,
    bench_rules,
    buying_rules,
    label_rules,
    market_days_rules,
    measured_rules,
    own_work_rules,
    rules,
    session_rules,
    stock_rules,
    week_rules,
    year_rules,
)
from tests.definitions.bench_cases import BENCH_TABLE
from tests.definitions.buying_cases import BUYING_TABLE
from tests.definitions.label_cases import LABEL_TABLE
from tests.definitions.market_days_cases import (
    CASES_OF_MARKET_DAYS,
    CASES_OF_OWN_WORK,
    CASES_OF_ROWS_ASTRAY,
)
from tests.definitions.stock_cases import MEASURED_CASES, STOCK_CASES
from tests.definitions.week_cases import SESSION_TABLE, WEEK_TABLE
from tests.definitions.year_cases import YEAR_CASES

__all__ = ["CASES", "RULES", "Case", "Figure"]

TABLE = """
sales_tax_if_blank('no') = 0                             | none on top
sales_tax_if_blank('yes') = ?                            | in the price, at a rate that nobody typed
sales_tax_if_blank('') = ?                               | neither
uncounted(2, 1, 20, 'no', 3, 'no', 1, 'no') = ''         | rows on every sheet, and a hire
uncounted(2, 1, 0, 'no', ?, 'yes', ?, 'yes') = ''        | a hire of 0, and two that are declared
uncounted(?, ?, ?, 'yes', ?, 'yes', ?, 'yes') = 'your work, packaging' | two that can't be declared
uncounted(2, 1, ?, 'no', ?, 'no', ?, 'no') = 'the kitchen, overheads, selling' | nothing said of three
uncounted(2, ?, 20, 'no', 3, 'no', ?, '') = 'packaging, selling' | in the order of the list
rank(46000, 12, 18, 2, 5.38, 0, 0) = 4600000012          | day 46000 and row 12: 46000 × 100000 + 12
rank(?, 12, 18, 2, 5.38, 0, 0) = ?                       | without a date
rank(?, 12, ?, 2, 5.38, 1, 0) = ?                           | nor with a size that is yet to be read
rank(46000, 12, ?, 2, 5.38, 0, 0) = ?                    | without a size
rank(46000, 12, ?, 2, 5.38, 1, 0) = 4600000012              | a size that only a new run can read
rank(46000, 12, 18, 2, ?, 0, 1) = 4600000012            | a price that is asked about, in another money
rank(46000, 12, 18, 0.5, ?, 0, 1) = 4600000012           | half a pack of it
rank(46000, 12, 18, 0, ?, 0, 1) = ?                      | but not what was not bought
rank(46000, 12, 18, -1, ?, 0, 1) = ?                     | but not a return
rank(46000, 12, 18, -1, 5.38, 0, 0) = ?                  | a return sets no price
rank(46000, 12, 18, 2, 0, 0, 0) = ?                      | nor does a gift
rank(46000, 12, 18, 0, 5.38, 0, 0) = ?                   | nor does what was not bought
rank(46000, 12, 0.5, 0.5, 0.5, 0, 0) = 4600000012        | half a pack of half a kilo at half a dollar
discount(0, 1, -3 money, 0 money) = -3 money             | a row without a size that takes 3.00 off
discount(0, 1, 0 money, -1.50 money) = -1.50 money       | the same, typed as other cost
discount(0, 0, 0 money, -1.50 money) = -1.50 money       | the same, of no packs
discount(0, 1, 4 money, 0 money) = 0 money               | one that costs something is left out
discount(0, 1, 0.5 money, 0 money) = 0 money             | however little
discount(0, ?, -3 money, 0 money) = 0 money             | of nobody knows how many packs
discount(0, 1, ? money, -1.50 money) = 0 money           | of a price that can't be read
discount(0, 1, -3 money, ? money) = 0 money             | and what came on top can't be read
discount(0, -1, 5.4 money, 0 money) = 0 money            | a return without a size
discount(?, -1, 5.4 money, 0 money) = 0 money            | a return of a size that can't be read
discount(?, 1, -3 money, 0 money) = 0 money              | what is taken off what can't be read is asked
discount(18, 1, -3 money, 0 money) = 0 money             | one with a size is a purchase
day_before(46000) = 45999                                | 46000 - 1
counting_rank(4600000012, 4610000002) = 4600000012       | the usual supplier's, though older
counting_rank(0, 4610000002) = 4610000002                | never bought from the usual one
counting_rank(?, 4610000002) = 4610000002                | no usual supplier
counting_rank(0, 0) = ?                                  | never bought
rank_then(0, 4500000003, 4400000001) = 4500000003        | what counted then
rank_then(0, 0, 4610000002) = 4610000002                 | only bought since: the first
rank_then(4490000001, 4500000003, 4400000001) = 4490000001 | the usual supplier's
rank_then(0, 0, 0) = ?                                | never bought
purchase_row(4600000012) = 12                            | what is left after the day
size_in_base_units(5, 453.59237 g) = 2267.96185 g        | 5 lb
price_per_base_unit(2, 5.38 money, 1.24 money, -2 money, 1, 18 ea) = 10/36 money/ea | 2 × 5.38 + 1.24 - 2 = 10.00 for 36
price_per_base_unit(1, 9 money, 0 money, 0 money, 6, 500 g) = 0.003 money/g | 9.00 for 3000 g
price_per_base_unit(1, 0.5 money, 0 money, 0 money, 1, 5 g) = 0.1 money/g | half a dollar
price_per_base_unit(1, 3 money, 0 money, -3 money, 1, 500 g) = ? money/g | nothing was left to pay
roll_width_cm(18, 2.54 cm) = 45.72 cm                    | 18 in
bridge(2, 0.5 g/ml, 3, 50 g/ea) = 1/100 ea/ml            | a piece is 50 g, so 100 ml of 0.5 g/ml
bridge(1, 1 g/g, 1, 1 g/g) = 1                           | grams are grams
bridge(3, ?, 3, ?) = 1                                   | a piece is a piece, whatever it weighs
bridge(3, ?, 1, 1 g/g) = ?                               | nobody weighed it
bridge(4, 30 cm, 5, 1) = 30 cm                           | 1 cm off a roll of 30 cm is 30 sq cm
bridge(1, 1, 4, 30) = ?                                  | grams are no length
bridge(3, 1, 4, 30) = ?                                  | nor is a piece
bridge(4, 30, 1, 1) = ?                                  | a length is no weight
bridge(4, 30, 3, 1) = ?                                  | nor a piece
bridge(?, 1, ?, 1) = ?                                   | two units that nobody knows are not one kind
before_in_units_of_now(0.3 money/ea, 1/50 ea/g) = 0.006 money/g | 30 cents a piece of 50 g
change(0.36 money/ea, 0.30 money/ea) = 0.2               | from 30 to 36 cents: a fifth
age_days(46000, 45970) = 30                              | 46000 - 45970
freshness(31, 30) = 'old: check it'                      | one day too old
freshness(30, 30) = 'fresh'                              | to the day
freshness(?, 30) = 'no price yet'                        | never bought
freshness(400, ?) = 'fresh'                              | no limit is known
price_ready_to_use(0.0089 money/g, 0.89) = 0.01 money/g  | 0.0089 ÷ 0.89
price_ready_to_use(0.01 money/g, 1.25) = 0.008 money/g   | what takes up water weighs more
large_unit_price(0.003 money/g, 1000 g) = 3 money        | 0.003 × 1000
large_unit_price_before(0.0025 money/g, 1000 g) = 2.5 money | 0.0025 × 1000
large_unit_price_ready(0.01 money/g, 453.59237 g) = 4.5359237 money | a pound at a cent a gram
in_large_units(907.18474 g, 453.59237 g) = 2             | two pounds
counted_in(3, 12 ea/unit) = 1 ea/unit                    | a dozen is counted in pieces
counted_in(1, 1000 g/unit) = 1000 g/unit                 | kilograms are kilograms
started(2 unit, 12 ea/unit, 1 ea/unit) = 24 unit         | 2 dozen
started(3.6 unit, 1000 g/unit, 1000 g/unit) = 3.6 unit   | 3.6 kg
rejects(2, 0, 24 unit) = 2 unit                          | two pieces
rejects(0.04, 1, 25 unit) = 1 unit                       | 4 % of 25
rejects(4, 1, 25 unit) = 1 unit                          | 4 under a heading in %
rejects(1.5, 1, 200 unit) = 3 unit                       | 1.5 under a heading in %
rejects(1, 1, 25 unit) = 25 unit                         | 1 is all of it
rejects(2, 0, ? unit) = 2 unit                           | whatever it makes
good(24 unit, 2 unit) = 22 unit                          | 24 - 2
good(24 unit, 24 unit) = ? unit                          | all rejected
good_in_base_units(22 unit, 1 ea/unit) = 22 ea           | 22 pieces
good_in_base_units(2 unit, 1000 g/unit) = 2000 g         | 2 kg
amount_in_base_units(3, 28.349523125 g) = 85.048569375 g | 3 oz
applied_usable_share('as bought', 1, 0.8) = 1            | bought weight is trimmed already
applied_usable_share('ready to use', 1, 0.8) = 0.8       | what was weighed came out of more
applied_usable_share('ready to use', 3, 0.8) = 0.8       | pieces that were counted after trimming
applied_usable_share('blank', 3, 0.88) = 1               | 3 eggs are 3 eggs
applied_usable_share('blank', 1, 0.8) = 0.8              | a weight is ready to use
applied_usable_share('blank', ?, 0.8) = ?                | without a unit who can tell
applied_usable_share('', 1, 0.8) = ?                     | a word that is neither
same_piece(1, 'slice', 'loaf', 1, 3, 1) = ?                   | a slice is no loaf
same_piece(1, 'slice', 'slice', 1, 3, 1) = 1                  | the same piece
same_piece(1, '', 'loaf', 0, 3, 1) = 1                            | ea is no word
same_piece(0.5, 'slice', '', 1, 3, 20) = 0.5                     | bought by the ea, which is no word
same_piece(1, 'slice', '', 1, 3, 1) = ?                  | slices of a loaf that was bought as 1 ea
same_piece(1, 'head', '', 0, 3, 1) = 1                   | a head is all of it
same_piece(1/50, 'slice', '', 1, 1, 1) = 1/50            | bought by weight
same_piece(0.5, '', '', 0, 1, 500) = 0.5                            | weights have no word
amount_as_bought(600 g, 1/50 ea/g, 0.8) = 15 ea          | 600 g are 12 pieces; ÷ 0.8
line_cost(15 ea, 0.30 money/ea) = 4.5 money              | 15 × 0.30
share_of_batch(500 g, 1, 2000 g) = 1/4                   | 500 of 2000 g
share_of_batch(2 ea, 50 g/ea, 2000 g) = 1/20             | two pieces of 50 g of 2000 g
used_cost(1/4, 8 money) = 2 money                        | a quarter of 8.00
used_labour(1/4, 10 money) = 2.5 money                   | a quarter of 10.00
used_person_minutes(1/4, 40 minute) = 10 minute          | a quarter of 40
used_clock_minutes(1/4, 60 minute) = 15 minute           | a quarter of 60
stage_units(3, 24 unit, 2, 24 unit) = 24 unit            | pieces
stage_units(3, 24 unit, 2, 30 unit) = 24 unit            | whatever the packs say
stage_units(1, 3.6 unit, 1, 24 unit) = 24 unit           | 24 packs out of 3.6 kg
stage_units(1, 3.6 unit, 1, 0.5 unit) = 0.5 unit         | half a pack out of 3.6 kg
stage_units(1, 3.6 unit, 0, ? unit) = 3.6 unit           | sold by nobody: by the kg
stage_units(1, 3.6 unit, 2, -1 unit) = ? unit            | packs of different amounts
stage_units(1, 3.6 unit, 1, 0 unit) = ? unit             | how much a pack holds isn't known
work_minutes(20 minute, 0 minute/unit, ? unit) = 20 minute | nothing for each unit
work_minutes(20 minute, 1.5 minute/unit, 24 unit) = 56 minute | 20 + 1.5 × 24
person_minutes(2, 56 minute) = 112 minute                | two people
stage_labour(112 minute, 15 money/hour, 0.1) = 30.8 money | 112 ÷ 60 × 15 = 28.00; × 1.1
stage_clock_minutes(56 minute, 35 minute, 10 minute) = 81 minute | 56 + 35 - 10
stage_clock_minutes(56 minute, 35 minute, 91 minute) = 0 minute | all of it beside another
stage_clock_minutes(56 minute, 35 minute, 92 minute) = ? minute | longer than it takes
batch_cost(3, 20 money, 0.02, 2 money) = 22.4 money      | 20 × 1.02 + 2
batch_cost(1, 20 money, 0.02, 2 money) = 22.4 money      | one line is enough
batch_cost(0, 0 money, 0.02, 0 money) = ? money          | a recipe without a line
batch_cost(3, ? money, 0.02, 2 money) = ? money          | a line without a cost
batch_cost_known(18 money, 0.02, 2 money) = 20.36 money       | 18 × 1.02 + 2
batch_labour(30.8 money, 2.5 money) = 33.3 money         | 30.80 + 2.50
batch_person_minutes(112 minute, 10 minute) = 122 minute | 112 + 10
batch_clock_minutes(81 minute, 15 minute) = 96 minute    | 81 + 15
large_unit_cost(12 money, 4000 g, 1000 g) = 3 money      | 12.00 over 4 kg
large_unit_labour(6 money, 4000 g, 1000 g) = 1.5 money   | 6.00 over 4 kg
unit_cost(22 money, 22 unit) = 1 money/unit              | 22.00 over 22
business_part(40 money, 0.5) = 20 money                  | half a phone
cost_a_year('year', 420 money) = 420 money               | as it stands
cost_a_year('month', 20 money) = 240 money               | 12 × 20
cost_a_year('batch', 3.5 money) = 0 money                | comes with batches
cost_a_year('market day', 6 money) = 0 money             | comes with market days
cost_a_year('', 6 money) = ? money                       | no period
cost_a_year('year', ? money) = ? money                   | no amount
cost_a_batch('batch', 3.5 money) = 3.5 money             | each batch
cost_a_batch('year', 420 money) = 0 money                | not with each
cost_a_market_day('market day', 6 money) = 6 money       | each day
cost_a_market_day('month', 6 money) = 0 money            | not with each
yearly_per_batch(660 money/year, 150 /year) = 4.4 money  | 660 over 150 batches
overhead_per_batch(4.4 money, 3.5 money) = 7.9 money     | 4.40 + 3.50
overhead_per_batch_known(660 money/year, 150 /year, 3.5 money) = 7.9 money | 4.40 + 3.50
overhead_per_batch_known(660 money/year, 1 /year, 3.5 money) = 663.5 money | one batch bears it all
overhead_per_batch_known(660 money/year, ? /year, 3.5 money) = 3.5 money | what comes with each batch
portion(250, 1 g/unit, 1 g/unit, 0, ? g/unit) = 250 g/unit | 250 g typed as Units per pack
portion(8, 28.349523125 g/unit, 1 g/unit, 0, ? g/unit) = 226.796185 g/unit | 8 oz × 28.349523125 (NIST Handbook 44, App. C; from memory)
portion(1, ? g/unit, 1000 g/unit, 150, 1 g/unit) = 150 g/unit | one unit a pack, and its net weight
portion(1, ? g/unit, 1000 g/unit, 12, 28.349523125 g/unit) = 340.1942775 g/unit | 12 oz, the same source
portion(0, ? g/unit, 1000 g/unit, 150, 1 g/unit) = 150 g/unit | left blank: one
portion(0.15, ? g/unit, 1000 g/unit, 150, 1 g/unit) = 150 g/unit | 0.15 of a batch in kg is the same
portion(6, ? g/unit, 1000 g/unit, 900, 1 g/unit) = ? g/unit | 6 of what?
portion(1, ? g/unit, 1 g/unit, ?, 1 g/unit) = ? g/unit   | nobody said how much
portion_measure(1, 2) = 1                                | as typed with the units
portion_measure(?, 2) = 2                                | as the net weight
unit_amount(3, ? ea/unit, ?) = 1 ea/unit                 | a piece is a piece
unit_amount(1, 250 g/unit, 1) = 250 g/unit               | made by weight
unit_amount(2, 250 ml/unit, 0.92 g/ml) = 230 g/unit      | 250 ml at 0.92 g each
unit_amount(2, 250 ml/unit, ?) = ? ml/unit               | no way from one kind to the other
units_per_pack(3, ?, 6, ?, 1 unit/pack, 1) = 6 unit/pack | six pieces
units_per_pack(3, 3, 1, 12, 1 unit/pack, 1) = 12 unit/pack | 1 dozen
units_per_pack(3, 3, 6, 1, 2 unit/pack, 1) = 12 unit/pack | 2 x 6
units_per_pack(3, 1, 250, 1, 1 unit/pack, 1) = ? unit/pack | 250 g of pieces
units_per_pack(3, ?, 0, ?, 1 unit/pack, 1) = ? unit/pack | blank
units_per_pack(1, 1, 250, 1, 1 unit/pack, 250) = 1 unit/pack | one portion of 250 g
units_per_pack(1, 1, 0.5, 1, 1 unit/pack, 0.5) = 1 unit/pack | half a gram of saffron
units_per_pack(1, 1, 150, 1, 6 unit/pack, 250) = 6 unit/pack | 6 x 150 g
units_per_pack(1, ?, 6, ?, 1 unit/pack, ?) = ? unit/pack | how much isn't known
units_started(24 unit, 1 ea/unit, 1 ea/unit) = 24 unit   | pieces
units_started(2400 unit, 1 g/unit, 250 g/unit) = 9.6 unit | 2400 g over 250 g
units_started(2.4 unit, 1000 g/unit, 250 g/unit) = 9.6 unit | 2.4 kg over 250 g
units_good(3600 g, 150 g/unit) = 24 unit                 | 3600 g over 150 g
agreed_units(9.6 unit, 0 unit) = 9.6 unit                | the first product
agreed_units(9.6 unit, 9.6 unit) = 9.6 unit              | another of the same amount
agreed_units(4.8 unit, 9.6 unit) = -1 unit               | half of it and all of it
agreed_units(9.6 unit, 4.8 unit) = -1 unit               | all of it and half of it
agreed_units(1000000 unit, 1000001 unit) = -1 unit       | a millionth more is another amount
agreed_units(1000001 unit, 1000000 unit) = -1 unit       | or less
agreed_units(1000000 unit, 1000001.5 unit) = -1 unit     | and what is between one millionth and two
agreed_units(1000001.5 unit, 1000000 unit) = -1 unit     | likewise
agreed_units(9.6 unit, -1 unit) = -1 unit                | two before it differ
agreed_units(? unit, 9.6 unit) = 9.6 unit                | one that isn't known
units_sold(22 unit, 1) = ? unit                          | nothing is sold
units_sold(22 unit, 0.05) = 20.9 unit                    | 95 % of 22
packs_made(22 unit, 6 unit/pack) = 11/3 pack             | part packs count as parts
packs_sold(0 unit, 6 unit/pack) = ? pack                 | nothing is sold
packs_sold(20.9 unit, 6 unit/pack) = 20.9/6 pack         | the same of those sold
packs_sold(0.5 unit, 1 unit/pack) = 0.5 pack             | half a unit
times_used('unit', 24, 11/3) = 24                        | by every unit started
times_used('pack', 24, 11/3) = 11/3                      | by every pack made
times_used('batch', 24, 11/3) = 1                        | once
times_used('', 24, 11/3) = ?                             | no word
package_as_bought(30 cm, 1, 24, 0.05) = 756 cm           | 30 × 24 × 1.05
amount_for_a_batch(14, 48, 0.05) = 705.6                   | 14 in of film × 48 rolls × 1.05
package_as_bought(30 cm, 20 cm, 24, 0) = 14400 cm*cm    | 30 cm of a roll of 20 cm, 24 times
ingredients(22.4 money, 20 pack) = 1.12 money/pack       | 22.40 over 20
packaging(3 money, 20 pack) = 0.15 money/pack            | 3.00 over 20
labour(33.3 money, 6.7 money, 20 pack) = 2 money/pack    | 40.00 over 20
kitchen_minutes(96 minute, 10 minute, 30 minute) = 120 minute | 106 minutes are four half-hours
kitchen_minutes(60.0000000001 minute, 0 minute, 30 minute) = 60 minute | noise is no third half-hour
kitchen_minutes(96 minute, 10 minute, 0 minute) = 106 minute | by the minute
kitchen_batch(18 money/hour, 120 minute) = 36 money      | two hours
kitchen(36 money, 20 pack) = 1.8 money/pack              | 36.00 over 20
overhead(7.9 money, 20 pack) = 0.395 money/pack          | 7.90 over 20
made(1.12 money/pack, 0.15 money/pack, 2 money/pack, 1.8 money/pack, 0.395 money/pack) = 5.465 money/pack | added up
travel_per_day(24 mile/day, 0.7 money/mile) = 16.8 money/day | 24 × 0.70
market_day_overheads('stall', 4 money/day) = 4 money/day | a stall bears them
market_day_overheads('wholesale', 4 money/day) = 0 money/day | a café does not
market_day_overheads('', 4 money/day) = ? money/day      | no kind
hours_if_blank('stall') = ?                              | nobody stands at a stall for no time
hours_if_blank('wholesale') = 0                          | a café may be delivered to in passing
hours_if_blank('commission') = 0                         | and so may a shop
hours_if_blank('') = ?                                   | no kind
own_pay_per_day(6 hour/day, 15 money/hour, 0.1) = 99 money/day | 90.00 × 1.1
day_costs_without_pay(35 money/day, 16.8 money/day, 5 money/day, 4 money/day) = 60.8 money/day | added up
day_costs(60.8 money/day, 99 money/day) = 159.8 money/day | 60.80 + 99.00
day_costs_per_unit(159.8 money/day, 80 unit/day) = 1.9975 money/unit | 159.80 over 80
card_share_if_blank(0, 0) = 0                      | no fee, no matter how many pay by card
card_share_if_blank(0.026, 0) = ?                  | a fee of nobody knows how many sales
card_share_if_blank(0, 0.1) = ?                    | a fixed fee likewise
commission_if_blank('stall') = 0                         | a stall takes none
commission_if_blank('wholesale') = 0                     | nor does a café
commission_if_blank('commission') = ?                    | asked
commission_if_blank('') = ?                              | no kind
card_fixed_per_unit(0.6, 0.1 money, 3 unit) = 0.02 money/unit | 0.06 over 3
selling_per_unit(1.9975 money/unit, 0.02 money/unit) = 2.0175 money/unit | added up
selling_per_unit_known(35 money/day, ? money/day, 5 money/day, 4 money/day, 36 money/day, 80 unit/day, 0.02 money/unit) = 1.02 money/unit | 80.00 over 80, and 0.02
selling_per_unit_known(? money/day, 0 money/day, 5 money/day, 4 money/day, 36 money/day, 80 unit/day, 0.02 money/unit) = 0.5825 money/unit | 45.00 over 80, and 0.02
selling_per_unit_known(35 money/day, 0 money/day, 5 money/day, 4 money/day, 36 money/day, 1 unit/day, 0.02 money/unit) = 80.02 money/unit | one unit bears the whole day
selling_per_unit_known(35 money/day, 0 money/day, 5 money/day, 4 money/day, 36 money/day, 80 unit/day, ? money/unit) = 1 money/unit | the fixed card fee isn't known
selling_per_unit_known(35 money/day, 0 money/day, 5 money/day, 4 money/day, 36 money/day, ? unit/day, 0.02 money/unit) = 0.02 money/unit | a day that nobody can share out
tax_here('wholesale', 0.05) = 0                          | a café's price bears none
tax_here('stall', 0.05) = 0.05                           | a stall's does
tax_here('', 0.05) = ?                                   | no kind
tax_in_price('yes', 0.05) = 0.05                         | inside the price
tax_in_price('no', 0.05) = 0                             | on top of it
tax_in_price('', 0.05) = ?                               | neither
card_part(0.5, 0.02) = 0.01                              | half of 2 %
fee_share(0.1, 0.01, 0.05) = 0.1105                      | 10 % + 1 % of 105 %
selling(2.0175 money/unit, 6 unit/pack) = 12.105 money/pack | six units
total(5.465 money/pack, 12.105 money/pack) = 17.57 money/pack | 5.465 + 12.105
known_cost(1 money/pack, 0.1 money/pack, 1.5 money/pack, ? money/pack, 0.4 money/pack, 2 money/pack) = 5 money/pack | the kitchen is left out
room(0.35, 0.1105) = 0.5395                              | 1 - 0.35 - 0.1105
price_before_tax(2.10 money/pack, 0.35) = 6 money/pack   | 2.10 at a margin of 65 % is 6.00
price_before_tax(2.10 money/pack, 0) = ? money/pack      | nothing is left for the cost
price_before_tax(2.10 money/pack, -0.1) = ? money/pack   | less than nothing
price_at_target(6 money/pack, 0.05) = 6.3 money/pack     | 6.00 × 1.05
price_on_step(6.31 money/pack, 0.25 money/pack) = 6.5 money/pack | up to the next quarter
price_on_step(6.0000000004 money/pack, 0.25 money/pack) = 6 money/pack | noise moves no price
price_on_step(6.01 money/pack, 0.05 money/pack) = 6.05 money/pack | up to the next five cents
step_before_tax(6.3 money/pack, 0.05) = 6 money/pack     | 6.30 ÷ 1.05
step_fees(6 money/pack, 0.1) = 0.6 money/pack            | a tenth
step_all_cost(2.4 money/pack, 0.6 money/pack) = 3 money/pack | 2.40 + 0.60
step_profit(6 money/pack, 3 money/pack) = 3 money/pack   | 6.00 - 3.00
step_margin(3 money/pack, 6 money/pack) = 0.5            | half of the price
step_markup(3 money/pack, 3 money/pack) = 1              | as much again as the cost
price_now('wholesale', 6 money/pack, 4 money/pack) = 4 money/pack | a café's own price
price_now('stall', 6 money/pack, 4 money/pack) = 6 money/pack | the stall's
price_now('wholesale', 6 money/pack, ? money/pack) = ? money/pack | no wholesale price yet
now_before_tax(5.25 money/pack, 0.05) = 5 money/pack     | 5.25 ÷ 1.05
now_all_cost(2.4 money/pack, 5 money/pack, 0.1) = 2.9 money/pack | 2.40 + 0.50
now_profit(5 money/pack, 2.9 money/pack) = 2.1 money/pack | 5.00 - 2.90
now_margin(2.1 money/pack, 5 money/pack) = 0.42          | 2.10 ÷ 5.00
now_markup(2.1 money/pack, 2.9 money/pack) = 21/29       | 2.10 ÷ 2.90
counted_price(5 money/pack, 6 money/pack) = 5 money/pack | the price now
counted_price(? money/pack, 6 money/pack) = 6 money/pack | else the one on the step
contribution_per_unit(30 money/pack, 0.1, 15 money/pack, 6 unit/pack, 0.02 money/unit) = 1.98 money/unit | (27 - 15) ÷ 6 - 0.02
break_even(159.8 money/day, 2 money/unit) = 80 unit/day  | 79.9 up to a whole unit
break_even(160 money/day, 2 money/unit) = 80 unit/day    | to the unit
break_even(146 money/day, 0.5 money/unit) = 292 unit/day  | each leaves half of one
break_even(159.8 money/day, -0.1 money/unit) = ? unit/day | a unit that leaves nothing
break_even_without_pay(60.8 money/day, 2 money/unit) = 31 unit/day | 30.4 up
break_even_without_pay(60.8 money/day, 0.5 money/unit) = 122 unit/day | 121.6 up
break_even_without_pay(60.8 money/day, -2 money/unit) = ? unit/day | each unit loses
in_mix(2) = 1                                            | known
in_mix(?) = 0                                            | not known
packs_per_unit(6 unit/pack) = 1/6 pack/unit              | a sixth of a six
mix_contribution(3.8 money/unit, 2, 2) = 1.9 money/unit  | 2.00 and 1.80
mix_contribution(2 money/unit, 1, 2) = ? money/unit      | the other isn't known
mix_packs_per_unit(7/6 pack/unit, 2) = 7/12 pack/unit    | a single and a six
break_even_packs(146 money/day, 0.95 money/unit, 7/12 pack/unit) = 90 pack/day | 153.68… units: 89.6…, up
break_even_packs(14 money/day, 0.5 money/unit, 1 pack/unit) = 28 pack/day | singles
break_even_packs(146 money/day, -1 money/unit, 7/12 pack/unit) = ? pack/day | each unit loses
shelf_price(3 money/pack, 0.4) = 5 money/pack            | 3.00 ÷ 0.6, before tax
shelf_price(3 money/pack, 1) = ? money/pack              | a margin of all of it
shelf_price(3 money/pack, 1.2) = ? money/pack            | nor one of more than all
shelf_price_with_tax(5 money/pack, 0.05) = 5.25 money/pack | 5.00 × 1.05
advice(6 money/pack, 5.5 money/pack, 'your work') = 'raise at least to this' | too low already
advice(6 money/pack, 6.5 money/pack, 'your work') = 'at least this' | whether it is enough isn't known
advice(6 money/pack, ? money/pack, 'your work') = 'at least this' | no price yet
advice(? money/pack, 6 money/pack, 'your work') = 'not known yet' | no answer yet
advice(6 money/pack, 5.5 money/pack, '') = 'raise'           | too low
advice(6 money/pack, 2 money/pack, '') = 'check first'      | three times as much: a slip?
advice(1.6 money/pack, 0.5 money/pack, '') = 'check first'  | however cheap it is
advice(6 money/pack, 2 money/pack, 'your work') = 'check first' | and so where a part isn't counted
advice(6 money/pack, 2.01 money/pack, '') = 'raise'         | not quite three times
advice(6 money/pack, 0 money/pack, '') = 'raise'            | given away: nothing to compare with
advice(6 money/pack, 6 money/pack, '') = 'hold'              | as it should be
advice(6 money/pack, 6.5 money/pack, '') = 'above target'    | more than asked
advice(6 money/pack, ? money/pack, '') = 'charge this'       | no price yet
advice(? money/pack, 6 money/pack, '') = 'not known yet'     | no answer yet
short_by(8 money/pack, 6.5 money/pack, 3) = 0.187499997 | 1.50 of 8.00, in the third row
short_by(6 money/pack, 6 money/pack, 1) = 0 | just enough
short_by(6 money/pack, 7 money/pack, 1) = 0 | above it
short_by(6 money/pack, ? money/pack, 1) = ? | no price yet
short_by(? money/pack, 7 money/pack, 1) = ? | nothing to compare with
ladder_price(6 money/pack, -2, 0.25 money/pack) = 5.5 money/pack | two steps down
ladder_price(0.5 money/pack, -2, 0.25 money/pack) = ? money/pack | no price is nothing
ladder_price(1 money/pack, -1, 0.25 money/pack) = 0.75 money/pack | below one, and not nothing
ladder_profit(6.3 money/pack, 0.05, 0.1, 2.4 money/pack) = 3 money/pack | 6.00 × 0.9 - 2.40
of_used_batch(120 g, 0.25) = 30 g                         | a quarter of 120 g
of_batches(120 g, 2) = 240 g                             | two batches
of_a_batch(2 money/pack, 20 pack) = 40 money             | 20 packs of 2.00
per_pack(40 money, 20 pack) = 2 money/pack               | 40.00 over 20
allowance_cost(20 money, 0.02) = 0.4 money               | 2 % of 20.00
share_of(1.2 money/pack, 4.8 money/pack) = 1/4           | 1.20 of 4.80
need_through(1/4, 400 g) = 100 g                         | a quarter of 400 g
batch_need(500 g, 0.02, 100 g) = 610 g                   | 500 × 1.02 + 100
batch_take(610 g, 40 g) = 650 g                          | in the recipe and around it
pack_need(610 g, 0 g, 20 pack) = 30.5 g/pack             | 610 over 20
pack_need(610 g, 30 g, 20 pack) = 32 g/pack              | 640 over 20
need_cost(30.5 g/pack, 0.01 money/g) = 0.305 money/pack  | 30.5 × 0.01
need_moved(30.5 g/pack, 0.012 money/g, 0.01 money/g) = 0.061 money/pack | 30.5 × 0.002
moved_since(46000) = 45972                               | 28 days back
cost_then(17.57 money/pack, 0.57 money/pack) = 17 money/pack | 17.57 - 0.57
moved_share(0.57 money/pack, 17.1 money/pack) = 1/30     | 0.57 of 17.10
moved_share(0.57 money/pack, 0.5 money/pack) = 1.14      | of less than one
moved_share(0.57 money/pack, 0 money/pack) = ?           | of nothing
moved_share(0.57 money/pack, -1 money/pack) = ?          | of less than nothing
moved_share_known(0.5 money/pack, 3 money/pack) = 0.2    | 0.50 of 2.50
moved_share_known(0.5 money/pack, 0.9 money/pack) = 1.25 | of 0.40
moved_share_known(0.5 money/pack, 0.5 money/pack) = ?    | of nothing that is known
moved_share_known(0.5 money/pack, 0.4 money/pack) = ?    | nor of less
move_order(0.0334) = 33400000                            | in billionths
move_order(-0.02) = -20000000                            | what fell
ranked(6 unit/pack, 1 unit/pack) = 0                     | a six of a roll
ranked(1 unit/pack, 1 unit/pack) = 1                     | the same number, otherwise packed
ranked(0.25 unit/pack, 0.5 unit/pack) = 0                | a quarter of what the first is half of
ranked(1 unit/pack, 0 unit/pack) = 1                     | the first of its recipe
ranked(? unit/pack, 1 unit/pack) = 1                     | how many isn't known
ranked(6 unit/pack, ? unit/pack) = 1                     | nor of the first
move_order(0.0000000015) = 2                             | the nearest one
move_order(?) = -1000000000000000                        | below all that is known
move_rank(2) = 3                                   | after two that rose more
restoring_price(6.5 money/pack, 5.2 money/pack, 4 money/pack, 0.25 money/pack) = 8.5 money/pack | 1.3 × 6.50 is 8.45: up to the quarter
restoring_price(6.49 money/pack, 4 money/pack, 4 money/pack, 0.25 money/pack) = 6.49 money/pack | nothing moved
restoring_price(6 money/pack, 3 money/pack, 0.5 money/pack, 0.25 money/pack) = 36 money/pack | six times
restoring_price(6 money/pack, 3 money/pack, 0 money/pack, 0.25 money/pack) = ? money/pack | a cost of nothing then
restoring_price(6 money/pack, 0 money/pack, 0 money/pack, 0.25 money/pack) = ? money/pack | nothing then and nothing now: no share to go by
difference(5.2 money/pack, 5 money/pack) = 0.2 money/pack | 5.20 - 5.00
packs_that_pay(0.25 money/pack, 20 pack, 2.1 money/pack) = 3 pack | 5.00 more a batch, 2.10 a pack: 2.4 up
packs_that_pay(0.25 money/pack, 20 pack, 0.5 money/pack) = 10 pack | 5.00 at 0.50 a pack
packs_that_pay(0 money/pack, 20 pack, 2.1 money/pack) = ? pack | nothing moved
packs_that_pay(0.25 money/pack, 20 pack, -1 money/pack) = ? pack | a pack that pays for nothing
pack_in_its_unit(6, 500) = 3000                          | a case of six, in grams as typed
trial_doubt(5 money, 108 money) = 'far off' | the price of a pound, for a case of 36
trial_doubt(15.01 money, 10 money) = 'far off' | half as much again, and a cent
trial_doubt(15 money, 10 money) = ''                     | half as much again
trial_doubt(5 money, 10 money) = ''                      | half of it
trial_doubt(4.99 money, 10 money) = 'far off' | and a cent less
trial_doubt(? money, 10 money) = ''                      | nothing tried
trial_doubt(5 money, ? money) = ''                       | nothing to compare with
slack_to_target(5 money/pack, 0.5 , 2.4 money/pack) = 0.1 money/pack | 2.50 - 2.40
slack_to_zero(5 money/pack, 0.1, 2.4 money/pack) = 2.1 money/pack | 4.50 - 2.40
whole_pack(6, 500 g) = 3000 g                            | a case of six
beside_price(1 money, 0 money, 2) = 0.5 money            | 1.00 over 2
beside_price(1 money, -0.5 money, 2) = 0.25 money        | 0.50 over 2
turning_at_target(0.6 money/pack, 2 ea/pack, 0.3 money/ea, 18 ea, 0.5 money) = 10.3 money | 30 cents a piece more: 0.60 × 18 = 10.80, less 0.50
turning_at_target(-0.56 money/pack, 2 ea/pack, 0.3 money/ea, 18 ea, 0.5 money) = ? money | 2 cents a piece: 0.36, less than the 0.50 beside it
turning_at_target(-0.54 money/pack, 2 ea/pack, 0.3 money/ea, 18 ea, 0.54 money) = ? money | 3 cents a piece: 0.54, so nothing is left for the pack
turning_at_target(-9 money/pack, 2 ea/pack, 0.3 money/ea, 18 ea, 0.5 money) = ? money | no price is low enough
turning_at_zero(1 money/pack, 2 ea/pack, 0.3 money/ea, 18 ea, 0.5 money) = 13.9 money | 50 cents a piece more: 0.80 × 18 = 14.40, less 0.50
line_total(2, 5.38 money, 1.24 money) = 12 money         | 10.76 + 1.24
yearly_charge(60 money/year, 8 money, 5 /year) = 100 money/year | 60 + 5 trips of 8
need_in_a_year(50 g/week, 0.01 money/g) = 26 money/year  | 2600 g
spent_scaled(400 money/year, 46072, 46000) = 2000 money/year | 73 days are a fifth of a year
spent_scaled(400 money/year, 46364, 46000) = 400 money/year  | 365 days are all of it
spent_scaled(400 money/year, 46900, 46000) = 400 money/year  | what counts is of one year anyway
spent_scaled(28 money/year, 46027, 46000) = 365 money/year   | 28 days, 1.00 each
spent_scaled(28 money/year, 46026, 46000) = ? money/year     | 27 days are too few
bought_in_a_year(500 money/year, 2000 money/year) = 500 money/year | what the batches need
bought_in_a_year(0.5 money/year, 2000 money/year) = 0.5 money/year | however little
bought_in_a_year(500 money/year, ? money/year) = 500 money/year | too few receipts, and no need of them
bought_in_a_year(0 money/year, 2000 money/year) = 2000 money/year | no need known: as spent
bought_in_a_year(0 money/year, ? money/year) = ? money/year | neither
yearly_share(100 money/year, 2000 money/year) = 0.05     | 100 of 2000
yearly_share(100 money/year, 0.5 money/year) = 200       | 100 of 0.50
yearly_share(100 money/year, 0 money/year) = ?           | nothing bought, and no need known
yearly_share(100 money/year, -5 money/year) = ?          | more sent back than bought
supplier_share(0.05, 0) = 0.05         | on what is paid there
supplier_share(0.05, 0.5) = 0          | on the need instead
supplier_share(0.05, 2000) = 0         | likewise
need_share(0.05, 2000) = 0.05          | on the need
need_share(0.05, 0.5) = 0.05           | however little
need_share(0.05, 0) = 0                | on what is paid there
need_part(0.05, 0.01 money/g, 2000 g) = 1 money          | 5 % of 20.00
taken_off_line(-3 money, 4600000012, 4600000012) = -3 money | the day's last line
taken_off_line(-3 money, 4600000011, 4600000012) = 0 money | the one before it
pack_held(6, 500, 1 g) = 3000 g                          | a case of six
pack_held(1, 12, 28.349523125 g) = 340.1942775 g         | 12 oz
row_of_pack(4600000012) = 12                             | what is left after the day
row_of_pack(0) = ?                                       | bought no more
other_cost_per_pack(3 money, 2) = 1.5 money              | 3.00 over 2
pack_cost(9 money, 1.5 money, 0.05, 0 money) = 11.025 money | 10.50 × 1.05
pack_cost(9 money, 1.5 money, 0, 2 money) = 12.5 money   | 10.50 and 2.00
pack_cost(0.5 money, 0 money, 0, 0 money) = 0.5 money    | less than one
pack_cost(9 money, -9 money, 0, 2 money) = ? money       | nothing was paid
compared_price(12 money, 3000 g, 1) = 0.004 money/g      | 12.00 for 3000 g
compared_price(12 money, 60 ea, 1/50 ea/g) = 0.004 money/g | 20 cents a piece of 50 g
compared_ready(0.004 money/g, 0.8) = 0.005 money/g       | 0.004 ÷ 0.8
pack_in_units_of_now(60 ea, 1/50 ea/g) = 3000 g          | 60 pieces of 50 g
weekly_units(80 unit/day, 46) = 80*46/52 unit/week       | 46 days over 52 weeks
unit_need(300 g/pack, 6 unit/pack) = 50 g/unit           | a sixth
units_of_each(60 unit/week, 3) = 20 unit/week            | three products share sixty
week_need(40 g/unit, 70 unit/week) = 2800 g/week         | 40 g a unit, 70 units
made_per_week(1200 g, 3, 130 /year) = 1000 g/week        | 400 g a batch on average, 2.5 batches
use_per_week(500 g/week, 1000 g/week, 2800 g/week) = 500 g/week | as typed
use_per_week(? g/week, 1000 g/week, 2800 g/week) = 1000 g/week | as the batches take
use_per_week(? g/week, ? g/week, 2800 g/week) = 2800 g/week | as is sold
typed_use(0.5, 1000 g/week, 1) = 500 g/week              | half a kilogram
typed_use(3, 1 ea/week, 57 g/ea) = 171 g/week            | three eggs of 57 g
taken_at_once(1200 g, 3) = 400 g                         | three products take 1200 g between them
taken_at_once(400 g, 1) = 400 g                          | all that one takes
taken_at_once(0 g, 0) = ? g                              | no batch takes any
takes(650) = 1                                         | a batch of it takes some
takes(0.5) = 1                                         | however little
takes(0) = 0                                           | and one takes none
batches_kept(14 day, 500 g/week, 100 g) = 10             | 5 batches a week, and two weeks
batches_kept(6 day, 500 g/week, 500 g) = 0               | one a week, and it keeps six days
batches_kept(7 day, 500 g/week, 500 g) = 1               | until the next one
batches_kept(0.5 day, 700 g/week, 25 g) = 2              | 28 a week, four a day, two in half a day
batches_kept(14 day, 1 g/week, 1 g) = 2                  | however little it is
batches_kept(13.9999895 day, 500 g/week, 500 g) = 1      | 1.9999985 is more than a millionth short of 2
batches_kept(0 day, 500 g/week, 500 g) = ?               | no days were said
batches_kept(7 day, 0 g/week, 500 g) = ?                 | nothing is used, as far as is known
usable_in_time(500 g/week, 14 day, 400 g, 2, 1) = 1200 g    | a batch at once, and two more
usable_in_time(500 g/week, 2 day, 4000 g, 0, 1) = 4000 g    | a batch takes 4 kg at once, and keeps for no other
usable_in_time(500 g/week, 14 day, 400 g, 2, 0.5) = 600 g | half is trimmed away
usable_in_time(500 g/week, 2 day, 400 g, ?, 1) = 400 g   | a batch at once; nobody said when the next one is
usable_in_time(500 g/week, 14 day, 400 g, ?, 1) = 1000 g | nor here: two weeks use 1000 g
usable_in_time(500 g/week, 14 day, ? g, ?, 1) = 1000 g      | no batch known
usable_in_time(0.5 g/week, 14 day, ? g, ?, 1) = 1 g         | however little
usable_in_time(500 g/week, 0.5 day, ? g, ?, 1) = 250/7 g    | half a day
usable_in_time(0 g/week, 14 day, 400 g, ?, 1) = ? g         | nothing is used, as far as is known
usable_in_time(500 g/week, 0 day, 400 g, ?, 1) = ? g        | no days were said
usable_in_time(500 g/week, ? day, 400 g, ?, 1) = ? g        | nobody said how long it keeps
taken_ready(400 g, 0.5) = 200 g                          | half is trimmed away
pack_ready(500 g, 0.9) = 450 g                           | a tenth is trimmed away
used_part(1000 g, 2000 g, 1) = 0.5                       | half of a pack
used_part(1000 g, 500 g, 4) = 0.5                        | half of the least order
used_part(1000 g, 800 g, 1) = 1                          | all of a smaller one
used_part(0.5 g, 2 g, 1) = 0.25                          | a quarter
used_part(? g, 2000 g, 1) = 1                            | nobody said how long it keeps
used_part(1000 g, ? g, 1) = 1                            | what it holds isn't known
order_used(1, 0, 4000 g, 3000 g, 1, 0) = 2/3             | two whole packs for 4 kg: 2 kg are left, and spoil
order_used(0.8, 0, 4000 g, 5000 g, 1, 0) = 0.8           | 4 kg of one of 5 kg
order_used(1, 0, 4000 g, 1000 g, 8, 0) = 0.5             | eight at least
order_used(1, 0, 4000 g, 3000 g, 1, 1) = 1               | cut to weight: 4 kg
order_used(1, 1, 4000 g, 3000 g, 1, 0) = 1               | it keeps for the next batch
order_used(0.5, ?, ? g, 3000 g, 1, 0) = 0.5              | no batch known
used_price(0.005 money/g, 0.5) = 0.01 money/g            | half thrown away costs double
overtaken(4601400002, 46000) = 1                         | a receipt of 14 days later
overtaken(4600100002, 46000) = 1                         | of the next day
overtaken(4600000099, 46000) = 0                         | of the same day
overtaken(4600000002, ?) = 0                             | nobody said of which day it is
overtaken(0, 46000) = 0                                  | nothing was bought there
standing_ready(0.005 money/g, 0) = 0.005 money/g         | it stands
standing_ready(0.005 money/g, 1) = ? money/g             | it doesn't
standing_price(0.01 money/g, 0) = 0.01 money/g           | it stands
standing_price(0.01 money/g, 1) = ? money/g              | it doesn't
cash_tied_up(9 money, 1.5 money, 4) = 42 money           | four packs of 10.50
cheapest_smaller(0.006 money/g, 0.005 money/g) = 0.005 money/g | the one seen
cheapest_smaller(0.006 money/g, 0.007 money/g) = 0.006 money/g | the one bought
cheapest_smaller(0 money/g, 0.005 money/g) = 0.005 money/g | only seen
cheapest_smaller(0.006 money/g, 0 money/g) = 0.006 money/g | only bought
cheapest_smaller(0 money/g, 0 money/g) = ? money/g       | there is none
break_even_spoilage(0.004 money/g, 0.005 money/g) = 0.2  | 80 % of it may not cost more
break_even_spoilage(0.006 money/g, 0.005 money/g) = ?    | the smaller is cheaper anyway
break_even_spoilage(0.005 money/g, 0.005 money/g) = ?    | as dear
break_even_spoilage(0 money/g, 0.005 money/g) = ?        | a pack that cost nothing
break_even_spoilage(-0.001 money/g, 0.005 money/g) = ?   | or less
left_out('kflour', ?, 1, 1, 5, 0, 0, ?) = 1              | a receipt without a size
left_out('kflour', ?, 1, 1, 5, 0, 1, ?) = 0              | counted as yet to be read
left_out('kflour', 18, 1, 1, 5, 0, 0, 4600000012) = 0    | a whole one
left_out('kflour', 18, 1, 1, 5, ?, 0, 4600000012) = 1    | what came on top can't be read
left_out('kflour', 18, ?, 1, 5, 0, 0, 4600000012) = 1    | nor the count in the case
left_out('kflour', 18, 1, ?, 5, 0, 0, ?) = 1             | nor how many were bought
left_out('k', ?, 1, 1, 5, 0, 0, ?) = 0                   | no item, no receipt
left_out('kflour', ?, 1, 1, -3, 0, 0, ?) = 0             | a discount
left_out('kflour', ?, 1, -1, 5, 0, 0, ?) = 0             | a return
left_out('kflour', ?, 1, 0, 5, 0, 0, ?) = 0              | nothing was bought
left_out('kflour', ?, 1, 1, 0, 0, 0, ?) = 0              | a gift
left_out('kflour', ?, 1, 1, 0.5, 0, 0, ?) = 1            | half a dollar is a price
left_out('kflour', ?, 1, 1, 5, 0, 0, 4600000012) = 1     | no size, whatever its rank
left_out('kflour', 18, 1, 1, ?, 0, 0, 4600000012) = 1    | no price that can be read
rows_changed(12, 10) = 2                                 | two added
rows_changed(9, 10) = 1                                  | one taken away
rows_changed(10, 10) = 0                                 | none
newly_left_out(3, 1) = 2                                 | two more than then
newly_left_out(2, 1) = 1                                 | one more
newly_left_out(0, 1) = 0                                 | put right
to_cost_again(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17) = 153 | added up
line_lacks(2 money, 'Leek', 1, 1 g, 0.01 money/g, 1, 1) = '' | it has its cost
line_lacks(? money, 'Leek', ?, 1 g, 0.01 money/g, 1, 1) = 'Leek (amount)' | no amount
line_lacks(? money, '', 1, 1 g, ? money/g, 1, 1) = 'a line (what it uses)' | Uses is blank
line_lacks(? money, 'Leek', 1, ? g, 0.01 money/g, 1, 1) = 'Leek (unit)' | no unit
line_lacks(? money, 'Leek', 1, 1 g, ? money/g, 1, 1) = 'Leek (price)' | no price
line_lacks(? money, 'Leek', 1, 1 g, 0.01 money/g, ?, ?) = 'Leek (what one weighs or covers)' | no bridge
line_lacks(? money, 'Leek', 1, 1 g, 0.01 money/g, 1, ?) = 'Leek (which piece)' | slices of a loaf
line_lacks(? money, 'Leek', 1, 1 g, 0.01 money/g, 1, 1) = 'Leek (how much)' | nothing else it can be
use_lacks(2 money, 'Dough', '', 1/4) = ''                | it has its cost
use_lacks(? money, 'Dough', 'Leek (price)', 1/4) = 'Leek (price)' | what the recipe lacks
use_lacks(? money, 'Dough', '', 1/4) = 'Dough'           | a circle
use_lacks(? money, 'Dough', '', ?) = 'Dough (how much of its batch)' | no share
stage_lacks(30.8 money, 'Fold') = ''                     | it has its pay
stage_lacks(? money, 'Fold') = 'Fold (minutes or pay)'   | it has not
recipe_lacks(22 money, 3, '', '') = ''                   | whole
recipe_lacks(? money, 3, 'Leek (price)', 'Dough') = 'Leek (price)' | its lines first
recipe_lacks(? money, 3, '', 'Dough') = 'Dough'          | then its uses
recipe_lacks(? money, 1, 'Eggs (price)', '') = 'Eggs (price)' | its only line
recipe_lacks(? money, 0, '', '') = 'lines of the recipe' | an empty recipe
first_lack(33.3 money, '', '') = ''                      | whole
first_lack(? money, 'Fold (minutes or pay)', 'Mix') = 'Fold (minutes or pay)' | its own stages first
first_lack(? money, '', 'Mix') = 'Mix'                   | then those of recipes used
first_lack(? money/pack, 'Fold', 'Label') = 'Fold'       | of a product's, the batch's first
made_lacks(20 pack, 1 money/pack, '', 1 money/pack, '', 1 money/pack, '', 1 money/pack, 1 money/pack) = '' | whole
made_lacks(20 pack, ? money/pack, 'Leek (price)', ? money/pack, 'Bag (price)', 1 money/pack, '', 1 money/pack, 1 money/pack) = 'Leek (price)' | the first in the order of the money
made_lacks(20 pack, 1 money/pack, '', ? money/pack, 'Bag (price)', 1 money/pack, '', 1 money/pack, 1 money/pack) = 'Bag (price)' | a package
made_lacks(20 pack, 1 money/pack, '', 1 money/pack, '', ? money/pack, 'Fold', 1 money/pack, 1 money/pack) = 'Fold' | work
made_lacks(20 pack, 1 money/pack, '', 1 money/pack, '', 1 money/pack, '', ? money/pack, 1 money/pack) = 'kitchen (minutes)' | the kitchen
made_lacks(20 pack, 1 money/pack, '', 1 money/pack, '', 1 money/pack, '', 1 money/pack, ? money/pack) = 'overheads (an amount, batches per year)' | overheads
made_lacks(? pack, 1 money/pack, '', 1 money/pack, '', 1 money/pack, '', 1 money/pack, 1 money/pack) = 'packs sold (makes, rejects, units per pack)' | nothing is sold
lacks_or_goes_without('', '') = ''                        | whole
lacks_or_goes_without('', 'your work') = 'without: your work' | the least to ask
lacks_or_goes_without('Leek (price)', 'your work') = 'Leek (price)' | no figure at all
price_lacks(5 money/pack, '', 2 money/pack, 0.05, 0.1, 0.35) = ''   | whole
price_lacks(? money/pack, 'Leek (price)', 2 money/pack, 0.05, 0.1, 0.35) = 'Leek (price)' | what making it lacks
price_lacks(5 money/pack, '', ? money/pack, 0.05, 0.1, 0.35) = 'selling (hours, pay, units sold per day, card share)' | selling
price_lacks(5 money/pack, '', 2 money/pack, ?, ?, 0.35) = 'sales tax' | the rate
price_lacks(5 money/pack, '', 2 money/pack, 0.05, ?, 0.35) = 'fees (commission, card share)' | fees
price_lacks(5 money/pack, '', 2 money/pack, 0.05, 0.1, ?) = 'target margin' | the aim
"""  # noqa: E501  # one case a line

RULE_BOOKS = {
    rules: TABLE,
    bench_rules: BENCH_TABLE,
    label_rules: LABEL_TABLE,
    session_rules: SESSION_TABLE,
    week_rules: WEEK_TABLE,
    year_rules: YEAR_CASES,
    astray_rules: CASES_OF_ROWS_ASTRAY,
    stock_rules: STOCK_CASES,
    measured_rules: MEASURED_CASES,
    buying_rules: BUYING_TABLE,
    own_work_rules: CASES_OF_OWN_WORK,
    market_days_rules: CASES_OF_MARKET_DAYS,
}
"""Each module of rules, with the cases of its rules."""

RULES: dict[str, Callable[..., Any]] = {
    name: found
    for book in RULE_BOOKS
    for name, found in vars(book).items()
    if inspect.isfunction(found) and found.__module__ == book.__name__ and name[0] != "_"
}


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its unit, a text, or something unknown (None)."""

    value: Fraction | str | None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Case:
    """One rule called once: its arguments in order, and what must come out."""

    text: str
    rule: str
    arguments: tuple[Figure, ...]
    result: Figure


_CALL = re.compile(r"(\w+)\((.*)\) = (.*?)\s*\| .+")
_PART = re.compile(r"'(?P<text>[^']*)'|(?P<number>[-\d./*]+|\?) ?(?P<unit>[\w/*]*)")


def _figure(text: str) -> Figure:
    found = _PART.fullmatch(text.strip())
    assert found, text
    if found["text"] is not None:
        return Figure(found["text"])
    value = None if found["number"] == "?" else _number(found["number"])
    unit = found["unit"]
    return Figure(value, f"1{unit}" if unit.startswith("/") else unit)


def _number(text: str) -> Fraction:
    """``80*46/52`` as one number."""
    above, _, below = text.partition("/")
    value = Fraction(1)
    for factor in above.split("*"):
        value *= Fraction(factor)
    return value / Fraction(below or 1)


def _case(line: str) -> Case:
    found = _CALL.fullmatch(line)
    assert found, f"not of the form name(arguments) = result | the sum: {line}"
    parts = re.findall(r"'[^']*'|[^,]+", found[2])
    arguments = tuple(_figure(part) for part in parts if part.strip())
    return Case(line, found[1], arguments, _figure(found[3]))


CASES = tuple(_case(line) for table in RULE_BOOKS.values() for line in table.strip().splitlines())
