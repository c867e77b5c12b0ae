"""How hostile files are made: from a sound one, by chance, with what is known to hurt readers of such files."""

import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.storage.copies.copy_seal import seal
from desktop.usecases.records.copies.copy_ports import never_stops

_TOKENS = (
    b"[" * 3000, b"{a=" * 500, b"a." * 20_000 + b"b = 1\n", b"x = " + b"9" * 20_000 + b"\n", b'x = "' + b"y" * 200_000,
    b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"\r\n", b"'''", b'"""', b"#" * 1000, b"[[step]]\n" * 2000, b"[engine]\n",
    b"x = 1979-05-27T07:32:00Z\n", b"x = inf\n", b"x = nan\n", b"x = 1e999\n", b"x = 0x16\n", b'"../../x" = 1\n',
    b'x = "../../../etc/passwd"\n', b'x = "\\u0000\\u202e\\U0010ffff"\n', b"\xed\xa0\x80", b"=", b"]]", b"}",
    b'id = "../../../tmp/x"\n', b"format = 99\n", b"revision = -1\n", b"cylinders = 1000000\n",
)  # fmt: skip
_VALUES = (
    b'""', b'" "', b'"x"', b"0", b"-1", b"1", b"3.5", b"-0.0", b"1e300", b"inf", b"nan", b"9" * 300, b"1" * 4500,
    b"true", b"1979-05-27", b"07:32:00", b"1979-05-27T07:32:00Z", b"[]", b"[[]]", b"[1, 'a']", b"{}", b"{ a = 1 }",
    b"[{}, {}]", b'"9999999999"', b'"1/0"', b'"-22"', b'"1e999"',
    b'"1_000"', b'"\\u0000"', b'"\\u202e"', b'"\\n"', b'"=1+1"',
    b'"../../../x"', b'"' + b"y" * 70_000 + b'"', b"[" + b"'z', " * 9000 + b"]", b'"\xed\xa0\x80"', b'"electronic"',
)  # fmt: skip
_SCHEMAS = (
    "CREATE VIEW envy AS WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i FROM n",
    "CREATE TRIGGER spiteful AFTER INSERT ON request BEGIN DELETE FROM work_order; END",
    "CREATE TABLE hoard (a, b GENERATED ALWAYS AS (hex (zeroblob (100000000))))",
    "CREATE TABLE checked (a CHECK (length (zeroblob (900000000)) > a))",
    "CREATE INDEX spun ON journal (hex (zeroblob (20000)))",
    "CREATE VIRTUAL TABLE other USING fts5 (a)",
    "DROP TRIGGER journal_stays",
    "DROP TABLE shop",
    "DROP TABLE envelope",
    "DROP TABLE order_line",
    "DROP TABLE order_find",
    "DROP INDEX order_line_by_state",
    "PRAGMA user_version = 1",
    "INSERT INTO person (id, text) VALUES ('x', '{\"id\":1}')",
    "INSERT INTO shop_text (name, text) VALUES ('settings', '[]')",
    "INSERT INTO sheet (id, version, text) VALUES ('x', 1, '" + '{"a":' * 2000 + "')",
    "INSERT INTO sheet_revision (id, revision, digest, kind, text) VALUES ('x', -1, 'a', 'b', '{')",
    "INSERT INTO person_key VALUES (1, 'MECH', 'zz', 'zz', 'zz', 'zz', 99999999, 99999999, 99999999)",
    "INSERT INTO printed (code, number, card, kind, version) VALUES ('x', 9, 9, 'x', 9)",
    "INSERT INTO scan (digest, kind, bytes) VALUES ('" + "0" * 64 + "', 'exe', zeroblob (900000))",
    "INSERT INTO record_line VALUES (7, 'x', 'x', 1, 1, 'x', 'x', 'x')",
    "UPDATE shop SET name = CAST (x'ff00fe' AS TEXT)",
    "UPDATE work_order SET version = version + 1, text = '" + "[" * 5000 + "'",
    "UPDATE work_order SET version = version + 1, text = CAST (x'ff' AS TEXT)",
    "UPDATE order_line SET mechanics = '{'",
    "UPDATE order_line SET promised = 'yesterday', state = 'lost'",
    "INSERT INTO envelope VALUES (1, 'void', zeroblob (900000), 'a', 'b', '1:a,')",
    "INSERT INTO envelope VALUES (1, 'void', '9999999999:x,', 'a', 'b', '99999999999999999999:')",
    "INSERT INTO request (id, answer) VALUES ('x', '" + '{"a":' * 2000 + "')",
    "PRAGMA user_version = 2147483647",
    "PRAGMA application_id = 0",
    "PRAGMA journal_mode = WAL",
    "PRAGMA writable_schema = 1",
    "INSERT INTO order_find (order_find) VALUES ('delete-all')",
)
_SHOP_IDS = ("../../../outside", "/outside", "", ".", "a/b", "x" * 5000, "\n", "nul\0", "C:\\x", "cafe")
_HEADER = (16, 18, 19, 20, 24, 28, 32, 36, 40, 44, 52, 56, 60, 64, 68, 92, 96, 100, 101, 103, 105)
_PAGE = 4096


