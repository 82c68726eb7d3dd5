"""What is seen at each candidate: a row of numbers for the trees.

The columns of a row stand in the order of GROUPS and must not change under a fitted model. A view takes
the stretch, its candidates and the row of each candidate, and gives shape (candidates, columns).
"""

from collections.abc import Sequence

import numpy as np

from trackread.core.phones import PAUSE, VOWELS
from trackread.reading import recogniser
from trackread.reading.boundaries import Boundary, Candidates
from trackread.reading.recogniser import Posteriors
from trackread.reading.spectra import BANDS, HOP, Spectra

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


# The bands in eight groups, each group's weights adding up to 1; shape (BANDS, 8).
GROUP_OF_BAND = np.arange(BANDS) * 8 // BANDS
POOL = ((GROUP_OF_BAND[:, None] == np.arange(8)) / np.bincount(GROUP_OF_BAND)).astype(np.float32)


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
