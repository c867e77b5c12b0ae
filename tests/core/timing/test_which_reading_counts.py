"""As found, setting, as left: the last reading as left counts, and nothing stands in for it."""

from typing import Any

import pytest

from tests.toml_card import GONE, result_of, rules_in, sound_card, text_of

GOOD: dict[str, Any] = {"from": "310", "light": "338", "back": "336"}
LATE: dict[str, Any] = {"from": "310", "light": "338.5", "back": "336"}
VOID: dict[str, Any] = {"from": "345", "light": "338", "back": "336"}
FOUND: dict[str, Any] = {"when": "as found", "from": "310", "light": "335", "back": "333"}
FOUND_VOID: dict[str, Any] = {"when": "as found", "from": "345", "light": "335"}
SETTING: dict[str, Any] = {"when": "setting", "from": "310", "light": "337"}


def left(rows: list[dict[str, Any]]) -> tuple[dict[str, Any], dict[str, Any]]:
    said = result_of(sound_card(), {"left.approach": rows})
    return said["left"], said


def test_that_as_left_is_what_is_meant_when_nothing_is_said() -> None:
    assert left([GOOD, LATE]) == left([GOOD | {"when": "as left"}, LATE | {"when": "as left"}])


@pytest.mark.parametrize(
    ("rows", "btdc", "stops"),
    [
        ([GOOD, LATE], 21.5, []),
        ([LATE, GOOD], 22, []),
        # A void last reading is taken again; an earlier good one does not stand in for it.
        ([GOOD, VOID], None, ["against-rotation", "within-backlash"]),
        ([VOID, GOOD], 22, []),
        # Nothing set after it.
        ([GOOD, SETTING], None, ["setting-after"]),
        ([SETTING, GOOD], 22, []),
        ([GOOD, SETTING, LATE], 21.5, []),
        ([GOOD, SETTING, FOUND], None, ["setting-after"]),
        ([VOID, SETTING], None, ["against-rotation", "setting-after", "within-backlash"]),
        # What was found later is no reading as left.
        ([GOOD, FOUND], 22, []),
        ([GOOD, FOUND_VOID], 22, []),
    ],
)
def test_that_the_last_reading_as_left_counts(rows: list[dict[str, Any]], btdc: float | None, stops: list[str]) -> None:
    magneto, said = left(rows)
    assert magneto["btdc"] == btdc
    assert magneto["verdict"] == ("not established" if btdc is None else "within")
    # A movement against rotation is no more than the backlash either: both conditions fail.
    assert set(rules_in(said, severity="stops", side="left")) in (set(stops), set(stops) - {"within-backlash"})
    assert said["nothing_stops"] is not bool(stops)


@pytest.mark.parametrize("rows", [[FOUND], [SETTING], [FOUND, SETTING]])
def test_that_without_a_reading_as_left_something_stops(rows: list[dict[str, Any]]) -> None:
    magneto, said = left(rows)
    assert (magneto["verdict"], magneto["btdc"], said["nothing_stops"]) == ("not established", None, False)
    assert rules_in(said, severity="stops", side="left") != []
    assert (magneto["back_off"], magneto["backlash"]) == (None, None)


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"stop": GONE}, "stop"),
        ({"left.approach": GONE}, "left.approach"),
        ({"right.approach": GONE}, "right.approach"),
    ],
)
def test_that_a_card_not_yet_measured_can_be_read_and_stops(changes: dict[str, object], where: str) -> None:
    said = result_of(sound_card(), changes)
    findings = [finding for finding in said["findings"] if finding["rule"] == "not-measured"]
    assert [(finding["severity"], finding["where"]) for finding in findings] == [("stops", where)]
    assert said["nothing_stops"] is False


def test_that_a_card_without_any_reading_still_gives_its_targets() -> None:
    said = result_of(sound_card(), {"stop": GONE, "left.approach": GONE, "right.approach": GONE})
    assert (said["left"]["target_reading"], said["left"]["verdict"]) == (338, "not established")
    assert [finding["rule"] for finding in said["findings"] if finding["severity"] == "stops"] == ["not-measured"] * 3


