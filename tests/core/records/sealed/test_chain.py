"""The walk over a shop's records: whatever was changed is said, with the name of the record."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from functools import cache

import pytest

from desktop.core.records.keys.enrolment import person_section, signer_of
from desktop.core.records.record import Record, RecordKind, Row, Section
from desktop.core.records.sealed import chain
from desktop.core.records.sealed.canonical import NotARecord, canonical_bytes
from desktop.core.records.sealed.chain import ChainWalk, check_chain
from desktop.core.records.sealed.envelope import Envelope, head_of, seal_of
from desktop.core.records.sealed.record_line import RecordLine, corrections_of, line_in, line_of, record_name
from desktop.core.records.sealed.stored import StoredRow, stored_row
from desktop.core.records.subjects import order_subject, tool_subject
from desktop.core.shop.people.people import Right
from tests.core.records.pens import (
    AUTH,
    GONE,
    INSP,
    KEEP,
    MEANING,
    MECH,
    SHOP_ID,
    Pen,
    RealVerifier,
    SignedShop,
    TrustingVerifier,
)

REAL = RealVerifier()


def walked(shop: SignedShop) -> ChainWalk:
    return check_chain(shop.rows, SHOP_ID, REAL)


def said(walk: ChainWalk) -> list[tuple[int, str]]:
    return [(problem.number, problem.sentence) for problem in walk.problems]


def lines_of(shop: SignedShop) -> dict[int, RecordLine]:
    pairs = zip(shop.envelopes, shop.records, strict=True)
    return {envelope.number: line_of(envelope, record) for envelope, record in pairs}


def test_that_a_sound_chain_has_no_problem() -> None:
    shop = SignedShop().with_people().with_work()
    walk = check_chain(shop.rows, SHOP_ID, REAL, lines_of(shop))
    assert (said(walk), walk.notes, walk.count) == ([], [], 14)
    assert walk.head == shop.envelopes[-1].digest
    assert list(walk.seals) == [head_of(SHOP_ID, None), *(one.digest for one in shop.envelopes)]


def test_that_a_shop_without_records_has_a_seal_of_its_own() -> None:
    walk = check_chain((), SHOP_ID, REAL)
    assert (walk.problems, walk.count, walk.head) == ([], 0, head_of(SHOP_ID, None))
    assert walk.head != head_of("another", None)


class Remembering:
    """The same answers, asked once."""

    def __init__(self) -> None:
        self.verify: Callable[[bytes, bytes, bytes], bool] = cache(REAL.verify)


class Agrees(str):
    """A seal that fits everything: the check of the seal taken out."""

    __slots__ = ()
    __hash__ = str.__hash__

    def __ne__(self, _other: object) -> bool:
        return False


def flips(rows: list[StoredRow]) -> list[tuple[str, list[StoredRow]]]:
    """Return the rows with each bit of each column of each row flipped, in the order of their numbers."""
    found = []
    for place, row in enumerate(rows):
        for bit in range(63):
            changed = [*rows[:place], replace(row, number=row.number ^ (1 << bit)), *rows[place + 1 :]]
            if len({one.number for one in changed}) == len(rows):  # the key of the table takes no number twice
                found.append((f"{place} number {bit}", sorted(changed, key=lambda one: one.number)))
        for column in ("kind", "content", "previous", "digest", "signatures"):
            held: bytes = getattr(row, column)
            for bit in range(len(held) * 8):
                flipped = bytearray(held)
                flipped[bit // 8] ^= 1 << bit % 8
                one = replace(row, **{column: bytes(flipped)})  # type: ignore[arg-type]
                found.append((f"{place} {column} {bit}", [*rows[:place], one, *rows[place + 1 :]]))
    return found


def small() -> SignedShop:
    shop = SignedShop()
    shop.enrol(KEEP, "KEEP")
    shop.sign(RecordKind.TOOL_RECORD, tool_subject("W-3"), "KEEP")
    return shop


def unnoticed(rows: list[StoredRow], verifies: Remembering | TrustingVerifier, step: int = 1) -> list[str]:
    return [what for what, changed in flips(rows)[::step] if not check_chain(changed, SHOP_ID, verifies).problems]


def test_that_every_flipped_bit_of_every_column_is_noticed() -> None:
    rows = small().rows
    assert len(flips(rows)) > 15_000
    assert unnoticed(rows, Remembering()) == []


def test_that_flipped_bits_pass_when_the_checks_are_taken_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(chain, "seal_of", lambda *_: Agrees("x"))
    passed = {what.split(" ")[1] for what in unnoticed(small().rows, TrustingVerifier(), 7)}
    assert passed == {"content", "digest", "signatures"}


def resealed(envelope: Envelope, **change: object) -> Envelope:
    """Return a record changed and its own seal made again, as somebody with the program's text could."""
    one = replace(envelope, **change)  # type: ignore[arg-type]
    return replace(one, digest=seal_of(one.number, one.kind, one.content, one.previous, one.signatures))


