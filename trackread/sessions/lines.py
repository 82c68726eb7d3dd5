"""The lines of a script as a session's takes are compared with them: words, each with the ways it may be said."""

from collections.abc import Sequence
from dataclasses import dataclass

Way = tuple[str, ...]  # ARPAbet without stress digits
Words = tuple[tuple[Way, ...], ...]


@dataclass(frozen=True, slots=True)
class Spoken:
    """A line by its id, and its words, each with the ways it may be said, the commonest first."""

    id: str
    words: Words

    def __post_init__(self) -> None:
        if not can_be_said(self.words):
            raise ValueError(f"line {self.id} has words, and each of them phones")

    @property
    def phones(self) -> Way:
        """Each word in its commonest way."""
        return tuple(phone for ways in self.words for phone in ways[0])


def can_be_said(words: Words) -> bool:
    """Whether there are words, and each has a way or more, all with phones."""
    return bool(words) and all(ways and all(ways) for ways in words)


def known_apart(lines: Sequence[Spoken]) -> tuple[tuple[Spoken, ...], dict[str, tuple[str, ...]]]:
    """The lines that sound apart, and for each of their ids all lines that are said just as it is, with itself."""
    same: dict[Words, list[Spoken]] = {}
    for line in lines:
        same.setdefault(line.words, []).append(line)
    return (
        tuple(group[0] for group in same.values()),
        {group[0].id: tuple(line.id for line in group) for group in same.values()},
    )
