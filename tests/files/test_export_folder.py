"""A folder that is there whole or not at all, and nothing beside it."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.files import export_folder
from desktop.files.export_folder import write_export
from desktop.files.export_text import plain_cell
from desktop.usecases.records.copies.export_ports import ExportFile

FILES = (ExportFile("b.txt", (b"one\n", b"two\n")), ExportFile("papers/a b.pdf", (b"%PDF",)))


def names(folder: Path) -> list[str]:
    return sorted(one.relative_to(folder).as_posix() for one in folder.rglob("*") if one.is_file())


@pytest.mark.parametrize("is_there", [False, True])
def test_that_a_new_or_empty_folder_is_filled_and_listed(is_there: bool, tmp_path: Path) -> None:
    folder = tmp_path / "out"
    if is_there:
        folder.mkdir()
    assert write_export(folder, FILES) == 3
    assert names(tmp_path) == ["out/SHA256SUMS", "out/b.txt", "out/papers/a b.pdf"]
    assert (folder / "b.txt").read_bytes() == b"one\ntwo\n"
    if sys.platform == "linux":
        command = ["sha256sum", "--strict", "-c", "SHA256SUMS"]
        ran = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=True, timeout=60)
        assert ran.stdout == "b.txt: OK\npapers/a b.pdf: OK\n"


def test_that_what_is_there_is_never_written_over(tmp_path: Path) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine").write_text("mine")
    (tmp_path / "empty").mkdir()
    (tmp_path / "file").write_text("x")
    (tmp_path / "link").symlink_to(tmp_path / "empty")
    before = names(tmp_path)
    for name, said in (
        ("full", "is not empty, and nothing is written over"),
        ("file", "is no folder"),
        ("link", "is no folder"),
        ("none/out", "There is no folder"),
        ("no\0name", "its name cannot be used"),
    ):
        with pytest.raises(Refusal, match=said):
            write_export(tmp_path / name, FILES)
    assert names(tmp_path) == before
    assert len(list(tmp_path.iterdir())) == 4


def stopped() -> Iterator[bytes]:
    yield b"a little"
    raise Refusal("A record cannot be read.")


def test_that_nothing_is_left_of_a_folder_that_breaks_off(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(Refusal, match="A record cannot be read"):
        write_export(tmp_path / "out", (*FILES, ExportFile("c", stopped())))
    assert list(tmp_path.iterdir()) == []

    def full(_part: Path, _one: ExportFile) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(export_folder, "_written", full)
    with pytest.raises(Refusal, match="out cannot be made: No space left on device"):
        write_export(tmp_path / "out", FILES)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["../out.txt", "/etc/x", "a/../../x", "a\\b", "a\nb"])
def test_that_no_name_leads_out_of_the_folder(name: str, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="would leave the folder"):
        write_export(tmp_path / "out", (ExportFile(name, (b"x",)),))
    assert list(tmp_path.iterdir()) == []


def test_that_a_folder_that_fills_meanwhile_is_left_as_it_is(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    folder.mkdir()

    def meanwhile() -> Iterator[bytes]:
        (folder / "mine").write_text("mine")
        yield b"x"

    with pytest.raises(Refusal, match="cannot be made"):
        write_export(folder, (ExportFile("a", meanwhile()),))
    assert names(tmp_path) == ["out/mine"]


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r"])
def test_that_a_cell_that_would_be_computed_begins_with_an_apostrophe(sign: str) -> None:
    assert plain_cell(f"{sign}1") == f"'{sign}1"
    assert plain_cell(f"1{sign}") == f"1{sign}"
