"""The step that brings keys: from an old file to tables that only grow."""

import ast
from pathlib import Path

from desktop.core.shop.people.secrets import Tries
from desktop.signing import KeyMaker
from desktop.storage.records.key_store import KeyStore
from desktop.storage.steps import key_tables
from desktop.usecases.records.keys.people_ports import FOR_DEMO, KeyEvent, KeyEventKind
from tests.storage.file_floor import opened, sql
from tests.storage.steps.test_migrations import old_file
from tests.usecases.records.signing_floor import PHRASES, StandingClock

FIRST, SECOND = (KeyMaker().new_key("MECH", phrase, FOR_DEMO) for phrase in (PHRASES["MECH"], PHRASES["KEEP"]))


def test_that_the_step_imports_nothing_of_ours() -> None:
    tree = ast.parse(Path(key_tables.__file__).read_text("utf-8"))
    assert {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)} == {"sqlite_utils"}
    assert not any(isinstance(node, ast.Import) for node in ast.walk(tree))


def test_that_an_old_file_keeps_keys_once_it_is_opened(tmp_path: Path) -> None:
    now = StandingClock().now()
    with opened(old_file(1, tmp_path)) as file:
        store = KeyStore(None, file.shop_id)
        with file.changing() as work:
            signing = store.within(work)
            assert signing.key("MECH") is None
            assert (signing.seen("MECH"), signing.events(), signing.tries(FIRST.public_key)) == (0, (), Tries())
            signing.put_key(FIRST)
            signing.put_key(SECOND)
            signing.put_tries(SECOND.public_key, Tries(2, 1, now))
            signing.put_tries(SECOND.public_key, Tries(3, 1, now))
            signing.note(KeyEvent(KeyEventKind.CLOCK_SET_BACK, FIRST.public_key, now, 2))
            signing.put_seen("MECH", 7)
            signing.put_seen("MECH", 5)
        with file.changing() as work:
            signing = store.within(work)
            assert signing.key("MECH") == SECOND
            assert signing.tries(SECOND.public_key) == Tries(3, 1, now)
            assert signing.events() == (KeyEvent(KeyEventKind.CLOCK_SET_BACK, FIRST.public_key, now, 2),)
            assert signing.seen("MECH") == 7
        assert (store.counted_here(FIRST.public_key), file.faults()) == (None, ())
        place = file.place
    assert sql(place, "SELECT count(*) FROM person_key") == [(2,)]


def test_that_every_table_of_the_step_has_its_guards(tmp_path: Path) -> None:
    place = old_file(1, tmp_path)
    opened(place).close()
    found = {name for (name,) in sql(place, "SELECT name FROM sqlite_master WHERE type = 'trigger'")}
    assert found >= {
        *(f"{table}_{ending}" for table in ("person_key", "key_event") for ending in ("stays", "is_kept", "once")),
        *("key_tries_grow", "key_tries_are_kept", "key_tries_once"),
        *("signed_seen_grows", "signed_seen_is_kept", "signed_seen_once"),
    }
