"""A shop's own folder: its cards and jobs are read, and nothing outside it."""

import os
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.files.cards import builtin_cards, cards_in
from desktop.files.jobs import jobs_in
from desktop.files.shop_folder import MOST_FILES, texts_in
from desktop.files.toml_text import MOST_BYTES

CARD = """
id = "SHOP-1"
revision = 3
title = "Wash the engine"
applies = "Before an inspection."

[[use]]
card = "T4"
sections = ["safe"]
before = "wash"

[[step]]
id = "wash"
instruction = "Wash the engine."
capture = "confirm"
initials = true
"""
JOBS = """
[[job]]
id = "wash-and-look"
title = "Wash and look"
applies = "Before an inspection."
where = "on the aircraft"
cards = ["SHOP-1", "S1"]
"""


def _refused(folder: Path) -> str:
    with pytest.raises(Refusal) as caught:
        cards_in(folder)
    return caught.value.sentence


def test_that_a_shop_without_a_folder_or_with_an_empty_one_has_no_cards_of_its_own(tmp_path: Path) -> None:
    assert cards_in(tmp_path / "none") == ()
    assert cards_in(tmp_path) == ()
    assert jobs_in(tmp_path) == ()


def test_that_own_cards_and_jobs_load_as_the_shipped_ones_do(tmp_path: Path) -> None:
    (tmp_path / "wash.toml").write_text(CARD, "utf-8")
    (tmp_path / "jobs.toml").write_text(JOBS, "utf-8")
    (tmp_path / "notes.txt").write_text("no card", "utf-8")
    (tmp_path / "inside").mkdir()
    (tmp_path / "inside" / "deep.toml").write_text("not read", "utf-8")
    card = cards_in(tmp_path)[0]
    assert (card.id, card.revision, card.steps[0].id, card.steps[-1].id) == ("SHOP-1", 3, "switch-off", "wash")
    assert card.scheme == next(one.scheme for one in builtin_cards() if one.id == "T4")
    assert [job.cards for job in jobs_in(tmp_path)] == [("SHOP-1", "S1")]


def test_that_an_own_card_never_takes_the_id_of_a_shipped_one(tmp_path: Path) -> None:
    (tmp_path / "wash.toml").write_text(CARD.replace("SHOP-1", "t4"), "utf-8")
    assert _refused(tmp_path).startswith('wash.toml: id: "t4" is the id of a card of the program.')


def test_that_a_fault_of_an_own_card_names_file_step_and_key(tmp_path: Path) -> None:
    (tmp_path / "wash.toml").write_text(CARD.replace('capture = "confirm"', 'capture = "photo"'), "utf-8")
    assert _refused(tmp_path).startswith('wash.toml: step 1 (wash): capture: "photo" is not known here.')


def test_that_a_link_inside_the_folder_is_read_and_one_that_leads_out_is_refused(tmp_path: Path) -> None:
    outside, folder = tmp_path / "outside.toml", tmp_path / "own"
    outside.write_text(CARD, "utf-8")
    folder.mkdir()
    (folder / "kept.txt").write_text(CARD, "utf-8")
    (folder / "link.toml").symlink_to(folder / "kept.txt")
    assert [card.id for card in cards_in(folder)] == ["SHOP-1"]
    (folder / "out.toml").symlink_to(outside)
    assert _refused(folder) == ("out.toml: this is a link that leads out of the folder. Put the file itself there.")


def test_that_the_folder_itself_may_be_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "wash.toml").write_text(CARD, "utf-8")
    (tmp_path / "own").symlink_to(tmp_path / "real")
    assert [card.id for card in cards_in(tmp_path / "own")] == ["SHOP-1"]


def test_that_a_link_that_leads_nowhere_or_to_itself_is_refused(tmp_path: Path) -> None:
    (tmp_path / "gone.toml").symlink_to(tmp_path / "nothing")
    assert _refused(tmp_path).startswith("gone.toml: cannot be read: ")
    (tmp_path / "gone.toml").unlink()
    (tmp_path / "loop.toml").symlink_to(tmp_path / "loop.toml")
    assert _refused(tmp_path).startswith("loop.toml: cannot be read: ")


def test_that_what_is_named_like_a_card_and_is_no_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "folder.toml").mkdir()
    assert _refused(tmp_path).startswith("folder.toml: this is not a file.")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_that_a_named_pipe_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    assert _refused(tmp_path).startswith("pipe.toml: this is not a file.")


def test_that_a_large_file_and_too_many_files_are_refused(tmp_path: Path) -> None:
    (tmp_path / "large.toml").write_bytes(b"#" * (MOST_BYTES + 1))
    assert "larger than 256 KiB" in _refused(tmp_path)
    for number in range(MOST_FILES):
        (tmp_path / f"c{number}.toml").touch()
    assert f"{MOST_FILES + 1} TOML files, and {MOST_FILES} is the most" in _refused(tmp_path)


def test_that_something_else_than_a_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(Refusal, match="cannot be read"):
        texts_in(tmp_path / "file")


def test_that_a_name_that_nobody_can_print_is_shown_as_codes(tmp_path: Path) -> None:
    (tmp_path / "a\nb.toml").write_text("id = 1", "utf-8")
    told = _refused(tmp_path)
    assert told.startswith('"a\\nb.toml": ')
    assert told.isprintable()