def rechained(envelopes: list[Envelope]) -> list[Envelope]:
    """Return all records numbered and sealed again from the first, without anybody's key."""
    made: list[Envelope] = []
    for place, one in enumerate(envelopes, 1):
        made.append(resealed(one, number=place, previous=head_of(SHOP_ID, made[-1] if made else None)))
    return made


def with_limit(shop: SignedShop, number: int, limit: str) -> bytes:
    return canonical_bytes(
        replace(shop.records[number - 1], sections=(Section("Readings", (Row("Limits", limit),)),)),
    )


def problems_of(shop: SignedShop, envelopes: list[Envelope], *, listed: bool = True) -> list[tuple[int, str]]:
    rows = sorted(map(stored_row, envelopes), key=lambda row: row.number)
    return said(check_chain(rows, SHOP_ID, REAL, lines_of(shop) if listed else None))


def test_that_a_changed_limit_with_its_seal_made_again_is_no_signature() -> None:
    shop = SignedShop().with_people().with_work()
    all_ = shop.envelopes
    changed = resealed(all_[4], content=with_limit(shop, 5, "20 to 30"))
    found = problems_of(shop, [*all_[:4], changed, *all_[5:]])
    name = "Record 5, card submitted, order 1 card 1, signed Mel Chan"
    assert (5, f"{name}, does not bear the signature of Mel Chan: what stands here is not what was signed.") in found
    follows = "does not follow the record before it: one of the two was changed, moved or made again."
    assert any(number == 6 and sentence.endswith(follows) for number, sentence in found)
    # All of it made again: only the signatures tell, and they tell of each.
    found = problems_of(shop, rechained([*all_[:4], changed, *all_[5:]]))
    assert {number for number, sentence in found if "does not bear the signature" in sentence} == set(range(5, 15))
    rows = [stored_row(one) for one in rechained([*all_[:4], changed])]
    assert said(check_chain(rows, SHOP_ID, TrustingVerifier())) == []


@pytest.mark.parametrize("gone", [1, 7, 14])
def test_that_a_missing_record_is_named_from_the_list(gone: int) -> None:
    shop = SignedShop().with_people().with_work()
    left = [one for one in shop.envelopes if one.number != gone]
    name = record_name(gone, lines_of(shop)[gone].names)
    assert (gone, f"{name}, is missing: it was taken out of the file, or the file was cut.") in problems_of(shop, left)
    without = problems_of(shop, left, listed=False)
    told = (gone, f"Record {gone} is missing from the file, and nothing names what was signed.")
    assert (told in without) == (gone != 14)
    # Numbered and sealed again, it still does not fit what was signed.
    if gone != 14:
        assert problems_of(shop, rechained(left), listed=False)


def test_that_many_missing_records_are_said_together() -> None:
    shop = SignedShop().with_people().with_work()
    found = problems_of(shop, [shop.envelopes[0], shop.envelopes[-1]], listed=False)
    assert (2, "Of the records 2 to 13, 12 are missing from the file, and nothing names what was signed.") in found


def test_that_swapped_records_are_both_named() -> None:
    shop = SignedShop().with_people().with_work()
    all_ = list(shop.envelopes)
    all_[4], all_[5] = replace(all_[5], number=5), replace(all_[4], number=6)
    found = [number for number, sentence in problems_of(shop, all_) if "does not fit its record seal" in sentence]
    assert found == [5, 6]


@pytest.mark.parametrize("number", [0, -3, 5])
def test_that_a_record_put_in_is_named(number: int) -> None:
    shop = SignedShop().with_people().with_work()
    found = problems_of(shop, [replace(shop.envelopes[4], number=number), *shop.envelopes])
    assert any(one == number and "was put in: records count from 1, each number once" in words for one, words in found)


def test_that_a_signature_moved_to_another_record_is_none() -> None:
    shop = SignedShop().with_people().with_work()
    shop.submit(3)
    moved = resealed(shop.envelopes[14], signatures=shop.envelopes[9].signatures)
    found = problems_of(shop, [*shop.envelopes[:14], moved])
    assert [number for number, words in found if "does not bear the signature of Mel Chan" in words] == [15]


def test_that_the_meaning_of_a_signature_is_bound() -> None:
    shop = SignedShop().with_people().with_work()
    one = shop.envelopes[4]
    weaker = resealed(one, signatures=(replace(one.signatures[0], meaning="I looked at it."),))
    assert any(
        number == 5 and "is not signed by the people whom it names" in words
        for number, words in problems_of(shop, [*shop.envelopes[:4], weaker, *shop.envelopes[5:]])
    )


def test_that_a_kind_that_is_not_the_one_signed_is_said() -> None:
    shop = SignedShop().with_people().with_work()
    other = resealed(shop.envelopes[10], kind="card accepted")
    found = problems_of(shop, [*shop.envelopes[:10], other, *shop.envelopes[11:]])
    assert any('is kept as "card accepted" and was signed as something else' in words for _, words in found)


