"""The card page: places down the side, the present one in the middle, its drawings beside, the next action below."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from desktop.core.timing.readings import Side
from desktop.viewmodels.card.card_pictures import View, pictures_of
from desktop.viewmodels.card.form_session import FormSession
from desktop.viewmodels.pieces.card_words import progress_of, standing_of
from desktop.viewmodels.pieces.fields import Field, Place, asked_fields, fields_of
from desktop.windows.card.place_view import PlaceView
from desktop.windows.card.rail import WIDTH as RAIL
from desktop.windows.card.rail import Rail
from desktop.windows.hangar.hangar_door import HangarDoor
from desktop.windows.pieces.editors import ChoiceBox
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.finding_list import VerdictView
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.painter import DrawingView

BESIDE = 400
FIELDS = 600


class CardPage(QWidget):
    """Shows one card session."""

    act_asked = Signal()

    def __init__(self, session: FormSession, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._session = session
        self._look = look
        self._view = View.PROPELLER
        self._side: Side | None = None
        self.current = 0
        self.rail = Rail()
        self.chooser = ChoiceBox(look)
        self.chooser.setAccessibleName("Place")
        self.chooser.activated.connect(self.show_place)
        self._pages: dict[str, PlaceView] = {}
        self._beside = QWidget()
        self._beside.setObjectName("ground")
        self.dial = DrawingView(look)
        self.magnified = DrawingView(look)
        self.magneto = DrawingView(look)
        for name, view in (("Dial", self.dial), ("Around nominal", self.magnified), ("Housing", self.magneto)):
            view.setAccessibleName(name)
        self._keys = QLabel(session.keys_said())
        self._keys.setObjectName("small")
        self._keys.setWordWrap(True)
        self._verdict = QVBoxLayout()
        self._nothing = QLabel("The dial is drawn here once engine, limits and way of measuring are filled in.")
        self._nothing.setObjectName("quiet")
        self._nothing.setWordWrap(True)
        self.message = QLabel()
        self.message.setWordWrap(True)
        self.act = QPushButton()
        self.act.setObjectName("act")
        self.act.setAutoDefault(True)
        self.act.clicked.connect(self._go_on)
        self.hangar = HangarDoor(self)
        self.hangar.asked.connect(self.open_hangar)
        self.hangar.left.connect(self.show_place)
        self._build()
        self.rail.chosen.connect(self.show_place)
        session.state_changed.connect(lambda _state: self.show_state())
        session.places_changed.connect(lambda _places: self._set_places())
        session.refused.connect(lambda words: self.say(words, refused=True))
        session.told.connect(self.say)
        self._set_places()

    def _build(self) -> None:
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        self._middle = QHBoxLayout()
        self._middle.setSpacing(0)
        self._scroll = QScrollArea()
        self._scroll.setObjectName("sheet")
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._inside = QWidget()
        self._inside.setObjectName("sheet")
        self._column = QVBoxLayout(self._inside)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._sheet = QVBoxLayout()
        self._column.addWidget(self.chooser)
        self._column.addLayout(self._sheet)
        self._column.addStretch(1)
        self._scroll.setWidget(self._inside)
        pictures = QVBoxLayout(self._beside)
        pictures.setContentsMargins(8, 8, 8, 8)
        pictures.setSpacing(4)
        pictures.addLayout(self._verdict)
        for view in (self.dial, self.magnified, self.magneto):
            pictures.addWidget(view, 0, Qt.AlignmentFlag.AlignHCenter)
        pictures.addWidget(self._nothing)
        pictures.addStretch(1)
        self._beside_scroll = QScrollArea()
        self._beside_scroll.setWidget(self._beside)
        self._beside_scroll.setWidgetResizable(True)
        self._beside_scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._beside_scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._middle.addWidget(self.rail)
        self._middle.addWidget(self._scroll, 1)
        self._middle.addWidget(self._beside_scroll)
        outer.addLayout(self._middle, 1)
        rule = QFrame()
        rule.setObjectName("rule")
        outer.addWidget(rule)
        self._foot = QHBoxLayout()
        self._foot.addWidget(self.message, 3)
        self._foot.addWidget(self._keys, 2)
        self._foot.addWidget(self.hangar)
        self._foot.addWidget(self.act)
        outer.addLayout(self._foot)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text; large text stacks the drawings under the fields."""
        self._look = look
        for page in self._pages.values():
            page.set_look(look)
        for view in (self.dial, self.magnified, self.magneto):
            view.set_look(look)
        self.chooser.set_look(look)
        self.hangar.set_look(look)
        self._arrange()
        margin = look.pixels(16)
        self._foot.setContentsMargins(margin, look.pixels(8), margin, look.pixels(8))
        self._foot.setSpacing(margin)
        self._set_places()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: what has no room beside the fields stands below or above them."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """Put the drawings beside the fields, or under them; the places down the side, or in one line above."""
        look, width = self._look, self.width()
        stacked = width < look.pixels(RAIL + FIELDS + BESIDE)
        narrow = width < look.pixels(RAIL + FIELDS)
        self.rail.setVisible(not narrow)
        self.chooser.setVisible(narrow)
        self._keys.setVisible(not narrow)
        self._beside_scroll.setFixedWidth(look.pixels(BESIDE))
        if stacked == self._beside_scroll.isHidden():
            return
        self._beside_scroll.setVisible(not stacked)
        if stacked:
            self._beside_scroll.takeWidget()
            self._column.insertWidget(self._column.count() - 1, self._beside)
        else:
            self._column.removeWidget(self._beside)
            self._beside_scroll.setWidget(self._beside)
        self._beside.show()

    def open_hangar(self) -> None:
        """Show the card as it is read from the propeller; leaving it leads back to the step where it was left."""
        self.commit_focused()
        self.hangar.open(self._session, self._look, self.current, self._side)

    def set_view(self, view: View) -> None:
        """Draw as seen from the propeller end or from the rear."""
        self._view = view
        self.show_state()

    @property
    def view(self) -> View:
        """From where the dial is drawn."""
        return self._view

    def place(self) -> Place:
        """Return the present place."""
        return self._session.places[self.current]

    def show_place(self, number: int, field: Field | None = None) -> None:
        """Go to a place, and into one of its fields."""
        self.current = max(0, min(number, len(self._session.places) - 1))
        place = self.place()
        self._side = place.side or self._side
        page = self._pages[place.id]
        for other in self._pages.values():
            other.setVisible(other is page)
        self._scroll.verticalScrollBar().setValue(0)
        target = field or next((one for one in asked_fields(place) if self._session.is_open(one)), None)
        target = target or next(fields_of(place), None)
        if target is not None:
            self.focus(target)
        else:
            self.act.setFocus()
        self.show_state()

    def focus(self, field: Field) -> None:
        """Put the cursor into a field and show it."""
        row = self._pages[field.place].rows[field.key]
        row.editor.setFocus(Qt.FocusReason.TabFocusReason)
        QTimer.singleShot(0, row, lambda: self._scroll.ensureWidgetVisible(row))

    def go_from(self, field: Field) -> None:
        """Go to the next open field, wherever it is; the last place when nothing is open any more."""
        after = self._session.next_open(field)
        if after is None:
            self.show_place(len(self._session.places) - 1)
            self.act.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        number = next(i for i, place in enumerate(self._session.places) if place.id == after.place)
        if number == self.current:
            self.focus(after)
        else:
            self.show_place(number, after)

    def go_to_next_open(self) -> None:
        """Go to the next open field after the one that has the cursor."""
        focused = next((row.field for row in self.rows() if row.editor.hasFocus()), None)
        after = focused or next(fields_of(self.place()), None)
        if after is not None:
            self.go_from(after)

    def commit_focused(self) -> None:
        """Hand over the field that is being typed in, before the card is saved, printed or left."""
        for row in self.rows():
            if row.editor.hasFocus():
                row.commit()

    def rows(self) -> tuple[FieldRow, ...]:
        """Return the rows of all places."""
        return tuple(row for page in self._pages.values() for row in page.rows.values())

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of the page."""
        self.message.setObjectName("refusal" if refused else "quiet")
        self.message.style().unpolish(self.message)
        self.message.style().polish(self.message)
        self.message.setText(words)

    def show_state(self) -> None:
        """Show the present card: fields, results, rings, drawings and the next action."""
        session = self._session
        page = self._pages.get(self.place().id)
        if page is not None:
            page.show_state()
        values: dict[str, object] = {
            field.key: session.value(field) for place in session.places for field in fields_of(place)
        }
        progress = [progress_of(place, session.places, session.state, values) for place in session.places]
        self.rail.show_progress(progress, self.current)
        self.chooser.setCurrentIndex(self.current)
        pictures = pictures_of(session.state, self._side, self._view)
        self._show_verdict(pictures.side)
        self._nothing.setVisible(pictures.dial is None)
        self.dial.show_drawing(pictures.dial)
        self.magnified.show_drawing(pictures.magnified)
        self.magneto.show_drawing(pictures.magneto)
        last = self.current == len(session.places) - 1
        self.act.setText(session.last_act() if last else f"Next: {session.places[self.current + 1].title}")

    def _show_verdict(self, side: Side | None) -> None:
        """Show the verdict as left beside the dial, so that it is in sight while readings are typed."""
        while item := self._verdict.takeAt(0):
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        verdict = standing_of(self.place(), self._session.state, side)
        if verdict is not None:
            self._verdict.addWidget(VerdictView(verdict, self._look, 16))

    def _go_on(self) -> None:
        if self.current == len(self._session.places) - 1:
            self.act_asked.emit()
        else:
            self.show_place(self.current + 1)

    def _set_places(self) -> None:
        """Follow the places of the card as they are now; pages that stay keep their rows."""
        places = self._session.places
        present = places[0].id
        for place in places:
            page = self._pages.get(place.id)
            if page is None:
                page = PlaceView(place, self._session, self._look)
                page.entered.connect(self.go_from)
                self._pages[place.id] = page
                page.hide()
                self._sheet.addWidget(page)
            elif page.place != place:
                page.set_place(place)
        for gone in set(self._pages) - {place.id for place in places}:
            page = self._pages.pop(gone)
            page.hide()
            page.deleteLater()
        ids = [place.id for place in places]
        shown = next((page.place.id for page in self._pages.values() if not page.isHidden()), present)
        self.current = ids.index(shown) if shown in ids else 0
        self._pages[ids[self.current]].show()
        self.rail.set_places(places, self._look)
        self.chooser.clear()
        for number, place in enumerate(places, 1):
            self.chooser.addItem(f"{number} of {len(places)}: {place.title}")
        self.show_state()
