"""A signed record on paper: what is printed is what was signed, with everything that corrects it."""

from collections.abc import Iterator
from datetime import datetime

from desktop.core.records.record import Record, texts_in
from desktop.core.records.sealed.chain import Taken
from desktop.core.records.subjects import place_of
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.papers.frame import About, Printing, document, stamped
from desktop.usecases.papers.records.record_parts import (
    attached,
    corrected_bands,
    correction_blocks,
    qr_content,
    seal_lines,
    section_blocks,
    signature_blocks,
    subject_words,
)
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.records.sections.names import moment_words
from reports.document import Band, Block, Document, Heading, KeepTogether, Paragraph, Run, plain
from reports.document_text import Entries, Entry

PLAIN_SIGNS = frozenset(filter(str.isprintable, map(chr, range(0x100)))) | frozenset(
    "\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u2022\u2192\u2264\u2265\u2212"
)
"""Signs that the type of the papers has for sure, so that none of them stands as a code."""
CODES = "Signs that the type of this paper lacks stand as codes such as [U+4E2D]; the attached file has them as signed."


def record_paper(one: VerifiedRecord, printing: Printing, *, invented: bool = False) -> Document:
    """Return a verified record as paper, with its QR code and its JSON inside the file."""
    envelope, record = one.taken.envelope, one.taken.record
    place = place_of(record.subject)
    about = About(
        shop=record.shop_name,
        order=f"order {order_name(place.order)}" if place.order else "",
        card=f"card {place.card}" if place.card else "",
        revision=f"record {envelope.number}",
        lines=(plain(f"record {envelope.number}"), plain(moment_words(datetime.fromisoformat(record.at)), quiet=True)),
        invented=invented,
        bands=(*corrected_bands(one), *_bands(record)),
    )
    kind = record.kind.value
    paper = document(
        f"Record {envelope.number}: {kind}",
        about,
        tuple(_blocks(one)),
        subject=f"Signed record: {kind}, {subject_words(record)}",
        attachments=(attached(envelope),),
    )
    return stamped(paper, printing, qr_content(record.shop_id, one), seal_lines(record.shop_id, one))


def _bands(record: Record) -> tuple[Band, ...]:
    return (Band("Not approved", loud=True),) if record.kind.value == "not approved" else ()


def _blocks(one: VerifiedRecord) -> Iterator[Block]:
    envelope, record = one.taken.envelope, one.taken.record
    about = [Entry("About record", _named(taken)) for taken in one.about]
    yield Entries(
        (
            Entry("Record", record.kind.value),
            Entry("Subject", subject_words(record)),
            Entry("Time", record.at),
            Entry("Shop", record.shop_name),
            *about,
        )
    )
    if one.corrected_by:
        numbers = ", ".join(str(later.envelope.number) for later in one.corrected_by)
        yield Paragraph((Run(f"This record was corrected by record {numbers}, which stands below.", bold=True),))
    yield from section_blocks(record.sections)
    for key in record.keys:
        yield Entries((Entry(f"Key of {key.person}", key.public_key_hex, code=True),))
    signatures = KeepTogether((Heading("Signatures", 2), signature_blocks(envelope, record)))
    codes = (plain(CODES, quiet=True),) if _may_have_codes(one) else ()
    if not one.corrected_by:
        yield from codes
        yield signatures
        return
    yield signatures
    yield from correction_blocks(one)
    yield from codes


def _named(taken: Taken) -> str:
    """Say what a record is that this one names: its number, its kind, what it is about, its record seal."""
    said = f"{taken.record.kind}, {subject_words(taken.record)}"
    return f"{taken.envelope.number}: {said}, record seal {taken.envelope.digest}"


def _may_have_codes(one: VerifiedRecord) -> bool:
    """Tell whether a sign may stand on the paper as a code; what is plain Latin is in its type."""
    records = (one.taken.record, *(later.record for later in one.corrected_by))
    return any(not PLAIN_SIGNS.issuperset(text) for record in records for text in texts_in(record))
