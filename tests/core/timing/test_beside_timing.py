"""A card that takes a run-up or torques and no timing is read without engine, crankshaft and magnetos."""

import pytest

from desktop.core.timing.partial_card import read_beside_timing
from desktop.core.timing.typed_card import TypedCard, TypedMagneto, TypedRunUp, TypedTorque
from desktop.core.timing.work_out import work_out

RUN_UP = TypedRunUp("1700", "1640", "1630 ", "125", "50")
CLAMP = TypedTorque("clamp", "95", "in-lb", "8", "2")
NOTHING_MEASURED = TypedCard(format=1, left=TypedMagneto(poles=3), run_up=RUN_UP, torque=(CLAMP,))


def test_that_a_run_up_is_worked_out_by_itself() -> None:
    read = read_beside_timing(NOTHING_MEASURED, run_up=True, torque=False)
    assert read.faults == ()
    assert read.card is not None
    assert (read.card.left, read.card.right, read.card.torque) == (None, None, ())
    worked = work_out(read.card)
    assert worked.magnetos == ()
    assert worked.run_up is not None
    assert [worked.run_up.left_drop, worked.run_up.right_drop] == [60, 70]
    assert worked.run_up.is_within


def test_that_torques_are_worked_out_by_themselves() -> None:
    read = read_beside_timing(NOTHING_MEASURED, run_up=False, torque=True)
    assert read.card is not None
    assert read.card.run_up is None
    # 95 x 8 / (8 + 2): TM 1-1500-204-23-9, the wrench's setting with a straight extension.
    assert list(work_out(read.card).torque) == [76]


@pytest.mark.parametrize(
    ("card", "where"),
    [
        (TypedCard(format=1, run_up=TypedRunUp("1700", "1640", None, "125", "50")), ["run_up.right_rpm"]),
        (
            TypedCard(format=1),
            [f"run_up.{key}" for key in ("both_rpm", "left_rpm", "right_rpm", "drop_most", "apart_most")],
        ),
    ],
)
def test_that_a_run_up_that_is_not_whole_is_said(card: TypedCard, where: list[str]) -> None:
    read = read_beside_timing(card, run_up=True, torque=False)
    assert (read.card, [fault.where for fault in read.faults]) == (None, where)
