"""A sealed record is shown only after it was found sound, with what corrects it; a correction is signed like an act."""

from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from sqlite3 import Connection

import pytest
from sqlite_utils import Database

from desktop import shop_assembly
from desktop.core.errors import NotReady, Refusal
from desktop.core.records.keys.key_book import KeyBook
from desktop.core.records.record import RecordKind, Row, Section
from desktop.core.records.sealed import people_walk
from desktop.core.records.sealed.envelope import seal_of
from desktop.core.records.sealed.stored import StoredRow, envelope_of
from desktop.storage.records.record_store import RecordFile
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.keys.secrets import hand_of
from desktop.usecases.records.keys.sign import put_down, sign_with
from desktop.usecases.records.signing import signed_acts
from desktop.usecases.records.signing.correct import (
    Correction,
    CorrectionProposal,
    correction_troubles,
    propose_correction,
    sign_correction,
)
from desktop.usecases.records.signing.see_record import list_records, see_as_kept, see_record, sound_record
from desktop.usecases.shop.ports import Answer
from tests.storage.file_floor import QUIET, TEXT, opened, sql
from tests.usecases.records.acting_floor import PHRASES, ActingFloor

SUBMIT = RecordKind.CARD_SUBMITTED
SUBMITTED = 5
"""The number of the submission: four people were enrolled before."""
RIGHT = Correction(SUBMITTED, "Left magneto, approach 3, from 310", "311", "It was read once more, with a lamp.")


@pytest.fixture
def floor(tmp_path: Path) -> Iterator[ActingFloor]:
    with new_shop(tmp_path / "trial.shop", "Trial Works", TEXT, QUIET) as file:
        made = ActingFloor(file, None).staffed().filled()
        made.act("MECH", SUBMIT)
        yield made


def shown(floor: ActingFloor, correction: Correction = RIGHT, person: str = "MECH") -> CorrectionProposal:
    return propose_correction(floor.desk, floor.file, person, correction)


def signed(floor: ActingFloor, proposal: CorrectionProposal, secret: str = "", request: str = "") -> Answer:
    words = secret or PHRASES[proposal.person]
    return sign_correction(floor.desk, floor.file, request or floor.by("MECH").request_id, proposal, words)


def test_that_records_are_listed_the_newest_first(floor: ActingFloor) -> None:
    assert [line.number for line in list_records(floor.file)] == [5, 4, 3, 2, 1]


def test_that_a_sound_record_says_everything_that_was_signed(floor: ActingFloor) -> None:
    seen = see_record(floor.desk, floor.file, SUBMITTED)
    (envelope,) = floor.file.envelopes_about(1)
    assert (seen.number, seen.seal, seen.corrections) == (5, envelope.digest[:16], ())
    assert seen.lines[0] == "Record: card submitted"
    assert see_as_kept(floor.desk, floor.file, seen.record) == seen


def test_that_a_record_that_is_not_there_is_refused(floor: ActingFloor) -> None:
    with pytest.raises(Refusal, match="There is no record 6"):
        see_record(floor.desk, floor.file, 6)
    seen = see_record(floor.desk, floor.file, SUBMITTED)
    with pytest.raises(Refusal, match="was not found in the file"):
        see_as_kept(floor.desk, floor.file, replace(seen.record, subject="order 2 card 1"))


def test_that_a_shop_without_records_has_none_to_read_back(floor: ActingFloor, tmp_path: Path) -> None:
    record = see_record(floor.desk, floor.file, SUBMITTED).record
    with (
        new_shop(tmp_path / "empty.shop", "Empty", TEXT, QUIET) as file,
        pytest.raises(Refusal, match="was not found in the file"),
    ):
        see_as_kept(floor.desk, file, record)


def insider(place: Path, change: Callable[[Connection], None]) -> None:
    """Change a closed shop file as somebody does who takes its guards off and puts them back as they were."""
    with closing(Database(place).conn) as connection:
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            connection.execute(f"DROP TRIGGER {name}")
        change(connection)
        for _, text in guards:
            connection.execute(text)
        connection.commit()


def again(place: Path) -> ActingFloor:
    """Open the file again."""
    return ActingFloor(opened(place), None)


