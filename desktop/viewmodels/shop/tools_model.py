"""The tools of the shop in lines: number, name, care, and whether each may be used today."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QObject

from desktop.core.errors import Refusal
from desktop.core.shop.tools import Care, Tool
from desktop.usecases.records.signing.sign_lists import TOOL_KEPT, sign_tool, tool_rows
from desktop.usecases.shop.lists.keep_lists import keep_tool
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.pieces.bench import Bench
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.pieces.list_desk import ListDesk
from desktop.viewmodels.pieces.order_words import day_words
from desktop.viewmodels.signing.enrol_desk import Asks


@dataclass(frozen=True, slots=True)
class ToolLine:
    """A tool as it stands on a day."""

    tool: Tool
    today: date


def _care(line: ToolLine) -> str:
    if line.tool.care is Care.CHECKED:
        return line.tool.care.value
    return "out of date" if line.tool.is_out_of_date(line.today) else line.tool.care.value


def _ring(line: ToolLine) -> Progress:
    if line.tool.care is Care.CHECKED:
        return Progress.EMPTY
    return Progress.STOPS if line.tool.is_out_of_date(line.today) else Progress.DONE


TOOL_COLUMNS = (
    ListColumn("Number", lambda line: line.tool.id, 144, strong=True, narrow_width=130),
    ListColumn("Tool", lambda line: line.tool.name, below=("Serial number", "Lamp"), narrow_width=0),
    ListColumn("Serial number", lambda line: line.tool.serial, 200),
    ListColumn("Lamp", lambda line: line.tool.lamp.value if line.tool.lamp else "", 168, quiet=True),
    ListColumn("Care", _care, 176, ring=_ring, below=("Calibration",), narrow_width=184),
    ListColumn("Calibration", lambda line: f"until {day_words(line.tool.due)}" if line.tool.due else "", 168),
)


class ToolsDesk(ListDesk):
    """The list of tools of a shop."""

    def __init__(
        self,
        shop: Shop,
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
        *,
        bench: Bench | None = None,
    ) -> None:
        super().__init__(shop, who, new_id, parent)
        self._bench = bench
        self.model = LinesModel(TOOL_COLUMNS, lambda line: line.tool.id, self)
        self.tools: tuple[Tool, ...] = ()

    def look(self) -> None:
        """Read the list again; what is out of date stands first."""
        try:
            self.tools = self.shop.store.tools()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        today = self.shop.clock.now().date()
        lines = sorted((ToolLine(tool, today) for tool in self.tools), key=lambda line: _ring(line) != Progress.STOPS)
        self.model.show_lines(lines)
        self.lines_changed.emit()

    def notice(self) -> str:
        """Say how many tools stop an approval."""
        today = self.shop.clock.now().date()
        count = sum(tool.is_out_of_date(today) for tool in self.tools)
        if not count:
            return ""
        words = "1 tool is" if count == 1 else f"{count} tools are"
        return f"{words} out of date. A card on which an out-of-date tool was used cannot be approved."

    def keep(self, tool: Tool, seen: int) -> bool:
        """Put a tool on the list, or keep what changed about it."""
        return self.ask(tool, lambda request: keep_tool(self.shop, request, tool), seen=seen, words=_said(tool, seen))

    def asks(self, tool: Tool) -> Asks | None:
        """Return what a signature under a tool asks for; None in a shop that signs nothing."""
        if self._bench is None or self._bench.signs is None:
            return None
        lines = "; ".join(f"{row.label}: {row.text}" for row in tool_rows(tool))
        return Asks(f"Sign tool {tool.id}", f"{TOOL_KEPT} {lines}.", "Sign", secret_of=self.name_of_signer(), who_is="")

    def sign_keep(self, tool: Tool, seen: int, secret: str) -> str:
        """Keep a tool with a signature; return why it was not kept, empty when it was."""
        signing = self._bench.signs if self._bench is not None else None
        if signing is None:
            return "This shop signs nothing yet. Enrol somebody first."
        verb = lambda request: sign_tool(signing.desk, request, tool, secret)  # noqa: E731 - what is asked for
        return self.sign(verb, seen=seen, words=_said(tool, seen))


def _said(tool: Tool, seen: int) -> str:
    return f"{tool.id}, {tool.name}, is on the list." if not seen else f"{tool.id} is kept as changed."
