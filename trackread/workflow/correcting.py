"""Corrections of a take as a person types them: made of what the reading shows, tried on it, and then kept.

What the reading cannot take is refused, with nothing written; so is what would change nothing.
"""

from collections.abc import Callable

from trackread.book.book import Book
from trackread.book.corrections import append_correction
from trackread.core.correction import (
    Correction,
    CutAt,
    MoveCut,
    Note,
    PinCut,
    Relabel,
    Respell,
    Right,
    SetStress,
    UnpinCut,
    check_symbol,
)
from trackread.core.phones import PAUSE
from trackread.core.plain_correction import correction_to_plain, words_of
from trackread.core.spelling import is_in
from trackread.core.timebase import Sample
from trackread.editing.applying import applied
from trackread.editing.places import cut_at, find_cut, nucleus_of, phone_at, word_at
from trackread.errors import CorrectionError
from trackread.workflow.seen_take import SeenTake, seen_take
from trackread.workflow.typed import in_letters, typed

Make = Callable[[SeenTake], Correction]  # a correction, made of what the take shows
STRESSES = {"weak": 0, "half": 1, "strong": 2}


def correct(book: Book, name: str, make: Make, author: str, *, seen: int | None = None) -> str:
    """Adds a correction to a take, and says it in words; `seen` is the last one that whoever makes it had seen.

    Raises CorrectionError if the reading cannot take it, ClashError if others were added since, BookError for no take.
    """
    take = seen_take(book, name)
    correction = make(take)
    if applied(take.now, correction) == take.now:
        raise CorrectionError(f"nothing would change: in {take.take.name} that is so already")
    after = len(take.notes) if seen is None else seen
    number = append_correction(book, name, dict(correction_to_plain(correction, take.counting)), author, after=after)
    return f"{take.take.name}, correction {number}: {words_of(correction, take.counting)}"


def move(word: str, frame: int) -> Make:
    """The word starts with a frame."""

    def make(take: SeenTake) -> Correction:
        number, to = start_of(take, word), take.sample(frame)
        frames = room_of(take, number)
        if frame not in frames:
            right = f"it can start with frames {frames[0]} to {frames[-1]}" if frames else "no frame starts near it"
            raise CorrectionError(f"{word!r} cannot start with frame {frame}, for the sounds beside it: {right}")
        return MoveCut(cut_at(take.reading, number), to)

    return make


def respell(word: str, text: str) -> Make:
    """The word is written otherwise."""
    return lambda take: Respell(word_at(take.reading, take.word_number(word)), typed(text, "the new spelling"))


def sound(word: str, number: int, symbol: str) -> Make:
    """One of the word's sounds is another."""

    def make(take: SeenTake) -> Correction:
        places = sounds_in(take, word)
        if not 1 <= number <= len(places):
            raise CorrectionError(f"{word!r} has no sound {number}: it has sounds 1 to {len(places)}")
        try:
            check_symbol(symbol.upper())
        except ValueError as error:
            raise CorrectionError(str(error)) from error
        return Relabel(phone_at(take.reading, places[number - 1]), symbol.upper())

    return make


def stress(word: str, syllable: int, degree: str) -> Make:
    """One of the word's syllables is weak, half stressed or strong."""

    def make(take: SeenTake) -> Correction:
        its = [k for k, one in enumerate(take.reading.syllables) if is_in(one, take.word(word))]
        if not 1 <= syllable <= len(its):
            right = f"it has syllables 1 to {len(its)}" if its else "it has none"
            raise CorrectionError(f"{word!r} has no syllable {syllable}: {right}")
        return SetStress(nucleus_of(take.reading, its[syllable - 1]), STRESSES[degree])

    return make


def pin(word: str) -> Make:
    """The start of the word is right, and stays where it is when the take is read again."""
    return lambda take: PinCut(cut_at(take.reading, start_of(take, word)))


def unpin(word: str) -> Make:
    """The start of the word may move again."""
    return lambda take: let_move(take, cut_at(take.reading, start_of(take, word)))


def let_move(take: SeenTake, cut: CutAt) -> UnpinCut:
    """Lets a cut move again: it is as sure then as the engine was of it."""
    try:
        confidence = take.first.phones[find_cut(take.first, cut)].confidence
    except CorrectionError:
        confidence = 0.0  # the engine heard no such sound, so nothing speaks for its place
    return UnpinCut(cut, confidence)


def right(word: str) -> Make:
    """The word is right as it stands."""
    return lambda take: Right(word_at(take.reading, take.word_number(word)))


def note(frame: int, text: str) -> Make:
    """What is written beside a frame; an empty text takes it away."""
    return lambda take: Note(take.sample(frame), in_letters(" ".join(text.split()), "the note"))


def start_of(take: SeenTake, word: str) -> int:
    """The cut at which a word starts. Raises CorrectionError where that is the start of the take."""
    cut = take.word(word).first
    if cut == 0:
        raise CorrectionError(f"{word!r} starts with the take itself, and that stays where it is")
    return cut


def room_of(take: SeenTake, cut: int) -> range:
    """The frames that start between the cut before this one and the next, so that a sample at least is left beside."""
    before, after = take.reading.cuts[cut - 1], take.reading.cuts[cut + 1]
    return range(take.counting.frame(before) + 1, take.counting.frame(Sample(after - 1)) + 1)


def sounds_in(take: SeenTake, word: str) -> list[int]:
    """The phones that sound a word, without pauses in it."""
    its = take.word(word)
    return [k for k in range(its.first, its.stop) if take.reading.phones[k].symbol != PAUSE]
