"""The values of a limits sheet in lines that a person reads: what it is, the value as transcribed, its unit."""

from collections.abc import Callable, Iterator, Mapping

from desktop.core import typed_text
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.sheets.sheet_paths import Row

Line = tuple[str, str, str]
Fields = Mapping[str, str]
CRANK = "crankshaft degrees"
BTDC = f"{CRANK} BTDC"
UNITS = (
    ("btdc", BTDC),
    ("limits.", CRANK),
    ("back_off", CRANK),
    ("e_gap", "magneto degrees"),
    ("slot_degrees", "magneto degrees"),
    ("retard.", CRANK),
    ("run_up.", "rpm"),
    ("_mm", "mm"),
)
"""The unit of a value by a part of its path; what has its unit beside it on the sheet, or is no number, has none."""
TITLES = {
    "eligible": "Magnetos that the data allow",
    "plug": "Plugs: which each magneto fires",
    "turning": "Turning the engine",
    "magnetos": "Magnetos on the engine",
    "torque": "Torques",
    "interval": "Intervals",
    "retard": "Retard breaker",
    "leads": "Ignition leads",
    "tdc_accessory": "Where TDC and the timing marks are shown",
}
LABELS = {
    "types": "Type designation",
    "part_numbers": "Part number",
    "tdc_accessory": "In the document's words",
    "invented": "Invented data",
    "engine.reference": "Reference cylinder, No.",
    "engine.rotation": "Crankshaft turns, seen from the rear",
    "engine.propeller_rotation": "Propeller turns, seen from the rear",
    "engine.propeller_turns_per_crank_turn": "Propeller turns for one crankshaft turn",
    "engine.stroke_mm": "Stroke",
    "engine.rod_mm": "Connecting rod",
    "limits.left_btdc": "Left magneto fires",
    "limits.right_btdc": "Right magneto fires",
    "limits.advanced_most": "Advanced of that, at most",
    "limits.retarded_most": "Retarded of that, at most",
    "limits.apart_most": "Magnetos apart, at most",
    "magnetos.one_housing": "Both in one housing",
    "turning.against": "May be turned against rotation",
    "turning.reason": "Why",
    "run_up.rpm": "Drops are taken at",
    "run_up.drop_most": "Drop, at most",
    "run_up.apart_most": "Drops apart, at most",
    "magneto.rotation": "Hand of rotation",
    "magneto.back_off_least": "Back off, at least",
    "magneto.back_off_most": "Back off, at most",
    "magneto.drive_gear_teeth": "Teeth of the drive gear",
    "magneto.slot_degrees": "A slot's room to turn",
    "magneto.slot_radius_mm": "Slot's radius",
    "magneto.impulse_lag": "Lag of the impulse coupling",
    "magneto.impulse_lag_least": "Lag, at least",
    "magneto.impulse_lag_most": "Lag, at most",
    "magneto.e_gap": "E-gap",
    "magneto.e_gap_least": "E-gap, at least",
    "magneto.e_gap_most": "E-gap, at most",
    "retard.btdc": "Fires",
    "retard.least": "At least",
    "retard.most": "At most",
    "leads.resistance_most": "Resistance, at most",
}
_LAG, _LAG_IN = "magneto.impulse_lag", "magneto.impulse_lag_in"


def sheet_title(name: str) -> str:
    """Return the title of a group of values."""
    words = TITLES.get(name) or path_words(name)
    return words[:1].upper() + words[1:]


def sheet_lines(name: str, rows: tuple[Row, ...]) -> Iterator[Line]:
    """Yield the lines of a group; the fields of one entry of a list, and those of a gap, stand in one line."""
    if name in ENTRIES:
        for fields in _entries(rows):
            yield ENTRIES[name](fields)
        return
    if name in ("plug_gap", "contact_gap"):
        fields = {path.partition(".")[2]: text for path, text in rows}
        yield "Gap", _between(fields), fields.get("unit", "")
        return
    given = dict(rows)
    for path, text in rows:
        if path not in (_LAG_IN, "leads.unit"):
            yield _label(path), *_value(path, text, given)


def unit_of(path: str) -> str:
    """Return the unit of a transcribed value; empty for one that has none or has it beside it on the sheet."""
    return next((unit for part, unit in UNITS if part in path), "")


def _entries(rows: tuple[Row, ...]) -> tuple[Fields, ...]:
    found: dict[str, dict[str, str]] = {}
    for path, text in rows:
        entry, _, field = path.partition("].")
        found.setdefault(entry, {})[field] = text
    return tuple(found.values())


def _plug(fields: Fields) -> Line:
    said = (f"{side} magneto the {fields[side]} one" for side in ("left", "right") if side in fields)
    return f"Cylinder {fields.get('cylinder', '')}".strip(), ", ".join(said), ""


def _eligible(fields: Fields) -> Line:
    side = fields.get("side", "")
    return fields.get("part_number", ""), f"on {side} side" if side == "either" else f"on the {side} side", ""


def _torque(fields: Fields) -> Line:
    window = _between(fields)
    said = ", ".join(part for part in (fields.get("required", ""), f"window {window}" if window else "") if part)
    what = fields.get("what", "")
    return what[:1].upper() + what[1:], said, fields.get("unit", "")


def _interval(fields: Fields) -> Line:
    often = [f"{fields[field]} {unit}" for field, unit in (("hours", "h"), ("months", "months")) if field in fields]
    what = fields.get("what", "")
    return what[:1].upper() + what[1:], f"every {' or '.join(often)}" if often else "", ""


ENTRIES: Mapping[str, Callable[[Fields], Line]] = {
    "plug": _plug,
    "eligible": _eligible,
    "torque": _torque,
    "interval": _interval,
}


def _between(fields: Fields) -> str:
    least, most = fields.get("least"), fields.get("most")
    if least is not None and most is not None:
        return f"{least} to {most}"
    return f"at least {least}" if least is not None else f"at most {most}" if most is not None else ""


def _label(path: str) -> str:
    known = LABELS.get(path) or LABELS.get(path.partition("[")[0])
    words = known or path_words(path.partition(".")[2] or path)
    return words[:1].upper() + words[1:]


def _value(path: str, text: str, given: Fields) -> tuple[str, str]:
    """Return a value with its unit; one below zero degrees BTDC lies after TDC, and is said so."""
    if path.startswith(_LAG):
        return text, f"{given[_LAG_IN]} degrees" if _LAG_IN in given else ""
    if path == "leads.resistance_most":
        return text, given.get("leads.unit", "")
    unit = unit_of(path)
    number = typed_text.number(typed_text.tidied(text)) if unit == BTDC else None
    if number is None or number >= 0:
        return text, unit
    return f"{typed_text.degrees(-number)} after TDC", CRANK
