"""What a mouth has to show of what is said: the sounds of readings, exactly where they are heard, one after the other.

What is no word moves a mouth too: a breath parts the lips a little, a laugh more, a hum shuts them.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from trackread.core.performance import MANNERS, EventKind
from trackread.core.phones import PAUSE
from trackread.core.reading import Reading, Stress
from trackread.core.timebase import Sample
from trackread.mouths.targets import Sound
from trackread.workflow.sheet_said import Said
from trackread.workflow.sheet_sound import LEVEL_RANGE, clamped, value_at

# What a mouth does while no word is said, as the sound that it looks like (our own choice, no source), and its stress.
EVENT_SOUNDS: dict[EventKind, tuple[str, Stress]] = {
    EventKind.BREATH_IN: ("AH", 0),
    EventKind.BREATH_OUT: ("AH", 0),
    EventKind.SIGH: ("AH", 1),
    EventKind.GASP: ("AH", 2),
    EventKind.COUGH: ("AH", 2),
    EventKind.LAUGH: ("AE", 1),
    EventKind.HUM: ("M", 0),
}


def sounds_said(saids: Sequence[Said], window: range) -> tuple[Sound, ...]:
    """The sounds of one voice from all its readings, as far as they are heard; where two are at once, the later one.

    A reading that is cut off at an end of the window goes on beyond it: a face does not stop in the middle of a word
    because the shot does, and a trim of the shot changes nothing of what is left.
    """
    found: list[Sound] = []
    for said in sorted(saids, key=lambda said: said.heard.start):
        some = sorted(heard_of(said, window), key=lambda sound: sound.start)
        if some:
            found = [*ended_before(found, some[0].start), *some]
    return tuple(found)


def ended_before(sounds: Iterable[Sound], position: Fraction) -> Iterator[Sound]:
    """The sounds that begin before a position, none of them lasting beyond it."""
    for sound in sounds:
        if sound.start < position:
            yield sound if sound.stop <= position else replace(sound, stop=position)


def heard_of(said: Said, window: range) -> Iterator[Sound]:
    """The sounds of a reading on the frames on which it is heard; the later ones first if it plays backwards."""
    first = Fraction(said.heard.start) if said.heard.start > window.start else None
    stop = Fraction(said.heard.stop) if said.heard.stop < window.stop else None
    for sound in (*phones_of(said), *events_of(said)):
        start = sound.start if first is None else max(sound.start, first)
        end = sound.stop if stop is None else min(sound.stop, stop)
        if start < end:
            yield sound if (start, end) == (sound.start, sound.stop) else replace(sound, start=start, stop=end)


def phones_of(said: Said) -> Iterator[Sound]:
    """The phones of a reading with the stress of their syllables."""
    reading = said.reading
    stress = stress_of_phones(reading)
    loudness = loudness_in(reading)
    for place, phone in enumerate(reading.phones):
        if phone.symbol != PAUSE:
            ends = reading.cuts[place], reading.cuts[place + 1]
            yield sound_between(said, *ends, phone.symbol, (stress[place], loudness(*ends)))


def events_of(said: Said) -> Iterator[Sound]:
    """What a mouth does in the pauses of a reading, as far as it is no silence."""
    reading = said.reading
    loudness = loudness_in(reading)
    for event in reading.events:
        if event.kind in MANNERS:
            continue
        symbol, stress = EVENT_SOUNDS[event.kind]
        for place, phone in enumerate(reading.phones):
            start, stop = max(event.start, reading.cuts[place]), min(event.stop, reading.cuts[place + 1])
            if phone.symbol == PAUSE and start < stop:
                yield sound_between(said, start, stop, symbol, (stress, loudness(start, stop)))


def sound_between(said: Said, start: int, stop: int, symbol: str, strength: tuple[Stress, float]) -> Sound:
    first, last = sorted((said.clock.position(start), said.clock.position(stop)))
    stress, loud = strength
    return Sound(symbol, first, last, stress, loud)


def stress_of_phones(reading: Reading) -> list[Stress]:
    """The stress of the syllable that each phone is in."""
    found: list[Stress] = [0] * len(reading.phones)
    for syllable in reading.syllables:
        found[syllable.first : syllable.stop] = [syllable.stress] * (syllable.stop - syllable.first)
    return found


def loudness_in(reading: Reading) -> Callable[[int, int], float]:
    """Tells how loud it is in the middle of a stretch, from 0 to 1, the loudest of the reading."""
    loudest = max((value for value in reading.level.values if value is not None), default=0.0)

    def loudness(start: int, stop: int) -> float:
        level = value_at(reading.level, Sample((start + stop) // 2))
        return 0.0 if level is None else clamped(1 + (level - loudest) / LEVEL_RANGE)

    return loudness
