"""What is wrong with a card's own tables, each fault with the step, box and key where it stands."""

from collections.abc import Iterator

from desktop.core.shop.cards.task_card import CAPTURES, FEWEST_CHOICES, LIMITS, MOST_CHOICES, SIDES, UNITS, BoxKind
from desktop.core.shop.orders.safe_state import BOARD_WORDS
from desktop.files.card_tables import BoxTable, CardTable, StepTable, UseTable
from desktop.files.text_faults import (
    MOST_SIGNS,
    Fault,
    card_id_faults,
    choice_faults,
    condition_faults,
    description_faults,
    id_faults,
    instruction_faults,
    signal_faults,
    text_faults,
)
from desktop.files.toml_faults import shown, table_words

SIDE, MAGNETO = "{side}", "{magneto}"
"""What becomes the side, or the magneto or housing, in a step that is made into several."""
EACH = ("side", "magneto")
"""What a step may be made for each of."""
CHOICE_SIGNS = 60
"""Most signs of one answer of a choice."""


def card_faults(card: CardTable) -> Iterator[Fault]:
    """Yield what is wrong with a card, before it is looked at what it uses of others."""
    yield from card_id_faults("id", card.id)
    yield from text_faults("title", card.title, 120)
    yield from text_faults("applies", card.applies)
    if card.scheme or not card.use:
        yield from text_faults("scheme", card.scheme, MOST_SIGNS)
    if card.revision < 1:
        yield "revision", "expected 1 or more."
    if not card.step and not card.use:
        yield "step", "a card has at least one step."
    seen: dict[str, int] = {}
    for number, step in enumerate(card.step, 1):
        where = table_words("step", number, step.id)
        yield from _step_faults(where, step)
        if step.id in seen:
            yield f"{where}: id", f"step {seen[step.id]} has this id already. Give each step an id of its own."
        seen[step.id] = number
    for number, use in enumerate(card.use, 1):
        yield from _use_faults(f"use {number}", use, seen)


def _use_faults(where: str, use: UseTable, own: dict[str, int]) -> Iterator[Fault]:
    if not use.sections:
        yield f"{where}: sections", "expected the name of at least one section."
    if len(set(use.sections)) != len(use.sections):
        yield f"{where}: sections", "a section stands there twice."
    if use.before and use.before not in own:
        yield f"{where}: before", f"{shown(use.before)} is no step of this card. Name one, or leave the key out."
    yield from condition_faults(f"{where}: only", use.only)


def _step_faults(where: str, step: StepTable) -> Iterator[Fault]:
    yield from id_faults(f"{where}: id", step.id)
    yield from _step_conditions(f"{where}: only", step.only, each=bool(step.each))
    yield from instruction_faults(f"{where}: instruction", step.instruction)
    if step.description:
        yield from description_faults(f"{where}: description", step.description)
        yield from signal_faults(f"{where}: description", step.description)
    yield from choice_faults(f"{where}: capture", step.capture, CAPTURES)
    for key, value, allowed in (
        ("board", step.board, tuple(BOARD_WORDS)),
        ("unit", step.unit, UNITS),
        ("limit", step.limit, LIMITS),
        ("side", step.side, SIDES),
        ("each", step.each, EACH),
    ):
        if value:
            yield from choice_faults(f"{where}: {key}", value, allowed)
    if step.section:
        yield from id_faults(f"{where}: section", step.section)
    yield from _capture_faults(where, step)
    yield from _initials_faults(where, step)
    for number, say in enumerate(step.say, 1):
        yield from description_faults(f"{where}: say {number}: text", say.text)
        yield from signal_faults(f"{where}: say {number}: text", say.text)
        yield from _step_conditions(f"{where}: say {number}: only", say.only, each=bool(step.each))
    yield from _box_faults(where, step)


def _stop_faults(where: str, step: StepTable) -> Iterator[Fault]:
    if not set(step.stops) <= set(step.choices):
        yield where, "an answer that stops the card is one of the choices."
    elif step.stops and set(step.stops) == set(step.choices):
        yield where, "every answer stops the card. Leave one with which the work goes on."


def _capture_faults(where: str, step: StepTable) -> Iterator[Fault]:
    """Yield what does not belong to the capture: answers to a choice, unit and limit to a reading."""
    count = len(step.choices)
    if step.capture == "choice" and not FEWEST_CHOICES <= count <= MOST_CHOICES:
        yield f"{where}: choices", f"{count} answers. Write {FEWEST_CHOICES} to {MOST_CHOICES}."
    if step.capture != "choice" and count:
        yield f"{where}: choices", 'only a capture of "choice" has answers.'
    if len(set(step.choices)) != count:
        yield f"{where}: choices", "an answer stands there twice."
    yield from _stop_faults(f"{where}: stops", step)
    for number, text in enumerate(step.choices, 1):
        yield from text_faults(f"{where}: choices {number}", text, CHOICE_SIGNS)
    if step.capture == "reading" and not (step.unit or step.limit):
        yield f"{where}: unit", "a reading has a unit, or a limit whose unit it is read in."
    for key, value in (("unit", step.unit), ("limit", step.limit)):
        if value and step.capture != "reading":
            yield f"{where}: {key}", f'only a capture of "reading" has a {key}.'


def _initials_faults(where: str, step: StepTable) -> Iterator[Fault]:
    """Yield what means nothing on a step that nobody initials, and a side beside `each`."""
    for key, value in (
        ("second", step.second),
        ("may_skip", step.may_skip),
        ("inspector", step.inspector),
        ("board", step.board),
    ):
        if value and not step.initials:
            yield f"{where}: {key}", "this asks for initials. Write initials = true."
    if step.each and step.side:
        yield f"{where}: side", "a step for each magneto has both sides. Leave the side out."
    texts = (step.instruction, step.description, *(say.text for say in step.say), *(box.text for box in step.box))
    for sign, each in ((SIDE, "side"), (MAGNETO, "magneto")):
        if step.each != each and any(sign in text for text in texts):
            yield f"{where}: each", f'{sign} stands in the step. Write each = "{each}", or name it in words.'


def _box_faults(where: str, step: StepTable) -> Iterator[Fault]:
    kinds = [kind.value for kind in BoxKind]
    highest = 0
    for number, box in enumerate(step.box, 1):
        place = f"{where}: box {number}"
        yield from _one_box_faults(place, box, kinds, each=bool(step.each))
        if kinds.index(box.kind) < highest:
            yield f"{place}: kind", f"a {box.kind} stands before any {kinds[highest]}. Order the boxes so."
        highest = kinds.index(box.kind)


def _one_box_faults(place: str, box: BoxTable, kinds: list[str], *, each: bool) -> Iterator[Fault]:
    yield from choice_faults(f"{place}: kind", box.kind, kinds)
    yield from id_faults(f"{place}: hazard", box.hazard)
    yield from description_faults(f"{place}: text", box.text)
    yield from _step_conditions(f"{place}: only", box.only, each=each)


def _step_conditions(where: str, only: tuple[str, ...], *, each: bool) -> Iterator[Fault]:
    """Yield the faults of conditions; in a step that is made into several they may name the side as well."""
    yield from condition_faults(where, tuple(one.replace(SIDE, SIDES[0]) for one in only) if each else only)
