"""One bit of a byte of the file is wrong: no record is given differently without a warning.

300 bytes by default, spread over the file; with ``SPARKWRIGHT_BYTES=20000`` in the environment 20,000. For a part of
them what a window, a print and an export show is compared too, and not only what is kept.
"""

import os
import random
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import Envelope
from desktop.files.bad_secrets import bad_choices
from desktop.files.export_text import ExportJson
from desktop.signing import KeyMaker
from desktop.storage.records import walked_rows
from desktop.storage.records.key_store import KeyStore
from desktop.storage.records.record_store import RecordFile
from desktop.storage.shop_check import shop_to_check
from desktop.storage.shop_store import ShopFile
from desktop.usecases.papers.frame import Printing
from desktop.usecases.papers.records.record_paper import record_paper
from desktop.usecases.papers.records.verified import record_numbered, verified_records
from desktop.usecases.records.checking.verify import verify_shop
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.records.signing.see_record import list_records, see_record
from desktop.usecases.shop.ports import Shop
from tests.core.records.pens import RealVerifier, SignedShop
from tests.storage.file_floor import TEXT, opened, sql
from tests.storage.signed_file import signed_file
from tests.usecases.shop.fake_store import FakeClock
from tests.usecases.shop.shop_floor import PAPERWORK, RULEBOOK

BYTES = int(os.environ.get("SPARKWRIGHT_BYTES", "300"))
LOOKED_AT = 4 if BYTES <= 1000 else 10
"""Of so many bytes one is also looked at in a window, on paper and in an export."""
CORRECTED = 5
"""A record that record 8 corrects."""


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, SignedShop]:
    """A closed shop file and the pens of its people."""
    place = tmp_path_factory.mktemp("signed") / "mill.shop"
    return place, signed_file(place)


def warned_by_check(place: Path) -> bool:
    try:
        with shop_to_check(place, TEXT) as file:
            return not verify_shop(file, RealVerifier()).is_sound
    except Refusal:
        return True


def shown(place: Path) -> list[Envelope] | None:
    """Return the records that the program gives; None when it refuses to."""
    try:
        with opened(place) as file:
            given = list(file.envelopes())
            found = [*file.envelopes_about(1), *file.envelopes_about(2)]
    except Refusal:
        return None
    assert set(found) <= set(given)
    return given


def in_window(file: ShopFile) -> object:
    """Return what a window shows: the list, and records with their corrections."""
    shop = Shop(file, FakeClock(), RULEBOOK, PAPERWORK)
    keys = KeyStore(None, file.shop_id)
    desk = SigningDesk(shop, file.shop_id, file.name, keys, KeyMaker(), RealVerifier(), bad_choices())
    seen = [see_record(desk, file, number) for number in (1, CORRECTED, 7)]
    return list_records(file), [(one.lines, [later.lines for later in one.corrections]) for one in seen]


def on_paper(file: ShopFile) -> object:
    """Return the print of a corrected record, as a value."""
    records = file.records()
    listed = {line.number: line for line in records.lines()}
    found = verified_records(records.stored(), file.shop_id, RealVerifier(), listed)
    return record_paper(record_numbered(found, CORRECTED), Printing(""))


def in_export(file: ShopFile) -> object:
    """Return the lines of an export."""
    return [ExportJson().record(row) for row in file.records().stored()]


PLACES: dict[str, Callable[[ShopFile], object]] = {"window": in_window, "paper": on_paper, "export": in_export}


def looked_at(place: Path) -> dict[str, object]:
    """Return what the program shows of a file, in each place; nothing for where it refuses."""
    found: dict[str, object] = {}
    try:
        with opened(place) as file:
            for name, look in PLACES.items():
                with suppress(Refusal):
                    found[name] = look(file)
    except Refusal:
        return {}
    return found


def flipped(data: bytes, places: list[tuple[int, int]]) -> Iterator[bytes]:
    for at, bit in places:
        changed = bytearray(data)
        changed[at] ^= 1 << bit
        yield bytes(changed)


def test_that_a_wrong_bit_never_gives_another_record(signed: tuple[Path, SignedShop], tmp_path: Path) -> None:
    place, shop = signed
    data, work, sound = place.read_bytes(), tmp_path / "work.shop", looked_at(place)
    assert list(sound) == list(PLACES)
    dice = random.Random(20310304)  # noqa: S311 - places, not secrets
    places = [(at, dice.randrange(8)) for at in dice.sample(range(len(data)), min(BYTES, len(data)))]
    warnings = refusals = 0
    for turn, (changed, at) in enumerate(zip(flipped(data, places), places, strict=True)):
        work.write_bytes(changed)
        is_warned = warned_by_check(work)
        warnings += is_warned
        given = shown(work)
        # Less of them, or other ones, are never given by a file that the check calls sound; one that was changed never.
        assert given is None or set(given) <= set(shop.envelopes), at
        assert is_warned or given == shop.envelopes, at
        if turn % LOOKED_AT:
            continue
        seen = looked_at(work)
        refusals += len(sound) - len(seen)
        for name in ("window", "paper"):
            assert name not in seen or seen[name] == sound[name], (at, name)
        # An export has the bytes as they stand: a changed one is taken out with the warning.
        assert is_warned or seen["export"] == sound["export"], at
    assert warnings > len(places) // 20, "hardly a bit was noticed: they proved too little"
    assert refusals > len(places) // (20 * LOOKED_AT), "hardly anything was refused: they proved too little"


@pytest.mark.parametrize(
    "statement", ["DELETE FROM record_about WHERE number = 8", "DELETE FROM record_line WHERE number = 8"]
)
def test_that_a_correction_that_the_list_hides_would_be_seen_to_be_missing(
    signed: tuple[Path, SignedShop], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, statement: str
) -> None:
    place, _ = signed
    work, sound = tmp_path / "work.shop", looked_at(place)
    work.write_bytes(place.read_bytes())
    sql(work, statement)
    assert "window" not in looked_at(work)
    # The control: with a list that is believed, the comparison tells.
    monkeypatch.setattr(RecordFile, "agreed_lines", RecordFile.lines)
    assert looked_at(work)["window"] != sound["window"]


def test_that_a_wrong_bit_would_be_given_without_the_seal(
    signed: tuple[Path, SignedShop], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place, shop = signed
    data, work = place.read_bytes(), tmp_path / "work.shop"
    at = data.index("24.5° BTDC".encode()) + 3
    work.write_bytes(next(flipped(data, [(at, 0)])))
    assert shown(work) is None
    assert warned_by_check(work)
    monkeypatch.setattr(walked_rows, "own_seal", lambda envelope: envelope.digest)
    given = shown(work)
    assert given is not None
    assert given != shop.envelopes
