"""One whole card from empty to printed, with the keyboard alone: by disc, by marks, and with an impulse coupling."""

from pathlib import Path

from pypdf import PdfReader
from pytestqt.qtbot import QtBot

from desktop.core.timing.readings import Side
from desktop.core.timing.typed_paths import value_at
from tests.journeys.hands import Hands


def _text(place: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(place).pages)


def _print(hands: Hands, place: Path) -> str:
    """From the last place: print, save as PDF, and return what the paper says."""
    assert hands.window.page.act.hasFocus()
    hands.enter()
    hands.save_paper(place)
    return _text(place)


def test_that_a_card_by_disc_goes_from_empty_to_printed(qtbot: QtBot, tmp_path: Path) -> None:
    hands = Hands(qtbot)
    assert hands.at() == "Cylinders"
    hands.fill("6", "145236", "c")
    hands.fill("22", "22", "1", "1")
    assert hands.at() == "Measured with"
    hands.fill("t", "0", "r", "p", "y", ".5")
    assert hands.at() == "Hand, seen from the drive end"
    hands.fill("r", "2", "b")
    hands.fill("r", "2", "b")
    assert hands.at() == "Touched with rotation"
    hands.fill("0", "78")
    hands.fill("310", "339.5", "338")
    hands.fill("310", "340", "338")
    hands.fill("310", "337 1/2", "335,5")
    hands.fill("309", "338°", "336")
    assert hands.at() == "Touched with rotation"
    hands.fill("321", "39")
    assert hands.keys <= 125, f"it took {hands.keys} keys"
    text = _print(hands, tmp_path / "disc.pdf")
    assert "Left magneto. Within: 22.5° BTDC" in text
    assert "Right magneto. Within: 22° BTDC" in text
    assert "Nothing in these readings stops the card." in text


def test_that_a_card_by_marks_asks_for_no_stop_contacts(qtbot: QtBot, tmp_path: Path) -> None:
    hands = Hands(qtbot)
    hands.fill("4", "1324", "cou", "20", "20", "1", "1", "o", "1")
    assert hands.at() == "Hand, seen from the drive end"
    assert value_at(hands.window.session.state.typed, "engine.rotation") == "counter-clockwise"
    hands.fill("l", "4", "d", "l", "4", "d")
    assert hands.at() == "Began at"
    hands.fill("40 b", "21 b", "23 b")
    hands.fill("compression", "20b", "22b")
    hands.fill("45 before", "20 before", "22 before")
    hands.fill("44b", "20b", "22b")
    assert hands.keys <= 125, f"it took {hands.keys} keys"
    text = _print(hands, tmp_path / "marks.pdf")
    assert "Stop touched" not in text
    assert "Left magneto. Within: 20° BTDC" in text


def test_that_a_card_with_an_impulse_coupling_asks_whether_the_snap_was_passed(qtbot: QtBot, tmp_path: Path) -> None:
    hands = Hands(qtbot)
    hands.window.session.show_magneto(Side.RIGHT, present=False)
    hands.fill("6", "145236", "c", "25", "1", "1", "t", "1", "p", "y", "1")
    hands.fill("r", "2")
    assert hands.at() == "You face its"
    hands.type("b")
    hands.tab()
    assert hands.at() == "Impulse coupling, lag °"
    hands.fill("30")
    hands.fill("40 b", "40 a")
    hands.fill("50b", "25 b", "27b")
    assert hands.at() == "Snap passed first"
    hands.tick()
    hands.fill("50b", "25b", "27b")
    hands.tick()
    hands.fill("40b", "40a")
    assert hands.keys <= 93, f"it took {hands.keys} keys"
    text = _print(hands, tmp_path / "impulse.pdf")
    assert "Left magneto. Within: 25° BTDC" in text
    assert "coupling clicks at 5° BTDC" in text
