"""What taking the records out needs from outside: texts in their forms, fixed files, prints, and a new folder."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol, TypeAlias

from desktop.core.records.sealed.stored import StoredRow
from desktop.usecases.papers.records.verified import VerifiedRecord


@dataclass(frozen=True, slots=True)
class ExportFile:
    """A file of an export: its name inside the folder, such as ``papers/record-0001.pdf``, and its bytes in parts."""

    name: str
    parts: Iterable[bytes]


Papers: TypeAlias = Callable[[Sequence[VerifiedRecord]], Iterator[tuple[str, bytes]]]
"""Gives the print of each record with the name of its file; the same records give the same bytes."""


class ExportText(Protocol):
    """Writes what stands in the files of an export; the same values give the same bytes."""

    def shop(self, shop_id: str, count: int, head: str, order: int) -> bytes:
        """Return whose records these are, how many the shop holds, the seal of the last, and of which order a part."""
        ...

    def record(self, row: StoredRow) -> bytes:
        """Return a record as one line of JSON, whatever stands in its row."""
        ...

    def table(self, rows: Iterable[Sequence[str]]) -> Iterator[bytes]:
        """Yield rows as CSV in which no spreadsheet computes a cell."""
        ...


@dataclass(frozen=True, slots=True)
class ExportDesk:
    """What an export works with. ``fixed`` are the files that are the same in every export.

    ``write`` makes a new folder of files with the list of their hashes, or leaves nothing behind and raises Refusal.
    """

    text: ExportText
    fixed: tuple[ExportFile, ...]
    papers: Papers
    write: Callable[[Path, Iterable[ExportFile]], int]
