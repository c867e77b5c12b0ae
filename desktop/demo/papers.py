"""The papers of the demo's shop: every kind of every order, and the shop's own, each with a name that stays."""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from desktop import assembly, paper_assembly
from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.sheets.sheets import EngineSheet
from desktop.files.papers_out import make_folder, write_paper
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, NotYet, PaperDesk, errand_desk
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.stable_set import papers_of_order
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Shop

DRIFTS = "7741"
"""The magneto of the demo that drifts late."""
OF_THE_SHOP = (kinds.ROSTER, kinds.DUE, kinds.ORDER_LIST, kinds.TOOL_LIST, kinds.RESTORE)
APPROVALS = (RecordKind.APPROVED, RecordKind.NOT_APPROVED)


def print_papers(shop: Shop, folder: Path) -> int:
    """Print every kind of paper of every order, and the shop's own, into a folder; return how many there are.

    Of the records, those in which an order was approved or not are printed. Letter, whatever the shop set.
    """
    make_folder(folder)
    desk = errand_desk(paper_assembly.paper_desk(shop, "letter"))
    printed = assembly.time_in_words(shop.clock.now())
    count = 0
    for name, asked in (*_of_the_shop(desk), *_of_the_orders(desk)):
        with suppress(NotYet):
            paper = paper_of(desk, replace(asked, invented=True), printed)
            write_paper(folder / f"{name}.pdf", paper_assembly.drawn(paper, "letter"))
            count += 1
    return count


def _of_the_shop(desk: PaperDesk) -> Iterator[tuple[str, Asked]]:
    """Yield the shop's own papers, with a limits sheet of each kind, a drift and a declaration."""
    for kind in OF_THE_SHOP:
        yield f"shop-{kind.name}", Asked(kind)
    sheets = [life.sheet for life in desk.shop.store.sheet_lives()]
    engine = next(one.id for one in sheets if isinstance(one, EngineSheet))
    magneto = next(one.id for one in sheets if not isinstance(one, EngineSheet))
    for of in (engine, magneto):
        yield f"shop-{kinds.SHEET.name}-{of}", Asked(kinds.SHEET, of=of)
    yield f"shop-{kinds.DRIFT.name}-{DRIFTS}", Asked(kinds.DRIFT, of=DRIFTS)
    first = desk.shop.store.people()[0].id
    yield f"shop-{kinds.DECLARATION.name}-{first}", Asked(kinds.DECLARATION, of=first)


def _of_the_orders(desk: PaperDesk) -> Iterator[tuple[str, Asked]]:
    """Yield the papers of every order; of its records only its approvals."""
    store = desk.shop.store
    approvals = {str(line.number) for line in desk.records().lines() if line.kind in APPROVALS}
    newest = store.orders(limit=1)
    for number in range(1, (newest[0].number if newest else 0) + 1):
        for name, asked in papers_of_order(desk, see_order(store, number), invented=True):
            if asked.kind is not kinds.RECORD or asked.of in approvals:
                yield name, asked


def refuse_full_folder(folder: Path) -> None:
    """Raise Refusal for a folder in which something lies already: the demo writes over nothing."""
    try:
        is_full = folder.exists() and (not folder.is_dir() or any(folder.iterdir()))
    except OSError as trouble:
        raise Refusal(f"{folder} cannot be looked into: {trouble.strerror}. Name another folder.") from trouble
    if is_full:
        raise Refusal(f"Something lies in {folder} already, and nothing is written over. Name a new folder.")
