"""``sparkwright rules``: every rule, with what it looks at, where it comes from and what to do."""

import json
from dataclasses import asdict

import click

from desktop.core.rules.paper_rulebook import every_rule
from desktop.files.sentences import finding_sentences, paperwork_sentences, remedies


@click.command("rules")
@click.option("--json", "json_asked", is_flag=True, help="Print JSON, one list of rules.")
def command(*, json_asked: bool) -> None:
    """List every rule: those about readings, about a card of an order, and about an order before its approval."""
    rules = tuple(every_rule(finding_sentences(), paperwork_sentences(), remedies()))
    if json_asked:
        click.echo(json.dumps([asdict(rule) for rule in rules], ensure_ascii=False, indent=1))
        return
    for rule in rules:
        click.echo(f"{rule.id}  ({rule.severity}; about the {rule.about}; fields: {', '.join(rule.fields)})")
        click.echo(f"    {rule.sentence}")
        click.echo(f"    What to do: {rule.remedy}")
        click.echo(f"    Source: {rule.source}")
