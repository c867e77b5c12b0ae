"""A new folder that is there whole or not at all: written beside its future name, then renamed."""

import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path, PurePosixPath

from desktop.core.errors import Refusal
from desktop.files.export_text import HASHES, hash_list
from desktop.usecases.records.copies.export_ports import ExportFile


def write_export(folder: Path, exported: Iterable[ExportFile]) -> int:
    """Write files into a new folder with the list of their hashes; return how many files it holds.

    Raise Refusal when something is there already, or the folder cannot be made; then nothing of it is left, and nothing
    was written elsewhere. ValueError for a name that would leave the folder.
    """
    with _troubles(folder):
        _refuse_what_is_there(folder)
        part = Path(tempfile.mkdtemp(dir=folder.absolute().parent, prefix=f".{folder.name[:80]}."))
        try:
            hashes = {one.name: _written(part, one) for one in exported}
            _written(part, ExportFile(HASHES, (hash_list(hashes),)))
            part.chmod(0o755)
            _name(part, folder)
        except BaseException:
            shutil.rmtree(part, ignore_errors=True)
            raise
    return len(hashes) + 1


def _refuse_what_is_there(folder: Path) -> None:
    if "\0" in str(folder):
        raise Refusal(
            f"{folder!s:.80} cannot be made: its name cannot be used. Choose another folder.".replace("\0", "?")
        )
    if not folder.absolute().parent.is_dir():
        raise Refusal(f"There is no folder {folder.absolute().parent}. Make it first, or choose another one.")
    if not folder.name or folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise Refusal(f"{folder} is no folder. Name one that is not there yet.")
    if folder.exists() and any(folder.iterdir()):
        raise Refusal(f"{folder} is not empty, and nothing is written over. Name a folder that is not there yet.")


def _written(part: Path, one: ExportFile) -> str:
    """Write a file and hand it over to the disk; return its SHA-256."""
    name = PurePosixPath(one.name)
    if name.is_absolute() or ".." in name.parts or "\\" in one.name or not one.name.isprintable():
        raise ValueError(f"a name that would leave the folder: {one.name!r}")
    place = part.joinpath(*name.parts)
    place.parent.mkdir(exist_ok=True)
    digest = sha256()
    with place.open("xb") as file:
        for data in one.parts:
            digest.update(data)
            file.write(data)
        file.flush()
        os.fsync(file.fileno())
    return digest.hexdigest()


def _name(part: Path, folder: Path) -> None:
    if folder.exists():
        folder.rmdir()  # it was empty; one that is not empty any more stays, and this fails
    part.rename(folder)


@contextmanager
def _troubles(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as trouble:
        reason = trouble.strerror or "its name cannot be used"
        raise Refusal(f"{folder} cannot be made: {reason}. Choose another folder.") from trouble
