"""The menus of a shop's window: its places, the work, who sits here, and the view."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMainWindow

from desktop.core.timing.readings import Side
from desktop.viewmodels.card.card_pictures import View
from desktop.windows.frame.lock_watch import STAYS
from desktop.windows.frame.menu_keys import give_keys
from desktop.windows.orders.order_page import OrderPage

WHO, SOMEBODY, WHO_KEYS = "Who works here", "&By initials or name…", "Ctrl+I"
Act = Callable[[], object]
PlaceAct = tuple[str, str, Act]
"""A place by its name, its keys, and what shows it."""


@dataclass(frozen=True, slots=True)
class MenuActs:
    """What the menus do, as the window gives it."""

    places: tuple[PlaceAct, ...]
    other_shop: Act
    new_order: Act
    print_shown: Act
    order_papers: Act
    shop_papers: Act
    close: Act
    who: Callable[[str], object]
    change_theme: Act
    change_size: Callable[[int], object]


class ShopMenu(QObject):
    """Builds the menus once; ``card`` gives the page of the card that is shown, None for none."""

    def __init__(self, window: QMainWindow, acts: MenuActs, card: Callable[[], OrderPage | None]) -> None:
        super().__init__(window)
        self._acts, self._card = acts, card
        bar = self._bar = window.menuBar()
        places = bar.addMenu("&Places")
        for name, keys, show in acts.places:
            _add(places.addAction(name), keys, show)
        _add(places.addAction("&Another shop…"), "Ctrl+O", acts.other_shop)
        work = bar.addMenu("&Work")
        _add(work.addAction("&New work order"), "Ctrl+N", acts.new_order)
        self._of_card = [
            _add(work.addAction("Next open field"), "Ctrl+Return", self._next_open),
            _add(work.addAction("Next step"), "Ctrl+PgDown", partial(self._step, 1)),
            _add(work.addAction("Step before"), "Ctrl+PgUp", partial(self._step, -1)),
        ]
        for side in Side:
            name = f"{side.capitalize()} magneto: off the card, or on it again"
            self._of_card.append(_add(work.addAction(name), "", partial(self._turn_magneto, side)))
        _add(work.addAction("&Print what is shown…"), "Ctrl+P", acts.print_shown)
        self._of_order = [_add(work.addAction("Papers of the &order…"), "", acts.order_papers)]
        _add(work.addAction("Papers of the &shop…"), "", acts.shop_papers)
        _add(work.addAction("&Close"), "Ctrl+Q", acts.close).setProperty(STAYS, True)  # noqa: FBT003 - Qt's signature
        self._people = bar.addMenu(WHO)
        self._by_initials: dict[str, QAction] = {}
        view = bar.addMenu("&View")
        self._of_card.append(_add(view.addAction("Turn the view round"), "Ctrl+D", self._turn_view))
        _add(view.addAction("Light, &dark or high contrast"), "Ctrl+L", acts.change_theme)
        _add(view.addAction("&Larger text"), "Ctrl++", partial(acts.change_size, 1))
        _add(view.addAction("&Smaller text"), "Ctrl+-", partial(acts.change_size, -1))

    def offer(self, *, has_card: bool, has_order: bool) -> None:
        """Offer what means something on the page that is shown."""
        for actions, means in ((self._of_card, has_card), (self._of_order, has_order)):
            for action in actions:
                action.setEnabled(means)

    def list_people(self, people: Iterable[tuple[str, str]], present: str) -> None:
        """Offer everybody who is with the shop today, by initials and name, each with a letter of its own."""
        self._people.clear()
        self._by_initials = {}
        _add(self._people.addAction(SOMEBODY), WHO_KEYS, partial(self._acts.who, ""))
        self._people.addSeparator()
        taken = {_letter(SOMEBODY)}
        for initials, name in people:
            action = self._people.addAction(_lettered(f"{name} ({initials})", taken))
            action.setCheckable(True)
            self._by_initials[initials] = action
            _add(action, "", partial(self._acts.who, initials))
        self.mark(present)

    def open_people(self) -> None:
        """Open the menu of who works here, for a letter."""
        self._people.popup(self._bar.mapToGlobal(self._bar.rect().bottomLeft()))

    def mark(self, present: str) -> None:
        """Mark who is at work."""
        for initials, action in self._by_initials.items():
            action.setChecked(initials == present)

    def _step(self, by: int) -> None:
        card = self._card()
        if card is not None:
            card.page.show_place(card.page.current + by)

    def _next_open(self) -> None:
        card = self._card()
        if card is not None:
            card.page.commit_focused()
            card.page.go_to_next_open()

    def _turn_magneto(self, side: Side) -> None:
        card = self._card()
        if card is not None:
            session = card.session
            session.show_magneto(side, present=getattr(session.state.typed, side) is None)

    def _turn_view(self) -> None:
        card = self._card()
        if card is not None:
            page = card.page
            page.set_view(View.REAR if page.view is View.PROPELLER else View.PROPELLER)


def _add(action: QAction, keys: str, act: Act) -> QAction:
    give_keys(action, keys)
    action.triggered.connect(lambda _checked=False: act())
    return action


def _letter(words: str) -> str:
    return words.partition("&")[2][:1].casefold()


def _lettered(words: str, taken: set[str]) -> str:
    """Mark the first letter of a person that nobody before has."""
    plain = words.replace("&", "&&")
    for place, sign in enumerate(words):
        if sign.isascii() and sign.isalnum() and sign.casefold() not in taken and "&" not in words[:place]:
            taken.add(sign.casefold())
            return f"{plain[:place]}&{plain[place:]}"
    return plain
