"""Copies as the use cases make and take them: what is told, what is refused, and who signs a restore."""

from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.canonical import read_record
from desktop.signing import Ed25519Verifier
from desktop.storage.copies.copy_desk import CopyDesk
from desktop.usecases.records.checking.health import Line, Word, is_sound, page
from desktop.usecases.records.copies.backup import back_up, back_up_on_closing, copy_words, restore, restored_words
from desktop.usecases.records.copies.copy_ports import BadCopy, Chain, Holds, MadeCopy, PreparedCopy, Sabotage
from desktop.usecases.records.copies.sign_restore import keeper_of, sign_restore
from desktop.usecases.records.keys.secrets import key_events
from tests.storage.file_floor import QUIET, made
from tests.usecases.records.signing_floor import PHRASES, WRONG, StandingClock, made_floor, opened_floor

DESK = CopyDesk(QUIET, Ed25519Verifier())
CLOCK = StandingClock()


class Signs:
    """Signs restores with the keys of the copy itself."""

    def __init__(self, state: Path | None, named: str = "KEEP", clock: StandingClock | None = None) -> None:
        self.state = state
        self.named = named
        self.clock = clock

    def sign(self, prepared: PreparedCopy, lacks: str, secret: str) -> None:
        floor = opened_floor(prepared.place, self.state, self.clock)
        try:
            sign_restore(floor.desk, keeper_of(floor.desk, self.named).id, secret, prepared, lacks)
        finally:
            floor.file.close()


class Asked:
    """Whoever is asked for a secret, and how often."""

    def __init__(self, secret: str) -> None:
        self.secret = secret
        self.times = 0

    def __call__(self) -> str:
        self.times += 1
        return self.secret


@pytest.fixture
def copy(place: Path, tmp_path: Path) -> Path:
    """A copy of the shop in which KEEP, ROLF and MECH are enrolled."""
    return back_up(DESK, CLOCK, place, tmp_path / "a copy").place


def test_that_a_copy_is_told_in_one_line(place: Path, copy: Path, tmp_path: Path) -> None:
    floor = opened_floor(place, None)
    seal = floor.walk().head
    floor.file.close()
    done = back_up_on_closing(DESK, CLOCK, place, tmp_path / "another")
    assert done.made
    assert done.sentence == (
        f"Copied to {tmp_path / 'another'} and read back: 0 orders, 3 records, record seal {seal[:16]}."
    )
    again = back_up_on_closing(DESK, CLOCK, place, tmp_path / "another")
    assert again.made is None
    assert again.sentence.startswith("No copy was made on closing. ")
    assert again.sentence.endswith("nothing is written over. Choose another name.")


def test_that_one_is_one_order_and_one_record() -> None:
    made_copy = MadeCopy(Path("c"), CLOCK.now(), Holds("id", "Mill", 4, 1, 1, Chain(1, "ab" * 32)))
    assert copy_words(made_copy) == f"Copied to c and read back: 1 order, 1 record, record seal {'ab' * 8}."


def test_that_a_restore_is_signed_into_the_file_that_is_put_in_place(place: Path, copy: Path, state: Path) -> None:
    asked = Asked(PHRASES["KEEP"])
    done = restore(DESK, CLOCK, Signs(state), asked, copy, place)
    assert asked.times == 1
    assert done.aside
    assert restored_words(place, done) == (
        f"{place} is restored: 0 orders and 3 records of the copy, and a record of the restore. "
        f"The copy lacks nothing that the present file holds. The file before is kept as {done.aside}."
    )
    floor = opened_floor(place, state)
    last = floor.file.last_envelope()
    assert last
    record = read_record(last.content)
    assert (last.number, record.kind, record.signer.person) == (4, RecordKind.RESTORE, "KEEP")
    [section] = record.sections
    told = {row.label: row.text for row in section.rows}
    assert told["Copy made"] == CLOCK.now().isoformat()
    assert told["Records in the file before"] == told["Records in the copy"] == "3"
    assert told["Record seal of the file before"] == told["Record seal of the copy"]
    assert floor.problems() == []
    floor.file.close()


