"""The steps of a card: its own, those for each magneto made into two, and the sections that it uses of other cards."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import (
    CUT,
    CUT_ANSWERS,
    CUT_STOPS,
    ELSEWHERE,
    SIDES,
    Box,
    BoxKind,
    Say,
    Step,
    TaskCard,
    fact_of,
)
from desktop.files.card_faults import MAGNETO, SIDE
from desktop.files.card_tables import CardTable, StepTable, UseTable
from desktop.files.text_faults import condition_faults, id_faults, instruction_faults
from desktop.files.toml_faults import shown, table_words

MOST_STEPS = 200
"""Most steps of a card with everything that it uses: more is no card that anybody works through."""


class CardBook:
    """The cards whose tables were read, by id, put together when asked for; each knows its file's name."""

    def __init__(self, tables: Mapping[str, tuple[str, CardTable]], known: Sequence[TaskCard]) -> None:
        self._tables = tables
        self._done = {card.id: card for card in known}

    def card(self, card_id: str, trail: tuple[str, ...] = ()) -> TaskCard:
        """Return a card with all its steps; raise Refusal with file, step or use, and key of what is wrong."""
        if card_id not in self._done:
            name, table = self._tables[card_id]
            steps = self._steps(name, table, (*trail, card_id))
            scheme = table.scheme or self.card(table.use[0].card).scheme
            self._done[card_id] = TaskCard(table.id, table.revision, table.title, scheme, table.applies, steps)
        return self._done[card_id]

    def _steps(self, name: str, table: CardTable, trail: tuple[str, ...]) -> tuple[Step, ...]:
        steps: dict[str, Step] = {}
        origin: dict[str, str] = {}
        for where, step in self._in_order(name, table, trail):
            if step.id in steps:
                raise Refusal(f"{name}: {where}: the step {step.id} stands on the card already ({origin[step.id]}).")
            if len(steps) == MOST_STEPS:
                raise Refusal(f"{name}: {where}: more than {MOST_STEPS} steps. Make two cards of it.")
            steps[step.id], origin[step.id] = step, where
        return tuple(steps.values())

    def _in_order(self, name: str, table: CardTable, trail: tuple[str, ...]) -> Iterator[tuple[str, Step]]:
        """Yield the steps in the order of the work, each with the place that it comes from."""
        used: dict[str, list[tuple[int, UseTable]]] = {}
        for place, use in enumerate(table.use, 1):
            used.setdefault(use.before, []).append((place, use))
        for run in _runs(table.step, frozenset(used)):
            yield from self._used_here(name, used.get(run[0][1].id, []), trail)
            for side in SIDES if run[0][1].each else ("",):
                for number, step in run:
                    where = f"{table_words('step', number, step.id)}: id"
                    for made in _made(step, side):
                        yield where, _sound(name, where, made)
        yield from self._used_here(name, used.get("", []), trail)

    def _used_here(
        self, name: str, uses: Sequence[tuple[int, UseTable]], trail: tuple[str, ...]
    ) -> Iterator[tuple[str, Step]]:
        for place, use in uses:
            for step in self._used(name, place, use, trail):
                yield f"use {place}: sections", step

    def _used(self, name: str, place: int, use: UseTable, trail: tuple[str, ...]) -> tuple[Step, ...]:
        where = f"{name}: use {place}"
        if use.card in trail:
            raise Refusal(f"{where}: card: a circle: {' uses '.join((*trail, use.card))}. Take one of the uses out.")
        if use.card not in self._done and use.card not in self._tables:
            raise Refusal(f"{where}: card: {shown(use.card)} is not known here. Name a card that there is.")
        steps = self.card(use.card, trail).steps
        there = {step.section for step in steps} - {""}
        for section in use.sections:
            if section not in there:
                names = ", ".join(sorted(there)) or "none"
                raise Refusal(f"{where}: sections: {shown(section)} is no section of {use.card}. It has: {names}.")
        chosen = [step for section in use.sections for step in steps if step.section == section]
        used = tuple(_fitted(step, use) for step in chosen)
        for step in used:
            for _, fault in condition_faults("only", step.only):
                raise Refusal(f"{where}: only: with the step {step.id}, {fault}")
        return used


