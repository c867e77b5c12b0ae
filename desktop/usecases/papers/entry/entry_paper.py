"""The maintenance entry as a page for the log: from the signed record, or as it is proposed for a signature in ink."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.records.record import Section
from desktop.usecases.papers.frame import About, Printing, document, stamped
from desktop.usecases.papers.records.record_parts import (
    attached,
    corrected_bands,
    correction_blocks,
    qr_content,
    seal_lines,
    section_blocks,
    signature_blocks,
)
from desktop.usecases.papers.records.verified import VerifiedRecord
from reports.document import Band, Block, Document, Finding, KeepTogether, SignatureBox, Signatures, plain

SECTIONS = ("Maintenance entry", "Work", "Timing", "Parts and directives", "Approval", "List of discrepancies")
"""The sections of a record that are its maintenance entry."""
APPROVAL, IF_APPROVED = "Approval", "If it is approved"
NOT_SIGNED = "Not signed yet"
DRAFT = "Draft: nothing is approved"
NO_SIGNATURE = "Nothing is signed on this draft. Print the entry again when the cards are accepted and nothing stops."
LACKS = "Missing."
STOPS = "Stops."


@dataclass(frozen=True, slots=True)
class EntryPaper:
    """An entry: its sections, and the record in which it was signed, None for one that is to be signed in ink.

    ``missing`` says each required element that it lacks, ``against`` what stands against the approval; there is neither
    for a signed one.
    """

    sections: tuple[Section, ...]
    approves: bool
    signed: VerifiedRecord | None = None
    missing: tuple[str, ...] = ()
    against: tuple[str, ...] = ()


def entry_of(one: VerifiedRecord) -> EntryPaper:
    """Return the entry of a record in which an order was approved or not approved."""
    record = one.taken.record
    kept = tuple(section for section in record.sections if section.title in SECTIONS)
    return EntryPaper(kept, record.kind.value != "not approved", one)


def entry_paper(entry: EntryPaper, about: About, printing: Printing) -> Document:
    """Return the entry as a page: everything that the record says of it, and who signs for it."""
    signed = entry.signed
    bands = corrected_bands(signed) if signed else (Band(DRAFT, loud=True) if entry.against else Band(NOT_SIGNED),)
    own = About(
        about.shop, about.order, about.card, about.revision, about.who, about.lines, about.invented,
        (*about.bands, *bands),
    )  # fmt: skip
    paper = document(
        "Maintenance entry",
        own,
        tuple(_blocks(entry)),
        subject="Maintenance entry for the log",
        attachments=(attached(signed.taken.envelope),) if signed else (),
    )
    if signed is None:
        return stamped(paper, printing)
    shop_id = signed.taken.record.shop_id
    return stamped(paper, printing, qr_content(shop_id, signed), seal_lines(shop_id, signed))


def _blocks(entry: EntryPaper) -> Iterator[Block]:
    """Yield the entry; its signature stands under the approval, and again under the list that comes after it.

    So neither can be filed without it, whichever pages are taken.
    """
    sections = _without_approval(entry.sections) if entry.against else entry.sections
    place = next((at for at, one in enumerate(sections) if one.title in (APPROVAL, IF_APPROVED)), len(sections) - 1)
    yield from section_blocks(sections[:place])
    approval, after = sections[place], sections[place + 1 :]
    signature = _signature(entry)
    yield KeepTogether((*section_blocks((approval,)), *_missing(entry), *signature))
    for section in after:
        yield KeepTogether((*section_blocks((section,)), *(() if entry.against else signature)))
    if entry.signed:
        yield from correction_blocks(entry.signed)


def _without_approval(sections: tuple[Section, ...]) -> tuple[Section, ...]:
    """Return the sections of a draft: nothing in it says that something is approved."""
    return tuple(
        Section(IF_APPROVED, tuple(row for row in section.rows if row.label != APPROVAL))
        if section.title == APPROVAL
        else section
        for section in sections
    )


def _missing(entry: EntryPaper) -> Iterator[Block]:
    for words in entry.missing:
        yield Finding("stop", LACKS, f"The entry lacks: {words}.")
    if entry.missing:
        yield plain("Write what is missing before anybody signs.", bold=True)
    for words in entry.against:
        yield Finding("stop", STOPS, words)


def _signature(entry: EntryPaper) -> tuple[Block, ...]:
    if entry.signed:
        return (signature_blocks(entry.signed.taken.envelope, entry.signed.taken.record),)
    if entry.against:
        return (plain(NO_SIGNATURE, bold=True),)
    box = SignatureBox("Approved for return to service", "With respect to the work performed only.")
    if not entry.approves:
        box = SignatureBox("Not approved", "The list of discrepancies was given to the owner.")
    return (Signatures((box,)),)
