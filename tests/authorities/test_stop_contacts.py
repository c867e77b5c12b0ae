"""Top dead centre midway between two contacts, on the short arc."""

import pytest

from tests.authorities.known import PRACTICE, Known
from tests.toml_card import result_of, standing_card

MIDWAY = f"midway between the contacts on the short arc: {PRACTICE}; values computed"
WRAPS = [
    ("340", "20", Known(0, MIDWAY)),
    ("350", "30", Known(10, MIDWAY)),
    ("170", "200", Known(185, MIDWAY)),
    ("355", "5", Known(0, MIDWAY)),
]
HOBBY = "contacts from a hobby page, 21 and 15 degrees either side of a provisional zero; computed"
ARC, HALF, OUT = Known(36, HOBBY), Known(18, HOBBY), Known(3, HOBBY)


@pytest.mark.parametrize(("with_", "against", "known"), WRAPS)
def test_that_the_middle_is_found_across_zero(with_: str, against: str, known: Known) -> None:
    tdc = result_of(standing_card(), {"stop": [{"with": with_, "against": against}]})["tdc"]
    assert known.agrees(tdc["reading"])


def test_that_exactly_opposite_contacts_have_no_answer() -> None:
    assert result_of(standing_card(), {"stop": [{"with": "0", "against": "180"}]})["tdc"]["reading"] is None


def test_that_a_provisional_zero_is_put_right_by_half_the_difference() -> None:
    split = {"by": "disc", "marking": "split", "read_to": "0.5", "on": "propeller", "zeroed": False}
    rows = [{"from": "50 before", "light": "25 before"}]
    changes = {
        "measure": split,
        "stop": [{"with": "21 before", "against": "15 after"}],
        "left.approach": rows,
        "right.approach": rows,
    }
    said = result_of(standing_card(), changes)
    assert ARC.agrees(said["tdc"]["arc"])
    assert HALF.agrees(said["tdc"]["half_arc"])
    assert said["tdc"]["reading"] == f"{OUT.value:.0f} before"
    # Read from the provisional zero the light came at 25; it was 22.
    assert said["left"]["btdc"] == 22


def test_that_contacts_closer_than_15_degrees_each_side_are_noted() -> None:
    source = f"contacts at least some 15 to 20 degrees each side: {PRACTICE}"
    for half, noted in ((14, True), (15, False), (20, False)):
        stop = [{"with": str(360 - half), "against": str(half)}]
        rules = [finding["rule"] for finding in result_of(standing_card(), {"stop": stop})["findings"]]
        assert ("stop-short" in rules) is noted, source
