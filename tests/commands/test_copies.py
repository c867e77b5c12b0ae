"""The commands about copies and the doctor: what they print, and their exit status."""

import io
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from desktop import shop_assembly
from desktop.commands import upkeep
from desktop.commands.upkeep import Progress
from desktop.copy_assembly import fonts_line, version_lines
from desktop.files.bad_secrets import bad_choices
from desktop.signing import Ed25519Verifier, KeyMaker
from desktop.storage.records.key_store import KeyStore
from desktop.storage.shop_store import ShopFile
from desktop.usecases.records.checking.health import Word
from desktop.usecases.records.keys.people import enrol_person
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.shop.ports import Request
from tests.commands.test_commands import Runner, run
from tests.commands.test_shop_commands import order_with, place

__all__ = ["place", "run"]

PHRASE = "heather 9 pontoon"
Types = Callable[[str], None]


@pytest.fixture
def enrolled(place: Path) -> Path:
    """The shop, whose first person is enrolled."""
    with shop_assembly.shop_at(place) as shop:
        store = shop.store
        assert isinstance(store, ShopFile)
        keys, choices = KeyStore(None, store.shop_id), bad_choices()
        desk = SigningDesk(
            shop, store.shop_id, store.name, keys, KeyMaker(), Ed25519Verifier(), choices, strength=FOR_DEMO
        )
        enrol_person(desk, Request(shop_assembly.new_id(), "LO"), "LO", PHRASE)
    return place


@pytest.fixture
def types(monkeypatch: pytest.MonkeyPatch) -> Types:
    def into_the_pipe(text: str) -> None:
        monkeypatch.setattr(sys, "stdin", io.StringIO(text))

    return into_the_pipe


def copy_in(folder: Path) -> Path:
    [found] = folder.glob("*.shop-copy")
    return found


def test_that_back_up_says_where_the_copy_lies_and_what_it_holds(run: Runner, place: Path, tmp_path: Path) -> None:
    order_with(place, "XQ-TBK", None)
    folder = tmp_path / "stick"
    folder.mkdir()
    ran = run("back-up", place, folder)
    assert (ran.status, ran.err) == (0, "")
    copy = copy_in(folder)
    assert copy.name.startswith("Quarry Lane Aero Works 2")
    assert ran.out.startswith(f"Copied to {copy} and read back: 1 order, 0 records, record seal ")
    assert len(ran.out.strip().rstrip(".").rsplit(" ", 1)[1]) == 16
    ran = run("back-up", place, copy)
    assert (ran.status, ran.out) == (2, "")
    assert "nothing is written over" in ran.err


def test_that_restore_puts_a_copy_back_and_keeps_the_present_file(
    run: Runner, enrolled: Path, tmp_path: Path, types: Types
) -> None:
    assert run("back-up", enrolled, tmp_path / "a.copy").status == 0
    order_with(enrolled, "XQ-TBK", None)
    before = enrolled.read_bytes()
    types(f"{PHRASE}\n")
    ran = run("restore", tmp_path / "a.copy", enrolled)
    assert (ran.status, ran.out) == (2, "")
    assert "is older than the present file: it lacks 1 order, 1 change of orders. Say --older" in ran.err
    types("something else\n")
    ran = run("restore", tmp_path / "a.copy", enrolled, "--older", "--by", "LO")
    assert ran.status == 2
    assert "This is not the secret of Lena Ode" in ran.err
    assert enrolled.read_bytes() == before
    types("")
    ran = run("restore", tmp_path / "a.copy", enrolled, "--older")
    assert "none was given" in ran.err
    (tmp_path / "state" / "sparkwright" / "key-tries").rename(tmp_path / "earlier-tries")  # nobody waits in a test
    types(f"{PHRASE}\n")
    ran = run("restore", tmp_path / "a.copy", enrolled, "--older")
    assert (ran.status, ran.err) == (0, "")
    [aside] = tmp_path.glob("*kept aside*")
    assert aside.read_bytes() == before
    assert f"The file before is kept as {aside}." in ran.out
    assert run("orders", enrolled)[:2] == (0, "")
    verified = run("verify", enrolled)
    assert verified.status == 0
    assert run("orders", aside).out.startswith("W-0001")


