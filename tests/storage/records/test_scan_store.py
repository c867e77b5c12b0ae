"""Prints and scans in the shop file: only added to, and handed out as they were kept."""

import sqlite3
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.orders.ink import Printed, Scan, ScanKind
from desktop.storage.records.scan_store import FileScans, ScanStore
from tests.storage.file_floor import FileFloor, opened, sql
from tests.usecases.shop.fake_store import FakeWork

SCAN = Scan(ScanKind.PDF, b"%PDF-1.4 a picture of a paper")
PRINTED = Printed("7KQM-X2RT", 1, 1, "card", 3)


def test_that_prints_and_scans_stand_after_the_transaction(floor: FileFloor) -> None:
    with floor.file.changing() as work:
        kept = ScanStore().within(work)
        for _ in range(2):
            kept.put_scan(SCAN)
            kept.note_printed(PRINTED)
        kept.note_printed(replace(PRINTED, version=5))
        assert work.proof is not None
    with floor.file.changing() as work:
        kept = ScanStore().within(work)
        assert (kept.scan(SCAN.digest), kept.scan("0" * 64)) == (SCAN, None)
        assert kept.printed_with(PRINTED.code) == (replace(PRINTED, version=5), PRINTED)
        assert kept.printed_with("2222-2222") == ()
        assert work.proof is None
    with pytest.raises(ValueError, match="this transaction is over"):
        FileScans(work)
    with pytest.raises(TypeError, match="in a shop file"):
        ScanStore().within(cast("Any", FakeWork()))


def put_and_break_off(floor: FileFloor) -> None:
    with floor.file.changing() as work:
        ScanStore().within(work).put_scan(SCAN)
        raise Refusal("Something came between.")


def test_that_nothing_of_them_stands_after_a_trouble(floor: FileFloor) -> None:
    with pytest.raises(Refusal, match="came between"):
        put_and_break_off(floor)
    with floor.file.changing() as work:
        assert ScanStore().within(work).scan(SCAN.digest) is None


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE scan SET kind = 'png'",
        "DELETE FROM scan",
        "INSERT OR REPLACE INTO scan SELECT digest, 'png', bytes FROM scan",
        "UPDATE printed SET version = 9",
        "DELETE FROM printed",
        "INSERT OR REPLACE INTO printed SELECT * FROM printed",
        "INSERT INTO scan VALUES ('x', 'png', x'00')",
        f"INSERT INTO scan VALUES ('{'0' * 64}', 'png', zeroblob (20000001))",  # noqa: S608 - a test
    ],
)
def test_that_both_only_grow_and_have_limits(statement: str, floor: FileFloor, place: Path) -> None:
    with floor.file.changing() as work:
        ScanStore().within(work).put_scan(SCAN)
        ScanStore().within(work).note_printed(PRINTED)
    floor.file.close()
    with pytest.raises(sqlite3.IntegrityError):
        sql(place, statement)


@pytest.mark.parametrize("change", ["bytes = x'00'", "kind = 'exe'"])
def test_that_a_scan_that_was_changed_is_refused(change: str, floor: FileFloor, place: Path) -> None:
    with floor.file.changing() as work:
        ScanStore().within(work).put_scan(SCAN)
    floor.file.close()
    [(guard,)] = sql(place, "SELECT sql FROM sqlite_master WHERE name = 'scan_stays'")
    sql(place, "DROP TRIGGER scan_stays", f"UPDATE scan SET {change}", guard)  # noqa: S608 - a test
    with opened(place) as file, file.changing() as work:
        kept = ScanStore().within(work)
        with pytest.raises(Refusal, match="damaged scan"):
            kept.scan(SCAN.digest)
