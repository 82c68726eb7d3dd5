"""The time of day as the book writes it: ISO 8601 in UTC, to the second."""

from datetime import UTC, datetime


def now() -> str:
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
