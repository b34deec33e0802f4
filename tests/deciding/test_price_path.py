"""A published series of prices through the main sample, against fractions worked by hand."""

from __future__ import annotations

import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from costbook.deciding.price_path import price_path
from costbook.problems import Refused
from tests.deciding.asking import ON, SAMPLES, STALL, answered, asked
from tests.deciding.test_moved import ROLLS
from tests.helpers import run, save
from tests.samples.by_hand import market_fees, market_unit
from tests.samples.by_hand_made import small
from tests.samples.by_hand_packs import MADE, spinach_sold
from tests.samples.by_hand_prices import eggs as eggs_at_13_90_for_36
from tests.tables import close, sheets

EGGS = SAMPLES / "us_egg_prices_2022_2025.csv"
OF_A_DOZEN = ("--item", "Eggs, large", "--per", "dozen", "--series", EGGS)

Months = dict[str, dict[str, Any]]


def months_of(answer: dict[str, Any], product: str, outlet: str | None) -> Months:
    (found,) = (
        each["months"]
        for each in answer["series"]["products"]
        if (each["product"], each["outlet"]) == (product, outlet)
    )
    return {month["month"]: month for month in found}


@pytest.fixture(scope="module")
def path() -> dict[str, Any]:
    """BLS APU0000708111, US city average, grade A large, a dozen (read, public domain)."""
    return asked("try", STALL, "--on", ON, *OF_A_DOZEN)


# US city average of a dozen in two months (reference values, read)
DOZEN = {"2022-01": Fraction("1.929"), "2025-03": Fraction("6.227")}


@pytest.mark.parametrize("month", sorted(DOZEN))
def test_the_wrap_at_the_market_costs_and_leaves_what_a_hand_calculation_gives(
    path: dict[str, Any], month: str
) -> None:
    """Of a batch of 60 wraps: 72 eggs in the shell, and 500 g out of it; 57 g an egg, 88 % usable.

    All of it x the allowance, over the wraps sold. Everything else is the hand calculation beside
    the sample. At the market 6.25 has 5 % sales tax inside, and card fees come off.
    """
    wrap = months_of(path, "Spinach & egg wrap", "Saturday market")[month]
    _, *parts = MADE["Spinach & egg wrap"]
    eggs_a_batch = small * (72 + Fraction(500) / 57 / Fraction("0.88"))
    dearer = DOZEN[month] / 12 - eggs_at_13_90_for_36
    cost = sum(parts) + market_unit + eggs_a_batch / spinach_sold * dearer
    price = Fraction("6.25") / Fraction("1.05")
    close(wrap["price"], DOZEN[month])
    close(wrap["cost"], cost)
    close(wrap["margin"], (price * (1 - market_fees) - cost) / price)


def test_a_month_without_a_price_stays_without_one(path: dict[str, Any]) -> None:
    """The survey was not made in October 2025: a gap, and no zero."""
    wrap = months_of(path, "Spinach & egg wrap", "Saturday market")
    assert wrap["2025-10"] == {"month": "2025-10", "price": None, "cost": None, "margin": None}
    close(wrap["2025-11"]["price"], "2.860")
    known = [month for month, each in wrap.items() if each["margin"] is not None]
    assert [month for month in wrap if month not in known and wrap[month]["price"]] == []
    assert list(wrap) == sorted(wrap)


def test_every_product_that_takes_the_item_is_there_at_every_outlet(path: dict[str, Any]) -> None:
    found = [(each["product"], each["outlet"]) for each in path["series"]["products"]]
    takes = ("Leek & potato roll", "Leek & potato rolls, six", "Spinach & egg wrap")
    outlets = ("Saturday market", "Corner café", "Farm shop")
    assert found == [(product, outlet) for product in takes for outlet in outlets]
    assert path["series"]["item"] == "Eggs, large"


# ---------------------------------------------------------------- what a price is for


@pytest.mark.parametrize(
    ("per", "a_tray"),
    [
        ((), "9.00"),
        (("--per", "tray"), "9.00"),
        (("--per", "dozen"), "22.50"),
        (("--per", "6 ct"), "45"),
    ],
)
def test_a_series_is_for_a_pack_unless_it_is_said(
    tmp_path: Path, per: tuple[str, ...], a_tray: str
) -> None:
    """A roll takes 1.5 eggs; bought is a tray of 30 at 10.50, which makes the roll cost 0.8375."""
    series = table(tmp_path, "Month,Price", "2026-01,9.00")
    roll = answered("try", ROLLS, "--item", "eggs", "--series", series, *per)
    cost = Fraction("0.8375") + (Fraction(a_tray) - Fraction("10.50")) / 30 * Fraction("1.5")
    close(months_of(roll, "Roll", None)["2026-01"]["cost"], cost)


