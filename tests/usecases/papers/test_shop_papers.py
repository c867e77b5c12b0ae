"""Papers of the shop and around an order: leads, tools, tags, due, drift, roster, sheets, people, restore, lists."""

from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.aircraft.due import Coming, Due
from desktop.core.shop.aircraft.intake import TakenIn
from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.safe_state import new_board
from desktop.core.shop.orders.visits import History, history_of, visit_of
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.sheets.sheet_choices import Configuration
from desktop.core.shop.sheets.sheet_fit import Lead, leads_by_firing_order
from desktop.core.shop.sheets.sheet_life import begun, compared, finished
from desktop.core.shop.sheets.sheets import SheetDocument
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Lamp, Tool
from desktop.core.timing.readings import Side
from desktop.files.demo_shop import demo_shop
from desktop.usecases.drift_drawing import drift_words
from desktop.usecases.fill_card import look_at
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.cards.leads_drawing import leads_drawing
from desktop.usecases.papers.cards.leads_paper import UNKNOWN, leads_paper
from desktop.usecases.papers.cards.tools_paper import tools_paper, used_on
from desktop.usecases.papers.frame import About, Printing, stamped
from desktop.usecases.papers.from_shop import MAKERS, paper_of
from desktop.usecases.papers.kinds import KINDS, kind_named
from desktop.usecases.papers.orders.tags_paper import ALL_NORMAL
from desktop.usecases.papers.shop.declaration_paper import SIGNED_BY_SELF
from desktop.usecases.papers.shop.drift_paper import drift_paper
from desktop.usecases.papers.shop.due_paper import due_paper
from desktop.usecases.papers.shop.list_paper import list_paper, tool_cells
from desktop.usecases.papers.shop.roster_paper import roster_paper
from desktop.usecases.papers.shop.sheet_paper import sheet_paper
from desktop.usecases.papers.shop.sheet_rows import unit_of
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.lists.keep_lists import keep_tool
from desktop.usecases.shop.lists.look_back import ComingLine
from desktop.usecases.shop.lists.look_up import see_order
from reports.document import Caution, Column, Picture, SignatureBox, Table
from reports.document_tags import Tag
from reports.document_text import Entry
from reports.drawing import Circle, Drawing, Line, Polygon, Words
from tests.core.shop.sheets.sheet_cases import FULL_MAGNETO, engine
from tests.door import RULEBOOK
from tests.usecases.papers.pages import code, inside, made, pages, words
from tests.usecases.papers.paper_floor import BARE, PRINTED, RADIAL, SIGNED, TWIN, PaperFloor
from tests.usecases.shop.visits_floor import VISITS, new_order, readings

ABOUT = About("Mill Shop")
NAMES = Names()


def table(paper: object, title: str) -> Table:
    found: Table = next(one for one in inside(paper, Table) if one.title.startswith(title))
    return found


# --- kinds ---


def test_that_every_kind_is_made_and_is_named_once_in_plain_words() -> None:
    assert set(MAKERS) == set(KINDS)
    names = [kind.name for kind in KINDS]
    assert len(set(names)) == len(names)
    for name in names:
        assert name == name.lower()
        found = kind_named(name)
        assert found is not None
        assert found.name == name
    assert kind_named("invoice") is None


# --- ignition leads ---


def test_that_the_leads_say_electrode_cylinder_and_plug_by_shape_and_word(desk: PaperDesk) -> None:
    paper = made(desk, kinds.LEADS, TWIN)
    [picture] = inside(paper, Picture)
    drawing = picture.drawing
    assert isinstance(drawing, Drawing)
    said = [one.text for one in inside(drawing, Words)]
    assert "L lower" in said
    assert "R upper" in said
    # A circle with its electrode for each lead of the left magneto, a square for each of the right, and the key.
    assert len(list(inside(drawing, Circle))) == 6 + 1
    assert len([one for one in inside(drawing, Polygon) if len(one.points) == 4]) == 6 + 6 + 1 + 1
    rows = table(paper, "Each lead").rows
    assert rows[1][:4] == ("left", "2", "4", "lower")
    assert rows[7][:4] == ("right", "2", "4", "upper")
    assert all(row[4:] == (None, None) for row in rows)
    assert "Firing order 1-4-5-2-3-6." in words(paper)
    assert [box.kind for box in inside(paper, Caution)] == ["warning"]


