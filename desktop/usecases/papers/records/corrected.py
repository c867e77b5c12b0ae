"""What corrects the records behind a paper: said across every page of it, and whole at its end."""

from collections.abc import Iterable
from dataclasses import replace

from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.usecases.papers import frame
from desktop.usecases.papers.records.record_parts import corrected_bands, correction_blocks
from desktop.usecases.papers.records.verified import VerifiedRecord
from reports.document import Document


def with_corrections(paper: Document, behind: Iterable[VerifiedRecord]) -> Document:
    """Return a paper with the corrections of the records behind it, each once; nothing is added where there are none.

    Of a correction that was corrected again both are there: only together they say what holds.
    """
    later = {one.envelope.number: one for record in behind for one in record.corrected_by}
    if not later:
        return paper
    whole = tuple(later[number] for number in sorted(later))
    first = next(record for record in behind if record.corrected_by)
    all_of_them = replace(first, corrected_by=whole)
    head = frame._banded(paper.head, corrected_bands(all_of_them))  # noqa: SLF001 - the same room
    return replace(paper, head=head, blocks=(*paper.blocks, *correction_blocks(all_of_them)))


def about_order(records: Iterable[VerifiedRecord], order: int) -> tuple[VerifiedRecord, ...]:
    """Return the records about an order and its cards."""
    return tuple(one for one in records if one.taken.line.order == order)


def about_people(records: Iterable[VerifiedRecord]) -> tuple[VerifiedRecord, ...]:
    """Return the newest record about each person: what the roster says was signed there."""
    newest = {one.taken.record.subject: one for one in records if one.taken.record.kind in PEOPLE_KINDS}
    return tuple(newest.values())
