"""The counts of tries that a machine keeps of its own, so that a shop file copied back resets none of them."""

import json
import os
import uuid
from datetime import datetime
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.core.shop.people.secrets import Tries
from desktop.core.shop.stamp import Stamp

_FOLDER = "key-tries"
_MOST_BYTES = 1000


class MachineTries:
    """A small file for each key in the user's folder, under the shop's id; written whole or not at all."""

    def __init__(self, state: Path, shop_id: str) -> None:
        self._folder = state / _FOLDER / shop_id

    def counted(self, public_key: bytes) -> Tries | None:
        """Return the count of a key; None when this machine has none.

        Raise Refusal for a count that cannot be read: nobody gains a try by spoiling it.
        """
        place = self._place(public_key)
        try:
            with place.open("rb") as file:
                data = file.read(_MOST_BYTES)
            table = json.loads(data)
            # A stamp refuses a time without an offset, with which no other could be compared.
            last = Stamp("", datetime.fromisoformat(table["last"])).at
            return Tries(int(table["begun"]), int(table["forgiven"]), last)
        except FileNotFoundError:
            return None
        except (OSError, ValueError, TypeError, KeyError, RecursionError) as trouble:
            raise Refusal(
                f"The count of wrong tries on this machine cannot be read: {place}. "
                "Somebody or something damaged it. Remove that file when you know why; the shop file counts too."
            ) from trouble

    def count(self, public_key: bytes, tries: Tries) -> None:
        """Keep the count of a key that was tried; neither of its numbers falls.

        Raise Refusal when it cannot be kept.
        """
        if tries.last is None:
            raise ValueError("a key that was never tried has no count")
        kept = self.counted(public_key) or Tries()
        begun, forgiven = max(kept.begun, tries.begun), max(kept.forgiven, tries.forgiven)
        table = {"begun": begun, "forgiven": forgiven, "last": tries.last.isoformat()}
        try:
            self._write(public_key, json.dumps(table))
        except OSError as trouble:
            raise Refusal(
                f"Tries cannot be written down in {self._folder}: {trouble.strerror}. Make it writable."
            ) from trouble

    def _write(self, public_key: bytes, text: str) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        new = self._folder / f"{uuid.uuid4().hex}.new"
        try:
            with new.open("xb") as file:
                file.write(text.encode())
                file.flush()
                os.fsync(file.fileno())
            new.replace(self._place(public_key))
        finally:
            new.unlink(missing_ok=True)

    def _place(self, public_key: bytes) -> Path:
        return self._folder / f"{public_key.hex()}.json"
