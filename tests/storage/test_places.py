"""Where a shop file may not lie, and what is no shop file; beside each refusal stands the control that opens."""

import os
import shutil
import socket
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.storage.database import make_database, open_database
from desktop.storage.places import LEAST_FREE, Surroundings, is_share, mount_of, this_machine, warning
from desktop.storage.shop_store import new_shop, open_shop
from tests.storage.file_floor import QUIET, TEXT, made, opened, sql

HOUSE = Path(__file__).parents[2]
DISK = "/dev/disk1 / ext4 rw,relatime 0 0\n"
SHARES = {
    "nfs": "machine:/shop {} nfs4 rw 0 0",
    "nfs3": "10.0.0.1:/shop {} nfs rw 0 0",
    "cifs": "//machine/shop {} cifs rw 0 0",
    "smb": "//machine/shop {} smb3 rw 0 0",
    "9p": "share {} 9p rw 0 0",
    "sshfs": "me@machine:/shop {} fuse.sshfs rw 0 0",
    "another program's": "anything {} fuse.anything rw 0 0",
    "a new kind of share": "machine:/shop {} newfs rw 0 0",
    "an address": "[fd00::1]:/shop {} newfs rw 0 0",
}
LOCAL = {
    "ext4": "/dev/disk2 {} ext4 rw 0 0",
    "btrfs": "/dev/disk2 {} btrfs rw 0 0",
    "memory": "tmpfs {} tmpfs rw 0 0",
    "a stick": "/dev/stick1 {} fuseblk rw 0 0",
    "laid over": "fuse-overlayfs {} fuse.fuse-overlayfs rw 0 0",
    "laid over by the machine": "overlay {} overlay rw 0 0",
    "a half line": "tmpfs {}",
}


def on(mount: str, folder: Path) -> Surroundings:
    escaped = str(folder.resolve()).replace(" ", "\\040")
    return Surroundings(DISK + mount.format(escaped) + "\n")


@pytest.mark.parametrize("mount", SHARES.values(), ids=SHARES)
def test_that_a_network_share_is_refused(place: Path, mount: str) -> None:
    around = on(mount, place.parent.parent)
    with pytest.raises(Refusal, match="lies on a network share"):
        open_shop(place, TEXT, around)
    with pytest.raises(Refusal, match="lies on a network share"):
        new_shop(place.parent / "new.shop", "N", TEXT, around)
    assert not (place.parent / "new.shop").exists()


@pytest.mark.parametrize("mount", LOCAL.values(), ids=LOCAL)
def test_that_a_disk_of_the_machine_is_taken(place: Path, mount: str) -> None:
    open_shop(place, TEXT, on(mount, place.parent)).close()


def test_that_a_share_elsewhere_or_below_another_mount_says_nothing(place: Path) -> None:
    elsewhere = "machine:/shop /elsewhere nfs rw 0 0\n"
    covered = f"machine:/shop {place.parent} nfs rw 0 0\n/dev/disk3 {place.parent} ext4 rw 0 0\n"
    longer = f"machine:/shop {place.parent.parent} nfs rw 0 0\n/dev/disk3 {place.parent} ext4 rw 0 0\n"
    near_name = f"machine:/shop {str(place.parent)[:-1]} nfs rw 0 0\n"
    for mounts in (elsewhere, covered, longer, near_name):
        open_shop(place, TEXT, Surroundings(DISK + mounts)).close()


def test_that_a_share_is_seen_through_a_link_and_a_name_with_a_space(place: Path, tmp_path: Path) -> None:
    far = tmp_path / "far away"
    far.mkdir()
    place = place.rename(far / "mill.shop")
    link = tmp_path / "near"
    link.symlink_to(far)
    with pytest.raises(Refusal, match="network share"):
        open_shop(link / "mill.shop", TEXT, on(SHARES["nfs"], far))
    open_shop(link / "mill.shop", TEXT, on(LOCAL["ext4"], far)).close()


def test_that_paths_are_read_as_their_systems_write_them() -> None:
    assert is_share(r"\\machine\share\shop")
    assert not is_share("/home/shop")
    found = mount_of(Path("//srv/shop"), "a / ext4 rw 0 0\nm:/x /srv nfs ro 0 0\n")
    assert found is not None
    assert (found.kind, found.read_only) == ("nfs", True)
    assert mount_of(Path("/srv"), "") is None


@pytest.mark.parametrize("mark", [".sync", ".Sync", ".sync-state", ".synced", ".cloud-sync-1"])
def test_that_a_folder_that_is_copied_to_other_machines_is_refused(place: Path, mark: str) -> None:
    marked = place.parent / mark
    marked.touch()
    with pytest.raises(Refusal, match=f"copied to other machines .{mark} in "):
        opened(place)
    marked.rename(place.parent / "sync.txt")
    opened(place).close()


