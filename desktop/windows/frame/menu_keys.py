"""The keys of a menu's action, called as they stand on the keyboard and at the foot of every page."""

from PySide6.QtGui import QAction, QKeySequence

SAID = {"Ctrl+Return": "Ctrl+Enter", "Ctrl+PgDown": "Ctrl+PgDn"}
"""What a menu would call otherwise."""


def give_keys(action: QAction, keys: str) -> None:
    """Give an action its keys; a name of our own stands in the menu after a tab."""
    action.setShortcut(QKeySequence(keys))
    if keys in SAID:
        action.setText(f"{action.text()}\t{SAID[keys]}")


def keys_of(action: QAction) -> str:
    """Return an action's keys as they stand in the menus; empty for none."""
    said = action.text().partition("\t")[2]
    return said or action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
