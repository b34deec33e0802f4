"""Mutation testing: does a quick test fail when a rule is changed?

`python3 -m tests.mutations [PATH ...]`, or `--list` to see the mutants only. See DEVELOPERS.md.
"""
