"""A reading of one take as an exposure sheet: what is heard, on its frames.

A word, sound or beat starts on the frame in which it is first heard and holds to the frame of its last
sample, but gives way where the next one starts. Those that start on one frame share it.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from trackread.core.reading import Match, Reading
from trackread.core.sheet import Beat, Cell, Heading, Sheet, Voice
from trackread.core.spelling import sounds_of
from trackread.core.timebase import Frame, FrameRate, Sample, frame_at, frames_covering
from trackread.workflow.sheet_sound import level_points, pitch_points

Span = tuple[Sample, Sample, str]


@dataclass(frozen=True, slots=True)
class Terms:
    """On what terms a production reads its sheets: the rate, the number of a take's first frame, IPA or respelling."""

    rate: FrameRate
    first_number: int = 1
    as_ipa: bool = False


def sheet_of_take(reading: Reading, terms: Terms, *, character: str, heading: Heading) -> Sheet:
    """The sheet of a whole take; its heading warns if the take does not say the line."""
    length = frames_covering(reading.sound.length, reading.sound.sample_rate, terms.rate)
    voice = Voice(
        character=character,
        words=word_cells(reading, terms.rate),
        sounds=sound_cells(reading, terms),
        beats=beats(reading, terms.rate),
        level=level_points(reading, terms.rate, length),
        pitch=pitch_points(reading, terms.rate, length),
    )
    warned = replace(heading, warning=warning_of(reading.match))
    return Sheet(warned, terms.rate, length, terms.first_number, (voice,))


def word_cells(reading: Reading, rate: FrameRate) -> tuple[Cell, ...]:
    """The words; those that start on one frame stand in one cell, a space between them."""
    spans = ((reading.start(word), reading.stop(word), word.text) for word in reading.words)
    return cells(spans, reading.sound.sample_rate, rate, joint=" ")


def sound_cells(reading: Reading, terms: Terms) -> tuple[Cell, ...]:
    """The sounds, pauses left blank."""
    spans = zip(reading.cuts, reading.cuts[1:], sounds_of(reading, as_ipa=terms.as_ipa), strict=False)
    return cells((span for span in spans if span[2]), reading.sound.sample_rate, terms.rate, joint="")


def beats(reading: Reading, rate: FrameRate) -> tuple[Beat, ...]:
    """The stress of the syllables; of those that start on one frame the strongest counts."""
    spans = ((reading.start(part), reading.stop(part), str(part.stress)) for part in reading.syllables)
    shared = on_frames(spans, reading.sound.sample_rate, rate)
    return tuple(Beat(first, stop, max(map(int, degrees))) for first, stop, degrees in shared)


def cells(spans: Iterable[Span], sample_rate: int, rate: FrameRate, *, joint: str) -> tuple[Cell, ...]:
    return tuple(Cell(first, stop, joint.join(texts)) for first, stop, texts in on_frames(spans, sample_rate, rate))


def on_frames(spans: Iterable[Span], sample_rate: int, rate: FrameRate) -> list[tuple[Frame, Frame, list[str]]]:
    """Spans in order of time to frames, no two of which share a frame."""
    found: list[tuple[Frame, Frame, list[str]]] = []
    for start, stop, text in spans:
        first, after = frame_at(start, sample_rate, rate), Frame(frame_at(stop - 1, sample_rate, rate) + 1)
        if found and found[-1][0] == first:
            found[-1] = (first, max(found[-1][1], after), [*found[-1][2], text])
            continue
        if found:
            found[-1] = (found[-1][0], min(found[-1][1], first), found[-1][2])
        found.append((first, after, [text]))
    return found


def warning_of(match: Match) -> str:
    """What stands over a sheet that was printed although the take does not say its line."""
    if match.says_line:
        return ""
    return f"TAKE DOES NOT SAY THIS LINE (MATCH {match.score:.2f}): DO NOT SHOOT"
