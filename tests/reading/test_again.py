"""A stretch heard again with other words: as good as if the take had been read with them from the start."""

import pytest

from trackread.core.passage import Place, with_passage
from trackread.core.performance import DepartureKind
from trackread.core.timebase import Sample, resampled
from trackread.reading.again import Wish, heard_again
from trackread.reading.sounds import RATE, Recording
from trackread.reading.take import Reader

FRAME = 1 / 24


@pytest.fixture(scope="module")
def faithful(reader):
    return Reader(reader.lexicon, reader.trees, faithful=True)


@pytest.fixture(scope="module")
def take(tram):
    """The recording and words of a line of The Late Tram."""
    recording, line = tram["14"]
    return recording, line.split()


def wish(recording, place, words, line):
    rate = recording.sound.sample_rate
    start, stop = place.span
    first, last = (resampled(edge, rate, RATE) for edge in (start, stop))
    sound = type(recording.sound)(recording.sound.digest, rate, Sample(stop - start), start)
    return Wish(Recording(sound, recording.signal[first:last]), place, " ".join(words), " ".join(line))


def test_a_wrong_word_with_its_fellows_is_heard_again_as_if_it_had_been_right(faithful, take):
    recording, words = take
    right = faithful.read(recording, " ".join(words))
    wrong = faithful.read(recording, " ".join([words[0], "bucket", *words[2:]]))
    place = Place(wrong, 0, 3)

    mended = with_passage(place, heard_again(wish(recording, place, words[:3], words), faithful))

    assert [word.text for word in mended.words] == [word.text for word in right.words]
    rate = recording.sound.sample_rate
    for ours, theirs in zip(mended.words, right.words, strict=True):
        assert abs(mended.start(ours) - right.start(theirs)) < FRAME * rate
    assert mended.departures == ()
    assert [one.stress for one in mended.syllables] == [one.stress for one in right.syllables]
    assert [(one.first, one.stop) for one in mended.phrases] == [(one.first, one.stop) for one in right.phrases]


def test_what_is_typed_beside_the_line_departs_from_it(faithful, take):
    recording, words = take
    right = faithful.read(recording, " ".join(words))
    place = Place(right, 0, 3)

    swapped = with_passage(place, heard_again(wish(recording, place, [words[0], "bat", words[2]], words), faithful))

    (departure,) = swapped.departures
    assert (departure.kind, departure.first, departure.stop) == (DepartureKind.SWAPPED, 1, 2)
    assert departure.written == words[1]


def test_a_place_where_no_word_is_said_is_a_pause(faithful, take):
    recording, words = take
    right = faithful.read(recording, " ".join(words))
    last = len(right.words) - 1
    place = Place(right, last, last + 1)

    silent = with_passage(place, heard_again(wish(recording, place, [], words), faithful))

    assert [word.text for word in silent.words] == [word.text for word in right.words[:-1]]
    assert silent.phones[-1].symbol == "SIL"
    assert [one.kind for one in silent.departures] == [DepartureKind.DROPPED]
