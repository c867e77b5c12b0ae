"""Making a copy of a shop file: written beside its future name, read back whole, sealed, and only then named."""

import errno
import os
import re
import sqlite3
import sys
import uuid
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.signatures import Verifies
from desktop.storage.copies.closed_file import digest_of, form_of, holds, page_faults, readable, reading, schema_faults
from desktop.storage.copies.copy_seal import go_on, look_at, seal
from desktop.storage.places import Surroundings, refuse_place
from desktop.storage.troubles import raise_refusal
from desktop.usecases.records.copies.copy_ports import Holds, MadeCopy, Pace

SUFFIX = ".shop-copy"
STANDS = "was read back and is there now"
"""What a refusal says of a copy that is there all the same."""
_STRANGE_SIGNS = re.compile(r"[^\w .-]+")
_MOST_NAME = 80
_PAGES_AT_ONCE = 256
_MOST_COPIES_A_SECOND = 1000
_DOCTOR = "Run 'sparkwright doctor' on it, and keep the copies that you have."


def make_copy(shop: Path, place: Path, now: datetime, pace: Pace, verifies: Verifies, around: Surroundings) -> MadeCopy:
    """Make a copy of a shop file in a folder, or under a new name, and return what it holds.

    Windows may be open on the file: they wait until its pages are read. The copy is read back whole, from the disk
    where the machine lets it be asked for, and compared row by row. Raise Refusal when anything stands against it; then
    no copy is there, and nothing was overwritten.
    """
    with disk_troubles(place):
        refuse_place(shop, around)
        folder = place if place.is_dir() else place.absolute().parent
        if not folder.is_dir():
            raise Refusal(f"There is no folder {folder}. Make it first, or choose another one.")
        if place != folder and os.path.lexists(place):
            raise Refusal(f"{place} is there already, and nothing is written over. Choose another name.")
        with _new_file(folder) as temporary:
            digest = _write_pages(shop, temporary, pace)
            sync_file(temporary)
            seal(temporary, now.isoformat(timespec="seconds"), pace)
            sync_file(temporary)
            found = _read_back(temporary, shop, digest, pace, verifies)
            named = _name(temporary, place if place != folder else None, folder, found.shop_name, now)
        _sync_name(named)
    return MadeCopy(named, now, found)


def copy_name(shop_name: str, now: datetime, number: int = 1) -> str:
    """Return the name of a copy: the shop, the day and the time; a number from the second of one second on."""
    shop = " ".join(_STRANGE_SIGNS.sub(" ", shop_name).split()).strip(". ")[:_MOST_NAME] or "shop"
    again = f" ({number})" if number > 1 else ""
    return f"{shop} {now:%Y-%m-%d %H%M%S}{again}{SUFFIX}"


def sync_file(place: Path) -> None:
    """Hand a file over to the disk, and let what is read next come from there where the machine can be asked for it."""
    with place.open("r+b") as file:
        os.fsync(file.fileno())
        if sys.platform == "linux":
            os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


def sync_folder(folder: Path) -> None:
    """Hand the names in a folder over to the disk, where the system has that."""
    if sys.platform == "win32":  # pragma: no cover - another system
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _sync_name(named: Path) -> None:
    """Hand the name of a finished copy over to the disk. Raise Refusal, which says that the copy is there, if not."""
    try:
        sync_folder(named.parent)
    except OSError as trouble:
        raise Refusal(
            f"The disk reported an error after the copy had its name: {trouble.strerror}. {named} {STANDS}; "
            "make another on another disk."
        ) from trouble


@contextmanager
def disk_troubles(place: Path) -> Iterator[None]:
    """Say in plain words what a disk does not do."""
    try:
        yield
    except OSError as trouble:
        raise Refusal(
            f"{place} does not take the copy: {trouble.strerror or trouble}. Make room there, or choose another."
        ) from trouble


@contextmanager
def _new_file(folder: Path) -> Iterator[Path]:
    temporary = folder / f".{uuid.uuid4().hex}.part"
    temporary.open("xb").close()
    try:
        yield temporary
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)


def _write_pages(shop: Path, temporary: Path, pace: Pace) -> str:
    """Copy the pages, and return the digest of what was copied: one and the same moment of the file.

    Whoever writes waits as long as this takes: what else is looked at is looked at in the copy.
    """
    # A journal that a power cut left is played back by whoever opens for writing; nobody else may.
    try:
        source = sqlite3.connect(f"{shop.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)
        with closing(source), closing(_private(temporary)) as target:
            source.text_factory = readable
            source.execute("BEGIN")
            db = Database(source, execute_plugins=False)
            form_of(db, shop)
            source.backup(target, pages=_PAGES_AT_ONCE, progress=_looks(pace))
            return digest_of(db, pace)
    except sqlite3.Error as trouble:
        raise_refusal(trouble, "No copy was made.")
        raise


def _private(temporary: Path) -> sqlite3.Connection:
    # Nobody else knows the file: it needs no locks, which a network share may not have, and no journal.
    connection = sqlite3.connect(f"{temporary.absolute().as_uri()}?mode=rw&nolock=1", uri=True, isolation_level=None)
    for setting in ("journal_mode = OFF", "synchronous = OFF"):
        connection.execute(f"PRAGMA {setting}")
    return connection


def _looks(pace: Pace) -> Callable[[int, int, int], None]:
    return lambda _status, left, of: go_on(pace, of - left - (of - left) % _PAGES_AT_ONCE, of)


def _read_back(temporary: Path, shop: Path, digest: str, pace: Pace, verifies: Verifies) -> Holds:
    """Read a copy whole and return what it holds. Raise Refusal unless it is what was read, and sound."""
    look_at(temporary, pace)
    with reading(temporary, pace, is_private=True) as db:
        if digest_of(db, pace) != digest:
            raise Refusal(
                "The copy is not what the shop file holds, and was taken away again. "
                "Run 'sparkwright doctor' on the shop file, and copy to another disk."
            )
        form = form_of(db, shop)
        if faults := (*schema_faults(db, form), *page_faults(db)):
            raise Refusal(f"{shop} is not sound ({faults[0]}), and no copy was made. {_DOCTOR}")
        found = holds(db, shop, form, verifies)
        if found.chain.faults:
            raise Refusal(f"{found.chain.faults[0]} No copy was made. {_DOCTOR}")
        return found


def _name(temporary: Path, wanted: Path | None, folder: Path, shop_name: str, now: datetime) -> Path:
    """Give the finished copy its name. Nothing is ever overwritten: a name that is taken is not tried again."""
    for number in range(1, _MOST_COPIES_A_SECOND):
        place = wanted or folder / copy_name(shop_name, now, number)
        try:
            _name_new(temporary, place)
        except FileExistsError:
            if wanted:
                break
        else:
            return place
    raise Refusal(f"{wanted or folder} is there already, and nothing is written over. Choose another name.")


def _name_new(old: Path, new: Path) -> None:
    """Give a file a new name that nothing bears. Raise FileExistsError when something does."""
    try:
        os.link(old, new)
    except FileExistsError:
        raise
    except OSError:  # a disk without second names, such as a stick's
        rename_new(old, new)
    else:
        with suppress(OSError):  # it is tried once more when the temporary file is cleared away
            old.unlink()


def rename_new(old: Path, new: Path) -> None:
    """Rename a file. Raise FileExistsError when something bears the new name."""
    if os.path.lexists(new):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(new))
    old.rename(new)
