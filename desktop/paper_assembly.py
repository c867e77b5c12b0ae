"""Puts the papers of an open shop together: what the shop keeps, the verifier of signatures, the renderer. No Qt."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from desktop import assembly
from desktop.core.errors import Refusal
from desktop.core.shop.orders.ink import Printed
from desktop.files.demo_shop import demo_shop
from desktop.storage.records.scan_store import ScanStore
from desktop.storage.shop_store import ShopFile
from desktop.usecases.papers.asked import Asked, NotYet, PaperDesk, errand_desk
from desktop.usecases.papers.cards.card_gathering import card_of
from desktop.usecases.papers.from_shop import list_on_screen, paper_of, why_not
from desktop.usecases.papers.kinds import Of
from desktop.usecases.papers.printable import refuse_missing_signs
from desktop.usecases.papers.records.ink_codes import CodesNow, code_on, ink_kind
from desktop.usecases.papers.shop.list_paper import ListOnScreen
from desktop.usecases.papers.stable_set import PaperThere, order_papers, papers_of_order, shop_papers
from desktop.usecases.records.ink.ink import note_print
from desktop.usecases.records.ink.ink_ports import InkDesk
from desktop.usecases.shop.lists.look_up import see_order

if TYPE_CHECKING:
    from collections.abc import Iterator

    from desktop.usecases.ports import PaperSize
    from desktop.usecases.shop.ports import Shop
    from reports.document import Paper
    from reports.document_labels import Label, LabelSize


def paper_desk(shop: Shop, size: PaperSize | None = None) -> PaperDesk:
    """Return what making a paper of an open shop file needs; without a size it is the shop's.

    In the demo's shop every paper says that its data are invented.
    """
    from desktop.signing import Ed25519Verifier  # noqa: PLC0415 - late: most commands print nothing

    store = shop.store
    if not isinstance(store, ShopFile):
        raise TypeError("papers need a shop file")
    return PaperDesk(
        shop,
        store.shop_id,
        store.records,
        Ed25519Verifier(),
        _lines_over,
        paper_size=size or paper_size(shop),
        invented=store.shop_id == demo_shop().shop_id,
    )


def paper_size(shop: Shop) -> PaperSize:
    """Return the size of paper that the shop set."""
    return "a4" if shop.store.settings().paper == "a4" else "letter"


@dataclass(frozen=True, slots=True)
class PrintReady:
    """A paper as PDF; ``note`` is what the shop file remembers of it once it goes out, None for nothing."""

    pdf: bytes
    note: Printed | None = None


class PaperErrand:
    """Papers of an open shop, made in one errand: the records are walked once, however many papers there are."""

    def __init__(self, shop: Shop, size: PaperSize | None = None) -> None:
        self._shop = shop
        self.desk = errand_desk(paper_desk(shop, size))
        self.size: PaperSize = size or paper_size(shop)

    def made(self, thing: Asked | ListOnScreen, printed: str) -> PrintReady:
        """Return a paper; ``printed`` is the time in words. Raise Refusal when it cannot be made or shown.

        A paper that people sign with ink, and that went out before with the same content, says that it is a reprint.
        """
        if isinstance(thing, ListOnScreen):
            return PrintReady(drawn(list_on_screen(self.desk, thing, printed), self.size))
        asked = thing
        order = self._shop.store.order(asked.order) if asked.order else None
        paper = paper_of(self.desk, asked, printed)
        if order is None or ink_kind(asked.kind.name) is None:
            return PrintReady(drawn(paper, self.size))
        card = card_of(order, asked.card).number if asked.kind.of is Of.CARD else 0
        note = Printed(code_on(paper), order.number, card, asked.kind.name, order.version)
        if not asked.reprint and _was_printed(self._shop, note):
            paper = paper_of(self.desk, replace(asked, reprint=True), printed)
        return PrintReady(drawn(paper, self.size), note)

    def of_order(self, number: int) -> tuple[PaperThere, ...]:
        """Return every paper of an order, also those that cannot be made yet. Raise Refusal when there is no order."""
        order = see_order(self._shop.store, number)
        return tuple(order_papers(self.desk, order, why_not))

    def of_shop(self) -> tuple[PaperThere, ...]:
        """Return every paper that belongs to the shop."""
        return tuple(shop_papers(self.desk, why_not))


def printed_paper(shop: Shop, asked: Asked, size: PaperSize, printed: str) -> bytes:
    """Return a paper that goes out, as PDF; ``printed`` is the time in words. Raise Refusal when it cannot be made."""
    ready = PaperErrand(shop, size).made(asked, printed)
    remember(shop, ready.note)
    return ready.pdf


def remember(shop: Shop, note: Printed | None) -> None:
    """Remember the code of a print. A shop file that cannot be written keeps nobody from printing."""
    if note is not None:
        with suppress(Refusal):
            note_print(ink_desk(shop), note)


def ink_desk(shop: Shop) -> InkDesk:
    """Return what recording paper that was signed with ink needs."""
    return InkDesk(shop, ScanStore(), CodesNow(paper_desk(shop)))


def _was_printed(shop: Shop, note: Printed) -> bool:
    """Tell whether the same paper with the same content was printed before."""
    with suppress(Refusal), shop.store.changing() as work:
        prints = ScanStore().within(work).printed_with(note.code)
        return any((one.order, one.card, one.paper) == (note.order, note.card, note.paper) for one in prints)
    return False


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
    desk = errand_desk(paper_desk(shop, size))
    for name, asked in papers_of_order(desk, see_order(shop.store, order), invented=invented):
        try:
            paper = paper_of(desk, asked, printed)
        except NotYet:
            continue
        yield f"{name}.pdf", drawn(paper, size or paper_size(shop))


def _lines_over(label: Label, size: LabelSize) -> int:
    from reports.drawn.labels import lines_over  # noqa: PLC0415 - late: few papers are labels

    return lines_over(label, size)
