"""A take is told with where it departs from its line, unless it says another line; the takes are cut here.

The voices of the tram are synthetic, so this is a smoke test; scripts/measure-departures measures on people.
"""

import itertools

import numpy as np
import pytest

from tests.reading.test_said import LINE, told
from tests.reading.test_take import recorded
from trackread.core.performance import Departure, DepartureKind
from trackread.core.reading import Reading
from trackread.reading.sounds import RATE, Recording
from trackread.reading.take import Reader
from trackread.reading.told import alien, kept

Takes = dict[str, tuple[Recording, str]]

# Words that stand apart from their neighbours, by take.
CHANGED = [("09", 1), ("09", 2), ("07", 2), ("03", 4)]


@pytest.fixture(scope="module")
def faithful(reader: Reader) -> Reader:
    return Reader(reader.lexicon, reader.trees, faithful=True)


def words_at(reading: Reading) -> list[tuple[int, int]]:
    """The samples of each word at 16 kHz."""
    return [
        tuple(at * RATE // reading.sound.sample_rate for at in (reading.start(word), reading.stop(word)))
        for word in reading.words
    ]


def without(reader: Reader, take: tuple[Recording, str], word: int) -> Recording:
    """The take with one word cut out of its sound."""
    start, stop = words_at(reader.read(*take))[word]
    return recorded(np.delete(take[0].signal, slice(start, stop)))


def twice(reader: Reader, take: tuple[Recording, str], word: int) -> Recording:
    """The take with one word said again."""
    start, stop = words_at(reader.read(*take))[word]
    return recorded(np.concatenate([take[0].signal[:stop], take[0].signal[start:]]))


def texts(reading: Reading) -> list[str]:
    return [word.text for word in reading.words]


@pytest.mark.parametrize("name", ["01", "03", "05", "07", "09", "14"])
def test_a_take_of_its_line_departs_from_nothing(reader: Reader, tram: Takes, name: str) -> None:
    recording, line = tram[name]
    reading = reader.read(recording, line)

    assert reading.departures == ()
    assert texts(reading) == line.split()
    assert reading.match.says_line


@pytest.mark.parametrize(("name", "other"), [("03", "09"), ("09", "12"), ("14", "06"), ("06", "05")])
def test_a_take_of_another_line_departs_from_nothing(reader: Reader, tram: Takes, name: str, other: str) -> None:
    line = tram[other][1]
    reading = reader.read(tram[name][0], line)

    assert not reading.match.says_line
    assert reading.departures == ()
    assert texts(reading) == line.split()


@pytest.mark.parametrize(("name", "word"), CHANGED)
def test_a_word_cut_out_is_told_as_dropped(reader: Reader, tram: Takes, name: str, word: int) -> None:
    line = tram[name][1]
    reading = reader.read(without(reader, tram[name], word), line)
    words = line.split()

    assert reading.departures == (Departure(DepartureKind.DROPPED, word, word, words[word]),)
    assert texts(reading) == words[:word] + words[word + 1 :]
    assert reading.match.says_line


@pytest.mark.parametrize(("name", "word"), CHANGED)
def test_a_word_said_twice_is_told_as_said_again(reader: Reader, tram: Takes, name: str, word: int) -> None:
    line = tram[name][1]
    reading = reader.read(twice(reader, tram[name], word), line)
    words = line.split()

    (departure,) = reading.departures
    assert departure.kind in (DepartureKind.REPEATED, DepartureKind.ADDED)
    assert (departure.first, departure.stop, departure.written) == (word, word + 1, "")
    assert len(reading.words) == len(words) + 1
    assert texts(reading)[:word] + texts(reading)[word + 1 :] == words
    assert reading.match.says_line


def test_a_departure_starts_where_the_sound_was_changed(reader: Reader, tram: Takes) -> None:
    recording, line = tram["09"]
    spans = words_at(reader.read(recording, line))
    reading = reader.read(twice(reader, tram["09"], 1), line)

    (departure,) = reading.departures
    start = reading.start_of_departure(departure) / RATE
    assert abs(start - spans[1][0] / RATE) < 0.05
    assert abs(reading.start(reading.words[departure.stop]) / RATE - spans[1][1] / RATE) < 0.1


def test_a_word_of_another_take_between_two_is_told_as_added(reader: Reader, tram: Takes) -> None:
    recording, line = tram["09"]
    spans = words_at(reader.read(recording, line))
    start, stop = words_at(reader.read(*tram["03"]))[1]
    added = tram["03"][0].signal[start:stop]
    middle = (spans[1][1] + spans[2][0]) // 2
    signal = np.concatenate([recording.signal[:middle], added, recording.signal[middle:]])

    reading = reader.read(recorded(signal), line)

    assert [(one.kind, one.written) for one in reading.departures] == [(DepartureKind.ADDED, "")]
    assert reading.match.says_line


def test_a_faithful_reader_tells_no_departure(reader: Reader, faithful: Reader, tram: Takes) -> None:
    for name, word in CHANGED[:2]:
        for change in (without, twice):
            changed, line = change(reader, tram[name], word), tram[name][1]
            reading = faithful.read(changed, line)

            assert reader.read(changed, line).departures
            assert reading.departures == ()
            assert texts(reading) == line.split()


def test_a_faithful_reader_reads_a_take_of_its_line_as_any_reader_does(
    reader: Reader, faithful: Reader, tram: Takes
) -> None:
    assert faithful.read(*tram["09"]) == reader.read(*tram["09"])


def test_in_a_long_take_each_departure_is_told_in_its_own_stretch(reader: Reader, tram: Takes) -> None:
    names = ["05", "09", "14", "03", "05", "07", "14", "09"]
    signals = [tram[name][0].signal for name in names]
    signals[1] = without(reader, tram["09"], 1).signal
    signals[-1] = twice(reader, tram["09"], 1).signal
    starts = [0, *itertools.accumulate(len(tram[name][1].split()) for name in names)]

    reading = reader.read(recorded(np.concatenate(signals)), " ".join(tram[name][1] for name in names))

    assert [one.kind for one in reading.departures] == [DepartureKind.DROPPED, DepartureKind.REPEATED]
    assert reading.departures[0].first == starts[1] + 1
    assert reading.departures[1].first == starts[-2]  # one word fewer since the first, and then the second of its line
    assert len(reading.words) == starts[-1]
    assert reading.match.says_line


def test_of_a_take_the_phones_of_its_line_and_the_others_are_counted_each_word_once() -> None:
    line = told("0 1 2 3 4")
    more = told("0 ? 1 1 2 3- 4")

    assert (kept(line), alien(line)) == (sum(len(way[0]) for way in LINE.ways), 0)
    assert alien(more) == 3
    assert kept(more) == kept(line) - len(LINE.ways[3][0])
