"""Corrections in plain words, and as plain lists and dicts, as JSON holds them, and back.

Times are samples; in words they are frames. Words are written for people and other programs and not read back.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import assert_never

from trackread.core.correction import (
    DEGREES,
    Correction,
    CutAt,
    Join,
    MoveCut,
    Note,
    PhoneAt,
    PinCut,
    Relabel,
    Reread,
    Respell,
    Right,
    SetStress,
    Side,
    Split,
    UnpinCut,
    Unsure,
    WordAt,
)
from trackread.core.performance import Reason
from trackread.core.phones import PAUSE, respelling
from trackread.core.plain_passage import passage_from_plain, passage_to_plain
from trackread.core.plain_values import group, share, text, texts, whole
from trackread.core.timebase import FrameRate, Sample, frame_at
from trackread.errors import CorrectionError

KINDS: dict[str, type[Correction]] = {
    "move": MoveCut,
    "relabel": Relabel,
    "respell": Respell,
    "split": Split,
    "join": Join,
    "stress": SetStress,
    "pin": PinCut,
    "unpin": UnpinCut,
    "note": Note,
    "right": Right,
    "unsure": Unsure,
    "again": Reread,
}


@dataclass(frozen=True, slots=True)
class Counting:
    """How samples are told to people: as frames at `rate`, of which the recording's first is `first`."""

    sample_rate: int
    rate: FrameRate
    first: int = 0

    def frame(self, sample: Sample) -> int:
        """The number of the frame on screen while `sample` is heard."""
        return self.first + frame_at(sample, self.sample_rate, self.rate)


PlainCorrection = dict[str, object]


def correction_to_plain(correction: Correction, counting: Counting) -> PlainCorrection:
    """A correction as plain values, as JSON holds it, with what it says in `words`, which are not read back."""
    kind = next(name for name, one in KINDS.items() if isinstance(correction, one))
    plain = {name: list(value) if isinstance(value, tuple) else value for name, value in asdict(correction).items()}
    if isinstance(correction, Reread):
        plain["passage"] = passage_to_plain(correction.passage)
    return {"kind": kind, **plain, "words": words_of(correction, counting)}


def correction_from_plain(plain: Mapping[str, object]) -> Correction:
    """The correction that `correction_to_plain` wrote. Raises CorrectionError if it is none."""
    try:
        return _built(plain)
    except KeyError as error:
        raise CorrectionError(f"not a correction: {error} is missing") from error
    except (TypeError, ValueError) as error:
        raise CorrectionError(f"not a correction: {error}") from error


def words_of(correction: Correction, counting: Counting) -> str:
    """What a correction does, as one person tells another."""
    frame = counting.frame
    match correction:
        case MoveCut(cut, to):
            return f"{cut_in_words(cut)} moved from frame {frame(cut.sample)} to {frame(to)}"
        case Relabel(phone, symbol):
            return f"{phone_in_words(phone)} on frame {frame(phone.sample)} is {sound(symbol)}"
        case Respell(word, text):
            return f"'{word.text}' on frame {frame(word.sample)} is written '{text}'"
        case Split(phone, at, symbol):
            return f"{phone_in_words(phone)} split on frame {frame(at)}: {sound(symbol)} starts there"
        case Join(phone, following):
            return f"{phone_in_words(phone)} on frame {frame(phone.sample)} lasts over {sound(following)} after it"
        case SetStress(nucleus, degree):
            return f"the syllable of {phone_in_words(nucleus)} on frame {frame(nucleus.sample)} is {DEGREES[degree]}"
        case PinCut(cut):
            return f"{cut_in_words(cut)} is right on frame {frame(cut.sample)} and stays there"
        case UnpinCut(cut, _):
            return f"{cut_in_words(cut)} on frame {frame(cut.sample)} may move again"
        case Note(sample, text):
            return f"note on frame {frame(sample)}: {text}" if text else f"the note on frame {frame(sample)} is gone"
        case Right(word):
            return f"'{word.text}' on frame {frame(word.sample)} is right"
        case Unsure(word, _, _):
            return f"'{word.text}' on frame {frame(word.sample)} is in doubt"
        case Reread(_, _, said, passage):
            where = f"frames {frame(passage.cuts[0])} to {frame(Sample(passage.cuts[-1] - 1))}"
            heard = f"'{passage.text}'" if passage.words else "nothing"
            return f"{heard} is said on {where}" + (f", not '{said}'" if said else ", where no word was heard")
        case _:
            assert_never(correction)


def cut_in_words(cut: CutAt) -> str:
    """What a cut is called: the start or end of a word, else the two sounds that it parts."""
    if not cut.word:
        return "the cut between two pauses"
    if cut.after == PAUSE:
        return f"the end of '{cut.word}'"
    if cut.phone == 0:
        return f"the start of '{cut.word}'"
    return f"the cut between {sound(cut.before)} and {sound(cut.after)} of '{cut.word}'"


def phone_in_words(phone: PhoneAt) -> str:
    """What a phone is called."""
    return f"{sound(phone.symbol)} of '{phone.word}'" if phone.word else sound(phone.symbol)


def sound(symbol: str) -> str:
    """A phone as a reader without phonetics says it."""
    return "the pause" if symbol == PAUSE else f"the sound '{respelling(symbol)}'"


def _built(plain: Mapping[str, object]) -> Correction:
    match text(plain, "kind"):
        case "move":
            return MoveCut(_cut(plain), _sample(plain, "to"))
        case "relabel":
            return Relabel(_phone(plain, "phone"), text(plain, "symbol"))
        case "respell":
            return Respell(_word(plain), text(plain, "text"))
        case "split":
            sides = [Side(text(plain, name)) for name in ("word", "syllable")]
            return Split(_phone(plain, "phone"), _sample(plain, "at"), text(plain, "symbol"), *sides)
        case "join":
            return Join(_phone(plain, "phone"), text(plain, "following"))
        case "stress":
            return SetStress(_phone(plain, "nucleus"), whole(plain, "degree"))
        case "pin":
            return PinCut(_cut(plain))
        case "unpin":
            return UnpinCut(_cut(plain), share(plain, "confidence"))
        case "note":
            return Note(_sample(plain, "sample"), text(plain, "text"))
        case "right":
            return Right(_word(plain))
        case "unsure":
            return Unsure(_word(plain), share(plain, "doubt"), _reasons(plain))
        case "again":
            around = [_word(plain, name) if plain[name] is not None else None for name in ("previous", "following")]
            passage = passage_from_plain(group(plain, "passage"))
            return Reread(around[0], around[1], text(plain, "said"), passage)
        case kind:
            raise ValueError(f"{kind!r} is no kind of correction: use one of {', '.join(KINDS)}")


def _cut(plain: Mapping[str, object]) -> CutAt:
    cut = group(plain, "cut")
    symbols = (text(cut, "before"), text(cut, "after"), text(cut, "word"))
    return CutAt(_sample(cut, "sample"), *symbols, phone=whole(cut, "phone"), order=whole(cut, "order"))


def _phone(plain: Mapping[str, object], name: str) -> PhoneAt:
    phone = group(plain, name)
    return PhoneAt(_sample(phone, "sample"), text(phone, "symbol"), text(phone, "word"))


def _word(plain: Mapping[str, object], name: str = "word") -> WordAt:
    word = group(plain, name)
    return WordAt(_sample(word, "sample"), text(word, "text"))


def _sample(plain: Mapping[str, object], name: str) -> Sample:
    return Sample(whole(plain, name))


def _reasons(plain: Mapping[str, object]) -> tuple[Reason, ...]:
    return tuple(map(Reason, texts(plain, "reasons")))
