"""Tables → records: each cell parsed once, into an exact value or a question.

A value is read, or the cell is asked about: nothing is guessed, and an unknown never becomes a
zero. What was typed as text and understood is remembered as a Reading, so that the sheets can
show it and look it up again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from costbook.book import Reading, Record, SheetAsRead, Value, escaped
from costbook.definitions.columns import Field, InputSheet, Kind, Least
from costbook.problems import Place, Problem, Severity
from costbook.reading.cells import Cell, CellError, Grid, column_letter
from costbook.reading.dates import DateOrder, date_order, read_date
from costbook.reading.numbers import (
    Money,
    NumberStyle,
    Unclear,
    number_style,
    read_number,
    read_price,
    read_share,
    share,
)
from costbook.reading.quantities import Allowance, Quantity, read_amount, read_pack_size
from costbook.reading.tables import FoundTable, find_table, heading_key

__all__ = ["SheetReader", "reading_key"]

NUMERIC = (Kind.NUMBER, Kind.MONEY, Kind.SHARE, Kind.SIZE, Kind.AMOUNT)


def reading_key(sheet: str, name: str, typed: str, beside: tuple[str, ...]) -> str:
    """What a text that was read is looked up by; the writer's formula builds the same.

    T and t differ in kitchens but not in look-ups, so a capital T is marked.
    """
    marked = escaped("|".join((typed, *beside))).replace("T", "T^")
    return f"{sheet}.{name}|{marked}"


def shown_number(number: Decimal) -> str:
    """A number as a cell gives it when it is joined to a text."""
    return f"{float(number):.15g}"


@dataclass(frozen=True, slots=True)
class _Parsed:
    """What a text was read as."""

    value: Decimal
    count: Decimal | None = None
    unit: str = ""
    shown: str = ""


@dataclass(slots=True)
class SheetReader:
    """Reads one input sheet."""

    sheet: InputSheet
    grid: Grid
    day_zero: date
    problems: list[Problem] = field(default_factory=list)
    readings: dict[str, Reading] = field(default_factory=dict)
    style: NumberStyle = NumberStyle.UNKNOWN
    order: DateOrder = DateOrder.UNKNOWN

    def read(self) -> SheetAsRead:
        """The sheet's records. A sheet without headings gives none, and says so."""
        if self.sheet.upright:
            return self._read_upright()
        table = find_table(self.sheet, self.grid)
        if table is None:
            return self._without_table()
        self._say_headings(table)
        texts = list(self._texts(table))
        self.style = number_style(text for kind, text in texts if kind in NUMERIC)
        self.order = date_order(text for kind, text in texts if kind is Kind.DATE)
        rows = [number for number in sorted(self.grid.rows) if number > table.heading_row]
        records = [record for number in rows if (record := self._record(table, number))]
        columns = {name: column_letter(at) for name, at in table.columns.items()}
        last = max(rows, default=table.heading_row)
        naming = table.columns.get(self.sheet.naming_field.name, 0)
        return SheetAsRead(
            self.sheet.title,
            self.grid.tab,
            tuple(records),
            columns,
            table.heading_row,
            last,
            column_letter(naming),
            sum(naming in cells for cells in self.grid.rows.values()),
        )

    # ------------------------------------------------------------ layout

    def _without_table(self) -> SheetAsRead:
        if self.grid.rows:
            wanted = ", ".join(each.title for each in self.sheet.fields if each.needed)
            self._say(
                Severity.WRONG,
                "",
                "no row of headings was found.",
                f"Put these above the table: {wanted}.",
            )
        return SheetAsRead(self.sheet.title, self.grid.tab, ())

    def _say_headings(self, table: FoundTable) -> None:
        for missing in table.missing:
            self._say(
                Severity.WRONG,
                f"A{table.heading_row}",
                f'there is no heading "{missing.title}".',
                "Add it above its column.",
            )
        for name, at in table.near.items():
            heading = self.grid.rows[table.heading_row][at]
            self._say(
                Severity.DOUBTFUL,
                f"{column_letter(at)}{table.heading_row}",
                f'"{heading}" was read as "{self.sheet.field(name).title}".',
                "Rename the heading if that is not what it is.",
            )
        for name, at in table.twice.items():
            self._say(
                Severity.DOUBTFUL,
                f"{column_letter(at)}{table.heading_row}",
                f'"{self.sheet.field(name).title}" stands twice among the headings; '
                f"column {column_letter(table.columns[name])} was read.",
                "Rename one of them.",
            )

    def _texts(self, table: FoundTable) -> Iterator[tuple[Kind, str]]:
        for name, at in table.columns.items():
            kind = self.sheet.field(name).kind
            for number, cells in self.grid.rows.items():
                cell = cells.get(at)
                if number > table.heading_row and isinstance(cell, str):
                    yield kind, cell

    def _read_upright(self) -> SheetAsRead:
        """Settings: a name and a value a row, the names anywhere in the first column used."""
        by_key = {}
        for each in self.sheet.fields:
            for title in (each.title, *each.also):
                by_key[heading_key(title)] = each
        cells: dict[str, str] = {}
        found: dict[str, tuple[Field, Cell]] = {}
        for number, row in sorted(self.grid.rows.items()):
            names = [
                (at, by_key.get(heading_key(cell)))
                for at, cell in sorted(row.items())
                if isinstance(cell, str)
            ]
            at, setting = next(((at, each) for at, each in names if each), (0, None))
            if setting is None or setting.name in cells:
                self._say_unknown_setting(number, row)
                continue
            cells[setting.name] = f"{column_letter(at + 1)}{number}"
            if at + 1 in row:
                found[setting.name] = (setting, row[at + 1])
        texts = [
            cell for each, cell in found.values() if isinstance(cell, str) and each.kind in NUMERIC
        ]
        self.style = number_style(texts)
        raw = {name: cell for name, (_, cell) in found.items()}
        record = self._parse(1, raw, cells)
        return SheetAsRead(self.sheet.title, self.grid.tab, (record,))

    def _say_unknown_setting(self, number: int, row: Mapping[int, Cell]) -> None:
        first = next((cell for _, cell in sorted(row.items()) if isinstance(cell, str)), "")
        if len(row) < 2 or heading_key(first) in ("", "setting", "settings"):
            return
        near = _near(first, [each.title for each in self.sheet.fields])
        self._say(
            Severity.DOUBTFUL,
            f"A{number}",
            f'no setting is called "{first}", or it stands here a second time; it was not read.',
            near or "Remove the row, or put your note beside a setting.",
        )

    # ------------------------------------------------------------ rows

    def _record(self, table: FoundTable, number: int) -> Record | None:
        row = self.grid.rows[number]
        raw = {name: row[at] for name, at in table.columns.items() if at in row}
        raw = {
            name: cell
            for name, cell in raw.items()
            if not (isinstance(cell, str) and not cell.replace("\u00a0", " ").strip())
        }
        if not raw or self._is_example(raw):
            return None
        cells = {name: f"{column_letter(at)}{number}" for name, at in table.columns.items()}
        return self._parse(number, raw, cells)

    def _is_example(self, raw: Mapping[str, Cell]) -> bool:
        """Is this the blank workbook's example row, untouched?"""
        if not any(isinstance(cell, str) and cell.endswith("(example)") for cell in raw.values()):
            return False
        return all(_is_example_value(each, raw.get(each.name)) for each in self.sheet.fields)

    def _parse(self, number: int, raw: Mapping[str, Cell], cells: Mapping[str, str]) -> Record:
        values: dict[str, Value] = {}
        texts: dict[str, str] = {}
        units: dict[str, str] = {}
        counts: dict[str, Decimal] = {}
        refused: dict[str, Decimal] = {}
        for each in self.sheet.fields:
            if each.name not in raw:
                continue
            cell = raw[each.name]
            place = cells[each.name]
            parsed = self._value(each, cell, place, raw)
            if isinstance(parsed, _Parsed):
                values[each.name] = value = self._within(each, parsed.value, place)
                texts[each.name] = str(cell)
                if not isinstance(value, Decimal):
                    continue
                self._remember(each, str(cell), value, parsed, raw, place)
                if parsed.unit:
                    units[each.name] = parsed.unit
                if parsed.count is not None:
                    counts[each.name] = parsed.count
            else:
                values[each.name] = parsed
                number_there = self._number_in(cell)
                if parsed is None and number_there is not None:
                    refused[each.name] = number_there
        return Record(self.sheet.title, number, values, cells, texts, units, counts, refused)

    def _number_in(self, cell: Cell) -> Decimal | None:
        """The number that a formula would see in a cell that is no number to us."""
        if isinstance(cell, bool):
            return Decimal(int(cell))
        return Decimal((cell - self.day_zero).days) if isinstance(cell, date) else None

    def _remember(
        self,
        each: Field,
        typed: str,
        value: Decimal,
        parsed: _Parsed,
        raw: Mapping[str, Cell],
        place: str,
    ) -> None:
        beside = tuple(_joined(raw.get(name)) for name in each.goes_with)
        key = reading_key(self.sheet.title, each.name, typed, beside)
        reading = Reading(
            self.sheet.title,
            each.name,
            key,
            typed,
            value,
            parsed.count,
            parsed.unit,
            parsed.shown,
            place,
        )
        self.readings.setdefault(key, reading)

    # ------------------------------------------------------------ cells

    def _value(
        self, each: Field, cell: Cell, place: str, raw: Mapping[str, Cell]
    ) -> Value | _Parsed:
        """The value of a cell; None once it has been asked about."""
        if isinstance(cell, CellError):
            return self._ask(
                place,
                f"the cell shows {cell.code}.",
                "Correct its formula, or type the value; then save and run again.",
            )
        if each.kind in (Kind.TEXT, Kind.NAME, Kind.UNIT):
            return _as_text(cell)
        if each.kind is Kind.CHOICE:
            return self._choice(each, cell, place)
        if each.kind is Kind.DATE:
            return self._date(cell, place)
        if isinstance(cell, bool):
            return self._ask(
                place, f"{str(cell).upper()} stands here, not a number.", "Type the number."
            )
        if isinstance(cell, date):
            return self._ask(
                place,
                f"a date stands here ({cell.day} {cell:%B %Y}); was this {_as_fraction(cell)}?",
                "Set the cell's format to number or text, and type the figure again.",
            )
        if isinstance(cell, Decimal):
            return self._within(each, cell, place)
        return self._from_text(each, cell, place, raw)

    def _within(self, each: Field, number: Decimal, place: str) -> Value:
        """The number, if the field may hold it; a share above its limit is a percentage."""
        value = share(number, each.limit) if each.kind is Kind.SHARE else number
        if (each.least is Least.ABOVE_ZERO and value <= 0) or (
            each.least is Least.ZERO and value < 0
        ):
            return self._ask(
                place,
                f"{each.title} is {shown_number(number)}.",
                f"Type {each.least.value}, or leave the cell empty.",
            )
        if each.kind is Kind.SHARE and value > each.limit:
            return self._ask(
                place,
                f"{each.title} is {shown_number(number)} %.",
                f"Type a percentage of {shown_number(each.limit * 100)} at most.",
            )
        return value

    def _date(self, cell: Cell, place: str) -> Value | _Parsed:
        if isinstance(cell, date):
            return Decimal((cell - self.day_zero).days)
        if isinstance(cell, Decimal):
            return (
                cell.to_integral_value()
                if cell > 0
                else self._ask(place, f"{cell} is no date.", "Type a date.")
            )
        answer = read_date(str(cell), self.order)
        if isinstance(answer, Unclear):
            return self._ask(place, answer.what, answer.remedy)
        return _Parsed(Decimal((answer - self.day_zero).days), shown=answer.isoformat())

    def _choice(self, each: Field, cell: Cell, place: str) -> Value:
        typed = _as_text(cell).strip().lower()
        for choice in each.choices:
            if typed in (choice.value, *choice.also):
                return choice.value
        wanted = ", ".join(choice.value for choice in each.choices)
        self._say(
            Severity.WRONG, place, f'"{_as_text(cell)}" is none of: {wanted}.', "Type one of them."
        )
        return ""

    def _from_text(
        self, each: Field, typed: str, place: str, raw: Mapping[str, Cell]
    ) -> Value | _Parsed:
        readers: Mapping[Kind, Callable[[str], object]] = {
            Kind.SIZE: lambda text: read_pack_size(text, self.style),
            Kind.AMOUNT: lambda text: read_amount(text, self.style),
            Kind.MONEY: lambda text: read_price(text, self.style),
            Kind.SHARE: lambda text: read_share(text, self.style, each.limit),
            Kind.NUMBER: lambda text: read_number(text, self.style),
        }
        answer = readers[each.kind](typed)
        match answer:
            case Unclear():
                return self._ask(place, answer.what, answer.remedy)
            case Allowance():
                self._say(
                    Severity.DOUBTFUL,
                    place,
                    f'"{typed}" is counted in the small-ingredient allowance.',
                    "Type an amount to have it costed by itself.",
                )
                return _Parsed(Decimal(0), unit="g", shown="in the allowance")
            case Quantity():
                return self._quantity(each, answer, place, raw)
            case Money():
                return self._money(answer, place, raw)
            case Decimal():
                return _Parsed(answer, shown=shown_number(answer))
        raise AssertionError(f"a reader answered {answer!r}")

    def _quantity(
        self, each: Field, quantity: Quantity, place: str, raw: Mapping[str, Cell]
    ) -> Value | _Parsed:
        """A text with a count, a size and perhaps a unit: the unit beside it must agree."""
        unit_field = each.goes_with[0] if each.goes_with else ""
        beside = _as_text(raw[unit_field]).strip() if unit_field in raw else ""
        unit = quantity.unit.name if quantity.unit else ""
        if unit and beside and not _same_unit(unit, beside):
            return self._ask(
                place,
                f'it says {unit}, and the unit beside it says "{beside}".',
                "Make the two agree, or keep the unit in one of them.",
            )
        count, size = quantity.count, quantity.size
        if each.kind is not Kind.SIZE or "pack_count" in raw:
            count, size = Decimal(1), count * size
        return _Parsed(size, count if count != 1 else None, unit, str(quantity))

    def _money(self, money: Money, place: str, raw: Mapping[str, Cell]) -> Value | _Parsed:
        """A price; one given by the pound or the like needs the pack's size."""
        if money.per is None:
            return _Parsed(money.amount, shown=shown_number(money.amount))
        held = self._held(raw, money)
        if held is None:
            return self._ask(
                place,
                f"the price is by the {money.per.name}, and the pack's size is not known in it.",
                "Type the price of the whole pack.",
            )
        price = money.amount * held
        return _Parsed(price, shown=f"{shown_number(price)} a pack")

    def _held(self, raw: Mapping[str, Cell], money: Money) -> Decimal | None:
        """How many of the price's unit one whole pack holds."""
        assert money.per is not None
        return _pack_holds(raw, money.per, self.style)

    # ------------------------------------------------------------ saying

    def _ask(self, place: str, what: str, remedy: str) -> Value:
        """Ask about a cell; what it holds is unknown until the person answers."""
        self._say(Severity.WRONG, place, what, remedy)
        return None

    def _say(self, severity: Severity, cell: str, what: str, remedy: str) -> None:
        self.problems.append(Problem(severity, Place(self.grid.tab, cell), what, remedy))


