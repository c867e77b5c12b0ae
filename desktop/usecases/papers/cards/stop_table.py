"""The stop contacts as a table: filled in, or boxes for the pencil."""

from desktop.core.timing.results import Worked
from desktop.core.timing.tdc import Pair, closing_offs, closing_room
from desktop.core.typed_text import degrees
from desktop.core.typed_text import plain as plain_number
from desktop.usecases.papers.cards.capture import FILLED_COLUMNS, Capture
from reports.document import Block, ReadingRow, ReadingTable, plain


def stop_pairs(capture: Capture, *, after_zeroing: bool) -> tuple[Block, ...]:
    """Return the pairs of one step, and what they give for TDC."""
    worked = capture.worked
    taken: list[Pair] = []
    if not capture.blank:
        taken = [pair for pair in worked.tdc.pairs if _belongs(worked, pair, closing=after_zeroing)]
    rows: list[ReadingRow] = []
    for pair in taken:
        stop = worked.card.stops[pair.place - 1]
        middle = f"arc {degrees(pair.arc)}, midpoint at {worked.scale.written(pair.midpoint)}"
        words = middle if pair.is_sound else f"arc {degrees(pair.arc)}: gives no TDC"
        if after_zeroing and pair.is_sound:
            words = _closing_words(worked, pair)
        path = f"stop[{pair.place}]"
        rows.append(
            ReadingRow(
                capture.row(len(rows) + 1),
                "Stop touched with rotation",
                reading=stop.with_rotation.typed,
                remark=capture.mark(f"{path}.with"),
            )
        )
        rows.append(
            ReadingRow(
                capture.row(len(rows) + 1),
                "Stop touched against rotation",
                reading=stop.against_rotation.typed,
                worked_out=words,
                remark=capture.mark(f"{path}.against"),
            )
        )
    if not rows:
        target = (
            f"0 ± {plain_number(closing_room(worked.card))}" if after_zeroing and worked.card.measure.zeroed else ""
        )
        rows = _empty_rows(capture, target)
    blocks: list[Block] = [ReadingTable(tuple(rows), FILLED_COLUMNS)]
    tdc = worked.tdc.tdc
    if tdc and taken and not after_zeroing:
        written = worked.scale.written
        words = f"TDC at {written(tdc.reading)} on the disc as it stood. "
        if worked.card.measure.zeroed:
            words += (
                f"To make TDC read 0, set the disc to {written(tdc.setting_against)} while the piston rests on the "
                f"contact against rotation, or to {written(tdc.setting_with)} on the contact with rotation."
            )
        blocks.append(plain(words))
    return tuple(blocks)


def _empty_rows(capture: Capture, target: str) -> list[ReadingRow]:
    """Return boxes for the pencil; half the arc serves only where the disc turns as the crankshaft does."""
    card = capture.worked.card
    asked = ["Stop touched with rotation", "Stop touched against rotation"]
    if card.carrier_ratio == 1:
        asked += ["Short arc through TDC", "Half of it"]
    rows = [ReadingRow(capture.row(place), what) for place, what in enumerate(asked, 1)]
    if target:
        return [*rows, ReadingRow(capture.row(len(rows) + 1), "Midpoint of the two", target=target)]
    if card.measure.zeroed:
        resting = ("on the contact with rotation", "on the contact against")
        rows.append(ReadingRow(capture.row(len(rows) + 1), "Disc set to"))
        rows.append(ReadingRow(capture.row(len(rows) + 1), "While the piston rests", choices=resting))
    return rows


def _closing_words(worked: Worked, pair: Pair) -> str:
    """Say how far a closing pair is off, against what is allowed."""
    off = abs(dict(closing_offs(worked.card, worked.tdc.pairs))[pair.place])
    room = closing_room(worked.card)
    return f"{degrees(off)} off, {degrees(room)} allowed: {'the disc moved' if off > room else 'agrees'}"


def _belongs(worked: Worked, pair: Pair, *, closing: bool) -> bool:
    """Tell whether a pair is the closing one of its card; without zeroing that is the last of several."""
    is_closing = pair.after_zeroing
    if not worked.card.measure.zeroed:
        is_closing = len(worked.tdc.pairs) > 1 and pair.place == len(worked.tdc.pairs)
    return is_closing is closing
