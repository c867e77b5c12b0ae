"""The places of a card inside an order: the job's data, then each step of the task card, then what is submitted."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.card_scope import TIMED
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.card_facts import captures_on
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, finding_key
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.orders.safe_state import STATE_WORDS
from desktop.core.timing.readings import Side, When
from desktop.core.timing.typed_card import TypedCard
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.card.data_places import engine_place, limits_place, magneto_places, measure_place
from desktop.viewmodels.card.reading_places import (
    FOUND_SAYS,
    approach_groups,
    closing_says,
    run_up_place,
    stop_groups,
    torque_place,
)
from desktop.viewmodels.card.same_way import SameWay, with_same_way
from desktop.viewmodels.card.step_fields import step_fields
from desktop.viewmodels.card.step_titles import title_of
from desktop.viewmodels.pieces.fields import Field, Group, Place, Shows, choice, named, sides_of

REASON, SAFE, RETURN = "@reason.", "@safe.", "@return"
"""How the paths of fields begin that stand on the order and not among the readings."""

TURN = "turn"
"""How the capture of a step begins in which a magneto is turned."""

STEPS_LATER = "Fill in engine, limits, way of measuring and magnetos. The steps of the card follow from them."
WRITABLE = (OrderState.ISSUED, OrderState.IN_WORK)
SETTING_SAYS = (("when", When.SETTING.value),)


@dataclass(frozen=True, slots=True)
class Around:
    """What a card's places need besides the card: findings, whether the shop keeps tools, and a card to take from."""

    findings: tuple[SaidFinding, ...] = ()
    has_tools: bool = False
    same: SameWay | None = None


def places_of_order(
    order: WorkOrder, card: OrderCard, state: CardState, steps: tuple[Step, ...], around: Around
) -> tuple[Place, ...]:
    """Return the places of a card of an order, in the order of the work, with these steps of its task card.

    The data of the job stand on a card that takes timing readings, and on one that has no steps before they are there.
    """
    typed = state.typed
    places: list[Place] = []
    if captures_on(order, card) & TIMED or not steps:
        measure = with_same_way(measure_place(typed), around.same, typed.measure)
        places = [engine_place(), limits_place(typed), measure, *magneto_places(typed)]
    places.append(_board_place(order))
    places += [_step_place(step, typed, has_tools=around.has_tools) for step in steps]
    if not steps:
        places.append(Place("steps-later", "The steps come here", STEPS_LATER, ()))
    places.append(_last_place(order, card, around.findings))
    return tuple(named(place) for place in places)


def _board_place(order: WorkOrder) -> Place:
    fields = tuple(
        choice(
            f"{SAFE}{standing.item.name}",
            standing.item.value.capitalize(),
            tuple((word, word) for word in STATE_WORDS[standing.item]),
            optional=True,
        )
        for standing in order.board
    )
    return Place(
        "board", "Safe state", "Say what on the aircraft is not as it flies.", (Group("The aircraft now", fields),)
    )


def _step_place(step: Step, typed: TypedCard, *, has_tools: bool) -> Place:
    """Return the place of one step: its boxes, its instruction, what it captures, and its initials."""
    groups, side, shows, says = _captured(step.capture, typed)
    if step.initials:
        groups = (*groups, Group("", step_fields(step, has_tools=has_tools)))
    return Place(
        f"step-{step.id}",
        title_of(step),
        step.instruction,
        groups,
        side,
        tuple((box.kind.value, box.text) for box in step.boxes),
        shows,
        says,
        step.description,
    )


Captured = tuple[tuple[Group, ...], Side | None, Shows, tuple[tuple[str, str | bool | None], ...]]


def _captured(capture: str, typed: TypedCard) -> Captured:
    """Return the fields of a capture, whose they are, what stands under them, and what a new entry is there."""
    when, _, side = capture.rpartition(" ")
    if when in set(When) and side in sides_of(typed):
        one = Side(side)
        says = {When.AS_FOUND: FOUND_SAYS, When.SETTING: SETTING_SAYS}.get(When(when), ())
        shows = Shows.FOUND if when == When.AS_FOUND else Shows.LEFT
        return approach_groups(typed, one, (When(when),)), one, shows, says
    if when == TURN and side in sides_of(typed):
        return (), Side(side), Shows.FOUND, ()
    plain: dict[str, Captured] = {
        "stop pairs": (stop_groups(typed, closing=False), None, Shows.TDC, ()),
        "closing pair": (stop_groups(typed, closing=True), None, Shows.NOTHING, closing_says(typed)),
        "torque": (torque_place(typed).groups, None, Shows.NOTHING, ()),
        "run-up": (run_up_place(is_needed=True).groups, None, Shows.NOTHING, ()),
        "run-up as found": (run_up_place(is_needed=True).groups, None, Shows.NOTHING, ()),
        "centre by feel": (
            (Group("", (Field("measure.centre_by_feel", "Top by feel, disc reads"),)),),
            None,
            Shows.NOTHING,
            (),
        ),
    }
    return plain.get(capture, ((), None, Shows.NOTHING, ()))


def _last_place(order: WorkOrder, card: OrderCard, findings: tuple[SaidFinding, ...]) -> Place:
    groups = tuple(_reasons(findings))
    state = order.state_of(card)
    if state is OrderState.FOR_INSPECTION:
        groups = (*groups, Group("Inspection", (Field(RETURN, "Reason for returning the card", optional=True),)))
        return Place("check", "Inspect", "Read every reading and finding.", groups, shows=Shows.ALL)
    if state in WRITABLE:
        return Place("check", "Check and submit", "Read every finding, then submit.", groups, shows=Shows.ALL)
    return Place("check", "How the card stands", "Nothing more is written on it.", groups, shows=Shows.ALL)


def _reasons(findings: tuple[SaidFinding, ...]) -> Iterator[Group]:
    """Yield a field for each reason that a finding asks for."""
    for finding in findings:
        if finding.severity is Severity.EXPLAIN:
            key = finding_key(finding.rule, finding.where)
            label = f"Reason, {path_words(finding.where)}"
            yield Group(finding.sentence, (Field(f"{REASON}{key}", label),))


def is_writable(order: WorkOrder, card: OrderCard) -> bool:
    """Tell whether a mechanic may still write on a card."""
    return order.state_of(card) in WRITABLE
