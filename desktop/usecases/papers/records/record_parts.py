"""Parts of a signed record on paper: its sections as they were signed, its signatures in words, its QR code."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from desktop.core.records.record import Record, Section, Signer
from desktop.core.records.sealed.canonical import unframed
from desktop.core.records.sealed.envelope import Envelope, shown
from desktop.core.records.subjects import place_of
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.papers.frame import packed
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.records.sections.names import moment_words
from reports.document import Band, Block, Column, Heading, Paragraph, Run, Signatures, Table, plain
from reports.document_attachments import Attachment
from reports.document_signing import ElectronicSignature
from reports.document_text import Entries, Entry

MOST_VALUE = 600
"""A text with more signs than this is printed as paragraphs, so that it is split cleanly by a page's end."""
GROUP = 4
MOVES, MOVE_COLUMNS = "Moves", ("Move", "Reason", "By")


def section_blocks(sections: Iterable[Section]) -> Iterator[Block]:
    """Yield sections in their order, each row with its label and its text as it was signed."""
    for section in sections:
        if (moves := _moves_table(section)) is not None:
            yield moves
            continue
        yield Heading(section.title, 2)
        waiting: list[Entry] = []
        for row in section.rows:
            if len(row.text) <= MOST_VALUE:
                waiting.append(Entry(row.label, row.text))
                continue
            if waiting:
                yield Entries(tuple(waiting))
                waiting = []
            yield Paragraph((Run(f"{row.label}: ", quiet=True), Run(row.text)))
        if waiting:
            yield Entries(tuple(waiting))


def _moves_table(section: Section) -> Table | None:
    """Return the moves of an order as a table, a line each, with everything that was signed of them.

    None for another section, and for moves that were signed in another form or with a very long text.
    """
    if section.title != MOVES:
        return None
    lines: list[dict[str, str]] = []
    for row in section.rows:
        label = row.label.removesuffix(", continued")
        if label == MOVE_COLUMNS[0] and label == row.label:
            lines.append({})
        elif not lines or label not in MOVE_COLUMNS or len(row.text) > MOST_VALUE:
            return None
        before = lines[-1].get(label)
        if (before is None) != (label == row.label):
            return None
        lines[-1][label] = row.text if before is None else f"{before}\n{row.text}"
    columns = tuple(Column(label, share) for label, share in zip(MOVE_COLUMNS, (2.2, 2.6, 2.9), strict=True))
    return Table(columns, tuple(tuple(line.get(label, "") for label in MOVE_COLUMNS) for line in lines), MOVES)


def signature_blocks(envelope: Envelope, record: Record) -> Signatures:
    """Return the electronic signatures of a record as a block."""
    return Signatures(signature_boxes(envelope, record))


def signature_boxes(envelope: Envelope, record: Record) -> tuple[ElectronicSignature, ...]:
    """Return the electronic signatures in words: who, by which certificate, when, with which key, under which seal."""
    when = moment_words(datetime.fromisoformat(record.at))
    boxes = []
    for place, (signer, signature) in enumerate(zip(record.signers, envelope.signatures, strict=True)):
        boxes.append(
            ElectronicSignature(
                title="Signed" if place == 0 else "Countersigned",
                meaning=signer.meaning,
                name=signer.name,
                when=when,
                key=grouped(signature.public_key.hex()[:16]),
                seal=grouped(shown(envelope.digest)),
                certificate=signer.certificate_number,
                kind=_kind_of(signer),
            )
        )
    return tuple(boxes)


def signed_as(signer: Signer) -> str:
    """Say by which certificate and with which rights somebody signed."""
    number = f"certificate {signer.certificate_number}" if signer.certificate_number else ""
    return ", ".join(part for part in (number, _kind_of(signer)) if part)


def _kind_of(signer: Signer) -> str:
    """Return the kind of certificate and the rights; a right that is named like the certificate is said once."""
    rights = " and ".join(right for right in signer.rights if right != signer.certificate_kind)
    return ", ".join(part for part in (signer.certificate_kind, rights) if part)


def qr_content(shop_id: str, one: VerifiedRecord) -> str:
    """Return what the QR code of a record says: shop file, number, count, seal of the last record, seal of this one."""
    envelope = one.taken.envelope
    return f"shop {shop_id}\nrecord {envelope.number} of {one.count}\nhead {one.head}\ndigest {envelope.digest}"


def seal_lines(shop_id: str, one: VerifiedRecord) -> tuple[Paragraph, ...]:
    """Return the same in words, beside the check code."""
    envelope = one.taken.envelope
    return (
        plain(f"Record {envelope.number} of {one.count} in the shop file {shop_id}."),
        plain(f"Record seal of this record: {grouped(envelope.digest)}", quiet=True),
        plain(f"Record seal of the last record at the printing: {grouped(one.head)}", quiet=True),
        plain(
            "Every record of the shop file was verified before this was printed. 'sparkwright verify SHOP --head SEAL' "
            "tells whether a record seal belongs to a file.",
            quiet=True,
        ),
    )


def attached(envelope: Envelope) -> Attachment:
    """Return the record's own JSON, the same bytes that were signed, as a file inside the file."""
    body = unframed(envelope.content)[-1]
    return Attachment(f"record-{envelope.number}.json", body, "application/json", "the signed record")


def corrected_bands(one: VerifiedRecord) -> tuple[Band, ...]:
    """Say on every page by which records this one was corrected."""
    return packed(tuple(f"record {later.envelope.number}" for later in one.corrected_by), "Corrected by ", loud=True)


def correction_blocks(one: VerifiedRecord) -> Iterator[Block]:
    """Yield each correction of a record: what it says, and who signed it."""
    for later in one.corrected_by:
        yield Heading(f"Correction: record {later.envelope.number}", 1)
        yield from section_blocks(later.record.sections)
        yield signature_blocks(later.envelope, later.record)


def subject_words(record: Record) -> str:
    """Name what a record is about; an order by the number under which it is known."""
    place = place_of(record.subject)
    if not place.order:
        return record.subject
    return f"order {order_name(place.order)}" + (f", card {place.card}" if place.card else "")


def grouped(digits: str) -> str:
    """Write a seal in groups of four digits, as people read it aloud."""
    return " ".join(digits[at : at + GROUP] for at in range(0, len(digits), GROUP))
