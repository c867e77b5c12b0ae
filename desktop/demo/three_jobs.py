"""Three invented jobs worked out and printed, so that one can see what the program does."""

from collections.abc import Iterator
from pathlib import Path

from desktop.assembly import check_typed, print_to
from desktop.core.rules.rulebook import nothing_stops
from desktop.core.timing.typed_card import TypedCard
from desktop.core.words import verdict_words
from desktop.files.demo_jobs import DemoJob, demo_jobs
from desktop.files.papers_out import make_folder
from desktop.usecases.papers.heading import CardHeading


def run_demo(folder: Path) -> Iterator[str]:
    """Work out and print each demo job into a folder; yield what was found and where the paper lies."""
    make_folder(folder)
    yield "Three invented jobs. Nothing here is data for a real engine."
    for job, typed in demo_jobs():
        checked = check_typed(typed)
        place = folder / f"{job.name}.pdf"
        print_to(place, checked, heading_of(job), "letter", blank=False)
        yield ""
        yield f"{job.order}: {job.told}."
        for result in checked.worked.magnetos:
            yield f"  {result.magneto.side.capitalize()} magneto. {verdict_words(result)}."
        stops = [finding for finding in checked.findings if finding.severity == "stops"]
        yield "  Nothing stops." if nothing_stops(checked.findings) else f"  Stops: {stops[0].sentence}"
        if len(stops) > 1:
            yield f"  And {len(stops) - 1} more on the card."
        yield f"  Card: {place}"


def heading_of(job: DemoJob) -> CardHeading:
    """Return the head of a demo job's card; it says that its data is invented."""
    return CardHeading(
        shop=job.shop,
        order=job.order,
        aircraft=job.aircraft,
        engine=job.engine,
        left_magneto=job.left_magneto,
        right_magneto=job.right_magneto,
        document=job.document,
        revision_current=job.revision_current,
        invented=True,
    )


def shown_card() -> tuple[TypedCard, CardHeading]:
    """Return the demo's first card for the window, and its head, which says that the data is invented."""
    job, typed = demo_jobs()[0]
    return typed, heading_of(job)
