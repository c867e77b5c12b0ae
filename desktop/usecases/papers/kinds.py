"""The kinds of paper that a shop prints, each with its name and what it is for."""

from dataclasses import dataclass
from enum import StrEnum


class Of(StrEnum):
    """What a paper is about, and so what has to be named to print it."""

    ORDER = "an order"
    CARD = "a card of an order"
    RECORD = "a signed record of an order"
    SHOP = "the shop"
    MAGNETO = "a magneto, by its serial number"
    SHEET = "a limits sheet, by its id"
    PERSON = "a person, by the initials"


IN_THE_SHOP = (Of.SHOP, Of.MAGNETO, Of.SHEET, Of.PERSON)
"""What belongs to the shop and to no order."""
NAMED = (Of.MAGNETO, Of.SHEET, Of.PERSON)
"""What is named by itself."""


@dataclass(frozen=True, slots=True)
class PaperKind:
    """A kind of paper: its name, what it is about, what it is for in a line, and what people call it."""

    name: str
    of: Of
    says: str
    title: str


WORK_ORDER = PaperKind(
    "work-order", Of.ORDER, "the work order with its intake and the customer's authorisation", "Work order"
)
BLANK_CARD = PaperKind(
    "blank-card", Of.CARD, "a task card for the pencil: limits, target readings, boxes", "Blank card"
)
CARD = PaperKind("card", Of.CARD, "a task card as it was filled, with attempts, findings and reasons", "Task card")
RECORD = PaperKind(
    "record", Of.RECORD, "a signed record, exactly as it was signed; --of names its number", "Signed record"
)
SUMMARY = PaperKind(
    "summary",
    Of.ORDER,
    "all cards of the order for the inspector: out of limits, explained, repeated",
    "Summary for the inspector",
)
ENTRY = PaperKind("entry", Of.ORDER, "the maintenance entry as a page", "Maintenance entry")
ENTRY_LABELS = PaperKind(
    "entry-labels", Of.ORDER, "the maintenance entry on labels for the log", "Maintenance entry on labels"
)
DISCREPANCIES = PaperKind(
    "discrepancies", Of.ORDER, "the list of discrepancies for the owner", "List of discrepancies for the owner"
)
LEADS = PaperKind("leads", Of.ORDER, "the ignition leads by firing order, as a drawing of the engine", "Ignition leads")
TOOLS = PaperKind("tools", Of.ORDER, "the tools for the job, to be counted out and in", "Tool list")
REMOVED_PARTS = PaperKind("removed-parts", Of.ORDER, "a tag for each part that came off", "Removed-parts tags")
RELEASE_TAG = PaperKind(
    "release-tag", Of.ORDER, "the release tag of a magneto that was inspected off the engine", "Release tag"
)
PROPELLER_TAG = PaperKind(
    "propeller-tag", Of.ORDER, "the safe-state tag that hangs on the propeller", "Safe-state tag for the propeller"
)
DUE = PaperKind("due", Of.SHOP, "what is coming due on engines and magnetos", "Coming due")
DRIFT = PaperKind(
    "drift", Of.MAGNETO, "the drift of a magneto over its visits; --of names the serial number", "Drift of a magneto"
)
ROSTER = PaperKind("roster", Of.SHOP, "the roster: inspectors, authorised persons, everybody with the shop", "Roster")
SHEET = PaperKind("sheet", Of.SHEET, "a limits sheet; --of names it", "Limits sheet")
DECLARATION = PaperKind(
    "declaration", Of.PERSON, "what a person declares when enrolled to sign; --of names the person", "Declaration"
)
RESTORE = PaperKind(
    "restore", Of.SHOP, "how the shop file is brought back from a copy, step by step", "How to bring the shop file back"
)
ORDER_LIST = PaperKind("order-list", Of.SHOP, "the work orders", "List of the work orders")
TOOL_LIST = PaperKind("tool-list", Of.SHOP, "the tools of the shop with their due dates", "List of the tools")

KINDS: tuple[PaperKind, ...] = (
    WORK_ORDER,
    BLANK_CARD,
    CARD,
    RECORD,
    SUMMARY,
    ENTRY,
    ENTRY_LABELS,
    DISCREPANCIES,
    LEADS,
    TOOLS,
    REMOVED_PARTS,
    RELEASE_TAG,
    PROPELLER_TAG,
    DUE,
    DRIFT,
    ROSTER,
    SHEET,
    DECLARATION,
    RESTORE,
    ORDER_LIST,
    TOOL_LIST,
)
"""Every kind of paper, in the order of the work."""


def kind_named(name: str) -> PaperKind | None:
    """Return a kind by its name; None for a name that is none."""
    return next((kind for kind in KINDS if kind.name == name), None)
