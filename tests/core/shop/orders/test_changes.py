"""What changed on an order, said so that whoever was overtaken knows what to look at."""

from dataclasses import replace
from datetime import date

import pytest

from desktop.core.shop.aircraft.intake import Intake, Plate, TakenIn
from desktop.core.shop.orders.changes import changed_paths, what_changed
from desktop.core.shop.orders.discrepancies import Discrepancy
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, ReadingTaken, Remark, StepDone
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.orders.safe_state import SafeItem, with_state
from desktop.core.shop.orders.time_booked import TimeBooked
from desktop.core.timing.readings import Hand, Side
from desktop.core.timing.typed_card import TypedApproach, TypedCard, TypedEngine, TypedMagneto, TypedRunUp, TypedStop
from tests.core.shop.some_orders import AIRCRAFT, BY, EMPTY, LATER, card

WITH_CARD = replace(EMPTY, cards=(card(),))
LEFT = TypedMagneto(approach=(TypedApproach(light="22"),))
INTAKE = Intake(total_time="100", complaint="rough", plates=(Plate(Side.LEFT, serial="S-11"),))


def on_card(**values: object) -> OrderCard:
    return replace(card(), **values)  # type: ignore[arg-type]


def read(readings: TypedCard) -> OrderCard:
    return on_card(readings=readings)


ORDERS: dict[str, tuple[WorkOrder, WorkOrder, tuple[str, ...]]] = {
    "nothing": (EMPTY, replace(EMPTY, version=9), ()),
    "customer": (
        EMPTY,
        replace(EMPTY, customer=replace(EMPTY.customer, name="Mill", telephone="")),
        ('customer, name: "Café Aérodrome" became "Mill"', 'customer, telephone: "555 0100" taken away'),
    ),
    "promised": (EMPTY, replace(EMPTY, promised=date(2031, 5, 1)), ('promised day: new: "2031-05-01"',)),
    "engine serial": (
        EMPTY,
        replace(EMPTY, aircraft=replace(AIRCRAFT, engines=(replace(EMPTY.engine, serial="E-99"), AIRCRAFT.engines[1]))),
        ('aircraft, engines 1, serial number: "E-77" became "E-99"',),
    ),
    "an engine off": (
        EMPTY,
        replace(EMPTY, aircraft=replace(AIRCRAFT, engines=AIRCRAFT.engines[:1])),
        ("aircraft, engines changed",),
    ),
    "taken in": (EMPTY, replace(EMPTY, taken_in=TakenIn(INTAKE, BY)), ("intake written",)),
    "taken in by another": (
        replace(EMPTY, taken_in=TakenIn(INTAKE, BY)),
        replace(EMPTY, taken_in=TakenIn(INTAKE, LATER)),
        (),
    ),
    "intake corrected": (
        replace(EMPTY, taken_in=TakenIn(INTAKE, BY)),
        replace(
            EMPTY,
            taken_in=TakenIn(
                replace(INTAKE, logs_seen=True, plates=(replace(INTAKE.plates[0], hand=Hand.RIGHT),)), LATER
            ),
        ),
        ("intake, logs seen: no became yes", 'intake, plates 1, hand: new: "right"'),
    ),
    "board": (
        EMPTY,
        replace(EMPTY, board=with_state(EMPTY.board, SafeItem.ROTOR_PIN, LATER, is_normal=False)),
        ("safe-state board: rotor pin is in",),
    ),
    "entries": (
        replace(EMPTY, discrepancies=(Discrepancy(1, "crack", BY),), time=(TimeBooked("AB", 5, "", BY),)),
        replace(EMPTY, discrepancies=(Discrepancy(1, "crack at tower", BY), Discrepancy(2, "oil", BY))),
        ("discrepancy 1 changed", "discrepancy 2 added", "entry of time: 1 taken off"),
    ),
    "card issued": (EMPTY, WITH_CARD, ("card 1 (T0) issued",)),
    "returned": (
        replace(EMPTY, cards=(card(1, OrderState.FOR_INSPECTION),)),
        replace(
            EMPTY,
            cards=(card(1, OrderState.IN_WORK),),
            passages=(Passage(Move.RETURN, BY, 1, "the  light\nwas overrun"),),
        ),
        ("card 1: in work", 'return: "the light was overrun"'),
    ),
    "begun": (EMPTY, replace(EMPTY, passages=(Passage(Move.BEGIN, BY, 1),)), ()),
    "void": (EMPTY, replace(EMPTY, ending=OrderState.VOID), ("the order is void",)),
}
CARDS: dict[str, tuple[OrderCard, OrderCard, tuple[str, ...]]] = {
    "mechanic": (card(), on_card(mechanic="CD"), ('mechanic: new: "CD"',)),
    "a light": (
        read(TypedCard(left=LEFT)),
        read(TypedCard(left=replace(LEFT, approach=(TypedApproach(light="23", began="40"), TypedApproach(back="1"))))),
        (
            'left magneto, approach 1, from: new: "40"',
            'left magneto, approach 1, light: "22" became "23"',
            'left magneto, approach 2, back: new: "1"',
        ),
    ),
    "an approach less": (
        read(TypedCard(left=LEFT)),
        read(TypedCard(left=TypedMagneto())),
        ('left magneto, approach 1, light: "22" taken away',),
    ),
    "a firing order": (
        read(TypedCard(engine=TypedEngine(firing_order=(1, 3, 4, 2)))),
        read(TypedCard(engine=TypedEngine(firing_order=(1, 2, 4, 3), cylinders=4))),
        ('engine, cylinders: new: "4"', "engine, firing order: 1-3-4-2 became 1-2-4-3"),
    ),
    "a new order of firing": (
        read(TypedCard(engine=TypedEngine())),
        read(TypedCard(engine=TypedEngine(firing_order=(1, 2)))),
        ("engine, firing order: new: 1-2",),
    ),
    "a table off": (read(TypedCard(right=TypedMagneto())), read(TypedCard()), ("right magneto taken off",)),
    "a table on": (read(TypedCard()), read(TypedCard(run_up=TypedRunUp())), ("run-up added",)),
    "a full table off": (
        read(TypedCard(stop=(TypedStop(with_rotation="30", after_zeroing=True),))),
        read(TypedCard()),
        (
            'stop contacts 1, with rotation: "30" taken away',
            "stop contacts 1, after zeroing: yes taken away",
        ),
    ),
    "a step": (card(), on_card(steps=(StepDone("second", BY),)), ("step 2 is confirmed",)),
    "a step anew": (
        on_card(steps=(StepDone("second", BY),)),
        on_card(steps=(StepDone("second", LATER),)),
        ("step 2 is confirmed anew",),
    ),
    "a step back": (
        on_card(steps=(StepDone("first", BY), StepDone("gone", BY))),
        on_card(steps=(StepDone("first", BY),)),
        ("step gone is not confirmed any more",),
    ),
    "a remark": (card(), on_card(remarks=(Remark("late", BY),)), ("remark 1 added",)),
    "a tool": (
        card(),
        on_card(taken=(ReadingTaken("left.rotation", BY, "L-1"),)),
        ("who took a reading, or with which tool",),
    ),
    "a long text": (
        card(),
        on_card(mechanic="x" * 70),
        (f'mechanic: new: "{"x" * 60} ..."',),
    ),
}


