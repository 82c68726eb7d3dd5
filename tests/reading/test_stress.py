"""Lines here are made of syllables `T AE M` of 200 ms at 10 ms a value, whispered where nothing else is said."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.reading import Phone, Syllable, Track
from trackread.core.timebase import Sample
from trackread.reading.cues import Span, fall
from trackread.reading.stress import LEAST, STRONGEST, spans_of, stresses
from trackread.reading.usual import usual_lengths

HOP = 480
LONG = 20 * HOP
SYMBOLS = ("T", "AE", "M")


def a_span(place: int, word: str = "tram", lexical: int = 1, length: int = LONG, phrase: int = 0) -> Span:
    start = place * LONG
    cuts = (start, start + length // 4, start + length // 2, start + length)
    return Span(SYMBOLS, tuple(map(Sample, cuts)), 1, word, lexical, phrase)


def a_track(values: Sequence[float | None]) -> Track:
    """A track that keeps each value for one syllable."""
    return Track(HOP, tuple(value for value in values for _ in range(20)))


def heard(
    spans: Sequence[Span], hertz: Sequence[float | None] | None = None, level: Sequence[float] | None = None
) -> list[tuple[float, int]]:
    pitch = a_track(hertz or [None] * len(spans))
    return stresses(spans, pitch=pitch, level=a_track(level or [-20.0] * len(spans)))


def a_line(count: int, word: str = "tram") -> list[Span]:
    return [a_span(place, word) for place in range(count)]


def strengths(judged: list[tuple[float, int]]) -> list[float]:
    return [strength for strength, _ in judged]


def degrees(judged: list[tuple[float, int]]) -> list[int]:
    return [degree for _, degree in judged]


def test_the_loudest_of_equal_syllables_is_the_strongest() -> None:
    assert np.argmax(strengths(heard(a_line(5), level=[-20, -20, -20, -14, -20]))) == 3


def test_the_highest_of_equal_syllables_is_the_strongest() -> None:
    assert np.argmax(strengths(heard(a_line(5), hertz=[120, 160, 120, 120, None]))) == 1


def test_the_longest_of_equal_syllables_is_the_strongest() -> None:
    line = [a_span(k, length=LONG if k == 2 else LONG // 2) for k in range(5)]

    assert np.argmax(strengths(heard(line))) == 2


def test_the_syllable_over_which_the_pitch_moves_is_the_strongest_of_equal_ones() -> None:
    moving = np.linspace(100, 140, 20).tolist()
    pitch = Track(HOP, (*[118.0] * 20, *moving, *[118.0] * 20))
    judged = stresses(a_line(3), pitch=pitch, level=a_track([-20.0] * 3))

    assert np.argmax(strengths(judged)) == 1


def spoken_as_usual(count: int, longer: int | None = None) -> list[Span]:
    """Syllables as long as their phones and places have it, but for one that is lengthened as if last."""
    reached, line = 0, []
    for k in range(count):
        usual = usual_lengths(SYMBOLS, 1, final=k in (count - 1, longer))
        cuts = np.cumsum([reached, *(round(milliseconds * HOP / 10) for milliseconds in usual)])
        line.append(Span(SYMBOLS, tuple(Sample(int(cut)) for cut in cuts), 1, "tram", 1, 0))
        reached = int(cuts[-1])
    return line


def test_final_lengthening_alone_makes_no_accent() -> None:
    judged = strengths(heard(spoken_as_usual(5)))

    assert judged == pytest.approx([judged[0]] * 5, abs=1e-3)


def test_the_same_lengthening_within_a_phrase_does() -> None:
    judged = strengths(heard(spoken_as_usual(5, longer=1)))

    assert judged[1] > judged[4] + 0.05


def test_a_pitch_that_falls_as_phrases_do_makes_no_accent() -> None:
    line = spoken_as_usual(6)
    stop = line[-1].cuts[-1]
    left = (stop / HOP - np.arange(stop // HOP)) / 100
    pitch = Track(HOP, tuple((100 * 2 ** (left * fall(stop / HOP / 100) / 12)).tolist()))
    judged = strengths(stresses(line, pitch=pitch, level=Track(HOP, (-20.0,) * (stop // HOP))))

    # The last vowel is longer, so the fall over it is a little more.
    assert judged == pytest.approx([judged[0]] * 6, abs=0.04)


# 't Hart, Collier and Cohen 1990 (from memory): a phrase of 5 s falls by 8.5 semitones, however long beyond.
@pytest.mark.parametrize("seconds", [5.0, 8.0, 20.0])
def test_a_long_phrase_falls_by_eight_and_a_half_semitones(seconds: float) -> None:
    assert fall(seconds) * seconds == pytest.approx(8.5)
    assert fall(4.999) * 4.999 == pytest.approx(8.5, abs=0.1)


def test_a_weak_word_that_the_actor_leans_on_is_strong() -> None:
    line = [a_span(0, "i"), a_span(1, "said"), a_span(2, "my"), a_span(3, "tram")]
    flat = heard(line, hertz=[120] * 4)
    leaning = heard(line, hertz=[120, 120, 200, 120], level=[-20, -20, -12, -20])

    assert degrees(flat)[2] == 0
    assert degrees(leaning)[2] == STRONGEST


def test_without_a_difference_the_dictionary_decides() -> None:
    line = [a_span(0, "ticket", 1), a_span(1, "ticket", 0), a_span(2, "to", 1)]

    assert degrees(heard(line)) == [2, 0, 0]


@pytest.mark.parametrize(("word", "lexical"), [("no", 1), ("to", 1), ("ah", 0)])
@pytest.mark.parametrize("hertz", [120, 900, None])
def test_a_line_of_one_syllable_is_strong(word: str, lexical: int, hertz: float | None) -> None:
    assert degrees(heard([a_span(0, word, lexical)], hertz=[hertz])) == [2]


def test_a_whispered_line_is_judged_by_level_and_length() -> None:
    judged = heard(a_line(4), level=[-40, -31, -40, -40])

    assert np.argmax(strengths(judged)) == 1


def test_every_phrase_has_its_main_beat_however_softly_it_is_said() -> None:
    line = [a_span(k, "the", 0, phrase=k // 3) for k in range(9)]
    judged = heard(line, hertz=[220] * 3 + [110] * 6, level=[-10] * 3 + [-45, -38, -45] + [-45, -45, -38])

    assert max(strengths(judged)[3:]) < LEAST[STRONGEST]
    assert degrees(judged)[3:6].count(STRONGEST) == degrees(judged)[6:].count(STRONGEST) == 1
    assert (degrees(judged)[4], degrees(judged)[8]) == (STRONGEST, STRONGEST)


def test_a_leap_of_two_octaves_counts_no_more_than_one_of_one() -> None:
    one, two = (heard(a_line(5), hertz=[200, 200, high, 200, 200])[2][0] for high in (400, 800))

    assert one == two


def test_no_syllables_have_no_stress() -> None:
    assert heard([]) == []


def test_each_syllable_is_judged_by_its_phones_its_word_and_its_phrase() -> None:
    phones = tuple(Phone(symbol, 1.0) for symbol in ("T", "UW", "SIL", "HH", "AE", "T"))
    cuts = tuple(Sample(k * 100) for k in range(7))
    syllables = [Syllable(0, 2, 1, 1, 0, 0.0), Syllable(3, 6, 4, 1, 0, 0.0)]

    first, second = spans_of(syllables, ["to", "hat"], (phones, cuts), [0, 3])
    assert first == Span(("T", "UW"), cuts[:3], 1, "to", 1, 1)
    assert second == Span(("HH", "AE", "T"), cuts[3:], 1, "hat", 1, 2)


LINES = st.lists(
    st.tuples(
        st.one_of(st.none(), st.floats(80, 500)),
        st.floats(-60, -5),
        st.sampled_from(["the", "tram", "late"]),
        st.integers(0, 2),
        st.booleans(),
    ),
    min_size=1,
    max_size=12,
)
Line = list[tuple[float | None, float, str, int, bool]]


def spans_in(line: Line) -> list[Span]:
    """The syllables of a line; a true last value starts a phrase."""
    numbers = np.cumsum([starts for *_, starts in line])
    return [a_span(k, row[2], row[3], phrase=int(numbers[k])) for k, row in enumerate(line)]


@given(LINES, st.floats(0.5, 2.0), st.floats(-30, 5))
def test_a_higher_voice_or_a_nearer_microphone_changes_no_stress(line: Line, times: float, louder: float) -> None:
    spans, hertz, level = spans_in(line), [row[0] for row in line], [row[1] for row in line]
    as_it_was = strengths(heard(spans, hertz, level))
    changed = strengths(heard(spans, [h and h * times for h in hertz], [v + louder for v in level]))

    assert changed == pytest.approx(as_it_was, abs=1e-9)


@given(LINES)
def test_degrees_follow_strengths_from_0_to_1_but_for_one_main_beat_a_phrase(line: Line) -> None:
    spans = spans_in(line)
    judged = heard(spans, [row[0] for row in line], [row[1] for row in line])

    assert all(0 <= strength <= 1 for strength, _ in judged)
    for number in {span.phrase for span in spans}:
        phrase = sorted(one for one, span in zip(judged, spans, strict=True) if span.phrase == number)
        assert degrees(phrase) == sorted(degrees(phrase))
        assert degrees(phrase)[-1] == STRONGEST
        assert degrees(phrase).count(STRONGEST) == max(1, sum(s >= LEAST[STRONGEST] for s, _ in phrase))
