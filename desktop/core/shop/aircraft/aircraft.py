"""Aircraft with their engines by position, and the magnetos of each engine by serial number."""

from dataclasses import dataclass
from enum import StrEnum

from desktop.core.timing.readings import Side


class EnginePosition(StrEnum):
    """Where an engine sits, as seen by the pilot."""

    LEFT = "left"
    RIGHT = "right"
    SINGLE = "single"


@dataclass(frozen=True, slots=True)
class MagnetoFitted:
    """A magneto on an engine: on which side, and which one it is."""

    side: Side
    part_number: str = ""
    serial: str = ""


@dataclass(frozen=True, slots=True)
class EngineFitted:
    """An engine on an aircraft; ValueError when two magnetos stand on one side."""

    position: EnginePosition
    type: str = ""
    serial: str = ""
    magnetos: tuple[MagnetoFitted, ...] = ()

    def __post_init__(self) -> None:
        sides = [magneto.side for magneto in self.magnetos]
        if len(set(sides)) != len(sides):
            raise ValueError("two magnetos stand on one side of an engine")


@dataclass(frozen=True, slots=True)
class Aircraft:
    """An aircraft; ValueError when two engines stand in one position, or a single engine beside another."""

    registration: str
    type: str = ""
    serial: str = ""
    engines: tuple[EngineFitted, ...] = ()

    def __post_init__(self) -> None:
        positions = [engine.position for engine in self.engines]
        if len(set(positions)) != len(positions) or (EnginePosition.SINGLE in positions and len(positions) > 1):
            raise ValueError("engines do not fit together: one single engine, or one left and one right")

    def engine_at(self, position: EnginePosition) -> EngineFitted | None:
        """Return the engine in a position."""
        return next((engine for engine in self.engines if engine.position is position), None)
