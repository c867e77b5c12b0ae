"""Exports of invented shops, sound ones and damaged ones, and what the program and the stand-alone verifier say."""

import json
import random
import runpy
from base64 import b64decode
from collections.abc import Callable, Iterable, Iterator
from contextlib import redirect_stdout
from dataclasses import dataclass, replace
from hashlib import sha256
from importlib.resources import files
from io import StringIO
from pathlib import Path
from typing import Any, cast

from desktop.core.records.keys.enrolment import person_section
from desktop.core.records.record import RecordKind, Row, Section
from desktop.core.records.sealed.canonical import canonical_bytes, read_record
from desktop.core.records.sealed.chain import ChainWalk, check_chain
from desktop.core.records.sealed.envelope import Envelope, Signature, head_of, seal_of
from desktop.core.records.sealed.record_line import RecordLine, line_of
from desktop.core.records.sealed.stored import StoredRow, envelope_of, signature_text, stored_row
from desktop.core.records.subjects import order_subject
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.shop_details import ShopDetails
from desktop.files.export_folder import write_export
from desktop.files.export_text import ExportJson, fixed_files, hash_list
from desktop.signing import Ed25519Verifier
from desktop.usecases.records.checking.verify import Verified
from desktop.usecases.records.copies.export import export_files, export_shop
from desktop.usecases.records.copies.export_ports import ExportDesk, ExportFile
from tests.core.records.keys.test_who_signed import ALLOWED, REFUSED, SET_ASIDE
from tests.core.records.pens import KEEP, MECH, SHOP_ID, SHOP_NAME, SINCE, Pen, SignedShop
from tests.core.records.sealed.test_order_walk import OUT_OF_TURN, accepted

VERIFIER = Ed25519Verifier()
DESK = ExportDesk(
    ExportJson(),
    tuple(ExportFile(name, (data,)) for name, data in fixed_files()),
    lambda _records: iter((("record-0001.pdf", b"%PDF-1.4 a print"),)),
    write_export,
)
_MAIN: Callable[..., int] = runpy.run_path(
    str(files("resources").joinpath("export", "verify_records.py")), run_name="verify_records"
)["main"]
ORDERS = 4


@dataclass(frozen=True, slots=True)
class RowsShop:
    """A shop that is nothing but its rows."""

    rows: tuple[StoredRow, ...]
    shop_id: str = SHOP_ID
    name: str = SHOP_NAME

    def stored_rows(self) -> Iterator[StoredRow]:
        return iter(self.rows)

    def listed(self) -> tuple[RecordLine, ...]:
        pairs = [(envelope_of(row), read_record(row.content)) for row in self.rows]
        return tuple(line_of(envelope, record) for envelope, record in pairs)

    def people(self) -> tuple[Person, ...]:
        return ()

    def compared_sheets(self) -> tuple[()]:
        return ()

    def sheet_lives(self) -> tuple[()]:
        return ()

    def tools(self) -> tuple[()]:
        return ()

    def order_numbers(self) -> tuple[int, ...]:
        return ()

    def is_listed(self, _order: object) -> bool:
        return True

    def journal_gaps(self) -> tuple[int, ...]:
        return ()

    def keys(self) -> None:
        return None

    def seen(self) -> tuple[()]:
        return ()

    def details(self) -> ShopDetails:
        return ShopDetails(SHOP_NAME)

    def scans(self) -> Iterator[tuple[str, bool]]:
        return iter(())

    def faults(self) -> tuple[str, ...]:
        return ()

    def odd_guards(self) -> tuple[str, ...]:
        return ()


def exported(rows: Iterable[StoredRow], folder: Path) -> ChainWalk:
    """Take rows out into a folder, as the program does; return what it says of them."""
    shop = RowsShop(tuple(rows))
    walk = check_chain(shop.rows, SHOP_ID, VERIFIER)
    verified = Verified(SHOP_ID, SHOP_NAME, walk.count, walk.head, tuple(walk.problems))
    write_export(folder, export_files(cast("Any", shop), VERIFIER, DESK, verified, shop.stored_rows))
    return walk


def part_exported(rows: Iterable[StoredRow], folder: Path, order: int) -> set[int]:
    """Take out the records about an order, as the program does; return the numbers of those that can be read."""
    shop = RowsShop(tuple(rows))
    export_shop(cast("Any", shop), VERIFIER, DESK, folder, order)
    return {json.loads(line)["number"] for line in (folder / "records.jsonl").read_bytes().splitlines()}


def told(folder: Path, *seal: str) -> tuple[int, str]:
    """Return the status of the stand-alone verifier, in this process, and what it says."""
    out = StringIO()
    with redirect_stdout(out):
        status = _MAIN(folder, *seal)
    return status, out.getvalue()