@pytest.mark.parametrize("column", ["kind", "content", "previous", "digest", "signatures"])
def test_that_what_cannot_be_read_is_named_from_the_list(column: str) -> None:
    shop = SignedShop().with_people().with_work()
    rows = shop.rows
    rows[4] = replace(rows[4], **{column: b"\xff"})  # type: ignore[arg-type]
    walk = check_chain(rows, SHOP_ID, REAL, lines_of(shop))
    first = next(problem for problem in walk.problems if problem.number == 5)
    assert first.names == ("card submitted", "order 1 card 1", "Mel Chan")
    assert first.sentence.startswith("Record 5, card submitted, order 1 card 1, signed Mel Chan, cannot be read")


def test_that_old_signatures_stand_with_the_name_and_rights_of_their_time() -> None:
    shop = SignedShop().with_people()
    shop.submit()
    better = replace(MECH, name="Mel Chan-Grand", rights=(Right.AUTHORISED,))
    shop.sign(RecordKind.PERSON_ENROLLED, "person MECH", "KEEP", sections=(person_section(better),))
    shop.pens["MECH"].person = better
    shop.sign(RecordKind.NOT_APPROVED, order_subject(1), "MECH")
    assert said(walked(shop)) == []
    assert walked(shop).book.standing("MECH", 6) == walked(shop).book.standing("MECH", 3)
    shop.submit(2)
    assert [number for number, words in said(walked(shop)) if "the right of mechanic" in words] == [8]


def test_that_somebody_who_comes_back_gets_a_new_key() -> None:
    shop = SignedShop().with_people()
    shop.sign(RecordKind.PERSON_WITHDRAWN, "person INSP", "KEEP", sections=(person_section(GONE),))
    shop.pens["INSP"] = Pen(INSP, "again")
    shop.enrol(INSP, "KEEP", "INSP")
    shop.submit()
    shop.sign(RecordKind.CARD_ACCEPTED, order_subject(1, 1), "INSP", about=(7,))
    assert said(walked(shop)) == []
    assert [one.person.id for one in walked(shop).book.people()] == ["AUTH", "INSP", "KEEP", "MECH"]


def test_that_a_clock_that_went_back_is_a_note() -> None:
    shop = SignedShop().with_people()
    shop.now -= timedelta(days=1)
    shop.submit()
    walk = walked(shop)
    assert said(walk) == []
    [note] = walk.notes
    assert note.sentence == (
        "Record 5, card submitted, order 1 card 1, signed Mel Chan: the clock went back, "
        "from 2031-03-04T09:28:00+01:00 to 2031-03-03T09:35:00+01:00."
    )


def test_that_a_chain_of_other_keys_has_another_seal() -> None:
    # Whoever holds the file can make everything again with keys of their own: only a paper's seal tells.
    real, forged = SignedShop().with_people().with_work(), SignedShop()
    forged.pens = {person.id: Pen(person, "forger") for person in (KEEP, MECH, INSP, AUTH)}
    forged.with_people().with_work()
    walk = walked(forged)
    assert said(walk) == []
    assert real.envelopes[-1].digest not in walk.seals


def test_that_everybody_who_signs_has_signed_before_it_is_sealed() -> None:
    shop = SignedShop().with_people()
    with pytest.raises(ValueError, match="not those of the people"):
        shop.sign(RecordKind.TOOL_RECORD, "tool W-3", "KEEP", change=_with_auth)


def _with_auth(record: Record) -> Record:
    return replace(record, countersigners=(signer_of(AUTH, MEANING),))


def test_that_a_line_from_the_bytes_is_the_line_of_the_record() -> None:
    shop = SignedShop().with_people().with_work()
    for envelope, record in zip(shop.envelopes, shop.records, strict=True):
        assert line_in(envelope) == line_of(envelope, record)


@pytest.mark.parametrize("content", [b"", b"x", b"3:abc,", b"2:[],", b'11:{"subject":,', b'13:{"subject":1},'])
def test_that_bytes_of_no_record_have_no_line(content: bytes) -> None:
    envelope = replace(SignedShop().with_people().envelopes[0], content=content)
    with pytest.raises(NotARecord):
        line_in(envelope)


def test_that_corrections_of_corrections_belong_to_the_first_record() -> None:
    shop = SignedShop().with_people()
    shop.submit()
    for about in (5, 6, 5, 4):
        shop.sign(RecordKind.CORRECTION, order_subject(1, 1), "MECH", about=(about,))
    lines = [line_of(envelope, record) for envelope, record in zip(shop.envelopes, shop.records, strict=True)]
    assert corrections_of(5, lines) == (6, 7, 8)
    assert corrections_of(6, lines) == (7,)
    assert corrections_of(1, lines) == ()
