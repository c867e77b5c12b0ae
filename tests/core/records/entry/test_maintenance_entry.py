"""What stands in a maintenance entry, where each fact comes from, and that the wording alone can be edited."""

from dataclasses import fields, replace
from datetime import date

import pytest

from desktop.core.records.entry.entry_parts import ONLY_WORK, ONLY_WORK_NOT_APPROVED, EntryKind, EntryWording, reworded
from desktop.core.records.entry.maintenance_entry import EntrySource, date_completed, done_by, propose_entry
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.shop_details import ShopDetails, shop_faults
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedApproach, TypedCard, TypedMagneto
from tests.core.records.entry.entry_orders import ANN, INDEPENDENT, ORDER, PEOPLE, SOUND, STATION, at, card, source
from tests.core.shop.some_orders import EMPTY

WHOLE = propose_entry(source(EntryKind.MAINTENANCE, approves=True))


def _proposed(order: WorkOrder, shop: ShopDetails = STATION) -> EntrySource:
    return EntrySource(order, shop, PEOPLE, ANN, approves=True)


def _with_left(base: TypedCard, *approaches: TypedApproach) -> TypedCard:
    left = base.left or TypedMagneto()
    return replace(base, left=replace(left, approach=approaches or None))


def test_that_the_work_is_described_by_its_cards_and_the_data_with_their_revision() -> None:
    assert WHOLE.wording.work == (
        "On the left engine: Time the magnetos to the engine (card T1, revision 2). "
        "The work followed Magneto manual MM-7, revision 3, 2 Jan 2031."
    )
    assert WHOLE.facts.data == ("Magneto manual MM-7, revision 3, 2 Jan 2031",)


def test_that_documents_named_beside_the_confirmed_ones_stand_in_the_entry_once() -> None:
    asked = replace(
        _proposed(ORDER), data=("Engine manual EM-1, revision 9", "Magneto manual MM-7, revision 3, 2 Jan 2031", " ")
    )
    assert propose_entry(asked).facts.data == (
        "Magneto manual MM-7, revision 3, 2 Jan 2031",
        "Engine manual EM-1, revision 9",
    )


def test_that_the_day_is_that_of_the_last_work_and_everybody_who_did_any_is_named() -> None:
    assert WHOLE.facts.completed == date(2031, 3, 5)
    assert WHOLE.facts.done_by == (
        "XX",
        "Hal Elpman (HE), under Mel Chan (MC), certificate mechanic 1234",
        "Mel Chan (MC), certificate mechanic 1234",
    )


def test_that_an_order_without_work_has_no_day_and_nobody_who_did_it() -> None:
    assert date_completed(EMPTY) is None
    assert done_by(EMPTY, PEOPLE) == ()
    assert propose_entry(_proposed(EMPTY)).wording.work == ""


def test_that_the_entry_belongs_in_the_log_of_the_right_engine_on_a_twin() -> None:
    assert WHOLE.facts.aircraft.log == "the log of the left engine: Fourbanger 360, no. E-77"
    other = replace(ORDER, position=EnginePosition.RIGHT)
    assert propose_entry(_proposed(other)).facts.aircraft.log == "the log of the right engine: Fourbanger 360, no. E-78"


def test_that_a_single_engine_has_one_log() -> None:
    engine = replace(ORDER.engine, position=EnginePosition.SINGLE, type="", serial="")
    single = replace(ORDER, aircraft=replace(ORDER.aircraft, engines=(engine,)), position=EnginePosition.SINGLE)
    entry = propose_entry(_proposed(single))
    assert entry.facts.aircraft.log == "the engine's log"
    assert entry.wording.work.startswith("On the engine: ")


def test_that_identities_and_hours_come_from_the_order() -> None:
    about = WHOLE.facts.aircraft
    assert (about.registration, about.type, about.serial) == ("X-ABCD", "Twinwing 2", "A-5")
    assert (about.engine_type, about.engine_serial, about.engine_position) == ("Fourbanger 360", "E-77", "left")
    assert (about.total_time, about.tachometer) == ("1234.5", "987.6")
    assert WHOLE.facts.order == "W-0007"
    assert propose_entry(_proposed(EMPTY)).facts.aircraft.total_time == ""


def test_that_the_timing_stands_as_found_and_as_left_with_its_limits() -> None:
    left, right = WHOLE.facts.timing
    # 360 - 337.5 and 360 - 335.5 are plain sums of the disc set to zero; limits from the sample.
    assert left.magneto == "left magneto, part no. M-1, serial S-11"
    assert (left.found, left.left) == ("not taken", "22.5° BTDC, 0.5° advanced; within")
    assert right.magneto == "right magneto, part no. M-1, serial S-12"
    assert (right.found, right.left) == (
        "24.5° BTDC, 2.5° advanced; outside its limits",
        "21.5° BTDC, 0.5° retarded; within",
    )
    assert right.limits == "21° BTDC to 23° BTDC, nominal 22° BTDC"
    assert WHOLE.facts.synchronisation == "1° apart, the left magneto earlier; at most 1° allowed."


