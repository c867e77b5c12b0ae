"""Signed records in the shop file: appended in order, never changed, their list dropped and made again."""

import ast
import gzip
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.chain import check_chain
from desktop.core.records.sealed.envelope import Envelope, seal_of
from desktop.core.records.sealed.record_line import line_of
from desktop.storage.records import record_store
from desktop.storage.shop_check import shop_to_check
from desktop.storage.shop_store import ShopFile
from desktop.storage.steps import record_tables
from desktop.storage.steps.migrations import LATEST
from tests.core.records.pens import RealVerifier, SignedShop
from tests.storage.file_floor import TEXT, copied, made, opened, sql
from tests.storage.signed_file import append, signed_file


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, SignedShop]:
    """A closed shop file and the pens of its people."""
    place = tmp_path_factory.mktemp("signed") / "mill.shop"
    return place, signed_file(place)


@pytest.fixture
def shop(signed: tuple[Path, SignedShop]) -> SignedShop:
    """The records that stand in the file."""
    return signed[1]


@pytest.fixture
def place(signed: tuple[Path, SignedShop], tmp_path: Path) -> Path:
    """A copy of it that a test may change."""
    return copied(signed[0], tmp_path)


@pytest.fixture
def file(place: Path) -> Iterator[ShopFile]:
    """The open copy."""
    with opened(place) as store:
        yield store


def test_that_records_come_back_as_they_were_kept(file: ShopFile, shop: SignedShop) -> None:
    assert list(file.envelopes()) == shop.envelopes
    assert list(file.envelopes(9)) == shop.envelopes[8:]
    assert file.last_envelope() == shop.envelopes[-1]
    assert file.records().envelope(5) == shop.envelopes[4]
    assert [file.records().envelope(number) for number in (0, -1, 15, 2**63)] == [None] * 4


def test_that_records_are_found_by_order_and_by_people(file: ShopFile, shop: SignedShop) -> None:
    assert [one.number for one in file.envelopes_about(1)] == [5, 6, 7, 8]
    assert [one.number for one in file.envelopes_about(2)] == [10, 11]
    assert file.envelopes_about(3) == ()
    assert [one.number for one in file.records().envelopes_about_people()] == [1, 2, 3, 4, 9, 12]
    with file.changing() as work:
        assert work.envelopes_about(1) == file.envelopes_about(1)
        assert work.last_envelope() == shop.envelopes[-1]


def test_that_a_correction_of_another_subject_is_found_with_what_it_corrects(file: ShopFile, shop: SignedShop) -> None:
    start = len(shop.envelopes)
    other = _copy(shop)
    other.sign(RecordKind.CORRECTION, "tool W-3", "MECH", about=(5,))
    append(file, other, start)
    assert [one.number for one in file.envelopes_about(1)] == [5, 6, 7, 8, 15]


def _copy(shop: SignedShop) -> SignedShop:
    other = SignedShop(shop.shop_id)
    other.envelopes, other.records, other.now = list(shop.envelopes), list(shop.records), shop.now
    other.pens = dict(shop.pens)
    return other


def test_that_a_shop_without_records_says_so(tmp_path: Path) -> None:
    with made(tmp_path / "new.shop") as store:
        assert store.last_envelope() is None
        assert list(store.envelopes()) == []
        assert store.records().lines() == ()


def test_that_the_list_can_be_dropped_and_made_again(place: Path, shop: SignedShop) -> None:
    wanted = tuple(line_of(one, record) for one, record in zip(shop.envelopes, shop.records, strict=True))
    schema = "SELECT name, sql FROM sqlite_master WHERE name LIKE 'record%' ORDER BY name"
    before = sql(place, schema)
    sql(place, "UPDATE record_line SET name = 'Somebody else' WHERE number = 5", "DELETE FROM record_about")
    with opened(place) as store:
        store.rebuild_record_index()
        assert store.records().lines() == wanted
        assert [one.number for one in store.envelopes_about(1)] == [5, 6, 7, 8]
    assert sql(place, schema) == before
    # The control: what was written over would be seen.
    sql(place, "UPDATE record_line SET name = 'Somebody else' WHERE number = 5")
    with opened(place) as store:
        assert store.records().lines() != wanted


