"""A film in two shots, its cutting room served by the real server, and what is asked of it in tests.

The film is that of tests/films.py: L0001-1 plays on frames 11 to 30 of SH010, L0002-1 on frames 41 to 48 of it and on
1 to 5 of SH020.
"""

from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date

import httpx

from tests.films import a_film
from tests.shots.conftest import PICTURES, VOICES, pictures, voices
from tests.web.served import Served, served
from trackread.book.book import Book
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.issuing import IssueWish, give_out
from trackread.workflow.material import gather
from trackread.workflow.shots import Choice, chosen_briefs


def a_cut_film(tmp_path):
    """Makes the production, and gives its folder."""
    folder = a_film(tmp_path)
    with Book.open(folder) as book:
        add_cut(book, tmp_path)
    return folder


def add_cut(book, folder, shots=PICTURES, pieces=VOICES):
    """Adds a cut of these pictures and voices, whose lists lie in a folder."""
    files = [folder / "picture.edl", folder / "voice.edl"]
    files[0].write_text(pictures(*shots, rate=book.production.rate))
    files[1].write_text(voices(*pieces, rate=book.production.rate))
    add_lists(book, files, ListWish(), "BO")


def issue_beside(book, *names, unit="7"):
    """Issues sheets as somebody else does, beside the server."""
    material = gather(book)
    briefs = chosen_briefs(material, Choice(names))
    return list(give_out(book, material, briefs, IssueWish(unit, "", date(2026, 11, 26)), author="BO", workers=None))


@dataclass
class Room:
    """An editor in the cutting room, who has signed in as EDITOR; the `book` is what somebody beside the server has."""

    server: Served
    client: httpx.Client

    @property
    def book(self):
        return self.server.book

    def get(self, path, **asked):
        return self.client.get(path, **asked)

    def told(self, path, **asked):
        return self.client.get(path, **asked).json()

    def rows(self):
        return {one["shot"]: one for one in self.told("/api/cut")["shots"]}

    def revision(self, *names):
        seen = self.rows()
        return ".".join(seen[name]["state"] for name in names)

    def issue(self, *names, revision=None, **values):
        """Issues sheets as they were seen, by default just now."""
        asked = {"shots": [*names], "unit": "7", "reason": "", **values}
        revision = self.revision(*names) if revision is None else revision
        return self.client.post("/api/issue", json=asked, headers={"If-Match": f'"{revision}"'})

    def by_hand(self, seen, **values):
        """Changes cut number `seen`."""
        return self.client.post("/api/cut", json=values, headers={"If-Match": f'"{seen}"'})


@contextmanager
def a_room(folder):
    """The cutting room of a production."""
    with served(folder) as server:
        yield Room(server, server.signed_in("editor"))


def etag(answer):
    return answer.headers["ETag"].strip('"')