def test_that_a_radial_is_drawn_clockwise_from_the_rear_with_the_first_cylinder_at_the_top(desk: PaperDesk) -> None:
    # FAA-H-8083-32B p. 1-16: single-row radials are numbered clockwise from the rear, No. 1 at the top.
    [picture] = inside(made(desk, kinds.LEADS, RADIAL), Picture)
    numbers = {one.text: (one.x, one.y) for one in inside(picture.drawing, Words) if one.size == 13.0}
    assert sorted(numbers) == ["1", "2", "3", "4", "5", "6", "7"]
    middle = picture.drawing.width / 2
    assert numbers["1"][0] == pytest.approx(middle)
    assert numbers["1"][1] == min(y for _, y in numbers.values())
    assert numbers["2"][0] > middle > numbers["7"][0]
    assert "Dashed" not in picture.caption


@pytest.mark.parametrize("count", [5, 7, 9, 14, 18, 28])
def test_that_leads_around_a_radial_stand_clear_of_each_other_and_of_the_paper(count: int) -> None:
    leads = tuple(Lead(side, place, place, "front") for side in Side for place in range(1, count + 1))
    drawing = leads_drawing(leads, Configuration.RADIAL)
    assert drawing is not None
    marks = [one for one in inside(drawing, Words) if one.text.startswith(("L front", "R front"))]
    assert len(marks) == 2 * count
    for one in marks:
        assert 0 < one.x < drawing.width - 40
        assert 0 < one.y < drawing.height
    boxes = [(one.x - 24, one.y - 11, one.x + 38, one.y + 6) for one in marks]
    if count <= 18:
        for at, (left, top, right, bottom) in enumerate(boxes):
            for other in boxes[at + 1 :]:
                assert not (left < other[2] and other[0] < right and top < other[3] and other[1] < bottom)


def test_that_the_front_row_of_two_is_dashed_and_said_so() -> None:
    radial = engine("bracken-seven")
    assert radial.engine is not None
    order = (1, 10, 5, 14, 9, 4, 13, 8, 3, 12, 7, 2, 11, 6)
    paper = leads_paper(replace(radial, plug=None, engine=replace(radial.engine, firing_order=order)), ABOUT)
    [picture] = inside(paper, Picture)
    assert "Dashed circles: front row." in picture.caption
    dashed = [one for one in inside(picture.drawing, Circle) if one.stroke and one.stroke.dashed]
    assert len(dashed) == 7


def test_that_opposed_engines_are_drawn_without_a_claim_where_a_cylinder_sits() -> None:
    leads = leads_by_firing_order(engine("marrow-four"))
    drawing = leads_drawing(leads, Configuration.OPPOSED)
    assert drawing is not None
    assert not list(inside(drawing, Line))
    assert leads_drawing((), Configuration.OPPOSED) is None


def test_that_an_engine_without_a_firing_order_has_no_drawing() -> None:
    paper = leads_paper(replace(engine(), engine=None), ABOUT)
    assert not list(inside(paper, Picture))
    assert UNKNOWN in words(paper)


def test_that_leads_need_a_card_with_the_engines_sheet(desk: PaperDesk) -> None:
    with pytest.raises(Refusal, match=r"No card of this order was issued with the engine's limits sheet"):
        paper_of(desk, Asked(kinds.LEADS, SIGNED), PRINTED)


# --- tools and tags ---


def test_that_the_tool_list_begins_with_what_the_cards_name_and_counts_out_and_in(own_floor: PaperFloor) -> None:
    lamp = Tool("L-9", "light", own_floor.file.tools()[0].care, lamp=Lamp.OFF)
    keep_tool(own_floor.shop, own_floor.by("KEEP"), lamp)
    desk = own_floor.paper_desk()
    paper = made(desk, kinds.TOOLS, TWIN)
    written = table(paper, "Written on the cards")
    assert [row[0] for row in written.rows] == ["L-1", "W-3"]
    assert all(row[-2:] == (None, None) for row in written.rows)
    others = table(paper, "Other tools")
    assert [row[0] for row in others.rows] == ["L-9", "W-9"]
    assert others.rows[0][1] == "light, lamp off at opening"
    assert others.rows[1][4] == "3 Mar 2031: OUT OF DATE"
    assert used_on(see_order(desk.shop.store, BARE)) == ()


