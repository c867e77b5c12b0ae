"""The task card as a document: what stands on it, looked at as a value."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from desktop.assembly import PaperPrinter, timing_card
from desktop.core.errors import Refusal
from desktop.core.records.sealed.check_code import is_code
from desktop.core.words import sync_words, where_words
from desktop.files.readings import read_readings
from desktop.usecases.check_readings import check_readings
from desktop.usecases.papers.cards.task_card import CardPrint, task_card_paper
from desktop.usecases.papers.heading import GOVERNING, INVENTED, CardHeading
from desktop.usecases.print_card import print_card
from reports.document import (
    Band,
    Document,
    Fact,
    Finding,
    Paragraph,
    Picture,
    ReadingRow,
    Result,
    Signatures,
    Step,
)
from reports.document_signing import CheckCode
from tests.door import RULEBOOK
from tests.toml_card import GONE, Card, changed, geared_card, marks_card, sound_card, standing_card, text_of

COUPLED = {"left.impulse_lag": "30", "left.approach[1].click_passed": True, "left.approach[2].click_passed": True}
RUN_UP = {"both_rpm": "1700", "left_rpm": "1620", "right_rpm": "1610", "drop_most": "150", "apart_most": "50"}


def paper(card: Card, *, blank: bool = False, heading: CardHeading | None = None) -> Document:
    checked = check_readings(read_readings(text_of(card).encode()), RULEBOOK)
    return task_card_paper(checked, CardPrint(timing_card(), heading or CardHeading(), blank, "printed 1 Jan 2026"))


def inside(value: object, kind: type) -> Iterator[Any]:
    """Yield every value of a kind that stands anywhere in a document."""
    if isinstance(value, kind):
        yield value
    if is_dataclass(value):
        for one in fields(value):
            yield from inside(getattr(value, one.name), kind)
    elif isinstance(value, tuple):
        for entry in value:
            yield from inside(entry, kind)


def rows(document: Document) -> dict[str, ReadingRow]:
    """Return the reading rows by what they say; later ones of the same words win."""
    return {row.what: row for row in inside(document, ReadingRow)}


def words(document: Document) -> str:
    return "\n".join(inside(document, str))


def test_that_the_governing_sentence_stands_in_the_head() -> None:
    assert paper(sound_card()).head.governing == GOVERNING


def test_that_what_a_readings_file_cannot_know_is_left_for_the_pen() -> None:
    blanks = [fact for fact in inside(paper(sound_card()), Fact) if not fact.value]
    assert [fact.label.split(":")[0] for fact in blanks] == [
        "aircraft",
        "engine",
        "left magneto",
        "right magneto",
        "limits taken from",
        "revision current on, confirmed by",
        "remarks and discrepancies",
        "",
    ]


def test_that_invented_data_and_a_blank_card_say_so_across_the_head() -> None:
    assert paper(sound_card()).head.banner == ""
    assert paper(sound_card()).head.bands == ()
    assert paper(sound_card(), blank=True).head.bands == (Band("Blank", loud=True),)
    assert paper(sound_card(), heading=CardHeading(invented=True)).head.banner == INVENTED


def test_that_a_card_that_stops_says_so_on_every_page_and_an_empty_one_does_not() -> None:
    stopped = changed(sound_card(), {"left.approach[2].from": "345"})
    assert paper(stopped).head.bands == (Band("Stops: not to be approved", loud=True),)
    assert paper(stopped, blank=True).head.bands == (Band("Blank", loud=True),)


def test_that_a_print_of_a_readings_file_has_a_check_code_and_its_order_in_the_foot() -> None:
    one = paper(sound_card(), heading=CardHeading(order="W-9"))
    assert one.foot.order == "order W-9"
    assert paper(sound_card()).foot.order == ""
    (code,) = inside(one, CheckCode)
    (other,) = inside(paper(changed(sound_card(), {"left.approach[2].light": "337.5"})), CheckCode)
    assert is_code(code.code)
    assert code.code != other.code


def test_that_a_filled_card_shows_readings_as_typed_with_what_was_worked_out() -> None:
    found = rows(paper(changed(sound_card(), {"left.approach[2].light": "337,50"})))
    assert found["Approach 2: light came at"].target == "338"
    left = list(inside(paper(changed(sound_card(), {"left.approach[2].light": "337,50"})), ReadingRow))
    light = next(row for row in left if row.reading == "337,50")
    assert light.worked_out == "22.5° BTDC, 0.5° advanced"
    assert found["Approach 2: began at"].worked_out == "29°, with rotation"
    assert found["Approach 2: light went at, turned back"].worked_out == "backlash 2°"
    assert found["Stop touched against rotation"].worked_out == "0° off, 0.75° allowed: agrees"
    assert "arc 78°, midpoint at 39" in words(paper(sound_card()))


def test_that_a_void_approach_shows_no_timing_but_why_it_does_not_count() -> None:
    document = paper(changed(sound_card(), {"left.approach[2].from": "345"}))
    light = next(row for row in inside(document, ReadingRow) if row.what == "Approach 2: light came at")
    assert light.worked_out == "does not count: it did not come with rotation; the play was not taken out"
    assert "BTDC" not in light.worked_out


def test_that_a_blank_card_has_empty_readings_with_targets_and_back_off() -> None:
    card = changed(sound_card(), {**COUPLED, "left.back_off_least": "10", "left.back_off_most": "40"})
    document = paper(card, blank=True)
    assert all(row.reading == "" for row in inside(document, ReadingRow))
    found = list(inside(document, ReadingRow))
    assert any(row.worked_out == "back 10° at least, 40° at most, then with rotation" for row in found)
    assert any(row.worked_out == "back well past the mark, then with rotation" for row in found)
    assert any(row.choices == ("yes", "no") for row in found)
    assert {row.target for row in found if row.what.endswith("light came at")} == {"338"}
    assert not list(inside(document, Result))
    assert not list(inside(document, Finding))


def test_that_a_card_that_is_not_yet_measured_prints_boxes() -> None:
    card = changed(sound_card(), {"stop": GONE, "left.approach": GONE, "right.approach": GONE})
    found = rows(paper(card))
    assert found["Stop touched with rotation"].reading == ""
    assert found["Midpoint of the two"].target == "0 ± 0.75"
    assert found["Half of it"].reading == ""
    assert found["Disc set to"].choices == ()
    assert found["While the piston rests"].choices == ("on the contact with rotation", "on the contact against")
    assert found["As left 1: light came at"].target == "338"
    assert found["As left 1: light came at"].worked_out == "limits 337 to 339"


def test_that_a_target_that_is_not_known_is_not_printed() -> None:
    card = changed(standing_card(), {"stop": GONE, "left.approach": GONE, "right.approach": GONE})
    light = rows(paper(card))["As left 1: light came at"]
    assert (light.target, light.worked_out) == ("", "target: TDC reading minus 22°")


def test_that_an_empty_card_of_a_disc_not_zeroed_has_no_target_from_old_contacts() -> None:
    light = rows(paper(standing_card(), blank=True))["As left 1: light came at"]
    assert (light.target, light.worked_out) == ("", "target: TDC reading minus 22°")
    down = changed(standing_card(), {"measure.counts": "down"})
    assert rows(paper(down, blank=True))["As left 1: light came at"].worked_out == "target: TDC reading plus 22°"


def test_that_the_arc_is_not_halved_on_a_geared_propeller() -> None:
    found = rows(paper(geared_card(), blank=True))
    assert "Half of it" not in found
    assert "Stop touched against rotation" in found


def test_that_a_pair_that_gives_no_tdc_says_so() -> None:
    found = rows(paper(changed(sound_card(), {"stop[1].against": "180"})))
    document = paper(changed(sound_card(), {"stop[1].against": "180"}))
    assert any(row.worked_out == "arc 180°: gives no TDC" for row in inside(document, ReadingRow))
    assert found["Stop touched against rotation"].reading == "39"


def test_that_without_zeroing_the_last_of_several_pairs_is_the_closing_one() -> None:
    document = paper(standing_card())
    steps = [step for step in document.blocks if isinstance(step, Step) and list(inside(step, ReadingRow))]
    readings = [[row.reading for row in inside(step, ReadingRow)] for step in steps]
    pairs = standing_card()["stop"]
    assert [pairs[0]["with"], pairs[0]["against"]] == readings[0][:2]
    assert [pairs[-1]["with"], pairs[-1]["against"]] in [reading[:2] for reading in readings[1:]]
    assert "on the disc as it stood" in words(document)
    assert "To make TDC read 0" not in words(document)


def test_that_marks_have_no_stop_contacts_on_the_card() -> None:
    document = paper(marks_card())
    assert "Stop touched with rotation" not in rows(document)
    assert rows(document)["Approach 1: light came at"].target == "22 before"
    assert "the engine's marks, read to 1°" in words(document)


def test_that_a_straight_approach_prints_compression_and_an_approach_without_back_prints_no_backlash() -> None:
    card = changed(sound_card(), {"left.approach[2].from": "compression", "left.approach[2].back": GONE})
    document = paper(card)
    began = [row for row in inside(document, ReadingRow) if row.reading == "compression"]
    assert [row.worked_out for row in began] == ["straight up from compression, as declared"]


def test_that_no_movement_is_said() -> None:
    document = paper(changed(sound_card(), {"left.approach[2].from": "338"}))
    assert any(row.worked_out == "no movement at all" for row in inside(document, ReadingRow))


def test_that_the_coupling_shows_where_it_clicks_also_after_tdc() -> None:
    assert rows(paper(changed(sound_card(), COUPLED)))["Approach 2: snap passed before backing off"].worked_out == (
        "coupling clicks at 2° BTDC"
    )
    late = changed(sound_card(), {**COUPLED, "left.impulse_lag": "45"})
    assert rows(paper(late))["Approach 2: snap passed before backing off"].worked_out == (
        "coupling clicks at 8° after TDC"
    )


def test_that_torque_and_run_up_stand_on_the_card_where_the_file_has_them() -> None:
    job = {"what": "nut <b>", "required": "300", "unit": "in-lb", "wrench": "10", "extension": "4"}
    document = paper(changed(sound_card(), {"torque": [job], "run_up": RUN_UP}))
    found = rows(document)
    # What the wrench is set to is no reading: no box waits for one, on a filled card and on an empty one.
    empty = paper(changed(sound_card(), {"torque": [job]}), blank=True)
    for one in (document, empty):
        said = ["".join(run.text for run in part.runs) for part in inside(one, Paragraph)]
        assert "nut <b>: set 214.29 in-lb for 300 in-lb at the nut." in said
        assert "nut <b>" not in rows(one)
    assert found["Switch at L"].worked_out == "drop 80 rpm; drop at most 150 rpm"
    assert found["Difference of the drops"].worked_out == "apart at most 50 rpm: within"
    blank = rows(paper(changed(sound_card(), {"run_up": RUN_UP}), blank=True))
    assert (blank["Switch at BOTH"].reading, blank["Switch at L"].worked_out) == ("", "drop at most 150 rpm")


def test_that_drops_outside_are_said() -> None:
    document = paper(changed(sound_card(), {"run_up": RUN_UP | {"left_rpm": "1500"}}))
    assert rows(document)["Difference of the drops"].worked_out == "apart at most 50 rpm: outside"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"right.approach[2].light": "337.5"}, "0.5° apart, the right magneto earlier; at most 1° allowed."),
        ({"left.approach[2].light": "337.5"}, "0.5° apart, the left magneto earlier; at most 1° allowed."),
        ({}, "Both deviate alike; at most 1° allowed."),
        ({"limits.apart_most": GONE}, "Both deviate alike; no limit given."),
        ({"left.approach[2].from": "345"}, "Not known: both magnetos must be established as left."),
    ],
)
def test_that_the_magnetos_are_compared_in_words(changes: dict[str, object], said: str) -> None:
    assert said in words(paper(changed(sound_card(), changes)))


def test_that_a_blank_card_shows_the_limit_between_the_magnetos() -> None:
    assert rows(paper(sound_card(), blank=True))["Left lamp at"].worked_out == "at most 1° apart"
    without = changed(sound_card(), {"limits.apart_most": GONE})
    assert rows(paper(without, blank=True))["Right lamp at"].worked_out == ""


def test_that_results_carry_verdict_limits_uncertainty_and_what_to_turn() -> None:
    card = changed(sound_card(), {"left.approach[2].light": "337.5", "left.slot_radius_mm": "38"})
    said = words(paper(card))
    assert "Left magneto. Within: 22.5° BTDC" in said
    assert (
        "0.5° advanced; limits 21° to 23° BTDC. Uncertainty ± 0.79° (k = 2); estimated probability within 89.7 %."
        in said
    )
    assert "It may stay as it is. To reach 22°: turn the housing counter-clockwise, seen from the back, " in said
    assert "seen from the back, 0.75° of the magneto (0.5 mm at the slot)." in said
    assert "It stands on nominal: do not turn the housing." in said


@pytest.mark.parametrize(
    ("light", "teeth", "said"),
    [
        ("330", "30", "The mesh is 1 tooth advanced; then nothing is left to turn."),
        ("322", "30", "The mesh is 2 teeth advanced; then nothing is left to turn."),
        ("347", "30", "The mesh is 1 tooth retarded; then 1.5° of the magneto retarded is left to turn."),
    ],
)
def test_that_the_mesh_is_said_in_teeth(light: str, teeth: str, said: str) -> None:
    changes: dict[str, object] = {
        "left.approach": [{"from": "300", "light": light, "back": str(int(light) - 2)}],
        "left.drive_gear_teeth": int(teeth),
        "left.slot_degrees": "10",
    }
    assert said in words(paper(changed(sound_card(), changes)))


def test_that_one_housing_is_turned_by_one_side() -> None:
    card = changed(sound_card(), {"magnetos.one_housing": True, "left.approach[2].light": "337.5"})
    document = paper(card)
    assert "One housing carries both breakers: it is turned by the other side" in words(document)
    assert "both magnetos in one housing" in words(document)


@pytest.mark.parametrize(
    ("limit", "said"),
    [("90", "estimated probability within over 99.9 %."), ("0", "estimated probability within under 0.1 %.")],
)
def test_that_certainty_is_never_claimed(limit: str, said: str) -> None:
    card = changed(sound_card(), {"limits.advanced_most": limit, "limits.retarded_most": limit})
    assert said in words(paper(card))


def test_that_a_geared_propeller_is_named() -> None:
    assert "geared, " in words(paper(geared_card()))


def test_that_a_whole_ratio_is_written_without_a_fraction() -> None:
    assert "geared, 2 turns a crank turn" in words(
        paper(changed(geared_card(), {"engine.propeller_turns_per_crank_turn": "2"}))
    )


def test_that_findings_say_where_in_plain_words_and_ask_for_reasons() -> None:
    document = paper(changed(sound_card(), {"stop[2]": GONE, "left.approach[2].from": "345"}))
    findings = list(inside(document, Finding))
    assert next(finding.weight for finding in findings) == "stop"
    assert findings[0].source.startswith("Left magneto, approach 2. ")
    asked = [finding for finding in findings if finding.weight == "ask"]
    assert [bool(finding.reason) for finding in asked] == [True]
    assert "Not to be approved while something stops." in words(document)


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("stop", "stop contacts"),
        ("stop[2]", "stop contacts, pair 2"),
        ("limits.apart_most", "limits"),
        ("measure.read_to", "way of measuring"),
        ("magnetos.one_housing", "both magnetos"),
        ("run_up.left_rpm", "run-up"),
        ("right", "right magneto"),
        ("right.approach", "right magneto"),
        ("right.approach[3].light", "right magneto, approach 3"),
    ],
)
def test_that_a_path_is_said_in_plain_words(path: str, said: str) -> None:
    assert where_words(path) == said


def test_that_three_people_sign_and_the_approval_is_for_the_work_performed_only() -> None:
    signatures = list(inside(paper(sound_card()), Signatures))
    assert [box.title for box in signatures[0].boxes] == ["Mechanic", "Inspector", "Approved for return to service"]
    assert "work performed only" in signatures[0].boxes[2].meaning


def test_that_each_magneto_has_its_dial_and_the_housing_where_it_is_known() -> None:
    assert len(list(inside(paper(sound_card()), Picture))) == 6
    assert len(list(inside(paper(changed(sound_card(), {"left.approach[2].from": "345"})), Picture))) == 5


def test_that_signs_the_paper_lacks_are_refused_before_anything_is_drawn() -> None:
    job = {"what": "tab\there", "required": "300", "unit": "in-lb", "wrench": "10", "extension": "4"}
    checked = check_readings(read_readings(text_of(changed(sound_card(), {"torque": [job]})).encode()), RULEBOOK)
    what = CardPrint(timing_card(), CardHeading(), blank=False, printed="")
    with pytest.raises(Refusal, match=r"torque\[1\]\.what: the paper's type has no sign for U\+0009"):
        print_card(checked, what, "letter", PaperPrinter())


def test_that_a_heading_is_looked_through_as_well() -> None:
    checked = check_readings(read_readings(text_of(sound_card()).encode()), RULEBOOK)
    what = CardPrint(timing_card(), CardHeading(aircraft="XQ-Ж"), blank=False, printed="")
    with pytest.raises(Refusal, match="aircraft: "):
        print_card(checked, what, "letter", PaperPrinter())


def test_that_a_disapproval_is_all_that_can_be_signed_while_something_stops() -> None:
    stopped = paper(changed(sound_card(), {"left.approach[2].from": "345"}))
    assert [box.title for box in next(inside(stopped, Signatures)).boxes][2] == "Not approved"


def test_that_a_blank_card_says_that_nothing_is_checked_yet() -> None:
    assert "These readings are not checked yet." in words(paper(sound_card(), blank=True))
    assert "These readings are not checked yet." not in words(paper(sound_card()))


def test_that_every_page_says_whose_card_it_is() -> None:
    heading = CardHeading(order="W-9", aircraft="XQ-TBK, Tarnbeck 4, no. 31")
    assert paper(sound_card(), heading=heading).head.card == "order W-9   XQ-TBK   card T4 rev 2"


def test_that_the_way_of_the_propeller_is_said_for_whoever_stands_at_it() -> None:
    assert "the propeller turns counter-clockwise as you face it, clockwise seen from the rear" in words(
        paper(sound_card())
    )


def test_that_what_was_not_taken_is_said_on_a_finished_card() -> None:
    assert "None was taken." in words(paper(sound_card()))
    assert "None was taken." not in words(paper(sound_card(), blank=True))


def test_that_marks_say_that_their_own_errors_are_not_in_the_uncertainty() -> None:
    assert "Errors of the marks themselves are not in it." in words(paper(marks_card()))
    assert "Errors of the marks themselves are not in it." not in words(paper(sound_card()))


def test_that_a_closing_pair_says_whether_it_agrees() -> None:
    moved = paper(changed(sound_card(), {"stop[2].against": "41"}))
    assert "1° off, 0.75° allowed: the disc moved" in words(moved)
    assert "allowed: agrees" in words(paper(standing_card()))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({}, "By the reading as found: counter-clockwise, seen from the back, 1.5° of the magneto."),
        ({"left.approach[1].light": "338"}, "By the reading as found: do not turn."),
        (
            {"left.approach[1].light": "339"},
            "By the reading as found: clockwise, seen from the back, 1.5° of the magneto.",
        ),
    ],
)
def test_that_the_step_of_turning_says_how_far_by_the_reading_as_found(changes: dict[str, object], said: str) -> None:
    found = {"when": "as found", "from": "310", "light": "337", "back": "335"}
    card = changed(sound_card(), {"left.approach": [found, *sound_card()["left"]["approach"]], **changes})
    assert said in words(paper(card))


def test_that_the_step_of_turning_has_boxes_where_nothing_was_found() -> None:
    found = rows(paper(sound_card()))
    turn = found["Turn the housing by"]
    assert (turn.reading, turn.choices) == ("", ())
    assert found["Which way"].choices == ("clockwise, seen from the back", "counter-clockwise")
    one = changed(sound_card(), {"magnetos.one_housing": True})
    assert rows(paper(one))["Turn the housing by"].unit == "° of the magneto"


def test_that_one_housing_is_turned_by_the_side_that_was_found_first() -> None:
    found = {"when": "as found", "from": "310", "light": "337", "back": "335"}
    late = found | {"light": "339"}
    both = sound_card()["left"]["approach"]
    card = changed(
        sound_card(),
        {"magnetos.one_housing": True, "left.approach": [late, *both], "right.approach": [found, *both]},
    )
    assert "By the reading as found: counter-clockwise, seen from the back, 1.5° of the magneto." in words(paper(card))
    assert "By the reading as found: clockwise" not in words(paper(card))


def test_that_one_housing_of_which_nothing_is_known_is_turned_by_nobody() -> None:
    void = {"left.approach[2].from": "345", "right.approach[2].from": "345", "magnetos.one_housing": True}
    said = words(paper(changed(sound_card(), void)))
    assert "turned by the other side" not in said
    assert "No timing counts as left." in said


def test_that_one_magneto_is_compared_with_nothing() -> None:
    checked = check_readings(read_readings(text_of(changed(sound_card(), {"right": GONE})).encode()), RULEBOOK)
    assert sync_words(checked.worked) == ""
