"""Invented work orders in a shop in memory, and a desk at it."""

from dataclasses import replace
from datetime import date
from itertools import count

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import ENDINGS, OrderState
from desktop.core.timing.readings import Side
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.viewmodels.orders.order_desk import OrderDesk
from tests.core.shop.some_orders import card
from tests.usecases.shop.shop_floor import Floor

CUSTOMERS = ("Mill Flying Club", "Vance Aero Services", "Café Aérodrome", "Hill School")
STATES = tuple(OrderState)


def new_order(place: int) -> NewOrder:
    """Return the invented order of a place in the list, counted from 1."""
    position = EnginePosition.LEFT if place % 5 == 0 else EnginePosition.SINGLE
    magneto = MagnetoFitted(Side.LEFT, "M-20", f"S-{place}")
    engine = EngineFitted(position, "Fourbanger 360", f"E-{place}", (magneto,))
    return NewOrder(
        Customer(CUSTOMERS[place % len(CUSTOMERS)], "1 Mill Lane", "555 0100"),
        Aircraft(f"X-A{place:03d}", "Trainer 2", f"A-{place}", (engine,)),
        position,
        "Time both magnetos",
        date(2031, 3, 1 + place % 28),
    )


def shop_with(number_of_orders: int) -> Floor:
    """Return a shop with so many orders, in every state by turns."""
    floor = Floor()
    for place in range(1, number_of_orders + 1):
        open_order(floor.shop, floor.new("DESK"), new_order(place))
        floor.store.file.orders[place] = in_state(floor.order(place), STATES[place % len(STATES)])
    return floor


def in_state(order: WorkOrder, state: OrderState) -> WorkOrder:
    """Return an order in a state, with one card where the state asks for it."""
    if state is OrderState.OPEN:
        return order
    one = card(1, OrderState.ACCEPTED if state in ENDINGS else state)
    return replace(order, cards=(one,), ending=state if state in ENDINGS else None)


def desk_at(floor: Floor, person: str = "DESK") -> OrderDesk:
    """Return a desk at a shop, each with ids of its own."""
    ids = count()
    name = object()
    return OrderDesk(floor.shop, person, lambda: f"{id(name)}-{next(ids)}")