def test_that_a_tool_that_is_on_no_list_is_named_as_written(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, SIGNED)
    card = order.cards[0]
    odd = replace(card, taken=tuple(replace(one, tool="X-7") for one in card.taken))
    paper = tools_paper("Mill", order.with_card(odd), desk.shop.store.tools(), date(2031, 3, 4))
    assert ("X-7", "not on the shop's list") in [row[:2] for row in table(paper, "Written").rows]
    assert tool_cells(desk.shop.store.tools()[0])[4] == ""


def test_that_each_part_that_came_off_gets_a_tag_and_an_order_without_one_an_empty_tag(desk: PaperDesk) -> None:
    [tag] = inside(made(desk, kinds.REMOVED_PARTS, TWIN), Tag)
    text = words(tag)
    for said in ("Removed part T-5", "REMOVED: NOT TO BE INSTALLED", "H-9", "H-1", "Mel Chan (MECH)", "W-0002"):
        assert said in text
    assert tag.bands == ("Invented data", "LEFT ENGINE")
    [empty] = inside(made(desk, kinds.REMOVED_PARTS, BARE), Tag)
    assert empty.title == "Removed part"
    assert "H-9" not in words(empty)


def test_that_the_propellers_tag_is_read_from_afar_and_says_what_is_not_normal(desk: PaperDesk) -> None:
    [tag] = inside(made(desk, kinds.PROPELLER_TAG, TWIN), Tag)
    assert tag.big == "DO NOT TURN THE PROPELLER"
    assert "Magneto loose" in words(tag)
    assert ALL_NORMAL not in words(tag)
    assert "DO NOT TURN" in pages(made(desk, kinds.PROPELLER_TAG, TWIN))[0]


# --- coming due and drift ---


def test_that_what_comes_due_says_hours_and_days_left_or_over(desk: PaperDesk) -> None:
    rows = table(made(desk, kinds.DUE), "").rows
    assert ("directive D-31-02", "magneto 7741", "XQ-TBK, left engine", "2150", "", "45.4 h left") in rows


@pytest.mark.parametrize(
    ("due", "hours", "days", "left"),
    [
        (Due("a", Subject.ENGINE, "1", on=date(2031, 3, 1)), None, -3, "OVERDUE: 3 days over"),
        (Due("a", Subject.ENGINE, "1", at_hours=Fraction(10)), None, None, "hours not known"),
        (
            Due("a", Subject.ENGINE, "1", Fraction(10), date(2031, 4, 1)),
            Fraction(-2),
            28,
            "OVERDUE: 2 h over, 28 days left",
        ),
        (Due("a", Subject.ENGINE, "1"), None, None, "not known when it was done last"),
    ],
)
def test_that_each_thing_due_is_said_in_words(due: Due, hours: Fraction | None, days: int | None, left: str) -> None:
    paper = due_paper([ComingLine(Coming(due, hours, days))], ABOUT)
    assert next(iter(inside(paper, Table))).rows[0][-1] == left


def test_that_the_intervals_of_the_limits_sheets_stand_on_the_paper_by_engine_and_by_magneto(desk: PaperDesk) -> None:
    # By hand: 412 h since overhaul at 2104.6 h and 500 h between inspections: due at 2192.6 h, in 88 h.
    what = "inspection off the engine\nevery 500 h or 48 months from its overhaul, sheet ostrin-t2-l rev 1"
    rows = table(made(desk, kinds.DUE), "").rows
    assert (what, "magneto 7741", "XQ-TBK, left engine", "2192.6", "", "88 h left") in rows
    timing = "magneto timing to the engine\nevery 100 h or 12 months, sheet marrow-six rev 1"
    assert (timing, "engine M6-0118", "XQ-TBK, left engine", "", "", "not known when it was done last") in rows
    text = " ".join(pages(made(desk, kinds.DUE)))
    assert "every 500 h or 48 months from its overhaul, sheet ostrin-t2-l rev 1" in text


