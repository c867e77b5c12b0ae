"""What is named when a paper is printed, brought to what its kind can use. What it cannot use is refused."""

from collections.abc import Iterable
from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.people.people import Person
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.kinds import IN_THE_SHOP, Of

SOMETHING_NAMED = (
    kinds.RECORD, kinds.ENTRY, kinds.ENTRY_LABELS, kinds.DRIFT, kinds.SHEET, kinds.DECLARATION, kinds.ORDER_LIST,
)  # fmt: skip
"""The kinds for which ``of`` means something; of an entry it is who approves, of the order list what is looked for."""
PERSON_NAMED = (kinds.ENTRY, kinds.ENTRY_LABELS, kinds.DECLARATION)


def fitted(asked: Asked, people: Iterable[Person], lines: Iterable[RecordLine]) -> Asked:
    """Return what is asked for, a person by the initials. ``lines`` are those of the shop's records.

    Raise Refusal for a card or a name of which the kind makes nothing, and for a record of another order.
    """
    _refuse_useless(asked)
    if asked.kind is kinds.RECORD and asked.of and asked.order:
        _refuse_another_order(asked, lines)
    if asked.kind in PERSON_NAMED and asked.of.strip():
        return replace(asked, of=_initials(asked.of, tuple(people)))
    return asked


def _refuse_useless(asked: Asked) -> None:
    kind = asked.kind
    if asked.order and kind.of in IN_THE_SHOP:
        raise Refusal(
            f"A paper of the kind {kind.name} is about {kind.of}, and {order_name(asked.order)} has no part in it. "
            'Write "-" for ORDER.'
        )
    if asked.label and kind is not kinds.ENTRY_LABELS:
        raise Refusal(f"A paper of the kind {kind.name} is no sheet of labels. Leave --label out.")
    if asked.start != 1 and kind is not kinds.ENTRY_LABELS:
        raise Refusal(f"A paper of the kind {kind.name} is no sheet of labels. Leave --start out.")
    if asked.of.strip() and kind not in SOMETHING_NAMED:
        raise Refusal(f"A paper of the kind {kind.name} is about {kind.of}, and nothing more is named. Leave --of out.")
    if asked.card and kind.of not in (Of.CARD, Of.RECORD):
        raise Refusal(f"A paper of the kind {kind.name} is about {kind.of} and no single card. Leave --card out.")
    if asked.card and asked.of.strip() and kind is kinds.RECORD:
        raise Refusal("--of names the record by its number already. Leave --card out.")


def _refuse_another_order(asked: Asked, lines: Iterable[RecordLine]) -> None:
    for line in lines:
        if str(line.number) == asked.of.strip() and line.order != asked.order:
            about = order_name(line.order) if line.order else "no order"
            instead = order_name(line.order) if line.order else '"-"'
            raise Refusal(
                f"Record {line.number} is about {about}, and not about {order_name(asked.order)}. "
                f"Write {instead} for ORDER to print it."
            )


def _initials(named: str, people: tuple[Person, ...]) -> str:
    """Return the initials of somebody who is named by them or by the full name. Raise Refusal for nobody or several."""
    wanted = " ".join(named.split()).casefold()
    found = [one.id for one in people if one.id.casefold() == wanted]
    found = found or [one.id for one in people if " ".join(one.name.split()).casefold() == wanted]
    if not found:
        raise Refusal(f'Nobody called "{named.strip()}" is on the roster. Name somebody by initials or full name.')
    if len(found) > 1:
        raise Refusal(f'"{named.strip()}" is the name of {" and of ".join(found)}. Name one of them by the initials.')
    return found[0]
