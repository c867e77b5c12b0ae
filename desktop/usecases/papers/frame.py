"""What every paper of a shop has in common: caution, shop, order, card, the file that it comes from, its check code."""

from dataclasses import dataclass, replace

from desktop.core.records.sealed.envelope import shown
from desktop.usecases.papers.heading import GOVERNING, INVENTED
from desktop.usecases.papers.records.check_code_of import code_of
from reports.document import (
    Band,
    Block,
    Document,
    Foot,
    Head,
    KeepTogether,
    PaperWords,
    Paragraph,
    Run,
    SignatureBox,
    Signatures,
    Table,
    plain,
)
from reports.document_attachments import Attachment
from reports.document_signing import CheckCode

LANGUAGE = "en"
MOST_SIGNS = 200
"""Most signs of a text that is repeated on every page."""
BAND_SIGNS = 80
MOST_LINES = 6
"""Most bands across a head, and most lines at its right."""
BETWEEN = " · "
REPRINT = "Reprint"
BLANK = "Blank"
INK = "Whoever signs in ink leaves the code beside the signature: it tells an outdated print."
WORDS = PaperWords()


@dataclass(frozen=True, slots=True)
class Printing:
    """What belongs to one print and is no part of what it says: so it has no part in the check code either.

    ``printed`` is the time in words with its zone. ``file_id``, ``count`` and ``head`` name the shop file as it was at
    the printing: its own id, how many records it holds, and the record seal of the last.
    """

    printed: str
    file_id: str = ""
    count: int = 0
    head: str = ""
    is_reprint: bool = False


@dataclass(frozen=True, slots=True)
class About:
    """Whose paper it is, repeated on every page: shop, order, card, revision; empty where there is none.

    ``who`` stands in the running head, such as the registration and the engine. ``lines`` stand at the right of the
    first page's title.
    """

    shop: str
    order: str = ""
    card: str = ""
    revision: str = ""
    who: str = ""
    lines: tuple[Paragraph, ...] = ()
    invented: bool = False
    bands: tuple[Band, ...] = ()


def document(
    title: str,
    about: About,
    blocks: tuple[Block, ...],
    *,
    subject: str = "",
    attachments: tuple[Attachment, ...] = (),
    words: PaperWords = WORDS,
) -> Document:
    """Return a paper with its head and foot, as it says what it says; ``stamped`` adds what belongs to a print."""
    who = BETWEEN.join(part for part in (about.order, about.card, about.who) if part)
    order = (Paragraph((Run(about.order, bold=True),)),) if about.order else ()
    head = Head(
        title=short(title),
        card=short(who),
        lines=(*order, *about.lines)[:MOST_LINES],
        governing=GOVERNING,
        banner=INVENTED if about.invented else "",
    )
    return Document(
        title=short(title),
        subject=subject or title,
        language=LANGUAGE,
        head=_banded(head, about.bands),
        foot=Foot(shop=short(about.shop), card=about.card, order=about.order, revision=about.revision),
        blocks=blocks,
        words=words,
        attachments=attachments,
    )


def stamped(
    paper: Document,
    printing: Printing,
    content: str = "",
    lines: tuple[Paragraph, ...] = (),
    now: tuple[Band, ...] = (),
) -> Document:
    """Return a paper with its check code, the time of printing and the shop file that it comes from.

    ``content`` is what the QR code holds, none for an empty one. Boxes for ink get the code too. ``now`` says across
    the head how something stands at the printing, and is no part of the code.
    """
    code = code_of(paper)
    bands = (*((Band(REPRINT, loud=True),) if printing.is_reprint else ()), *now)
    codes: tuple[tuple[str, str], ...] = ()
    if printing.file_id:
        codes = (("shop file", shown(printing.file_id)), ("records", str(printing.count)))
        codes += (("record seal of the last", shown(printing.head)),) if printing.head else ()
    blocks = tuple(_with_code(block, code) for block in paper.blocks)
    has_ink = blocks != paper.blocks
    said = lines or ((plain(INK, quiet=True),) if has_ink else ())
    return replace(
        paper,
        head=_banded(paper.head, bands),
        foot=replace(paper.foot, printed=printing.printed, codes=codes),
        blocks=_ending(blocks, CheckCode(code, content, said)),
    )


def _banded(head: Head, bands: tuple[Band, ...]) -> Head:
    """Return a head with more bands before those that it has; where there are too many, quiet ones join the banner."""
    every = (*bands, *head.bands)
    if len(every) <= MOST_LINES:
        return replace(head, bands=every)
    quiet = BETWEEN.join(text for text in (head.banner, *(band.text for band in every if not band.loud)) if text)
    return replace(head, banner=short(quiet), bands=tuple(band for band in every if band.loud)[:MOST_LINES])


def packed(words: tuple[str, ...], before: str = "", *, loud: bool = False) -> tuple[Band, ...]:
    """Return words in as few bands as hold them, the first band beginning with ``before``."""
    bands: list[str] = []
    for word in words:
        if bands and len(bands[-1]) + len(BETWEEN) + len(word) <= BAND_SIGNS:
            bands[-1] += BETWEEN + word
        else:
            bands.append(f"{'' if bands else before}{word}"[:BAND_SIGNS])
    return tuple(Band(text, loud=loud) for text in bands)


def cut(text: str) -> str:
    """Return a text as it may stand in a band: one that is too long ends with three points, between two words."""
    if len(text) <= BAND_SIGNS:
        return text
    kept = text[: BAND_SIGNS - 3]
    return f"{kept.rpartition(' ')[0].rstrip(' .,') or kept[:-1]} ..."


def short(text: str) -> str:
    """Return a text as it may stand on every page: one that is too long ends with three points."""
    return text if len(text) <= MOST_SIGNS else f"{text[: MOST_SIGNS - 4]} ..."


def _ending(blocks: tuple[Block, ...], code: CheckCode) -> tuple[Block, ...]:
    """Return the blocks with the check code behind them; it does not part from the signatures above it.

    A table that ends a paper has the code above it: behind a full page it would stand on a page of its own.
    """
    if blocks and isinstance(blocks[-1], Table) and blocks[-1].rows:
        return (*blocks[:-1], KeepTogether((code,)), blocks[-1])
    if blocks and isinstance(blocks[-1], KeepTogether | Signatures):
        return (*blocks[:-1], KeepTogether((blocks[-1], code)))
    return (*blocks, KeepTogether((code,)))


def _with_code(block: Block, code: str) -> Block:
    if isinstance(block, KeepTogether):
        return KeepTogether(tuple(_with_code(inside, code) for inside in block.blocks))
    if isinstance(block, Signatures):
        boxes = tuple(replace(box, code=code) if isinstance(box, SignatureBox) else box for box in block.boxes)
        return Signatures(boxes)
    return block
