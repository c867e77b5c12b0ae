"""Rules about how the work went: what came before what, what was left out, with which tools and data."""

import re
from collections.abc import Iterator
from datetime import datetime

from desktop.core.rules.paperwork import RECORD, SHOP, CardInShop, CardRule, at_step
from desktop.core.rules.rule import Finding, Severity
from desktop.core.shop.cards.card_scope import AS_LEFT, captures_of, takes_timing
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.tools import Care
from desktop.core.timing.readings import Side, When
from desktop.core.timing.typed_card import TypedApproach, TypedMagneto

BENCH_CARD, INSTALL_CARD = "B1", "I1"
"""The cards of the internal timing on the bench, and of fitting a magneto."""

_LOOSE = "magneto loose"
_TIGHT = "magneto tight"
_PAIR = re.compile(r"stop\[([0-9]+)\]")


def _compression(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    """After the contacts, the near TDC is that of the exhaust stroke: compression is proved again."""
    steps = tuple(seen.steps_with("compression"))
    if not steps or not _takes_as_left(seen) or not seen.card.readings.stop:
        return
    first_pair = [one.by.at for one in seen.card.taken if (found := _PAIR.match(one.path)) and found[1] == "1"]
    proved = [done.by.at for step in steps if (done := seen.done(step)) and not done.skipped]
    if not any(at >= max(first_pair, default=at) for at in proved):
        yield rule.finding(at_step(steps[-1]))


def _as_found(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    """While nothing was loosened, the timing as left is that as found."""
    loosened = _loosened_at(seen)
    if loosened is None or not _takes_as_left(seen):
        return
    for side, _ in _magnetos(seen.card):
        found = [at for card in _so_far(seen) for at in _found_at(card, side)]
        if not found:
            yield rule.finding(f"{side}.approach", side=side.value, what="was not taken before something was loosened")
        elif min(at or loosened for at in found) > loosened:
            yield rule.finding(f"{side}.approach", side=side.value, what="was taken after something was loosened")


def _after_torque(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for side, magneto in _magnetos(seen.card):
        tightened = [
            done.by.at
            for step in seen.steps
            if step.board == _TIGHT and step.side in ("", side.value) and (done := seen.done(step))
        ]
        lefts = [n for n, one in enumerate(magneto.approach or (), 1) if (one.when or When.AS_LEFT) == When.AS_LEFT]
        last = seen.taken_at(f"{side}.approach[{lefts[-1]}].light") if lefts else None
        if tightened and last is not None and last < max(tightened):
            yield rule.finding(f"{side}.approach[{lefts[-1]}].light", side=side.value)


def _internal_timing(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    if seen.card.task.id != INSTALL_CARD:
        return
    finished = (OrderState.FOR_INSPECTION, OrderState.ACCEPTED)
    if not any(card.task.id == BENCH_CARD and card.state in finished for card in seen.order.cards):
        yield rule.finding("card")


def _other_magneto(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    if not _takes_as_left(seen):
        return
    here = {side for side, _ in _magnetos(seen.card)}
    fitted = {magneto.side for magneto in seen.order.engine.magnetos} or set(Side)
    left_out = {one.side for one in seen.order.left_out}
    for side in Side:
        if side in fitted and side not in here and side not in left_out:
            yield rule.finding(str(side), side=side.value)


def _out_of_date(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for number, where in _tools_used(seen).items():
        tool = seen.tool(number)
        if tool is not None and tool.is_out_of_date(seen.today):
            due = f" since {tool.due.isoformat()}" if tool.due else ""
            yield rule.finding(where, tool=f"{tool.name} ({number})", due=due)


def _not_checked(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    checked = {number for step in seen.steps_with("tool") if (done := seen.done(step)) for number in done.tools}
    for number, where in _tools_used(seen).items():
        tool = seen.tool(number)
        if tool is not None and tool.care is Care.CHECKED and number not in checked:
            yield rule.finding(where, tool=f"{tool.name} ({number})")


def _not_named(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for step in seen.steps_with("tool"):
        done = seen.done(step)
        if seen.tools and done and not done.skipped and not done.tools:
            yield rule.finding(at_step(step))


def _extension(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    given = {(entry.what or "").strip().casefold() for entry in seen.card.readings.torque or ()}
    tightens = any(step.board == _TIGHT and seen.done(step) for step in seen.steps)
    for what in seen.sheets.torques_to_the_engine if tightens else ():
        if what.strip().casefold() not in given:
            yield rule.finding("torque", what=what)


def _unprintable(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for where, signs in seen.unprintable:
        yield rule.finding(where, signs=signs)


def _magnetos(card: OrderCard) -> Iterator[tuple[Side, TypedMagneto]]:
    for side, magneto in ((Side.LEFT, card.readings.left), (Side.RIGHT, card.readings.right)):
        if magneto is not None:
            yield side, magneto


def _takes_as_left(seen: CardInShop) -> bool:
    return takes_timing(seen.card.task) and bool(captures_of(seen.card.task) & AS_LEFT)


def _so_far(seen: CardInShop) -> tuple[OrderCard, ...]:
    return tuple(card for card in seen.order.cards if card.number <= seen.card.number)


def _found_at(card: OrderCard, side: Side) -> Iterator[datetime | None]:
    """Yield when each approach as found of a side was taken; None where nobody wrote it down."""
    magneto = card.readings.left if side is Side.LEFT else card.readings.right
    approaches: tuple[TypedApproach, ...] = (magneto.approach if magneto else None) or ()
    for number, one in enumerate(approaches, 1):
        if one.when == When.AS_FOUND and one.light:
            taken = card.taken_at(f"{side}.approach[{number}].light")
            yield taken.by.at if taken else None


def _loosened_at(seen: CardInShop) -> datetime | None:
    times = [
        done.by.at
        for card in _so_far(seen)
        for step in card.task.steps
        if step.board == _LOOSE and (done := card.done(step.id)) and not done.skipped
    ]
    return min(times, default=None)


def _tools_used(seen: CardInShop) -> dict[str, str]:
    """Return each tool that was used, with where it was used first."""
    used: dict[str, str] = {}
    for done in seen.card.steps:
        for number in done.tools:
            used.setdefault(number, f"@step.{done.step}")
    for taken in seen.card.taken:
        if taken.tool:
            used.setdefault(taken.tool, taken.path)
    return used


WORK_RULES: tuple[CardRule, ...] = (
    CardRule(
        "compression-not-proved",
        Severity.STOPS,
        "No. 1 on compression: FAA-H-8083-32B pp. 4-26, 4-30.",
        ("step", "stop"),
        _compression,
    ),
    CardRule(
        "as-found-missing",
        Severity.EXPLAIN,
        "The timing as found tells of slip and wear. Common practice.",
        ("left.approach", "right.approach"),
        _as_found,
    ),
    CardRule(
        "not-checked-after-torque",
        Severity.STOPS,
        "Checked again after tightening: FAA-H-8083-32B p. 4-30.",
        ("left.approach.light", "right.approach.light"),
        _after_torque,
    ),
    CardRule(
        "internal-timing-first",
        Severity.STOPS,
        "Internal timing comes before fitting: FAA-H-8083-32B pp. 4-26, 4-29.",
        ("card",),
        _internal_timing,
    ),
    CardRule(
        "other-magneto",
        Severity.STOPS,
        "Both magnetos are read together: FAA-H-8083-32B p. 4-30.",
        ("left", "right"),
        _other_magneto,
    ),
    CardRule("tool-out-of-date", Severity.STOPS, "Calibrated test equipment: 14 CFR 145.109.", ("tool",), _out_of_date),
    CardRule("tool-not-checked", Severity.STOPS, SHOP, ("tool",), _not_checked),
    CardRule("tools-not-named", Severity.STOPS, SHOP, ("tool",), _not_named),
    CardRule(
        "torque-without-extension",
        Severity.STOPS,
        "An extension changes the wrench's setting: TM 1-1500-204-23-9.",
        ("torque",),
        _extension,
    ),
    CardRule("sign-not-printable", Severity.STOPS, RECORD, ("text",), _unprintable),
)
