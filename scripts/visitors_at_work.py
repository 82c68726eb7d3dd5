"""People at a server, as their pages ask it: units that tell frames, desks that correct takes, offices that look on.

What the server has acknowledged is noted, to be looked for in the book afterwards. A page whose server does not answer
asks again until it does: a frame is told under the same id, a correction after the take was read anew. Times are
seconds.
"""

import asyncio
import contextlib
import json
import secrets
import time
from collections.abc import AsyncIterator, Mapping, Sequence
from dataclasses import dataclass, field
from http import HTTPStatus
from random import Random
from typing import Any

import httpx

PATIENCE = 8.0  # as the floor's page has it
SILENCE = 40.0  # after which a page takes the line for dead
OVER_AGAIN = 0.1  # of all frames that are told, those that take one back
LOOKS = 0.15  # of all frames, those after which a page asks for its sheet, or for its sound, once more

Event = Mapping[str, Any]


@dataclass(slots=True)
class Watched:
    """When each count was sent and seen: `late` has the seconds from a page's sending it to an office's hearing it."""

    sent: dict[tuple[str, int], float] = field(default_factory=dict)
    unseen: dict[tuple[str, int], int] = field(default_factory=dict)
    late: list[tuple[float, float]] = field(default_factory=list)  # when it was sent, and how long it took

    def sends(self, shot: str, count: int, offices: int) -> None:
        self.sent[shot, count] = time.monotonic()
        self.unseen[shot, count] = offices

    def sees(self, event: Event) -> None:
        """An office hears how many frames of a shot are shot."""
        key = event["shot"], event["done"]
        if self.unseen.get(key, 0):
            self.unseen[key] -= 1
            self.late.append((self.sent[key], time.monotonic() - self.sent[key]))


class Visitor:
    """Somebody with a browser, who signs in and stays so."""

    def __init__(self, address: str, key: str, retry: float) -> None:
        self.client = httpx.AsyncClient(base_url=address, timeout=PATIENCE, trust_env=False)
        self.key, self.retry = key, retry
        self.tries = 0  # that had no answer
        self.waiting = 0  # for answers, just now
        self.refused: list[str] = []
        self.unanswered: list[str] = []
        self.over = asyncio.Event()

    async def sign_in(self) -> None:
        answer = await self.asked("POST", "/sign-in", data={"key": self.key})
        if answer.status_code != HTTPStatus.SEE_OTHER:
            raise SystemExit(f"a right key was refused: {answer.status_code} {answer.text}")

    async def rest(self, seconds: float) -> None:
        """Does nothing for so long, or until the day is over."""
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(self.over.wait(), seconds)

    async def asked(self, method: str, path: str, **more: Any) -> httpx.Response:
        """What the server answers, however often it has to be asked; what it refuses is noted."""
        while True:
            self.waiting += 1
            try:
                answer = await self.client.request(method, path, **more)
            except httpx.HTTPError as error:
                self.tries += 1
                self.unanswered.append(f"{method} {path}: {error!r}")
                await asyncio.sleep(self.retry)
                continue
            finally:
                self.waiting -= 1
            if answer.status_code >= HTTPStatus.BAD_REQUEST:
                self.refused.append(f"{method} {path}: {answer.status_code} {answer.text[:200]}")
            return answer

    async def hears(self) -> AsyncIterator[Event]:
        """What the server tells as it happens; comes back when the line breaks."""
        while True:
            try:
                async with self.client.stream(
                    "GET", "/api/live", timeout=httpx.Timeout(PATIENCE, read=SILENCE)
                ) as told:
                    async for row in told.aiter_lines():
                        if row.startswith("data: ") and row != "data: {}":
                            yield json.loads(row.removeprefix("data: "))
            except httpx.HTTPError:
                self.tries += 1
            await asyncio.sleep(self.retry)


@dataclass(frozen=True, slots=True)
class Pace:
    """Seconds from one frame of a unit to the next, and from one correction of a desk to the next, at the mean."""

    frames: float
    corrections: float


class Unit(Visitor):
    """A unit's tablet. `told` are the counts that the server has acknowledged, by their ids, each with its shot."""

    def __init__(self, address: str, key: str, retry: float, chance: Random) -> None:
        super().__init__(address, key, retry)
        self.chance = chance
        self.told: dict[str, tuple[str, int]] = {}
        self.shot, self.sheet = "", {}
        self.standing: dict[str, int] = {}
        self.sending = asyncio.Lock()  # one post at a time, so that no answer is older than another

    async def work(self, pace: Pace, watched: Watched, offices: int) -> None:
        """Shoots its shots, one after the other."""
        shots = [one["shot"] for one in (await self.asked("GET", "/api/floor")).json()["shots"]]
        await self.rest(pace.frames * self.chance.random())
        for self.shot in shots:
            await self.look()
            await self.asked("GET", f"/api/floor/{self.shot}/sound")
            while self.done < self.sheet["length"] and not self.over.is_set():
                back = self.done and self.chance.random() < OVER_AGAIN
                await self.tell(self.done + (-1 if back else 1), watched, offices)
                if self.chance.random() < LOOKS:
                    await self.look()
                if self.chance.random() < LOOKS:
                    await self.asked("GET", f"/api/floor/{self.shot}/sound")
                await self.rest(pace.frames * self.chance.uniform(0.5, 1.5))
            if self.over.is_set():
                return

    @property
    def done(self) -> int:
        return max([0, *self.standing.values()])

    async def look(self) -> None:
        """Asks for the newest sheet of its shot."""
        async with self.sending:
            answer = await self.asked("GET", f"/api/floor/{self.shot}")
            self.sheet = answer.json()
            self.standing = self.sheet["standing"]

    async def tell(self, count: int, watched: Watched, offices: int) -> None:
        """Tells that so many frames are shot."""
        async with self.sending:
            one = {"id": secrets.token_hex(16), "issue": self.sheet["issue"], "count": count, "over": [*self.standing]}
            watched.sends(self.shot, count, offices)
            if await self.post([one]):
                self.told[one["id"]] = self.shot, count

    async def post(self, events: Sequence[Event]) -> bool:
        """Sends counts, none to hear what stands; whether they are kept."""
        path, asked = f"/api/floor/{self.shot}/frames", {"issue": self.sheet["issue"]}
        answer = await self.asked("POST", path, params=asked, json={"events": events})
        if answer.status_code != HTTPStatus.OK:
            return False
        self.standing = answer.json()["standing"]
        return all(one["kept"] for one in answer.json()["events"])

    async def listen(self) -> None:
        """Does what the page does when it is told something."""
        async for event in self.hears():
            if event.get("shot") != self.shot or not self.sheet:
                continue
            if event["kind"] == "done":
                async with self.sending:
                    await self.post([])
            else:
                await self.look()


