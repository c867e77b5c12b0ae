"""A task card that was issued on an order: the card as it was then, and everything written on it since."""

from dataclasses import dataclass

from desktop.core.shop.cards.task_card import Step, TaskCard
from desktop.core.shop.orders.order_states import CARD_STATES, OrderState
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.typed_card import TypedCard


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """Who took the value at a path last, when, and with which tool."""

    path: str
    by: Stamp
    tool: str = ""


@dataclass(frozen=True, slots=True)
class StepDone:
    """A step confirmed: by whom and when, the text or reading that it asks for, and the tools by their numbers.

    ``skipped`` says that it was left out where the card allows that; then ``text`` is the reason.
    """

    step: str
    by: Stamp
    text: str = ""
    tools: tuple[str, ...] = ()
    skipped: bool = False


@dataclass(frozen=True, slots=True)
class DataConfirmed:
    """Somebody confirmed, when the card was issued, that these documents are of the current revision."""

    documents: tuple[str, ...]
    by: Stamp


@dataclass(frozen=True, slots=True)
class Remark:
    """Something written on the card; ``about`` names a finding that it explains, by rule and path."""

    text: str
    by: Stamp
    about: str = ""


@dataclass(frozen=True, slots=True)
class OrderCard:
    """One card of an order, numbered from 1; ``task`` never changes after the issue. ValueError in a wrong state.

    ``readings`` is the draft as typed. ``mechanic`` is the person to whom the card was given, empty for anybody.
    ``job`` is the id of the job that it is part of, ``sheets`` are the limits sheets that it was issued with.
    ``earlier`` holds confirmations and readings of steps that were taken again, the oldest first.
    """

    number: int
    task: TaskCard
    issued: Stamp
    readings: TypedCard
    state: OrderState = OrderState.ISSUED
    mechanic: str = ""
    taken: tuple[ReadingTaken, ...] = ()
    steps: tuple[StepDone, ...] = ()
    remarks: tuple[Remark, ...] = ()
    job: str = ""
    sheets: tuple[SheetPin, ...] = ()
    data_confirmed: DataConfirmed | None = None
    earlier: tuple[StepDone, ...] = ()

    def __post_init__(self) -> None:
        if self.state not in CARD_STATES:
            raise ValueError(f"a card is never {self.state} by itself")
        if len({step.step for step in self.steps}) != len(self.steps):
            raise ValueError("a step is confirmed twice")

    def step(self, step_id: str) -> Step | None:
        """Return a step of the card by its id."""
        return next((step for step in self.task.steps if step.id == step_id), None)

    def done(self, step_id: str) -> StepDone | None:
        """Return the confirmation of a step; None while there is none."""
        return next((done for done in self.steps if done.step == step_id), None)

    def taken_at(self, path: str) -> ReadingTaken | None:
        """Return who took the value at a path."""
        return next((taken for taken in self.taken if taken.path == path), None)


def finding_key(rule: str, where: str) -> str:
    """Return what a remark is about when it explains a finding: the rule and the path."""
    return f"{rule} at {where}"