def test_that_a_void_reading_as_left_is_not_replaced_by_that_of_an_earlier_card() -> None:
    void = _with_left(SOUND, TypedApproach("as left", "337", "337.5", None, click_passed=False))
    order = replace(ORDER, cards=(card(), card(void, 2)))
    assert propose_entry(_proposed(order)).facts.timing[0].left == "not established"
    assert propose_entry(_proposed(order)).facts.synchronisation.startswith("Not known")
    found = _with_left(SOUND, TypedApproach("as found", "310", "337.5", None, click_passed=False))
    order = replace(ORDER, cards=(card(found), card(number=2)))
    assert propose_entry(_proposed(order)).facts.timing[0].found == "not established"


def test_that_a_card_that_only_looks_leaves_what_an_earlier_one_left() -> None:
    looked = _with_left(SOUND, TypedApproach("as found", "310", "336", None, click_passed=True))
    looked = replace(looked, right=None, limits=replace(looked.limits, right_btdc=None) if looked.limits else None)
    left = propose_entry(_proposed(replace(ORDER, cards=(card(), card(looked, 2))))).facts.timing[0]
    assert (left.found, left.left) == ("24° BTDC, 2° advanced; outside its limits", "22.5° BTDC, 0.5° advanced; within")
    only = propose_entry(_proposed(replace(ORDER, cards=(card(looked),)))).facts
    assert (only.timing[0].left, only.synchronisation) == ("not taken", "")


def test_that_a_magneto_without_readings_and_a_card_that_cannot_be_read_give_no_timing() -> None:
    nothing = replace(_with_left(SOUND), right=None)
    assert propose_entry(_proposed(replace(ORDER, cards=(card(nothing),)))).facts.timing == ()
    broken = _with_left(SOUND, TypedApproach("as left", "310", "many"))
    facts = propose_entry(_proposed(replace(ORDER, cards=(card(broken),)))).facts
    assert (facts.timing, facts.run_up) == ((), "")


def test_that_a_firing_position_after_tdc_is_said_as_such() -> None:
    late = _with_left(SOUND, TypedApproach("as left", "310", "2", None, click_passed=True))
    left = propose_entry(_proposed(replace(ORDER, cards=(card(late),)))).facts.timing[0].left
    assert left == "2° after TDC, 24° retarded; outside its limits"


@pytest.mark.parametrize(
    ("moved", "as_left"),
    [
        ([], ""),
        ([Part(Way.OFF, "M-1", serial="s-11")], "; as left the one that went on: see the parts"),
        (
            [Part(Way.OFF, "M-1", serial="S-11"), Part(Way.ON, "M-2", serial="S-40")],
            "; as left part no. M-2, serial S-40",
        ),
        ([Part(Way.OFF, "M-1", serial="S-11"), Part(Way.ON, "M-1", serial="S-11")], ""),
        ([Part(Way.OFF, "G-1", serial=" ")], ""),
    ],
)
def test_that_a_changed_magneto_is_named_with_the_one_that_went_on(moved: list[Part], as_left: str) -> None:
    name = f"left magneto, part no. M-1, serial S-11{as_left}"
    order = replace(ORDER, parts=tuple(PartMoved(part, Stamp("MC", at(9))) for part in moved))
    assert propose_entry(_proposed(order)).facts.timing[0].magneto == name


def test_that_a_magneto_of_which_nothing_is_known_is_named_by_its_side() -> None:
    engine = replace(ORDER.engine, magnetos=())
    order = replace(ORDER, aircraft=replace(ORDER.aircraft, engines=(engine,)), taken_in=None)
    assert [fact.magneto for fact in propose_entry(_proposed(order)).facts.timing] == ["left magneto", "right magneto"]
    assert propose_entry(_proposed(ORDER)).facts.timing[1].magneto.startswith(f"{Side.RIGHT} magneto")


