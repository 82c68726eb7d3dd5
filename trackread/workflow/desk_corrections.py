"""Corrections as the desk asks for them: parts are named by their places in the revision that the editor sees.

They count from 0; cut k is the one before phone k. Times are samples of the take.
"""

from collections.abc import Callable, Mapping

from trackread.book.book import Book
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
    Respell,
    Right,
    SetStress,
    Side,
    Split,
    WordAt,
    check_symbol,
)
from trackread.core.plain_correction import words_of
from trackread.core.timebase import Sample
from trackread.editing.places import cut_at, nucleus_of, phone_at, word_at
from trackread.editing.replay import corrected
from trackread.errors import ClashError, CorrectionError
from trackread.workflow.correcting import correct, let_move
from trackread.workflow.desk_take import AtDesk, at_desk
from trackread.workflow.hearing_again import Hear, again_between
from trackread.workflow.redoing import redo
from trackread.workflow.seen_take import SeenTake
from trackread.workflow.typed import in_letters, typed
from trackread.workflow.undoing import undo

Asked = Mapping[str, object]
Maker = Callable[[SeenTake, Asked], Correction]
SIDES = {side.value: side for side in Side}


def correct_at_desk(book: Book, name: str, asked: Asked, author: str, revision: str) -> AtDesk:
    """Adds the correction that is asked for on a revision, and gives the take as it stands then.

    Raises CorrectionError if the reading cannot take it, ClashError if the take is another by now, BookError for none.
    """
    seen = checked(at_desk(book, name), revision)
    correct(book, name, lambda take: correction_asked(take, asked), author, seen=seen)
    return at_desk(book, name)


def again_at_desk(book: Book, name: str, asked: Asked, author: str, revision: str, *, hear: Hear) -> AtDesk:
    """Hears the words from `first` to `last` again as `text`; raises as `correct_at_desk` does."""
    seen = checked(at_desk(book, name), revision)

    def made(take: SeenTake) -> Correction:
        first, last = (place(asked, one, len(take.reading.words)) for one in ("first", "last"))
        return again_between(book, take, (first, last + 1), text(asked, "text"), hear)

    correct(book, name, made, author, seen=seen)
    return at_desk(book, name)


def undo_at_desk(book: Book, name: str, author: str, revision: str) -> AtDesk:
    """Undoes the last correction of a revision; raises as `correct_at_desk` does."""
    undo(book, name, author, seen=checked(at_desk(book, name), revision))
    return at_desk(book, name)


def redo_at_desk(book: Book, name: str, author: str, revision: str) -> AtDesk:
    """Makes again what was undone last; raises as `correct_at_desk` does."""
    redo(book, name, author, seen=checked(at_desk(book, name), revision))
    return at_desk(book, name)


def checked(one: AtDesk, revision: str) -> int:
    """The number of the last correction of a revision. Raises ClashError if it is not the newest."""
    reading, seen = parsed(revision)
    if reading != parsed(one.revision)[0]:
        raise ClashError(f"{one.seen.take.name} has been read again since it was looked at: look at it again")
    if revision != one.revision:
        later = "; ".join(f"{note.author} at {note.time}: {note.words}" for note in one.seen.notes[seen:])
        raise ClashError(f"{one.seen.take.name} has been changed since it was looked at: {later or 'look at it again'}")
    return seen


def parsed(revision: str) -> tuple[str, int]:
    """The parts of a revision; what is none is older than all."""
    reading, _, seen = revision.partition("-")
    return (reading, int(seen)) if seen.isascii() and seen.isdigit() and len(seen) < 10 else ("", 0)


def asked_in_words(one: AtDesk, asked: Asked, revision: str) -> str:
    """What was asked for on an older revision of the same reading, in words; what it asks for otherwise."""
    reading, seen = parsed(revision)
    take = one.seen
    if "kind" not in asked and "last" in asked:
        return f"'{asked.get('text')}' is said there"
    if reading == parsed(one.revision)[0]:
        then = SeenTake(
            take.take, take.first, corrected(take.first, take.made[:seen]), take.notes[:seen], take.counting
        )
        try:
            return words_of(correction_asked(then, asked), take.counting)
        except CorrectionError as error:
            return str(error)
    return str(asked.get("kind", "a correction"))


