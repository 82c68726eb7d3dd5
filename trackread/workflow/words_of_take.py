"""The words and events of a reading as rows of a table: what the sheet says, for a screen."""

from dataclasses import dataclass

from trackread.core.reading import Reading, Source, Stress, Word
from trackread.core.spelling import is_in, sounds_of
from trackread.core.timebase import Sample, frame_at
from trackread.workflow.sheet_of_take import Terms
from trackread.workflow.sheet_voice import remark

DEGREES: dict[Stress | None, str] = {2: "strong", 1: "half", 0: "weak", None: ""}


@dataclass(frozen=True, slots=True)
class WordRow:
    """A word with the production's number of its first frame, its strongest stress, and how unsure its start is.

    `guessed` is set where no dictionary knows the word. An event stands in brackets, and is without the rest.
    """

    number: int
    text: str
    stress: str = ""
    sounds: str = ""
    doubt: float | None = None
    reasons: tuple[str, ...] = ()
    guessed: bool = False


def word_rows(reading: Reading, terms: Terms) -> tuple[WordRow, ...]:
    """A row for each word and each event, in order."""
    sounds = sounds_of(reading, as_ipa=terms.as_ipa)
    rows = [
        (event.start, WordRow(number_of(reading, terms, event.start), f"({event.kind})")) for event in reading.events
    ]
    rows += [
        (
            reading.start(word),
            WordRow(
                number=number_of(reading, terms, reading.start(word)),
                text=word.text,
                stress=DEGREES[strongest(reading, word)],
                sounds=" ".join(filter(None, sounds[word.first : word.stop])),
                doubt=word.doubt,
                reasons=tuple(reason.value for reason in word.reasons),
                guessed=word.source is Source.GUESS,
            ),
        )
        for word in reading.words
    ]
    return tuple(row for _, row in sorted(rows, key=lambda pair: pair[0]))


def departure_rows(reading: Reading, terms: Terms) -> tuple[tuple[int, str], ...]:
    """Where the take leaves its line: the production's frame number, and what the script has or has not."""
    return tuple(
        (number_of(reading, terms, reading.start_of_departure(one)), remark(one)) for one in reading.departures
    )


def number_of(reading: Reading, terms: Terms, sample: Sample) -> int:
    """The production's number of the frame on which a sample is heard."""
    return terms.first_number + frame_at(sample, reading.sound.sample_rate, terms.rate)


def strongest(reading: Reading, word: Word) -> Stress | None:
    """The strongest stress in a word; None where it has no syllable, as `Shh!`."""
    return max((syllable.stress for syllable in reading.syllables if is_in(syllable, word)), default=None)
