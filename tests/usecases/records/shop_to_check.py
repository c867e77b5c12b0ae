"""A shop to check, in memory: orders, roster and records that agree."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from desktop.core.errors import Refusal
from desktop.core.records.sealed.draft_seal import seal_row
from desktop.core.records.sealed.record_line import RecordLine, line_of
from desktop.core.records.sealed.stored import StoredRow
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Tool
from tests.core.records.pens import AUTH, BEGAN, GONE, KEEP, MECH, SHOP_ID, SHOP_NAME, SignedShop
from tests.usecases.shop.shop_floor import Floor

LATER = Stamp("MECH", BEGAN + timedelta(hours=2))
BEFORE = Stamp("MECH", BEGAN - timedelta(days=2))


def order_in(number: int, card: OrderState, ending: OrderState | None = None, by: Stamp = LATER) -> WorkOrder:
    """Return an order with one card in a state, and how it ended."""
    drawn = Floor().with_card().order()
    cards = (replace(drawn.cards[0], state=card),)
    passages = [Passage(Move.BEGIN, by, 1), Passage(Move.SUBMIT, by, 1)]
    return replace(drawn, number=number, cards=cards, ending=ending, passages=tuple(passages))


class FakeFile:
    """What the check asks of a file; a test changes what stands in it."""

    def __init__(self) -> None:
        approved = order_in(1, OrderState.ACCEPTED, OrderState.APPROVED)
        self.kept = {1: approved, 2: order_in(2, OrderState.IN_WORK)}
        self.signed = SignedShop().with_people()
        self.signed.with_work((seal_row(approved.cards[0]),), (seal_row(approved),))
        self.shop_id, self.name = SHOP_ID, SHOP_NAME
        self.roster: tuple[Person, ...] = (KEEP, MECH, GONE, AUTH)
        self.lines: tuple[RecordLine, ...] | None = None
        self.states: dict[int, str] = {}
        self.damage: tuple[str, ...] = ()
        self.odd: tuple[str, ...] = ()
        self.unreadable: set[int] = set()

    def stored_rows(self) -> Iterator[StoredRow]:
        return iter(self.signed.rows)

    def listed(self) -> tuple[RecordLine, ...]:
        if self.lines is not None:
            return self.lines
        pairs = zip(self.signed.envelopes, self.signed.records, strict=True)
        return tuple(line_of(envelope, record) for envelope, record in pairs)

    def compared_sheets(self) -> tuple[tuple[SheetPin, Sheet | None], ...]:
        return ()

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        return ()

    def tools(self) -> tuple[Tool, ...]:
        return ()

    def people(self) -> tuple[Person, ...]:
        return self.roster

    def order_numbers(self) -> tuple[int, ...]:
        return tuple(self.kept)

    def order(self, number: int) -> WorkOrder | None:
        if number in self.unreadable:
            raise Refusal("The shop file holds a damaged order.")
        return self.kept.get(number)

    def listed_state(self, number: int) -> str:
        return self.states.get(number, self.kept[number].state)

    def faults(self) -> tuple[str, ...]:
        return self.damage

    def odd_guards(self) -> tuple[str, ...]:
        return self.odd
