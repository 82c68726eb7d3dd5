"""The shots that a command is about: by their codes, by scene, or all; an option of several commands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar

import click

if TYPE_CHECKING:
    from trackread.workflow.shots import Choice

Command = TypeVar("Command", bound=Callable[..., object])


def choice_options(command: Command) -> Command:
    """The arguments SHOT…, --scene and --all of a command."""
    for option in (
        click.option("--all", "every", is_flag=True, help="All shots of the cut."),
        click.option("--scene", metavar="SCENE", help="All shots of this scene."),
        click.argument("shots", nargs=-1, metavar="[SHOT]..."),
    ):
        command = option(command)
    return command


def choice_of(shots: Sequence[str], scene: str | None, *, every: bool) -> Choice:
    """What was asked for."""
    from trackread.workflow.shots import Choice

    return Choice(tuple(shots), scene, every)
