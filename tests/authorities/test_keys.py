"""The signature and the stretching of a secret, against published vectors."""

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id

from desktop.signing import Ed25519Verifier, OpenEd25519Key, stretched
from desktop.usecases.records.keys.people_ports import FOR_DEMO, FOR_PEOPLE, Strength

# RFC 8032, section 7.1: secret key, public key, message, signature of TEST 1, TEST 2 and TEST 3.
RFC_8032 = [
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        (
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24"
            "655141438e7a100b"
        ),
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        (
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aee"
            "b00d291612bb0c00"
        ),
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        (
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28d"
            "c027beceea1ec40a"
        ),
    ),
]


@pytest.mark.parametrize(("secret", "public", "message", "signature"), RFC_8032)
def test_that_a_signature_is_that_of_the_standard(secret: str, public: str, message: str, signature: str) -> None:
    key = OpenEd25519Key(Ed25519PrivateKey.from_private_bytes(bytes.fromhex(secret)))
    assert key.public_key.hex() == public
    assert key.sign(bytes.fromhex(message)).hex() == signature
    assert Ed25519Verifier().verify(bytes.fromhex(public), bytes.fromhex(message), bytes.fromhex(signature))
    # The control: one bit of the signature.
    other = bytes([bytes.fromhex(signature)[0] ^ 1, *bytes.fromhex(signature)[1:]])
    assert not Ed25519Verifier().verify(bytes.fromhex(public), bytes.fromhex(message), other)


def test_that_the_library_stretches_a_secret_as_the_standard_does() -> None:
    # RFC 9106, section 5.3: 32 KiB, 3 passes, 4 lanes, with a pepper and associated data.
    found = Argon2id(
        salt=bytes([2]) * 16,
        length=32,
        iterations=3,
        lanes=4,
        memory_cost=32,
        ad=bytes([4]) * 12,
        secret=bytes([3]) * 8,
    ).derive(bytes([1]) * 32)
    assert found.hex() == "0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659"


def test_that_our_parameters_reach_the_library_in_their_places() -> None:
    # The test file of the reference implementation of Argon2, version 0x13, Argon2id (from memory).
    found = stretched(b"password", b"somesalt", Strength(65536, 2, 1))
    assert found.hex() == "09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7"


def test_that_people_and_demo_have_the_strength_that_is_recommended() -> None:
    # RFC 9106, section 4, second recommended option; the OWASP Password Storage Cheat Sheet's minimum.
    assert Strength(memory=2**16, passes=3, lanes=4) == FOR_PEOPLE
    assert Strength(memory=19 * 1024, passes=2, lanes=1) == FOR_DEMO
