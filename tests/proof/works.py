"""What somebody does to a shop file while it is hurt: rising numbers, each said once the store has acknowledged it.

A proof takes a work as a parameter. Another kind of entry, a signature for instance, is another ``Work`` here: the
proofs do not know what they hurt. A work stands under its name, because it is done in a process of its own.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.timing.typed_paths import value_at
from desktop.signing import Ed25519Verifier
from desktop.storage import database
from desktop.storage.copies.backup import STANDS, make_copy
from desktop.storage.copies.copy_seal import look_at
from desktop.storage.copies.restore import prepare_copy
from desktop.storage.places import Surroundings
from desktop.storage.shop_store import open_shop
from desktop.storage.troubles import KEPT
from desktop.usecases.records.checking.last_time import LastTime
from desktop.usecases.records.copies.copy_ports import never_stops
from desktop.usecases.records.keys.sign import put_down, sign_with
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.ports import Request
from tests.storage.file_floor import QUIET, TEXT, FileFloor, opened
from tests.usecases.records.signing_floor import SigningFloor, opened_floor

PATHS = ("left.approach[1].light", "left.approach[2].light")
_DAY = 86_400
NOW = datetime(2031, 3, 4, 9, 30, tzinfo=UTC)


class Half(AssertionError):  # noqa: N818 - it is what was found, not what went wrong here
    """A file holds half of something, or does not agree with itself."""


@dataclass(frozen=True, slots=True)
class Work:
    """Something that is done over and over.

    ``does`` keeps the numbers from ``first`` on, one a step, and yields each once it was acknowledged; ``found`` opens
    the file, looks whether it is whole (Half when it is not), and returns the last number that stands in it.
    """

    name: str
    does: Callable[[Path, str, int], Iterator[int]]
    found: Callable[[Path], int]
    kept_although: str = KEPT
    """The words with which a refusal says that it is kept all the same."""
    told: Callable[[Path], LastTime | None] | None = None
    """Opens the file after a kill and returns what the next start tells; None for a work that leaves no note."""


def work_named(name: str) -> Work:
    """Return a work by ``module:name``."""
    module, _, attribute = name.partition(":")
    found = getattr(import_module(module), attribute)
    if not isinstance(found, Work):
        raise TypeError(f"{name} is no work")
    return found


def _with_notes(place: Path) -> Surroundings:
    """Return a machine whose user has a folder, beside the one in which the shop file lies."""
    return Surroundings(state=place.parent.parent / "state", patience=QUIET.patience)


def _type_readings(place: Path, turn: str, first: int, around: Surroundings = QUIET) -> Iterator[int]:
    with open_shop(place, TEXT, around) as file:
        floor = FileFloor(file)
        for number in range(first, first + 100_000):
            request = Request(f"{turn}-{number}", "MECH", file.version(1))
            take_reading(floor.shop, request, 1, 1, (PATHS[number % 2], str(number)))
            yield number


def _reading_found(place: Path) -> int:
    """Return the last number that was typed; two fields take the numbers by turns."""
    with opened(place) as file:
        if faults := file.faults():
            raise Half(f"the pages are not sound: {faults}")
        order = file.order(1)
        if order is None:
            raise Half("the order is gone")
        versions = [change.version for change in file.changes_since(1, 0)]
        if versions != list(range(1, order.version + 1)) or file.change_count() != order.version:
            raise Half("order and journal do not agree")
        [line] = file.orders()
        if line.version != order.version:
            raise Half("order and list do not agree")
        readings = order.cards[0].readings
        typed = sorted(int(str(value_at(readings, path)).split(".")[0]) for path in PATHS)
        return typed[-1]


def _copy_on(place: Path, _turn: str, first: int) -> Iterator[int]:
    for number in range(first, first + 100_000):
        make_copy(place, place.with_name(f"{number}.shop-copy"), NOW, never_stops, Ed25519Verifier(), QUIET)
        yield number


def _copy_found(place: Path) -> int:
    """Return the number of the last copy; every file that bears a copy's name is whole."""
    copies = {int(one.stem): one for one in place.parent.glob("*.shop-copy")}
    for one in copies.values():
        try:
            look_at(one, never_stops)
        except Refusal as refusal:
            raise Half(refusal.sentence) from refusal
    if sorted(copies) != list(range(1, len(copies) + 1)):
        raise Half("a copy was lost")
    if copies:
        with prepare_copy(
            copies[len(copies)], place, never_stops, Ed25519Verifier(), QUIET, unsealed=False
        ) as prepared:
            if prepared.present != prepared.holds:
                raise Half("the copy is not what the shop holds")
    return len(copies)


def _type_with_notes(place: Path, turn: str, first: int) -> Iterator[int]:
    yield from _type_readings(place, turn, first, _with_notes(place))


