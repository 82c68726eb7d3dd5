"""A take's words and the log of its corrections as tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import click

from trackread.cli.columns import print_columns, printable

if TYPE_CHECKING:
    from trackread.workflow.take_words import LoggedCorrection, SeenWord, TakeWords


def print_take(take: TakeWords) -> None:
    """The words with their frames, the notes, and what is amiss."""
    headings = ("no.", "word", "frames", "sounds", "stress", "doubt", "")
    print_columns(headings, map(cells_of, take.words), right=("no.", "doubt"))
    for note in take.notes:
        click.echo(printable(f"note on frame {note.frame}: {note.text}"))
    for one in take.lost:
        click.echo(printable(f"trackread: beware: a correction has no place ({one.words}): {one.reason}"), err=True)
    if take.old_words:
        click.echo(printable(f"trackread: beware: the line was changed since; read as: {take.old_words}"), err=True)


def cells_of(word: SeenWord) -> Sequence[str]:
    """A row: the word's number and text, its frames, and what is known of it."""
    return (
        str(word.number),
        word.text,
        frames_text(word.frame, word.stop),
        " ".join(word.sounds),
        ", ".join(word.stresses),
        f"{word.doubt:.2f}" if word.doubt else "",
        "; ".join(["pinned"] * word.pinned + list(word.reasons)),
    )


def frames_text(frame: int, stop: int) -> str:
    """Frames from the first to the last: `12-15`."""
    return f"{frame}-{stop - 1}" if stop - frame > 1 else str(frame)


def print_log(corrections: Sequence[LoggedCorrection]) -> None:
    """The corrections, who made them and when."""
    if not corrections:
        click.echo("Nothing has been corrected.")
        return
    rows = [(str(one.number), one.author, one.time, "; ".join(log_texts(one))) for one in corrections]
    print_columns(("no.", "by", "at", "what"), rows, right=("no.",))


def log_texts(correction: LoggedCorrection) -> Iterator[str]:
    """What a correction does, and whether it undoes or was undone."""
    yield correction.words
    if correction.undoes is not None:
        yield f"undoes {correction.undoes}"
    if correction.undone:
        yield "undone"
