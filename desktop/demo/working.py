"""Working a card from its first step to its last, as a mechanic does: one confirmation, one reading after the other."""

from collections.abc import Iterator
from fractions import Fraction

from desktop.core.shop.cards.card_scope import TIMED
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.card_facts import captures_on
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.typed_paths import Value
from desktop.demo.answers import IN_LIMITS, NOT_FOUND, SKIPS, base_id, words_for
from desktop.demo.crew import Crew
from desktop.demo.measuring import CONTACT, OTHER_CONTACT
from desktop.demo.plans import Plan
from desktop.usecases.shop.cards.card_look import CardLook
from desktop.usecases.shop.cards.confirm_step import confirm_step
from desktop.usecases.shop.cards.take_reading import take_reading

Values = tuple[tuple[str, Value], ...]
BACK_OFF, PLAY = Fraction(36), Fraction(2)
"""How far the demo's mechanics back off, and the play of the demo's drives, in crankshaft degrees."""


def work_card(crew: Crew, number: int, card: int, plan: Plan, *, stop_before: str = "") -> None:
    """Work a card; with ``stop_before`` the work ends before the step of that id. Nothing is submitted."""
    begin_card(crew, number, card, plan)
    look = crew.look(number, card)
    for step in look.steps:
        if step.id == stop_before:
            return
        if look.card.done(step.id) is None:
            do_step(crew, number, card, plan, step, look)


def begin_card(crew: Crew, number: int, card: int, plan: Plan) -> None:
    """Write how the crankshaft is measured, from which end the magnetos are seen, and the wrench: steps follow them."""
    order = crew.order(number)
    typed = order.cards[card - 1]
    values: list[tuple[str, Value]] = []
    if captures_on(order, typed) & TIMED:
        sides = [side for side in Side if getattr(typed.readings, side) is not None]
        values += [*plan.way.values(), *((f"{side}.seen_from", plan.seen_from) for side in sides)]
    for place, _ in enumerate(typed.readings.torque or (), 1):
        values += [(f"torque[{place}].wrench", plan.wrench), (f"torque[{place}].extension", plan.extension)]
    if values:
        take(crew, number, card, plan, tuple(values))


def do_step(crew: Crew, number: int, card: int, plan: Plan, step: Step, look: CardLook) -> None:
    """Do a step: its reading first, then the confirmation with the initials of whoever did it."""
    if reason := _reason_to_skip(step, plan):
        crew_confirms(crew, number, card, plan, step, reason, skipped=True)
        return
    # What counts as left is read twice, before the step is confirmed: nothing is read at it after that.
    for _ in range(2 if step.capture.startswith("as left") else 1):
        if values := tuple(values_at(crew, number, card, plan, step)):
            take(crew, number, card, plan, values, plan.tools[0] if plan.tools and "approach" in values[0][0] else "")
    is_read = step.capture == "reading"
    allowed = look.seen.sheets.limit_for(step.limit, step.side) if is_read else None
    position = plan.way.number_at(_nominal(look.card.readings, Side.LEFT)) if is_read else ""
    crew_confirms(crew, number, card, plan, step, words_for(step, plan, allowed, position))


def crew_confirms(
    crew: Crew, number: int, card: int, plan: Plan, step: Step, text: str, *, skipped: bool = False
) -> None:
    """Confirm a step in the name of whoever does it."""
    person = plan.second if step.second else plan.hands
    tools = plan.tools if step.capture == "tool" and not skipped else ()
    confirm_step(crew.shop, crew.on(person, number), number, card, step.id, text=text, tools=tools, skipped=skipped)


def take(crew: Crew, number: int, card: int, plan: Plan, values: Values, tool: str = "") -> None:
    """Write readings down."""
    take_reading(crew.shop, crew.on(plan.hands, number), number, card, *values, tool=tool)


def values_at(crew: Crew, number: int, card: int, plan: Plan, step: Step) -> Iterator[tuple[str, Value]]:
    """Yield what is read at a step, each with its path."""
    way = plan.way
    what, _, side_word = step.capture.rpartition(" ")
    if step.capture == "centre by feel":
        yield "measure.centre_by_feel", way.at(Fraction(3), first=True)
    elif step.capture == "stop pairs":
        yield "stop[1].with", way.at(CONTACT, first=True)
        yield "stop[1].against", way.at(OTHER_CONTACT, first=True)
    elif step.capture == "closing pair":
        yield "stop[2].with", way.at(CONTACT, off=plan.disc_moves)
        yield "stop[2].against", way.at(OTHER_CONTACT, off=plan.disc_moves)
        if way.measure.zeroed:
            yield "stop[2].after_zeroing", True
    elif step.capture in ("run-up", "run-up as found"):
        ran = plan.run_up if step.capture == "run-up" else plan.run_up_found
        yield from zip(("run_up.both_rpm", "run_up.left_rpm", "run_up.right_rpm"), ran, strict=True)
    elif what in ("as found", "setting", "as left"):
        yield from _approach(crew, number, card, plan, Side(side_word), what)


def _approach(crew: Crew, number: int, card: int, plan: Plan, side: Side, when: str) -> Iterator[tuple[str, Value]]:
    readings = crew.card(number, card).readings
    magneto = getattr(readings, side)
    path = f"{side}.approach[{len(magneto.approach or ()) + 1}]"
    stands = plan.of(side)
    light = _nominal(readings, side) + ((stands.found or Fraction(0)) if when == "as found" else stands.left)
    is_against = plan.against is side and when == "as left"
    yield f"{path}.when", when
    if not plan.way.turns_back:
        yield f"{path}.from", "compression"
    else:
        yield f"{path}.from", plan.way.at(light - BACK_OFF if is_against else light + BACK_OFF)
    yield f"{path}.light", plan.way.at(light)
    if plan.way.turns_back and not is_against:
        yield f"{path}.back", plan.way.at(light + PLAY)
    if magneto.impulse_lag:
        yield f"{path}.click_passed", True


def _nominal(readings: TypedCard, side: Side) -> Fraction:
    limits = readings.limits
    text = getattr(limits, f"{side}_btdc") if limits else None
    return Fraction(text or "0")


def _reason_to_skip(step: Step, plan: Plan) -> str:
    for key in (step.id, base_id(step)):
        if key in plan.skips:
            return plan.skips[key]
    if not step.may_skip:
        return ""
    what, _, side = step.capture.rpartition(" ")
    if what in ("turn", "setting"):
        sides = (Side.LEFT,) if side == "housing" else (Side(side),)
        return "" if any(plan.of(one).is_turned for one in sides) else IN_LIMITS
    if what == "as found" and plan.of(Side(side)).found is None:
        return NOT_FOUND
    return SKIPS.get(base_id(step), "")
