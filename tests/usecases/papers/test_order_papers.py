"""Work orders, cards and the summary of an order on paper."""

import re
from dataclasses import replace

import pytest

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.card_scope import takes_timing
from desktop.core.shop.orders.order import Passage
from desktop.core.shop.orders.order_card import Remark, StepDone, finding_key
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.sheets.sheet_set import SheetSet
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.faults import Fault
from desktop.files.cards import builtin_cards
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, NotYet, PaperDesk
from desktop.usecases.papers.cards.card_findings import fault_words
from desktop.usecases.papers.cards.card_gathering import card_of, card_paper
from desktop.usecases.papers.cards.order_card import CardPaper, order_card_paper
from desktop.usecases.papers.cards.summary import EXPLAINED, OPEN, OUT, REPEATED, WITHIN, summary_paper
from desktop.usecases.papers.from_shop import names_in, paper_of
from desktop.usecases.papers.heading import GOVERNING
from desktop.usecases.papers.orders.work_order import work_order_paper
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.lists.sheets import compare_sheet, finish_sheet, revise_sheet
from reports.document import Document, Fact, Finding, Initials, ReadingRow, Result, SignatureBox, Step, Table
from reports.document_text import Entry
from tests.core.records.entry.entry_orders import ORDER, PEOPLE
from tests.usecases.papers.pages import code, inside, made, pages, words
from tests.usecases.papers.paper_floor import BARE, PRINTED, RADIAL, REFUSED, REMARK, SIGNED, TWIN, PaperFloor
from tests.usecases.records.sections.whole_card import CARD, said
from tests.usecases.shop.shop_floor import TIMING

TIMING_CARD, PLUGS, LEADS = 9, 5, 6


def gathered(desk: PaperDesk, order: int, card: int) -> CardPaper:
    found = see_order(desk.shop.store, order)
    return card_paper(desk, found, card_of(found, card), names_in(desk))


def step(paper: Document, begins: str) -> Step:
    """Return the first step whose instruction begins so: shipped cards gain and lose steps."""
    found: Step = next(one for one in inside(paper, Step) if one.instruction.startswith(begins))
    return found


def test_that_a_work_order_holds_intake_cards_findings_and_the_customers_word(desk: PaperDesk) -> None:
    paper = made(desk, kinds.WORK_ORDER, TWIN)
    text = words(paper)
    for said_there in (
        "Mill Flying Club",
        "Field Road 2, Stonewell",
        "2104.6 h",
        "Rough on the left magneto above 1900 rpm",
        "part no. T2-L, serial 7741, left-hand, lag 30° of the magneto, 412 h since overhaul",
        "Written down at the intake: Ada Brook for the club, by telephone on 4 March 2031, up to 600",
        "Lead of cylinder 4, lower plug, chafed at the baffle.",
        "Ada Brook, 4 Mar 2031 08:30:00 +00:00: not today",
        "release R-8",
        "Total 1 h 35 min. This is no invoice.",
        "Check and fit the spark plugs (P1, rev 1)",
    ):
        assert said_there in text
    assert [box.title for box in inside(paper, SignatureBox)] == ["Customer", "Front desk"]
    assert paper.words.certificate == "acting for"


def test_that_a_work_order_without_anything_leaves_lines_for_the_pen(desk: PaperDesk) -> None:
    paper = made(desk, kinds.WORK_ORDER, BARE)
    assert "Nothing was written down." in words(paper)
    assert [fact.label for fact in inside(paper, Fact) if fact.value is None] == ["address", "telephone", "e-mail"]
    bare = replace(see_order(desk.shop.store, BARE), taken_in=None, promised=None, authorised="")
    empty = work_order_paper("Mill Shop", bare, Names())
    assert [one.label for one in inside(empty, Entry) if one.value is None][:3] == [
        "logs seen",
        "total time, h",
        "tachometer, h",
    ]


def test_that_a_work_order_says_what_is_left_out_and_where_directives_were_looked_for() -> None:
    text = words(work_order_paper("Mill Magneto Works", ORDER, Names(PEOPLE), invented=True))
    assert "Not part of the job: the right magneto. timed last month elsewhere (DE, 4 Mar 2031 08:00:00 +00:00)" in text
    assert "Looked for engine, magneto in the list of 1 Mar 2031: Mel Chan (MC), 4 Mar 2031 08:00:00 +00:00." in text
    assert "INVENTED DATA" in text


