"""`trackread demo`: our own scene, from its voices to what a later cut does to the sheets that are out.

Each step is told in a sentence, with the command that does it for a production of one's own.
"""

from __future__ import annotations

import shlex
import textwrap
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.engines import OpenReader

if TYPE_CHECKING:
    from trackread.workflow.demo import Told
    from trackread.workflow.demo_film import FilmShot, Shown

Step = tuple[str, Sequence[str]]  # what was done, and the words of the command that does it

WIDE = 80
MORE = "…"  # stands for what is left out of a command
SHORT = 20  # letters of what happens in a shot, in a command


@click.command()
@click.argument("folder", metavar="[DIR]", type=click.Path(path_type=Path), default=Path("late-tram"))
@click.pass_obj
def demo(reader: OpenReader, *, folder: Path) -> None:
    """Make our own scene, The Late Tram, as far as its sheets.

    DIR takes a sheet, a TextGrid and a reading in JSON of each of its lines, the production with its book, and the
    sheets of its shots; ./late-tram unless you name another. A production that is there already is left as it is.
    """
    from trackread.cli.changes import MOST, stale_texts
    from trackread.cli.columns import printable
    from trackread.cli.progress import progress_bar
    from trackread.core.timebase import parse_rate
    from trackread.workflow.demo import demo_pronunciations, read_demo
    from trackread.workflow.demo_film import check_place, show_film
    from trackread.workflow.printing import form_for
    from trackread.workflow.sheet_of_take import Terms

    check_place(folder)
    form = form_for(Terms(parse_rate("24")))
    with progress_bar("reading The Late Tram") as progress:
        told = read_demo(folder, form, reader(demo_pronunciations()), progress=progress)
    shown = show_film(folder, told, form.terms, date.today())
    for sentence, command in (*takes_steps(told, folder), *film_steps(shown)):
        for text in (sentence, *typed_in(command)):
            click.echo(printable(text))
    for text in ("", *stale_texts(shown.stale, MOST), "", *where_texts(shown)):
        click.echo(printable(text))


def takes_steps(told: Sequence[Told], folder: Path) -> Iterator[Step]:
    """The takes that were read, and those of them that do not say their lines."""
    from trackread.workflow.counted import counted

    short = min(told, key=lambda one: len(one.take.line)).take
    others = [one.take.path.stem for one in told if not one.reading.match.says_line]
    doubt = f" Not as the line has it: {', '.join(others)}." if others else ""
    sentence = f"{counted(len(told), 'take')} read; {folder} has a sheet, a TextGrid and a reading of each.{doubt}"
    yield sentence, ("read", short.path.name, "--line", short.line, MORE)


def film_steps(shown: Shown) -> Iterator[Step]:
    """What was done in the production, in the order of doing it."""
    from trackread.workflow.counted import counted

    production, tally = shown.production, shown.tally
    names = ", ".join(one.name for one in production.characters)
    cast = [word for one in production.characters[:1] for word in ("--character", one.name)]
    new = ("new", shown.folder.name, "--title", production.title, "--rate", shown.rate, *cast, MORE)
    yield f"{production.title} is a production now, with {names}.", new
    for draft in shown.drafts:
        yield f"Draft {draft.number} has {counted(draft.count, 'line')}.", ("script", "add", draft.name)
    if shown.recordings:
        takes = f"{counted(tally.takes, 'take')}, {tally.read} of them read"
        told = f"{counted(len(shown.recordings), 'recording')}: {takes}."
        yield told, ("session", "add", shown.recordings[0], MORE)
    if shown.kits:
        told = f"{counted(len(shown.kits), 'puppet')} with mouths to wear: kits {', '.join(shown.kits)}."
        yield told, ("kit", "new", shown.kits[0], *cast)
    cuts = [(f"Cut {cut.number}: {cut.what}.", ("cut", "add", *cut.lists)) for cut in shown.cuts]
    yield from (*cuts[:1], *shot_steps(shown), *cuts[1:])
    yield "The sheets that are stale by now, and what that costs:", ("changes",)


def shot_steps(shown: Shown) -> Iterator[Step]:
    """What was told of the shots, which sheets were issued, and what of them is shot."""
    from trackread.workflow.counted import counted

    if shown.shots:
        fullest = max(shown.shots, key=lambda shot: len(telling_words(shot)))
        yield f"What happens is told of {counted(len(shown.shots), 'shot')}.", telling_words(fullest)
    if shown.issues:
        units = Counter(issue.unit for issue in shown.issues)
        told = ", ".join(f"{count} to unit {unit}" for unit, count in sorted(units.items()))
        unit = min(units)
        shots = (issue.shot for issue in shown.issues if issue.unit == unit)
        yield f"{counted(len(shown.issues), 'sheet')} issued, {told}.", ("issue", *shots, "--unit", unit)
    if shown.done:
        told = "; ".join(f"{counted(frames, 'frame')} of {shot}" for shot, frames in shown.done.items())
        shot, frames = next(iter(shown.done.items()))
        yield f"Shot already: {told}.", ("shot", "progress", shot, "--done", str(frames))


def telling_words(shot: FilmShot) -> tuple[str, ...]:
    """The command that tells what is told of a shot."""
    telling = shot.telling
    about = textwrap.shorten(telling.about or "", SHORT, placeholder=MORE)
    files = {"--board": telling.board, "--action": telling.action, "--camera": telling.camera}
    present = [word for name in telling.present or () for word in ("--present", name)]
    told = [word for option, file in files.items() if file for word in (option, file.name)]
    return ("shot", "tell", shot.code, "--about", about, *present, *told)


def typed_in(words: Sequence[str]) -> tuple[str, ...]:
    """A command as it is typed, in lines of a terminal's width; an option stays on the line of its value."""
    lines, parts = ["  trackread"], list(parts_of(words))
    for number, part in enumerate(parts, 1):
        goes_on = "" if number == len(parts) else " \\"
        if len(f"{lines[-1]} {part}{goes_on}") > WIDE:
            lines[-1] += " \\"
            lines.append("   ")
        lines[-1] += f" {part}"
    return tuple(lines)


def parts_of(words: Sequence[str]) -> Iterator[str]:
    """The words of a command as a shell has them, each option with its value."""
    rest = iter(word if word == MORE else shlex.quote(word) for word in words)
    for word in rest:
        yield f"{word} {next(rest)}" if word.startswith("--") else word


def where_texts(shown: Shown) -> Iterator[str]:
    """Where everything is, the sheet to open first last."""
    yield f"All of it was made from {shown.made_from}."
    yield f"The production is in {shown.folder}: go there, and try `trackread status` and `trackread pull`."
    if shown.first and shown.movie:
        yield f"Its mouths talk in {shown.movie}; with headphones on, begin with the level low."
    if shown.first:
        yield f"The issued sheets are in {shown.files[shown.first.id].parent}. Open this one first:"
        yield str(shown.files[shown.first.id])
