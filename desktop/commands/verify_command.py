"""``sparkwright verify SHOP``: whether every signed record is as it was signed, and none is missing."""

import json
import sys
from pathlib import Path

import click

from desktop import shop_assembly
from desktop.commands.a_file import refuse_no_file
from desktop.core.errors import Refusal
from desktop.core.records.record import visible
from desktop.core.records.sealed.chain import Problem
from desktop.core.records.sealed.envelope import shown
from desktop.usecases.records.checking.kept_besides import NOT_JUDGED
from desktop.usecases.records.checking.verify import Verified


@click.command("verify")
@click.argument("shop", type=click.Path(path_type=Path))
@click.option("--head", "seal", default=None, help="The record seal of a print: its 16 digits, or all 64.")
@click.option("--json", "json_asked", is_flag=True, help="Print JSON.")
def command(shop: Path, seal: str | None, *, json_asked: bool) -> int:
    """Check every signed record of SHOP: status 0 when all is sound, 1 when not, 2 when the file cannot be read.

    With --head also whether the record seal of a print belongs to this file: one that was set back, cut or replaced
    does not have it.
    """
    if seal is not None and not seal.strip():
        raise Refusal("--head names no record seal. Give its digits as they stand on the paper, or leave --head out.")
    refuse_no_file(shop)
    found = shop_assembly.check_shop(shop, seal or "")
    if json_asked:
        for note in found.notes:
            print(visible(note.sentence), file=sys.stderr)  # noqa: T201 - a command line prints
        click.echo(json.dumps(_table(found), ensure_ascii=False, indent=2).encode("utf-8"))
    else:
        click.echo("\n".join(_lines(found)).encode("utf-8"))
    return 0 if found.is_sound else 1


def _table(found: Verified) -> dict[str, object]:
    return {
        "shop": found.shop_id,
        "count": found.count,
        "head": found.head,
        "problems": [_problem(problem) for problem in found.problems],
    }


def _problem(problem: Problem) -> dict[str, object]:
    names = [visible(name) for name in problem.names]
    return {"number": problem.number, "sentence": visible(problem.sentence), "names": names}


def _lines(found: Verified) -> list[str]:
    said = [visible(problem.sentence) for problem in found.problems]
    notes = [f"Note: {visible(note.sentence)}" for note in found.notes]
    records = "1 record" if found.count == 1 else f"{found.count} records"
    count = len(found.problems)
    verdict = "sound" if found.is_sound else f"not sound, {count} problem{'s' if count > 1 else ''}"
    return [*said, *notes, NOT_JUDGED, visible(f"{found.name}: {records}, record seal {shown(found.head)}: {verdict}.")]
