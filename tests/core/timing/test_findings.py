"""Every rule: the case in which it speaks and how hard it is, and a near twin in which it says nothing."""

import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.core.timing.finding_cases import CASES, Case
from tests.door import RULEBOOK
from tests.toml_card import Card, Changes, changed, result_of, rules_in, sound_card

IDS = [f"{case[0]}-{case[1]}" for case in CASES]


@pytest.mark.parametrize(("rule", "severity", "where", "make", "changes", "twin"), CASES, ids=IDS)
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


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_that_a_place_is_a_key_of_the_file_with_entries_counted_from_1(case: Case) -> None:
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
