"""What the steps themselves must say and where they must stand, so that nobody is hurt and nothing is broken."""

import re

import pytest

from desktop.core.shop.cards.task_card import BoxKind, Step
from desktop.core.shop.orders.safe_state import BOARD_WORDS, SafeItem
from tests.core.shop.cards.variants import AROUND, CARD, READINGS, VARIANTS, ids_of, job_steps, said

BY_ID = {step.id: step for step in CARD.steps}
LATER_APPROACHES = (
    "setting-left",
    "setting-right",
    "setting-right-housing",
    "as-left-left",
    "as-left-right",
    "synchronisation",
)
PAIRS = (
    ("stop-down", "stop-in", "stop-with", "stop-pair"),
    ("closing-down", "closing-in", "closing-with", "closing-pair"),
)


def _hazards(step: Step) -> list[str]:
    return [box.hazard for box in step.boxes]


def _follow_at_once(ids: list[str], expected: tuple[str, ...]) -> bool:
    place = ids.index(expected[0])
    return tuple(ids[place : place + len(expected)]) == expected


def test_that_the_blade_is_first_turned_after_plugs_and_pins_are_out_and_off_is_proved() -> None:
    for facts in VARIANTS:
        steps = job_steps(facts)
        turning = [
            place
            for place, step in enumerate(steps)
            if re.search(r"\bturn\w*\b.*\bturns\b|with rotation|against rotation", step.instruction)
        ]
        made = {"board-safe"} if "safe elsewhere" in facts else {"plugs-out", "pins-out"}
        safe = [place for place, step in enumerate(steps) if step.id in {*made, "off-proved-first"}]
        assert len(safe) == len(made) + 1
        assert max(safe) < min(turning)
        assert steps[min(turning)].id == ("compression" if "opposed" in facts else "radial-cleared")
        assert "arc-clear" in _hazards(steps[min(turning)])


def test_that_the_box_about_oil_before_the_plugs_come_out_asks_for_no_turning() -> None:
    box = next(box for box in BY_ID["plugs-out"].boxes if box.hazard == "hydraulic-lock")
    assert "turn" not in box.text.lower()


def test_that_a_radial_is_cleared_by_hand_with_rotation_and_never_against_it() -> None:
    step = BY_ID["radial-cleared"]
    assert re.search(r"radial.*several turns with rotation by hand.*clear", step.instruction)
    assert [(box.kind, box.hazard) for box in step.boxes] == [
        (BoxKind.WARNING, "arc-clear"),
        (BoxKind.CAUTION, "oil-in-cylinder"),
    ]


@pytest.mark.parametrize("pair", PAIRS, ids=["first pair", "closing pair"])
def test_that_a_pair_of_contacts_begins_at_off_with_the_piston_well_down(pair: tuple[str, ...]) -> None:
    down, fitted, with_rotation, against = (BY_ID[step_id] for step_id in pair)
    assert re.search(r"At OFF, turn until the piston is well down", down.instruction)
    assert _hazards(down)[0] == "against-rotation"
    assert "Fit the piston stop" in fitted.instruction
    assert "with rotation" in with_rotation.instruction
    assert "against rotation, the long way round" in against.instruction
    assert all("stop-fitted" in _hazards(step) for step in (fitted, with_rotation, against))
    jobs = [ids_of(job_steps(facts)) for facts in VARIANTS if not facts & {"marks", "back forbidden"}]
    assert all(_follow_at_once(ids, pair) for ids in jobs)


@pytest.mark.parametrize("step_id", ["centre-by-feel", "back-short", "back-off", "again-right", "as-found-left"])
def test_that_every_step_that_turns_back_carries_the_box_about_it(step_id: str) -> None:
    assert "against-rotation" in _hazards(BY_ID[step_id])
    assert "against-rotation" in _hazards(BY_ID["as-found-right"])


@pytest.mark.parametrize("step_id", ["as-found-left", "as-found-right"])
def test_that_as_found_the_ground_is_proved_at_open_points_before_anything_is_turned_back(step_id: str) -> None:
    for facts in (frozenset({"left", "right"}), frozenset({"left", "right", "back forbidden"})):
        told = next(step for step in job_steps(facts) if step.id == step_id).description
        order = ["Read at the light", "OFF for a moment, then BOTH", "turn back until"]
        order = order[:2] if "back forbidden" in facts else order
        places = [told.index(words) for words in order]
        assert places == sorted(places)
        assert "the lamp must change each time" in told
        assert told.endswith("Then OFF.")


