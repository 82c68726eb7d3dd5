"""The plan of mouths: what a puppet wears on each frame of a stretch of film.

A mouth costs as much on a frame as it is unlike the face that would be seen there (targets.py), more where the eye
looks for it, and each change costs something too. What must be seen (needs.py) and what a person has pinned cost so
much that nothing else is put above them; then comes that nothing is a flash, and then that mouths change on the beat.
Of all sequences the one that costs least is the plan (solving.py).

The constants below are our own, chosen by eye and by figures on the demo's lines alone; no source is known for any.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, zip_longest

import numpy as np
import numpy.typing as npt

from trackread.core.mouth import PARTS, Kit, MouthRules, NeedKind, Pace, Pin, Worn
from trackread.core.phones import PAUSE, VOWELS
from trackread.core.timebase import Frame, FrameRate
from trackread.mouths.faces import STRENGTHS
from trackread.mouths.kit_check import BITING, ON_LIP, told_parts
from trackread.mouths.needs import Need, needs_of, restless
from trackread.mouths.solving import Problem, Whole, solved
from trackread.mouths.targets import Numbers, Sound, targets_on

Yes = npt.NDArray[np.bool_]

# What missing a part of a face counts, in the order of PARTS: how far a mouth opens is seen first.
WEIGHTS = (1.0, 0.5, 0.6, 1.0, 0.4)
STRONG = 2  # the stress of a strong syllable
STRESSED = 2.0  # what a vowel counts in a strong syllable, against any other sound
QUIET = 0.5  # and a pause
# A mouth misses as many thousandths as it is unlike, squared; these are in thousandths too.
UNIT = 1000
UNMADE = 120  # for a mouth that was not made for the sound, if others were
UNMADE_WEAK = 30  # if the sound is a consonant that takes its shape from its neighbours
WEAK = 0.1  # the strength in opening of such a consonant, at most
CHANGE = 50
LEAP = 40  # more for a change between faces that are as unlike as one part can be
OFF_BEAT, FLASH, UNMET = 20_000, 100_000, 1_000_000

FAST_WITHIN = 12  # frames, half a second
FAST_SOUNDS = 6  # in so many frames: of each, on twos, a mouth could just be shown


@dataclass(frozen=True, slots=True)
class Scene:
    """What is said, exactly where, on the `frames` that are planned; on twos, `beat` is one of those to change on."""

    sounds: tuple[Sound, ...]
    frames: range
    rate: FrameRate
    beat: int = 0


@dataclass(frozen=True, slots=True)
class Plan:
    """The mouths on all frames of a scene, in order; and what they cost.

    `misfit` is what they miss of the face, in thousandths; `changes` how often one is put on, of these `off_beat` so
    many on frames that are no beat; `flashes` are those held too briefly; `unmet` the frames on which what must be seen
    is not. `cost` is all together, as the plan weighs it.
    """

    worn: tuple[Worn, ...]
    cost: int
    misfit: int
    changes: int
    off_beat: int
    flashes: int
    unmet: int


def plan_of(kit: Kit, scene: Scene, rules: MouthRules, pins: Sequence[Pin] = ()) -> Plan:
    """The plan for one puppet. Raises KeyError for a pin of a mouth that the kit has not.

    Of pins that overlap, the later one in the sequence counts.
    """
    if not scene.frames:
        raise ValueError("a plan is for a frame at least")
    problem = problem_of(kit, scene, rules, pins)
    return plan_from(kit, scene, problem, solved(problem), pins)


def plan_from(kit: Kit, scene: Scene, problem: Problem, sequence: Sequence[int], pins: Sequence[Pin] = ()) -> Plan:
    """A sequence of the kit's mouths, one for each frame, as a plan."""
    first = scene.frames.start
    edges = [0, *(t for t in range(1, len(sequence)) if sequence[t] != sequence[t - 1]), len(sequence)]
    runs = [range(start, stop) for start, stop in pairwise(edges)]
    set_by_hand = {frame - first for pin in pins for frame in range(pin.first, pin.stop)}
    worn = tuple(
        Worn(
            kit.mouths[sequence[run.start]].name,
            Frame(first + run.start),
            Frame(first + run.stop),
            pinned=not set_by_hand.isdisjoint(run),
        )
        for run in runs
    )
    places = range(len(sequence))
    starts = edges[1:-1]
    jumps = sum(int(problem.jumps[sequence[t - 1], sequence[t]]) for t in starts)
    misfit = sum(int(problem.misfit[t, sequence[t]]) for t in places)
    off_beat = sum(not problem.beats[t] for t in starts)
    flashes = sum(len(run) < problem.hold for run in runs[1:-1])
    unmet = sum(not problem.allowed[t, sequence[t]] for t in places)
    cost = misfit + jumps + OFF_BEAT * off_beat + FLASH * flashes + UNMET * unmet
    return Plan(worn, cost, misfit, len(starts), off_beat, flashes, unmet)


