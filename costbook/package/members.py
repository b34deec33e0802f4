"""A workbook file as the zip package it is: its members, still compressed, in their order.

A member that isn't changed is copied as the bytes it was, still compressed, with its date. All
members are unfolded once, against their checksums, before anything is trusted; before that, the
file's list of them is: how many there are, what they are called, how far they would unfold, and
whether two of them share bytes.
"""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final

from costbook.package.damage import REPAIR, damaged, untrusted
from costbook.package.limits import MOST_BYTES, MOST_PARTS, USUAL_FOLDING
from costbook.problems import Refused

__all__ = [
    "OLD_CONTAINER",
    "Member",
    "Package",
    "fresh",
    "key",
    "listed_in",
    "pack",
    "read",
    "unfolded",
    "unfolding",
]

OLD_CONTAINER: Final = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How files begin that are no packages: old workbooks, and new ones that a password locks."""

_ENTRY: Final = b"PK\x01\x02"
_LOCAL: Final = struct.Struct("<4s5H3L2H")
_CENTRAL: Final = struct.Struct("<4s6H3L5H2L")
_END: Final = struct.Struct("<4s4H2LH")
_NAME_IS_UTF8: Final = 0x800
_ENCRYPTED: Final = 0x1
_COMPRESSION_HINTS: Final = 0x6
_PIECE: Final = 1024 * 1024
_FIRST_DAY: Final = 0x21  # 1 January 1980 in a zip's own form: no clock in what we write


@dataclass(frozen=True, slots=True)
class Member:
    """One file of the package: what the zip's directory says of it, as stored, and unfolded."""

    name: str
    raw: bytes
    kept: bytes | None
    """Its contents; None for a large picture and the like, unfolded only where it is looked at."""
    method: int = zipfile.ZIP_DEFLATED
    when: int = _FIRST_DAY << 16
    flags: int = 0
    made_by: int = 20
    inside: int = 0
    outside: int = 0
    size: int = 0
    checksum: int = 0
    """Of what is not kept."""

    @property
    def data(self) -> bytes:
        """The contents, unfolded."""
        return self.kept if self.kept is not None else zlib.decompress(self.raw, -zlib.MAX_WBITS)

    @property
    def sum_and_size(self) -> tuple[int, int]:
        """The contents' checksum, and how long they are."""
        kept = self.kept
        return (self.checksum, self.size) if kept is None else (zlib.crc32(kept), len(kept))


@dataclass(frozen=True, slots=True)
class Package:
    """The members in their order, found by name whatever its case, as the format asks."""

    members: tuple[Member, ...]
    by_key: dict[str, Member] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_key", {key(each.name): each for each in self.members})

    def __contains__(self, name: str) -> bool:
        return key(name) in self.by_key

    def data(self, name: str) -> bytes:
        """The unfolded bytes of a member. Raises Refused when it is missing."""
        member = self.by_key.get(key(name))
        if member is None:
            raise damaged(f"its part {name} is missing")
        return member.data


def key(name: str) -> str:
    """A part name as it is compared: any case, either slash, no slash in front."""
    return name.replace("\\", "/").lstrip("/").lower()


_NO_ZIP: Final = (
    *(zipfile.BadZipFile, NotImplementedError, ValueError, OSError, struct.error, IndexError),
)
"""What zipfile raises over a file that is none, or one of a kind that nobody writes."""


def read(data: bytes) -> Package:
    """The package of a file that this run made: see `unfolded`, and for others WorkbookFile."""
    return unfolded(data, listed_in(data))


def unfolded(data: bytes, listed: Iterable[zipfile.ZipInfo]) -> Package:
    """The package, every checksum checked. Raises Refused: damaged, encrypted."""
    return Package(tuple(_member(data, each) for each in listed))


def listed_in(data: bytes) -> list[zipfile.ZipInfo]:
    """The file's own list of its members, before any of them is unfolded.

    Raises Refused: no zip, unfolding beyond the limit, climbing names, parts that overlap.
    """
    if data.count(_ENTRY) > MOST_PARTS:
        raise untrusted(f"it holds more than {MOST_PARTS:,} parts")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            listed = archive.infolist()
    except _NO_ZIP as error:
        raise Refused("The workbook is damaged or is no .xlsx file.", REPAIR) from error
    _refuse_names(listed)
    _refuse_bomb(listed)
    _refuse_overlap(data, listed)
    return listed


def _refuse_names(listed: list[zipfile.ZipInfo]) -> None:
    seen: set[str] = set()
    for each in listed:
        steps = each.filename.replace("\\", "/").split("/")
        if ".." in steps or not steps[0] or ":" in steps[0]:
            raise untrusted(f"it holds a name that leads outside it ({each.filename})")
        if key(each.filename) in seen:
            raise damaged(f"it holds {each.filename} more than once")
        seen.add(key(each.filename))


def _refuse_bomb(listed: list[zipfile.ZipInfo]) -> None:
    folded = sum(each.compress_size for each in listed)
    if sum(each.file_size for each in listed) > max(MOST_BYTES, folded * USUAL_FOLDING):
        raise Refused(
            f"The file can't be trusted: it unfolds to more than {MOST_BYTES // 1024**2} MB.",
            "If it is your own, delete rows and sheets that are no longer needed, or start a new"
            " workbook for the new year.",
        )


