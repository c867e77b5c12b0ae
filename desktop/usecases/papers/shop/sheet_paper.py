"""A limits sheet on paper: what was transcribed, from which document, by whom, and compared by whom."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind, rows_of
from desktop.core.records.subjects import sheet_subject
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_paths import Row, sheet_groups, typed_rows
from desktop.core.shop.sheets.sheets import EngineSheet, Sheet, document_words
from desktop.core.shop.stamp import Stamp
from desktop.usecases.papers.frame import About, Printing, document, stamped
from desktop.usecases.papers.records.corrected import with_corrections
from desktop.usecases.papers.records.record_parts import attached, qr_content, seal_lines, signature_boxes
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.papers.shop.sheet_rows import sheet_lines, sheet_title
from desktop.usecases.records.sections.names import Names
from reports.document import (
    Band,
    Block,
    Column,
    Document,
    Paragraph,
    Run,
    SignatureBox,
    Signatures,
    Table,
    plain,
)
from reports.document_signing import AnySignature
from reports.document_text import Entries, Entry

NOT_DATA = "A limits sheet is transcribed. The approved data are in the document, and this sheet is none of them."
INVENTED_LINE = "INVENTED"
TRANSCRIBED, COMPARED = "Transcribed by", "Compared by"
MEANINGS = {
    TRANSCRIBED: "I typed these values from the document that is named.",
    COMPARED: "I compared each value with the document that is named.",
}
Signed = dict[str, VerifiedRecord]
"""The record in which a sheet's transcription was signed, and that of its comparison; none where it was ink."""


def sheet_print(
    life: SheetLife,
    names: Names,
    about: About,
    records: Sequence[VerifiedRecord],
    printing: Printing,
    *,
    superseded_by: int = 0,
) -> Document:
    """Return a limits sheet with its check code, and the codes of the newest record in which it was signed."""
    signed = sheet_signatures(records, life.sheet)
    paper = sheet_paper(life, names, about, signed, superseded_by=superseded_by)
    if not signed:
        return stamped(paper, printing)
    newest = list(signed.values())[-1]
    shop_id = newest.taken.record.shop_id
    paper = with_corrections(paper, tuple(signed.values()))
    return stamped(paper, printing, qr_content(shop_id, newest), seal_lines(shop_id, newest))


def sheet_signatures(records: Sequence[VerifiedRecord], sheet: Sheet) -> Signed:
    """Return the records in which a sheet was signed as it stands.

    Raise Refusal where the values that were signed are not those that are kept.
    """
    found: Signed = {}
    subject = sheet_subject(sheet.id, str(sheet.revision))
    about = [one for one in records if one.taken.record.kind is RecordKind.LIMITS_SHEET]
    for title, stamp in ((TRANSCRIBED, sheet.transcribed_by), (COMPARED, sheet.compared_by)):
        for one in about:
            record = one.taken.record
            head = record.section("Limits sheet")
            is_comparison = head is not None and any(row.label == COMPARED for row in head.rows)
            if record.subject == subject and stamp and _is_by(one, stamp) and is_comparison is (title == COMPARED):
                found[title] = one
    rows = tuple(row for path, text in typed_rows(sheet) for row in rows_of(path, text))
    for one in found.values():
        values = one.taken.record.section("Values")
        if values is None or values.rows != rows:
            raise Refusal(
                f"Limits sheet {sheet.id}, revision {sheet.revision}, is not as it was signed in record {one.number}. "
                "Run 'sparkwright verify' on the shop file, and restore the newest backup that is sound."
            )
    return found


def _is_by(one: VerifiedRecord, stamp: Stamp) -> bool:
    record = one.taken.record
    return record.signer.person == stamp.person and datetime.fromisoformat(record.at) == stamp.at.replace(microsecond=0)


def sheet_paper(
    life: SheetLife, names: Names, about: About, signed: Signed | None = None, *, superseded_by: int = 0
) -> Document:
    """Return a limits sheet with everything that was typed; an invented one says so on every line."""
    sheet = life.sheet
    bands = [Band("Superseded by revision " + str(superseded_by), loud=True)] if superseded_by else []
    bands += [] if sheet.compared_by else [Band("Not compared yet: no card is issued with it", loud=True)]
    own = About(
        about.shop, "", f"sheet {sheet.id}", f"rev {sheet.revision}", "", _lines(sheet), sheet.invented, tuple(bands)
    )
    kind = "engine" if isinstance(sheet, EngineSheet) else "magneto"
    title = f"Limits sheet {sheet.id}, {kind}"
    signed = signed or {}
    return document(
        title,
        own,
        tuple(_blocks(life, sheet, names, signed)),
        subject="Limits sheet",
        attachments=tuple(attached(one.taken.envelope) for one in signed.values()),
    )


def _lines(sheet: Sheet) -> tuple[Paragraph, ...]:
    invented = (plain(INVENTED_LINE, bold=True),) if sheet.invented else ()
    return (plain(f"revision {sheet.revision} of the shop"), *invented)


def _blocks(life: SheetLife, sheet: Sheet, names: Names, signed: Signed) -> Iterator[Block]:
    mark = f"  {INVENTED_LINE}" if sheet.invented else ""
    names_of = sheet.types if isinstance(sheet, EngineSheet) else sheet.part_numbers
    yield Paragraph((Run(NOT_DATA, bold=True), Run(mark)))
    yield Entries(
        (
            Entry("for", f"{', '.join(names_of or ()) or 'nothing named yet'}{mark}"),
            Entry("transcribed from", f"{document_words(sheet) or 'no document named yet'}{mark}"),
            Entry("this sheet is", f"{life.word}{mark}"),
            Entry("transcribed by", _by(sheet.transcribed_by, names, mark)),
            Entry("compared by", _by(sheet.compared_by, names, mark)),
            *((Entry("one person did both", sheet.recheck_reason + mark),) if sheet.recheck_reason else ()),
        )
    )
    for name, rows in sheet_groups(sheet):
        yield _group(name, rows, invented=sheet.invented)
    boxes = tuple(_box(title, signed.get(title)) for title in MEANINGS)
    yield _ways(life, names, mark)
    yield Signatures(boxes)


def _box(title: str, one: VerifiedRecord | None) -> AnySignature:
    """Return a signature in words with its record, or the box for ink where none was signed in the program."""
    if one is None:
        return SignatureBox(title, MEANINGS[title])
    [box] = signature_boxes(one.taken.envelope, one.taken.record)
    return replace(box, title=title, note=f"record {one.number}")


def _by(stamp: Stamp | None, names: Names, mark: str) -> str:
    return f"{names.stamp(stamp) if stamp else 'nobody yet'}{mark}"


def _group(name: str, rows: tuple[Row, ...], *, invented: bool) -> Table:
    columns = [Column("value", 2.6), Column("as transcribed", 3.3), Column("unit", 2.3)]
    columns += [Column("", 1.1)] if invented else []
    mark = (INVENTED_LINE,) if invented else ()
    return Table(
        tuple(columns),
        tuple((*line, *mark) for line in sheet_lines(name, rows)),
        sheet_title(name) + (f" ({INVENTED_LINE.lower()})" if invented else ""),
    )


def _ways(life: SheetLife, names: Names, mark: str) -> Table:
    rows = tuple(
        (str(one.revision), one.move.value, names.stamp(one.by), "; ".join(one.said) + mark) for one in life.passages
    )
    columns = (
        Column("revision", 0.6, numbers=True),
        Column("what was done", 1.6),
        Column("by", 2.9),
        Column("said", 1.6),
    )
    return Table(columns, rows, "What was done with it")
