"""Signing what the shop keeps lists of: a limits sheet transcribed, one compared, a tool."""

from collections.abc import Iterator, Sequence

from desktop.core.records.record import Record, RecordKind, Row, Section, rows_of, time_text
from desktop.core.records.subjects import sheet_subject, tool_subject
from desktop.core.shop.sheets.sheet_life import Difference
from desktop.core.shop.sheets.sheet_paths import typed_rows
from desktop.core.shop.sheets.sheets import Sheet, sheet_words
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Tool
from desktop.core.words import day_words
from desktop.usecases.records.keys.secrets import Hand, hand_of
from desktop.usecases.records.keys.sign import put_down, sign_with, signer_for
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.shop.change import Also
from desktop.usecases.shop.lists.keep_lists import keep_tool
from desktop.usecases.shop.lists.sheets import compare_sheet, finish_sheet
from desktop.usecases.shop.ports import Answer, Request, ShopWork

TRANSCRIBED = "I transcribed these values from the document named here. They are not approved data; the document is."
COMPARED = "I compared each of these values with the document named here, and they agree."
RECHECKED = "I transcribed and rechecked these values alone, for the reason given here."
TOOL_KEPT = "This tool is on the list as it stands here."


def sign_transcription(desk: SigningDesk, request: Request, sheet_id: str, secret: str, seen: int = 0) -> Answer:
    """Finish the transcription of a limits sheet with a signature. Raise NotReady with every fault that is left."""
    hand = hand_of(desk, request.person_id, secret, seen)
    try:
        return finish_sheet(desk.shop, request, sheet_id, _signing_sheet(desk, hand, TRANSCRIBED))
    finally:
        put_down(hand)


def sign_comparison(
    desk: SigningDesk,
    request: Request,
    sheet_id: str,
    confirmed: Sequence[str],
    secret: str,
    reason: str = "",
    seen: int = 0,
) -> Answer:
    """Compare a limits sheet with a signature; ``reason`` where one person did both.

    Raise NotReady when a group was not compared, or when whoever typed it would compare it though others could. What
    differs is not signed: it sends the sheet back (``compare_sheet``).
    """
    hand = hand_of(desk, request.person_id, secret, seen)
    nothing: tuple[Difference, ...] = ()
    try:
        also = _signing_sheet(desk, hand, RECHECKED if reason.strip() else COMPARED)
        return compare_sheet(desk.shop, request, sheet_id, confirmed, nothing, reason, also)
    finally:
        put_down(hand)


def sign_tool(desk: SigningDesk, request: Request, tool: Tool, secret: str, seen: int = 0) -> Answer:
    """Keep a tool on the list with a signature."""
    hand = hand_of(desk, request.person_id, secret, seen)

    def also(work: ShopWork, kept: Tool, by: Stamp) -> None:
        section = Section("Tool", tuple(tool_rows(kept)))
        _sign(desk, work, hand, RecordKind.TOOL_RECORD, tool_subject(kept.id), by, TOOL_KEPT, (section,))

    try:
        return keep_tool(desk.shop, request, tool, also)
    finally:
        put_down(hand)


def sheet_sections(sheet: Sheet) -> tuple[Section, ...]:
    """Return a limits sheet as sections: its name, every value with its key, and who transcribed and compared it."""
    values = tuple(row for path, text in typed_rows(sheet) for row in rows_of(path, text))
    head = [Row("Sheet", sheet_words(sheet))]
    if sheet.transcribed_by:
        head.append(Row("Transcribed by", sheet.transcribed_by.person))
    if sheet.compared_by:
        head.append(Row("Compared by", sheet.compared_by.person))
    if sheet.recheck_reason:
        head += rows_of("Reason for the recheck", sheet.recheck_reason)
    return Section("Limits sheet", tuple(head)), Section("Values", values)


def _signing_sheet(desk: SigningDesk, hand: Hand, meaning: str) -> Also[Sheet]:
    def also(work: ShopWork, sheet: Sheet, by: Stamp) -> None:
        subject = sheet_subject(sheet.id, str(sheet.revision))
        _sign(desk, work, hand, RecordKind.LIMITS_SHEET, subject, by, meaning, sheet_sections(sheet))

    return also


def _sign(
    desk: SigningDesk,
    work: ShopWork,
    hand: Hand,
    kind: RecordKind,
    subject: str,
    by: Stamp,
    meaning: str,
    sections: tuple[Section, ...],
) -> None:
    signer = signer_for(desk, work, by.person, kind, meaning)
    at = time_text(by.at)
    record = Record(kind, desk.shop_id, desk.shop_name, at, subject, signer, sections=sections)
    sign_with(desk, work, record, hand)


def tool_rows(tool: Tool) -> Iterator[Row]:
    """Yield what is said of a tool when it is signed."""
    yield from rows_of("Number", tool.id)
    yield from rows_of("Name", tool.name)
    yield Row("Care", tool.care.value)
    if tool.due:
        yield Row("Calibration holds until", day_words(tool.due))
    if tool.serial:
        yield from rows_of("Serial number", tool.serial)
    if tool.lamp:
        yield Row("Lamp", tool.lamp.value)
