"""The small parts: subjects, the person's section, the stored row, the seal of a draft."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desktop.core.records.canonical import NotARecord, framed
from desktop.core.records.draft_seal import LABEL, draft_seal, seal_row
from desktop.core.records.enrolment import person_in, person_section
from desktop.core.records.envelope import Signature, shown
from desktop.core.records.key_book import KeyBook
from desktop.core.records.kinds import ROWS, row_of
from desktop.core.records.record import Record, RecordKind, Row, Section
from desktop.core.records.record_line import record_name
from desktop.core.records.stored import envelope_of, signature_text, stored_row
from desktop.core.records.subjects import Place, order_subject, person_named, place_of, sheet_subject, tool_subject
from desktop.core.shop.order import WorkOrder
from desktop.core.shop.order_states import OrderState
from desktop.core.shop.people import Person, Right
from tests.core.records.pens import MECH, SignedShop
from tests.files.shop_values import orders

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


@settings(max_examples=25)
@given(orders(), orders())
def test_that_two_drafts_have_one_seal_only_when_they_say_the_same(one: WorkOrder, other: WorkOrder) -> None:
    def frozen(order: WorkOrder) -> WorkOrder:
        cards = tuple(replace(card, state=OrderState.ISSUED) for card in order.cards)
        return replace(order, version=1, ending=None, passages=(), board=one.board, cards=cards)

    assert (draft_seal(one) == draft_seal(other)) == (frozen(one) == frozen(other))
    assert draft_seal(one) == draft_seal(frozen(one))


@settings(max_examples=25)
@given(orders())
def test_that_a_draft_that_was_changed_has_another_seal(order: WorkOrder) -> None:
    before = draft_seal(order)
    assert seal_row(order) == Row(LABEL, before)
    assert draft_seal(replace(order, asked=order.asked + "!")) != before
    assert draft_seal(replace(order, promised=date(1999, 1, 1))) != before
    for card in order.cards:
        assert draft_seal(replace(card, mechanic=card.mechanic + "!")) != draft_seal(card)


def test_that_every_kind_has_a_row() -> None:
    assert [row.kind for row in ROWS] == list(RecordKind)
    assert all(row_of(kind).who for kind in RecordKind)
