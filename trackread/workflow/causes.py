"""Why a sheet is stale: what of that which it rests on is another now, who changed it, and when."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from trackread.book.book import Book
from trackread.book.cuts import CutNote, cuts
from trackread.book.drafts import DraftNote, drafts
from trackread.book.issues import Issue
from trackread.workflow.material import Material
from trackread.workflow.shot_brief import HeardTake, ShotBrief
from trackread.workflow.shot_rests import Rests, rests_from_plain

OF_CUT = "of_cut"  # beside what an issue rests on, the number of its cut


@dataclass(frozen=True, slots=True)
class Cause:
    """What was changed, in words, and the time as ISO 8601 in UTC; "" where nobody wrote it down."""

    told: str
    time: str


@dataclass(frozen=True, slots=True)
class History:
    """The cuts and drafts of a production, and when its readings were made, for asking about many sheets."""

    material: Material
    cuts: tuple[CutNote, ...]
    drafts: tuple[DraftNote, ...]
    made: dict[int, str] = field(default_factory=dict)

    def since_cut(self, issue: Issue) -> Iterator[Cause]:
        """The last cut, if there is one since the issue was made."""
        later = [cut for cut in self.cuts if cut.number > of_cut(issue)]
        if later:
            yield Cause(f"cut {later[-1].number} ({later[-1].what}) by {later[-1].author}", later[-1].added)

    def causes(self, issue: Issue, brief: ShotBrief, now: Rests) -> Iterator[Cause]:
        """Everything that is another now than when an issue was made."""
        was = rests_from_plain(issue.rests_on)
        if was.cut != now.cut:
            yield from self.since_cut(issue)
        for one in {each.take.name: each for each in brief.heard}.values():
            yield from self.take_causes(one, was.takes.get(one.take.name))
        if any(was.lines.get(line, digest) != digest for line, digest in now.lines.items()) and self.drafts:
            last = self.drafts[-1]
            yield Cause(f"draft {last.number} ({last.name}) by {last.author}", last.added)
        for kind in sorted({*was.notes, *now.notes}):
            if was.notes.get(kind) != now.notes.get(kind):
                note = self.material.notes[brief.shot.name][kind]
                yield Cause(f"{kind} told by {note.author}", note.time)
        for character in sorted({*was.kits, *now.kits}):
            if was.kits.get(character) != now.kits.get(character):
                yield Cause(kit_told(character, was.kits.get(character), now.kits.get(character)), "")
        if was.wish != now.wish:
            yield Cause("the settings of the production, the scene, or who is in it", "")

    def take_causes(self, one: HeardTake, was: tuple[int | None, int] | None) -> Iterator[Cause]:
        """What is new of a take: it is heard, was read again, or was corrected."""
        name = one.take.name
        if was is None:
            yield Cause(f"{name} is heard", "")
            return
        reading, corrected = was
        if one.reading is not None and one.reading != reading:
            yield Cause(f"{name} was read {'again' if reading else ''}".rstrip(), self.made.get(one.reading, ""))
        notes = self.material.corrections.get((one.take.session, one.take.place), ())
        for note in notes[corrected:]:
            yield Cause(f"{name} corrected by {note.author}: {note.words}", note.time)


def kit_told(character: str, was: str | None, now: str | None) -> str:
    """How a puppet's kit, its name and digest, is another."""
    if was is None or now is None:
        return f"{character} has {'no kit any more' if now is None else 'a kit'}"
    before, after = was.rpartition(" ")[0], now.rpartition(" ")[0]
    return (
        f"the kit {after} of {character} is another" if before == after else f"{character} wears {after}, not {before}"
    )


def history_of(book: Book, material: Material) -> History:
    """The history of a production."""
    made = {note.id: note.made for note in material.readings.values()}
    return History(material, cuts(book), drafts(book), made)


def of_cut(issue: Issue) -> int:
    """The number of the cut that an issue was made from."""
    return int(str(issue.rests_on.get(OF_CUT, 0)))
