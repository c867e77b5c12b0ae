"""The approval of an order: the maintenance entry as it will print, its wording, and approving or not approving it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import NotReady, Refusal
from desktop.core.records.entry.entry_parts import EntryKind
from desktop.core.records.record import RecordKind, Row, Section
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.reasons import is_reason
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.look_at_entry import EntryLook, look_at_entry
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.signing.sign_session import ActPen, SignSession

WORDING_LABELS = {
    "work": "Work performed",
    "inspection_type": "Type of the inspection",
    "extent": "Extent of the inspection",
    "statement": "Certifying statement",
    "remarks": "Remarks",
}
"""The fields of the wording, by the label under which each prints."""
OF_INSPECTION = ("inspection_type", "extent", "statement")
NO_REASON = "Write the reason first, in a sentence: it is the first entry of the list of discrepancies."


@dataclass(frozen=True, slots=True)
class ApprovalText:
    """What somebody typed at an approval and did not sign."""

    wording: tuple[tuple[str, str], ...]
    reason: str
    approves: bool
    kind: EntryKind


class ApprovalSession(QObject):
    """The entry of one order. Every change emits ``changed``; ``sign_asked`` carries the session of a signature."""

    changed = Signal()
    refused = Signal(str)
    sign_asked = Signal(object)
    moved = Signal(str)

    def __init__(
        self,
        shop: Shop,
        signing: Signing | None,
        number: int,
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._shop, self._signing = shop, signing
        self.number, self._who, self._new_id = number, who, new_id
        self.approves = True
        self.kind = EntryKind.MAINTENANCE
        self.reason = ""
        self._typed: dict[str, str] = {}
        self.look: EntryLook = look_at_entry(shop, who(), self._act())

    @property
    def title(self) -> str:
        """What is decided."""
        return f"{order_name(self.number)}: the maintenance entry"

    @property
    def fields(self) -> tuple[str, ...]:
        """The names of the wording's fields that this entry has, in their order on paper."""
        is_inspection = self.kind is EntryKind.INSPECTION
        return tuple(name for name in WORDING_LABELS if is_inspection or name not in OF_INSPECTION)

    def wording(self, name: str) -> str:
        """Return what stands in a field of the wording."""
        text: str = getattr(self.look.entry.wording, name)
        return text

    def type_wording(self, name: str, text: str) -> None:
        """Take what was typed into a field of the wording."""
        if text != self.wording(name):
            self._typed[name] = text
            self._show()

    def type_reason(self, text: str) -> None:
        """Take the reason for not approving."""
        if text != self.reason:
            self.reason = text
            self._show()

    def typed(self) -> ApprovalText | None:
        """Return what was typed and is not signed, to go on with it later; None for nothing."""
        if not (self._typed or self.reason.strip()):
            return None
        return ApprovalText(tuple(self._typed.items()), self.reason, self.approves, self.kind)

    def go_on(self, text: ApprovalText) -> None:
        """Go on with what was typed before."""
        self._typed, self.reason = dict(text.wording), text.reason
        self.approves, self.kind = text.approves, text.kind
        self._show()

    def choose(self, *, approves: bool) -> None:
        """Decide whether the order is approved."""
        self.approves = approves
        self._typed.pop("statement", None)  # the other way has a statement of its own
        self._show()

    def choose_kind(self, kind: EntryKind) -> None:
        """Say whether the work is maintenance or part of an inspection."""
        self.kind = kind
        self._show()

    def facts(self) -> tuple[Section, ...]:
        """Return what prints and is not edited, section by section."""
        labels = set(WORDING_LABELS.values())
        sections = (Section(one.title, tuple(_fixed(one.rows, labels))) for one in self.look.sections)
        return tuple(one for one in sections if one.rows)

    def missing(self) -> tuple[str, ...]:
        """Return each required element that is missing, with its source."""
        return self.look.missing

    def warnings(self) -> tuple[str, ...]:
        """Return what the approver should look at again."""
        return self.look.warnings

    def stopping(self) -> tuple[SaidFinding, ...]:
        """Return the findings with which nobody approves."""
        return self.look.stopping

    def last_act(self) -> str:
        """Return the words of the action."""
        return "Approve for return to service" if self.approves else "Sign that it is not approved"

    def reload(self) -> None:
        """Look at the order again."""
        self._show()

    def watch(self) -> None:
        """See whether another window changed the order, and show it as it is."""
        try:
            version = self._shop.store.version(self.number)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        if version != self.look.order.version:
            self._show()

    def act(self) -> None:
        """Ask to sign the approval, or that it is not approved."""
        if self._signing is None:
            self.refused.emit("Nobody can sign here yet. A records keeper enrols people, at People.")
            return
        if not self.approves and not is_reason(self.reason):
            self.refused.emit(NO_REASON)
            return
        act = replace(self._act(), wording=self.look.entry.wording)
        try:
            session = SignSession(self._signing, ActPen(self._signing, self._who(), act), self._new_id)
        except NotReady as not_ready:
            self._show()
            more = len(not_ready.reasons) - 1
            self.refused.emit(f"{not_ready.reasons[0]}{f' And {more} more, listed above.' if more else ''}")
            return
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        words = "Approved for return to service." if self.approves else "Not approved; the list goes to the owner."
        session.signed.connect(lambda _kept: self._take_signed(words))
        self.sign_asked.emit(session)

    def _take_signed(self, words: str) -> None:
        self._typed, self.reason = {}, ""
        self.moved.emit(words)

    def _act(self) -> Act:
        kind = RecordKind.APPROVED if self.approves else RecordKind.NOT_APPROVED
        # The approver names the type of the inspection: it stands in the wording.
        return Act(kind, self.number, reason="" if self.approves else self.reason.strip(), entry_kind=self.kind)

    def _show(self) -> None:
        try:
            proposed = look_at_entry(self._shop, self._who(), self._act())
            typed = {name: text for name, text in self._typed.items() if name in self.fields}
            wording = replace(proposed.entry.wording, **typed)
            act = replace(self._act(), wording=wording)
            self.look = look_at_entry(self._shop, self._who(), act)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self.changed.emit()


def _fixed(rows: tuple[Row, ...], labels: set[str]) -> list[Row]:
    return [row for row in rows if row.label.removesuffix(", continued") not in labels]
