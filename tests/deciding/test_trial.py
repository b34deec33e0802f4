"""Try a change: how it is typed, what it does, and that nothing stays of it."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from random import Random

import pytest

from costbook.book import as_key
from costbook.costing.engine import Costing
from costbook.deciding.trial import (
    TRIAL_SETTINGS,
    Trial,
    named_item,
    nothing_to_try,
    read_trial,
    tried,
    typed_trial,
)
from costbook.definitions.algebra import UNKNOWN
from costbook.problems import Refused
from tests.deciding.asking import ON, STALL, answered, asked, costed, read
from tests.deciding.test_moved import ROLLS
from tests.helpers import run, save
from tests.random_books import COSTED_ON, random_book
from tests.tables import close, sheets

D = Decimal
Typed = dict[str, Decimal | str]

# ---------------------------------------------------------------- before and after


def test_a_dearer_tray_worked_by_hand() -> None:
    """A roll takes 1.5 eggs: 40 % on 10.50 a tray are 4.20 / 30 x 1.5 = 0.21 more."""
    (roll,) = answered("try", ROLLS, "--price", "Eggs=+40%")["products"]
    before, after = roll["before"], roll["after"]
    close(before["cost"]["total"], "0.8375")
    close(after["cost"]["total"], "1.0475")
    close(after["at_current"]["margin"], "0.47625")  # (2.00 - 1.0475) / 2.00
    close(before["price"]["on_step"], "2.25")
    close(after["price"]["on_step"], "2.75")  # 1.0475 / 0.40 = 2.61875


def test_both_sides_are_as_cost_says_them(tmp_path: Path) -> None:
    """Before is the workbook as it is, after is the workbook with the change typed into it."""
    book = save(sheets(ROLLS), tmp_path)
    dearer = save(
        sheets(ROLLS.replace("60\nPrice", "35\nPrice").replace("10.50", "14")), tmp_path, "b"
    )
    words = ("--price", "Eggs=14", "--set", "Target margin %=35")
    (roll,) = asked("try", book, *words, "--on", ON)["products"]
    assert list(roll) == ["product", "outlet", "before", "after"]
    for side, of in (("before", book), ("after", dearer)):
        out = tmp_path / f"{side}.xlsx"
        (costed_roll,) = asked("cost", of, "--output", out, "--on", ON)["products"]
        assert roll[side] == costed_roll


def test_a_change_by_nothing_leaves_both_sides_the_same() -> None:
    (roll,) = answered("try", ROLLS, "--price", "Eggs=+0%")["products"]
    assert roll["before"] == roll["after"]


def test_without_a_change_it_is_said_what_to_type(tmp_path: Path) -> None:
    book = save(sheets(ROLLS), tmp_path)
    said = (
        "costbook: Say what to try: another price, or another setting. "
        f'Type costbook try {book} --price "Flour=+10%" or '
        f'costbook try {book} --set "Pay per hour=20"\n'
    )
    assert run("try", book, "--on", ON) == (2, "", said)


def test_nothing_is_written_unless_a_file_is_named(tmp_path: Path) -> None:
    book = save(sheets(ROLLS), tmp_path)
    before = hashlib.sha256(book.read_bytes()).hexdigest()
    words = ("--price", "Eggs=14", "--sensitivity", "--on", ON)
    assert run("try", book, *words)[0] == 0
    assert [path.name for path in tmp_path.iterdir()] == ["stall.xlsx"]
    assert hashlib.sha256(book.read_bytes()).hexdigest() == before


def test_a_trial_in_words(tmp_path: Path) -> None:
    book = save(sheets(ROLLS), tmp_path)
    code, out, _ = run("try", book, "--price", "Eggs=+40%", "--on", ON)
    assert code == 0
    assert out.splitlines()[:2] == [
        "Product  Outlet  Cost  after  At least  after  Margin now   after",
        "Roll          —  0.84   1.05      2.25   2.75      58.1 %  47.6 %",
    ]


BUTTER = """
Settings
Setting         | Value
Currency        | USD
Pay per hour    | 16
Target margin % | 30

Purchases
Date       | Item   | Supplier | Pack count | Pack size | Unit | Price per pack
2026-11-01 | Butter | Mill     | 36         | 1         | lb   | 108.00
2026-11-01 | Film   | Mill     |            | 10        | m    | 20.00

Recipes
Recipe | Uses   | Amount | Unit | Measured
Roll   | Butter | 2      | lb   | as bought

Batches
Recipe | Makes | Unit
Roll   | 20    | ea

