"""`trackread key`: keys by which people sign in to the server."""

from __future__ import annotations

from pathlib import Path

import click

from trackread.cli.production import author_option, json_option, print_json, production_option


@click.group()
def key() -> None:
    """Make, list and revoke the keys of those who sign in."""


@key.command()
@click.option("--role", required=True, metavar="editor|unit|office", help="What the key opens.")
@click.option("--name", required=True, metavar="WHO", help="Whom it is for; what they do bears this name.")
@click.option("--unit", default="", metavar="NAME", help="The unit whose sheets it opens, if it is a unit's.")
@production_option
@author_option
def add(*, role: str, name: str, unit: str, production: Path | None, author: str) -> None:
    """Make a key and print it, once: it is kept nowhere as it is."""
    from trackread.workflow.keys import make_key
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        made = make_key(book, role, name, unit, author)
    whose = f"unit {made.note.unit}" if made.note.unit else made.note.role
    click.echo(f"Key {made.note.number} for {made.note.name} ({whose}), shown this once:")
    click.echo(f"\n  {made.text}\n")


@key.command(name="list")
@click.option("--revoked", is_flag=True, help="Those that have been revoked as well.")
@production_option
@json_option
def list_keys(*, revoked: bool, production: Path | None, as_json: bool) -> None:
    """List the keys, without what is secret of them."""
    from dataclasses import asdict

    from trackread.cli.columns import print_columns
    from trackread.workflow.keys import all_keys
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = all_keys(book, revoked=revoked)
    if as_json:
        print_json({"keys": [asdict(one) for one in found]})
        return
    if not found:
        click.echo("There are no keys: `trackread key add --role editor --name NAME` makes one.")
        return
    rows = ((str(one.number), one.role, one.name, one.unit, one.added, one.author, one.revoked or "") for one in found)
    print_columns(("key", "role", "name", "unit", "made", "by", "revoked"), rows, right=("key",))


@key.command()
@click.argument("number", type=int)
@production_option
def revoke(*, number: int, production: Path | None) -> None:
    """End a key, by its number, and sign out who came in with it."""
    from trackread.workflow.keys import revoke as revoke_key
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        note = revoke_key(book, number)
    click.echo(f"Key {note.number} of {note.name} opens nothing any more, and who had signed in with it is signed out.")
