"""The lock in a window: what is open is put out of sight, and comes back as it was."""

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import QDialog, QMainWindow, QMenu, QStackedWidget, QWidget

from desktop.viewmodels.signing.idle_lock import IdleLock
from desktop.windows.frame.present_place import is_over, place_over
from desktop.windows.pieces.look import Look
from desktop.windows.signing.lock_page import LockPage
from desktop.windows.signing.sign_dialog import SignDialog

TOUCHES = (
    QEvent.Type.KeyPress,
    QEvent.Type.MouseButtonPress,
    QEvent.Type.MouseButtonDblClick,
    QEvent.Type.Wheel,
    QEvent.Type.TouchBegin,
)
STAYS = "stays-when-locked"
"""The property of an action that may be used in a locked window."""


class LockWatch(QObject):
    """Watches keys and clicks of the whole program, and closes the view of one window when its lock says so.

    ``guide_asked`` carries the name of what stands over the window when F1 is pressed there.
    """

    guide_asked = Signal(str)

    def __init__(self, window: QMainWindow, lock: IdleLock, look: Look) -> None:
        super().__init__(window)
        self._window, self.lock = window, lock
        lock.setParent(self)
        self._stack = QStackedWidget()
        self.page = LockPage(lock, look)
        if (inside := window.takeCentralWidget()) is not None:
            self._stack.addWidget(inside)
        self._stack.addWidget(self.page)
        window.setCentralWidget(self._stack)
        self._hidden: list[QWidget] = []
        self._actions: list[QAction] = []
        self._focus: QWidget | None = None
        self._person = self._proposed = ""
        lock.locked.connect(self._close_view)
        lock.opened.connect(lambda _person: self._open_view())
        self.page.left.connect(lambda: lock.leave(self._person))
        application = QCoreApplication.instance()
        if application is not None:
            application.installEventFilter(self)
        lock.watch()

    def rest(self) -> None:
        """Watch no more."""
        self.lock.rest()
        application = QCoreApplication.instance()
        if application is not None:
            application.removeEventFilter(self)

    def say_who(self, person_id: str) -> None:
        """Take who sits at the window, to be said when it locks."""
        self._person = person_id

    def propose(self, person_id: str) -> None:
        """Take who is asked for first while nobody is at work."""
        self._proposed = person_id

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Tell the lock of every key and click; nothing is taken away but F1 over a dialog."""
        if event.type() in TOUCHES:
            self.lock.touch()
            if isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_F1 and isinstance(watched, QWidget):
                over = watched.window()
                if is_over(over) and _belongs(over, self._window):
                    self.guide_asked.emit(place_over(over))
                    return True
        return False

    def _close_view(self) -> None:
        window = self._window
        self._focus = window.focusWidget()
        self._actions = [
            one
            for one in window.findChildren(QAction)
            if one.isEnabled() and not one.property(STAYS) and not isinstance(one.menu(), QMenu)
        ]
        for action in self._actions:
            action.setEnabled(False)
        for dialog in window.findChildren(SignDialog):
            dialog.reject()  # its secret is forgotten; the signature is asked for again
        self._hidden = [one for one in window.findChildren(QWidget) if one.isWindow() and one.isVisible()]
        for one in self._hidden:
            one.hide()
        self._stack.setCurrentWidget(self.page)
        self.page.begin(self._person or self._proposed)

    def _open_view(self) -> None:
        for action in self._actions:
            action.setEnabled(True)
        self._stack.setCurrentIndex(0)
        for one in self._hidden:
            if isinstance(one, QDialog):
                one.open()
            else:
                one.show()
        focus, hidden = self._focus, self._hidden
        self._hidden, self._actions, self._focus = [], [], None
        # A turn later: the pages that come back put the keyboard where they begin.
        if focus is not None and not hidden:
            QTimer.singleShot(0, focus, lambda: focus.setFocus(Qt.FocusReason.OtherFocusReason))
        elif hidden:
            hidden[-1].activateWindow()


def _belongs(window: QWidget, to: QWidget) -> bool:
    """Tell whether a window stands over another one, directly or over a page of it."""
    above: QObject | None = window
    while above is not None and above is not to:
        above = above.parent()
    return above is to
