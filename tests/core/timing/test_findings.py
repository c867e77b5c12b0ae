"""Every rule: the case in which it speaks and how hard it is, and a near twin in which it says nothing."""

import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.door import RULEBOOK
from tests.toml_card import GONE, Card, Changes, changed, geared_card, result_of, rules_in, sound_card

RUN_UP = {"both_rpm": "1700", "left_rpm": "1620", "right_rpm": "1610", "drop_most": "150", "apart_most": "50"}
FREE: Changes = {"limits.advanced_most": "90", "limits.retarded_most": "90", "limits.apart_most": GONE}
COUPLED = {"left.impulse_lag": "30", "left.approach[1].click_passed": True}
FOUND: Card = {"when": "as found", "from": "300", "light": "338", "back": "336"}
ROW: Card = {"from": "300", "light": "338", "back": "336"}


def found(row: Card) -> list[Card]:
    return [FOUND | row, dict(ROW), dict(ROW)]


# A rule, its severity, what its place begins with, the case, and the twin.
CASES: list[tuple[str, str, str, Callable[[], Card], Changes, Changes]] = [
    ("not-measured", "stops", "stop", sound_card, {"stop": GONE}, {}),
    ("not-measured", "stops", "right.approach", sound_card, {"right.approach": GONE}, {}),
    ("no-tdc", "stops", "stop[1]", sound_card, {"stop[1].against": "180"}, {"stop[1].against": "179.5"}),
    ("disc-moved", "stops", "stop[2]", sound_card, {"stop[2].against": "41"}, {"stop[2].against": "40.5"}),
    ("centre-missing", "stops", "measure.centre_by_feel", geared_card, {"measure.centre_by_feel": GONE}, {}),
    (
        "centre-disagrees",
        "stops",
        "measure.centre_by_feel",
        geared_card,
        {"measure.centre_by_feel": "46.5"},
        {"measure.centre_by_feel": "46"},
    ),
    (
        "against-rotation",
        "stops",
        "left.approach[1]",
        sound_card,
        {"left.approach": [{"from": "338.5", "light": "338"}]},
        {"left.approach": [{"from": "337.5", "light": "338"}]},
    ),
    (
        "back-off-least",
        "stops",
        "left.approach[2]",
        sound_card,
        {"left.back_off_least": "29.5"},
        {"left.back_off_least": "29"},
    ),
    (
        "back-off-most",
        "stops",
        "right.approach[2]",
        sound_card,
        {"right.back_off_most": "28.5"},
        {"right.back_off_most": "29"},
    ),
    (
        "within-backlash",
        "stops",
        "left.approach[2]",
        sound_card,
        {"left.approach[2].from": "336"},
        {"left.approach[2].from": "335.5"},
    ),
    (
        "click-not-passed",
        "stops",
        "left.approach[2]",
        sound_card,
        COUPLED | {"left.approach[2].click_passed": False},
        COUPLED | {"left.approach[2].click_passed": True},
    ),
    (
        "snapped",
        "stops",
        "left.approach[2]",
        sound_card,
        COUPLED | {"left.approach[2].click_passed": True, "left.approach[2].snapped": True},
        COUPLED | {"left.approach[2].click_passed": True, "left.approach[2].snapped": False},
    ),
    ("approach-without-tdc", "stops", "left.approach[2]", sound_card, {"stop[1].against": "180"}, {}),
    ("approach-disc-moved", "stops", "right.approach[2]", sound_card, {"stop[2].against": "41"}, {}),
    (
        "setting-after",
        "stops",
        "left.approach[3]",
        sound_card,
        {"left.approach[3]": ROW | {"when": "setting"}},
        {"left.approach[1]": ROW | {"when": "setting"}},
    ),
    (
        "approach-void",
        "note",
        "left.approach[1]",
        sound_card,
        {"left.approach[1].from": "338"},
        {"left.approach[1].from": "335"},
    ),
    ("advanced", "stops", "left", sound_card, {"left.approach[2].light": "336.5"}, {"left.approach[2].light": "337"}),
    ("retarded", "stops", "right", sound_card, {"right.approach[2].light": "339.5"}, {"right.approach[2].light": "339"}),
    (
        "too-close",
        "stops",
        "left",
        sound_card,
        {"limits.decision": "guarded", "left.approach[2].light": "337"},
        {"limits.decision": "simple", "left.approach[2].light": "337"},
    ),
    ("magnetos-apart", "stops", "", sound_card, {"left.approach[2].light": "336.9"}, {"left.approach[2].light": "337"}),
    ("drop-outside", "stops", "run_up", sound_card, {"run_up": RUN_UP | {"drop_most": "89"}}, {"run_up": RUN_UP}),
    ("drops-apart", "stops", "run_up", sound_card, {"run_up": RUN_UP | {"apart_most": "9"}}, {"run_up": RUN_UP}),
    (
        "no-drop",
        "stops",
        "run_up.left_rpm",
        sound_card,
        {"run_up": RUN_UP | {"left_rpm": "1700"}},
        {"run_up": RUN_UP | {"left_rpm": "1699"}},
    ),
    (
        "as-found-out",
        "note",
        "left",
        sound_card,
        {"left.approach": found({"light": "336.5"})},
        {"left.approach": found({"light": "337"})},
    ),
    (
        "as-found-void",
        "note",
        "left",
        sound_card,
        {"left.approach": found({"from": "338"})},
        {"left.approach": found({"from": "335"})},
    ),
    ("no-closing-pair", "explain", "stop", sound_card, {"stop[2]": GONE}, {}),
    (
        "negative-backlash",
        "note",
        "left.approach[2].back",
        sound_card,
        {"left.approach[2].back": "339"},
        {"left.approach[2].back": "338"},
    ),
    (
        "negative-backlash",
        "explain",
        "left.approach[2].back",
        sound_card,
        {"left.approach[2].back": "339.5"},
        {"left.approach[2].back": "338"},
    ),
    (
        "under-twice-backlash",
        "note",
        "left.approach[2]",
        sound_card,
        {"left.approach[2].from": "334.5"},
        {"left.approach[2].from": "334"},
    ),
    ("direction-declared", "note", "left.approach[2].from", sound_card, {"left.approach[2].from": "compression"}, {}),
    (
        "stop-short",
        "note",
        "stop",
        sound_card,
        {"stop[1].against": "29.5", "stop[2]": {"with": "345.5", "against": "14.5", "after_zeroing": True}},
        {"stop[1].against": "30", "stop[2]": {"with": "345", "against": "15", "after_zeroing": True}},
    ),
    ("one-approach", "note", "left", sound_card, {"left.approach[1]": GONE}, {}),
    (
        "backlash-unknown",
        "note",
        "left",
        sound_card,
        {"left.approach[1].back": GONE, "left.approach[2].back": GONE},
        {"left.approach[2].back": GONE},
    ),
    (
        "more-decimals",
        "note",
        "left.approach[2].light",
        sound_card,
        {"left.approach[2].light": "338.25"},
        {"left.approach[2].light": "338.5"},
    ),
    (
        "probability-low",
        "note",
        "left",
        sound_card,
        {"left.approach[2].light": "337"},
        {"left.approach[2].light": "337.5"},
    ),
    ("one-magneto", "note", "right", sound_card, {"right": GONE}, {}),
    (
        "one-housing-difference",
        "note",
        "magnetos",
        sound_card,
        {"magnetos": {"one_housing": True}, "left.approach[2].light": "337.5"},
        {"magnetos": {"one_housing": True}},
    ),
    (
        "mistake-tdc-mark",
        "note",
        "left",
        sound_card,
        FREE | {"left.approach[2].light": "358"},
        FREE | {"left.approach[2].light": "357.5"},
    ),
    (
        "mistake-teeth",
        "note",
        "left",
        sound_card,
        FREE | {"left.drive_gear_teeth": 30, "left.approach[2].light": "332"},
        FREE | {"left.drive_gear_teeth": 30, "left.approach[2].light": "332.5"},
    ),
    (
        "mistake-wrong-hand",
        "note",
        "left",
        sound_card,
        FREE | {"left.e_gap": "12", "left.approach[2].light": "324"},
        FREE | {"left.e_gap": "12", "left.approach[2].light": "324.5"},
    ),
    (
        "mistake-lag",
        "note",
        "left",
        sound_card,
        FREE | COUPLED | {"left.approach[2].click_passed": True, "left.approach[2].light": "356"},
        FREE | COUPLED | {"left.approach[2].click_passed": True, "left.approach[2].light": "355.5"},
    ),
]


