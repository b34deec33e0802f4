"""`labels`: a draft of each product's label, in words or as a list for a label printer."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from costbook.book import as_key, one_line
from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.labels import DRAFT, ORDER_AS_OF_RUN, DraftLabel, labels
from costbook.files import with_ending
from costbook.keeping.replacing import create, fingerprint_of, replace_safely
from costbook.near_names import offer
from costbook.printing import Output
from costbook.problems import Refused, Severity
from costbook.round_trip import file_if_any, read_and_cost
from costbook.writing.label_list import is_label_list, label_list

__all__ = ["draft_labels"]


def draft_labels(options: argparse.Namespace, output: Output) -> int:
    """Draft the label of every product, or of one, and write them for a label printer if asked."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    found = labels(costed.costing, options.code)
    if options.product is not None:
        found = (_the_label(options.product, found),)
    own = tuple(dict.fromkeys(each for label in found for each in label.problems))
    written = _write(options.csv, found, output) if options.csv is not None else []
    output.problems(options.file.name, own, len(costed.problems))
    output.answer(
        {
            "book": options.file.name,
            "labels": [label.as_data() for label in found],
            "order": ORDER_AS_OF_RUN,
            "draft": DRAFT,
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in (*own, *costed.problems)],
        }
    )
    for label in found:
        for line in (*label.in_words(), ""):
            output.text(line)
    for line in (*written, ORDER_AS_OF_RUN, f"{DRAFT}.", CAUTION):
        output.text(line)
    return max(costed.status, int(any(each.severity is Severity.WRONG for each in own)))


def _the_label(name: str, found: tuple[DraftLabel, ...]) -> DraftLabel:
    """The label of the product of that name. Raises Refused where there is none."""
    for label in found:
        if as_key(label.product) == as_key(name):
            return label
    names = [label.product for label in found]
    raise Refused(f'There is no product "{one_line(name)}".', offer(name, names))


def _write(named: Path, found: tuple[DraftLabel, ...], output: Output) -> list[str]:
    """Write the list for a label printer, over an earlier one of ours only; and say so.

    Raises Refused where a file of the person's own bears the name.
    """
    target, new = with_ending(named, ".csv"), label_list(found)
    there = file_if_any(target)
    if there is None or not is_label_list(there.content):
        create(target, new, output.wrote)
        return [f"Written: {target}, a row for each label.", ""]
    backup = replace_safely(target, new, fingerprint_of(there.content), date.today(), output.wrote)
    before = [f"{target.name} as it was: {backup}"] if backup else []
    return [f"Written: {target}, a row for each label.", *before, ""]
