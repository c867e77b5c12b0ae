"""The form of the intake: logs, hours, complaint and both data plates, as long as nothing was submitted."""

from PySide6.QtCore import QObject

from desktop.core.shop.aircraft.intake import Intake, Plate, intake_faults
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.timing.faults import Fault
from desktop.core.timing.readings import Hand, Side
from desktop.core.timing.typed_paths import Value
from desktop.usecases.shop.orders.take_in import take_in
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.around_form import AroundForm, FormWords
from desktop.viewmodels.orders.new_order_fields import COMPLAINT, LOGS, plate_group
from desktop.viewmodels.orders.typed_order import intake_from, sentence
from desktop.viewmodels.pieces.fields import Field, Group

TASK = "Copy the hours from the logs, and the plates from the magnetos."
FROZEN = " Cards that are issued keep what the plates said then."
BEGINNING = (OrderState.OPEN, OrderState.ISSUED)
SUBMITTED = (OrderState.FOR_INSPECTION, OrderState.ACCEPTED)


def may_change(order: WorkOrder) -> bool:
    """Tell whether the intake may still be written: nothing on the order was submitted."""
    return order.state in BEGINNING and not any(card.state in SUBMITTED for card in order.cards)


class IntakeForm(AroundForm):
    """The intake of an order. A plate that nobody wrote begins with the numbers that the order has."""

    columns = (
        (Group("The job", (COMPLAINT,)), LOGS),
        tuple(plate_group(side) for side in Side),
    )

    def __init__(self, order: WorkOrder, parent: QObject | None = None) -> None:
        super().__init__(parent)
        task = TASK + (FROZEN if order.cards else "")
        self.words = FormWords("Intake", task, "Keep the intake", "The intake is kept.")
        self.begin(_values(order), 0)

    def intake(self) -> Intake:
        """Return the intake that the form says."""
        return intake_from(self.values)

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether Enter may pass a field over: what stands there already."""
        return bool(self.values.get(field.path))

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Write the intake."""
        return take_in(shop, request, number, self.intake())

    def own_faults(self) -> tuple[Fault, ...]:
        """Say which numbers cannot be read, each at its field."""
        return tuple(
            Fault(one.where, sentence(one.expected.replace("expected", "write", 1)))
            for one in intake_faults(self.intake())
        )


def _values(order: WorkOrder) -> dict[str, Value]:
    intake = order.taken_in.intake if order.taken_in else Intake()
    values: dict[str, Value] = {
        "logs_seen": intake.logs_seen,
        "total_time": intake.total_time,
        "tachometer": intake.tachometer,
        "complaint": intake.complaint,
    }
    fitted = {one.side: Plate(one.side, one.part_number, one.serial) for one in order.engine.magnetos}
    for side in Side:
        plate = intake.plate(side) or fitted.get(side) or Plate(side)
        values |= {
            f"{side}.part_number": plate.part_number,
            f"{side}.serial": plate.serial,
            f"{side}.hand": plate.hand.value if isinstance(plate.hand, Hand) else "",
            f"{side}.lag": plate.lag,
            f"{side}.since_overhaul": plate.since_overhaul,
        }
    return values