Products
Product | Recipe | Units per pack | Current price
Roll    | Roll   | 1              | 2.00
"""


@pytest.mark.parametrize(
    ("typed", "pack"),
    [
        ("Butter=5/lb", "180"),  # 36 lb of 5.00
        ("Butter=+0.50/lb", "126"),  # 18.00 on 108.00
        ("Butter=10/2 lb", "180"),  # 18 times 2 lb
        ("butter = 0.25 / oz", "144"),  # 576 oz
        ("Butter=11.0231131/kg", "179.9999999960946"),  # 36 lb are 16.32932532 kg
        ("Film=1.50/ft", "49.2125984251968503937007874"),  # 10 m are 1000 / 30.48 ft
    ],
)
def test_a_price_by_the_unit_is_taken_for_the_whole_pack(typed: str, pack: str) -> None:
    found = list(read_trial(costed(BUTTER), [typed], []).prices.values())
    assert found[0] == pytest.approx(Decimal(pack), rel=Decimal("1e-9"))


def test_which_pack_a_price_is_for_is_said_and_one_that_is_far_off_is_doubted(
    tmp_path: Path,
) -> None:
    """5.00 was meant for a pound, and the pack is a case of 36: 3.00 a pound, 108.00."""
    book = save(sheets(BUTTER), tmp_path)
    for_case = ("--price", "Butter=5", "--price", "Film=21", "--on", ON)
    assert run("try", book, *for_case)[1].splitlines()[3:5] == [
        (
            "Butter: 5.00 for a pack of 36 lb from Mill, instead of 108.00. That is far off: is it "
            'for this whole pack? For the price of one lb type "Butter=5/lb".'
        ),
        "Film: 21.00 for a pack of 10 m from Mill, instead of 20.00.",
    ]
    by_pound = run("try", book, "--price", "Butter=5/lb", "--on", ON)[1].splitlines()[3]
    assert by_pound == (
        "Butter: 180.00 for a pack of 36 lb from Mill, instead of 108.00. That is far off: is it "
        "for this whole pack?"
    )
    assert asked("try", book, *for_case)["prices_tried"] == [
        {
            "item": "Butter",
            "pack": "36 lb from Mill",
            "price_per_pack": 5,
            "now_per_pack": 108,
            "doubt": "far off",
        },
        {
            "item": "Film",
            "pack": "10 m from Mill",
            "price_per_pack": 21,
            "now_per_pack": 20,
            "doubt": None,
        },
    ]


# ---------------------------------------------------------------- undoing it


def test_undoing_a_trial_gives_the_first_figures(stall: Costing) -> None:
    prices = ["Eggs, large=+40%", "Film=30", "Leeks=-1"]
    trial = read_trial(stall, prices, ["Pay per hour=20", "Target margin %=35"])
    there = tried(stall, trial)
    assert there.figures != stall.figures
    assert tried(there, undoing(stall, trial)).figures == stall.figures


def undoing(costing: Costing, trial: Trial) -> Trial:
    """The trial that types today's values again; UNKNOWN where there is none."""
    rows = {str(row.fixed["item_key"]): row for row in costing.structure.rows["prices_now"]}
    now = costing.one("settings")
    prices = {key: costing.of(rows[key])["price_per_pack"] for key in trial.prices}
    settings = {name: now[name] for name in trial.settings}
    return Trial(known(prices), known(settings))


def known(values: Mapping[str, object]) -> dict[str, Decimal]:
    return {name: v if isinstance(v, Decimal) else UNKNOWN for name, v in values.items()}


@pytest.mark.parametrize("seed", range(5))
def test_in_any_workbook_undoing_a_trial_gives_the_first_figures(seed: int) -> None:
    random = Random(seed)
    costing = read(random_book(random, gaps=True), on=COSTED_ON)
    rows = costing.structure.rows["prices_now"]
    trial = Trial(
        {str(row.fixed["item_key"]): Decimal(random.randint(1, 9000)) / 100 for row in rows},
        {field.name: Decimal(random.randint(1, 90)) / 100 for field in TRIAL_SETTINGS},
    )
    there = tried(costing, trial)
    assert there.figures != costing.figures
    assert tried(there, undoing(costing, trial)).figures == costing.figures


# ---------------------------------------------------------------- how a change is typed

SETTINGS = """
Settings
Setting         | Value
Currency        | USD
Pay per hour    | 16
Target margin % | 30
Sales tax %     | 0.05
Price step      | 0.25
"""


@pytest.fixture(scope="module")
def rolls() -> Costing:
    """Eggs are 10.50 a tray, flour 2.00; pay is 16, the target 30 %, sales tax 5 %."""
    return costed(ROLLS.replace(ROLLS.split("\n\n")[0], SETTINGS.rstrip()))


