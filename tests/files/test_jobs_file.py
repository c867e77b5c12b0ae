"""Jobs from a file: what is read, and what is refused with which place."""

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.cards.jobs import Job
from desktop.files.cards import builtin_cards
from desktop.files.jobs import MOST_JOBS, builtin_jobs, load_jobs

GOOD = """
[[job]]
id = "try"
title = "Try it"
applies = "Everywhere."
where = "on the aircraft"
cards = ["S1", "R2"]
run_up_due = true

[[job]]
id = "by-itself"
title = "By itself"
applies = "Off the engine."
where = "off the engine"
cards = ["B1"]
tag = true
"""


def _load(text: str) -> tuple[Job, ...]:
    return load_jobs(text.encode("utf-8"), "jobs.toml", builtin_cards())


def test_that_jobs_are_read_whole_in_the_order_of_the_file() -> None:
    assert _load(GOOD) == (
        Job("try", "Try it", "Everywhere.", "on the aircraft", ("S1", "R2"), run_up_due=True, tag=False),
        Job("by-itself", "By itself", "Off the engine.", "off the engine", ("B1",), run_up_due=False, tag=True),
    )


FIRST = "jobs.toml: job 1 (try)"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('id = "try"', 'id = "Try"', 'jobs.toml: job 1: id: "Try" is no id.'),
        ('id = "try"', 'id = "by-itself"', "jobs.toml: job 2 (by-itself): id: job 1 has this id already."),
        ('id = "try"\n', "", "jobs.toml: job 1: id: this key is missing."),
        ('title = "Try it"', 'title = ""', f"{FIRST}: title: nothing is written here."),
        ('title = "Try it"', f'title = "{"a" * 121}"', f"{FIRST}: title: 121 signs"),
        ('title = "Try it"', 'title = "Try it"\nsize = 2', f'{FIRST}: "size": this key is not known here.'),
        ('applies = "Everywhere."', f'applies = "{"x " * 26}"', f"{FIRST}: applies: a sentence of 26 words"),
        ('where = "on the aircraft"', 'where = "in the air"', f'{FIRST}: where: "in the air" is not known here.'),
        ('["S1", "R2"]', "[]", f"{FIRST}: cards: a job has at least one card."),
        ('["S1", "R2"]', '["S1", "Z9"]', f'{FIRST}: cards: "Z9" is no card that there is.'),
        ('["S1", "R2"]', '["S1", "S1"]', f"{FIRST}: cards: a card stands there twice."),
        ('["S1", "R2"]', '"S1"', f"{FIRST}: cards: expected a list, found text in quotes."),
        ('["S1", "R2"]', '["S1", "C1"]', f"{FIRST}: run_up_due: none of its cards takes the run-up as left."),
        ("run_up_due = true", "run_up_due = 1", f"{FIRST}: run_up_due: expected true or false, found a whole number."),
        ("run_up_due = true", "run_up_due = ", "jobs.toml: the file is not valid TOML"),
    ],
)
def test_that_a_fault_is_named_with_file_job_and_key(old: str, new: str, said: str) -> None:
    assert GOOD.count(old) == 1
    with pytest.raises(Refusal) as caught:
        _load(GOOD.replace(old, new))
    assert caught.value.sentence.startswith(said)


def test_that_a_job_of_the_program_keeps_its_id() -> None:
    with pytest.raises(Refusal, match="is the id of a job of the program"):
        load_jobs(GOOD.encode("utf-8"), "jobs.toml", builtin_cards(), _load(GOOD)[:1])


def test_that_more_jobs_than_a_list_can_show_are_refused() -> None:
    job = GOOD.partition('[[job]]\nid = "by-itself"')[0]
    many = "".join(job.replace('id = "try"', f'id = "try-{number}"') for number in range(MOST_JOBS + 1))
    with pytest.raises(Refusal, match=f"{MOST_JOBS + 1} jobs, and {MOST_JOBS} is the most"):
        _load(many)


def test_that_the_jobs_of_the_program_end_in_a_run_up_where_one_is_due() -> None:
    jobs = builtin_jobs()
    assert [job.cards[-1] for job in jobs if job.run_up_due] == ["R2"] * 3
    assert [job.where for job in jobs if job.tag] == ["off the engine"]
