"""One number → one damaged workbook: in its cells, its XML, or its zip."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Final

from tests.reading.attacks import parts_of, rebuilt

__all__ = ["mutated"]

SAMPLES: Final = Path(__file__).parents[2] / "sample_workbooks"
_BASES: Final = ("starter",) * 8 + ("everything_wrong", "market_stall")

_VALUES: Final = (
    *("", "0", "-1", "1", "1e308", "1e-320", "NaN", "inf", "9" * 400, "46331", "60", "-46331"),
    *("3000000", "0.1", "TRUE", "#N/A", "#REF!", "abc", "1,5", "1 1/2", "0x10", "\u0661", "½", " "),
)
_TEXTS: Final = (
    *(
        "",
        " ",
        "\u00a0",
        "½–1 tsp",
        "2 x 18 ct",
        "5 lb bag",
        "#10",
        "a pinch",
        "12/32 oz",
        "1 case",
    ),
    *("3/4/26", "1.234,50", "1,234.50", "$3.99/lb", "2/$5", "(1.99)", "89 %", "11% waste", "=1+1"),
    *(
        "@x",
        "*",
        "?",
        "~",
        "k",
        "all",
        "Total",
        "Recipe",
        "Uses",
        "Amount",
        "x" * 40_000,
        "\U0001f95a",
    ),
    *("\u202eabc", "e\u0301" * 50, "(" * 500, "1/0", "1/", "9" * 300, "-" * 300, "1 x " * 100, "'"),
    *("½" * 200, "Flour (example)", "1-1/2-1/2", "|", "T", "t", "tbsp/", "per", "1e400 g", "∞"),
)
_TYPES: Final = ("s", "str", "n", "b", "e", "d", "inlineStr", "x", "")
_SNIPPETS: Final = (
    *(b"<", b">", b"&", b"&amp;", b"&#0;", b"&#xD800;", b"</row>", b"<row>", b"<c/>", b"\x00"),
    *(b"<!--", b"]]>", b"\xff\xfe", b"<v>1</v>", b"<f>A1</f>", b"<is><t>x</t></is>", b" r='A0'"),
    *(b" r='XFD1048576'", b" s='99999'", b" t='s'", b"<sheetData/>", b"<mergeCell/>", b"9" * 40),
)


@cache
def _base(name: str) -> bytes:
    return (SAMPLES / f"{name}.xlsx").read_bytes()


def mutated(number: int) -> bytes:
    """The damaged workbook of a number."""
    random = Random(number)
    workbook = _base(random.choice(_BASES))
    damage: Callable[[bytes, Random], bytes] = random.choice(
        (_in_cells, _in_cells, _in_texts, _in_xml, _in_zip)
    )
    for _ in range(random.choice((1, 1, 2, 5))):
        workbook = damage(workbook, random)
    return workbook


def _with_part(
    workbook: bytes, random: Random, which: str, change: Callable[[bytes], bytes]
) -> bytes:
    parts = _parts(workbook)
    names = [name for name in parts if re.search(which, name)]
    if names:
        name = random.choice(names)
        parts[name] = change(parts[name])
    return rebuilt(parts) if parts else workbook


def _parts(workbook: bytes) -> dict[str, bytes]:
    """Its parts; none where an earlier damage left no zip."""
    try:
        return parts_of(workbook)
    except Exception:  # noqa: BLE001 - zipfile raises many kinds
        return {}


def _in_cells(workbook: bytes, random: Random) -> bytes:
    """Values, types and addresses of some cells of one sheet."""

    def change(data: bytes) -> bytes:
        text = data.decode("utf-8", "replace")
        kind = random.randrange(4)
        share = random.choice((0.01, 0.1, 1))

        def some(found: re.Match[str], instead: Callable[[], str]) -> str:
            return instead() if random.random() < share else found[0]

        if kind == 0:
            new: Callable[[], str] = lambda: f"<v>{random.choice(_VALUES)}</v>"  # noqa: E731
            text = re.sub("<v>[^<]*</v>", lambda found: some(found, new), text)
        elif kind == 1:
            new = lambda: f' t="{random.choice(_TYPES)}"'  # noqa: E731
            text = re.sub(' t="[a-z]*"', lambda found: some(found, new), text)
        elif kind == 2:
            new = lambda: f' r="{random.choice("ABCZ")}{random.randrange(2000)}"'  # noqa: E731
            text = re.sub(' r="[A-Z]+[0-9]+"', lambda found: some(found, new), text)
        else:
            text = re.sub("<c [^>]*>.*?</c>", lambda found: some(found, str), text)
        return text.encode("utf-8")

    return _with_part(workbook, random, "worksheets/sheet", change)


def _in_texts(workbook: bytes, random: Random) -> bytes:
    """Some of the texts that the sheets share."""

    def change(data: bytes) -> bytes:
        text = data.decode("utf-8", "replace")
        share = random.choice((0.02, 0.2, 1))

        def other(found: re.Match[str]) -> str:
            if random.random() >= share:
                return found[0]
            return f"<t>{random.choice(_TEXTS).replace('&', '&amp;').replace('<', '&lt;')}</t>"

        return re.sub("<t[^>]*>[^<]*</t>", other, text).encode("utf-8")

    return _with_part(workbook, random, "sharedStrings", change)


def _in_xml(workbook: bytes, random: Random) -> bytes:
    """Bytes of any part: changed, taken out, put in, or cut off."""
    return _with_part(workbook, random, r"\.(?:xml|rels)$", lambda data: _bytes(data, random))


def _bytes(data: bytes, random: Random) -> bytes:
    at = random.randrange(len(data) + 1)
    match random.randrange(5):
        case 0:
            return data[:at]
        case 1:
            return data[:at] + random.choice(_SNIPPETS) + data[at:]
        case 2:
            return data[:at] + data[at + random.choice((1, 10, 200)) :]
        case 3:
            return data[:at] + bytes([random.randrange(256)]) + data[at + 1 :]
        case _:
            tags = re.findall(rb"<[A-Za-z:]+[^<>]*>", data) or [b""]
            return data.replace(random.choice(tags), random.choice((b"", *tags)), 1)


def _in_zip(workbook: bytes, random: Random) -> bytes:
    """The file itself, or which parts it has."""
    if random.random() < 0.5:
        return _bytes(workbook, random)
    parts = _parts(workbook)
    names = list(parts)
    if not names:
        return workbook
    one, other = random.choice(names), random.choice(names)
    match random.randrange(4):
        case 0:
            del parts[one]
        case 1:
            parts[one], parts[other] = parts[other], parts[one]
        case 2:
            parts[random.choice((one.upper(), "/" + one, one + "/", "x/../" + one))] = parts.pop(
                one
            )
        case _:
            parts[f"copy of {one}"] = parts[one]
    return rebuilt(parts)
