"""A key opens with its secret and with nothing else, and not after any of its parts was changed."""

from dataclasses import replace

import pytest

from desktop.core.errors import Refusal
from desktop.signing import Ed25519Verifier, KeyMaker
from desktop.usecases.records.keys.people_ports import FOR_DEMO, Strength, WrappedKey, WrongSecret

PHRASE = "tansy ladder 7 oboe"
MAKER, VERIFIER = KeyMaker(), Ed25519Verifier()
KEY = MAKER.new_key("MECH", PHRASE, FOR_DEMO)


def flipped(data: bytes, bit: int) -> bytes:
    """One bit of it changed."""
    changed = bytearray(data)
    changed[bit // 8] ^= 1 << bit % 8
    return bytes(changed)


def test_that_a_key_signs_with_its_secret_and_the_signature_is_of_that_message() -> None:
    key = MAKER.open_key(KEY, PHRASE)
    signature = key.sign(b"what was done")
    assert key.public_key == KEY.public_key
    assert VERIFIER.verify(KEY.public_key, b"what was done", signature)
    assert not VERIFIER.verify(KEY.public_key, b"what was not done", signature)


def test_that_a_signature_pasted_under_another_key_is_noticed() -> None:
    other = MAKER.new_key("INSP", PHRASE, FOR_DEMO)
    signature = MAKER.open_key(KEY, PHRASE).sign(b"what was done")
    assert not VERIFIER.verify(other.public_key, b"what was done", signature)
    assert VERIFIER.verify(KEY.public_key, b"what was done", signature)


def test_that_every_flipped_bit_of_a_signature_or_a_public_key_is_noticed() -> None:
    signature = MAKER.open_key(KEY, PHRASE).sign(b"x")
    assert not any(VERIFIER.verify(KEY.public_key, b"x", flipped(signature, bit)) for bit in range(512))
    assert not any(VERIFIER.verify(flipped(KEY.public_key, bit), b"x", signature) for bit in range(256))


@pytest.mark.parametrize("length", [0, 31, 33, 63, 65])
def test_that_bytes_of_another_length_are_no_key_and_no_signature(length: int) -> None:
    signature = MAKER.open_key(KEY, PHRASE).sign(b"x")
    assert not VERIFIER.verify(bytes(length), b"x", signature)
    assert not VERIFIER.verify(KEY.public_key, b"x", (signature + b"0")[:length])


@pytest.mark.parametrize("sign", [0, 0x80])
def test_that_a_key_whose_signature_fits_every_message_is_none(sign: int) -> None:
    # The neutral point: R = S = 0 there "signs" everything, and the library says yes.
    public = bytes([1, *bytes(30), sign])
    assert not VERIFIER.verify(public, b"anything", bytes([1, *bytes(63)]))


@pytest.mark.parametrize("secret", ["", "tansy ladder 7 obo", "Tansy ladder 7 oboe", "tansy ladder 7 oboe ", "\ud800"])
def test_that_another_secret_opens_nothing_and_is_not_repeated(secret: str) -> None:
    with pytest.raises(WrongSecret) as caught:
        MAKER.open_key(KEY, secret)
    assert str(caught.value) == ""
    assert caught.value.__context__ is None or PHRASE not in repr(caught.value.__context__)


def test_that_a_composed_and_a_decomposed_sign_are_one_secret() -> None:
    key = MAKER.new_key("MECH", "Zw\u00f6lf Eulen", FOR_DEMO)
    assert MAKER.open_key(key, "Zwo\u0308lf Eulen").public_key == key.public_key


@pytest.mark.parametrize(
    "changed",
    [
        replace(KEY, person="INSP"),
        replace(KEY, public_key=flipped(KEY.public_key, 0)),
        replace(KEY, wrapped=flipped(KEY.wrapped, 0)),
        replace(KEY, wrapped=flipped(KEY.wrapped, 383)),
        replace(KEY, salt=flipped(KEY.salt, 0)),
        replace(KEY, nonce=flipped(KEY.nonce, 0)),
        replace(KEY, strength=Strength(19 * 1024, 3, 1)),
        replace(KEY, strength=Strength(19 * 1024, 2, 2)),
        replace(KEY, strength=Strength(20 * 1024, 2, 1)),
    ],
)
def test_that_a_changed_key_is_not_opened(changed: WrappedKey) -> None:
    with pytest.raises(WrongSecret):
        MAKER.open_key(changed, PHRASE)
    assert MAKER.open_key(KEY, PHRASE).public_key == KEY.public_key


def test_that_parameters_are_bound_even_where_they_would_make_the_same_key(monkeypatch: pytest.MonkeyPatch) -> None:
    # With the stretching taken away only the seal's own cover is left to notice it.
    monkeypatch.setattr("desktop.signing.stretched", lambda *_: bytes(32))
    key = MAKER.new_key("MECH", PHRASE, FOR_DEMO)
    assert MAKER.open_key(key, PHRASE).public_key == key.public_key
    for changed in (
        replace(key, person="INSP"),
        replace(key, salt=bytes(16)),
        replace(key, strength=Strength(20 * 1024, 2, 1)),
    ):
        with pytest.raises(WrongSecret):
            MAKER.open_key(changed, PHRASE)


@pytest.mark.parametrize(
    ("memory", "passes", "lanes"),
    [
        (19 * 1024 - 1, 2, 1),
        (256 * 1024 + 1, 2, 1),
        (19 * 1024, 1, 1),
        (19 * 1024, 11, 1),
        (19 * 1024, 2, 0),
        (19 * 1024, 2, 17),
        (2**32, 2**32, 2**24),
    ],
)
def test_that_a_strength_that_would_take_the_machine_down_or_is_too_little_cannot_be_built(
    memory: int, passes: int, lanes: int
) -> None:
    with pytest.raises(ValueError, match="outside its limits"):
        Strength(memory, passes, lanes)


@pytest.mark.parametrize("place", range(4))
def test_that_a_key_with_a_part_of_another_length_cannot_be_built(place: int) -> None:
    parts = [KEY.public_key, KEY.wrapped, KEY.salt, KEY.nonce]
    parts[place] = parts[place][1:]
    public, wrapped, salt, nonce = parts
    with pytest.raises(ValueError, match="another length"):
        WrappedKey("MECH", public, wrapped, salt, nonce, FOR_DEMO)


def test_that_a_closed_key_signs_nothing_more() -> None:
    key = MAKER.open_key(KEY, PHRASE)
    key.close()
    with pytest.raises(ValueError, match="closed"):
        key.sign(b"x")


def test_that_two_keys_of_one_secret_have_nothing_in_common() -> None:
    other = MAKER.new_key("MECH", PHRASE, FOR_DEMO)
    parts = [{getattr(KEY, name), getattr(other, name)} for name in ("public_key", "wrapped", "salt", "nonce")]
    assert all(len(both) == 2 for both in parts)


def test_that_a_machine_without_memory_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    def none_left(*_: object) -> bytes:
        raise MemoryError

    class Starved:
        def __init__(self, **_: object) -> None:
            pass

        derive = none_left

    monkeypatch.setattr("desktop.signing.Argon2id", Starved)
    with pytest.raises(Refusal, match="no memory left"):
        MAKER.open_key(KEY, PHRASE)
