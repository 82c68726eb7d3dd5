"""Stretches as they stand: as they were found, with all that people decided since in the order of deciding."""

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from sqlalchemy import ColumnElement, Integer, select, type_coerce
from sqlalchemy.orm import Session as Transaction

from trackread.book.tables import DecisionRow, NumberRow, SessionRow, StretchRow
from trackread.core.session import Guess, Stretch, StretchKind, Take, Wholeness
from trackread.core.timebase import Sample

PLACE = type_coerce(StretchRow.place, Integer)  # to be asked for only where it is not NULL
FOUND = select(
    StretchRow.id,
    StretchRow.session,
    PLACE,
    StretchRow.start,
    StretchRow.stop,
    StretchRow.kind,
    StretchRow.guesses,
    StretchRow.heard,
    SessionRow.stand_in,
).join(SessionRow, SessionRow.id == StretchRow.session)


class DecisionKind(StrEnum):
    """What a person may decide of a stretch: what it is, or that its take is liked."""

    TAKE = "take"
    SLATE = "slate"
    CHATTER = "chatter"
    UNSURE = "unsure"
    CIRCLE = "circle"
    UNCIRCLE = "uncircle"


@dataclass(frozen=True, slots=True)
class Decision:
    """`line` and `wholeness` are None unless it makes the stretch a take."""

    author: str
    time: str
    kind: DecisionKind
    line: str | None
    wholeness: Wholeness | None


@dataclass(frozen=True, slots=True)
class Standing:
    """A stretch under its key in the tables, and the take that it stands for."""

    key: int
    take: Take


def standing(transaction: Transaction, where: ColumnElement[bool]) -> list[Standing]:
    """The stretches, of those with a place, that `where` (over the stretches' table) asks for, in order."""
    asked = where & StretchRow.place.is_not(None)
    rows = transaction.execute(FOUND.where(asked).order_by(StretchRow.session, StretchRow.place)).all()
    decided, numbers = decisions_of(transaction, asked), numbers_of(transaction, asked)
    found = []
    for key, session, place, start, stop, kind, guesses, heard, stand_in in rows:
        stretch = Stretch(Sample(start), Sample(stop), StretchKind(kind), tuple(map(guess_of, guesses)), heard)
        found.append(Standing(key, replayed(session, place, stretch, decided[key], numbers[key], stand_in=stand_in)))
    return found


def numbered_among(lines: Collection[str]) -> ColumnElement[bool]:
    """Asks for the stretches that are or once were takes of one of these lines."""
    return StretchRow.id.in_(select(NumberRow.stretch).where(NumberRow.line.in_(lines)))


def decisions_of(transaction: Transaction, where: ColumnElement[bool]) -> defaultdict[int, list[Decision]]:
    """All decisions by stretch, in the order of deciding."""
    rows = transaction.execute(
        select(
            DecisionRow.stretch,
            DecisionRow.author,
            DecisionRow.time,
            DecisionRow.kind,
            DecisionRow.line,
            DecisionRow.wholeness,
        )
        .join(StretchRow, StretchRow.id == DecisionRow.stretch)
        .where(where)
        .order_by(DecisionRow.id)
    )
    decided: defaultdict[int, list[Decision]] = defaultdict(list)
    for stretch, author, time, kind, line, wholeness in rows:
        decided[stretch].append(
            Decision(author, time, DecisionKind(kind), line, Wholeness(wholeness) if wholeness else None)
        )
    return decided


def numbers_of(transaction: Transaction, where: ColumnElement[bool]) -> defaultdict[int, dict[str, int]]:
    """By stretch, the number that it was given of each line."""
    rows = transaction.execute(
        select(NumberRow.stretch, NumberRow.line, NumberRow.number)
        .join(StretchRow, StretchRow.id == NumberRow.stretch)
        .where(where)
    )
    numbers: defaultdict[int, dict[str, int]] = defaultdict(dict)
    for stretch, line, number in rows:
        numbers[stretch][line] = number
    return numbers


def guess_of(plain: dict[str, Any]) -> Guess:
    return Guess(plain["line"], plain["likely"], Wholeness(plain["wholeness"]))


def replayed(
    session: int,
    place: int,
    stretch: Stretch,
    decided: Sequence[Decision],
    numbers: dict[str, int],
    *,
    stand_in: bool,
) -> Take:
    """The take as it is after all decisions."""
    kind, circled = stretch.kind, False
    first = stretch.guesses[0] if kind is StretchKind.TAKE else None
    line, wholeness = (first.line, first.wholeness) if first else (None, None)
    for one in decided:
        if one.kind in (DecisionKind.CIRCLE, DecisionKind.UNCIRCLE):
            circled = one.kind is DecisionKind.CIRCLE
        else:
            kind, line, wholeness = StretchKind(one.kind.value), one.line, one.wholeness
    return Take(
        session=session,
        place=place,
        stretch=stretch,
        kind=kind,
        line=line,
        number=numbers[line] if line else None,
        wholeness=wholeness,
        circled=circled and kind is StretchKind.TAKE,
        stand_in=stand_in,
        decided_by=decided[-1].author if decided else "",
    )
