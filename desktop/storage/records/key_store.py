"""Keys in the shop file, each sealed under its owner's secret, and their tries, in the file and on the machine."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.records.sealed.remedies import RESTORE
from desktop.core.shop.people.secrets import Tries
from desktop.storage.database import rows
from desktop.storage.records.machine_tries import MachineTries
from desktop.storage.shop_work import FileWork
from desktop.usecases.records.checking.kept_besides import KeptKey
from desktop.usecases.records.keys.people_ports import KeyEvent, KeyEventKind, Strength, WrappedKey
from desktop.usecases.shop.ports import ShopWork

_COLUMNS = "person, public_key, wrapped, salt, nonce, memory, passes, lanes"


def kept_keys(db: Database) -> tuple[KeptKey, ...]:
    """Return every key as whoever checks a file asks for it, in the order in which they were kept."""
    found = rows(db, f"SELECT {_COLUMNS} FROM person_key ORDER BY number")  # noqa: S608 - names from this file
    return tuple(KeptKey(str(row[0]), str(row[1]), _check(row)) for row in found)


def _key(row: tuple[Any, ...]) -> WrappedKey:
    """Return the key of a row. ValueError or TypeError for a damaged one."""
    person, public, wrapped, salt, nonce, *numbers = row
    public, wrapped, salt, nonce = (bytes.fromhex(part) for part in (public, wrapped, salt, nonce))
    return WrappedKey(person, public, wrapped, salt, nonce, Strength(*numbers))


def _check(row: tuple[Any, ...]) -> str:
    try:
        return _key(row).check
    except (ValueError, TypeError):
        return ""


class FileSigning:
    """Keys and signed records inside one transaction of a shop file; ValueError for anything after its end."""

    def __init__(self, work: FileWork) -> None:
        self._work = work

    def key(self, person_id: str) -> WrappedKey | None:
        """Return the newest key of a person.

        Raise Refusal for one that is damaged, also one whose parameters would take the machine down.
        """
        sql = f"SELECT {_COLUMNS} FROM person_key WHERE person = ? ORDER BY number DESC LIMIT 1"  # noqa: S608
        found = rows(self._db, sql, person_id)
        if not found:
            return None
        with _refusing_damage():
            return _key(found[0])

    def put_key(self, key: WrappedKey) -> None:
        """Keep a new key; the one before stays in the file."""
        [(number,)] = rows(self._db, "SELECT coalesce(max(number), 0) + 1 FROM person_key")
        parts = (part.hex() for part in (key.public_key, key.wrapped, key.salt, key.nonce))
        strength = (key.strength.memory, key.strength.passes, key.strength.lanes)
        self._db.execute(
            f"INSERT INTO person_key (number, {_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",  # noqa: S608
            (number, key.person, *parts, *strength),
        )

    def tries(self, public_key: bytes) -> Tries:
        """Return the count of tries in the file. Raise Refusal for one that is damaged."""
        sql = "SELECT begun, forgiven, last FROM key_tries WHERE public_key = ?"
        found = rows(self._db, sql, public_key.hex())
        if not found:
            return Tries()
        with _refusing_damage():
            begun, right, last = found[0]
            return Tries(begun, right, datetime.fromisoformat(last))

    def put_tries(self, public_key: bytes, tries: Tries) -> None:
        """Keep the count of a key that was tried; neither of its numbers falls."""
        if tries.last is None:
            raise ValueError("a key that was never tried has no count")
        name = public_key.hex()
        values = (tries.begun, tries.forgiven, tries.last.isoformat(), name)
        there = rows(self._db, "SELECT 1 FROM key_tries WHERE public_key = ?", name)
        change = "UPDATE key_tries SET begun = ?, forgiven = ?, last = ? WHERE public_key = ?"
        new = "INSERT INTO key_tries (begun, forgiven, last, public_key) VALUES (?, ?, ?, ?)"
        self._db.execute(change if there else new, values)
        self._work.proof = (
            "SELECT 1 FROM key_tries WHERE begun = ? AND forgiven = ? AND last = ? AND public_key = ?",
            values,
        )

    def events(self) -> tuple[KeyEvent, ...]:
        """Return what happened to keys, the oldest first. Raise Refusal for what is damaged."""
        found = rows(self._db, "SELECT what, public_key, at, wrong, person FROM key_event ORDER BY number")
        with _refusing_damage():
            return tuple(
                KeyEvent(KeyEventKind(what), bytes.fromhex(key), datetime.fromisoformat(at), wrong, person)
                for what, key, at, wrong, person in found
            )

    def note(self, event: KeyEvent) -> None:
        """Write down what happened to a key."""
        self._db.execute(
            "INSERT INTO key_event (what, public_key, at, wrong, person) VALUES (?, ?, ?, ?, ?)",
            (event.what.value, event.public_key.hex(), event.at.isoformat(), event.wrong, event.person),
        )

    def seen(self, person_id: str) -> int:
        """Return the number of the newest record that a person had before them when they signed; 0 for none."""
        found = rows(self._db, "SELECT number FROM signed_seen WHERE person = ?", person_id)
        return int(found[0][0]) if found else 0

    def put_seen(self, person_id: str, number: int) -> None:
        """Keep that number; a smaller one than the kept one changes nothing."""
        self._db.execute(
            "INSERT INTO signed_seen (person, number) SELECT ?, 0 "
            "WHERE NOT EXISTS (SELECT 1 FROM signed_seen WHERE person = ?)",
            (person_id, person_id),
        )
        self._db.execute(
            "UPDATE signed_seen SET number = ? WHERE person = ? AND number < ?", (number, person_id, number)
        )

    def last_envelope(self) -> Envelope | None:
        """Return the newest sealed record; None in a shop without any."""
        return self._work.records().last_envelope()

    def envelopes(self, start: int = 1) -> Iterator[Envelope]:
        """Give the sealed records from a number on. Raise Refusal at one that is not as it was kept."""
        return self._work.records().envelopes(start)

    def envelopes_about_people(self) -> tuple[Envelope, ...]:
        """Return the sealed records that say who people are and by which keys they sign, the oldest first."""
        return self._work.records().envelopes_about_people()

    def append_record(self, envelope: Envelope) -> None:
        """Keep a sealed record behind the last one; ValueError for one that does not follow it."""
        self._work.append_record(envelope)

    @property
    def _db(self) -> Database:
        _ = self._work._read  # noqa: SLF001 - the same room; it raises after the end
        return self._work._db  # noqa: SLF001 - the same room


class KeyStore:
    """Where a shop's keys are kept. ``state`` is the user's folder on this machine; None counts in the file only."""

    def __init__(self, state: Path | None, shop_id: str) -> None:
        self._machine = None if state is None else MachineTries(state, shop_id)

    def within(self, work: ShopWork) -> FileSigning:
        """Return the keys and signed records inside a transaction of a shop file."""
        if not isinstance(work, FileWork):
            raise TypeError("keys are kept in a shop file")
        return FileSigning(work)

    def counted_here(self, public_key: bytes) -> Tries | None:
        """Return the count of tries on this machine; None when it has none. Raise Refusal when it cannot be read."""
        return self._machine.counted(public_key) if self._machine else None

    def count_here(self, public_key: bytes, tries: Tries) -> None:
        """Keep a count of tries on this machine. Raise Refusal when it cannot be kept."""
        if self._machine:
            self._machine.count(public_key, tries)


@contextmanager
def _refusing_damage() -> Iterator[None]:
    try:
        yield
    except (ValueError, TypeError) as trouble:
        raise Refusal(f"The shop file holds a damaged key: {trouble}. {RESTORE}") from None
