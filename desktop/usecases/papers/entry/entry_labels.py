"""The maintenance entry on labels for the log: on one when it fits, else on as many as it needs, each numbered."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.records.record import Section
from desktop.usecases.papers.entry.entry_paper import EntryPaper
from desktop.usecases.papers.frame import LANGUAGE, Printing
from desktop.usecases.papers.heading import GOVERNING, INVENTED
from desktop.usecases.papers.records.check_code_of import code_of
from desktop.usecases.papers.records.record_parts import grouped
from reports.document import Paragraph, Run
from reports.document_labels import LABEL_SIZES, Label, LabelSheet, LabelSize

LinesOver = Callable[[Label, LabelSize], int]
"""Says by how many lines a label is too long for its size; 0 when it fits."""
COMMON = {"letter": "letter, 6 of 4 x 3 1/3 in", "a4": "A4, 6 of 99.1 x 93.1 mm"}
"""The size of label that is taken for a paper size when none is named."""
INK_LINES = ("signature", "certificate no. and kind", "date")
MOST_LABELS = 12
LINE_SIGNS = 60
"""About how many signs stand on a line of a label."""


def label_size(name: str, paper: str) -> LabelSize:
    """Return a size of label by its name, the usual one for an empty name. Raise Refusal for one that is not sold."""
    wanted = name or COMMON[paper]
    found = next((size for size in LABEL_SIZES if size.name == wanted), None)
    if found is None:
        names = "; ".join(size.name for size in LABEL_SIZES)
        raise Refusal(f'There is no label "{name}". Choose one of: {names}.')
    return found


def entry_labels(
    entry: EntryPaper,
    heading: tuple[str, str],
    size: LabelSize,
    start: int,
    over: LinesOver,
    printing: Printing,
    *,
    invented: bool = False,
) -> LabelSheet:
    """Return an entry as labels; ``heading`` names the shop and the order.

    Raise Refusal, before anything is drawn, for a start that is not on the sheet, for an entry that lacks something,
    and for one that a label of this size cannot hold.
    """
    if not 1 <= start <= size.count:
        raise Refusal(f"The first label is one of 1 to {size.count} on this sheet. Choose one of them.")
    if entry.against:
        raise Refusal(f"Nothing is signed on a label yet: {entry.against[0]}")
    if entry.missing:
        raise Refusal(f"The entry cannot go on a label yet. It lacks: {'; '.join(entry.missing)}. Write it first.")
    shop, order = heading
    bands = _bands(entry, printing, invented=invented)
    texts = tuple(_paragraphs(entry))
    sheet = LabelSheet(
        title=f"Maintenance entry, {order}: labels",
        subject="Maintenance entry for the log, on labels",
        language=LANGUAGE,
        size=size,
        labels=(Label(texts, order, (), tuple(bands)),),
        start=start,
        author=shop,
    )
    code = code_of(sheet)
    last = (*_seal(entry), _small(f"Check code of this print: {code}; {printing.printed}."))
    labels = _cut(texts, last, order, bands, () if entry.signed else INK_LINES, size, over)
    return replace(sheet, labels=labels)


def _cut(
    texts: tuple[Paragraph, ...],
    last: tuple[Paragraph, ...],
    head: str,
    bands: tuple[str, ...],
    pen: tuple[str, ...],
    size: LabelSize,
    over: LinesOver,
) -> tuple[Label, ...]:
    """Cut paragraphs into labels that fit; the last one holds the seal, the code and the lines for the pen."""
    waiting = list(texts)
    labels: list[Label] = []
    while True:
        whole = Label((*waiting, *last), _part(head, len(labels) + 1, 99), pen, bands)
        if not over(whole, size):
            labels.append(whole)
            break
        # The signature is not left alone on the last label: something of the entry stands above it.
        taken = min(_most(waiting, _part(head, 99, 99), bands, size, over), max(len(waiting) - 1, 1))
        if taken == 0 or len(labels) == MOST_LABELS:
            piece = waiting[:1] or list(last)
            lines = over(Label(tuple(piece), _part(head, 99, 99), () if waiting else pen, bands), size)
            raise Refusal(
                f"The entry does not fit on labels of this size ({size.name}): a part of it is {lines} lines too long. "
                "Take a larger label, or print the entry as a page."
            )
        labels.append(Label(tuple(waiting[:taken]), _part(head, len(labels) + 1, 99), (), bands))
        waiting = waiting[taken:]
    count = len(labels)
    return tuple(replace(label, head=_part(head, place, count)) for place, label in enumerate(labels, 1))


def _most(waiting: list[Paragraph], head: str, bands: tuple[str, ...], size: LabelSize, over: LinesOver) -> int:
    """Return how many paragraphs fit on a label."""
    count = 0
    while count < len(waiting) and not over(Label(tuple(waiting[: count + 1]), head, (), bands), size):
        count += 1
    return count


def _part(head: str, place: int, count: int) -> str:
    return head if count == 1 else f"{head}, label {place} of {count}"


def _bands(entry: EntryPaper, printing: Printing, *, invented: bool) -> tuple[str, ...]:
    bands = [INVENTED] if invented else []
    bands += ["Reprint"] if printing.is_reprint else []
    bands += [] if entry.approves else ["NOT APPROVED"]
    if entry.signed:
        bands += [f"Corrected by record {later.envelope.number}" for later in entry.signed.corrected_by]
    return tuple(bands)


def _paragraphs(entry: EntryPaper) -> Iterator[Paragraph]:
    """Yield the entry in paragraphs: each thing that is said once, its label before it."""
    for section in entry.sections:
        yield from _rows(section)
    yield _small(GOVERNING)


def _rows(section: Section) -> Iterator[Paragraph]:
    """Yield the rows of a section, short ones several on a line: a label is small."""
    waiting: list[Run] = []
    signs = 0
    for row in section.rows:
        size = len(row.label) + len(row.text) + 4
        if waiting and signs + size > LINE_SIGNS:
            yield Paragraph(tuple(waiting), small=True)
            waiting, signs = [], 0
        gap = "   " if waiting else ""
        waiting += [Run(f"{gap}{row.label}: ", quiet=True), Run(row.text)]
        signs += size
    if waiting:
        yield Paragraph(tuple(waiting), small=True)


def _seal(entry: EntryPaper) -> Iterator[Paragraph]:
    if entry.signed is None:
        return
    record, envelope = entry.signed.taken.record, entry.signed.taken.envelope
    for signer in record.signers:
        yield _small(f"Signed electronically by {signer.name}, {record.at}: {signer.meaning}")
    yield _small(
        f"Record {envelope.number} of shop file {record.shop_id}, record seal {grouped(envelope.digest[:16])}."
    )


def _small(text: str) -> Paragraph:
    return Paragraph((Run(text),), small=True)
