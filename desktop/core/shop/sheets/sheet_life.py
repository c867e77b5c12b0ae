"""The life of a limits sheet: transcribed by one person, compared by another, and never changed after that.

A revision begins as a draft, which keeps what was typed, faults and all. Finishing the transcription needs no fault
left. The comparison confirms each group of values or names what differs, which sends the sheet back. A compared
revision stays as it is; a correction is the next one. The current revision is the last one that was compared.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from desktop.core.shop.reasons import is_reason
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_faults import sheet_faults
from desktop.core.shop.sheets.sheet_numbers import tidied_sheet
from desktop.core.shop.sheets.sheet_paths import sheet_groups, sheet_value
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, Sheet, document_words
from desktop.core.shop.stamp import Stamp


class SheetState(StrEnum):
    """How far the newest revision of a sheet is."""

    DRAFT = "draft"
    FOR_COMPARISON = "for comparison"
    COMPARED = "compared"


class SheetMove(StrEnum):
    """What was done with a revision."""

    BEGUN = "begun"
    FINISHED = "transcription finished"
    SENT_BACK = "sent back"
    COMPARED = "compared"
    RECHECKED = "rechecked by the same person"


@dataclass(frozen=True, slots=True)
class SheetPassage:
    """A move of a revision: by whom, and in words what differed or why one person did both."""

    move: SheetMove
    revision: int
    by: Stamp
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Difference:
    """A field that is not as the document has it; ``document_says`` is what stands there."""

    where: str
    document_says: str


@dataclass(frozen=True, slots=True)
class SheetLife:
    """The newest revision of a sheet with everything that was done; ValueError when parts contradict each other.

    ``written_by`` holds the ids of everybody who typed into this revision: none of them may compare it.
    """

    version: int
    state: SheetState
    written_by: tuple[str, ...]
    passages: tuple[SheetPassage, ...]
    engine: EngineSheet | None = None
    magneto: MagnetoSheet | None = None

    def __post_init__(self) -> None:
        if (self.engine is None) == (self.magneto is None):
            raise ValueError("a limits sheet is of an engine or of a magneto")
        signed = (self.sheet.transcribed_by is not None, self.sheet.compared_by is not None)
        if signed != (self.state is not SheetState.DRAFT, self.state is SheetState.COMPARED):
            raise ValueError("a sheet carries the signatures of its state")
        if self.version < 1:
            raise ValueError("versions count from 1")

    @property
    def sheet(self) -> Sheet:
        """The sheet itself."""
        sheet = self.engine or self.magneto
        assert sheet is not None  # noqa: S101 - looked at when it was built
        return sheet

    @property
    def kind(self) -> SheetKind:
        """What the sheet is about."""
        return self.sheet.kind

    @property
    def word(self) -> str:
        """How far the sheet is, as it stands in a sentence."""
        return "a draft" if self.state is SheetState.DRAFT else self.state.value

    @property
    def returned_for(self) -> tuple[str, ...]:
        """What differed when this revision was last sent back; nothing when it was not, or was finished since."""
        last = next((one for one in reversed(self.passages) if one.revision == self.sheet.revision), None)
        return last.said if last and last.move is SheetMove.SENT_BACK else ()


def begun(sheet: Sheet, by: Stamp) -> SheetLife:
    """Return a new sheet as a draft; it is revision 1 of the shop and carries no signature yet."""
    passage = SheetPassage(SheetMove.BEGUN, 1, by)
    return _life(1, SheetState.DRAFT, (by.person,), (passage,), _bare(sheet, 1))


def written(life: SheetLife, sheet: Sheet, by: Stamp) -> SheetLife:
    """Return a draft with what was typed into it now. ValueError for a sheet of another id or kind, or no draft."""
    if life.state is not SheetState.DRAFT:
        raise ValueError("only a draft is written on")
    if (sheet.id, sheet.kind) != (life.sheet.id, life.kind):
        raise ValueError("a sheet keeps its id and what it is about")
    hands = life.written_by if by.person in life.written_by else (*life.written_by, by.person)
    return _life(life.version, life.state, hands, life.passages, _bare(sheet, life.sheet.revision))


def revised(life: SheetLife, by: Stamp) -> SheetLife:
    """Return the draft of the next revision, which begins with the values of the last. ValueError before that."""
    if life.state is not SheetState.COMPARED:
        raise ValueError("only a compared sheet is revised")
    number = life.sheet.revision + 1
    passages = (*life.passages, SheetPassage(SheetMove.BEGUN, number, by))
    return _life(life.version, SheetState.DRAFT, (by.person,), passages, _bare(life.sheet, number))


def finish_troubles(life: SheetLife) -> tuple[str, ...]:
    """Say what keeps a transcription from being finished."""
    if life.state is not SheetState.DRAFT:
        return (f"Sheet {life.sheet.id} is {life.word}, and its transcription is finished. Compare or revise it.",)
    return tuple(f"{fault.sentence}." for fault in sheet_faults(tidied_sheet(life.sheet)))


def finished(life: SheetLife, by: Stamp) -> SheetLife:
    """Return the sheet with its transcription signed and its numbers in their written form."""
    hands = life.written_by if by.person in life.written_by else (*life.written_by, by.person)
    passages = (*life.passages, SheetPassage(SheetMove.FINISHED, life.sheet.revision, by))
    sheet = replace(tidied_sheet(life.sheet), transcribed_by=by)
    return _life(life.version, SheetState.FOR_COMPARISON, hands, passages, sheet)


def compare_troubles(
    life: SheetLife, by: Stamp, confirmed: Sequence[str], differs: Sequence[Difference], reason: str, *, is_alone: bool
) -> tuple[str, ...]:
    """Say what keeps a person from comparing a sheet, or from the outcome that they gave.

    ``confirmed`` names the groups that are as the document has them. ``is_alone`` says that nobody else with the shop
    may compare: then whoever typed it rechecks it, with a reason.
    """
    if life.state is not SheetState.FOR_COMPARISON:
        advice = "Finish the transcription first." if life.state is SheetState.DRAFT else "Revise it to change it."
        return (f"Sheet {life.sheet.id} is {life.word}, and there is nothing to compare. {advice}",)
    troubles = list(_hand_troubles(life, by, reason, is_alone=is_alone))
    if differs:
        troubles += [trouble for one in differs for trouble in _difference_troubles(life.sheet, one)]
    else:
        missing = [name for name, _ in sheet_groups(life.sheet) if name not in confirmed]
        troubles += [f"Not compared yet: {', '.join(missing)}. Compare each group with the document."] * bool(missing)
    return tuple(troubles)


def compared(life: SheetLife, by: Stamp, reason: str) -> SheetLife:
    """Return the sheet with its comparison signed; ``reason`` counts only when the same person did both."""
    is_same = by.person in life.written_by
    said = (reason.strip(),) if is_same else ()
    move = SheetMove.RECHECKED if is_same else SheetMove.COMPARED
    passages = (*life.passages, SheetPassage(move, life.sheet.revision, by, said))
    sheet = replace(life.sheet, compared_by=by, recheck_reason="".join(said))
    return _life(life.version, SheetState.COMPARED, life.written_by, passages, sheet)


def sent_back(life: SheetLife, by: Stamp, differs: Sequence[Difference]) -> SheetLife:
    """Return the sheet as a draft again, with what differs from the document."""
    said = tuple(f"{one.where}: the document says {one.document_says.strip()}" for one in differs)
    passages = (*life.passages, SheetPassage(SheetMove.SENT_BACK, life.sheet.revision, by, said))
    return _life(life.version, SheetState.DRAFT, life.written_by, passages, replace(life.sheet, transcribed_by=None))


@dataclass(frozen=True, slots=True)
class RevisionConfirmed:
    """Somebody confirmed on a day that the revision of a sheet's document is the current one."""

    sheet: str
    revision: int
    document: str
    day: date
    by: Stamp


