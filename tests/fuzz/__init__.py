"""Workbooks changed at random: whatever is in a file, the end is a result or a sentence.

`python3 -m tests.fuzz 10000` runs many; the tests run a few. The same number gives the same file.
"""