@pytest.mark.parametrize(
    ("rows", "found", "rules"),
    [
        ([FOUND, GOOD], {"btdc": 25, "deviation": 3, "verdict": "advanced"}, ["as-found-out"]),
        ([FOUND | {"light": "341"}, GOOD], {"btdc": 19, "deviation": -3, "verdict": "retarded"}, ["as-found-out"]),
        ([FOUND | {"light": "337"}, GOOD], {"btdc": 23, "deviation": 1, "verdict": "within"}, []),
        ([FOUND_VOID, GOOD], {"btdc": None, "deviation": None, "verdict": "not established"}, ["as-found-void"]),
        ([FOUND, FOUND_VOID, GOOD], {"btdc": None, "deviation": None, "verdict": "not established"}, ["as-found-void"]),
        ([FOUND_VOID, FOUND, GOOD], {"btdc": 25, "deviation": 3, "verdict": "advanced"}, ["as-found-out"]),
        ([GOOD], None, []),
    ],
)
def test_that_the_last_reading_as_found_is_recorded_and_stops_nothing(
    rows: list[dict[str, Any]], found: dict[str, Any] | None, rules: list[str]
) -> None:
    magneto, said = left(rows)
    assert magneto["as_found"] == found
    assert [rule for rule in rules_in(said, severity="note", side="left") if rule.startswith("as-found")] == rules
    assert (said["nothing_stops"], magneto["btdc"]) == (True, 22)


def test_that_an_earlier_void_approach_is_noted_with_its_reasons() -> None:
    _, said = left([VOID, GOOD, SETTING | {"from": "340"}, GOOD])
    notes = [finding for finding in said["findings"] if finding["rule"] == "approach-void"]
    assert [finding["severity"] for finding in notes] == ["note", "note"]
    assert [finding["where"][: len("left.approach[1]")] for finding in notes] == [
        "left.approach[1]",
        "left.approach[3]",
    ]
    assert said["nothing_stops"] is True


def test_that_the_last_void_reading_stops_and_is_not_noted_as_another() -> None:
    _, said = left([GOOD, VOID])
    assert "against-rotation" in rules_in(said, severity="stops")
    assert "approach-void" not in rules_in(said)


def test_that_back_off_and_backlash_are_those_of_the_last_reading_as_left_even_when_it_is_void() -> None:
    magneto, _ = left([GOOD | {"back": "335"}, VOID])
    assert (magneto["back_off"], magneto["backlash"], magneto["btdc"]) == (-7, 2, None)
    magneto, _ = left([GOOD | {"back": "335"}, {"from": "300", "light": "338"}])
    assert (magneto["back_off"], magneto["backlash"]) == (38, 3)
    magneto, _ = left([FOUND, {"from": "300", "light": "338"}])
    assert (magneto["back_off"], magneto["backlash"]) == (38, None)


@pytest.mark.parametrize(
    ("rows", "noted"),
    [
        ([GOOD], True),
        ([GOOD, LATE], False),
        ([VOID, GOOD], True),
        ([GOOD, SETTING, GOOD], True),
        ([FOUND, GOOD], True),
        ([SETTING, GOOD, GOOD], False),
    ],
)
def test_that_one_approach_that_counts_is_noted(rows: list[dict[str, Any]], noted: bool) -> None:
    _, said = left(rows)
    assert ("one-approach" in rules_in(said, severity="note", side="left")) is noted


@pytest.mark.parametrize(
    ("rows", "noted"), [([{"from": "310", "light": "338"}], True), ([GOOD, {"from": "310", "light": "338"}], False)]
)
def test_that_backlash_not_measured_is_noted(rows: list[dict[str, Any]], noted: bool) -> None:
    _, said = left(rows)
    assert ("backlash-unknown" in rules_in(said, severity="note", side="left")) is noted


def test_that_one_magneto_only_is_noted() -> None:
    card = sound_card()
    del card["right"]
    assert "right_btdc" in text_of(card)
    said = result_of(card)
    assert (rules_in(said, severity="note"), said["right"], said["sync"]) == (["one-magneto"], None, None)
    assert (said["left"]["verdict"], said["nothing_stops"]) == ("within", True)
