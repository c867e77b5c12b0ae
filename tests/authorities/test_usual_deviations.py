"""What usual mistakes look like in the readings, and the direction rule of the handbook."""

import pytest

from tests.authorities.known import HANDBOOK, PRACTICE, Known
from tests.toml_card import GONE, Changes, result_of, sound_card

COMPUTED = f"computed; {PRACTICE}"
WIDE: Changes = {"limits.advanced_most": "90", "limits.retarded_most": "90", "limits.apart_most": GONE}


def rules(changes: Changes) -> list[str]:
    return [finding["rule"] for finding in result_of(sound_card(), WIDE | changes)["findings"]]


def left(changes: Changes, key: str) -> float:
    value = result_of(sound_card(), WIDE | changes)["left"][key]
    assert value is not None
    return float(value)


@pytest.mark.parametrize(("advance", "target"), [("20", 340), ("25", 335), ("35", 325)])
def test_that_the_handbooks_band_of_advance_lies_before_zero(advance: str, target: float) -> None:
    assert Known(target, f"20 to 35 before TDC: {HANDBOOK} p. 1-27").agrees(
        left({"limits.left_btdc": advance}, "target_reading")
    )


@pytest.mark.parametrize(("rpm", "drop"), [("1675", 25), ("1625", 75)])
def test_that_the_handbooks_usual_drops_are_drops(rpm: str, drop: float) -> None:
    run_up = {"both_rpm": "1700", "left_rpm": rpm, "right_rpm": rpm, "drop_most": "75", "apart_most": "50"}
    said = result_of(sound_card(), {"run_up": run_up})["run_up"]
    assert Known(drop, f"about 25 to 75 rpm each, even: {HANDBOOK} p. 4-31").agrees(said["left_drop"])
    assert (said["difference"], said["verdict"]) == (0, "within")


def test_that_a_tdc_mark_taken_for_the_timing_mark_is_the_whole_advance_late() -> None:
    late = {"limits.left_btdc": "25", "left.approach": [{"from": "310", "light": "0"}]}
    assert Known(-25, COMPUTED).agrees(left(late, "deviation"))
    assert "mistake-tdc-mark" in rules(late)


def test_that_marks_of_the_wrong_hand_are_twice_the_e_gap_out() -> None:
    # Ratio 1: 20 of the rotor, 20 of the crankshaft.
    engine = {"engine.cylinders": 4, "engine.firing_order": [1, 3, 2, 4], "left.e_gap": "10"}
    for light in ("318", "358"):
        out = {**engine, "left.approach": [{"from": "300", "light": light}]}
        assert Known(20, COMPUTED).agrees(abs(left(out, "deviation")))
        assert "mistake-wrong-hand" in rules(out)


@pytest.mark.parametrize(
    ("teeth", "crank"), [(24, 10), (30, 8), (36, 6.6667), (40, 6), (45, 5.3333), (48, 5), (50, 4.8), (60, 4)]
)
def test_that_a_drive_one_tooth_out_is_named(teeth: int, crank: float) -> None:
    # Rotor degrees 360/Z over 1.5.
    known = Known(crank, COMPUTED, 5e-5)
    light = f"{338 - known.value:.4f}"
    out = {"left.drive_gear_teeth": teeth, "left.approach": [{"from": "300", "light": light}]}
    assert "mistake-teeth" in rules(out)
    assert known.agrees(left(out, "deviation"))
    assert result_of(sound_card(), WIDE | out)["left"]["mesh"] == {
        "teeth": 1,
        "left_to_turn": pytest.approx(0, abs=1e-4),
    }


def test_that_a_coupling_not_released_is_its_lag_late() -> None:
    out = {
        "left.impulse_lag": "30",
        "left.approach": [{"from": "310", "light": "358", "click_passed": True}],
    }
    # 30 of the rotor at ratio 1.5 are 20 of the crankshaft.
    assert Known(-20, COMPUTED).agrees(left(out, "deviation"))
    assert "mistake-lag" in rules(out)


def test_that_the_wrong_flange_mark_of_two_puts_both_magnetos_out_alike() -> None:
    known = Known(8, f"marks at 24 and 32 as drawn, {HANDBOOK} fig. 4-44; computed")
    changes: Changes = {
        **WIDE,
        "limits.left_btdc": "24",
        "limits.right_btdc": "24",
        "left.approach": [{"from": "300", "light": "328"}],
        "right.approach": [{"from": "300", "light": "328"}],
    }
    said = result_of(sound_card(), changes)
    assert known.agrees(said["left"]["deviation"])
    assert known.agrees(said["right"]["deviation"])
    assert said["sync"]["difference"] == 0


@pytest.mark.parametrize("top", [1, 3, 5])
def test_that_a_top_found_by_feel_is_out_and_the_midpoint_says_so(top: int) -> None:
    known = Known(top, f"the crankshaft may lie anywhere in 1 to 5 degrees: {HANDBOOK} p. 4-27")
    stop = [{"with": str(321 + top), "against": str(39 + top)}]
    said = result_of(sound_card(), {**WIDE, "measure.zeroed": False, "stop": stop})
    assert known.agrees(said["tdc"]["reading"])
    # The light that seemed to come at 22 came earlier by as much.
    assert known.agrees(said["left"]["deviation"])


def test_that_a_reading_is_taken_in_the_direction_of_rotation() -> None:
    source = f"{HANDBOOK} pp. 4-27, 4-30"
    for began, taken in (("310", True), ("345", False)):
        said = result_of(sound_card(), {"left.approach": [{"from": began, "light": "338"}]})
        assert (said["left"]["btdc"] is not None) is taken, source
    advised = next(finding for finding in said["findings"] if finding["rule"] == "against-rotation")
    assert source in advised["source"]


def test_that_both_magnetos_are_checked_again_after_tightening() -> None:
    source = f"{HANDBOOK} p. 4-30"
    said = result_of(sound_card(), {"left.approach[3]": {"when": "setting", "from": "310", "light": "338"}})
    finding = next(finding for finding in said["findings"] if finding["rule"] == "setting-after")
    assert source in finding["source"]
    assert said["nothing_stops"] is False


def test_that_no_drop_means_the_other_side_is_not_grounded() -> None:
    source = f"{HANDBOOK} pp. 10-26, 10-27"
    run_up = {"both_rpm": "1700", "left_rpm": "1700", "right_rpm": "1640", "drop_most": "150", "apart_most": "90"}
    said = result_of(sound_card(), {"run_up": run_up})
    finding = next(finding for finding in said["findings"] if finding["rule"] == "no-drop")
    assert source in finding["source"]
    assert "right magneto" in finding["sentence"]
