"""What is said in a take, word by word: words of the line, some of them again, in part or not at all, and others.

A take of a long line is said in stretches; here they are put together. Times are seconds of the take.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trackread.core.performance import MANNERS, Departure
from trackread.core.phones import respelling
from trackread.core.reading import Source
from trackread.reading.course import Step, StepKind
from trackread.reading.events import Hint
from trackread.reading.lexicon import Pronunciation
from trackread.reading.line import Line
from trackread.reading.told import Told

BROKEN_OFF = "–"  # after a word that is not said to its end, as in a script


@dataclass(frozen=True, slots=True)
class SaidWord:
    """One spoken word of a take: the number of the word on the sheet it is of, what stands there, and how it is said.

    `text` is that of the word on the sheet, `spoken` of this part of it; `times` are when its phones were heard;
    `written` is the written word of the line, None of what the line has not.
    """

    number: int
    text: str
    source: Source
    spoken: str
    ways: tuple[Pronunciation, ...]
    times: tuple[float, ...]
    written: int | None
    departs: bool


def said_words(told: Told, line: Line) -> list[SaidWord]:
    """The spoken words of a take."""
    found: list[SaidWord] = []
    number = -1
    before: int | None = None
    for each, span, start in zip(told.said, told.spans, told.starts, strict=True):
        departing = {k for one in each.departures for k in range(one.first, one.stop)}
        for k, step in enumerate(each.steps):
            word = None if step.word is None else span.first + step.word
            written = None if word is None else line.owner[word]
            # The parts of one written word (forty, two of 42) follow one another; anything else is a word by itself.
            goes_on = word is not None and before == word - 1 and found[-1].written == written
            if not (goes_on and step.kind is StepKind.WORD):
                number += 1
            text, source, spoken = texts_of(step, word, line)
            ways = line.ways[word] if step.kind is StepKind.WORD and word is not None else (step.phones,)
            times = tuple(time + start for time in step.times)
            found.append(SaidWord(number, text, source, spoken, ways, times, written, k in departing))
            before = word if step.kind is StepKind.WORD else None
    return found


def texts_of(step: Step, word: int | None, line: Line) -> tuple[str, Source, str]:
    """What stands on the sheet for a step, where that comes from, and the spoken word."""
    if word is None:
        heard = "".join(respelling(phone) for phone in step.phones)
        return heard, Source.HEARD, heard
    written, spoken = line.owner[word], line.spoken[word]
    if step.kind is StepKind.WORD:
        return line.written[written].text, line.source_of(written), spoken
    share = len(step.phones) / len(line.ways[word][0])
    letters = max(1, min(len(spoken) - 1, round(len(spoken) * share)))
    return spoken[:letters] + BROKEN_OFF, Source.HEARD, spoken


def departures_in(told: Told, line: Line, words: Sequence[SaidWord]) -> tuple[Departure, ...]:
    """The departures of a take, of its words on the sheet."""
    found: list[Departure] = []
    done = 0
    for each, span in zip(told.said, told.spans, strict=True):
        for one in each.departures:
            missing = dict.fromkeys(line.owner[span.first + word] for word in range(one.low, one.high))
            written = " ".join(line.written[number].text for number in missing)
            first = number_at(words, done + one.first)
            stop = number_at(words, done + one.stop - 1) + 1 if one.stop > one.first else first
            found.append(Departure(one.kind, first, stop, written))
        done += len(each.steps)
    return tuple(found)


def number_at(words: Sequence[SaidWord], place: int) -> int:
    """The number of the word on the sheet that a spoken word is of; one more than the last at their end."""
    if place < len(words):
        return words[place].number
    return words[-1].number + 1 if words else 0


def hints_of(line: Line, words: Sequence[SaidWord], seconds: float) -> list[Hint]:
    """What the line's hints ask for between words, each between those around it in a take of so many seconds."""
    # Of words that are said again the last time counts: those before may come on the wrong side.
    kept = [word for word in words if not word.departs]
    return [
        Hint(
            asked.kind,
            max((word.times[-1] for word in kept if is_before(word, asked.after)), default=0.0),
            min((word.times[0] for word in kept if is_after(word, asked.after)), default=seconds),
        )
        for asked in line.asked
        if asked.kind not in MANNERS
    ]


def is_before(word: SaidWord, after: int) -> bool:
    return word.written is not None and word.written < after


def is_after(word: SaidWord, after: int) -> bool:
    return word.written is not None and word.written >= after
