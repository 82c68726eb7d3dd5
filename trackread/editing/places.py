"""The words, phones and cuts of a reading as a person sees them, and found again by what was seen.

The part with the same symbols and text that lies nearest is the one: exactly there in the reading that was seen, near
there in one made later of the same sound. Numbers of words, phones and cuts count from 0.
"""

from collections.abc import Iterable

from trackread.core.correction import CutAt, PhoneAt, WordAt
from trackread.core.passage import Place
from trackread.core.phones import PAUSE
from trackread.core.plain_correction import cut_in_words, phone_in_words
from trackread.core.reading import Reading
from trackread.core.timebase import Sample, resampled
from trackread.errors import CorrectionError

REACH = 1  # seconds: no engine moves a word so far, and a word that is said twice is seldom said again so soon


def word_at(reading: Reading, number: int) -> WordAt:
    """A word as it is seen."""
    word = reading.words[number]
    return WordAt(reading.start(word), word.text)


def phone_at(reading: Reading, number: int) -> PhoneAt:
    """A phone as it is seen."""
    return PhoneAt(reading.cuts[number], reading.phones[number].symbol, text_of(reading, owners(reading)[number]))


def nucleus_of(reading: Reading, syllable: int) -> PhoneAt:
    """The vowel of a syllable as it is seen."""
    return phone_at(reading, reading.syllables[syllable].nucleus)


def cut_at(reading: Reading, number: int) -> CutAt:
    """A cut between two phones as it is seen; the first and last cut of a reading are the sound's ends, and none."""
    before, after = (phone.symbol for phone in reading.phones[number - 1 : number + 1])
    owner = owner_of_cut(reading, number)
    phone = order = 0
    if owner is not None:
        word = reading.words[owner]
        phone = sum(one.symbol != PAUSE for one in reading.phones[word.first : number])
        order = sum(one.text == word.text for one in reading.words[:owner])
    return CutAt(reading.cuts[number], before, after, text_of(reading, owner), phone=phone, order=order)


def find_word(reading: Reading, seen: WordAt) -> int:
    """The number of a word that was seen. Raises CorrectionError if there is none like it near there."""
    alike = [k for k, word in enumerate(reading.words) if word.text == seen.text]
    found = nearest(reading, {k: reading.start(reading.words[k]) for k in alike}, (seen.sample,))
    if found is None:
        raise not_there(reading, f"'{seen.text}'", seen.sample)
    return found


def find_phone(reading: Reading, seen: PhoneAt) -> int:
    """The number of a phone that was seen. Raises CorrectionError if there is none like it near there."""
    alike = [
        k
        for k, (phone, owner) in enumerate(zip(reading.phones, owners(reading), strict=True))
        if (phone.symbol, text_of(reading, owner)) == (seen.symbol, seen.word)
    ]
    found = nearest(reading, {k: reading.cuts[k] for k in alike}, (seen.sample,))
    if found is None:
        raise not_there(reading, phone_in_words(seen), seen.sample)
    return found


def find_cut(reading: Reading, seen: CutAt, *moved_to: Sample) -> int:
    """The number of a cut that was seen, or that lies already where it was moved to.

    The start of a sound is the same cut whether there is a pause before it or not. Raises CorrectionError if there is
    none like it near there.
    """
    alike = [
        k
        for k in range(1, len(reading.phones))
        if reading.phones[k].symbol == seen.after
        and (seen.after != PAUSE or reading.phones[k - 1].symbol == seen.before)
        and text_of(reading, owner_of_cut(reading, k)) == seen.word
    ]
    found = nearest(reading, {k: reading.cuts[k] for k in alike}, (seen.sample, *moved_to))
    if found is None:
        raise not_there(reading, cut_in_words(seen), seen.sample)
    return found


def find_place(reading: Reading, previous: WordAt | None, following: WordAt | None) -> Place:
    """The stretch between two words that were seen, None for an end of the take. Raises CorrectionError as above."""
    first = find_word(reading, previous) + 1 if previous else 0
    stop = find_word(reading, following) if following else len(reading.words)
    if first > stop:
        raise CorrectionError(
            f"'{previous and previous.text}' is not said before '{following and following.text}' here"
        )
    return Place(reading, first, stop)


def place_seen(place: Place) -> tuple[WordAt | None, WordAt | None]:
    """The words around a stretch as they are seen, None for an end of the take."""
    reading = place.reading
    previous = word_at(reading, place.first - 1) if place.first else None
    return previous, word_at(reading, place.stop) if place.stop < len(reading.words) else None


def nearest(reading: Reading, times: dict[int, Sample], wanted: Iterable[Sample]) -> int | None:
    """Which time lies nearest to one of those wanted, one on the first of them before all; None if none is near."""
    first, *_ = wanted = tuple(wanted)
    far = {k: min(abs(time - one) for one in wanted) for k, time in times.items()}
    found = min(far, key=lambda k: (times[k] != first, far[k]), default=None)
    return found if found is not None and far[found] <= REACH * reading.sound.sample_rate else None


def owners(reading: Reading) -> list[int | None]:
    """The number of the word that each phone belongs to."""
    found: list[int | None] = [None] * len(reading.phones)
    for number, word in enumerate(reading.words):
        found[word.first : word.stop] = [number] * (word.stop - word.first)
    return found


def owner_of_cut(reading: Reading, number: int) -> int | None:
    """The word that sounds from a cut on, else that falls silent there."""
    owner = owners(reading)
    return owner[number - 1] if reading.phones[number].symbol == PAUSE else owner[number]


def text_of(reading: Reading, owner: int | None) -> str:
    """What a word says, nothing where there is none."""
    return "" if owner is None else reading.words[owner].text


def not_there(reading: Reading, what: str, sample: Sample) -> CorrectionError:
    """The error that a part is not where it was seen; it says which word is."""
    around = min(
        (word for word in reading.words),
        key=lambda word: max(reading.start(word) - sample, sample - reading.stop(word), 0),
        default=None,
    )
    there = f"the nearest word is '{around.text}'" if around else "no word is heard in this take"
    return CorrectionError(f"{what} is not near {seconds(reading, sample)}: {there}")


def seconds(reading: Reading, sample: int) -> str:
    """A sample as a person reads it, to a thousandth of a second."""
    thousandths = resampled(sample, reading.sound.sample_rate, 1000)
    return f"{thousandths // 1000}.{thousandths % 1000:03} s"
