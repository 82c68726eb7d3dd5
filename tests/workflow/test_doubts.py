"""Places to listen to, from readings made by hand."""

import json
from dataclasses import replace

import pytest

from tests.makers import a_performance, a_reading
from trackread.core.performance import Departure, DepartureKind, Reason
from trackread.core.plain import reading_to_plain
from trackread.core.timebase import frame_at, parse_rate
from trackread.errors import ReadingError
from trackread.workflow.doubts import places_to_check
from trackread.workflow.sheet_voice import remark

FILM = parse_rate("24")
DROPPED = Departure(DepartureKind.DROPPED, 1, 1, "old")


def doubted(*doubts, reasons=(), **changes):
    """A reading whose words are so much in doubt."""
    reading = a_reading()
    words = [
        replace(word, doubt=doubt, reasons=reasons)
        for word, doubt in zip(reading.words[: len(doubts)], doubts, strict=True)
    ]
    return replace(reading, words=(*words, *reading.words[len(doubts) :]), **changes)


@pytest.fixture
def written(tmp_path):
    """Writes a reading, or a plain value, as `read --json` would, and gives its file."""

    def written(name, reading, rate=FILM):
        path = tmp_path / f"{name}.json"
        plain = reading_to_plain(reading, rate) if hasattr(reading, "words") else reading
        path.write_text(json.dumps(plain), encoding="utf-8")
        return path

    return written


def test_the_worst_come_first_over_all_files(written):
    one = written("one", doubted(0.2, 0.9, 0.05, 0.4))
    two = written("two", doubted(0.95, 0.01, 0.3, 0.5))
    found = places_to_check([one, two], 1)

    assert [(place.reading, place.doubt) for place in found.places] == [
        ("two", 0.95),
        ("one", 0.9),
        ("two", 0.5),
        ("one", 0.4),
        ("two", 0.3),
        ("one", 0.2),
        ("one", 0.05),
        ("two", 0.01),
    ]
    assert found.words == 8
    assert found.expected == pytest.approx(0.95 + 0.9 + 0.5 + 0.4 + 0.3 + 0.2 + 0.05 + 0.01)


def test_places_in_equal_doubt_stay_in_the_order_they_are_said_in(written):
    files = [written(name, doubted(0.3, 0.3, 0.3, 0.3)) for name in ("b", "a")]

    assert [(place.reading, place.text) for place in places_to_check(files, 1).places] == [
        (name, word.text) for name in ("b", "a") for word in a_reading().words
    ]


@pytest.mark.parametrize("first_number", [-3, 0, 1, 1001])
@pytest.mark.parametrize("rate", ["24", "25", "23.976"])
def test_a_place_bears_the_number_of_the_frame_on_which_the_word_starts(written, first_number, rate):
    reading = a_reading()
    file = written("one", reading, parse_rate(rate))
    starts = [frame_at(reading.start(word), reading.sound.sample_rate, parse_rate(rate)) for word in reading.words]

    assert [place.number for place in places_to_check([file], first_number).places] == [
        first_number + start for start in starts
    ]


def test_each_reading_is_counted_at_its_own_rate(written):
    slow, fast = (written(f"at {rate}", doubted(0.5), parse_rate(rate)) for rate in ("24", "48"))
    numbers = {
        place.reading: place.number for place in places_to_check([slow, fast], 0).places if place.text == "step,"
    }

    # 0.49 s.
    assert numbers == {"at 24": 11, "at 48": 23}


def test_why_a_place_is_in_doubt_is_told_as_the_reading_has_it(written):
    file = written("one", doubted(0.9, reasons=(Reason.STOP, Reason.NOISE)))

    assert places_to_check([file], 1).places[0].reasons == (Reason.STOP.value, Reason.NOISE.value)


def test_where_words_are_dropped_is_a_place_too(written):
    reading = doubted(0.1, 0.1, 0.1, 0.1, departures=(DROPPED,))
    found = places_to_check([written("one", reading)], 1)
    dropped = found.places[0]

    assert len(found.places) == len(reading.words) + 1
    assert found.words == len(reading.words)
    assert dropped.text == remark(DROPPED)
    assert "old" in dropped.text
    assert dropped.reasons == (Reason.DEPARTS.value,)
    assert dropped.number == 1 + frame_at(reading.stop(reading.words[0]), reading.sound.sample_rate, FILM)
    assert found.expected == pytest.approx(sum(place.doubt for place in found.places))


def test_what_is_said_for_a_word_of_the_line_is_no_place_but_its_word(written):
    reading = a_performance()

    assert {one.kind for one in reading.departures} == {DepartureKind.SWAPPED}
    assert len(places_to_check([written("one", reading)], 1).places) == len(reading.words)


def test_without_words_there_are_no_places(written):
    bare = replace(a_reading(), words=(), syllables=())
    found = places_to_check([written("one", bare)], 1)

    assert (found.places, found.words, found.expected) == ((), 0, 0)


def without(name):
    """What an older version wrote: a reading that has not this."""
    return {key: value for key, value in reading_to_plain(a_performance(), FILM).items() if key != name}


NO_READINGS = {
    "a list": ([], "not a reading"),
    "a number": (3, "not a reading"),
    "null": (None, "not a reading"),
    "a text": ("No ticket!", "not a reading"),
    "nothing": ({}, "not a reading: 'phones' is missing"),
    "a score": ({"rows": [], "refused": []}, "not a reading"),
    "places": ({"places": []}, "not a reading"),
    "words that are none": (without("words") | {"words": [5]}, "not a reading"),
    "a reason that is none": (without("words") | {"words": [without("")["words"][0] | {"reasons": ["?"]}]}, "'?'"),
    "a rate of no picture": (without("rate") | {"rate": "23"}, "'23' is not a frame rate"),
    "a rate that is a number": (without("rate") | {"rate": 24}, "give what `read --json`"),
    **{f"without {name}": (without(name), f"'{name}' is missing") for name in ("events", "phrases", "rate", "words")},
}


@pytest.mark.parametrize(("plain", "reason"), NO_READINGS.values(), ids=NO_READINGS)
def test_json_of_something_else_is_named_and_what_would_be_right_is_said(written, plain, reason):
    path = written("one", plain)
    with pytest.raises(ReadingError) as refused:
        places_to_check([path], 1)

    assert str(refused.value).startswith(f"{path}: ")
    assert reason in str(refused.value)
    assert "give what `read --json`" in str(refused.value)
    assert "\n" not in str(refused.value)


def test_what_is_no_json_is_named_with_its_line(tmp_path):
    path = tmp_path / "one.json"
    path.write_text('{"rate": "24/1",\n"words": [\n}', encoding="utf-8")

    with pytest.raises(ReadingError, match=r"one[.]json:3: not JSON"):
        places_to_check([path], 1)


@pytest.mark.parametrize("make", [lambda _: None, lambda path: path.mkdir(), lambda path: path.write_bytes(b"\xff")])
def test_what_cannot_be_read_is_named(tmp_path, make):
    make(tmp_path / "one.json")

    with pytest.raises(ReadingError, match=r"one[.]json: cannot be read"):
        places_to_check([tmp_path / "one.json"], 1)
