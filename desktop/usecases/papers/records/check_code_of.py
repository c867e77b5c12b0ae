"""The check code of a paper: what a document or a sheet of labels says, in reading order, as a code of eight signs."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from desktop.core.records.sealed.check_code import check_code
from reports.document import Document, Paper, PaperWords
from reports.document_attachments import Attachment
from reports.document_signing import CheckCode, SignatureBox

_NOTHING = "\0"  # a box for the pencil: no typed text is like it


def code_of(paper: Paper) -> str:
    """Return the check code of a paper.

    The time of printing, page numbers, attached files and the code itself are no part of it.
    """
    return check_code(texts_of(paper))


def texts_of(paper: Paper) -> Iterator[str]:
    """Yield everything that a paper says, in reading order, words of its drawings included."""
    yield from _within(paper, "")


def _within(value: object, name: str) -> Iterator[str]:
    if value is None:
        yield _NOTHING
    elif isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        yield f"{len(value)} {name}"
        for entry in value:
            yield from _within(entry, name)
    elif isinstance(value, Document):
        yield from _within((value.title, value.subject, value.head, value.foot, value.blocks), "document")
    elif is_dataclass(value) and not isinstance(value, Attachment | PaperWords | CheckCode):
        yield type(value).__name__
        for one in fields(value):
            if one.name != "printed" and not (one.name == "code" and isinstance(value, SignatureBox)):
                yield from _within(getattr(value, one.name), one.name)
