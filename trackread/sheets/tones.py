"""Signs for the turns of the pitch: arrows beside a beat, solid triangles where a phrase ends.

What keeps level has no sign, since most syllables do.
"""

from dataclasses import dataclass

from trackread.core.performance import Tone
from trackread.sheets.columns import Lane
from trackread.sheets.marks import Path

# Of the height of a row, left free above and below a sign.
FREE = 0.2


@dataclass(frozen=True, slots=True)
class Sign:
    """A stroke through corners that are shares of its width and height from its top left, and whether it is filled."""

    corners: tuple[tuple[float, float], ...]
    weight: float
    filled: bool = False


DOWN = Sign(((0.0, 0.05), (1.0, 0.05), (0.5, 0.95), (0.0, 0.05)), 0.4, filled=True)
ARROWS: dict[Tone, Sign] = {
    Tone.RISE: Sign(((0.0, 1.0), (1.0, 0.0), (0.1, 0.1), (1.0, 0.0), (0.95, 0.5)), 1.5),
    Tone.FALL: Sign(((0.0, 0.0), (1.0, 1.0), (0.1, 0.9), (1.0, 1.0), (0.95, 0.5)), 1.5),
    Tone.PEAK: Sign(((0.0, 1.0), (0.5, 0.05), (1.0, 1.0)), 1.5),
}
TRIANGLES: dict[Tone, Sign] = {
    Tone.RISE: Sign(((0.0, 0.95), (1.0, 0.95), (0.5, 0.05), (0.0, 0.95)), 0.4, filled=True),
    Tone.FALL: DOWN,
    # A phrase that peaks at its end comes down there.
    Tone.PEAK: DOWN,
}


def turn(sign: Sign, lane: Lane, top: float, height: float, *, tone: float) -> Path:
    """A sign in a row `height` high, in black or white."""
    upper, tall = top + FREE * height, (1 - 2 * FREE) * height
    corners = tuple((lane.left + across * lane.width, upper + down * tall) for across, down in sign.corners)
    return Path(corners, sign.weight, fill=tone if sign.filled else None, tone=tone)
