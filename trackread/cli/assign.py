"""`trackread assign`: what a stretch of a session is, where a person knows better."""

from __future__ import annotations

from pathlib import Path

import click

from trackread.cli.production import author_option, production_option
from trackread.core.session import StretchKind, Take, Wholeness


@click.command()
@click.argument("stretch")
@click.argument("to", metavar="LINE|chatter|slate|unsure")
@click.option("--whole", "says", flag_value=Wholeness.WHOLE.value, help="The take says the whole line.")
@click.option("--cut-off", "says", flag_value=Wholeness.CUT_OFF.value, help="The take breaks off before its end.")
@click.option("--restarted", "says", flag_value=Wholeness.RESTARTED.value, help="It breaks off, and begins again.")
@production_option
@author_option
def assign(*, stretch: str, to: str, says: str | None, production: Path | None, author: str) -> None:
    """Say what a stretch is: a take of a line, or no take.

    STRETCH is its name, S2-017 or L0107-3. As a take of another line it has that line's next number.
    """
    from trackread.cli.to_read import tell_to_read
    from trackread.workflow.decisions import assign as assign_stretch
    from trackread.workflow.decisions import wanting_reading
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        before, now = assign_stretch(book, stretch, to, author, Wholeness(says) if says else None)
        if before == now:
            click.echo(f"{now.stretch_name} is {what_it_is(now)} already.")
        else:
            click.echo(f"{now.stretch_name} is now {what_it_is(now)}; it was {what_it_is(before)}.")
        tell_to_read(wanting_reading(book, [now]))


def what_it_is(take: Take) -> str:
    """What a stretch is, in words: `take L0107-3 (cut off)`, `chatter`."""
    if take.kind is StretchKind.TAKE and take.wholeness:
        return f"take {take.name} ({take.wholeness.value})"
    return take.kind.value