@pytest.mark.parametrize(("kind", "card"), [(kinds.WORK_ORDER, 0), (kinds.CARD, 5), (kinds.BLANK_CARD, 5)])
def test_that_every_page_of_a_twins_paper_names_the_engine_the_order_and_the_shop(
    desk: PaperDesk, kind: kinds.PaperKind, card: int
) -> None:
    found = pages(made(desk, kind, TWIN, card=card))
    assert len(found) > 1
    for number, page in enumerate(found, 1):
        for text in ("LEFT ENGINE", "order W-0002", "Mill Shop", PRINTED, f"page {number} of {len(found)}"):
            assert text in page
    assert GOVERNING in found[0]


def test_that_every_page_of_a_card_says_what_is_not_normal_on_the_aircraft(desk: PaperDesk) -> None:
    for page in pages(made(desk, kinds.CARD, TWIN, card=PLUGS)):
        assert "Safe state: battery and starter disabled" in page
        assert "magneto loose" in page
        assert "card 5 (P1)" in page
    assert "Safe state: everything normal" in pages(made(desk, kinds.CARD, SIGNED))[0]


def test_that_a_filled_card_shows_readings_with_limits_earlier_ones_and_who_took_them(desk: PaperDesk) -> None:
    paper = made(desk, kinds.CARD, TWIN, card=PLUGS)
    gap = step(paper, "Set the gap of every plug")
    [row] = inside(gap, ReadingRow)
    assert (row.reading, row.unit, row.worked_out) == ("0.018", "in", "limits: 0.016 to 0.021 in; within")
    text = words(gap)
    assert "Earlier: 0.021 (Mel Chan (MECH)" in text
    assert "Earlier: 0.016 (Mel Chan (MECH)" in text
    assert "Done: Mel Chan (MECH), 4 Mar 2031" in text
    assert [box.text for box in inside(gap, Initials)] == ["MECH", ""]
    tools = step(paper, "Confirm that each tool is in date")
    assert re.search("Tools: L-1, timing light.*\nW-3, torque wrench, calibrated, until 31 Dec 2031", words(tools))


def test_that_a_step_that_was_left_out_shows_its_reason(desk: PaperDesk) -> None:
    left_out = step(made(desk, kinds.CARD, TWIN, card=PLUGS), "Clean the plugs")
    assert [box.text for box in inside(left_out, Initials)] == ["n/a MECH"]
    assert "n/a. Reason: \nNot fitted on this engine." in words(left_out)


def test_that_an_empty_card_has_boxes_limits_and_a_line_for_each_reason(desk: PaperDesk) -> None:
    paper = made(desk, kinds.BLANK_CARD, TWIN, card=PLUGS)
    assert "Blank" in [band.text for band in paper.head.bands]
    assert all(box.text == "" for box in inside(paper, Initials))
    rows = list(inside(paper, ReadingRow))
    assert all(row.reading == "" for row in rows)
    assert "limits: 0.016 to 0.021 in" in [row.worked_out for row in rows]
    assert [row for row in rows if row.choices]
    labels = [fact.label for fact in inside(paper, Fact)]
    assert "n/a, because" in labels
    assert "tools by their numbers" in labels
    assert "Findings" not in words(paper)
    assert "change of hands: given by" in words(paper)


def test_that_an_empty_timing_card_has_targets_and_is_not_checked_yet(desk: PaperDesk) -> None:
    paper = made(desk, kinds.BLANK_CARD, TWIN, card=TIMING_CARD)
    targets = {row.target for row in inside(paper, ReadingRow) if "light came at" in row.what}
    assert targets == {"337"}
    assert "These readings are not checked yet." in words(paper)


def test_that_a_filled_timing_card_shows_verdicts_findings_remarks_and_its_way(desk: PaperDesk) -> None:
    paper = made(desk, kinds.CARD, TWIN, card=TIMING_CARD)
    assert [result.shape for result in inside(paper, Result)] == ["closed", "closed"]
    text = words(paper)
    assert re.search("Not confirmed yet: [0-9]+ steps: 7, 8, ", text)
    assert REMARK in text
    assert "Not to be approved while something stops." in text
    assert next(row[0] for table in inside(paper, Table) if table.title == "History" for row in table.rows) == "issued"
    # Nobody confirmed the documents of this card: the lines are there for the pen.
    assert "current on, confirmed by" in text