def _fitted(step: Step, use: UseTable) -> Step:
    """Return a used step with the conditions of its use, and free of those about other cards when it is used whole."""
    only = tuple(dict.fromkeys((*step.only, *use.only)))
    if not use.whole:
        return replace(step, only=only)
    return replace(
        step,
        only=_whole(only),
        boxes=tuple(replace(box, only=_whole(box.only)) for box in step.boxes if not _asks_elsewhere(box.only)),
        says=tuple(replace(say, only=_whole(say.only)) for say in step.says if not _asks_elsewhere(say.only)),
    )


def _whole(only: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(one for one in only if fact_of(one) not in ELSEWHERE)


def _asks_elsewhere(only: tuple[str, ...]) -> bool:
    return any(one in ELSEWHERE for one in only)


def _runs(steps: Sequence[StepTable], breaks: frozenset[str]) -> Iterator[list[tuple[int, StepTable]]]:
    """Yield steps with their numbers: one by one, and those for each together until something else stands between."""
    run: list[tuple[int, StepTable]] = []
    for number, step in enumerate(steps, 1):
        if run and not (run[-1][1].each and step.each and step.id not in breaks):
            yield run
            run = []
        run.append((number, step))
    if run:
        yield run


def _made(table: StepTable, side: str) -> Iterator[Step]:
    """Yield what a step becomes for a side: with the left magneto also the one housing of both breakers."""
    if not table.each:
        yield _step(table)
        return
    if table.each == "side":
        yield _filled(table, side, side, f"{side} magneto", (side,))
        return
    yield _filled(table, side, side, f"{side} magneto", (side, "not one housing"))
    if side == SIDES[0]:
        yield _filled(table, "", "housing", "housing", ("one housing",))


def _filled(table: StepTable, side: str, ending: str, magneto: str, only: tuple[str, ...]) -> Step:
    def said(text: str) -> str:
        return text.replace(SIDE, side).replace(MAGNETO, magneto)

    step = _step(table)
    return replace(
        step,
        id=f"{step.id}-{ending}",
        only=(*only, *_conditions(step.only, side)),
        boxes=tuple(replace(box, text=said(box.text), only=_conditions(box.only, side)) for box in step.boxes),
        instruction=said(step.instruction),
        description=said(step.description),
        says=tuple(Say(said(say.text), _conditions(say.only, side)) for say in step.says),
        side=side,
    )


def _sound(name: str, where: str, step: Step) -> Step:
    """Return a step that was made for a side or housing; raise Refusal where its id, conditions or length are wrong."""
    faults = (id_faults("", step.id), condition_faults("", step.only), instruction_faults("", step.instruction))
    for _, fault in chain(*faults):
        raise Refusal(f"{name}: {where}: made into {step.id}: {fault}")
    return step


def _conditions(only: tuple[str, ...], side: str) -> tuple[str, ...]:
    return tuple(one.replace(SIDE, side).replace("  ", " ").strip() for one in only)


def _step(table: StepTable) -> Step:
    return Step(
        id=table.id,
        only=table.only,
        boxes=tuple(Box(BoxKind(box.kind), box.hazard, box.text, box.only) for box in table.box),
        instruction=table.instruction,
        description=table.description,
        capture=table.capture,
        initials=table.initials,
        inspector=table.inspector,
        board=table.board,
        section=table.section,
        choices=CUT_ANSWERS if table.capture == CUT else table.choices,
        stops=CUT_STOPS if table.capture == CUT else table.stops,
        unit=table.unit,
        limit=table.limit,
        side=table.side,
        second=table.second,
        may_skip=table.may_skip,
        says=tuple(Say(say.text, say.only) for say in table.say),
    )
