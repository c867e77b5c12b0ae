"""The card page: places down the side, the present one in the middle, its drawings beside, the next action below."""

from PySide6.QtCore import Qt, Signal
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
from desktop.viewmodels.card.card_pictures import View, pictures_of, turns_housing
from desktop.viewmodels.card.form_session import FormSession
from desktop.viewmodels.card.going_on import Stop, is_read_only
from desktop.viewmodels.pieces.card_words import standing_of
from desktop.viewmodels.pieces.fields import Field, Place, asked_fields, fields_of
from desktop.windows.card.beside import WIDTH as BESIDE
from desktop.windows.card.beside import Beside
from desktop.windows.card.place_sheet import PlaceSheet
from desktop.windows.card.place_view import PlaceView
from desktop.windows.card.rail import WIDTH as RAIL
from desktop.windows.card.rail import Rail
from desktop.windows.hangar.hangar_door import HangarDoor
from desktop.windows.pieces.caution_box import CautionBox
from desktop.windows.pieces.editors import ChoiceBox
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.look import Look

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
        self._beside = Beside(look)
        self._sheet = PlaceSheet()
        self.dial, self.magnified, self.magneto = self._beside.dial, self._beside.magnified, self._beside.magneto
        self._keys = QLabel(session.keys_said())
        self._keys.setObjectName("small")
        self._keys.setWordWrap(True)
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
        self._beside_scroll = QScrollArea()
        self._beside_scroll.setWidget(self._beside)
        self._beside_scroll.setWidgetResizable(True)
        self._beside_scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._beside_scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._middle.addWidget(self.rail)
        left = QVBoxLayout()
        left.setSpacing(0)
        left.addWidget(self.chooser)
        left.addWidget(self._sheet, 1)
        self._middle.addLayout(left, 1)
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
        self._beside.set_look(look)
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
        self._sheet.show_view(self._pages[self.place().id])
        self._show_pictures()

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
            self._sheet.put_below(self._beside)
        else:
            self._sheet.take_from_below(self._beside)
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
            if other is not page:
                other.hide()
                other.head.hide()
        self._sheet.show_view(page)
        self._sheet.to_top()
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
        self._sheet.bring(row)

    def go_from(self, field: Field) -> None:
        """Go on from a field: to what is needed next, or to where something stops; at last to the action."""
        self._go_to(self._session.go_on(field))

    def go_to_next_open(self) -> None:
        """Go to the next open field after the one that has the cursor, whatever is left open."""
        focused = next((row.field for row in self.rows() if row.editor.hasFocus()), None)
        place = self.place()
        if focused is None:
            self._session.read(place)
        self._go_to(self._session.next_open(focused) if focused else self._session.next_after(place))

    def _go_to(self, stop: Stop | None) -> None:
        if stop is None:
            self.show_place(len(self._session.places) - 1)
            self.act.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        number = next(i for i, place in enumerate(self._session.places) if place.id == stop.place)
        if number == self.current and stop.field is not None:
            self.focus(stop.field)
        else:
            self.show_place(number, stop.field)
        if stop.why:
            self.say(stop.why, refused=True)

    def commit_focused(self) -> None:
        """Hand over the field that is being typed in, before the card is saved, printed or left."""
        for row in self.rows():
            if row.editor.hasFocus():
                row.commit()

    def rows(self) -> tuple[FieldRow, ...]:
        """Return the rows of all places."""
        return tuple(row for page in self._pages.values() for row in page.rows.values())

    def boxes(self) -> tuple[CautionBox, ...]:
        """Return the boxes of the place that is shown."""
        return tuple(self._pages[self.place().id].head.boxes)

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
        progress = [session.progress_at(place) for place in session.places]
        self.rail.show_progress(progress, self.current)
        self.chooser.setCurrentIndex(self.current)
        self._show_pictures()
        words, last = session.last_act(), self.current == len(session.places) - 1
        self.act.setText(words if last else f"Next: {self._follows().title}")
        self.act.setVisible(bool(words) or not last)

    def _show_pictures(self) -> None:
        pictures = pictures_of(self._session.state, self._side, self._view)
        verdict = standing_of(self.place(), self._session.state, pictures.side)
        room = 0 if self._beside_scroll.isHidden() else self._beside_scroll.viewport().height()
        self._beside.show_pictures(pictures, verdict, room, turns_housing=turns_housing(self.place()))

    def _follows(self) -> Place:
        """Return the place that the action leads to: from a step that asks for nothing, where the work goes on."""
        places, place = self._session.places, self.place()
        stop = self._session.next_after(place) if is_read_only(place) else None
        return next((one for one in places if stop and one.id == stop.place), places[self.current + 1])

    def _go_on(self) -> None:
        place = self.place()
        if self.current == len(self._session.places) - 1:
            self.act_asked.emit()
        elif is_read_only(place):
            self._session.read(place)
            self._go_to(self._session.next_after(place))
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
                self._sheet.add(page)
            elif page.place != place:
                page.set_place(place)
        for gone in set(self._pages) - {place.id for place in places}:
            page = self._pages.pop(gone)
            for part in (page.head, page):
                part.hide()
                part.deleteLater()
        ids = [place.id for place in places]
        shown = next((page.place.id for page in self._pages.values() if not page.isHidden()), present)
        self.current = ids.index(shown) if shown in ids else 0
        self._sheet.show_view(self._pages[ids[self.current]])
        self.rail.set_places(places, self._look)
        self.chooser.clear()
        for number, place in enumerate(places, 1):
            self.chooser.addItem(f"{number} of {len(places)}: {place.title}")
        self.show_state()