def drifted() -> History:
    """Return the visits of a magneto that drifts, worked out as the shop does."""
    visits = []
    for number, visit in enumerate(VISITS, 1):
        new = new_order(visit)
        by = Stamp("LO", datetime.combine(visit.on, datetime.min.time(), UTC))
        assert new.intake is not None
        order = WorkOrder(
            number, 1, by, Customer("Ada"), new.aircraft, new.position, new_board(by), taken_in=TakenIn(new.intake, by)
        )
        checked = look_at(readings(visit), RULEBOOK).checked
        assert checked is not None
        found = visit_of(order, "M-4471", [checked.worked])
        assert found is not None
        visits.append(found)
    return history_of("M-4471", visits)


def test_that_the_drift_of_a_magneto_is_a_picture_words_and_every_visit() -> None:
    history = drifted()
    paper = drift_paper(history, ABOUT)
    [picture] = inside(paper, Picture)
    assert picture.width_mm < 170
    text = words(paper)
    assert drift_words(history) in text
    assert [row[0] for row in table(paper, "Visits").rows] == ["W-0004", "W-0003", "W-0002", "W-0001"]
    assert table(paper, "Visits").rows[1][6:] == ("1° retarded", "0.5° advanced")
    assert table(paper, "Visits").rows[3][6] == ""
    assert "none of the maker's intervals" in text


def test_that_the_drift_says_part_number_engine_sheet_and_limits(desk: PaperDesk) -> None:
    paper = made(desk, kinds.DRIFT, of="7741")
    said = {entry.label: entry.value for entry in inside(paper, Entry)}
    assert said == {
        "part number": "T2-L",
        "side": "left magneto",
        "aircraft": "XQ-TBK, Tarnbeck 6T, no. 31",
        "engine": "Marrow Six, no. M6-0118, left engine",
        "limits sheets": "marrow-six rev 1, ostrin-t2-l rev 1",
        "limits": said["limits"],
    }
    assert "retarded" in (said["limits"] or "")
    text = " ".join(pages(paper))
    assert "ostrin-t2-l rev 1" in text
    order = see_order(desk.shop.store, TWIN)
    history = replace(drifted(), limits=None)
    bare = replace(order, cards=(), taken_in=None, parts=(), position=EnginePosition.RIGHT)
    unknown = drift_paper(history, ABOUT, bare)
    assert next(inside(unknown, Entry)).value == "not written down"
    assert "none on its card" in words(unknown)
    on = PartMoved(Part(Way.ON, "T9", "Magneto", "m-4471"), order.opened)
    put_on = drift_paper(history, ABOUT, replace(order, parts=(on,)))
    assert next(inside(put_on, Entry)).value == "T9"


def test_that_a_magneto_with_one_visit_or_none_has_words_and_no_picture(desk: PaperDesk) -> None:
    one = made(desk, kinds.DRIFT, of="7741")
    assert not list(inside(one, Picture))
    assert [row[0] for row in table(one, "Visits").rows] == ["W-0002"]
    with pytest.raises(Refusal, match=r'No magneto "ZZ" was on an order of this shop\. Name it by the serial number'):
        paper_of(desk, Asked(kinds.DRIFT, of="ZZ"), PRINTED)
    with pytest.raises(Refusal, match=r"Name the magneto by its serial number\."):
        paper_of(desk, Asked(kinds.DRIFT, of="  "), PRINTED)


# --- roster ---


def test_that_the_roster_lists_inspectors_authorised_persons_and_who_left(desk: PaperDesk) -> None:
    paper = made(desk, kinds.ROSTER)
    said = {entry.label: entry.value for entry in inside(paper, Entry)}
    assert said["inspectors"] == "Mel Chan (MECH), Rolf Aar (ROLF)"
    assert said["authorised to approve for return to service"] == "Rolf Aar (ROLF)"
    assert [row[0] for row in table(paper, "Not with").rows] == ["GONE"]
    text = words(paper)
    assert "ZZ9R001" in text
    assert "helper, under MECH" in text
    assert "14 CFR 145.161(b)" in text
    assert "is out of date after 11 Mar 2031" in text


