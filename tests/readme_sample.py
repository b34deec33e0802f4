"""The sample in README.md, drawn from what `cost --json` really says of the main sample.

`python3 -m tests.readme_sample` writes it anew; a test holds it current.
"""

from __future__ import annotations

import re
import sys
import tempfile
from pathlib import Path
from typing import Any

from costbook.definitions.currencies import minor_unit, symbol
from costbook.definitions.parts import PARTS
from tests.helpers import priced, run

__all__ = ["drawn", "sample_now", "shown", "with_sample"]

README = Path(__file__).parent.parent / "README.md"
SAMPLE = Path(__file__).parent.parent / "sample_workbooks" / "market_stall.xlsx"
ON = "2026-11-20"
_BLOCK = re.compile(r"(?<=<!-- sample: begin -->\n).*?(?=<!-- sample: end -->)", re.DOTALL)

Answer = dict[str, Any]


def drawn(answer: Answer) -> str:
    """The prices at the first outlet, and where the money of the first product goes there."""
    money = Money(answer["currency"])
    return f"\n{table(answer, money)}\n{bars(answer['products'][0], money)}\n"


class Money:
    """Amounts as people write them; a dash for what isn't known."""

    def __init__(self, currency: str) -> None:
        self.sign, self.places = symbol(currency), minor_unit(currency)

    def __call__(self, amount: float | None) -> str:
        return "–" if amount is None else f"{self.sign}{amount:.{self.places}f}"


def share(part: float | None) -> str:
    return "–" if part is None else f"{part:.0%}".replace("%", " %")


def table(answer: Answer, money: Money) -> str:
    outlet = answer["products"][0]["outlet"]
    heads = (outlet, "Costs", "Charge", "Margin", "Markup", "Price now", "Margin now")
    rows = [
        (
            product["product"],
            money(product["cost"]["total"]),
            f"**{money(product['price']['on_step'])}**",
            share(product["at_step"]["margin"]),
            share(product["at_step"]["markup"]),
            money(product["price"]["current"]),
            share(product["at_current"]["margin"]),
        )
        for product in answer["products"]
        if product["outlet"] == outlet
    ]
    lines = [heads, ("---", *("--:",) * 6), *rows]
    return "".join(f"| {' | '.join(cells)} |\n" for cells in lines)


def bars(product: Answer, money: Money) -> str:
    """One bar a part of the price on the step, ten to a unit of money, and what is left."""
    cost, price, step = product["cost"], product["price"]["on_step"], product["at_step"]
    without_tax = step["profit"] / step["margin"]
    parts = {part.words: cost[part.name] for part in PARTS}
    parts["card fees"] = without_tax - cost["total"] - step["profit"]
    parts["sales tax"] = price - without_tax
    parts["left for the business"] = step["profit"]
    lines = [
        f"{words:<24}{money(amount):>6}  {'█' * round(amount * 10)}\n"
        for words, amount in parts.items()
    ]
    title = f"Where the {money(price)} for one {product['product']} goes, {product['outlet']}:"
    return f"{title}\n\n```text\n{''.join(lines)}```\n"


def shown(readme: str) -> str:
    """What README.md shows now."""
    found = _BLOCK.search(readme)
    if not found:
        raise ValueError("README.md has no block between sample: begin and sample: end")
    return found[0]


def with_sample(readme: str, sample: str) -> str:
    return _BLOCK.sub(lambda _: sample, readme)


def sample_now() -> str:
    """What the main sample gives now."""
    return f"\n{front()}{drawn(priced(SAMPLE, on=ON))}"


def front() -> str:
    """The lines of the front sheet, which `cost` prints first."""
    with tempfile.TemporaryDirectory() as folder:
        said = run("cost", SAMPLE, "--on", ON, "--output", Path(folder) / "out.xlsx")[1]
    return f"In short:\n\n```text\n{said.partition(chr(10) * 2)[0]}\n```\n"


def main() -> int:
    text = README.read_text(encoding="utf-8")
    README.write_text(with_sample(text, sample_now()), encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
