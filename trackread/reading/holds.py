"""Sounds that are held on before a pause, kept to where the voice really stops.

The aligner gives a long vowel, or a singer's last note, to the pause behind it when it sounds long enough.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from trackread.reading.events import Found, taken
from trackread.reading.placement import Placed
from trackread.reading.scene import ROW, Scene
from trackread.reading.tones import SONOROUS

FADED = 6.0  # dB below the middle of the sound: there people mark its end, though the voice may still be heard to die
GAP = 0.02  # seconds without voice that are no end of it: a slip of the pitch


def held(placed: Sequence[Placed], scene: Scene, events: Sequence[Found]) -> Iterator[Placed]:
    """The phones, those before a pause as long as their voice goes on without a break; events are no voice."""
    sounds = scene.voiced & scene.view.sounds & ~taken(events, len(scene.voiced))
    for k, one in enumerate(placed):
        limit = placed[k + 1].start if k + 1 < len(placed) else len(sounds) * ROW
        if one.mark.phone.rstrip("012") not in SONOROUS or limit - one.stop <= GAP:
            yield one
            continue
        row, last = round(one.stop / ROW), round(one.stop / ROW)
        least = scene.loudness(one.start, one.stop) - FADED
        while row < min(len(sounds), int(limit / ROW)) and (row - last) * ROW <= GAP:
            row += 1
            last = row if sounds[row - 1] and scene.view.level[row - 1] >= least else last
        yield replace(one, stop=min(limit, max(one.stop, last * ROW)))
