"""The named limits that the steps of a task card ask for, out of the sheets of a job."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from desktop.core import typed_text
from desktop.core.shop.sheets.sheet_choices import Resistance
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, SheetGap, SheetMagneto, SheetTorque
from desktop.core.timing.readings import LagIn, Side

DEGREES = "°"
RPM = "rpm"
OHMS = {Resistance.OHM.value: "Ω", Resistance.KILOHM.value: "kΩ"}
TORQUES = {"plug torque": "plug", "clamp torque": "clamp", "nut torque": "nut"}
"""The fasteners by the word that a sheet has for them."""


@dataclass(frozen=True, slots=True)
class Range:
    """A window for a measured value, both ends inclusive; None where a side is open. ValueError the wrong way round.

    ``unit`` is one of those that steps have (UNITS); ``of`` says whose degrees they are: magneto or crankshaft.
    """

    least: Fraction | None
    most: Fraction | None
    unit: str
    of: str = ""

    def __post_init__(self) -> None:
        if self.least is None and self.most is None:
            raise ValueError("a range has at least one end")
        if self.least is not None and self.most is not None and self.least > self.most:
            raise ValueError("the least value of a range is above its most")

    def holds(self, value: Fraction) -> bool:
        """Tell whether a value lies in the range; on its edge is in."""
        return (self.least is None or self.least <= value) and (self.most is None or value <= self.most)

    @property
    def words(self) -> str:
        """Say the range with its unit."""
        if self.least is None or self.most is None:
            end, word = (self.most, "most") if self.least is None else (self.least, "least")
            said = f"at {word} {self._said(end)}"
        elif self.least == self.most:
            said = self._said(self.least)
        else:
            said = f"{typed_text.plain(self.least)} to {self._said(self.most)}"
        return f"{said}, {self.of} degrees" if self.of else said

    def _said(self, value: Fraction | None) -> str:
        return f"{typed_text.plain(value or 0)}{'' if self.unit == DEGREES else ' '}{self.unit}"


def limit_for(
    name: str, side: Side | None, engine: EngineSheet | None, left: MagnetoSheet | None, right: MagnetoSheet | None
) -> Range | None:
    """Return the limit that a step asks for by name, on one side where the magnetos differ; None when no sheet has it.

    A nominal without a window is a range of one value. Raise ValueError for a name outside LIMIT_NAMES.
    """
    if name not in LIMIT_NAMES:
        raise ValueError(f"no limit has the name {name}")
    magneto = {Side.LEFT: left, Side.RIGHT: right, None: left if right is None or left == right else None}[side]
    if name in TORQUES:
        rows = (*((magneto.torque or ()) if magneto else ()), *((engine.torque or ()) if engine else ()))
        return _torque(next((one for one in rows if (one.what or "").strip().casefold() == TORQUES[name]), None))
    if name in _OF_ENGINE:
        return _OF_ENGINE[name](engine) if engine else None
    return _OF_MAGNETO[name](magneto) if magneto else None


def _run_up(engine: EngineSheet, key: str) -> Range | None:
    return _range(None, getattr(engine.run_up, key), RPM) if engine.run_up else None


def _e_gap(sheet: MagnetoSheet) -> Range | None:
    data = sheet.magneto or SheetMagneto()
    return _range(data.e_gap_least or data.e_gap, data.e_gap_most or data.e_gap, DEGREES, LagIn.MAGNETO)


def _lag(sheet: MagnetoSheet) -> Range | None:
    data = sheet.magneto or SheetMagneto()
    least, most = data.impulse_lag_least or data.impulse_lag, data.impulse_lag_most or data.impulse_lag
    return _range(least, most, DEGREES, data.impulse_lag_in or LagIn.MAGNETO)


def _retard(sheet: MagnetoSheet) -> Range | None:
    given = sheet.retard
    return _range(given.least or given.btdc, given.most or given.btdc, DEGREES, LagIn.CRANKSHAFT) if given else None


def _resistance(sheet: MagnetoSheet) -> Range | None:
    return _range(None, sheet.leads.resistance_most, OHMS.get(sheet.leads.unit or "", "")) if sheet.leads else None


def _gap(gap: SheetGap | None) -> Range | None:
    return _range(gap.least, gap.most, gap.unit or "") if gap else None


def _torque(one: SheetTorque | None) -> Range | None:
    return _range(one.least or one.required, one.most or one.required, one.unit or "") if one else None


def _range(least: str | None, most: str | None, unit: str, of: str = "") -> Range | None:
    low, high = (None if text is None else typed_text.number(text) for text in (least, most))
    is_backwards = low is not None and high is not None and low > high
    return None if (low is None and high is None) or is_backwards else Range(low, high, unit, of)


_OF_ENGINE: dict[str, Callable[[EngineSheet], Range | None]] = {
    "plug gap": lambda sheet: _gap(sheet.plug_gap),
    "run-up drop": lambda sheet: _run_up(sheet, "drop_most"),
    "run-up apart": lambda sheet: _run_up(sheet, "apart_most"),
}
_OF_MAGNETO: dict[str, Callable[[MagnetoSheet], Range | None]] = {
    "e-gap": _e_gap,
    "contact gap": lambda sheet: _gap(sheet.contact_gap),
    "retard breaker": _retard,
    "impulse lag": _lag,
    "lead resistance": _resistance,
}
LIMIT_NAMES = (*_OF_MAGNETO, *TORQUES, *_OF_ENGINE)
"""Every name that a step may ask for."""