def read_back(folder: Path) -> ChainWalk | None:
    """Let the program read records.jsonl and say what it finds; None for lines that are no JSON of the form."""
    try:
        lines = [json.loads(line) for line in (folder / "records.jsonl").read_bytes().splitlines()]
        return check_chain(map(_row, lines), SHOP_ID, VERIFIER)
    except (ValueError, KeyError, TypeError, AttributeError):
        return None


def _row(line: dict[str, Any]) -> StoredRow:
    signatures = [
        Signature(one["person"], bytes.fromhex(one["public_key"]), bytes.fromhex(one["signature"]), one["meaning"])
        for one in line["signatures"]
    ]
    content = b64decode(line["content"], validate=True)
    if json.loads(content[content.find(b"{") : -1]) != line["record"]:
        raise ValueError("the readable record says something else")
    kind, previous, digest = (line[name].encode() for name in ("kind", "previous", "digest"))
    return StoredRow(line["number"], kind, content, previous, digest, signature_text(signatures).encode())


def drawn_shop(chance: random.Random) -> SignedShop:
    """Return a shop in which people did this and that, all of it sound."""
    shop = SignedShop().with_people()
    if chance.random() < 0.3:
        chance.choice(list(ALLOWED.values()))(shop)
        return shop
    for _ in range(chance.randrange(4)):
        chance.choice(WORKS)(shop, chance)
    return shop


def _job(shop: SignedShop, chance: random.Random) -> None:
    order, card = chance.randint(1, ORDERS), chance.randint(1, 3)
    if any(record.subject.split()[:2] == ["order", str(order)] for record in shop.records):
        return  # one job an order: what may follow is another test's
    text = chance.choice(("=1+1", "24.5° BTDC", 'says "so", and so', "@x", "-3", "Zwölf Eulen", "日本"))
    number = shop.submit(order, card, Row("Remark, continued", text)).number
    if chance.random() < 0.3:
        shop.sign(RecordKind.CARD_RETURNED, order_subject(order, card), "INSP", about=(number,))
        return
    number = shop.sign(RecordKind.CARD_ACCEPTED, order_subject(order, card), "INSP", about=(number,)).number
    if chance.random() < 0.7:
        shop.sign(RecordKind.APPROVED, order_subject(order), "AUTH", about=(number,))


def _new_key(shop: SignedShop, chance: random.Random) -> None:
    new = Pen(MECH, f"new {chance.random()}")
    shop.sign(RecordKind.KEY_REPLACED, "person MECH", new, "KEEP", keys=(new.key,))
    shop.pens["MECH"] = new


def _gone_and_back(shop: SignedShop, chance: random.Random) -> None:
    shop.sign(RecordKind.PERSON_WITHDRAWN, "person MECH", "KEEP", sections=(person_section(MECH),))
    shop.pens["MECH"] = Pen(MECH, f"back {chance.random()}")
    shop.enrol(MECH, "KEEP", "MECH")


def _newcomer(shop: SignedShop, chance: random.Random) -> None:
    person = Person(f"P{chance.randrange(10**6)}", "Pia Ehl", (Right.RECORDS, Right.HELPER), SINCE, supervisor="MECH")
    shop.pens[person.id] = Pen(person)
    shop.enrol(person, "KEEP", person.id)
    shop.sign(RecordKind.RESTORE, "shop", person.id)


WORKS = (_job, _job, _new_key, _gone_and_back, _newcomer)


def damaged_rows(shop: SignedShop, chance: random.Random) -> tuple[str, list[StoredRow]]:
    """Return the rows of a shop after somebody changed something in the file, and what they did."""
    name, damage = chance.choice(list(DAMAGES.items()))
    return name, damage(shop, chance)


def _flipped(shop: SignedShop, chance: random.Random) -> list[StoredRow]:
    rows = shop.rows
    place = chance.randrange(len(rows))
    column = chance.choice(("kind", "content", "previous", "digest", "signatures"))
    held = bytearray(getattr(rows[place], column))
    held[chance.randrange(len(held))] ^= 1 << chance.randrange(8)
    rows[place] = replace(rows[place], **{column: bytes(held)})  # type: ignore[arg-type]
    return rows


def _taken_out(shop: SignedShop, chance: random.Random) -> list[StoredRow]:
    rows = shop.rows
    del rows[chance.randrange(len(rows) - 1)]
    return rows


def _swapped(shop: SignedShop, chance: random.Random) -> list[StoredRow]:
    rows = shop.rows
    one = chance.randrange(len(rows) - 1)
    first, second = rows[one], rows[one + 1]
    rows[one : one + 2] = [replace(second, number=first.number), replace(first, number=second.number)]
    return rows


