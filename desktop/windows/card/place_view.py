"""One place of the card: its task, its fields in groups, and below them what they give."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from desktop.viewmodels.card.form_session import FormSession
from desktop.viewmodels.pieces.card_words import findings_at, hint_of, notes_of, verdicts_of
from desktop.viewmodels.pieces.fields import Field, Place, Shows
from desktop.windows.pieces.caution_box import CautionBox
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.finding_list import FindingView, VerdictView
from desktop.windows.pieces.look import Look


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
        self._layout = QVBoxLayout(self)
        self._fields = QVBoxLayout()
        self._results = QVBoxLayout()
        self._title = QLabel()
        self._title.setObjectName("title")
        self._task = QLabel()
        self._task.setObjectName("task")
        self._boxes: list[CautionBox] = []
        self._boxes_column = QVBoxLayout()
        self._headings: list[QLabel] = []
        self._more = QLabel()
        self._more.setObjectName("quiet")
        for label in (self._title, self._task, self._more):
            label.setWordWrap(True)
            self._layout.addWidget(label)
        self._layout.addLayout(self._boxes_column)
        self._layout.addLayout(self._fields)
        self._layout.addLayout(self._results)
        self._layout.addStretch(1)
        self.set_place(place)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._layout.setContentsMargins(margin, margin, margin, margin)
        self._layout.setSpacing(look.pixels(12))
        self._fields.setSpacing(look.pixels(8))
        self._results.setSpacing(look.pixels(12))
        for box in self._boxes:
            box.set_look(look)
        for row in self.rows.values():
            row.set_look(look)
        self.show_state()

    def set_place(self, place: Place) -> None:
        """Lay out the fields of the place as it is now."""
        self.place = place
        self._title.setText(place.title)
        self._task.setText(place.task)
        self._more.setText(place.more)
        self._more.setVisible(bool(place.more))
        self._show_boxes()
        keys = {field.key for group in place.groups for field in group.fields}
        for key in [key for key in self.rows if key not in keys]:
            row = self.rows.pop(key)
            row.hide()
            row.deleteLater()
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
            self._headings.append(heading)
            self._fields.addWidget(heading)
            for field in group.fields:
                row = self._row(field)
                self._fields.addWidget(row)
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

    def _show_boxes(self) -> None:
        """Show what can hurt somebody or something, above the fields."""
        for box in self._boxes:
            box.hide()
            box.deleteLater()
        self._boxes = [CautionBox(kind, words, self._look) for kind, words in self.place.boxes]
        for box in self._boxes:
            self._boxes_column.addWidget(box)

    def _row(self, field: Field) -> FieldRow:
        row = self.rows.get(field.key)
        if row is None or row.field != field:
            if row is not None:
                row.hide()
                row.deleteLater()
            row = FieldRow(field, self._look)
            row.committed.connect(self._session.commit)
            row.entered.connect(self.entered)
            row.focused.connect(self._session.began)
            self.rows[field.key] = row
        return row

    def _clear_results(self) -> None:
        while self._results.count():
            item = self._results.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
