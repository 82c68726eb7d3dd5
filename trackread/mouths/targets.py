"""What a face would be doing on each frame of a shot while it says what is heard: the target a plan is held against.

Times come in exact, in frames of the shot. Inside `targets_on` they become distances in milliseconds, which are floats
since dominance is one; no time leaves it. The face of a frame is that at its middle: one picture stands for the whole
frame, and a mean over it would show a mouth half open where the lips close and open again, which no mouth ever was.

The model is that of Cohen & Massaro 1993: every sound has a target and a dominance, strength · exp(-fading · distance),
for each part of the face, and the face is the mean of all targets, weighed by dominance. Ours departs from it in one
thing: theirs measures distance from the middle of a sound, so that a long vowel or a pause would give way to its
neighbours while it still lasts; ours measures it from where a sound stands, which is all of it but `STANDING` at either
end. Of sounds no longer than twice that, this is the middle.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, zip_longest

import numpy as np
import numpy.typing as npt

from trackread.core.mouth import PARTS, SYMBOLS, Face
from trackread.core.phones import PAUSE
from trackread.core.reading import Stress
from trackread.core.timebase import FrameRate
from trackread.mouths.faces import FACES, SETTLED, STRENGTHS, TAKES_THE_NEXT, faces_of, fading

Numbers = npt.NDArray[np.float64]

AT_ONCE = 240  # frames: so that a long shot takes no more memory than a short one

# Milliseconds; half of a consonant of connected speech, about 70 ms (Klatt 1976, from memory).
STANDING = 35
REACH = 1500  # beyond that nothing is left of any dominance: less than a hundred-millionth
EASING = 125  # into rest, 3 frames of film: common practice has 2 to 4, no source
# What is left of an opening where a voice is as soft as can be, and in weak, half strong and strong syllables. That
# both open the mouth is common practice, how much is our own and meant to be gentle.
SOFTEST = 0.75
OPENED_BY_STRESS: dict[Stress, float] = {0: 0.8, 1: 0.9, 2: 1.0}


@dataclass(frozen=True, slots=True)
class Sound:
    """A phone as a shot hears it, from `start` to before `stop`, in frames of the shot.

    `stress` is that of its syllable, `loud` from 0, as soft as the voice gets, to 1.
    """

    symbol: str
    start: Fraction
    stop: Fraction
    stress: Stress = 0
    loud: float = 0.5

    def __post_init__(self) -> None:
        if self.symbol not in SYMBOLS or self.start >= self.stop:
            raise ValueError(f"a sound is a phone that lasts, not {self.symbol!r} from {self.start} to {self.stop}")
        if self.stress not in OPENED_BY_STRESS or not 0 <= self.loud <= 1:
            raise ValueError(f"stress is 0, 1 or 2 and loudness 0 to 1, not {self.stress} and {self.loud}")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a sound that asks for one face, with what says how strongly; of a pause, `settled` is that at rest."""

    symbol: str
    parts: tuple[float, ...]
    start: Fraction
    stop: Fraction
    settled: bool = False


def targets_on(phones: Sequence[Sound], frames: range, rate: FrameRate) -> Numbers:
    """The face on each of `frames`, a row of five numbers from 0 to 1 for each, in the order of PARTS.

    Sounds are in order and apart; where there is none the face is at rest. Raises ValueError if they are not in order.
    """
    if not frames:
        return np.empty((0, len(PARTS)))
    # From the first frame, exactly, so that a shot that moves as a whole keeps its faces to the last bit.
    milliseconds = 1000 / rate.per_second
    asked = list(stretches(with_pauses(phones, frames), EASING / milliseconds))
    middles: Numbers = (np.arange(len(frames), dtype=np.float64) + 0.5) * float(milliseconds)
    starts, stops = (
        np.array([since(edge, frames.start) for edge in edges]) * float(milliseconds)
        for edges in ([one.start for one in asked], [one.stop for one in asked])
    )
    found = []
    for first in range(0, len(frames), AT_ONCE):
        some = middles[first : first + AT_ONCE]
        near = slice(np.searchsorted(stops, some[0] - REACH), np.searchsorted(starts, some[-1] + REACH, side="right"))
        found.append(faces_at(some, asked[near], starts[near], stops[near]))
    faces: Numbers = np.clip(np.concatenate(found), 0, 1)
    return faces


