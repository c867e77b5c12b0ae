"""The limits sheets of a card together: one of the engine, one of each magneto."""

from collections.abc import Iterable
from dataclasses import dataclass

from desktop.core.shop.aircraft.intake import Plate
from desktop.core.shop.sheets.sheet_fit import plate_misfits
from desktop.core.shop.sheets.sheet_limits import Range, limit_for
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, Sheet
from desktop.core.timing.readings import Side

MOUNTING = ("clamp", "nut")
"""The torques with which a magneto is fastened to the engine."""


@dataclass(frozen=True, slots=True)
class SheetSet:
    """What stands on the limits sheets that a card was issued with; what has no sheet is None."""

    engine: EngineSheet | None = None
    left: MagnetoSheet | None = None
    right: MagnetoSheet | None = None

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheets that there are."""
        return tuple(sheet for sheet in (self.engine, self.left, self.right) if sheet is not None)

    @property
    def names(self) -> tuple[tuple[str, str], ...]:
        """What the sheets are about, each name with the path at which it stands."""
        engine = [("engine", name) for name in (self.engine.types or ())] if self.engine else []
        magnetos = [
            (side.value, name)
            for side, sheet in ((Side.LEFT, self.left), (Side.RIGHT, self.right))
            for name in (sheet.part_numbers or () if sheet else ())
        ]
        return (*engine, *magnetos)

    @property
    def torques_to_the_engine(self) -> tuple[str, ...]:
        """What fastens a magneto to the engine and has a required torque on the engine's sheet.

        The nut of a magneto's own sheet is that of its drive, which is tightened on the bench.
        """
        found = [one.what for one in (self.engine.torque or () if self.engine else ()) if one.what in MOUNTING]
        return tuple(dict.fromkeys(found))

    def of(self, side: Side) -> MagnetoSheet | None:
        """Return the sheet of one side's magneto."""
        return self.left if side is Side.LEFT else self.right

    def plate_troubles(self, plate: Plate) -> tuple[tuple[str, str], ...]:
        """Return where a data plate does not fit the sheets, each path with what is wrong, in words."""
        misfits = plate_misfits(plate, self.engine, self.of(plate.side))
        return tuple((misfit.where, misfit.sentence) for misfit in misfits)

    def limit_for(self, name: str, side: str) -> Range | None:
        """Return the limits of a reading by the name that its step gives; None where no sheet has them."""
        return limit_for(name, Side(side) if side else None, self.engine, self.left, self.right) if name else None


def sheet_set(sheets: Iterable[tuple[str, Sheet]]) -> SheetSet:
    """Return the sheets of a card by what each is for: engine, left or right."""
    by_place = dict(sheets)
    engine, left, right = (by_place.get(place) for place in ("engine", "left", "right"))
    return SheetSet(
        engine if isinstance(engine, EngineSheet) else None,
        left if isinstance(left, MagnetoSheet) else None,
        right if isinstance(right, MagnetoSheet) else None,
    )
