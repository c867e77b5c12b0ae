"""Puts together what is done with copies of a shop file, and the doctor's page of one. Loads no Qt."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from platform import python_version
from typing import TYPE_CHECKING

from desktop import assembly, shop_assembly
from desktop.core.errors import Refusal
from desktop.core.records.sealed.signatures import Verifies
from desktop.files.shop_json import ShopJson
from desktop.signing import Ed25519Verifier
from desktop.storage.copies.backup import SUFFIX
from desktop.storage.copies.closed_file import form_of, holds, reading
from desktop.storage.copies.copy_desk import CopyDesk
from desktop.storage.copies.copy_seal import look_at
from desktop.storage.copies.doctor import look_over
from desktop.storage.copies.known_copies import newest_known
from desktop.storage.library import sqlite_version
from desktop.storage.places import this_machine
from desktop.storage.records.remade_lists import remake_lists
from desktop.storage.shop_check import shop_to_check
from desktop.storage.shop_store import open_shop
from desktop.usecases.records.checking.health import Line, Word
from desktop.usecases.records.copies.backup import (
    OnClosing,
    back_up,
    back_up_on_closing,
    copy_words,
    restore,
    restored_words,
)
from desktop.usecases.records.copies.copy_ports import BadCopy, Pace, PreparedCopy
from desktop.usecases.records.copies.sign_restore import keeper_of, sign_restore
from desktop.usecases.records.keys.signing_desk import SigningDesk

if TYPE_CHECKING:
    from desktop.viewmodels.shop.copies_found import FoundCopy, KnownLine, Looked, RestoreOrder

LIBRARIES = (
    *("PySide6-Essentials", "click", "cryptography", "msgspec", "platformdirs", "pypdfium2", "reportlab"),
    *("sqlite-utils", "tomli-w"),
)
MOST_COPIES = 20
"""The newest copies in a folder that are read whole when somebody looks."""


def copy_on_closing(place: Path, folder: Path, pace: Pace) -> OnClosing:
    """Make the copy of a shop file that is made when its window closes; it is read back whole."""
    if not folder.is_dir():  # a copy would be made under that name, on whatever disk lies there now
        words = f"There is no folder {folder}. Put its disk in, or name another folder at Settings."
        return OnClosing(None, f"No copy was made on closing. {words}")
    return back_up_on_closing(copy_desk(), shop_assembly.SystemClock(), place, folder, pace)


def copy_desk() -> CopyDesk:
    """Return whatever makes copies of shop files on this machine, and takes them out again."""
    return CopyDesk(this_machine(shop_assembly.state_folder()), Ed25519Verifier())


def back_up_at_pace(place: Path, folder: Path, pace: Pace) -> str:
    """Make a copy of a shop file in a folder, read it back, and say where it lies. Raise Refusal when there is none."""
    if not folder.is_dir():  # a copy would be made under that name, on whatever disk lies there now
        raise Refusal(f"There is no folder {folder}. Put its disk in, or choose another folder. No copy was made.")
    return copy_words(back_up(copy_desk(), shop_assembly.SystemClock(), place, folder, pace))


def doctor_page(place: Path, verifies: Verifies | None = None) -> tuple[Line, ...]:
    """Return the doctor's whole page: file, machine, copies, fonts, versions. Raise Refusal for an unreadable file."""
    machine = this_machine(shop_assembly.state_folder())
    lines = look_over(place, machine, shop_assembly.SystemClock().now(), verifies or Ed25519Verifier())
    return (*lines, fonts_line(), *version_lines())


def remade(shop: Path) -> tuple[int, int]:
    """Make the lists of a shop file again; return how many records and orders they have. Raise Refusal."""
    return remake_lists(shop, ShopJson(), this_machine(shop_assembly.state_folder()))


def fonts_line() -> Line:
    """Tell whether the shipped faces are there."""
    try:
        faces = assembly.font_faces()
    except OSError as trouble:
        return Line(Word.WRONG, "fonts", f"missing ({trouble}). Install Sparkwright again")
    if not all(faces):
        return Line(Word.WRONG, "fonts", "a face is empty. Install Sparkwright again")
    return Line(Word.OK, "fonts", f"{len(faces)} faces")


def version_lines(libraries: tuple[str, ...] = LIBRARIES) -> tuple[Line, ...]:
    """Return the versions of Python, SQLite, the Qt binding and the libraries, and which of them are missing."""
    found, missing = [f"Python {python_version()}", f"SQLite {sqlite_version()}"], []
    for name in libraries:
        try:
            found.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            missing.append(name)
    lines = [Line(Word.OK, "versions", ", ".join(found))]
    if missing:
        lines.append(Line(Word.WRONG, "libraries", f"missing: {', '.join(missing)}. Install Sparkwright again"))
    return tuple(lines)


