"""The boundaries of an aligned stretch, the times where each might be, and what is seen at those times.

A candidate is one possible time of one boundary. `describe` gives each candidate a row of numbers for
the trees; the columns of a row stand in the order of GROUPS and must not change under a fitted model.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.core.phones import PAUSE, VOWELS
from trackread.reading import recogniser
from trackread.reading.aligner import Mark
from trackread.reading.recogniser import Posteriors
from trackread.reading.spectra import HOP, Spectra

REACH = 0.060  # how far from the aligner's mark a boundary is looked for
AFTER_PAUSE = 0.400  # the aligner puts pauses badly: there, look as far as the next mark, at most this
STEP = HOP

# Yes-or-no facts of each phone, one column each.
TRAITS = (
    frozenset("P T K B D G CH JH".split()),
    frozenset("F V TH DH S Z SH ZH HH CH JH".split()),
    frozenset("M N NG".split()),
    frozenset("L R W Y ER".split()),
    VOWELS,
    VOWELS | frozenset("B D G JH V DH Z ZH M N NG L R W Y".split()),
    frozenset("S Z SH ZH CH JH".split()),
    frozenset("R ER".split()),
    frozenset({"L"}),
    frozenset("W UW OW UH AO".split()),
    frozenset("Y IY IH EY".split()),
    frozenset("AA AE AO AY AW".split()),
    frozenset("AY AW OW OY EY".split()),
    frozenset({"HH"}),
    frozenset({PAUSE}),
)


@dataclass(frozen=True, slots=True)
class Boundary:
    """Where phone `left` gives way to `right` by the aligner, seconds; either may be a pause.

    `left_length` and `right_length` are the aligner's; `phone` is the index of the phone that starts
    here, or that stops here when `right` is a pause.
    """

    phone: int
    left: str
    right: str
    time: float
    left_length: float
    right_length: float
    opens_word: bool

    @property
    def stops(self) -> bool:
        """Whether sound stops here."""
        return self.right == PAUSE

    @property
    def opens_stretch(self) -> bool:
        """Whether sound begins here, after a pause."""
        return self.left == PAUSE


def boundaries_of(marks: Sequence[Mark]) -> tuple[Boundary, ...]:
    """Every start of a phone, and every stop before a pause, in order of time."""
    found: list[Boundary] = []
    for k, mark in enumerate(marks):
        symbol = mark.phone.rstrip("012")
        length = mark.stop - mark.start
        before = marks[k - 1] if k and not pause_between(marks[k - 1], mark) else None
        left = before.phone.rstrip("012") if before else PAUSE
        left_length = before.stop - before.start if before else PAUSE_LENGTH
        found.append(Boundary(k, left, symbol, mark.start, left_length, length, mark.opens_word))
        if k + 1 == len(marks) or pause_between(mark, marks[k + 1]):
            found.append(Boundary(k, symbol, PAUSE, mark.stop, length, PAUSE_LENGTH, opens_word=False))
    return tuple(found)


PAUSE_LENGTH = 0.200  # stands for a pause of any length in the row of a candidate


def pause_between(first: Mark, second: Mark) -> bool:
    return second.start - first.stop > 0.003


def candidates_of(boundaries: Sequence[Boundary]) -> list[np.ndarray]:
    """For each boundary the times, STEP apart, where it may be."""
    found = []
    for k, boundary in enumerate(boundaries):
        low, high = -REACH, REACH
        if boundary.left == PAUSE and k + 1 < len(boundaries):
            high = max(REACH, min(AFTER_PAUSE, boundaries[k + 1].time - boundary.time + 0.02))
        if boundary.stops and k:
            low = -max(REACH, min(AFTER_PAUSE, boundary.time - boundaries[k - 1].time - 0.01))
        centre = round(boundary.time / STEP)
        found.append((centre + np.arange(round(low / STEP), round(high / STEP) + 1)) * STEP)
    return found


@dataclass(frozen=True, slots=True)
class Candidates:
    """All candidates of a stretch in one piece: `time` and `owner` (index of the boundary), shape (n,)."""

    boundaries: tuple[Boundary, ...]
    time: np.ndarray
    owner: np.ndarray

    def of_each(self, values: np.ndarray) -> list[np.ndarray]:
        """Values of all candidates, cut apart by boundary."""
        return np.split(values, np.flatnonzero(np.diff(self.owner)) + 1)

    def per_boundary(self, values: Sequence[float]) -> np.ndarray:
        """A value a boundary, repeated for each of its candidates."""
        return np.asarray(np.array(values, np.float32)[self.owner])

    def top(self, values: np.ndarray) -> np.ndarray:
        """For each candidate, the highest value among those of its boundary."""
        starts = np.concatenate([[0], np.flatnonzero(np.diff(self.owner)) + 1])
        return np.asarray(np.maximum.reduceat(values, starts)[self.owner])


def candidates(boundaries: tuple[Boundary, ...]) -> Candidates:
    each = candidates_of(boundaries)
    owner = np.repeat(np.arange(len(each)), [len(times) for times in each])
    return Candidates(boundaries, np.concatenate(each), owner)


class Stretch:
    """The analysis of a stretch in the form that rows are drawn from: levelled, scaled, pooled."""

    def __init__(self, spectra: Spectra, heard: Posteriors) -> None:
        loud = spectra.loud
        bands = spectra.bands - spectra.bands[loud].mean(0)
        self.rows = len(spectra.level)
        self.bands = bands / 10
        self.pooled = bands @ POOL / 10
        level = spectra.level - spectra.level[loud].mean()
        self.extra = np.stack([level, spectra.crossings * 50, spectra.voicing * 20], 1) / 10
        self.over_floor = over_floor(spectra)
        self.changes = [change(self.bands, width) for width in (2, 4, 8)]
        self.heard = heard

    def at(self, values: np.ndarray, row: np.ndarray, offsets: Sequence[int]) -> np.ndarray:
        """Values at rows near `row`, side by side: shape (n, len(offsets) x columns)."""
        return np.concatenate([values[np.clip(row + offset, 0, self.rows - 1)] for offset in offsets], 1)


POOL = np.zeros((20, 8), np.float32)
for _band in range(20):
    POOL[_band, min(7, _band * 8 // 20)] = 1
POOL /= POOL.sum(0)


def over_floor(spectra: Spectra) -> np.ndarray:
    """Level above the room's, as a share of the voice's; and the band that stands out most. Shape (rows, 2)."""
    floor = np.percentile(spectra.level, 4)
    span = max(10.0, float(spectra.level[spectra.loud].mean() - floor))
    highest = (spectra.bands - np.percentile(spectra.bands, 5, axis=0)).max(1)
    return np.stack([(spectra.level - floor) / span, highest / 15], 1)


def change(bands: np.ndarray, width: int) -> np.ndarray:
    """Mean of the `width` rows from each row on, less the mean of those before it."""
    rows = len(bands)
    total = np.vstack([np.zeros(bands.shape[1]), np.cumsum(bands, 0)])
    here = np.arange(rows)
    before, after = np.clip(here - width, 0, rows), np.clip(here + width, 0, rows)
    return np.asarray((total[after] - 2 * total[here] + total[before]) / width)


def describe(stretch: Stretch, found: Candidates, groups: Sequence[str] = ()) -> np.ndarray:
    """A row of numbers for each candidate, shape (candidates, columns), float32."""
    row = np.round(found.time / HOP).astype(int)
    chosen = [GROUPS[name](stretch, found, row) for name in (groups or GROUPS)]
    return np.concatenate(chosen, 1).astype(np.float32)


def column(values: np.ndarray) -> np.ndarray:
    return values[:, None]


def who(_stretch: Stretch, found: Candidates, _row: np.ndarray) -> np.ndarray:
    """The aligner's view: distance from its mark, both phones' traits, their lengths."""
    facts = [
        [float(b.left in t) for t in TRAITS]
        + [float(b.right in t) for t in TRAITS]
        + [b.left_length * 10, b.right_length * 10, float(b.opens_word), float(b.stops)]
        for b in found.boundaries
    ]
    marked = found.per_boundary([b.time for b in found.boundaries])
    return np.concatenate([column((found.time - marked) * 50), np.array(facts, np.float32)[found.owner]], 1)


def spectrum(stretch: Stretch, _found: Candidates, row: np.ndarray) -> np.ndarray:
    return stretch.at(stretch.pooled, row, (-8, -5, -3, -2, -1, 0, 1, 2, 3, 5, 8))


def changing(stretch: Stretch, found: Candidates, row: np.ndarray) -> np.ndarray:
    """How much, and in which bands, the spectrum changes here, at three widths."""
    parts = [stretch.at(moved, row, (0,)) @ POOL for moved in stretch.changes]
    for moved in stretch.changes:
        size = column(np.sqrt((moved**2).mean(1)))
        near = stretch.at(size, row, (-4, -2, -1, 0, 1, 2, 4))
        parts += [near, column(near[:, 3] / (found.top(near[:, 3]) + 1e-6))]
    return np.concatenate(parts, 1)


def level(stretch: Stretch, _found: Candidates, row: np.ndarray) -> np.ndarray:
    """Level, crossings and voicing, and their step."""
    step = stretch.at(stretch.extra, row, (3,)) - stretch.at(stretch.extra, row, (-3,))
    return np.concatenate([stretch.at(stretch.extra, row, (-8, -5, -3, -1, 0, 1, 3, 5, 8)), step], 1)


def floor(stretch: Stretch, found: Candidates, row: np.ndarray) -> np.ndarray:
    """How far above the room the sound stands, and how long since it first rose there."""
    near = stretch.at(stretch.over_floor, row, (-8, -4, -2, -1, 0, 1, 2, 4, 8))
    risen = np.where(stretch.over_floor[np.clip(row, 0, stretch.rows - 1), 1] > 0.8, row, 1 << 30)
    first = -found.top(-risen)
    since = np.where(first < 1 << 30, row - first, 0)
    return np.concatenate([near, column(since * 0.1)], 1)


def second_opinion(stretch: Stretch, found: Candidates, _row: np.ndarray) -> np.ndarray:
    """How much more the recogniser hears the left phone than the right, and how sure it is of the right."""
    heard = np.concatenate([column(stretch.heard.blank), stretch.heard.phones], 1)
    left = np.array([heard_column(b.left) for b in found.boundaries])[found.owner]
    right = np.array([heard_column(b.right) for b in found.boundaries])[found.owner]
    parts = []
    for offset in (-0.04, -0.02, 0.0, 0.02, 0.04):
        a, b = between(heard, found.time + offset, left), between(heard, found.time + offset, right)
        parts.append(np.clip(a - b, -12, 12))
        if abs(offset) <= 0.02:
            parts.append(np.exp(b))
    return np.stack(parts, 1)


def heard_column(symbol: str) -> int:
    return 0 if symbol == PAUSE else 1 + recogniser.SYMBOLS.index(symbol)


def between(heard: np.ndarray, time: np.ndarray, place: np.ndarray) -> np.ndarray:
    """Column `place` of the recogniser's rows at `time`, by linear interpolation."""
    position = np.clip((time + recogniser.LATE) / recogniser.HOP, 0, len(heard) - 1.001)
    row = position.astype(int)
    share = position - row
    after = np.minimum(row + 1, len(heard) - 1)
    return np.asarray(heard[row, place] * (1 - share) + heard[after, place] * share)


