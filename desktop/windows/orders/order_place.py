"""Everything of one open order in the window: the order itself, and the page that was opened from it."""

from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication, QStackedWidget, QVBoxLayout, QWidget

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order_line import order_name
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.orders.around_form import AroundForm
from desktop.viewmodels.orders.job_form import JobForm
from desktop.viewmodels.orders.next_act import NextAct, NextKind
from desktop.viewmodels.orders.order_hub import OrderHub
from desktop.viewmodels.pieces.entry_form import Snapshot
from desktop.viewmodels.signing.approval import ApprovalText
from desktop.viewmodels.signing.sign_session import SignSession
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.lists.kept_list_page import WAITS
from desktop.windows.orders.job_page import JobPage
from desktop.windows.orders.order_hub_page import OrderHubPage
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.orders.waiting_text import APPROVAL, WaitingText, inspection_of
from desktop.windows.pieces.look import Look
from desktop.windows.records.record_page import RecordsPage
from desktop.windows.signing.approval_page import ApprovalPage
from desktop.windows.signing.inspection_page import InspectionPage
from desktop.windows.signing.sign_dialog import SignDialog

BACK = "Back to the order"
OTHERS = "Ctrl+I: who works here."
Page = OrderPage | InspectionPage | ApprovalPage | EntryPage | RecordsPage


