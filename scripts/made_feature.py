"""A feature of *The Late Tram* as values: its lines, their takes in recordings, and two cuts of it with what changed.

Frames are those of the film, 24 a second; times in recordings are samples, 48,000 a second; a `source` counts frames
from midnight on a clip's or recording's own clock. Chance decides, from a seed, and so the same each time.
"""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from random import Random

from trackread.core.reading import Reading
from trackread.core.script import ScriptLine, line_id
from trackread.core.session import Guess, Stretch, StretchKind, Wholeness
from trackread.core.sound import Sound
from trackread.core.timebase import Sample, frame_at, parse_rate
from trackread.core.timecode import label_of

RATE = parse_rate("24")
SAMPLE_RATE = 48000
CAST = ("BRACK", "MISS PELL", "TUM", "CONSTABLE NEWT", "NAN VOLE", "PIP")
LINES_A_SHOT = 4
SHOTS_A_SCENE = 10
LINES_A_SESSION = 60
LENGTHS = (4.2, 0.7)  # of the logarithm of a shot's frames: half of all shots have 67 and more, the mean is 85
SHORTEST, LONGEST = 12, 600
ROOMY = 72  # frames: a shot of as many loses 12 and keeps all its voices
HOUR = 3600 * 24
MOST_TRIMMED, MOVED_BY, CARRIED = 12, 3, range(4, 13)
# Of 1,500 shots, so many become others from the first cut to the second.
TRIMMED, MOVED, GONE, OF = 200, 20, 5, 1500


@dataclass(frozen=True, slots=True)
class Saying:
    """A text, and what is heard in two takes of it."""

    text: str
    tellings: tuple[Reading, Reading]


@dataclass(frozen=True, slots=True)
class Recording:
    """An hour or less of one character; `tape` is the reel that its recorder noted."""

    name: str
    tape: str
    character: str
    sound: Sound
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class Voice:
    """A piece of a take in a shot: `length` frames from `at` on, which may run on under the next shot."""

    line: str
    character: str
    recording: Recording
    source: int
    at: int
    length: int


@dataclass(frozen=True, slots=True)
class Picture:
    """A shot of `length` frames with a voice on each track; None on a track where nobody is heard."""

    code: str
    source: int
    length: int
    voices: tuple[Voice | None, ...]

    @property
    def carries(self) -> bool:
        """Whether any voice runs on under the next shot."""
        return any(one.at + one.length > self.length for one in self.voices if one)


@dataclass(frozen=True, slots=True)
class Film:
    """All that there is before the first cut; `circled` says which take of each line, 1 or 2, is liked."""

    lines: tuple[ScriptLine, ...]
    sayings: Mapping[str, Saying]
    recordings: tuple[Recording, ...]
    circled: Mapping[str, int]
    pictures: tuple[Picture, ...]


@dataclass(frozen=True, slots=True)
class SecondCut:
    """The film as it is cut the next time, and the codes of the shots that are others, by what became of them.

    `trimmed` says of each the frame of the sheet before, counted from 0, from which it is another: 0 if its head is cut
    off, and the first of those that its end has lost.
    """

    pictures: tuple[Picture, ...]
    trimmed: Mapping[str, int]
    moved: tuple[str, ...]
    gone: tuple[str, ...]
    new: tuple[str, ...]


def film_of(shots: int, pool: Sequence[Saying], seed: int) -> Film:
    """A film of so many shots, whose lines say what is in the pool."""
    random = Random(f"{seed} film")
    lines = tuple(lines_of(shots, pool, random))
    of_text = {saying.text: saying for saying in pool}
    sayings = {line.id: of_text[line.text] for line in lines}
    recordings = tuple(recordings_of(lines, sayings, random))
    circled = {line.id: random.randint(1, 2) for line in lines}
    where = {name: (recording, stretch) for recording in recordings for name, stretch in takes_in(recording)}
    by_shot = [lines[first : first + LINES_A_SHOT] for first in range(0, len(lines), LINES_A_SHOT)]
    pictures: list[Picture] = []
    for number, said in enumerate(by_shot, 1):
        length = min(max(SHORTEST, int(random.lognormvariate(*LENGTHS))), LONGEST)
        takes = [(line, *where[line.id, circled[line.id]]) for line in said]
        voices = tuple(voices_of(length, takes, random))
        pictures.append(Picture(f"SH{10 * number:04}", HOUR + random.randint(8, 24), length, voices))
    return Film(lines, sayings, recordings, circled, tuple(carried(pictures, where, circled)))


