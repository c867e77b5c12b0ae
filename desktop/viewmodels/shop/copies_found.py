"""What is known of copies of a shop, and what was found in the one that is to be restored, in plain words. No Qt."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.core.records.record import visible
from desktop.core.records.sealed.envelope import shown
from desktop.core.words import day_words
from desktop.usecases.records.checking.health import Line, Word
from desktop.usecases.records.copies.copy_ports import BadCopy, Sabotage
from desktop.viewmodels.pieces.card_words import Progress, Verdict
from desktop.viewmodels.pieces.errand import Pace
from desktop.viewmodels.pieces.lines_model import ListColumn

SOUND, NOT_THERE = "sound, read whole", "not there now"
MOST_NAMED = 8
"""Orders that are named one by one; of more, their count is said."""
NOT_IN_WINDOW = " Say --older"
STOPPED = "Stopped. Nothing was changed."
LOOK_AGAIN = "Choose it once more, and read what it lacks."
UNSEALED = (
    "{copy} bears no seal of a copy: another program made it, or its end is missing. Take another copy. If there is "
    "none, the command line takes this one: sparkwright restore COPY SHOP --unsealed."
)
RINGS = {Word.OK: Progress.DONE, Word.LOOK: Progress.OPEN, Word.WRONG: Progress.STOPS}


@dataclass(frozen=True, slots=True)
class KnownLine:
    """A copy in the list. ``trouble`` says what became of it, empty for a sound one; then the rest is not known."""

    place: Path
    made_at: str = ""
    orders: int = 0
    records: int = 0
    seal: str = ""
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class DoctorLine:
    """One line of the doctor's page with its shape."""

    word: str
    what: str
    says: str
    progress: Progress


@dataclass(frozen=True, slots=True)
class Looked:
    """What was found when somebody looked: the doctor's page, and the copies, the newest first."""

    doctor: tuple[Line, ...]
    copies: tuple[KnownLine, ...]


@dataclass(frozen=True, slots=True)
class FoundCopy:
    """A copy that was verified whole, and what it lacks of the present file.

    ``lacks`` follows the words "The copy"; ``is_older`` tells that it lacks something. ``present_records`` is None
    where there is no present file, or one that cannot be read. ``missing`` and ``changed`` name the orders that would
    not be there, and those that would be as they were. ``keepers`` are who may sign the restore, by id and name.
    """

    copy: Path
    shop: Path
    shop_name: str
    made_at: str
    orders: int
    records: int
    seal: str
    lacks: str
    is_older: bool
    has_present: bool
    present_records: int | None
    keepers: tuple[tuple[str, str], ...]
    missing: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RestoreOrder:
    """A restore that somebody asked for."""

    found: FoundCopy
    shop: Path
    keeper: str
    takes_older: bool
    secret: str = field(repr=False)


def made_words(made_at: str) -> str:
    """Say when a copy was made, by its seal."""
    try:
        made = datetime.fromisoformat(made_at)
    except ValueError:
        return "not known"
    return f"{day_words(made.date())} {made:%H:%M}"


def ring_of(line: KnownLine) -> Progress:
    """Return the shape that stands beside a copy's word."""
    if not line.trouble:
        return Progress.DONE
    return Progress.OPEN if line.trouble == NOT_THERE else Progress.STOPS


COPY_COLUMNS = (
    ListColumn("Copy", lambda line: visible(line.place.name), 0, below=("Folder", "Made", "Records", "Record seal")),
    ListColumn("Folder", lambda line: visible(str(line.place.parent)), 248, quiet=True),
    ListColumn("Made", lambda line: made_words(line.made_at) if line.made_at else "", 152),
    ListColumn("Records", lambda line: counted(line.records, "record") if line.seal else "", 104),
    ListColumn("Record seal", lambda line: shown(line.seal) if line.seal else "", 168),
    ListColumn("Verified", lambda line: line.trouble or SOUND, 176, ring=ring_of, narrow_width=176),
)


def doctor_lines(doctor: Sequence[Line]) -> tuple[DoctorLine, ...]:
    """Return the lines of the doctor's page, their words as at the command line."""
    return tuple(DoctorLine(line.word.value, line.what, line.says, RINGS[line.word]) for line in doctor)


def verdict_of(doctor: Sequence[Line]) -> tuple[str, Progress]:
    """Say how a shop file stands as a whole, in a word and a shape."""
    wrong = sum(line.word is Word.WRONG for line in doctor)
    look = sum(line.word is Word.LOOK for line in doctor)
    if wrong:
        return f"Wrong: {counted(wrong, 'thing')} to mend", Progress.STOPS
    if look:
        return f"Look: {counted(look, 'thing')} to look at", Progress.OPEN
    return "Ok: nothing to mend, nothing to look at", Progress.DONE


def found_verdict(found: FoundCopy) -> Verdict:
    """Say in one line how a copy that was verified stands to the present file, and below it what was found."""
    says = found_words(found)
    if found.is_older:
        return Verdict("This copy is sound, but it lacks something.", says, Progress.OPEN)
    words = "This copy is sound, and lacks nothing." if found.has_present else "This copy is sound."
    return Verdict(words, says, Progress.DONE)


def found_words(found: FoundCopy) -> tuple[str, ...]:
    """Say what was found in a copy, a sentence each."""
    shop = visible(found.shop_name)
    held = f"{counted(found.records, 'record')} and {counted(found.orders, 'order')}"
    says = [f"It is the shop of {shop}: {held}, made {made_words(found.made_at)}, record seal {shown(found.seal)}."]
    if not found.has_present:
        return (*says, "No shop file is there now, so nothing is replaced.")
    says.append(f"The copy {found.lacks}.")
    if found.present_records is not None and found.present_records > found.records:
        fewer = counted(found.present_records - found.records, "record")
        says.append(f"Restored, the shop goes back by {fewer}: they stay in the file that is kept aside.")
    if found.missing:
        says.append(f"Missing would be: {_named(found.missing)}.")
    if found.changed:
        says.append(f"As they were before would be: {_named(found.changed)}.")
    says.append(
        f'The present file is kept aside as "{found.shop.stem} kept aside", with day and time, in '
        f"{found.shop.absolute().parent}. Nothing is erased."
    )
    return tuple(says)


def in_window(bad: BadCopy, copy: Path) -> str:
    """Say what became of a copy in the words of a window, where there are no options to type."""
    if bad.kind is Sabotage.UNSEALED:
        return UNSEALED.format(copy=copy)
    head, is_cut, _ = bad.sentence.partition(NOT_IN_WINDOW)
    return f"{head} {LOOK_AGAIN}" if is_cut else bad.sentence


def said_in_window(work: Callable[[Pace], object], copy: Path) -> Callable[[Pace], object]:
    """Return the same work, whose refusals are in the words of a window."""

    def begun(pace: Pace) -> object:
        try:
            return work(pace)
        except BadCopy as bad:
            # Whoever stops in the middle of a look inside has said nothing against the copy.
            raise Refusal(in_window(bad, copy) if pace(0, 0) else STOPPED) from bad

    return begun


def counted(number: int, word: str) -> str:
    """Say a number of things."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def _named(orders: tuple[str, ...]) -> str:
    more = len(orders) - MOST_NAMED
    return ", ".join(orders[:MOST_NAMED]) + (f", and {more} more" if more > 0 else "")