def test_that_a_card_says_by_whom_its_documents_were_confirmed(desk: PaperDesk) -> None:
    text = words(made(desk, kinds.CARD, SIGNED))
    assert "Confirmed as current: \nM-360, revision 9. By Dora Esk (DESK)" in text


def test_that_the_newest_card_is_taken_when_none_is_named(desk: PaperDesk) -> None:
    assert "card 9 (T4)" in made(desk, kinds.CARD, TWIN).foot.card


def test_that_a_card_whose_steps_are_not_known_yet_is_refused_with_what_is_missing(desk: PaperDesk) -> None:
    with pytest.raises(NotYet, match=r'Card 3 cannot be printed yet\. Way of measuring, by: expected "disc"'):
        paper_of(desk, Asked(kinds.CARD, TWIN, 3), PRINTED)


@pytest.mark.parametrize(
    ("order", "card", "said_there"),
    [
        (BARE, 0, "W-0005 has no card yet."),
        (SIGNED, 4, "W-0001 has no card 4. It has cards 1 to 1."),
        (9, 1, "order 9"),
    ],
)
def test_that_a_card_that_is_not_there_is_refused(desk: PaperDesk, order: int, card: int, said_there: str) -> None:
    with pytest.raises(Exception, match=said_there):
        paper_of(desk, Asked(kinds.CARD, order, card), PRINTED)


def test_that_the_leads_of_a_card_stand_with_boxes_until_they_are_traced(desk: PaperDesk) -> None:
    blank = made(desk, kinds.BLANK_CARD, RADIAL)
    tables = [table for table in inside(blank, Table) if table.columns[-1].heading == "traced by"]
    assert [row[:4] for row in tables[0].rows][:2] == [("left", "1", "1", "rear"), ("left", "2", "3", "rear")]
    filled = words(step(made(desk, kinds.CARD, TWIN, card=LEADS), "Fit the leads"))
    assert "traced by" not in filled
    assert "electrode" in filled


def whole(**changes: object) -> CardPaper:
    told = said()
    return replace(CardPaper(replace(told, card=replace(CARD, sheets=(), **changes), sheets=()), "Mill", SheetSet()))  # type: ignore[arg-type]


def test_that_findings_show_the_reason_that_was_given_or_that_none_is() -> None:
    asks = SaidFinding("under-twice", Severity.EXPLAIN, "left.approach[2]", "The play is large.", "Common practice.")
    unexplained = replace(asks, where="@step.gap-set")
    paper = whole(remarks=(Remark("An old gear.", CARD.issued, finding_key(asks.rule, asks.where)),))
    findings = (asks, unexplained, replace(asks, where="@step.gone", severity=Severity.NOTE))
    told = replace(paper, said=replace(paper.said, findings=findings))
    shown = [one for one in inside(order_card_paper(told, blank=False), Finding) if one.sentence == asks.sentence]
    assert shown[0].reason.startswith("Reason: An old gear. (DE")
    assert shown[0].source == "Left magneto, approach 2. Common practice."
    assert (shown[1].reason, shown[1].source) == ("Reason: not given yet.", "Step 1. Common practice.")
    assert (shown[2].reason, shown[2].source) == ("", "Step gone. Common practice.")


def test_that_one_step_that_waits_is_named_alone_and_an_unknown_one_as_it_is() -> None:
    waits = SaidFinding("initials-missing", Severity.STOPS, "@step.look-round", "Not confirmed.", "Practice.")
    paper = whole()
    told = replace(paper, said=replace(paper.said, findings=(waits, replace(waits, where="@step.gone"))))
    sentences = [one.sentence for one in inside(order_card_paper(told, blank=False), Finding)]
    assert sentences == ["Not confirmed yet: step 3.", "Not confirmed."]


def test_that_a_superseded_sheet_and_a_card_given_to_nobody_stand_on_the_card() -> None:
    paper = replace(whole(mechanic=""), is_superseded=True)
    document = order_card_paper(paper, blank=False)
    assert "Superseded: a newer revision of a limits sheet stands" in [band.text for band in document.head.bands]
    assert "given to" in [fact.label for fact in inside(document, Fact) if fact.value is None]


