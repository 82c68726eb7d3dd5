"""`trackread cut`: the editor's lists brought in, and the cuts that there have been."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import PLACE, author_option, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.core.cut import Remark
    from trackread.workflow.adding_cut import AddedCut

MOST = 40  # remarks of a kind that are told, so that what matters is not pushed off the screen


@click.group()
def cut() -> None:
    """Bring in the editor's cut lists; list cuts."""


@cut.command()
@click.argument("files", nargs=-1, required=True, type=PLACE, metavar="FILE...")
@click.option("--start", default="", metavar="TIMECODE", help="The timecode at which the cut starts, if no list says.")
@click.option("--track", "tracks", multiple=True, metavar="NAME", help="Only sounds of this track; may be repeated.")
@click.option("--every-remark", is_flag=True, help=f"Tell all remarks, and not the first {MOST} of a kind.")
@production_option
@author_option
def add(
    *,
    files: tuple[Path, ...],
    start: str,
    tracks: tuple[str, ...],
    every_remark: bool,
    production: Path | None,
    author: str,
) -> None:
    """Bring in the lists of a cut.

    FILES are all lists of one cut: CMX 3600 (.edl), OpenTimelineIO (.otio) or tables (.csv). Pictures are shots, and
    sounds are pieces of recordings that the production knows. It becomes the current cut; add the lists again when more
    recordings are in.
    """
    from trackread.workflow.adding_cut import ListWish, add_lists
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        added = add_lists(book, files, ListWish(start, tracks), author)
    tell_cut(added, None if every_remark else MOST)


def tell_cut(added: AddedCut, most: int | None) -> None:
    """What was added: counts, what could not be matched, what became of shots, and remarks on the lists."""
    from trackread.workflow.counted import counted

    known = len(added.cut.placements)
    again = ", the current one" if added.again else ""
    shots, sounds = counted(len(added.cut.shots), "shot"), counted(known, "sound")
    click.echo(f"Cut {added.number}{again}: {shots}, {added.cut.length} frames; {sounds}, {added.matched} matched.")
    tell("\nNo known recording", added.unmatched, most)
    tell_texts("\nChanged", added.told, most)
    tell("\nRemarks", added.cut.remarks, most)


def tell(heading: str, remarks: Sequence[Remark], most: int | None) -> None:
    tell_texts(heading, [f"{one.place}: {one.text}" for one in remarks], most)


def tell_texts(heading: str, texts: Sequence[str], most: int | None) -> None:
    """Texts under a heading, with the count of those that are left out."""
    from trackread.cli.columns import printable

    if texts:
        click.echo(f"{heading} ({len(texts)})")
    for text in texts[:most]:
        click.echo(printable(f"  {text}"))
    if most is not None and len(texts) > most:
        click.echo(f"  and {len(texts) - most} more: --every-remark tells them all")


@cut.command("list")
@production_option
@json_option
def list_cuts(*, production: Path | None, as_json: bool) -> None:
    """List all cuts, the first one first."""
    from trackread.cli.columns import print_columns
    from trackread.workflow.current_cut import all_cuts
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = all_cuts(book)
    if as_json:
        print_json({"cuts": [asdict(one) for one in found]})
        return
    columns = ("cut", "what", "by", "added")
    print_columns(columns, ((str(one.number), one.what, one.author, one.added) for one in found), right=("cut",))
