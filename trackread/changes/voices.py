"""What has changed in what a character says, in sentences: words first, then how they are said, and its mouths."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from trackread.changes.aligned import Aligned, Told
from trackread.changes.columns import Column, Pair
from trackread.changes.mouths import mouth_sentences
from trackread.changes.words import changed_on, changes_in, column_sentences, listed, quoted
from trackread.core.rows import Held, VoiceRow

Rows = Sequence[VoiceRow]
Parts = list[tuple[int, str]]


@dataclass(frozen=True, slots=True)
class Spoken:
    """The rows of a word; the first is on frame `first`, as the sheet after counts."""

    first: int
    rows: Rows


def voice_sentences(both: Aligned, name: str, ours: Rows, theirs: Rows) -> list[str]:
    """What has changed on a voice's rows; who is not on one of the sheets has empty rows there."""

    def columns(part: Callable[[VoiceRow], Held | None]) -> tuple[Column, Column]:
        return [part(row) for row in ours], [part(row) for row in theirs]

    if says_the_same(both, name, ours, theirs):
        return []
    found, told = changes_in(both, name, *columns(lambda row: row.word))
    for pair in found.pairs:
        told += manner_of_word(both, name, pair, *spoken_rows(both, pair, ours, theirs))
    told += outside_words(both, name, ours, theirs, told)
    told += mouth_sentences(both, name, *columns(lambda row: row.mouth), told)
    return [
        *(one.text for one in told),
        *column_sentences(both, name, *columns(lambda row: row.event)),
        *column_sentences(both, name, *columns(lambda row: row.manner)),
        *column_sentences(both, name, *columns(lambda row: row.departure)),
    ]


def says_the_same(both: Aligned, name: str, ours: Rows, theirs: Rows) -> bool:
    """Whether a voice's rows are as they were where both sheets have them, and those that are new are empty."""
    kept, now = both.kept, both.kept_now
    if ours[kept.start : kept.stop] != theirs[now.start : now.stop]:
        return False
    silent = VoiceRow(name)
    return all(row == silent for row in (*theirs[: now.start], *theirs[now.stop :]))


def spoken_rows(both: Aligned, pair: Pair, ours: Rows, theirs: Rows) -> tuple[Spoken, Spoken]:
    """A word's rows before and after, as far as they can be compared: none of one that has moved over an end."""
    if pair.stays:
        # Where only its end is another, what comes after the earlier end may be the next word's.
        start, stop = pair.now.first, min(pair.was.stop, pair.now.stop)
        return Spoken(start, ours[both.was(start) : both.was(stop)]), Spoken(start, theirs[start:stop])
    first = both.now(pair.before.first)
    whole = pair.before.stop < len(ours) and pair.after.stop < len(theirs)
    if not whole or pair.before.before or pair.after.before:
        return Spoken(first, ()), Spoken(pair.after.first, ())
    before = ours[pair.before.first : pair.before.stop]
    return Spoken(first, before), Spoken(pair.after.first, theirs[pair.after.first : pair.after.stop])


def manner_of_word(both: Aligned, name: str, pair: Pair, was: Spoken, now: Spoken) -> Iterator[Told]:
    """A word of both sheets that has other sounds or another stress now, or has them on other rows of its own."""
    word = f"{name}: {quoted(pair.after)}"
    ours, theirs = sounds_in(was), sounds_in(now)
    if texts(ours) != texts(theirs):
        yield Told(f"{word} is said {spelt(theirs)}, before {spelt(ours)}", pair.frames)
    elif shifted(ours, now.first - was.first) != theirs != ours:
        place = f"{both.number_after(pair.after.first)} to {both.number_after(pair.after.stop - 1)}"
        yield Told(f"{word} has its sounds on other rows, {place}", pair.frames)
    ours, theirs = stresses_in(was), stresses_in(now)
    if texts(ours) != texts(theirs):
        yield Told(f"{word} is {stressed(theirs)}, before {stressed(ours)}", pair.frames)
    elif shifted(ours, now.first - was.first) != theirs != ours:
        places = listed(both.number_after(frame) for frame, _ in theirs)
        before = listed(both.number_before(both.was(frame)) for frame, _ in ours)
        yield Told(f"{word} has its stress on {places}, before on {before}", pair.frames)


def sounds_in(spoken: Spoken) -> Parts:
    """The sounds that start on some rows, each with its frame."""
    rows = enumerate(spoken.rows, spoken.first)
    return [(frame, row.sound.text) for frame, row in rows if row.sound and row.sound.starts]


def stresses_in(spoken: Spoken) -> Parts:
    """The stress, main mark and turn of the syllables that start on some rows, each with its frame."""
    rows = enumerate(spoken.rows, spoken.first)
    return [(frame, stress_told(row)) for frame, row in rows if row.stress and row.stress.starts]


def shifted(parts: Parts, frames: int) -> Parts:
    return [(frame + frames, text) for frame, text in parts]


def stress_told(row: VoiceRow) -> str:
    """`strong, main beat, fall`."""
    degree = row.stress.text if row.stress else ""
    return ", ".join(filter(None, (degree, "main beat" if row.main else "", row.tone.value if row.tone else "")))


def texts(parts: Parts) -> list[str]:
    return [text for _, text in parts]


def spelt(sounds: Parts) -> str:
    return "-".join(texts(sounds)) or "without a sound"


def stressed(parts: Parts) -> str:
    return " / ".join(texts(parts)) or "without stress"


def outside_words(both: Aligned, name: str, ours: Rows, theirs: Rows, told: Sequence[Told]) -> Iterator[Told]:
    """Rows on which sounds or stress are others, and no sentence about a word tells of it."""
    explained = frozenset[int]().union(*(one.frames for one in told))
    rows = [(frame, ours[both.was(frame)], theirs[frame]) for frame in both.kept_now]
    sounds = [frame for frame, was, now in rows if was.sound != now.sound]
    stress = [frame for frame, was, now in rows if stress_of(was) != stress_of(now)]
    yield from changed_on(both, f"{name}: sounds", sounds, explained)
    yield from changed_on(both, f"{name}: stress", stress, explained)


def stress_of(row: VoiceRow) -> tuple[object, ...]:
    return row.stress, row.tone, row.main
