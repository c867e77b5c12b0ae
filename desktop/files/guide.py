"""The guide's pages, read from small text files.

The first lines of a file are ``title:``, ``for:`` and ``places:``, the last two lists with semicolons. Then each line
is a paragraph by how it begins: ``## `` a heading, ``- `` a step, ``!! `` a warning, ``! `` a caution, ``> `` a note,
anything else a description. ``{label: Add a tool}`` names something that stands in the windows, ``{key: Ctrl+N}`` keys,
``{page: tools}`` another page.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from importlib.resources import files

from desktop.core.errors import Refusal
from desktop.core.guide import Block, GuidePage, Mark, Paragraph, Piece
from desktop.files.demo_shop import demo_shop
from desktop.files.text_faults import Fault, description_faults, instruction_faults, text_faults

DEMO = "demo"
HEAD = ("title", "for", "places")
BEGINNINGS = (
    ("## ", Block.HEADING),
    ("- ", Block.STEP),
    ("!! ", Block.WARNING),
    ("! ", Block.CAUTION),
    ("> ", Block.NOTE),
)
_MARKED = re.compile(r"\{(label|key|page): ([^{}]+)\}")


def builtin_guide() -> tuple[GuidePage, ...]:
    """Return the shipped pages, in the order of their files."""
    folder = files("resources").joinpath("guide")
    names = sorted(one.name for one in folder.iterdir() if one.name.endswith(".txt"))
    pages = [read_page(name, folder.joinpath(name).read_text("utf-8")) for name in names]
    return tuple(_with_secrets(page) if page.id == DEMO else page for page in pages)


def _with_secrets(page: GuidePage) -> GuidePage:
    """Return the demo's page with the secrets that every demo has, which are none."""
    demo = demo_shop()
    said = (f"{one.name} ({one.id}): {demo.secrets[one.id]}" for one in demo.person)
    return replace(page, paragraphs=(*page.paragraphs, *(Paragraph(Block.TEXT, pieces_of(line)) for line in said)))


def read_page(name: str, text: str) -> GuidePage:
    """Return the page of a file whose name is a number, a hyphen and its id.

    Raise Refusal with the file, the line and the fault: a step of more than 20 words or more than one sentence, a
    sentence of more than 25, a mark that is none.
    """
    lines = text.splitlines()
    head = {}
    for number, key in enumerate(HEAD, 1):
        line = lines[number - 1] if number <= len(lines) else ""
        if not line.startswith(f"{key}:"):
            raise Refusal(f'{name}, line {number}: expected "{key}:". Begin the page with {", ".join(HEAD)}.')
        head[key] = line.removeprefix(f"{key}:").strip()
    found = []
    for number, line in enumerate(lines[len(HEAD) :], len(HEAD) + 1):
        if line.strip():
            found.append(_paragraph(f"{name}, line {number}", line.strip()))
    page_id = name.removesuffix(".txt").partition("-")[2]
    return GuidePage(page_id, head["title"], _list(head["for"]), _list(head["places"]), tuple(found))


def pieces_of(text: str) -> tuple[Piece, ...]:
    """Return the pieces of a text with marks."""
    found: list[Piece] = []
    end = 0
    for mark in _MARKED.finditer(text):
        if plain := text[end : mark.start()]:
            found.append(Piece(Mark.TEXT, plain))
        found.append(Piece(Mark(mark[1]), mark[2].strip()))
        end = mark.end()
    if plain := text[end:]:
        found.append(Piece(Mark.TEXT, plain))
    return tuple(found)


def _paragraph(where: str, line: str) -> Paragraph:
    begin, kind = next(((one, kind) for one, kind in BEGINNINGS if line.startswith(one)), ("", Block.TEXT))
    paragraph = Paragraph(kind, pieces_of(line.removeprefix(begin)))
    for _, fault in _faults(paragraph):
        raise Refusal(f"{where}: {fault}")
    return paragraph


def _faults(paragraph: Paragraph) -> Iterator[Fault]:
    words = paragraph.words
    if any("{" in piece.text or "}" in piece.text for piece in paragraph.pieces):
        yield "", "a mark that is none. Write {label: ...}, {key: ...} or {page: ...}."
    if paragraph.kind is Block.STEP:
        yield from instruction_faults("", words)
    elif paragraph.kind is Block.HEADING:
        yield from text_faults("", words, 80)
    else:
        yield from description_faults("", words)


def _list(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())
