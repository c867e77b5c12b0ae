"""Jobs: TOML into values. Each names cards that there are; what is wrong is refused with the place."""

from collections.abc import Iterator, Mapping, Sequence
from importlib.resources import files
from pathlib import Path

import msgspec

from desktop.core.errors import Refusal
from desktop.core.shop.cards.jobs import WHERE, Job
from desktop.core.shop.cards.task_card import TaskCard
from desktop.files.card_tables import Table
from desktop.files.cards import builtin_cards, cards_in
from desktop.files.shop_folder import JOBS_FILE, texts_in
from desktop.files.text_faults import Fault, choice_faults, description_faults, id_faults, text_faults
from desktop.files.toml_faults import shape_fault, shown, table_words
from desktop.files.toml_text import read_toml

RUN_UP = "run-up"
"""The capture of the run-up as left."""
MOST_JOBS = 100
"""Most jobs of a file."""


class _JobTable(Table, frozen=True):
    id: str
    title: str
    applies: str
    where: str
    cards: tuple[str, ...]
    run_up_due: bool = False
    tag: bool = False


class _JobsTable(Table, frozen=True):
    job: tuple[_JobTable, ...]


def load_jobs(data: bytes, name: str, cards: Sequence[TaskCard], known: Sequence[Job] = ()) -> tuple[Job, ...]:
    """Return the jobs of a file, in its order, over these cards.

    Raise Refusal with the file's name, the job (counted from 1, with its id) and the key of the first fault. No job
    has the id of a known one.
    """
    try:
        raw = read_toml(data)
    except Refusal as refusal:
        raise Refusal(f"{name}: {refusal.sentence}") from refusal
    try:
        table = msgspec.convert(raw, _JobsTable)
    except msgspec.ValidationError as trouble:
        raise Refusal(f"{name}: {shape_fault(str(trouble), raw, 'job')}") from trouble
    for where, fault in _faults(table, {card.id: card for card in cards}, {job.id for job in known}):
        raise Refusal(f"{name}: {where}: {fault}")
    return tuple(
        Job(job.id, job.title, job.applies, job.where, job.cards, job.run_up_due, job.tag) for job in table.job
    )


def builtin_jobs() -> tuple[Job, ...]:
    """Return the jobs that come with the program."""
    place = files("resources").joinpath("data", JOBS_FILE)
    return load_jobs(place.read_bytes(), JOBS_FILE, builtin_cards())


def jobs_in(folder: Path) -> tuple[Job, ...]:
    """Return a shop's own jobs, of shipped cards and its own; none where its folder has no jobs.toml."""
    cards = (*builtin_cards(), *cards_in(folder))
    found = [data for name, data in texts_in(folder) if name == JOBS_FILE]
    return load_jobs(found[0], JOBS_FILE, cards, builtin_jobs()) if found else ()


def _faults(table: _JobsTable, cards: Mapping[str, TaskCard], known: set[str]) -> Iterator[Fault]:
    if len(table.job) > MOST_JOBS:
        yield "job", f"{len(table.job)} jobs, and {MOST_JOBS} is the most."
    seen: dict[str, int] = {}
    for number, job in enumerate(table.job, 1):
        where = table_words("job", number, job.id)
        yield from id_faults(f"{where}: id", job.id)
        if job.id in known:
            yield f"{where}: id", f"{shown(job.id)} is the id of a job of the program. Give yours its own."
        if job.id in seen:
            yield f"{where}: id", f"job {seen[job.id]} has this id already. Give each job an id of its own."
        seen[job.id] = number
        yield from text_faults(f"{where}: title", job.title, 120)
        yield from description_faults(f"{where}: applies", job.applies)
        yield from choice_faults(f"{where}: where", job.where, WHERE)
        yield from _card_faults(f"{where}: cards", job.cards, cards)
        if job.run_up_due and not any(_takes_run_up(cards[card_id]) for card_id in job.cards):
            yield f"{where}: run_up_due", "none of its cards takes the run-up as left. Add one that does."


def _takes_run_up(card: TaskCard) -> bool:
    return any(step.capture == RUN_UP for step in card.steps)


def _card_faults(where: str, ids: tuple[str, ...], cards: Mapping[str, TaskCard]) -> Iterator[Fault]:
    if not ids:
        yield where, "a job has at least one card."
    for card_id in ids:
        if card_id not in cards:
            yield where, f"{shown(card_id)} is no card that there is."
    if len(set(ids)) != len(ids):
        yield where, "a card stands there twice. A job has each card once."
