"""Sheets that are out, as a server keeps them: what cannot change made once, and whether each still holds.

An issue is frozen, and so is what it says otherwise than another. What it sounds like is that of its cut, with the
takes that it names. Whether it holds is asked anew only when what its sheet would rest on is another.
"""

import zlib
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field, replace
from threading import Lock

from trackread.book.book import Book
from trackread.book.issues import Issue
from trackread.core.cut import pieces_in
from trackread.film.wave import wave_of
from trackread.workflow.causes import history_of, of_cut
from trackread.workflow.current_cut import numbered_cut
from trackread.workflow.kept_material import Kept, KeptMaterial, KitFiles, kit_files_in
from trackread.workflow.kit_pages import kit_named
from trackread.workflow.kits import KitInUse
from trackread.workflow.material import with_chosen_takes
from trackread.workflow.shelf import Shelf
from trackread.workflow.shot_rests import Rests, rests_from_plain
from trackread.workflow.shot_sound import shot_sound
from trackread.workflow.stale import changed_since, gone_from_film

MOST_SHEETS = 16 * 2**20  # bytes of sheets in JSON, packed: all of a feature
MOST_SOUND = 12 * 2**20  # bytes of sound: a page asks for it once, or for parts of it one after the other


@dataclass(frozen=True, slots=True)
class Overtaken:
    """A sheet that is out and would be another now, from the frame on that `first` is printed beside."""

    first: int
    told: tuple[str, ...]
    gone: bool


@dataclass(slots=True)
class KeptSheets:
    """The sheets of a book that are out. May be asked by several threads."""

    book: Book
    material: KeptMaterial
    frozen: Shelf = field(default_factory=lambda: Shelf(MOST_SHEETS))
    sounds: Shelf = field(default_factory=lambda: Shelf(MOST_SOUND))
    asked: dict[str, tuple[int, Rests | None, Overtaken | None]] = field(default_factory=dict)
    kits: tuple[KitFiles, dict[str, KitInUse]] = ((), {})
    lock: Lock = field(default_factory=Lock)

    def overtaken(self, kept: Kept, issue: Issue) -> Overtaken | None:
        """How the current sheet of a shot would be another now, None if it holds."""
        rests = kept.rests(issue.shot)
        last = self.asked.get(issue.shot)
        if last is None or last[:2] != (issue.id, rests):
            with self.lock:  # two who make the same sheet anew are no quicker than one
                last = self.asked.get(issue.shot)
                if last is None or last[:2] != (issue.id, rests):
                    last = issue.id, rests, compared(self.book, kept, issue)
                    self.asked[issue.shot] = last
        return last[2]

    def known(self, issue: Issue) -> Overtaken | None:
        """What was told last of an issue, None if it held, or if nobody has asked."""
        last = self.asked.get(issue.shot)
        return last[2] if last and last[0] == issue.id else None

    def sound(self, issue: Issue) -> bytes:
        """What is heard on an issue, as a wave file. Raises SoundError where a recording is missing."""
        # A sheet that is issued again, since a take of it was corrected, sounds as it did.
        key = issue.shot, of_cut(issue), frozenset(rests_from_plain(issue.rests_on).takes)
        return self.sounds.content(key, lambda: sound_of(self.book, self.material.now(), issue))

    def text(self, key: Hashable, make: Callable[[], bytes]) -> bytes:
        """What a sheet says, or says otherwise than another, made if it is not kept."""
        return zlib.decompress(self.frozen.content(key, lambda: zlib.compress(make())))

    def kit(self, name: str) -> KitInUse:
        """A kit as it is now. Raises KitError for one that is wrong, or not there."""
        files = kit_files_in(self.book.folder)
        if self.kits[0] != files:
            self.kits = files, {}
        found = self.kits[1]
        if name not in found:
            found[name] = kit_named(self.book.folder, name).one
        return found[name]


def compared(book: Book, kept: Kept, issue: Issue) -> Overtaken | None:
    """The sheet of a shot compared with the one that is out."""
    if kept.rests(issue.shot) == rests_from_plain(issue.rests_on):
        return None
    history = history_of(book, kept.material)
    found = [*gone_from_film(history, [issue]), *changed_since(book, history, [issue])]
    return Overtaken(found[0].first, found[0].told, found[0].gone) if found else None


def sound_of(book: Book, kept: Kept, issue: Issue) -> bytes:
    """What is heard on an issue, of its cut and of the takes that it names, as a wave file."""
    material = kept.material
    cut = kept.numbered.cut if of_cut(issue) == kept.numbered.number else numbered_cut(book, of_cut(issue)).cut
    named = rests_from_plain(issue.rests_on).takes
    takes = [take for some in material.takes.values() for take in some if take.name in named]
    cut = with_chosen_takes(cut, takes, material.sessions)
    shot = next(one for one in cut.shots if one.name == issue.shot)
    its = {shot.name: tuple(pieces_in(cut, shot))}
    return wave_of(shot_sound(book, replace(material, cut=cut, pieces=its), shot))
