"""The words of a reading as rows of a table: what the sheet says, for a screen."""

from dataclasses import dataclass

from trackread.core.plain import doubt_of
from trackread.core.reading import Reading, Source, Stress, Word
from trackread.core.spelling import is_in, sounds_of
from trackread.core.timebase import frame_at
from trackread.workflow.sheet_of_take import Terms

DEGREES: dict[Stress | None, str] = {2: "strong", 1: "half", 0: "weak", None: ""}


@dataclass(frozen=True, slots=True)
class WordRow:
    """A word with the production's number of its first frame, its strongest stress, and how unsure its start is.

    `guessed` is set where no dictionary knows the word.
    """

    number: int
    text: str
    stress: str
    sounds: str
    doubt: float
    guessed: bool


def word_rows(reading: Reading, terms: Terms) -> tuple[WordRow, ...]:
    """A row for each word, in order."""
    sounds = sounds_of(reading, as_ipa=terms.as_ipa)
    return tuple(
        WordRow(
            number=terms.first_number + frame_at(reading.start(word), reading.sound.sample_rate, terms.rate),
            text=word.text,
            stress=DEGREES[strongest(reading, word)],
            sounds=" ".join(filter(None, sounds[word.first : word.stop])),
            doubt=doubt_of(reading, word),
            guessed=word.source is Source.GUESS,
        )
        for word in reading.words
    )


def strongest(reading: Reading, word: Word) -> Stress | None:
    """The strongest stress in a word; None where it has no syllable, as `Shh!`."""
    return max((syllable.stress for syllable in reading.syllables if is_in(syllable, word)), default=None)
