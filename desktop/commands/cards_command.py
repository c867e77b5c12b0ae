"""``sparkwright cards``: the task cards and the jobs, those of the program and a shop's own."""

from collections.abc import Iterable
from pathlib import Path

import click

from desktop.core.shop.cards.jobs import Job
from desktop.core.shop.cards.task_card import TaskCard
from desktop.files.cards import builtin_cards, cards_in
from desktop.files.jobs import builtin_jobs, jobs_in


@click.command("cards")
@click.option(
    "--folder",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="A folder with the shop's own cards (any .toml) and jobs (jobs.toml).",
)
def command(folder: Path | None) -> None:
    """List the task cards with their steps, and the jobs with their cards.

    An own card that breaks the rules of good instructions is refused with its file, step and key.
    """
    own_cards, own_jobs = (cards_in(folder), jobs_in(folder)) if folder else ((), ())
    click.echo("Task cards")
    for line in _cards((*sorted(builtin_cards(), key=lambda card: card.id), *own_cards)):
        click.echo(line)
    click.echo("Jobs")
    for line in _jobs((*builtin_jobs(), *own_jobs)):
        click.echo(line)


def _cards(cards: Iterable[TaskCard]) -> Iterable[str]:
    for card in cards:
        count = len(card.steps)
        yield f"  {card.id}  revision {card.revision}  {card.title}  up to {count} step{'' if count == 1 else 's'}"


def _jobs(jobs: Iterable[Job]) -> Iterable[str]:
    for job in jobs:
        also = ["run-up as left due"] if job.run_up_due else []
        also += ["own release tag"] if job.tag else []
        yield f"  {job.id}  {job.title} ({', '.join([job.where, *also])}): {', '.join(job.cards)}"
