"""What the mechanics of the demo write at a step that asks for words, a choice, a part or a measured value."""

from fractions import Fraction

from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.sheets.sheet_limits import Range
from desktop.demo.measuring import plain
from desktop.demo.plans import Plan

NOTHING = "Looked at, and nothing to remark."
CHOICES = {
    "at-left": "right only",
    "at-right": "left only",
    "at-both": "neither",
    "at-start": "right only",
}
"""Where the first choice of a step is not the usual one."""
TEXTS = {
    "logs-seen": "Seen: airframe, engine and propeller logs; hours as on the order.",
    "complaint": "None. Periodic work.",
    "seals-seen": "Seal paint whole, clamps tight, dry at both flanges.",
    "plate-read": "As on the order.",
    "nothing-loose": "Everything tight, as it came.",
    "case-seen": "No cracks, dry at the seal, shaft without play.",
    "mark-named": "The timing mark of the handbook, against its pointer.",
    "no-contacts": "The engine's timing plate, by its data.",
    "coupling-by-data": "Forward two blades from compression, by the handbook.",
    "monitor-read": "All cylinders alike within 40 degrees.",
    "monitor-compared": "As found: nothing changed.",
    "plugs-seen": "All light brown, none worn out.",
}
PARTS = {
    "gasket": "Gasket GK-40, lot 31, certificate of conformity 3390.",
    "plug-part": "None.",
}
SKIPS = {
    "battery-off": "",
    "indicator-off": "None fitted: the engine's own marks were used.",
    "monitor-read": "None fitted on this aircraft.",
    "monitor-compared": "None fitted on this aircraft.",
    "plug-part": "No plug was replaced on this visit.",
    "drive-nut": "It was not loosened on this visit.",
    "at-start": "This switch has no START position.",
}
"""Why a step is left out on the demo's aircraft, where the card allows it."""
IN_LIMITS = "Within its limits; it stays where it is."
NOT_FOUND = "It could not be read as found; see the remark."


def base_id(step: Step) -> str:
    """Return the id of a step without the side that it was made for."""
    for ending in ("-left", "-right", "-housing"):
        if step.side and step.id.endswith(ending):
            return step.id.removesuffix(ending)
    return step.id.removesuffix("-housing")


def words_for(step: Step, plan: Plan, allowed: Range | None, position: str) -> str:
    """Return what is written at a step; empty where it asks for nothing.

    ``allowed`` are the limits of the value that it asks for, ``position`` the firing position as the disc shows it.
    """
    for key in (step.id, base_id(step)):
        if key in plan.says:
            return plan.says[key]
    if step.choices:
        return CHOICES.get(base_id(step), step.choices[0])
    if step.capture == "text":
        return TEXTS.get(base_id(step), NOTHING)
    if step.capture == "part":
        return PARTS.get(base_id(step), "As on the order.")
    if step.capture == "reading":
        return position if base_id(step) == "position-read" else measured(allowed)
    return ""


def measured(allowed: Range | None) -> str:
    """Return a value that lies well inside its limits; half a degree or unit where nothing is limited."""
    if allowed is None:
        return "0.5"
    if allowed.least is None or allowed.most is None:
        return plain((allowed.most or Fraction(0)) * Fraction(3, 4) if allowed.least is None else allowed.least)
    return plain((allowed.least + allowed.most) / 2)