def last_told(place: Path) -> LastTime | None:
    """Return what the next start tells of the one window that was killed; None when it tells nothing."""
    with open_shop(place, TEXT, _with_notes(place)) as file:
        found = file.last_time()
    if len(found) > 1 or any(one.hand is None for one in found):
        raise Half(f"one window was killed, and this is told: {found}")
    return found[0] if found else None


def told_number(last: LastTime) -> int:
    """Return the last number that stands in a file by what was told."""
    if last.hand is None:
        raise Half("what was told cannot be read")
    number = last.hand.record or int(last.hand.request.rpartition("-")[2])
    return number if last.is_kept else number - 1


def told_always_kept(place: Path) -> LastTime | None:
    """Tell, for a control, of everything that it was kept."""
    last = last_told(place)
    return last and replace(last, is_kept=True)


def _sign_on(place: Path, turn: str, first: int, around: Surroundings = QUIET) -> Iterator[int]:
    floor = SigningFloor(open_shop(place, TEXT, around), None)
    # Who is killed between a try and its signature has used the try, and waits: the clock goes on by a day a turn.
    floor.clock.move(_DAY * (first + int(turn) if turn.isdecimal() else first))
    with floor.file:
        for number in range(first, first + 100_000):
            envelope = _sign_one(floor, number)
            if envelope.number != number:
                raise Half(f"record {envelope.number} was signed as number {number}")
            yield number


def _sign_one(floor: SigningFloor, number: int) -> Envelope:
    """Sign the work on a card of an order of its own: a card that was submitted is not submitted again."""
    hand = floor.hand("MECH")
    with floor.file.changing() as work:
        record = replace(floor.work_done(work, "MECH"), subject=f"order {number} card 1")
        envelope = sign_with(floor.desk, work, record, hand)
    put_down(hand)
    return envelope


def _sign_with_notes(place: Path, turn: str, first: int) -> Iterator[int]:
    yield from _sign_on(place, turn, first, _with_notes(place))


def _signature_found(place: Path) -> int:
    """Return the number of the last record; the whole chain is sound, its list too."""
    floor = opened_floor(place, None)
    with floor.file:
        if faults := (*floor.file.faults(), *floor.problems()):
            raise Half(f"not sound: {faults[0]}")
        records = floor.file.records()
        if [line.number for line in records.lines()] != [one.number for one in records.envelopes()]:
            raise Half("records and their list do not agree")
        last = records.last_envelope()
        return last.number if last else 0


def _says_it_too_soon(place: Path, turn: str, first: int) -> Iterator[int]:
    with opened(place) as file:
        floor = FileFloor(file)
        for number in range(first, first + 100_000):
            yield number
            request = Request(f"{turn}-{number}", "MECH", file.version(1))
            take_reading(floor.shop, request, 1, 1, (PATHS[number % 2], str(number)))


def _hears_no_refusal(place: Path, turn: str, first: int) -> Iterator[int]:
    typing = _type_readings(place, turn, first)
    for number in range(first, first + 100_000):
        try:
            yield next(typing)
        except (Refusal, StopIteration):
            yield number


def _with_synchronous(word: str, value: int) -> Callable[[Path, str, int], Iterator[int]]:
    def does(place: Path, turn: str, first: int) -> Iterator[int]:
        settings = tuple(
            (name, word, value) if name == "synchronous" else (name, wanted, found)
            for name, wanted, found in database._SETTINGS  # noqa: SLF001 - the control needs a weaker store
        )
        database._SETTINGS = settings  # noqa: SLF001 - the same
        yield from _type_readings(place, turn, first)

    return does


HERE = "tests.proof.works"
READING = Work(f"{HERE}:READING", _type_readings, _reading_found)
SIGNING = Work(f"{HERE}:SIGNING", _sign_on, _signature_found)
"""It needs a file in which people are enrolled."""
READING_TOLD = Work(f"{HERE}:READING_TOLD", _type_with_notes, _reading_found, told=last_told)
SIGNING_TOLD = Work(f"{HERE}:SIGNING_TOLD", _sign_with_notes, _signature_found, told=last_told)
"""The same on a machine whose user has a folder for notes; it needs a file in which people are enrolled too."""
COPYING = Work(f"{HERE}:COPYING", _copy_on, _copy_found, STANDS)
TOO_SOON = Work(f"{HERE}:TOO_SOON", _says_it_too_soon, _reading_found)
"""A control: it says that something is kept before it is."""
DEAF = Work(f"{HERE}:DEAF", _hears_no_refusal, _reading_found)
"""A control: it says that something is kept whatever the store says."""
FULL = Work(f"{HERE}:FULL", _with_synchronous("FULL", 2), _reading_found)
"""A control: the folder is not synced after the journal is gone."""
OFF = Work(f"{HERE}:OFF", _with_synchronous("OFF", 0), _reading_found)
"""A control: nothing is synced."""
