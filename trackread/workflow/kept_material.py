"""What sheets are made from, kept while a server runs and brought up to date by what is new in the book alone.

To gather it takes seconds on a feature, and a page asks several times a second. Frames that are shot, corrections,
circles, readings and issues are added to what is known; for anything else, all of it is gathered anew.
"""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import reduce
from pathlib import Path
from threading import Lock

from trackread.book.archive import KITS
from trackread.book.book import Book
from trackread.book.issues import Issue, issues
from trackread.book.latest import (
    Latest,
    corrections_after,
    decided_after,
    latest,
    notes_after,
    readings_after,
    shots_issued_after,
)
from trackread.core.cut import Shot
from trackread.core.session import Take
from trackread.workflow.current_cut import NumberedCut, cut_with_shots
from trackread.workflow.issued_shots import issued_shot
from trackread.workflow.material import Material, gather, line_placed, start_of, with_chosen_takes
from trackread.workflow.shot_brief import ShotBrief, brief_of
from trackread.workflow.shot_rests import Rests, rests_on
from trackread.workflow.shots import sheet_wish

ADDED = {"issue", "note", "correction", "decision", "reading"}  # what is added to what is known
MOST_ISSUED = 20  # shots issued since, above which one look at all issues is quicker than one for each

KitFiles = tuple[tuple[str, int, int], ...]  # each file's name, when it was written last, and its size


@dataclass(frozen=True, slots=True)
class Kept:
    """The material at one moment, in the cut `numbered` as it is in the book; `out` are all sheets that are out.

    `shots` are the cut's, and `briefs` those of their briefs that somebody has asked for since they became others,
    each with what a sheet of it would rest on.
    """

    latest: Latest
    kits: KitFiles
    numbered: NumberedCut
    material: Material
    out: Mapping[str, Issue]
    shots: Mapping[str, Shot]
    heard: Mapping[str, frozenset[str]]  # by recording, the shots in which any of it plays
    briefs: dict[str, tuple[ShotBrief, Rests]] = field(default_factory=dict)

    def brief(self, shot: str) -> ShotBrief:
        return self._known(shot)[0]

    def rests(self, shot: str) -> Rests | None:
        """What the sheet of a shot would rest on now, None if the shot is not in the cut any more."""
        return self._known(shot)[1] if shot in self.shots else None

    def _known(self, shot: str) -> tuple[ShotBrief, Rests]:
        if shot not in self.briefs:
            brief = brief_of(self.material, self.shots[shot])
            self.briefs[shot] = brief, rests_on(brief, sheet_wish(self.material.production))
        return self.briefs[shot]


@dataclass(slots=True)
class KeptMaterial:
    """What sheets of a book are made from. May be asked by several threads.

    `gathered` counts how often all of it was gathered.
    """

    book: Book
    kept: Kept | None = None
    gathered: int = 0
    lock: Lock = field(default_factory=Lock)

    def now(self) -> Kept:
        """The material as it is now. Raises CutError if there is no shot, KitError for a kit that is wrong."""
        with self.lock:
            moment, kits = latest(self.book), kit_files_in(self.book.folder)
            before = self.kept
            if before is None or others_than_added(before, moment, kits):
                self.kept = gathered(self.book, moment, kits)
                self.gathered += 1
            elif before.latest != moment:
                self.kept = brought_up_to(self.book, before, moment)
            else:
                return before
            return self.kept


def kit_files_in(folder: Path) -> KitFiles:
    """All that lies in the folder of the kits: what they say and their pictures."""
    files = sorted(path for path in (folder / KITS).rglob("*") if path.is_file())
    states = ((path, path.stat()) for path in files)
    return tuple((path.as_posix(), state.st_mtime_ns, state.st_size) for path, state in states)


def others_than_added(before: Kept, now: Latest, kits: KitFiles) -> bool:
    """Whether more is new than can be added to what is known."""
    same = replace(before.latest, **{name: getattr(now, name) for name in ADDED})
    return same != now or before.kits != kits


def gathered(book: Book, now: Latest, kits: KitFiles) -> Kept:
    """All of it, from the book."""
    numbered = cut_with_shots(book)
    material = gather(book, numbered)
    out = {one.shot: one for one in issues(book, current=True)}
    return Kept(now, kits, numbered, material, out, *places_in(material))


