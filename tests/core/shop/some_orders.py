"""An invented order, and how to bring it into any state of the table."""

from dataclasses import replace
from datetime import UTC, datetime

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.cards.task_card import Step, TaskCard
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import CARD_STATES, ENDINGS, OrderState
from desktop.core.shop.orders.safe_state import new_board
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard

NOW = datetime(2031, 3, 4, 9, 30, tzinfo=UTC)
BY = Stamp("AB", NOW)
LATER = Stamp("CD", NOW.replace(hour=11))
STEPS = tuple(
    Step(name, (), (), f"Do {name}.", "", capture, initials=initials, inspector=False)
    for name, capture, initials in (("first", "text", True), ("second", "confirm", True), ("third", "confirm", False))
)
TASK = TaskCard("T0", 1, "Try the trial", "As said.", "Everywhere.", STEPS)
ENGINE = EngineFitted(
    EnginePosition.LEFT,
    "Fourbanger 360",
    "E-77",
    (MagnetoFitted(Side.LEFT, "M-1", "S-11"), MagnetoFitted(Side.RIGHT, "M-1", "S-12")),
)
AIRCRAFT = Aircraft(
    "X-ABCD", "Twinwing 2", "A-5", (ENGINE, EngineFitted(EnginePosition.RIGHT, "Fourbanger 360", "E-78"))
)
EMPTY = WorkOrder(
    number=7,
    version=1,
    opened=BY,
    customer=Customer("Café Aérodrome", telephone="555 0100"),
    aircraft=AIRCRAFT,
    position=EnginePosition.LEFT,
    board=new_board(BY),
    asked="Time both magnetos",
)


def card(number: int = 1, state: OrderState = OrderState.ISSUED) -> OrderCard:
    """Return a card of the order."""
    return OrderCard(number, TASK, BY, TypedCard(format=1), state=state)


def order_in(state: OrderState, *others: OrderState) -> WorkOrder:
    """Return an order in a state, with one card, or with more cards in the states given."""
    if state is OrderState.OPEN:
        return EMPTY
    if state in ENDINGS:
        return replace(EMPTY, cards=(card(1, OrderState.ACCEPTED),), ending=state)
    assert state in CARD_STATES
    states = (state, *others)
    return replace(EMPTY, cards=tuple(card(number, one) for number, one in enumerate(states, 1)))