def _near(name: str, names: list[str]) -> str:
    from difflib import get_close_matches

    close = get_close_matches(name, names, n=1, cutoff=0.6)
    return f'Did you mean "{close[0]}"?' if close else ""


def _as_text(cell: Cell) -> str:
    if isinstance(cell, Decimal):
        return shown_number(cell)
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, date):
        return cell.isoformat()
    return " ".join(filter(None, str(cell).replace("\u00a0", " ").split(" ")))


def _joined(cell: Cell | None) -> str:
    """A cell as a formula joins it to a text."""
    if cell is None or isinstance(cell, CellError):
        return ""
    return cell if isinstance(cell, str) else _as_text(cell)


def _as_fraction(day: date) -> str:
    """What was probably typed before a program made a date of it: 2 January was 1/2."""
    return f"{day.month}/{day.day}"


def _is_example_value(each: Field, cell: Cell | None) -> bool:
    if cell is None:
        return each.example == ""
    if isinstance(cell, Decimal):
        return isinstance(each.example, (int, float)) and cell == Decimal(str(each.example))
    return str(cell) == str(each.example)


def _same_unit(name: str, beside: str) -> bool:
    from costbook.definitions.units import find_unit

    return find_unit(beside) == find_unit(name)


def _pack_holds(raw: Mapping[str, Cell], per: object, style: NumberStyle) -> Decimal | None:
    from costbook.definitions.units import Unit, find_unit

    assert isinstance(per, Unit)
    size, unit_cell, count = raw.get("pack_size"), raw.get("unit"), raw.get("pack_count")
    unit = find_unit(unit_cell) if isinstance(unit_cell, str) else None
    packs = count if isinstance(count, Decimal) else Decimal(1)
    if isinstance(size, str):
        answer = read_pack_size(size, style)
        if not isinstance(answer, Quantity):
            return None
        unit, size = answer.unit or unit, answer.count * answer.size
    if not isinstance(size, Decimal) or unit is None or unit.measure is not per.measure:
        return None
    return packs * size * unit.factor / per.factor