def test_that_what_was_written_at_each_kind_of_step_is_printed() -> None:
    base = said().card.task.steps[1]
    kinds_of = ("part", "text", "tool", "leads", "cut", "compression", "choice")
    steps = tuple(
        replace(base, id=kind, capture=kind, choices=("a", "b") if kind == "choice" else ()) for kind in kinds_of
    )
    done = tuple(StepDone(kind, CARD.issued, f"wrote {kind}") for kind in kinds_of)
    paper = whole(steps=done, earlier=(StepDone("part", CARD.issued, skipped=True),))
    told = replace(paper, said=replace(paper.said, steps=steps, findings=()))
    text = words(order_card_paper(told, blank=False))
    for kind in kinds_of:
        assert f"wrote {kind}" in text
    assert "Earlier, left out: confirmed (DE" in text
    empty = words(order_card_paper(told, blank=True))
    assert "serial or batch" in empty
    assert "written here" in empty
    assert "The engine cut at OFF" in empty


def test_that_readings_are_marked_outside_and_a_reading_without_unit_asks_for_one(desk: PaperDesk) -> None:
    paper = gathered(desk, TWIN, PLUGS)
    task = paper.said.card
    reading = next(one for one in paper.said.steps if one.capture == "reading")
    far = replace(task, steps=(StepDone(reading.id, task.issued, "0.9"),))
    rows = list(inside(order_card_paper(replace(paper, said=replace(paper.said, card=far)), blank=False), ReadingRow))
    assert "limits: 0.016 to 0.021 in; OUTSIDE" in [row.worked_out for row in rows]
    bare = replace(paper, sheets=SheetSet(), said=replace(paper.said, limits=()))
    what = [row.what for row in inside(order_card_paper(bare, blank=True), ReadingRow)]
    assert "Plug gap, with its unit" in what


def test_that_a_card_that_cannot_be_worked_out_prints_its_steps_and_what_is_missing() -> None:
    paper = whole()
    state = replace(paper.said.state, checked=None)
    steps = (
        replace(paper.said.steps[0], capture="as left left"),
        replace(paper.said.steps[0], id="l", capture="leads"),
    )
    told = replace(paper, said=replace(paper.said, state=state, steps=steps))
    assert "The firing order is not known here." in words(order_card_paper(told, blank=True))


def test_that_readings_say_who_took_them_and_with_which_tool() -> None:
    told = said()
    timing = replace(told.card, task=TIMING, sheets=(), steps=())
    steps = tuple(one for one in TIMING.steps if one.capture in ("as left left", "run-up"))
    paper = CardPaper(replace(told, card=timing, sheets=(), steps=steps), "Mill", SheetSet())
    remarks = [row.remark for row in inside(order_card_paper(paper, blank=False), ReadingRow)]
    stamp = "Hal Elpman (HE), under Mel Chan (MC), 4 Mar 2031 09:11:07 +02:00"
    assert f"{stamp}, L-1, timing light, check before use" in remarks
    assert "Mel Chan (MC), 4 Mar 2031 09:12:07 +02:00" in remarks
    assert takes_timing(TIMING)
    blank = [row.remark for row in inside(order_card_paper(paper, blank=True), ReadingRow)]
    assert set(blank) == {""}


def test_that_values_that_cannot_be_read_are_said_on_the_card(own_floor: PaperFloor) -> None:
    desk = own_floor.paper_desk()
    paper = gathered(desk, TWIN, TIMING_CARD)
    fault = gathered(desk, TWIN, 3).said.state.faults[0]
    told = replace(paper, said=replace(paper.said, state=replace(paper.said.state, faults=(fault,))))
    text = words(order_card_paper(told, blank=False))
    assert "Cannot be read, or not filled in yet" in text
    assert "Way of measuring, by: not written yet." in text


def test_that_a_void_order_and_one_not_approved_say_so_on_every_page(desk: PaperDesk) -> None:
    for page in pages(made(desk, kinds.CARD, REFUSED)):
        assert "Not approved" in page
    order = replace(see_order(desk.shop.store, BARE), ending=OrderState.VOID)
    assert "Void" in [band.text for band in work_order_paper("Mill", order, Names()).head.bands]


def test_that_explained_and_reason_missing_have_signs_of_their_own() -> None:
    assert len({mark[0] for mark in (EXPLAINED, OPEN, OUT, REPEATED, WITHIN)}) == 5