def test_that_a_mark_above_a_folder_and_the_callers_own_marks_are_seen(place: Path) -> None:
    folder = place.parent / "Our Copies" / "shops"
    folder.mkdir(parents=True)
    place = place.rename(folder / "mill.shop")
    opened(place).close()
    with pytest.raises(Refusal, match=r"Our Copies in .*Our Copies"):
        open_shop(place, TEXT, Surroundings(sync_marks=("our copies",)))
    (folder.parent / ".sync").mkdir()
    with pytest.raises(Refusal, match="copied to other machines"):
        opened(place)


def test_that_a_read_only_mount_is_refused(place: Path) -> None:
    with pytest.raises(Refusal, match="nothing may be written"):
        open_shop(place, TEXT, on("/dev/disk2 {} ext4 ro,relatime 0 0", place.parent))
    open_shop(place, TEXT, on("/dev/disk2 {} ext4 rw,roots 0 0", place.parent)).close()


IN_A_NAMESPACE = """
import sys
from pathlib import Path
from desktop.core.errors import Refusal
from desktop.files.shop_json import ShopJson
from desktop.storage.places import Surroundings
from desktop.storage.shop_store import new_shop, open_shop
for what in (open_shop, lambda place, *rest: new_shop(place.with_name("new.shop"), "N", *rest)):
    try:
        what(Path(sys.argv[1]), ShopJson(), Surroundings()).close()
        print("opened")
    except Refusal as refused:
        print(refused.sentence)
"""


def test_that_a_disk_that_really_is_read_only_is_refused(place: Path) -> None:
    unshare = shutil.which("unshare")
    mount = f'mount --bind "{place.parent}" "{place.parent}"'
    user = [] if os.geteuid() == 0 else ["-r"]
    head = [str(unshare), "-m", *user, "sh", "-c"]
    if not unshare or subprocess.run([*head, mount], check=False, capture_output=True).returncode:
        pytest.skip("NOT RUN: this machine gives no mounts of one's own")
    python = f"'{sys.executable}' -c '{IN_A_NAMESPACE}' '{place}'"
    for way, said in (("ro", ["nothing may be written"] * 2), ("rw", ["opened"] * 2)):
        command = f"{mount} && mount -o remount,bind,{way} '{place.parent}' && {python}"
        done = subprocess.run([*head, command], check=False, capture_output=True, text=True, cwd=HOUSE)
        lines = done.stdout.splitlines()
        assert len(lines) == 2, done.stderr
        assert all(words in line for words, line in zip(said, lines, strict=True)), lines


