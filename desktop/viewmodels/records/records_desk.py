"""The signed records of a shop, or of one order: their list, one of them verified, and its correction."""

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import NotReady, Refusal
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.timing.faults import Fault
from desktop.core.words import day_words
from desktop.usecases.records.signing.correct import Correction, correction_troubles
from desktop.usecases.records.signing.see_record import SeenRecord, list_records, see_record
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field, Group
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.signing.sign_session import CorrectionPen, SignSession

RECORD_COLUMNS = (
    ListColumn("Record", lambda line: str(line.number), 92, strong=True, narrow_width=92),
    ListColumn("What", lambda line: line.kind, 0, below=("About", "Time")),
    ListColumn("About", lambda line: line.subject, 240),
    ListColumn("Signed by", lambda line: f"{line.name} ({line.person})", 260, narrow_width=260),
    ListColumn("Time", lambda line: line.at, 260, quiet=True),
)
UNSIGNED = "Nothing is signed in this shop yet. A records keeper enrols people, at People."


class CorrectionForm(EntryForm):
    """What is wrong in a record, what holds instead, and the reason."""

    columns = (
        (
            Group(
                "Correction",
                (
                    Field("wrong", "Wrong in it", hint="needed, as it stands there"),
                    Field("instead", "It holds instead", hint="needed"),
                    Field("reason", "Reason", hint="needed, in a sentence"),
                ),
            ),
        ),
    )

    def correction(self, number: int) -> Correction:
        """Return the correction of a record that the form says."""
        return Correction(number, self.text("wrong"), self.text("instead"), self.text("reason"))

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        where = {"It is not said what is wrong": "wrong", "It is not said what holds": "instead", "A record": "reason"}
        troubles = correction_troubles(self.correction(1))
        return tuple(
            Fault(path, words) for words in troubles for begin, path in where.items() if words.startswith(begin)
        )


class RecordsDesk(QObject):
    """The list of records, the newest first; ``order`` 0 for those of the whole shop.

    ``sign_asked`` carries the session of a signature, ``moved`` what it did.
    """

    changed = Signal()
    refused = Signal(str)
    sign_asked = Signal(object)
    moved = Signal(str)

    def __init__(
        self,
        signing: Signing | None,
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
        order: int = 0,
    ) -> None:
        super().__init__(parent)
        self._signing, self._who, self._new_id, self.order = signing, who, new_id, order
        self.model = LinesModel(RECORD_COLUMNS, lambda line: line.number, self)
        self.seen: SeenRecord | None = None
        self.trouble = ""

    def look(self) -> None:
        """Read the list again."""
        if self._signing is None:
            return
        try:
            lines = list_records(self._signing.store)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self.model.show_lines([line for line in lines if self._is_shown(line)])
        self.changed.emit()

    def open_record(self, number: int) -> None:
        """Verify a record and show it; one that is not sound shows why, and nothing of it."""
        self.seen, self.trouble = None, ""
        if self._signing is not None:
            try:
                self.seen = see_record(self._signing.desk, self._signing.store, number)
            except Refusal as refusal:
                self.trouble = refusal.sentence
        self.changed.emit()

    def head_words(self) -> str:
        """Say of the open record what was found."""
        if self.seen is None:
            return self.trouble
        return f"Record {self.seen.number}, record seal {self.seen.seal}. Seal and signatures were verified."

    def text(self) -> str:
        """Return everything that the open record says; nothing while it is not found sound."""
        return "\n".join(self.seen.lines) if self.seen else ""

    def corrections(self) -> tuple[str, ...]:
        """Return what corrects the open record, one text each."""
        if self.seen is None:
            return ()
        return tuple(_correction_words(one) for one in self.seen.corrections)

    def correct(self, correction: Correction) -> None:
        """Ask to sign a correction of the open record."""
        if self._signing is None:
            return
        try:
            pen = CorrectionPen(self._signing, self._who(), correction)
            session = SignSession(self._signing, pen, self._new_id)
        except NotReady as not_ready:
            self.refused.emit(" ".join(not_ready.reasons))
            return
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        session.signed.connect(lambda _kept: self._take_signed(correction.number))
        self.sign_asked.emit(session)

    def _take_signed(self, number: int) -> None:
        self.look()
        self.open_record(number)
        self.moved.emit("The correction is signed; it stands with the record from now on.")

    def _is_shown(self, line: RecordLine) -> bool:
        return self.order in (0, line.order)


def _correction_words(one: SeenRecord) -> str:
    section = one.record.section("Correction")
    rows = section.rows[1:] if section else ()
    said = "\n".join(f"{row.label}: {row.text}" for row in rows)
    day = day_words(datetime.fromisoformat(one.record.at).date())
    return f"Corrected by record {one.number}, {one.record.signer.name}, {day}\n{said}"
