"""Takes built of words `W AA` of 300 ms with rests between them, at 10 ms a value."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.performance import Phrase, Tone
from trackread.core.phones import PAUSE
from trackread.core.reading import Phone, Syllable, Track, Word
from trackread.core.timebase import Sample
from trackread.reading.phrases import SHORTEST_REST, phrases_of
from trackread.reading.sounds import Recording
from trackread.reading.take import Reader

HOP = 480
WORD = 30  # hops


def phrases(
    rests: Sequence[int], hertz: Sequence[float | None] = (), strengths: Sequence[float] | None = None
) -> tuple[Phrase, ...]:
    """The phrases of words with a rest (in hops) after each; `hertz` has a value for each hop."""
    symbols, lengths = [], []
    words, syllables = [], []
    for number, rest in enumerate(rests):
        first = len(symbols)
        words.append(Word(f"word {number}", first, first + 2))
        strength = strengths[number] if strengths else 0.5
        syllables.append(Syllable(first, first + 2, first + 1, 1, 2 if strength >= 0.5 else 0, strength))
        symbols += ["W", "AA", PAUSE] if rest else ["W", "AA"]
        lengths += [WORD // 3, WORD - WORD // 3, rest] if rest else [WORD // 3, WORD - WORD // 3]
    cuts = [Sample(int(cut) * HOP) for cut in np.cumsum([0, *lengths])]
    pitch = Track(HOP, tuple(hertz))
    return phrases_of([Phone(symbol, 1.0) for symbol in symbols], cuts, words, syllables, pitch=pitch)


def ending(hertz: Sequence[float | None], strengths: Sequence[float] | None = None) -> Tone | None:
    """The ending of a phrase of words that follow each other at once."""
    (phrase,) = phrases([0] * (len(hertz) // WORD), hertz, strengths)
    return phrase.ending


def steps(*hertz: float) -> list[float]:
    """A pitch that keeps each value for one word."""
    return [value for value in hertz for _ in range(WORD)]


def test_a_pause_parts_phrases_and_a_stop_before_a_word_does_not() -> None:
    found = phrases([10, 40, 0, 14, 0])

    assert [(phrase.first, phrase.stop) for phrase in found] == [(0, 2), (2, 5)]


def test_a_long_run_without_a_pause_is_one_phrase() -> None:
    (phrase,) = phrases([0] * 40)

    assert (phrase.first, phrase.stop) == (0, 40)


def test_a_pause_within_a_word_parts_nothing() -> None:
    phones = [Phone(symbol, 1.0) for symbol in ("W", "AA", PAUSE, "T", "UW")]
    cuts = [Sample(k * 100 * HOP) for k in range(6)]
    syllables = [Syllable(0, 2, 1, 1, 2, 0.9), Syllable(3, 5, 4, 1, 2, 0.8)]
    (phrase,) = phrases_of(phones, cuts, [Word("42", 0, 5)], syllables, pitch=Track(HOP, ()))

    assert (phrase.first, phrase.stop, phrase.main) == (0, 1, 0)
    assert phrase.rate == pytest.approx(0.5)


def test_a_take_without_words_has_no_phrase() -> None:
    assert phrases([]) == ()


def test_the_strongest_syllable_of_each_phrase_has_its_main_beat() -> None:
    found = phrases([0, 0, 30, 0, 0], strengths=[0.2, 0.9, 0.6, 0.1, 0.3])

    assert [phrase.main for phrase in found] == [1, 4]


def test_the_rate_counts_syllables_a_second_without_pauses() -> None:
    (phrase,) = phrases([10, 10, 10, 0])

    assert phrase.rate == pytest.approx(1 / 0.3)


def test_a_rise_at_the_end_is_a_question_and_a_fall_a_statement() -> None:
    level = steps(120, 120)

    assert ending(level + np.linspace(120, 200, WORD).tolist()) is Tone.RISE
    assert ending(level + np.linspace(120, 80, WORD).tolist()) is Tone.FALL
    assert ending(level + [120.0] * WORD) is Tone.LEVEL


def test_what_comes_before_the_last_strong_syllable_is_no_ending() -> None:
    assert ending(steps(240, 120), strengths=[0.9, 0.9]) is Tone.LEVEL
    assert ending(steps(240, 120), strengths=[0.9, 0.1]) is Tone.FALL


def test_a_question_that_falls_on_its_last_accent_and_rises_after_it_rises() -> None:
    dip = np.concatenate([np.linspace(180, 110, WORD), np.linspace(110, 190, WORD)]).tolist()

    assert ending(dip, strengths=[0.9, 0.1]) is Tone.RISE


def test_a_whispered_phrase_has_no_ending_but_a_main_beat() -> None:
    (phrase,) = phrases([0, 0], [None] * 60)

    assert phrase.ending is None
    assert phrase.main == 0


@given(st.lists(st.integers(0, 60), min_size=1, max_size=12), st.data())
def test_phrases_share_out_all_words_and_each_has_its_main_beat(rests: list[int], data: st.DataObject) -> None:
    strengths = [data.draw(st.floats(0, 1)) for _ in rests]
    found = phrases(rests, strengths=strengths)

    assert [found[0].first, *(phrase.stop for phrase in found)][-1] == len(rests)
    assert all(before.stop == after.first for before, after in pairwise(found))
    assert len(found) == 1 + sum(rest >= 100 * SHORTEST_REST for rest in rests[:-1])
    for phrase in found:
        assert phrase.main is not None
        assert strengths[phrase.main] == max(strengths[phrase.first : phrase.stop])


def test_every_phrase_of_the_tram_has_one_main_beat_that_is_strong(
    reader: Reader, tram: dict[str, tuple[Recording, str]]
) -> None:
    for recording, line in tram.values():
        reading = reader.read(recording, line)
        mains = [phrase.main for phrase in reading.phrases]

        assert mains
        assert all(reading.syllables[main].stress == 2 for main in mains if main is not None)
        assert None not in mains
        assert all(2 <= phrase.rate <= 9 or phrase.stop - phrase.first < 4 for phrase in reading.phrases)


def test_the_actor_rests_after_the_first_word(reader: Reader, tram: dict[str, tuple[Recording, str]]) -> None:
    reading = reader.read(*tram["07"])

    assert (reading.phrases[0].first, reading.phrases[0].stop) == (0, 1)


def test_whisper_has_phrases_without_tones(reader: Reader, tram: dict[str, tuple[Recording, str]]) -> None:
    reading = reader.read(*tram["04"])

    assert {syllable.tone for syllable in reading.syllables} == {None}
    assert {phrase.ending for phrase in reading.phrases} == {None}
    assert [reading.words[phrase.first].text for phrase in reading.phrases] == ["Don't", "I"]