def faces_at(middles: Numbers, asked: Sequence[Stretch], starts: Numbers, stops: Numbers) -> Numbers:
    """The faces at some times, of the stretches that reach there; all in milliseconds."""
    standing = np.minimum(STANDING, (stops - starts) / 2)
    ahead = np.maximum(0, (starts + standing)[None, :] - middles[:, None])
    after = np.maximum(0, middles[:, None] - (stops - standing)[None, :])
    targets = np.array([one.parts for one in asked])
    dominance = dominances(asked, ahead, after) * (np.maximum(ahead, after) <= REACH)
    faces: Numbers = np.einsum("pfs,sp->fp", dominance, targets) / dominance.sum(axis=2).T
    return faces


def since(position: Fraction, frame: int) -> float:
    """How far a position is from a frame, in frames."""
    return (position.numerator - frame * position.denominator) / position.denominator


def dominances(asked: Sequence[Stretch], ahead: Numbers, after: Numbers) -> Numbers:
    """How strongly each part (first axis) is asked for on each frame (second) by each stretch (third)."""
    strengths = np.array([SETTLED if one.settled else STRENGTHS[one.symbol] for one in asked])
    fades = np.array([fading(one.symbol) for one in asked])
    return np.stack(
        [
            strengths[:, part] * np.exp(-fades[:, 0, part] * ahead - fades[:, 1, part] * after)
            for part in range(len(PARTS))
        ]
    )


def stretches(sounds: Sequence[Sound], easing: Fraction) -> Iterator[Stretch]:
    """What each sound asks for: a diphthong one half after the other, a pause settled once it has lasted for `easing`.

    A pause of less than twice that does not settle; before the first sound the mouth is at rest already.
    """
    for number, (sound, after) in enumerate(zip_longest(sounds, sounds[1:])):
        if sound.symbol == PAUSE:
            short = sound.stop - sound.start < 2 * easing
            rested = sound.start if number == 0 else sound.stop if short else sound.start + easing
            if sound.start < rested:
                yield Stretch(PAUSE, FACES[PAUSE].parts, sound.start, rested)
            if rested < sound.stop:
                yield Stretch(PAUSE, FACES[PAUSE].parts, rested, sound.stop, settled=True)
            continue
        faces = faces_of(sound.symbol)
        if sound.symbol == TAKES_THE_NEXT and after and after.symbol != PAUSE:
            faces = (FACES[after.symbol],)
        edges = (sound.start, sound.stop) if len(faces) == 1 else (sound.start, middle_of(sound), sound.stop)
        for face, (start, stop) in zip(faces, pairwise(edges), strict=True):
            yield Stretch(sound.symbol, opened(face, sound), start, stop)


def middle_of(sound: Sound) -> Fraction:
    return (sound.start + sound.stop) / 2


def opened(face: Face, sound: Sound) -> tuple[float, ...]:
    """The parts of a face as wide open as the sound is loud and strong."""
    gain = OPENED_BY_STRESS[sound.stress] * (SOFTEST + (1 - SOFTEST) * sound.loud)
    return face.opening * gain, *face.parts[1:]


def with_pauses(phones: Sequence[Sound], frames: range) -> list[Sound]:
    """The sounds with a pause wherever nothing is said in the shot, and pauses that follow on one another as one.

    Raises ValueError if the sounds overlap or are out of order.
    """
    if any(one.stop > other.start for one, other in pairwise(phones)):
        raise ValueError("the sounds of one mouth come one after the other")
    reached = min([Fraction(frames.start), *(phone.start for phone in phones[:1])])
    last = max([Fraction(frames.stop), *(phone.stop for phone in phones[-1:])])
    found = []
    for phone in phones:
        if phone.symbol == PAUSE:
            continue
        if reached < phone.start:
            found.append(Sound(PAUSE, reached, phone.start, 0, 0.0))
        found.append(phone)
        reached = phone.stop
    if reached < last:
        found.append(Sound(PAUSE, reached, last, 0, 0.0))
    return found
