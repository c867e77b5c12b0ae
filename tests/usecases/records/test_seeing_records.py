"""A sealed record is shown only after it was found sound, with what corrects it; a correction is signed like an act."""

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlite_utils import Database

from desktop import shop_assembly
from desktop.core.errors import NotReady, Refusal
from desktop.core.records.record import RecordKind
from desktop.storage.shop_store import new_shop
from desktop.usecases.records import signed_acts
from desktop.usecases.records.correct import (
    Correction,
    CorrectionProposal,
    correction_troubles,
    propose_correction,
    sign_correction,
)
from desktop.usecases.records.see_record import list_records, see_as_kept, see_record, sound_record
from desktop.usecases.shop.ports import Answer
from tests.storage.file_floor import QUIET, TEXT, opened
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


COLUMNS = ("content", "previous", "digest", "signatures", "kind")


@pytest.mark.parametrize("column", COLUMNS)
def test_that_nothing_is_shown_of_a_record_whose_column_was_changed(floor: ActingFloor, column: str) -> None:
    floor.file.close()
    with closing(Database(floor.file.place).conn) as connection:
        for (trigger,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            connection.execute(f"DROP TRIGGER {trigger}")
        [(kept,)] = connection.execute(f"SELECT {column} FROM envelope WHERE number = 5").fetchall()
        data = kept if isinstance(kept, bytes) else kept.encode()
        changed = bytearray(data)
        changed[len(changed) // 2] ^= 1
        value = bytes(changed) if isinstance(kept, bytes) else changed.decode("utf-8", "replace")
        connection.execute(f"UPDATE envelope SET {column} = ? WHERE number = 5", (value,))
        connection.commit()
    with pytest.raises(Refusal, match="5"), _opened_again(floor) as again:
        see_record(again.desk, again.file, SUBMITTED)


class _opened_again:  # noqa: N801 - read as a verb
    """The same file in a shop that looks at no guards: what it holds is judged record by record."""

    def __init__(self, floor: ActingFloor) -> None:
        self._place = floor.file.place

    def __enter__(self) -> ActingFloor:
        self._file = opened(self._place)
        return ActingFloor(self._file, None)

    def __exit__(self, *_: object) -> None:
        self._file.close()


def test_that_a_record_in_another_place_of_the_chain_is_not_shown(floor: ActingFloor) -> None:
    records = floor.file.records()
    envelope = records.envelope(SUBMITTED)
    assert envelope is not None
    desk = replace(floor.desk, shop_id="0" * 32)
    with pytest.raises(Refusal, match="Nothing of it is shown"):
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


def test_that_nobody_corrects_without_the_right_or_a_record_that_is_not_there(floor: ActingFloor) -> None:
    with pytest.raises(Refusal, match="may not sign this"):
        shown(floor, person="DESK")
    with pytest.raises(Refusal, match="There is no record 9"):
        shown(floor, replace(RIGHT, number=9))
