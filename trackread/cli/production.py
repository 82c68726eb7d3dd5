"""The options that the commands of a production share: where it is, who writes, and lists as JSON."""

from __future__ import annotations

import getpass
import json
from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from trackread.errors import BookError

PLACE = click.Path(path_type=Path)


def author_of(_context: click.Context, _option: click.Parameter, name: str | None) -> str:
    """Who writes: the name that is given, else the login name. Raises BookError if nobody can say."""
    from trackread.workflow.typed import typed

    if name is not None:
        return typed(name, "the name after --author")
    try:
        return getpass.getuser()
    except (KeyError, OSError) as error:
        raise BookError("nobody is logged in by a name here: say who you are with --author") from error


production_option = click.option(
    "--production",
    metavar="DIR",
    type=PLACE,
    envvar="TRACKREAD_PRODUCTION",
    help="The production's folder, if it is not this one or one above it.",
)
author_option = click.option(
    "--author",
    metavar="NAME",
    envvar="TRACKREAD_AUTHOR",
    callback=author_of,
    help="Who does this, if it is not the name you are logged in by.",
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")


def print_json(value: Mapping[str, object] | Sequence[object]) -> None:
    """Prints plain values as JSON."""
    click.echo(json.dumps(value, ensure_ascii=False, indent=1))
