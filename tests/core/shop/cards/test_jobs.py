"""Jobs: what the cards of an order say to one another, and what a job worked from first to last does and leaves."""

from itertools import pairwise

import pytest

from desktop.core.shop.cards.jobs import OFF_THE_ENGINE, ON_THE_AIRCRAFT, Job, facts_among
from desktop.core.shop.cards.task_card import ELSEWHERE, FACTS, Step
from desktop.core.shop.orders.safe_state import BOARD_WORDS, SafeItem
from tests.core.shop.cards.variants import CARDS, ENGINE_JOBS, JOBS, cards_of, ids_of, job_steps

ON_AIRCRAFT = [job for job in JOBS if job.where == ON_THE_AIRCRAFT]
ONCE = (
    *("switch-off", "key-given", "battery-off", "fuel-off", "wheels-chocked", "starter-disabled"),
    *("leads-off", "plugs-out", "pins-out", "plugs-in", "leads-on", "leads-traced", "tools-counted"),
    *("starter-normal", "battery-normal", "fuel-normal", "run-up", "security", "as-found-left", "as-found-right"),
)
"""Steps that a job has at most once, whatever cards it is made of."""
BEGINNINGS = {
    "S1": {"logs-seen"},
    "R1": {"fit-to-run"},
    "R2": {"board-normal"},
    "C1": {"board-for-closing"},
    "H1": {"board-for-leads"},
    "B2": {"off-the-engine"},
}


def _job(job_id: str) -> Job:
    return next(job for job in JOBS if job.id == job_id)


def _all_steps(job: Job, facts: frozenset[str]) -> list[Step]:
    return [step for _, steps in cards_of(job, facts) for step in steps]


@pytest.mark.parametrize(
    ("card", "cards", "where", "expected"),
    [
        ("T4", ("T4",), ON_THE_AIRCRAFT, set()),
        ("T4", ("S1", "T4"), ON_THE_AIRCRAFT, {"safe elsewhere"}),
        ("T4", ("T4", "S1"), ON_THE_AIRCRAFT, set()),
        ("T4", ("T3", "T4"), ON_THE_AIRCRAFT, {"found elsewhere"}),
        ("T4", ("T4", "T3"), ON_THE_AIRCRAFT, set()),
        ("T4", ("B1", "T4"), ON_THE_AIRCRAFT, {"removed"}),
        ("T4", ("T4", "P1"), ON_THE_AIRCRAFT, {"plugs elsewhere"}),
        ("T4", ("T4", "H1"), ON_THE_AIRCRAFT, {"leads elsewhere"}),
        ("T4", ("C1", "T4"), ON_THE_AIRCRAFT, {"closed elsewhere"}),
        ("T4", ("T4", "R2"), ON_THE_AIRCRAFT, {"run-up elsewhere"}),
        ("S1", ("S1", "T4"), ON_THE_AIRCRAFT, set()),
        ("P1", ("P1", "H1"), ON_THE_AIRCRAFT, {"leads elsewhere"}),
        ("C1", ("C1", "R2"), ON_THE_AIRCRAFT, {"run-up elsewhere"}),
        ("B1", ("B1", "B2"), ON_THE_AIRCRAFT, set()),
        ("B2", ("B1", "B2"), ON_THE_AIRCRAFT, {"removed"}),
        ("B1", ("B1", "B2"), OFF_THE_ENGINE, {"removed"}),
    ],
)
def test_that_the_cards_of_an_order_say_what_they_do_to_one_another(
    card: str, cards: tuple[str, ...], where: str, expected: set[str]
) -> None:
    assert facts_among(card, cards, where) == expected


def test_that_a_card_that_is_not_of_the_order_is_a_mistake() -> None:
    with pytest.raises(ValueError, match="T9"):
        facts_among("T9", ("S1", "T4"))


