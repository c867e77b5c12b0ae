"""An act is signed exactly as it was shown, after every rule was run again, and moves the order in the same step."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from desktop import shop_assembly
from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.records.entry.entry_parts import EntryKind
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.canonical import read_record
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.shop.people.people import Right
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.keys import secrets
from desktop.usecases.records.keys.people import enrol_person
from desktop.usecases.records.signing import signed_acts
from desktop.usecases.shop.cards.confirm_step import confirm_step
from desktop.usecases.shop.cards.submit_card import return_card, submit_card
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.orders.close_order import close_order
from desktop.usecases.shop.orders.discrepancies import add_discrepancy
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.orders.void_order import void_order
from tests.storage.file_floor import QUIET, TEXT
from tests.usecases.records.acting_floor import PEOPLE, PHRASES, ActingFloor

SUBMIT, ACCEPT, RETURN = RecordKind.CARD_SUBMITTED, RecordKind.CARD_ACCEPTED, RecordKind.CARD_RETURNED


@pytest.fixture
def floor(tmp_path: Path) -> Iterator[ActingFloor]:
    with new_shop(tmp_path / "trial.shop", "Trial Works", TEXT, QUIET) as file:
        yield ActingFloor(file, tmp_path / "state").staffed().filled()


def test_that_a_job_is_signed_from_the_submission_to_the_approval_and_closed(floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    assert floor.order().state is OrderState.FOR_INSPECTION
    floor.act("ROLF", RETURN, "Read the left magneto once more.")
    assert floor.order().state is OrderState.IN_WORK
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", ACCEPT)
    assert floor.order().state is OrderState.ACCEPTED
    floor.act("ROLF", RecordKind.APPROVED)
    assert floor.order().state is OrderState.APPROVED
    close_order(floor.shop, floor.on("DESK"), 1)
    assert floor.order().state is OrderState.CLOSED
    records = [read_record(envelope.content) for envelope in floor.file.envelopes_about(1)]
    assert [record.kind for record in records] == [SUBMIT, RETURN, SUBMIT, ACCEPT, RecordKind.APPROVED]
    assert [len(record.about) for record in records] == [0, 1, 0, 1, 1]
    floor.file.close()
    checked = shop_assembly.check_shop(floor.file.place)
    assert checked.problems == ()


def test_that_the_confirmation_text_is_what_is_sealed(floor: ActingFloor) -> None:
    proposal = floor.propose("MECH", SUBMIT)
    assert any(line.startswith("  Left magneto, approach 3, light (degrees as marked): 338") for line in proposal.lines)
    floor.sign_shown(proposal)
    (envelope,) = floor.file.envelopes_about(1)
    assert read_record(envelope.content) == proposal.record


def test_that_nothing_is_signed_that_was_changed_after_it_was_shown(floor: ActingFloor) -> None:
    proposal = floor.propose("MECH", SUBMIT)
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].light", "338.5"))
    with pytest.raises(ChangedElsewhere, match="338"):
        floor.sign_shown(proposal)
    assert floor.file.envelopes_about(1) == ()
    assert floor.order().state is OrderState.IN_WORK


def test_that_a_record_that_would_read_otherwise_now_is_not_signed(
    floor: ActingFloor, monkeypatch: pytest.MonkeyPatch
) -> None:
    proposal = floor.propose("MECH", SUBMIT)
    other = replace(proposal, record=replace(proposal.record, shop_name="Another Shop"))
    with pytest.raises(Refusal, match="not what would be signed now"):
        floor.sign_shown(other)
    monkeypatch.setattr(signed_acts, "SHOWN_FOR", signed_acts.SHOWN_FOR * 0)
    floor.clock.move(60)
    with pytest.raises(Refusal, match="too long ago"):
        floor.sign_shown(proposal)


def test_that_one_request_signs_once(floor: ActingFloor) -> None:
    proposal = floor.propose("MECH", SUBMIT)
    first = signed_acts.sign_act(floor.desk, floor.file, "once", proposal, PHRASES["MECH"])
    assert signed_acts.sign_act(floor.desk, floor.file, "once", proposal, PHRASES["MECH"]) == first
    assert len(floor.file.envelopes_about(1)) == 1


def test_that_a_wrong_secret_signs_nothing(floor: ActingFloor) -> None:
    proposal = floor.propose("MECH", SUBMIT)
    with pytest.raises(Refusal, match="secret"):
        floor.sign_shown(proposal, "not the secret at all")
    assert floor.order().state is OrderState.IN_WORK


def test_that_what_stands_against_a_card_is_looked_at_again(floor: ActingFloor) -> None:
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].light", "330"))
    with pytest.raises(NotReady, match="left magneto is"):
        floor.propose("MECH", SUBMIT)


def test_that_nobody_accepts_their_own_work(floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    with pytest.raises(Refusal, match="nobody inspects their own work"):
        floor.propose("MECH", ACCEPT)


def test_that_nobody_signs_for_work_of_which_none_is_theirs(floor: ActingFloor) -> None:
    keep_person(floor.shop, floor.by("KEEP"), replace(PEOPLE[1], id="ALSO", name="Al Sorel"))
    enrol_person(floor.desk, floor.by("KEEP"), "ALSO", "a phrase of many other words", PHRASES["KEEP"])
    with pytest.raises(Refusal, match=r"This card was filled by Mel Chan \(MECH\), and none of its work is yours"):
        floor.propose("ALSO", SUBMIT)
    confirm_step(floor.shop, floor.on("ALSO"), 1, 1, "switch-off")
    floor.sign_shown(floor.propose("ALSO", SUBMIT), "a phrase of many other words")
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_a_shop_that_signs_makes_no_such_move_without(floor: ActingFloor) -> None:
    with pytest.raises(Refusal, match="signs its records"):
        submit_card(floor.shop, floor.on("MECH"), 1, 1)
    with pytest.raises(Refusal, match="signs its records"):
        void_order(floor.shop, floor.on("DESK"), 1, "opened twice")
    floor.act("MECH", SUBMIT)
    with pytest.raises(Refusal, match="signs its records"):
        return_card(floor.shop, floor.on("ROLF"), 1, 1, "Read it again.")


def test_that_an_approval_is_stopped_by_what_is_open_on_the_order(floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", ACCEPT)
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUGS, is_normal=False)
    with pytest.raises(NotReady, match="plugs: out"):
        floor.propose("ROLF", RecordKind.APPROVED)


def test_that_an_order_is_not_approved_with_its_list_though_a_finding_stops(floor: ActingFloor) -> None:
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].light", "330"))
    add_discrepancy(floor.shop, floor.on("MECH"), 1, "The left clamp is cracked.")
    proposal = floor.propose("ROLF", RecordKind.NOT_APPROVED, "The left magneto cannot be set.")
    text = "\n".join(proposal.lines)
    assert "The left clamp is cracked." in text
    assert "The left magneto is" in text
    floor.sign_shown(proposal)
    assert floor.order().state is OrderState.NOT_APPROVED
    floor.file.close()
    assert shop_assembly.check_shop(floor.file.place).problems == ()


def test_that_an_inspection_needs_its_statement(floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", ACCEPT)
    with pytest.raises(NotReady, match="The maintenance entry lacks: "):
        floor.propose("ROLF", RecordKind.APPROVED, entry_kind=EntryKind.INSPECTION)
    entry = floor.propose("ROLF", RecordKind.APPROVED).entry
    assert entry is not None
    wording = replace(entry.wording, work="Both magnetos timed to the engine by M-360, revision 9.")
    proposal = floor.propose("ROLF", RecordKind.APPROVED, wording=wording)
    assert any("Both magnetos timed to the engine by M-360" in line for line in proposal.lines)


def test_that_an_order_is_voided_by_a_signature(floor: ActingFloor) -> None:
    floor.act("DESK", RecordKind.VOID, "It was opened twice.")
    assert floor.order().state is OrderState.VOID
    (envelope,) = floor.file.envelopes_about(1)
    assert envelope.kind == "void"


def test_that_a_shop_of_one_person_rechecks_its_own_work_with_a_reason(tmp_path: Path) -> None:
    alone = replace(PEOPLE[1], id="KEEP", rights=tuple(Right)[:5])
    with new_shop(tmp_path / "alone.shop", "Alone", TEXT, QUIET) as file:
        floor = ActingFloor(file, tmp_path / "state").alone(alone)
        floor.act("KEEP", SUBMIT)
        with pytest.raises(Refusal, match="Write the reason, in a sentence"):
            floor.propose("KEEP", ACCEPT)
        floor.act("KEEP", ACCEPT, "Nobody else is with the shop.")
        assert floor.order().state is OrderState.ACCEPTED


def test_that_the_same_request_from_two_windows_at_once_signs_once(
    floor: ActingFloor, monkeypatch: pytest.MonkeyPatch
) -> None:
    proposal = floor.propose("MECH", SUBMIT)
    plain = secrets.hand_of

    def meanwhile(*asked: object) -> object:
        monkeypatch.setattr(signed_acts, "hand_of", plain)
        signed_acts.sign_act(floor.desk, floor.file, "once", proposal, PHRASES["MECH"])
        return plain(*asked)  # type: ignore[arg-type]  # as it was asked

    monkeypatch.setattr(signed_acts, "hand_of", meanwhile)
    signed_acts.sign_act(floor.desk, floor.file, "once", proposal, PHRASES["MECH"])
    assert len(floor.file.envelopes_about(1)) == 1


def test_that_a_disk_that_fails_while_a_try_is_counted_says_that_nothing_was_signed(
    floor: ActingFloor, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_work: object) -> None:
        raise Refusal("The disk failed. What you just entered was kept. Look at it as it is now.")

    monkeypatch.setattr(floor.file, "_commit", fails)
    with pytest.raises(Refusal, match="nothing was signed"):
        secrets.hand_of(floor.desk, "MECH", PHRASES["MECH"])
