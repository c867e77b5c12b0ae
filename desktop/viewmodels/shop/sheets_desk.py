"""The limits sheets of a shop: their list, and everything that is done with one of them."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QObject

from desktop.core.errors import Refusal
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_life import Difference, SheetLife, SheetState
from desktop.core.shop.sheets.sheets import Sheet
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.records.signing.sign_lists import (
    COMPARED,
    RECHECKED,
    TRANSCRIBED,
    sign_comparison,
    sign_transcription,
)
from desktop.usecases.shop.lists.sheets import (
    SheetLine,
    compare_sheet,
    finish_sheet,
    import_sheet,
    list_sheets,
    revise_sheet,
    see_sheet,
    write_sheet,
)
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.pieces.bench import Bench
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.pieces.list_desk import ListDesk
from desktop.viewmodels.shop.sheet_fields import empty_sheet
from desktop.viewmodels.shop.sheet_forms import CompareForm, NewSheetForm, SheetForm
from desktop.viewmodels.signing.enrol_desk import Asks

_RINGS = {
    SheetState.DRAFT: Progress.EMPTY,
    SheetState.FOR_COMPARISON: Progress.OPEN,
    SheetState.COMPARED: Progress.DONE,
}


def _current(line: SheetLine) -> str:
    return f"revision {line.current} is current" if line.current else "none is current"


SHEET_COLUMNS = (
    ListColumn("Sheet", lambda line: line.id, 240, strong=True, narrow_width=0, below=("Current", "Transcribed from")),
    ListColumn("About", lambda line: line.kind.value, 110, narrow_width=120),
    ListColumn(
        "Revision",
        lambda line: f"{line.revision}, {line.state}",
        200,
        ring=lambda line: _RINGS[line.state],
        narrow_width=210,
    ),
    ListColumn("Current", _current, 190),
    ListColumn(
        "Transcribed from",
        lambda line: f"{line.document or 'no document named yet'}{'. Invented data' if line.invented else ''}",
        0,
        quiet=True,
    ),
)


class SheetsDesk(ListDesk):
    """The list of sheets. Drafts are kept field by field."""

    def __init__(
        self,
        shop: Shop,
        bench: Bench,
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(shop, who, new_id, parent)
        self._bench = bench
        self.model = LinesModel(SHEET_COLUMNS, lambda line: line.id, self)

    def look(self) -> None:
        """Read the list again."""
        try:
            self.model.show_lines(list_sheets(self.shop.store))
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self.lines_changed.emit()

    def life(self, sheet_id: str) -> SheetLife | None:
        """Return a sheet as it stands; None after a refusal."""
        try:
            return see_sheet(self.shop.store, sheet_id)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None

    def begin(self, sheet_id: str, kind: SheetKind) -> bool:
        """Begin a sheet in which nothing is typed yet."""
        sheet = empty_sheet(sheet_id, kind)
        words = f"Sheet {sheet_id} is begun."
        return self.ask(sheet, lambda request: write_sheet(self.shop, request, sheet), seen=0, words=words)

    def form(self, sheet_id: str) -> SheetForm | None:
        """Return the form of a sheet; None after a refusal."""
        life = self.life(sheet_id)
        if life is None:
            return None
        seen = [life.version]

        def keep(sheet: Sheet) -> SheetLife | None:
            verb = lambda request: write_sheet(self.shop, request, sheet)  # noqa: E731 - what is asked for
            if not self.ask(sheet, verb, seen=seen[0], words=""):
                return None
            kept = self.life(sheet_id)
            seen[0] = kept.version if kept else seen[0]
            return kept

        return SheetForm(life, keep)

    def new_form(self) -> NewSheetForm:
        """Return the form of a new sheet."""
        return NewSheetForm()

    def compare_form(self, life: SheetLife) -> CompareForm:
        """Return the form of a comparison."""
        return CompareForm(life, is_own=self.who() in life.written_by)

    def finish(self, life: SheetLife) -> bool:
        """Sign with one's initials that a draft holds what its document says."""
        verb = lambda request: finish_sheet(self.shop, request, life.sheet.id)  # noqa: E731 - what is asked for
        words = f"Sheet {life.sheet.id} waits for somebody else to compare it."
        return self.ask(("finish", life.sheet.id), verb, seen=life.version, words=words)

    def compare(self, life: SheetLife, confirmed: Sequence[str], differs: Sequence[Difference], reason: str) -> bool:
        """Compare a sheet, or send it back with what the document says."""
        name = life.sheet.id
        words = f"Sheet {name} goes back to a draft." if differs else f"Sheet {name} is compared, and is current now."
        return self.ask(
            ("compare", name, tuple(confirmed), tuple(differs), reason),
            lambda request: compare_sheet(self.shop, request, name, confirmed, differs, reason),
            seen=life.version,
            words=words,
        )

    def asks(self, *, comparing: bool, is_own: bool = False) -> Asks | None:
        """Return what a signature under a sheet asks for; None in a shop that signs nothing."""
        if self._bench.signs is None:
            return None
        meaning = (RECHECKED if is_own else COMPARED) if comparing else TRANSCRIBED
        title = "Sign the comparison" if comparing else "Sign the transcription"
        return Asks(title, meaning, "Sign", secret_of=self.name_of_signer(), who_is="")

    def sign_finish(self, life: SheetLife, secret: str) -> str:
        """Sign that a draft holds what its document says; return why it was not signed, empty when it was."""
        return self._signed(life, lambda desk, request: sign_transcription(desk, request, life.sheet.id, secret))

    def sign_compare(self, life: SheetLife, confirmed: Sequence[str], reason: str, secret: str) -> str:
        """Sign that a sheet agrees with its document; return why it was not signed, empty when it was."""
        return self._signed(
            life, lambda desk, request: sign_comparison(desk, request, life.sheet.id, confirmed, secret, reason)
        )

    def _signed(self, life: SheetLife, verb: Callable[[SigningDesk, Request], Answer]) -> str:
        signing = self._bench.signs
        if signing is None:
            return "This shop signs nothing yet. Enrol somebody first."
        words = f"Sheet {life.sheet.id} is signed."
        return self.sign(lambda request: verb(signing.desk, request), seen=life.version, words=words)

    def revise(self, life: SheetLife) -> bool:
        """Begin the next revision of a compared sheet."""
        verb = lambda request: revise_sheet(self.shop, request, life.sheet.id)  # noqa: E731 - what is asked for
        words = f"Revision {life.sheet.revision + 1} of {life.sheet.id} is begun; the one before stays current."
        return self.ask(("revise", life.sheet.id, life.version), verb, seen=life.version, words=words)

    def take_in(self, place: Path) -> bool:
        """Take a sheet in from a file, as a draft."""
        if self._bench.read_sheet is None:
            return False
        try:
            sheet = self._bench.read_sheet(place)
            standing = self.shop.store.sheet_life(sheet.id)
        except Refusal as refusal:
            self.refused.emit(f"{place.name}: {refusal.sentence}")
            return False
        verb = lambda request: import_sheet(self.shop, request, sheet)  # noqa: E731 - what is asked for
        words = f"Sheet {sheet.id} is in the shop as a draft. Look it over, then finish the transcription."
        return self.ask(sheet, verb, seen=standing.version if standing else 0, words=words)

    def write_out(self, sheet_id: str, place: Path) -> bool:
        """Write the newest revision of a sheet into a file, a draft or not."""
        life = self.life(sheet_id)
        if life is None or self._bench.write_sheet is None:
            return False
        try:
            self._bench.write_sheet(place, life.sheet)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        self.kept.emit(f"Sheet {sheet_id} is in {place.name}.")
        return True
