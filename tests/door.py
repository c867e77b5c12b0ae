"""The one door through which the tests talk to the program as a user of ``check`` does: TOML text in, JSON out."""

import json
from typing import Any

from desktop.assembly import rulebook
from desktop.core.errors import Refusal
from desktop.files.readings import read_readings
from desktop.files.results import as_json
from desktop.usecases.check_readings import check_readings

RULEBOOK = rulebook()


def check(toml_text: str) -> dict[str, Any]:
    """Return what ``check`` prints for a readings file; raise Refusal for a structure fault."""
    checked = check_readings(read_readings(toml_text.encode("utf-8")), RULEBOOK)
    result: dict[str, Any] = json.loads(as_json(checked.worked, checked.findings))
    return result


def faults(toml_text: str) -> str | None:
    """Return the one line of a structure fault, or None when the file can be read."""
    try:
        check(toml_text)
    except Refusal as refusal:
        return refusal.sentence
    return None
