"""Commands that have commands of their own, and the README that tells of each."""

from pathlib import Path

import click
import pytest

from trackread.cli.main import COMMANDS, commands

README = (Path(__file__).resolve().parent.parent.parent / "README.md").read_text(encoding="utf-8")


def inner_commands():
    """Every command of a command, with the words that run it."""
    context = click.Context(commands)
    groups = [commands.get_command(context, name) for name in COMMANDS]
    found = [(group.name, one) for group in groups if isinstance(group, click.Group) for one in group.commands.values()]
    assert len(found) > 10
    return found


@pytest.mark.parametrize(("group", "command"), inner_commands(), ids=lambda one: getattr(one, "name", one))
def test_every_command_of_a_command_says_what_it_is_and_is_told_in_the_readme(group, command):
    options = [one for one in command.params if isinstance(one, click.Option)]

    assert command.help
    assert [one.name for one in options if not one.help] == []
    assert f"{group} {command.name}" in README
