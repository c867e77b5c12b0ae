"""A list of the shop whose entries are signed where the shop signs: the secret is asked for before one is kept."""

from collections.abc import Callable

from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.list_desk import ListDesk
from desktop.viewmodels.signing.enrol_desk import Asks, Typed
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.lists.kept_list_page import KeptListPage
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look
from desktop.windows.signing.enrol_dialog import EnrolDialog


class SignedListPage(KeptListPage):
    """Shows a list; ``keep_signed`` asks for the secret of whoever works here."""

    def __init__(self, desk: ListDesk, form: EntryForm, list_page: ListPage, entry_page: EntryPage, look: Look) -> None:
        super().__init__(desk, form, list_page, entry_page)
        self._look = look
        self.dialog: EnrolDialog | None = None

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        super().set_look(look)

    def keep_signed(self, asks: Asks, do: Callable[[Typed], str]) -> None:
        """Ask for the secret, then keep what the form says; what was not signed stays in the form."""
        self.dialog = EnrolDialog(asks, do, self._look, self)
        self.dialog.finished.connect(self._forget_dialog)
        self.dialog.open()

    def _forget_dialog(self) -> None:
        self.dialog = None
