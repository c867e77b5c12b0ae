"""Puts the papers of an open shop together: what the shop keeps, the verifier of signatures, the renderer. No Qt."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING

from desktop import assembly
from desktop.core.errors import Refusal
from desktop.core.shop.orders.ink import Printed
from desktop.storage.records.scan_store import ScanStore
from desktop.storage.shop_store import ShopFile
from desktop.usecases.papers.asked import Asked, NotYet, PaperDesk
from desktop.usecases.papers.cards.card_gathering import card_of
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.kinds import BLANK_CARD, CARD, Of
from desktop.usecases.papers.printable import refuse_missing_signs
from desktop.usecases.papers.records.ink_codes import CodesNow, code_on, ink_kind
from desktop.usecases.papers.stable_set import papers_of_order
from desktop.usecases.records.ink.ink import note_print
from desktop.usecases.records.ink.ink_ports import InkDesk
from desktop.usecases.shop.lists.look_up import see_order

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from desktop.usecases.ports import PaperSize
    from desktop.usecases.shop.ports import Shop
    from reports.document import Paper
    from reports.document_labels import Label, LabelSize


def paper_desk(shop: Shop, size: PaperSize | None = None) -> PaperDesk:
    """Return what making a paper of an open shop file needs; without a size it is the shop's."""
    from desktop.signing import Ed25519Verifier  # noqa: PLC0415 - late: most commands print nothing

    store = shop.store
    if not isinstance(store, ShopFile):
        raise TypeError("papers need a shop file")
    return PaperDesk(
        shop, store.shop_id, store.records, Ed25519Verifier(), _lines_over, paper_size=size or paper_size(shop)
    )


def paper_size(shop: Shop) -> PaperSize:
    """Return the size of paper that the shop set."""
    return "a4" if shop.store.settings().paper == "a4" else "letter"


def printed_paper(shop: Shop, asked: Asked, size: PaperSize, printed: str) -> bytes:
    """Return a paper as PDF; ``printed`` is the time in words. Raise Refusal when it cannot be made or shown."""
    order = shop.store.order(asked.order) if asked.order else None
    desk = paper_desk(shop, size)
    paper = paper_of(desk, asked, printed)
    if order is None or ink_kind(asked.kind.name) is None:
        return drawn(paper, size)
    card = card_of(order, asked.card).number if asked.kind.of is Of.CARD else 0
    note = Printed(code_on(paper), order.number, card, asked.kind.name, order.version)
    if not asked.reprint and _was_printed(shop, note):
        paper = paper_of(desk, replace(asked, reprint=True), printed)
    data = drawn(paper, size)
    _note(shop, note)
    return data


def card_printer(shop: Shop) -> Callable[..., bytes]:
    """Return what prints a card of an order by its numbers, filled or blank, in a size; it raises Refusal."""

    def printed(order: int, card: int, *, size: str, blank: bool) -> bytes:
        asked = Asked(BLANK_CARD if blank else CARD, order, card)
        now = assembly.time_in_words(shop.clock.now())
        return printed_paper(shop, asked, "a4" if size == "a4" else "letter", now)

    return printed


def ink_desk(shop: Shop) -> InkDesk:
    """Return what recording paper that was signed with ink needs."""
    return InkDesk(shop, ScanStore(), CodesNow(paper_desk(shop)))


def _was_printed(shop: Shop, note: Printed) -> bool:
    """Tell whether the same paper with the same content was printed before."""
    with suppress(Refusal), shop.store.changing() as work:
        prints = ScanStore().within(work).printed_with(note.code)
        return any((one.order, one.card, one.paper) == (note.order, note.card, note.paper) for one in prints)
    return False


def _note(shop: Shop, note: Printed) -> None:
    """Remember the code of a print. A shop file that cannot be written keeps nobody from printing."""
    with suppress(Refusal):
        note_print(ink_desk(shop), note)


def drawn(paper: Paper, size: PaperSize) -> bytes:
    """Return a paper as PDF. Raise Refusal for a sign that its type lacks; a signed record shows it as a code."""
    from reports.render import render  # noqa: PLC0415 - late: most commands print nothing

    if not paper.attachments:
        refuse_missing_signs(paper, assembly.PaperPrinter().missing_signs)
    return render(paper, size)


def papers_of(
    shop: Shop, order: int, *, printed: str, size: PaperSize | None = None, invented: bool = False
) -> Iterator[tuple[str, bytes]]:
    """Yield every paper of an order as PDF with the name of its file; same shop and same time, same bytes.

    ``printed`` is the time in words; ``invented`` says across the head that the shop is an invented one. A card whose
    steps are not known yet is left out. Raise Refusal when there is no such order, or a record is not as it was signed.
    """
    desk = paper_desk(shop, size)
    for name, asked in papers_of_order(desk, see_order(shop.store, order), invented=invented):
        try:
            paper = paper_of(desk, asked, printed)
        except NotYet:
            continue
        yield f"{name}.pdf", drawn(paper, size or paper_size(shop))


def _lines_over(label: Label, size: LabelSize) -> int:
    from reports.drawn.labels import lines_over  # noqa: PLC0415 - late: few papers are labels

    return lines_over(label, size)
