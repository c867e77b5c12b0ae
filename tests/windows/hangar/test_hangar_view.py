"""The hangar view at 1280 x 800: nothing is cut in any look, what is read from afar is large, what is pressed wide."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from desktop import assembly, shop_assembly
from desktop.app import application, make_window_with
from desktop.core.timing.typed_card import TypedCard
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.fill_card import look_at
from desktop.usecases.papers.heading import CardHeading
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.card.form_session import FormSession
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.windows.hangar.hangar_boxes import BoxesView, hazard_of
from desktop.windows.hangar.hangar_fit import FitText
from desktop.windows.hangar.hangar_view import HangarView
from desktop.windows.pieces.look import CONTRAST, DARK, LIGHT, THEMES, Colours, Look
from desktop.windows.pieces.painter import DrawingView
from tests.commands.test_shop_commands import order_with
from tests.windows.frame.test_windows import _contrast, _ink

LOOKS = [Look(LIGHT), Look(DARK), Look(CONTRAST), Look(LIGHT, 150), Look(CONTRAST, 200)]
FROM_AFAR = 44
CAUTION_POINTS = 28


def _demo(name: str) -> TypedCard:
    return next(typed for job, typed in demo_jobs() if job.name == name)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    folder = tmp_path_factory.mktemp("hangar")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_STATE_HOME", str(folder / "state"))
        place = folder / "quarry-lane.shop"
        shop_assembly.make_shop(place, "Quarry Lane Aero Works", "Lena Ode", "LO")
        for registration, name in (("XQ-TBK", "sound"), ("XQ-FEN", "against-rotation")):
            order_with(place, registration, _demo(name))
        with shop_assembly.shop_at(place) as opened:
            yield opened


@pytest.fixture
def host(qtbot: QtBot) -> QWidget:
    application()
    made = QWidget()
    qtbot.addWidget(made)
    return made


def _session(shop: Shop, number: int) -> OrderSession:
    return OrderSession(shop, "LO", (number, 1), shop_assembly.new_id)


def _view(host: QWidget, session: FormSession, look: Look, number: int = 0) -> HangarView:
    view = HangarView(session, look, number, None, host)
    view.resize(1280, 800)
    view.show()
    _settle()
    return view


def _settle() -> None:
    for _ in range(4):
        QApplication.processEvents()


def _at(session: FormSession, name: str) -> int:
    return [place.id for place in session.places].index(name)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("number", [1, 2])
def test_that_nothing_is_cut_at_any_step_of_a_card(host: QWidget, shop: Shop, look: Look, number: int) -> None:
    session = _session(shop, number)
    for field in [field for place in session.places for group in place.groups for field in group.fields]:
        if field.path.startswith("@safe."):
            session.commit(field, field.choices[1][0])
    view = _view(host, session, look)
    cut = []
    for _ in range(2 * len(session.places)):
        shown = view.desk.shown()
        parts: list[tuple[str, FitText | BoxesView]] = [(part.words, part) for part in view.findChildren(FitText)]
        parts += [(part.accessibleName(), part) for part in view.findChildren(BoxesView)]
        cut += [(shown.place.id, words) for words, part in parts if part.isVisible() and words and not part.is_whole()]
        for button in view.findChildren(QPushButton):
            assert button.width() >= button.sizeHint().width(), f"{button.text()} is cut"
        QTest.keyClick(view, Qt.Key.Key_Space)
        _settle()
    assert view.desk.number == len(session.places) - 1
    assert not cut
    view.close()


@pytest.mark.parametrize("look", LOOKS)
def test_that_what_is_read_at_three_metres_is_at_least_44_points(host: QWidget, shop: Shop, look: Look) -> None:
    session = _session(shop, 1)
    view = _view(host, session, look, _at(session, "step-as-left-left"))
    view.desk.step(1)
    for sign in "305":
        view.desk.type(sign)
    _settle()
    from_afar = (*(tile.value for tile in view.tiles), view.entry.value, view.verdict.words)
    for part in (*from_afar, view.turn.way):
        assert part.shown_font().pointSize() >= FROM_AFAR, part.words
    view.close()


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("number", [1, 2])
def test_that_what_can_hurt_is_whole_and_at_least_28_points_beside_the_numbers(
    host: QWidget, shop: Shop, look: Look, number: int
) -> None:
    """Read at three metres, on a screen of 14 inches: common practice for signs, no source."""
    session = _session(shop, number)
    view = _view(host, session, look)
    seen = 0
    for _ in range(2 * len(session.places)):
        shown = view.desk.shown()
        if shown.is_work and shown.place.boxes:
            seen += 1
            sentences = [hazard_of(text) for kind, text in shown.place.boxes if kind != "note"]
            assert all(sentence in view.hazards.accessibleName() for sentence in sentences)
            assert view.hazards.points() >= CAUTION_POINTS, shown.place.id
            assert view.hazards.is_whole(), shown.place.id
            assert view.hazards.geometry().bottom() < view.dial.geometry().top(), shown.place.id
        QTest.keyClick(view, Qt.Key.Key_Space)
        _settle()
    assert seen >= 6
    view.close()


def test_that_a_place_without_readings_shows_its_instruction_large_and_what_stands_there(
    host: QWidget, shop: Shop
) -> None:
    session = _session(shop, 1)
    view = _view(host, session, Look(), _at(session, "engine"))
    assert view.whole_instruction.words == "Copy the engine's data."
    assert view.whole_instruction.shown_font().pointSize() >= FROM_AFAR
    assert "Cylinders: 6" in view.more.words
    assert "Firing order: 1-4-5-2-3-6" in view.more.words
    view.close()


def test_that_a_step_that_turns_never_says_that_nothing_is_turned(host: QWidget, shop: Shop) -> None:
    session = _session(shop, 1)
    for name in ("step-stop-pair", "step-closing-pair", "step-setting-left"):
        view = _view(host, session, Look(), _at(session, name))
        view.desk.step(1)
        _settle()
        assert view.desk.shown().is_work
        assert view.turn.way.words in ("clockwise", "counter-clockwise")
        assert view.turn.how.words
        view.close()


@pytest.mark.parametrize("look", LOOKS)
def test_that_what_is_pressed_is_at_least_44_pixels_and_named(host: QWidget, shop: Shop, look: Look) -> None:
    view = _view(host, _session(shop, 1), look)
    buttons = view.findChildren(QPushButton)
    assert len(buttons) == 3
    for button in buttons:
        assert min(button.width(), button.height()) >= 44
        assert QAccessible.queryAccessibleInterface(button).text(QAccessible.Text.Name)
    view.close()


def test_that_buttons_step_forward_and_back_and_leave(qtbot: QtBot, host: QWidget, shop: Shop) -> None:
    session = _session(shop, 1)
    view = _view(host, session, Look(), 0)
    QTest.mouseClick(view.next_button, Qt.MouseButton.LeftButton)
    assert view.desk.number == 1
    QTest.mouseClick(view.back_button, Qt.MouseButton.LeftButton)
    QTest.mouseClick(view.back_button, Qt.MouseButton.LeftButton)
    assert view.message.words == "This is the first step."
    with qtbot.waitSignal(view.left) as left:
        QTest.mouseClick(view.leave_button, Qt.MouseButton.LeftButton)
    assert left.args == [0]


def test_that_a_space_bar_that_is_held_steps_once(host: QWidget, shop: Shop) -> None:
    view = _view(host, _session(shop, 1), Look())
    QTest.keyClick(view, Qt.Key.Key_Space)
    held = QKeyEvent(QKeyEvent.Type.KeyPress, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " ", autorep=True)
    QApplication.sendEvent(view, held)
    assert view.desk.number == 1
    view.close()


def test_that_dial_arrow_and_triangle_are_painted(host: QWidget, shop: Shop) -> None:
    session = _session(shop, 1)
    view = _view(host, session, Look(), _at(session, "step-as-left-left"))
    assert _ink(view.boxes.grab().toImage(), LIGHT.ground) > 20_000
    view.desk.step(1)
    for sign in "305":
        view.desk.type(sign)
    _settle()
    for part in (view.dial, view.magnified, view.turn):
        assert _ink(part.grab().toImage(), LIGHT.ground) > 1500
    assert isinstance(view.dial, DrawingView)
    assert view.dial.height() > 300, "the hazards, whole and large, leave this much"
    view.close()


def test_that_the_view_takes_another_theme_and_size_by_its_own_keys(host: QWidget, shop: Shop) -> None:
    view = _view(host, _session(shop, 1), Look())
    ctrl = Qt.KeyboardModifier.ControlModifier
    seen = []
    for key in (Qt.Key.Key_L, Qt.Key.Key_L, Qt.Key.Key_L, Qt.Key.Key_Plus, Qt.Key.Key_Minus):
        QTest.keyClick(view, key, ctrl)
        seen.append((view.look.colours, view.look.percent))
    assert seen == [(DARK, 100), (CONTRAST, 100), (LIGHT, 100), (LIGHT, 125), (LIGHT, 100)]
    view.close()


def test_that_a_readings_file_says_that_it_has_no_safe_state_board(qtbot: QtBot, host: QWidget) -> None:
    application()
    window = make_window_with(_demo("sound"), CardHeading())
    qtbot.addWidget(window, before_close_func=lambda _window: setattr(window.session, "is_saved", True))
    view = _view(host, window.session, Look())
    assert view.safe.words.words == "This card has no safe-state board. Every propeller is live."
    window.session.begin_with(look_at(_demo("against-rotation"), assembly.rulebook()))
    assert view.desk.shown().place in window.session.places
    view.close()


def test_that_the_hazard_is_the_first_sentence_of_a_box() -> None:
    assert hazard_of("The blade is live. Clear the arc.") == "The blade is live."
    assert hazard_of("The blade is live") == "The blade is live."


def test_that_the_themes_follow_each_other() -> None:
    assert [Look(one).other_theme().colours for one in THEMES] == [DARK, CONTRAST, LIGHT]


def test_that_high_contrast_stands_out_more_than_the_other_themes() -> None:
    """At least 7 to 1 for text (WCAG 2.2, criterion 1.4.6) and 3 to 1 for lines (criterion 1.4.11)."""
    for ground in (CONTRAST.ground, CONTRAST.sheet):
        texts = (CONTRAST.ink, CONTRAST.quiet, CONTRAST.act, CONTRAST.good, CONTRAST.ask, CONTRAST.stop)
        assert min(_contrast(text, ground) for text in texts) >= 7
        assert _contrast(CONTRAST.line, ground) >= 3
    assert _contrast(CONTRAST.sheet, CONTRAST.act) >= 7
    assert _least(CONTRAST) > max(_least(LIGHT), _least(DARK))


def _least(colours: Colours) -> float:
    return min(_contrast(text, colours.sheet) for text in (colours.quiet, colours.act, colours.good, colours.stop))
