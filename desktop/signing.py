"""Keys and signatures: the only room that holds the library for them.

Signatures are Ed25519 (RFC 8032). A private key is sealed with ChaCha20-Poly1305 (RFC 8439) under a key that Argon2id
(RFC 9106) makes of the person's secret.
"""

import os
from collections.abc import Callable

from cryptography.exceptions import InvalidSignature, InvalidTag
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id

from desktop.core.errors import Refusal
from desktop.core.shop.people.secrets import secret_bytes
from desktop.usecases.records.keys.people_ports import Strength, WrappedKey, WrongSecret

_KEY_BYTES, _SALT_BYTES, _NONCE_BYTES = 32, 16, 12
_PURPOSE = b"sparkwright signing key 1"
_SIGN_BIT = 1 << 255
_PRIME = 2**255 - 19
# The points of small order have these y; their "signatures" fit every message. RFC 8032 leaves refusing them open.
_SMALL_ORDER = {
    0,
    1,
    _PRIME - 1,
    _PRIME,
    _PRIME + 1,
    int.from_bytes(bytes.fromhex("26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05"), "little"),
    int.from_bytes(bytes.fromhex("c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a"), "little"),
}


class Ed25519Verifier:
    """Tells whether a signature is of a message and a key."""

    def verify(self, public_key: bytes, message: bytes, signature: bytes) -> bool:
        """Tell whether it is; False too for bytes that are no key or no signature, and for a key that fits all."""
        if len(public_key) != _KEY_BYTES or int.from_bytes(public_key, "little") % _SIGN_BIT in _SMALL_ORDER:
            return False
        try:
            Ed25519PublicKey.from_public_bytes(public_key).verify(signature, message)
        except (InvalidSignature, ValueError):
            return False
        return True


class OpenEd25519Key:
    """A private key in memory, until it is closed."""

    def __init__(self, key: Ed25519PrivateKey) -> None:
        self._key: Ed25519PrivateKey | None = key
        self._public = key.public_key().public_bytes_raw()

    @property
    def public_key(self) -> bytes:
        """The 32 bytes of the public key."""
        return self._public

    def sign(self, message: bytes) -> bytes:
        """Return the signature of a message, 64 bytes. Raise ValueError once the key is closed."""
        if self._key is None:
            raise ValueError("this key is closed: the secret is asked for again")
        return self._key.sign(message)

    def close(self) -> None:
        """Forget the key."""
        self._key = None


class KeyMaker:
    """Makes keys and opens them. ``chance`` gives so many bytes that nobody can foretell."""

    def __init__(self, chance: Callable[[int], bytes] = os.urandom) -> None:
        self._chance = chance

    def new_key(self, person: str, secret: str, strength: Strength) -> WrappedKey:
        """Return a new key of a person, sealed under a secret. Raise Refusal when the machine has no memory left."""
        raw, salt, nonce = (self._chance(size) for size in (_KEY_BYTES, _SALT_BYTES, _NONCE_BYTES))
        public = Ed25519PrivateKey.from_private_bytes(raw).public_key().public_bytes_raw()
        lid = ChaCha20Poly1305(stretched(secret_bytes(secret), salt, strength))
        wrapped = lid.encrypt(nonce, raw, _bound(person, public, salt, strength))
        return WrappedKey(person, public, wrapped, salt, nonce, strength)

    def open_key(self, key: WrappedKey, secret: str) -> OpenEd25519Key:
        """Open a key. Raise WrongSecret when the secret is another or anything of the key was changed.

        Raise Refusal when the machine has no memory left.
        """
        lid = ChaCha20Poly1305(stretched(secret_bytes(secret), key.salt, key.strength))
        try:
            raw = lid.decrypt(key.nonce, key.wrapped, _bound(key.person, key.public_key, key.salt, key.strength))
        except InvalidTag:
            raise WrongSecret from None
        return OpenEd25519Key(Ed25519PrivateKey.from_private_bytes(raw))


def stretched(secret: bytes, salt: bytes, strength: Strength) -> bytes:
    """Return the 32 bytes that Argon2id makes of a secret. Raise Refusal when the machine has no memory left."""
    try:
        return Argon2id(
            salt=salt,
            length=_KEY_BYTES,
            iterations=strength.passes,
            lanes=strength.lanes,
            memory_cost=strength.memory,
        ).derive(secret)
    except MemoryError:
        raise Refusal("The machine has no memory left for a signature. Close something and sign again.") from None


def _bound(person: str, public_key: bytes, salt: bytes, strength: Strength) -> bytes:
    """Return what the seal covers besides the key: whose it is, its public half, and how it was sealed."""
    numbers = (strength.memory, strength.passes, strength.lanes)
    parts = (_PURPOSE, person.encode("utf-8"), public_key, salt, *(str(number).encode() for number in numbers))
    return b"".join(len(part).to_bytes(4, "big") + part for part in parts)
