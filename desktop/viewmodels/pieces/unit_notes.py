"""What stands quietly beside a typed length or torque: the same in the units that the shop chose."""

from collections.abc import Callable

from desktop.core.timing.typed_paths import Value
from desktop.core.units import other_words
from desktop.viewmodels.pieces.fields import Field

REQUIRED = "required"


def unit_note(field: Field, value_of: Callable[[str], Value], value: Value, system: str) -> str:
    """Return a field's value in the other units; empty without a system, without a number, and where it stands so.

    A required torque takes its unit from the field beside it, which ``value_of`` gives by its path.
    """
    if not system or not isinstance(value, str):
        return ""
    unit = field.unit
    entry, _, last = field.path.rpartition(".")
    if last == REQUIRED:
        beside = value_of(f"{entry}.unit")
        unit = beside if isinstance(beside, str) else ""
    return other_words(value, unit, system)