def places_in(material: Material) -> tuple[dict[str, Shot], dict[str, frozenset[str]]]:
    """The shots of the cut by their names, and those in which each recording plays."""
    heard: defaultdict[str, set[str]] = defaultdict(set)
    for name, pieces in material.pieces.items():
        for piece in pieces:
            if piece.placement.sound:
                heard[piece.placement.sound.digest].add(name)
    places = {digest: frozenset(names) for digest, names in heard.items()}
    return {shot.name: shot for shot in material.cut.shots}, places


def brought_up_to(book: Book, before: Kept, now: Latest) -> Kept:
    """What was known, and what was added since; only the briefs of shots that it may touch are forgotten."""
    steps = [step for name, step in STEPS.items() if getattr(now, name) != getattr(before.latest, name)]
    kept = reduce(lambda one, step: step(book, one), steps, replace(before, briefs=dict(before.briefs)))
    return replace(kept, latest=now)


def forgetting(kept: Kept, shots: Collection[str]) -> Kept:
    """Forgets the briefs of some shots."""
    return replace(kept, briefs={name: one for name, one in kept.briefs.items() if name not in shots})


def with_notes(book: Book, kept: Kept) -> Kept:
    new = notes_after(book, kept.latest.note)
    notes = dict(kept.material.notes)
    for note in new:
        notes[note.shot] = {**notes.get(note.shot, {}), note.kind: note}
    material = replace(kept.material, notes=notes)
    return forgetting(replace(kept, material=material), {note.shot for note in new})


def with_issues(book: Book, kept: Kept) -> Kept:
    """What was issued: on what frames a shot's twos change is as it was when its sheet was given out."""
    shots = shots_issued_after(book, kept.latest.issue)
    one_by_one = len(shots) <= MOST_ISSUED
    new = [issues(book, shot=shot)[-1] for shot in shots] if one_by_one else issues(book, current=True)
    issued = dict(kept.material.issued)
    if kept.material.kits:
        issued |= {one.shot: found for one in new if (found := issued_shot(one))}
    material, out = replace(kept.material, issued=issued), {**kept.out, **{one.shot: one for one in new}}
    return forgetting(replace(kept, material=material, out=out), {*shots})


def with_corrections(book: Book, kept: Kept) -> Kept:
    new = corrections_after(book, kept.latest.correction)
    material = replace(kept.material, corrections={**kept.material.corrections, **new})
    recordings = {material.sessions[session].sound.digest for session, _ in new}
    return forgetting(replace(kept, material=material), heard_of(kept, recordings))


def with_readings(book: Book, kept: Kept) -> Kept:
    new = readings_after(book, kept.latest.reading)
    material = replace(kept.material, readings={**kept.material.readings, **new})
    return forgetting(replace(kept, material=material), heard_of(kept, {digest for digest, *_ in new}))


def with_decisions(book: Book, kept: Kept) -> Kept:
    """What was decided of takes. Where the cut places a line, another take of it may be meant now."""
    new = {(one.take.session, one.take.place): one.take for one, _ in decided_after(book, kept.latest.decision)}
    takes = {**kept.material.takes, **dict(with_new(kept.material.takes, new))}
    material = replace(kept.material, takes=takes)
    if any(map(line_placed, kept.numbered.cut.placements)):
        every = [take for some in takes.values() for take in some]
        cut = with_chosen_takes(kept.numbered.cut, every, material.sessions)
        if cut != material.cut:
            return gathered(book, kept.latest, kept.kits)
    recordings = {material.sessions[session].sound.digest for session, _ in new}
    return forgetting(replace(kept, material=material), heard_of(kept, recordings))


def with_new(
    takes: Mapping[int, Collection[Take]], new: Mapping[tuple[int, int], Take]
) -> Iterator[tuple[int, list[Take]]]:
    """The takes of those sessions of which some are others now."""
    for session in {session for session, _ in new}:
        some = [new.get((session, take.place), take) for take in takes.get(session, ())]
        yield session, sorted(some, key=start_of)


def heard_of(kept: Kept, recordings: Collection[str]) -> set[str]:
    """The shots in which any of some recordings plays."""
    return {shot for digest in recordings for shot in kept.heard.get(digest, ())}


STEPS = {
    "note": with_notes,
    "issue": with_issues,
    "correction": with_corrections,
    "reading": with_readings,
    "decision": with_decisions,
}