@dataclass(frozen=True, slots=True)
class Corrected:
    """A correction that was acknowledged: of which take, as which of its corrections, of which kind."""

    take: str
    sequence: int
    kind: str


class Desk(Visitor):
    """An editor who corrects takes and issues sheets. `circled` has the last word on each take that only this desk
    circles, `issued` the codes of the sheets that it gave out, each with its shot and number.
    """

    def __init__(self, address: str, key: str, retry: float, chance: Random) -> None:
        super().__init__(address, key, retry)
        self.chance = chance
        self.corrected: list[Corrected] = []
        self.circled: dict[str, bool] = {}
        self.issued: dict[str, tuple[str, int]] = {}
        self.clashes = 0

    async def work(self, pace: Pace, takes: Mapping[str, str], own: Sequence[str]) -> None:
        """Corrects takes that other desks correct too, each heard in a shot, whose sheet it gives out now and then; and
        circles its own.
        """
        await self.issue(takes[sorted(takes)[0]])  # what the first sheet needs is fetched once, and stays
        while not self.over.is_set():
            take = self.chance.choice(sorted(takes))
            await self.correct(take)
            if self.chance.random() < LOOKS:
                await self.circle(self.chance.choice(own))
            if self.chance.random() < LOOKS:
                await self.issue(takes[take])
            await self.rest(pace.corrections * self.chance.uniform(0.5, 1.5))

    async def correct(self, take: str) -> None:
        """Makes one correction, on whatever the take is by then."""
        while True:
            seen = (await self.asked("GET", f"/api/takes/{take}")).json()
            wanted = self.correction(seen)
            heads = {"If-Match": f'"{seen["revision"]}"'}
            answer = await self.asked("POST", f"/api/takes/{take}/corrections", json=wanted, headers=heads)
            if answer.status_code == HTTPStatus.OK:
                sequence = int(answer.json()["revision"].rpartition("-")[2])
                self.corrected.append(Corrected(take, sequence, wanted["kind"]))
                return
            # Where no answer came, the correction may be there, and the revision another for it.
            self.refused.pop()
            if answer.status_code != HTTPStatus.PRECONDITION_FAILED:
                return
            self.clashes += 1

    def correction(self, seen: Mapping[str, Any]) -> dict[str, Any]:
        """A note, a cut pinned, or a word that is right: what makes no other reading, mostly; or a cut moved."""
        cut = self.chance.randrange(2, len(seen["cuts"]) - 1)
        match self.chance.randrange(4):
            case 0:
                return {"kind": "note", "sample": seen["cuts"][cut], "text": secrets.token_hex(8)}
            case 1:
                return {"kind": "pin", "cut": cut}
            case 2:
                return {"kind": "right", "word": self.chance.randrange(len(seen["words"]))}
            case _:
                near = (seen["cuts"][cut] + seen["cuts"][cut + 1]) // 2
                return {"kind": "move", "cut": cut, "to": near}

    async def circle(self, take: str) -> None:
        wanted = not self.circled.get(take, False)
        answer = await self.asked("POST", f"/api/takes/{take}/circle", json={"on": wanted})
        if answer.status_code == HTTPStatus.OK:
            self.circled[take] = wanted

    async def issue(self, shot: str) -> None:
        """Gives the sheet of a shot out once more, if it is another by now."""
        while True:
            seen = await self.asked("GET", f"/api/cut/shots/{shot}")
            heads, wanted = {"If-Match": seen.headers["etag"]}, {"shots": [shot], "unit": "", "reason": "corrected"}
            answer = await self.asked("POST", "/api/issue", json=wanted, headers=heads)
            if answer.status_code == HTTPStatus.OK:
                (given,) = answer.json()["given"]
                self.issued[given["code"]] = shot, given["issue"]
                return
            if answer.status_code != HTTPStatus.PRECONDITION_FAILED:
                return
            self.refused.pop()
            self.clashes += 1

    async def listen(self) -> None:
        async for _ in self.hears():
            pass


class Office(Visitor):
    """Somebody at the office's page."""

    async def listen(self, watched: Watched) -> None:
        async for event in self.hears():
            if event["kind"] == "done":
                watched.sees(event)

    async def work(self) -> None:
        """Opens the page anew now and then."""
        while not self.over.is_set():
            await self.asked("GET", "/api/office")
            await self.rest(PATIENCE)
