"""A reading of one take as an exposure sheet: what is heard, on its frames."""

from dataclasses import dataclass, replace

from trackread.core.reading import Match, Reading
from trackread.core.sheet import Cell, Heading, Sheet, Voice
from trackread.core.spelling import sounds_of
from trackread.core.timebase import Frame, FrameRate, frames_covering
from trackread.workflow.sheet_between import event_cells, manner_cells, pause_cells
from trackread.workflow.sheet_frames import cells
from trackread.workflow.sheet_sound import level_points, pitch_points
from trackread.workflow.sheet_voice import beats, departure_cells, is_missing, phrases


@dataclass(frozen=True, slots=True)
class Terms:
    """On what terms a production reads its sheets: the rate, the number of a take's first frame, IPA or respelling."""

    rate: FrameRate
    first_number: int = 1
    as_ipa: bool = False


def sheet_of_take(
    reading: Reading, terms: Terms, *, character: str, heading: Heading, own_rate: float | None = None
) -> Sheet:
    """The sheet of a whole take; its heading warns if the take does not say the line.

    `own_rate`, in syllables a second, is how fast the character usually speaks, as far as that is known.
    """
    length = frames_covering(reading.sound.length, reading.sound.sample_rate, terms.rate)
    voice = voice_of(reading, terms, length, character=character, own_rate=own_rate)
    warned = replace(heading, warning=warning_of(reading.match))
    return Sheet(warned, terms.rate, length, terms.first_number, (voice,))


def voice_of(reading: Reading, terms: Terms, length: Frame, *, character: str, own_rate: float | None) -> Voice:
    """All that is heard of the voice, on a sheet of so many frames."""
    rate = terms.rate
    words = word_cells(reading, rate)
    events = event_cells(reading, words, rate)
    return Voice(
        character=character,
        words=words,
        sounds=sound_cells(reading, terms),
        beats=beats(reading, rate),
        level=level_points(reading, rate, length),
        pitch=pitch_points(reading, rate, length),
        events=events,
        manners=manner_cells(reading, rate),
        pauses=pause_cells(words, events, length),
        phrases=phrases(reading, rate, own_rate),
        departures=departure_cells((one for one in reading.departures if not is_missing(one)), reading, words, rate),
        missing=departure_cells(filter(is_missing, reading.departures), reading, words, rate),
    )


def word_cells(reading: Reading, rate: FrameRate) -> tuple[Cell, ...]:
    """The words; those that start on one frame stand in one cell, a space between them."""
    spans = ((reading.start(word), reading.stop(word), word.text) for word in reading.words)
    return cells(spans, reading.sound.sample_rate, rate, joint=" ")


def sound_cells(reading: Reading, terms: Terms) -> tuple[Cell, ...]:
    """The sounds, pauses left blank."""
    spans = zip(reading.cuts, reading.cuts[1:], sounds_of(reading, as_ipa=terms.as_ipa), strict=False)
    return cells((span for span in spans if span[2]), reading.sound.sample_rate, terms.rate, joint="")


def warning_of(match: Match) -> str:
    """What stands over a sheet that was printed although the take does not say its line."""
    if match.says_line:
        return ""
    return f"TAKE DOES NOT SAY THIS LINE (MATCH {match.score:.2f}): DO NOT SHOOT"
