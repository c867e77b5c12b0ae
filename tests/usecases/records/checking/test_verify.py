"""Checking a shop: records, lists, orders and roster held against each other."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.envelope import head_of
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Right
from desktop.usecases.records.checking.verify import read_seal, verify_shop
from tests.core.records.pens import AUTH, GONE, KEEP, MECH, RealVerifier, SignedShop
from tests.usecases.records.shop_to_check import BEFORE, FakeFile, order_in

REAL = RealVerifier()
APPROVED = "Record 7, approved for return to service, order 1, signed Ada Uthor"
SUBMITTED = "Record 5, card submitted, order 1 card 1, signed Mel Chan"
ACCEPTED = "Record 6, card accepted, order 1 card 1, signed Ines Spohr"
RETURNED = "Record 11, card returned, order 2 card 1, signed Ines Spohr"

FIRST = "Record 1, person enrolled, person KEEP, signed Kit Eeper"
ROSTER = "and the roster says something else of them: name, certificate, rights or days."


def said(file: FakeFile, seal: str = "") -> list[str]:
    return [problem.sentence for problem in verify_shop(file, REAL, seal).problems]


def noted(file: FakeFile) -> list[str]:
    return [note.sentence for note in verify_shop(file, REAL).notes]


def test_that_a_shop_whose_parts_agree_is_sound() -> None:
    file = FakeFile()
    found = verify_shop(file, REAL)
    assert (found.problems, found.notes, found.is_sound, found.count) == ((), (), True, 14)
    assert (found.shop_id, found.name, found.head) == (file.shop_id, "Mill Shop", file.signed.envelopes[-1].digest)


def with_orders(**kept: object) -> Callable[[FakeFile], None]:
    def change(file: FakeFile) -> None:
        file.kept[1] = replace(file.kept[1], **kept)  # type: ignore[arg-type]

    return change


def with_card(**kept: object) -> Callable[[FakeFile], None]:
    def change(file: FakeFile) -> None:
        card = replace(file.kept[1].cards[0], **kept)  # type: ignore[arg-type]
        file.kept[1] = replace(file.kept[1], cards=(card,), ending=None if "state" in kept else OrderState.APPROVED)

    return change


def set_of(name: str, value: object) -> Callable[[FakeFile], None]:
    return lambda file: setattr(file, name, value)


def third(state: OrderState, ending: OrderState | None = None) -> Callable[[FakeFile], None]:
    return lambda file: file.kept.update({3: order_in(3, state, ending)})


def wrong_number(file: FakeFile) -> None:
    file.kept[3] = replace(file.kept[2], number=4)


def lost_order(file: FakeFile) -> None:
    del file.kept[2]


def no_card(file: FakeFile) -> None:
    file.kept[2] = replace(file.kept[2], cards=())


def odd_list(file: FakeFile) -> None:
    first, *rest = file.listed()
    file.lines = (replace(first, name="Kit Other"), *rest)


ODD: dict[str, tuple[Callable[[FakeFile], None], str]] = {
    "a damaged file": (
        set_of("damage", ("page 3 is used twice",)),
        "The file itself is damaged: page 3 is used twice.",
    ),
    "a guard gone": (
        set_of("odd", ("envelope_stays",)),
        "What keeps records from being changed was itself changed with another program: envelope_stays.",
    ),
    "an empty list": (set_of("lines", ()), "The list of records is empty. Have it made again from the records."),
    "another name in the list": (
        odd_list,
        f"{FIRST}, the list of records says something else of it. Have the list made again from the records.",
    ),
    "an order set back": (with_orders(ending=None), f"{APPROVED}, and the order is kept as accepted."),
    "an order void": (with_orders(ending=OrderState.VOID), f"{APPROVED}, and the order is kept as void."),
    "another order": (
        with_orders(asked="Time one magneto"),
        f"{APPROVED}, and what is kept on the work order is not what was signed.",
    ),
    "a card set back": (with_card(state=OrderState.IN_WORK), f"{ACCEPTED}, and the card is kept as in work."),
    "another card": (
        with_card(mechanic="INSP"),
        f"{SUBMITTED}, and what is kept on the work order is not what was signed.",
    ),
    "a card that is gone": (no_card, f"{RETURNED}, and the order has no such card."),
    "an order that is gone": (lost_order, f"{RETURNED}, and there is no such order."),
    "an order that cannot be read": (
        set_of("unreadable", {2}),
        "Order 2: The shop file holds a damaged order.",
    ),
    "an order under another number": (wrong_number, "Order 3 is kept under a number that is not its own."),
    "a list with another state": (
        set_of("states", {2: "closed"}),
        'Order 2 is kept as in work, and the list of orders says "closed".',
    ),
    "a card that nobody submitted": (
        third(OrderState.FOR_INSPECTION),
        "Card 1 of order 3 is kept as for inspection, and no record says who signed that.",
    ),
    "an order that nobody approved": (
        third(OrderState.ACCEPTED, OrderState.CLOSED),
        "Order 3 is kept as closed, and no record says who signed that.",
    ),
    "an order that nobody voided": (
        third(OrderState.IN_WORK, OrderState.VOID),
        "Order 3 is kept as void, and no record says who signed that.",
    ),
    "a person who is gone": (
        set_of("roster", (KEEP, MECH, GONE)),
        "Record 4, person enrolled, person AUTH, signed Kit Eeper, and that person is not on the roster.",
    ),
    "another right": (
        set_of("roster", (replace(KEEP, rights=(Right.RECORDS, Right.INSPECTOR)), MECH, GONE, AUTH)),
        f"{FIRST}, {ROSTER}",
    ),
    "a withdrawal undone": (
        set_of("roster", (KEEP, MECH, replace(GONE, until=None), AUTH)),
        f"Record 12, person withdrawn, person INSP, signed Kit Eeper, {ROSTER}",
    ),
}


@pytest.mark.parametrize(("change", "words"), ODD.values(), ids=ODD)
def test_that_what_does_not_agree_is_said(change: Callable[[FakeFile], None], words: str) -> None:
    file = FakeFile()
    change(file)
    assert words in said(file)
    assert not verify_shop(file, REAL).is_sound


def test_that_a_closed_order_agrees_with_its_approval() -> None:
    file = FakeFile()
    file.kept[1] = replace(file.kept[1], ending=OrderState.CLOSED)
    assert said(file) == []


def test_that_a_card_that_was_returned_is_free_to_change() -> None:
    file = FakeFile()
    card = replace(file.kept[2].cards[0], mechanic="INSP")
    file.kept[2] = replace(file.kept[2], cards=(card,))
    assert said(file) == []


def test_that_a_card_submitted_again_is_held_against_the_new_record() -> None:
    file = FakeFile()
    file.signed.submit(2)
    file.kept[2] = order_in(2, OrderState.FOR_INSPECTION)
    assert said(file) == []


def test_that_what_was_done_before_the_first_record_is_a_note() -> None:
    file = FakeFile()
    file.kept[3] = order_in(3, OrderState.FOR_INSPECTION, by=BEFORE)
    file.kept[4] = order_in(4, OrderState.ACCEPTED, OrderState.CLOSED, by=BEFORE)
    assert said(file) == []
    assert noted(file) == [
        "Order 3 is kept as for inspection; that was before the first record was signed.",
        "Order 4 is kept as closed; that was before the first record was signed.",
    ]


def test_that_a_shop_that_never_signed_has_notes_only() -> None:
    file = FakeFile()
    file.signed, file.lines = SignedShop(), ()
    file.kept = {1: order_in(1, OrderState.ACCEPTED, OrderState.APPROVED)}
    found = verify_shop(file, REAL)
    assert (found.problems, found.count, found.head) == ((), 0, head_of(file.shop_id, None))
    assert len(found.notes) == 1


def test_that_a_paper_of_this_shop_is_known_and_another_is_not() -> None:
    file = FakeFile()
    for place, envelope in enumerate(file.signed.envelopes, 1):
        found = verify_shop(file, REAL, envelope.digest[:16])
        assert found.is_sound
        assert found.notes[0].sentence.endswith(f"is that of record {place}.")
    [words] = said(file, "0" * 16)
    assert words.startswith("The record seal 0000000000000000 of the paper belongs to no record here")
    note = verify_shop(file, REAL, head_of(file.shop_id, None)).notes[0].sentence
    assert note.endswith("is that of the shop before its first record.")


def test_that_a_clock_that_went_back_is_noted() -> None:
    file = FakeFile()
    file.signed.now -= timedelta(days=1)
    file.signed.sign(RecordKind.TOOL_RECORD, "tool L-1", "KEEP")
    assert said(file) == []
    assert "the clock went back" in noted(file)[0]


def test_that_a_record_that_cannot_be_read_stops_nothing() -> None:
    file = FakeFile()
    file.lines = file.listed()
    file.signed.envelopes[12] = replace(file.signed.envelopes[12], content=b"x")
    found = verify_shop(file, REAL)
    assert found.count == 14
    assert [problem.number for problem in found.problems] == [13]


@pytest.mark.parametrize("typed", ["0123456789ABCDEF", " 0123-4567-89ab-cdef ", "0123 4567 89ab cdef"])
def test_that_a_seal_is_read_as_it_is_typed(typed: str) -> None:
    assert read_seal(typed) == "0123456789abcdef"
    assert read_seal("a" * 64) == "a" * 64


@pytest.mark.parametrize("typed", ["", "0123", "g" * 16, "a" * 63, "x\x1b"])
def test_that_what_is_no_seal_is_refused(typed: str) -> None:
    with pytest.raises(Refusal, match="This is no record seal"):
        read_seal(typed)