def middles(stretch: Stretch, found: Candidates, *, cap: float) -> tuple[np.ndarray, np.ndarray]:
    """The rows in the middle of the left and right phone of each candidate, at most `cap` / 2 seconds away."""
    left = [round((b.time - min(b.left_length, cap) / 2) / HOP) for b in found.boundaries]
    right = [round((b.time + min(b.right_length, cap) / 2) / HOP) for b in found.boundaries]
    last = stretch.rows - 1
    return np.clip(left, 0, last)[found.owner], np.clip(right, 0, last)[found.owner]


def passage(stretch: Stretch, found: Candidates, row: np.ndarray) -> np.ndarray:
    """How far the spectrum has come on the straight way from the middle of one phone to that of the next."""
    left, right = middles(stretch, found, cap=0.12)
    return way_between(stretch, row, left, right)


def way_between(stretch: Stretch, row: np.ndarray, left: np.ndarray, right: np.ndarray) -> np.ndarray:
    """Where each candidate and its surroundings stand from 0, the spectrum at `left`, to 1, that at `right`."""
    start, stop = (mean_around(stretch, there) for there in (left, right))
    way = stop - start
    length = (way**2).sum(1) + 0.05
    parts = []
    for offset in (-6, -4, -2, -1, 0, 1, 2, 4, 6):
        here = stretch.at(stretch.pooled, row, (offset,))
        parts.append(np.clip(((here - start) * way).sum(1) / length, -2, 3))
    return np.stack(parts, 1)


