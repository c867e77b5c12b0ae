"""The newest copy of each shop that this machine knows of, written down in the user's folder."""

import json
import uuid
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from desktop.usecases.records.copies.copy_ports import MadeCopy

_FOLDER = "copies"


@dataclass(frozen=True, slots=True)
class KnownCopy:
    """Where the newest copy was put, when, and how many changes and records it holds."""

    place: Path
    made_at: datetime
    changes: int
    records: int


def write_down(state: Path, made: MadeCopy) -> None:
    """Write down the newest copy of a shop. Raise OSError when the user's folder does not take it."""
    folder = state / _FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    new = folder / f"{uuid.uuid4().hex}.new"
    holds = made.holds
    entry = {
        "place": str(made.place.absolute()),
        "made_at": made.made_at.isoformat(),
        "changes": holds.changes,
        "records": holds.chain.records,
    }
    new.write_text(json.dumps(entry), "utf-8")
    new.replace(_place(state, holds.shop_id))


def newest_known(state: Path, shop_id: str) -> KnownCopy | None:
    """Return the newest copy of a shop that is known; None when none is, or what is written down cannot be read."""
    with suppress(OSError, ValueError, KeyError, TypeError):
        entry = json.loads(_place(state, shop_id).read_text("utf-8"))
        made_at = datetime.fromisoformat(entry["made_at"])
        if made_at.utcoffset() is not None:
            return KnownCopy(Path(entry["place"]), made_at, int(entry["changes"]), int(entry["records"]))
    return None


def _place(state: Path, shop_id: str) -> Path:
    name = "".join(sign for sign in shop_id if sign.isalnum() and sign.isascii())
    return state / _FOLDER / f"{name}.json"
