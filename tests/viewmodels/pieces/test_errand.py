"""Work beside the window: every word of it arrives in the window's own thread."""

from threading import Event, current_thread, main_thread

import pytest
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.viewmodels.pieces.errand import Errand, Pace


def test_that_the_end_and_the_way_are_told_in_the_windows_thread(qtbot: QtBot) -> None:
    errand = Errand()
    heard: list[tuple[object, bool]] = []
    errand.went_on.connect(lambda done, of: heard.append(((done, of), current_thread() is main_thread())))
    went_on = Event()
    errand.went_on.connect(lambda _done, _of: went_on.set())
    ran: list[bool] = []

    def work(pace: Pace) -> str:
        ran.append(current_thread() is main_thread())
        first = pace(1, 2)
        assert went_on.wait(10)
        return f"{first} {pace(2, 2)}"

    with qtbot.waitSignal(errand.finished) as caught:
        errand.begin(work)
        with pytest.raises(ValueError, match="one errand at a time"):
            errand.begin(work)
    assert caught.args == ["True True"]
    assert heard == [((1, 2), True), ((2, 2), True)]
    assert ran == [False]
    assert not errand.is_busy


def test_that_a_refusal_is_said_and_another_exception_comes_to_the_hook(qtbot: QtBot) -> None:
    errand = Errand()

    def refuse(_pace: Pace) -> None:
        raise Refusal("The disk is full.")

    def fail(_pace: Pace) -> None:
        raise KeyError("x")

    with qtbot.waitSignal(errand.refused) as caught:
        errand.begin(refuse)
    assert caught.args == ["The disk is full."]
    with capture_exceptions() as exceptions:
        errand.begin(fail)
        qtbot.waitUntil(lambda: not errand.is_busy)
    assert [one[0] for one in exceptions] == [KeyError]


def test_that_it_stops_when_it_is_told_to_and_nothing_is_told_afterwards(qtbot: QtBot) -> None:
    errand = Errand()
    heard: list[object] = []
    errand.finished.connect(heard.append)
    begun = Event()

    def work(pace: Pace) -> str:
        begun.set()
        while pace(0, 1):
            pass
        return "stopped"

    errand.begin(work)
    assert begun.wait(10)
    errand.end()
    errand.end()
    assert not errand.is_busy
    qtbot.waitUntil(lambda: True)
    assert heard == []
    with qtbot.waitSignal(errand.finished):
        errand.begin(lambda pace: pace(0, 1))
