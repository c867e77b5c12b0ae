"""Limits sheets: entering, taking in from a file, finishing, comparing by a second person, revising."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from desktop.core.errors import Refusal
from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.shop.orders.who_may import Deed, why_not
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_faults import is_sheet_id, sheet_faults
from desktop.core.shop.sheets.sheet_life import (
    Difference,
    SheetLife,
    SheetState,
    begun,
    compare_troubles,
    compared,
    finish_troubles,
    finished,
    revised,
    sent_back,
    written,
)
from desktop.core.shop.sheets.sheet_numbers import tidied_sheet
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet, document_words
from desktop.core.timing.faults import Fault
from desktop.usecases.shop.change import Also, nothing_more, refuse_troubles, remember, seen_before, stamp
from desktop.usecases.shop.lists.sheet_ports import SheetAsked
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def write_sheet(shop: Shop, request: Request, sheet: Sheet) -> Answer:
    """Keep what was typed into a sheet as a draft, faults and all; a new id begins a new sheet.

    Revision and signatures are the shop's, whatever the sheet says of them. Raise Refusal when another version was
    seen, when the sheet is no draft, or for an id that none can have.
    """
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.WRITE_SHEET)) is not None:
            return before
        by = stamp(shop, work, request, Deed.WRITE_SHEET)
        _refuse_text(sheet)
        life = work.sheet_life(sheet.id)
        if life is None:
            _refuse_id(sheet.id)
            _refuse_seen(sheet.id, 0, request)
            return _keep(work, request, Deed.WRITE_SHEET, begun(sheet, by), 0)
        _refuse_seen(sheet.id, life.version, request)
        _refuse_no_draft(life)
        _refuse_other_kind(life, sheet)
        return _keep(work, request, Deed.WRITE_SHEET, written(life, sheet, by), life.version)


def import_sheet(shop: Shop, request: Request, sheet: Sheet) -> Answer:
    """Take a sheet from a file in as a draft: a new sheet, or the next revision of one that is compared.

    Raise Refusal with the first fault of the sheet, and when a draft stands there that would be lost.
    """
    for fault in sheet_faults(sheet):
        raise Refusal(f"sheet: {fault.sentence}.")
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.WRITE_SHEET)) is not None:
            return before
        by = stamp(shop, work, request, Deed.WRITE_SHEET)
        _refuse_text(sheet)
        life = work.sheet_life(sheet.id)
        _refuse_seen(sheet.id, life.version if life else 0, request)
        if life is None:
            return _keep(work, request, Deed.WRITE_SHEET, begun(sheet, by), 0)
        if life.state is not SheetState.COMPARED:
            raise Refusal(
                f"Sheet {sheet.id} is {life.word} in this shop, and nothing is written over. Finish that one first."
            )
        _refuse_other_kind(life, sheet)
        return _keep(work, request, Deed.WRITE_SHEET, written(revised(life, by), sheet, by), life.version)


def finish_sheet(shop: Shop, request: Request, sheet_id: str, also: Also[Sheet] = nothing_more) -> Answer:
    """Say that a draft holds what its document says. Raise NotReady with every fault that is left.

    ``also`` is done with the finished sheet in the same transaction: there it is signed.
    """
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.WRITE_SHEET)) is not None:
            return before
        by = stamp(shop, work, request, Deed.WRITE_SHEET)
        life = _life(work, request, sheet_id)
        refuse_troubles(finish_troubles(life))
        after = finished(life, by)
        also(work, after.sheet, by)
        return _keep(work, request, Deed.WRITE_SHEET, after, life.version)


def compare_sheet(
    shop: Shop,
    request: Request,
    sheet_id: str,
    confirmed: Sequence[str] = (),
    differs: Sequence[Difference] = (),
    reason: str = "",
    also: Also[Sheet] = nothing_more,
) -> Answer:
    """Compare a finished transcription with its document, group by group.

    Where fields differ, the sheet goes back to a draft with what the document says; where every group is confirmed, the
    revision is kept for ever and is the current one from now on. Raise NotReady when a group was not compared, or when
    whoever typed it would compare it; alone in the shop, the same person rechecks it and gives a reason.
    """
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.COMPARE_SHEET)) is not None:
            return before
        by = stamp(shop, work, request, Deed.COMPARE_SHEET)
        life = _life(work, request, sheet_id)
        is_alone = not _others(work, life, by.at.date())
        refuse_troubles(compare_troubles(life, by, confirmed, differs, reason, is_alone=is_alone))
        if differs:
            after = sent_back(life, by, differs)
            _refuse_text(after)
            return _keep(work, request, Deed.COMPARE_SHEET, after, life.version)
        after = compared(life, by, reason)
        _refuse_text(after)
        answer = _keep(work, request, Deed.COMPARE_SHEET, after, life.version)
        work.put_compared_sheet(after.sheet)
        also(work, after.sheet, by)
        return answer


def revise_sheet(shop: Shop, request: Request, sheet_id: str) -> Answer:
    """Begin the next revision of a compared sheet; the one before stays current until the new one is compared.

    Raise Refusal for a sheet that is not compared yet.
    """
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.WRITE_SHEET)) is not None:
            return before
        by = stamp(shop, work, request, Deed.WRITE_SHEET)
        life = _life(work, request, sheet_id)
        if life.state is not SheetState.COMPARED:
            raise Refusal(f"Sheet {sheet_id} is {life.word}: this revision is not compared yet. Go on with it.")
        return _keep(work, request, Deed.WRITE_SHEET, revised(life, by), life.version)


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A sheet in the list: its newest revision and how far it is, and the current revision, 0 while there is none."""

    id: str
    kind: SheetKind
    revision: int
    state: SheetState
    current: int
    document: str
    invented: bool


