"""An open order as a whole: its head, the board, its cards, what stands around them, and the one next thing to do."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_line import aircraft_words, engine_words, order_name
from desktop.core.shop.orders.order_states import BEFORE_APPROVAL, Move, OrderState
from desktop.core.shop.orders.safe_state import Board
from desktop.core.shop.orders.who_may import Deed, why_not
from desktop.core.shop.people.people import Person
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.shop.cards.card_look import look_at_card, order_findings
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.orders.close_order import close_order
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.around_lines import AROUND_COLUMNS, around_lines
from desktop.viewmodels.orders.card_lines import CARD_COLUMNS, card_line
from desktop.viewmodels.orders.intake_form import may_change
from desktop.viewmodels.orders.next_act import NextAct, next_act
from desktop.viewmodels.pieces.bench import Bench
from desktop.viewmodels.pieces.lines_model import LinesModel
from desktop.viewmodels.pieces.order_words import day_words
from desktop.viewmodels.signing.sign_session import ActPen, SignSession

DEEDS: dict[str, Deed | Move] = {
    "issue": Move.ISSUE,
    "intake": Deed.TAKE_IN,
    "discrepancy": Deed.ADD_DISCREPANCY,
    "part": Deed.ADD_PART,
    "search": Deed.RECORD_DIRECTIVE,
    "directive": Deed.RECORD_DIRECTIVE,
    "time": Deed.BOOK_TIME,
    "leave-out": Deed.LEAVE_OUT,
    "not-approved": Move.NOT_APPROVE,
    "void": Move.VOID,
}
"""What a button of the order does, by its name; what is not here anybody may do."""
NOBODY = "Nobody is at work here."
CHANGED = "The order was changed in another window. Look at what changed, then do it again."


class OrderHub(QObject):
    """One order, as one person sees it. ``changed_elsewhere`` carries what another window changed, in plain words.

    ``sign_asked`` carries the session of a signature, ``signed`` what it did.
    """

    changed = Signal()
    refused = Signal(str)
    told = Signal(str)
    changed_elsewhere = Signal(object)
    sign_asked = Signal(object)
    signed = Signal(str)

    def __init__(
        self,
        shop: Shop,
        bench: Bench,
        number: int,
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.shop, self.bench, self.number = shop, bench, number
        self.who, self.new_id = who, new_id
        self.cards = LinesModel(CARD_COLUMNS, lambda line: line.number, self)
        self.around = LinesModel(AROUND_COLUMNS, lambda line: line.key, self)
        self.findings: tuple[SaidFinding, ...] = ()
        self._asked: tuple[object, str] | None = None
        self._said = ""
        self.order = see_order(shop.store, number)
        self._show()

    @property
    def name(self) -> str:
        """The order's number and how it stands."""
        return f"{order_name(self.number)}, {self.order.state}"

    @property
    def position_words(self) -> str:
        """The engine's position, large on an aircraft that has more than one; empty on any other."""
        order = self.order
        is_twin = order.position is not EnginePosition.SINGLE or len(order.aircraft.engines) > 1
        return f"{order.position.upper()} engine" if is_twin else ""

    def head_lines(self) -> tuple[tuple[str, str], ...]:
        """Return what the order is about: each label with its words."""
        order = self.order
        said = (
            ("Customer", order.customer.name),
            ("Aircraft", aircraft_words(order)),
            ("Engine", engine_words(order)),
            ("Asked", order.asked),
            ("Complaint", order.taken_in.intake.complaint if order.taken_in else ""),
            ("Promised", day_words(order.promised)),
        )
        return tuple((label, words) for label, words in said if words)

    @property
    def board(self) -> Board:
        """The safe-state board."""
        return self.order.board

    @property
    def is_open(self) -> bool:
        """Whether something may still be written on the order."""
        return self.order.state in BEFORE_APPROVAL

    def remarks(self) -> tuple[SaidFinding, ...]:
        """Return what stands against the approval."""
        return tuple(one for one in self.findings if one.severity is Severity.STOPS) if self.is_open else ()

    def nothing_against(self) -> str:
        """Say that no finding stands against the approval, and which cards are still to be accepted."""
        waiting = [str(card.number) for card in self.order.cards if card.state is not OrderState.ACCEPTED]
        if not self.is_open or not waiting:
            return "Nothing stands against the approval."
        return f"No finding stands against the approval. Not accepted yet: card {', '.join(waiting)}."

    def next_act(self) -> NextAct:
        """Return the one next thing to do: the first that this person may do, or else whose it is."""
        return next_act(self.order, self._person(), self.shop.store.people(), signs=self.bench.signs is not None)

    def why_not(self, name: str) -> str:
        """Say why this person may not do what a button of the order asks for; empty when they may."""
        person, deed = self._person(), DEEDS.get(name)
        if deed is None or person is None:
            return "" if deed is None else NOBODY
        return why_not(person, deed, self.shop.clock.now().date()) or ""

    def may_take_in(self) -> bool:
        """Tell whether the intake may still be written."""
        return may_change(self.order)

    def may_issue(self) -> bool:
        """Tell whether a card can be issued beside the next action."""
        return self.is_open and bool(self.order.cards)

    def card(self, number: int) -> OrderCard | None:
        """Return a card by its number."""
        return self.order.card(number)

    def reload(self) -> None:
        """Read the order again."""
        try:
            self.order = see_order(self.shop.store, self.number)
            self._show()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)

    def look(self) -> None:
        """See whether another window changed the order, and say what. A trouble is said once."""
        try:
            if self.shop.store.version(self.number) == self.order.version:
                return
            changes = self.shop.store.changes_since(self.number, self.order.version)
        except Refusal as refusal:
            if refusal.sentence != self._said:
                self._said = refusal.sentence
                self.refused.emit(refusal.sentence)
            return
        self.reload()
        self.changed_elsewhere.emit(tuple(words for change in changes for words in change.said))

    def set_board(self, place: int, *, is_normal: bool) -> bool:
        """Set one thing on the safe-state board by its place."""
        item = self.order.board[place].item
        return self.ask(
            ("board", item, is_normal),
            lambda request: set_safe_state(self.shop, request, self.number, item, is_normal=is_normal),
            f"{item.capitalize()}: set.",
        )

    def close(self) -> bool:
        """Close the order."""
        words = f"{order_name(self.number)} is closed."
        return self.ask("close", lambda request: close_order(self.shop, request, self.number), words)

    def ask(self, thing: object, verb: Callable[[Request], Answer], words: str) -> bool:
        """Do something to the order and say ``words``; asked again unchanged, it keeps its request id."""
        key = (thing, self.who(), self.order.version)
        if self._asked is None or self._asked[0] != key:
            self._asked = (key, self.new_id())
        try:
            verb(Request(self._asked[1], self.who(), self.order.version))
        except ChangedElsewhere as changed:
            self.reload()
            self.changed_elsewhere.emit(changed.changes)
            self.refused.emit(CHANGED)
            return False
        except NotReady as not_ready:
            self.refused.emit(" ".join(not_ready.reasons))
            return False
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        self._asked = None
        self.reload()
        self.told.emit(words)
        return True

    def ask_to_sign(self, act: Act, words: str) -> None:
        """Ask to sign something about the order as a whole; say ``words`` once it is signed."""
        signing = self.bench.signs
        if signing is None:
            return
        try:
            session = SignSession(signing, ActPen(signing, self.who(), act), self.new_id)
        except NotReady as not_ready:
            self.refused.emit(" ".join(not_ready.reasons))
            return
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        session.signed.connect(lambda _kept: self.signed.emit(words))
        self.sign_asked.emit(session)

    def _person(self) -> Person | None:
        return next((one for one in self.shop.store.people() if one.id == self.who()), None)

    def _show(self) -> None:
        today = self.shop.clock.now().date()
        order = self.order
        found = list(order_findings(self.shop, self.shop.store, order, today))
        looks = [(card, look_at_card(self.shop, self.shop.store, order, card, today)) for card in order.cards]
        for _, look in looks:
            found += look.findings
        self.findings = tuple(dict.fromkeys(found))
        self.cards.show_lines([card_line(order, card, look) for card, look in looks])
        self.around.show_lines(around_lines(order))
        self.changed.emit()