def test_that_restore_tells_each_sabotage_in_one_line_and_touches_nothing(
    run: Runner, enrolled: Path, tmp_path: Path, types: Types
) -> None:
    copy = tmp_path / "a.copy"
    run("back-up", enrolled, copy)
    whole = copy.read_bytes()
    present = enrolled.read_bytes()
    half = len(whole) // 2
    sabotages = {
        "was changed after it was made": whole[:half] + bytes([whole[half] ^ 4]) + whole[half + 1 :],
        "is cut short": whole[:half],
        "is empty": b"",
        "is half copied": whole[:half] + bytes(len(whole) - half),
        "bears no seal": present,
        "another program wrote it": b"Dear sir, " * 999,
    }
    for said, data in sabotages.items():
        copy.write_bytes(data)
        types(f"{PHRASE}\n")
        ran = run("restore", copy, enrolled)
        assert (ran.status, ran.out) == (2, "")
        assert said in ran.err
        assert ran.err.count("\n") == 1
        assert enrolled.read_bytes() == present
    copy.write_bytes(whole)
    shop_assembly.make_shop(tmp_path / "other.shop", "Fen Lane", "Tom Rill", "TR")
    assert "a copy of another shop" in run("restore", copy, tmp_path / "other.shop").err


def test_that_a_secret_is_asked_for_without_showing_it(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: dict[str, object] = {}

    def prompt(words: str, **how: object) -> str:
        asked.update(how, words=words)
        return PHRASE

    monkeypatch.setattr(sys.stdin, "isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.prompt", prompt)
    assert upkeep.hidden_secret() == PHRASE
    assert asked["hide_input"] is True


def test_that_doctor_tells_how_a_shop_stands(run: Runner, place: Path, tmp_path: Path) -> None:
    ran = run("doctor", place)
    assert (ran.status, ran.err) == (1, "")
    assert "look   newest copy" in ran.out
    run("back-up", place, tmp_path / "a.copy")
    ran = run("doctor", place)
    assert ran.status == (0 if "look   free space" not in ran.out else 1), ran.out
    assert all(line.startswith(("ok ", "look ")) for line in ran.out.splitlines())
    for word in ("journal mode", "quick check", "signed records", "fonts", "SQLite 3.", "PySide6-Essentials 6."):
        assert word in ran.out
    data = bytearray(place.read_bytes())
    data[4096 * 3 : 4096 * 4] = bytes(4096)
    place.write_bytes(data)
    ran = run("doctor", place)
    assert ran.status in (1, 2)
    assert "wrong" in ran.out or "damaged" in ran.err
    for missing in (tmp_path / "missing.shop", tmp_path):
        ran = run("doctor", missing)
        assert (ran.status, ran.out) == (2, "")
        assert ran.err.count("\n") == 1


def test_that_missing_fonts_and_libraries_are_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    assert fonts_line().word is Word.OK
    monkeypatch.setattr("desktop.assembly.font_faces", lambda: (b"x", b""))
    assert fonts_line().word is Word.WRONG

    def missing() -> None:
        raise FileNotFoundError("no face")

    monkeypatch.setattr("desktop.assembly.font_faces", missing)
    assert fonts_line().word is Word.WRONG
    lines = version_lines(("click", "no-such-library"))
    assert [line.word for line in lines] == [Word.OK, Word.WRONG]
    assert lines[1].says.startswith("missing: no-such-library")


def test_that_progress_is_one_line_and_only_for_whoever_looks(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    progress = Progress()
    assert progress(1, 2)
    assert capfd.readouterr().err == ""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert all(progress(done, 4) for done in range(5))
    assert progress(0, 0)
    said = capfd.readouterr().err
    assert said.count("\n") == 1
    assert said.endswith(f"[{'=' * 20}]\n")
