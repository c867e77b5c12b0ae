"""What was typed on the pages of one order and not kept: it waits for whoever typed it."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from desktop.core.shop.orders.order_line import order_name
from desktop.viewmodels.orders.around_form import AroundForm
from desktop.viewmodels.pieces.begun import Begun, OnOrder
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.signing.approval_page import ApprovalPage
from desktop.windows.signing.inspection_page import InspectionPage

APPROVAL = "approval"


def inspection_of(card: int) -> str:
    """Return the name under which the reason for returning a card waits."""
    return f"inspection {card}"


class WaitingText:
    """Puts text aside with the keeper and takes it back; ``who`` gives the person who types."""

    def __init__(self, begun: Begun, number: int, who: Callable[[], str]) -> None:
        self._begun, self._number, self._who = begun, number, who

    def put(self, page: QWidget | None, form: tuple[str, AroundForm] | None) -> None:
        """Let what stands on a page wait, if it is not kept; ``form`` is the form that the page shows, by its name."""
        if form is not None and isinstance(page, EntryPage):
            page.commit_all()
            self._put(form[0], form[1].words.title, form[1].snapshot() if form[1].is_begun else None)
        elif isinstance(page, ApprovalPage):
            page.commit_all()
            self._put(APPROVAL, "the maintenance entry", page.session.typed())
        elif isinstance(page, InspectionPage):
            card = page.session.card
            self._put(inspection_of(card), f"the reason at card {card}", page.session.reason or None)

    def take(self, name: str) -> object | None:
        """Return what waits for the present person, which waits no longer."""
        return self._begun.take(self._key(name))

    def names(self) -> str:
        """Name what waits on this order for the present person; empty for nothing."""
        return self._begun.names(self._is_mine)

    def _is_mine(self, key: object) -> bool:
        return isinstance(key, OnOrder) and (key.order, key.person) == (self._number, self._who())

    def _put(self, name: str, title: str, text: object | None) -> None:
        self._begun.put(self._key(name), f"{order_name(self._number)}: {title}", text)

    def _key(self, name: str) -> OnOrder:
        return OnOrder(self._number, name, self._who())
