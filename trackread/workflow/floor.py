"""What the floor is shown: a unit's shots, the sheet of each as it was issued, whether it still holds, and its mouths.

Everything is of an issue, and counted in its frames: its rows are the frozen ones, its sound is that of the cut it was
made from, so that what is heard is what is written. Frames count from 0; `first_number` is what is printed for the
first. `from` is a printed number.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256

from trackread.book.book import Book
from trackread.book.issues import Issue, issues, snapshot_of
from trackread.book.shooting import Speaker
from trackread.book.shot_notes import shot_notes
from trackread.changes.sheets import compare_sheets
from trackread.core.rows import Held, VoiceRow, held, rows_of
from trackread.core.sheet import Sheet, Voice
from trackread.errors import BookError, KitError, TrackreadError
from trackread.mouths.drawing import svg_of
from trackread.workflow.issued_sheet import IssuedSheet, issued_sheet
from trackread.workflow.kept_sheets import KeptSheets
from trackread.workflow.kits import looks_of
from trackread.workflow.shooting import Answer, done_by_note, shooting_on, shot_of, tell_counts
from trackread.workflow.shot_rests import rests_from_plain
from trackread.workflow.shot_told import NoteKind
from trackread.workflow.which_sheet import Which, codes_seen, which_of

Plain = dict[str, object]


@dataclass(frozen=True, slots=True)
class FloorShot:
    """A shot whose sheet is out, with the frames of that sheet and how many of them are shot."""

    issue: Issue
    frames: int
    done: int


def floor_shots(sheets: KeptSheets, unit: str = "") -> tuple[FloorShot, ...]:
    """The shots that a unit has the current sheets of, as they were issued; "" for those of all units."""
    book = sheets.book
    out = [one for one in issues_out(sheets) if unit in ("", one.unit)]
    notes = shot_notes(book, {one.shot for one in out})
    found = []
    for one in out:
        shot, note = shot_of(book, one), notes.get(one.shot, {}).get(NoteKind.DONE)
        found.append(FloorShot(one, shot.seen, done_by_note(note, shot, book.production.rate)))
    return tuple(found)


def issues_out(sheets: KeptSheets) -> Iterable[Issue]:
    """The current issues of all shots, in the order of their being made."""
    try:
        return sorted(sheets.material.now().out.values(), key=lambda one: one.id)
    except TrackreadError:  # a kit is wrong, or the cut has no shot any more: what is out is out
        return issues(sheets.book, current=True)


def plain_shots(shots: Sequence[FloorShot]) -> list[Plain]:
    """Shots as plain values, for JSON."""
    return [{**plain_head(one.issue), "frames": one.frames, "done": one.done} for one in shots]


def plain_head(issue: Issue) -> Plain:
    """What an issue is called by."""
    names = ("shot", "code", "unit", "date", "reason")
    return {"issue": issue.number, **{name: getattr(issue, name) for name in names}}


@dataclass(frozen=True, slots=True)
class SeenShot:
    """A shot with all its issues, the first one first, perhaps none; `own` are those that a unit has had."""

    issues: tuple[Issue, ...]
    own: tuple[Issue, ...]

    def issue(self, number: int | None) -> Issue:
        """One of its own issues, the newest for None. Raises BookError if there is none of that number."""
        found = [one for one in self.own if number in (None, one.number)]
        if not found:
            had = ", ".join(str(one.number) for one in self.own)
            raise BookError(f"{self.issues[-1].shot}: there is no issue {number} of yours, only {had}")
        return found[-1]


def issued(book: Book, shot: str, unit: str) -> SeenShot:
    """A shot as a unit sees it, "" for who sees the sheets of all units."""
    every = issues(book, shot=shot)
    return SeenShot(every, tuple(one for one in every if unit in ("", one.unit)))


def floor_sheet(sheets: KeptSheets, its: SeenShot, number: int | None) -> bytes:
    """An issue with all its rows, what it changed, what has changed since, and what is shot of it; as JSON."""
    issue, book = its.issue(number), sheets.book
    fixed = sheets.text(issue.id, lambda: frozen_text(book, its.issues, issue))
    stale = overtaken(sheets, issue) if issue.current else replaced(sheets, issue, its.issues[-1])
    moving = text_of({"stale": stale, **floor_counts(book, its, number)})
    return fixed[:-1] + b"," + moving[1:]


def text_of(value: Plain) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def frozen_text(book: Book, its: Sequence[Issue], issue: Issue) -> bytes:
    """All of an issue that cannot change any more, as JSON."""
    shown = frozen(book, issue)
    sheet, heading = shown.sheet, shown.sheet.heading
    told = ("production", "scene", "about", "warning", "take", "listeners")
    return text_of(
        {
            **plain_head(issue),
            **{name: getattr(heading, name) for name in told},
            "rate": sheet.rate.name,
            "per_second": [sheet.rate.per_second.numerator, sheet.rate.per_second.denominator],
            "base": sheet.rate.base,
            "length": sheet.length,
            "first_number": sheet.first_number,
            "voices": [plain_voice(voice) for voice in sheet.voices],
            "rows": list(plain_rows(sheet)),
            "marked": [list(span) for span in sheet.changed],
            "changed": changed(book, its, issue, shown),
        }
    )


def floor_counts(book: Book, its: SeenShot, number: int | None) -> Plain:
    """What is shot of an issue, and the counts that a new one takes the place of; for JSON."""
    shooting = shooting_on(book, its.issue(number))
    return {"done": shooting.done, "standing": dict(shooting.standing)}


def frozen(book: Book, issue: Issue) -> IssuedSheet:
    return issued_sheet(snapshot_of(book, issue))


def changed(book: Book, its: Sequence[Issue], issue: Issue, shown: IssuedSheet) -> Plain | None:
    """What an issue says otherwise than the one before, None for the first."""
    former = [one for one in its if one.number == issue.number - 1]
    return difference(frozen(book, former[0]), shown) if former else None


def difference(before: IssuedSheet, after: IssuedSheet) -> Plain:
    """What a sheet says otherwise than another, and from which frame of that; None where only its head is another."""
    change = compare_sheets(before.sheet, after.sheet, before.head_lost(after.shot))
    number = None if change.first is None else before.sheet.first_number + change.first
    return {"from": number, "told": list(change.told)}


def replaced(sheets: KeptSheets, issue: Issue, by: Issue) -> Plain:
    """A sheet that a newer one has taken the place of."""
    book = sheets.book
    differs = sheets.text((issue.id, by.id), lambda: text_of(difference(frozen(book, issue), frozen(book, by))))
    return {"why": "replaced", "by": plain_head(by), **json.loads(differs)}


def overtaken(sheets: KeptSheets, issue: Issue) -> Plain | None:
    """The current sheet if it would be another now, though none is out yet; None if it would not."""
    try:
        found = sheets.overtaken(sheets.material.now(), issue)
    except TrackreadError as error:  # whoever shoots goes on, and hears of it
        return {"why": "unknown", "by": None, "from": None, "told": str(error).splitlines()}
    if found is None:
        return None
    return {"why": "gone" if found.gone else "changed", "by": None, "from": found.first, "told": list(found.told)}


def plain_voice(voice: Voice) -> Plain:
    return {"character": voice.character, "extension": voice.extension, "mouths": list(voice.mouth_names)}


def plain_rows(sheet: Sheet) -> Iterator[Plain]:
    """A value for each frame; what is not there is left out."""
    positions = held(sheet.positions, sheet.length)
    for row in rows_of(sheet):
        beside = {"action": row.action, "camera": row.camera, "positions": positions[row.frame]}
        yield {"voices": [plain_voice_row(one) for one in row.voices], **texts(beside)}


def plain_voice_row(row: VoiceRow) -> Plain:
    names = ("word", "sound", "stress", "event", "manner", "departure", "mouth")
    found = texts({name: getattr(row, name) for name in names})
    return found | ({"main": True} if row.main else {}) | ({"tone": row.tone.value} if row.tone else {})


def texts(parts: dict[str, Held | None]) -> Plain:
    """Texts that are held on a row, each with whether it starts there."""
    return {name: [part.text, part.starts] for name, part in parts.items() if part}


def tell_floor(book: Book, its: SeenShot, events: object, name: str, unit: str) -> tuple[Answer, ...]:
    """Keeps the counts of frames that somebody's page tells. Raises BookError for events that are none."""
    return tell_counts(book, its.issues, events, Speaker(name, unit))


