"""Words and phones on a recording with their times, whoever placed them.

Times are whole microseconds from the first sample, `stop` not included.
"""

from dataclasses import dataclass
from pathlib import Path

from praatio import textgrid
from praatio.utilities.errors import PraatioException

from trackread.core.phones import PAUSE
from trackread.core.reading import Reading
from trackread.core.timebase import sample_at_seconds
from trackread.errors import LabelError
from trackread.labels.symbols import ASPIRATION, CLOSURES, SAMPA, SILENCES, phones_of, reader_of

MICROSECONDS = 1_000_000

# Tiers by what they hold, the broadest phone labels first: narrow tiers split what the dictionary keeps whole.
PHONE_TIERS = ("phonemes", "phoneme", "phones", "phone", "segments")
WORD_TIERS = ("words", "word", "orthography")


@dataclass(frozen=True, slots=True)
class Mark:
    """One word or phone; a phone that was marked together with the one before it has `shared` set."""

    text: str
    start: int
    stop: int
    shared: bool = False


@dataclass(frozen=True, slots=True)
class Marks:
    """All words and phones of one recording, pauses left out; either may be empty."""

    words: tuple[Mark, ...]
    phones: tuple[Mark, ...]


def read_marks(path: Path) -> Marks:
    """The words and phones of a TextGrid. Raises LabelError if it is none, or holds unknown symbols."""
    try:
        grid = textgrid.openTextgrid(str(path), includeEmptyIntervals=True, duplicateNamesMode="rename")
    except (PraatioException, OSError, ValueError, IndexError) as error:
        raise LabelError(f"{path}: cannot be read as a TextGrid ({error})") from error
    names = {name.lower(): name for name in grid.tierNames}
    phones = next((names[tier] for tier in PHONE_TIERS if tier in names), None)
    words = next((names[tier] for tier in WORD_TIERS if tier in names), None)
    if phones is None and words is None:
        raise LabelError(f"{path}: has no tier of words or phones, only {', '.join(grid.tierNames)}")
    return Marks(
        word_marks(intervals(grid, words)) if words else (),
        phone_marks(path, intervals(grid, phones)) if phones else (),
    )


def intervals(grid: textgrid.Textgrid, tier: str) -> list[Mark]:
    entries = grid.getTier(tier).entries
    return [Mark(e.label.strip(), microseconds(e.start), microseconds(e.end)) for e in entries]


def microseconds(seconds: float) -> int:
    return int(sample_at_seconds(seconds, MICROSECONDS))


def word_marks(labels: list[Mark]) -> tuple[Mark, ...]:
    """The labels that are words: something in them is a letter, and they do not name a silence."""
    return tuple(m for m in labels if m.text.lower() not in SILENCES and any(c.isalpha() for c in m.text))


def phone_marks(path: Path, labels: list[Mark]) -> tuple[Mark, ...]:
    """The labels as our phones: closures join the stop after them, aspiration the stop before."""
    table = reader_of({mark.text for mark in labels})
    found: list[Mark] = []
    closed: int | None = None
    for mark in labels:
        if mark.text.lower() in CLOSURES:
            closed = mark.start if closed is None else closed
        elif table is SAMPA and mark.text in ASPIRATION and found:
            found[-1] = Mark(found[-1].text, found[-1].start, mark.stop)
        elif mark.text.lower() not in SILENCES:
            symbols = phones_of(mark.text, table)
            if symbols is None:
                raise LabelError(f"{path}: {mark.text!r} at {mark.start / MICROSECONDS:.3f} s is not a known phone symbol")
            start = mark.start if closed is None else closed
            found += [Mark(symbol, start, mark.stop, shared=k > 0) for k, symbol in enumerate(symbols)]
            closed = None
        else:
            closed = None
    return tuple(found)


def marks_of(reading: Reading) -> Marks:
    """A reading's words and phones as marks."""
    times = [cut * MICROSECONDS // reading.sound.sample_rate for cut in reading.cuts]
    return Marks(
        tuple(Mark(word.text, times[word.first], times[word.stop]) for word in reading.words),
        tuple(
            Mark(phone.symbol, times[k], times[k + 1])
            for k, phone in enumerate(reading.phones)
            if phone.symbol != PAUSE
        ),
    )
