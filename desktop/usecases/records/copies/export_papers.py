"""The prints of an export: each signed record as a document that says nothing of the time of printing."""

from collections.abc import Iterator, Sequence

from desktop.core.records.record import Record
from desktop.usecases.papers.frame import Printing
from desktop.usecases.papers.records.record_paper import record_paper
from desktop.usecases.papers.records.verified import VerifiedRecord
from reports.document import Document

_INVENTED = "invented data"


def record_papers(records: Sequence[VerifiedRecord]) -> Iterator[tuple[str, Document]]:
    """Yield each record as a document with the name of its file, without an ending: ``record-0014-card-submitted``.

    What says in one record that its data are invented stands on all prints about that order.
    """
    invented = {one.taken.line.order for one in records if _is_invented(one.taken.record)}
    for one in records:
        name = f"record-{one.number:04d}-{one.taken.record.kind.value.replace(' ', '-')}"
        printing = Printing("", one.taken.record.shop_id, one.count, one.head)
        yield name, record_paper(one, printing, invented=one.taken.line.order in invented)


def _is_invented(record: Record) -> bool:
    return any(_INVENTED in row.text.casefold() for section in record.sections for row in section.rows)
