"""The maintenance entry on labels for the log: on one when it fits, else on as many as it needs, each numbered.

The last label says by itself who approves what: the approval, the printed name, the certificate and the signature are
never cut apart.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from desktop.core.errors import Refusal
from desktop.core.records.record import Row
from desktop.usecases.papers.entry.entry_paper import APPROVAL, NOT_SIGNED, EntryPaper
from desktop.usecases.papers.frame import LANGUAGE, Printing
from desktop.usecases.papers.heading import GOVERNING, INVENTED
from desktop.usecases.papers.records.check_code_of import code_of
from desktop.usecases.papers.records.record_parts import attached, grouped, qr_content, signed_as
from desktop.usecases.records.sections.names import moment_words
from reports.document import Paragraph, Run
from reports.document_labels import LABEL_SIZES, Label, LabelCode, LabelSheet, LabelSize, PenLine

LinesOver = Callable[[Label, LabelSize], int]
"""Says by how many lines a label is too long for its size; 0 when it fits."""
COMMON = {"letter": "letter, 6 of 4 x 3 1/3 in", "a4": "A4, 6 of 99.1 x 93.1 mm"}
"""The size of label that is taken for a paper size when none is named."""
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
    texts, closing = tuple(_paragraphs(entry)), tuple(_closing_rows(entry))
    more = tuple(_rows(row for row in _approval(entry) if row.label not in CLOSING))
    pen = () if entry.signed else _pen(entry)
    sheet = LabelSheet(
        title=f"Maintenance entry, {order}: labels",
        subject="Maintenance entry for the log, on labels",
        language=LANGUAGE,
        size=size,
        labels=(Label((*texts, *more, *closing, *_seal(entry)), order, pen, bands),),
        start=start,
        author=shop,
        attachments=(attached(entry.signed.taken.envelope),) if entry.signed else (),
    )
    code = _small(f"Check code of this print: {code_of(sheet)}; {printing.printed}.")
    bare = _End((*closing, *_seal(entry), code), pen)
    ends = [bare]
    if entry.signed:
        seal = LabelCode(qr_content(entry.signed.taken.record.shop_id, entry.signed), (*_seal(entry), code))
        ends.insert(0, _End(closing, pen, seal))

    def holds(one: _End) -> bool:
        return not over(one.label((), _part(order, 99, 99), bands), size)

    # The whole approval where a label has room for it; one too small for the QR code has everything else.
    end = next((one for one in ends if holds(one)), bare)
    whole = replace(end, paragraphs=(*more, *end.paragraphs))
    if holds(whole):
        return replace(sheet, labels=_cut(texts, whole, order, bands, size, over))
    return replace(sheet, labels=_cut((*texts, *more), end, order, bands, size, over))


@dataclass(frozen=True, slots=True)
class _End:
    """What is never cut apart: the approval with name and certificate, and the signature or the lines for it."""

    paragraphs: tuple[Paragraph, ...]
    pen: tuple[PenLine, ...]
    code: LabelCode | None = None

    def label(self, before: tuple[Paragraph, ...], head: str, bands: tuple[str, ...]) -> Label:
        """Return the last label, with what stands before the approval on it."""
        return Label((*before, *self.paragraphs), head, self.pen, bands, self.code)


def _cut(
    texts: tuple[Paragraph, ...], end: _End, head: str, bands: tuple[str, ...], size: LabelSize, over: LinesOver
) -> tuple[Label, ...]:
    """Cut paragraphs into labels that fit; the last one holds the end as a whole."""
    waiting, longest = list(texts), _part(head, 99, 99)
    labels: list[Label] = []
    while lines := over(end.label(tuple(waiting), _part(head, len(labels) + 1, 99), bands), size):
        taken = _most(waiting, longest, bands, size, over)
        if taken == 0 or len(labels) == MOST_LABELS:
            lines = over(Label(tuple(waiting[:1]), longest, (), bands), size) or lines
            raise Refusal(
                f"The entry does not fit on labels of this size ({size.name}): a part of it is {lines} lines too long. "
                "Take a larger label, or print the entry as a page."
            )
        labels.append(Label(tuple(waiting[:taken]), longest, (), bands))
        waiting = waiting[taken:]
    labels.append(end.label(tuple(waiting), longest, bands))
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
    else:
        bands.append(NOT_SIGNED)
    return tuple(bands)


CLOSING = (APPROVAL, "Discrepancies", "Name", "Certificate number", "Kind of certificate")
"""The rows of the approval that are never parted from the signature."""
ON_THE_LINES = CLOSING[2:]
"""Those that stand on the lines for the pen while nothing is signed."""


def _paragraphs(entry: EntryPaper) -> Iterator[Paragraph]:
    """Yield what is said of the work, each label before its text; the approval comes after it."""
    for section in entry.sections:
        if section.title != APPROVAL:
            yield from _rows(section.rows)
    yield _small(GOVERNING)


def _closing_rows(entry: EntryPaper) -> Iterator[Paragraph]:
    wanted = CLOSING if entry.signed else tuple(label for label in CLOSING if label not in ON_THE_LINES)
    yield from _rows(row for row in _approval(entry) if row.label in wanted)


def _approval(entry: EntryPaper) -> tuple[Row, ...]:
    return next((section.rows for section in entry.sections if section.title == APPROVAL), ())


def _pen(entry: EntryPaper) -> tuple[PenLine, ...]:
    """Return the lines for the pen; name and certificate stand on theirs where they are known."""
    known: Mapping[str, str] = {row.label: row.text for row in _approval(entry)}
    name, *certificate = (known.get(label, "") for label in ON_THE_LINES)
    return (
        PenLine("signature"),
        PenLine("date"),
        PenLine("printed name", name),
        PenLine("certificate no. and kind", ", ".join(part for part in certificate if part)),
    )


def _rows(rows: Iterable[Row]) -> Iterator[Paragraph]:
    """Yield rows, short ones several on a line: a label is small."""
    waiting: list[Run] = []
    signs = 0
    for row in rows:
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
    when = moment_words(datetime.fromisoformat(record.at))
    for signer, signature in zip(record.signers, envelope.signatures, strict=True):
        yield _small(f"Signed electronically by {signer.name}, {signed_as(signer)}, {when}: {signer.meaning}")
        yield _small(f"Key {grouped(signature.public_key.hex()[:16])}.")
    yield _small(
        f"Record {envelope.number} of shop file {record.shop_id}, record seal {grouped(envelope.digest[:16])}."
    )


def _small(text: str) -> Paragraph:
    return Paragraph((Run(text),), small=True)
