"""Issuing the cards of a job: the form, and the documents whose revisions are confirmed."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from desktop.viewmodels.orders.job_form import NO_SHEETS, JobForm
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.pieces.look import Look

DOCUMENTS = "Documents behind the limits; look each of them up before you confirm that its revision is current:"


class JobPage(EntryPage):
    """Shows the form of a job."""

    def __init__(self, form: JobForm, look: Look) -> None:
        self.documents = QLabel()
        self.documents.setWordWrap(True)
        self.documents.setTextFormat(Qt.TextFormat.PlainText)
        self._job = form
        super().__init__(form, form.words.act, "Back to the order", look)
        self._sheet.insertWidget(self._sheet.count() - 1, self.documents)
        form.typed_changed.connect(self._show_documents)
        self._show_documents()

    def _show_documents(self) -> None:
        lines = self._job.documents()
        self.documents.setText("\n".join((DOCUMENTS, *lines)) if lines else NO_SHEETS)
        self.documents.setAccessibleName(self.documents.text())
