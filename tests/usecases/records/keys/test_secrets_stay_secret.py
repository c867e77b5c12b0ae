"""A secret stands nowhere: not in the file, on the machine, in a log, in the text of a value or of an exception."""

import base64
import logging
import traceback
import unicodedata
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.signing import KeyMaker, OpenEd25519Key
from desktop.usecases.records.keys.in_your_name import signed_in_your_name_since
from desktop.usecases.records.keys.people import enrol_again, enrol_person, replace_key, withdraw_person
from desktop.usecases.records.keys.people_ports import Strength, WrappedKey
from desktop.usecases.records.keys.people_records import declaration_of
from desktop.usecases.records.keys.secrets import hand_of, key_events, key_state, unlock_key
from tests.usecases.records.signing_floor import OTHER_PHRASE, PHRASES, WRONG, SigningFloor, made_floor

EVERY = (*PHRASES.values(), OTHER_PHRASE, WRONG)


class Witness:
    """Keeps everything that was said and returned, as text, and looks for secrets in it."""

    def __init__(self, *folders: Path) -> None:
        self.folders = folders
        self.said: list[str] = []

    def keep(self, value: object) -> None:
        """Keep a value's texts, and those of what it holds."""
        self.said += [repr(value), str(value)]
        if is_dataclass(value) and not isinstance(value, type):
            for one in fields(value):
                self.keep(getattr(value, one.name))

    def refused(self, ask: Callable[[], object]) -> None:
        """Keep everything that an exception says, with the chain behind it."""
        with pytest.raises(Refusal) as caught:
            ask()
        self.said.append("".join(traceback.format_exception(caught.value)))
        error: BaseException | None = caught.value
        while error is not None:
            self.said += [repr(error), str(error), repr(error.args), repr(vars(error))]
            error = error.__cause__ or error.__context__

    def found(self) -> set[str]:
        """Return which secrets stand somewhere."""
        places = [place for folder in self.folders for place in folder.rglob("*") if place.is_file()]
        data = b"\0".join([*(place.read_bytes() for place in places), *(text.encode() for text in self.said)])
        return {secret for secret in EVERY if any(form in data for form in forms_of(secret))}


def forms_of(secret: str) -> set[bytes]:
    """Return the bytes by which a secret would be found."""
    forms = set()
    for text in {unicodedata.normalize(form, secret) for form in ("NFC", "NFD")}:
        for data in (text.encode(), text.encode("utf-16-le"), text.casefold().encode(), repr(text).encode()[1:-1]):
            forms |= {data, data.hex().encode(), base64.b64encode(data).rstrip(b"=")}
    return forms


def all_verbs(floor: SigningFloor, witness: Witness) -> None:
    """Do everything that takes a secret, right and wrong."""
    desk, keep = floor.desk, PHRASES["KEEP"]
    witness.keep(enrol_person(desk, floor.by("KEEP"), "KEEP", keep))
    for person in ("ROLF", "MECH"):
        witness.keep(enrol_person(desk, floor.by("KEEP"), person, PHRASES[person], keep))
        envelope = floor.file.last_envelope()
        assert envelope is not None
        witness.keep(declaration_of(envelope))
    witness.refused(lambda: enrol_person(desk, floor.by("KEEP"), "DESK", PHRASES["MECH"] * 20, keep))
    witness.refused(lambda: enrol_person(desk, floor.by("KEEP"), "DESK", f"{WRONG}\u200b", keep))
    witness.keep(floor.sign())
    hand = floor.hand("MECH")
    witness.keep(hand)
    witness.said.append(repr(vars(hand.key)))
    for _ in range(10):
        witness.refused(lambda: hand_of(desk, "ROLF", WRONG))
        witness.refused(lambda: hand_of(desk, "ROLF", WRONG))
        floor.clock.move(600)
    witness.refused(lambda: hand_of(desk, "ROLF", WRONG * 20))
    witness.keep(unlock_key(desk, floor.by("KEEP"), "ROLF", keep))
    witness.keep(replace_key(desk, floor.by("KEEP"), "MECH", OTHER_PHRASE, keep))
    floor.change("MECH", ratings="all")
    witness.keep(enrol_again(desk, floor.by("ROLF"), "MECH", PHRASES["ROLF"]))
    witness.keep(withdraw_person(desk, floor.by("ROLF"), "MECH", "left", PHRASES["ROLF"]))
    witness.refused(lambda: hand_of(desk, "MECH", OTHER_PHRASE))
    for value in (key_state(desk, "KEEP"), key_events(desk), signed_in_your_name_since(desk, "MECH", 0), desk):
        witness.keep(value)
    with floor.file.changing() as work:
        witness.keep(desk.keys.within(work).key("KEEP"))


def everything(floor: SigningFloor, folders: tuple[Path, ...], caplog: pytest.LogCaptureFixture) -> set[str]:
    """Do everything and return which secrets stand somewhere afterwards."""
    caplog.set_level(logging.DEBUG)
    witness = Witness(*folders)
    all_verbs(floor, witness)
    floor.file.close()
    witness.said.append(caplog.text)
    return witness.found()


def test_that_no_secret_stands_anywhere_after_everything_was_done(
    tmp_path: Path, state: Path, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    floor = made_floor(tmp_path / "new.shop", state)
    assert everything(floor, (tmp_path, state), caplog) == set()
    said = "".join(capfd.readouterr())
    assert not any(secret in said for secret in EVERY)


class LoggingMaker(KeyMaker):
    """Writes a secret into the log."""

    def new_key(self, person: str, secret: str, strength: Strength) -> WrappedKey:
        logging.getLogger("leak").debug("new key for %s: %s", person, secret)
        return super().new_key(person, secret, strength)


class SpeakingMaker(KeyMaker):
    """Says a wrong secret in an exception."""

    def open_key(self, key: WrappedKey, secret: str) -> OpenEd25519Key:
        if secret == WRONG:
            raise Refusal(f"{secret} is wrong.")
        return super().open_key(key, secret)


@pytest.mark.parametrize("maker", [LoggingMaker, SpeakingMaker])
def test_that_a_secret_that_leaks_is_found(
    tmp_path: Path, state: Path, caplog: pytest.LogCaptureFixture, maker: type[KeyMaker]
) -> None:
    # The control of the test above: a desk that leaks.
    floor = made_floor(tmp_path / "new.shop", state)
    floor.desk = replace(floor.desk, locksmith=maker())
    witness = Witness(tmp_path)
    caplog.set_level(logging.DEBUG)
    witness.keep(enrol_person(floor.desk, floor.by("KEEP"), "KEEP", PHRASES["KEEP"]))
    witness.refused(lambda: hand_of(floor.desk, "KEEP", WRONG))
    witness.said.append(caplog.text)
    floor.file.close()
    assert witness.found() == ({PHRASES["KEEP"]} if maker is LoggingMaker else {WRONG})


def test_that_a_secret_in_the_file_or_on_the_machine_is_found(tmp_path: Path) -> None:
    # The control for bytes: each form of one secret, in a file of its own.
    for number, form in enumerate(sorted(forms_of(PHRASES["MECH"]))):
        folder = tmp_path / str(number)
        folder.mkdir()
        (folder / "some.file").write_bytes(b"before" + form + b"behind")
        assert Witness(folder).found() == {PHRASES["MECH"]}
