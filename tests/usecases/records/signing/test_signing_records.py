"""A record is signed by those whom it names, as they are enrolled, looked at before it is kept, and kept or not."""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import NotReady
from desktop.core.records.keys.enrolment import signer_of
from desktop.core.records.record import RecordKind, time_text
from desktop.core.records.sealed.canonical import read_record
from desktop.core.records.sealed.envelope import Signature, freeze
from desktop.core.records.subjects import person_subject
from desktop.storage.troubles import KEPT, NOT_KEPT
from desktop.usecases.records.keys.in_your_name import signed_in_your_name_since
from desktop.usecases.records.keys.people import enrol_person
from desktop.usecases.records.keys.sign import put_down, sign_with, signer_for
from tests.storage.file_floor import sql
from tests.storage.test_disk_errors import Frail, failing
from tests.usecases.records.signing_floor import (
    PEOPLE,
    PHRASES,
    WRONG,
    SigningFloor,
    opened_floor,
    refused,
)


class PastingKey:
    """A key that gives a signature cut out of another record."""

    def __init__(self, public_key: bytes, signature: bytes) -> None:
        self.public_key = public_key
        self._signature = signature

    def sign(self, _message: bytes) -> bytes:
        return self._signature

    def close(self) -> None:
        pass


def test_that_a_signature_is_kept_in_the_chain_and_read_back(floor: SigningFloor) -> None:
    envelope = floor.sign()
    assert floor.file.last_envelope() == envelope
    assert read_record(envelope.content).signer.meaning == "I did the work that stands here."
    assert floor.problems() == []


def test_that_several_records_of_one_act_take_one_secret_and_the_next_act_another(floor: SigningFloor) -> None:
    hand = floor.hand("MECH")
    with floor.file.changing() as work:
        first = sign_with(floor.desk, work, floor.work_done(work, "MECH", "one"), hand)
        second = sign_with(floor.desk, work, floor.work_done(work, "MECH", "two"), hand)
    assert second.previous == first.digest
    put_down(hand)
    with pytest.raises(ValueError, match="the secret is asked for again"), floor.file.changing() as work:
        sign_with(floor.desk, work, floor.work_done(work, "MECH"), hand)
    assert floor.file.last_envelope() == second
    assert floor.problems() == []


def test_that_a_pasted_signature_is_noticed_before_it_is_kept(floor: SigningFloor) -> None:
    old = floor.sign()
    pasted = old.signatures[0]
    hand = replace(floor.hand("MECH"), key=PastingKey(pasted.public_key, pasted.signature))
    with pytest.raises(NotReady, match="does not bear the signature of Mel Chan"), floor.file.changing() as work:
        sign_with(floor.desk, work, floor.work_done(work, "MECH"), hand)
    assert floor.file.last_envelope() == old
    floor.sign()  # the control: the same way with the key itself


def test_that_a_signature_pasted_into_the_file_is_noticed_by_the_chain(floor: SigningFloor) -> None:
    old = floor.sign()
    with floor.file.changing() as work:
        frozen = freeze(floor.work_done(work, "MECH", "never done"), floor.file.last_envelope())
        one = old.signatures[0]
        work.append_record(frozen.sealed([Signature(one.person, one.public_key, one.signature, one.meaning)]))
    [problem] = floor.problems()
    assert "does not bear the signature of Mel Chan" in problem


def test_that_a_hand_signs_for_its_own_person_and_shop_only(floor: SigningFloor) -> None:
    hand = floor.hand("MECH")
    with floor.file.changing() as work:
        record = floor.work_done(work, "MECH")
        for given in ((), (hand, hand), (replace(hand, person="KEEP"),)):
            with pytest.raises(ValueError, match="not those of the people"):
                sign_with(floor.desk, work, record, *given)
        with pytest.raises(ValueError, match="another shop's"):
            sign_with(floor.desk, work, replace(record, shop_id="other"), hand)
    assert floor.walk().count == 3


def test_that_nobody_signs_what_their_rights_do_not_cover(floor: SigningFloor) -> None:
    hand = floor.hand("MECH")
    meaning = "I accept this work."
    with floor.file.changing() as work:
        words = refused(lambda: signer_for(floor.desk, work, "MECH", RecordKind.CARD_ACCEPTED, meaning))
        assert words == "Mel Chan may not sign this: card accepted. It takes the right of inspector."
        record = replace(floor.work_done(work, "MECH"), kind=RecordKind.CARD_ACCEPTED)
        assert words == refused(lambda: sign_with(floor.desk, work, record, hand))
    # Past the first look too: the record is looked at as whoever checks the file will.
    with floor.file.changing() as work:
        submitted = floor.work_done(work, "MECH")
        record = replace(submitted, signer=replace(submitted.signer, rights=("mechanic", "inspector")))
        assert "not what they were enrolled with" in refused(lambda: sign_with(floor.desk, work, record, hand))
    assert floor.walk().count == 3


def test_that_every_signer_of_a_record_is_looked_at(floor: SigningFloor) -> None:
    hands = (floor.hand("MECH"), floor.hand("ROLF"))
    with floor.file.changing() as work:
        record = replace(floor.work_done(work, "MECH"), countersigners=(signer_of(PEOPLE[1], "I saw it."),))
        envelope = sign_with(floor.desk, work, record, *hands)
    assert [one.person for one in envelope.signatures] == ["MECH", "ROLF"]
    assert floor.problems() == []
    floor.change("ROLF", ratings="all")
    hands = (floor.hand("MECH"), floor.hand("ROLF"))
    with floor.file.changing() as work:
        assert "Rolf Ecord was changed" in refused(lambda: sign_with(floor.desk, work, record, *hands))