@pytest.mark.parametrize(
    ("text", "pack"),
    [
        ("Eggs=12", "12"),
        ("Eggs=28.50", "28.50"),
        ("Eggs=+40%", "14.70"),
        ("Eggs=-10%", "9.45"),
        ("Eggs=-0.30", "10.20"),
        ("Eggs=+0.30", "10.80"),
        ("Eggs=110%", "11.55"),
        ("  eggs =  + 2 ", "12.50"),
        ("EGGS=0.5", "0.5"),
    ],
)
def test_a_price_may_be_given_in_several_ways(rolls: Costing, text: str, pack: str) -> None:
    assert list(read_trial(rolls, [text], []).prices.values()) == [Decimal(pack)]


@pytest.mark.parametrize(
    ("text", "name", "value"),
    [
        ("Pay per hour=20", "pay_per_hour", "20"),
        ("Pay per hour=+2.50", "pay_per_hour", "18.5"),
        ("Pay per hour=-25%", "pay_per_hour", "12"),
        ("pay PER hour = 0", "pay_per_hour", "0"),
        # shares: 35, 35 % and 0.35 are one target; plus and minus are percentage points
        ("Target margin %=35", "target_margin", "0.35"),
        ("Target margin=35%", "target_margin", "0.35"),
        ("Target margin %=0.35", "target_margin", "0.35"),
        ("Target margin %=+5", "target_margin", "0.35"),
        ("Target margin %=-5%", "target_margin", "0.25"),
        ("Sales tax %=1%", "sales_tax", "0.01"),
        ("Sales tax %=0", "sales_tax", "0"),
        ("Price step=0.5", "price_step", "0.5"),
        # not there yet: from nothing
        ("Kitchen hire per hour=+18", "kitchen_hire_per_hour", "18"),
        ("Small-ingredient allowance %=2", "small_ingredient_allowance", "0.02"),
    ],
)
def test_a_setting_may_be_given_in_several_ways(
    rolls: Costing, text: str, name: str, value: str
) -> None:
    assert dict(read_trial(rolls, [], [text]).settings) == {name: Decimal(value)}