def test_a_price_below_one_is_a_price(tmp_path: Path) -> None:
    series = table(tmp_path, "month,price", "2026-01,0.50", "2026-02,0")
    assert [month.price for month in price_path(series)] == [Decimal("0.5"), 0]


def test_without_a_price_now_the_margin_is_at_the_price_to_charge(tmp_path: Path) -> None:
    """A roll of 0.8375 at 60 % is 2.09, on the step 2.25; at 14.00 a tray it costs 1.0125.

    3.50 more for 30 eggs is 0.175 more for the 1.5 eggs of a roll: 1.0125.
    """
    series = table(tmp_path, "month,price", "2026-01,14.00")
    unpriced = ROLLS.replace("20         | 2.00", "20         |")
    roll = answered("try", unpriced, "--item", "eggs", "--series", series)
    month = months_of(roll, "Roll", None)["2026-01"]
    close(month["cost"], "1.0125")
    close(month["margin"], (Fraction("2.25") - Fraction("1.0125")) / Fraction("2.25"))


def test_what_a_pack_cost_beside_its_price_is_held_as_in_a_trial(tmp_path: Path) -> None:
    """Two packs of 10 kg, 5.00 for delivery of both and 1.00 taken off: 2.00 a pack.

    At 6.00 a pack that makes 8.00 for the 10 kg of ten loaves, so 0.80 a loaf sold at 9.00.
    """
    loaf = """
Settings
Setting         | Value
Target margin % | 20

Purchases
Date       | Item  | Supplier | Packs | Pack size | Unit | Price per pack | Other cost
2026-11-01 | Flour | Mill     | 2     | 10        | kg   | 10.00          | 5.00
2026-11-01 | Flour | Mill     |       |           |      | -1.00          |

Recipes
Recipe | Uses  | Amount | Unit
Loaf   | Flour | 10     | kg

Batches
Recipe | Makes | Unit
Loaf   | 10    | ea

Products
Product | Recipe | Units per pack | Current price
Loaf    | Loaf   | 1              | 9.00
"""
    series = table(tmp_path, "month,price", "2026-01,6.00")
    words = ("--item", "flour", "--series", series)
    for per in ((), ("--per", "10 kg")):
        month = months_of(answered("try", loaf, *words, *per), "Loaf", None)["2026-01"]
        close(month["cost"], "0.80")
        close(month["margin"], (9 - Fraction("0.80")) / 9)
    (trial,) = answered("try", loaf, "--price", "flour=6.00")["products"]
    close(trial["after"]["cost"]["total"], "0.80")


def table(folder: Path, *lines: str) -> Path:
    file = folder / "series.csv"
    file.write_text("\n".join((*lines, "")), encoding="utf-8")
    return file


@pytest.mark.parametrize(
    ("lines", "words", "said"),
    [
        (
            ["month,price"],
            (),
            '--series needs the item whose prices it holds. Add --item "Eggs, large".',
        ),
        (
            ["when,how much"],
            ("eggs",),
            "{file} has no columns month and price. Name its columns so.",
        ),
        (
            ["month,price", "2026-01,dear"],
            ("eggs",),
            '{file}: the price of 2026-01 is "dear". Type a number, or nothing.',
        ),
        (
            ["month,price", "2026-01,-3"],
            ("eggs",),
            '{file}: the price of 2026-01 is "-3". Type a number, or nothing.',
        ),
        (
            ["month,price", "2026-01,1e400"],
            ("eggs",),
            '{file}: the price of 2026-01 is "1e400". Type a number, or nothing.',
        ),
        (
            ["month,price", "2026-01,9"],
            ("eggs", "--per", "1 lb"),
            (
                "Eggs isn't bought in the kind of unit that the series is in. Give another unit "
                "with --per."
            ),
        ),
        (
            ["month,price"],
            ("eggs", "--per", "a few"),
            '"a few" is no amount. Write it like this: --per dozen, or --per 1 lb',
        ),
        (
            ["month,price"],
            ("eggs", "--per", "0 ct"),
            '"0 ct" is no amount. Write it like this: --per dozen, or --per 1 lb',
        ),
        (
            ["month,price"],
            ("eggs",),
            "{file} names no month. Write one a row, in the column month.",
        ),
        (["month,price"], ("Egs",), 'No item is called "Egs". Did you mean "Eggs"?'),
        (
            ["month,price", "2026-01,9"],
            ("Tea",),
            (
                "No product takes Tea, so its price moves no margin. Name an item that a recipe or "
                "a package uses."
            ),
        ),
    ],
)
def test_a_series_that_cannot_be_used_is_said(
    tmp_path: Path, lines: list[str], words: tuple[str, ...], said: str
) -> None:
    tea = "2026-09-01 | Tea   | 1         | kg   | 9.00\n2026-11-12"
    book = save(sheets(ROLLS.replace("2026-11-12", tea)), tmp_path)
    series = table(tmp_path, *lines)
    item = ("--item", *words) if words else ()
    code, out, err = run("try", book, "--on", ON, "--series", series, *item)
    assert (code, out) == (2, "")
    assert err == f"costbook: {said.format(file=series)}\n"