def test_that_a_file_that_may_not_be_written_is_refused(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Whoever runs this may be allowed everything, so the answer of the system is given here.
    monkeypatch.setattr(os, "access", lambda path, _mode: Path(path) != place.resolve())
    with pytest.raises(Refusal, match="nothing may be written"):
        opened(place)


def test_that_a_folder_above_that_may_not_be_listed_says_nothing(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed = Path.iterdir

    def denied(folder: Path) -> object:
        if folder == place.resolve().parent.parent:
            raise PermissionError
        return listed(folder)

    monkeypatch.setattr(Path, "iterdir", denied)
    opened(place).close()


def test_that_a_file_that_comes_up_while_another_is_made_is_not_written_over(place: Path, tmp_path: Path) -> None:
    before = place.read_bytes()
    with pytest.raises(Refusal, match="nothing is written over"):
        make_database(place, lambda _db: None)
    assert place.read_bytes() == before
    with pytest.raises(Refusal, match="cannot be made"):
        make_database(tmp_path / "gone" / "new.shop", lambda _db: None)
    with pytest.raises(Refusal, match="cannot be opened"):
        open_database(tmp_path / "gone.shop")
    assert not (tmp_path / "gone.shop").exists()


def test_that_a_shop_that_cannot_be_made_whole_leaves_no_file(tmp_path: Path) -> None:
    def breaks_off(_db: Database) -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        make_database(tmp_path / "new.shop", breaks_off)
    assert list(tmp_path.iterdir()) == []


def test_that_a_file_that_is_not_there_or_is_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="there is no such file"):
        opened(tmp_path / "missing.shop")
    assert not (tmp_path / "missing.shop").exists()
    with pytest.raises(Refusal, match="is a folder"):
        opened(tmp_path)
    with socket.socket(socket.AF_UNIX) as other:
        other.bind(str(tmp_path / "socket"))
        with pytest.raises(Refusal, match="not a file on a disk"):
            opened(tmp_path / "socket")


def test_that_nothing_is_written_over(place: Path, tmp_path: Path) -> None:
    before = place.read_bytes()
    link = tmp_path / "link.shop"
    link.symlink_to(tmp_path / "nowhere")
    for there in (place, tmp_path, link):
        with pytest.raises(Refusal, match="is there already"):
            new_shop(there, "N", TEXT, QUIET)
    assert place.read_bytes() == before
    with pytest.raises(Refusal, match="There is no folder"):
        new_shop(tmp_path / "no" / "n.shop", "N", TEXT, QUIET)
    made(tmp_path / "n.shop").close()


STRANGE = {
    "empty": (b"", "is empty"),
    "text": (b"Mill Shop\n" * 500, "no shop file"),
    "short text": (b"Mill", "no shop file"),
    "half a header": (b"SQLite format 3\x00" + b"\x00" * 50, "no shop file"),
}


@pytest.mark.parametrize(("content", "words"), STRANGE.values(), ids=STRANGE)
def test_that_a_file_that_is_no_database_is_refused_and_left_as_it_is(
    tmp_path: Path, content: bytes, words: str
) -> None:
    place = tmp_path / "strange.shop"
    place.write_bytes(content)
    with pytest.raises(Refusal, match=words):
        opened(place)
    assert place.read_bytes() == content
    assert [path.name for path in tmp_path.iterdir()] == ["strange.shop"]


@pytest.mark.parametrize("journal", ["DELETE", "WAL"])
@pytest.mark.parametrize("number", [0, 12345])
def test_that_another_programs_database_is_refused_and_left_as_it_is(tmp_path: Path, journal: str, number: int) -> None:
    place = tmp_path / "other.db"
    sql(place, f"PRAGMA journal_mode = {journal}", f"PRAGMA application_id = {number}", "CREATE TABLE t (a)")
    before = place.read_bytes()
    with pytest.raises(Refusal, match="no shop file: another program wrote it"):
        opened(place)
    assert place.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["other.db"]


def test_that_a_database_that_another_program_has_open_is_not_touched(tmp_path: Path) -> None:
    place = tmp_path / "other.db"
    other = sqlite3.connect(place)
    other.execute("PRAGMA journal_mode = WAL").fetchall()
    other.execute("CREATE TABLE t (a)")
    other.commit()
    before = [path.read_bytes() for path in sorted(tmp_path.iterdir()) if path.suffix != ".db-shm"]
    with pytest.raises(Refusal, match=r"Another program has .* open, or left it unfinished"):
        opened(place)
    assert [path.read_bytes() for path in sorted(tmp_path.iterdir()) if path.suffix != ".db-shm"] == before
    other.close()


def test_that_a_file_in_which_no_shop_was_kept_is_refused(place: Path, tmp_path: Path) -> None:
    guard = sql(place, "SELECT sql FROM sqlite_master WHERE name = 'shop_is_kept'")[0][0]
    sql(place, "DROP TRIGGER shop_is_kept", "DELETE FROM shop", guard)
    with pytest.raises(Refusal, match="holds no shop"):
        opened(place)
    sql(tmp_path / "x.shop", "PRAGMA application_id = 0x5370776B", "CREATE TABLE t (a)")
    with pytest.raises(Refusal, match="holds no shop"):
        opened(tmp_path / "x.shop")


def test_that_a_damaged_file_is_refused_in_plain_words(place: Path) -> None:
    content = bytearray(place.read_bytes())
    content[4096:] = b"\x5a" * (len(content) - 4096)
    place.write_bytes(content)
    with pytest.raises(Refusal, match="damaged and cannot be read"):
        opened(place)


def test_that_a_file_with_two_names_is_refused(place: Path, tmp_path: Path) -> None:
    os.link(place, tmp_path / "second.shop")
    with pytest.raises(Refusal, match="two names"):
        opened(place)
    (tmp_path / "second.shop").unlink()
    opened(place).close()


def test_that_little_room_is_said(place: Path) -> None:
    assert warning(place, lambda _folder: LEAST_FREE) is None
    said = warning(place, lambda _folder: LEAST_FREE - 1)
    assert (
        said
        == "Only 199 MB are free where the shop file lies, and 200 MB should be. Make room before the disk is full."
    )
    left = shutil.disk_usage(place.parent).free
    assert (warning(place) is None) is (left >= LEAST_FREE)


def test_that_the_machines_own_mounts_are_read(tmp_path: Path) -> None:
    around = this_machine(tmp_path)
    assert around.state == tmp_path
    if Path("/proc/mounts").exists():
        # A folder that serves as a root has no line of its own there, so only the text itself is looked at.
        assert around.mounts == Path("/proc/mounts").read_text("utf-8", "replace")


def test_that_a_shop_with_a_strange_name_is_made_and_opened(tmp_path: Path) -> None:
    for name in ("a b?c=d#e%20.shop", "Çà.shop", "file:x.shop"):
        made(tmp_path / name).close()
        with opened(tmp_path / name) as file:
            assert file.name == "Mill Shop"
    assert len(list(tmp_path.iterdir())) == 3
