"""Films as timelines of OpenTimelineIO, read back by opentimelineio and as a cut."""

import json

import opentimelineio as otio
import pytest
from hypothesis import given, settings

from tests.exports.makers import RATES, a_film, a_sheet, a_shot, a_voice, films
from trackread.core.sheet import Beat, Cell
from trackread.core.timebase import parse_rate
from trackread.cutting.events import Terms
from trackread.cutting.reading import read_cut
from trackread.exports.markers import timeline_of


def read(film):
    return otio.adapters.read_from_string(timeline_of(film).decode(), "otio_json")


def clips_of(film):
    return list(read(film).find_clips())


def frames(span):
    return span.start_time.to_frames(), span.end_time_exclusive().to_frames()


@settings(max_examples=60)
@given(films())
def test_every_shot_lies_on_its_frames_until_the_next_one(film):
    timeline = read(film)
    stops = [min(shot.stop, then.first) for shot, then in zip(film.shots, film.shots[1:], strict=False)]
    lying = [frames(clip.range_in_parent()) for clip in timeline.find_clips()]

    assert [clip.name for clip in timeline.find_clips()] == [shot.name for shot in film.shots]
    assert lying == [(shot.first, stop) for shot, stop in zip(film.shots, [*stops, film.shots[-1].stop], strict=True)]
    assert timeline.global_start_time.to_frames() == film.start
    assert [frames(clip.available_range()) for clip in timeline.find_clips()] == [
        (0, shot.sheet.length) for shot in film.shots
    ]


@settings(max_examples=60)
@given(films())
def test_words_and_lines_are_markers_on_their_frames(film):
    for clip, shot in zip(clips_of(film), film.shots, strict=True):
        marked = [(frames(one.marked_range), one.name, one.metadata["trackread"]["character"]) for one in clip.markers]
        lines = [((line.first, line.stop), line.line, line.character) for line in shot.sheet.lines]
        words = [
            ((word.first, word.stop), f"{'…' if word.before else ''}{word.text}", voice.character)
            for voice in shot.sheet.voices
            for word in voice.words
        ]

        assert marked == lines + words


@settings(max_examples=40)
@given(films())
def test_a_timeline_reads_back_as_the_cut_it_shows(tmp_path_factory, film):
    path = tmp_path_factory.mktemp("cuts") / "tram.otio"
    path.write_bytes(timeline_of(film))
    cut = read_cut([path], Terms(film.rate))

    assert [(shot.code, shot.first, shot.seen) for shot in cut.shots] == [
        (shot.name, shot.first - film.shots[0].first, shot.sheet.length) for shot in film.shots
    ]
    assert cut.start == film.start + film.shots[0].first


@pytest.mark.parametrize("rate", RATES)
def test_a_rate_is_the_double_nearest_to_the_exact_one(rate):
    film = a_film(a_shot(sheet=a_sheet(rate=rate)))
    document = json.loads(timeline_of(film))

    assert document["global_start_time"]["rate"] == float(parse_rate(rate).per_second)
    assert parse_rate(document["metadata"]["trackread"]["rate"]) == parse_rate(rate)


def test_a_marker_tells_whose_word_it_is_and_how_strong():
    beats = (Beat(2, 4, 0), Beat(4, 8, 1), Beat(8, 10, 2))
    words = (Cell(2, 8, "ticket"), Cell(8, 10, "please"), Cell(12, 14, "psst"))
    markers = clips_of(a_film(a_shot(sheet=a_sheet(a_voice(words=words, beats=beats)))))[0].markers

    assert [(one.name, one.comment, dict(one.metadata["trackread"])) for one in markers] == [
        ("ticket", "BRACK", {"kind": "word", "character": "BRACK", "stress": "half stressed"}),
        ("please", "BRACK", {"kind": "word", "character": "BRACK", "stress": "strong"}),
        ("psst", "BRACK", {"kind": "word", "character": "BRACK", "stress": ""}),
    ]


def test_a_marker_tells_which_line_is_heard_and_from_which_take():
    line = clips_of(a_film())[0].markers[0]

    assert (line.name, line.comment) == ("12.3", "Mind the step!")
    assert dict(line.metadata["trackread"]) == {
        "kind": "line",
        "character": "BRACK",
        "extension": "O.S.",
        "take": "A1/4",
    }


def test_a_gap_of_the_cut_is_a_gap_and_pictures_are_missing():
    track = read(a_film(a_shot("SH010", 5), a_shot("SH020", 30))).video_tracks()[0]

    assert [type(item).__name__ for item in track] == ["Gap", "Clip", "Gap", "Clip"]
    assert [item.duration().to_frames() for item in track] == [5, 24, 1, 24]
    assert {type(clip.media_reference).__name__ for clip in track.find_clips()} == {"MissingReference"}


def test_a_shot_that_is_seen_under_the_next_one_dissolves_into_it():
    track = read(a_film(a_shot("SH010", 0), a_shot("SH020", 18))).video_tracks()[0]
    first, dissolve, second = track

    assert (first.duration().to_frames(), second.duration().to_frames()) == (18, 24)
    assert (dissolve.in_offset.to_frames(), dissolve.out_offset.to_frames()) == (0, 6)


def test_one_film_has_one_timeline():
    assert timeline_of(a_film()) == timeline_of(a_film())