def test_that_whatever_is_said_is_a_fact_that_the_cards_know() -> None:
    cards = ("S1", "T3", "B1", "T4", "P1", "H1", "C1", "R2")
    assert facts_among("T4", cards) == {*ELSEWHERE, "removed"}
    assert {*ELSEWHERE, "removed"} <= {name for name, _ in FACTS}


def test_that_the_jobs_are_those_of_the_trade_with_their_cards() -> None:
    assert [job.id for job in JOBS] == [
        "replace-magneto",
        "periodic-timing",
        "off-engine-inspection",
        "suspected-slip",
    ]
    assert {card_id for job in JOBS for card_id in job.cards} == set(CARDS) - {"T5"}
    assert [job.id for job in JOBS if job.tag] == ["off-engine-inspection"]
    assert [job.id for job in JOBS if job.run_up_due] == [job.id for job in ON_AIRCRAFT]


@pytest.mark.parametrize("job", ON_AIRCRAFT, ids=lambda job: job.id)
def test_that_no_card_of_a_job_repeats_what_another_does(job: Job) -> None:
    for facts in ENGINE_JOBS:
        ids = ids_of(tuple(_all_steps(job, facts)))
        assert [step_id for step_id in ONCE if ids.count(step_id) > 1] == []
        for side in ("left", "right"):
            assert ids.count(f"as-found-{side}") == (1 if side in facts else 0)
            assert ids.count(f"as-left-{side}") == (1 if side in facts else 0)


@pytest.mark.parametrize("job", ON_AIRCRAFT, ids=lambda job: job.id)
def test_that_a_job_makes_safe_once_closes_up_once_and_ends_with_its_run_up(job: Job) -> None:
    for facts in ENGINE_JOBS:
        ids = ids_of(tuple(_all_steps(job, facts)))
        order = ["switch-off", "leads-off", "plugs-out", "compression", "plugs-in", "leads-on", "leads-traced"]
        order += ["tools-counted", "starter-normal", "battery-normal", "run-up", "security", "cowling-closed"]
        places = [ids.index(step_id) for step_id in order]
        assert places == sorted(places)


@pytest.mark.parametrize("job", ON_AIRCRAFT, ids=lambda job: job.id)
def test_that_a_job_worked_to_its_end_leaves_everything_on_the_board_as_it_flies(job: Job) -> None:
    for facts in ENGINE_JOBS:
        board = dict.fromkeys(SafeItem, True)
        for step in _all_steps(job, facts):
            if step.board:
                item, is_normal = BOARD_WORDS[step.board]
                board[item] = is_normal
        assert all(board.values()), (job.id, facts, board)


@pytest.mark.parametrize("job", ON_AIRCRAFT, ids=lambda job: job.id)
def test_that_the_run_up_is_never_made_with_something_not_normal(job: Job) -> None:
    for facts in ENGINE_JOBS:
        board = dict.fromkeys(SafeItem, True)
        for step in _all_steps(job, facts):
            if step.capture in {"run-up", "run-up as found"}:
                assert all(board.values())
            if step.board:
                item, is_normal = BOARD_WORDS[step.board]
                board[item] = is_normal


@pytest.mark.parametrize("card_id", sorted(CARDS))
def test_that_each_card_worked_alone_leaves_the_board_normal_or_hands_a_magneto_on(card_id: str) -> None:
    handed_on = {"B1", "S1"}
    for facts in ENGINE_JOBS:
        board = dict.fromkeys(SafeItem, True)
        for step in job_steps(facts, card_id):
            if step.board:
                item, is_normal = BOARD_WORDS[step.board]
                board[item] = is_normal
        assert all(board.values()) or card_id in handed_on, (card_id, board)


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job.id)
def test_that_each_card_of_a_job_begins_by_seeing_how_the_aircraft_stands(job: Job) -> None:
    ready = {"engine-placed", "data-current", "tools-ready", "tag-read"}
    for facts in ENGINE_JOBS:
        for card_id, steps in cards_of(job, facts):
            first = next(step.id for step in steps if step.id not in ready)
            if card_id == "B1" and job.where == OFF_THE_ENGINE:
                continue
            assert first in BEGINNINGS.get(card_id, {"board-safe", "switch-off"}), (card_id, first)