def lines_of(shots: int, pool: Sequence[Saying], random: Random) -> Iterator[ScriptLine]:
    """Lines in the order of the script, four to a shot, of two to four of those who are in its scene."""
    number = 0
    for shot in range(shots):
        if shot % SHOTS_A_SCENE == 0:
            present = random.sample(CAST, random.randint(3, 5))
        speakers = random.sample(present, random.randint(2, min(4, len(present))))
        for turn in range(LINES_A_SHOT):
            number += 1
            scene, text = str(1 + shot // SHOTS_A_SCENE), random.choice(pool).text
            character = speakers[turn % len(speakers)]
            yield ScriptLine(line_id(number), number, scene, character, text, source_line=3 * number)


def recordings_of(lines: Sequence[ScriptLine], sayings: Mapping[str, Saying], random: Random) -> Iterator[Recording]:
    """Recordings of one character after the other, each of some sixty lines."""
    number = 0
    for character in CAST:
        spoken = [line for line in lines if line.character == character]
        for first in range(0, len(spoken), LINES_A_SESSION):
            number += 1
            yield recording_of(number, spoken[first : first + LINES_A_SESSION], sayings, random)


def recording_of(number: int, lines: Sequence[ScriptLine], sayings: Mapping[str, Saying], random: Random) -> Recording:
    """Two takes of each line, now and then with a slate before or talk after them."""
    at, slowest = seconds(5), random.randint(6, 34)
    stretches: list[Stretch] = []

    def add(length: int, kind: StretchKind, heard: str, guesses: tuple[Guess, ...] = ()) -> None:
        nonlocal at
        stretches.append(Stretch(Sample(at), Sample(at + length), kind, guesses, heard))
        at += length + random.randint(seconds(1), seconds(slowest))

    for line in lines:
        if random.random() < 0.3:
            add(seconds(1), StretchKind.SLATE, "line take")
        likely = Guess(line.id, 0.97, Wholeness.WHOLE), Guess(random.choice(lines).id, 0.02, Wholeness.WHOLE)
        for telling in sayings[line.id].tellings:
            add(telling.sound.length, StretchKind.TAKE, line.text.lower(), likely)
        if random.random() < 0.1:
            add(seconds(2), StretchKind.CHATTER, "once more from the top")
    tape, character = f"TRAM{number:03}", lines[0].character
    name = f"{tape}-{character.lower().replace(' ', '-')}.wav"
    digest = hashlib.sha256(f"The Late Tram, {name}, {at}".encode()).hexdigest()
    start = seconds(random.randint(9 * 3600, 17 * 3600))
    return Recording(name, tape, character, Sound(digest, SAMPLE_RATE, Sample(at), Sample(start)), tuple(stretches))


def seconds(count: int) -> int:
    """So many seconds in samples."""
    return count * SAMPLE_RATE


def takes_in(recording: Recording) -> Iterator[tuple[tuple[str, int], Stretch]]:
    """The takes of a recording, each under its line and its number."""
    numbers: dict[str, int] = {}
    for stretch in recording.stretches:
        if stretch.kind is StretchKind.TAKE:
            line = stretch.guesses[0].line
            numbers[line] = numbers.get(line, 0) + 1
            yield (line, numbers[line]), stretch


def frames_of(recording: Recording, stretch: Stretch) -> range:
    """The frames of a recording's clock on which a stretch is heard."""
    start = recording.sound.start
    last = frame_at(start + stretch.stop - 1, SAMPLE_RATE, RATE)
    return range(frame_at(start + stretch.start, SAMPLE_RATE, RATE), last + 1)


def voices_of(length: int, takes: Sequence[tuple[ScriptLine, Recording, Stretch]], random: Random) -> Iterator[Voice]:
    """The takes of a shot, together where two speak, and one after the other where one does."""
    names = [line.character for line, _, _ in takes]
    for place, (line, recording, stretch) in enumerate(takes):
        turn, turns = names[:place].count(line.character), names.count(line.character)
        room = range(length * turn // turns, length * (turn + 1) // turns)
        at = room.start + random.randint(0, min(3, len(room) - 1))
        heard = frames_of(recording, stretch)
        source = heard.start - random.randint(0, 2)
        yield Voice(line.id, line.character, recording, source, at, min(heard.stop - source, room.stop - at))


def carried(
    pictures: Sequence[Picture],
    where: Mapping[tuple[str, int], tuple[Recording, Stretch]],
    circled: Mapping[str, int],
) -> Iterator[Picture]:
    """The shots with their last voice running on under the next one, wherever nothing there is in its way."""
    for picture, following in zip(pictures, [*pictures[1:], None], strict=True):
        last = picture.voices[-1]
        if following and last:
            left = frames_of(*where[last.line, circled[last.line]]).stop - last.source - last.length
            way = [one.at for one in following.voices if one and one.character == last.character] + [
                one.at for one in following.voices[-1:] if one
            ]
            more = min(left, following.length - 1, CARRIED.stop - 1, *way)
            if more in CARRIED and last.at + last.length == picture.length:
                picture = replace(picture, voices=(*picture.voices[:-1], replace(last, length=last.length + more)))
        yield picture


def second_cut(film: Film, seed: int) -> SecondCut:
    """The film with shots trimmed, sounds moved, and shots taken out whose lines are said in new ones elsewhere.

    A shot into or out of which a voice runs on is left alone, so that each change is of one shot.
    """
    random = Random(f"{seed} second cut")
    counts = [max(1, len(film.pictures) * count // OF) for count in (TRIMMED, MOVED, GONE, GONE)]
    chosen = iter(random.sample(standing_alone(film.pictures), sum(counts)))
    trimmed, moved, gone, behind = ([next(chosen).code for _ in range(count)] for count in counts)
    taken_out = [one for one in film.pictures if one.code in gone]
    added = {code: new_shot(code, one) for code, one in zip(behind, taken_out, strict=True)}
    pictures: list[Picture] = []
    firsts: dict[str, int] = {}
    for one in film.pictures:
        if one.code in trimmed:
            head, frames = random.random() < 0.5, random.randint(1, MOST_TRIMMED)
            firsts[one.code] = 0 if head else one.length - frames
            one = without_end(one, frames, head=head)
        elif one.code in moved:
            one = with_voice_later(one)
        if one.code not in gone:
            pictures.append(one)
        if one.code in added:
            pictures.append(added[one.code])
    new = tuple(one.code for one in added.values())
    return SecondCut(tuple(pictures), firsts, tuple(moved), tuple(gone), new)


def standing_alone(pictures: Sequence[Picture]) -> list[Picture]:
    """Shots with room for a trim, into and out of which no voice runs on."""
    pairs = zip([None, *pictures], pictures, strict=False)
    return [one for former, one in pairs if one.length >= ROOMY and not one.carries and not (former and former.carries)]


def new_shot(behind: str, saying: Picture) -> Picture:
    """A shot with the code after that of another, in which is said what was said in one that is gone."""
    return replace(saying, code=f"SH{int(behind.removeprefix('SH')) + 5:04}")


def without_end(picture: Picture, frames: int, *, head: bool) -> Picture:
    """A shot without so many frames at its head, or at its end; its sounds stay with its picture."""
    cut, length = head * frames, picture.length - frames
    return replace(
        picture,
        source=picture.source + cut,
        length=length,
        voices=tuple(one and within(replace(one, at=one.at - cut), length) for one in picture.voices),
    )


def within(voice: Voice, length: int) -> Voice | None:
    """What is left of a voice in a shot of so many frames."""
    lost = max(0, -voice.at)
    left = min(voice.length - lost, length - max(0, voice.at))
    return replace(voice, source=voice.source + lost, at=voice.at + lost, length=left) if left > 0 else None


def with_voice_later(picture: Picture) -> Picture:
    """A shot in which the last voice is heard three frames later."""
    *others, last = picture.voices
    if last is None:
        raise ValueError(f"{picture.code} has no voice on its last track")
    return replace(picture, voices=(*others, within(replace(last, at=last.at + MOVED_BY), picture.length)))


def lists_of(pictures: Sequence[Picture]) -> dict[str, str]:
    """The lists of a cut, in the columns of CMX 3600: of its pictures, and of its voices track by track."""
    record, rows = HOUR, []
    tracks: list[list[str]] = [[] for _ in range(LINES_A_SHOT)]
    for picture in pictures:
        rows.append(event(len(rows), "AX", "V", (picture.source, record, picture.length), picture.code))
        for number, (one, track) in enumerate(zip(picture.voices, tracks, strict=True), 1):
            if one:
                channel, times = f"A{number if number > 1 else ''}", (one.source, record + one.at, one.length)
                track.append(event(len(track), one.recording.tape, channel, times, one.recording.name))
        record += picture.length
    each = {"pictures": rows, **{f"voices-A{number}": track for number, track in enumerate(tracks, 1)}}
    return {
        name: "\n".join(["TITLE: THE LATE TRAM", "FCM: NON-DROP FRAME", "", *text, ""]) for name, text in each.items()
    }


def event(above: int, reel: str, channel: str, times: tuple[int, int, int], clip: str) -> str:
    """An event with the name of its clip; `times` are its source, its record and its length in frames."""
    source, record, length = times
    labels = (label_of(frame, RATE) for frame in (source, source + length, record, record + length))
    return f"{above + 1:03}  {reel:<8} {channel:<5} C        {' '.join(labels)}\n* FROM CLIP NAME: {clip}"
