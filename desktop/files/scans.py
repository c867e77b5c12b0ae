"""Scans from outside: told by what stands in them, with limits, and never opened or drawn.

A file is taken when it begins and ends as its kind does and its size of picture can be read and is sane. Sources: PDF
1.7 (ISO 32000-1) 7.5; PNG (ISO/IEC 15948) 5.2, 5.3 and 11.2.2; JPEG (ITU-T T.81) B.1 and B.2.
"""

import re
import zlib
from collections.abc import Callable
from pathlib import Path
from stat import S_ISREG

from desktop.core.errors import Refusal
from desktop.core.shop.orders.ink import Scan, ScanKind

MOST_BYTES = 20_000_000
MOST_SIDE = 10_000
MOST_PAGES = 200
MOST_PARTS = 50_000
"""Most chunks or segments that are looked at."""
_TAIL = 1024
_PDF_HEAD = re.compile(rb"%PDF-[12]\.[0-9][\r\n \t]")
_PDF_END = re.compile(rb"startxref\s{1,8}([0-9]{1,10})\s{1,8}%%EOF\s{0,64}\Z")
_PAGE = re.compile(rb"/Type\s{0,16}/Page(?![A-Za-z])")
_COUNT = re.compile(rb"/Count\s{0,16}([0-9]{1,10})")
_ACTS = (b"/JavaScript", b"/Launch", b"/EmbeddedFile", b"/RichMedia")
_PNG_HEAD = b"\x89PNG\r\n\x1a\n"
_PNG_DEPTHS = {0: (1, 2, 4, 8, 16), 2: (8, 16), 3: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
_IHDR_BYTES = 13
_JPEG_HEAD, _JPEG_END = b"\xff\xd8\xff", b"\xff\xd9"
_SOF = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
_SOS, _MARKER = 0xDA, 0xFF
_ALONE = {0x01, *range(0xD0, 0xDA)}
_KINDS = "A scan is a PDF, PNG or JPEG file."
_HOW = f"{_KINDS} Scan the paper again, or record it without a scan."


def read_scan(place: Path) -> Scan:
    """Return the scan in a file. Raise Refusal for a file that cannot be read, is too large, or is no scan."""
    try:
        found = place.stat()
        if not S_ISREG(found.st_mode):
            raise Refusal(f"{place}: this is not a file. Name a scan.")
        with place.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except (OSError, ValueError) as trouble:
        reason = trouble.strerror if isinstance(trouble, OSError) and trouble.strerror else "its name cannot be used"
        raise Refusal(f"{place}: cannot be read: {reason}. Check the name and the rights.") from trouble
    try:
        return scan_of(data)
    except Refusal as refusal:
        raise Refusal(f"{place}: {refusal.sentence}") from refusal


def scan_of(data: bytes) -> Scan:
    """Return bytes as a scan, told by what stands in them. Raise Refusal for anything that is none."""
    if len(data) > MOST_BYTES:
        raise Refusal(f"the scan is larger than {MOST_BYTES // 1_000_000} MB. Scan the paper again with fewer dots.")
    for head, kind, look in _LOOKS:
        if data.startswith(head):
            look(data)
            return Scan(kind, data)
    raise Refusal(f"this is no scan by what stands in it. {_HOW}")


def _look_at_pdf(data: bytes) -> None:
    end = _PDF_END.search(data[-_TAIL:])
    if not _PDF_HEAD.match(data) or end is None or not 0 < int(end[1]) < len(data):
        raise Refusal(f"the PDF is cut or damaged. {_HOW}")
    # Pages inside packed objects are not counted: the file is never opened here.
    pages = sum(1 for _ in _PAGE.finditer(data))
    counted = max((int(found[1]) for found in _COUNT.finditer(data)), default=0)
    if max(pages, counted) > MOST_PAGES:
        raise Refusal(f"the PDF has more than {MOST_PAGES} pages. Scan the signed paper alone.")
    if any(act in data for act in _ACTS):
        raise Refusal(f"the PDF carries a program or another file inside. {_HOW}")


def _look_at_png(data: bytes) -> None:
    at, names = len(_PNG_HEAD), list[bytes]()
    while at < len(data) and len(names) < MOST_PARTS:
        length, name = int.from_bytes(data[at : at + 4], "big"), data[at + 4 : at + 8]
        end = at + 8 + length
        if end + 4 > len(data) or zlib.crc32(data[at + 4 : end]) != int.from_bytes(data[end : end + 4], "big"):
            raise Refusal(f"the PNG is cut or damaged. {_HOW}")
        if not names:
            _look_at_png_head(name, data[at + 8 : end])
        names.append(name)
        at = end + 4
        if name == b"IEND":
            break
    whole = at == len(data) and names[-1:] == [b"IEND"] and b"IDAT" in names and names.count(b"IHDR") == 1
    if not whole:
        raise Refusal(f"the PNG does not end as it should, or holds no picture. {_HOW}")


def _look_at_png_head(name: bytes, head: bytes) -> None:
    if name != b"IHDR" or len(head) != _IHDR_BYTES or head[8] not in _PNG_DEPTHS.get(head[9], ()) or any(head[10:12]):
        raise Refusal(f"the PNG does not begin as it should. {_HOW}")
    _refuse_size(int.from_bytes(head[:4], "big"), int.from_bytes(head[4:8], "big"))


def _look_at_jpeg(data: bytes) -> None:
    at, sizes, parts = 2, 0, 0
    while parts < MOST_PARTS:
        parts += 1
        if at + 4 > len(data) or data[at] != _MARKER:
            break
        marker = data[at + 1]
        if marker == _MARKER or marker in _ALONE:
            at += 1 if marker == _MARKER else 2
            continue
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if marker in _SOF:
            _refuse_size(int.from_bytes(data[at + 7 : at + 9], "big"), int.from_bytes(data[at + 5 : at + 7], "big"))
            sizes += 1
        if length < 2 or at + 2 + length > len(data):  # noqa: PLR2004 - the length counts itself
            break
        if marker == _SOS:
            if sizes and data.endswith(_JPEG_END):
                return
            break
        at += 2 + length
    raise Refusal(f"the JPEG is cut or damaged. {_HOW}")


def _refuse_size(width: int, height: int) -> None:
    if not (0 < width <= MOST_SIDE and 0 < height <= MOST_SIDE):
        raise Refusal(
            f"the picture has {width} by {height} dots, and {MOST_SIDE} by {MOST_SIDE} is the most. "
            "Scan the paper again with fewer dots."
        )


_LOOKS: tuple[tuple[bytes, ScanKind, Callable[[bytes], None]], ...] = (
    (b"%PDF-", ScanKind.PDF, _look_at_pdf),
    (_PNG_HEAD, ScanKind.PNG, _look_at_png),
    (_JPEG_HEAD, ScanKind.JPEG, _look_at_jpeg),
)
