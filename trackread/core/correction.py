"""What people correct in a reading, as data that is appended and never changed: each kind is a value of its own.

A correction names what it changes by what the person saw there (the sample, the sounds, the word's text), so that it
finds its place in a reading made later, too. Times are samples of the recording; phones and words count from 0.
"""

from dataclasses import dataclass
from enum import StrEnum

from trackread.core.passage import Passage
from trackread.core.performance import Reason
from trackread.core.phones import PAUSE, PHONES
from trackread.core.timebase import Sample

DEGREES = ("weak", "half stressed", "strong")  # of stress, as Reading counts them


@dataclass(frozen=True, slots=True)
class WordAt:
    """The word `text` that starts at a sample."""

    sample: Sample
    text: str


@dataclass(frozen=True, slots=True)
class PhoneAt:
    """The phone that starts at a sample, and the text of its word, empty of a pause between words."""

    sample: Sample
    symbol: str
    word: str


@dataclass(frozen=True, slots=True)
class CutAt:
    """The cut at a sample, between the phones `before` and `after`.

    `word` is the text of the word that `after` sounds, or that falls silent here; `phone` counts the sounds of that
    word before the cut, `order` the words of that text before it. Between two pauses there is no word.
    """

    sample: Sample
    before: str
    after: str
    word: str
    phone: int
    order: int


Pin = CutAt  # a cut that reading again must leave where it is


class Side(StrEnum):
    """What the second part of a split phone belongs to: what the first belongs to, what comes next, or nothing."""

    THIS = "this"
    NEXT = "next"
    NEITHER = "neither"


@dataclass(frozen=True, slots=True)
class MoveCut:
    """The cut lies at `to`. A word's edge is a cut, so the phones under it move with it. The cut is pinned."""

    cut: CutAt
    to: Sample


@dataclass(frozen=True, slots=True)
class Relabel:
    """The phone is another sound."""

    phone: PhoneAt
    symbol: str

    def __post_init__(self) -> None:
        check_symbol(self.symbol)


@dataclass(frozen=True, slots=True)
class Respell:
    """The word is written `text`."""

    word: WordAt
    text: str

    def __post_init__(self) -> None:
        if not self.text.strip():
            raise ValueError("a word is written with a letter at least")


@dataclass(frozen=True, slots=True)
class Split:
    """The phone is two: the second, `symbol`, starts at `at`, a cut that is pinned."""

    phone: PhoneAt
    at: Sample
    symbol: str
    word: Side = Side.THIS
    syllable: Side = Side.THIS

    def __post_init__(self) -> None:
        check_symbol(self.symbol)


@dataclass(frozen=True, slots=True)
class Join:
    """The phone and the `following` one are one, the first; what the second belonged to begins after it."""

    phone: PhoneAt
    following: str


@dataclass(frozen=True, slots=True)
class SetStress:
    """The syllable around `nucleus` is weak (0), half stressed (1) or strong (2)."""

    nucleus: PhoneAt
    degree: int

    def __post_init__(self) -> None:
        if self.degree not in range(len(DEGREES)):
            raise ValueError(f"a stress is 0, 1 or 2, not {self.degree}")


@dataclass(frozen=True, slots=True)
class PinCut:
    """The cut is right where it is, and stays."""

    cut: CutAt


@dataclass(frozen=True, slots=True)
class UnpinCut:
    """The cut may move again, when the take is read again; `confidence` is how sure it is, 0 to 1."""

    cut: CutAt
    confidence: float

    def __post_init__(self) -> None:
        check_share(self.confidence)


@dataclass(frozen=True, slots=True)
class Note:
    """What a person wrote at a sample; another note there takes its place, an empty one takes it away."""

    sample: Sample
    text: str


@dataclass(frozen=True, slots=True)
class Right:
    """The word is right as it stands, so nothing of it is in doubt."""

    word: WordAt


@dataclass(frozen=True, slots=True)
class Unsure:
    """The start of the word is in doubt, as Word has it: the opposite of Right."""

    word: WordAt
    doubt: float
    reasons: tuple[Reason, ...]

    def __post_init__(self) -> None:
        check_share(self.doubt)


@dataclass(frozen=True, slots=True)
class Reread:
    """Between two words, None for an end of the take, `passage` is what is said, in the place of `said`."""

    previous: WordAt | None
    following: WordAt | None
    said: str
    passage: Passage


Correction = MoveCut | Relabel | Respell | Split | Join | SetStress | PinCut | UnpinCut | Note | Right | Unsure | Reread


def check_symbol(symbol: str) -> None:
    """Raises ValueError unless a symbol is a phone's."""
    if symbol != PAUSE and symbol not in PHONES:
        raise ValueError(f"{symbol!r} is not a phone: use one of {', '.join(PHONES)} or {PAUSE}")


def check_share(share: float) -> None:
    """Raises ValueError unless a share lies from 0 to 1."""
    if not 0 <= share <= 1:
        raise ValueError(f"a share lies from 0 to 1, not {share}")