def problem_of(kit: Kit, scene: Scene, rules: MouthRules, pins: Sequence[Pin] = ()) -> Problem:
    """What is to be solved for a plan: a row for each frame of the scene, a column for each mouth of the kit."""
    beats = beats_on(scene, rules)
    for pin in pins:  # on which a person wants a change
        for edge in (pin.first, pin.stop):
            if edge in scene.frames:
                beats[edge - scene.frames.start] = True
    faces = np.array([mouth.face.parts for mouth in kit.mouths])
    return Problem(
        misfit=misfit_on(kit, scene, rules),
        allowed=allowed_on(kit, scene, rules, beats, pins),
        jumps=jumps_between(faces),
        beats=beats,
        hold=rules.hold,
        flash=FLASH,
        off_beat=OFF_BEAT,
        unmet=UNMET,
    )


def jumps_between(faces: Numbers) -> Whole:
    """What it costs to change from each mouth to each, the same both ways."""
    apart = np.sqrt(((faces[:, None, :] - faces[None, :, :]) ** 2).sum(axis=2))
    return whole(CHANGE + LEAP * apart)


def whole(numbers: Numbers) -> Whole:
    rounded: Whole = np.rint(numbers).astype(np.int64)
    return rounded


def misfit_on(kit: Kit, scene: Scene, rules: MouthRules) -> Whole:
    """What each mouth misses on each frame, the face of the frame being that which is heard `lead` frames later."""
    ahead = range(scene.frames.start + rules.lead, scene.frames.stop + rules.lead)
    targets = targets_on(scene.sounds, ahead, scene.rate)
    faces = np.array([mouth.face.parts for mouth in kit.mouths])
    parts = told_parts(kit)
    weights = np.array([weight if part in parts else 0.0 for part, weight in zip(PARTS, WEIGHTS, strict=True)])
    unlike = ((targets[:, None, :] - faces[None, :, :]) ** 2 * weights).sum(axis=2)
    heard = sounds_at(scene.sounds, ahead)
    seen = np.array([eye_on(sound) for sound in heard])
    symbols = [sound.symbol if sound else PAUSE for sound in heard]
    unmade = {symbol: unmade_for(kit, symbol) for symbol in set(symbols)}
    missed = np.stack([unmade[symbol] for symbol in symbols])
    return whole(UNIT * unlike * seen[:, None]) + missed


def sounds_at(sounds: Sequence[Sound], frames: range) -> list[Sound | None]:
    """The sound at the middle of each frame, None where there is none."""
    found: list[Sound | None] = [None] * len(frames)
    for sound in sounds:
        first, stop = (middle_after(edge) - frames.start for edge in (sound.start, sound.stop))
        for place in range(max(first, 0), min(stop, len(frames))):
            found[place] = sound
    return found


