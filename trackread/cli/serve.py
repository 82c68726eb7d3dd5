"""`trackread serve`: the desk, the floor and the office, for browsers on this machine or on the studio's network."""

from __future__ import annotations

from pathlib import Path

import click

from trackread.cli.production import PLACE, author_option, production_option

PORT = click.IntRange(0, 65535)


@click.command()
@click.option("--host", default="127.0.0.1", metavar="ADDRESS", show_default=True, help="The address to listen at.")
@click.option("--port", type=PORT, default=8470, metavar="N", show_default=True, help="The port; 0 for any free one.")
@click.option("--on-network", is_flag=True, help="Yes, others on the network are to reach it.")
@click.option("--name", "names", multiple=True, metavar="NAME", help="What else browsers may call this machine.")
@click.option("--cert", type=PLACE, metavar="FILE", help="A certificate (PEM), to serve by TLS.")
@click.option("--key-file", type=PLACE, metavar="FILE", help="Its private key (PEM).")
@production_option
@author_option
def serve(
    *,
    host: str,
    port: int,
    on_network: bool,
    names: tuple[str, ...],
    cert: Path | None,
    key_file: Path | None,
    production: Path | None,
    author: str,
) -> None:
    """Serve the production's pages to browsers.

    Without --on-network only this machine can reach them. It prints the address to open, and how to sign in.
    """
    from trackread.web.serving import Place
    from trackread.web.serving import serve as serve_at
    from trackread.workflow.production import open_production

    place = Place(host, port, on_network, names, cert, key_file)
    with open_production(production) as book:
        serve_at(book, place, author, tell=click.echo)
