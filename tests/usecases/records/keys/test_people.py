"""People are enrolled, changed, given new keys and withdrawn, each by a record that the whole chain bears out."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from desktop.core.errors import NotReady
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.canonical import read_record
from desktop.core.shop.people.people import Right
from desktop.usecases.records.keys.people import change_person, enrol_again, enrol_person, replace_key, withdraw_person
from desktop.usecases.records.keys.people_records import declaration_of
from desktop.usecases.records.keys.secrets import UNLOCK, unlock_key
from desktop.usecases.records.keys.signing_desk import enrolled_as
from desktop.usecases.shop.ports import Answer, Request
from tests.usecases.records.signing_floor import OTHER_PHRASE, PEOPLE, PHRASES, WRONG, SigningFloor, refused


def test_that_the_first_person_enrols_themselves_and_a_declaration_can_be_printed(new_floor: SigningFloor) -> None:
    answer = enrol_person(new_floor.desk, new_floor.by("KEEP"), "KEEP", PHRASES["KEEP"])
    assert (answer.key, answer.version) == ("KEEP", 1)
    assert new_floor.problems() == []
    envelope = new_floor.file.last_envelope()
    assert envelope is not None
    record = read_record(envelope.content)
    assert (record.kind, record.signer.person, record.countersigners) == (RecordKind.PERSON_ENROLLED, "KEEP", ())
    paper = declaration_of(envelope)
    assert paper is not None
    assert (paper.person.name, paper.number, paper.shop_name, paper.vouched_by) == ("Kit Eeper", 1, "Mill Shop", ())
    assert paper.key == envelope.signatures[0].public_key.hex()
    assert envelope.digest.startswith(paper.seal)
    assert any(paper.key in line for line in paper.said)
    assert len(paper.statements) == 4


@pytest.mark.parametrize(("asks", "person"), [("ROLF", "KEEP"), ("DESK", "DESK")])
def test_that_nobody_but_a_records_keeper_is_the_first_and_nobody_enrols_them(
    new_floor: SigningFloor, asks: str, person: str
) -> None:
    words = refused(lambda: enrol_person(new_floor.desk, new_floor.by(asks), person, PHRASES[person], WRONG))
    assert "enrols themselves" in words
    assert new_floor.file.last_envelope() is None


def test_that_a_records_keeper_enrols_and_the_new_key_signs_the_same_record(floor: SigningFloor) -> None:
    before = floor.walk().count
    answer = enrol_person(floor.desk, floor.by("ROLF"), "DESK", PHRASES["DESK"], PHRASES["ROLF"])
    envelope = floor.file.last_envelope()
    assert envelope is not None
    assert (answer.version, envelope.number) == (before + 1, before + 1)
    assert [one.person for one in envelope.signatures] == ["ROLF", "DESK"]
    paper = declaration_of(envelope)
    assert paper is not None
    assert (paper.person, paper.vouched_by) == (PEOPLE[3], ("Rolf Ecord",))
    assert floor.problems() == []
    floor.hand("DESK")


def test_that_only_an_enrolment_with_a_key_has_a_declaration(floor: SigningFloor) -> None:
    assert declaration_of(floor.sign()) is None
    floor.change("MECH", ratings="powerplant")
    enrol_again(floor.desk, floor.by("KEEP"), "MECH", PHRASES["KEEP"])
    envelope = floor.file.last_envelope()
    assert envelope is not None
    assert declaration_of(envelope) is None


def test_that_a_bad_secret_is_refused_before_anything_is_asked_or_kept(floor: SigningFloor) -> None:
    before = floor.walk().count
    for secret in ("short", "password2031", "Dora Esk", "millshop", "desk1234"):
        with pytest.raises(NotReady):
            enrol_person(floor.desk, floor.by("KEEP"), "DESK", secret, PHRASES["KEEP"])
        with pytest.raises(NotReady):
            replace_key(floor.desk, floor.by("KEEP"), "DESK", secret, PHRASES["KEEP"])
    assert floor.walk().count == before


@pytest.mark.parametrize(
    ("asks", "person", "words"),
    [
        ("KEEP", "MECH", "Mel Chan is enrolled already"),
        ("MECH", "DESK", "Mel Chan does not keep the records"),
        ("DESK", "DESK", "Dora Esk is not enrolled to sign"),
        ("KEEP", "NOBODY", "not on the roster"),
        ("NOBODY", "DESK", "not on the roster"),
    ],
)
def test_that_an_enrolment_that_may_not_be_leaves_nothing(
    floor: SigningFloor, asks: str, person: str, words: str
) -> None:
    before = floor.walk().count
    secret = PHRASES.get(asks, WRONG)
    assert words in refused(lambda: enrol_person(floor.desk, floor.by(asks), person, OTHER_PHRASE, secret))
    assert floor.walk().count == before


def test_that_a_wrong_secret_of_the_records_keeper_enrols_nobody(floor: SigningFloor) -> None:
    words = refused(lambda: enrol_person(floor.desk, floor.by("KEEP"), "DESK", PHRASES["DESK"], WRONG))
    assert "not the secret of Kit Eeper" in words
    assert "Dora Esk is not enrolled" in refused(lambda: floor.hand("DESK"))


def test_that_a_text_that_cannot_be_signed_as_it_stands_is_corrected_first(floor: SigningFloor) -> None:
    with floor.file.changing() as work:
        work.put_person(replace(PEOPLE[3], name="Dora Esk "))
    words = refused(lambda: enrol_person(floor.desk, floor.by("KEEP"), "DESK", PHRASES["DESK"], PHRASES["KEEP"]))
    assert words.startswith("Name of DESK holds a space")


def test_that_a_change_on_the_roster_is_signed_before_its_person_signs(floor: SigningFloor) -> None:
    old = floor.sign()
    floor.change("MECH", certificate_number="9876", rights=(Right.MECHANIC, Right.INSPECTOR))
    words = refused(floor.sign)
    assert "was changed since a records keeper signed it" in words
    enrol_again(floor.desk, floor.by("KEEP"), "MECH", PHRASES["KEEP"])
    new = floor.sign()
    assert read_record(old.content).signer.certificate_number == "1234"
    assert read_record(new.content).signer.certificate_number == "9876"
    assert floor.problems() == []
    assert "is signed already" in refused(lambda: enrol_again(floor.desk, floor.by("KEEP"), "MECH", PHRASES["KEEP"]))


def test_that_a_records_keeper_signs_what_changed_about_themselves_as_they_were(floor: SigningFloor) -> None:
    floor.change("KEEP", ratings="none")
    enrol_again(floor.desk, floor.by("KEEP"), "KEEP", PHRASES["KEEP"])
    assert floor.problems() == []


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"rights": (Right.INSPECTOR,)}, "does not keep the records"),
        ({"until": date(2031, 3, 3)}, "is not with the shop"),
    ],
)
def test_that_the_last_records_keeper_does_not_sign_their_own_end(
    floor: SigningFloor, change: dict[str, object], words: str
) -> None:
    withdraw_person(floor.desk, floor.by("ROLF"), "KEEP", "left the shop", PHRASES["ROLF"])
    floor.change("ROLF", **change)  # the roster still counts KEEP, who can no longer sign
    assert words in refused(lambda: enrol_again(floor.desk, floor.by("ROLF"), "ROLF", PHRASES["ROLF"]))
    assert floor.problems() == []


def test_that_a_change_of_somebody_enrolled_is_kept_and_signed_at_once(floor: SigningFloor) -> None:
    person = floor.on_roster("MECH")
    leaves = replace(person, until=date(2031, 6, 1))
    request = floor.by("KEEP", person.version)
    answer = change_person(floor.desk, request, leaves, PHRASES["KEEP"])
    assert change_person(floor.desk, request, leaves, PHRASES["KEEP"]) == answer
    assert floor.on_roster("MECH").until == date(2031, 6, 1)
    assert enrolled_as(floor.desk, "MECH").person.until == date(2031, 6, 1)  # type: ignore[union-attr]
    assert floor.problems() == []
    floor.sign("MECH")
    assert enrolled_as(floor.desk, "NOBODY") is None


@pytest.mark.parametrize(
    ("who", "change", "words"),
    [
        ("MECH", {}, "is signed already"),
        ("MECH", {"name": "Mel Chan "}, "holds a space"),
        ("ROLF", {"rights": (Right.INSPECTOR,)}, "does not keep the records"),
        ("ROLF", {"until": date(2031, 3, 3)}, "is not with the shop"),
    ],
)
def test_that_a_change_that_may_not_be_signed_is_not_kept_either(
    floor: SigningFloor, who: str, change: dict[str, object], words: str
) -> None:
    person = floor.on_roster(who)
    asker = "ROLF" if who == "ROLF" else "KEEP"
    changed = replace(person, **change)  # type: ignore[arg-type]
    request = floor.by(asker, person.version)
    assert words in refused(lambda: change_person(floor.desk, request, changed, PHRASES[asker]))
    assert floor.on_roster(who) == person
    assert "secret" in refused(
        lambda: change_person(floor.desk, floor.by("KEEP", person.version), changed, "wrong one")
    )
    assert floor.on_roster(who) == person


def test_that_the_last_records_keeper_is_not_withdrawn(floor: SigningFloor) -> None:
    withdraw_person(floor.desk, floor.by("KEEP"), "ROLF", "left the shop", PHRASES["KEEP"])
    words = refused(lambda: withdraw_person(floor.desk, floor.by("KEEP"), "KEEP", "tired", PHRASES["KEEP"]))
    assert "would be left to keep the records" in words
    floor.hand("KEEP")


def test_that_somebody_withdrawn_signs_no_more_and_what_they_signed_stands(floor: SigningFloor) -> None:
    old = floor.sign()
    answer = withdraw_person(floor.desk, floor.by("KEEP"), "MECH", "lost the secret\nand left", PHRASES["KEEP"])
    assert answer.version == old.number + 1
    assert "was withdrawn and signs no more" in refused(floor.sign)
    assert floor.problems() == []
    envelope = floor.file.last_envelope()
    assert envelope is not None
    rows = read_record(envelope.content).sections[1].rows
    assert [(row.label, row.text) for row in rows] == [
        ("Reason", "lost the secret"),
        ("Reason, continued", "and left"),
    ]
    words = refused(lambda: withdraw_person(floor.desk, floor.by("KEEP"), "MECH", "again", PHRASES["KEEP"]))
    assert "was withdrawn" in words
    enrol_person(floor.desk, floor.by("KEEP"), "MECH", OTHER_PHRASE, PHRASES["KEEP"])
    floor.sign("MECH", OTHER_PHRASE)
    assert floor.problems() == []
    assert "not the secret" in refused(floor.sign)


@pytest.mark.parametrize(
    ("reason", "words"), [(" \n", "no reason"), ("x" * 2001, "2000 is the most"), ("a\u202eb", "U+202E")]
)
def test_that_a_withdrawal_says_why(floor: SigningFloor, reason: str, words: str) -> None:
    assert words in refused(lambda: withdraw_person(floor.desk, floor.by("KEEP"), "MECH", reason, PHRASES["KEEP"]))


def test_that_a_new_secret_is_a_new_key_that_a_records_keeper_countersigns(floor: SigningFloor) -> None:
    old = floor.sign()
    replace_key(floor.desk, floor.by("KEEP"), "MECH", OTHER_PHRASE, PHRASES["KEEP"])
    envelope = floor.file.last_envelope()
    assert envelope is not None
    record = read_record(envelope.content)
    assert (record.kind, [one.person for one in envelope.signatures]) == (RecordKind.KEY_REPLACED, ["KEEP", "MECH"])
    assert old.signatures[0].public_key.hex() in [row.text for row in record.sections[0].rows]
    assert "not the secret" in refused(floor.sign)
    floor.clock.move(60)
    new = floor.sign("MECH", OTHER_PHRASE)
    assert new.signatures[0].public_key != old.signatures[0].public_key
    assert floor.problems() == []


def test_that_a_key_is_not_replaced_alone_while_another_records_keeper_is_there(floor: SigningFloor) -> None:
    for person in ("KEEP", "MECH"):
        words = refused(
            lambda who=person: replace_key(floor.desk, floor.by(who), who, OTHER_PHRASE, PHRASES[who])  # type: ignore[misc]
        )
        assert "Another records keeper does this" in words
    words = refused(lambda: replace_key(floor.desk, floor.by("MECH"), "DESK", OTHER_PHRASE, PHRASES["MECH"]))
    assert "does not keep the records" in words


def test_that_the_only_records_keeper_replaces_their_key_with_the_old_secret(new_floor: SigningFloor) -> None:
    new_floor.enrol("KEEP")
    words = refused(lambda: replace_key(new_floor.desk, new_floor.by("KEEP"), "KEEP", OTHER_PHRASE, WRONG))
    assert "not the secret" in words
    new_floor.clock.move(60)
    replace_key(new_floor.desk, new_floor.by("KEEP"), "KEEP", OTHER_PHRASE, PHRASES["KEEP"])
    assert "not the secret" in refused(lambda: new_floor.hand("KEEP"))
    new_floor.clock.move(60)
    new_floor.hand("KEEP", OTHER_PHRASE)
    assert new_floor.problems() == []


def test_that_a_second_records_keeper_who_came_meanwhile_has_to_countersign(floor: SigningFloor) -> None:
    withdraw_person(floor.desk, floor.by("KEEP"), "ROLF", "on leave", PHRASES["KEEP"])

    class Slow(type(floor.desk.locksmith)):  # type: ignore[misc]
        """Makes a key while ROLF comes back in another window."""

        def new_key(self, *given: object) -> object:
            key = super().new_key(*given)
            enrol_person(floor.desk, floor.by("KEEP"), "ROLF", PHRASES["ROLF"], PHRASES["KEEP"])
            return key

    desk = replace(floor.desk, locksmith=Slow())
    words = refused(lambda: replace_key(desk, floor.by("KEEP"), "KEEP", OTHER_PHRASE, PHRASES["KEEP"]))
    assert "Another records keeper does this" in words
    floor.hand("KEEP")
    assert floor.problems() == []


def test_that_a_repeated_request_does_nothing_twice(floor: SigningFloor) -> None:
    floor.change("MECH", ratings="powerplant")
    desk, keep = floor.desk, PHRASES["KEEP"]
    verbs: tuple[Callable[[Request], Answer], ...] = (
        lambda request: enrol_person(desk, request, "DESK", PHRASES["DESK"], keep),
        lambda request: enrol_again(desk, request, "MECH", keep),
        lambda request: replace_key(desk, request, "MECH", OTHER_PHRASE, keep),
        lambda request: withdraw_person(desk, request, "MECH", "left", keep),
    )
    for verb in verbs:
        request = floor.by("KEEP")
        answer = verb(request)
        count = floor.walk().count
        assert (verb(request), floor.walk().count) == (answer, count)
    request = floor.by("KEEP")
    withdraw_person(desk, request, "DESK", "left", keep)
    with pytest.raises(ValueError, match="one request id for two things"):
        enrol_again(desk, request, "DESK", keep)
    with pytest.raises(ValueError, match=UNLOCK):
        unlock_key(desk, request, "DESK", keep)


def test_that_two_windows_with_one_request_enrol_once(floor: SigningFloor) -> None:
    request = floor.by("KEEP")

    class Slow(type(floor.desk.locksmith)):  # type: ignore[misc]
        """Makes a key while the other window finishes the same request."""

        def new_key(self, *given: object) -> object:
            key = super().new_key(*given)
            enrol_person(floor.desk, request, "DESK", PHRASES["DESK"], PHRASES["KEEP"])
            return key

    desk = replace(floor.desk, locksmith=Slow())
    answer = enrol_person(desk, request, "DESK", PHRASES["DESK"], PHRASES["KEEP"])
    assert answer.version == floor.walk().count
    assert floor.problems() == []


def test_that_rights_hold_by_date(floor: SigningFloor) -> None:
    floor.change("MECH", until=date(2031, 3, 4))
    enrol_again(floor.desk, floor.by("KEEP"), "MECH", PHRASES["KEEP"])
    floor.sign()
    floor.clock.move(86400)
    assert "is not with the shop on 2031-03-05" in refused(floor.sign)
    assert floor.problems() == []
