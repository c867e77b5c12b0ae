"""Every paper that an order has, in one order and under stable names: for a folder of papers, and for exports."""

from collections.abc import Iterator

from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.kinds import PaperKind


def papers_of_order(desk: PaperDesk, order: WorkOrder, *, invented: bool = False) -> Iterator[tuple[str, Asked]]:
    """Yield what is asked for with the name of its file, without an ending: ``W-0003-card-2-T4``.

    What the order does not have is left out: no leads without an engine's sheet, no tag without a part that came off.
    """
    name, number = order_name(order.number), order.number

    def asked(kind: PaperKind, card: int = 0, of: str = "") -> Asked:
        return Asked(kind, number, card, of, invented=invented)

    yield f"{name}-{kinds.WORK_ORDER.name}", asked(kinds.WORK_ORDER)
    for card in order.cards:
        begin = f"{name}-card-{card.number:02d}-{_plain(card.task.id)}"
        yield begin, asked(kinds.CARD, card.number)
        yield f"{begin}-blank", asked(kinds.BLANK_CARD, card.number)
    if order.cards:
        yield f"{name}-{kinds.SUMMARY.name}", asked(kinds.SUMMARY)
    yield f"{name}-{kinds.ENTRY.name}", asked(kinds.ENTRY)
    if _is_signed(desk, number):
        yield f"{name}-{kinds.ENTRY_LABELS.name}", asked(kinds.ENTRY_LABELS)
    yield f"{name}-{kinds.DISCREPANCIES.name}", asked(kinds.DISCREPANCIES)
    if any(pin.place == "engine" for card in order.cards for pin in card.sheets):
        yield f"{name}-{kinds.LEADS.name}", asked(kinds.LEADS)
    yield f"{name}-{kinds.TOOLS.name}", asked(kinds.TOOLS)
    if any(moved.part.way is Way.OFF for moved in order.parts):
        yield f"{name}-{kinds.REMOVED_PARTS.name}", asked(kinds.REMOVED_PARTS)
    yield f"{name}-{kinds.PROPELLER_TAG.name}", asked(kinds.PROPELLER_TAG)
    for line in desk.records().lines():
        if line.order == number:
            kind = _plain(line.kind.replace(" ", "-"))
            yield f"{name}-record-{line.number:04d}-{kind}", asked(kinds.RECORD, of=str(line.number))


def _is_signed(desk: PaperDesk, number: int) -> bool:
    """Tell whether an entry of the order was signed: one that is not may still lack something."""
    return any(
        line.order == number and line.kind in ("approved for return to service", "not approved")
        for line in desk.records().lines()
    )


def _plain(text: str) -> str:
    """Return a text as a part of a file's name."""
    return "".join(sign if sign.isascii() and (sign.isalnum() or sign in "-_") else "_" for sign in text)
