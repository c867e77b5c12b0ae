"""Puts the papers of an open shop together: what the shop keeps, the verifier of signatures, the renderer. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from desktop import assembly
from desktop.storage.shop_store import ShopFile
from desktop.usecases.papers.asked import Asked, NotYet, PaperDesk
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.printable import refuse_missing_signs
from desktop.usecases.papers.stable_set import papers_of_order
from desktop.usecases.shop.look_up import see_order

if TYPE_CHECKING:
    from collections.abc import Iterator

    from desktop.usecases.ports import PaperSize
    from desktop.usecases.shop.ports import Shop
    from reports.document import Paper
    from reports.document_labels import Label, LabelSize


def paper_desk(shop: Shop) -> PaperDesk:
    """Return what making a paper of an open shop file needs."""
    from desktop.signing import Ed25519Verifier  # noqa: PLC0415 - late: most commands print nothing

    store = shop.store
    if not isinstance(store, ShopFile):
        raise TypeError("papers need a shop file")
    return PaperDesk(shop, store.shop_id, store.records, Ed25519Verifier(), _lines_over, paper_size=paper_size(shop))


def paper_size(shop: Shop) -> PaperSize:
    """Return the size of paper that the shop set."""
    return "a4" if shop.store.settings().paper == "a4" else "letter"


def printed_paper(shop: Shop, asked: Asked, size: PaperSize, printed: str) -> bytes:
    """Return a paper as PDF; ``printed`` is the time in words. Raise Refusal when it cannot be made or shown."""
    return drawn(paper_of(paper_desk(shop), asked, printed), size)


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
    desk = paper_desk(shop)
    for name, asked in papers_of_order(desk, see_order(shop.store, order), invented=invented):
        try:
            paper = paper_of(desk, asked, printed)
        except NotYet:
            continue
        yield f"{name}.pdf", drawn(paper, size or paper_size(shop))


def _lines_over(label: Label, size: LabelSize) -> int:
    from reports.labels import lines_over  # noqa: PLC0415 - late: few papers are labels

    return lines_over(label, size)
