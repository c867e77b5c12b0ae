"""A limits sheet on paper: what was transcribed, from which document, by whom, and compared by whom."""

from collections.abc import Iterator

from desktop.core import typed_text
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.sheets.sheets import EngineSheet, Sheet, document_words
from desktop.core.shop.stamp import Stamp
from desktop.usecases.papers.frame import About, document
from desktop.usecases.records.sections.names import Names
from reports.document import (
    Band,
    Block,
    Column,
    Document,
    KeepTogether,
    Paragraph,
    Run,
    SignatureBox,
    Signatures,
    Table,
    plain,
)
from reports.document_text import Entries, Entry

NOT_DATA = "A limits sheet is transcribed. The approved data are in the document, and this sheet is none of them."
INVENTED_LINE = "INVENTED"
CRANK = "crankshaft degrees"
BTDC = f"{CRANK} BTDC"
INTERVAL = "interval"
OFTEN = (("hours", "h"), ("months", "months"))
UNITS = (
    ("btdc", BTDC),
    ("limits.", CRANK),
    ("back_off", CRANK),
    ("e_gap", "magneto degrees"),
    ("slot_degrees", "magneto degrees"),
    ("retard.", CRANK),
    ("run_up.", "rpm"),
    (".hours", "h"),
    (".months", "months"),
    ("_mm", "mm"),
)
"""The unit of a value by a part of its path; what has its unit beside it on the sheet, or is no number, has none."""


def sheet_paper(life: SheetLife, names: Names, about: About, *, superseded_by: int = 0) -> Document:
    """Return a limits sheet with everything that was typed; an invented one says so on every line."""
    sheet = life.sheet
    bands = [Band("Superseded by revision " + str(superseded_by), loud=True)] if superseded_by else []
    bands += [] if sheet.compared_by else [Band("Not compared yet: no card is issued with it", loud=True)]
    own = About(
        about.shop, "", f"sheet {sheet.id}", f"rev {sheet.revision}", "", _lines(sheet), sheet.invented, tuple(bands)
    )
    kind = "engine" if isinstance(sheet, EngineSheet) else "magneto"
    title = f"Limits sheet {sheet.id}, {kind}"
    return document(title, own, tuple(_blocks(life, sheet, names)), subject="Limits sheet")


def _lines(sheet: Sheet) -> tuple[Paragraph, ...]:
    invented = (plain(INVENTED_LINE, bold=True),) if sheet.invented else ()
    return (plain(f"revision {sheet.revision} of the shop"), *invented)


def _blocks(life: SheetLife, sheet: Sheet, names: Names) -> Iterator[Block]:
    mark = f"  {INVENTED_LINE}" if sheet.invented else ""
    names_of = sheet.types if isinstance(sheet, EngineSheet) else sheet.part_numbers
    yield Paragraph((Run(NOT_DATA, bold=True), Run(mark)))
    yield Entries(
        (
            Entry("for", f"{', '.join(names_of or ()) or 'nothing named yet'}{mark}"),
            Entry("transcribed from", f"{document_words(sheet) or 'no document named yet'}{mark}"),
            Entry("how far", f"{life.word}{mark}"),
            Entry("transcribed by", _by(sheet.transcribed_by, names, mark)),
            Entry("compared by", _by(sheet.compared_by, names, mark)),
            *((Entry("one person did both", sheet.recheck_reason + mark),) if sheet.recheck_reason else ()),
        )
    )
    for name, rows in sheet_groups(sheet):
        yield _group(name, rows, invented=sheet.invented)
    boxes = (
        SignatureBox("Transcribed by", "I typed these values from the document that is named."),
        SignatureBox("Compared by", "I compared each value with the document that is named."),
    )
    yield KeepTogether((_ways(life, names, mark), Signatures(boxes)))


def _by(stamp: Stamp | None, names: Names, mark: str) -> str:
    return f"{names.stamp(stamp) if stamp else 'nobody yet'}{mark}"


def _group(name: str, rows: tuple[tuple[str, str], ...], *, invented: bool) -> Table:
    columns = [Column("value", 2.4), Column("as transcribed", 3.4), Column("unit", 2.3)]
    columns += [Column("", 1.1)] if invented else []
    mark = (INVENTED_LINE,) if invented else ()
    title = _field_words(name)
    return Table(
        tuple(columns),
        tuple((*line, *mark) for line in _lines_of(name, rows)),
        f"{title[:1].upper()}{title[1:]}" + (f" ({INVENTED_LINE.lower()})" if invented else ""),
    )


def _lines_of(name: str, rows: tuple[tuple[str, str], ...]) -> Iterator[tuple[str, str, str]]:
    """Yield label, text and unit; the fields of one entry of a list stand in one line, each with its unit."""
    if name == INTERVAL:
        yield from _interval_lines(rows)
        return
    entries: dict[str, list[str]] = {}
    for path, text in rows:
        entry, _, field = path.partition("].")
        if field:
            unit = unit_of(path)
            said = f"{_field_words(field)} {text}{f' {unit}' if unit else ''}"
            entries.setdefault(f"{entry}]", []).append(said)
        else:
            yield _label(name, path), *_value(path, text)
    for entry, said_parts in entries.items():
        yield _label("", entry), "; ".join(said_parts), ""


def _interval_lines(rows: tuple[tuple[str, str], ...]) -> Iterator[tuple[str, str, str]]:
    """Yield each interval in one line: what is done, and how often: ``check of the points: 100 h, 12 months``."""
    entries: dict[str, dict[str, str]] = {}
    for path, text in rows:
        entry, _, field = path.partition("].")
        entries.setdefault(f"{entry}]", {})[field] = text
    for entry, said in entries.items():
        often = ", ".join(f"{said[field]} {unit}" for field, unit in OFTEN if field in said)
        yield _label("", entry), ": ".join(part for part in (said.get("what", ""), often) if part), ""


def _value(path: str, text: str) -> tuple[str, str]:
    """Return a value with its unit; one below zero degrees BTDC lies after TDC, and is said so."""
    unit = unit_of(path)
    number = typed_text.number(typed_text.tidied(text)) if unit == BTDC else None
    if number is None or number >= 0:
        return text, unit
    return f"{typed_text.degrees(-number)} after TDC", CRANK


def _label(group: str, path: str) -> str:
    words = _field_words(path.removeprefix(f"{group}."))
    return words[:1].upper() + words[1:]


def _field_words(path: str) -> str:
    return path_words(path.removesuffix("_mm")).replace("btdc", "BTDC").replace("e gap", "E-gap").replace("tdc", "TDC")


def unit_of(path: str) -> str:
    """Return the unit of a transcribed value; empty for one that has none or has it beside it on the sheet."""
    return next((unit for part, unit in UNITS if part in path), "")


def _ways(life: SheetLife, names: Names, mark: str) -> Table:
    rows = tuple(
        (str(one.revision), one.move.value, names.stamp(one.by), "; ".join(one.said) + mark) for one in life.passages
    )
    columns = (
        Column("revision", 0.6, numbers=True),
        Column("what was done", 1.6),
        Column("by", 2.2),
        Column("said", 2.0),
    )
    return Table(columns, rows, "What was done with it")
