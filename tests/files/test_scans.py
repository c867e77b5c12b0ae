"""Scans from outside: sound ones are taken as they are, anything else is refused, and nothing is opened."""

import os
import struct
import tracemalloc
from hashlib import sha256
from pathlib import Path

import pytest
from pypdf import PdfReader

from desktop.core.errors import Refusal
from desktop.core.shop.orders.ink import Scan, ScanKind
from desktop.files import scans
from desktop.files.scans import MOST_BYTES, read_scan, scan_of
from tests.files.scan_files import PNG_HEAD, SOUND, chunk, hostile_scans, jpeg, pdf, png
from tests.proof.counts import times


def said(data: bytes) -> str:
    with pytest.raises(Refusal) as caught:
        scan_of(data)
    return caught.value.sentence


def looked_at(place: Path) -> Scan | str:
    """Return the scan in a file, or the sentence with which it is refused."""
    try:
        return read_scan(place)
    except Refusal as refusal:
        return refusal.sentence


@pytest.mark.parametrize("kind", ScanKind)
def test_that_a_sound_scan_is_taken_as_it_is(kind: ScanKind, tmp_path: Path) -> None:
    data = SOUND[kind]
    place = tmp_path / "any name.bin"
    place.write_bytes(data)
    assert read_scan(place) == Scan(kind, data)
    assert read_scan(place).digest == sha256(data).hexdigest()


def test_that_another_reader_finds_the_pdf_of_these_tests_sound(tmp_path: Path) -> None:
    place = tmp_path / "two.pdf"
    place.write_bytes(pdf(2))
    assert len(PdfReader(place).pages) == 2


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "no scan by what stands in it. A scan is a PDF, PNG or JPEG file."),
        (b"GIF89a" + png(), "no scan by what stands in it"),
        (png()[:-1], "the PNG is cut or damaged"),
        (png() + b"\0", "the PNG does not end as it should"),
        (png()[:-12], "the PNG does not end as it should"),
        (PNG_HEAD, "the PNG does not end as it should"),
        (png(10_001, 1), "10001 by 1 dots, and 10000 by 10000 is the most"),
        (png(1, 10_001), "1 by 10001 dots"),
        (png(0, 1), "0 by 1 dots"),
        (png(depth=3), "the PNG does not begin as it should"),
        (png(colour=1), "the PNG does not begin as it should"),
        (PNG_HEAD + chunk(b"IDAT", b"x") + png()[8:], "the PNG does not begin as it should"),
        (PNG_HEAD + png()[8:33] + chunk(b"IEND", b""), "or holds no picture"),
        (PNG_HEAD + png()[8:33] + png()[8:], "the PNG does not end as it should"),
        (PNG_HEAD + chunk(b"IHDR", struct.pack(">IIBBBBB", 3, 2, 8, 2, 1, 0, 0)) + png()[33:], "does not begin"),
        (jpeg()[:-1], "the JPEG is cut or damaged"),
        (jpeg() + b"\0", "the JPEG is cut or damaged"),
        (jpeg()[:40], "the JPEG is cut or damaged"),
        (jpeg(10_001), "10001 by 2 dots"),
        (jpeg(1, 0), "1 by 0 dots"),
        (jpeg().replace(b"\xff\xc0", b"\xff\xc8"), "the JPEG is cut or damaged"),
        (jpeg().replace(b"\xff\xdb\x00\x43", b"\xff\xdb\x00\x01"), "the JPEG is cut or damaged"),
        (b"\xff\xd8\xff\xd9", "the JPEG is cut or damaged"),
        (b"\xff\xd8\xff\xe0\xff\xff" + jpeg(), "the JPEG is cut or damaged"),
        (b"\xff\xd8" + b"\xff\x01" * 60_000 + jpeg()[2:], "the JPEG is cut or damaged"),
        (pdf()[:-6], "the PDF is cut or damaged"),
        (pdf().replace(b"startxref\n", b"startxref\n9999"), "the PDF is cut or damaged"),
        (pdf(version=b"9.1"), "the PDF is cut or damaged"),
        (pdf(201), "more than 200 pages"),
        (pdf(1, count=201), "more than 200 pages"),
        (pdf(inside=b"/OpenAction << /S /JavaScript /JS (x) >>"), "carries a program or another file inside"),
    ],
)
def test_that_what_is_no_sane_scan_is_refused(data: bytes, words: str) -> None:
    assert words in said(data)


def test_that_the_greatest_sane_scans_are_taken() -> None:
    assert scan_of(png(10_000, 10_000)).kind is ScanKind.PNG
    assert scan_of(jpeg(10_000, 10_000, sof=0xC2)).kind is ScanKind.JPEG
    assert scan_of(pdf(200)).kind is ScanKind.PDF


def test_that_a_scan_of_more_than_20_megabytes_is_refused(tmp_path: Path) -> None:
    place = tmp_path / "large.pdf"
    with place.open("wb") as file:
        file.write(pdf())
        file.truncate(2 * MOST_BYTES)
    with pytest.raises(Refusal, match="larger than 20 MB"):
        read_scan(place)
    fits = pdf(inside=b"/X (" + b"a" * (MOST_BYTES - len(pdf()) - 40) + b")")
    assert len(fits) <= MOST_BYTES
    assert scan_of(fits).kind is ScanKind.PDF


def test_that_only_files_are_read(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="this is not a file"):
        read_scan(tmp_path)
    with pytest.raises(Refusal, match="cannot be read: No such file"):
        read_scan(tmp_path / "none.pdf")
    with pytest.raises(Refusal, match="its name cannot be used"):
        read_scan(tmp_path / "no\0name")
    os.mkfifo(tmp_path / "pipe.pdf")
    with pytest.raises(Refusal, match="this is not a file"):
        read_scan(tmp_path / "pipe.pdf")


def test_that_hostile_files_are_refused_or_kept_as_they_are_with_little_memory(tmp_path: Path) -> None:
    count, taken = times(200, 2000), 0
    place = tmp_path / "scan"
    tracemalloc.start()
    for what, data in hostile_scans(count):
        place.write_bytes(data)
        tracemalloc.reset_peak()
        found = looked_at(place)
        if isinstance(found, str):
            assert (found.startswith(f"{place}: "), found.isprintable()) == (True, True), what
        else:
            # A byte that was changed inside a picture or a page shows nowhere: it is kept, and never opened.
            assert (found.data, "changed" in what) == (data, True), what
            taken += 1
        assert tracemalloc.get_traced_memory()[1] < 30_000_000, what
    tracemalloc.stop()
    assert sorted(tmp_path.iterdir()) == [place]
    assert taken < count / 8


def test_that_a_look_that_looks_at_nothing_takes_hostile_files(monkeypatch: pytest.MonkeyPatch) -> None:
    blind = tuple((head, kind, lambda _data: None) for head, kind, _ in scans._LOOKS)  # noqa: SLF001 - the control
    monkeypatch.setattr(scans, "_LOOKS", blind)
    taken = 0
    for _, data in hostile_scans(80):
        try:
            scan_of(data)
        except Refusal:
            continue
        taken += 1
    assert taken > 40