def correction_asked(take: SeenTake, asked: Asked) -> Correction:
    """The correction that is asked for. Raises CorrectionError, in plain words, if that is none."""
    kind = asked.get("kind")
    if not isinstance(kind, str) or kind not in MAKERS:
        raise CorrectionError(f"{kind!r} is no kind of correction: use one of {', '.join(MAKERS)}")
    return MAKERS[kind](take, asked)


def a_move(take: SeenTake, asked: Asked) -> Correction:
    return MoveCut(cut(take, asked), Sample(whole(asked, "to")))


def a_respelling(take: SeenTake, asked: Asked) -> Correction:
    return Respell(word(take, asked), typed(text(asked, "text"), "the new spelling"))


def a_label(take: SeenTake, asked: Asked) -> Correction:
    return Relabel(phone(take, asked), symbol(asked))


def a_split(take: SeenTake, asked: Asked) -> Correction:
    """The second part is the same sound, in the same word and syllable, unless something else is said."""
    first = phone(take, asked)
    sides = [side(asked, name) for name in ("word", "syllable")]
    second = symbol(asked) if "symbol" in asked else first.symbol
    return Split(first, Sample(whole(asked, "at")), second, *sides)


def a_join(take: SeenTake, asked: Asked) -> Correction:
    first, phones = phone(take, asked), take.reading.phones
    following = whole(asked, "phone") + 1
    if following == len(phones):
        raise CorrectionError("nothing comes after the last sound of a take: join the one before with it")
    return Join(first, phones[following].symbol)


def a_stress(take: SeenTake, asked: Asked) -> Correction:
    syllable, degree = place(asked, "syllable", len(take.reading.syllables)), place(asked, "degree", len(DEGREES))
    return SetStress(nucleus_of(take.reading, syllable), degree)


def a_pin(take: SeenTake, asked: Asked) -> Correction:
    return PinCut(cut(take, asked))


def an_unpin(take: SeenTake, asked: Asked) -> Correction:
    return let_move(take, cut(take, asked))


def a_right(take: SeenTake, asked: Asked) -> Correction:
    return Right(word(take, asked))


def a_note(_take: SeenTake, asked: Asked) -> Correction:
    return Note(Sample(whole(asked, "sample")), in_letters(" ".join(text(asked, "text").split()), "the note"))


MAKERS: dict[str, Maker] = {
    "move": a_move,
    "relabel": a_label,
    "respell": a_respelling,
    "split": a_split,
    "join": a_join,
    "stress": a_stress,
    "pin": a_pin,
    "unpin": an_unpin,
    "right": a_right,
    "note": a_note,
}


def cut(take: SeenTake, asked: Asked) -> CutAt:
    number = place(asked, "cut", len(take.reading.phones))
    if number == 0:
        raise CorrectionError("the first sound starts with the take itself, and that stays where it is")
    return cut_at(take.reading, number)


def phone(take: SeenTake, asked: Asked) -> PhoneAt:
    return phone_at(take.reading, place(asked, "phone", len(take.reading.phones)))


def word(take: SeenTake, asked: Asked) -> WordAt:
    return word_at(take.reading, place(asked, "word", len(take.reading.words)))


def symbol(asked: Asked) -> str:
    found = text(asked, "symbol").strip().upper()
    try:
        check_symbol(found)
    except ValueError as error:
        raise CorrectionError(str(error)) from error
    return found


def side(asked: Asked, name: str) -> Side:
    found = asked.get(name, Side.THIS.value)
    if found not in SIDES:
        raise CorrectionError(f"{name} is {found!r}: say one of {', '.join(SIDES)}")
    return Side(found)


def place(asked: Asked, name: str, count: int) -> int:
    """The place of a part, of which there are so many."""
    found = whole(asked, name)
    if not 0 <= found < count:
        right = f"they run from 0 to {count - 1}" if count else "the take has none"
        raise CorrectionError(f"there is no {name} {found}: {right}")
    return found


def whole(asked: Asked, name: str) -> int:
    found = asked.get(name)
    if not isinstance(found, int) or isinstance(found, bool):
        raise CorrectionError(f"{name} is {found!r}: say a whole number")
    return found


def text(asked: Asked, name: str) -> str:
    found = asked.get(name)
    if not isinstance(found, str):
        raise CorrectionError(f"{name} is {found!r}: say a text")
    return found
