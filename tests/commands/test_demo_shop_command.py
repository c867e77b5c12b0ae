"""The command that builds the demo's shop refuses what it cannot do, in one line. What it builds: tests/demo."""

from pathlib import Path

import pytest

from tests.commands.test_commands import Runner, run

__all__ = ["run"]


def test_that_the_command_writes_over_no_file(run: Runner, tmp_path: Path) -> None:
    (tmp_path / "mine.shop").write_bytes(b"mine")
    ran = run("demo", "--shop", "mine.shop")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("sparkwright: mine.shop is there already, and nothing is written over.")
    assert ran.err.count("\n") == 1
    assert (tmp_path / "mine.shop").read_bytes() == b"mine"


@pytest.mark.parametrize("name", ["papers", "papers/old.pdf"])
def test_that_the_command_prints_into_an_empty_folder_only(run: Runner, tmp_path: Path, name: str) -> None:
    (tmp_path / "papers").mkdir()
    (tmp_path / "papers" / "old.pdf").write_bytes(b"mine")
    ran = run("demo", "--shop", "new.shop", "--paper", name)
    assert (ran.status, ran.out) == (2, "")
    assert f"Something lies in {name} already" in ran.err
    assert not (tmp_path / "new.shop").exists()