def test_that_a_summary_marks_what_is_out_explained_and_taken_again(desk: PaperDesk) -> None:
    paper = made(desk, kinds.SUMMARY, TWIN)
    text = words(paper)
    assert re.search(rf"{REPEATED}  Step [0-9]+: before it was 0\.021 \(Mel Chan \(MECH\)", text)
    assert WITHIN in text
    assert "Not begun: the way of measuring or other data are missing" in text
    assert "Nothing out of limits, nothing explained, nothing taken again." in text
    assert "● stops  Safe-state board: magneto: loose." in text
    cards = next(table for table in inside(paper, Table) if table.title == "Cards")
    assert re.fullmatch(r"([0-9]+) of \1", cards.rows[1][3])
    assert cards.rows[2][3] == "not known yet"
    assert "Run-up: 1700 rpm on both" in text
    assert f"Remark: {REMARK}" in text


def test_that_a_summary_shows_void_approaches_open_reasons_and_readings_out_of_limits(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, TWIN)
    plugs, timing = gathered(desk, TWIN, PLUGS), gathered(desk, TWIN, TIMING_CARD)
    readings = [one for one in plugs.said.steps if one.capture == "reading"]
    done = tuple(
        StepDone(one.id, plugs.said.card.issued, text) for one, text in zip(readings, ("0.9", "wide"), strict=False)
    )
    far = replace(plugs, said=replace(plugs.said, card=replace(plugs.said.card, steps=done)))
    unlimited = replace(far, sheets=SheetSet())
    asks = SaidFinding("under-twice", Severity.EXPLAIN, "left.approach[2]", "The play is large.", "Practice.")
    checked = timing.said.state.checked
    assert checked is not None
    left = checked.worked.left
    assert left is not None
    odd = replace(left, judged=tuple(replace(one, voids=("x",)) for one in left.judged), timing=None)  # type: ignore[arg-type]
    worked = replace(checked.worked, left=odd)
    state = replace(timing.said.state, checked=replace(checked, worked=worked))
    told = replace(timing, said=replace(timing.said, state=state, findings=(asks,)))
    text = words(summary_paper("Mill", order, (far, unlimited, told), (asks,), names_in(desk)))
    for mark in (OUT, "cannot be read", "no limit here", f"{OPEN}  The play is large."):
        assert mark in text
    assert f"{REPEATED}  Left magneto, approach 1, as found: light at" in text


def test_that_an_order_without_cards_has_an_empty_summary(desk: PaperDesk) -> None:
    assert "No card was issued yet." in words(made(desk, kinds.SUMMARY, BARE))


def test_that_the_same_order_gives_the_same_code_at_another_time(desk: PaperDesk) -> None:
    one = made(desk, kinds.CARD, TWIN)
    other = paper_of(desk, Asked(kinds.CARD, TWIN, reprint=True), "printed 1 Apr 2031 08:00 UTC+00:00")
    assert code(one) == code(other)


def test_that_a_magneto_without_a_reading_has_no_verdict_and_one_alone_no_synchronisation(desk: PaperDesk) -> None:
    timing = gathered(desk, TWIN, TIMING_CARD)
    checked = timing.said.state.checked
    assert checked is not None
    left = checked.worked.left
    assert left is not None
    worked = replace(checked.worked, left=replace(left, judged=(), timing=None), sync=None)
    told = replace(
        timing, said=replace(timing.said, state=replace(timing.said.state, checked=replace(checked, worked=worked)))
    )
    assert [one.verdict[:5] for one in inside(order_card_paper(told, blank=False), Result)] == ["Right"]
    order = see_order(desk.shop.store, TWIN)
    assert "Synchronisation" not in words(summary_paper("Mill", order, (told,), (), names_in(desk)))


def test_that_a_summary_counts_steps_that_are_not_done_as_to_do_and_not_as_stops(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, TWIN)
    timing = gathered(desk, TWIN, TIMING_CARD)
    waits = SaidFinding("initials-missing", Severity.STOPS, "@step.x", "Not confirmed.", "Practice.")
    moved = SaidFinding("disc-moved", Severity.STOPS, "stop[2]", "The disc moved.", "Practice.")
    told = replace(timing, said=replace(timing.said, findings=(waits, waits, waits, moved)))
    paper = summary_paper("Mill", order, (told,), (), names_in(desk))
    (cards,) = [table for table in inside(paper, Table) if table.title == "Cards"]
    row = dict(zip((column.heading for column in cards.columns), cards.rows[0], strict=True))
    assert (row["to do"], row["stops"]) == ("3", "1")