def test_that_a_wrong_secret_restores_nothing_and_is_counted_on_this_machine(
    place: Path, copy: Path, state: Path
) -> None:
    before = place.read_bytes()
    with pytest.raises(Refusal, match="This is not the secret of Kit Eeper"):
        restore(DESK, CLOCK, Signs(state), Asked(WRONG), copy, place)
    with pytest.raises(Refusal, match=r"Wait \d+ second"):
        restore(DESK, CLOCK, Signs(state), Asked(WRONG), copy, place)
    assert place.read_bytes() == before
    assert not list(place.parent.glob("*kept aside*"))
    assert not list(place.parent.glob(".*part*"))


def test_that_wrong_secrets_at_a_restore_count_on_and_nobody_is_said_to_have_set_them_back(
    place: Path, copy: Path, state: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = StandingClock()
    signs = Signs(state, clock=clock)
    for wrong in (1, 2, 3):
        with pytest.raises(Refusal, match=f"Wrong tries in a row: {wrong} of 10") as refused:
            restore(DESK, CLOCK, signs, Asked(WRONG), copy, place)
        assert "set back" not in refused.value.sentence
        clock.move(600)
    # The control: without taking them over the copy would be said to be an old file that was copied over this one.
    with monkeypatch.context() as patch:
        patch.setattr("desktop.usecases.records.copies.sign_restore._take_tries_over", lambda _desk, _keeper: None)
        with pytest.raises(Refusal, match="was set back: this machine saw 3 in a row"):
            restore(DESK, CLOCK, signs, Asked(WRONG), copy, place)
    clock.move(600)
    restore(DESK, CLOCK, signs, Asked(PHRASES["KEEP"]), copy, place)
    floor = opened_floor(place, state, clock)
    with floor.file:
        assert key_events(floor.desk) == ()
        hand = floor.hand("KEEP")
        assert hand.notices == ()
        hand.key.close()


def test_that_a_machine_that_counts_nothing_restores_too(place: Path, copy: Path) -> None:
    assert restore(DESK, CLOCK, Signs(None), Asked(PHRASES["KEEP"]), copy, place).aside is not None


@pytest.mark.parametrize(
    ("named", "said"),
    [
        ("MECH", "does not keep the records"),
        ("DESK", "is not enrolled"),
        ("NOBODY", "is not on the roster"),
        ("", "Say which records keeper signs the restore: --by KEEP, --by ROLF."),
    ],
)
def test_that_nobody_but_a_records_keeper_restores(place: Path, copy: Path, state: Path, named: str, said: str) -> None:
    before = place.read_bytes()
    with pytest.raises(Refusal, match=said):
        restore(DESK, CLOCK, Signs(state, named), Asked(PHRASES["KEEP"]), copy, place)
    assert place.read_bytes() == before


def test_that_the_only_records_keeper_need_not_be_named_and_none_is_refused(tmp_path: Path, state: Path) -> None:
    floor = made_floor(tmp_path / "new.shop", state)
    place = floor.file.place
    bare = back_up(DESK, CLOCK, place, tmp_path / "bare").place
    with pytest.raises(Refusal, match="No records keeper is enrolled in this copy"):
        restore(DESK, CLOCK, Signs(state, ""), Asked("x"), bare, tmp_path / "other.shop")
    assert keeper_of(floor.enrol("KEEP").desk).id == "KEEP"
    floor.file.close()
    copy = back_up(DESK, CLOCK, place, tmp_path / "copy").place
    done = restore(DESK, CLOCK, Signs(state, ""), Asked(PHRASES["KEEP"]), copy, tmp_path / "third.shop")
    assert done.aside is None
    assert restored_words(tmp_path / "third.shop", done).endswith("The copy lacks nothing that the present file holds.")


def test_that_an_older_copy_is_told_and_taken_only_when_it_is_asked_for(place: Path, copy: Path, state: Path) -> None:
    floor = opened_floor(place, state)
    floor.sign()
    floor.file.close()
    asked = Asked(PHRASES["KEEP"])
    with pytest.raises(BadCopy) as refused:
        restore(DESK, CLOCK, Signs(state), asked, copy, place)
    assert refused.value.kind is Sabotage.OLDER
    assert refused.value.sentence == (
        f"{copy} is older than the present file: it lacks 1 record. "
        "Say --older to take it all the same; the present file is kept aside."
    )
    assert asked.times == 0
    done = restore(DESK, CLOCK, Signs(state), asked, copy, place, takes_older=True)
    assert "it lacks 1 record" in done.lacks


def test_that_a_copy_of_another_shop_is_refused_whatever_is_asked_for(copy: Path, tmp_path: Path, state: Path) -> None:
    other = tmp_path / "other.shop"
    made(other).close()
    before = other.read_bytes()
    with pytest.raises(BadCopy, match='is a copy of another shop, "Mill Shop"') as refused:
        restore(DESK, CLOCK, Signs(state), Asked(PHRASES["KEEP"]), copy, other, takes_older=True)
    assert refused.value.kind is Sabotage.OTHER_SHOP
    assert other.read_bytes() == before


def test_that_a_present_file_that_cannot_be_read_may_be_newer(place: Path, copy: Path, state: Path) -> None:
    place.write_bytes(b"no database" * 999)
    asked = Asked(PHRASES["KEEP"])
    with pytest.raises(BadCopy, match="may be older: the present file cannot be read") as refused:
        restore(DESK, CLOCK, Signs(state), asked, copy, place)
    assert refused.value.kind is Sabotage.UNKNOWN
    done = restore(DESK, CLOCK, Signs(state), asked, copy, place, takes_older=True)
    assert done.aside
    assert done.aside.read_bytes() == b"no database" * 999
    floor = opened_floor(place, state)
    last = floor.file.last_envelope()
    assert last
    told = {row.label: row.text for row in read_record(last.content).sections[0].rows}
    assert told["Records in the file before"] == "not known"
    floor.file.close()


@pytest.mark.parametrize("more_here", [1, 0])
def test_that_a_copy_that_went_another_way_is_told(
    place: Path, copy: Path, state: Path, tmp_path: Path, more_here: int
) -> None:
    with DESK.prepare(copy, tmp_path / "other.shop", lambda _done, _of: True, unsealed=False) as other:
        other.put_in_place(CLOCK.now())
    signs = {place: more_here + 1, tmp_path / "other.shop": 1}
    for one, times in signs.items():
        floor = opened_floor(one, state)
        for number in range(times):
            floor.clock.move(number + len(one.name))
            floor.sign()
        floor.file.close()
    parted = back_up(DESK, CLOCK, tmp_path / "other.shop", tmp_path / "parted").place
    with pytest.raises(BadCopy) as refused:
        restore(DESK, CLOCK, Signs(state), Asked(PHRASES["KEEP"]), parted, place)
    assert refused.value.kind is Sabotage.PARTED
    fewer = "1 record fewer" if more_here else "no fewer orders and records"
    assert f"went different ways: the copy has {fewer}, and others" in refused.value.sentence


def test_that_a_copy_whose_records_were_changed_is_refused(place: Path, tmp_path: Path) -> None:
    floor = opened_floor(place, None)
    db = floor.file._db  # noqa: SLF001 - as another program would
    db.execute("DROP TRIGGER envelope_stays")
    db.execute("UPDATE envelope SET digest = replace (digest, substr (digest, 1, 1), '0') WHERE number = 2")
    floor.file.close()
    with pytest.raises(Refusal, match=r"is not sound.*guard envelope_stays is missing"):
        back_up(DESK, CLOCK, place, tmp_path / "copy")
    assert not (tmp_path / "copy").exists()


def test_that_a_shop_whose_records_do_not_hold_is_not_copied(place: Path, tmp_path: Path) -> None:
    floor = opened_floor(place, None)
    db = floor.file._db  # noqa: SLF001 - as another program would
    db.execute("INSERT INTO envelope VALUES (4, 'void', x'00', 'a', 'b', 'c')")
    floor.file.close()
    with pytest.raises(Refusal, match=r"Record 4.*No copy was made"):
        back_up(DESK, CLOCK, place, tmp_path / "copy")
    assert not (tmp_path / "copy").exists()


def test_that_the_doctors_page_is_one_line_a_thing() -> None:
    lines = (Line(Word.OK, "pages", "sound"), Line(Word.LOOK, "newest copy", "none"))
    assert page(lines) == ("ok     pages        sound", "look   newest copy  none")
    assert page(()) == ()
    assert is_sound(lines[:1])
    assert not is_sound(lines)
    assert not is_sound((replace(lines[0], word=Word.WRONG),))


def test_that_a_stopped_copy_on_closing_is_said(place: Path, tmp_path: Path) -> None:
    done = back_up_on_closing(DESK, CLOCK, place, tmp_path / "copy", lambda _done, _of: False)
    assert (done.made, done.sentence.startswith("No copy was made on closing. Stopped.")) == (None, True)
