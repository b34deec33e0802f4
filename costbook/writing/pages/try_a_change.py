"""Try a change: boxes to type trial values into, and every product before and after, live."""

from __future__ import annotations

from decimal import Decimal

from costbook.book import Value
from costbook.costing.result import CAUTION
from costbook.costing.rows import Row
from costbook.definitions import rules
from costbook.definitions.affected import TRIAL_CHANGES
from costbook.definitions.columns import Column, Show
from costbook.definitions.fields import Field, Kind, Least
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.workings import TABLES
from costbook.ours.kept import TRIAL_PRICES, TRIAL_SETTINGS, Kept
from costbook.writing.description import CellContent, Look, Role, SheetDescription
from costbook.writing.folded import laid_out
from costbook.writing.layout import Layout, sheet_name
from costbook.writing.pages.at_least import named
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import UNKNOWN_MARK, Context, Page, look_of
from costbook.writing.pages.workings_page import ACROSS
from costbook.writing.trial_formulas import TrialFormulas, TypedCells

__all__ = ["trial_workings_page", "try_a_change_page", "typed_cells"]

SETTINGS = tuple(
    column for column in TABLES["settings"].columns if ("settings", column.name) in TRIAL_CHANGES
)
FIRST_SETTING = 6
"""The row, from 0, of the first setting; items follow below."""
NAME, NOW, TYPED = 0, 1, 2
"""The columns of what is typed."""
HOLDS, UNIT, DOUBT = 3, 4, 5
"""The columns of the pack that a price is for, and of what is doubted of the price."""
RESULTS = 6
"""The first column of the products, which stand to the right of the boxes."""
FIGURES = (
    ("Cost", "total", Show.MONEY),
    ("CHARGE", "price_on_step", Show.MONEY),
    ("Margin now", "now_margin", Show.SHARE),
    ("Profit now", "now_profit", Show.MONEY),
)
WIDTH = RESULTS + 2 + 3 * len(FIGURES)


def _first_item() -> int:
    return FIRST_SETTING + len(SETTINGS) + 3


def typed_cells(tab: str, items: int) -> TypedCells:
    """Where each trial value is typed."""
    place = f"{sheet_name(tab)}!$C$"
    cells = {
        (column.name, 0): f"{place}{FIRST_SETTING + number + 1}"
        for number, column in enumerate(SETTINGS)
    }
    for number in range(items):
        cells["price", number] = f"{place}{_first_item() + number + 1}"
    return cells


def try_a_change_page(context: Context) -> SheetDescription:
    """Describe the sheet Try a change."""
    page = Page(context, "Try a change")
    sheet = page.sheet
    sheet.widths = {0: 25, 1: 11, 2: 11, HOLDS: 7, UNIT: 5, DOUBT: 9, RESULTS: 22, RESULTS + 1: 15}
    sheet.widths |= dict.fromkeys(range(RESULTS + 2, WIDTH), 10.0)
    sheet.line("Try a change: what if a price or a setting were another?", Role.TITLE)
    sheet.line(
        "Type into the boxes under Try, and look to the right. Nothing else changes. Empty a box "
        "to go back; what you type stays for the next run. A price is for the whole pack; one "
        "that is more than half off is doubted.",
        Role.NOTE,
    )
    step_row(context, sheet, WIDTH)
    _refused(page)
    sheet.frozen = (FIRST_SETTING, 3)
    _settings(page)
    _items(page)
    _products(page)
    sheet.next_row = max(sheet.rows) + 1
    page.caution(WIDTH)
    return sheet


def _settings(page: Page) -> None:
    settings = page.context.costing.structure.one("settings")
    _headings(page, FIRST_SETTING - 1, TRIAL_SETTINGS, "Now")
    for number, column in enumerate(SETTINGS):
        title = INPUT_SHEETS["Settings"].field(column.name).title
        typed = page.context.remembered.trial_settings.get(column.name)
        _box(page, FIRST_SETTING + number, title, (settings, column), typed)


