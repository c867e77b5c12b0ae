"""The steps of a card as sections: the boxes before each, what it asks for, what was written, by whom and when."""

from collections.abc import Iterator, Mapping, Sequence

from desktop.core.records.record import Row, Section
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order_card import OrderCard, StepDone
from desktop.core.timing.readings import Side, When
from desktop.usecases.records.sections.names import Names, told

ASKS = (
    ("initials", "initials"),
    ("inspector", "the inspector, before it is covered"),
    ("second", "somebody other than at the step before"),
    ("may_skip", "may be left out with a reason"),
)
"""What a step may ask for, by its field."""

CAPTURES = {
    "confirm": "confirmation",
    "choice": "one of the answers",
    "text": "words",
    "reading": "a reading",
    "part": "the part",
    "tool": "the tools, by number",
    "torque": "confirmation of the torque",
    "compression": "confirmation of the compression",
    "leads": "each lead as it was traced",
    "cut": "whether the engine cut",
    "centre by feel": "the top by feel",
    "stop pairs": "both stop contacts",
    "closing pair": "both stop contacts again",
    "synchronisation": "confirmation of both lamps",
    "turn left": "how far the left magneto is turned",
    "turn right": "how far the right magneto is turned",
    "turn housing": "how far the housing is turned",
    "run-up": "the run-up as left",
    "run-up as found": "the run-up as found",
}
"""What a step captures, in words; a timing is said with its magneto."""


def step_name(step_id: str) -> str:
    """Return the name of a step: its id with spaces, which no id has, for hyphens."""
    return step_id.replace("-", " ")


def capture_words(capture: str) -> str:
    """Say what is written at a step; one that is not known stands as it is."""
    when, _, side = capture.rpartition(" ")
    if when in set(When) and side in set(Side):
        return f"timing {when}, {side} magneto"
    return CAPTURES.get(capture, capture)


def step_sections(
    card: OrderCard, steps: Sequence[Step], limits: Mapping[str, str], names: Names
) -> tuple[Section, ...]:
    """Return a section for each step that applies, and one each for what was taken again and for what does not apply.

    ``steps`` are those that apply, as they were shown, with their boxes; ``limits`` gives the limit of a reading by the
    step's id, in words. A step that does not apply is named by its instruction.
    """
    numbers = {step.id: number for number, step in enumerate(steps, 1)}
    sections = [
        Section(f"Step {number}", tuple(_step(card, step, limits.get(step.id, ""), names)))
        for number, step in enumerate(steps, 1)
    ]
    again = [row for done in card.earlier for row in _named(done, numbers, names)]
    odd = [row for done in card.steps if done.step not in numbers for row in _named(done, numbers, names)]
    odd += [row for step in card.task.steps if step.id not in numbers for row in _left(step)]
    more = (("Confirmed earlier, and taken again", again), ("Not part of this job", odd))
    return (*sections, *(Section(title, tuple(rows)) for title, rows in more if rows))


def _step(card: OrderCard, step: Step, limit: str, names: Names) -> Iterator[Row]:
    for box in step.boxes:
        hazard = box.hazard.replace("-", " ").capitalize()
        yield from told(box.kind.upper(), f"{hazard}. {box.text}")
    yield from told("Instruction", step.instruction)
    yield from told("More about it", step.description)
    yield from told("Name of the step", step_name(step.id))
    yield from told("Magneto", step.side)
    yield from told("What is written", capture_words(step.capture))
    yield from told("Answers", "; ".join(step.choices))
    yield from told("Unit", step.unit)
    yield from told("Limit, by name", step.limit)
    yield from told("Limit", limit)
    yield from told("Asks for", "; ".join(words for field, words in ASKS if getattr(step, field)))
    yield from told("Safe-state board", step.board)
    done = card.done(step.id)
    if done is None:
        yield Row("Confirmed", "no" if step.initials else "no, and no initials are asked for")
    else:
        yield from _done(done, names)


def _done(done: StepDone, names: Names) -> Iterator[Row]:
    yield from told("Left out by" if done.skipped else "Confirmed by", names.stamp(done.by))
    yield from told("Reason for leaving it out" if done.skipped else "Written", done.text)
    for tool in done.tools:
        yield from told("Tool", names.tool(tool))


def _named(done: StepDone, numbers: Mapping[str, int], names: Names) -> Iterator[Row]:
    number = numbers.get(done.step)
    name = step_name(done.step)
    yield from told("Step", f"{number}, {name}" if number else name)
    yield from _done(done, names)


def _left(step: Step) -> Iterator[Row]:
    yield from told("Step that does not apply", f"{step_name(step.id)}. {step.instruction}")
