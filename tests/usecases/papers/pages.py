"""Papers looked at as values and as pages: every text, every page's text, what is attached."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from io import BytesIO
from typing import Any

from pypdf import PdfReader

from desktop.paper_assembly import drawn
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.kinds import PaperKind
from reports.document import Document, Paper, PaperSize
from reports.document_signing import CheckCode
from tests.usecases.papers.paper_floor import PRINTED


def made(desk: PaperDesk, kind: PaperKind, order: int = 0, **more: Any) -> Document:  # noqa: ANN401 - what Asked takes
    """Return a paper that is a document."""
    paper = paper_of(desk, Asked(kind, order, **more), PRINTED)
    assert isinstance(paper, Document)
    return paper


def inside(value: object, kind: type) -> Iterator[Any]:
    """Yield every value of a kind that stands anywhere in a paper."""
    if isinstance(value, kind):
        yield value
    if is_dataclass(value):
        for one in fields(value):
            yield from inside(getattr(value, one.name), kind)
    elif isinstance(value, tuple):
        for entry in value:
            yield from inside(entry, kind)


def words(value: object) -> str:
    """Return every text of a paper, a line each."""
    return "\n".join(inside(value, str))


def code(paper: Paper) -> str:
    """Return the check code that stands on a paper."""
    [block] = inside(paper, CheckCode)
    return str(block.code)


def pages(paper: Paper, size: PaperSize = "letter") -> list[str]:
    """Return the text of each page, all spaces as one."""
    return [" ".join(page.extract_text().split()) for page in reader(paper, size).pages]


def reader(paper: Paper, size: PaperSize = "letter") -> PdfReader:
    """Return the file of a paper, opened."""
    return PdfReader(BytesIO(drawn(paper, size)))
