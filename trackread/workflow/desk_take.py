"""A take as the desk shows it, in plain values: its reading as it stands, part by part, and its pitch.

Samples and frames count from the take's first, words, syllables, phones and cuts from 0, `stop` is not included; only
`first_frame` is the production's number. A revision is the number of the reading and of its last correction: `12-3`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from trackread.book.book import Book
from trackread.book.drafts import line_texts
from trackread.book.readings import Spoken, newest_notes
from trackread.book.sessions import session
from trackread.book.takes import take_named
from trackread.core.phones import PAUSE, ipa, respelling
from trackread.core.plain import TRACK_PLACES, reading_to_plain
from trackread.core.plain_correction import words_of
from trackread.core.reading import Reading, Track, Word
from trackread.core.script import ScriptLine
from trackread.core.session import Session, Take
from trackread.core.spelling import sounds_of, syllable_text
from trackread.core.timebase import Sample, frame_at
from trackread.errors import BookError, CorrectionError
from trackread.workflow.cast import cast_of
from trackread.workflow.desk_doubts import WORTH
from trackread.workflow.kits import kits_in
from trackread.workflow.redoing import to_redo
from trackread.workflow.seen_take import SeenTake, seen_take
from trackread.workflow.sheet_said import said_of_take
from trackread.workflow.shot_mouths import Puppet, Seen, kits_of, planned, worn_through
from trackread.workflow.take_readings import digest_of
from trackread.workflow.undoing import to_undo

Plain = dict[str, object]
MOST_FRAMES = 1440  # whose mouths are planned at once: the longest that is done within 0.3 s on a busy machine


@dataclass(frozen=True, slots=True)
class AtDesk:
    """A take with its line as the newest draft has it, and its revision."""

    seen: SeenTake
    line: ScriptLine
    revision: str


def at_desk(book: Book, name: str) -> AtDesk:
    """A take for the desk. Raises BookError if there is none such, or if it has not been read."""
    its = session(book, take_named(book, name).session)
    # Asked before the take, so that a reading made meanwhile is never taken for one that was seen.
    notes = newest_notes(book, its.sound.digest)
    seen = seen_take(book, name)
    take = seen.take
    _, line = line_texts(book, take.line or "")[-1]
    key = spoken(take, its, seen.old_words or line.text)
    if key not in notes:
        raise BookError(f"{take.name} has just been read: look at it again")
    return AtDesk(seen, line, f"{notes[key].id}-{len(seen.notes)}")


def named_at_desk(book: Book, name: str) -> tuple[Take, ScriptLine]:
    """A take and its line, without its reading, which may be long. Raises BookError as `at_desk` does."""
    take = take_named(book, name)
    its = session(book, take.session)
    notes, texts = newest_notes(book, its.sound.digest), line_texts(book, take.line) if take.line else ()
    if not any(spoken(take, its, line.text) in notes for _, line in texts):
        at_desk(book, name)  # which says what is wrong
    return take, texts[-1][1]


def spoken(take: Take, its: Session, text: str) -> Spoken:
    """Which samples a reading is of, and which words."""
    return its.sound.digest, its.channel, take.stretch.start, take.stretch.stop, digest_of(text)


def desk_take(one: AtDesk) -> Plain:
    """All of a take that a correction can change."""
    seen, reading = one.seen, one.seen.reading
    rate = seen.counting.rate.per_second
    undoing, redoing = to_undo(seen), to_redo(seen.notes)
    return {
        **head_of(seen.take, one.line),
        "revision": one.revision,
        "rate": {"num": rate.numerator, "den": rate.denominator, "name": seen.counting.rate.name},
        "first_frame": seen.counting.first,
        "frames": len(seen.frames),
        "sample_rate": reading.sound.sample_rate,
        "samples": reading.sound.length,
        "worth": WORTH,
        "old_words": seen.old_words,
        "lost": [
            {"words": words_of(lost.correction, seen.counting), "reason": lost.reason} for lost in seen.now.astray
        ],
        "undo": undoing.note.words if undoing else "",
        "redo": redoing.words if redoing else "",
        **parts_of(seen),
    }


def head_of(take: Take, line: ScriptLine) -> Plain:
    return {
        "name": take.name,
        "line": line.id,
        "scene": line.scene,
        "character": line.character,
        "text": line.text,
        "circled": take.circled,
        "stand_in": take.stand_in,
    }


def parts_of(seen: SeenTake) -> Plain:
    """The parts of a reading, each pointing at those it is made of; what lies between words as the reading has it."""
    reading = seen.reading
    # Syllables are told otherwise here, and no correction changes the tracks.
    bare = replace(reading, syllables=(), pitch=Track(1, ()), level=Track(1, ()))
    plain = reading_to_plain(bare, seen.counting.rate)
    return {
        "cuts": list(reading.cuts),
        "pins": list(seen.now.pins),
        "words": [plain_word(seen, word) for word in reading.words],
        "syllables": [
            {
                "text": syllable_text(reading, one),
                "first": one.first,
                "stop": one.stop,
                "stress": one.stress,
                "strength": round(one.strength, 3),
                "tone": one.tone.value if one.tone else "",
            }
            for one in reading.syllables
        ],
        "phones": list(plain_phones(reading)),
        "notes": [{"sample": note.sample, "text": note.text} for note in seen.now.notes],
        **{name: plain[name] for name in ("events", "phrases", "departures", "match", "says_line")},
    }


def plain_word(seen: SeenTake, word: Word) -> Plain:
    reading = seen.reading
    return {
        "text": word.text,
        "first": word.first,
        "stop": word.stop,
        "doubt": round(word.doubt, 3),
        "reasons": [reason.value for reason in word.reasons],
        "pinned": reading.start(word) in seen.now.pins,
        "right": not word.doubt,
        "frame": frame_of(seen, reading.start(word)),
        "frame_stop": frame_of(seen, Sample(reading.stop(word) - 1)) + 1,
    }


def frame_of(seen: SeenTake, sample: Sample) -> int:
    return frame_at(sample, seen.counting.sample_rate, seen.counting.rate)


def plain_phones(reading: Reading) -> Iterator[Plain]:
    """The phones, each respelt and in IPA; a pause has neither."""
    for phone, said in zip(reading.phones, sounds_of(reading, as_ipa=True), strict=True):
        yield {
            "symbol": phone.symbol,
            "said": respelling(phone.symbol),
            "ipa": said if phone.symbol != PAUSE else ipa(PAUSE),
            "confidence": round(phone.confidence, 3),
        }


def pitch_of(one: AtDesk) -> Plain:
    """The pitch of a take in hertz, a value each `hop` samples, which no correction changes."""
    pitch = one.seen.first.pitch
    return {"hop": pitch.hop, "hertz": [value and round(value, TRACK_PLACES) for value in pitch.values]}


def mouths_of(book: Book, one: AtDesk, first: int, stop: int) -> Plain:
    """What the character's puppet would wear on these frames if the take were a shot; nothing where it has no kit.

    Even frames are on the beat of twos. Raises CorrectionError for frames that are not the take's or too many, and
    KitError where a kit of the production cannot be used.
    """
    count = len(one.seen.frames)
    if not 0 <= first < stop <= count or stop - first > MOST_FRAMES:
        raise CorrectionError(f"ask for 1 to {MOST_FRAMES} of the frames 0 to {count}, not for {first} to {stop}")
    character = cast_of(book.production).name(one.line.character)
    kits = kits_of(kits_in(book.folder), character)
    if not kits:
        return {"kit": "", "mouths": []}
    kit, rate, frames = kits[0], one.seen.counting.rate, range(first, stop)
    said = said_of_take(one.seen.reading, rate)
    seen = Seen(frames, rate, first % 2)
    plan = planned(Puppet(character, kit.kit, kit.digest), [said], seen, book.production.mouths)
    worn = [{"mouth": w.mouth, "first": first + w.first, "stop": first + w.stop} for w in worn_through(plan, frames)]
    return {"kit": kit.kit.name, "mouths": worn}


def log_since(one: AtDesk, number: int) -> list[Mapping[str, object]]:
    """What has been corrected after the correction of this number: by whom, when, and what."""
    return [
        {"number": note.sequence, "by": note.author, "time": note.time, "words": note.words}
        for note in one.seen.notes[number:]
    ]
