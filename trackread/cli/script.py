"""`trackread script`: the drafts of the screenplay, their lines, and what changed from one to the next."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import PLACE, author_option, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.drafts import Added, Comparison


@click.group()
def script() -> None:
    """Add a draft of the script; list its lines and what changed."""


@script.command()
@click.argument("file", type=PLACE)
@production_option
@author_option
def add(*, file: Path, production: Path | None, author: str) -> None:
    """Add a draft, and say what it changes.

    FILE is a screenplay in Fountain, a table (.csv, .tsv) or plain text with `NAME: words` on each line. A line that
    was in the draft before keeps its name (L0107), with all that hangs on it.
    """
    from trackread.workflow.drafts import add as add_draft
    from trackread.workflow.drafts import compared
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        draft = compared(book, file)
        if draft.again:
            click.echo(f"{file} is draft {draft.after}, the current one, word for word: nothing was added.")
            return
        tell_draft(draft, add_draft(book, draft, author))


def tell_draft(draft: Comparison, added: Added) -> None:
    """What was added, what it changes line by line, and who is new."""
    from trackread.cli.script_changes import change_texts, counts_text
    from trackread.workflow.counted import counted

    told = counts_text(draft.changes) if draft.after else counted(len(draft.script.lines), "line")
    click.echo(f"Draft {added.number} is added ({draft.file.name}). {told.capitalize()}.")
    if draft.after:
        for text in change_texts(draft.changes, added.hanging):
            click.echo(text)
    if added.strangers:
        click.echo(f"\nIn the script but not in production.toml: {', '.join(added.strangers)}.")


@script.command()
@click.option("--scene", metavar="SCENE", help="Only the lines of this scene.")
@click.option("--character", metavar="NAME", help="Only the lines of this character.")
@production_option
@json_option
def lines(*, scene: str | None, character: str | None, production: Path | None, as_json: bool) -> None:
    """List the lines of the current draft."""
    from trackread.cli.columns import print_columns
    from trackread.cli.script_changes import speaker_text
    from trackread.workflow.drafts import script_lines
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = script_lines(book, scene, character)
    if as_json:
        print_json({"lines": [asdict(line) for line in found]})
        return
    rows = [(line.id, line.scene, speaker_text(line), line.text) for line in found]
    print_columns(("line", "scene", "character", "words"), rows)


@script.command()
@production_option
@json_option
def drafts(*, production: Path | None, as_json: bool) -> None:
    """List the drafts of the script."""
    from trackread.cli.columns import print_columns
    from trackread.workflow.drafts import drafts as drafts_of
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = drafts_of(book)
    if as_json:
        print_json({"drafts": [asdict(draft) for draft in found]})
        return
    rows = [(str(one.number), one.name, one.title, str(one.count), one.author, one.added) for one in found]
    print_columns(("draft", "file", "title", "lines", "by", "added"), rows, right=("draft", "lines"))


@script.command()
@click.option("--from", "first", type=click.IntRange(1), metavar="N", help="The draft before; the last but one.")
@click.option("--to", "second", type=click.IntRange(1), metavar="N", help="The draft after; the last one.")
@production_option
@json_option
def changes(*, first: int | None, second: int | None, production: Path | None, as_json: bool) -> None:
    """Tell what became of each line from one draft to another."""
    from trackread.cli.script_changes import change_texts, counts_text
    from trackread.workflow.drafts import changes_between
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        earlier, later, found = changes_between(book, first, second)
    if as_json:
        print_json({"from": earlier, "to": later, "changes": [asdict(change) for change in found]})
        return
    click.echo(f"From draft {earlier} to draft {later}, {counts_text(found)}.")
    for text in change_texts(found, {}):
        click.echo(text)