def test_that_parts_directives_run_up_and_what_was_left_out_stand_in_the_entry() -> None:
    facts = WHOLE.facts
    assert facts.parts_off == ("part no. H-9, harness, serial or batch H-1, quantity 1, tag T-5",)
    assert facts.parts_on == ("part no. H-9, harness, serial or batch H-2, quantity 1, paper release R-8",)
    assert facts.searches == (
        (
            "looked for directives on engine, magneto in the list of 1 Mar 2031, 4 Mar 2031, "
            "by Mel Chan (MC), certificate mechanic 1234"
        ),
    )
    assert facts.directives == (
        (
            "D-31-02, amendment 2, dated 4 Jan 2031, magneto S-11, complied with on 4 Mar 2031 by inspection of the "
            "rotor, recurring, next due at 1734.5 hours, next due on 4 Mar 2032"
        ),
    )
    assert facts.run_up == (
        "1700 rpm on both; on left 1620 rpm, drop 80; on right 1610 rpm, drop 90; drops 10 apart. "
        "Limits: drop 150 rpm, 50 rpm apart; within"
    )
    assert facts.left_out == ("right magneto, left out of this work: timed last month elsewhere",)
    assert facts.deferred == (
        "Worn plug (declined: next visit; Mr Owner spoke for the customer)",
        "Faded placard (deferred)",
    )


def test_that_a_directive_done_once_and_a_bare_part_are_said_without_what_they_do_not_have() -> None:
    done = ORDER.directives[0]
    once = replace(
        done.directive, amendment="", dated=None, serial="", recurring=False, next_due_hours="", next_due_on=None
    )
    part = PartMoved(Part(Way.OFF, "G-1"), done.by)
    order = replace(ORDER, directives=(replace(done, directive=once),), parts=(part,))
    facts = propose_entry(_proposed(order)).facts
    assert facts.directives == ("D-31-02, magneto, complied with on 4 Mar 2031 by inspection of the rotor, once",)
    assert facts.parts_off == ("part no. G-1, quantity 1",)


def test_that_drops_outside_their_limits_are_said_so() -> None:
    bad = replace(SOUND, run_up=replace(SOUND.run_up, left_rpm="1200") if SOUND.run_up else None)
    assert propose_entry(_proposed(replace(ORDER, cards=(card(bad),)))).facts.run_up.endswith("outside")


def test_that_an_independent_mechanic_writes_no_number_of_a_station() -> None:
    station = WHOLE.facts.shop
    assert (station.name, station.station_certificate, station.is_station) == ("Mill Magneto Works", "ZZ9R001", True)
    alone = propose_entry(_proposed(ORDER, replace(INDEPENDENT, station_certificate="ZZ9R001"))).facts.shop
    assert (alone.station_certificate, alone.is_station) == ("", False)


def test_that_the_approver_stands_with_number_and_kind_and_the_signature_means_the_work_only() -> None:
    by = WHOLE.facts.approver
    assert (by.name, by.certificate_number, by.certificate_kind) == ("Ann Prover", "77", "repairman")
    assert WHOLE.facts.only_work == ONLY_WORK
    refused = propose_entry(source(EntryKind.MAINTENANCE, approves=False)).facts
    assert refused.only_work == ONLY_WORK_NOT_APPROVED


def test_that_an_inspection_gets_the_statement_that_the_shop_entered_for_each_outcome() -> None:
    good = propose_entry(source(EntryKind.INSPECTION, approves=True)).wording
    bad = propose_entry(source(EntryKind.INSPECTION, approves=False)).wording
    assert (good.statement, bad.statement) == (STATION.airworthy, STATION.not_airworthy)
    assert good.inspection_type == "100-hour"
    assert good.extent == (
        "Of the inspection, this entry covers the ignition system only: Time the magnetos to the engine."
    )
    assert WHOLE.wording.statement == WHOLE.wording.inspection_type == WHOLE.wording.extent == ""
    bare = replace(source(EntryKind.INSPECTION, approves=True), order=EMPTY)
    assert propose_entry(bare).wording.extent == ""


def test_that_a_list_of_discrepancies_belongs_to_an_order_that_is_not_approved_only() -> None:
    asked = source(EntryKind.MAINTENANCE, approves=False)
    assert propose_entry(asked).facts.discrepancies == asked.discrepancies
    assert propose_entry(replace(asked, approves=True)).facts.discrepancies is None


def test_that_another_wording_leaves_every_fact_as_it_was() -> None:
    mine = EntryWording("Timed both magnetos.", remarks="See the letter.")
    assert reworded(WHOLE, mine).facts == WHOLE.facts
    assert reworded(WHOLE, mine).wording == mine
    assert {one.name for one in fields(mine)} == {"work", "inspection_type", "extent", "statement", "remarks"}


@pytest.mark.parametrize(
    ("shop", "where"),
    [
        (STATION, []),
        (INDEPENDENT, []),
        (replace(STATION, name=" "), ["name"]),
        (replace(STATION, station_certificate=" "), ["station_certificate"]),
        (replace(INDEPENDENT, station_certificate="ZZ9R001"), ["station_certificate"]),
        (replace(STATION, not_airworthy=STATION.airworthy.upper()), ["not_airworthy"]),
    ],
)
def test_that_details_of_a_shop_that_contradict_each_other_are_found(shop: ShopDetails, where: list[str]) -> None:
    assert [fault.where for fault in shop_faults(shop)] == where
