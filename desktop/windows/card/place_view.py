"""One place of the card: its fields in groups, and below them what they give; its head stands apart."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QFrame, QLabel, QLineEdit, QVBoxLayout, QWidget

from desktop.viewmodels.card.form_session import FormSession
from desktop.viewmodels.pieces.card_words import findings_at, hint_of, notes_of, verdicts_of
from desktop.viewmodels.pieces.fields import ON_THE_ORDER, Field, Kind, Place, Shows
from desktop.windows.card.pick_list import PickList
from desktop.windows.card.place_head import PlaceHead
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.finding_list import FindingView, VerdictView
from desktop.windows.pieces.look import Look

WORDS_WIDTH, NAME_WIDTH = 330, 240
"""How wide a field is that takes a sentence, and one that takes a name."""


class PlaceView(QWidget):
    """Shows one place. Rows are kept while their field stays, so that typing is never disturbed."""

    entered = Signal(object)

    def __init__(self, place: Place, session: FormSession, look: Look) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.place = place
        self._session = session
        self._look = look
        self.rows: dict[str, FieldRow] = {}
        self.head = PlaceHead(place, look)
        self._picks: dict[str, PickList] = {}
        self._headings: list[QLabel] = []
        self._layout = QVBoxLayout(self)
        self._fields = QVBoxLayout()
        self._results = QVBoxLayout()
        self._layout.addLayout(self._fields)
        self._layout.addLayout(self._results)
        self._layout.addStretch(1)
        self.set_place(place)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._layout.setContentsMargins(margin, look.pixels(8), margin, margin)
        self._layout.setSpacing(look.pixels(12))
        self._fields.setSpacing(look.pixels(8))
        self._results.setSpacing(look.pixels(12))
        self.head.set_look(look)
        for pick in self._picks.values():
            pick.set_look(look)
        for row in self.rows.values():
            row.set_look(look)
        self.show_state()

    def set_place(self, place: Place) -> None:
        """Lay out the fields of the place as it is now."""
        self.place = place
        self.head.set_place(place)
        keys = {field.key for group in place.groups for field in group.fields}
        for key in [key for key in self.rows if key not in keys]:
            self._drop(key)
        while self._fields.count():
            self._fields.takeAt(0)
        for heading in self._headings:
            heading.hide()
            heading.deleteLater()
        self._headings = []
        before: QWidget | None = None
        for group in place.groups:
            heading = QLabel(group.title if not group.is_new or len(place.groups) == 1 else f"{group.title} (next)")
            heading.setObjectName("group")
            heading.setWordWrap(True)
            self._headings.append(heading)
            self._fields.addWidget(heading)
            heading.setVisible(bool(group.title))
            for field in group.fields:
                row = self._row(field)
                self._fields.addWidget(row)
                if field.key in self._picks:
                    self._fields.addWidget(self._picks[field.key])
                if before is not None:
                    QWidget.setTabOrder(before, row.editor)
                before = row.editor
        self.show_state()

    def show_state(self) -> None:
        """Show values, faults and results of the present card."""
        state = self._session.state
        notes = notes_of(state)
        for row in self.rows.values():
            row.show_state(
                self._session.value(row.field),
                "   ".join(
                    note for note in (notes.get(row.field.path, ""), self._session.other_units(row.field)) if note
                ),
                hint_of(row.field, state, self.place.side),
                self._session.trouble_at(row.field),
            )
            row.editor.setEnabled(self._session.is_writable(row.field))
        self._clear_results()
        verdicts = verdicts_of(self.place, state)
        findings = findings_at(self.place, self._session.places, state)
        if verdicts or findings:
            rule = QFrame()
            rule.setObjectName("rule")
            self._results.addWidget(rule)
        for verdict in verdicts:
            self._results.addWidget(VerdictView(verdict, self._look))
        for finding in findings:
            self._results.addWidget(FindingView(finding, self._look))
        if self.place.shows is Shows.ALL:
            for line in self._session.last_lines():
                label = QLabel(line)
                label.setWordWrap(True)
                self._results.addWidget(label)

    def _row(self, field: Field) -> FieldRow:
        row = self.rows.get(field.key)
        if row is None or row.field != field:
            if row is not None:
                self._drop(field.key)
            row = FieldRow(field, self._look, editor_width=_width_of(field))
            row.committed.connect(self._session.commit)
            row.entered.connect(self.entered)
            row.focused.connect(self._session.began)
            if isinstance(row.editor, QCheckBox):
                row.editor.clicked.connect(lambda is_on, field=field: self._ticked(field, is_on=is_on))
            picks = self._session.picks_for(field)
            if picks and isinstance(row.editor, QLineEdit):
                self._picks[field.key] = PickList(row.editor, picks, self._look)
            self.rows[field.key] = row
        return row

    def _ticked(self, field: Field, *, is_on: bool) -> None:
        """Go on by itself when a tick was set; one that was taken back, or that was refused, stays where it is."""
        if is_on and self._session.value(field) is True and not self._session.trouble_at(field):
            self.entered.emit(field)

    def _drop(self, key: str) -> None:
        widgets: tuple[QWidget | None, ...] = (self.rows.pop(key), self._picks.pop(key, None))
        for widget in widgets:
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _clear_results(self) -> None:
        while self._results.count():
            item = self._results.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()


def _width_of(field: Field) -> int | None:
    """Return how wide a field is that takes words; None for one that takes a reading."""
    if field.kind is not Kind.TEXT or field.unit:
        return None
    if field.path.startswith(ON_THE_ORDER):
        return WORDS_WIDTH
    return NAME_WIDTH if field.path.endswith(".what") else None
