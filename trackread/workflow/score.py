"""Scores the reading, or one set of labels, against what people marked on the same recordings.

A folder of recordings has a sound, a TextGrid of the same name and, in a .txt file, the words that are
said; folders within it are sets of their own.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from trackread.core.timebase import FrameRate, parse_rate
from trackread.errors import LabelError, LineError, SoundError, TrackreadError
from trackread.labels.marks import Marks, marks_of, read_marks
from trackread.labels.measures import LIMITS_MS, Measures, measure
from trackread.labels.pairs import Pair, phone_pairs, vowel_pairs, word_pairs
from trackread.reading.sounds import load
from trackread.reading.take import Reader

SOUNDS = (".wav", ".flac", ".aiff", ".aif", ".ogg")
FILM = parse_rate("24")
OVERALL = "overall"


@dataclass(frozen=True, slots=True)
class Labelled:
    """One labelled recording of a set; its sound and text lie beside its labels."""

    set_name: str
    labels: Path

    @property
    def name(self) -> str:
        return f"{self.set_name}/{self.labels.stem}"

    @property
    def sound(self) -> Path:
        """The file of the same name that is a sound. Raises SoundError if there is none."""
        for path in sorted(self.labels.parent.iterdir()):
            if path.stem == self.labels.stem and path.suffix.lower() in SOUNDS:
                return path
        raise SoundError(f"{self.labels}: no sound of this name lies beside it ({', '.join(SOUNDS)})")

    @property
    def line(self) -> str:
        """The words of the .txt beside it, or else of the labels. Raises LineError if that is no text."""
        text = self.labels.with_suffix(".txt")
        if not text.exists():
            return " ".join(word.text for word in read_marks(self.labels).words)
        try:
            return text.read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError) as error:
            raise LineError(f"{text}: cannot be read as UTF-8 text ({error})") from error


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
    """All rows; `refused` names the recordings that gave none and why, `fitted` the sets the trees were fitted on.

    `limits_ms` are the limits of each row's shares `within`.
    """

    rows: tuple[Row, ...]
    refused: tuple[str, ...]
    fitted: tuple[str, ...]
    limits_ms: tuple[int, ...] = LIMITS_MS


def score_reading(folder: Path, reader: Reader, progress: Callable[[float], None] | None = None) -> Score:
    """The reading of every recording below `folder` against its labels. Raises LabelError if there are none."""

    def estimated(recording: Labelled) -> Marks:
        return marks_of(reader.read(load(recording.sound), recording.line))

    return scored(labelled_in(folder), estimated, fitted=reader.trees.facts.get("sets", []), progress=progress)


def score_labels(folder: Path, other: Path) -> Score:
    """The labels below `other` against those of the same names below `folder`; no sound is needed.

    Raises LabelError if either folder has none.
    """
    there = {recording.labels.relative_to(other): recording.labels for recording in labelled_in(other)}

    def estimated(recording: Labelled) -> Marks:
        name = recording.labels.relative_to(folder)
        if name not in there:
            raise LabelError(f"{other}: has no {name}")
        return read_marks(there[name])

    return scored(labelled_in(folder), estimated)


def scored(
    recordings: Sequence[Labelled],
    estimated: Callable[[Labelled], Marks],
    *,
    fitted: Iterable[str] = (),
    progress: Callable[[float], None] | None = None,
) -> Score:
    """Every recording estimated and measured, by set and overall; one that fails is listed, not hidden.

    Raises LabelError if all of them fail.
    """
    sets: dict[str, Boundaries] = {}
    refused: list[str] = []
    for number, recording in enumerate(recordings, 1):
        try:
            pairs = boundaries(read_marks(recording.labels), estimated(recording))
        except TrackreadError as error:
            refused.append(f"{recording.name}: {error}")
        else:
            sets[recording.set_name] = sets.get(recording.set_name, Boundaries()) + pairs
        if progress:
            progress(number / len(recordings))
    if not sets:
        raise LabelError("nothing could be scored:\n" + "\n".join(refused))
    rows = [row for name, pairs in sets.items() for row in rows_of(name, pairs, FILM)]
    if len(sets) > 1:
        rows += rows_of(OVERALL, sum(sets.values(), Boundaries()), FILM)
    return Score(tuple(rows), tuple(refused), tuple(fitted))


def boundaries(reference: Marks, estimated: Marks) -> Boundaries:
    """What starts in both. Raises LabelError if that is nothing."""
    words = word_pairs(reference.words, estimated.words)
    phones = phone_pairs(reference.phones, estimated.phones)
    if not words and not phones:
        raise LabelError("no word or phone of its labels is found again")
    return Boundaries(tuple(words), tuple(vowel_pairs(phones)), tuple(phones))


def rows_of(set_name: str, pairs: Boundaries, rate: FrameRate) -> list[Row]:
    kinds = {"words": pairs.words, "vowels": pairs.vowels, "phones": pairs.phones}
    measured = {name: measure(each, rate) for name, each in kinds.items()}
    return [Row(set_name, name, figures) for name, figures in measured.items() if figures]


def labelled_in(folder: Path) -> list[Labelled]:
    """Every labelled recording below a folder, by name. Raises LabelError if there is none."""
    if not folder.is_dir():
        raise LabelError(f"{folder}: no such folder")
    found = sorted(path for path in folder.rglob("*") if path.suffix.lower() == ".textgrid")
    if not found:
        raise LabelError(
            f"{folder}: holds no TextGrid: give a folder of sounds with a TextGrid of the same name beside each"
        )
    names = [path.parent.relative_to(folder).as_posix() for path in found]
    return [
        Labelled(folder.resolve().name if name == "." else name, path) for name, path in zip(names, found, strict=True)
    ]
