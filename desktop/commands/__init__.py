"""The command line, one small file a command; a command's file is loaded when it is asked for."""

from importlib import import_module

import click

NAMES = (
    "back-up",
    "card",
    "cards",
    "check",
    "demo",
    "doctor",
    "export",
    "ink",
    "new",
    "open",
    "orders",
    "paper",
    "papers",
    "print",
    "restore",
    "rules",
    "sheet",
    "verify",
)


class Commands(click.Group):
    """Time magnetos to piston engines: work out the readings, refuse what was not measured, print the task card.

    The data approved for the engine and the aircraft, the law of the place and the judgement of the licensed person
    govern; this program does not replace them.
    """

    def __init__(self) -> None:
        super().__init__("sparkwright", help=self.__doc__, no_args_is_help=False, invoke_without_command=False)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the words after the program's name; say which commands there are when none was named."""
        if not args:
            raise click.UsageError(f"Name a command: {', '.join(NAMES)}. 'sparkwright --help' says more.")
        return super().parse_args(ctx, args)

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - the signature is given
        """Return the names of the commands."""
        return list(NAMES)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002 - the same
        """Load one command; None for a name that is not one."""
        if cmd_name not in NAMES:
            return None
        command = import_module(f"desktop.commands.{cmd_name.replace('-', '_')}_command").command
        return command if isinstance(command, click.Command) else None
