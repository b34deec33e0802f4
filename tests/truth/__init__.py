"""Published values, each run through a workbook; the source and its status stand beside each.

- `test_worked_examples.py`: plates, batches and jars.
- `test_trimming.py`: yield, butcher and cooking tests, from what was weighed.
- `test_worked_prices.py`: prices, margins, markups, fees, tax and break-evens.
- `test_days_and_decisions.py`: `cost`, `day`, `compare`, `moved` and `try` on days and orders.
- `test_published_measures.py`: units, eggs and their prices, film and foil, spoons and cups.
- `test_usable_shares.py`: the shares, densities and weights that we offer.
- `test_trade_facts.py`: common practice, no source.

Some stand beside the tests of their area in `tests/deciding/` and `tests/stock/`: par stock (22 lb
to order), a label's order and its allergens, the day of the year in a batch code, the lines of a
tax form.

Published, and asking for what no command computes yet: a month's food cost from the stock at its
ends (10,000 + 7,500 - 9,000 = 8,500), and a label's rounding.
"""