GUARDED = {
    "changed": "UPDATE envelope SET content = x'00' WHERE number = 5",
    "erased": "DELETE FROM envelope WHERE number = 14",
    "replaced": "INSERT OR REPLACE INTO envelope SELECT number, kind, x'00', previous, digest, signatures "
    "FROM envelope",
    "replaced by its seal": "INSERT OR REPLACE INTO envelope SELECT 15, kind, x'00', previous, digest, signatures "
    "FROM envelope WHERE number = 3",
    "left out": "INSERT INTO envelope VALUES (16, 'void', x'00', '', 'x', '')",
    "put before": "INSERT INTO envelope VALUES (-1, 'void', x'00', '', 'x', '')",
    "put anywhere": "INSERT INTO envelope (kind, content, previous, digest, signatures) VALUES ('', x'', '', 'y', '')",
}


@pytest.mark.parametrize("numbers", [(2, 1), (1, 1), (0,)])
def test_that_rows_of_a_damaged_file_that_lead_back_to_earlier_ones_end_in_a_refusal(
    file: ShopFile, monkeypatch: pytest.MonkeyPatch, numbers: tuple[int, ...]
) -> None:
    page = [(number, b"", b"", b"", b"", b"") for number in numbers]
    monkeypatch.setattr(record_store, "rows", lambda *_: page)
    with pytest.raises(Refusal, match="damaged"):
        list(file.records().stored(1))


@pytest.mark.parametrize("recursive", ["ON", "OFF"])
@pytest.mark.parametrize("statement", GUARDED.values(), ids=GUARDED)
def test_that_a_record_is_not_changed_by_accident(place: Path, statement: str, recursive: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=r"signed records (only grow|have no gaps)"):
        sql(place, f"PRAGMA recursive_triggers = {recursive}", statement)


def test_that_the_guards_are_what_stops_it(place: Path) -> None:
    sql(place, *(f"DROP TRIGGER envelope_{name}" for name in ("stays", "is_kept", "in_order")))
    sql(place, *(statement for name, statement in GUARDED.items() if name != "put before"))


@pytest.mark.parametrize(
    "statement",
    [
        "DROP TRIGGER envelope_stays",
        "DROP TRIGGER journal_once",
        "DROP TRIGGER order_word_new",
        "CREATE TRIGGER odd AFTER INSERT ON envelope BEGIN DELETE FROM record_line; END",
        "CREATE TRIGGER envelope_stays BEFORE UPDATE ON envelope BEGIN SELECT 1; END",
    ],
)
def test_that_a_file_without_its_guards_is_not_opened(place: Path, statement: str) -> None:
    name = statement.split()[2]
    if "envelope_stays BEFORE" in statement:
        sql(place, "DROP TRIGGER envelope_stays")
    sql(place, statement)
    before = place.read_bytes()
    with pytest.raises(Refusal, match=rf"its records from being changed was itself changed .*\({name}\)"):
        opened(place)
    assert place.read_bytes() == before


def test_that_only_the_next_record_can_be_appended(file: ShopFile, shop: SignedShop) -> None:
    other = _copy(shop)
    following = other.sign(RecordKind.TOOL_RECORD, "tool L-1", "KEEP")
    later = other.sign(RecordKind.TOOL_RECORD, "tool L-2", "KEEP")
    for wrong in (
        later,
        shop.envelopes[-1],
        replace(following, digest="0" * 64),
        _resealed(following, previous="0" * 64),
        _resealed(following, kind="void"),
        _resealed(following, content=b"x"),
    ):
        with file.changing() as work, pytest.raises(ValueError, match=r"follow|kept as|not the bytes|no length"):
            work.append_record(wrong)
    assert file.last_envelope() == shop.envelopes[-1]
    append(file, other, 14)
    assert list(file.envelopes(14)) == other.envelopes[13:]
    assert [line.number for line in file.records().lines()] == list(range(1, 17))


def _resealed(envelope: Envelope, **change: object) -> Envelope:
    one = replace(envelope, **change)  # type: ignore[arg-type]
    return replace(one, digest=seal_of(one.number, one.kind, one.content, one.previous, one.signatures))


