"""What stands beside a typed length or torque."""

import pytest

from desktop.core.timing.typed_paths import Value
from desktop.viewmodels.pieces.fields import Field
from desktop.viewmodels.pieces.unit_notes import unit_note


def nothing(_path: str) -> Value:
    return None


def test_that_a_length_is_said_in_the_other_system() -> None:
    assert unit_note(Field("engine.rod_mm", "Rod length", unit="mm"), nothing, "150", "inch-pound") == "about 5.91 in"


def test_that_a_torque_takes_its_unit_from_the_field_beside_it() -> None:
    field = Field("torque[1].required", "Required torque")
    beside = {"torque[1].unit": "in-lb"}
    assert unit_note(field, beside.get, "200", "SI") == "about 22.6 N·m"
    assert unit_note(field, nothing, "200", "SI") == ""


@pytest.mark.parametrize(("value", "system"), [(None, "SI"), (True, "SI"), ("5", "")])
def test_that_nothing_is_said_where_nothing_is_to_be_said(value: Value, system: str) -> None:
    assert unit_note(Field("x", "X", unit="in"), nothing, value, system) == ""