def list_sheets(asked: SheetAsked) -> tuple[SheetLine, ...]:
    """Return every sheet of the shop, by id."""
    return tuple(
        SheetLine(
            life.sheet.id,
            life.kind,
            life.sheet.revision,
            life.state,
            life.sheet.revision if life.state is SheetState.COMPARED else life.sheet.revision - 1,
            document_words(life.sheet),
            life.sheet.invented,
        )
        for life in asked.sheet_lives()
    )


def see_sheet(asked: SheetAsked, sheet_id: str) -> SheetLife:
    """Return the newest revision of a sheet. Raise Refusal when there is none."""
    life = asked.sheet_life(sheet_id)
    if life is None:
        raise Refusal(f'There is no sheet "{sheet_id}" in this shop. Enter it, or take it in from a file.')
    return life


def faults_of(life: SheetLife) -> tuple[Fault, ...]:
    """Return what cannot be read of a sheet as it is typed, each with its field; a number may have any usual form."""
    return sheet_faults(tidied_sheet(life.sheet))


def current_pin(asked: SheetAsked, sheet_id: str) -> SheetPin:
    """Return the pin of a sheet's current revision. Raise Refusal while no revision is compared."""
    pins = asked.sheet_pins(sheet_id)
    if not pins:
        raise Refusal(f'Sheet "{sheet_id}" has no compared revision. Have a second person compare it first.')
    return pins[-1]


def _life(work: ShopWork, request: Request, sheet_id: str) -> SheetLife:
    life = see_sheet(work, sheet_id)
    _refuse_seen(sheet_id, life.version, request)
    return life


def _keep(work: ShopWork, request: Request, deed: Deed, life: SheetLife, version: int) -> Answer:
    work.put_sheet_life(replace(life, version=version + 1))
    return remember(work, request, Answer(deed, life.sheet.id, version + 1))


def _others(work: ShopWork, life: SheetLife, day: date) -> list[str]:
    """Return who of the shop may compare the sheet and did not type it."""
    return [
        person.id
        for person in work.people()
        if person.id not in life.written_by and why_not(person, Deed.COMPARE_SHEET, day) is None
    ]


def _refuse_seen(sheet_id: str, version: int, request: Request) -> None:
    if version != request.seen_version:
        raise Refusal(f"Sheet {sheet_id} is not as you saw it. Look at it as it is now, then do it again.")


def _refuse_no_draft(life: SheetLife) -> None:
    if life.state is SheetState.DRAFT:
        return
    advice = (
        "Begin the next revision." if life.state is SheetState.COMPARED else "Whoever compares it can send it back."
    )
    raise Refusal(f"Sheet {life.sheet.id} is {life.word}, and nothing more is typed into it. {advice}")


def _refuse_other_kind(life: SheetLife, sheet: Sheet) -> None:
    if sheet.kind is not life.kind:
        raise Refusal(f"Sheet {sheet.id} is about another thing here: {life.kind}. Give the new one another id.")


def _refuse_id(sheet_id: str) -> None:
    if not is_sheet_id(sheet_id):
        raise Refusal("A sheet's id has up to 40 small letters and digits with hyphens between. Choose such a name.")


def _refuse_text(value: Sheet | SheetLife) -> None:
    if trouble := text_trouble(value):
        raise Refusal(trouble)
