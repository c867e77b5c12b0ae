"""The papers of the demo's shop: each kind of paper is a function from an order to named papers."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from desktop import assembly, shop_assembly
from desktop.core.errors import Refusal
from desktop.core.shop.order import WorkOrder
from desktop.core.shop.order_line import order_name
from desktop.files.papers_out import make_folder, write_paper
from desktop.usecases.shop.card_look import state_of_card
from desktop.usecases.shop.look_up import see_order
from desktop.usecases.shop.ports import Shop

Papers = Iterator[tuple[str, bytes]]
"""Papers with the names of their files, without an ending."""
Kind = Callable[[Shop, WorkOrder, str], Papers]


def timing_cards(shop: Shop, order: WorkOrder, name: str) -> Papers:
    """Yield the filled task cards of an order that time magnetos; one that cannot be read as a whole is left out."""
    heading = replace(shop_assembly.order_heading(order), shop=name, invented=True)
    for card in order.cards:
        state = state_of_card(shop.rulebook, order, card)
        if card.task.id == assembly.TIMING_CARD and state.checked is not None and not state.faults:
            paper = assembly.paper_of_state(state, heading, "letter", blank=False)
            yield f"{order_name(order.number)}-card-{card.number}", paper


KINDS: tuple[Kind, ...] = (timing_cards,)
"""Every kind of paper that the demo prints."""


def print_papers(shop: Shop, folder: Path, name: str) -> None:
    """Print every paper of every order into a folder."""
    make_folder(folder)
    newest = shop.store.orders(limit=1)
    for number in range(1, (newest[0].number if newest else 0) + 1):
        order = see_order(shop.store, number)
        for kind in KINDS:
            for file, paper in kind(shop, order, name):
                write_paper(folder / f"{file}.pdf", paper)


def refuse_full_folder(folder: Path) -> None:
    """Raise Refusal for a folder in which something lies already: the demo writes over nothing."""
    try:
        is_full = folder.exists() and (not folder.is_dir() or any(folder.iterdir()))
    except OSError as trouble:
        raise Refusal(f"{folder} cannot be looked into: {trouble.strerror}. Name another folder.") from trouble
    if is_full:
        raise Refusal(f"Something lies in {folder} already, and nothing is written over. Name a new folder.")