def look_over_copies(place: Path, folder: str, pace: Pace) -> Looked:
    """Return the doctor's page of a shop file, and its copies that this machine knows of, the newest first.

    Each copy is read whole; the newest ones of the folder, and the one that was made last. Raise Refusal when the shop
    file cannot be read or somebody stops.
    """
    from desktop.viewmodels.shop.copies_found import Looked  # noqa: PLC0415 - late: only windows look
    from desktop.viewmodels.shop.copies_look import LooksAtPace  # noqa: PLC0415 - late: only windows look

    verifies = LooksAtPace(Ed25519Verifier(), pace)
    with shop_to_check(place, ShopJson()) as file:
        shop_id = file.shop_id
    known = newest_known(shop_assembly.state_folder(), shop_id)
    folders = {Path(folder)} if folder else set()
    found = {known.place: known.made_at.timestamp()} if known else {}
    if known:
        folders.add(known.place.parent)
    for one in (one for name in folders if name.is_dir() for one in name.glob(f"*{SUFFIX}")):
        found[one] = one.stat().st_mtime
    newest = sorted(found, key=lambda one: found[one], reverse=True)[:MOST_COPIES]
    lines = tuple(_known_line(one, shop_id, verifies, pace) for one in newest)
    return Looked(doctor_page(place, verifies), lines)


def _known_line(copy: Path, shop_id: str, verifies: Verifies, pace: Pace) -> KnownLine:
    """Read a copy whole and say what it holds, or what became of it. Raise Refusal when somebody stops."""
    from desktop.viewmodels.shop.copies_found import NOT_THERE, KnownLine  # noqa: PLC0415 - late: only windows look

    if not copy.is_file():
        return KnownLine(copy, trouble=NOT_THERE)
    try:
        seal = look_at(copy, pace)
        with reading(copy, pace, is_private=True) as db:
            held = holds(db, copy, form_of(db, copy), verifies)
    except BadCopy as bad:
        return KnownLine(copy, trouble=bad.kind.value)
    except Refusal:
        if not pace(0, 0):
            raise
        return KnownLine(copy, trouble="cannot be read")
    trouble = "another shop's" if held.shop_id != shop_id else "not sound" if held.chain.faults else ""
    return KnownLine(copy, seal.made_at or "", held.orders, held.chain.records, held.chain.seal, trouble)


class RestoreSigning:
    """Signs restores. See ``RestoreSigner`` of the ports; ``named`` is the keeper's id, empty for the only one."""

    def __init__(self, named: str) -> None:
        self._named = named

    def sign(self, prepared: PreparedCopy, lacks: str, secret: str) -> None:
        """Sign a record of the restore into the prepared file. Raise Refusal for a wrong secret, or nobody's."""
        with _desk_in(prepared) as desk:
            sign_restore(desk, keeper_of(desk, self._named).id, secret, prepared, lacks)


@contextmanager
def _desk_in(prepared: PreparedCopy) -> Iterator[SigningDesk]:
    # The mark of an open shop is held for the copy already: this file is not yet one that a window could open.
    with open_shop(prepared.place, ShopJson(), this_machine()) as store:
        yield shop_assembly.signing_desk(shop_assembly.shop_with(store))


def examine_copy(copy: Path, shop: Path, pace: Pace) -> FoundCopy:
    """Verify a copy as a restore does, and say what it holds and lacks; nothing is put in place.

    Windows may be open on the shop file. Raise BadCopy with what became of the copy, and Refusal when nobody could sign
    its restore or somebody stops.
    """
    from desktop.viewmodels.shop.copies_look import LooksAtPace, examine  # noqa: PLC0415 - late: only windows look

    # Without the user's folder no mark of an open shop is asked for: the window that looks has it open itself.
    copies = CopyDesk(this_machine(), LooksAtPace(Ed25519Verifier(), pace))
    return examine(
        copies, shop_assembly.SystemClock(), lambda one: shop_to_check(one, ShopJson()), _desk_in, copy, shop, pace
    )


def restore_at_pace(order: RestoreOrder, pace: Pace) -> str:
    """Restore a copy as it was asked for, and say what was done. Raise Refusal; then nothing was changed."""
    found, signer = order.found, RestoreSigning(order.keeper)
    secret, shop = order.secret, order.shop
    done = restore(
        copy_desk(),
        shop_assembly.SystemClock(),
        signer,
        lambda: secret,
        found.copy,
        shop,
        pace,
        takes_older=order.takes_older,
    )
    return restored_words(shop, done)