def test_that_a_change_of_long_ago_is_not_marked_and_an_empty_roster_says_nobody() -> None:
    old = Person("AB", "Ann Bell", (Right.INSPECTOR,), date(2029, 1, 1), until=date(2032, 1, 1))
    paper = roster_paper((old,), "", date(2031, 3, 4), ABOUT)
    assert table(paper, "Everybody").rows[0][-1] == "since 1 Jan 2029\nuntil 1 Jan 2032"
    assert "repair station" not in words(paper)
    assert "Nobody." in words(roster_paper((), "", date(2031, 3, 4), ABOUT))
    assert "last change" not in words(roster_paper((), "", date(2031, 3, 4), ABOUT))
    new = roster_paper((replace(old, changed=date(2031, 3, 3)),), "", date(2031, 3, 4), ABOUT)
    assert table(new, "Everybody").rows[0][-1] == "since 1 Jan 2029\nuntil 1 Jan 2032\nchanged 3 Mar 2031"


def test_that_the_roster_breaks_no_word_of_ratings_and_rights_inside(desk: PaperDesk) -> None:
    rating = "airframe and powerplant, inspection authorisation"
    rights = (Right.AUTHORISED, Right.INSPECTOR, Right.RECORDS)
    person = Person(
        "AV",
        "Ada Varn",
        rights,
        date(2031, 1, 1),
        certificate_kind="mechanic",
        certificate_number="0000072",
        ratings=rating,
    )
    for size in ("letter", "a4"):
        text = pages(roster_paper((person,), "", date(2031, 3, 4), ABOUT), size)[0]
        for word in (*rating.replace(",", "").split(), "authorised", "inspector", "records", "keeper", "mechanic"):
            assert word in text.replace(",", "").split(), (size, word)


def test_that_the_roster_of_a_shop_of_eight_stands_on_one_page_with_its_signature() -> None:
    people = demo_shop().person
    for size in ("letter", "a4"):
        printed = pages(stamped(roster_paper(people, "QLZR000D", date(2026, 10, 12), ABOUT), Printing(PRINTED)), size)
        assert len(printed) == 1
        assert "This is the roster of the shop as of the day above." in printed[0]
        assert "check code of this print" in printed[0]
        assert all(person.name in printed[0] for person in people)
        assert "mechanic 0000118" in printed[0]


# --- limits sheets ---


@pytest.mark.parametrize("sheet", ["marrow-six", "ostrin-t2-l"])
def test_that_every_line_of_an_invented_sheet_says_so(desk: PaperDesk, sheet: str) -> None:
    paper = made(desk, kinds.SHEET, of=sheet)
    for one in inside(paper, Table):
        for row in one.rows:
            assert "INVENTED" in (row[-1] or "")
    assert all("INVENTED" in (entry.value or "") for entry in inside(paper, Entry))
    for page in pages(paper):
        assert "INVENTED DATA" in page
    assert "A limits sheet is transcribed." in words(paper)


def test_that_a_sheet_shows_values_with_their_units_and_lists_in_one_line(desk: PaperDesk) -> None:
    paper = made(desk, kinds.SHEET, of="marrow-six")
    assert ("Left magneto fires", "23", "crankshaft degrees BTDC", "INVENTED") in table(paper, "Limits").rows
    assert ("Stroke", "98", "mm", "INVENTED") in table(paper, "Engine").rows
    assert table(paper, "Intervals").rows[0][:2] == ("Magneto timing to the engine", "every 100 h or 12 months")
    assert table(paper, "Types").rows == (("Type designation", "Marrow Six", "", "INVENTED"),)
    assert unit_of("engine.cylinders") == ""


def test_that_a_sheet_of_a_real_document_is_not_marked_and_a_draft_says_it_is_one() -> None:
    by = Stamp("KE", datetime(2031, 3, 4, 9, tzinfo=UTC))
    real = replace(FULL_MAGNETO, invented=False)
    draft = sheet_paper(begun(real, by), NAMES, ABOUT)
    assert "INVENTED" not in words(draft)
    assert "Not compared yet: no card is issued with it" in [band.text for band in draft.head.bands]
    bare = begun(replace(real, part_numbers=None, document=SheetDocument()), by)
    text = words(sheet_paper(bare, NAMES, ABOUT))
    assert "nothing named yet" in text
    assert "no document named yet" in text
    assert "nobody yet" in text
    alone = compared(finished(begun(real, by), by), by, "Nobody else is in the shop.")
    text = words(sheet_paper(alone, NAMES, ABOUT, superseded_by=3))
    assert "one person did both\nNobody else is in the shop." in text
    assert "Superseded by revision 3" in text


