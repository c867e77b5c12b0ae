"""The small parts: subjects, the person's section, the stored row, the seal of a draft."""

from dataclasses import dataclass, field, fields, replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.records.keys.enrolment import person_in, person_section
from desktop.core.records.keys.key_book import KeyBook
from desktop.core.records.kinds import ROWS, row_of
from desktop.core.records.record import Record, RecordKind, Row, Section
from desktop.core.records.sealed.canonical import NotARecord, framed
from desktop.core.records.sealed.draft_seal import LABEL, draft_seal, seal_row
from desktop.core.records.sealed.envelope import Signature, shown
from desktop.core.records.sealed.record_line import record_name
from desktop.core.records.sealed.stored import envelope_of, signature_text, stored_row
from desktop.core.records.subjects import Place, order_subject, person_named, place_of, sheet_subject, tool_subject
from desktop.core.shop.orders.order_card import OrderCard, Remark, StepDone
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.time_booked import TimeBooked
from desktop.core.shop.people.people import Person, Right
from desktop.core.timing.typed_card import TypedLimits
from tests.core.records.pens import MECH, SignedShop
from tests.usecases.shop.shop_floor import Floor

SHOP = SignedShop().with_people().with_work()


@given(st.integers(1, 10**17), st.integers(0, 99))
def test_that_a_subject_says_its_order_and_card(order: int, card: int) -> None:
    assert place_of(order_subject(order, card)) == Place(order, card)


@pytest.mark.parametrize("subject", ["order 0", "order 01", "order 1 card 0", "order 1 ", "order ٣", "person order 1"])
def test_that_another_subject_is_about_no_order(subject: str) -> None:
    assert place_of(subject) == Place()


def test_that_subjects_read_as_words() -> None:
    said = (tool_subject("W-3"), sheet_subject("MS-7", "2"), person_named("person LO"), person_named("order 1"))
    assert said == ("tool W-3", "limits sheet MS-7 revision 2", "LO", None)
    assert record_name(3, ()) == "Record 3"


def enrolled(section: Section | None) -> Record:
    return replace(SHOP.records[1], sections=() if section is None else (section,))


@given(
    st.builds(
        Person,
        st.sampled_from(["LO", "TR"]),
        st.sampled_from(["Lena Ode", "Tom Rill"]),
        st.lists(st.sampled_from(Right), unique=True).map(tuple),
        st.dates(),
        st.none() | st.dates(),
        st.sampled_from(["", "1234"]),
        st.sampled_from(["", "mechanic"]),
        st.sampled_from(["", "powerplant"]),
        st.sampled_from(["", "MECH"]),
    )
)
def test_that_a_person_comes_back_from_their_section(person: Person) -> None:
    assert person_in(enrolled(person_section(person))) == person


@pytest.mark.parametrize(
    "section",
    [
        None,
        Section("Other", person_section(MECH).rows),
        Section("Person", person_section(MECH).rows[:-1]),
        Section("Person", (*person_section(MECH).rows, Row("Right", "king"))),
        Section("Person", (*person_section(MECH).rows, Row("Shoe", "43"))),
        Section("Person", (*person_section(MECH).rows, Row("Name", "Mel"))),
        Section("Person", (*person_section(MECH).rows, Row("With the shop until", "soon"))),
    ],
)
def test_that_a_section_that_is_not_a_whole_person_is_nobody(section: Section | None) -> None:
    assert person_in(enrolled(section)) is None


def test_that_a_book_forgets_nothing() -> None:
    book = KeyBook()
    for number, record in enumerate(SHOP.records, 1):
        assert book.take(number, record) is None
    first = bytes.fromhex(SHOP.records[1].keys[0].public_key_hex)
    now = book.standing("MECH")
    assert now is not None
    assert now.public_key != first
    assert (book.ended("MECH", first), book.ended("MECH", now.public_key)) == (9, None)
    assert (book.ended("NOBODY", first), book.standing("NOBODY"), book.standing("MECH", 2)) == (None, None, None)
    gone = book.standing("INSP")
    assert gone is not None
    assert (gone.is_withdrawn, gone.public_key) == (True, b"")