def middle_after(position: Fraction) -> int:
    """The first frame whose middle is not before a position."""
    return -((position.denominator - 2 * position.numerator) // (2 * position.denominator))


def eye_on(sound: Sound | None) -> float:
    """How much the eye looks for the face of a sound; that of a pause for None."""
    if sound is None or sound.symbol == PAUSE:
        return QUIET
    return STRESSED if sound.symbol in VOWELS and sound.stress == STRONG else 1.0


def unmade_for(kit: Kit, symbol: str) -> Whole:
    """What each mouth misses that was not made for a sound, if mouths are made for sounds at all."""
    if not any(mouth.phones for mouth in kit.mouths):
        return np.zeros(len(kit.mouths), dtype=np.int64)
    made = np.array([symbol in mouth.phones or (symbol, mouth.name) == (PAUSE, kit.rest) for mouth in kit.mouths])
    if not made.any():
        made = np.array([not mouth.phones for mouth in kit.mouths])
    weak = symbol not in VOWELS and STRENGTHS[symbol][0] <= WEAK
    return np.where(made, 0, UNMADE_WEAK if weak else UNMADE)


def beats_on(scene: Scene, rules: MouthRules) -> Yes:
    """The frames on which a mouth may change."""
    frames = np.array(scene.frames)
    if rules.on is Pace.ONES:
        return np.ones(len(frames), dtype=bool)
    twos: Yes = (frames - scene.beat) % 2 == 0
    return twos if rules.on is Pace.TWOS else twos | fast_on(scene)


def fast_on(scene: Scene) -> Yes:
    """The frames around which more sounds begin than mouths could be shown on twos."""
    frames, half = scene.frames, FAST_WITHIN // 2
    begun = np.zeros(len(frames) + FAST_WITHIN, dtype=np.int64)
    for sound in scene.sounds:
        place = sound.start.numerator // sound.start.denominator - frames.start + half
        if sound.symbol != PAUSE and 0 <= place < len(begun):
            begun[place] += 1
    sums = np.cumsum(np.concatenate([[0], begun]))
    fast: Yes = sums[FAST_WITHIN:][: len(frames)] - sums[: len(frames)] > FAST_SOUNDS
    return fast


def allowed_on(kit: Kit, scene: Scene, rules: MouthRules, beats: Yes, pins: Sequence[Pin]) -> Yes:
    """Whether each mouth may be worn on each frame, by what must be seen, by short pauses, and by what is pinned."""
    frames = scene.frames
    allowed = np.ones((len(frames), len(kit.mouths)), dtype=bool)
    needs = on_beats(needs_of(scene.sounds, frames, rules), frames, beats, rules)
    rest = worn_for(kit, "rest")
    for span in unrested(restless(scene.sounds, frames, rules), needs):
        allowed[span.start - frames.start : span.stop - frames.start] = ~rest
    for need in needs:
        fit = worn_for(kit, need.kind)
        if fit.any():
            allowed[need.first - frames.start : need.stop - frames.start] = fit
    names = [mouth.name for mouth in kit.mouths]
    for pin in pins:
        kit.mouth(pin.mouth)
        first, stop = max(pin.first, frames.start), min(pin.stop, frames.stop)
        if first < stop:
            allowed[first - frames.start : stop - frames.start] = [name == pin.mouth for name in names]
    return allowed


def worn_for(kit: Kit, kind: NeedKind) -> Yes:
    """Which mouths show what must be seen: if none closes those that open least, if none bites those made for it."""
    if kind == "rest":
        return np.array([mouth.name == kit.rest for mouth in kit.mouths])
    if kind == "teeth on lip":
        biting = np.array([mouth.face.bite >= BITING for mouth in kit.mouths])
        return biting if biting.any() else np.array([mouth.phones.issuperset(ON_LIP) for mouth in kit.mouths])
    closing = np.array([mouth.closes for mouth in kit.mouths])
    openings = np.array([mouth.face.opening for mouth in kit.mouths])
    return closing if closing.any() else openings == openings.min()


def unrested(spans: Iterable[range], needs: Sequence[Need]) -> Iterator[range]:
    """Short pauses in which nothing is at rest; lips that are closed beside one may stay so, rather than flap."""
    closed = [need for need in needs if need.kind == "lips closed"]
    for span in spans:
        if not any(need.first <= span.stop and need.stop >= span.start for need in closed):
            yield span


def on_beats(needs: Sequence[Need], frames: range, beats: Yes, rules: MouthRules) -> list[Need]:
    """Needs that begin on the beat nearest to where they would, if there is one in their window that none is in the way
    of.
    """
    found: list[Need] = []
    for need, later in zip_longest(needs, needs[1:]):
        hold = min(rules.hold_of(need.kind), need.stop - need.first)
        soonest = found[-1].stop + gap(found[-1], need, rules) if found else frames.start
        end = later.first - gap(need, later, rules) if later else frames.stop
        window = range(max(need.earliest, soonest), min(need.latest, end - hold) + 1)
        places = [frame for frame in window if beats[frame - frames.start] or frame == frames.start]
        first = min(places, key=lambda frame: (abs(frame - need.first), frame), default=need.first)
        stop = Frame(max(need.stop, first + hold))
        found.append(Need(need.kind, Frame(first), stop, need.earliest, need.latest))
    return found


def gap(need: Need, later: Need, rules: MouthRules) -> int:
    """The frames between two needs on which something else is seen."""
    return rules.hold if need.kind == later.kind != "rest" else 0
