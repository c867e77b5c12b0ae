"""Who works at a shop's window: asked when it opens, changed by the menu, and said in the head of every page."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject

from desktop.core.left_off import LeftOff
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.orders.listed import asked_of
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.windows.frame.at_work import AtWork
from desktop.windows.frame.manners import Manners
from desktop.windows.frame.shop_menu import ShopMenu
from desktop.windows.orders.order_place import OrderPlace


class WhoWorks(QObject):
    """Keeps the menu, the head and the lock of one window to whoever works there.

    ``order`` gives the order that is shown; ``restore`` goes to where somebody left off. ``manners`` is None in a
    window without a lock, where nobody is asked for a secret.
    """

    def __init__(
        self,
        desks: tuple[ShopDesk, OrderDesk],
        menu: ShopMenu,
        head: AtWork,
        order: Callable[[], OrderPlace | None],
        restore: Callable[[LeftOff], object],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._orders = desks
        self._menu, self._head, self._order, self._restore = menu, head, order, restore
        self.manners: Manners | None = None
        self._later: LeftOff | None = None
        self._orders.become(self._desk.person_id)
        head.clicked.connect(lambda _checked=False: self.ask())
        self._desk.roster.kept.connect(lambda _words: self.list_people())

    def begin(self) -> None:
        """Ask who works here when nobody is at work: never is it the first of the list by itself."""
        self.list_people()
        if not self._desk.person_id and self._desk.people():
            self.ask()

    def ask(self, person_id: str = "") -> None:
        """Ask who works here; of somebody who was named, no more than their secret."""
        self._menu.mark(self._desk.person_id)
        if self.manners is not None:
            self.manners.ask_who(person_id)
        elif person_id:
            self.become(person_id)
        else:
            self._menu.open_people()

    def wait(self, left_off: LeftOff) -> bool:
        """Let a return wait until somebody is at work; tell whether it has to."""
        if not self._desk.person_id:
            self._later = left_off
        return not self._desk.person_id

    def become(self, person_id: str) -> None:
        """Let another person work here; what the one before was typing waits for them.

        Only whoever left off somewhere goes back to it.
        """
        if (place := self._order()) is not None:
            place.change_hands()
        later, self._later = self._later, None
        is_back = later is not None and later.person in ("", person_id)
        self._desk.person_id = person_id
        self._orders.become(person_id, asked_of(later.listed) if later is not None and is_back else None)
        if (place := self._order()) is not None:
            place.become(person_id)
        self.say()
        if later is not None and is_back:
            self._restore(replace(later, is_locked=False))

    def list_people(self) -> None:
        """Offer everybody who is with the shop today."""
        self._menu.list_people([(one.id, one.name) for one in self._desk.people()], self._desk.person_id)
        self.say()

    def say(self) -> None:
        """Say who is at work."""
        self._menu.mark(self._desk.person_id)
        self._head.say(self._desk.present_words())
        if self.manners is not None:
            self.manners.say_who()
