"""What is said of takes that want to be read."""

from collections.abc import Sequence

import click

from trackread.core.session import Take


def tell_to_read(takes: Sequence[Take]) -> None:
    """Says which command reads them, if there are any."""
    if takes:
        names = ", ".join(take.name for take in takes)
        click.echo(f"To be read: {names}; `trackread session read` does that.")