def hostile_text(dice: random.Random, sound: bytes) -> bytes:
    """Return a text file that was spoiled in a few places."""
    data = bytearray(sound)
    for _ in range(dice.randrange(1, 4)):
        at = dice.randrange(len(data) + 1)
        match dice.randrange(9):
            case 7 | 8:
                _other_value(dice, data, at)
            case 0:
                data[at:at] = dice.choice(_TOKENS)
            case 1:
                del data[at : at + dice.choice((1, 10, 300))]
            case 2:
                data[at : at + 1] = bytes([dice.randrange(256)])
            case 3:
                data[at:at] = data[: dice.randrange(len(data) + 1)]
            case 4:
                data[at:at] = dice.randbytes(dice.choice((1, 8, 500)))
            case 5:
                line = data.find(b"\n", at) + 1
                data[line:line] = dice.choice(_TOKENS)
            case _:
                del data[at:]
        del data[2_000_000:]
    return bytes(data)


def hostile_values(dice: random.Random, sound: bytes) -> bytes:
    """Return a text file of its kind in which a few values are others, or stand elsewhere."""
    lines = sound.split(b"\n")
    places = [number for number, line in enumerate(lines) if b"=" in line]
    for place in dice.sample(places, dice.randrange(1, 4)):
        key, _, value = lines[place].partition(b"=")
        match dice.randrange(4):
            case 0:
                lines[place] = key + b"=" + lines[dice.choice(places)].partition(b"=")[2]
            case 1:
                lines[place] = lines[dice.choice(places)].partition(b"=")[0] + b"=" + value
            case _:
                lines[place] = key + b"= " + dice.choice(_VALUES)
    return b"\n".join(lines)


def _other_value(dice: random.Random, data: bytearray, at: int) -> None:
    """Put something else behind the next sign of equality: the file can still be read as one of its kind."""
    begins = data.find(b"=", at) + 1
    ends = data.find(b"\n", begins)
    if 0 < begins < ends:
        data[begins:ends] = dice.choice((b' "x"', b" 1", b" true", b' ""', b" []", b' "' + b"9" * 300 + b'"', b" {}"))


def hostile_database(dice: random.Random, pristine: Path, place: Path) -> Path:
    """Lay a database there that was spoiled as a database, byte by byte, or both."""
    shutil.copy(pristine, place)
    ways: tuple[Callable[[random.Random, Path], None], ...] = (_other_schema, _other_bytes, _other_pages, _other_shop)
    for _ in range(dice.randrange(1, 4)):
        dice.choice(ways)(dice, place)
    if dice.random() < 0.2:
        place.with_name(f"{place.name}-journal").write_bytes(dice.randbytes(dice.choice((0, 27, 512, 9000))))
    return place


def sealed_copy(dice: random.Random, pristine: Path, folder: Path) -> Path:
    """Make a copy that was spoiled: before it was sealed by whoever spoiled it, after that, or both."""
    place = hostile_database(dice, pristine, folder / "file.shop-copy")
    if dice.random() < 0.6:
        with suppress(Refusal, OSError):
            seal(place, "2031-03-04T09:30:00+00:00", never_stops)
    if dice.random() < 0.3:
        _other_bytes(dice, place)
    return place


def _other_schema(dice: random.Random, place: Path) -> None:
    with suppress(sqlite3.Error), closing(sqlite3.connect(place, isolation_level=None)) as connection:
        connection.execute("PRAGMA writable_schema = 1")
        for statement in dice.sample(_SCHEMAS, dice.randrange(1, 4)):
            with suppress(sqlite3.Error):
                connection.execute(statement).fetchall()


def _connected(place: Path) -> sqlite3.Connection:
    return sqlite3.connect(place, isolation_level=None)


def _other_shop(dice: random.Random, place: Path) -> None:
    """Call the shop something else, with the guards off and on again as somebody does who knows the file."""
    with suppress(sqlite3.Error, UnicodeDecodeError), closing(_connected(place)) as connection:
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            connection.execute(f'DROP TRIGGER "{name}"')
        connection.execute("UPDATE shop SET shop_id = ?", (dice.choice(_SHOP_IDS),))
        for _, text in guards:
            connection.execute(text)


def _other_bytes(dice: random.Random, place: Path) -> None:
    data = bytearray(place.read_bytes())
    for _ in range(dice.randrange(1, 9)):
        at = dice.choice(_HEADER) if dice.random() < 0.4 else dice.randrange(max(1, len(data)))
        data[at : at + 4] = dice.choice((dice.randbytes(4), b"\0\0\0\0", b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff"))
    place.write_bytes(data)


def _other_pages(dice: random.Random, place: Path) -> None:
    data = bytearray(place.read_bytes())
    pages = max(1, len(data) // _PAGE)
    at = dice.randrange(pages) * _PAGE
    match dice.randrange(4):
        case 0:
            data[at : at + _PAGE] = bytes(_PAGE)
        case 1:
            data[at : at + _PAGE] = dice.randbytes(_PAGE)
        case 2:
            other = dice.randrange(pages) * _PAGE
            data[at : at + _PAGE] = data[other : other + _PAGE]
        case _:
            del data[at + dice.randrange(_PAGE) :]
    place.write_bytes(data)
