"""TextGrids and labelled takes for tests; the TextGrids are written by Praat itself."""

import numpy as np
import parselmouth
import soundfile
from parselmouth.praat import call

from tests.makers import LINE

LONG, SHORT, BINARY = "Save as text file", "Save as short text file", "Save as binary file"


def write_grid(path, *, points=(), stop=1.0, form=LONG, **tiers):
    """A file of `stop` seconds with tiers of (text, start, stop) in seconds, and empty tiers of `points`; its path."""
    names = [*tiers, *points]
    grid = parselmouth.TextGrid(0, stop, " ".join(names), " ".join(points))
    for number, labels in enumerate(tiers.values(), 1):
        for time in sorted({time for _, *times in labels for time in times} - {0, stop}):
            call(grid, "Insert boundary", number, time)
        for text, start, end in labels:
            interval = call(grid, "Get interval at time", number, (start + end) / 2)
            call(grid, "Set interval text", number, interval, text)
    for number in range(len(tiers) + 1, len(names) + 1):
        call(grid, "Insert point", number, stop / 2, "H*")
    path.parent.mkdir(parents=True, exist_ok=True)
    call(grid, form, str(path))
    return path


def even(text, length=0.1, *, first=0.1):
    """Labels one after the other, each `length` seconds, from `first` on."""
    return [(each, first + k * length, first + (k + 1) * length) for k, each in enumerate(text.split())]


def write_take(path, shift=0.0, *, length=0.07, said=LINE):
    """A sound of two seconds and the labels of `said`, `shift` seconds later than `a_reading` has them; their path."""
    phones, words, time = [], [], length + shift
    for one in said:
        text, sounds = one if one != "-" else ("", "sil")
        first = time
        for symbol in sounds.split():
            phones.append((symbol, time, time + length))
            time += length
        words += [(text, first, time)] if text else []
    sound = 0.5 * np.sin(np.arange(32000) * 0.05)
    path.parent.mkdir(parents=True, exist_ok=True)
    soundfile.write(path.with_suffix(".wav"), sound, 16000)
    return write_grid(path.with_suffix(".TextGrid"), stop=2.0, words=words, phones=phones)
