"""The verdict on a magneto of a card that only takes the timing as found: what was found, and whether it was within."""

from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.typed_text import degrees
from desktop.core.words import timing_words
from desktop.usecases.dial import View, dial
from desktop.usecases.magnified import magnified
from desktop.usecases.papers.cards.task_card import picture_of
from reports.document import Beside, KeepTogether, Result, RingShape, plain

NOT_FOUND = "No approach as found counts. The row of each says why."


def found_block(worked: Worked, result: MagnetoResult) -> KeepTogether:
    """Return what was found of one magneto with its dial; being out as found stops nothing, and asks for the work."""
    side, timing = result.magneto.side.capitalize(), result.found_timing
    shape: RingShape = "crossed"
    words, line = "not established", NOT_FOUND
    if timing is not None:
        limits = worked.card.limits
        is_within = -limits.retarded_most <= timing.deviation <= limits.advanced_most
        shape = "closed" if is_within else "half"
        words = f"{degrees(timing.btdc)} BTDC, {'within limits' if is_within else 'OUT OF LIMITS'}"
        line = timing_words(worked.card, timing, result.magneto.nominal)
    verdict = Result(f"{side} magneto. As found: {words}", shape, (plain(line),))
    ruler = picture_of(magnified(worked, result, View.PROPELLER))
    return KeepTogether((verdict, Beside(picture_of(dial(worked, result, View.PROPELLER)), (ruler,))))