HOW_PRICE = 'Write it like this: --price "Eggs, large=+40%" or --price "Film=28.50"'
HOW_SETTING = 'Write it like this: --set "Pay per hour=20" or --set "Target margin %=35"'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Egs=12", 'No item is called "Egs". Did you mean "Eggs"?'),
        ("Caviar=12", 'No item is called "Caviar". There are: Flour, Eggs, Film.'),
        ("Eggs", f'"Eggs" is no change. {HOW_PRICE}'),
        ("Eggs=", f'"Eggs=" is no change. {HOW_PRICE}'),
        ("=12", f'"=12" is no change. {HOW_PRICE}'),
        ("Eggs=twelve", f'"Eggs=twelve" is no change. {HOW_PRICE}'),
        ("Eggs=12,50", f'"Eggs=12,50" is no change. {HOW_PRICE}'),
        ("Eggs=1e9", f'"Eggs=1e9" is no change. {HOW_PRICE}'),
        ("Eggs=+40%/dozen", f'"Eggs=+40%/dozen" is no change. {HOW_PRICE}'),
        (
            "Eggs=5/handful",
            '"handful" is no amount. Write it like this: --price "Eggs=5/lb"',
        ),
        ("Eggs=5/0 kg", '"0 kg" is no amount. Write it like this: --price "Eggs=5/lb"'),
        ("Eggs=5/nan kg", '"nan kg" is no amount. Write it like this: --price "Eggs=5/lb"'),
        (
            "Eggs=5/lb",
            (
                "Eggs is bought in another kind of unit (tray) than lb. Give the price of such a "
                "unit, or of the whole pack."
            ),
        ),
        ("Eggs=-11", '"Eggs=-11" makes the price less than nothing. Give a smaller change.'),
        ("Eggs=-101%", '"Eggs=-101%" makes the price less than nothing. Give a smaller change.'),
    ],
)
def test_a_price_that_cannot_be_tried_is_said(rolls: Costing, text: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        read_trial(rolls, [text], [])
    assert str(refused.value) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Pay per our=20", 'No setting is called "Pay per our". Did you mean "Pay per hour"?'),
        (
            "Weather=1",
            (
                'No setting is called "Weather". There are: Pay per hour, Pay on-costs %, Target '
                "margin %, Price step, Small-ingredient allowance %, Sales tax %, Kitchen hire per "
                "hour, Kitchen booking block minutes, Batches per year."
            ),
        ),
        ("Pay per hour", f'"Pay per hour" is no change. {HOW_SETTING}'),
        ("Pay per hour=20/h", f'"Pay per hour=20/h" is no change. {HOW_SETTING}'),
        ("Currency=20", 'No setting is called "Currency". There are: Pay per hour, '),
        (
            "Pay per hour=-20",
            '"Pay per hour=-20" makes Pay per hour less than nothing. Give another value.',
        ),
        ("Price step=0", '"Price step=0" makes Price step nothing. Give a value above zero.'),
        (
            "Target margin %=+80",
            '"Target margin %=+80" makes Target margin % more than 100 %. Give another value.',
        ),
        ("Sales tax %=1", '"Sales tax %=1" may mean 1 % or 100 %. Write 1% or 100%.'),
        (
            "Batches per year=+10%",
            "Batches per year is not known. Give a value: Batches per year=20",
        ),
    ],
)
def test_a_setting_that_cannot_be_tried_is_said(rolls: Costing, text: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        read_trial(rolls, [], [text])
    assert str(refused.value).startswith(said)


def test_a_share_above_its_limit_in_a_box_is_unknown_as_on_settings() -> None:
    """600 in a box is 600 %, and Settings takes 100 at most; 35 is 0.35, and 0 is no price step."""
    typed = {"on_costs": Decimal(600), "target_margin": Decimal(35), "price_step": Decimal(0)}
    found = typed_trial({}, typed).settings
    assert found["target_margin"] == Decimal("0.35")
    assert found["on_costs"].is_nan()
    assert found["price_step"].is_nan()


def test_what_a_box_cannot_hold_is_unknown_and_what_is_no_number_changes_nothing() -> None:
    prices: Typed = {"keggs": D(0), "kfilm": D("0.5"), "kflour": "dear", "ksalt": D(-1)}
    settings: Typed = {"pay_per_hour": "more", "weather": D(5), "price_step": D("0.1")}
    found = typed_trial(prices, settings)
    assert {key: found.prices[key] for key in ("keggs", "kfilm")} == {"keggs": 0, "kfilm": D("0.5")}
    assert found.prices["ksalt"].is_nan()
    assert len(found.prices) == 3
    assert found.settings == {"price_step": D("0.1")}


@pytest.mark.parametrize(
    ("typed", "name", "value"),
    [
        (
            "Batches per year=+5",
            "batches_per_year",
            "5",
        ),  # none is given, so it is 5 more than nothing
        ("Target margin %=100%", "target_margin", "1"),
    ],
)
def test_a_setting_may_begin_at_nothing_and_go_to_its_limit(
    rolls: Costing, typed: str, name: str, value: str
) -> None:
    assert read_trial(rolls, [], [typed]).settings == {name: D(value)}


def test_an_item_may_be_had_for_nothing(rolls: Costing) -> None:
    assert read_trial(rolls, ["Film=-100%"], []).prices == {named_item(rolls, "film"): 0}
    assert named_item(rolls, "film") == as_key("Film")


def test_of_a_pack_whose_unit_is_not_known_nothing_is_priced_by_the_unit() -> None:
    unknown = costed(
        ROLLS.replace("2026-11-12 | Film  | 10        | m ", "2026-11-12 | Film | 10 | ")
    )
    with pytest.raises(Refused) as refused:
        read_trial(unknown, ["Film=2/m"], [])
    assert str(refused.value) == (
        "Film is bought in another kind of unit (not known) than m. Give the price of such a unit, "
        "or of the whole pack."
    )


def test_where_nothing_is_priced_what_to_type_names_an_item_that_may_be() -> None:
    never = costed(ROLLS.replace("2026-", "2027-"))
    assert '--price "Eggs, large=+10%"' in str(nothing_to_try(never, Path("stall.xlsx")))


def test_an_item_that_was_not_bought_has_no_pack_to_price() -> None:
    bought = "2026-09-01 | Film  | 10        | m    | 20.00\n"
    never = costed(ROLLS.replace(bought, "").replace("2026-11-12 | Film", "2026-11-21 | Film"))
    for text in ("Film=12", "Film=+10%"):
        with pytest.raises(Refused) as refused:
            read_trial(never, [text], [])
        assert str(refused.value) == (
            "No purchase of Film counts, so it has no pack to price. Add a receipt of it to "
            "Purchases."
        )


def test_what_cannot_be_tried_ends_the_command_with_two_and_one_line() -> None:
    code, out, err = run("try", STALL, "--on", ON, "--price", "Flim=30")
    assert (code, out) == (2, "")
    assert err == 'costbook: No item is called "Flim". Did you mean "Film"?\n'