class OrderPlace(QWidget):
    """Shows an order; ``left`` leads back to the work orders.

    ``page_changed`` comes when another page of the order is shown, ``who_asked`` when the next action is somebody
    else's.
    """

    left = Signal()
    page_changed = Signal()
    who_asked = Signal()

    def __init__(self, desk: ShopDesk, hub: OrderHub, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self.hub = hub
        hub.setParent(self)
        self._look = look
        self.sign_dialog: SignDialog | None = None
        self.page: Page | None = None
        self._form: tuple[str, AroundForm] | None = None
        self._waiting = WaitingText(desk.begun, hub.number, desk.present_person)
        self.hub_page = OrderHubPage(hub, look)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.hub_page)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        self.hub_page.back_asked.connect(self.left)
        self.hub_page.card_chosen.connect(self.show_card)
        self.hub_page.next_asked.connect(self._do_next)
        self.hub_page.settle_asked.connect(self._settle)
        self.hub_page.form_asked.connect(self._open_named)
        hub.sign_asked.connect(self.open_sign)
        hub.signed.connect(self._end_form)

    @property
    def card_page(self) -> OrderPage | None:
        """The page of a card, while it is shown."""
        return self.page if isinstance(self.page, OrderPage) else None

    @property
    def is_begun(self) -> bool:
        """Whether something was typed on the order that is not kept."""
        self._waiting.put(self.page, self._form)
        return bool(self._waiting.names())

    def change_hands(self) -> None:
        """Show the order before another person comes to the window: what was typed waits for whoever typed it."""
        if isinstance(self.page, OrderPage):
            self.page.page.commit_focused()
        elif self.page is not None:
            self.show_hub()

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.hub_page.set_look(look)
        if self.page is not None:
            self.page.set_look(look)
        if self.sign_dialog is not None:
            self.sign_dialog.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once on what is shown."""
        page = self.page.page if isinstance(self.page, OrderPage) else self.page
        (page or self.hub_page).say(words, refused=refused)

    def become(self, person_id: str) -> None:
        """Show what is shown to another person."""
        if isinstance(self.page, OrderPage):
            self.page.session.person_id = person_id
            self.page.session.reload()
        else:
            self.hub.reload()

    def show_hub(self, words: str = "") -> None:
        """Show the order itself, as it is now."""
        self._leave_page()
        self.hub.reload()
        self._stack.setCurrentWidget(self.hub_page)
        waits = self._waiting.names()
        self.hub_page.say(" ".join(one for one in (words, WAITS.format(names=waits) if waits else "") if one))
        self.page_changed.emit()
        # A turn later: the page that is left still moves the cursor while it is hidden.
        QTimer.singleShot(0, self.hub_page, self.hub_page.take_keys)

    def show_card(self, number: int) -> None:
        """Show a card: to its inspector when it is for inspection in a shop that signs, else to whoever fills it."""
        try:
            inspection = self.desk.inspection(self.hub.number, number)
            page: OrderPage | InspectionPage = (
                InspectionPage(inspection, self._look)
                if inspection is not None
                else OrderPage(self.desk.card_session(self.hub.number, number), self._look)
            )
        except Refusal as refusal:
            self.say(refusal.sentence, refused=True)
            return
        page.session.sign_asked.connect(self.open_sign)
        page.session.moved.connect(self.show_hub)
        if isinstance(page, OrderPage):
            page.left.connect(self.show_hub)
            self._open(page)
            QTimer.singleShot(0, page, page.begin)
        else:
            page.back_asked.connect(self.show_hub)
            if isinstance(reason := self._waiting.take(inspection_of(number)), str):
                page.go_on(reason)
            self._open(page)

    def show_approval(self, *, approves: bool) -> None:
        """Show the maintenance entry."""
        try:
            session = self.desk.approval(self.hub.number)
        except Refusal as refusal:
            self.say(refusal.sentence, refused=True)
            return
        page = ApprovalPage(session, self._look)
        session.sign_asked.connect(self.open_sign)
        session.moved.connect(self.show_hub)
        page.back_asked.connect(self.show_hub)
        if isinstance(text := self._waiting.take(APPROVAL), ApprovalText):
            page.go_on(text)
        self._open(page)
        if not approves:
            page.choose(approves=False)
            page.fields["reason"].setFocus(Qt.FocusReason.OtherFocusReason)

    def show_records(self) -> None:
        """Show the signed records of the order."""
        desk = self.desk.records(self.hub.number)
        page = RecordsPage(desk, self._look, BACK)
        desk.setParent(page)
        desk.sign_asked.connect(self.open_sign)
        page.back_asked.connect(self.show_hub)
        self._open(page)

    def show_job(self) -> None:
        """Show what can be issued."""
        try:
            form = JobForm(self.desk.shop, self.desk.bench.cards, self.hub.order)
        except Refusal as refusal:
            self.say(refusal.sentence, refused=True)
            return
        self._open_form("issue", form, JobPage(form, self._look))

    def show_form(self, name: str, form: AroundForm) -> None:
        """Show a form of what stands around the cards; what was typed there and not kept stands in it again."""
        self._open_form(name, form, EntryPage(form, form.words.act, BACK, self._look))

    def open_sign(self, session: SignSession) -> None:
        """Open the dialog of a signature."""
        dialog = SignDialog(session, self._look, self)
        self.sign_dialog = dialog
        dialog.finished.connect(self._forget_dialog)
        dialog.open()

    def leave(self) -> None:
        """Keep the field that is being typed, let the rest wait, and look at the shop file no more."""
        self._leave_page()
        self.hub_page.hide()
        if self.sign_dialog is not None:
            self.sign_dialog.reject()

    def _forget_dialog(self) -> None:
        self.sign_dialog = None
        QTimer.singleShot(0, self, self._take_keys)

    def _take_keys(self) -> None:
        """Put the keyboard back where the order goes on; not every desktop gives it back by itself."""
        if QApplication.activeModalWidget() is not None:
            return
        self.window().activateWindow()
        if self.page is None:
            self.hub_page.take_keys()

    def _do_next(self, act: NextAct) -> None:
        if not act.is_mine:
            self.who_asked.emit()
        elif act.kind is NextKind.ISSUE:
            self.show_job()
        elif act.kind in (NextKind.OPEN, NextKind.INSPECT):
            self.show_card(act.card)
        elif act.kind is NextKind.APPROVE:
            self.show_approval(approves=True)
        elif act.kind is NextKind.CLOSE:
            self.hub.close()
        else:
            self.left.emit()

    def _open_named(self, name: str) -> None:
        """Open what a button asks for; who may not do it reads so before anything is typed."""
        if why := self.hub.why_not(name):
            self.say(f"{why} {OTHERS}", refused=True)
        elif name == "issue":
            self.show_job()
        elif name == "not-approved":
            self.show_approval(approves=False)
        elif name == "records":
            self.show_records()
        else:
            self.show_form(name, self.desk.around_form(name, self.hub.order))

    def _settle(self, number: int) -> None:
        self.show_form(f"settle {number}", self.desk.settle_form(self.hub.order, number))

    def _open_form(self, name: str, form: AroundForm, page: EntryPage) -> None:
        form.setParent(page)
        if isinstance(text := self._waiting.take(name), Snapshot):
            form.go_on(text)
        page.back_asked.connect(self.show_hub)
        page.keep_asked.connect(partial(self._keep, name, form))
        self._open(page)
        self._form = (name, form)
        page.begin(f"{order_name(self.hub.number)}: {form.words.title}", form.words.task)

    def _keep(self, name: str, form: AroundForm) -> None:
        """Keep what a form says; what keeps from it is said on the form."""
        said: list[str] = []
        take = said.append
        act = form.act(self.hub.number) if self.hub.bench.signs else None
        self.hub.refused.connect(take)
        if act is not None:
            self.hub.ask_to_sign(act, form.words.said)
            is_kept = False
        else:
            is_kept = self.hub.ask(
                (name, tuple(sorted(form.values.items()))),
                lambda request: form.verb(self.desk.shop, request, self.hub.number),
                form.words.said,
            )
        self.hub.refused.disconnect(take)
        if is_kept:
            self._end_form(form.words.said)
        elif said:
            self.say(form.remedy(said[-1]), refused=True)

    def _end_form(self, words: str) -> None:
        """Take away the form whose words are kept now, and show the order."""
        if self._form is not None:
            self._form[1].begin(self._form[1].values, 0)
        self.show_hub(words)

    def _open(self, page: Page) -> None:
        self._leave_page()
        self.page = page
        self._stack.addWidget(page)
        self._stack.setCurrentWidget(page)
        self.page_changed.emit()

    def _leave_page(self) -> None:
        """Leave a page; the order is read again first: what was done here is no change of another window."""
        self._waiting.put(self.page, self._form)
        page, self.page, self._form = self.page, None, None
        if page is None:
            return
        if isinstance(page, OrderPage):
            page.page.commit_focused()
            page.rest()
        self.hub.reload()
        self._stack.removeWidget(page)
        page.hide()
        page.deleteLater()
