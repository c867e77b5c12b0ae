"""What stands against submitting a card: everything is looked at again, whatever a window showed."""

from collections.abc import Callable, Iterator
from datetime import date

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import Rulebook
from desktop.core.shop.card_facts import facts_of
from desktop.core.shop.order_card import OrderCard, finding_key
from desktop.core.shop.order_moves import MoveRefusal
from desktop.core.shop.path_words import path_words
from desktop.core.shop.task_card import Step, steps_for
from desktop.core.shop.tools import Tool
from desktop.usecases.fill_card import CardState, look_at

FindTool = Callable[[str], Tool | None]


def what_stops(card: OrderCard, rulebook: Rulebook, tool: FindTool, today: date) -> tuple[MoveRefusal, ...]:
    """Return everything that keeps a card from being submitted.

    Typed values that cannot be read, findings that stop, findings that ask for a reason and have none, steps that need
    initials and are not confirmed, calibrated tools that are out of date on that day.
    """
    state = look_at(card.readings, rulebook)
    return (*_faults(state), *_findings(card, state), *_steps(card, state), *_tools(card, tool, today))


def steps_of(card: OrderCard, state: CardState) -> tuple[Step, ...]:
    """Return the steps that apply to the job as far as it can be read; none while nothing can be read."""
    return steps_for(card.task, facts_of(state.checked.worked.card)) if state.checked else ()


def _faults(state: CardState) -> Iterator[MoveRefusal]:
    for fault in state.faults:
        yield MoveRefusal(f"{path_words(fault.where).capitalize()}: {fault.expected}.", "Fill the field in.")


def _findings(card: OrderCard, state: CardState) -> Iterator[MoveRefusal]:
    explained = {remark.about for remark in card.remarks}
    for finding in state.checked.findings if state.checked else ():
        if finding.severity is Severity.STOPS:
            yield MoveRefusal(finding.sentence, f"It stops the card: {path_words(finding.where)}.")
        elif finding.severity is Severity.EXPLAIN and finding_key(finding.rule, finding.where) not in explained:
            yield MoveRefusal(finding.sentence, "Write the reason at the finding.")


def _steps(card: OrderCard, state: CardState) -> Iterator[MoveRefusal]:
    for step in steps_of(card, state):
        if step.initials and card.done(step.id) is None:
            yield MoveRefusal(f'Not confirmed: "{step.instruction}"', "Confirm it when it is done.")


def _tools(card: OrderCard, tool: FindTool, today: date) -> Iterator[MoveRefusal]:
    used = [name for done in card.steps for name in done.tools] + [taken.tool for taken in card.taken]
    for name in dict.fromkeys(used):
        found = tool(name) if name else None
        if found is not None and found.is_out_of_date(today):
            due = f" since {found.due.isoformat()}" if found.due else ""
            yield MoveRefusal(
                f"The calibration of {found.name} ({name}) is out of date{due}.",
                "Take the readings again with a tool that is in date, or have it calibrated and put the new day in.",
            )
