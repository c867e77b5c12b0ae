"""Checking a shop: records, lists, orders and roster held against each other."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.keys.enrolment import key_section
from desktop.core.records.record import RecordKind, Row, Section
from desktop.core.records.sealed.before_signing import before_signing
from desktop.core.records.sealed.envelope import head_of
from desktop.core.records.sealed.remedies import RESTORE
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.stamp import Stamp
from desktop.usecases.records.checking.kept_besides import KeptKey
from desktop.usecases.records.checking.signed_moves import SignedMoves
from desktop.usecases.records.checking.verify import read_seal, verify_shop
from tests.core.records.pens import AUTH, BEGAN, BETWEEN, GONE, KEEP, MECH, Pen, RealVerifier, SignedShop
from tests.usecases.records.shop_to_check import BEFORE, LATER, FakeFile, order_in

REAL = RealVerifier()
REMAKE = "Make the lists again from the records: sparkwright doctor SHOP --remake-lists"
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
    "an empty list": (set_of("lines", ()), f"The list of records is empty. {REMAKE}."),
    "another name in the list": (
        odd_list,
        f"{FIRST}, the list of records says something else of it. {REMAKE}.",
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
    "another line in the list of orders": (
        set_of("badly_listed", {2}),
        f"Order 2: the list of orders says something else of it than the order. {REMAKE}.",
    ),
    "lines of a journal gone": (
        set_of("gaps", (2,)),
        "Order 2: lines of its journal are missing. Who changed what, and when, is not whole.",
    ),
    "no keys": (
        set_of("kept_keys", ()),
        f"{FIRST}, and no key of Kit Eeper is kept: they cannot sign. {RESTORE}",
    ),
    "a key changed hands": (
        lambda file: setattr(file, "kept_keys", (*(file.kept_keys or ()), KeptKey("KEEP", "ab" * 32, "c" * 64))),
        f"{FIRST}, and another key is kept in the place of that of Kit Eeper. {RESTORE}",
    ),
    "a damaged key": (
        lambda file: setattr(file, "kept_keys", tuple(replace(key, check="") for key in file.kept_keys or ())),
        f"{FIRST}, and the key of Kit Eeper is not kept as it was enrolled: no secret opens it. {RESTORE}",
    ),
    "more read than there was": (
        set_of("seen_numbers", (("MECH", 9999),)),
        (
            "The file says that MECH had read the records up to 9999 when they signed last, and that was record 13. "
            "What was signed in that name would not be shown to them."
        ),
    ),
    "read by somebody who never signed": (
        set_of("seen_numbers", (("DESK", 1),)),
        (
            "The file says that DESK had read the records up to 1 when they signed last, and they never signed. "
            "What was signed in that name would not be shown to them."
        ),
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


def test_that_somebody_on_the_roster_whom_no_record_enrols_is_noted() -> None:
    file = FakeFile()
    stranger = Person("ZZ", "Zed Zero", (Right.MECHANIC, Right.AUTHORISED), KEEP.since)
    file.roster = (*file.roster, stranger, replace(stranger, id="YY", rights=(Right.MECHANIC,)))
    assert said(file) == []
    assert noted(file) == [
        (
            "Zed Zero (ZZ) stands on the roster as authorised person, and no record enrols them. Nothing is signed by "
            "them; look whether they belong on it."
        )
    ]


def test_that_another_station_number_than_the_newest_approval_names_is_noted() -> None:
    row = Row("Certificate number of the station", "XQZR000D")
    file = FakeFile()
    file.signed.submit(5)
    file.signed.sign(RecordKind.CARD_ACCEPTED, "order 5 card 1", "INSP", about=(15,))
    file.signed.sign(RecordKind.APPROVED, "order 5", "AUTH", about=(16,), sections=(Section("Entry", (row,)),))
    file.shop_details = replace(file.shop_details, station_certificate="ZZZZ000D")
    assert any(one.endswith("names the station by XQZR000D, and its details say ZZZZ000D now.") for one in noted(file))
    file.shop_details = replace(file.shop_details, station_certificate="XQZR000D")
    assert noted(file) == []


def test_that_a_key_is_held_against_the_check_that_was_signed() -> None:
    def again(check: str) -> list[str]:
        pen = Pen(KEEP)
        file = FakeFile()
        file.signed = SignedShop()
        file.signed.enrol(KEEP, pen, also=(key_section("d" * 64),))
        file.kept, file.roster, file.lines, file.seen_numbers = {}, (KEEP,), None, ()
        file.kept_keys = (KeptKey("KEEP", pen.public_key.hex(), check),)
        return said(file)

    assert again("d" * 64) == []
    assert again("e" * 64) == [
        f"{FIRST}, and the key of Kit Eeper is not kept as it was enrolled: no secret opens it. {RESTORE}"
    ]


def test_that_a_form_of_the_file_without_keys_is_asked_for_none() -> None:
    file = FakeFile()
    file.kept_keys = None
    assert said(file) == []


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
    again = Passage(Move.SUBMIT, Stamp("MECH", BEGAN + 15 * BETWEEN), 1)
    file.kept[2] = replace(order_in(2, OrderState.FOR_INSPECTION), passages=(*file.kept[2].passages, again))
    assert said(file) == []
    file.kept[2] = replace(file.kept[2], passages=file.kept[2].passages[:-1])
    assert said(file) == [
        (
            "Record 15, card submitted, order 2 card 1, signed Mel Chan, and the work order does not say so: who, "
            "when, or on which card."
        )
    ]


def ended_before(number: int, ending: OrderState, *moves: Move) -> WorkOrder:
    """Return an order that had ended before anything was signed."""
    order = order_in(number, OrderState.ACCEPTED, ending)
    made = tuple(Passage(move, BEFORE, 1 if move in (Move.SUBMIT, Move.ACCEPT) else 0) for move in moves)
    return replace(order, passages=made)


INSPECTED = (Move.SUBMIT, Move.ACCEPT)
BEFORE_3 = order_in(3, OrderState.FOR_INSPECTION, by=BEFORE)
BEFORE_4 = ended_before(4, OrderState.APPROVED, *INSPECTED, Move.APPROVE)


def test_that_what_was_done_before_the_first_record_is_a_note() -> None:
    file = FakeFile(BEFORE_3, BEFORE_4)
    closed = Passage(Move.CLOSE, LATER)
    file.kept[4] = replace(BEFORE_4, ending=OrderState.CLOSED, passages=(*BEFORE_4.passages, closed))
    assert said(file) == []
    assert noted(file) == [
        "Order 3 is kept as for inspection; that was before the first record was signed.",
        "Order 4 is kept as closed; that was before the first record was signed.",
    ]


def test_that_an_old_time_is_no_proof_of_what_nobody_signed() -> None:
    file = FakeFile()
    file.kept[3], file.kept[4] = BEFORE_3, BEFORE_4
    found = said(file)
    assert "Order 4 is kept as approved, and no record says who signed that." in found
    assert "Card 1 of order 3 is kept as for inspection, and no record says who signed that." in found
    assert sum(one.startswith("W-0004 says") for one in found) == 3
    assert noted(file) == []


OTHERWISE: dict[str, tuple[WorkOrder, str]] = {
    "by somebody else": (
        replace(BEFORE_4, passages=(*BEFORE_4.passages[:2], Passage(Move.APPROVE, replace(BEFORE, person="INSP")))),
        "Order 4 is kept as approved, and no record says who signed that.",
    ),
    "for somebody else": (
        replace(BEFORE_4, asked="Time one magneto"),
        "Order 4 is kept as approved, and no record says who signed that.",
    ),
    "in another way": (
        replace(BEFORE_4, ending=OrderState.VOID),
        "Order 4 is kept as void, and no record says who signed that.",
    ),
}


@pytest.mark.parametrize(("order", "words"), OTHERWISE.values(), ids=OTHERWISE)
def test_that_what_was_before_stays_as_the_first_record_says_it(order: WorkOrder, words: str) -> None:
    file = FakeFile(BEFORE_3, BEFORE_4)
    file.kept[4] = order
    assert words in said(file)


def test_that_a_card_done_before_is_no_further_than_it_was() -> None:
    file = FakeFile(BEFORE_3)
    card = replace(BEFORE_3.cards[0], state=OrderState.ACCEPTED)
    file.kept[3] = replace(BEFORE_3, cards=(card,))
    assert said(file) == ["Card 1 of order 3 is kept as accepted, and no record says who signed that."]


def test_that_more_orders_than_a_record_holds_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    assert before_signing([order_in(5, OrderState.ISSUED)][:0]) == ()
    monkeypatch.setattr("desktop.core.records.sealed.before_signing.MOST_ORDERS", 1)
    with pytest.raises(Refusal, match="2 work orders were signed with ink here, and a record lists 1"):
        before_signing((BEFORE_3, BEFORE_4))


def with_passages(change: Callable[[Passage], Passage | None]) -> Callable[[FakeFile], None]:
    def edit(file: FakeFile) -> None:
        changed = (change(one) for one in file.kept[1].passages)
        file.kept[1] = replace(file.kept[1], passages=tuple(one for one in changed if one is not None))

    return edit


def as_if(move: Move, **by: object) -> Callable[[FakeFile], None]:
    return with_passages(
        lambda one: replace(one, by=replace(one.by, **by)) if one.move is move else one  # type: ignore[arg-type]
    )


NOT_SO = "and the work order does not say so: who, when, or on which card."
MOVES: dict[str, tuple[Callable[[FakeFile], None], str]] = {
    "accepted by somebody else": (as_if(Move.ACCEPT, person="MECH"), f"{ACCEPTED}, {NOT_SO}"),
    "approved at another time": (as_if(Move.APPROVE, at=BEGAN), f"{APPROVED}, {NOT_SO}"),
    "a submission gone": (
        with_passages(lambda one: None if one.move is Move.SUBMIT else one),
        f"{SUBMITTED}, {NOT_SO}",
    ),
    "another card": (
        with_passages(lambda one: replace(one, card=2) if one.move is Move.ACCEPT else one),
        f"{ACCEPTED}, {NOT_SO}",
    ),
}


@pytest.mark.parametrize(("change", "words"), MOVES.values(), ids=MOVES)
def test_that_a_move_that_is_not_as_it_was_signed_names_its_record(
    change: Callable[[FakeFile], None], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = FakeFile()
    change(file)
    assert words in said(file)
    monkeypatch.setattr(SignedMoves, "problems", lambda *_: iter(()))
    assert said(file) == []  # the control: nothing else holds the moves against the records


def test_that_a_move_that_nobody_signed_is_said() -> None:
    file = FakeFile()
    again = Passage(Move.SUBMIT, LATER, 1)
    file.kept[2] = replace(file.kept[2], passages=(*file.kept[2].passages, again))
    assert said(file) == [
        (
            'W-0002 says "submit for inspection" of card 1 by MECH, 2031-03-04T11:00:00+01:00, and no record says who '
            "signed that."
        )
    ]


def test_that_a_shop_that_never_signed_has_notes_only() -> None:
    file = FakeFile()
    file.signed, file.lines, file.seen_numbers = SignedShop(), (), ()
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
