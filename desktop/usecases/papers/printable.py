"""What the type of the papers cannot show is said before anything is drawn, with where it stands."""

import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass

from desktop.core.errors import Refusal
from reports.document import Document, Fact, Heading, Paper, ReadingRow, Step, Table
from reports.document_attachments import Attachment
from reports.document_text import Entry

MissingSigns = Callable[[str], tuple[str, ...]]


def refuse_missing_signs(paper: Paper, missing: MissingSigns) -> None:
    """Raise Refusal for the first sign that the paper's type lacks, with the place where it was typed."""
    for where, text in _texts(paper, paper.title):
        for sign in missing(text):
            raise Refusal(
                f"{where[:60]}: the paper's type has no sign for {sign_words(sign)}. Write it in other letters."
            )


def sign_words(sign: str) -> str:
    """Name a sign by its code and, where it has one, its name."""
    code = f"U+{ord(sign):04X}"
    name = unicodedata.name(sign, "")
    return f"{code} ({name.lower()})" if name else code


def _texts(value: object, where: str) -> Iterator[tuple[str, str]]:
    if isinstance(value, str):
        yield where, value
    elif isinstance(value, Table):
        heads = [column.heading or value.title for column in value.columns]
        yield from ((where, text) for text in (value.title, value.empty, *(column.heading for column in value.columns)))
        for number, row in enumerate(value.rows, 1):
            yield from ((f"{head}, line {number}", text) for head, text in zip(heads, row, strict=True) if text)
    elif isinstance(value, tuple):
        place = where
        for entry in value:
            yield from _texts(entry, place)
            if isinstance(entry, Heading):
                place = entry.text
    elif is_dataclass(value) and not isinstance(value, Attachment):
        place = _place(value) or where
        for one in fields(value):
            yield from _texts(getattr(value, one.name), place)


def _place(value: object) -> str:
    match value:
        case Document():
            return value.head.title
        case Fact() | Entry():
            return value.label
        case ReadingRow():
            return value.what
        case Step():
            return f"Step {value.number}"
        case _:
            return ""