@pytest.mark.parametrize("column", ["content", "previous", "digest", "signatures", "kind"])
def test_that_nothing_is_shown_of_a_record_whose_column_was_changed(floor: ActingFloor, column: str) -> None:
    def change(connection: Connection) -> None:
        [(kept,)] = connection.execute(f"SELECT {column} FROM envelope WHERE number = 5").fetchall()  # noqa: S608
        data = bytearray(kept if isinstance(kept, bytes) else kept.encode())
        data[len(data) // 2] ^= 1
        value = bytes(data) if isinstance(kept, bytes) else data.decode("utf-8", "replace")
        connection.execute(f"UPDATE envelope SET {column} = ? WHERE number = 5", (value,))  # noqa: S608

    floor.file.close()
    insider(floor.file.place, change)
    after = again(floor.file.place)
    with after.file, pytest.raises(Refusal, match="Record 5"):
        see_record(after.desk, after.file, SUBMITTED)


def forged(number: int, old: bytes, new: bytes) -> Callable[[Connection], None]:
    """Change what a record says, and make its seal fit again."""

    def change(connection: Connection) -> None:
        sql = "SELECT number, kind, content, previous, digest, signatures FROM envelope WHERE number = ?"
        [row] = connection.execute(sql, (number,)).fetchall()
        parts = [part if isinstance(part, bytes) else str(part).encode() for part in row[1:]]
        envelope = envelope_of(StoredRow(row[0], *parts))
        content = envelope.content.replace(old, new)
        assert content != envelope.content
        seal = seal_of(number, envelope.kind, content, envelope.previous, envelope.signatures)
        connection.execute("UPDATE envelope SET content = ?, digest = ? WHERE number = ?", (content, seal, number))

    return change


def test_that_a_record_whose_seal_was_made_to_fit_shows_nothing(floor: ActingFloor) -> None:
    floor.file.close()
    insider(floor.file.place, forged(SUBMITTED, b"Fourbanger 360", b"Fourbanger 361"))
    after = again(floor.file.place)
    with after.file, pytest.raises(Refusal, match=r"does not bear the signature of Mel Chan.*Nothing of it is shown"):
        see_record(after.desk, after.file, SUBMITTED)


def test_that_no_record_is_believed_while_one_about_people_is_not_sound(floor: ActingFloor) -> None:
    floor.file.close()
    insider(floor.file.place, forged(2, b"Mel Chan", b"Mel Chen"))
    after = again(floor.file.place)
    with after.file, pytest.raises(Refusal, match="Record 3 does not follow the record before it"):
        see_record(after.desk, after.file, SUBMITTED)


def test_that_a_person_who_cannot_be_so_is_said(floor: ActingFloor, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(KeyBook, "take", lambda *_: "brings a key for somebody else")
    monkeypatch.setattr("desktop.core.records.sealed.people_walk.signature_troubles", lambda *_: ())
    people_walk.book_of.cache_clear()
    with pytest.raises(Refusal, match="Record 1 brings a key for somebody else"):
        see_record(floor.desk, floor.file, SUBMITTED)


def test_that_a_record_in_another_place_of_the_chain_is_not_shown(floor: ActingFloor) -> None:
    records = floor.file.records()
    envelope = records.envelope(SUBMITTED)
    assert envelope is not None
    desk = replace(floor.desk, shop_id="0" * 32)
    with pytest.raises(Refusal, match=r"Record 1 was signed in another shop.*no record shown"):
        sound_record(desk, records, SUBMITTED)


def test_that_a_correction_is_shown_with_the_record_that_it_names(floor: ActingFloor) -> None:
    proposal = shown(floor)
    assert "  It holds instead: 311" in proposal.lines
    answer = signed(floor, proposal)
    assert (answer.verb, answer.key, answer.version) == ("correct a record", "5", 6)
    seen = see_record(floor.desk, floor.file, SUBMITTED)
    assert [one.number for one in seen.corrections] == [6]
    assert seen.corrections[0].record == proposal.record
    assert see_record(floor.desk, floor.file, 6).record.about[0].number == SUBMITTED
    floor.file.close()
    assert shop_assembly.check_shop(floor.file.place).problems == ()


def test_that_a_correction_can_be_corrected(floor: ActingFloor) -> None:
    signed(floor, shown(floor))
    signed(floor, shown(floor, replace(RIGHT, number=6, wrong="311", instead="312")))
    assert [one.number for one in see_record(floor.desk, floor.file, 6).corrections] == [7]
    # What is corrected again is not what holds: the first record shows both.
    assert [one.number for one in see_record(floor.desk, floor.file, SUBMITTED).corrections] == [6, 7]


HIDDEN = {
    "taken out of the list": "DELETE FROM record_about WHERE number = 6",
    "named after another record": "UPDATE record_about SET about = 4 WHERE number = 6",
    "as another kind": "UPDATE record_line SET kind = 'tool record' WHERE number = 6",
}


@pytest.mark.parametrize("statement", HIDDEN.values(), ids=HIDDEN)
def test_that_a_correction_is_not_hidden_by_the_list(
    floor: ActingFloor, statement: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    signed(floor, shown(floor))
    sql(floor.file.place, statement)
    with pytest.raises(Refusal, match=r"list of signed records does not agree.*doctor SHOP --remake-lists"):
        see_record(floor.desk, floor.file, SUBMITTED)
    with pytest.raises(Refusal, match="list of signed records does not agree"):
        list_records(floor.file)
    # The control: found through the list, as it was once, nothing corrects the record.
    monkeypatch.setattr(RecordFile, "agreed_lines", RecordFile.lines)
    assert see_record(floor.desk, floor.file, SUBMITTED).corrections == ()


def test_that_one_request_corrects_once(floor: ActingFloor) -> None:
    proposal = shown(floor)
    first = signed(floor, proposal, request="once")
    assert signed(floor, proposal, request="once") == first
    assert len(list_records(floor.file)) == 6


def test_that_a_correction_is_signed_as_it_was_shown_or_not_at_all(
    floor: ActingFloor, monkeypatch: pytest.MonkeyPatch
) -> None:
    proposal = shown(floor)
    other = replace(proposal, record=replace(proposal.record, shop_name="Another Shop"))
    with pytest.raises(Refusal, match="not what would be signed now"):
        signed(floor, other)
    with pytest.raises(Refusal, match="secret"):
        signed(floor, proposal, "not the secret at all")
    floor.clock.move(60)
    monkeypatch.setattr(signed_acts, "SHOWN_FOR", signed_acts.SHOWN_FOR * 0)
    with pytest.raises(Refusal, match="too long ago"):
        signed(floor, proposal)
    assert len(list_records(floor.file)) == 5


def test_that_what_is_missing_in_a_correction_is_said(floor: ActingFloor) -> None:
    empty = Correction(SUBMITTED, " ", "", "no")
    with pytest.raises(NotReady) as caught:
        shown(floor, empty)
    assert len(caught.value.reasons) == 3
    assert correction_troubles(RIGHT) == ()
    odd = replace(RIGHT, wrong="a\u202eb")
    assert "invisible sign" in correction_troubles(odd)[0]


def test_that_a_sign_that_is_not_seen_is_shown_as_a_code_before_it_is_signed(floor: ActingFloor) -> None:
    odd = replace(RIGHT, wrong="the gap was 0.015\u3164in", reason="It was read wrongly \ufe0f from the gauge.")
    lines = shown(floor, odd).lines
    assert "  Wrong in it: the gap was 0.015[U+3164]in" in lines
    assert "  Reason: It was read wrongly [U+FE0F] from the gauge." in lines
    assert not [line for line in lines if "\u3164" in line or "\ufe0f" in line]


def test_that_nothing_is_signed_with_a_sign_that_is_not_seen(floor: ActingFloor) -> None:
    record = shown(floor).record
    unseen = replace(record, sections=(Section("Correction", (Row("Reason", "read\u2800again"),)),))
    hand = hand_of(floor.desk, "MECH", PHRASES["MECH"])
    with floor.file.changing() as work, pytest.raises(NotReady, match=r"not seen stands.*read.U.2800.again"):
        sign_with(floor.desk, work, unseen, hand)
    put_down(hand)
    assert len(list_records(floor.file)) == 5


def test_that_nobody_corrects_without_the_right_or_a_record_that_is_not_there(floor: ActingFloor) -> None:
    with pytest.raises(Refusal, match="may not sign this"):
        shown(floor, person="DESK")
    with pytest.raises(Refusal, match="There is no record 9"):
        shown(floor, replace(RIGHT, number=9))
