"""`trackread kit`: the mouths that puppets can wear, checked, begun and shown."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import PLACE, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.kit_checking import Checked


def folder_of(production: Path | None) -> Path:
    """The production's folder: the one that is given, else this one or the nearest above it that holds one."""
    from trackread.workflow.production import production_above

    return production or production_above(Path.cwd())


@click.group()
def kit() -> None:
    """Check the mouths that a puppet can wear; begin a kit of them; show it."""


@kit.command()
@click.argument("files", metavar="[FILE]...", type=PLACE, nargs=-1)
@production_option
def check(*, files: tuple[Path, ...], production: Path | None) -> None:
    """Tell all that is wrong with kits, and what is as well to know.

    Without FILE, every kit of the production is checked, and whether each character has one. The status is 1 if
    anything is wrong.
    """
    from trackread.workflow.kit_checking import checked_files, checked_production

    found = checked_files(files) if files else checked_production(folder_of(production))
    tell_checked(found)
    if found.problems:
        raise click.exceptions.Exit(1)


def tell_checked(found: Checked) -> None:
    """The problems, the remarks, and how many there are of each."""
    from trackread.cli.columns import printable
    from trackread.workflow.counted import counted

    for problem in found.problems:
        click.echo(printable(problem))
    for remark in found.remarks:
        click.echo(printable(f"remark: {remark}"))
    if not found.files:
        click.echo("There are no kits yet: begin one with `trackread kit new NAME --character NAME`.")
        return
    told = counted(len(found.problems), "problem") if found.problems else "nothing is wrong"
    remarks = f", {counted(len(found.remarks), 'remark')}" if found.remarks else ""
    click.echo(f"{counted(found.files, 'kit')}: {told}{remarks}.")


@kit.command()
@click.argument("name")
@click.option("--character", required=True, metavar="NAME", help="Whose mouths they are.")
@click.option("--jaw", type=int, metavar="STEPS", help="A jaw that only opens, in so many steps; nothing is swapped.")
@production_option
def new(*, name: str, character: str, jaw: int | None, production: Path | None) -> None:
    """Begin a kit for a character, in kits/NAME.toml.

    It has plain mouths that can say everything: change them to those that you have, with any text editor.
    """
    from trackread.workflow.kit_making import make_kit

    path, whose = make_kit(folder_of(production), name, character, jaw)
    click.echo(f"{path} has a kit for {whose}: change it to what the puppet has, then `trackread kit check`.")


@kit.command()
@click.argument("name")
@click.option("-o", "--to", type=PLACE, metavar="FILE", help="Write all mouths on one page: a .pdf or a .png.")
@production_option
@json_option
def show(*, name: str, to: Path | None, production: Path | None, as_json: bool) -> None:
    """Show the mouths of a kit: name, number, copies, sounds; with -o also what they look like.

    The page is for the wall where puppets are made and animated.
    """
    from trackread.cli.columns import print_columns, printable
    from trackread.workflow.kit_pages import FORMS, kit_named, kit_page, plain_kit, table_rows
    from trackread.workflow.writing import write_all

    if to and to.suffix.lower() not in FORMS:
        raise click.UsageError(f"{to} is neither a PDF nor a PNG: end its name in {' or '.join(FORMS)}")
    shown = kit_named(folder_of(production), name)
    if to:
        write_all({to: kit_page(shown, to.suffix.lower())})
    if as_json:
        print_json(plain_kit(shown))
    elif to:
        click.echo(f"{shown.one.kit.character}: {to}")
    else:
        click.echo(f"{printable(shown.one.kit.character)}\n")
        print_columns(("number", "mouth", "copies", "sounds", "picture"), table_rows(shown), right=("number", "copies"))
