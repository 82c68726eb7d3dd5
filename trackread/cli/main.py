"""The command line: its commands, each in a file that is loaded when it is asked for, and how it ends."""

import io
import signal
import sys
from collections.abc import Sequence
from importlib import import_module

import click

from trackread import __version__
from trackread.cli.engines import OpenReader, open_reader
from trackread.errors import TrackreadError

# Each is in trackread/cli in the file of its name, as the command of its name; help lists them in this order.
COMMANDS = (
    "read",
    "demo",
    "doubts",
    "score",
    "new",
    "script",
    "session",
    "takes",
    "circle",
    "assign",
    "status",
    "conform",
    "correct",
    "cut",
    "kit",
    "shot",
    "place",
    "mouths",
    "sheet",
    "issue",
    "issued",
    "which",
    "changes",
    "work",
    "pull",
    "film",
    "export",
    "key",
    "serve",
    "backup",
    "restore",
    "check",
)


class Commands(click.Group):
    """The commands by name, loaded late so that one does not wait for the libraries of all."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = getattr(import_module(f"trackread.cli.{cmd_name}"), cmd_name)
        return command


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="trackread %(version)s")
def commands() -> None:
    """Read a recorded take onto film frames and print the exposure sheet for the animator.

    `trackread demo` shows the whole of it on our own scene.
    """


def main(arguments: Sequence[str] | None = None, reader: OpenReader = open_reader) -> None:
    """Runs a command and leaves with its status: 0, 1 for what the user can mend, 2 for a command that is none."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal may know fewer letters than a line has.
            stream.reconfigure(errors="replace")
    try:
        status = commands.main(arguments, prog_name="trackread", standalone_mode=False, obj=reader) or 0
    except TrackreadError as error:
        click.echo(f"trackread: {error}", err=True)
        status = 1
    except click.Abort:
        status = 128 + signal.SIGINT
    except click.ClickException as error:
        error.show()
        status = error.exit_code
    sys.exit(status)
