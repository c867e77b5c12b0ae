"""The form of a tool: number, name, care, the day until which its calibration holds, serial number, lamp."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QObject

from desktop.core.shop.tools import Care, Lamp, Tool, tool_faults
from desktop.core.timing.faults import Fault
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field, Group, choice, words_of
from desktop.viewmodels.pieces.order_words import day_words
from desktop.viewmodels.pieces.typed_dates import typed_day

NUMBER = Field("id", "Number", hint="needed; the one that stands on the tool")
NAME = Field("name", "Tool", hint="needed, such as timing light")
CARE = choice("care", "Care", words_of(Care), hint="needed; the shop's list decides")
DUE = Field("due", "Calibrated until", optional=True, hint="for a calibrated tool, such as 1 Dec 2026")
SERIAL = Field("serial", "Serial number", optional=True)
LAMP = choice("lamp", "Lamp", words_of(Lamp), optional=True, hint="for a timing light")


class ToolForm(EntryForm):
    """A tool as typed; ``begin_new`` and ``begin_with`` are told what is on the list."""

    columns = ((Group("Tool", (NUMBER, NAME, SERIAL)),), (Group("Fit for use", (CARE, DUE, LAMP)),))
    days = (DUE.path,)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._listed: tuple[Tool, ...] = ()
        self._kept: Tool | None = None

    def begin_new(self, listed: Sequence[Tool]) -> None:
        """Begin an empty form."""
        self._listed, self._kept = tuple(listed), None
        self.begin({}, 0)

    def begin_with(self, tool: Tool) -> None:
        """Begin with a tool of the list."""
        self._listed, self._kept = (), tool
        lamp = tool.lamp.value if tool.lamp else None
        values = {"id": tool.id, "name": tool.name, "care": tool.care.value, "serial": tool.serial, "lamp": lamp}
        self.begin(values | {DUE.path: day_words(tool.due)}, tool.version)

    def is_open(self, field: Field) -> bool:
        """Tell whether a field takes typing: the number stands on records and stays as it is."""
        return self.is_new or field.path != NUMBER.path

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether a field need not be stopped at: the day of a calibration where none is asked for."""
        is_checked = self.text(CARE.path) == Care.CHECKED.value
        return not self.is_open(field) or (field.path == DUE.path and is_checked and DUE.path not in self.values)

    def tool(self) -> Tool:
        """Return the tool that the form says."""
        care, lamp = self.text(CARE.path), self.text(LAMP.path)
        return replace(
            self._kept or Tool("", "", Care.CHECKED),
            id=self.text(NUMBER.path),
            name=self.text(NAME.path),
            care=Care(care) if care else Care.CHECKED,
            due=typed_day(self.text(DUE.path)),
            serial=self.text(SERIAL.path),
            lamp=Lamp(lamp) if lamp else None,
        )

    def own_faults(self) -> tuple[Fault, ...]:
        """Return what the core says of the tool, care that is missing, and a number that another tool has."""
        found = list(tool_faults(self.tool()))
        if not self.text(CARE.path):
            found.append(
                Fault(CARE.path, "The care is missing. Choose whether it is calibrated or checked before use.")
            )
        other = next((tool for tool in self._listed if tool.id == self.text(NUMBER.path)), None)
        if other is not None:
            found.append(Fault(NUMBER.path, f"{other.id} is {other.name}. Write another number."))
        return tuple(found)