@pytest.mark.parametrize(("old", "new", "said"), ORDERS.values(), ids=ORDERS)
def test_that_a_change_of_an_order_is_named(old: WorkOrder, new: WorkOrder, said: tuple[str, ...]) -> None:
    assert what_changed(old, new) == said


@pytest.mark.parametrize(("old", "new", "said"), CARDS.values(), ids=CARDS)
def test_that_a_change_on_a_card_is_named(old: OrderCard, new: OrderCard, said: tuple[str, ...]) -> None:
    orders = [replace(EMPTY, cards=(one,)) for one in (old, new)]
    assert what_changed(*orders) == tuple(f"card 1: {words}" for words in said)


def test_that_changed_readings_are_named_by_the_keys_of_the_readings_file() -> None:
    new = TypedCard(left=replace(LEFT, approach=(TypedApproach(light="22", began="40"),)), stop=(TypedStop("1", "2"),))
    assert changed_paths(TypedCard(left=LEFT), new) == ("stop[1].with", "stop[1].against", "left.approach[1].from")


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("left.approach[2].light", "left magneto, approach 2, light"),
        ("limits.left_btdc", "limits, left btdc"),
        ("measure.by", "way of measuring, by"),
        ("stop[1].against", "stop contacts 1, against rotation"),
        ("run_up.left_rpm", "run-up, left rpm"),
    ],
)
def test_that_a_path_is_said_from_the_table_to_the_field(path: str, words: str) -> None:
    assert path_words(path) == words