def test_that_a_record_is_kept_with_everything_else_or_not_at_all(file: ShopFile, shop: SignedShop) -> None:
    other = _copy(shop)
    envelope = other.sign(RecordKind.TOOL_RECORD, "tool L-1", "KEEP")
    with pytest.raises(Refusal, match="enough"), file.changing() as work:  # noqa: PT012 - what breaks off
        work.append_record(envelope)
        assert work.last_envelope() == envelope
        raise Refusal("enough")
    assert file.last_envelope() == shop.envelopes[-1]
    assert len(file.records().lines()) == 14
    with file.changing() as work:
        work.append_record(envelope)
        proof = work.proof
    assert proof is not None
    assert proof[1] == (15, envelope.digest)
    assert file.records().envelope(15) == envelope
    with pytest.raises(ValueError, match="over"):
        work.append_record(envelope)
    with pytest.raises(ValueError, match="inside a transaction"):
        file.records().append(envelope)


def test_that_more_records_than_a_page_are_all_given(file: ShopFile, shop: SignedShop) -> None:
    other = _copy(shop)
    for number in range(220):
        other.sign(RecordKind.TOOL_RECORD, f"tool X-{number}", "KEEP")
    with file.changing() as work:
        for envelope in other.envelopes[14:]:
            work.append_record(envelope)
    assert [one.number for one in file.envelopes()] == list(range(1, 235))


CHANGES = {
    "its content": "UPDATE envelope SET content = CAST (replace (CAST (content AS TEXT), '24.5', '27.5') AS BLOB) "
    "WHERE number = 5",
    "its seal": "UPDATE envelope SET digest = replace (digest, substr (digest, 1, 4), '0000') WHERE number = 5",
    "a signature": "UPDATE envelope SET signatures = '' WHERE number = 5",
    "a text that is none": "UPDATE envelope SET kind = CAST (x'ff' AS TEXT) WHERE number = 5",
    "nothing left of it": "UPDATE envelope SET content = x'' WHERE number = 5",
}


@pytest.mark.parametrize("statement", CHANGES.values(), ids=CHANGES)
def test_that_a_changed_record_is_never_given(place: Path, statement: str) -> None:
    guard = sql(place, "SELECT sql FROM sqlite_master WHERE name = 'envelope_stays'")[0][0]
    sql(place, "DROP TRIGGER envelope_stays", statement, guard)
    with opened(place) as store:
        for ask in (
            lambda: list(store.envelopes()),
            lambda: store.records().envelope(5),
            lambda: store.envelopes_about(1),
            lambda: store.envelopes_about(2),  # which of the others is about what is not known then
        ):
            with pytest.raises(Refusal, match=r"Record 5 .*[Rr]un 'sparkwright verify'"):
                ask()


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE record_line SET order_number = 1 WHERE number = 10",
        "UPDATE record_line SET number = 99 WHERE number = 5",
    ],
)
def test_that_a_list_that_lies_about_an_order_is_not_believed(place: Path, statement: str) -> None:
    sql(place, statement)
    with opened(place) as store, pytest.raises(Refusal, match="list of signed records does not agree"):
        store.envelopes_about(1)


def test_that_the_records_of_an_old_file_stand_in_the_newest_form(tmp_path: Path) -> None:
    old = tmp_path / "old.shop"
    old.write_bytes(gzip.decompress((Path(__file__).parents[1] / "old_files" / "version_2.shop.gz").read_bytes()))
    for _ in range(2):  # as it lies there, and after it was opened
        with shop_to_check(old, TEXT) as checked:
            found = check_chain(checked.stored_rows(), checked.shop_id, RealVerifier())
        assert (found.problems, found.notes, found.count) == ([], [], 5)
        assert found.head.startswith("ab11a12ea1d8ab7f")
        with opened(old) as store:
            assert [one.kind for one in store.envelopes_about(1)] == ["card submitted", "card returned"]
    assert sql(old, "PRAGMA user_version") == [(LATEST,)]


def test_that_the_step_imports_nothing_of_ours() -> None:
    tree = ast.parse(Path(record_tables.__file__).read_text("utf-8"))
    taken = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert taken == {"sqlite_utils"}
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.Import)]
