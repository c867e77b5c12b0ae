"""Somebody who holds the file and a database tool: each of their edits is said in a sentence that names the record.

Each edit has its control: with the check that reveals it taken out, the sentence is not there.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from shutil import copy

import pytest

from desktop.core.records.record import Record, RecordKind, Row, Section
from desktop.core.records.sealed import chain
from desktop.core.records.sealed.canonical import canonical_bytes
from desktop.core.records.sealed.chain import ChainWalk
from desktop.core.records.sealed.envelope import Envelope, Signature, head_of, seal_of
from desktop.core.records.sealed.remedies import REMAKE
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.records.sealed.stored import signature_text
from desktop.storage.shop_check import shop_to_check
from desktop.usecases.records.checking import signed_state, verify
from desktop.usecases.records.checking.kept_besides import KeptBesides
from desktop.usecases.records.checking.signed_moves import SignedMoves
from desktop.usecases.records.checking.verify import Verified, verify_shop
from tests.core.records.pens import AUTH, INSP, KEEP, MECH, Pen, RealVerifier, SignedShop, TrustingVerifier
from tests.storage.file_floor import TEXT, copied, opened, sql
from tests.storage.signed_file import append, signed_file

GUARDS = ("envelope_stays", "envelope_is_kept", "envelope_in_order")
SUBMITTED = "Record 5, card submitted, order 1 card 1, signed Mel Chan"
ACCEPTED = "Record 6, card accepted, order 1 card 1, signed Ines Spohr"
APPROVED = "Record 7, approved for return to service, order 1, signed Ada Uthor"
SHEET = "Record 13, limits sheet, limits sheet MS-7 revision 2, signed Mel Chan"
LAST = "Record 14, tool record, tool W-3, signed Kit Eeper"
CHANGED = "does not fit its record seal: it was changed after it was signed"
FOLLOWS = "does not follow the record before it: one of the two was changed, moved or made again"
MISSING = "is missing: it was taken out of the file, or the file was cut"


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
    """A copy of it that an insider has."""
    return copied(signed[0], tmp_path)


def checked(place: Path, seal: str = "", verifies: Verifies | None = None) -> Verified:
    with shop_to_check(place, TEXT) as file:
        return verify_shop(file, verifies or RealVerifier(), seal)


def past_guards(place: Path, *statements: str) -> None:
    """Do what the triggers would stop, and put them back as they were."""
    kept = sql(place, "SELECT sql FROM sqlite_master WHERE type = 'trigger'")
    names = sql(place, "SELECT name FROM sqlite_master WHERE type = 'trigger'")
    away = (f"DROP TRIGGER {name}" for (name,) in names)
    sql(place, "BEGIN", *away, *statements, *(text for (text,) in kept), "COMMIT")


def put(place: Path, envelopes: list[Envelope]) -> None:
    """Put these records in the place of those that stand there."""
    past_guards(place, "DELETE FROM envelope", *map(inserted, envelopes))


def inserted(one: Envelope) -> str:
    """Return the statement that puts a record in."""
    texts = (one.previous, one.digest, signature_text(one.signatures))
    values = (str(one.number), _quoted(one.kind), f"x'{one.content.hex()}'", *map(_quoted, texts))
    return f"INSERT INTO envelope VALUES ({', '.join(values)})"  # noqa: S608 - what an insider writes


def dropped(place: Path, *things: str) -> None:
    sql(place, *(f"DROP {thing}" for thing in things))


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def said_again(old: str, new: str, number: int) -> Callable[[Path, SignedShop], None]:
    """Change words in the content of a record, as long as they were."""
    assert len(old.encode()) == len(new.encode())

    def edit(place: Path, shop: SignedShop) -> None:
        content = shop.envelopes[number - 1].content
        assert old.encode() in content
        changed = content.replace(old.encode(), new.encode())
        past_guards(place, f"UPDATE envelope SET content = x'{changed.hex()}' WHERE number = {number}")  # noqa: S608

    return edit


def do(*statements: str) -> Callable[[Path, SignedShop], None]:
    return lambda place, _: past_guards(place, *statements)


def resealed(one: Envelope, **change: object) -> Envelope:
    one = replace(one, **change)  # type: ignore[arg-type]
    return replace(one, digest=seal_of(one.number, one.kind, one.content, one.previous, one.signatures))


def with_limits(record: Record, limits: str) -> bytes:
    return canonical_bytes(replace(record, sections=(Section("Readings", (Row("Limits", limits),)),)))


def one_seal_made_again(place: Path, shop: SignedShop) -> None:
    changed = resealed(shop.envelopes[4], content=with_limits(shop.records[4], "20 to 30"))
    put(place, [*shop.envelopes[:4], changed, *shop.envelopes[5:]])


def whole_chain_made_again(place: Path, shop: SignedShop) -> None:
    contents = [one.content for one in shop.envelopes]
    contents[4] = with_limits(shop.records[4], "20 to 30")
    made: list[Envelope] = []
    for one, content in zip(shop.envelopes, contents, strict=True):
        made.append(resealed(one, content=content, previous=head_of(shop.shop_id, made[-1] if made else None)))
    put(place, made)


def taken_out_and_closed_up(place: Path, shop: SignedShop) -> None:
    made: list[Envelope] = []
    for number, one in enumerate((one for one in shop.envelopes if one.number != 13), 1):
        previous = head_of(shop.shop_id, made[-1] if made else None)
        made.append(resealed(one, number=number, previous=previous))
    put(place, made)


def forged(place: Path, shop: SignedShop) -> None:
    """A record that nobody signed, at the end, by somebody who has the program but no key."""
    other = _copy(shop)
    other.pens["AUTH"] = Pen(AUTH, "forger")
    other.sign(RecordKind.APPROVED, "order 1", "AUTH", about=(6,))
    sql(place, inserted(other.envelopes[14]))


def forged_with_old_signature(place: Path, shop: SignedShop) -> None:
    last = shop.envelopes[-1]
    one = resealed(shop.envelopes[4], number=15, previous=last.digest)
    sql(place, inserted(one))


def moved_signature(place: Path, shop: SignedShop) -> None:
    one = resealed(shop.envelopes[9], signatures=shop.envelopes[8].signatures[:1])
    put(place, [*shop.envelopes[:9], one, *shop.envelopes[10:]])


def other_key(place: Path, shop: SignedShop) -> None:
    old = shop.envelopes[13].signatures[0]
    pen = Pen(KEEP, "forger")
    one = resealed(shop.envelopes[13], signatures=(Signature(old.person, pen.public_key, old.signature, old.meaning),))
    put(place, [*shop.envelopes[:13], one])


def replaced(place: Path, shop: SignedShop) -> None:
    content = with_limits(shop.records[4], "20 to 30").hex()
    columns = f"number, kind, x'{content}', previous, digest, signatures"
    past_guards(place, f"INSERT OR REPLACE INTO envelope SELECT {columns} FROM envelope WHERE number = 5")  # noqa: S608


def _copy(shop: SignedShop) -> SignedShop:
    other = SignedShop(shop.shop_id)
    other.envelopes, other.records, other.now = list(shop.envelopes), list(shop.records), shop.now
    other.pens = dict(shop.pens)
    return other


class Agrees(str):
    """A seal that fits everything."""

    __slots__ = ()
    __hash__ = str.__hash__

    def __ne__(self, _other: object) -> bool:
        return False

    def __eq__(self, _other: object) -> bool:
        return True


@dataclass(frozen=True)
class Out:
    """A check that a control takes out."""

    place: object = None
    name: str = ""
    instead: object = None


NO_SEAL = Out(chain, "seal_of", lambda *_: Agrees("x"))
NO_KEYS = Out()
"""Every signature is believed."""
NO_GAPS = Out(ChainWalk, "_say_missing", lambda *_: None)
NO_NUMBERS = Out(ChainWalk, "_look_at_number", lambda *_: True)
NO_ORDER = Out(ChainWalk, "_look_at_number", lambda *_: False)
NO_PERSON = Out(signed_state, "person_section", lambda _: None)
NO_LIST = Out(verify, "_list_problem", lambda *_: iter(()))
NO_GUARDS = Out(verify, "_guard_problems", lambda _: iter(()))
NO_DRAFTS = Out(verify, "_order_problems", lambda *_: iter(()))
BY = '"move":"accept","by":{{"person":"{}"'
NO_MOVES = Out(SignedMoves, "problems", lambda *_: iter(()))
NO_BESIDES = Out(KeptBesides, "key_problems", lambda *_: iter(()))
NO_SEEN = Out(KeptBesides, "seen_problems", lambda *_: iter(()))
NO_JOURNAL = Out(verify, "_journal_problems", lambda _: iter(()))
NO_STRANGERS = Out(chain, "signature_troubles", lambda *_: iter(()))

EDITS: dict[str, tuple[Callable[[Path, SignedShop], None], str, Out]] = {
    "a reading changed": (said_again("24.5°", "27.5°", 5), f"{SUBMITTED}, {CHANGED}", NO_SEAL),
    "a limit changed": (said_again("23 to 25", "23 to 29", 5), f"{SUBMITTED}, {CHANGED}", NO_SEAL),
    "a time changed": (said_again("T09:35:00", "T08:35:00", 5), f"{SUBMITTED}, {CHANGED}", NO_SEAL),
    "a printed name changed": (
        said_again("Mel Chan", "Mal Chan", 5),
        "Record 5, card submitted, order 1 card 1, signed Mal Chan, says of MECH what is not what they were enrolled",
        NO_STRANGERS,
    ),
    "the first deleted": (
        do("DELETE FROM envelope WHERE number = 1"),
        f"Record 1, person enrolled, person KEEP, signed Kit Eeper, {MISSING}",
        NO_GAPS,
    ),
    "one in the middle deleted": (do("DELETE FROM envelope WHERE number = 13"), f"{SHEET}, {MISSING}", NO_GAPS),
    "the last deleted": (do("DELETE FROM envelope WHERE number = 14"), f"{LAST}, {MISSING}", NO_GAPS),
    "one deleted, the rest closed up": (
        taken_out_and_closed_up,
        "Record 13, tool record, tool W-3, signed Kit Eeper, does not bear the signature of Kit Eeper",
        NO_KEYS,
    ),
    "all deleted": (do("DELETE FROM envelope"), f"{SUBMITTED}, {MISSING}", NO_GAPS),
    "the table dropped": (lambda place, _: dropped(place, "TABLE envelope"), f"{SUBMITTED}, {MISSING}", NO_GAPS),
    "one inserted": (
        forged,
        "Record 15, approved for return to service, order 1, signed Ada Uthor, is signed with a key that was never",
        NO_STRANGERS,
    ),
    "an old one inserted again": (
        forged_with_old_signature,
        "Record 15, card submitted, order 1 card 1, signed Mel Chan, does not bear the signature of Mel Chan",
        NO_KEYS,
    ),
    "two swapped": (
        do(
            "UPDATE envelope SET number = 99 WHERE number = 5",
            "UPDATE envelope SET number = 5 WHERE number = 6",
            "UPDATE envelope SET number = 6 WHERE number = 99",
        ),
        f"Record 6, card submitted, order 1 card 1, signed Mel Chan, {CHANGED}",
        NO_SEAL,
    ),
    "a signature moved": (
        moved_signature,
        "Record 10, card submitted, order 2 card 1, signed Mel Chan, does not bear the signature of Mel Chan",
        NO_KEYS,
    ),
    "another key beside a signature": (
        other_key,
        f"{LAST}, is signed with a key that was never enrolled",
        NO_STRANGERS,
    ),
    "the kind changed": (
        do("UPDATE envelope SET kind = 'card accepted' WHERE number = 11"),
        'Record 11, card returned, order 2 card 1, signed Ines Spohr, is kept as "card accepted" and was signed',
        Out(RecordKind, "__ne__", lambda *_: False),
    ),
    "replaced by an insert": (replaced, f"{SUBMITTED}, {CHANGED}", NO_SEAL),
    "one seal made again": (one_seal_made_again, f"{ACCEPTED}, {FOLLOWS}", NO_ORDER),
    "the whole chain made again": (
        whole_chain_made_again,
        f"{SUBMITTED}, does not bear the signature of Mel Chan: what stands here is not what was signed",
        NO_KEYS,
    ),
    "a number made negative": (
        lambda place, _: past_guards(
            place, "PRAGMA ignore_check_constraints = ON", "UPDATE envelope SET number = -5 WHERE number = 5"
        ),
        "Record -5, card submitted, order 1 card 1, signed Mel Chan, was put in",
        NO_NUMBERS,
    ),
    "the guards dropped": (
        lambda place, _: dropped(place, *(f"TRIGGER {name}" for name in GUARDS)),
        f"What keeps records from being changed was itself changed with another program: {', '.join(sorted(GUARDS))}.",
        NO_GUARDS,
    ),
    "a name in the list": (
        do("UPDATE record_line SET name = 'Mal Chan' WHERE number = 5"),
        f"{SUBMITTED}, the list of records says something else of it",
        NO_LIST,
    ),
    "a row of the list deleted": (
        do("DELETE FROM record_line WHERE number = 5"),
        f"{SUBMITTED}, the list of records says something else of it",
        NO_LIST,
    ),
    "a right on the roster": (
        do("""UPDATE person SET text = replace (text, '"mechanic"]', '"mechanic","authorised person"]')"""),
        "Record 9, key replaced, person MECH, signed Mel Chan, and the roster says something else of them",
        NO_PERSON,
    ),
    "a name on the roster": (
        do("UPDATE person SET text = replace (text, 'Ada Uthor', 'Ada Upfor')"),
        "Record 4, person enrolled, person AUTH, signed Kit Eeper, and the roster says something else of them",
        NO_PERSON,
    ),
    "a person taken off the roster": (
        do("DELETE FROM person WHERE id = 'AUTH'"),
        "Record 4, person enrolled, person AUTH, signed Kit Eeper, and that person is not on the roster",
        Out(signed_state.SignedState, "people_problems", lambda *_: iter(())),
    ),
    "an order set back": (
        do("""UPDATE work_order SET text = replace (text, '"ending":"approved"', '"ending":"void"')"""),
        f"{APPROVED}, and the order is kept as void",
        NO_DRAFTS,
    ),
    "a card accepted by nobody": (
        do("""UPDATE work_order SET text = replace (text, '"state":"in work"', '"state":"accepted"')"""),
        "Record 11, card returned, order 2 card 1, signed Ines Spohr, and the card is kept as accepted",
        NO_DRAFTS,
    ),
    "another customer": (
        do("UPDATE work_order SET text = replace (text, 'Mill Flying Club', 'Hill Flying Club')"),
        f"{APPROVED}, and what is kept on the work order is not what was signed",
        NO_DRAFTS,
    ),
    "a reading of the card": (
        do("UPDATE work_order SET text = replace (text, '337.5', '338.5')"),
        f"{SUBMITTED}, and what is kept on the work order is not what was signed",
        NO_DRAFTS,
    ),
    "an order erased": (
        do("DELETE FROM order_line WHERE number = 2", "DELETE FROM work_order WHERE number = 2"),
        "Record 11, card returned, order 2 card 1, signed Ines Spohr, and there is no such order",
        NO_DRAFTS,
    ),
    "who accepted, on the order": (
        do(f"UPDATE work_order SET text = replace (text, '{BY.format('INSP')}', '{BY.format('MECH')}')"),  # noqa: S608 - an insider's
        f"{ACCEPTED}, and the work order does not say so: who, when, or on which card.",
        NO_MOVES,
    ),
    "the keys erased": (
        do("DELETE FROM person_key"),
        "Record 1, person enrolled, person KEEP, signed Kit Eeper, and no key of Kit Eeper is kept",
        NO_BESIDES,
    ),
    "a key given to somebody else": (
        do("UPDATE person_key SET person = 'INSP' WHERE person = 'KEEP'"),
        "Record 1, person enrolled, person KEEP, signed Kit Eeper, and no key of Kit Eeper is kept",
        NO_BESIDES,
    ),
    "what was read set up": (
        do("INSERT INTO signed_seen VALUES ('AUTH', 9999)"),
        "The file says that AUTH had read the records up to 9999 when they signed last, and that was record 13.",
        NO_SEEN,
    ),
    "lines of the journal erased": (
        do("DELETE FROM journal WHERE number = 1 AND version = 2"),
        "Order 1: lines of its journal are missing.",
        NO_JOURNAL,
    ),
    "a customer in the list of orders": (
        do("UPDATE order_line SET customer = 'Nobody' WHERE number = 1"),
        "Order 1: the list of orders says something else of it than the order.",
        NO_DRAFTS,
    ),
    "a word of the search": (
        do("UPDATE order_word SET words = 'nothing' WHERE number = 1"),
        "Order 1: the list of orders says something else of it than the order.",
        NO_DRAFTS,
    ),
    "the state in the list of orders": (
        do("UPDATE order_line SET state = 'closed' WHERE number = 1"),
        'Order 1 is kept as approved, and the list of orders says "closed"',
        NO_DRAFTS,
    ),
}


def sentences(found: Verified) -> list[str]:
    return [problem.sentence for problem in found.problems]


def test_that_nothing_is_said_of_a_file_that_nobody_touched(place: Path, shop: SignedShop) -> None:
    before = place.read_bytes()
    found = checked(place)
    assert (sentences(found), found.notes, found.is_sound) == ([], (), True)
    assert (found.shop_id, found.count, found.head) == (shop.shop_id, 14, shop.envelopes[-1].digest)
    assert place.read_bytes() == before


@pytest.mark.parametrize(("edit", "words", "out"), EDITS.values(), ids=EDITS)
def test_that_an_edit_is_said_with_the_name_of_the_record(
    place: Path,
    shop: SignedShop,
    monkeypatch: pytest.MonkeyPatch,
    edit: Callable[[Path, SignedShop], None],
    words: str,
    out: Out,
) -> None:
    edit(place, shop)
    found = checked(place)
    assert any(sentence.startswith(words) for sentence in sentences(found)), sentences(found)
    if out.place is not None:
        monkeypatch.setattr(out.place, out.name, out.instead)
    without = checked(place, verifies=TrustingVerifier() if out is NO_KEYS else None)
    assert not any(sentence.startswith(words) for sentence in sentences(without))


def test_that_a_file_of_last_week_is_told_from_a_papers_seal(place: Path, shop: SignedShop, tmp_path: Path) -> None:
    old = Path(copy(place, tmp_path / "last-week.shop"))
    other = _copy(shop)
    paper = other.sign(RecordKind.TOOL_RECORD, "tool L-1", "KEEP").digest
    with opened(place) as file:
        append(file, other, 14)
    for seal in (paper[:16], paper):
        assert checked(place, seal).is_sound
        [said] = sentences(checked(old, seal))
        assert said == (
            f"The record seal {paper[:16]} of the paper belongs to no record here: "
            "the file was set back, cut or replaced since the paper was printed."
        )
    assert checked(old).is_sound  # the control: without the paper nothing can be told
    first = shop.envelopes[0].digest[:16]
    assert [note.sentence for note in checked(old, first).notes] == [
        f"The record seal {first} of the paper is that of record 1."
    ]
    assert "before its first record" in checked(old, head_of(shop.shop_id, None)).notes[0].sentence


def test_that_a_chain_signed_anew_with_other_keys_is_told_from_a_papers_seal(place: Path, shop: SignedShop) -> None:
    forger = SignedShop(shop.shop_id)
    forger.pens = {person.id: Pen(person, "forger") for person in (KEEP, MECH, INSP, AUTH)}
    rows = [record.sections for record in shop.records]
    forger.with_people()
    forger.with_work(rows[4][0].rows[3:], rows[6][0].rows[1:])
    put(place, forger.envelopes)
    old = {person.id: Pen(person).public_key.hex() for person in (KEEP, MECH, INSP, AUTH)}
    old["MECH"] = shop.pens["MECH"].public_key.hex()
    past_guards(
        place,
        *(
            f"UPDATE person_key SET public_key = '{forger.pens[person].public_key.hex()}' WHERE public_key = '{key}'"  # noqa: S608
            for person, key in old.items()
        ),
    )
    assert checked(place).is_sound  # inside itself it is: that is what the paper is for
    assert not checked(place, shop.envelopes[-1].digest[:16]).is_sound


def test_that_a_list_that_is_not_there_is_said_once(place: Path) -> None:
    empty = f"The list of records is empty. {REMAKE}."
    past_guards(place, "DELETE FROM record_line")
    assert sentences(checked(place)) == [empty]
    past_guards(place, "DROP TABLE record_line")
    gone = "The file itself is damaged: record_line: this part was changed or taken out."
    assert sentences(checked(place)) == [gone, empty]


def test_that_records_cut_off_with_their_lines_show_on_the_orders(place: Path) -> None:
    past_guards(place, "DELETE FROM envelope WHERE number > 4", "DELETE FROM record_line WHERE number > 4")
    found = sentences(checked(place))
    assert "Order 1 is kept as approved, and no record says who signed that." in found
    assert "Card 1 of order 1 is kept as accepted, and no record says who signed that." in found