def test_that_a_row_comes_back_as_the_sealed_record() -> None:
    for one in SHOP.envelopes:
        assert envelope_of(stored_row(one)) == one
        assert shown(one.digest) == one.digest[:16]


PARTS = (b"MECH", b"aa", b"bb", b"I did it.")


@pytest.mark.parametrize(
    "signatures",
    [
        b"",
        framed(*PARTS[:3]),
        framed(*PARTS, b"more"),
        framed(PARTS[0], b"AA", *PARTS[2:]),
        framed(PARTS[0], b"a a", *PARTS[2:]),
        framed(PARTS[0], b"zz", *PARTS[2:]),
        framed(b"\xff", *PARTS[1:]),
        framed(*PARTS) + b" ",
    ],
)
def test_that_signatures_in_another_form_are_none(signatures: bytes) -> None:
    assert signature_text([Signature("MECH", b"\xaa", b"\xbb", "I did it.")]).encode() == framed(*PARTS)
    with pytest.raises(NotARecord):
        envelope_of(replace(stored_row(SHOP.envelopes[4]), signatures=signatures))


ORDER = Floor().with_card().order()
CARD = ORDER.cards[0]
LATER = replace(ORDER.opened, at=ORDER.opened.at + timedelta(minutes=1))
ORDER_CHANGES: dict[str, dict[str, Any]] = {
    "what is asked": {"asked": "Time one magneto"},
    "the promised day": {"promised": date(2031, 5, 1)},
    "the customer": {"customer": replace(ORDER.customer, name="Somebody else")},
    "a registration": {"aircraft": replace(ORDER.aircraft, registration="X-ABCE")},
    "when it was opened": {"opened": LATER},
    "the number": {"number": 2},
    "a card": {"cards": ()},
    "what a card was given to": {"cards": (replace(CARD, mechanic="INSP"),)},
    "time": {"time": (TimeBooked("MECH", 30, "timing", ORDER.opened),)},
}
CARD_CHANGES: dict[str, dict[str, Any]] = {
    "a reading": {"readings": replace(CARD.readings, limits=TypedLimits(left_btdc="25.1"))},
    "a reading taken away": {"readings": replace(CARD.readings, limits=None)},
    "a step": {"steps": (StepDone("run-up", ORDER.opened),)},
    "another time of a step": {"steps": (StepDone("run-up", LATER),)},
    "a remark": {"remarks": (Remark("half a sign \ud800", ORDER.opened),)},
    "the task": {"task": replace(CARD.task, revision=2)},
}


def test_that_a_draft_that_was_changed_has_another_seal() -> None:
    changed = [ORDER, *(replace(ORDER, **change) for change in ORDER_CHANGES.values())]
    assert len({draft_seal(one) for one in changed}) == len(ORDER_CHANGES) + 1
    cards = [CARD, *(replace(CARD, **change) for change in CARD_CHANGES.values())]
    assert len({draft_seal(one) for one in cards}) == len(CARD_CHANGES) + 1
    assert seal_row(ORDER) == Row(LABEL, draft_seal(ORDER))


def test_that_a_draft_keeps_its_seal_while_it_moves_on() -> None:
    card = replace(CARD, state=OrderState.ACCEPTED)
    moved = replace(ORDER, version=9, cards=(card,), ending=OrderState.APPROVED, passages=())
    assert draft_seal(moved) == draft_seal(ORDER)
    assert draft_seal(card) == draft_seal(CARD)


@dataclass(frozen=True, slots=True)
class Grown(OrderCard):
    """The form of a card in a later program, with fields that an old card does not use."""

    later: str = ""
    more: tuple[str, ...] = field(default_factory=tuple)


def test_that_a_form_that_grew_gives_old_drafts_their_old_seal() -> None:
    values = {one.name: getattr(CARD, one.name) for one in fields(CARD)}
    assert draft_seal(Grown(**values)) == draft_seal(CARD)
    assert draft_seal(Grown(**values, more=("x",))) != draft_seal(CARD)


def test_that_every_kind_has_a_row() -> None:
    assert [row.kind for row in ROWS] == list(RecordKind)
    assert all(row_of(kind).who for kind in RecordKind)
