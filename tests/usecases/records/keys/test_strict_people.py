"""Who may sign is read from records whose every signature was looked at: neither a list nor a forged record lets in.

What an insider writes here goes past no trigger: plain inserts, and a list that only names what the records say.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.sealed import people_walk
from desktop.core.records.sealed.envelope import Signature, freeze
from desktop.core.shop.people.people import Person, Right
from desktop.storage.records.record_store import RecordFile
from desktop.usecases.records.keys.people import withdraw_person
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.records.keys.people_records import enrolment
from desktop.usecases.records.keys.secrets import key_state
from tests.core.records.pens import TrustingVerifier
from tests.storage.file_floor import sql
from tests.usecases.records.signing_floor import PHRASES, SINCE, SigningFloor, made_floor, refused

STRANGER = Person("ZZ", "Zed Zero", (Right.MECHANIC, Right.RECORDS), SINCE)
OWN = "my own forged words"


@pytest.fixture
def floor(tmp_path: Path) -> Iterator[SigningFloor]:
    """Three people are enrolled: records 1 to 3."""
    made = made_floor(tmp_path / "mill.shop", None).enrol("KEEP", "MECH", "ROLF")
    with made.file:
        yield made


def forge(floor: SigningFloor) -> None:
    """Put a stranger among the people, under a key of their own, with a keeper's signature that nobody gave."""
    desk = floor.desk
    key = desk.locksmith.new_key("ZZ", OWN, FOR_DEMO)
    record = enrolment(desk, floor.clock.now(), STRANGER, key, floor.on_roster("KEEP"))
    own = desk.locksmith.open_key(key, OWN)
    with floor.file.changing() as work:
        work.put_person(STRANGER)
        signing = desk.keys.within(work)
        known = signing.key("KEEP")
        assert known is not None
        frozen = freeze(record, work.last_envelope())
        vouched, brought = (signer.meaning for signer in record.signers)
        given = (
            Signature("KEEP", known.public_key, bytes([1]) * 64, vouched),
            Signature("ZZ", key.public_key, own.sign(frozen.message("ZZ", key.public_key, brought)), brought),
        )
        work.append_record(frozen.sealed(given))
        signing.put_key(key)


def test_that_a_forged_enrolment_lets_nobody_sign(floor: SigningFloor) -> None:
    forge(floor)
    for person, secret in (("ZZ", OWN), ("MECH", PHRASES["MECH"])):
        words = refused(lambda person=person, secret=secret: floor.sign(person, secret))  # type: ignore[misc]
        assert words.startswith("Record 4 does not bear the signature of Kit Eeper")
    assert floor.walk().count == 4


def test_that_it_would_without_a_look_at_the_signatures(floor: SigningFloor) -> None:
    forge(floor)
    floor.desk = replace(floor.desk, verifier=TrustingVerifier())
    assert floor.sign("ZZ", OWN).number == 5


def leave(floor: SigningFloor) -> None:
    """Withdraw the mechanic: record 4."""
    withdraw_person(floor.desk, floor.by("KEEP"), "MECH", "Left the shop for another one.", PHRASES["KEEP"])


def test_that_a_withdrawal_that_the_list_leaves_out_still_holds(
    floor: SigningFloor, monkeypatch: pytest.MonkeyPatch
) -> None:
    leave(floor)
    assert "was withdrawn and signs no more" in refused(floor.sign)
    sql(floor.file.place, "DELETE FROM record_line WHERE number = 4")
    assert "list of signed records does not agree" in refused(floor.sign)
    # The control: through the list, as it was once, nobody was withdrawn.
    monkeypatch.setattr(RecordFile, "agreed_lines", RecordFile.lines)
    assert floor.sign().number == 5


EDITS = {
    "taken out": ("DELETE FROM envelope WHERE number = 4", "Record 4 is missing: the list of records names it"),
    "another kind": (
        "UPDATE envelope SET kind = 'tool record' WHERE number = 4",
        "Record 4 does not fit its record seal",
    ),
    "another place": (
        "UPDATE envelope SET previous = digest WHERE number = 4",
        "Record 4 does not fit its record seal",
    ),
    "no record": ("UPDATE envelope SET signatures = '' WHERE number = 4", "Record 4 was changed after it was signed"),
    "a gap": ("DELETE FROM envelope WHERE number = 2", "Record 2 is missing, and record 3 stands in its place"),
}


@pytest.mark.parametrize(("statement", "words"), EDITS.values(), ids=EDITS)
def test_that_nobody_signs_while_a_record_is_not_as_it_was_kept(
    floor: SigningFloor, statement: str, words: str
) -> None:
    leave(floor)
    place = floor.file.place
    guards = sql(place, "SELECT name, sql FROM sqlite_master WHERE tbl_name = 'envelope' AND type = 'trigger'")
    sql(place, *(f"DROP TRIGGER {name}" for name, _ in guards), statement, *(text for _, text in guards))
    assert words in refused(lambda: key_state(floor.desk, "KEEP"))


KEYS = {
    "its salt": "UPDATE person_key SET salt = '00000000000000000000000000000000' WHERE person = 'MECH'",
    "its memory": "UPDATE person_key SET memory = memory + 8 WHERE person = 'MECH'",
    "its seal": "UPDATE person_key SET nonce = '000000000000000000000000' WHERE person = 'MECH'",
}


@pytest.mark.parametrize("statement", KEYS.values(), ids=KEYS)
def test_that_a_key_that_was_changed_costs_its_owner_no_try(
    floor: SigningFloor, statement: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    sql(floor.file.place, "DROP TRIGGER person_key_stays", statement)
    for _ in range(3):
        assert "was changed since it was enrolled" in refused(floor.sign)
    with floor.file.changing() as work:
        signing = floor.desk.keys.within(work)
        key = signing.key("MECH")
        assert key is not None
        assert signing.tries(key.public_key).begun == 0
    # The control: where no record says the check, the right secret is a wrong one, and counts.
    monkeypatch.setattr("desktop.core.records.keys.key_book.key_check_in", lambda _: "")
    people_walk.book_of.cache_clear()
    assert "This is not the secret of Mel Chan. Wrong tries in a row: 1" in refused(floor.sign)
    people_walk.book_of.cache_clear()


def test_that_the_people_are_read_once_for_the_same_records(floor: SigningFloor) -> None:
    people_walk.book_of.cache_clear()
    floor.sign()
    floor.sign()
    assert people_walk.book_of.cache_info().misses == 1
    with pytest.raises(Refusal):
        floor.hand("MECH", "not the secret at all")
