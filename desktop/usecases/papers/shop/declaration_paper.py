"""The declaration that a person signs in ink when they are enrolled to sign with a secret."""

from collections.abc import Iterator
from datetime import datetime

from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, Printing, document, stamped
from desktop.usecases.papers.records.corrected import with_corrections
from desktop.usecases.papers.records.record_parts import attached, grouped, qr_content, seal_lines
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.records.keys.people_records import Declaration
from desktop.usecases.records.sections.names import moment_words
from reports.document import Block, Document, Heading, KeepTogether, SignatureBox, Signatures, plain
from reports.document_text import Entries, Entry, NumberedList

SIGNED_BY_SELF = "nobody else: the first person of a shop enrols themselves"


def declaration_paper(
    declared: Declaration, one: VerifiedRecord, printing: Printing, *, invented: bool = False
) -> Document:
    """Return the declaration of an enrolment, which was verified, with the record's QR code."""
    about = About(
        shop=declared.shop_name,
        revision=f"record {declared.number}",
        who=f"{declared.person.name} ({declared.person.id})",
        lines=(plain(f"record {declared.number}"),),
        invented=invented,
    )
    paper = document(
        "Declaration at enrolment",
        about,
        tuple(_blocks(declared)),
        subject="Declaration of a person who signs electronically",
        attachments=(attached(one.taken.envelope),),
    )
    return stamped(
        with_corrections(paper, (one,)), printing, qr_content(declared.shop_id, one), seal_lines(declared.shop_id, one)
    )


def _blocks(declared: Declaration) -> Iterator[Block]:
    person = declared.person
    yield Entries(
        (
            Entry("name", person.name),
            Entry("initials", person.id),
            Entry("certificate number", person.certificate_number or "none"),
            Entry("certificate kind", person.certificate_kind or "none"),
            Entry("ratings", person.ratings or "none"),
            Entry("rights", ", ".join(person.rights)),
            Entry("with the shop since", day_words(person.since)),
            Entry("enrolled", moment_words(datetime.fromisoformat(declared.at))),
            Entry("by the records keeper", ", ".join(declared.vouched_by) or SIGNED_BY_SELF),
        )
    )
    yield Entries(
        (Entry("key", grouped(declared.key), code=True), Entry("record seal", grouped(declared.seal), code=True))
    )
    yield Heading("I declare", 2)
    yield NumberedList(tuple(plain(text) for text in declared.statements))
    certificate = " ".join(part for part in (person.certificate_kind, person.certificate_number) if part)
    boxes = (
        SignatureBox(person.name, "I declare the above.", name=person.name, certificate=certificate),
        SignatureBox("Records keeper", "This person signed before me, and I know who they are."),
    )
    yield KeepTogether((Signatures(boxes),))
    yield Heading("The record as it was signed", 2)
    yield plain("\n".join(declared.said))
