"""The cut: which shot is seen on which frames of the film, and which piece of which recording is heard there.

Frames are picture frames, counted from 0 at the first picture of the cut or of a shot; `stop` is not included. A shot
starts with the first frame on which any of it is seen, so that a shot that is dissolved from is seen `fade_out` frames
beyond its `stop`, under the shot that follows; a sound that is faded out likewise. Source times are exact seconds.

A placement is a straight line from frames to the recording: `speed` seconds of sound pass in one second of picture,
fewer than none if it is played backwards. What plays before the first picture has frames below 0.
"""

from bisect import bisect_right
from dataclasses import dataclass
from fractions import Fraction

from trackread.core.sound import Sound
from trackread.core.timebase import Frame, FrameRate, Sample, first_sample_of, frame_at

NORMAL = Fraction(1)
NO_FRAMES = Frame(0)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a cut list says something: its line, counted from 1, or an `item` in words where it has no lines.

    What a person made without a list has no `file`, and an `item` that says who: "by hand, by TUM".
    """

    file: str
    line: int = 0
    item: str = ""

    @property
    def by_hand(self) -> bool:
        return not self.file

    def __str__(self) -> str:
        if self.by_hand:
            return self.item
        return f"{self.file}:{self.line}" if self.line else f"{self.file}: {self.item}"


@dataclass(frozen=True, slots=True)
class Remark:
    """What a person should know of how a list was taken, or of what in it is neither a shot nor a placement."""

    place: Place
    text: str


@dataclass(frozen=True, slots=True)
class Source:
    """What a list says of where a piece comes from, "" for what it does not say.

    `start` is the instant that is heard or seen first, in seconds of the source's own timecode. `file_start` is the
    instant at which the file begins; None where the list does not say, so that the file's own clock must.
    """

    start: Fraction
    reel: str = ""
    clip: str = ""
    file: str = ""
    file_start: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Handles:
    """Frames of a source that there are before its first frame in the cut and after its last."""

    head: Frame
    tail: Frame

    def __post_init__(self) -> None:
        if self.head < 0 or self.tail < 0:
            raise ValueError(f"a handle has a length, not {self.head} and {self.tail}")


@dataclass(frozen=True, slots=True)
class Shot:
    """`length` frames of the cut from `first` on; `part` counts, from 1, the places of the cut that have this code.

    `source` is None where the list names none. `notes` are what the list remarks on it, as written.
    """

    code: str
    first: Frame
    length: Frame
    place: Place
    part: int = 1
    source: Source | None = None
    speed: Fraction = NORMAL
    fade_in: Frame = NO_FRAMES
    fade_out: Frame = NO_FRAMES
    handles: Handles | None = None
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.code.strip() or self.part < 1:
            raise ValueError(f"a shot has a code, and parts count from 1: not {self.code!r}, part {self.part}")
        if self.first < 0 or self.length <= 0 or self.fade_out < 0 or not 0 <= self.fade_in <= self.length:
            raise ValueError(f"{self.code} has frames, not {self.length} from {self.first}, fading in {self.fade_in}")

    @property
    def name(self) -> str:
        return self.code if self.part == 1 else f"{self.code} (part {self.part})"

    @property
    def stop(self) -> Frame:
        """The frame of the cut from which the next shot is seen."""
        return Frame(self.first + self.length)

    @property
    def seen(self) -> Frame:
        """How many frames of it are seen, those under the next shot as well."""
        return Frame(self.length + self.fade_out)


@dataclass(frozen=True, slots=True)
class Placement:
    """A piece of a recording that plays on `length` frames of the cut from `at` on, on one or more tracks.

    `sound` and `start` say which recording it is, once that is known, and which of its samples is heard first: exactly,
    so perhaps one between two samples.
    """

    source: Source
    at: Frame
    length: Frame
    tracks: tuple[str, ...]
    place: Place
    speed: Fraction = NORMAL
    fade_in: Frame = NO_FRAMES
    fade_out: Frame = NO_FRAMES
    sound: Sound | None = None
    start: Fraction | None = None
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.length <= 0 or self.fade_out < 0 or not 0 <= self.fade_in <= self.length:
            raise ValueError(f"a placement has frames, not {self.length}, fading {self.fade_in} and {self.fade_out}")
        if not self.tracks or not self.speed:
            raise ValueError("a placement lies on a track, and what is held still is not heard")
        if (self.sound is None) != (self.start is None):
            raise ValueError("a placement has both its recording and the sample it starts with, or neither")

    @property
    def stop(self) -> Frame:
        return Frame(self.at + self.length)

    @property
    def heard_stop(self) -> Frame:
        """The frame of the cut from which nothing of it is heard, its fading out over."""
        return Frame(self.stop + self.fade_out)


@dataclass(frozen=True, slots=True)
class Cut:
    """The film, or a reel of it. `start` is what timecode counts for frame 0: 86400 for 01:00:00:00 at 24.

    Shots stand in order and one after another, perhaps with gaps. Placements stand in the order of their first frames.
    """

    title: str
    rate: FrameRate
    start: Frame
    shots: tuple[Shot, ...]
    placements: tuple[Placement, ...] = ()
    remarks: tuple[Remark, ...] = ()

    def __post_init__(self) -> None:
        parts: dict[str, int] = {}
        stop = 0
        for shot in self.shots:
            parts[shot.code] = parts.get(shot.code, 0) + 1
            if shot.first < stop:
                raise ValueError(f"{shot.name} starts before the shot above it stops")
            if shot.part != parts[shot.code]:
                raise ValueError(f"{shot.name} is part {parts[shot.code]} of {shot.code}")
            stop = shot.stop
        if len({shot.name for shot in self.shots}) < len(self.shots):
            raise ValueError("no two shots have one name")
        if any(later.at < earlier.at for earlier, later in zip(self.placements, self.placements[1:], strict=False)):
            raise ValueError("placements stand in the order of their first frames")

    @property
    def length(self) -> Frame:
        """Frames from the first picture to the end of the last shot."""
        return self.shots[-1].stop if self.shots else Frame(0)


@dataclass(frozen=True, slots=True)
class Piece:
    """What is heard of a placement within a shot: from frame `first` of the shot to before `stop`."""

    placement: Placement
    first: Frame
    stop: Frame


def shot_at(cut: Cut, frame: int) -> Shot | None:
    """The shot that is seen on a frame of the cut: the later of two in a dissolve, none in a gap."""
    place = bisect_right(cut.shots, frame, key=lambda shot: shot.first) - 1
    shot = cut.shots[place] if place >= 0 else None
    return shot if shot and frame < shot.stop else None


def pieces_in(cut: Cut, shot: Shot) -> tuple[Piece, ...]:
    """What is heard while a shot is seen, in the order of its first frames."""
    return tuple(piece_of(one, shot) for one in cut.placements if is_heard_in(one, shot))


def pieces_by_shot(cut: Cut) -> dict[str, tuple[Piece, ...]]:
    """What `pieces_in` has for each shot, by the shot's name, in one sweep over the cut."""
    pieces: dict[str, tuple[Piece, ...]] = {}
    heard: list[Placement] = []
    begun = 0
    for shot in cut.shots:
        while begun < len(cut.placements) and cut.placements[begun].at < shot.first + shot.seen:
            heard.append(cut.placements[begun])
            begun += 1
        # What is over before this shot is over before all later ones.
        heard = [one for one in heard if shot.first < one.heard_stop]
        pieces[shot.name] = tuple(piece_of(one, shot) for one in heard if is_heard_in(one, shot))
    return pieces