def _said_anew(shop: SignedShop, chance: random.Random) -> list[StoredRow]:
    """Change what a record says, and make the seals from there on again, without anybody's key."""
    place = chance.randrange(len(shop.records))
    record = shop.records[place]
    section = Section("Readings", (Row("Limits", "20 to 30"),))
    changed = canonical_bytes(replace(record, sections=(*record.sections, section)))
    envelopes = [*shop.envelopes]
    envelopes[place] = replace(envelopes[place], content=changed)
    return [stored_row(one) for one in rechained(envelopes)]


def rechained(envelopes: list[Envelope]) -> list[Envelope]:
    """Return records numbered and sealed again from the first."""
    made: list[Envelope] = []
    for number, one in enumerate(envelopes, 1):
        previous = head_of(SHOP_ID, made[-1] if made else None)
        digest = seal_of(number, one.kind, one.content, previous, one.signatures)
        made.append(replace(one, number=number, previous=previous, digest=digest))
    return made


def _other_signature(shop: SignedShop, chance: random.Random) -> list[StoredRow]:
    """Put another key's signature in the place of one, or a changed one, and seal everything again."""
    place = chance.randrange(len(shop.envelopes))
    envelopes = [*shop.envelopes]
    one = envelopes[place].signatures[0]
    bad = chance.choice((Pen(KEEP, "strange").public_key, (1).to_bytes(32, "little"), bytes(32), b"\xff" * 32))
    changed = replace(one, public_key=bad) if chance.random() < 0.5 else replace(one, signature=bytes(64))
    envelopes[place] = replace(envelopes[place], signatures=(changed, *envelopes[place].signatures[1:]))
    return [stored_row(one) for one in rechained(envelopes)]


def _signed_wrongly(shop: SignedShop, chance: random.Random) -> list[StoredRow]:
    """Sign with real keys what could not be signed so."""
    wrongly: list[Callable[[SignedShop], object]] = [act for _, act in (*REFUSED.values(), *SET_ASIDE.values())]
    out_of_turn = [act for _, act in OUT_OF_TURN.values()]
    act = chance.choice([*wrongly, *out_of_turn])
    other = accepted() if act in out_of_turn else SignedShop().with_people()
    act(other)
    return other.rows


def _odd_numbers(shop: SignedShop, chance: random.Random) -> list[StoredRow]:
    rows = shop.rows
    rows[-1] = replace(rows[-1], number=chance.choice((len(rows) + 3, 10**18)))
    return rows


DAMAGES: dict[str, Callable[[SignedShop, random.Random], list[StoredRow]]] = {
    "a flipped bit": _flipped,
    "a record taken out": _taken_out,
    "two records swapped": _swapped,
    "a record said anew": _said_anew,
    "another signature": _other_signature,
    "signed wrongly": _signed_wrongly,
    "an odd number": _odd_numbers,
}


def damaged_files(folder: Path, chance: random.Random) -> str:
    """Change something in an export, and make its list of hashes again, as whoever holds it can; say what was done."""
    place = folder / "records.jsonl"
    lines = place.read_bytes().splitlines(keepends=True)
    at = chance.randrange(len(lines))
    table = json.loads(lines[at])
    what = chance.choice(("flip", "readable", "gone", "twice", "cut", "order", "key", "space", "seal", "shop"))
    if what == "flip":
        data = bytearray(lines[at])
        data[chance.randrange(len(data) - 1)] ^= 1 << chance.randrange(8)
        lines[at] = bytes(data)
    elif what == "gone":
        del lines[at]
    elif what == "twice":
        lines.insert(at, lines[at])
    elif what == "cut":
        lines[-1] = lines[-1][:-40]
    elif what == "order":
        lines.insert(0, lines.pop())
    elif what == "space":
        lines[at] = lines[at].replace(b'","kind":', b'", "kind":')
    elif what == "shop":
        shop = json.loads((folder / "shop.json").read_bytes()) | {"shop_id": "another"}
        (folder / "shop.json").write_bytes(_written(shop))
    else:
        _change(table, what)
        lines[at] = _written(table)
    place.write_bytes(b"".join(lines))
    hashed_again(folder)
    return what


def _change(table: dict[str, Any], what: str) -> None:
    if what == "readable":
        table["record"]["at"] = "2031-03-04T23:59:59+01:00"
    elif what == "key":
        table["signatures"][0]["public_key"] = "01" + "00" * 31
    else:
        table["digest"] = sha256(b"another").hexdigest()


def _written(table: dict[str, Any]) -> bytes:
    return json.dumps(table, sort_keys=True, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def hashed_again(folder: Path) -> None:
    """Make the list of hashes again."""
    names = [one.relative_to(folder).as_posix() for one in folder.rglob("*") if one.is_file()]
    hashes = {name: sha256((folder / name).read_bytes()).hexdigest() for name in names if name != "SHA256SUMS"}
    (folder / "SHA256SUMS").write_bytes(hash_list(hashes))
