"""Scans made by hand: sound ones, and hostile ones made from them."""

import random
import struct
import zlib
from collections.abc import Iterator

PNG_HEAD = b"\x89PNG\r\n\x1a\n"


def chunk(name: bytes, data: bytes) -> bytes:
    """Return a chunk of a PNG."""
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png(width: int = 3, height: int = 2, *, depth: int = 8, colour: int = 2) -> bytes:
    """Return a PNG of red dots."""
    head = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0)
    picture = zlib.compress(b"".join(b"\0" + b"\xff\0\0" * min(width, 50) for _ in range(min(height, 50))))
    return PNG_HEAD + chunk(b"IHDR", head) + chunk(b"IDAT", picture) + chunk(b"IEND", b"")


def segment(marker: int, data: bytes) -> bytes:
    """Return a segment of a JPEG."""
    return bytes((0xFF, marker)) + struct.pack(">H", len(data) + 2) + data


def jpeg(width: int = 3, height: int = 2, *, sof: int = 0xC0) -> bytes:
    """Return the bones of a JPEG: its segments in order, with a little in the place of the picture."""
    frame = struct.pack(">BHHB", 8, height, width, 1) + b"\x01\x11\x00"
    return b"".join(
        (
            b"\xff\xd8",
            segment(0xE0, b"JFIF\0\x01\x01\0\0\x01\0\x01\0\0"),
            segment(0xDB, b"\0" + bytes(range(1, 65))),
            b"\xff",
            segment(sof, frame),
            b"\xff\x01",
            segment(0xC4, b"\0" + bytes(16)),
            segment(0xDA, b"\x01\x01\x00\x00\x3f\x00"),
            b"\x12\x34\xff\x00\x56",
            b"\xff\xd9",
        )
    )


def pdf(pages: int = 1, *, inside: bytes = b"", count: int | None = None, version: bytes = b"1.7") -> bytes:
    """Return a PDF of empty pages."""
    kids = b" ".join(b"%d 0 R" % (number + 3) for number in range(pages))
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R %b >>" % inside,
        b"<< /Type /Pages /Count %d /Kids [%b] >>" % (pages if count is None else count, kids),
        *(b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 9 9] >>" for _ in range(pages)),
    ]
    out, places = b"%PDF-" + version + b"\n", list[int]()
    for number, one in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, one)
    start = len(out)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    size = len(objects) + 1
    out += b"xref\n0 %d\n0000000000 65535 f \n%btrailer\n<< /Size %d /Root 1 0 R >>\n" % (size, table, size)
    return out + b"startxref\n%d\n%%%%EOF\n" % start


SOUND = {"png": png(), "jpeg": jpeg(), "pdf": pdf()}


def hostile_scans(count: int) -> Iterator[tuple[str, bytes]]:
    """Yield files made to do harm, each with what was done to it; the same each time."""
    chance = random.Random(7)  # noqa: S311 - the same each time
    for number in range(count):
        name, whole = chance.choice(list(SOUND.items()))
        what, made = _HURTS[number % len(_HURTS)]
        yield f"{number}: {name}, {what}", made(whole, chance)


def _cut(whole: bytes, chance: random.Random) -> bytes:
    return whole[: chance.randrange(len(whole))]


def _flipped(whole: bytes, chance: random.Random) -> bytes:
    data = bytearray(whole)
    for _ in range(chance.randint(1, 5)):
        data[chance.randrange(len(data))] = chance.randrange(256)
    return bytes(data)


def _followed(whole: bytes, chance: random.Random) -> bytes:
    return whole + chance.choice((b"MZ\x90\0", b"<script>alert(1)</script>", b"PK\x03\x04", bytes(9), png()[:-1]))


def _begun_otherwise(whole: bytes, chance: random.Random) -> bytes:
    return chance.choice((b"GIF89a", b"MZ", b"#!/bin/sh\n", b"<html>", b"\xef\xbb\xbf", b" ")) + whole


def _huge(_whole: bytes, chance: random.Random) -> bytes:
    side = chance.choice((10_001, 65_535, 2**31 - 1))
    return chance.choice((png(side, 5), png(5, side), jpeg(min(side, 65_535), 5), jpeg(5, min(side, 65_535))))


def _many_parts(_whole: bytes, chance: random.Random) -> bytes:
    return chance.choice(
        (
            PNG_HEAD + chunk(b"IHDR", png()[16:29]) + chunk(b"tEXt", b"") * 60_000 + png()[33:],
            b"\xff\xd8" + segment(0xFE, b"") * 60_000 + jpeg()[2:],
            b"\xff\xd8" + b"\xff" * 60_000 + jpeg()[2:],
            pdf(201),
            pdf(1, count=10**9),
            b"%PDF-1.7\n" + b"/Count" * 50_000,
            b"%PDF-1.7\n" + b"/Type " * 50_000,
        )
    )


def _acting(_whole: bytes, chance: random.Random) -> bytes:
    act = chance.choice(
        (
            b"/OpenAction << /S /JavaScript /JS (app.alert(1)) >>",
            b"/OpenAction << /S /Launch /F (calc.exe) >>",
            b"/Names << /EmbeddedFiles 9 0 R /X << /Type /EmbeddedFile >> >>",
        )
    )
    return pdf(inside=act)


def _noise(_whole: bytes, chance: random.Random) -> bytes:
    return chance.choice((b"", b"%PDF-", PNG_HEAD, b"\xff\xd8\xff")) + chance.randbytes(chance.randrange(2000))


_HURTS = (
    ("cut", _cut),
    ("bytes changed", _flipped),
    ("with something behind it", _followed),
    ("with another beginning", _begun_otherwise),
    ("a huge picture", _huge),
    ("many parts", _many_parts),
    ("with a program inside", _acting),
    ("noise", _noise),
)
