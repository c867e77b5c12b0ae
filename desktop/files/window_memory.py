"""Where somebody left off, in a small file of their own. What cannot be read is as if nothing had been kept."""

from contextlib import suppress
from dataclasses import asdict
from pathlib import Path

import msgspec
import tomli_w

from desktop.core.errors import Refusal
from desktop.core.left_off import LeftOff
from desktop.files.papers_out import make_folder, write_paper
from desktop.files.toml_text import read_file, read_toml


class WindowMemory:
    """Keeps it at a place. A disk that says no keeps nobody from working: then it is forgotten."""

    def __init__(self, place: Path) -> None:
        self._place = place

    def read(self) -> LeftOff:
        """Return where somebody left off; the beginning where nothing usable was kept."""
        if not self._place.exists():
            return LeftOff()
        try:
            return msgspec.convert(read_toml(read_file(self._place)), LeftOff)
        except (Refusal, msgspec.ValidationError, ValueError):
            return LeftOff()

    def write(self, left_off: LeftOff) -> None:
        """Keep it."""
        with suppress(Refusal, UnicodeEncodeError):
            make_folder(self._place.parent)
            write_paper(self._place, tomli_w.dumps(asdict(left_off)).encode())
