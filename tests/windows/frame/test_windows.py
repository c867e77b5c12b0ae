"""The windows paint what they should, in each look, and nothing has lost its name."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application, make_window, make_window_with
from desktop.core.timing.readings import Side
from desktop.demo import shown_card
from desktop.windows.frame.main_window import MainWindow
from desktop.windows.pieces.look import DARK, LIGHT, Colours, Look, load_fonts
from desktop.windows.pieces.painter import DrawingView
from reports.drawing import Drawing, Line, Stroke

SAMPLE = Path(__file__).parents[2] / "samples" / "sound.toml"


@pytest.fixture
def window(qtbot: QtBot) -> MainWindow:
    application()
    made = make_window(SAMPLE)
    qtbot.addWidget(made, before_close_func=_nothing_to_save)
    made.show()
    return made


def _nothing_to_save(window: QWidget) -> None:
    """Let the window close without being asked about changes."""
    assert isinstance(window, MainWindow)
    window.session.is_saved = True


def _ink(image: QImage, ground: str) -> int:
    """Count the pixels of a picture that are not the ground."""
    bare = QColor(ground).rgb()
    return sum(image.pixel(x, y) != bare for x in range(image.width()) for y in range(image.height()))


def test_that_the_dial_is_painted_in_the_window(window: MainWindow) -> None:
    dial = window.page.dial
    assert dial.drawing is not None
    assert _ink(dial.grab().toImage(), LIGHT.ground) > 2000


def test_that_a_drawing_without_shapes_leaves_no_ink(qtbot: QtBot) -> None:
    application()
    view = DrawingView(Look())
    qtbot.addWidget(view)
    view.show_drawing(Drawing(40, 40, ()))
    bare = view.grab().toImage()
    view.show_drawing(Drawing(40, 40, (Line(0, 20, 40, 20, Stroke("heavy")),)))
    assert view.grab().toImage() != bare


def test_that_a_painter_that_raises_is_seen(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    application()
    view = DrawingView(Look())
    qtbot.addWidget(view)
    view.show_drawing(Drawing(40, 40, (Line(0, 20, 40, 20),)))

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("desktop.windows.pieces.painter._paint", broken)
    with pytest.raises(ZeroDivisionError):
        view.grab()


def test_that_a_missing_face_is_said_at_once(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("desktop.windows.pieces.look.QFontDatabase.families", lambda: ["Other"])
    with pytest.raises(RuntimeError, match="Atkinson Hyperlegible Next, B612 Mono"):
        load_fonts(())


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 200)])
def test_that_every_control_of_every_place_has_a_name(window: MainWindow, look: Look) -> None:
    window.set_look(look)
    for number in range(len(window.session.places)):
        window.page.show_place(number)
        QApplication.processEvents()
        for kind in (QLineEdit, QComboBox, QAbstractButton):
            for control in window.findChildren(kind):
                if control.isVisible() and control.objectName() != "qt_toolbar_ext_button":
                    assert _name(control), f"{control} of {window.page.place().title} has no name"


def _name(control: QWidget) -> str:
    return control.accessibleName() or QAccessible.queryAccessibleInterface(control).text(QAccessible.Text.Name)


@pytest.mark.parametrize("colours", [LIGHT, DARK])
def test_that_every_text_colour_stands_out_from_both_grounds(colours: Colours) -> None:
    """Contrast of at least 4.5 to 1: WCAG 2.2, success criterion 1.4.3."""
    for text in (colours.ink, colours.quiet, colours.act, colours.good, colours.ask, colours.stop):
        for ground in (colours.ground, colours.sheet):
            assert _contrast(text, ground) >= 4.5
    assert _contrast(colours.sheet, colours.act) >= 4.5


def test_that_a_line_colour_would_fail_as_text() -> None:
    assert _contrast(LIGHT.line, LIGHT.sheet) < 4.5


def _contrast(one: str, other: str) -> float:
    """Relative luminance and contrast ratio as WCAG 2.2 defines them."""
    bright, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_that_wrong_text_stays_in_its_field_and_says_what_is_expected(window: MainWindow) -> None:
    window.page.show_place(0)
    row = next(row for row in window.page.rows() if row.field.path == "engine.cylinders")
    row.editor.setFocus()
    assert isinstance(row.editor, QLineEdit)
    row.editor.selectAll()
    QTest.keyClicks(row.editor, "six")
    QTest.keyClick(row.editor, Qt.Key.Key_Return)
    assert row.editor.text() == "six"
    assert row.editor.accessibleDescription() == "Expected a whole number from 1 to 28, found 'six'."
    assert window.session.state.checked is None


def test_that_refused_text_is_kept_in_the_saved_file(window: MainWindow, tmp_path: Path) -> None:
    field = next(row.field for row in window.page.rows() if row.field.path == "left.approach[1].light")
    window.session.commit(field, "three hundred")
    place = tmp_path / "kept.toml"
    assert window.session.save_to(place)
    assert 'light = "three hundred"' in place.read_text("utf-8")
    window.open_file(place)
    assert window.session.value(field) == "three hundred"
    assert not window.session.state.is_whole


def test_that_a_file_that_cannot_be_used_leaves_the_card_as_it_was(window: MainWindow, tmp_path: Path) -> None:
    before = window.session.state
    place = tmp_path / "junk.toml"
    place.write_text("format = 1\nwheels = 3\n")
    window.open_file(place)
    assert window.session.state == before
    assert window.page.message.text().startswith("junk.toml: wheels: this key is not known here.")


def test_that_the_view_turns_round_with_one_key(window: MainWindow) -> None:
    before = window.page.dial.drawing
    QTest.keyClick(window, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert window.page.dial.drawing != before
    QTest.keyClick(window, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert window.page.dial.drawing == before


def test_that_taking_a_magneto_off_the_card_takes_its_places_away(window: MainWindow) -> None:
    window.session.show_magneto(Side.RIGHT, present=False)
    ids = [place.id for place in window.session.places]
    assert "left-left" in ids
    assert "right-left" not in ids
    assert window.session.state.checked is not None
    assert window.session.state.checked.worked.right is None


def test_that_a_print_of_the_demo_from_the_window_says_that_its_data_is_invented(qtbot: QtBot) -> None:
    application()
    shown = make_window_with(*shown_card())
    qtbot.addWidget(shown, before_close_func=_nothing_to_save)
    pages = PdfReader(BytesIO(shown.session.paper(size="letter") or b"")).pages
    assert all("INVENTED DATA: DEMONSTRATION ONLY" in page.extract_text() for page in pages)
    shown.open_file(SAMPLE)
    pages = PdfReader(BytesIO(shown.session.paper(size="letter") or b"")).pages
    assert not any("INVENTED" in page.extract_text() for page in pages)
