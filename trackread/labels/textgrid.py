"""A reading as a TextGrid, the label file that Praat reads: tiers of words, syllables, phones and events.

The format counts in seconds; each is the time of a sample as near as a double holds it, and one cut has
the same digits in every tier. Pauses are intervals without a label.
"""

import re
from decimal import Decimal

from praatio.utilities.constants import INTERVAL_TIER, TextgridFormats
from praatio.utilities.textgrid_io import getTextgridAsStr

from trackread.core.performance import MANNERS
from trackread.core.phones import PAUSE
from trackread.core.reading import Reading
from trackread.core.spelling import arpabet_of, syllable_text

Label = tuple[float, float, str]

# A time below 0.0001 s as Python writes it, with an exponent, which praatio does not read.
SMALL = re.compile(r"^(\s*(?:xmin|xmax) = )(\S+e-\d+)", re.MULTILINE)


def textgrid_of(reading: Reading) -> bytes:
    """The file's bytes, in Praat's long text format and UTF-8; phones are ARPAbet with stress digits."""
    seconds = [cut / reading.sound.sample_rate for cut in reading.cuts]
    phones = enumerate(zip(reading.phones, arpabet_of(reading), strict=True))
    tiers: dict[str, list[Label]] = {
        "words": [(seconds[word.first], seconds[word.stop], word.text) for word in reading.words],
        "syllables": [(seconds[s.first], seconds[s.stop], syllable_text(reading, s)) for s in reading.syllables],
        "phones": [(seconds[k], seconds[k + 1], symbol) for k, (phone, symbol) in phones if phone.symbol != PAUSE],
    }
    tiers["events"] = [
        (event.start / reading.sound.sample_rate, event.stop / reading.sound.sample_rate, event.kind.value)
        for event in reading.events
        if event.kind not in MANNERS
    ]
    ends = {"xmin": 0.0, "xmax": seconds[-1]}
    # A tier without any interval cannot be read again.
    filled = {name: labels or [(0.0, seconds[-1], "")] for name, labels in tiers.items()}
    rows = [{"class": INTERVAL_TIER, "name": name, "entries": labels, **ends} for name, labels in filled.items()]
    grid = getTextgridAsStr({**ends, "tiers": rows}, TextgridFormats.LONG_TEXTGRID, includeBlankSpaces=True)
    return SMALL.sub(lambda found: found[1] + format(Decimal(found[2]), "f"), str(grid)).encode()
