"""The end of a card's paper: its history, what corrects its records, and who signed it or is still to sign."""

from collections.abc import Iterator

from desktop.core.shop.cards.card_scope import takes_readings
from desktop.core.shop.orders.order_states import Move
from desktop.usecases.papers.cards.card_findings import stands
from desktop.usecases.papers.cards.card_records import (
    DONE,
    INSPECTOR,
    MECHANIC,
    SEEN,
    CardRecords,
    correction_parts,
    signature_boxes,
)
from desktop.usecases.records.sections.card_sections import CardToSay
from reports.document import Block, Column, Fact, Facts, KeepTogether, SignatureBox, Signatures, Table, plain

NOT_CHECKED = "These readings are not checked yet. Enter them and check before anybody approves."
REMARK_LINES = 3
MOST_TOGETHER = 8
"""Lines of history that stay with the signatures; a longer one is a table that runs on."""
MOVED = {
    Move.ISSUE: "issued",
    Move.BEGIN: "begun",
    Move.SUBMIT: "submitted for inspection",
    Move.RETURN: "returned by the inspector",
    Move.ACCEPT: "accepted by the inspector",
    Move.APPROVE: "order approved for return to service",
    Move.NOT_APPROVE: "order not approved",
    Move.CLOSE: "order closed",
    Move.VOID: "order made void",
}
"""What was done, in a word or a few."""


def blank_end(said: CardToSay) -> tuple[Block, ...]:
    """Return the end of an empty card: room for remarks, and for ink."""
    checked = (plain(NOT_CHECKED, bold=True),) if takes_readings(said.card.task) else ()
    lines = Facts(
        tuple(Fact("" if line else "remarks and discrepancies", None, span=4) for line in range(REMARK_LINES))
    )
    boxes = Signatures((SignatureBox(MECHANIC, DONE), SignatureBox(INSPECTOR, SEEN)))
    return (KeepTogether((*checked, lines, boxes)),)


def filled_end(said: CardToSay, records: CardRecords) -> Iterator[Block]:
    """Yield history, corrections and signatures; how the card stands is above them, so that no signature is alone."""
    history = tuple(_history(said, records))
    is_short = sum(len(table.rows) for table in history) <= MOST_TOGETHER
    if not is_short:
        yield from history
    yield from correction_parts(records)
    state = plain(f"The card is {said.order.state_of(said.card)}. {stands(said)}", bold=True)
    signatures = Signatures(signature_boxes(records))
    yield KeepTogether((*(history if is_short else ()), state, signatures))


def _history(said: CardToSay, records: CardRecords) -> Iterator[Table]:
    mine = tuple(one for one in said.order.passages if one.card in (0, said.card.number))
    if not mine:
        return
    names = said.names
    numbers = tuple(records.numbered(mine))
    rows = [
        (MOVED[one.move], names.stamp(one.by), number, one.reason) for one, number in zip(mine, numbers, strict=True)
    ]
    columns = (
        Column("what was done", 1.6),
        Column("by whom and when", 2.7),
        Column("record", 0.6, numbers=True),
        Column("reason", 1.9),
    )
    yield Table(columns, tuple(rows), "History")