@pytest.mark.parametrize(
    ("rule", "severity", "where", "make", "changes", "twin"), CASES, ids=[f"{case[0]}-{case[1]}" for case in CASES]
)
def test_that_a_rule_speaks_in_its_case_and_not_in_the_twin(
    rule: str, severity: str, where: str, make: Callable[[], Card], changes: Changes, twin: Changes
) -> None:
    said = result_of(make(), changes)
    findings = [finding for finding in said["findings"] if finding["rule"] == rule]
    assert severity in {finding["severity"] for finding in findings}
    assert any(finding["where"].startswith(where) for finding in findings)
    assert rule not in rules_in(result_of(make(), twin))
    if severity == "stops":
        assert said["nothing_stops"] is False


def test_that_every_rule_has_its_case() -> None:
    assert {rule.id for rule in RULEBOOK.rules} == {case[0] for case in CASES}


def test_that_only_a_stop_stops() -> None:
    for rule, _, _, make, changes, _ in CASES:
        said = result_of(make(), changes)
        stops = [finding for finding in said["findings"] if finding["severity"] == "stops"]
        assert said["nothing_stops"] is not bool(stops), rule


def key_there(card: Card, where: str) -> bool:
    """Whether a finding's place is a key of the card, or the missing last key of one of its tables."""
    value: Any = card
    steps = re.findall(r"[a-z_]+|\[\d+\]", where)
    for number, step in enumerate(steps, start=1):
        if step.startswith("["):
            place = int(step[1:-1]) - 1
            if not isinstance(value, list) or not 0 <= place < len(value):
                return False
            value = value[place]
        elif isinstance(value, dict) and step in value:
            value = value[step]
        else:
            return number == len(steps) and isinstance(value, dict)
    return True


