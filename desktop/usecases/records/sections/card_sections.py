"""A task card of an order as sections of a record: everything that stands on it, in reading order."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.records.record import Row, Section
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.card_scope import takes_readings
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, Remark, finding_key
from desktop.core.shop.orders.order_line import aircraft_words, engine_words, order_name
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.orders.safe_state import Board
from desktop.usecases.fill_card import CardState
from desktop.usecases.records.sections.card_readings import readings_section
from desktop.usecases.records.sections.card_results import result_sections
from desktop.usecases.records.sections.card_steps import step_sections
from desktop.usecases.records.sections.names import Names, told

SEVERITY_WORDS = {Severity.STOPS: "Stops", Severity.EXPLAIN: "Reason needed", Severity.NOTE: "Note"}


@dataclass(frozen=True, slots=True)
class CardToSay:
    """A card with what is said of it.

    ``state`` are its readings worked out, ``steps`` those that apply, ``findings`` all that concern it. ``limits``
    gives the limit of a step's reading in words, by the step's id; ``sheets`` names each limits sheet in a line.
    """

    order: WorkOrder
    card: OrderCard
    state: CardState
    steps: tuple[Step, ...]
    findings: tuple[SaidFinding, ...]
    names: Names
    limits: tuple[tuple[str, str], ...] = ()
    sheets: tuple[str, ...] = ()


def card_sections(said: CardToSay) -> tuple[Section, ...]:
    """Return everything that stands on a card: typed values, steps, results, findings, reasons, remarks, the board.

    No text raises. What of the card does not apply to the job was not shown, and is only named.
    """
    card, checked = said.card, said.state.checked
    sections = (
        Section("Card", tuple(_head(said))),
        *step_sections(card, said.steps, dict(said.limits), said.names),
        readings_section(card, said.names),
        *(result_sections(checked.worked) if checked else ()),
        Section("Values that cannot be read", tuple(_faults(said))),
        Section("Findings", tuple(_findings(said)) or (Row("Findings", "none"),)),
        Section("Remarks", tuple(_remarks(card.remarks, said.names)) or (Row("Remarks", "none"),)),
        board_section(said.order.board, said.names),
    )
    return tuple(section for section in sections if section.rows)


def board_section(board: Board, names: Names) -> Section:
    """Return the safe-state board: how each thing stands, who set it so and when."""
    rows: list[Row] = []
    for state in board:
        name = state.item.capitalize()
        rows += told(name, state.word if state.is_normal else f"{state.word} (not normal)")
        rows += told(f"{name}, set by", names.stamp(state.by))
    return Section("Safe-state board", tuple(rows))


def _head(said: CardToSay) -> Iterator[Row]:
    order, card, names = said.order, said.card, said.names
    task = card.task
    yield from told("Order", order_name(order.number))
    yield from told("Aircraft", aircraft_words(order))
    yield from told("Engine", engine_words(order))
    yield from told("Card on the order", str(card.number))
    yield from told("Task card", task.id)
    yield from told("Revision of the task card", str(task.revision))
    yield from told("Title", task.title)
    yield from told("Signal words", task.scheme)
    yield from told("Applies to", task.applies)
    yield from told("Job", card.job)
    yield from told("State", card.state)
    yield from told("Issued by", names.stamp(card.issued))
    yield from told("Given to", names.person(card.mechanic))
    for pin in card.sheets:
        yield from told("Limits sheet", f"{pin.sheet}, revision {pin.revision}")
        yield from told("It is for", pin.place)
        yield from told("Its text, SHA-256", pin.digest)
    for words in said.sheets:
        yield from told("What the sheet is", words)
    if card.data_confirmed:
        for document in card.data_confirmed.documents:
            yield from told("Document confirmed as current", document)
        yield from told("Documents confirmed by", names.stamp(card.data_confirmed.by))


def _faults(said: CardToSay) -> Iterator[Row]:
    for fault in said.state.faults if takes_readings(said.card.task) else ():
        yield from told("Cannot be read", f"{path_words(fault.where)}, {fault.expected}")


def _findings(said: CardToSay) -> Iterator[Row]:
    for number, finding in enumerate(said.findings, 1):
        key = finding_key(finding.rule, finding.where)
        name = f"Finding {number}"
        yield from told(name, f"{SEVERITY_WORDS[finding.severity]}. {finding.sentence}")
        yield from told(f"{name}, rule", key)
        yield from told(f"{name}, source", finding.source)
        for remark in said.card.remarks:
            if remark.about == key:
                yield from told(f"{name}, reason given", remark.text)


def _remarks(remarks: tuple[Remark, ...], names: Names) -> Iterator[Row]:
    for number, remark in enumerate(remarks, 1):
        name = f"Remark {number}"
        yield from told(name, remark.text)
        yield from told(f"{name}, explains", remark.about)
        yield from told(f"{name}, by", names.stamp(remark.by))
