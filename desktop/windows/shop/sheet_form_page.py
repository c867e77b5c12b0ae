"""A limits sheet with all its fields, kept as they are typed; lists grow by the entry that is begun."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QLabel

from desktop.core.shop.sheets.sheet_life import SheetState
from desktop.core.shop.sheets.sheets import document_words
from desktop.viewmodels.pieces.fields import Field
from desktop.viewmodels.shop.sheet_forms import SheetForm
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.pieces.look import Look

ACTS = {
    SheetState.DRAFT: "Finish the transcription",
    SheetState.FOR_COMPARISON: "Compare it",
    SheetState.COMPARED: "Begin the next revision",
}
TASK = "Type what the document says. Each field is kept at once. The document governs; a sheet is never approved data."


class SheetFormPage(EntryPage):
    """Shows a sheet; ``act_asked`` carries what is to be done with it as it stands now."""

    act_asked = Signal(object)

    def __init__(self, form: SheetForm, look: Look) -> None:
        self._sheet_form = form
        self._next = ""
        self.returned = QLabel()
        self.returned.setWordWrap(True)
        self.returned.setTextFormat(Qt.TextFormat.PlainText)
        super().__init__(form, ACTS[form.life.state], "Back to the sheets", look)
        form.setParent(self)
        self._sheet.insertWidget(2, self.returned)
        self.keep_asked.connect(lambda: self.act_asked.emit(form.life))
        self.show_sheet()

    def show_sheet(self) -> None:
        """Show how the sheet stands."""
        life = self._sheet_form.life
        sheet = life.sheet
        invented = " Invented data." if sheet.invented else ""
        self.foot.act.setText(ACTS[life.state])
        self._title.setText(f"{sheet.id}, revision {sheet.revision}: {life.word}")
        self._task.setText(TASK if life.state is SheetState.DRAFT else f"{document_words(sheet)}.{invented}")
        words = self._sheet_form.returned_words()
        self.returned.setText(f"It was sent back: {words}" if words else "")
        self.returned.setStyleSheet(f"color: {self._look.colours.ask}; font-weight: bold")
        self.returned.setVisible(bool(words))

    def keep(self) -> None:
        """Do the next thing; a draft is finished only without a fault, anything else needs no form."""
        if self._sheet_form.is_draft:
            super().keep()
        else:
            self.keep_asked.emit()

    def show_typed(self) -> None:
        """Show what stands in the form; where an entry was begun or went, lay the fields out anew."""
        if self._shown is not None and self._shown != self._form.columns:
            focused = next((path for path, row in self.rows.items() if row.editor.hasFocus()), self._next)
            self._make_rows()
            self.set_look(self._look)
            QTimer.singleShot(0, self, lambda: self._take_keys(focused))
            return
        super().show_typed()

    def _go_from(self, field: Field) -> None:
        fields = [one.path for one in self._form.fields()]
        place = fields.index(field.path) if field.path in fields else -1
        self._next = fields[place + 1] if place + 1 < len(fields) else ""
        if self._next:
            self.focus(next(one for one in self._form.fields() if one.path == self._next))
        else:
            self.foot.act.setFocus(Qt.FocusReason.TabFocusReason)

    def _take_keys(self, path: str) -> None:
        """Put the cursor back where it was going when the fields were laid out anew."""
        if not any(row.editor.hasFocus() for row in self.rows.values()) and path in self.rows:
            self.rows[path].editor.setFocus(Qt.FocusReason.OtherFocusReason)
