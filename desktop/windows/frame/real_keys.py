"""The keys that really do something: those of the menus, and those that the foot of each place names."""

import re
from collections.abc import Iterator

from PySide6.QtWidgets import QMainWindow, QMenu

from desktop.viewmodels.frame.guide import Shortcut, foot_shortcuts
from desktop.windows.frame import guide_page
from desktop.windows.frame.menu_keys import keys_of
from desktop.windows.hangar import hangar_view
from desktop.windows.lists import entry_page
from desktop.windows.orders import new_order_page, order_hub_page, orders_page
from desktop.windows.paper import papers_dialog
from desktop.windows.records import check_result, record_page, records_page
from desktop.windows.shop import copies_page, copies_restore_page, enrol_page, people_page, sheets_page, tools_page
from desktop.windows.shop import due_page as due
from desktop.windows.signing import approval_page, inspection_page

FEET = (
    ("Work orders", orders_page.KEYS),
    ("New work order", new_order_page.KEYS),
    ("Order", order_hub_page.KEYS),
    ("Inspection", inspection_page.KEYS),
    ("Approval", approval_page.KEYS),
    ("Signed records", record_page.KEYS),
    ("Coming due", due.KEYS),
    ("People", people_page.KEYS),
    ("Enrolment", enrol_page.KEYS),
    ("Tools", tools_page.KEYS),
    ("Limits sheets", sheets_page.KEYS),
    ("Records", records_page.KEYS),
    ("Copies", copies_page.KEYS),
    ("Restore", copies_restore_page.KEYS),
    ("Papers", papers_dialog.KEYS),
    ("Every form", entry_page.KEYS),
    ("What a check found", check_result.KEYS),
    ("Guide", guide_page.KEYS),
)
"""What the foot of each place says."""
_KEYS_FIRST = re.compile(r"((?:[^a-z\s]\S*\s)+)(.+)")


def menu_shortcuts(window: QMainWindow) -> Iterator[Shortcut]:
    """Yield the keys of the menus, in their order."""
    for menu in window.menuBar().actions():
        inside = menu.menu()
        for action in inside.actions() if isinstance(inside, QMenu) else ():
            if keys := keys_of(action):
                yield Shortcut(plain(menu.text()), plain(action.text()), keys)


def all_shortcuts(window: QMainWindow) -> Iterator[Shortcut]:
    """Yield every key: the menus first, then place by place."""
    yield from menu_shortcuts(window)
    for where, said in FEET:
        yield from foot_shortcuts(where, said)
    for part in hangar_view.KEYS.split("   "):
        if found := _KEYS_FIRST.fullmatch(part):
            yield Shortcut("Hangar view", found[2], found[1].strip())


def plain(words: str) -> str:
    """Return words without the marks of letters and the dots of a question."""
    return words.partition("\t")[0].replace("&&", "\0").replace("&", "").replace("\0", "&").rstrip("…")