def _items(page: Page) -> None:
    of_a_pack = (("A pack of", Show.NUMBER), ("", Show.TEXT), ("Doubtful", Show.TEXT))
    _headings(page, _first_item() - 1, TRIAL_PRICES, "A pack now", *of_a_pack)
    column = TABLES["prices_now"].columns[TABLES["prices_now"].index["price_per_pack"]]
    for number, row in enumerate(page.context.costing.structure.rows["prices_now"]):
        typed = page.context.remembered.trial_prices.get(str(row.fixed["item_key"]))
        at = _first_item() + number
        _box(page, at, str(row.fixed["item"]), (row, column), typed)
        page.figure((at, HOLDS), (row, "pack_in_its_unit"), Show.NUMBER)
        page.figure((at, UNIT), (row, "pack_unit"), Show.TEXT)
        _doubt(page, at, row, typed)
    page.sheet.next_row = max(page.sheet.rows) + 1
    page.mark(_first_item(), (DOUBT,), '{cell}<>""')


def _doubt(page: Page, at: int, row: Row, typed: Value) -> None:
    """What is doubted of a price in a box, live; a text there changes nothing, and that is said."""
    box, now = page.address(at, TYPED), page.address(at, NOW)
    value = page.value((row, "price_per_pack"))
    is_text, look = isinstance(typed, str), look_of(Role.NOTE, Show.TEXT, DOUBT)
    figures = {"price_tried": (box, None if is_text else typed), "price_per_pack": (now, value)}
    said, formula = page.reckoned(rules.trial_doubt, figures)
    formula = f'=IF(ISTEXT({box}),"{NO_NUMBER}",{formula})'
    page.sheet.put(at, DOUBT, NO_NUMBER if is_text else said, look, formula=formula)


NO_NUMBER = "no number"
"""What is said of a text in the box of a price."""


def _refused(page: Page) -> None:
    """What is wrong with a setting typed into a box, as if it stood on Settings; live."""
    typed, tab = page.context.remembered.trial_settings, page.context.tabs["Try a change"]
    cells, said, parts = typed_cells(tab, 0), [], []
    for column in SETTINGS:
        field, cell = INPUT_SHEETS["Settings"].field(column.name), cells[column.name, 0]
        cell = cell.rpartition("!")[2]
        number = typed.get(column.name)
        if isinstance(number, Decimal) and (why := field.refused(number)):
            said.append(" ".join(why))
        parts.append(_why_refused(field, cell))
    at = page.sheet.next_row
    formula = f"=TRIM({'&'.join(parts)})"
    page.sheet.put(at, 0, " ".join(said), Look(Role.NOTE, wrap=True), formula=formula)
    page.sheet.next_row += 1
    page.mark(at, (0,), '{cell}<>""')
    page.sheet.merged.append((at, 0, at, RESULTS + 1))


def _why_refused(field: Field, cell: str) -> str:
    """The formula of the sentence on a number that the field may not hold; else of nothing."""

    def sentence(why: tuple[str, str]) -> str:
        before, after = " ".join(why).split(_SHOWN)
        return f'"{before}"&{cell}&"{after} "'

    low = "<=" if field.least is Least.ABOVE_ZERO else "<"
    said = f'IF({cell}{low}0,{sentence(field.too_low(_SHOWN))},"")'
    if field.kind is Kind.SHARE:
        high = f"{cell}/100>{field.limit}"
        said = f"IF({high},{sentence(field.too_high(_SHOWN))},{said})"
    return f'IF(ISNUMBER({cell}),{said},"")'


_SHOWN = "\0"
"""Stands for the number in a sentence, until its cell does."""


def _headings(page: Page, row: int, kept: Kept, now: str, *more: tuple[str, Show]) -> None:
    what, typed = kept.headings
    names = [(what, Show.TEXT), (now, Show.MONEY), (typed, Show.MONEY), *more]
    for at, (name, show) in enumerate(names):
        page.sheet.put(row, at, name or None, look_of(Role.HEADING, show, at))


def _box(page: Page, at: int, name: str, figure: tuple[Row, Column], typed: Value) -> None:
    row, column = figure
    page.sheet.put(at, NAME, name, Look(Role.LABEL))
    page.figure((at, NOW), (row, column.name), column.show)
    page.sheet.put(at, TYPED, typed, Look(Role.TYPE_HERE, column.show))


