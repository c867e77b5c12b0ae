"""The forms of limits sheets: a new one, its values as they are typed, and the comparison with the document."""

import re
from collections.abc import Callable

from PySide6.QtCore import QObject

from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_faults import is_sheet_id
from desktop.core.shop.sheets.sheet_life import Difference, SheetLife, SheetState
from desktop.core.shop.sheets.sheet_paths import sheet_groups, sheet_value, with_sheet_value
from desktop.core.shop.sheets.sheets import Sheet, document_words
from desktop.core.timing.faults import Fault
from desktop.core.timing.typed_paths import Value
from desktop.usecases.shop.lists.sheets import faults_of
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice, words_of
from desktop.viewmodels.shop.sheet_fields import columns_of, label_of, unit_of

OK, DIFFERS, REASON = "ok.", "differs.", "reason"


class NewSheetForm(EntryForm):
    """The id and the kind of a new sheet."""

    columns = (
        (
            Group(
                "New sheet",
                (
                    choice("kind", "It is about", words_of(SheetKind), hint="needed"),
                    Field("id", "Id", hint="needed: small letters, digits, hyphens"),
                ),
            ),
        ),
    )

    def kind(self) -> SheetKind:
        """Return what the sheet is about."""
        return SheetKind(self.text("kind"))

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        faults = (
            (not self.text("kind"), "kind", "Choose what the sheet is about."),
            (
                not is_sheet_id(self.text("id")),
                "id",
                "Write up to 40 small letters and digits with hyphens between, such as marrow-six.",
            ),
        )
        return tuple(Fault(where, words) for is_so, where, words in faults if is_so)


class SheetForm(EntryForm):
    """A sheet as it is typed: each field is kept as a draft when it is left, faults and all.

    ``keep`` keeps a sheet and returns how it stands then, None after a refusal that was said.
    """

    def __init__(
        self, life: SheetLife, keep: Callable[[Sheet], SheetLife | None], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._keep = keep
        self.unkept: dict[str, Value] = {}
        self._take(life)

    @property
    def is_draft(self) -> bool:
        """Whether something may be typed."""
        return self.life.state is SheetState.DRAFT

    def take(self, life: SheetLife) -> None:
        """Show the sheet as it stands now."""
        self._take(life)
        self.typed_changed.emit()

    def commit(self, field: Field, value: Value) -> None:
        """Keep what was typed at a field at once; what could not be kept stays in its field."""
        typed = value if value not in ("", False) else None
        if typed == self.values.get(field.path) or not self.is_draft:
            return
        kept = self._keep(with_sheet_value(self.life.sheet, field.path, typed))
        if kept is None:
            self.unkept[field.path] = typed
            self.values[field.path] = typed
        else:
            self.unkept.pop(field.path, None)
            self._take(kept)
        self.typed_changed.emit()

    @property
    def is_begun(self) -> bool:
        """Whether something was typed that is not kept."""
        return bool(self.unkept)

    def is_open(self, field: Field) -> bool:  # noqa: ARG002 - the whole sheet is open or not
        """Tell whether a field takes typing."""
        return self.is_draft

    def is_filled_in(self, field: Field) -> bool:  # noqa: ARG002 - each field is stopped at
        """Tell whether Enter may pass a field over: none, since an empty field may be one that was forgotten."""
        return False

    def note_at(self, field: Field) -> str:
        """Return nothing: the unit stands there."""
        del field
        return ""

    def fault_at(self, field: Field) -> str:
        """Return the sentence at a field; one of a draft that is still empty is said once it is to be finished."""
        if field.path in self.unkept:
            return "This was not kept. Press Enter to try again."
        is_typed = self.values.get(field.path) is not None
        if not (is_typed or self._is_tried):
            return ""
        return next((fault.expected for fault in self.faults() if fault.where == field.path), "")

    def own_faults(self) -> tuple[Fault, ...]:
        """Return what cannot be read, each at its field; of a table that is not there, at the first field of it."""
        paths = [field.path for field in self.fields()]
        found = []
        for fault in faults_of(self.life):
            begins = (f"{fault.where}.", f"{fault.where}[")
            where = fault.where if fault.where in paths else next((p for p in paths if p.startswith(begins)), "")
            found.append(Fault(where or paths[0], f"{fault.expected[:1].upper()}{fault.expected[1:]}."))
        return tuple(found)

    def returned_words(self) -> str:
        """Return what differed when the sheet was sent back; empty when it was not."""
        return "; ".join(self.life.returned_for)

    def _take(self, life: SheetLife) -> None:
        self.life = life
        self.columns = columns_of(life.sheet)
        found: dict[str, Value] = {}
        for field in self.fields():
            if (value := sheet_value(life.sheet, field.path)) not in (None, False):
                found[field.path] = value
        self.values = found | self.unkept
        self.seen_version = life.version


class CompareForm(EntryForm):
    """A finished sheet held against its document: each group confirmed, or what the document says instead."""

    def __init__(self, life: SheetLife, *, is_own: bool, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.life = life
        groups = []
        for name, rows in sheet_groups(life.sheet):
            fields = tuple(Field(f"{DIFFERS}{path}", _compared(path, text), optional=True) for path, text in rows)
            tick = Field(f"{OK}{name}", "All as the document has it", Kind.TICK)
            groups.append(Group(name.replace("_", " ").capitalize(), (*fields, tick)))
        if is_own:
            reason = Field(REASON, "Reason", hint="why nobody else compares; it stands on paper")
            groups.append(Group("You typed this sheet", (reason,)))
        half = (len(groups) + 1) // 2
        self.columns = (tuple(groups[:half]), tuple(groups[half:]))

    @property
    def document(self) -> str:
        """The document that the sheet is held against."""
        return document_words(self.life.sheet)

    def confirmed(self) -> tuple[str, ...]:
        """Return the groups that are as the document has them."""
        return tuple(name for name, _ in sheet_groups(self.life.sheet) if self.values.get(f"{OK}{name}") is True)

    def differs(self) -> tuple[Difference, ...]:
        """Return what the document says otherwise."""
        return tuple(
            Difference(field.path.removeprefix(DIFFERS), self.text(field.path))
            for field in self.fields()
            if field.path.startswith(DIFFERS) and self.text(field.path)
        )

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether Enter may pass a field over: it goes from tick to tick, group by group."""
        return field.path.startswith(DIFFERS)

    def note_at(self, field: Field) -> str:
        """Say that what was typed is what the document has."""
        return "says the document" if field.path.startswith(DIFFERS) else ""

    def own_faults(self) -> tuple[Fault, ...]:
        """Say which group was not compared yet, unless something differs."""
        if self.differs():
            return ()
        done = self.confirmed()
        return tuple(
            Fault(f"{OK}{name}", "Compare these with the document, then tick; or write what the document says.")
            for name, _ in sheet_groups(self.life.sheet)
            if name not in done
        )


def _compared(path: str, text: str) -> str:
    """Say a value of the sheet with its name and unit, as it is held against the document."""
    name = label_of(path).rsplit(": ", maxsplit=1)[-1]
    entry = re.search(r"\[([0-9]+)\]\.", path)
    said = f"{entry[1]}, {name}" if entry else f"{name[:1].upper()}{name[1:]}"
    return f"{said}: {text} {unit_of(path)}".strip()
