"""One bit of a byte of the file is wrong: no record is given differently without a warning.

300 bytes by default, spread over the file; with ``SPARKWRIGHT_BYTES=20000`` in the environment 20,000.
"""

import os
import random
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import Envelope
from desktop.storage.records import record_store
from desktop.storage.shop_check import shop_to_check
from desktop.usecases.records.checking.verify import verify_shop
from tests.core.records.pens import RealVerifier, SignedShop
from tests.storage.file_floor import TEXT, opened
from tests.storage.signed_file import signed_file

BYTES = int(os.environ.get("SPARKWRIGHT_BYTES", "300"))


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


def flipped(data: bytes, places: list[tuple[int, int]]) -> list[bytes]:
    found = []
    for at, bit in places:
        changed = bytearray(data)
        changed[at] ^= 1 << bit
        found.append(bytes(changed))
    return found


def test_that_a_wrong_bit_never_gives_another_record(signed: tuple[Path, SignedShop], tmp_path: Path) -> None:
    place, shop = signed
    data, work = place.read_bytes(), tmp_path / "work.shop"
    dice = random.Random(20310304)  # noqa: S311 - places, not secrets
    places = [(at, dice.randrange(8)) for at in dice.sample(range(len(data)), min(BYTES, len(data)))]
    warnings = 0
    for changed, at in zip(flipped(data, places), places, strict=True):
        work.write_bytes(changed)
        is_warned = warned_by_check(work)
        warnings += is_warned
        given = shown(work)
        # Less of them, or other ones, are never given by a file that the check calls sound; one that was changed never.
        assert given is None or set(given) <= set(shop.envelopes), at
        assert is_warned or given == shop.envelopes, at
    assert warnings > len(places) // 20, "hardly a bit was noticed: they proved too little"


def test_that_a_wrong_bit_would_be_given_without_the_seal(
    signed: tuple[Path, SignedShop], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place, shop = signed
    data, work = place.read_bytes(), tmp_path / "work.shop"
    at = data.index("24.5° BTDC".encode()) + 3
    work.write_bytes(flipped(data, [(at, 0)])[0])
    assert shown(work) is None
    assert warned_by_check(work)
    monkeypatch.setattr(record_store, "_seal", lambda envelope: envelope.digest)
    given = shown(work)
    assert given is not None
    assert given != shop.envelopes