def is_heard_in(placement: Placement, shot: Shot) -> bool:
    return placement.at < shot.first + shot.seen and shot.first < placement.heard_stop


def piece_of(placement: Placement, shot: Shot) -> Piece:
    first, stop = max(0, placement.at - shot.first), min(shot.seen, placement.heard_stop - shot.first)
    return Piece(placement, Frame(first), Frame(stop))


def source_at(placement: Placement, frame: int, rate: FrameRate) -> Fraction:
    """The second of the source's timecode that is heard as `frame` of the cut begins."""
    return placement.source.start + placement.speed * (frame - placement.at) / rate.per_second


def position_at(placement: Placement, frame: int, rate: FrameRate) -> Fraction:
    """The sample of the recording, or the part of one, that is heard as `frame` of the cut begins.

    Raises ValueError for a placement whose recording is not known.
    """
    sound, start = known(placement)
    return start + placement.speed * (frame - placement.at) * sound.sample_rate / rate.per_second


def frame_of_sample(placement: Placement, sample: int, rate: FrameRate) -> Frame | None:
    """The frame of the cut on which a sample of the recording begins to be heard, None if it is not heard.

    Backwards, sample k begins with its later end, k + 1. Raises ValueError where the recording is not known.
    """
    sound, start = known(placement)
    since = (sample + (placement.speed < 0) - start) / placement.speed / sound.sample_rate
    frame = Frame(placement.at + frame_at(since.numerator, since.denominator, rate))
    return frame if placement.at <= frame < placement.heard_stop else None


def samples_of_frame(placement: Placement, frame: int, rate: FrameRate) -> range:
    """The samples of the recording that begin to be heard on a frame of the cut: the inverse of `frame_of_sample`.

    Raises ValueError where the recording is not known.
    """
    if not placement.at <= frame < placement.heard_stop:
        return range(0)
    edges = (position_at(placement, frame, rate), position_at(placement, frame + 1, rate))
    if placement.speed > 0:
        return range(sample_from(edges[0]), sample_from(edges[1]))
    # Sample k begins at k + 1 and must lie above the second edge, and not above the first.
    return range(-sample_from(-edges[1]), -sample_from(-edges[0]))


def sample_from(position: Fraction) -> Sample:
    """The first sample that does not start before a position."""
    return first_sample_of(position.numerator, 1, FrameRate(Fraction(position.denominator)))


def known(placement: Placement) -> tuple[Sound, Fraction]:
    """The recording of a placement, and the sample it starts with."""
    if placement.sound is None or placement.start is None:
        raise ValueError(f"{placement.place}: its recording is not known yet")
    return placement.sound, placement.start
