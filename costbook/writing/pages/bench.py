"""A bench card for each recipe: what goes in and the steps, room to write, and no money."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from itertools import zip_longest

from costbook.book import Record
from costbook.costing.structure import Row
from costbook.deciding.allergens_within import AllergensWithin
from costbook.deciding.labels import batch_code
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.formula_text import quoted
from costbook.writing.lookups import text_of
from costbook.writing.pages.at_the_bench import Count, Said, scaled_amount
from costbook.writing.pages.card_lines import unit_beside
from costbook.writing.pages.card_parts import LAST, typed_unit
from costbook.writing.pages.page import Page, Ref, look_of

__all__ = ["bench_card", "bench_cards", "bench_link", "planned_link"]

WHAT, AMOUNT, UNIT, MEASURED, STEP, MINUTES, TOOK = 0, 1, 2, 3, 4, 7, LAST
ROW, NOTES_ROW = 17.0, 27.0
"""High enough to write in with a pen [points]."""
ONE = Decimal(1)

HEADINGS = ("What goes in", "Amount", "Unit", "", "Step", "", "", "Min", "Took")
SHOWS = (Show.TEXT, Show.NUMBER, Show.TEXT, Show.TEXT, *(Show.TEXT,) * 3, Show.NUMBER, Show.TEXT)


def bench_link(recipe: str) -> str:
    """The link to a recipe's bench card."""
    return f"#bench: {recipe}"


def planned_link(recipe: str) -> str:
    """The link to a recipe's bench card for the batches planned."""
    return f"#planned: {recipe}"


def bench_cards(page: Page) -> None:
    """A card for each recipe, those that others use first, as they are made first."""
    for recipe in page.context.costing.structure.rows["recipes"]:
        page.sheet.begin_block()
        bench_card(page, recipe)


def bench_card(
    page: Page,
    recipe: Row,
    batches: Decimal | Ref = ONE,
    allergens: AllergensWithin | None = None,
) -> None:
    """The card of a recipe for so many batches, or for those that a figure says are planned.

    The number stands on the card, and amounts follow it. ``allergens`` are said where given.
    """
    sheet = page.sheet
    name = str(recipe.fixed["recipe"])
    planned = not isinstance(batches, Decimal)
    anchor = planned_link(name) if planned else bench_link(name)
    sheet.anchors[anchor[1:]] = (sheet.next_row, 0)
    sheet.line(name, Role.TITLE)
    count = _count(page, batches)
    _makes(page, recipe, count)
    if planned:
        _code(page)
    page.headings(HEADINGS, shows=SHOWS)
    first = sheet.next_row
    for line, stage in zip_longest(_lines(page, recipe), _stages(page, recipe)):
        if line is not None:
            _line(page, recipe, line, count, planned=planned)
        if stage is not None:
            _stage(page, recipe, stage)
            _minutes(page, stage, count, planned=planned)
        sheet.heights[sheet.next_row] = ROW
        sheet.next_row += 1
    page.mark_unknown(first, (AMOUNT, MINUTES))
    if allergens:
        said = f"Allergens typed, at the last run. {allergens.in_words()}"
        sheet.line(said, Role.NOTE, across=LAST + 1)
    _notes(page, recipe)
    sheet.next_row += 1


def _count(page: Page, batches: Decimal | Ref) -> Count:
    """Put how many batches the card is for."""
    at, look = (page.sheet.next_row, AMOUNT), Look(Role.SUM, Show.NUMBER)
    page.sheet.put(page.sheet.next_row, WHAT, "Bench card, batches", Look(Role.LEAD))
    if isinstance(batches, Decimal):
        page.sheet.put(*at, batches, look)
        return page.address(*at), batches
    page.figure(at, batches, Show.NUMBER, look=look)
    return page.address(*at), page.value(batches)


