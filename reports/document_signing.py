"""Who signed for what, and the codes that bind a paper to its record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from reports.document_text import Paragraph

_MOST_SIGNS = 600  # more would make modules too small to be read back from paper
_LEAST_MM, _MOST_MM = 10, 60


@dataclass(frozen=True, slots=True)
class SignatureBox:
    """Room for ink: who signs for what. Every empty text leaves room for the pen; `code` is this print's check code."""

    title: str
    meaning: str
    signature: str = ""
    name: str = ""
    certificate: str = ""
    date: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True)
class ElectronicSignature:
    """A signature that stands in the record, in words, under a drawn seal.

    `certificate` is the number, `kind` its kind ("mechanic, powerplant"); both may be empty for who has none. `when`
    is the time in words with its zone. `key` and `seal` are short forms, such as the first 16 hex digits. `note` says
    what else is true of it ("the same person did the work").
    """

    title: str
    meaning: str
    name: str
    when: str
    key: str
    seal: str
    certificate: str = ""
    kind: str = ""
    note: str = ""


AnySignature: TypeAlias = SignatureBox | ElectronicSignature


@dataclass(frozen=True, slots=True)
class Signatures:
    """Signatures beside each other, at most three in a row, each row on one page; ink and electronic may stand mixed.

    One or two take a third of the width each, like three: a reader finds the lines at the same places.
    """

    boxes: tuple[AnySignature, ...]


@dataclass(frozen=True, slots=True)
class Seal:
    """A QR code that holds `content` (at most 600 characters), `size_mm` a side, with lines of text at its right."""

    content: str
    lines: tuple[Paragraph, ...] = ()
    size_mm: float = 24.0

    def __post_init__(self) -> None:
        """Refuse what could not be read back from paper."""
        _refuse_code(self.content, self.size_mm)


@dataclass(frozen=True, slots=True)
class CheckCode:
    """The check code of this print in large letters with lines below it, and a QR code at its left.

    `content` is what the QR code holds, as text of at most 600 characters: the shop file's id, the record's number,
    the count of records, the head and the whole digest. Without content there is no QR code. It is `size_mm` a side, or
    as large as its content needs to be read back from a scan at 108 dots per inch (39 mm for 200 characters).
    """

    code: str
    content: str = ""
    lines: tuple[Paragraph, ...] = ()
    size_mm: float = 30.0

    def __post_init__(self) -> None:
        """Refuse what could not be read back from paper."""
        _refuse_code(self.content or "-", self.size_mm)


def _refuse_code(content: str, size_mm: float) -> None:
    if not 1 <= len(content) <= _MOST_SIGNS or not _LEAST_MM <= size_mm <= _MOST_MM:
        raise ValueError("a seal holds 1 to 600 characters on 10 to 60 mm")
