"""Puts the shop together: the store, the clock, exact text, papers of an order. Loads no Qt."""

from __future__ import annotations

import getpass
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

import platformdirs

from desktop import assembly
from desktop.core.errors import Refusal
from desktop.core.rules.paper_rulebook import Paperwork
from desktop.core.shop.people.people import Person, Right
from desktop.files.export_folder import write_export
from desktop.files.export_text import ExportJson, fixed_files
from desktop.files.jobs import builtin_jobs
from desktop.files.sentences import paperwork_sentences
from desktop.files.shop_json import ShopJson
from desktop.storage.places import this_machine
from desktop.storage.shop_check import shop_to_check
from desktop.storage.shop_store import ShopFile, new_shop, open_shop
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.ports import PaperSize
from desktop.usecases.records.checking.check_pace import verify_at_pace
from desktop.usecases.records.checking.last_time import ENDED, last_time_words
from desktop.usecases.records.checking.verify import Verified, read_seal, verify_shop
from desktop.usecases.records.copies.copy_ports import Pace, never_stops
from desktop.usecases.records.copies.export import Exported, export_shop
from desktop.usecases.records.copies.export_papers import record_papers
from desktop.usecases.records.copies.export_ports import ExportDesk, ExportFile
from desktop.usecases.records.keys.begin_shop import FirstAnswers, begin_shop
from desktop.usecases.records.keys.people_ports import FOR_PEOPLE, Strength
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.ports import Request, Shop

if TYPE_CHECKING:
    from desktop.files.window_memory import WindowMemory

SQLITE_BEGINS = b"SQLite format 3\0"
ALL_RIGHTS = (Right.FRONT_DESK, Right.MECHANIC, Right.INSPECTOR, Right.AUTHORISED, Right.RECORDS)


class SystemClock:
    """The clock of this machine."""

    def now(self) -> datetime:
        """Return the time with its offset from UTC."""
        return datetime.now().astimezone()


def new_id() -> str:
    """Return an id that no request had before."""
    return uuid4().hex


def is_shop_file(place: Path) -> bool:
    """Tell whether a file is a shop file by its first bytes, and not a readings file."""
    try:
        with place.open("rb") as stream:
            return stream.read(len(SQLITE_BEGINS)) == SQLITE_BEGINS
    except OSError:
        return False


def shop_with(store: ShopFile) -> Shop:
    """Return what every verb works with."""
    return Shop(
        store,
        SystemClock(),
        assembly.rulebook(),
        Paperwork(paperwork_sentences()),
        builtin_jobs(),
        assembly.PaperPrinter().missing_signs,
    )


@contextmanager
def shop_at(place: Path) -> Iterator[Shop]:
    """Open a shop file and close it at the end; raise Refusal when it cannot be used."""
    with open_shop(place, ShopJson(), this_machine(state_folder())) as store:
        yield shop_with(store)


def last_time(shop: Shop) -> str:
    """Say what became of what was being kept when windows of a shop did not end by themselves; empty when they did."""
    store = shop.store
    if not isinstance(store, ShopFile):
        raise TypeError("only a shop file is kept by windows that can end")
    try:
        return last_time_words(store.last_time())
    except Refusal as refusal:
        return f"{ENDED} Whether the last thing was kept cannot be told now. {refusal.sentence}"


def make_shop(place: Path, name: str, person_name: str, initials: str) -> None:
    """Make a shop file with its first person, who keeps the records and holds every right of a shop of one."""
    store = new_shop(place, name, ShopJson(), this_machine(state_folder()))
    try:
        shop = shop_with(store)
        person = Person(initials, person_name, ALL_RIGHTS, shop.clock.now().date())
        keep_person(shop, Request(new_id(), initials), person)
    except Refusal:
        store.close()
        place.unlink()  # a shop with nobody in it would only block the name
        raise
    store.close()


def signing_desk(shop: Shop, strength: Strength = FOR_PEOPLE) -> SigningDesk:
    """Return what signing in an open shop file needs. Tries of secrets are counted on this machine too."""
    from desktop.files.bad_secrets import bad_choices  # noqa: PLC0415 - late: most commands sign nothing
    from desktop.signing import Ed25519Verifier, KeyMaker  # noqa: PLC0415 - the same
    from desktop.storage.records.key_store import KeyStore  # noqa: PLC0415 - the same

    store = shop.store
    if not isinstance(store, ShopFile):
        raise TypeError("signing needs a shop file")
    keys = KeyStore(state_folder(), store.shop_id)
    return SigningDesk(shop, store.shop_id, store.name, keys, KeyMaker(), Ed25519Verifier(), bad_choices(), strength)


def check_shop(place: Path, paper_seal: str = "") -> Verified:
    """Check every signed record of a shop file, and whether a paper's record seal belongs to it, if one is given.

    The file is only read, wherever it lies. Raise Refusal when it cannot be read, and for what is no record seal.
    """
    from desktop.signing import Ed25519Verifier  # noqa: PLC0415 - late: most commands verify nothing

    seal = read_seal(paper_seal) if paper_seal else ""
    with shop_to_check(place, ShopJson()) as file:
        return verify_shop(file, Ed25519Verifier(), seal)


def check_at_pace(place: Path, pace: Pace) -> Verified | None:
    """Check every signed record of a shop file, and say how far that is; None when it was stopped.

    Raise Refusal when the file cannot be read.
    """
    from desktop.signing import Ed25519Verifier  # noqa: PLC0415 - late: most commands verify nothing

    with shop_to_check(place, ShopJson()) as file:
        return verify_at_pace(file, Ed25519Verifier(), pace)


def export_place(place: Path, folder: Path, order: int, size: PaperSize, pace: Pace = never_stops) -> Exported:
    """Write the signed records of a shop file into a new folder; those about one order unless ``order`` is 0.

    The file is only read, wherever it lies. Raise Refusal when it cannot be read or the folder cannot be made, and when
    somebody stops.
    """
    from desktop.signing import Ed25519Verifier  # noqa: PLC0415 - late: most commands verify nothing

    def papers(records: Sequence[VerifiedRecord]) -> Iterator[tuple[str, bytes]]:
        printer = assembly.PaperPrinter()
        return ((f"{name}.pdf", printer.draw(document, size)) for name, document in record_papers(records))

    fixed = tuple(ExportFile(name, (data,)) for name, data in fixed_files())
    desk = ExportDesk(ExportJson(), fixed, papers, write_export)
    with shop_to_check(place, ShopJson()) as file:
        return export_shop(file, Ed25519Verifier(), desk, folder, order, pace)


def usual_person() -> str:
    """Return the name under which somebody is at this machine."""
    return getpass.getuser()


def state_folder() -> Path:
    """Return the folder in which this machine keeps what is this user's and no shop's."""
    return Path(platformdirs.user_state_dir("sparkwright"))


def make_first_shop(place: Path, first: FirstAnswers, strength: Strength = FOR_PEOPLE) -> None:
    """Make a shop file from what is asked at the first start; the first person is enrolled under the secret.

    Raise NotReady or Refusal with what is wrong; then there is no file.
    """
    store = new_shop(place, first.shop, ShopJson(), this_machine(state_folder()))
    try:
        shop = shop_with(store)
        begin_shop(signing_desk(shop, strength), new_id, first)
    except BaseException:
        store.close()
        place.unlink()  # a shop with nobody in it would only block the name
        raise
    store.close()


def window_memory() -> WindowMemory:
    """Return where the windows of this user remember how they were left."""
    from desktop.files.window_memory import WindowMemory  # noqa: PLC0415 - late: only windows remember

    return WindowMemory(state_folder() / "window.toml")
