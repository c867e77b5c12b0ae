"""A work order: one job on one engine of one aircraft, with everything around its cards."""

from dataclasses import dataclass, replace
from datetime import date

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.directives import DirectiveDone, DirectiveSearch
from desktop.core.shop.aircraft.intake import TakenIn
from desktop.core.shop.aircraft.parts import PartMoved
from desktop.core.shop.orders.discrepancies import Discrepancy
from desktop.core.shop.orders.ink import InkSigned
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import ENDINGS, Move, OrderState, least
from desktop.core.shop.orders.safe_state import Board, is_board
from desktop.core.shop.orders.time_booked import TimeBooked
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side


@dataclass(frozen=True, slots=True)
class Passage:
    """A move that was made, by whom and when; ``card`` is 0 for the whole order."""

    move: Move
    by: Stamp
    card: int = 0
    reason: str = ""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A magneto of the engine that is not part of the job, with the reason; ValueError without one."""

    side: Side
    reason: str
    by: Stamp

    def __post_init__(self) -> None:
        if not self.reason.strip():
            raise ValueError("a magneto is left out for a reason")


@dataclass(frozen=True, slots=True)
class WorkOrder:
    """A work order as it stands. Numbers count from 1 without gaps; each change makes the version one more.

    Customer and aircraft are kept as they were on this order. ``ending`` is the state of the order as a whole, None
    before the approval. ``authorised`` is the customer's word for the work, ``left_out`` the magnetos that are no part
    of it, ``inks`` the prints that came back signed with ink. ValueError when parts contradict each other.
    """

    number: int
    version: int
    opened: Stamp
    customer: Customer
    aircraft: Aircraft
    position: EnginePosition
    board: Board
    asked: str = ""
    promised: date | None = None
    taken_in: TakenIn | None = None
    cards: tuple[OrderCard, ...] = ()
    discrepancies: tuple[Discrepancy, ...] = ()
    parts: tuple[PartMoved, ...] = ()
    time: tuple[TimeBooked, ...] = ()
    searches: tuple[DirectiveSearch, ...] = ()
    directives: tuple[DirectiveDone, ...] = ()
    passages: tuple[Passage, ...] = ()
    ending: OrderState | None = None
    authorised: str = ""
    left_out: tuple[LeftOut, ...] = ()
    inks: tuple[InkSigned, ...] = ()

    def __post_init__(self) -> None:
        wrong = (
            (self.number < 1 or self.version < 1, "an order's number and version count from 1"),
            (self.aircraft.engine_at(self.position) is None, "the aircraft has no engine in the order's position"),
            (not is_board(self.board), "the safe-state board is not whole"),
            (not _counts(self.cards), "cards count from 1"),
            (not _counts(self.discrepancies), "discrepancies count from 1"),
            (self.ending not in (None, *ENDINGS), "an order is in such a state by its cards only"),
            (self._ends_early, "an order ends when all its cards are accepted, or is void"),
        )
        for is_so, words in wrong:
            if is_so:
                raise ValueError(words)

    @property
    def state(self) -> OrderState:
        """The state of the order: how it ended, or else the least of its cards'."""
        return self.ending or least(card.state for card in self.cards)

    @property
    def engine(self) -> EngineFitted:
        """The engine that the job is on."""
        return next(engine for engine in self.aircraft.engines if engine.position is self.position)

    def card(self, number: int) -> OrderCard | None:
        """Return a card by its number."""
        return next((card for card in self.cards if card.number == number), None)

    def state_of(self, card: OrderCard) -> OrderState:
        """Return the state in which a card is shown: its own, or that in which the order ended."""
        return self.ending or card.state

    def with_card(self, card: OrderCard) -> "WorkOrder":
        """Return the order with a card in the place of the one that has its number."""
        return replace(self, cards=tuple(card if old.number == card.number else old for old in self.cards))

    @property
    def _was_not_approved(self) -> bool:
        return any(passage.move is Move.NOT_APPROVE for passage in self.passages)

    @property
    def _ends_early(self) -> bool:
        if self.ending not in (OrderState.APPROVED, OrderState.CLOSED) or self._was_not_approved:
            return False
        return least(card.state for card in self.cards) is not OrderState.ACCEPTED


def _counts(entries: tuple[OrderCard, ...] | tuple[Discrepancy, ...]) -> bool:
    return [entry.number for entry in entries] == list(range(1, len(entries) + 1))