def _refuse_overlap(data: bytes, listed: list[zipfile.ZipInfo]) -> None:
    end = 0
    for each in sorted(listed, key=lambda info: info.header_offset):
        if each.header_offset < end:
            raise damaged("parts of the file overlap")
        end = _start(data, each) + each.compress_size


def _start(data: bytes, listed: zipfile.ZipInfo) -> int:
    """Where a member's stored bytes begin."""
    head = data[listed.header_offset : listed.header_offset + _LOCAL.size]
    if len(head) < _LOCAL.size or not head.startswith(b"PK\x03\x04"):
        raise damaged(f"its part {listed.filename} can't be read")
    *_, name, extra = _LOCAL.unpack(head)
    return listed.header_offset + _LOCAL.size + int(name) + int(extra)


def _member(data: bytes, listed: zipfile.ZipInfo) -> Member:
    if listed.flag_bits & _ENCRYPTED:
        raise Refused(
            "The workbook is locked with a password.",
            "Open it, remove the password, save it, and run costbook again.",
        )
    start = _start(data, listed)
    raw = data[start : start + listed.compress_size]
    year, month, day, hour, minute, second = listed.date_time
    date = (year - 1980) << 9 | month << 5 | day
    return Member(
        name=listed.filename,
        raw=raw,
        kept=_unfolded(raw, listed),
        method=listed.compress_type,
        when=date << 16 | hour << 11 | minute << 5 | second // 2,
        flags=listed.flag_bits & (_NAME_IS_UTF8 | _COMPRESSION_HINTS),
        made_by=listed.create_system << 8 | listed.create_version,
        inside=listed.internal_attr,
        outside=listed.external_attr,
        size=listed.file_size,
        checksum=listed.CRC,
    )


def _unfolded(raw: bytes, listed: zipfile.ZipInfo) -> bytes | None:
    """The member's contents, exactly as long as announced and with the announced checksum.

    None where they are large and no XML: they are looked at, but not kept.
    """
    if listed.compress_type == zipfile.ZIP_STORED:
        pieces = iter((raw,))
    elif listed.compress_type == zipfile.ZIP_DEFLATED:
        pieces = _inflated(raw, listed)
    else:
        raise damaged(f"its part {listed.filename} can't be read")
    first = next(pieces, b"")
    thrown = listed.file_size > _PIECE and len(raw) < listed.file_size and not _may_be_xml(first)
    kept = [first]
    size, checksum = len(first), zlib.crc32(first)
    for piece in pieces:
        size, checksum = size + len(piece), zlib.crc32(piece, checksum)
        if not thrown:
            kept.append(piece)
    if size != listed.file_size or checksum != listed.CRC:
        raise damaged(f"its part {listed.filename} can't be read")
    return None if thrown else b"".join(kept)


def _may_be_xml(first: bytes) -> bool:
    """Whether contents that begin so may be XML, in whatever encoding."""
    start = first.lstrip(b" \t\r\n\0\xff\xfe\xef\xbb\xbf")
    return start.startswith(b"<") or not (start or first.startswith(b"\0"))


def unfolding(data: bytes, listed: zipfile.ZipInfo) -> Iterator[bytes]:
    """A member's contents piece by piece, so that no more than a piece is held at a time."""
    start = _start(data, listed)
    raw = data[start : start + listed.compress_size]
    if listed.compress_type == zipfile.ZIP_DEFLATED:
        yield from _inflated(raw, listed)
    else:
        yield from (raw[at : at + _PIECE] for at in range(0, len(raw), _PIECE))


def _inflated(raw: bytes, listed: zipfile.ZipInfo) -> Iterator[bytes]:
    """Deflated bytes unfolded, up to one more than the member is said to have."""
    inflater = zlib.decompressobj(-zlib.MAX_WBITS)
    left = listed.file_size + 1
    try:
        while left and (piece := inflater.decompress(raw, min(_PIECE, left))):
            yield piece
            left -= len(piece)
            raw = inflater.unconsumed_tail
    except zlib.error as error:
        raise damaged(f"its part {listed.filename} can't be read") from error


def fresh(name: str, data: bytes) -> Member:
    """A new member: deflated, and dated 1980 so that the same contents give the same file."""
    squeeze = zlib.compressobj(6, zlib.DEFLATED, -zlib.MAX_WBITS)
    flags = 0 if name.isascii() else _NAME_IS_UTF8
    return Member(name, squeeze.compress(data) + squeeze.flush(), data, flags=flags)


def pack(members: Iterable[Member]) -> bytes:
    """The members as one file, in their order, each as it is stored."""
    body, directory, count = bytearray(), bytearray(), 0
    for each in members:
        name = each.name.encode("utf-8" if each.flags & _NAME_IS_UTF8 else "cp437")
        shared = (20, each.flags, each.method, each.when & 0xFFFF, each.when >> 16)
        checksum, size = each.sum_and_size
        sizes = (checksum, len(each.raw), size, len(name), 0)
        rest = (0, 0, each.inside, each.outside, len(body))
        directory += _CENTRAL.pack(_ENTRY, each.made_by, *shared, *sizes, *rest) + name
        body += _LOCAL.pack(b"PK\x03\x04", *shared, *sizes) + name + each.raw
        count += 1
    end = _END.pack(b"PK\x05\x06", 0, 0, count, count, len(directory), len(body), 0)
    return bytes(body + directory + end)
