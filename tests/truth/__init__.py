"""Published values, each run through a workbook; the source and its status stand beside each.

- `test_worked_examples.py`: plates, batches and jars.
- `test_trimming.py`: yield, butcher and cooking tests, from what was weighed.
- `test_worked_prices.py`: prices, margins, markups, fees, tax and break-evens.
- `test_days_and_decisions.py`: `cost`, `compare`, `moved` and `try` on days and orders.
- `test_published_measures.py`: units, eggs and their prices, film and foil, spoons and cups.
- `test_usable_shares.py`: the shares, densities and weights that we offer.
- `test_trade_facts.py`: common practice, no source.

Published, and asking for what no command computes yet: a month's food cost from the stock at its
ends (10,000 + 7,500 - 9,000 = 8,500), par stock (22 lb to order), four hours of preparation for
each hour of selling, the lines of a tax form, the day of the year in a batch code, a label's order,
its rounding and its allergens.
"""
