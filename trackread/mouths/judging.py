"""A sequence of mouths judged by what can be counted, whoever made it: what the eye would miss, and how it flutters.

Nothing here knows how a plan is made, so that a plan can be held against another, or against the plainest way there is:
the mouth of whatever is heard in the middle of each frame.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from itertools import groupby, pairwise

import numpy as np

from trackread.core.mouth import PARTS, Kit, MouthRules, Worn
from trackread.core.phones import PAUSE
from trackread.core.timebase import Frame
from trackread.mouths.kit_check import spoken_with
from trackread.mouths.needs import SEEN
from trackread.mouths.planning import Scene, Yes, sounds_at, worn_for
from trackread.mouths.targets import Sound, targets_on


@dataclass(frozen=True, slots=True)
class Figures:
    """What is counted on so many `frames`, of one plan or of several together.

    `changes` is how often a mouth is put on; `flashes` are mouths held for a single frame. `distance` is how far mouths
    are from the face, as `targets_on` has it, summed over frames: 1 is as far as one part of a face can be. Of the
    `closures` (p, b, m) and `bites` (f, v) some are `closed` or `bitten`: seen no earlier and no later than may be, and
    `held` for two frames.
    """

    frames: int = 0
    changes: int = 0
    flashes: int = 0
    distance: float = 0.0
    closures: int = 0
    closed: int = 0
    held: int = 0
    bites: int = 0
    bitten: int = 0

    def __add__(self, other: "Figures") -> "Figures":
        return Figures(*(getattr(self, one.name) + getattr(other, one.name) for one in fields(self)))


def judged(kit: Kit, scene: Scene, rules: MouthRules, worn: Sequence[Worn]) -> Figures:
    """The figures of the mouths worn on all frames of a scene, in order and without a gap.

    Of bites only those are counted for which the kit has a mouth.
    """
    frames = scene.frames
    names = [one.mouth for one in worn for _ in range(one.first, one.stop)]
    if len(names) != len(frames):
        raise ValueError(f"{len(frames)} frames have a mouth each, not {len(names)}")
    closed, bitten = shown(kit, names, worn_for(kit, "lips closed")), shown(kit, names, worn_for(kit, "teeth on lip"))
    heard = [sound for sound in scene.sounds if frames.start <= sound.start < frames.stop]
    closures = [seen_of(sound, closed, frames, rules) for sound in heard if SEEN.get(sound.symbol) == "lips closed"]
    bites = [seen_of(sound, bitten, frames, rules) for sound in heard if SEEN.get(sound.symbol) == "teeth on lip"]
    can_bite = bool(worn_for(kit, "teeth on lip").any())
    return Figures(
        frames=len(frames),
        changes=sum(one != other for one, other in pairwise(names)),
        flashes=sum(len(list(run)) < 2 for _, run in groupby(names)) - at_ends(names),
        distance=distance(kit, scene, rules, names),
        closures=len(closures),
        closed=sum(one > 0 for one in closures),
        held=sum(one > 1 for one in closures),
        bites=len(bites) if can_bite else 0,
        bitten=sum(one > 0 for one in bites),
    )


def at_ends(names: Sequence[str]) -> int:
    """How many mouths are held for one frame at an end of a stretch: there they may last longer than is seen."""
    if len(set(names)) < 2:
        return int(len(names) == 1)
    return int(names[0] != names[1]) + int(names[-1] != names[-2])


def shown(kit: Kit, names: Sequence[str], those: Yes) -> list[bool]:
    """Whether one of those mouths is worn, frame by frame."""
    wanted = {mouth.name for mouth, one in zip(kit.mouths, those, strict=True) if one}
    return [name in wanted for name in names]


def seen_of(sound: Sound, showing: Sequence[bool], frames: range, rules: MouthRules) -> int:
    """For how many frames on end a sound is shown, from a frame that is neither too early for it nor too late.

    At an end of the frames, where it may go on, it is shown for as many as it would have to be.
    """
    start = sound.start - frames.start
    earliest = max(0, -(-start.numerator // start.denominator) - rules.early)
    latest = min(len(showing) - 1, start.numerator // start.denominator + rules.late)
    best = 0
    for first in range(earliest, latest + 1):
        count = 0
        while first + count < len(showing) and showing[first + count]:
            count += 1
        best = max(best, rules.closed_hold if count and first + count == len(showing) else count)
    return best


def distance(kit: Kit, scene: Scene, rules: MouthRules, names: Sequence[str]) -> float:
    """How far the mouths are from the face they are to show, summed over all frames."""
    ahead = range(scene.frames.start + rules.lead, scene.frames.stop + rules.lead)
    faces = np.array([kit.mouth(name).face.parts for name in names]).reshape(len(names), len(PARTS))
    return float(np.sqrt(((targets_on(scene.sounds, ahead, scene.rate) - faces) ** 2).sum(axis=1)).sum())


def looked_up(kit: Kit, scene: Scene) -> tuple[Worn, ...]:
    """The mouth of the sound in the middle of each frame, as plainly as can be."""
    found: list[Worn] = []
    first = scene.frames.start
    heard = [sound.symbol if sound else PAUSE for sound in sounds_at(scene.sounds, scene.frames)]
    for name, run in groupby(mouth_of(kit, symbol) for symbol in heard):
        stop = first + len(list(run))
        found.append(Worn(name, Frame(first), Frame(stop)))
        first = stop
    return tuple(found)


def mouth_of(kit: Kit, symbol: str) -> str:
    """The name of the mouth for a sound."""
    mouth = None if symbol == PAUSE else spoken_with(kit, symbol)
    return mouth.name if mouth else kit.rest
