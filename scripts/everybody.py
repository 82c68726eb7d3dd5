"""Forty units, three desks and two offices at one server, all at once, for as long as something else lasts."""

import asyncio
from collections.abc import Coroutine, Mapping
from dataclasses import dataclass
from random import Random

from served_feature import make_cast
from visitors_at_work import Desk, Office, Pace, Unit, Watched

from trackread.book.book import Book

UNITS, DESKS, OFFICES = 40, 3, 2
TAKES = 60  # that desks correct
ANSWERED = 3.0  # seconds in which all that was sent is heard of


@dataclass(frozen=True, slots=True)
class Everybody:
    units: list[Unit]
    desks: list[Desk]
    offices: list[Office]

    @property
    def all(self) -> list[Unit | Desk | Office]:
        return [*self.units, *self.desks, *self.offices]


def everybody_of(book: Book, address: str, seed: int, retry: float) -> Everybody:
    """Everybody, each with a key of their own; who gets no answer asks again after `retry` seconds."""
    cast = make_cast(book, UNITS, DESKS, OFFICES)
    chances = [Random(f"{seed} {number}") for number in range(UNITS + DESKS)]
    return Everybody(
        [Unit(address, key, retry, chance) for key, chance in zip(cast.units.values(), chances[:UNITS], strict=True)],
        [Desk(address, key, retry, chance) for key, chance in zip(cast.desks, chances[UNITS:], strict=True)],
        [Office(address, key, retry) for key in cast.offices],
    )


async def at_work(
    everybody: Everybody, takes: Mapping[str, str], pace: Pace, lasting: Coroutine[None, None, None]
) -> Watched:
    """Has everybody work while something lasts; `takes` are heard in the shots that they are told with."""
    watched = Watched()
    for one in everybody.all:
        await one.sign_in()
    own = [sorted(takes)[number::DESKS] for number in range(DESKS)]
    async with asyncio.TaskGroup() as group:
        working = [group.create_task(one.work(pace, watched, OFFICES)) for one in everybody.units]
        working += [
            group.create_task(one.work(pace, takes, its)) for one, its in zip(everybody.desks, own, strict=True)
        ]
        working += [group.create_task(one.work()) for one in everybody.offices]
        heard = [group.create_task(one.listen()) for one in (*everybody.units, *everybody.desks)]
        heard += [group.create_task(one.listen(watched)) for one in everybody.offices]
        await lasting
        for one in everybody.all:
            one.over.set()
        await asyncio.wait(working)
        await asyncio.sleep(ANSWERED)
        for task in heard:
            task.cancel()
    for one in everybody.all:
        await one.client.aclose()
    return watched
