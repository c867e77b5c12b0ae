"""What Ctrl+P prints at each place of a shop's window: the list as it is filtered and ordered, or its own paper."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.viewmodels.paper import choices as of
from desktop.viewmodels.paper.choices import Choice
from desktop.windows.lists.list_page import ListPage
from desktop.windows.orders.orders_page import OrdersPage
from desktop.windows.records.record_page import RecordsPage
from desktop.windows.records.records_place import RecordsPlace
from desktop.windows.shop.due_page import DuePage
from desktop.windows.shop.people_page import PeoplePage
from desktop.windows.shop.sheets_page import SheetsPage
from desktop.windows.shop.tools_page import ToolsPage

NO_FORM = "A form does not print. Go back to the list with Esc, and print that."
NOTHING = "Nothing is shown here that prints. The papers of the shop are in the menu Work."
STILL_READING = "The orders are still being read. Print once the list stands."

Found = tuple[Choice, ...] | str
"""What can be printed; a sentence where that is nothing."""


def what_prints(page: QWidget, desk: ShopDesk, orders: OrderDesk) -> Found:
    """Return what can be printed of a page that is shown, the list on screen first."""
    return next((find(page, desk, orders) for kind, find in _PLACES if isinstance(page, kind)), NOTHING)


def orders_asked(orders: OrderDesk) -> str:
    """Say which work orders are listed, and in which order."""
    words = orders.find.strip()
    asked = orders.asked_words()
    found = f', those in which "{words}" is found' if words else ""
    return f"{asked[:1].upper()}{asked[1:]}{found}; the newest first."


def _orders(page: QWidget, _desk: ShopDesk, orders: OrderDesk) -> Found:
    assert isinstance(page, OrdersPage)  # noqa: S101 - as the table below says
    empty = f"{page.empty_title.text()}."
    return (of.list_choice("Work orders", orders.orders, orders_asked(orders), empty),)


def _due(page: QWidget, desk: ShopDesk, _orders: OrderDesk) -> Found:
    assert isinstance(page, DuePage)  # noqa: S101 - the same
    if desk.due.is_busy or desk.drift.is_busy:
        return STILL_READING
    if page.panel.isVisible():
        serial = desk.drift.serial
        visits = of.list_choice(f"Visits of magneto {serial}", desk.drift.model, f"Of the magneto {serial}.")
        return (visits, of.drift_choice(serial)) if desk.drift.model.rowCount() else (visits,)
    return (_list(page.list_page, "Coming due", "The nearest first."), of.due_choice())


def _people(page: QWidget, desk: ShopDesk, _orders: OrderDesk) -> Found:
    assert isinstance(page, PeoplePage)  # noqa: S101 - the same
    if page.enrol_page is not None and page.enrol_page.isVisible():
        signers = page.enrol_page.list_page
        row = signers.table.chosen()
        declared = () if row is None else (of.declaration_choice(desk.enrolment.model.line(row).person.id),)
        return (_list(signers, "Who may sign", "Everybody on the roster."), *declared)
    if page.entry.isVisible():
        return NO_FORM
    return (_list(page.list_page, "People", "Everybody; those who left stand at the end."), of.roster_choice())


def _tools(page: QWidget, _desk: ShopDesk, _orders: OrderDesk) -> Found:
    assert isinstance(page, ToolsPage)  # noqa: S101 - the same
    if page.entry.isVisible():
        return NO_FORM
    return (_list(page.list_page, "Tools", "All of them; what is out of date stands first."), of.tools_choice())


def _sheets(page: QWidget, desk: ShopDesk, _orders: OrderDesk) -> Found:
    assert isinstance(page, SheetsPage)  # noqa: S101 - the same
    if page.form_page is not None:
        return NO_FORM
    row = page.list_page.table.chosen()
    sheet = () if row is None else (of.sheet_choice(desk.sheets.model.line(row).id),)
    return (_list(page.list_page, "Limits sheets", "All of them."), *sheet)


def _records(page: QWidget, desk: ShopDesk, _orders: OrderDesk) -> Found:
    assert isinstance(page, RecordsPlace)  # noqa: S101 - the same
    if page.record.isVisible():
        return _signed(page.record, desk, _orders)
    row = page.search.list_page.table.chosen()
    words = desk.found.find.strip()
    asked = f'Those in which "{words}" is found, the newest first.' if words else "All of them, the newest first."
    record = () if row is None else (of.record_choice(desk.found.line(row).number),)
    return (_list(page.search.list_page, "Records", asked), *record)


def _signed(page: QWidget, _desk: ShopDesk, _orders: OrderDesk) -> Found:
    assert isinstance(page, RecordsPage)  # noqa: S101 - the same
    seen = page.desk.seen
    if page.record.isVisible():
        return (of.record_choice(seen.number),) if seen is not None else NOTHING
    row = page.list_page.table.chosen()
    record = () if row is None else (of.record_choice(page.desk.model.line(row).number),)
    return (_list(page.list_page, "Signed records of the order", "All of them."), *record)


def _list(page: ListPage, title: str, asked: str) -> Choice:
    """Return the list of a page; where it has no line, the paper says what the page says."""
    return of.list_choice(title, page.table.model(), asked, f"{page.empty_title.text()}.")


_PLACES: tuple[tuple[type[QWidget], Callable[[QWidget, ShopDesk, OrderDesk], Found]], ...] = (
    (OrdersPage, _orders),
    (DuePage, _due),
    (PeoplePage, _people),
    (ToolsPage, _tools),
    (SheetsPage, _sheets),
    (RecordsPlace, _records),
    (RecordsPage, _signed),
)