def confirm_current(sheet: Sheet, day: date, who: Stamp) -> RevisionConfirmed:
    """Return the confirmation that a sheet's document is current. ValueError before the sheet is compared."""
    if sheet.compared_by is None:
        raise ValueError("a sheet is compared before cards are issued with it")
    return RevisionConfirmed(sheet.id, sheet.revision, document_words(sheet), day, who)


def is_superseded(pin: SheetPin, pins: Sequence[SheetPin]) -> bool:
    """Tell whether a newer compared revision of the same sheet stands."""
    return any(other.sheet == pin.sheet and other.revision > pin.revision for other in pins)


def _hand_troubles(life: SheetLife, by: Stamp, reason: str, *, is_alone: bool) -> tuple[str, ...]:
    if by.person not in life.written_by:
        return ()
    if not is_alone:
        return ("Whoever transcribed a sheet does not compare it. Ask somebody else of the shop.",)
    if not is_reason(reason):
        return ("One person did both. Write a sentence why nobody else compares; it stands on paper.",)
    return ()


def _difference_troubles(sheet: Sheet, one: Difference) -> tuple[str, ...]:
    try:
        sheet_value(sheet, one.where)
    except KeyError:
        return (f"{one.where} is no field of this sheet. Choose the field that differs.",)
    if not one.document_says.strip():
        return (f"{one.where}: it is not said what the document says. Write it.",)
    return ()


def _bare(sheet: Sheet, revision: int) -> Sheet:
    return replace(sheet, revision=revision, transcribed_by=None, compared_by=None, recheck_reason="")


def _life(
    version: int, state: SheetState, hands: tuple[str, ...], passages: tuple[SheetPassage, ...], sheet: Sheet
) -> SheetLife:
    if isinstance(sheet, EngineSheet):
        return SheetLife(version, state, hands, passages, engine=sheet)
    return SheetLife(version, state, hands, passages, magneto=sheet)
