"""Addresses of database servers: what may be written in production.toml, and what may be shown of it."""

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from trackread.errors import BookError

DRIVER = "postgresql+psycopg"
NAMES = ("postgres", "postgresql", DRIVER)
EXAMPLE = "postgresql://user@server/name"
SECRETS = ("password", "sslpassword", "passfile", "sslkey")


def parse_address(text: str) -> URL:
    """The address of a PostgreSQL database. Raises BookError, which shows nothing of it, if it is none."""
    try:
        address = make_url(text.strip())
    except (ArgumentError, ValueError) as error:
        raise BookError(f"is no address of a database: write {EXAMPLE}") from error
    if address.drivername not in NAMES:
        raise BookError(f"must be the address of a PostgreSQL database such as {EXAMPLE}, not {address.drivername}://")
    if not address.database:
        raise BookError(f"names no database: write {EXAMPLE}")
    return address.set(drivername=DRIVER)


def shown(address: URL) -> str:
    """The address without anything secret."""
    # URL.set takes None for no change.
    bare = address._replace(password=None).set(drivername="postgresql", query={})
    return bare.render_as_string()


def without_secrets(message: str, address: URL) -> str:
    """What a server or driver said, with the address's secrets struck out."""
    secrets = [address.password, *(address.query.get(name) for name in SECRETS)]
    for secret in secrets:
        if secret:
            message = message.replace(str(secret), "***")
    return message
