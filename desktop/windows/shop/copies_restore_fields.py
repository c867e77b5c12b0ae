"""What is asked before a copy is restored: where to, whether an older one is taken, who signs, and the secret."""

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from desktop.viewmodels.shop.copies_found import FoundCopy
from desktop.windows.pieces.editors import ChoiceBox, TickBox
from desktop.windows.pieces.look import Look
from desktop.windows.signing.sign_dialog import SecretField

LABEL_WIDTH, EDITOR_WIDTH, PLACE_WIDTH = 152, 288, 520
PLACE, OLDER, KEEPER, SECRET = "New shop &file", "&Take the older copy all the same", "Records &keeper", "&Secret"


class RestoreFields(QWidget):
    """The fields of a restore. ``entered`` comes with Enter in the last one, ``focused`` with the one in use."""

    entered = Signal()
    focused = Signal(object)

    def __init__(self, look: Look, *, is_new: bool) -> None:
        super().__init__()
        self._is_new = is_new
        self.place, self.place_trouble = QLineEdit(), QLabel()
        self.older = TickBox(look)
        self.keeper = ChoiceBox(look)
        self.secret = SecretField("Secret")
        self.trouble = QLabel()
        self.place.setMaxLength(1000)
        self._place_label, self._older_label = QLabel(PLACE), QLabel(OLDER)
        self._keeper_label, self._secret_label = QLabel(KEEPER), QLabel(SECRET)
        for label, field in self._labelled():
            label.setBuddy(field)
            field.setAccessibleName(label.text().replace("&", ""))
            field.installEventFilter(self)
        for label in (self.place_trouble, self.trouble):
            label.setObjectName("fault")
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnStretch(2, 1)
        self._grid.addWidget(self._place_label, 0, 0)
        self._grid.addWidget(self.place, 0, 1, 1, 2, Qt.AlignmentFlag.AlignLeft)
        self._grid.addWidget(self.place_trouble, 1, 1, 1, 2)
        self._grid.addWidget(self.older, 2, 0, Qt.AlignmentFlag.AlignRight)
        self._grid.addWidget(self._older_label, 2, 1, 1, 2)
        for row, (label, field) in enumerate(self._labelled()[2:], 3):
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(field, row, 1)
        self._grid.addWidget(self.trouble, 5, 1, 1, 2)
        self.secret.returnPressed.connect(self.entered)
        self.secret.textEdited.connect(lambda _text: self.say(""))
        self.place.returnPressed.connect(self.keeper.setFocus)
        self.place.textEdited.connect(lambda _text: self.say_at_place(""))
        for widget in (self.place, self._place_label):
            widget.setVisible(is_new)
        for label in (self.place_trouble, self.trouble):
            label.hide()
        self.set_look(look)

    def _labelled(self) -> tuple[tuple[QLabel, QWidget], ...]:
        return (
            (self._place_label, self.place),
            (self._older_label, self.older),
            (self._keeper_label, self.keeper),
            (self._secret_label, self.secret),
        )

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.older.set_look(look)
        self.keeper.set_look(look)
        for label in (self._place_label, self._keeper_label, self._secret_label):
            label.setFixedWidth(look.pixels(LABEL_WIDTH))
        for field in (self.keeper, self.secret):
            field.setFixedWidth(look.pixels(EDITOR_WIDTH))
        self.place.setMinimumWidth(min(look.pixels(PLACE_WIDTH), 760))
        self._grid.setHorizontalSpacing(look.pixels(12))
        self._grid.setVerticalSpacing(look.pixels(8))

    def begin(self, found: FoundCopy, place: str) -> None:
        """Begin with a copy that was found, and the place that is proposed for a new shop file."""
        self.place.setText(place if self._is_new else "")
        self.older.setChecked(False)
        for widget in (self.older, self._older_label):
            widget.setVisible(found.is_older)
        self.keeper.clear()
        for person, name in found.keepers:
            self.keeper.addItem(f"{name} ({person})", person)
        self.secret.take()
        self.say("")
        self.say_at_place("")

    def first(self) -> QWidget:
        """Return the field in which the keyboard begins."""
        if self._is_new:
            return self.place
        if self.is_asked_about_older:
            return self.older
        return self.keeper if self.keeper.count() > 1 else self.secret

    def keeper_id(self) -> str:
        """Return who signs."""
        return str(self.keeper.currentData() or "")

    def say(self, words: str) -> None:
        """Say what stands against the restore, at the secret; the keyboard goes back to it."""
        self.trouble.setText(words)
        self.trouble.setVisible(bool(words))
        self.secret.setAccessibleDescription(words)
        if words and self.isVisible():
            self.secret.setFocus(Qt.FocusReason.OtherFocusReason)

    def say_at_place(self, words: str) -> None:
        """Say what is wrong with the place of the new shop file."""
        self.place_trouble.setText(words)
        self.place_trouble.setVisible(bool(words))
        self.place.setAccessibleDescription(words)
        if words:
            self.place.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def is_asked_about_older(self) -> bool:
        """Whether an older copy is there that nobody has said to take."""
        return not self.older.isHidden() and not self.older.isChecked()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Say which field is in use, so that it is brought into sight."""
        if event.type() == QEvent.Type.FocusIn:
            self.focused.emit(watched)
        return super().eventFilter(watched, event)