def _code(page: Page) -> None:
    """The batch's code by the day on which the sheet is open, and room for one's own."""
    sheet, structure = page.sheet, page.context.costing.structure
    at, day = sheet.next_row, page.context.layout.absolute(structure.one("settings"), "costed_on")
    year = f'RIGHT("0"&MOD(YEAR({day}),100),2)'
    of_the_year = f'RIGHT("00"&(INT({day})-DATE(YEAR({day}),1,1)+1),3)'
    sheet.put(at, 0, "Batch code", Look(Role.LABEL))
    code = batch_code(structure.costed_on)
    sheet.put(at, AMOUNT, code, Look(Role.SUM), formula=f'={year}&"-"&{of_the_year}')
    sheet.put(at, UNIT, "or your own", look_of(Role.LABEL, Show.TEXT, UNIT))
    sheet.merged.append((at, UNIT, at, MEASURED))
    sheet.put(at, STEP, None, Look(Role.TICK))
    sheet.merged.append((at, STEP, at, TOOK))
    sheet.heights[at] = ROW
    sheet.next_row += 1


def _makes(page: Page, recipe: Row, count: Count) -> None:
    """What so many batches make, and room for the day."""
    sheet, at, batch = page.sheet, page.sheet.next_row, recipe.links["batches"]
    sheet.put(at, UNIT, "make", Look(Role.LEAD, indent=1))
    _times(page, (at, MEASURED), (batch, "started"), count)
    unit = unit_beside(batch.sources.get("Batches"))
    sheet.put(at, STEP, unit, look_of(Role.LABEL, Show.TEXT, STEP))
    sheet.put(at, MINUTES, "Day", look_of(Role.LABEL, Show.TEXT, MINUTES))
    sheet.put(at, TOOK, None, Look(Role.TICK))
    sheet.heights[at] = ROW
    sheet.next_row += 1


def _times(page: Page, at: tuple[int, int], figure: Ref, count: Count) -> None:
    """A batch's figure for so many batches."""
    cell = page.context.layout.absolute(*figure), page.value(figure)
    figures = {"batch_figure": cell, "batches": count}
    page.ruled(at, rules.of_batches, figures, Look(Role.COMPUTED, Show.NUMBER))


def _lines(page: Page, recipe: Row) -> list[Row]:
    rows = page.context.costing.structure.rows
    return [rows[table][at] for table in ("lines", "uses") for at in recipe.children[table]]


def _stages(page: Page, recipe: Row) -> list[Row]:
    """The recipe's stages, then those of the products that are made of it."""
    rows = page.context.costing.structure.rows
    made = [row for row in rows["products"] if row.links.get("recipes") is recipe]
    of_products = [
        rows["product_stages"][at] for row in made for at in row.children["product_stages"]
    ]
    return [*(rows["stages"][at] for at in recipe.children["stages"]), *of_products]


def _line(page: Page, recipe: Row, line: Row, count: Count, *, planned: bool) -> None:
    sheet, at, record = page.sheet, page.sheet.next_row, line.sources["Recipes"]
    link = page.context.link_to(record, "uses")
    name = look_of(Role.LABEL, Show.TEXT, WHAT)
    page.figure((at, WHAT), (line, "uses"), Show.TEXT, look=name, link=link)
    more: Sequence[Said] = ()
    if to_taste := page.value((line, "amount")) == 0 and record.texts.get("amount"):
        sheet.put(at, AMOUNT, to_taste, Look(Role.LABEL))
    elif planned:
        more = scaled_amount(page, AMOUNT, line, recipe.links["batches"], count)
    else:
        _times(page, (at, AMOUNT), (line, "amount"), count)
    _unit_and_how(page, line, record, unit_beside(record) if not to_taste else "", more)


