"""What every list of the shop has: its lines, who asks, and what is said when something was refused."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import NotReady, Refusal
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.pieces.lines_model import LinesModel


class ListDesk(QObject):
    """A list of the shop and the person who works with it. ``who`` gives the person's id at each request.

    A thing that was refused and is asked again, unchanged, keeps its request id: should the first have gone through
    after all, the second does nothing.
    """

    lines_changed = Signal()
    kept = Signal(str)
    refused = Signal(str)
    model: LinesModel

    def __init__(
        self, shop: Shop, who: Callable[[], str], new_id: Callable[[], str], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.shop = shop
        self.who = who
        self.new_id = new_id
        self._asked: tuple[object, str] | None = None

    def look(self) -> None:
        """Read the list again."""
        raise NotImplementedError

    def notice(self) -> str:
        """Return what is to be known about the whole list; empty for nothing."""
        return ""

    def ask(self, thing: object, verb: Callable[[Request], Answer], *, seen: int, words: str) -> bool:
        """Keep something; tell whether it was kept, and say it in ``words``."""
        key = (thing, self.who(), seen)
        if self._asked is None or self._asked[0] != key:
            self._asked = (key, self.new_id())
        try:
            verb(Request(self._asked[1], self.who(), seen))
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        self._asked = None
        self.look()
        self.kept.emit(words)
        return True

    def sign(self, verb: Callable[[Request], Answer], *, seen: int, words: str) -> str:
        """Keep something with a signature and say it in ``words``; return why it was not kept, empty when it was."""
        try:
            verb(Request(self.new_id(), self.who(), seen))
        except NotReady as not_ready:
            return " ".join(not_ready.reasons)
        except Refusal as refusal:
            return refusal.sentence
        self.look()
        self.kept.emit(words)
        return ""

    def name_of_signer(self) -> str:
        """Return the name of whoever works here, whose secret is asked for."""
        return next((one.name for one in self.shop.store.people() if one.id == self.who()), self.who())
