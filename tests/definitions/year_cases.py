"""The rules of the year by hand, in the form that ``rule_cases`` reads.

Day 46000 is one of December 2025. Sums are the writer's own; the order of the goods is that of IRS
Schedule C, part III (read in an archived Publication 334).
"""

__all__ = ["YEAR_CASES"]

YEAR_CASES = """
paid(9 money, 4.5, 0) = 9 money              | two at 4.50
paid(-2 money, ?, -2) = -2 money             | a discount has no price
paid(0 money, 0, 0) = 0 money                | a gift: 0 is typed
paid(0 money, ?, 0) = ? money                | no price is typed
paid(? money, 4.5, 0) = ? money              | how many can't be read
receipt_undated('kflour', 46000) = 0                             | it has its day
receipt_undated('kflour', ?) = 1                                 | it may be of any year
receipt_undated('k', ?) = 0                                      | an empty row
year_until(46000, 46022) = 46000                         | within the year
year_until(46023, 46022) = 46022                         | it is over
days_until(46000, 0, 0, 0) = 46000                       | all rows have a day
days_until(46000, 1, 0, 0) = ?                           | one of Market days has none
days_until(46000, 0, 1, 0) = ?                           | one of Sales is of no market day
days_until(46000, 0, 0, 1) = ?                           | one of Sales has no date
days_until(46000, 0, 1, 1) = ?                           | or one of each
month_until(46000, 46010) = 46000                        | a month that is over
month_until(46000, ?) = ?                                | while a row may be of it
bought_until(46000, 0) = 46000                           | all receipts have a date
bought_until(46000, 1) = ?                               | one has none
year_lacks(0, 0, 0, 0) = ''                              | nothing
year_lacks(1, 1, 1, 1) = 'a row on Market days has no date or no outlet' | the first is said
year_lacks(0, 1, 0, 1) = 'a row on Sales is of no market day' | then this
year_lacks(0, 0, 1, 0) = 'a row on Sales is of no market day' | one without a date is, too
year_lacks(0, 0, 0, 1) = 'a receipt has no date'         | then this
no_day(0) = 1                                            | none was held
no_day(1) = ?                                            | one was
no_day(?) = ?                                            | nobody knows
year_sales_tax(105 money, 100 money) = 5 money           | 105 - 100
days_not_known(12, 11) = 1                               | one has no takings
cap_left(6000 money, 4429 money) = 1571 money            | 6000 - 4429
cap_left(4000 money, 4429 money) = -429 money            | reached
cap_reached_on(100 money, 1000 money, 45901, 46000, 46022) = 46010 | 1000 in 100 days are 10 a day
cap_reached_on(95 money, 1000 money, 45901, 46000, 46022) = 46010 | on the tenth day
cap_reached_on(221 money, 1000 money, 45901, 46000, 46022) = ? | on the 23rd, after the year
cap_reached_on(220 money, 1000 money, 45901, 46000, 46022) = 46022 | on its last day
cap_reached_on(0 money, 1000 money, 45901, 46000, 46022) = ? | reached already
cap_reached_on(0.01 money, 1000 money, 45901, 46000, 46022) = 46001 | the next day
cap_reached_on(1 money, 1000 money, 45901, 46000, 46022) = 46001 | the same
cap_reached_on(100 money, 0 money, 45901, 46000, 46022) = ? | nothing was sold
bought_otherwise(100 money, 80 money) = 20 money         | 100 - 80
bought_for_sale(100 money, 15 money) = 85 money          | 100 - 15, Schedule C line 36
packs_at_cost(19 pack, 2 money/pack) = 38 money          | 19 at 2.00
packs_are_listed(0, ?, 0) = 0                  | never made nor counted
packs_are_listed(0, 46000, 0) = 1              | counted: none
packs_are_listed(0, ?, 5) = 1                  | made, and all of it is gone
packs_are_listed(2, ?, 2) = 1                  | some are there
packs_are_listed(?, ?, 0) = 1                  | nobody knows
item_is_listed(4600000002) = 1                           | counted
item_is_listed(0) = 0                                    | never
item_is_listed(0.5) = 1                                  | whatever the rank
counted_in_base(9, 1000 g) = 9000 g                | 9 kg
item_at_cost(4600000002, 9000 g, 0.0009 money/g, 1) = 8.1 money | 9 kg at 0.90
item_at_cost(4600000002, 0 g, ? money/g, ?) = 0 money | none is left, whatever it cost
item_at_cost(4600000002, 9000 g, ? money/g, 1) = ? money | never bought
item_at_cost(4600000002, 9000 g, 0.0009 money/g, ?) = ? money | bought by another measure
item_at_cost(4600000002, ? g, 0.0009 money/g, 1) = ? money | in nobody knows what
item_at_cost(0, ? g, 0.0009 money/g, ?) = 0 money  | never counted: no line of it
item_at_cost(0.5, 9000 g, 0.0009 money/g, 1) = 8.1 money | whatever the rank
stock_at_cost(38 money, 8.1 money, 2, 1, 0) = 46.1 money    | added up
count_astray('kbun', 46000, 1, 0) = 0                    | of a product
count_astray('kflour', 46000, 0, 1) = 0                  | of an item
count_astray('kbun', ?, 1, 0) = 1                        | nobody knows when
count_astray('kbum', 46000, 0, 0) = 1                    | nobody's name
count_astray('k', ?, 0, 0) = 0                           | an empty row
stock_at_cost(38 money, 8.1 money, 2, 1, 1) = ? money | a count is of nobody knows what
stock_at_cost(0 money, 0 money, 0, 0, 0) = ? money          | nothing was made or counted
stock_at_cost(0 money, 0 money, 1, 0, 0) = 0 money          | counted: none
stock_at_cost(0 money, 0 money, 0, 1, 0) = 0 money          | the same of an item
cost_of_goods(9000 money, 85 money, 8000 money) = 1085 money | lines 35 + 36 - 41
cost_of_goods(10000 money, 7500 money, 9000 money) = 8500 money | BCcampus, "Monthly Food Costs", example 25 (read)
year_overheads(360 money, 24 money) = 384 money          | insurance, and ice on eight days
year_fees(236 money, 52 money, 96 money) = 384 money     | added up
year_expenses(384 money, 88 money, 39.5 money, 384 money) = 895.5 money | added up
year_own_pay(100 hour, 15 money/hour) = 1500 money       | 100 hours at 15.00
"""  # noqa: E501  # one case a line
