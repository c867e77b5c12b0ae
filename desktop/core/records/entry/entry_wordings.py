"""The sentences of a maintenance entry: people, timing, run-up, parts, directives, and the wording that is proposed."""

from collections.abc import Iterable, Sequence
from fractions import Fraction

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import DirectiveDone, DirectiveSearch
from desktop.core.shop.aircraft.parts import Part
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import RunUp
from desktop.core.timing.results import MagnetoResult, Timing, Verdict, Worked
from desktop.core.timing.run_up import Drops
from desktop.core.typed_text import degrees, deviation_words, plain
from desktop.core.words import day_words

_OUTSIDE = "outside its limits"
_VERDICTS = {Verdict.ADVANCED: _OUTSIDE, Verdict.RETARDED: _OUTSIDE, Verdict.TOO_CLOSE: "too close to a limit"}
"""What follows a deviation, which says itself to which side it lies."""


def person_words(person_id: str, people: Iterable[Person]) -> str:
    """Name a person with initials and certificate; somebody who is not on the roster by the initials."""
    found = next((person for person in people if person.id == person_id), None)
    if found is None:
        return person_id
    certificate = " ".join(part for part in (found.certificate_kind, found.certificate_number) if part)
    return f"{found.name} ({found.id})" + (f", certificate {certificate}" if certificate else "")


def doer_words(stamp: Stamp, people: Sequence[Person]) -> str:
    """Name somebody who did work; a helper with the supervisor."""
    under = f", under {person_words(stamp.under, people)}" if stamp.under else ""
    return person_words(stamp.person, people) + under


def log_words(order: WorkOrder) -> str:
    """Say in which log the entry belongs: on a twin it is that of the engine in the order's position."""
    engine = order.engine
    which = (
        "the engine's log" if engine.position is EnginePosition.SINGLE else f"the log of the {engine.position} engine"
    )
    named = ", ".join(part for part in (engine.type, f"no. {engine.serial}" if engine.serial else "") if part)
    return f"{which}: {named}" if named else which


def btdc_words(btdc: Fraction) -> str:
    """Say where in the crankshaft's turn something lies."""
    return f"{degrees(btdc)} BTDC" if btdc >= 0 else f"{degrees(-btdc)} after TDC"


def timing_fact_words(timing: Timing | None, none: str) -> str:
    """Say a timing with its deviation and verdict; ``none`` where none is established."""
    if timing is None:
        return none
    verdict = _VERDICTS.get(timing.verdict, timing.verdict)
    return f"{btdc_words(timing.btdc)}, {deviation_words(timing.deviation)}; {verdict}"


def limits_words(worked: Worked, result: MagnetoResult) -> str:
    """Say between which firing positions a timing may lie, and the nominal one."""
    nominal, limits = result.magneto.nominal, worked.card.limits
    latest, earliest = nominal - limits.retarded_most, nominal + limits.advanced_most
    return f"{btdc_words(latest)} to {btdc_words(earliest)}, nominal {btdc_words(nominal)}"


def run_up_words(run_up: RunUp, drops: Drops) -> str:
    """Say the run-up with its drops and their limits; rpm."""
    return (
        f"{plain(run_up.both_rpm)} rpm on both; on left {plain(run_up.left_rpm)} rpm, drop {plain(drops.left_drop)}; "
        f"on right {plain(run_up.right_rpm)} rpm, drop {plain(drops.right_drop)}; drops {plain(abs(drops.difference))} "
        f"apart. Limits: drop {plain(run_up.drop_most)} rpm, {plain(run_up.apart_most)} rpm apart; "
        f"{'within' if drops.is_within else 'outside'}"
    )


def part_words(part: Part) -> str:
    """Say a part with number, serial or batch, quantity, paper and tag."""
    said = (
        f"part no. {part.number}",
        part.name,
        f"serial or batch {part.serial}" if part.serial else "",
        f"quantity {part.quantity}",
        f"paper {part.paper}" if part.paper else "",
        f"tag {part.tag}" if part.tag else "",
    )
    return ", ".join(text for text in said if text)


def directive_words(done: DirectiveDone) -> str:
    """Say a directive complied with: number, amendment and date, on what, method, once or recurring, next due."""
    one = done.directive
    said = (
        one.number,
        f"amendment {one.amendment}" if one.amendment else "",
        f"dated {day_words(one.dated)}" if one.dated else "",
        f"{one.subject} {one.serial}".strip(),
        f"complied with on {day_words(one.done_on)} by {one.method}",
        "recurring" if one.recurring else "once",
        f"next due at {one.next_due_hours} hours" if one.next_due_hours else "",
        f"next due on {day_words(one.next_due_on)}" if one.next_due_on else "",
    )
    return ", ".join(text for text in said if text)


def search_words(search: DirectiveSearch, people: Sequence[Person]) -> str:
    """Say who looked for directives, when, in what and for what."""
    subjects = ", ".join(search.subjects)
    on = day_words(search.by.at.date())
    return (
        f"looked for directives on {subjects} in {search.looked_in}, {on}, by {person_words(search.by.person, people)}"
    )


def work_words(order: WorkOrder, data: Sequence[str]) -> str:
    """Propose the description of the work: the task cards that were done, and the data that they followed."""
    engine = "engine" if order.position is EnginePosition.SINGLE else f"{order.position} engine"
    cards = "; ".join(f"{card.task.title} (card {card.task.id}, revision {card.task.revision})" for card in order.cards)
    followed = f" The work followed {'; '.join(data)}." if data else ""
    return f"On the {engine}: {cards}.{followed}" if cards else ""


def extent_words(order: WorkOrder) -> str:
    """Propose the extent of an inspection: what this order covers of it."""
    titles = "; ".join(card.task.title for card in order.cards)
    return f"Of the inspection, this entry covers the ignition system only: {titles}." if titles else ""