def test_that_a_newer_sheet_is_one_quiet_line_on_a_card_that_was_submitted(desk: PaperDesk) -> None:
    came = SaidFinding(
        "sheet-revised-since", Severity.NOTE, "limits", "A newer revision of MS-7 was compared.", "Practice."
    )
    line = "Revised since this card was submitted: sheet MS-7, now rev 2, compared 4 Mar 2032."
    paper = whole(state=OrderState.ACCEPTED)
    told = replace(paper, said=replace(paper.said, findings=(came,)), revised=(line,))
    document = order_card_paper(told, blank=False)
    assert list(inside(document, Finding)) == []
    assert [band.text for band in document.head.bands if "uperseded" in band.text] == []
    text = words(document)
    assert text.count(line) == 1
    assert "Nothing was found. This is no statement of airworthiness." in text
    assert "Reason needed" not in text
    assert line in " ".join(pages(document))


def test_that_a_card_names_each_sheet_that_was_revised_since_with_its_day(own_floor: PaperFloor) -> None:
    desk = own_floor.paper_desk()
    order = see_order(desk.shop.store, TWIN)
    card = replace(order.cards[TIMING_CARD - 1], state=OrderState.FOR_INSPECTION)
    handed_in = Passage(Move.SUBMIT, Stamp("MECH", own_floor.clock.now()), TIMING_CARD)
    order = replace(order.with_card(card), passages=(*order.passages, handed_in))
    assert card_paper(desk, order, card, names_in(desk)).revised == ()
    own_floor.clock.move(3600)
    sheet = card.sheets[0].sheet
    revise_sheet(own_floor.shop, own_floor.by("KEEP", desk.shop.store.sheet_life(sheet).version), sheet)  # type: ignore[union-attr]
    finish_sheet(own_floor.shop, own_floor.by("KEEP", desk.shop.store.sheet_life(sheet).version), sheet)  # type: ignore[union-attr]
    life = desk.shop.store.sheet_life(sheet)
    assert life is not None
    groups = [name for name, _ in sheet_groups(life.sheet)]
    compare_sheet(own_floor.shop, own_floor.by("ROLF", life.version), sheet, groups)
    paper = card_paper(desk, order, card, names_in(desk))
    (line,) = paper.revised
    assert line.startswith(f"Revised since this card was submitted: sheet {sheet}, now rev 2, compared 4 Mar 2031. ")
    assert line.endswith("This card was worked with rev 1.")
    assert not paper.is_superseded
    in_work = order.with_card(replace(card, state=OrderState.IN_WORK))
    again = card_paper(desk, in_work, in_work.cards[TIMING_CARD - 1], names_in(desk))
    assert (again.revised, again.is_superseded) == ((), True)


def test_that_tightening_on_the_timing_card_captures_the_torque_reached() -> None:
    timing = next(card for card in builtin_cards() if card.id == "T4")
    tightened = [one for one in timing.steps if one.id.startswith("tighten-")]
    assert len(tightened) == 3
    assert {(one.capture, one.limit, one.initials, one.may_skip) for one in tightened} == {
        ("reading", "clamp torque", True, False)
    }


def test_that_missing_rpm_are_said_in_the_mechanics_words() -> None:
    said_of = [
        fault_words(Fault(f"run_up.{one}_rpm", "expected a number such as 22 or 0.5, nothing found"))
        for one in ("both", "left", "right")
    ]
    assert said_of == [
        "Run-up at BOTH: rpm not written yet.",
        "Run-up at L: rpm not written yet.",
        "Run-up at R: rpm not written yet.",
    ]
    assert fault_words(Fault("measure.read_to", "expected a number, found x")) == (
        "Way of measuring, read to: expected a number, found x."
    )


def test_that_an_empty_card_has_one_label_over_its_lines_for_remarks_and_two_lines_for_tools(desk: PaperDesk) -> None:
    labels = [fact.label for fact in inside(made(desk, kinds.BLANK_CARD, TWIN, card=PLUGS), Fact)]
    assert labels.count("remarks and discrepancies") == 1
    assert labels[labels.index("remarks and discrepancies") :][1:3] == ["", ""]
    assert labels[labels.index("tools by their numbers") + 1] == ""
