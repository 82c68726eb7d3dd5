"""`trackread mouths`: what the puppets of a shot wear, and what a person sets of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import author_option, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.core.timebase import FrameRate
    from trackread.workflow.mouth_plans import ShotPlan

character_option = click.option("--character", metavar="NAME", help="Whose mouths, if more than one is in the shot.")
RIGHT = ("changes/s", "flashes", "closures", "bites", "off by", "cost")


@click.group()
def mouths() -> None:
    """Show the mouths of a shot; set some by hand; compare plans."""


@mouths.command()
@click.argument("shot")
@character_option
@production_option
@json_option
def plan(*, shot: str, character: str | None, production: Path | None, as_json: bool) -> None:
    """Show which mouth is worn from which frame to which, as the sheet numbers them."""
    from trackread.cli.columns import print_columns, printable
    from trackread.workflow.mouth_plans import plain_plan, shot_plans
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = shot_plans(book, shot, character)
        settings = book.production
    if as_json:
        print_json({"plans": [plain_plan(one, settings.first_frame) for one in found]})
        return
    for one in found:
        click.echo(printable(f"{one.shot}, {one.character}, kit {one.kit}:"))
        rows = (
            (
                str(settings.first_frame + worn.first),
                str(settings.first_frame + worn.stop - 1),
                worn.mouth,
                "by hand" if worn.pinned else "",
            )
            for worn in one.worn
        )
        print_columns(("from", "to", "mouth", "set"), rows, right=("from", "to"))
        click.echo()
    print_figures(found, settings.rate, [one.character for one in found])
    for one in found:
        if one.pinned:
            click.echo(printable(pins_told(one)))


@mouths.command()
@click.argument("shot")
@click.option(
    "--with", "wishes", multiple=True, required=True, metavar="HOW", help='Another way: "on=ones lead=0", "kit=NAME".'
)
@character_option
@production_option
@json_option
def compare(
    *, shot: str, wishes: tuple[str, ...], character: str | None, production: Path | None, as_json: bool
) -> None:
    """Show the plan beside others, frame by frame, with what each costs.

    HOW is any of the keys of [mouths] in production.toml, or kit; --with may be given more than once.
    """
    from trackread.cli.columns import print_columns
    from trackread.workflow.mouth_plans import compared_plans, plain_plan
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = compared_plans(book, shot, wishes, character)
        settings = book.production
    if as_json:
        named = zip(("", *wishes), found, strict=True)
        print_json({"plans": [{"with": wish, **plain_plan(one, settings.first_frame)} for wish, one in named]})
        return
    names = ["as it is", *wishes]
    print_columns(("frame", *names), side_by_side(found, settings.first_frame), right=("frame",))
    click.echo()
    print_figures(found, settings.rate, names)


@mouths.command()
@click.argument("shot")
@click.argument("frames")
@click.argument("mouth")
@character_option
@production_option
@author_option
def pin(*, shot: str, frames: str, mouth: str, character: str | None, production: Path | None, author: str) -> None:
    """Set the mouth on FRAMES (12-15, or 12) by hand: the plan goes around it.

    MOUTH is its name, or its number in the kit.
    """
    from trackread.cli.columns import printable
    from trackread.workflow.mouth_plans import shot_plans
    from trackread.workflow.pinning import pin_mouth
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        told = pin_mouth(book, shot, frames, mouth, character=character, author=author)
        found = shot_plans(book, shot, character)[0]
    click.echo(printable(f"{told}."))
    click.echo(printable(pins_told(found)))


@mouths.command()
@click.argument("shot")
@click.argument("frames", required=False)
@character_option
@production_option
@author_option
def unpin(*, shot: str, frames: str | None, character: str | None, production: Path | None, author: str) -> None:
    """Let the plan choose again, on FRAMES (12-15) or in the whole shot."""
    from trackread.cli.columns import printable
    from trackread.workflow import pinning
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        told = pinning.unpin(book, shot, frames, character=character, author=author)
    click.echo(printable(f"{told}."))


@mouths.command()
@click.argument("shot")
@click.argument("kit")
@production_option
@author_option
def wear(*, shot: str, kit: str, production: Path | None, author: str) -> None:
    """Say which KIT its character wears in a shot, where there is more than one."""
    from trackread.cli.columns import printable
    from trackread.workflow import pinning
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        told = pinning.wear(book, shot, kit, author=author)
    click.echo(printable(f"{told}."))


def side_by_side(plans: Sequence[ShotPlan], first_number: int) -> Iterator[tuple[str, ...]]:
    """A row for each frame on which any of the plans has a change; what is held there is marked."""
    columns = [{frame: one for one in plan.worn for frame in range(one.first, one.stop)} for plan in plans]
    for frame in sorted({one.first for plan in plans for one in plan.worn}):
        on = [column[frame] for column in columns]
        yield (str(first_number + frame), *(one.mouth if one.first == frame else f"  {one.mouth}" for one in on))


def print_figures(plans: Sequence[ShotPlan], rate: FrameRate, names: Sequence[str]) -> None:
    """What is counted of each plan."""
    from trackread.cli.columns import print_columns

    rows = ((name, *told(plan, rate), str(plan.cost)) for name, plan in zip(names, plans, strict=True))
    print_columns(("plan", *RIGHT), rows, right=RIGHT)


def told(plan: ShotPlan, rate: FrameRate) -> tuple[str, ...]:
    """Changes a second, flashes, closures and bites that are seen, and how far from the face a mouth is on average."""
    figures = plan.figures
    return (
        f"{float(figures.changes * rate.per_second / figures.frames):.1f}",
        str(figures.flashes),
        f"{figures.held} of {figures.closures}",
        f"{figures.bitten} of {figures.bites}",
        f"{figures.distance / figures.frames:.2f}",
    )


def pins_told(plan: ShotPlan) -> str:
    """What the mouths that are set by hand cost, in words."""
    now, free = plan.figures, plan.free_figures
    lost = [
        f"{before - after} of {count} {name}"
        for name, count, before, after in (
            ("closed lips", now.closures, free.held, now.held),
            ("bites", now.bites, free.bitten, now.bitten),
        )
        if before > after
    ]
    further = (
        f"{(now.distance - free.distance) / now.frames:+.2f} from the face, {now.changes - free.changes:+d} changes"
    )
    missed = f", not seen: {', '.join(lost)}" if lost else ""
    return (
        f"{plan.character}: what is set by hand costs {plan.cost - plan.free} more than the plan ({further}{missed})."
    )
