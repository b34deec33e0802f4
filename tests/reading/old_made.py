"""A writer of old workbooks (.xls), just large enough to make hostile ones.

Format: [MS-CFB] for the container, [MS-XLS] for the records.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Sequence

__all__ = ["label", "number", "old_workbook", "packed_numbers", "record", "row_of"]

_SECTOR = 512
_END, _FAT, _FREE = 0xFFFFFFFE, 0xFFFFFFFD, 0xFFFFFFFF


def record(code: int, data: bytes = b"") -> bytes:
    return struct.pack("<HH", code, len(data)) + data


def number(row: int, column: int, value: float) -> bytes:
    return record(0x203, struct.pack("<HHHd", row, column, 0, value))


def packed_numbers(row: int, columns: int) -> bytes:
    """A row of ones, six bytes each."""
    cells = struct.pack("<HI", 0, 0x3FF00000) * columns
    return record(0xBD, struct.pack("<HH", row, 0) + cells + struct.pack("<H", columns - 1))


def label(row: int, column: int, text: str) -> bytes:
    data = text.encode("utf-16-le")
    return record(0x204, struct.pack("<HHHHB", row, column, 0, len(text), 1) + data)


def row_of(row: int, values: Sequence[object]) -> bytes:
    return b"".join(
        label(row, at, value) if isinstance(value, str) else number(row, at, float(str(value)))
        for at, value in enumerate(values)
        if value is not None
    )


def _bof(kind: int) -> bytes:
    return record(0x809, struct.pack("<HHHHII", 0x600, kind, 0x0DBB, 1996, 0, 6))


def _bounds(name: str, at: int) -> bytes:
    data = name.encode("utf-16-le")
    return record(0x85, struct.pack("<IHBB", at, 0, len(name), 1) + data)


def old_workbook(
    sheets: Iterable[tuple[str, bytes]], globals_: bytes = b"", *, same: bool = False
) -> bytes:
    """The file; each sheet's cells as records. `same`: every sheet is the first one's records."""
    held = list(sheets)
    head = _bof(5) + globals_
    at = len(head) + sum(len(_bounds(name, 0)) for name, _ in held) + 4
    begins: list[int] = []
    bodies: list[bytes] = []
    for _, cells in held:
        begins.append(begins[0] if same and begins else at)
        if not (same and bodies):
            bodies.append(_bof(0x10) + cells + record(0x0A))
            at += len(bodies[-1])
    bounds = b"".join(_bounds(name, start) for (name, _), start in zip(held, begins, strict=True))
    return _container(head + bounds + record(0x0A) + b"".join(bodies))


def _container(stream: bytes) -> bytes:
    stream += bytes(max(0, 4096 - len(stream)))
    data = -(-len(stream) // _SECTOR)
    tables = 1
    while tables * 128 < data + 1 + tables:
        tables += 1
    assert tables <= 109, "a file of more than 7 MB needs a second list of tables"
    chain = [*range(1, data), _END, _END, *[_FAT] * tables]
    chain += [_FREE] * (tables * 128 - len(chain))
    header = struct.pack(
        "<8s16sHHHHH6xIIIIIIIII",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",
        *(bytes(16), 0x3E, 3, 0xFFFE, 9, 6),
        *(0, tables, data, 0, 4096, _END, 0, _END, 0),
    )
    header += struct.pack("<109I", *range(data + 1, data + 1 + tables), *[_FREE] * (109 - tables))
    folder = _entry("Root Entry", 5, 1, _END, 0) + _entry("Workbook", 2, _FREE, 0, len(stream))
    folder += bytes(_SECTOR - len(folder))
    padded = stream + bytes(data * _SECTOR - len(stream))
    return header + padded + folder + struct.pack(f"<{len(chain)}I", *chain)


def _entry(name: str, kind: int, child: int, start: int, size: int) -> bytes:
    text = (name + "\0").encode("utf-16-le")
    return struct.pack(
        "<64sHBBIII16xI16xIQ", text, len(text), kind, 1, _FREE, _FREE, child, 0, start, size
    )
