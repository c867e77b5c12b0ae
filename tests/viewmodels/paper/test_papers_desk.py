"""The papers of an order in lines: chosen, not yet, and many at once, stopped and not stopped."""

from pathlib import Path
from threading import enumerate as running

from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desktop.usecases.papers import kinds
from desktop.viewmodels.paper.paper_needs import Outcome, is_asked
from desktop.viewmodels.paper.papers_desk import LABELS_ALONE, PapersDesk, outcome_words
from tests.viewmodels.paper.fake_needs import LABELS, LEFT, NOT_YET, PAPERS, FakePress


def listed(qtbot: QtBot, press: FakePress) -> PapersDesk:
    desk = PapersDesk(press.needs(), 12)
    with qtbot.waitSignal(desk.lines_changed):
        desk.look()
    return desk


def cells(desk: PapersDesk, row: int) -> list[object]:
    return [desk.model.index(row, column).data() for column in range(desk.model.columnCount())]


def test_that_every_paper_stands_there_and_what_cannot_be_made_says_why(qtbot: QtBot) -> None:
    desk = listed(qtbot, FakePress(log=LEFT))
    assert (desk.name, desk.log) == ("W-0012", LEFT)
    assert [cells(desk, row)[1] for row in range(len(PAPERS))] == [paper.title for paper in PAPERS]
    assert cells(desk, NOT_YET) == ["not yet", "Summary for the inspector", "No card is issued yet."]
    assert cells(desk, 0) == ["", "Work order", ""]


def test_that_the_space_bar_chooses_and_leaves_and_what_cannot_be_made_is_not_chosen(qtbot: QtBot) -> None:
    desk = listed(qtbot, FakePress())
    said: list[str] = []
    desk.refused.connect(said.append)
    assert desk.turn(0)
    assert desk.turn(1)
    assert desk.turn(0)
    assert not desk.turn(NOT_YET)
    assert desk.chosen() == (PAPERS[1],)
    assert cells(desk, 1)[0] == "chosen"
    assert said == ["Summary for the inspector: No card is issued yet."]
    assert desk.choice(NOT_YET) is None
    desk.choose_all(chosen=True)
    assert len(desk.chosen()) == len(PAPERS) - 1
    desk.choose_all(chosen=False)
    assert desk.chosen() == ()


def test_that_what_is_chosen_stays_chosen_when_the_papers_are_listed_again(qtbot: QtBot) -> None:
    press = FakePress()
    desk = listed(qtbot, press)
    desk.choose_all(chosen=True)
    press.papers = (PAPERS[1], PAPERS[NOT_YET], PAPERS[4])
    with qtbot.waitSignal(desk.lines_changed):
        desk.look()
    assert desk.chosen() == (PAPERS[1], PAPERS[4])


def test_that_all_chosen_papers_are_saved_with_their_names_when_nobody_stops(qtbot: QtBot, tmp_path: Path) -> None:
    press = FakePress()
    desk = listed(qtbot, press)
    desk.choose_all(chosen=True)
    paces: list[tuple[int, int]] = []
    desk.went_on.connect(lambda *pace: paces.append(pace))
    with qtbot.waitSignal(desk.ended) as ended:
        desk.save_each(tmp_path)
    assert ended.args == [Outcome(4, 4)]
    assert press.written == [tmp_path / f"{paper.file}.pdf" for paper in PAPERS if not paper.reason]
    assert paces[-1] == (4, 4)
    assert outcome_words(Outcome(4, 4), "lie in there") == "4 papers lie in there."


def test_that_stopped_papers_end_after_the_one_that_is_being_made(qtbot: QtBot, tmp_path: Path) -> None:
    press = FakePress()
    desk = listed(qtbot, press)
    desk.choose_all(chosen=True)
    press.gate.clear()
    desk.save_each(tmp_path)
    qtbot.waitUntil(lambda: desk.is_busy)
    desk.stop()
    press.gate.set()
    with qtbot.waitSignal(desk.ended) as ended:
        pass
    assert ended.args is not None
    outcome = ended.args[0]
    assert outcome.done <= 1 < outcome.of
    assert len(press.written) == outcome.done
    assert outcome_words(outcome, "lie there") == f"Stopped. {outcome.done} of 4 papers lie there."


def test_that_papers_are_handed_to_the_printer_one_after_the_other(qtbot: QtBot) -> None:
    press = FakePress()
    desk = listed(qtbot, press)
    for row in (0, 1, 4):
        desk.turn(row)
    handed: list[bytes] = []
    desk.handed.connect(lambda made: handed.append(made.pdf))
    with qtbot.waitSignal(desk.ended) as ended:
        desk.print_each()
    assert ended.args == [Outcome(3, 3)]
    assert handed == [b"%PDF work-order 1 letter", b"%PDF card 2 letter", b"%PDF tools 3 letter"]


def test_that_a_paper_that_fails_ends_the_others_and_says_how_far_they_got(qtbot: QtBot, tmp_path: Path) -> None:
    press = FakePress(refuses=kinds.TOOLS)
    desk = listed(qtbot, press)
    for row in (0, 4):
        desk.turn(row)
    with qtbot.waitSignal(desk.ended) as ended:
        desk.save_each(tmp_path)
    assert ended.args is not None
    words = outcome_words(ended.args[0], "lie there")
    assert words == "1 of 2 papers lie there. Then: Tool list cannot be made."


def test_that_nothing_is_written_over(qtbot: QtBot, tmp_path: Path) -> None:
    press = FakePress()
    desk = listed(qtbot, press)
    desk.turn(0)
    (tmp_path / "W-0012-work-order.pdf").write_text("a letter")
    with qtbot.waitSignal(desk.refused) as refused:
        desk.save_each(tmp_path)
    assert refused.args is not None
    assert "W-0012-work-order.pdf lies in" in refused.args[0]
    assert press.made == []


def test_that_labels_are_printed_alone_and_their_log_is_asked_for(qtbot: QtBot) -> None:
    desk = listed(qtbot, FakePress(log=LEFT))
    desk.turn(0)
    assert desk.may_print_together()
    assert desk.log_of_chosen() is None
    desk.turn(LABELS)
    assert desk.log_of_chosen() == LEFT
    with qtbot.waitSignal(desk.refused) as refused:
        assert not desk.may_print_together()
    assert refused.args == [LABELS_ALONE]


def test_that_the_end_waits_until_nothing_runs(qtbot: QtBot) -> None:
    press = FakePress()
    desk = listed(qtbot, press)
    desk.choose_all(chosen=True)
    desk.print_each()
    qtbot.waitUntil(lambda: len(press.made) > 0)
    desk.end()
    assert not desk.is_busy
    assert [one.name for one in running() if one.name == "errand"] == []


def test_that_the_papers_keep_the_rules_of_item_models(qtbot: QtBot, qtmodeltester: ModelTester) -> None:
    desk = listed(qtbot, FakePress())
    qtmodeltester.check(desk.model)  # type: ignore[no-untyped-call]  # the tester has no types
    desk.choose_all(chosen=True)
    qtmodeltester.check(desk.model)  # type: ignore[no-untyped-call]  # the tester has no types


def test_that_only_an_aircraft_with_more_engines_than_one_asks_for_the_log() -> None:
    assert is_asked("left", 1)
    assert is_asked("single", 2)
    assert not is_asked("Single", 1)
