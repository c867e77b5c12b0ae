"""Any value that a shop file keeps, as Hypothesis strategies made from the fields of the values themselves."""

from dataclasses import fields, is_dataclass, replace
from datetime import date, datetime, timedelta, timezone
from enum import StrEnum
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.directives import Directive
from desktop.core.shop.aircraft.intake import Intake
from desktop.core.shop.orders.discrepancies import CustomerWord, Discrepancy, Outcome, Settled
from desktop.core.shop.orders.order import LeftOut, WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import CARD_STATES, OrderState
from desktop.core.shop.orders.safe_state import SafeItem, SafeState
from desktop.core.shop.orders.time_booked import MOST_MINUTES, TimeBooked
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side

TEXTS = st.text(st.characters(codec="utf-8"), max_size=12)
TIMES = st.builds(
    lambda time, minutes: time.replace(tzinfo=timezone(timedelta(minutes=minutes))),
    st.datetimes(datetime(1990, 1, 1), datetime(2090, 1, 1)),  # noqa: DTZ001 - the offset is put in above
    st.integers(-14 * 60, 14 * 60),
)
STAMPS = st.builds(Stamp, TEXTS, TIMES, TEXTS)


def any_of(kind: Any) -> st.SearchStrategy[Any]:  # noqa: ANN401 - a type hint
    """Return a strategy for a type hint of a kept value: every field is filled, defaults too."""
    if kind in _OWN:
        own: st.SearchStrategy[Any] = _OWN[kind]()
        return own
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return st.one_of([st.none() if one is NoneType else any_of(one) for one in inner])
    if origin is Literal:
        return st.sampled_from(inner)
    if origin is tuple:
        return st.lists(any_of(inner[0]), max_size=2).map(tuple)
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return st.sampled_from(kind)
    assert isinstance(kind, type) and is_dataclass(kind), kind  # noqa: PT018 - one thing: a kept value
    return st.builds(kind, **fields_of(kind))


def fields_of(kind: Any, **instead: st.SearchStrategy[Any]) -> dict[str, st.SearchStrategy[Any]]:  # noqa: ANN401
    """Return a strategy for each field of a value, some replaced."""
    hints = get_type_hints(kind)
    return {one.name: instead[one.name] if one.name in instead else any_of(hints[one.name]) for one in fields(kind)}


def unique(kind: type, key: str) -> st.SearchStrategy[Any]:
    return st.lists(any_of(kind), max_size=2, unique_by=lambda one: getattr(one, key)).map(tuple)


def _engine(position: EnginePosition) -> st.SearchStrategy[EngineFitted]:
    magnetos = unique(MagnetoFitted, "side")
    return st.builds(EngineFitted, **fields_of(EngineFitted, position=st.just(position), magnetos=magnetos))


def _aircraft() -> st.SearchStrategy[Aircraft]:
    single = st.tuples(_engine(EnginePosition.SINGLE))
    twin = st.tuples(_engine(EnginePosition.LEFT), _engine(EnginePosition.RIGHT))
    return st.builds(Aircraft, **fields_of(Aircraft, engines=single | twin))


def _directive() -> st.SearchStrategy[Directive]:
    return st.builds(Directive, **fields_of(Directive, recurring=st.just(True))) | st.builds(
        Directive, TEXTS, st.dates(), TEXTS
    )


def _settled() -> st.SearchStrategy[Settled]:
    declined = fields_of(Settled, outcome=st.just(Outcome.DECLINED), customer=any_of(CustomerWord))
    other = fields_of(Settled, outcome=st.sampled_from([Outcome.CLOSED, Outcome.DEFERRED]))
    return st.builds(Settled, **declined) | st.builds(Settled, **other)


def _intake() -> st.SearchStrategy[Intake]:
    return st.builds(Intake, **fields_of(Intake, plates=unique(get_args(get_type_hints(Intake)["plates"])[0], "side")))


def _card() -> st.SearchStrategy[OrderCard]:
    steps = unique(get_args(get_type_hints(OrderCard)["steps"])[0], "step")
    return st.builds(OrderCard, **fields_of(OrderCard, state=st.sampled_from(CARD_STATES), steps=steps))


def _board() -> st.SearchStrategy[tuple[SafeState, ...]]:
    return st.tuples(*(st.builds(SafeState, st.just(item), st.booleans(), STAMPS) for item in SafeItem))


@st.composite
def orders(draw: st.DrawFn) -> WorkOrder:
    """Draw any work order that can be built."""
    aircraft: Aircraft = draw(_aircraft())
    cards: list[OrderCard] = draw(st.lists(_card(), max_size=2))
    found: list[Discrepancy] = draw(st.lists(any_of(Discrepancy), max_size=2))
    accepted = bool(cards) and all(card.state is OrderState.ACCEPTED for card in cards)
    endings = [None, OrderState.VOID, *([OrderState.APPROVED, OrderState.CLOSED] if accepted else [])]
    values = fields_of(
        WorkOrder,
        number=st.integers(1, 10**9),
        version=st.integers(1, 10**9),
        aircraft=st.just(aircraft),
        position=st.sampled_from([engine.position for engine in aircraft.engines]),
        board=_board(),
        cards=st.just(tuple(replace(card, number=place) for place, card in enumerate(cards, 1))),
        discrepancies=st.just(tuple(replace(one, number=place) for place, one in enumerate(found, 1))),
        ending=st.sampled_from(endings),
    )
    return draw(st.builds(WorkOrder, **values))


_OWN: dict[Any, Any] = {
    str: lambda: TEXTS,
    int: lambda: st.integers(0, 999_999),
    bool: st.booleans,
    date: st.dates,
    datetime: lambda: TIMES,
    Stamp: lambda: STAMPS,
    Aircraft: _aircraft,
    Directive: _directive,
    Settled: _settled,
    Intake: _intake,
    LeftOut: lambda: st.builds(LeftOut, st.sampled_from(Side), TEXTS.filter(str.strip), STAMPS),
    TimeBooked: lambda: st.builds(TimeBooked, TEXTS, st.integers(1, MOST_MINUTES), TEXTS, STAMPS),
}