@pytest.mark.parametrize("case", CASES, ids=[f"{case[0]}-{case[1]}" for case in CASES])
def test_that_a_place_is_a_key_of_the_file_with_entries_counted_from_1(case: tuple[Any, ...]) -> None:
    card = changed(case[3](), case[4])
    for finding in result_of(card)["findings"]:
        assert key_there(card, finding["where"]), finding
        assert set(finding) == {"rule", "severity", "where", "sentence", "source"}
        for key in ("sentence", "source"):
            assert finding[key].strip() == finding[key] != ""
            assert not re.search(r"[{}]", finding[key])


def test_that_a_finding_of_a_magneto_names_its_own_side() -> None:
    one_sided = [case for case in CASES if case[2].split(".")[0] in {"left", "right"} and case[3] is sound_card]
    assert len(one_sided) > 20
    for rule, _, where, make, changes, _ in one_sided:
        side, other = ("left", "right") if where.startswith("left") else ("right", "left")
        said = result_of(make(), changes)
        findings = [finding for finding in said["findings"] if finding["rule"] == rule]
        sides = {finding["where"].split(".")[0].split("[")[0] for finding in findings}
        both = {"approach-without-tdc", "approach-disc-moved"}
        assert sides == ({side, other} if rule in both else {side}), rule
