"""The history of one magneto over the orders: which visits count, in which hours, and the drift between them."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from desktop.core.shop.aircraft.aircraft import Aircraft, EnginePosition
from desktop.core.shop.aircraft.intake import Intake, Plate, TakenIn
from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.visits import (
    History,
    MagnetoVisit,
    Meter,
    history_of,
    hours_of,
    serials_at_intake,
    visit_of,
)
from desktop.core.timing.readings import Decision, Limits, Side
from desktop.core.timing.results import Worked
from desktop.usecases.fill_card import look_at
from tests.core.shop.some_orders import BY, EMPTY
from tests.usecases.shop.shop_floor import RULEBOOK
from tests.usecases.shop.visits_floor import VISITS, readings

LIMITS = Limits(Fraction(1), Fraction("1.5"), None, Decision.SIMPLE)
PLATES = (Plate(Side.LEFT, "M-1", "S-11", since_overhaul="322"), Plate(Side.RIGHT, "M-1", ""))
ORDER = replace(EMPTY, taken_in=TakenIn(Intake(total_time="1518", plates=PLATES), BY))


def worked(place: int) -> Worked:
    checked = look_at(readings(VISITS[place]), RULEBOOK).checked
    assert checked is not None
    return checked.worked


def moved(*parts: tuple[Way, str]) -> WorkOrder:
    entries = tuple(PartMoved(Part(way, "M-1", serial=serial, paper="release"), BY) for way, serial in parts)
    return replace(ORDER, parts=entries)


def at(hours: int | None, found: str | None, left: str | None, **more: object) -> MagnetoVisit:
    """A visit whose hours since overhaul are those of the aircraft less 1000."""
    visit = MagnetoVisit(
        order=1,
        state=OrderState.CLOSED,
        on=date(2030, 1, 1),
        registration="X-ABCD",
        position=EnginePosition.LEFT,
        side=Side.LEFT,
        since_overhaul=None if hours is None else Fraction(hours),
        total_time=None if hours is None else Fraction(hours + 1000),
        found=None if found is None else Fraction(found),
        left=None if left is None else Fraction(left),
        limits=LIMITS,
    )
    return replace(visit, **more)  # type: ignore[arg-type]  # fields of a visit by name


def numbered(*visits: MagnetoVisit) -> History:
    return history_of("S-11", [replace(visit, order=number) for number, visit in enumerate(visits, 1)])


def test_that_a_data_plate_counts_before_what_was_known_before() -> None:
    plates = (Plate(Side.LEFT, serial=" S-99 "), Plate(Side.RIGHT))
    order = replace(ORDER, taken_in=TakenIn(Intake(plates=plates), BY))
    assert serials_at_intake(order) == {Side.LEFT: "S-99", Side.RIGHT: "S-12"}
    assert serials_at_intake(EMPTY) == {Side.LEFT: "S-11", Side.RIGHT: "S-12"}


def test_that_a_visit_holds_what_was_found_and_left_and_the_hours_of_the_intake() -> None:
    visit = visit_of(ORDER, "s-11", [worked(2)])
    assert visit == MagnetoVisit(
        7,
        ORDER.state,
        date(2031, 3, 4),
        "X-ABCD",
        EnginePosition.LEFT,
        Side.LEFT,
        Fraction(322),
        Fraction(1518),
        Fraction(-1),
        Fraction("0.5"),
        visit.limits if visit else None,
    )
    assert visit.limits is not None
    assert (visit.limits.advanced_most, visit.limits.retarded_most) == (Fraction(1), Fraction("1.5"))


def test_that_the_first_card_says_what_was_found_and_the_last_what_was_left() -> None:
    visit = visit_of(ORDER, "S-11", [worked(1), worked(2), worked(0)])
    assert visit is not None
    assert (visit.found, visit.left) == (Fraction("-0.5"), Fraction(0))


def test_that_without_an_intake_no_hours_are_known() -> None:
    visit = visit_of(EMPTY, "S-11", [worked(2)])
    assert visit is not None
    assert (visit.since_overhaul, visit.total_time) == (None, None)


@pytest.mark.parametrize(
    ("order", "serial"),
    [
        (ORDER, "S-99"),
        (replace(ORDER, ending=OrderState.VOID), "S-11"),
        (moved((Way.ON, "S-20")), "S-20"),
        (moved((Way.OFF, "S-11"), (Way.OFF, "S-12"), (Way.ON, "S-20")), "S-20"),
    ],
)
def test_that_an_order_that_says_nothing_of_a_magneto_is_no_visit(order: WorkOrder, serial: str) -> None:
    assert visit_of(order, serial, [worked(2)]) is None


def test_that_a_card_that_establishes_nothing_is_no_visit() -> None:
    assert visit_of(ORDER, "S-11", []) is None
    assert visit_of(moved((Way.OFF, "S-11")), "S-11", [worked(0)]) is None


def test_that_a_magneto_that_came_off_was_found_and_the_one_that_went_on_was_left() -> None:
    order = moved((Way.OFF, "S-11"), (Way.ON, "S-20"))
    old, new = visit_of(order, "S-11", [worked(2)]), visit_of(order, "S-20", [worked(2)])
    assert old is not None
    assert new is not None
    assert (old.found, old.left, old.since_overhaul) == (Fraction(-1), None, Fraction(322))
    assert (new.found, new.left) == (None, Fraction("0.5"))
    assert (new.since_overhaul, new.total_time) == (None, Fraction(1518))
    back = visit_of(moved((Way.OFF, "S-11"), (Way.ON, "S-11")), "S-11", [worked(2)])
    assert back is not None
    assert (back.found, back.left) == (Fraction(-1), Fraction("0.5"))


@pytest.mark.parametrize(
    ("typed", "hours"), [("1234.5", "1234.5"), (" 0,5 ", "0.5"), ("", None), ("x", None), ("-1", None)]
)
def test_that_hours_are_read_as_people_type_them(typed: str, hours: str | None) -> None:
    assert hours_of(typed) == (None if hours is None else Fraction(hours))


def test_that_drift_is_worked_out_by_hours_since_overhaul_where_they_are_known() -> None:
    history = numbered(at(10, None, "0"), at(110, "-0.5", "0"))
    assert (history.meter, history.limits) == (Meter.SINCE_OVERHAUL, LIMITS)
    assert history.drift is not None
    assert (history.drift.per_hour, history.drift.hours_to_limit) == (Fraction("-0.005"), Fraction(300))
    assert [history.hours(visit) for visit in history.visits] == [10, 110]


def test_that_visits_are_put_in_the_order_of_their_days() -> None:
    late, early = at(110, "-0.5", "0", on=date(2031, 1, 1)), at(10, None, "0", on=date(2030, 1, 1))
    assert numbered(late, early).drift == numbered(early, late).drift
    assert [visit.on.year for visit in numbered(late, early).compared] == [2030, 2031]


def test_that_only_visits_since_an_overhaul_are_compared() -> None:
    history = numbered(at(400, None, "0"), at(500, "-1", "0"), at(5, None, "0", total_time=None), at(105, "0.5", "0"))
    assert [history.hours(visit) for visit in history.compared] == [5, 105]
    assert history.drift is not None
    assert history.drift.per_hour == Fraction("0.005")


def test_that_the_aircraft_s_total_time_serves_where_it_compares_more_visits_on_one_aircraft() -> None:
    first, second = at(10, None, "0", since_overhaul=None), at(110, "-0.5", "0")
    history = numbered(first, second)
    assert (history.meter, len(history.compared)) == (Meter.TOTAL_TIME, 2)
    moved_over = numbered(replace(first, registration="X-EFGH"), second)
    assert (moved_over.meter, len(moved_over.compared), moved_over.drift) == (Meter.SINCE_OVERHAUL, 1, None)


def test_that_a_visit_without_hours_stands_in_the_history_and_is_not_compared() -> None:
    history = numbered(at(10, None, "0"), at(None, "-1", "0"), at(110, "-0.5", "0"))
    assert (len(history.visits), len(history.compared)) == (3, 2)
    with pytest.raises(ValueError, match="has hours"):
        history.hours(history.visits[1])


def test_that_without_visits_nothing_is_known() -> None:
    empty = history_of("S-11", ())
    assert (empty.visits, empty.compared, empty.limits, empty.drift) == ((), (), None, None)


def test_that_a_magneto_is_followed_from_one_aircraft_to_another_by_its_own_hours() -> None:
    other = Aircraft("X-EFGH", engines=ORDER.aircraft.engines)
    one = visit_of(ORDER, "S-11", [worked(0)])
    two = visit_of(replace(ORDER, number=8, aircraft=other), "S-11", [worked(1)])
    assert one is not None
    assert two is not None
    later = replace(two, since_overhaul=Fraction(422))
    assert history_of("S-11", [one, later]).drift is not None