def test_that_on_a_twin_the_engine_or_the_magneto_is_named_before_anything_is_touched() -> None:
    for facts in ENGINE_JOBS:
        for job in JOBS:
            for card_id, steps in cards_of(job, facts):
                named = {"engine-placed", "tag-read"} & {step.id for step in steps[:3]}
                assert bool(named) is ("twin" in facts), (job.id, card_id)


def test_that_a_magneto_that_came_by_itself_is_not_taken_off_an_engine() -> None:
    job = _job("off-engine-inspection")
    for facts in ENGINE_JOBS:
        ids = ids_of(tuple(_all_steps(job, facts)))
        assert not {one for one in ids if one.startswith(("magneto-off", "switch-", "board-safe", "run-up"))}


def test_that_one_housing_is_taken_off_once_and_each_of_its_breakers_is_read() -> None:
    facts = frozenset({"left", "right", "both", "one housing", "retard breaker"})
    ids = ids_of(job_steps(facts, "B1"))
    assert [one for one in ids if one.startswith("magneto-off")] == ["magneto-off-housing"]
    assert [one for one in ids if one.startswith("e-gap")] == ["e-gap-left", "e-gap-right"]
    assert ids.index("distributor-right") < ids.index("breakers-together") < ids.index("inside-seen-housing")
    apart = ids_of(job_steps(facts - {"one housing"}, "B1"))
    assert "breakers-together" not in apart
    assert apart.index("distributor-left") < apart.index("plate-fits-right") < apart.index("inside-seen-left")


def test_that_a_pin_or_a_loose_magneto_of_one_side_is_seen_to_before_the_other_side_begins() -> None:
    facts = frozenset({"left", "right", "both"})
    said = [step.board for step in job_steps(facts, "I1") if step.board.startswith(("rotor pin", "magneto"))]
    assert said == ["rotor pin in", "magneto loose", "rotor pin out", "magneto tight"] * 2


def test_that_coupling_steps_stand_for_the_magneto_that_has_one() -> None:
    ids = ids_of(job_steps(frozenset({"left", "right", "both", "impulse", "right impulse"}), "B2"))
    assert [one for one in ids if one.startswith("coupling-lag")] == ["coupling-lag-right"]
    assert [one for one in ids if one.startswith("drive-nut-locked")] == [
        "drive-nut-locked-left",
        "drive-nut-locked-right",
    ]
    housing = ids_of(job_steps(frozenset({"left", "right", "both", "one housing", "impulse", "left impulse"}), "B2"))
    assert [one for one in housing if one.startswith("coupling-lag")] == ["coupling-lag-housing"]


def test_that_the_switch_is_measured_at_each_of_its_places_before_any_start() -> None:
    for facts in ENGINE_JOBS:
        for job in ON_AIRCRAFT:
            ids = ids_of(tuple(_all_steps(job, facts)))
            places = [
                ids.index(one) for one in ("at-off", "at-left", "at-right", "at-both", "starter-normal", "run-up")
            ]
            assert places == sorted(places)
            assert ("at-start" in ids) is ("retard breaker" in facts)


def test_that_a_second_person_sees_what_one_person_takes_for_granted() -> None:
    seconds = {step.id for card in CARDS.values() for step in card.steps if step.second}
    assert seconds == {
        *("leads-traced", "position-seen", "crank-stands", "bay-seen", "cowling-seen"),
        *(f"inside-seen-{one}" for one in ("left", "right", "housing")),
    }
    for card_id, card in CARDS.items():
        for facts in ENGINE_JOBS[::7]:
            steps = job_steps(facts, card_id)
            for before, step in pairwise(steps):
                assert not step.second or before.initials, (card.id, step.id)
