"""A mechanic with a whole timing card before them, who presses Enter and Space and types what a field asks for."""

import re
from fractions import Fraction
from itertools import count
from typing import Any, cast

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QCheckBox, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.core.timing.readings import Side
from desktop.demo.answers import words_for
from desktop.demo.measuring import CONTACT, OTHER_CONTACT
from desktop.demo.working import work_card
from desktop.files.cards import builtin_cards
from desktop.usecases.shop.cards.issue_job import NewJob, issue_job
from desktop.viewmodels.card.going_on import STEP_PLACE
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.viewmodels.pieces.fields import Field
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.pieces.look import Look
from tests.journeys.job_floor import DESK, HANDS, SECOND, VARIANTS, JobFloor, Variant, plan_of

T4 = next(card for card in builtin_cards() if card.id == "T4")
COUPLED = VARIANTS["opposed, impulse coupling, full disc"]
ENTRY = re.compile(r"(stop|left\.approach|right\.approach)\[([0-9]+)\]\.([a-z]+)")
PLAY, BACK_OFF = Fraction(2), Fraction(36)
CARD_ID = count(1)
TYPED = {
    "left.seen_from": "b",
    "right.seen_from": "b",
    "run_up.both_rpm": "1700",
    "run_up.left_rpm": "1640",
    "run_up.right_rpm": "1630",
}
CHOSEN = {"by": {"disc": "t"}, "marking": {"full": "0", "split": "1"}, "counts": {"up": "r"}, "on": {"propeller": "p"}}
BY_ENDING = {".wrench": "8", ".extension": "2", ".tools-ready": "L-1, W-3"}


def issued(variant: Variant = COUPLED) -> JobFloor:
    """Return a shop with the timing card alone on an order, given to the mechanic."""
    floor = JobFloor()
    floor.takes_in(variant)
    sheets = (("engine", variant.engine.id), *zip(("left", "right"), variant.magnetos, strict=True))
    issue_job(floor.shop, floor.by(DESK), 1, NewJob((T4,), "", sheets, is_current=True, mechanic=HANDS))
    return floor


class Mechanic:
    """Sees the page, presses keys, and writes down which places were seen in which order."""

    def __init__(self, qtbot: QtBot, until: str = "", variant: Variant = COUPLED) -> None:
        application()
        self.floor = issued(variant)
        self.plan = plan_of(variant)
        if until:
            work_card(self.floor.crew, 1, 1, self.plan, stop_before=until)
        self.way = self.plan.way
        ids = (f"hand-{next(CARD_ID)}" for _ in count())
        self.session = OrderSession(cast("Any", self.floor.shop), HANDS, (1, 1), ids.__next__)
        self.page = OrderPage(self.session, Look())
        qtbot.addWidget(self.page)
        self.page.resize(1280, 770)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)
        self.page.begin()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        self.keys = 0
        self.seen: list[str] = []
        self.hidden: list[str] = []
        self._settle()
        self._look()
        assert not until or self.place == f"{STEP_PLACE}{until}", f"the work goes on at {self.place}"

    @property
    def place(self) -> str:
        """The id of the place that is shown."""
        return self.page.page.place().id

    def focus(self) -> QWidget:
        """Return what has the keyboard."""
        widget = QApplication.focusWidget()
        assert widget is not None, f"nothing has the keyboard at {self.place}, after {self.seen[-3:]}"
        return widget

    def field(self) -> Field | None:
        """Return the field that has the cursor."""
        return next((row.field for row in self.page.page.rows() if row.editor.hasFocus()), None)

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press a key."""
        QTest.keyClick(self.focus(), key, held)
        self.keys += 1
        self._settle()
        self._look()

    def skip_on(self) -> None:
        """Press the key of the window that goes to the next open field, whatever is left open."""
        self.page.page.go_to_next_open()
        self.keys += 1
        self._settle()
        self._look()

    def type(self, words: str) -> None:
        """Type into the field that has the cursor."""
        QTest.keyClicks(self.focus(), words)
        self.keys += len(words)

    def does(self) -> bool:
        """Do what is asked now, with Enter, Space and typing alone; False when the action at the end has the keys."""
        widget = self.focus()
        if isinstance(widget, QCheckBox):
            self._as_second(self.press, Qt.Key.Key_Space)
        elif isinstance(widget, QAbstractButton):
            if self.place == "check":
                return False
            self.press(Qt.Key.Key_Return if len(self.seen) % 2 else Qt.Key.Key_Space)
        else:
            field = self.field()
            assert field is not None
            self.type(self.answer(field))
            self.press(Qt.Key.Key_Return)
        return True

    def works_until(self, place: str) -> None:
        """Work on until a place is shown."""
        for _ in range(400):
            if self.place == place:
                return
            assert self.does(), f"the end came before {place}"
        raise AssertionError(f"{place} was never shown; the last is {self.place}: {self.page.page.message.text()}")

    def answer(self, field: Field) -> str:
        """Return what is typed into a field."""
        path = field.path
        if found := ENTRY.fullmatch(path):
            entry, number, name = found.groups()
            if entry == "stop":
                return self.way.at(CONTACT if name == "with" else OTHER_CONTACT, first=number == "1")
            limits = self.session.card.readings.limits
            nominal = Fraction((limits.left_btdc if limits else None) or "0")
            return self.way.at(nominal + {"from": BACK_OFF, "light": Fraction(0), "back": PLAY}[name])
        if path.startswith("measure."):
            key = path.removeprefix("measure.")
            value = getattr(self.way.measure, key)
            return CHOSEN.get(key, {}).get(value) or ("y" if value is True else str(value))
        words = TYPED.get(path) or next((words for end, words in BY_ENDING.items() if path.endswith(end)), None)
        step = self.session.card.step(path.removeprefix("@step."))
        if words is None and step is not None:
            allowed = self.session.look_now().seen.sheets.limit_for(step.limit, step.side)
            words = words_for(step, self.plan, allowed, "")
        assert words, f"nothing is known of {path}: {field.label}"
        return words

    def readings(self, side: Side) -> int:
        """Count the approaches of a magneto."""
        magneto = getattr(self.session.card.readings, side)
        return len(magneto.approach or ())

    def _as_second(self, act: Any, key: Qt.Key) -> None:  # noqa: ANN401 - press
        field = self.field()
        self.session.person_id = SECOND if field and "second person" in field.label else HANDS
        act(key)
        self.session.person_id = HANDS

    def _look(self) -> None:
        """Write down the place, and what can hurt there and was not on the screen whole."""
        place = self.page.page.place()
        if not self.seen or self.seen[-1] != place.id:
            self.seen.append(place.id)
        boxes = self.page.page.boxes()
        assert len(boxes) == len(place.boxes)
        for box in boxes:
            if box.visibleRegion().boundingRect() != box.rect():
                self.hidden.append(f"{place.id}: {box.accessibleName()}")

    def _settle(self) -> None:
        for _ in range(3):
            QApplication.processEvents()
