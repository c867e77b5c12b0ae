"""The places of a shop's window beside its orders: each is a name, its keys, and what builds its page."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.windows.pieces.look import Look
from desktop.windows.records.records_place import RecordsPlace
from desktop.windows.shop.copies_place import CopiesPlace
from desktop.windows.shop.due_page import DuePage
from desktop.windows.shop.people_page import PeoplePage
from desktop.windows.shop.settings_page import SettingsPage
from desktop.windows.shop.sheets_page import SheetsPage
from desktop.windows.shop.tools_page import ToolsPage


class ShopPage(Protocol):
    """What the window asks of a page; it is a widget as well."""

    @property
    def is_begun(self) -> bool:
        """Whether something was typed that is not kept."""
        ...

    def show_begun(self) -> None:
        """Show what was typed and is not kept."""
        ...

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        ...

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once."""
        ...


@dataclass(frozen=True, slots=True)
class ShopPlace:
    """A place of the window: its name in the menu and the bar, the keys that lead there, and its page."""

    name: str
    keys: str
    build: Callable[[ShopDesk, Look], ShopPage]


PLACES = (
    ShopPlace("Coming due", "Ctrl+2", lambda desk, look: DuePage(desk.due, desk.drift, look)),
    ShopPlace("People", "Ctrl+3", lambda desk, look: PeoplePage(desk.roster, look, desk.enrolment)),
    ShopPlace("Tools", "Ctrl+4", lambda desk, look: ToolsPage(desk.tools, look)),
    ShopPlace("Limits sheets", "Ctrl+5", lambda desk, look: SheetsPage(desk.sheets, look)),
    ShopPlace("Records", "Ctrl+6", lambda desk, look: RecordsPlace(desk.found, desk.signed, look)),
    ShopPlace("Settings", "Ctrl+7", lambda desk, look: SettingsPage(desk.settings, look)),
    ShopPlace("Copies", "Ctrl+8", lambda desk, look: CopiesPlace(desk.copies, look)),
)
"""The places after the work orders, in the order of the bar. Another one is one more line here."""
