"""The approval page: the entry as it will print, its wording to edit, what is missing and what stands against it."""

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPlainTextEdit, QScrollArea, QVBoxLayout, QWidget

from desktop.core.records.entry.entry_parts import EntryKind
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.signing.approval import WORDING_LABELS, ApprovalSession, ApprovalText
from desktop.windows.pieces.against_view import AgainstView
from desktop.windows.pieces.editors import ChoiceBox
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot
from desktop.windows.pieces.read_text import Line, ReadText

LOOK_EVERY_MS = 1500
BESIDE, FACTS = 1080, 240
KEYS = "Tab: next   Alt+K: kind   Alt+D: decision   Esc: back"
LINES = {"work": 4, "remarks": 2, "inspection_type": 1, "extent": 2, "statement": 3, "reason": 2}
APPROVE, NOT_APPROVE = "approve", "not approve"
REASON = "reason"


class WordingField(QPlainTextEdit):
    """Some lines of the approver's own; Tab goes on, and what was typed is taken when the field is left."""

    left = Signal(str, str)

    def __init__(self, name: str, label: str) -> None:
        super().__init__()
        self._name = name
        self.setTabChangesFocus(True)
        self.setAccessibleName(label)
        self.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Hand over what was typed when the field is left."""
        if watched is self and event.type() == QEvent.Type.FocusOut:
            self.commit()
        return super().eventFilter(watched, event)

    def commit(self) -> None:
        """Hand over what stands here."""
        self.left.emit(self._name, self.toPlainText().strip())

    def show_text(self, text: str) -> None:
        """Show a text, unless somebody is typing."""
        if not self.hasFocus() and self.toPlainText() != text:
            self.setPlainText(text)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        c = look.colours
        self.setStyleSheet(
            f"QPlainTextEdit {{ background: {c.sheet}; color: {c.ink}; border: 1px solid {c.quiet}; }}"
            f"QPlainTextEdit:focus {{ border: 2px solid {c.act}; }}"
        )
        self.setFixedHeight(look.pixels(22 * LINES[self._name] + 18))


class ApprovalPage(QWidget):
    """Shows one session."""

    back_asked = Signal()

    def __init__(self, session: ApprovalSession, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.session = session
        session.setParent(self)
        self._look = look
        self._title = QLabel(session.title)
        self._title.setObjectName("title")
        self._title.setWordWrap(True)
        self.decision = ChoiceBox(look)
        for value, words in ((APPROVE, "Approve for return to service"), (NOT_APPROVE, "Not approved, with the list")):
            self.decision.addItem(words, value)
        self.decision.setAccessibleName("Decision")
        self.kind = ChoiceBox(look)
        self.kind.setAccessibleName("Kind of entry")
        for one in EntryKind:
            self.kind.addItem(one.value, one.value)
        self._labels = {REASON: QLabel("Reason for not approving")}
        self.fields = {REASON: WordingField(REASON, "Reason for not approving")}
        for name, label in WORDING_LABELS.items():
            self._labels[name] = QLabel(label)
            self.fields[name] = WordingField(name, label)
        self.facts = ReadText("The entry as it will print", look)
        self._stands = QVBoxLayout()
        self.foot = PageFoot("", KEYS, "Back to the order")
        self._build()
        self.decision.activated.connect(self._decide)
        self.kind.activated.connect(lambda _place: session.choose_kind(EntryKind(self.kind.currentData())))
        for field in self.fields.values():
            field.left.connect(self._take)
        self.foot.act.clicked.connect(self._act)
        self.foot.back.clicked.connect(self.back_asked)
        session.changed.connect(self.show_entry)
        session.refused.connect(lambda words: self.foot.say(words, refused=True))
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(session.watch)
        self.set_look(look)

    def _build(self) -> None:
        self._grid = QGridLayout()
        for row, (words, box) in enumerate((("&Decision", self.decision), ("&Kind of entry", self.kind))):
            label = QLabel(words)
            label.setBuddy(box)
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(box, row, 1)
        for row, (name, field) in enumerate(self.fields.items(), 2):
            self._labels[name].setWordWrap(True)
            self._grid.addWidget(self._labels[name], row, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(field, row, 1)
        self._grid.setColumnStretch(1, 1)
        left = QWidget()
        left.setObjectName("sheet")
        self._left = QVBoxLayout(left)
        self._left.addWidget(self._title)
        self._left.addLayout(self._grid)
        self._left.addLayout(self._stands)
        self._left.addStretch(1)
        self._area = QScrollArea()
        self._area.setObjectName("sheet")
        self._area.setWidgetResizable(True)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._area.setWidget(left)
        self._middle = QHBoxLayout()
        self._middle.setSpacing(0)
        self._middle.addWidget(self._area, 1)
        self._middle.addWidget(self.facts, 1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._middle, 1)
        outer.addWidget(self.foot)
        order = (self.decision, self.kind, *self.fields.values(), self.facts, self.foot.act, self.foot.back)
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._left.setContentsMargins(margin, look.pixels(12), margin, look.pixels(12))
        self._left.setSpacing(look.pixels(12))
        self._grid.setHorizontalSpacing(look.pixels(12))
        self._grid.setVerticalSpacing(look.pixels(8))
        for label in self._labels.values():
            label.setFixedWidth(look.pixels(132))
        for box in (self.decision, self.kind):
            box.set_look(look)
        for field in self.fields.values():
            field.set_look(look)
        self.facts.set_look(look)
        self._arrange()
        self.show_entry()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: the entry stands beside its wording where there is room, else below it on one page."""
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Look for changes while the page is seen, and begin with the button."""
        super().showEvent(event)
        self._timer.start()
        self.foot.act.setFocus(Qt.FocusReason.OtherFocusReason)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Look no more."""
        super().hideEvent(event)
        self._timer.stop()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot."""
        self.foot.say(words, refused=refused)

    def choose(self, *, approves: bool) -> None:
        """Decide, as the box does."""
        self.decision.setCurrentIndex(0 if approves else 1)
        self._decide()

    def go_on(self, text: ApprovalText) -> None:
        """Go on with what was typed before and not signed."""
        self.session.go_on(text)
        self.decision.setCurrentIndex(0 if self.session.approves else 1)

    def commit_all(self) -> None:
        """Hand over the field that is being typed in."""
        for field in self.fields.values():
            if field.hasFocus():
                field.commit()

    def show_entry(self) -> None:
        """Show the entry as it stands now."""
        session = self.session
        shown = (*session.fields, *(() if session.approves else (REASON,)))
        for name, field in self.fields.items():
            field.setVisible(name in shown)
            self._labels[name].setVisible(name in shown)
            field.show_text(session.reason if name == REASON else session.wording(name))
        self.kind.setCurrentIndex(self.kind.findData(session.kind.value))
        wording = tuple((WORDING_LABELS[name], session.wording(name), ()) for name in session.fields)
        said: tuple[Line, ...] = tuple((label, text.replace("\n", "  "), ()) for label, text, _ in wording if text)
        facts = [
            (section.title, tuple((row.label, row.text, ()) for row in section.rows)) for section in session.facts()
        ]
        self.facts.show_sections((facts[0], ("Wording", said), *facts[1:]) if facts else ())
        self._show_stands()
        self.foot.act.setText(session.last_act())

    def _show_stands(self) -> None:
        while item := self._stands.takeAt(0):
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        session = self.session
        lines = [(f"Missing: {words}", Progress.STOPS) for words in session.missing()]
        lines += [(f"Look again: {words}", Progress.OPEN) for words in session.warnings()]
        for words, progress in lines:
            self._stands.addWidget(AgainstView(words, "", self._look, progress))
        for finding in session.stopping():
            self._stands.addWidget(AgainstView(finding.sentence, finding.source, self._look))
        if not lines and not session.stopping():
            nothing = QLabel("Every required element is there, and nothing stands against it.")
            nothing.setObjectName("quiet")
            nothing.setWordWrap(True)
            self._stands.addWidget(nothing)

    def _arrange(self) -> None:
        look, width = self._look, self.width()
        is_wide = width >= look.pixels(BESIDE)
        for layout in (self._middle, self._left):
            layout.removeWidget(self.facts)
        if is_wide:
            self._middle.addWidget(self.facts, 1)
        else:
            self._left.insertWidget(self._left.count() - 1, self.facts)
        self.facts.setMinimumHeight(0 if is_wide else look.pixels(FACTS))
        self.foot.set_look(look, width)

    def _decide(self) -> None:
        self.session.choose(approves=self.decision.currentData() == APPROVE)

    def _take(self, name: str, text: str) -> None:
        if name == REASON:
            self.session.type_reason(text)
        else:
            self.session.type_wording(name, text)

    def _act(self) -> None:
        self.commit_all()
        self.session.act()
