"""Which quick tests concern which module."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

__all__ = ["CONCERNS", "concerned", "modules"]

COSTED: Final = ("tests/money_rules", "tests/truth")
FOUND: Final = ("tests/money_rules", "tests/costing/test_far.py", "tests/test_messages.py")
"""What is found wrong is said in words, which no published figure has."""
FIGURED: Final = (
    "tests/costing/test_engine.py",
    "tests/costing/test_names.py",
    "tests/costing/test_over.py",
    "tests/costing/test_recipe_order.py",
    "tests/costing/test_result.py",
    "tests/costing/test_strays.py",
    "tests/money_rules",
)
MADE: Final = (
    "tests/definitions/test_told.py",
    "tests/definitions/test_workings.py",
    "tests/definitions/test_kinds.py",
    "tests/costing/test_engine.py",
)
RULED: Final = ("tests/definitions/test_rules.py", "tests/writing/test_formula_text.py")
"""Each rule has its cases worked by hand, and is printed as a formula."""
TOLD: Final = (
    "tests/costing/test_explained.py",
    "tests/costing/test_spoken.py",
    "tests/costing/test_trail.py",
    "tests/costing/test_dearest.py",
    "tests/costing/test_explain.py",
    "tests/costing/test_telling.py",
)
PACKS: Final = (
    "tests/deciding/test_mix.py",
    "tests/deciding/test_plan_words.py",
    "tests/deciding/test_pack_words.py",
    "tests/deciding/test_packs.py",
    "tests/deciding/test_bought_twice.py",
)
SERIES: Final = ("tests/deciding/test_price_path.py", "tests/deciding/test_pages_say.py")
TRIED: Final = ("tests/deciding/test_trial.py", "tests/deciding/test_boxes.py")
MOVED: Final = (
    "tests/deciding/test_moved.py",
    "tests/deciding/test_turning.py",
    "tests/deciding/test_old_prices.py",
    "tests/deciding/test_pages_say.py",
    "tests/deciding/test_in_short.py",
)
RECEIPTS: Final = (
    "tests/deciding/test_shrunk.py",
    "tests/deciding/test_old_prices.py",
    "tests/deciding/test_sensitivity.py",
)
IN_SHORT: Final = ("tests/deciding/test_in_short.py", "tests/writing/test_in_short.py")
WEEK: Final = (
    "tests/deciding/test_week.py",
    "tests/deciding/test_week_sales.py",
    "tests/writing/test_week_page.py",
)
BOUGHT: Final = (
    "tests/deciding/test_buy_list.py",
    "tests/deciding/test_buy_list_said.py",
    "tests/deciding/test_buying_for_a_plan.py",
)
LABELS: Final = (
    "tests/deciding/test_labels.py",
    "tests/deciding/test_label_gaps.py",
    "tests/deciding/test_allergens.py",
    "tests/test_labelling.py",
    "tests/writing/test_labels_page.py",
)
DAYS: Final = (
    "tests/deciding/test_days_told_apart.py",
    "tests/deciding/test_market_days.py",
    "tests/deciding/test_season.py",
)
STOCK: Final = ("tests/stock/test_freezer.py", "tests/stock/test_stock_messages.py")
YEAR: Final = ("tests/stock/test_year.py",)
ARRAYS: Final = (
    "tests/deciding/test_arrays.py",
    "tests/deciding/test_what_ifs.py",
    "tests/deciding/test_sensitivity.py",
)

CONCERNS: Final = {
    "costbook/definitions/rules.py": RULED,
    "costbook/definitions/allergen_words.py": LABELS,
    "costbook/definitions/amounts.py": ("tests/definitions/test_amounts.py", *TOLD),
    "costbook/definitions/buying_workings.py": BOUGHT,
    "costbook/definitions/day_codes.py": ("tests/definitions/test_day_codes.py",),
    "costbook/definitions/label_workings.py": LABELS,
    "costbook/definitions/market_days_workings.py": DAYS,
    "costbook/definitions/measured_workings.py": STOCK,
    "costbook/definitions/months.py": YEAR,
    "costbook/definitions/offered.py": ("tests/definitions/test_sheets.py", *DAYS),
    "costbook/definitions/own_work_workings.py": DAYS,
    "costbook/definitions/stock_workings.py": STOCK,
    "costbook/definitions/weather.py": DAYS,
    "costbook/definitions/week_workings.py": WEEK,
    "costbook/definitions/fields.py": (
        "tests/definitions/test_fields.py",
        "tests/definitions/test_sheets.py",
    ),
    "costbook/definitions/headings.py": ("tests/definitions/test_headings.py",),
    "costbook/definitions/likeness.py": ("tests/definitions/test_likeness.py",),
    "costbook/definitions/marks.py": ("tests/definitions/test_marks.py",),
    "costbook/definitions/affected.py": ("tests/definitions/test_kinds.py",),
    "costbook/definitions/algebra.py": (
        "tests/definitions/test_algebra.py",
        "tests/definitions/test_columns.py",
        "tests/definitions/test_rules.py",
        "tests/writing/test_formula_text.py",
    ),
    "costbook/definitions/columns.py": (
        "tests/definitions/test_columns.py",
        "tests/definitions/test_kinds.py",
        "tests/definitions/test_workings.py",
    ),
    "costbook/definitions/currencies.py": ("tests/definitions/test_currencies.py",),
    "costbook/definitions/over.py": (
        "tests/definitions/test_kinds.py",
        "tests/costing/test_over.py",
    ),
    "costbook/definitions/person_columns.py": (
        "tests/definitions/test_columns.py",
        "tests/definitions/test_kinds.py",
        "tests/definitions/test_workings.py",
    ),
    "costbook/definitions/published.py": ("tests/definitions/test_published.py",),
    "costbook/definitions/column_makers.py": MADE,
    "costbook/definitions/row_sources.py": MADE,
    "costbook/definitions/told.py": MADE,
    "costbook/definitions/figures_told.py": (*MADE, *TOLD),
    "costbook/definitions/reads.py": ("tests/definitions/test_kinds.py",),
    "costbook/definitions/rounding.py": ("tests/definitions/test_rounding.py",),
    "costbook/definitions/wiring.py": (
        "tests/definitions/test_workings.py",
        "tests/definitions/test_told.py",
    ),
    "costbook/definitions/words.py": ("tests/definitions/test_words.py",),
    "costbook/definitions/units.py": ("tests/definitions/test_units.py",),
    "costbook/definitions/wordings.py": (
        "tests/definitions/test_sheets.py",
        "tests/reading/test_layouts.py",
        "tests/reading/test_headings.py",
    ),
    "costbook/definitions/sheets.py": (
        "tests/definitions/test_sheets.py",
        "tests/writing/test_blank.py",
        "tests/reading/test_layouts.py",
        *COSTED,
    ),
    "costbook/definitions/parts.py": (
        "tests/definitions/test_parts.py",
        "tests/definitions/test_workings.py",
        "tests/costing/test_result.py",
        "tests/money_rules/test_gaps.py",
    ),
    "costbook/definitions/": ("tests/definitions", "tests/reading/test_quantities.py", *COSTED),
    "costbook/costing/batch_findings.py": FOUND,
    "costbook/costing/buy_": BOUGHT,
    "costbook/costing/market_day_findings.py": DAYS,
    "costbook/costing/plan_rows.py": (*WEEK, "tests/stock/test_freezer.py"),
    "costbook/costing/stock_": STOCK,
    "costbook/costing/fee_findings.py": FOUND,
    "costbook/costing/findings.py": FOUND,
    "costbook/costing/gap_findings.py": FOUND,
    "costbook/costing/line_findings.py": FOUND,
    "costbook/costing/price_findings.py": FOUND,
    "costbook/costing/receipt_findings.py": ("tests/costing/test_receipt_findings.py", *FOUND),
    "costbook/costing/result_findings.py": FOUND,
    "costbook/costing/explain": TOLD,
    "costbook/costing/line.py": TOLD,
    "costbook/costing/spoken.py": TOLD,
    "costbook/costing/telling.py": TOLD,
    "costbook/costing/trail.py": TOLD,
    "costbook/costing/wording.py": TOLD,
    "costbook/costing/far.py": ("tests/costing/test_how_far.py",),
    "costbook/costing/needs.py": (
        "tests/deciding/test_turning.py",
        "tests/deciding/test_moved.py",
        "tests/costing/test_engine.py",
    ),
    "costbook/costing/pack_rows.py": PACKS,
    "costbook/costing/shelves.py": PACKS,
    **dict.fromkeys(
        (f"costbook/costing/{name}.py" for name in ("batch_rows", "cells", "filed")),
        (*COSTED, "tests/costing", "tests/test_messages.py"),
    ),
    "costbook/costing/": FIGURED,
    "costbook/deciding/allergens": LABELS,
    "costbook/deciding/buy_list.py": BOUGHT,
    "costbook/deciding/buying.py": BOUGHT,
    "costbook/deciding/counted.py": YEAR,
    "costbook/deciding/ingredients.py": LABELS,
    "costbook/deciding/label": LABELS,
    "costbook/deciding/market_days.py": DAYS,
    "costbook/deciding/measured.py": STOCK,
    "costbook/deciding/planned_take.py": BOUGHT,
    "costbook/deciding/season.py": DAYS,
    "costbook/deciding/shops.py": BOUGHT,
    "costbook/deciding/stock.py": STOCK,
    "costbook/deciding/week": WEEK,
    "costbook/deciding/year.py": YEAR,
    "costbook/deciding/year_sums.py": YEAR,
    "costbook/deciding/about_item.py": ("tests/deciding/test_about_item.py",),
    "costbook/deciding/arrays.py": ARRAYS,
    "costbook/deciding/by_rule.py": RECEIPTS,
    "costbook/deciding/receipts.py": RECEIPTS,
    "costbook/deciding/what_ifs.py": ARRAYS,
    "costbook/deciding/compared_item.py": PACKS,
    "costbook/deciding/least_orders.py": PACKS,
    "costbook/deciding/mix.py": ("tests/deciding/test_mix.py", "tests/deciding/test_plan_words.py"),
    "costbook/deciding/pack": PACKS,
    "costbook/deciding/plan.py": PACKS,
    "costbook/deciding/in_short.py": IN_SHORT,
    "costbook/deciding/movable.py": ARRAYS,
    "costbook/deciding/moved.py": MOVED,
    "costbook/deciding/old_prices.py": MOVED,
    "costbook/deciding/sensitivity.py": ARRAYS,
    "costbook/deciding/shrunk.py": ("tests/deciding/test_shrunk.py", *PACKS),
    "costbook/deciding/trial.py": TRIED,
    "costbook/deciding/per_unit.py": TRIED,
    "costbook/deciding/tried_out.py": ("tests/deciding/test_tried_out.py", *TRIED, *SERIES),
    "costbook/deciding/yearly_costs.py": PACKS,
    "costbook/deciding/margin_path.py": ("tests/deciding/test_margin_path.py", *SERIES),
    "costbook/deciding/price_path.py": SERIES,
    "costbook/deciding/": ("tests/deciding",),
    "costbook/reading/quantit": (
        "tests/reading/test_quantities.py",
        "tests/reading/test_numbers.py",
        "tests/reading/test_rates.py",
        "tests/reading/test_messy_inputs.py",
        "tests/money_rules/test_amounts.py",
    ),
}
"""The tests of every module whose path begins so; of two beginnings the first."""


def concerned(module: str) -> Sequence[str]:
    """The tests that concern a module. Raises KeyError for one without any."""
    if module.endswith("_rules.py"):
        return RULED
    for beginning, tests in CONCERNS.items():
        if module.startswith(beginning):
            return tests
    raise KeyError(f"no tests are declared for {module}: add them to tests/mutations/concerns.py")


def modules(root: Path, paths: Sequence[str]) -> list[str]:
    """The modules that paths name, files or folders; without paths, all that are declared."""
    if paths:
        named = [Path(path).resolve() for path in paths]
    else:
        named = [each for beginning in CONCERNS for each in root.glob(f"{beginning}*")]
    files = [one for each in named for one in (each.rglob("*.py") if each.is_dir() else [each])]
    if not paths:
        files = [one for one in files if one.suffix == ".py"]
    return list(dict.fromkeys(one.relative_to(root).as_posix() for one in sorted(files)))
