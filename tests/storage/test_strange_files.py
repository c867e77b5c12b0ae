"""A file that another program made, or spoiled, opened as a shop: refused in one line that says what to do."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.signing import Ed25519Verifier
from desktop.storage import open_shops, shop_store
from desktop.storage.copies.doctor import look_over
from desktop.storage.copies.restore import prepare_copy
from desktop.storage.database import rows
from desktop.storage.places import Surroundings
from desktop.storage.shop_check import shop_to_check
from desktop.storage.shop_store import open_shop
from desktop.usecases.records.copies.copy_ports import never_stops
from tests.storage.file_floor import QUIET, TEXT, opened, sql

NOW = datetime(2031, 3, 4, 9, 30, tzinfo=UTC)
_FORM_OF_TABLES = 47
"""The last byte of the number in the header that says how the tables are described; SQLite knows 1 to 4.

https://www.sqlite.org/fileformat2.html, section 1.3.10
"""


def with_shop_id(place: Path, shop_id: str) -> None:
    """Give a shop another id, as somebody does who takes the guards off and puts them back."""
    guards = sql(place, "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'shop'")
    sql(place, *(f"DROP TRIGGER {name}" for name, _ in guards))
    with closing(sqlite3.connect(place, isolation_level=None)) as connection:
        connection.execute("UPDATE shop SET shop_id = ?", (shop_id,))
    sql(place, *(text for _, text in guards))


def test_that_a_header_of_another_form_is_refused(place: Path) -> None:
    data = bytearray(place.read_bytes())
    data[_FORM_OF_TABLES] = 9
    place.write_bytes(data)
    with pytest.raises(Refusal, match=r"damaged and cannot be read\. Restore the newest backup"):
        opened(place)


def test_that_a_search_of_another_form_is_refused(place: Path) -> None:
    sql(place, "UPDATE order_find_config SET v = 0 WHERE k = 'version'")
    with opened(place) as file, pytest.raises(Refusal, match=r"damaged and cannot be read\. Restore the newest"):
        file.orders(["mill"])


@pytest.mark.parametrize(
    ("statement", "named"),
    [
        ("DROP TABLE order_line", "order_line"),
        ("DROP INDEX order_line_by_state", "order_line_by_state"),
        ("CREATE INDEX spun ON journal (hex (zeroblob (20000)))", "spun"),
        ("ALTER TABLE tool ADD COLUMN mine TEXT", "tool"),
        ('CREATE INDEX "two\nlines" ON tool (text)', "two lines"),
    ],
)
def test_that_tables_that_are_not_ours_any_more_are_refused(place: Path, statement: str, named: str) -> None:
    sql(place, statement)
    with pytest.raises(Refusal, match=rf"tables of it were changed .* \({named}\)\. Restore the newest") as refused:
        opened(place)
    assert "\n" not in refused.value.sentence


def test_that_many_strange_parts_are_named_in_one_short_line(place: Path) -> None:
    sql(place, *(f"CREATE INDEX {letter * 300} ON tool (text)" for letter in "abcdefgh"))
    with pytest.raises(Refusal, match="and 3 more") as refused:
        opened(place)
    assert len(refused.value.sentence) < 500


def test_that_a_table_of_somebody_else_is_nothing_to_us(place: Path) -> None:
    sql(place, "CREATE TABLE mine (a)", "CREATE INDEX mine_by_a ON mine (a)", "ANALYZE")
    opened(place).close()


def test_that_a_form_that_was_set_back_is_refused_and_nothing_is_written(place: Path) -> None:
    sql(place, "PRAGMA user_version = 1")
    before = place.read_bytes()
    with pytest.raises(Refusal, match="cannot be opened safely"):
        opened(place)
    assert place.read_bytes() == before


@pytest.mark.parametrize(
    "change",
    [
        "state = 'lost'",
        "position = 'behind'",
        "opened_at = 'noon'",
        "opened_at = '2031-03-04T09:30:00'",
        "promised = 'yesterday'",
        "mechanics = '{'",
        "mechanics = '{\"MECH\": 1}'",
        "mechanics = '[1]'",
        "mechanics = '" + "[" * 100_000 + "'",
    ],
    ids=range(9),
)
def test_that_a_list_of_orders_that_another_program_wrote_is_refused(place: Path, change: str) -> None:
    sql(place, f"UPDATE order_line SET {change}")  # noqa: S608 - a test's own words
    with opened(place) as file:
        with pytest.raises(Refusal, match=r"list of work orders in the shop file is damaged: .* Restore the newest"):
            file.orders()
        # The orders themselves do not stand there.
        assert file.order(1) is not None
        file.rebuild_index()
        assert file.orders()[0].number == 1


def without_types(place: Path, table: str, statement: str) -> None:
    """Put something of another type into a table of ours, as a damaged page does."""
    sql(
        place,
        "PRAGMA writable_schema = 1",
        f"UPDATE sqlite_master SET sql = replace (sql, 'STRICT', '') WHERE name = '{table}'",  # noqa: S608 - a test's own
    )
    guards = sql(place, f"SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = '{table}'")  # noqa: S608
    sql(place, *(f"DROP TRIGGER {name}" for name, _ in guards), statement, *(text for _, text in guards))
    sql(
        place,
        "PRAGMA writable_schema = 1",
        f"UPDATE sqlite_master SET sql = sql || 'STRICT' WHERE name = '{table}'",  # noqa: S608 - the same
    )


@pytest.mark.parametrize(
    ("table", "change"),
    [
        ("shop", "shop_id = x'6162'"),
        ("shop", "name = x'6162'"),
        ("order_line", "customer = x'6162'"),
        ("order_line", "state = x'6162'"),
        ("order_line", "opened_at = x'6162'"),
        ("order_line", "cards = 'many'"),
        ("order_line", "mechanics = x'7b'"),
    ],
    ids=range(7),
)
def test_that_a_value_of_another_type_is_refused(place: Path, table: str, change: str) -> None:
    without_types(place, table, f"UPDATE {table} SET {change}")  # noqa: S608 - a test's own words
    with pytest.raises(Refusal, match="damaged"), opened(place) as file:
        file.orders()
    if table == "shop":
        with pytest.raises(Refusal, match="damaged"), shop_to_check(place, TEXT):
            pytest.fail("it was checked")
        with pytest.raises(Refusal, match="damaged"):
            look_over(place, QUIET, NOW, Ed25519Verifier())


@pytest.mark.parametrize("shop_id", ["../../outside", "", "a/b", "A" * 32, "x" * 65, "C:\\x"])
def test_that_a_shop_id_leads_nowhere_outside_the_state_folder(
    place: Path, tmp_path: Path, shop_id: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_shop_id(place, shop_id)
    around = Surroundings(state=tmp_path / "in" / "state")
    with pytest.raises(Refusal, match="no id that this program gave"):
        open_shop(place, TEXT, around)
    assert [one.name for one in tmp_path.iterdir()] == [place.name]
    if shop_id == "../../outside":
        # The control: believed, it would lead out.
        for room in (shop_store, open_shops):
            monkeypatch.setattr(room, "refuse_strange_id", lambda _id, _place: None)
        open_shop(place, TEXT, around).close()
        assert (tmp_path / "in" / "outside").is_dir()


def test_that_a_copy_whose_shop_id_leads_outside_is_not_taken(place: Path, tmp_path: Path) -> None:
    with_shop_id(place, "../../outside")
    around = Surroundings(state=tmp_path / "in" / "state")
    copy = prepare_copy(place, tmp_path / "new.shop", never_stops, Ed25519Verifier(), around, unsealed=True)
    with pytest.raises(Refusal, match="no id that this program gave"), copy:
        pytest.fail("it was taken")
    assert [one.name for one in tmp_path.iterdir()] == [place.name]


def test_that_a_page_that_is_spoiled_behind_the_first_ones_is_refused_where_it_is_read(place: Path) -> None:
    with opened(place) as file:
        [(root,)] = rows(file._db, "SELECT rootpage FROM sqlite_master WHERE name = 'journal'")  # noqa: SLF001
        [(size,)] = rows(file._db, "PRAGMA page_size")  # noqa: SLF001
        file._db.execute("PRAGMA cache_size = 0")  # noqa: SLF001 - what was read before is not believed
        with place.open("r+b") as raw:
            raw.seek((root - 1) * size)
            raw.write(b"\xff" * size)
        with pytest.raises(Refusal, match="damaged"):
            rows(file._db, "SELECT count(*) FROM journal, journal AS other WHERE other.rowid > -1")  # noqa: SLF001


def test_that_a_question_that_is_wrong_stays_a_fault_of_the_program(place: Path) -> None:
    with opened(place) as file, pytest.raises(sqlite3.OperationalError, match="no such column"):
        rows(file._db, "SELECT nothing_of_the_kind FROM journal")  # noqa: SLF001 - the connection itself
