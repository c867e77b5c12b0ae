"""The drift of one magneto: its visits in lines, its picture, and the forecast in words."""

from PySide6.QtCore import QObject, Signal

from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.visits import History, MagnetoVisit, Meter, history_of
from desktop.core.typed_text import degrees, deviation_words, plain
from desktop.usecases.drift_drawing import LEAST_VISITS, drift_drawing, drift_words
from desktop.usecases.shop.lists.look_back import visits_back
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.pieces.order_words import day_words
from desktop.viewmodels.pieces.piecewise import Piecewise
from reports.drawing import Drawing

NO_VISITS = (
    "Two visits are needed",
    (
        "The drift of a magneto stands here as a picture, with its limits and a forecast, once two of its visits can "
        "be compared: one as left, a later one as found, with hours at both. Begin with a work order that has this "
        "serial number at its intake, and take the readings as found and as left on its card."
    ),
)


def _hours(visit: MagnetoVisit) -> str:
    if visit.since_overhaul is not None:
        return f"{plain(visit.since_overhaul)} h since overhaul"
    return f"{plain(visit.total_time)} h total time" if visit.total_time is not None else "no hours written"


def _limits(visit: MagnetoVisit) -> str:
    if visit.limits is None:
        return ""
    return f"within {degrees(visit.limits.advanced_most)} advanced, {degrees(visit.limits.retarded_most)} retarded"


VISIT_COLUMNS = (
    ListColumn("Order", lambda visit: order_name(visit.order), 104, strong=True, narrow_width=104),
    ListColumn("Day", lambda visit: day_words(visit.on), 120, below=("Hours", "Limits", "Aircraft"), narrow_width=0),
    ListColumn("Hours", _hours, 190, quiet=True),
    ListColumn(
        "As found",
        lambda visit: "not known" if visit.found is None else deviation_words(visit.found),
        132,
        narrow_width=140,
    ),
    ListColumn(
        "As left",
        lambda visit: "not known" if visit.left is None else deviation_words(visit.left),
        132,
        narrow_width=140,
    ),
    ListColumn("Limits", _limits),
    ListColumn("Aircraft", lambda visit: f"{visit.registration}, {visit.side} magneto", 180, quiet=True),
)


class DriftDesk(QObject):
    """Looks at one magneto at a time. ``history_changed`` says that there is something new to show."""

    history_changed = Signal()
    refused = Signal(str)

    def __init__(self, shop: Shop, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self.history: History = history_of("", ())
        self.model = LinesModel(VISIT_COLUMNS, lambda visit: visit.order, self)
        self._pieces = Piecewise(self)
        self._pieces.refused.connect(self.refused)
        self._pieces.finished.connect(self._show)

    @property
    def is_busy(self) -> bool:
        """Whether the orders are being read."""
        return self._pieces.is_busy

    @property
    def serial(self) -> str:
        """The serial number of the magneto."""
        return self.history.serial

    def look(self, serial: str) -> None:
        """Look at the visits of a magneto."""
        self._become(history_of(serial.strip(), ()))
        self._pieces.begin(visits_back(self._shop.store, self._shop.rulebook, serial))

    def rest(self) -> None:
        """Read no more."""
        self._pieces.stop()

    def drawing(self) -> Drawing | None:
        """Return the picture; None while two visits cannot be compared."""
        return drift_drawing(self.history)

    def words(self) -> tuple[str, ...]:
        """Say the drift, the forecast, and which visits stand in the table only."""
        if len(self.history.compared) < LEAST_VISITS:
            return ()
        said = [drift_words(self.history)]
        if apart := len(self.history.visits) - len(self.history.compared):
            visits = "1 visit stands" if apart == 1 else f"{apart} visits stand"
            why = (
                "no hours since overhaul, or before an overhaul"
                if self.history.meter is Meter.SINCE_OVERHAUL
                else "no hours, or on another aircraft"
            )
            said.append(f"{visits} in the table only: {why}.")
        return tuple(said)

    def _show(self, visits: tuple[object, ...]) -> None:
        self._become(history_of(self.serial, visits))  # type: ignore[arg-type]  # what visits_back gives

    def _become(self, history: History) -> None:
        self.history = history
        self.model.show_lines(tuple(reversed(history.visits)))
        self.history_changed.emit()
