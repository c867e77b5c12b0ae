"""The fields with which a step of a task card is confirmed: a tick, a text, a reading, a choice, the tools' numbers.

A step that may be left out takes "n/a" with the reason in the same field, or in a second one beside a tick.
"""

from desktop.core.shop.cards.task_card import CUT, Step
from desktop.core.shop.orders.order_card import StepDone
from desktop.core.timing.typed_paths import Value
from desktop.viewmodels.pieces.fields import Field, Kind

STEP, LEFT_OUT = "@step.", "@left-out."
"""How the paths of fields begin that confirm a step, or leave it out with the reason."""

TOOL, TEXT, READING = "tool", "text", "reading"
NOT_APPLICABLE = "n/a"


def step_fields(step: Step, *, has_tools: bool) -> tuple[Field, ...]:
    """Return the fields that confirm a step."""
    path = f"{STEP}{step.id}"
    fields = (_confirming(step, path, has_tools=has_tools),)
    if not step.may_skip:
        return fields
    return (*fields, Field(f"{LEFT_OUT}{step.id}", "Or n/a, because", optional=True))


def _confirming(step: Step, path: str, *, has_tools: bool) -> Field:
    if step.capture == TOOL and has_tools:
        return Field(path, "Tools, by their numbers", hint="such as L-1, W-3")
    if step.capture == TEXT:
        return Field(path, "Write it here; it confirms the step")
    if step.capture == READING:
        limit = f"{step.limit.capitalize()}" if step.limit else "Reading"
        return Field(path, f"{limit}{f', {step.side}' if step.side else ''}", unit=step.unit)
    if step.choices:
        label = "The engine cut at OFF" if step.capture == CUT else "Found"
        return Field(path, label, Kind.CHOICE, choices=tuple((one, one) for one in step.choices))
    if step.second:
        return Field(path, "Done by a second person: my initials", Kind.TICK)
    return Field(path, "Done, and the inspector has seen it" if step.inspector else "Done: my initials", Kind.TICK)


def shown_of(done: StepDone | None, field: Field) -> Value:
    """Return what stands at a step's field."""
    leaves_out = field.path.startswith(LEFT_OUT)
    if field.kind is Kind.TICK:
        return done is not None and not done.skipped
    if done is None or done.skipped is not leaves_out:
        return None
    return done.text or ", ".join(done.tools) or None


def tools_in(text: str) -> tuple[str, ...]:
    """Return the numbers of tools in a typed list, each once."""
    return tuple(dict.fromkeys(name.strip() for name in text.replace(";", ",").split(",") if name.strip()))
