"""The tools of the shop: the list, and the form of one tool."""

from desktop.viewmodels.shop.tool_form import ToolForm
from desktop.viewmodels.shop.tools_model import ToolsDesk
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look
from desktop.windows.shop.signed_list_page import SignedListPage

KEYS = "Up, Down: choose   Enter: change   Alt+D: add"
ONE_LINE = 1140
"""From this width on, in the grid's pixels, everything about a tool has a column of its own."""
NO_TOOLS = (
    "No tool yet",
    (
        "The tools that cards ask for stand here: lights, discs, stops, wrenches. Those that the shop's list has "
        "calibrated get a day until which that holds; the others are checked before use. Begin with the button at the "
        "bottom right."
    ),
)
TASK = "The shop's own list decides what is calibrated and what is checked before each use."


class ToolsPage(SignedListPage):
    """Shows the tools of a desk."""

    def __init__(self, desk: ToolsDesk, look: Look) -> None:
        self._tools = desk
        self._tool = ToolForm()
        super().__init__(
            desk,
            self._tool,
            ListPage("Tools", desk.model, NO_TOOLS, "A&dd a tool", KEYS, look, narrow_below=ONE_LINE),
            EntryPage(self._tool, "Keep on the list", "Back to the tools", look),
            look,
        )
        self._tool.setParent(self)

    def open_new(self) -> None:
        """Begin a new tool, or go on with the one that was begun."""
        self._tool.begin_new(self._tools.tools)
        self.show_form("", "New tool", TASK)

    def open_line(self, row: int) -> None:
        """Open a tool of the list, with what was typed there and not kept."""
        tool = self._tools.model.line(row).tool
        self._tool.begin_with(tool)
        self.show_form(tool.id, f"{tool.id}, {tool.name}", TASK)

    def keep(self) -> None:
        """Keep the tool that the form says."""
        tool, seen = self._tool.tool(), self._tool.seen_version
        asks = self._tools.asks(tool)
        if asks is None:
            self._tools.keep(tool, seen)
        else:
            self.keep_signed(asks, lambda typed: self._tools.sign_keep(tool, seen, typed.secret))
