"""The list of discrepancies that goes to the owner."""

from collections.abc import Iterator
from dataclasses import replace

from desktop.core.records.entry.discrepancy_list import DiscrepancyList
from desktop.core.records.record import Section
from desktop.core.words import day_words
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
from reports.document import (
    Block,
    Column,
    Document,
    Fact,
    Facts,
    KeepTogether,
    SignatureBox,
    Signatures,
    Table,
    plain,
)

SUBJECT = "List of discrepancies for the owner"
SIGNED = "The entry for the work names this list by its date. It is given to the owner or whoever leases the aircraft."
UNSIGNED = "This list says how things stand today. It is no maintenance entry."
NONE = "Nothing is open on this order, and nothing that was found on the aircraft stops it."
VOID = "The order is void: no work is done on it. There is nothing to give to the owner."
OF_THE_AIRCRAFT = frozenset(
    {
        "advanced",
        "retarded",
        "magnetos-apart",
        "one-housing-difference",
        "as-found-out",
        "no-drop",
        "drop-outside",
        "drops-apart",
        "reading-outside",
        "answer-stops",
        "plate-against-sheet",
        "part-without-papers",
        "electronic-ignition",
        "safe-state-not-normal",
    }
)
"""The rules whose findings say something of the aircraft. What the others find is work of the shop, not the owner's."""


def discrepancy_paper(
    listed: DiscrepancyList, about: About, waiting: int = 0, own: int = 0, *, is_void: bool = False
) -> Document:
    """Return the list as things stand today; it belongs to no entry that is signed.

    ``waiting`` is the count of steps that nobody confirmed yet, ``own`` of what else stops that is the shop's own work:
    they are no discrepancies. Nothing of a void order is given to anybody.
    """
    title = f"List of discrepancies of {day_words(listed.dated)}"
    blocks = tuple(_blocks(listed, waiting, own, is_void=is_void))
    return document(title, about, blocks, subject=SUBJECT)


def signed_discrepancy_paper(section: Section, one: VerifiedRecord, about: About, printing: Printing) -> Document:
    """Return the list as it was signed with an order that was not approved."""
    envelope, record = one.taken.envelope, one.taken.record
    own = replace(about, bands=(*about.bands, *corrected_bands(one)))
    blocks = (
        plain(SIGNED),
        *section_blocks((section,)),
        KeepTogether((signature_blocks(envelope, record),)),
        _given(),
        *correction_blocks(one),
    )
    attachments = (attached(envelope),)
    paper = document("List of discrepancies", own, blocks, subject=SUBJECT, attachments=attachments)
    return stamped(paper, printing, qr_content(record.shop_id, one), seal_lines(record.shop_id, one))


def _blocks(listed: DiscrepancyList, waiting: int, own: int, *, is_void: bool) -> Iterator[Block]:
    yield Facts(
        (
            Fact("aircraft", listed.aircraft, span=2),
            Fact("engine", listed.engine, span=2),
            Fact("order", listed.order),
            Fact("dated", day_words(listed.dated)),
        )
    )
    if is_void:
        yield plain(VOID, bold=True)
        return
    yield plain(UNSIGNED)
    if waiting:
        steps = "1 step of the cards waits for its" if waiting == 1 else f"{waiting} steps of the cards wait for their"
        yield plain(f"The work is not finished: {steps} initials.", bold=True)
    if own:
        things = "1 thing of its own" if own == 1 else f"{own} things of its own"
        yield plain(f"The shop still has {things} to do before an approval: see the summary for the inspector.")
    columns = (Column("no.", 0.4, numbers=True), Column("discrepancy", 3.6), Column("where it comes from", 2.6))
    rows = tuple((str(one.number), one.text, one.source) for one in listed.entries)
    yield Table(columns, rows, empty=NONE)
    yield _given()


def _given() -> KeepTogether:
    """Return room for both signatures; an owner signs that the list was received, and needs no certificate for it."""
    return KeepTogether(
        (
            plain("Given to the owner, or to whoever leases the aircraft:"),
            Signatures((SignatureBox("Given by", "I gave this list to the person named below."),)),
            Facts(
                (
                    Fact("received by: name", None, span=2),
                    Fact("signature", None),
                    Fact("date", None),
                )
            ),
        )
    )
