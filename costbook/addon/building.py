"""The add-on as one file, an .oxt: what runs in LibreOffice, and what is said of it in XML."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from xml.sax.saxutils import quoteattr

__all__ = ["ENTRIES", "IDENTIFIER", "VERSION", "extension"]

VERSION: Final = "0.1.0"
"""Of costbook, and so of its add-on."""

IDENTIFIER: Final = "costbook.addon"
_OFFICE: Final = Path(__file__).parent / "office"
_EPOCH: Final = (2026, 1, 1, 0, 0, 0)
"""A fixed time, so that the same code gives the same file."""

ENTRIES: Final = {
    "update": "Update costs",
    "check": "Check",
    "explain": "Where does this come from?",
    "pack": "Which pack?",
    "moved": "What moved",
    "try": "Try a change",
    "week": "The week",
    "buy": "Buy list",
    "labels": "Labels",
    "season": "Season",
    "freezer": "Freezer",
    "year": "The year",
    "add": "Add a sheet",
    "new": "New costing workbook",
    "about": "About",
}
"""The menu: each command's name, and what it is called."""
_ON_THE_BAR: Final = ("update", "check", "explain", "pack", "moved", "try")
_SHEETS: Final = "com.sun.star.sheet.SpreadsheetDocument"
_BAR: Final = "costbook.addon.bar"

_XML: Final = '<?xml version="1.0" encoding="UTF-8"?>\n'
_NAMES: Final = (
    'xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"'
)


def extension(python: str, folder: str) -> bytes:
    """The file, which remembers where costbook is: its Python, and the folder that holds it."""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, text in _parts(python, folder):
            packed.writestr(zipfile.ZipInfo(name, _EPOCH), text, zipfile.ZIP_DEFLATED)
    return content.getvalue()


def _parts(python: str, folder: str) -> Iterator[tuple[str, str]]:
    yield "META-INF/manifest.xml", _manifest()
    yield "description.xml", _description()
    yield "Addons.xcu", _addons()
    yield "ProtocolHandler.xcu", _protocol()
    yield "CalcWindowState.xcu", _window_state()
    yield "place.json", json.dumps({"python": python, "folder": folder})
    inner = "pythonpath/costbook"
    yield f"{inner}/__init__.py", '"""The part of costbook that LibreOffice runs."""\n'
    yield f"{inner}/addon/__init__.py", '"""The add-on."""\n'
    for file in sorted(_OFFICE.glob("*.py")):
        text = file.read_text(encoding="utf-8")
        yield (
            ("component.py" if file.stem == "component" else f"{inner}/addon/office/{file.name}"),
            text,
        )


def _manifest() -> str:
    kind = "application/vnd.sun.star."
    files = {
        "component.py": f"{kind}uno-component;type=Python",
        **dict.fromkeys(
            ("Addons.xcu", "ProtocolHandler.xcu", "CalcWindowState.xcu"),
            f"{kind}configuration-data",
        ),
    }
    entries = "".join(
        f' <manifest:file-entry manifest:full-path="{name}" manifest:media-type="{media}"/>\n'
        for name, media in files.items()
    )
    return (
        f'{_XML}<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">\n'
        f"{entries}</manifest:manifest>\n"
    )


def _description() -> str:
    return (
        f'{_XML}<description xmlns="http://openoffice.org/extensions/description/2006">\n'
        f' <identifier value="{IDENTIFIER}"/>\n <version value="{VERSION}"/>\n'
        ' <display-name><name lang="en">costbook</name></display-name>\n'
        "</description>\n"
    )


def _data(name: str, package: str, inner: str) -> str:
    return (
        f'{_XML}<oor:component-data {_NAMES} oor:name="{name}" oor:package="{package}">\n'
        f"{inner}</oor:component-data>\n"
    )


def _node(name: str, *inner: str) -> str:
    return f'<node oor:name={quoteattr(name)} oor:op="replace">{"".join(inner)}</node>\n'


def _group(name: str, *inner: str) -> str:
    return f"<node oor:name={quoteattr(name)}>{''.join(inner)}</node>\n"


def _text(name: str, value: str, kind: str = "xs:string") -> str:
    lang = ' xml:lang="en-US"' if name in ("Title", "UIName") else ""
    return f'<prop oor:name="{name}" oor:type="{kind}"><value{lang}>{value}</value></prop>'


def _entry(number: int, command: str) -> str:
    return _node(
        f"m{number:02}",
        _text("URL", f"{IDENTIFIER}:{command}"),
        _text("Title", ENTRIES[command]),
        _text("Target", "_self"),
        _text("Context", _SHEETS),
    )


def _addons() -> str:
    menu = _node(
        IDENTIFIER,
        _text("Title", "costbook"),
        _text("Context", _SHEETS),
        _group("Submenu", *(_entry(at, name) for at, name in enumerate(ENTRIES, 1))),
    )
    bar = _node(_BAR, *(_entry(at, name) for at, name in enumerate(_ON_THE_BAR, 1)))
    inner = _group("AddonUI", _group("OfficeMenuBar", menu), _group("OfficeToolBar", bar))
    return _data("Addons", "org.openoffice.Office", inner)


def _protocol() -> str:
    handled = (
        '<prop oor:name="Protocols" oor:type="oor:string-list"><value>'
        f"{IDENTIFIER}:*</value></prop>"
    )
    inner = _group("HandlerSet", _node("costbook.addon.Commands", handled))
    return _data("ProtocolHandler", "org.openoffice.Office", inner)


def _window_state() -> str:
    """Where the toolbar is docked: below the others, at first."""
    state = _node(
        f"private:resource/toolbar/addon_{_BAR}",
        _text("UIName", "costbook"),
        _text("ContextSensitive", "false", "xs:boolean"),
        _text("Visible", "true", "xs:boolean"),
        _text("Docked", "true", "xs:boolean"),
        _text("DockPos", "0,2"),
        _text("Style", "1", "xs:int"),
    )
    inner = _group("UIElements", _group("States", state))
    return _data("CalcWindowState", "org.openoffice.Office.UI", inner)
