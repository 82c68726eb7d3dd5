"""Cues of built syllables, at 10 ms a value."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.phones import PHONES, VOWELS
from trackread.core.reading import Track
from trackread.core.timebase import Sample
from trackread.reading.cues import FURTHEST, Span, cues_of
from trackread.reading.usual import usual_lengths, usual_level

HOP = 480
CONSONANTS = sorted(set(PHONES) - VOWELS)
SYLLABLES = st.tuples(
    st.lists(st.sampled_from(CONSONANTS), max_size=2),
    st.sampled_from(sorted(VOWELS)),
    st.lists(st.sampled_from(CONSONANTS), max_size=2),
).map(lambda parts: ((*parts[0], parts[1], *parts[2]), len(parts[0])))


def line_of(syllables: list[tuple[tuple[str, ...], int]], pace: float) -> list[Span]:
    """A phrase of (symbols, nucleus) in which every phone has its usual length, at some pace."""
    reached, spans = 0, []
    for k, (symbols, nucleus) in enumerate(syllables):
        usual = usual_lengths(symbols, nucleus, final=k == len(syllables) - 1)
        cuts = np.cumsum([reached, *(round(pace * length * HOP / 10) for length in usual)]).tolist()
        spans.append(Span(symbols, tuple(map(Sample, cuts)), nucleus, "tram", 1, 0))
        reached = cuts[-1]
    return spans


def silent(spans: list[Span]) -> Track:
    return Track(HOP, (None,) * (spans[-1].cuts[-1] // HOP + 2))


@given(st.lists(SYLLABLES, min_size=1, max_size=8), st.floats(0.5, 3))
def test_phones_of_their_usual_lengths_differ_in_nothing_at_any_pace(
    syllables: list[tuple[tuple[str, ...], int]], pace: float
) -> None:
    spans = line_of(syllables, pace)
    found = cues_of(spans, pitch=silent(spans), level=silent(spans))

    assert [cue["length"] for cue in found] == pytest.approx([0] * len(spans), abs=0.01)
    assert [cue["nucleus"] for cue in found] == pytest.approx([0] * len(spans), abs=0.01)


def test_a_close_vowel_is_as_strong_as_an_open_one_that_is_louder_by_what_it_always_is() -> None:
    spans = line_of([(("AA",), 0), (("IY",), 0), (("UW",), 0)], 1)
    level = np.full(spans[-1].cuts[-1] // HOP + 2, -60.0)
    for span in spans:
        first, last = (cut // HOP for cut in span.nucleus_cuts())
        level[first + 2 : last - 2] = usual_level(span.symbols[0]) - 100
    found = cues_of(spans, pitch=silent(spans), level=Track(HOP, tuple(level.tolist())))

    assert [cue["level"] for cue in found] == pytest.approx([0, 0, 0], abs=1e-9)


@given(st.lists(st.one_of(st.none(), st.floats(60, 1000)), min_size=1, max_size=6))
def test_no_cue_counts_for_more_than_its_furthest(hertz: list[float | None]) -> None:
    spans = line_of([(("AA",), 0)] * len(hertz), 1)
    place = [np.searchsorted([span.cuts[-1] for span in spans], k * HOP, "right") for k in range(400)]
    pitch = Track(HOP, tuple(hertz[min(k, len(hertz) - 1)] for k in place))
    found = cues_of(spans, pitch=pitch, level=silent(spans))

    assert all(abs(value) <= FURTHEST for cue in found for value in cue.values())


def test_a_secondary_stress_promises_half_and_a_weak_word_nothing() -> None:
    spans = [Span(("AA",), (Sample(0), Sample(HOP)), 0, *row, 0) for row in (("a", 1), ("tram", 2), ("tram", 0))]
    found = cues_of(spans, pitch=Track(HOP, ()), level=Track(HOP, ()))

    assert [cue["promise"] for cue in found] == [0, 0.5, 0]