def surest(stretch: Stretch, found: Candidates, row: np.ndarray) -> np.ndarray:
    """Where the recogniser is surest of both phones: the distances to there, and the passage between."""
    each = np.array([surest_times(stretch.heard, b) for b in found.boundaries])
    left, right = each[found.owner].T
    time = found.time
    distances = np.stack([time - (left + right) / 2, time - left, right - time, right - left], 1) * 20
    rows = np.clip(np.round(each / HOP).astype(int), 0, stretch.rows - 1)[found.owner]
    return np.concatenate([distances, way_between(stretch, row, rows[:, 0], rows[:, 1])], 1)


def mean_around(stretch: Stretch, row: np.ndarray) -> np.ndarray:
    """The spectrum at a row and its two neighbours, shape (n, bands)."""
    return np.asarray(np.mean([stretch.at(stretch.pooled, row, (k,)) for k in (-1, 0, 1)], 0))


SURE_REACH = 0.060  # seconds beyond the aligner's phones, and how soft the pull to their middles is
LONGEST_HALF = 0.150  # of a long phone, only this much lies near its boundary


def surest_times(heard: Posteriors, boundary: Boundary) -> tuple[float, float]:
    """When the left phone and then the right one are most surely heard, near the middles the aligner gave them."""
    times = np.arange(len(heard.blank)) * recogniser.HOP - recogniser.LATE
    before, after = min(boundary.left_length, LONGEST_HALF), min(boundary.right_length, LONGEST_HALF)
    first = np.searchsorted(times, boundary.time - before - SURE_REACH)
    last = np.searchsorted(times, boundary.time + after + SURE_REACH, side="right")
    if last - first < 2:
        return boundary.time - 0.03, boundary.time + 0.03
    near = times[first:last]
    left = sureness(heard, boundary.left, slice(first, last)) - pull(near, boundary.time - before / 2)
    right = sureness(heard, boundary.right, slice(first, last)) - pull(near, boundary.time + after / 2)
    k = int((np.maximum.accumulate(left)[:-1] + right[1:]).argmax()) + 1
    return float(near[int(left[:k].argmax())]), float(near[k])


