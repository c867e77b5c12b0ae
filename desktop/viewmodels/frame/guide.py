"""The guide: its pages, found by place or by words, and the page of keys that is made from the real ones."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from desktop.core.guide import Block, GuidePage, Mark, Paragraph, Piece

KEYS_PAGE, KEYS_TITLE = "keys", "All keys"
WIDE = "\u2003"
"""A space as wide as a letter: rich text drops plain spaces that follow each other."""
SIGNAL = {Block.WARNING: "WARNING", Block.CAUTION: "CAUTION", Block.NOTE: "NOTE"}


@dataclass(frozen=True, slots=True)
class Shortcut:
    """Keys and what they do; ``where`` is the menu or the place."""

    where: str
    what: str
    keys: str


def keys_page(shortcuts: Iterable[Shortcut]) -> GuidePage:
    """Return the page of all keys, grouped by where they do something."""
    found: list[Paragraph] = []
    last = ""
    for one in shortcuts:
        if one.where != last:
            last = one.where
            found.append(Paragraph(Block.HEADING, (Piece(Mark.TEXT, one.where),)))
        found.append(Paragraph(Block.TEXT, (Piece(Mark.KEY, one.keys), Piece(Mark.TEXT, f"{WIDE}{one.what}"))))
    return GuidePage(KEYS_PAGE, KEYS_TITLE, ("everybody",), (), tuple(found))


def foot_shortcuts(where: str, said: str) -> tuple[Shortcut, ...]:
    """Return the keys that the foot of a page names, such as ``Enter: open   Esc: back``."""
    parts = [part.partition(": ") for part in said.split("   ")]
    return tuple(Shortcut(where, what, keys.strip()) for keys, _, what in parts if what)


class Guide:
    """Some pages. Every page has a title and an id of its own."""

    def __init__(self, pages: Sequence[GuidePage]) -> None:
        self.pages = tuple(pages)
        self._by_id = {page.id: page for page in self.pages}

    def page(self, page_id: str) -> GuidePage | None:
        """Return a page by its id."""
        return self._by_id.get(page_id)

    def page_for(self, place: str) -> GuidePage:
        """Return the page of a place; the first page for a place that has none."""
        return next((page for page in self.pages if place in page.places), self.pages[0])

    def find(self, text: str) -> tuple[GuidePage, ...]:
        """Return the pages that hold every word, each anywhere and in capitals or not; all of them for no word."""
        words = text.casefold().split()
        return tuple(page for page in self.pages if all(word in _all_words(page) for word in words))

    def html(self, page: GuidePage, colours: tuple[str, str, str], code: str) -> str:
        """Return a page as rich text; ``colours`` are ink, quiet and act, ``code`` the family of the type for keys."""
        ink, quiet, act = colours
        said = [f'<h1 style="margin:0">{escape(page.title)}</h1>']
        if page.written_for:
            said.append(f'<p style="color:{quiet};margin-top:4px">For {escape(", ".join(page.written_for))}</p>')
        number = 0
        for one in page.paragraphs:
            number = number + 1 if one.kind is Block.STEP else 0
            said.append(self._block(one, number, ink, act, code))
        return "".join(said)

    def _block(self, one: Paragraph, number: int, ink: str, act: str, code: str) -> str:
        inside = "".join(self._piece(piece, act, code) for piece in one.pieces)
        if one.kind is Block.HEADING:
            return f'<h2 style="margin-bottom:2px">{inside}</h2>'
        if one.kind is Block.STEP:
            return f'<p style="margin:4px 0 4px 16px">{number}.&nbsp; {inside}</p>'
        if one.kind is Block.TEXT:
            return f'<p style="margin:6px 0">{inside}</p>'
        said = f"<b>{SIGNAL[one.kind]}</b>&nbsp; {inside}"
        if one.kind is Block.WARNING:  # two frames, one in the other
            return _framed(_framed(said, 2, ink, 8), 2, ink, 3)
        return _framed(said, {Block.CAUTION: 4, Block.NOTE: 1}[one.kind], ink, 8)

    def _piece(self, piece: Piece, act: str, code: str) -> str:
        text = escape(piece.text)
        if piece.mark is Mark.LABEL:
            return f"<b>“{text}”</b>"
        if piece.mark is Mark.KEY:
            return f"<span style=\"font-family:'{escape(code)}';white-space:nowrap\">{text}</span>"
        if piece.mark is Mark.PAGE:
            page = self.page(piece.text)
            title = escape(page.title if page else piece.text)
            return f'<a href="{text}" style="color:{act}">{title}</a>'
        return text


def _framed(inside: str, width: int, ink: str, pad: int) -> str:
    return (
        f'<table width="100%" cellpadding="{pad}" style="margin:6px 0;border-collapse:collapse">'
        f'<tr><td style="border:{width}px solid {ink}">{inside}</td></tr></table>'
    )


def _all_words(page: GuidePage) -> str:
    return " ".join((page.title, *page.written_for, *(one.words for one in page.paragraphs))).casefold()