def test_that_the_right_magneto_as_found_begins_again_at_off_and_carries_its_own_box_about_both() -> None:
    for facts in VARIANTS:
        steps = job_steps(facts)
        if "both" in facts and "found elsewhere" not in facts:
            assert _follow_at_once(ids_of(steps), ("as-found-left", "again-right", "as-found-right"))
        found = [step for step in steps if step.id.startswith("as-found")]
        assert all("light-at-both" in _hazards(step) for step in found)
    assert "OFF" in BY_ID["again-right"].instruction
    assert "before the mark" in BY_ID["again-right"].instruction


@pytest.mark.parametrize("step_id", LATER_APPROACHES)
def test_that_each_later_approach_says_off_snap_back_clear_both_light_off(step_id: str) -> None:
    began = {
        ("impulse",): "OFF, through the snap of the coupling, back past the mark",
        (): "OFF, back past the mark",
        ("impulse", "back forbidden"): "OFF, past the catch of the coupling as the data describe",
        ("back forbidden",): "OFF, on to the compression stroke, half a turn or more before the mark",
    }
    for more, words in began.items():
        facts = frozenset({"left", "right", "both", *more, *(("one housing",) if "housing" in step_id else ())})
        told = next(one for one in job_steps(facts) if one.id == step_id).description
        assert re.match(rf"{words}\. Arc clear, BOTH, with rotation to .*, read\..*Then OFF\.", told)
        assert ("turn back" in told) is ("back forbidden" not in facts and step_id != "synchronisation")
    step = BY_ID[step_id]
    box = next(box for box in step.boxes if box.hazard == "light-at-both")
    assert (box.kind, box.only) == (BoxKind.WARNING, ())
    for words in (
        "makes the blade live again",
        "Pass every snap at OFF",
        "clear the arc",
        "for the last approach only",
    ):
        assert words in box.text


def test_that_points_that_were_turned_back_are_opened_again_with_the_box_about_both_before_off_is_proved() -> None:
    step = BY_ID["off-proved"]
    assert "opened by a new approach" in said(step)
    assert "light-at-both" in _hazards(step)


def test_that_the_back_off_is_that_of_the_data_and_a_quarter_turn_only_where_they_give_none() -> None:
    step = BY_ID["back-off"]
    assert "by the back-off in the table" in step.instruction
    assert not re.search(r"quarter|compression", step.instruction)
    assert step.description.startswith("Where the data give none: a quarter turn, or straight up from compression.")


def test_that_the_grounding_leads_are_seen_tight_and_off_is_proved_again_after_the_light_came_off() -> None:
    for facts in VARIANTS:
        ids = ids_of(job_steps(facts))
        after = ("plugs-in",) if "plugs-in" in ids else ()
        assert _follow_at_once(ids, ("light-off", "ground-leads-tight", "off-proved-again", *after))
    assert "grounding lead is tight" in BY_ID["ground-leads-tight"].instruction
    assert re.search(r"meter.*OFF grounds each", BY_ID["off-proved-again"].instruction)
    assert "seen tight again" in BY_ID["off-proved-again"].description
    assert "ground-lead-off" in _hazards(BY_ID["light-off"])
    assert "off-not-proved" in _hazards(BY_ID["off-proved-again"])


def test_that_no_card_closes_without_run_up_and_switch_check_where_no_other_card_has_them() -> None:
    for facts in VARIANTS:
        if "run-up elsewhere" in facts:
            continue
        assert ids_of(job_steps(facts))[-3:] == ["run-up", "switch-check", "security"]
    assert BY_ID["switch-check"].capture == "cut"
    assert re.search(r"lowest idle.*OFF for a moment.*back to BOTH", BY_ID["switch-check"].instruction)


@pytest.mark.parametrize("step_id", ["run-up", "switch-check"])
def test_that_what_to_do_with_a_magneto_that_does_not_cut_stands_at_the_step_itself(step_id: str) -> None:
    assert "does-not-cut" in _hazards(BY_ID[step_id])


def test_that_the_thumb_stands_out_of_the_arc_and_calls_before_each_move() -> None:
    said = BY_ID["compression"].description
    assert "One at the switch, one at the blade" in said
    for step_id in ("compression", "compression-again"):
        assert "stands out of the arc, and calls before each move" in BY_ID[step_id].description


def test_that_the_torque_wrench_is_set_once_just_before_the_first_tightening() -> None:
    for facts in VARIANTS:
        ids = ids_of(job_steps(facts))
        for step_id in {"torque-set", "torque-set-right"} & set(ids):
            assert ids[ids.index(step_id) + 1].startswith("tighten-")
        assert len({"torque-set", "torque-set-right"} & set(ids)) == int("torque" in facts)