def test_that_a_sheet_that_is_not_there_is_refused(desk: PaperDesk) -> None:
    with pytest.raises(Refusal):
        paper_of(desk, Asked(kinds.SHEET, of="none"), PRINTED)


def test_that_a_position_below_zero_is_said_after_tdc() -> None:
    sheet = engine("marrow-six")
    assert sheet.limits is not None
    late = replace(sheet, limits=replace(sheet.limits, left_btdc="-5", right_btdc="0"))
    paper = sheet_paper(begun(late, Stamp("KE", datetime(2031, 3, 4, 9, tzinfo=UTC))), NAMES, ABOUT)
    assert ("Left magneto fires", "5° after TDC", "crankshaft degrees", "INVENTED") in table(paper, "Limits").rows
    assert ("Right magneto fires", "0", "crankshaft degrees BTDC", "INVENTED") in table(paper, "Limits").rows


# --- people, restore, lists ---


def test_that_a_declaration_says_what_is_declared_with_key_and_seal(desk: PaperDesk) -> None:
    paper = made(desk, kinds.DECLARATION, of="MECH")
    text = words(paper)
    for said in ("Mel Chan", "1234", "What is signed with it binds me", "Kit Eeper", "Record: person enrolled"):
        assert said in text
    [own, keeper] = inside(paper, SignatureBox)
    assert (own.name, own.certificate) == ("Mel Chan", "mechanic 1234")
    assert keeper.title == "Records keeper"
    assert paper.attachments[0].name == "record-2.json"
    assert SIGNED_BY_SELF in words(made(desk, kinds.DECLARATION, of="KEEP"))
    with pytest.raises(Refusal, match=r'"HELP" was not enrolled to sign\.'):
        paper_of(desk, Asked(kinds.DECLARATION, of="HELP"), PRINTED)


def test_that_lists_on_screen_are_printed_as_they_were_asked_for(desk: PaperDesk) -> None:
    everything = made(desk, kinds.ORDER_LIST)
    rows = next(iter(inside(everything, Table))).rows
    assert [row[0] for row in rows] == ["W-0005", "W-0004", "W-0003", "W-0002", "W-0001"]
    assert rows[0][6] == "7 Mar 2031"
    assert rows[2][6] == ""
    some = made(desk, kinds.ORDER_LIST, of="fen")
    assert [row[0] for row in next(iter(inside(some, Table))).rows] == ["W-0003"]
    assert 'Those in which "fen" is found, the newest first.' in words(some)
    tools = next(iter(inside(made(desk, kinds.TOOL_LIST), Table))).rows
    assert [(row[0], row[-1]) for row in tools] == [("L-1", ""), ("W-3", ""), ("W-9", "OUT OF DATE")]


@pytest.mark.parametrize("count", range(16, 24))
def test_that_no_page_of_a_list_holds_the_check_code_alone(count: int) -> None:
    rows = tuple((f"part {number}", "of the left magneto") for number in range(count))
    paper = stamped(list_paper("Parts", ABOUT, (Column("part"), Column("of")), rows, "No part."), Printing(PRINTED))
    printed = pages(paper)
    assert code(paper) in printed[0]
    assert all("of the left magneto" in page for page in printed)


@pytest.mark.parametrize("count", range(1, 9))
def test_that_rows_for_peoples_own_tools_are_never_parted_from_the_count(own_floor: PaperFloor, count: int) -> None:
    care = own_floor.file.tools()[0].care
    tools = tuple(Tool(f"X-{number}", "wrench", care) for number in range(count))
    order = see_order(own_floor.shop.store, BARE)
    printed = pages(stamped(tools_paper("Mill", order, tools, date(2031, 3, 4)), Printing(PRINTED)))
    [place] = [at for at, page in enumerate(printed) if "other tools, people's own" in page]
    assert "Counted out" in printed[place]


def test_that_a_list_that_is_cut_off_says_so(desk: PaperDesk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("desktop.usecases.papers.from_shop.MOST_LINES", 5)
    assert "The newest 5 only." in words(made(desk, kinds.ORDER_LIST))


def test_that_any_list_is_a_paper_and_an_empty_one_says_so() -> None:
    paper = list_paper("Parts", ABOUT, (Column("part"),), (), "No part.")
    assert paper.title == "Parts"
    assert "No part." in words(paper)