def _products(page: Page) -> None:
    """Each product at each outlet: before, after, and the difference."""
    sheet, context = page.sheet, page.context
    heading = FIRST_SETTING - 1
    for at, name in enumerate(("Product", "Outlet"), RESULTS):
        sheet.put(heading, at, name, look_of(Role.HEADING, Show.TEXT, at))
    for number, (name, _, show) in enumerate(FIGURES):
        for part, word in enumerate(("before", "after", "difference")):
            at = RESULTS + 2 + 3 * number + part
            shown, formula = named(page.context, f"{name}, {word}")
            sheet.put(heading, at, shown, look_of(Role.HEADING, show, at), formula=formula)
    for number, row in enumerate(context.costing.structure.rows["prices"]):
        at = FIRST_SETTING + number
        sheet.put(at, RESULTS, row.fixed["product"], Look(Role.LABEL))
        sheet.put(at, RESULTS + 1, row.fixed["outlet"] or "—", Look(Role.LABEL))
        for place, (_, column, show) in enumerate(FIGURES):
            _before_and_after(page, (at, RESULTS + 2 + 3 * place), (row, column), show)


def _before_and_after(page: Page, at: tuple[int, int], ref: tuple[Row, str], show: Show) -> None:
    context = page.context
    page.figure(at, ref, show)
    cell = context.trial_layout.absolute(*ref)
    after = context.trial.of(ref[0])[ref[1]]
    shown: Value = UNKNOWN_MARK if after in (None, "") else after
    formula = f'=IF({cell}="","{UNKNOWN_MARK}",{cell})'
    page.sheet.put(at[0], at[1] + 1, shown, Look(Role.ANSWER, show), formula=formula)
    figures = {
        "after": (page.address(at[0], at[1] + 1), after),
        "before": (page.address(*at), page.value(ref)),
    }
    look = Look(Role.COMPUTED, show, signed=True)
    page.ruled((at[0], at[1] + 2), rules.difference, figures, look)


NOTHING = '=""'


def trial_workings_page(context: Context) -> SheetDescription:
    """Describe the sheet Trial workings: what a trial reaches, computed a second time."""
    sheet = SheetDescription("Trial workings", context.tabs["Trial workings"])
    most = max(len(table.columns) for table in TABLES.values())
    sheet.hidden = True
    sheet.widths = {0: 26} | dict.fromkeys(range(1, most), 13.0)
    sheet.frozen = (1, 1)
    sheet.repeated_rows = (0, 0)
    sheet.repeated_columns = (0, 0)
    sheet.line("Trial workings: the same rules, over what is typed on Try a change", Role.TITLE)
    sheet.line(
        "Each figure stands where it stands on Workings; what a trial can't reach is left out.",
        Role.NOTE,
        across=ACROSS,
    )
    sheet.line(CAUTION, Role.CAUTION, across=ACROSS)
    step_row(context, sheet, ACROSS)
    items = len(context.costing.structure.rows["prices_now"])
    typed = typed_cells(context.tabs["Try a change"], items)
    formulas = TrialFormulas(context.trial, context.layout, typed)
    for table in TABLES.values():
        columns = [
            (number, table.columns[table.index[name]])
            for name, number in laid_out(table.name).items()
            if (table.name, name) in formulas.columns
        ]
        if columns:
            _table(sheet, context, formulas, table.name, columns)
    sheet.next_row = max(sheet.rows) + 1
    return sheet


def _table(
    sheet: SheetDescription,
    context: Context,
    formulas: TrialFormulas,
    table: str,
    columns: list[tuple[int, Column]],
) -> None:
    layout: Layout = context.layout
    first = layout.first[table] - 1
    sheet.put(first - 2, 0, TABLES[table].title, Look(Role.SECTION))
    for number, column in columns:
        look = look_of(Role.HEADING, column.show, number)
        sheet.put(first - 1, number, column.heading, look)
    for row in context.costing.structure.rows[table]:
        at = first + row.index
        figures = context.trial.of(row)
        for number, column in columns:
            value = figures[column.name]
            formula = formulas.of(row, column) or ("" if value not in (None, "") else NOTHING)
            look = Look(Role.COMPUTED, column.show)
            sheet.add(CellContent(at, number, look, value, formula))