def test_that_each_thing_made_safe_or_normal_has_a_step_and_initials_of_its_own() -> None:
    alone = {
        "switch-off": "switch",
        "key-given": "key",
        "battery-off": "battery",
        "fuel-off": "fuel",
        "wheels-chocked": "wheels",
        "starter-disabled": "starter",
        "leads-off": "plug lead",
        "plugs-out": "plug out",
        "light-on": "light",
        "stop-off": "stop",
        "disc-off": "disc",
        "light-off": "light",
        "plugs-in": "plugs",
        "leads-on": "leads",
        "starter-normal": "starter",
        "battery-normal": "battery",
        "fuel-normal": "fuel",
    }
    for step_id, thing in alone.items():
        step = BY_ID[step_id]
        assert thing in step.instruction
        others = {"battery", "fuel", "wheels", "starter", "disc", "light", "stop", "key"} - {thing}
        assert not [other for other in others if re.search(rf"\b{other}\b", step.instruction)], step_id
        assert step.initials


@pytest.mark.parametrize("step_id", ["disc-fit", "gauge-fit"])
def test_that_the_fit_of_what_all_readings_hang_on_is_initialled(step_id: str) -> None:
    assert BY_ID[step_id].initials


def test_that_half_the_arc_is_spoken_of_only_where_the_disc_turns_as_the_crankshaft_does() -> None:
    for facts in VARIANTS:
        told = [text for step in job_steps(facts) for text in (step.description, *(box.text for box in step.boxes))]
        expected = "zeroed" in facts and not facts & {"geared", "back forbidden"}
        assert any("half the arc" in text for text in told) is expected


@pytest.mark.parametrize("step_id", ["turn-left", "turn-right", "turn-housing"])
def test_that_which_way_to_turn_the_housing_is_said_at_the_step(step_id: str) -> None:
    assert "Advanced: turn the way the rotor turns. Retarded: against it." in BY_ID[step_id].description


def test_that_a_step_that_may_be_left_out_says_when_and_no_other_speaks_of_it() -> None:
    assert [step.id for step in CARD.steps if step.may_skip is not bool(re.search(r"\w.*: n/a", said(step)))] == []
    assert "radial-cleared" not in {step.id for step in CARD.steps if step.may_skip}


def test_that_the_card_says_with_rotation_and_keeps_to_the_words_of_the_trade() -> None:
    told = [text for step in CARD.steps for text in (step.instruction, said(step), *(box.text for box in step.boxes))]
    assert [text for text in told if re.search(r"\b(forward|mend|middle)\b", text)] == []


def test_that_a_card_worked_alone_to_its_end_leaves_everything_on_the_board_as_it_flies() -> None:
    for facts in READINGS:
        board = dict.fromkeys(SafeItem, True)
        touched = set()
        for step in job_steps(facts):
            if step.board:
                assert step.initials, f"{step.id} sets the board, so somebody confirms it"
                item, is_normal = BOARD_WORDS[step.board]
                board[item] = is_normal
                touched.add(item)
        assert all(board.values()), facts
        assert {SafeItem.PLUG_LEADS, SafeItem.PLUGS, SafeItem.BATTERY_AND_STARTER, SafeItem.MAGNETO} <= touched


def test_that_the_stop_is_on_the_board_while_it_is_in_the_cylinder() -> None:
    for facts in VARIANTS:
        steps = job_steps(facts)
        if "stop-in" not in ids_of(steps):
            continue
        told = [step.board for step in steps if step.board.startswith("piston stop")]
        assert told == ["piston stop in", "piston stop out", "piston stop in", "piston stop out"]


def test_that_where_turning_back_is_forbidden_nothing_is_turned_back() -> None:
    for facts in AROUND:
        if "back forbidden" not in facts:
            continue
        for step in job_steps(facts):
            assert not re.search(r"back past|turn back|against rotation", step.instruction), step.id
            assert not re.search(r"back past|[Ww]here the data allow it|turn back and", step.description), step.id
            assert step.capture not in {"stop pairs", "closing pair", "centre by feel"}


def test_that_where_turning_back_is_limited_the_limit_stands_before_the_back_off() -> None:
    for facts in AROUND:
        steps = [step for step in job_steps(facts) if step.id in {"back-short", "back-off"}]
        assert all(("back-limit" in _hazards(step)) is ("back limited" in facts) for step in steps)


def test_that_a_card_inside_an_order_begins_by_seeing_the_board_before_anything_is_touched() -> None:
    for facts in AROUND:
        ids = ids_of(job_steps(facts))
        if "safe elsewhere" in facts:
            assert ids.index("board-safe") < ids.index("light-on")
            assert "switch-off" not in ids
        assert (ids[0] == "engine-placed") is ("twin" in facts)
