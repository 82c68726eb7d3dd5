"""Words and phones on a recording with their times, whoever placed them.

Times are whole microseconds from the first sample, `stop` not included.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from praatio import textgrid
from praatio.utilities.constants import INTERVAL_TIER
from praatio.utilities.errors import PraatioException

from trackread.core.phones import PAUSE, PHONES, STOPS
from trackread.core.reading import Reading
from trackread.core.timebase import resampled, sample_at_seconds
from trackread.errors import LabelError
from trackread.labels.symbols import ALPHABETS, ASPIRATION, CLOSURES, SILENCE, Alphabet, alphabet_of, is_silence

MICROSECONDS = 1_000_000

# Tiers by what they hold, the broadest phone labels first: narrow tiers split what the dictionary keeps whole.
PHONE_TIERS = ("phonemes", "phoneme", "phones", "phone", "segments")
WORD_TIERS = ("words", "word", "orthography")

# The number of tiers, in the long and in the short format.
TIER_COUNT = re.compile(rb"<exists>\s*(?:size\s*=\s*)?([0-9]+)")


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
    """The words and phones of a TextGrid, from the first interval tiers whose names are known, in any case.

    Raises LabelError if it is none, is cut short, or holds unknown symbols.
    """
    grid = read_grid(path)
    tiers = {name.strip().lower(): grid.getTier(name) for name in reversed(grid.tierNames)}
    intervals = {name: tier for name, tier in tiers.items() if tier.tierType == INTERVAL_TIER}
    words = next((intervals[name] for name in WORD_TIERS if name in intervals), None)
    phones = next((intervals[name] for name in PHONE_TIERS if name in intervals), None)
    if phones is None and words is None:
        there = f"only {', '.join(grid.tierNames)}" if tiers else "nor any other"
        raise LabelError(f"{path}: has no interval tier named words or phones, {there}")
    return Marks(
        word_marks(labels_in(path, words)) if words is not None else (),
        phone_marks(path, labels_in(path, phones)) if phones is not None else (),
    )


def read_grid(path: Path) -> textgrid.Textgrid:
    """The file as praatio holds it. Raises LabelError if it is no TextGrid or has not all its tiers."""
    try:
        # Without its zeros UTF-16 reads like UTF-8 here.
        count = TIER_COUNT.search(path.read_bytes().replace(b"\0", b""))
        if count is None:
            raise LabelError(f"{path}: is not a TextGrid in one of Praat's text formats")
        grid = textgrid.openTextgrid(str(path), True, "silence", duplicateNamesMode="rename")
    except (PraatioException, OSError, ValueError, IndexError) as error:
        raise LabelError(f"{path}: cannot be read as a TextGrid ({error})") from error
    if len(grid.tierNames) != int(count[1]):
        raise LabelError(f"{path}: is cut short: {len(grid.tierNames)} of its {int(count[1])} tiers are there")
    return grid


def labels_in(path: Path, tier: textgrid.IntervalTier) -> list[Mark]:
    """The intervals of a tier, which cover its whole time. Raises LabelError if the last ones are missing."""
    reach = tier.entries[-1].end if tier.entries else 0
    if reach < tier.maxTimestamp:
        raise LabelError(f"{path}: is cut short: tier {tier.name} stops at {reach} s of {tier.maxTimestamp} s")
    return [Mark(e.label.strip(), microseconds(e.start), microseconds(e.end)) for e in tier.entries]


def microseconds(seconds: float) -> int:
    return sample_at_seconds(seconds, MICROSECONDS)


def word_marks(labels: Iterable[Mark]) -> tuple[Mark, ...]:
    """The labels that are words: something in them is a letter or a figure, and they do not name a silence."""
    return tuple(mark for mark in labels if not is_silence(mark.text) and any(c.isalnum() for c in mark.text))


def phone_marks(path: Path, labels: Sequence[Mark]) -> tuple[Mark, ...]:
    """The labels as our phones: a closure belongs to the stop after it, aspiration to the stop before.

    Raises LabelError with every symbol that is unknown in the alphabet that explains most of them.
    """
    alphabet = alphabet_of(mark.text for mark in labels)
    found: list[Mark] = []
    for part in parts_of(path, labels, alphabet):
        before = found[-1] if found else Mark(SILENCE, 0, 0)
        if before.text in CLOSURES and part.text in CLOSURES[before.text][1]:
            found[-1] = replace(part, start=before.start)
        elif part.text == ASPIRATION and before.text in STOPS:
            found[-1] = replace(before, stop=part.stop)
        else:
            found.append(part)
    # A stop may end in its closure; one that only says `closure` does not tell which stop it is.
    whole = (replace(mark, text=CLOSURES[mark.text][0]) if mark.text in CLOSURES else mark for mark in found)
    return tuple(mark for mark in whole if mark.text in PHONES)


def parts_of(path: Path, labels: Sequence[Mark], alphabet: Alphabet) -> Iterator[Mark]:
    """Each label as its phones, closure, aspiration or silence."""
    unknown: dict[str, int] = {}
    for mark in labels:
        if mark.text.lower() in CLOSURES:
            yield replace(mark, text=mark.text.lower())
            continue
        phones = () if is_silence(mark.text) else alphabet.phones(mark.text)
        if phones is None:
            unknown.setdefault(mark.text, mark.start)
            continue
        for number, phone in enumerate(phones or (SILENCE,)):
            yield replace(mark, text=phone, shared=number > 0)
    if unknown:
        places = ", ".join(f"{text!r} at {start / MICROSECONDS:.3f} s" for text, start in unknown.items())
        known = ", ".join(each.name for each in ALPHABETS)
        raise LabelError(f"{path}: no phone symbol of {alphabet.name}: {places} (known are {known})")


def marks_of(reading: Reading) -> Marks:
    """A reading's words and phones as marks."""
    times = [resampled(cut, reading.sound.sample_rate, MICROSECONDS) for cut in reading.cuts]
    return Marks(
        tuple(Mark(word.text, times[word.first], times[word.stop]) for word in reading.words),
        tuple(
            Mark(phone.symbol, times[k], times[k + 1])
            for k, phone in enumerate(reading.phones)
            if phone.symbol != PAUSE
        ),
    )