def _unit_and_how(page: Page, line: Row, record: Record, unit: str, more: Sequence[Said]) -> None:
    """The unit as it is typed, whether the amount is as bought or ready to use, and more."""
    sheet, at = page.sheet, page.sheet.next_row
    how = line.table == "lines" and record.text("measured")  # a recipe is ready as it is made
    measured = str(page.value((line, "measured")) or "") if how else ""
    said = [each for each in (unit, measured) if each]
    formula = typed_unit(page, line, record) if unit else ""
    if how:
        cell = page.context.layout.absolute(line, "measured")
        before = f'{formula[1:]}&IF({cell}="","",", "&{cell})' if formula else cell
        formula = f"={before}"
    for words, beside in more:
        said += [words] if words else []
        parts = formula[1:] or quoted(unit)
        formula = f'={parts}&IF({beside}="","",", "&{beside})'
    if not said:
        return
    sheet.put(at, UNIT, ", ".join(said), look_of(Role.LABEL, Show.TEXT, UNIT), formula=formula)
    sheet.merged.append((at, UNIT, at, MEASURED))


def _stage(page: Page, recipe: Row, stage: Row) -> None:
    sheet, at = page.sheet, page.sheet.next_row
    whose = str(stage.fixed["recipe"])
    own = "" if whose == str(recipe.fixed["recipe"]) else f": {whose}"
    said = f"{stage.fixed['stage'] or 'Work'}{own}"
    formula = f"={quoted(said)}"
    for figure, plain, before, after in BESIDE_A_STEP:
        cell, value = page.context.layout.absolute(stage, figure), page.value((stage, figure))
        beside = f"{quoted(before)}&{cell}&{quoted(after)}"
        formula += f'&IF(ISNUMBER({cell}),IF({cell}={plain},"",{beside}),"")'
        if isinstance(value, Decimal) and value != plain:
            said += f"{before}{value.normalize():f}{after}"
    sheet.put(at, STEP, said, look_of(Role.LABEL, Show.TEXT, STEP), formula=formula)
    sheet.merged.append((at, STEP, at, MINUTES - 1))
    sheet.put(at, TOOK, None, Look(Role.TICK))


def _minutes(page: Page, stage: Row, count: Count, *, planned: bool) -> None:
    """A step's minutes for so many batches; in a plan, what they share is counted once."""
    at = page.sheet.next_row, MINUTES
    if planned:
        of_plan = stage.links[f"plan_{stage.table}"], "work_minutes"
        page.figure(at, of_plan, Show.NUMBER, look=Look(Role.COMPUTED, Show.NUMBER))
    else:
        _times(page, at, (stage, "work_minutes"), count)


BESIDE_A_STEP = (("people", 1, ", ", " people"), ("waiting_minutes", 0, ", then wait ", " min"))
"""What is said of a step beside its minutes, unless it is the plain case."""


def _notes(page: Page, recipe: Row) -> None:
    """What the person noted beside each line, and a box to write in."""
    sheet = page.sheet
    for row in _lines(page, recipe):
        _note(page, str(row.fixed["uses"]), row, row.sources["Recipes"])
    batch = recipe.links["batches"]
    _note(page, "Batch", batch, batch.sources.get("Batches"))
    sheet.put(sheet.next_row, 0, "Notes", Look(Role.TICK))
    sheet.merged.append((sheet.next_row, 0, sheet.next_row, LAST))
    sheet.heights[sheet.next_row] = NOTES_ROW
    sheet.next_row += 1


def _note(page: Page, about: str, row: Row, record: Record | None) -> None:
    """A note of the person's on a row of theirs, as it stands there now."""
    if record is None or not record.text("note"):
        return
    sheet, at = page.sheet, page.sheet.next_row
    cell = page.context.typed_cell(row, record, "note")
    formula = f'=IFERROR({quoted(f"{about}: ")}&{text_of(cell)},"")' if cell else ""
    note = f"{about}: {record.text('note')}"
    sheet.put(at, 0, note, Look(Role.NOTE, wrap=True), formula=formula)
    sheet.merged.append((at, 0, at, LAST))
    sheet.next_row += 1
