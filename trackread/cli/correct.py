"""`trackread correct`: what a person mends in the reading of a take; each correction is kept, and can be undone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from trackread.cli.production import author_option, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.correcting import Make

Command = TypeVar("Command", bound=Callable[..., None])

seen_option = click.option(
    "--seen",
    type=click.IntRange(0),
    metavar="N",
    help="The take's last correction that you have seen; refused if there are later ones.",
)


def correcting(command: Command) -> Command:
    """The options of every command that corrects."""
    return production_option(author_option(seen_option(command)))


@click.group()
def correct() -> None:
    """Correct the reading of a take, and see what was corrected.

    TAKE is its name, as L0107-3. WORD is a word's number, as `correct show` lists them, or its text where it is said
    only once. FRAME is a frame of the take, as `correct show` counts them.
    """


def keep(production: Path | None, take: str, make: Make, author: str, seen: int | None) -> None:
    """Adds a correction and says what it does."""
    from trackread.workflow.correcting import correct as correct_take
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        click.echo(correct_take(book, take, make, author, seen=seen))


@correct.command()
@click.argument("take")
@click.argument("word")
@click.argument("frame", type=int)
@correcting
def move(*, take: str, word: str, frame: int, production: Path | None, author: str, seen: int | None) -> None:
    """Let a word start with FRAME, and stay there."""
    from trackread.workflow.correcting import move as made

    keep(production, take, made(word, frame), author, seen)


@correct.command()
@click.argument("take")
@click.argument("word")
@click.argument("text")
@correcting
def respell(*, take: str, word: str, text: str, production: Path | None, author: str, seen: int | None) -> None:
    """Write a word as TEXT."""
    from trackread.workflow.correcting import respell as made

    keep(production, take, made(word, text), author, seen)


@correct.command()
@click.argument("take")
@click.argument("first")
@click.argument("last")
@click.argument("text")
@correcting
def again(
    *, take: str, first: str, last: str, text: str, production: Path | None, author: str, seen: int | None
) -> None:
    """Hear the words FIRST to LAST again as TEXT; an empty one says that they are not said."""
    from trackread.workflow.correcting import correct as correct_take
    from trackread.workflow.hearing_again import again as made
    from trackread.workflow.production import open_production
    from trackread.workflow.session_tasks import hear_again

    with open_production(production) as book:
        click.echo(correct_take(book, take, made(book, first, last, text, hear_again), author, seen=seen))


@correct.command()
@click.argument("take")
@click.argument("word")
@click.argument("number", type=int)
@click.argument("arpabet")
@correcting
def sound(
    *, take: str, word: str, number: int, arpabet: str, production: Path | None, author: str, seen: int | None
) -> None:
    """Call a word's sound NUMBER (from 1) another, in ARPAbet without a stress digit: AE, TH."""
    from trackread.workflow.correcting import sound as made

    keep(production, take, made(word, number, arpabet), author, seen)


@correct.command()
@click.argument("take")
@click.argument("word")
@click.argument("syllable", type=int)
@click.argument("degree", metavar="weak|half|strong", type=click.Choice(["weak", "half", "strong"]))
@correcting
def stress(
    *, take: str, word: str, syllable: int, degree: str, production: Path | None, author: str, seen: int | None
) -> None:
    """Say how strong a word's SYLLABLE (from 1) is."""
    from trackread.workflow.correcting import stress as made

    keep(production, take, made(word, syllable, degree), author, seen)


@correct.command()
@click.argument("take")
@click.argument("word")
@correcting
def pin(*, take: str, word: str, production: Path | None, author: str, seen: int | None) -> None:
    """Keep the start of a word where it is, also when the take is read again."""
    from trackread.workflow.correcting import pin as made

    keep(production, take, made(word), author, seen)


@correct.command()
@click.argument("take")
@click.argument("word")
@correcting
def unpin(*, take: str, word: str, production: Path | None, author: str, seen: int | None) -> None:
    """Let the start of a word move again when the take is read again."""
    from trackread.workflow.correcting import unpin as made

    keep(production, take, made(word), author, seen)


@correct.command()
@click.argument("take")
@click.argument("word")
@correcting
def right(*, take: str, word: str, production: Path | None, author: str, seen: int | None) -> None:
    """Say that a word is right, so that it is in no doubt."""
    from trackread.workflow.correcting import right as made

    keep(production, take, made(word), author, seen)


@correct.command()
@click.argument("take")
@click.argument("frame", type=int)
@click.argument("text")
@correcting
def note(*, take: str, frame: int, text: str, production: Path | None, author: str, seen: int | None) -> None:
    """Write TEXT beside a frame; an empty one takes away what is there."""
    from trackread.workflow.correcting import note as made

    keep(production, take, made(frame, text), author, seen)


@correct.command()
@click.argument("take")
@correcting
def undo(*, take: str, production: Path | None, author: str, seen: int | None) -> None:
    """Undo the last correction that is not undone yet."""
    from trackread.workflow.production import open_production
    from trackread.workflow.undoing import undo as undo_last

    with open_production(production) as book:
        click.echo(undo_last(book, take, author, seen=seen))


@correct.command()
@click.argument("take")
@production_option
@json_option
def show(*, take: str, production: Path | None, as_json: bool) -> None:
    """Show the words of a take as they stand."""
    from trackread.cli.corrected_take import print_take
    from trackread.workflow.production import open_production
    from trackread.workflow.seen_take import seen_take
    from trackread.workflow.take_words import take_words

    with open_production(production) as book:
        found = take_words(seen_take(book, take))
    if as_json:
        print_json(asdict(found))
    else:
        print_take(found)


@correct.command()
@click.argument("take")
@production_option
@json_option
def log(*, take: str, production: Path | None, as_json: bool) -> None:
    """List the corrections of a take, the first one first."""
    from trackread.cli.corrected_take import print_log
    from trackread.workflow.production import open_production
    from trackread.workflow.take_words import correction_log

    with open_production(production) as book:
        found = correction_log(book, take)
    if as_json:
        print_json({"corrections": [asdict(one) for one in found]})
    else:
        print_log(found)