def test_that_a_record_about_a_person_that_cannot_be_is_not_signed(floor: SigningFloor) -> None:
    hand = floor.hand("KEEP")
    with floor.file.changing() as work:
        record = replace(
            floor.work_done(work, "MECH"),
            kind=RecordKind.KEY_REPLACED,
            subject=person_subject("MECH"),
            signer=signer_of(PEOPLE[0], "I replace it."),
        )
        assert "replaces a key and brings none" in refused(lambda: sign_with(floor.desk, work, record, hand))


def test_that_nothing_is_signed_over_people_that_cannot_be_believed(floor: SigningFloor) -> None:
    with floor.file.changing() as work:
        record = replace(floor.work_done(work, "MECH"), kind=RecordKind.KEY_REPLACED, subject=person_subject("MECH"))
        unsigned = Signature("MECH", bytes(32), bytes(64), record.signer.meaning)
        work.append_record(freeze(record, floor.file.last_envelope()).sealed([unsigned]))
    words = refused(floor.sign)
    assert "Record 4 is signed with a key that was never enrolled for Mel Chan" in words
    assert "so nothing is signed" in words


def test_that_what_was_kept_is_compared_with_what_was_signed(
    floor: SigningFloor, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("desktop.storage.records.key_store.FileSigning.append_record", lambda *_: None)
    with pytest.raises(ValueError, match="not what was signed"):
        floor.sign()


def test_that_each_signing_tells_what_was_signed_in_that_name_before(floor: SigningFloor) -> None:
    assert signed_in_your_name_since(floor.desk, "MECH").lines == signed_in_your_name_since(floor.desk, "MECH", 0).lines
    listed = signed_in_your_name_since(floor.desk, "MECH")
    assert [(line.number, line.kind, line.name) for line in listed.lines] == [(3, "person enrolled", "Kit Eeper")]
    first = floor.sign(seen=listed.seen)
    enrol_person(floor.desk, floor.by("KEEP"), "DESK", PHRASES["DESK"], PHRASES["KEEP"])
    # Somebody who knows the secret signs: the dialog showed them the list up to there, and not their own signature.
    stranger = floor.sign(seen=signed_in_your_name_since(floor.desk, "MECH").seen)
    listed = signed_in_your_name_since(floor.desk, "MECH")
    assert [line.number for line in listed.lines] == [stranger.number]
    assert (listed.seen, first.number) == (stranger.number, 4)
    assert [line.number for line in signed_in_your_name_since(floor.desk, "MECH", 0).lines] == [3, 4, stranger.number]
    floor.sign(seen=1)  # an older list does not make the newer one unseen
    assert [line.number for line in signed_in_your_name_since(floor.desk, "MECH").lines] == [6, 7]


def test_that_a_number_that_was_set_up_hides_nothing(floor: SigningFloor) -> None:
    first = floor.sign(seen=signed_in_your_name_since(floor.desk, "MECH").seen)
    sql(floor.file.place, "UPDATE signed_seen SET number = 9999 WHERE person = 'MECH'")
    assert [line.number for line in signed_in_your_name_since(floor.desk, "MECH").lines] == [3, first.number]


def test_that_a_shop_without_records_lists_nothing(new_floor: SigningFloor) -> None:
    listed = signed_in_your_name_since(new_floor.desk, "KEEP")
    assert (listed.lines, listed.seen) == ((), 0)


@pytest.fixture
def frail(place: Path, state: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[SigningFloor]:
    """The hands on a file whose disk may fail."""
    connect = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda *args, **kwargs: connect(*args, factory=Frail, **kwargs))
    floor = opened_floor(place, state)
    yield floor
    floor.file.close()


@pytest.mark.parametrize("is_after", [False, True])
def test_that_after_an_error_at_the_end_nothing_is_called_signed(frail: SigningFloor, is_after: bool) -> None:
    hand = frail.hand("MECH")
    signed = []

    def act() -> None:
        with failing("COMMIT", is_after=is_after), frail.file.changing() as work:
            envelope = sign_with(frail.desk, work, frail.work_done(work, "MECH"), hand)
        signed.append(envelope)

    words = refused(act)
    assert signed == []
    assert words.endswith(KEPT if is_after else NOT_KEPT)
    assert frail.walk().count == (4 if is_after else 3)
    assert frail.problems() == []
    put_down(hand)
    frail.sign()


@pytest.mark.parametrize("is_after", [False, True])
def test_that_a_try_that_the_disk_may_not_have_kept_looks_at_no_secret(frail: SigningFloor, is_after: bool) -> None:
    with failing("COMMIT", is_after=is_after):
        words = refused(lambda: frail.hand("MECH", WRONG))
    # Whether the count was kept does not matter to who signs: nothing was signed.
    assert "nothing was signed" in words
    assert "not the secret" not in words


@pytest.mark.parametrize("is_after", [False, True])
def test_that_an_enrolment_cut_off_at_the_end_is_whole_or_not_there(frail: SigningFloor, is_after: bool) -> None:
    request = frail.by("KEEP")

    def enrol() -> object:
        return enrol_person(frail.desk, request, "DESK", PHRASES["DESK"], PHRASES["KEEP"])

    with failing("INSERT INTO request", is_after=is_after):
        refused(enrol)
    assert frail.walk().count == 3
    frail.clock.move(60)
    enrol()
    assert frail.walk().count == 4
    assert frail.problems() == []


def test_that_the_time_of_a_record_is_that_of_the_clock(floor: SigningFloor) -> None:
    assert read_record(floor.sign().content).at == time_text(floor.clock.now())
