"""A shop is open once: two windows on one file, yes; a copy of it beside it, no."""

import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.storage.places import Surroundings
from desktop.storage.shop_store import new_shop, open_shop
from tests.storage.file_floor import TEXT

HOLD = """
import sys
from pathlib import Path
from desktop.files.shop_json import ShopJson
from desktop.storage.places import Surroundings
from desktop.storage.shop_store import open_shop
file = open_shop(Path(sys.argv[1]), ShopJson(), Surroundings(state=Path(sys.argv[2])))
print("open", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def around(tmp_path: Path) -> Surroundings:
    return Surroundings(state=tmp_path / "state")


def other_window(place: Path, around: Surroundings) -> "subprocess.Popen[str]":
    command = [sys.executable, "-c", HOLD, str(place), str(around.state)]
    window = subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[2]
    )
    assert window.stdout is not None
    assert window.stdout.readline() == "open\n"
    return window


def test_that_a_copy_is_refused_while_the_shop_is_open_in_another_process(place: Path, around: Surroundings) -> None:
    copy = Path(shutil.copy(place, place.parent / "backup.shop"))
    with other_window(place, around) as window:
        with pytest.raises(Refusal, match=re.escape(f"is open already: {place.resolve()}")):
            open_shop(copy, TEXT, around)
        open_shop(place, TEXT, around).close()
        window.send_signal(signal.SIGKILL)
    # The one that was killed left its mark; nobody holds its lock.
    open_shop(copy, TEXT, around).close()
    assert around.state is not None
    assert [path for path in around.state.rglob("*") if path.is_file()] == []


def test_that_a_copy_is_refused_beside_a_window_of_the_same_process(place: Path, around: Surroundings) -> None:
    copy = Path(shutil.copy(place, place.parent / "backup.shop"))
    with open_shop(place, TEXT, around), open_shop(place, TEXT, around):
        with pytest.raises(Refusal, match="A copy of this shop"):
            open_shop(copy, TEXT, around)
        link = place.parent / "link.shop"
        link.symlink_to(place)
        open_shop(link, TEXT, around).close()
    with open_shop(copy, TEXT, around), pytest.raises(Refusal, match="backup"):
        open_shop(place, TEXT, around)


def test_that_other_shops_do_not_matter(place: Path, around: Surroundings) -> None:
    other = place.parent / "other.shop"
    with open_shop(place, TEXT, around), new_shop(other, "Other", TEXT, around) as file:
        assert file.orders() == ()
        open_shop(place, TEXT, around).close()


def test_that_a_new_shop_with_the_id_of_an_open_one_leaves_no_file(place: Path, around: Surroundings) -> None:
    with open_shop(place, TEXT, around) as file:
        with pytest.raises(Refusal, match="A copy"):
            new_shop(place.parent / "again.shop", "Again", TEXT, around, shop_id=file.shop_id)
        assert not (place.parent / "again.shop").exists()


def test_that_a_state_folder_that_cannot_be_written_is_said(place: Path, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(Refusal, match="Open shops cannot be written down"):
        open_shop(place, TEXT, Surroundings(state=tmp_path / "file"))


def test_that_a_mark_that_goes_away_while_it_is_looked_for_does_not_matter(
    place: Path, around: Surroundings, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_shop(place, TEXT, around) as file:
        folder = (around.state or Path()) / "open-shops" / file.shop_id
        found = [*folder.glob("*.open"), folder / "gone.open"]
        monkeypatch.setattr(Path, "glob", lambda _folder, _pattern: found)
        open_shop(place, TEXT, around).close()


def test_that_the_mark_names_the_file_and_the_process(place: Path, around: Surroundings) -> None:
    with open_shop(place, TEXT, around) as file:
        [mark] = ((around.state or Path()) / "open-shops" / file.shop_id).iterdir()
        said = mark.read_text("utf-8")
        file.close()
        assert not mark.exists()
    assert f'"path": "{place.resolve()}"' in said
    assert f'"process": {os.getpid()}' in said