def test_a_file_that_is_no_table_is_said(tmp_path: Path) -> None:
    book = save(sheets(ROLLS), tmp_path)
    words = ("--item", "Eggs", "--series")
    ragged = tmp_path / "ragged.csv"
    ragged.write_text("month,price\n2026-01,9,0,0\n")
    for file, why in (
        (tmp_path / "missing.csv", "No such file or directory"),
        (tmp_path, "Is a directory"),
        (table(tmp_path), "its rows aren't all alike"),
        (ragged, "its rows aren't all alike"),
    ):
        code, _, err = run("try", book, "--on", ON, *words, file)
        assert code == 2
        assert err == f"costbook: {file} can't be read as a table ({why}). Save it as .csv.\n"


@pytest.mark.parametrize(
    ("most_months", "bytes_less", "taken"),
    [(2, 0, True), (1, 0, False), (2, 1, False)],
)
def test_a_series_may_be_just_as_long_as_is_allowed_in_rows_and_in_bytes(
    most_months: int,
    bytes_less: int,
    taken: bool,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    file = table(tmp_path, "month,price", "2026-01,2.00", "2026-02,3.00")
    limit = file.stat().st_size - bytes_less
    monkeypatch.setattr("costbook.deciding.price_path.MOST_MONTHS", most_months)
    monkeypatch.setattr("costbook.deciding.price_path.MOST_SERIES_BYTES", limit)
    if taken:
        assert [str(each.price) for each in price_path(file)] == ["2.00", "3.00"]
    else:
        with pytest.raises(Refused, match="is longer than a series of prices"):
            price_path(file)


def test_a_path_in_words(tmp_path: Path) -> None:
    book = save(sheets(ROLLS), tmp_path)
    series = table(tmp_path, "month,price", "2026-01,9.00", "2026-02,")
    code, out, _ = run("try", book, "--on", ON, "--item", "Eggs", "--series", series)
    assert code == 0
    # 0.8375 - 1.50 / 30 x 1.5 = 0.7625; (2.00 - 0.7625) / 2.00 = 61.9 %
    assert out.splitlines()[2:7] == [
        "",
        "Roll:",
        "Month    Price  Margin",
        "2026-01   9.00  61.9 %",
        "2026-02      ?       ?",
    ]


# ---------------------------------------------------------------- what it costs to have it


# numpy is not looked for: openpyxl loads it wherever it is there
LOADED = """
import sys
from costbook.cli import main
code = main({words!r})
assert code == 0, code
print(*(name for name in ("pandas", "pint", "scipy") if name in sys.modules), file=sys.stderr)
"""


@pytest.mark.parametrize(
    ("words", "loaded"),
    [
        (["cost", "{book}", "--output", "{folder}/other.xlsx"], []),
        (["compare", "{book}"], []),
        (["moved", "{book}"], []),
        (["try", "{book}", "--price", "Eggs=12"], []),
        (["try", "{book}", "--sensitivity"], []),
        (
            ["try", "{book}", "--item", "Eggs", "--series", "{folder}/series.csv"],
            ["pandas"],
        ),
    ],
    ids=lambda words: " ".join(words[:1] + words[2:4:2]) or "none",
)
def test_heavy_libraries_are_loaded_only_where_they_serve(
    tmp_path: Path, words: list[str], loaded: list[str]
) -> None:
    book = save(sheets(ROLLS), tmp_path)
    table(tmp_path, "month,price", "2026-01,9.00")
    typed = [word.format(book=book, folder=tmp_path) for word in [*words, "--on", "2026-11-20"]]
    done = subprocess.run(
        [sys.executable, "-c", LOADED.format(words=typed)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stderr.split()) == (0, loaded)
