"""The shop's settings: one form, kept by the records keeper."""

from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from desktop.viewmodels.shop.settings_form import SettingsDesk, SettingsForm
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.pieces.look import Look

TITLE, ACT, BACK = "Settings", "Keep the settings", "Undo my changes"
TASK = (
    "The shop's own manual decides these; the program follows it. Each person's theme and size of text are their own: "
    "Ctrl+L, Ctrl++ and Ctrl+-."
)
WAITS = "What was typed here is not kept yet."


class SettingsPage(QWidget):
    """Shows the settings of a desk; what was typed and not kept waits when another place is shown."""

    def __init__(self, desk: SettingsDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self.form = SettingsForm(parent=self)
        self.entry = EntryPage(self.form, ACT, BACK, look)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self.entry)
        self.entry.keep_asked.connect(lambda: self.desk.keep(self.form))
        self.entry.back_asked.connect(self.show_kept)
        desk.kept.connect(self._say_kept)
        desk.refused.connect(lambda words: self.say(words, refused=True))

    @property
    def is_begun(self) -> bool:
        """Whether something was typed that is not kept."""
        self.entry.commit_all()
        return self.form.is_begun

    def show_begun(self) -> None:
        """Say that something waits."""
        self.say(WAITS)

    def show_kept(self) -> None:
        """Show the settings as they are kept; what was typed is dropped."""
        if self.desk.look(self.form):
            self.entry.begin(TITLE, TASK)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.entry.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once."""
        self.entry.foot.say(words, refused=refused)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the settings again, unless something typed waits."""
        super().showEvent(event)
        if self.form.is_begun:
            self.entry.begin(TITLE, TASK)
            self.say(WAITS)
        else:
            self.show_kept()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Forget what was said once."""
        super().hideEvent(event)
        self.say("")

    def _say_kept(self, words: str) -> None:
        self.entry.begin(TITLE, TASK)
        self.say(words)