def floor_told(book: Book, its: SeenShot) -> Plain:
    """What all are told when frames of a shot are shot, on its current sheet."""
    issue = its.issues[-1]
    return {
        "kind": "done",
        "shot": issue.shot,
        "done": shooting_on(book, issue).done,
        "of": shot_of(book, issue).seen,
        "unit": issue.unit,
    }


@dataclass(frozen=True, slots=True)
class FloorFile:
    """A picture or a sound, of what kind it is, and a tag that is another when it is."""

    content: bytes
    kind: str

    @property
    def tag(self) -> str:
        return sha256(self.content).hexdigest()[:32]


def floor_sound(sheets: KeptSheets, its: SeenShot, number: int | None) -> FloorFile:
    """What is heard of a shot as an issue has it, as a wave file. Raises SoundError where a recording is missing."""
    return FloorFile(sheets.sound(its.issue(number)), "audio/wav")


def mouth_picture(sheets: KeptSheets, issue: Issue, character: str, mouth: str) -> FloorFile:
    """What a mouth looks like that a puppet wears on an issue, as its kit shows it now.

    Raises KitError for a character without a kit, and for a mouth that its kit has not.
    """
    worn = rests_from_plain(issue.rests_on).kits.get(character)
    if worn is None:
        raise KitError(f"{character} wears no kit in issue {issue.number} of {issue.shot}")
    one = sheets.kit(worn.rpartition(" ")[0])
    look = looks_of(one).get(mouth)
    if look is None:
        raise KitError(f"the kit {one.kit.name} has no mouth {mouth!r} any more")
    content, kind = (look, "image/png") if isinstance(look, bytes) else (svg_of(look).encode(), "image/svg+xml")
    return FloorFile(content, kind)


def which_on(book: Book, picture: bytes, name: str) -> tuple[Which, ...]:
    """The sheets whose codes are seen in a photograph. Raises as `which` does."""
    return tuple(which_of(book, code) for code in codes_seen(picture, name))
