"""A shop file whose orders, roster and records agree: order 1 approved, card 1 of order 2 returned to the mechanic."""

from dataclasses import replace
from pathlib import Path

from desktop.core.records.sealed.draft_seal import seal_row
from desktop.core.shop.orders.changes import what_changed
from desktop.core.shop.orders.order_moves import NewCard, move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.stamp import Stamp
from desktop.storage.records.key_store import KeyStore
from desktop.storage.shop_store import ShopFile
from desktop.usecases.records.keys.people_ports import FOR_DEMO, WrappedKey
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.ports import Change
from tests.core.records.pens import AUTH, BEGAN, BETWEEN, GONE, PEOPLE, Pen, SignedShop
from tests.storage.file_floor import FileFloor, made
from tests.usecases.shop.shop_floor import SOUND, TIMING


def push(file: ShopFile, number: int, wanted: Move, person: str, card: int = 0, record: int = 1) -> None:
    """Move an order on, at the time of a record, as its verbs do when they sign."""
    with file.changing() as work:
        old = work.order(number)
        assert old is not None
        by = Stamp(person, BEGAN + record * BETWEEN)
        after = move(old, wanted, by, card=card, reason="The clamp was loose.", stops=())
        assert not after.refusals, after.refusals
        kept = replace(after.order, version=old.version + 1)
        work.put_order(kept, Change(number, kept.version, by, what_changed(old, kept)))


def append(file: ShopFile, shop: SignedShop, start: int = 0) -> None:
    """Keep the records of a shop, from a place on."""
    for envelope in shop.envelopes[start:]:
        with file.changing() as work:
            work.append_record(envelope)


def signed_file(place: Path) -> SignedShop:
    """Make the file and close it; return its people with their pens."""
    with made(place) as file:
        floor = FileFloor(file)
        floor.with_card()
        floor.with_order()
        issue_card(floor.shop, floor.by("DESK", 2), 2, NewCard(TIMING, SOUND, "MECH"))
        for number, submitted in ((1, 5), (2, 10)):
            push(file, number, Move.BEGIN, "MECH", 1)
            push(file, number, Move.SUBMIT, "MECH", 1, submitted)
        push(file, 1, Move.ACCEPT, "INSP", 1, 6)
        push(file, 1, Move.APPROVE, "AUTH", 0, 7)
        push(file, 2, Move.RETURN, "INSP", 1, 11)
        order = file.order(1)
        assert order is not None
        shop = SignedShop(file.shop_id).with_people()
        shop.with_work((seal_row(order.cards[0]),), (seal_row(order),))
        append(file, shop)
        keys = KeyStore(None, file.shop_id)
        with file.changing() as work:
            work.put_person(AUTH)
            work.put_person(GONE)
            for pen in (*map(Pen, PEOPLE), shop.pens["MECH"]):
                # What is sealed in it does not matter here: nobody opens it.
                parts = (bytes(48), bytes(16), bytes(12))
                keys.within(work).put_key(WrappedKey(pen.person.id, pen.public_key, *parts, FOR_DEMO))
    return shop
