"""Which place of the program is in front: the name by which the guide knows it."""

from PySide6.QtWidgets import QDialog, QWidget

from desktop.windows.hangar.hangar_view import HangarView
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.orders.job_page import JobPage
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.paper.papers_dialog import PapersDialog
from desktop.windows.paper.preview_dialog import PreviewDialog
from desktop.windows.paper.which_log_dialog import WhichLogDialog
from desktop.windows.records.record_page import RecordsPage
from desktop.windows.signing.approval_page import ApprovalPage
from desktop.windows.signing.inspection_page import InspectionPage
from desktop.windows.signing.sign_dialog import SignDialog

FIRST_START, SINGLE_CARD = "First start", "Single card"
WORK_ORDERS, NEW_ORDER, ORDER, LOCKED = "Work orders", "New work order", "Order", "Locked"
OF_AN_ORDER: tuple[tuple[type[QWidget], str], ...] = (
    (JobPage, "Issue"),
    (EntryPage, "Form"),
    (OrderPage, "Card"),
    (InspectionPage, "Inspection"),
    (ApprovalPage, "Approval"),
    (RecordsPage, "Signed records"),
)
"""The pages that are opened from an order; the narrower kind stands first."""
OVER_A_WINDOW: tuple[tuple[type[QWidget], str], ...] = (
    (SignDialog, "Signature"),
    (PreviewDialog, "Page preview"),
    (PapersDialog, "Papers"),
    (WhichLogDialog, "Which log"),
    (HangarView, "Hangar view"),
)
"""What stands over a window."""


def place_of(page: QWidget | None) -> str:
    """Return the name of a page of an order; of the order itself for none."""
    return next((name for kind, name in OF_AN_ORDER if isinstance(page, kind)), ORDER)


def place_over(window: QWidget) -> str:
    """Return the name of what stands over a window; empty for a window itself and for a small question."""
    return next((name for kind, name in OVER_A_WINDOW if isinstance(window, kind)), "")


def is_over(window: QWidget) -> bool:
    """Tell whether something stands over a window and takes its keys."""
    return isinstance(window, (QDialog, HangarView))
