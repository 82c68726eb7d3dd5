"""`trackread read`: one take to a sheet, a TextGrid, a reading in JSON, or a table on the screen."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.engines import OpenReader
from trackread.errors import LineError

if TYPE_CHECKING:
    from trackread.core.reading import Reading
    from trackread.workflow.read_take import Outputs
    from trackread.workflow.sheet_of_take import Terms

FILE = click.Path(path_type=Path)


@click.command()
@click.argument("take", type=FILE)
@click.option("--line", metavar="WORDS", help="What is said in the take.")
@click.option("--line-file", type=FILE, help="A text file that holds what is said, instead of --line.")
@click.option("--character", metavar="NAME", default="VOICE", help="Who speaks.")
@click.option(
    "--rate", default="24", metavar="FPS", show_default=True, help="Frames a second, as 25, 23.976 or 29.97df."
)
@click.option("--first-frame", default=1, metavar="N", show_default=True, help="The number of the take's first frame.")
@click.option(
    "--own-rate",
    type=click.FloatRange(0, min_open=True),
    metavar="N",
    help="Syllables a second at which the character usually speaks: what is quicker or slower is marked.",
)
@click.option("--channel", type=int, metavar="N", help="Which channel of the recording to hear, from 1.")
@click.option("--pronunciations", type=FILE, help="Your own words: one a line with its sounds in ARPAbet.")
@click.option("--paper", default="a4", metavar="NAME", show_default=True, help="a4, letter, a3 or tabloid.")
@click.option("--rows", default=48, metavar="N", show_default=True, help="Frames on a page, 48 or 24.")
@click.option("--ipa", is_flag=True, help="Write the sounds in IPA instead of respelling them.")
@click.option(
    "--count",
    default="none",
    metavar="KIND",
    show_default=True,
    help="Beside the frames: footage35, footage16, timecode or none.",
)
@click.option("--sheet", type=FILE, help="Print the exposure sheet to this PDF.")
@click.option("--textgrid", type=FILE, help="Write words, syllables and sounds to this TextGrid.")
@click.option("--json", "json_path", type=FILE, help="Write the whole reading to this file.")
@click.option(
    "--anyway", is_flag=True, help="Make the sheet, with a warning on it, even if the take does not say the line."
)
@click.pass_obj
def read(
    reader: OpenReader,
    *,
    take: Path,
    line: str | None,
    line_file: Path | None,
    character: str,
    rate: str,
    first_frame: int,
    own_rate: float | None,
    channel: int | None,
    pronunciations: Path | None,
    paper: str,
    rows: int,
    ipa: bool,
    count: str,
    sheet: Path | None,
    textgrid: Path | None,
    json_path: Path | None,
    anyway: bool,
) -> None:
    """Read one take: hear what is said on which frame, and print it.

    TAKE is the recording. Without --sheet, --textgrid or --json the words are shown here.
    """
    from trackread.cli.progress import progress_bar
    from trackread.core.sheet import Heading
    from trackread.core.timebase import parse_rate
    from trackread.workflow.printing import form_for
    from trackread.workflow.read_take import Outputs, Take, read_take
    from trackread.workflow.sheet_of_take import Terms

    terms = Terms(parse_rate(rate), first_frame, as_ipa=ipa)
    form = form_for(terms, paper, rows, count)
    words = wanted_line(line, line_file)
    wanted = Take(take, words, character, Heading(take=take.stem), channel, own_rate)
    outputs = Outputs(sheet, textgrid, json_path)
    with progress_bar(f"reading {take.name}") as progress:
        reading = read_take(wanted, outputs, form, reader(pronunciations), anyway=anyway, progress=progress)
    show(reading, terms, outputs)


def wanted_line(line: str | None, file: Path | None) -> str:
    """The line from the command or its file. Raises LineError if the file cannot be read."""
    if (line is None) == (file is None):
        raise click.UsageError("say what is said in the take, either with --line or with --line-file")
    if file is None:
        return line or ""
    try:
        return " ".join(file.read_text(encoding="utf-8-sig").split())
    except (OSError, UnicodeDecodeError) as error:
        raise LineError(f"{file}: cannot be read as UTF-8 text ({error})") from error


def show(reading: Reading, terms: Terms, outputs: Outputs) -> None:
    """What was written, or if nothing was, the words; on the error stream, where the take does not say its line."""
    from trackread.workflow.words_of_take import departure_rows

    if not reading.match.says_line:
        click.echo(f"trackread: beware: the take does not say this line (match {reading.match.score:.2f})", err=True)
    for number, remark in departure_rows(reading, terms):
        click.echo(f"trackread: beware: the take leaves its line on frame {number}: {remark}", err=True)
    for place in outputs.places:
        click.echo(place)
    if not outputs.places:
        from trackread.cli.tables import print_table, words_table

        print_table(words_table(reading, terms))
