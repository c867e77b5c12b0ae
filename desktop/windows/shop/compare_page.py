"""A finished sheet held against its document: each value, and beside it what the document says instead."""

from PySide6.QtCore import QTimer

from desktop.viewmodels.pieces.fields import Field, Kind
from desktop.viewmodels.shop.sheet_forms import CompareForm
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.look import Look

LABEL_WIDTH, EDITOR_WIDTH = 288, 168
TASK = "Hold each group against the document: {document}. Where it says something else, write that beside the value."


class ComparePage(EntryPage):
    """Shows the form of a comparison; Enter goes from group to group, Tab through every value."""

    def __init__(self, form: CompareForm, look: Look) -> None:
        self._compared = form
        super().__init__(form, "Sign the comparison", "Back to the sheets", look)

    def begin_comparison(self) -> None:
        """Show the sheet, with the cursor at the first group's tick."""
        sheet = self._compared.life.sheet
        self.begin(
            f"Compare {sheet.id}, revision {sheet.revision}",
            TASK.format(document=self._compared.document or "not named"),
        )
        first = next(field for field in self._compared.fields() if field.kind is Kind.TICK)
        QTimer.singleShot(0, self, lambda: self.focus(first))

    def _row(self, field: Field) -> FieldRow:
        width = None if field.kind is Kind.TICK else EDITOR_WIDTH
        row = FieldRow(field, self._look, label_width=LABEL_WIDTH, editor_width=width)
        row.editor.setAccessibleName(self._form.name_of(field))
        row.committed.connect(self._form.commit)
        row.entered.connect(self._go_from)
        row.focused.connect(self._show_field)
        self.rows[field.path] = row
        return row
