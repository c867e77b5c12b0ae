"""A shop to check, in memory: orders, roster and records that agree."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from desktop.core.errors import Refusal
from desktop.core.records.sealed.before_signing import before_signing
from desktop.core.records.sealed.draft_seal import seal_row
from desktop.core.records.sealed.record_line import RecordLine, line_of
from desktop.core.records.sealed.stored import StoredRow
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Tool
from desktop.usecases.records.checking.kept_besides import KeptKey
from tests.core.records.pens import AUTH, BEGAN, BETWEEN, GONE, KEEP, MECH, SHOP_ID, SHOP_NAME, SignedShop
from tests.usecases.shop.shop_floor import Floor

LATER = Stamp("MECH", BEGAN + timedelta(hours=2))
BEFORE = Stamp("MECH", BEGAN - timedelta(days=2))


def order_in(number: int, card: OrderState, ending: OrderState | None = None, by: Stamp = LATER) -> WorkOrder:
    """Return an order with one card in a state, and how it ended."""
    drawn = Floor().with_card().order()
    cards = (replace(drawn.cards[0], state=card),)
    passages = [Passage(Move.BEGIN, by, 1), Passage(Move.SUBMIT, by, 1)]
    return replace(drawn, number=number, cards=cards, ending=ending, passages=tuple(passages))


def moved(order: WorkOrder, *moves: tuple[Move, str, int, int]) -> WorkOrder:
    """Return an order with these moves: each by a person, on a card, at the time of a record."""
    passages = [Passage(one, Stamp(person, BEGAN + record * BETWEEN), card) for one, person, card, record in moves]
    return replace(order, passages=tuple(passages))


class FakeFile:
    """What the check asks of a file; a test changes what stands in it. ``before`` are orders from before record 1."""

    def __init__(self, *before: WorkOrder) -> None:
        begun = (Move.BEGIN, "MECH", 1, 1)
        approved = moved(
            order_in(1, OrderState.ACCEPTED, OrderState.APPROVED),
            begun,
            (Move.SUBMIT, "MECH", 1, 5),
            (Move.ACCEPT, "INSP", 1, 6),
            (Move.APPROVE, "AUTH", 0, 7),
        )
        returned = moved(
            order_in(2, OrderState.IN_WORK), begun, (Move.SUBMIT, "MECH", 1, 10), (Move.RETURN, "INSP", 1, 11)
        )
        self.kept = {1: approved, 2: returned, **{order.number: order for order in before}}
        self.signed = SignedShop().with_people(*before_signing(before))
        self.signed.with_work((seal_row(approved.cards[0]),), (seal_row(approved),))
        self.shop_id, self.name = SHOP_ID, SHOP_NAME
        self.roster: tuple[Person, ...] = (KEEP, MECH, GONE, AUTH)
        self.lines: tuple[RecordLine, ...] | None = None
        self.states: dict[int, str] = {}
        self.damage: tuple[str, ...] = ()
        self.odd: tuple[str, ...] = ()
        self.unreadable: set[int] = set()
        self.badly_listed: set[int] = set()
        self.gaps: tuple[int, ...] = ()
        self.seen_numbers: tuple[tuple[str, int], ...] = (("MECH", 9),)
        self.shop_details = ShopDetails(SHOP_NAME)
        pens = self.signed.pens.values()
        self.kept_keys: tuple[KeptKey, ...] | None = tuple(
            KeptKey(pen.person.id, pen.public_key.hex(), "c" * 64) for pen in pens
        )
        self.kept_scans: dict[str, bool] = {}

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

    def is_listed(self, order: WorkOrder) -> bool:
        return order.number not in self.badly_listed

    def journal_gaps(self) -> tuple[int, ...]:
        return self.gaps

    def keys(self) -> tuple[KeptKey, ...] | None:
        return self.kept_keys

    def seen(self) -> tuple[tuple[str, int], ...]:
        return self.seen_numbers

    def details(self) -> ShopDetails:
        return self.shop_details

    def scans(self) -> Iterator[tuple[str, bool]]:
        return iter(self.kept_scans.items())

    def faults(self) -> tuple[str, ...]:
        return self.damage

    def odd_guards(self) -> tuple[str, ...]:
        return self.odd