def sureness(heard: Posteriors, symbol: str, rows: slice) -> np.ndarray:
    if symbol == PAUSE:
        return np.full(rows.stop - rows.start, -3.0)
    return np.asarray(np.clip(heard.phones[rows, recogniser.SYMBOLS.index(symbol)], -8, 0))


def pull(times: np.ndarray, middle: float) -> np.ndarray:
    return 0.5 * ((times - middle) / SURE_REACH) ** 2


def two_parts(stretch: Stretch, found: Candidates, row: np.ndarray) -> np.ndarray:
    """How well two flat pieces, parted here, fit the sound between the two middles (least squares)."""
    left, right = middles(stretch, found, cap=0.16)
    left, right = np.minimum(left, row - 1), np.maximum(right, row + 1)
    left, right = np.clip(left, 0, stretch.rows - 1), np.clip(right, 1, stretch.rows)
    here = np.clip(row, left + 1, np.maximum(right - 1, left + 1))
    total = np.vstack([np.zeros(stretch.bands.shape[1]), np.cumsum(stretch.bands, 0)])
    squares = np.concatenate([[0.0], np.cumsum((stretch.bands**2).sum(1))])

    def spread(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        count = np.maximum(b - a, 1)
        return np.asarray(squares[b] - squares[a] - ((total[b] - total[a]) ** 2).sum(1) / count)

    whole = spread(left, right)
    gain = (whole - spread(left, here) - spread(here, right)) / (whole + 1.0)
    return np.stack([gain, gain - found.top(gain)], 1)


GROUPS = {
    "who": who,
    "spectrum": spectrum,
    "changing": changing,
    "level": level,
    "floor": floor,
    "second opinion": second_opinion,
    "passage": passage,
    "two parts": two_parts,
    "surest": surest,
}
