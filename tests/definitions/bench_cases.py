"""The rules of a bench card worked by hand, in the form that ``rule_cases.py`` explains."""

__all__ = ["BENCH_TABLE"]

BENCH_TABLE = """
scaled_by_weight(900 g, 3.5, 0.05 g) = 3150 g            | 3150: in fives as it is
scaled_by_weight(123 g, 1.5, 0.05 g) = 185 g             | 184.5, in fives
scaled_by_weight(33 g, 1.25, 0.05 g) = 41 g              | 41.25, in ones
scaled_by_weight(1.21, 3, 0.05) = 3.65                   | 3.63 kg, in twentieths
scaled_by_weight(10.03 g, 1, 0.05 g) = 10 g               | in ones from 200 steps of its scale on
scaled_by_weight(0.02, 1.5, 0.05) = 0.03                 | less than a step
scaled_by_count(3, 1.25, 1/2) = 3.5                      | 3.75 eggs: as near to 3.5 as to 4
scaled_by_count(3, 1.5, 1/2) = 4.5                       | 4.5 eggs
scaled_by_count(1/4, 1.5, 1/4) = 1/4                     | 3/8 of a spoon: as near to 1/4 as to 1/2
scaled_by_count(1/8, 1.5, 1/4) = 3/16                    | less than a step
scaled_exactly(3, 1.25, 3.5) = 3.75                      | 0.25 off is more than a hundredth of 3.75
scaled_exactly(3, 1.5, 4.5) = ?                          | exact
scaled_exactly(123 g, 1.5, 185 g) = ? g                  | 0.5 off is less than 1.845
scaled_exactly(1.02, 1, 1.05) = 1.02                     | 0.03 too much is more than 0.0102
scaled_exactly(2, 0.51, 1) = 1.02                        | 0.02 too little is more than 0.0102
scaled_exactly(100 g, 1, 100.995 g) = ? g                | less than 1 off
scaled_exactly(100 g, 1, 99.005 g) = ? g                 | nor below it
grams_each(1200 g, 24 unit, 0.01 g/unit) = 50 g/unit     | 1200 ÷ 24
grams_each(4409 g, 70 unit, 0.01 g/unit) = 63 g/unit     | 62.99, to a gram from 50 g on
grams_each(2200 g, 120 unit, 0.01 g/unit) = 18.3 g/unit  | 18.33, to a tenth from 5 g on
grams_each(7 g, 24 unit, 0.01 g/unit) = 0.29 g/unit      | 0.2917, to a hundredth
"""
