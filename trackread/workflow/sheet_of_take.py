"""What is heard of a voice, on the frames of its sheet; and the sheet of one whole take."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from trackread.core.production import Production
from trackread.core.reading import Match, Reading
from trackread.core.sheet import Cell, Heading, Sheet, Voice
from trackread.core.spelling import sounds_of
from trackread.core.timebase import Frame, FrameRate
from trackread.workflow.sheet_between import event_cells, manner_cells, pause_cells
from trackread.workflow.sheet_frames import cells
from trackread.workflow.sheet_said import Said, Span, from_frame, in_turn, said_of_take, seen_through
from trackread.workflow.sheet_sound import last_heard, level_points, loudest, pitch_points
from trackread.workflow.sheet_voice import beats, departure_cells, is_missing, phrases


@dataclass(frozen=True, slots=True)
class Terms:
    """On what terms a production reads its sheets: the rate, the number of a take's first frame, IPA or respelling."""

    rate: FrameRate
    first_number: int = 1
    as_ipa: bool = False


def terms_of(production: Production) -> Terms:
    """The terms that a production's settings ask for."""
    return Terms(production.rate, production.first_frame, as_ipa=production.ipa)


def sheet_of_take(
    reading: Reading, terms: Terms, *, character: str, heading: Heading, own_rate: float | None = None
) -> Sheet:
    """The sheet of a whole take; its heading warns if the take does not say the line.

    `own_rate`, in syllables a second, is how fast the character usually speaks, as far as that is known.
    """
    said = said_of_take(reading, terms.rate)
    voice = voice_of([Speech(said, own_rate)], terms, said.heard, character=character)
    warned = replace(heading, warning=warning_of(reading.match))
    return Sheet(warned, terms.rate, Frame(len(said.heard)), terms.first_number, (voice,))


@dataclass(frozen=True, slots=True)
class Speech:
    """What is said where, and how fast the character usually speaks, None where nobody knows."""

    said: Said
    own_rate: float | None = None


def voice_of(
    speeches: Sequence[Speech],
    terms: Terms,
    window: range,
    *,
    character: str,
    extension: str = "",
    with_sound: bool = True,
) -> Voice:
    """All that is heard of one voice within a window of frames, from one reading or from several.

    Level and pitch are only drawn, and take half of the time: what is not printed can be without them.
    """
    length = Frame(len(window))
    saids = [one.said for one in speeches]
    words = [word_cells(said) for said in saids]
    drawn = saids if with_sound else []

    def through(spans_of: Callable[[int, Speech], Sequence[Span]]) -> tuple[Span, ...]:
        """The spans of all readings as far as they are heard, on the window's own frames."""
        heard = [seen_through(spans_of(place, one), one.said.heard) for place, one in enumerate(speeches)]
        return from_frame(seen_through(in_turn(list(chain(*heard))), window), window.start)

    said_words = through(lambda place, _: words[place])
    events = through(lambda place, one: event_cells(one.said, words[place]))
    return Voice(
        character=character,
        words=said_words,
        sounds=through(lambda _, one: sound_cells(one.said, terms)),
        beats=through(lambda _, one: beats(one.said)),
        level=loudest(level_points(said, window) for said in drawn),
        pitch=last_heard(pitch_points(said, window) for said in drawn),
        events=events,
        manners=through(lambda _, one: manner_cells(one.said)),
        pauses=pause_cells(said_words, events, length),
        phrases=through(lambda _, one: phrases(one.said, one.own_rate)),
        departures=through(lambda place, one: departures_in(one.said, words[place], missing=False)),
        missing=through(lambda place, one: departures_in(one.said, words[place], missing=True)),
        extension=extension,
    )


def word_cells(said: Said) -> tuple[Cell, ...]:
    """The words; those that start on one frame stand in one cell, a space between them."""
    reading = said.reading
    spans = ((reading.start(word), reading.stop(word), word.text) for word in reading.words)
    return cells(spans, said.clock, joint=" ")


def sound_cells(said: Said, terms: Terms) -> tuple[Cell, ...]:
    """The sounds, pauses left blank."""
    reading = said.reading
    spans = zip(reading.cuts, reading.cuts[1:], sounds_of(reading, as_ipa=terms.as_ipa), strict=False)
    return cells((span for span in spans if span[2]), said.clock, joint="")


def departures_in(said: Said, words: tuple[Cell, ...], *, missing: bool) -> tuple[Cell, ...]:
    """Where other words are said than the script has, or some are `missing`."""
    some = (one for one in said.reading.departures if is_missing(one) is missing)
    return departure_cells(some, said, words)


def warning_of(match: Match) -> str:
    """What stands over a sheet that was printed although the take does not say its line."""
    if match.says_line:
        return ""
    return f"TAKE DOES NOT SAY THIS LINE (MATCH {match.score:.2f}): DO NOT SHOOT"
