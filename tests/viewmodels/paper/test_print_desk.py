"""One paper before it prints: what was asked for last is made, what was shown goes out, and that is remembered."""

from dataclasses import replace
from pathlib import Path

from pytestqt.qtbot import QtBot

from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.viewmodels.paper.card_alone import NOT_SAVED, choices_alone, needs_alone
from desktop.viewmodels.paper.choices import card_choices, paper_choice, roster_choice
from desktop.viewmodels.paper.paper_needs import Made
from desktop.viewmodels.paper.print_desk import PrintDesk
from tests.viewmodels.paper.fake_needs import LABELS, LEFT, PAPERS, WHITE, FakePress

CARD = card_choices(12, 1)


def desk_of(press: FakePress, *choices: object) -> PrintDesk:
    return PrintDesk(press.needs(), choices or CARD)  # type: ignore[arg-type]  # choices, as the tests name them


def test_that_a_paper_is_made_beside_the_window_and_printed_as_it_was_shown(qtbot: QtBot) -> None:
    press = FakePress()
    desk = desk_of(press)
    with qtbot.waitSignal(desk.made):
        desk.begin()
    assert desk.paper is not None
    shown = desk.paper.pdf
    with qtbot.waitSignal(desk.drawn) as drawn:
        desk.draw()
    assert drawn.args == [(WHITE, WHITE)]
    assert desk.paper.pdf == shown
    assert len(press.made) == 1
    assert press.remembered == []
    desk.went_out()
    assert press.remembered == ["code of card"]
    desk.draw()
    assert not desk.is_busy


def test_that_a_preview_alone_remembers_nothing(qtbot: QtBot) -> None:
    press = FakePress()
    desk = desk_of(press)
    with qtbot.waitSignal(desk.made):
        desk.begin()
    desk.end()
    assert press.remembered == []
    assert press.written == []


def test_that_only_what_was_asked_for_last_is_shown(qtbot: QtBot) -> None:
    press = FakePress()
    press.gate.clear()
    desk = desk_of(press)
    shown: list[Made] = []
    desk.made.connect(shown.append)
    desk.begin()
    desk.choose_size("a4")
    desk.choose(1)
    assert desk.is_busy
    press.gate.set()
    qtbot.waitUntil(lambda: bool(shown) and not desk.is_busy)
    assert [made.pdf for made in shown] == [b"%PDF blank-card 2 a4"]
    assert (desk.choice, desk.size) == (CARD[1], "a4")


def test_that_a_refusal_of_what_nobody_asks_for_any_more_is_not_said(qtbot: QtBot) -> None:
    press = FakePress(refuses=kinds.CARD)
    press.gate.clear()
    desk = desk_of(press)
    said: list[str] = []
    desk.refused.connect(said.append)
    desk.begin()
    desk.choose(1)
    press.gate.set()
    qtbot.waitUntil(lambda: desk.paper is not None)
    assert said == []
    with qtbot.waitSignal(desk.refused) as refused:
        desk.choose(0)
    assert refused.args == ["Task card cannot be made."]
    assert desk.paper is None


def test_that_a_label_is_asked_for_with_its_size_and_its_first_place(qtbot: QtBot) -> None:
    press = FakePress()
    desk = desk_of(press, paper_choice(PAPERS[LABELS], LEFT))
    assert desk.choice.is_labels
    assert desk.choice.log == LEFT
    assert next(name for name, _ in desk.labels()) == "letter, 6 of 4 x 3 1/3 in"
    with qtbot.waitSignal(desk.made):
        desk.choose_start(5)
    with qtbot.waitSignal(desk.made):
        desk.choose_label("letter, 10 of 4 x 2 in")
    asked, _ = press.made[-1]
    assert isinstance(asked, Asked)
    assert (asked.label, asked.start) == ("letter, 10 of 4 x 2 in", 5)
    with qtbot.waitSignal(desk.made):
        desk.choose_start(99)
    assert desk.start == 10
    with qtbot.waitSignal(desk.made):
        desk.choose_label("letter, 6 of 4 x 3 1/3 in")
    assert desk.start == 1
    with qtbot.waitSignal(desk.made):
        desk.choose_size("a4")
    assert (desk.label, desk.start, desk.label_count()) == ("", 1, 6)
    assert {name[:2] for name, _ in desk.labels()} == {"A4"}


def test_that_other_papers_are_no_labels_and_ask_for_no_log() -> None:
    assert not any(one.is_labels or one.log for one in (*CARD, roster_choice(), paper_choice(PAPERS[0], LEFT)))


def test_that_a_place_that_cannot_be_written_is_refused_and_the_paper_stays(qtbot: QtBot, tmp_path: Path) -> None:
    press = FakePress(full=True)
    desk = desk_of(press)
    assert not desk.write(tmp_path / "early.pdf")
    with qtbot.waitSignal(desk.made):
        desk.begin()
    with qtbot.waitSignal(desk.refused) as refused:
        assert not desk.write(tmp_path / "card.pdf")
    assert refused.args == ["The disk is full."]
    assert desk.paper is not None
    press.full = False
    assert desk.write(tmp_path / "card.pdf")
    assert press.written == [tmp_path / "card.pdf"]


def test_that_a_card_without_a_shop_is_made_at_once_and_says_its_refusals_itself(tmp_path: Path) -> None:
    made: list[tuple[str, bool]] = []

    def make(*, size: str, blank: bool) -> bytes | None:
        made.append((size, blank))
        return None if blank else b"%PDF"

    needs = needs_alone(make, lambda _pdf, _dots: (WHITE,), lambda place, _pdf: place.name != "no.pdf", "a4")
    desk = PrintDesk(needs, choices_alone("card"), at_once=True)
    said: list[str] = []
    desk.refused.connect(said.append)
    desk.begin()
    assert desk.paper is not None
    assert not desk.write(tmp_path / "no.pdf")
    assert desk.write(tmp_path / "yes.pdf")
    desk.went_out()
    desk.choose(1)
    assert said == [NOT_SAVED, ""]
    assert not desk.write(tmp_path / "blank.pdf")
    assert made == [("a4", False), ("a4", True)]
    assert needs.listed(0).papers == ()
    assert needs.each((), "a4", 0, lambda *_: True)(lambda *_: True).of == 0


def test_that_a_trouble_that_is_no_refusal_comes_out(qtbot: QtBot) -> None:
    def fail(*_: object) -> Made:
        raise ZeroDivisionError

    desk = PrintDesk(replace(FakePress().needs(), make=fail), CARD)
    with qtbot.captureExceptions() as seen:
        desk.begin()
        qtbot.waitUntil(lambda: bool(seen))
    assert seen[0][0] is ZeroDivisionError
