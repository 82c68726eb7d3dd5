"""TextGrids of readings, read back by praatio and by Praat itself."""

from dataclasses import replace

import parselmouth
import pytest
from hypothesis import given, settings
from parselmouth.praat import call
from praatio import textgrid

from tests.makers import a_reading, readings
from trackread.core.performance import Event, EventKind
from trackread.core.timebase import Sample
from trackread.labels.marks import marks_of, read_marks
from trackread.labels.textgrid import textgrid_of

QUOTED = (("“Mind”,", "M AY1 N D"), ('"the', "DH AH0"), ('café"', "K AE0 F EY1"), "-", ("naïve…", "N AY0 IY1 V"))


@pytest.fixture(scope="module")
def scratch(tmp_path_factory):
    return tmp_path_factory.mktemp("grids") / "take.TextGrid"


def expected_tiers(reading):
    """What each tier must hold: start and stop in seconds and the text, without the pauses."""
    seconds = [cut / reading.sound.sample_rate for cut in reading.cuts]
    digits = {syllable.nucleus: syllable.lexical for syllable in reading.syllables}
    phones = [
        (seconds[k], seconds[k + 1], f"{phone.symbol}{digits.get(k, '')}")
        for k, phone in enumerate(reading.phones)
        if phone.symbol != "SIL"
    ]
    words = [(seconds[word.first], seconds[word.stop], word.text) for word in reading.words]
    rate = reading.sound.sample_rate
    events = [
        (event.start / rate, event.stop / rate, event.kind.value)
        for event in reading.events
        if event.kind not in (EventKind.SHOUT, EventKind.WHISPER)
    ]
    return {"words": words, "phones": phones, "events": events}


def by_praatio(path):
    grid = textgrid.openTextgrid(str(path), includeEmptyIntervals=False)
    return {name: [tuple(entry) for entry in grid.getTier(name).entries] for name in grid.tierNames}


def by_praat(path):
    grid = parselmouth.Data.read(str(path))
    tiers = {}
    for number in range(1, call(grid, "Get number of tiers") + 1):
        count = call(grid, "Get number of intervals", number)
        rows = [
            tuple(call(grid, f"Get {what} of interval", number, k) for what in ("start time", "end time", "label"))
            for k in range(1, count + 1)
        ]
        tiers[call(grid, "Get tier name", number)] = rows
    return tiers


@settings(max_examples=40)
@given(readings())
def test_praatio_and_praat_read_back_what_was_written(scratch, reading):
    scratch.write_bytes(textgrid_of(reading))
    ours, theirs = by_praatio(scratch), by_praat(scratch)

    assert list(ours) == list(theirs) == ["words", "syllables", "phones", "events"]
    for name, rows in expected_tiers(reading).items():
        assert ours[name] == rows
        assert [row for row in theirs[name] if row[2]] == rows


@settings(max_examples=40)
@given(readings())
def test_every_tier_covers_the_whole_sound_without_a_gap(scratch, reading):
    scratch.write_bytes(textgrid_of(reading))

    for rows in by_praat(scratch).values():
        assert (rows[0][0], rows[-1][1]) == (0, reading.sound.length / reading.sound.sample_rate)
        assert [row[1] for row in rows[:-1]] == [row[0] for row in rows[1:]]


def test_an_event_of_one_sample_at_the_start_is_read_back(scratch):
    """Its end is below 0.0001 s, which Python would write with an exponent."""
    breath = Event(EventKind.BREATH_IN, Sample(0), Sample(1), 0.0)
    reading = replace(a_reading(("Mind", "M AY1 N D"), sample_rate=11025), events=(breath,))
    scratch.write_bytes(textgrid_of(reading))

    assert b"e-" not in scratch.read_bytes()
    assert by_praatio(scratch)["events"] == [(0.0, 1 / 11025, "breath in")]


def test_quotes_and_letters_beyond_ascii_survive(scratch):
    scratch.write_bytes(textgrid_of(a_reading(*QUOTED)))
    texts = ["“Mind”,", '"the', 'café"', "naïve…"]

    assert [label for _, _, label in by_praatio(scratch)["words"]] == texts
    assert [label for _, _, label in by_praat(scratch)["words"] if label] == texts


def test_a_vowel_carries_the_stress_digit_of_its_syllable(scratch):
    scratch.write_bytes(textgrid_of(a_reading(("ticket", "T IH1 K AH0 T"))))

    assert [label for _, _, label in by_praat(scratch)["phones"]] == ["", "T", "IH1", "K", "AH0", "T", ""]
    assert [label for _, _, label in by_praat(scratch)["syllables"]] == ["", "tih", "kuht", ""]


def test_a_written_grid_scores_as_the_reading_it_came_from(scratch):
    reading = a_reading(*QUOTED)
    scratch.write_bytes(textgrid_of(reading))
    back, here = read_marks(scratch), marks_of(reading)

    assert [mark.text for mark in back.phones] == [mark.text for mark in here.phones]
    assert [mark.text for mark in back.words] == [mark.text for mark in here.words]
    for one, other in zip(back.phones, here.phones, strict=True):
        assert abs(one.start - other.start) <= 1
