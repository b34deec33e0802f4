"""What each entry of the menu does."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from costbook.addon.office.asking import ask
from costbook.addon.office.desk import Desk
from costbook.addon.office.formulas import in_calc, same_formula
from costbook.addon.office.updating import STEP, VERSION, add, update
from costbook.addon.office.windows import Button, Window

__all__ = ["COMMANDS"]


def update_costs(desk: Desk) -> None:
    """Cost the document as it is, and draw our sheets into it."""
    ask(desk, STEP, ["describe", "{book}"], lambda said: _drawn(desk, said))


def _drawn(desk: Desk, said: dict[str, Any]) -> None:
    drawn = said["drawn"]
    if not _can_draw(desk, STEP, drawn):
        return
    update(desk.document, drawn, desk.tell, desk.later)
    wrong = [each for each in said["problems"] if each["severity"] == "wrong"]
    if wrong:
        show_problems(
            desk, STEP, f"Costs are updated. {_count(said['problems'])}", said["problems"]
        )


def _can_draw(desk: Desk, title: str, drawn: dict[str, Any]) -> bool:
    """Whether the sheets are described as this add-on knows it; it is said where they aren't."""
    if drawn["version"] == VERSION:
        return True
    Window(desk, title, _OTHER_VERSION)
    return False


_OTHER_VERSION: Final = (
    "This add-on and costbook are not of one version, so nothing was changed. Close LibreOffice, "
    "and install the add-on again: python3 -m costbook addon"
)


def check(desk: Desk) -> None:
    """Say what is wrong or doubtful."""
    ask(desk, "Check", ["check", "{book}"], lambda said: _checked(desk, said))


def _checked(desk: Desk, said: dict[str, Any]) -> None:
    show_problems(desk, "Check", _count(said["problems"]), said["problems"])


def _count(problems: list[dict[str, Any]]) -> str:
    wrong = sum(each["severity"] == "wrong" for each in problems)
    if not problems:
        return "Nothing is wrong, and nothing is doubtful."
    return (
        f"{wrong} wrong, {len(problems) - wrong} to look at. Double-click a line to go to its cell."
    )


def show_problems(desk: Desk, title: str, text: str, problems: list[dict[str, Any]]) -> None:
    """A window with the problems; the one that is chosen can be gone to."""

    lines = [_line(each) for each in problems]
    cells = [f"{each['sheet']}!{each['cell']}" if each["sheet"] else "" for each in problems]
    _window_of_lines(desk, title, text, lines, cells)


def _window_of_lines(desk: Desk, title: str, text: str, lines: list[str], cells: list[str]) -> None:
    """A window with lines, each of which may lead to a cell."""

    def go(chosen: int) -> None:
        if chosen >= 0 and cells[chosen]:
            desk.go_to(*cells[chosen].rsplit("!", 1))

    Window(desk, title, text, lines, [Button("Go to the cell", go)] if lines else [])


def _line(problem: dict[str, Any]) -> str:
    where = "!".join(filter(None, (problem["sheet"], problem["cell"])))
    mark = "" if problem["severity"] == "wrong" else "check: "
    return " ".join(
        filter(None, (f"{mark}{where}:" if where else mark, problem["what"], problem["remedy"]))
    )


_WHERE: Final = "Where does this come from?"


def explain(desk: Desk) -> None:
    """Say what the figure in the selected cell rests on, or what a typed one goes into."""
    cell, formula = desk.selected()
    if not cell:
        Window(desk, _WHERE, "Select one cell: a figure of costbook's, or one that you typed.")
        return
    words = ["explain", "{book}", "--cell", cell]
    ask(desk, _WHERE, words, lambda said: _explained(desk, formula, said))


def _explained(desk: Desk, formula: str, said: dict[str, Any]) -> None:
    if said["formula"] and not same_formula(in_calc(said["formula"]), formula):
        Window(desk, _WHERE, f"{said['cell']} {_FROM_BEFORE}")
        return
    lines, cells = [], []
    for each in said["lines"]:
        lines += ["   " * each["depth"] + each["words"], *(f"{_ARROW}{at}" for at in each["cells"])]
        cells += [next(iter(each["cells"]), ""), *each["cells"]]
    _window_of_lines(desk, _WHERE, said["about"], lines, cells)


_ARROW: Final = "            → "
_FROM_BEFORE: Final = (
    "is of before you last changed the workbook. Choose Update costs, and ask again."
)


def pack(desk: Desk) -> None:
    """Say which pack of the selected item is really cheapest."""
    _about_selected(desk, "Which pack?", "compare", _compared)


def _compared(desk: Desk, title: str, said: dict[str, Any]) -> None:
    item = said["items"][0]
    Window(desk, title, f"{item['item']}. {item['in_words']}")


def _about_selected(
    desk: Desk, title: str, command: str, show: Callable[[Desk, str, dict[str, Any]], None]
) -> None:
    name = desk.named()
    if not name:
        Window(desk, title, "Select a cell that names a product or an item, or one in its row.")
        return
    ask(desk, title, [command, "{book}", name], lambda said: show(desk, title, said))


def _shows(title: str, where: str = "") -> Callable[[Desk], None]:
    """A command that goes to a sheet of ours, which is made ``where`` the workbook has what for."""

    def show(desk: Desk) -> None:
        sheet = desk.ours(title)
        if sheet is None:
            Window(desk, title, f"Choose Update costs first: it makes the sheet {title}{where}.")
        else:
            desk.go_to(sheet.Name, "A1")

    return show


_ADD: Final = "Add a sheet"


def add_sheet(desk: Desk) -> None:
    """Offer the sheets to fill in that the document lacks, and draw the one that is chosen."""
    ask(desk, _ADD, ["describe", "{book}", "--blank"], lambda said: _offered(desk, said))


def _offered(desk: Desk, said: dict[str, Any]) -> None:
    lacking, drawn = said["lacking"], said["drawn"]
    if not _can_draw(desk, _ADD, drawn):
        return
    if not lacking:
        Window(desk, _ADD, "Every sheet that there is to fill in is here already.")
        return

    def draw(chosen: int) -> None:
        if chosen >= 0:
            title = lacking[chosen]["title"]
            add(desk.document, drawn, title, desk.tell, desk.later, _ADD)
            desk.done()
            desk.go_to(title, "A2")

    lines = [f"{each['title']}: a row is {each['row_is']}" for each in lacking]
    text = "Sheets to fill in that this workbook doesn't have yet. One Undo takes it away again."
    Window(desk, _ADD, text, lines, [Button("Add the sheet", draw, closes=True)])


def new(desk: Desk) -> None:
    """A blank workbook to fill in, not saved yet."""
    ask(desk, "New costing workbook", ["new", "{folder}/new costing.xlsx"], desk.open_copy)


COMMANDS: Final[dict[str, Callable[[Desk], None]]] = {
    "update": update_costs,
    "check": check,
    "explain": explain,
    "pack": pack,
    "moved": _shows("What moved"),
    "try": _shows("Try a change"),
    "week": _shows("The week", ", where there is a sheet Plan"),
    "buy": _shows("Buy list", ", where there is a sheet Plan, or a Par on Items"),
    "labels": _shows("Labels", ", where Items has a Label name"),
    "season": _shows("Season", ", where there is a sheet Market days"),
    "freezer": _shows("Freezer", ", where there is a sheet Made, Counts or Tests"),
    "year": _shows("The year", ", where there is a sheet Market days"),
    "add": add_sheet,
    "new": new,
    "about": _shows("About"),
}
