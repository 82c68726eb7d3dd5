"""Scores the reading, or one set of labels, against what people marked on the same recordings.

A folder of recordings has a sound, a TextGrid of the same name and, in a .txt file, the words that are
said; folders within it are sets of their own.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from trackread.core.timebase import FrameRate, parse_rate
from trackread.errors import LabelError, TrackreadError
from trackread.labels.marks import Marks, marks_of, read_marks
from trackread.labels.measures import Measures, measure
from trackread.labels.pairs import Pair, phone_pairs, vowel_pairs, word_pairs
from trackread.reading.sounds import load
from trackread.reading.take import Reader

SOUNDS = (".wav", ".flac", ".aiff", ".aif", ".ogg")
FILM = parse_rate("24")
OVERALL = "overall"


@dataclass(frozen=True, slots=True)
class Labelled:
    """One labelled recording of a set."""

    set_name: str
    labels: Path
    sound: Path
    line: str


@dataclass(frozen=True, slots=True)
class Boundaries:
    """The pairs of one or many recordings, by what starts there."""

    words: tuple[Pair, ...] = ()
    vowels: tuple[Pair, ...] = ()
    phones: tuple[Pair, ...] = ()

    def __add__(self, other: "Boundaries") -> "Boundaries":
        return Boundaries(self.words + other.words, self.vowels + other.vowels, self.phones + other.phones)


@dataclass(frozen=True, slots=True)
class Row:
    """The figures of one set (or OVERALL) for the starts of words, of vowels or of all phones."""

    set_name: str
    boundary: str
    figures: Measures


@dataclass(frozen=True, slots=True)
class Score:
    """All rows; `refused` names the recordings that could not be read, `fitted` the sets the trees were fitted on."""

    rows: tuple[Row, ...]
    refused: tuple[str, ...]
    fitted: tuple[str, ...]


def score_reading(folder: Path, reader: Reader, progress: Callable[[float], None] | None = None) -> Score:
    """The reading of every recording below `folder` against its labels."""

    def estimated(recording: Labelled) -> Marks:
        return marks_of(reader.read(load(recording.sound), recording.line))

    return scored(labelled_in(folder), estimated, fitted=reader.trees.facts.get("sets", []), progress=progress)


def score_labels(folder: Path, other: Path) -> Score:
    """The labels below `other` against those of the same names below `folder`."""

    def estimated(recording: Labelled) -> Marks:
        return read_marks(other / recording.labels.relative_to(folder))

    return scored(labelled_in(folder), estimated)


def scored(
    recordings: Sequence[Labelled],
    estimated: Callable[[Labelled], Marks],
    *,
    fitted: Iterable[str] = (),
    progress: Callable[[float], None] | None = None,
) -> Score:
    """Every recording estimated and measured, by set and overall; one that fails is listed, not hidden."""
    sets: dict[str, Boundaries] = {}
    refused: list[str] = []
    for number, recording in enumerate(recordings, 1):
        try:
            pairs = boundaries(read_marks(recording.labels), estimated(recording))
        except TrackreadError as error:
            refused.append(f"{recording.sound}: {error}")
        else:
            sets[recording.set_name] = sets.get(recording.set_name, Boundaries()) + pairs
        if progress:
            progress(number / len(recordings))
    if len(sets) > 1:
        sets[OVERALL] = sum(sets.values(), Boundaries())
    rows = [row for name, pairs in sets.items() for row in rows_of(name, pairs, FILM)]
    return Score(tuple(rows), tuple(refused), tuple(fitted))


def boundaries(reference: Marks, estimated: Marks) -> Boundaries:
    phones = phone_pairs(reference.phones, estimated.phones)
    return Boundaries(tuple(word_pairs(reference.words, estimated.words)), tuple(vowel_pairs(phones)), tuple(phones))


def rows_of(set_name: str, pairs: Boundaries, rate: FrameRate) -> list[Row]:
    kinds = {"words": pairs.words, "vowels": pairs.vowels, "phones": pairs.phones}
    measured = {name: measure(each, rate) for name, each in kinds.items()}
    return [Row(set_name, name, figures) for name, figures in measured.items() if figures]


def labelled_in(folder: Path) -> list[Labelled]:
    """Every labelled recording below a folder, by name. Raises LabelError if there is none."""
    if not folder.is_dir():
        raise LabelError(f"{folder}: no such folder")
    found = []
    for labels in sorted(folder.rglob("*.TextGrid")):
        sound = next((labels.with_suffix(s) for s in SOUNDS if labels.with_suffix(s).exists()), None)
        if sound:
            name = labels.parent.relative_to(folder).as_posix()
            found.append(Labelled(folder.name if name == "." else name, labels, sound, line_of(labels)))
    if not found:
        raise LabelError(f"{folder}: holds no TextGrid with a sound file of the same name beside it")
    return found


def line_of(labels: Path) -> str:
    """The words of a recording: its .txt, or else the words of its labels."""
    text = labels.with_suffix(".txt")
    if text.exists():
        return text.read_text(encoding="utf-8-sig")
    return " ".join(word.text for word in read_marks(labels).words)
