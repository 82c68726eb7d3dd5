"""`trackread takes`: what was found in the sessions, take by take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.take_list import TakeRow

WORDS = 28  # letters of a line that the list shows
HEADINGS = ("take", "stretch", "character", "words", "says", "marks", "starts", "seconds", "reading")


@click.command()
@click.option("--line", metavar="LINE", help="Only takes of this line, as L0107.")
@click.option("--session", metavar="SESSION", help="Only what is in this session, as S2.")
@click.option("--character", metavar="NAME", help="Only takes of this character's lines.")
@click.option("--scene", metavar="SCENE", help="Only takes of this scene's lines.")
@click.option("--unsure", is_flag=True, help="Only what nobody is sure of, with the lines that it may be.")
@click.option("--circled", is_flag=True, help="Only circled takes.")
@production_option
@json_option
def takes(
    *,
    line: str | None,
    session: str | None,
    character: str | None,
    scene: str | None,
    unsure: bool,
    circled: bool,
    production: Path | None,
    as_json: bool,
) -> None:
    """List the takes, and what else is in the sessions.

    A stretch that nobody is sure of is listed with each line, character and scene that it may be of.
    """
    from trackread.cli.columns import print_columns
    from trackread.workflow.production import open_production
    from trackread.workflow.take_list import Choice, take_rows

    with open_production(production) as book:
        rows = take_rows(book, Choice(line, session, character, scene, unsure=unsure, circled=circled))
    if as_json:
        print_json({"takes": [asdict(row) for row in rows]})
    elif unsure:
        click.echo("\n\n".join("\n".join(unsure_texts(row)) for row in rows) or "Nothing is unsure.")
    elif not rows:
        click.echo("There is none.")
    else:
        print_columns(HEADINGS, [cells_of(row) for row in rows], right=("seconds",))


def cells_of(row: TakeRow) -> Sequence[str]:
    """A row of the list; where nobody is sure, the likeliest line stands with a question mark."""
    from trackread.cli.columns import shortened

    marks = ["circled"] * row.circled + ["stand-in"] * row.stand_in
    likeliest = row.guesses[0] if row.guesses else None
    words = f"{likeliest.line}? {likeliest.words}" if likeliest else row.words
    return (
        row.name,
        row.stretch,
        row.character or (likeliest.character if likeliest else ""),
        shortened(words, WORDS),
        row.whole or row.kind,
        ", ".join(marks),
        row.start,
        seconds_text(row.milliseconds),
        row.reading,
    )


def unsure_texts(row: TakeRow) -> Iterator[str]:
    """An unsure stretch: where it is, what it sounds like, and the lines that it may be with their probabilities."""
    from trackread.cli.columns import printable

    heard = f"sounds like: {row.heard}" if row.heard else "nothing is understood"
    yield printable(f"{row.stretch}  {row.start}  {seconds_text(row.milliseconds)} s  {heard}")
    for guess in row.guesses:
        whole = "" if guess.whole == "whole" else f" ({guess.whole})"
        yield printable(f"  {guess.likely:.2f}  {guess.line}  {guess.character}: {guess.words}{whole}")


def seconds_text(milliseconds: int) -> str:
    """A length as seconds and hundredths: `3.42`."""
    return f"{milliseconds // 1000}.{milliseconds % 1000 // 10:02}"
