"""What has changed in what a character says, in sentences: words first, then how they are said."""

from collections.abc import Callable, Iterator, Sequence

from trackread.changes.aligned import Aligned, Told, runs_of
from trackread.changes.columns import Column, Pair
from trackread.changes.words import changes_in, column_sentences, quoted
from trackread.core.rows import Held, VoiceRow

Rows = Sequence[VoiceRow]
Parts = list[tuple[int, str]]


def voice_sentences(both: Aligned, name: str, ours: Rows, theirs: Rows) -> list[str]:
    """What has changed on a voice's rows; who is not on one of the sheets has empty rows there."""

    def columns(part: Callable[[VoiceRow], Held | None]) -> tuple[Column, Column]:
        return [part(row) for row in ours], [part(row) for row in theirs]

    found, told = changes_in(both, name, *columns(lambda row: row.word))
    for pair in found.pairs:
        told += manner_of_word(both, name, pair, spoken_rows(both, pair, ours, theirs))
    told += outside_words(both, name, ours, theirs, told)
    return [
        *(one.text for one in told),
        *column_sentences(both, name, *columns(lambda row: row.event)),
        *column_sentences(both, name, *columns(lambda row: row.manner)),
        *column_sentences(both, f"{name}, script", *columns(lambda row: row.departure)),
    ]


def spoken_rows(both: Aligned, pair: Pair, ours: Rows, theirs: Rows) -> tuple[Rows, Rows]:
    """The rows of a word before and after, as far as they can be compared: none of one that has moved over an end."""
    if pair.stays:
        before = ours[both.was(pair.was.first) : both.was(pair.was.stop)]
        return before, theirs[pair.now.first : pair.now.stop]
    whole = pair.before.stop < len(ours) and pair.after.stop < len(theirs)
    if not whole or pair.before.before or pair.after.before:
        return (), ()
    return ours[pair.before.first : pair.before.stop], theirs[pair.after.first : pair.after.stop]


def manner_of_word(both: Aligned, name: str, pair: Pair, rows: tuple[Rows, Rows]) -> Iterator[Told]:
    """A word of both sheets that has other sounds or another stress now, or has them on other rows of its own."""
    word = f"{name}: {quoted(pair.after)}"
    ours, theirs = map(sounds_in, rows)
    if texts(ours) != texts(theirs):
        yield Told(f"{word} is said {spelt(theirs)}, before {spelt(ours)}", pair.frames)
    elif ours != theirs:
        place = f"{both.number_after(pair.after.first)} to {both.number_after(pair.after.stop - 1)}"
        yield Told(f"{word} has its sounds on other rows, {place}", pair.frames)
    ours, theirs = map(stresses_in, rows)
    if texts(ours) != texts(theirs):
        yield Told(f"{word} is {stressed(theirs)}, before {stressed(ours)}", pair.frames)
    elif ours != theirs:
        now = listed(both.number_after(pair.now.first + row) for row, _ in theirs)
        was = listed(both.number_before(both.was(pair.was.first) + row) for row, _ in ours)
        yield Told(f"{word} has its stress on {now}, before on {was}", pair.frames)


def sounds_in(rows: Rows) -> Parts:
    """The sounds that start on some rows, each with its row among them."""
    return [(place, row.sound.text) for place, row in enumerate(rows) if row.sound and row.sound.starts]


def stresses_in(rows: Rows) -> Parts:
    """The stress, main mark and turn of the syllables that start on some rows."""
    return [(place, stress_told(row)) for place, row in enumerate(rows) if row.stress and row.stress.starts]


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
    explained = frozenset().union(*(one.frames for one in told))
    open_rows = [(frame, ours[both.was(frame)], theirs[frame]) for frame in both.kept_now if frame not in explained]
    sounds = [frame for frame, was, now in open_rows if was.sound != now.sound]
    stress = [frame for frame, was, now in open_rows if stress_of(was) != stress_of(now)]
    for what, frames in (("sounds", sounds), ("stress", stress)):
        if frames:
            yield Told(f"{name}: {what} changed on {numbers(both, frames)}", frozenset(frames))


def stress_of(row: VoiceRow) -> tuple[object, ...]:
    return row.stress, row.tone, row.main


def numbers(both: Aligned, frames: Sequence[int]) -> str:
    """`31 to 33 and 40`: what is printed beside some frames of the sheet after."""
    ends = ((both.number_after(run.start), both.number_after(run.stop - 1)) for run in runs_of(frames))
    return listed(first if first == last else f"{first} to {last}" for first, last in ends)


def listed(parts: Iterator[object]) -> str:
    """`31, 33 and 40`."""
    *some, last = map(str, parts)
    return f"{', '.join(some)} and {last}" if some else last
