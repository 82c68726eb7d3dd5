"""Timelines of OpenTimelineIO, made with opentimelineio 0.18.1 and laid flat as it lays them out.

Places on the timeline are checked against its own `transformed_time_range`.
"""

import json
from fractions import Fraction

import opentimelineio as otio
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cutting.makers import RATES, problems_of
from trackread.core.cut import Handles
from trackread.core.timebase import parse_rate
from trackread.cutting.assembly import cut_of
from trackread.cutting.events import Terms
from trackread.cutting.timelines import read_timeline
from trackread.errors import CutError

Time, Range = otio.opentime.RationalTime, otio.opentime.TimeRange
PICTURE, SOUND = otio.schema.TrackKind.Video, otio.schema.TrackKind.Audio


def a_range(start, length, rate=24):
    return Range(Time(start, rate), Time(length, rate))


def a_clip(name="SH010", start=0, length=24, *, rate=24, media=None, url="", effects=()):
    reference = otio.schema.ExternalReference(url, media) if media or url else None
    return otio.schema.Clip(name, reference, a_range(start, length, rate), effects=list(effects))


def a_gap(length, rate=24):
    return otio.schema.Gap(source_range=a_range(0, length, rate))


def a_track(*items, kind=PICTURE, name=""):
    return otio.schema.Track(name, list(items), kind=kind)


def a_transition(before, after):
    return otio.schema.Transition(in_offset=Time(before, 24), out_offset=Time(after, 24))


def a_timeline(*tracks, start=None, rate=24):
    timeline = otio.schema.Timeline("The Late Tram", global_start_time=None if start is None else Time(start, rate))
    timeline.tracks.extend(tracks)
    return timeline


def read(timeline, rate="24"):
    return read_timeline(timeline.to_json_string(), "tram.otio", Terms(parse_rate(rate)))


def cut_from(*tracks, rate="24", start=None):
    listed = read(a_timeline(*tracks, start=start, rate=float(parse_rate(rate).per_second)), rate)
    return cut_of([listed], Terms(parse_rate(rate)))


def spans(shots):
    return [(one.code, one.first, one.stop) for one in shots]


def told(cut):
    return [(one.place.item, one.text) for one in cut.remarks]


def seen_range(clip, stack):
    """The frames of the timeline on which opentimelineio has a clip, within what it is nested in."""
    stops = []
    for one in (clip, clip.parent().parent()):
        theirs = one.transformed_time_range(one.trimmed_range(), stack)
        stops.append(round(theirs.end_time_exclusive().value))
    return round(clip.transformed_time_range(clip.trimmed_range(), stack).start_time.value), min(stops)


class TestPictures:
    def test_clips_follow_each_other_and_gaps_are_told(self):
        cut = cut_from(a_track(a_clip(), a_clip("SH020", 5, 12), a_gap(6), a_clip("SH030", 0, 10)), start=86400)

        assert spans(cut.shots) == [("SH010", 0, 24), ("SH020", 24, 36), ("SH030", 42, 52)]
        assert (cut.title, cut.start) == ("The Late Tram", 86400)
        assert told(cut) == [("video track 1, item 4 ('SH030')", "nothing is seen for 6 frames before it")]

    @settings(max_examples=50)
    @given(
        st.sampled_from(RATES),
        st.lists(st.tuples(st.integers(0, 10**6), st.integers(1, 500), st.booleans()), min_size=1, max_size=6),
    )
    def test_items_lie_where_opentimelineio_lays_them(self, name, items):
        """At each of its rates; a nested stack among them, at the same rate."""
        rate = parse_rate(name)
        hertz = float(rate.per_second)
        track = a_track()
        for number, (start, length, nested) in enumerate(items):
            clip = a_clip(f"SH{number:03}", start, length, rate=hertz)
            if nested:  # seen from its frame 3 on, so that its clip comes 4 frames in and loses 4 at its end
                inner = [a_track(a_gap(7, hertz), clip)]
                track.append(otio.schema.Stack("in", inner, source_range=a_range(3, length, hertz)))
            else:
                track.append(clip)
        timeline = a_timeline(track, rate=hertz)
        ours = {event.source.clip: event for event in read(timeline, name).events}

        for clip in timeline.find_clips():
            theirs = seen_range(clip, timeline.tracks)
            if clip.parent() is not track and clip.source_range.duration.value <= 4:
                assert clip.name not in ours
            else:
                event = ours[clip.name]
                assert (event.start, event.stop) == theirs
                assert event.source.start * rate.per_second == clip.source_range.start_time.value

    def test_a_higher_track_hides_what_is_below_it(self):
        low = a_track(a_clip(length=40))
        high = a_track(a_gap(10), a_clip("SH020", 0, 12))
        cut = cut_from(low, high)

        assert [(one.name, one.first, one.stop) for one in cut.shots] == [
            ("SH010", 0, 10),
            ("SH020", 10, 22),
            ("SH010 (part 2)", 22, 40),
        ]
        assert cut.shots[2].source.start == Fraction(22, 24)

    def test_what_is_wholly_hidden_is_told(self):
        cut = cut_from(a_track(a_clip(length=10)), a_track(a_clip("SH020", length=12)))

        assert told(cut) == [("video track 1, item 1 ('SH010')", "is hidden by the tracks above it: no shot")]

    def test_a_dissolve_begins_where_its_second_clip_is_first_seen(self):
        cut = cut_from(a_track(a_clip(), a_transition(6, 4), a_clip("SH020", 100, 24)))

        assert spans(cut.shots) == [("SH010", 0, 18), ("SH020", 18, 48)]
        assert [(one.fade_in, one.fade_out) for one in cut.shots] == [(0, 10), (10, 0)]
        assert cut.shots[1].source.start == Fraction(94, 24)

    def test_a_fade_to_black_is_seen_to_its_end(self):
        for end in ([a_gap(12)], []):
            cut = cut_from(a_track(a_clip(), a_transition(8, 0), *end))

            assert [(one.length, one.fade_out, one.seen) for one in cut.shots] == [(16, 8, 24)]

    def test_handles_are_what_the_media_have_around_the_shot(self):
        cut = cut_from(a_track(a_clip(start=108, length=24, media=a_range(100, 50), url="SH010.mov")))

        assert cut.shots[0].handles == Handles(8, 18)
        assert cut.shots[0].source.file_start == Fraction(100, 24)

    def test_a_clip_held_or_at_another_speed_takes_its_source_range(self):
        warps = [
            otio.schema.LinearTimeWarp(time_scalar=2),
            otio.schema.FreezeFrame(),
            otio.schema.LinearTimeWarp("", -1),
        ]
        warps[2].time_scalar = -1
        cut = cut_from(a_track(*(a_clip(f"SH{n}", 10, 24, effects=[warp]) for n, warp in enumerate(warps))))

        assert [(one.first, one.length, one.speed) for one in cut.shots] == [(0, 24, 2), (24, 24, 0), (48, 24, -1)]
        assert [one.source.start * 24 for one in cut.shots] == [10, 10, 34]

    def test_pictures_of_a_sequence_are_named_by_what_is_before_and_after_their_numbers(self):
        media = otio.schema.ImageSequenceReference("/shots/", "SH010.", ".exr", available_range=a_range(0, 24))
        track = a_track(otio.schema.Clip("one", media))

        assert cut_from(track).shots[0].source.file == "SH010.exr"

    def test_a_range_that_the_media_do_not_have_leaves_the_handles_unknown(self):
        assert cut_from(a_track(a_clip(start=90, media=a_range(100, 50), url="a.mov"))).shots[0].handles is None

    def test_what_is_left_of_a_shot_under_another_has_the_rest_as_handles(self):
        low = a_track(a_clip(start=108, length=24, media=a_range(100, 50), url="SH010.mov"))
        cut = cut_from(low, a_track(a_gap(20), a_clip("SH020", length=4)))

        assert cut.shots[0].handles == Handles(8, 22)

    def test_a_stack_lasts_as_long_as_its_longest_track(self):
        nested = otio.schema.Stack("in", [a_track(a_clip()), a_track(a_gap(30), a_clip("SH020", length=10))])
        cut = cut_from(a_track(nested, a_clip("SH030")))

        assert spans(cut.shots) == [("SH010", 0, 24), ("SH020", 30, 40), ("SH030", 40, 64)]

    def test_black_made_by_the_timeline_is_no_shot(self):
        black = otio.schema.Clip("Black", otio.schema.GeneratorReference("Black", "black"), a_range(0, 12))
        cut = cut_from(a_track(a_clip(), black, a_clip("SH020")))

        assert spans(cut.shots) == [("SH010", 0, 24), ("SH020", 36, 60)]

    def test_what_is_switched_off_is_told(self):
        off = a_clip("SH020")
        off.enabled = False
        track = a_track(a_clip("SH030"))
        track.enabled = False
        cut = cut_from(a_track(a_clip(), off), track)

        assert told(cut) == [
            ("video track 1, item 2 ('SH020')", "is switched off: left aside"),
            ("video track 2", "is switched off: left aside"),
        ]

    def test_a_rate_that_is_not_the_cut_s_is_told_and_one_that_has_no_whole_frames_refused(self):
        listed = read(a_timeline(a_track(a_clip(length=25, rate=25), a_clip("SH020", length=10, rate=25))))

        assert [event.stop for event in listed.events] == [24]
        assert told(listed) == [
            ("video track 1, item 1 ('SH010')", "is counted at 25 a second where the cut runs at 24")
        ]
        assert [text for _, text in problems_of(listed)] == [
            "starts or stops between two frames: its times are not whole at 24/1"
        ]

    def test_a_timeline_of_another_rate_is_refused(self):
        assert [text for _, text in problems_of(read(a_timeline(a_track(a_clip()), start=0, rate=25)))] == [
            "the timeline runs at 25 a second: read it at its own rate, not at 24/1"
        ]

    @pytest.mark.parametrize("written", [23.976, 23.98, 23.976024, 24000 / 1001])
    def test_23_976_is_n_1001_however_it_is_written(self, written):
        listed = read(a_timeline(a_track(a_clip(length=1000, rate=written)), start=86400, rate=written), "23.976")

        assert [(one.start, one.stop) for one in listed.events] == [(86400, 87400)]
        assert listed.remarks == []


class TestSounds:
    def test_sounds_keep_their_track_their_file_and_its_start(self):
        sound = a_clip("01", 240010, 12, media=a_range(240000, 480), url="file:///reels/01%20brack.wav")
        (one,) = cut_from(a_track(a_clip()), a_track(a_gap(6), sound, kind=SOUND, name="BRACK")).placements

        assert (one.at, one.length, one.tracks) == (6, 12, ("BRACK",))
        assert (one.source.file, one.source.file_start, one.source.start) == (
            "01 brack.wav",
            10000,
            Fraction(240010, 24),
        )

    @pytest.mark.parametrize(
        ("url", "file"),
        [("C:\\reels\\01.wav", "01.wav"), ("/reels/0#1.wav", "0#1.wav"), ("file://host/a/b.wav", "b.wav")],
    )
    def test_files_are_named_without_their_folders(self, url, file):
        (one,) = cut_from(a_track(a_clip()), a_track(a_clip(url=url), kind=SOUND)).placements

        assert one.source.file == file

    def test_a_sound_cut_between_frames_is_taken_for_whole_ones_and_stays_in_its_place(self):
        """Counted in samples: 3000 at 48 kHz is one frame and a half at 24."""
        track = a_track(a_gap(3000, 48000), a_clip("01", 48000, 2000, rate=48000), kind=SOUND)
        cut = cut_from(a_track(a_clip()), track)
        (one,) = cut.placements

        assert (one.at, one.length) == (1, 2)
        assert one.source.start == Fraction(47000, 48000)
        assert told(cut) == [("audio track 2, item 2 ('01')", "sounds on parts of frames: taken for all of 1 to 3")]

    def test_two_unnamed_tracks_are_two(self):
        tracks = [a_track(a_clip("01"), kind=SOUND) for _ in range(2)]

        assert [one.tracks for one in cut_from(a_track(a_clip()), *tracks).placements] == [("A1",), ("A2",)]

    def test_a_speed_that_changes_is_refused(self):
        effect = otio.schema.TimeEffect(name="ramp")
        listed = read(a_timeline(a_track(a_clip("01", effects=[effect]), kind=SOUND)))

        assert [(one.place.item, one.text) for one in listed.problems] == [
            ("audio track 1, item 1 ('01')", "'ramp' is no speed that holds throughout: render it first")
        ]

    def test_a_sound_backwards_or_held_is_told(self):
        warps = [otio.schema.LinearTimeWarp(time_scalar=-1), otio.schema.FreezeFrame()]
        cut = cut_from(a_track(a_clip()), a_track(*(a_clip("01", effects=[warp]) for warp in warps), kind=SOUND))

        assert [one.speed for one in cut.placements] == [-1]
        assert [text for _, text in told(cut)] == [
            "plays backwards: taken to begin at the end of its source range",
            "this sound is held still: nothing is heard of it",
        ]


class TestNested:
    def test_a_nested_piece_is_seen_through_its_source_range_and_its_speed(self):
        inner = a_track(a_clip(length=24), a_clip("SH020", 100, 48))
        warp = otio.schema.LinearTimeWarp(time_scalar=2)
        nested = otio.schema.Stack("in", [inner], source_range=a_range(12, 30), effects=[warp])
        cut = cut_from(a_track(a_gap(10), nested))

        assert [(one.first, one.length, one.speed, one.source.start * 24) for one in cut.shots] == [
            (10, 6, 2, 12),
            (16, 24, 2, 100),
        ]

    def test_of_a_nested_piece_a_picture_track_has_the_pictures_and_a_sound_track_the_sounds(self):
        def nested():
            return otio.schema.Stack("in", [a_track(a_clip()), a_track(a_clip("01"), kind=SOUND)])

        cut = cut_from(a_track(nested()), a_track(nested(), kind=SOUND))

        assert (len(cut.shots), len(cut.placements)) == (1, 1)
        assert [text for _, text in told(cut)] == [
            "this is Audio in a Video: left aside",
            "this is Video in a Audio: left aside",
        ]

    def test_what_a_nested_piece_has_outside_its_range_is_told(self):
        nested = otio.schema.Stack("in", [a_track(a_clip(), a_clip("SH020"))], source_range=a_range(0, 24))
        cut = cut_from(a_track(nested))

        assert told(cut) == [
            (
                "video track 1, item 1 ('in'), video track 1, item 2 ('SH020')",
                "lies outside of what is used, or lasts nothing: left aside",
            )
        ]

    def test_a_transition_into_a_nested_piece_is_told(self):
        nested = otio.schema.Stack("in", [a_track(a_clip("SH020", length=40))], source_range=a_range(10, 20))
        cut = cut_from(a_track(a_clip(), a_transition(6, 0), nested))

        assert spans(cut.shots) == [("SH010", 0, 18), ("SH020", 18, 44)]
        assert cut.shots[1].source.start == Fraction(4, 24)
        assert told(cut)[0][1] == "a transition into a nested piece: taken as a cut 6 frames before it"

    def test_a_nested_piece_backwards_is_refused(self):
        warp = otio.schema.LinearTimeWarp(time_scalar=-1)
        nested = otio.schema.Stack("in", [a_track(a_clip())], effects=[warp])

        assert [text for _, text in problems_of(read(a_timeline(a_track(nested))))] == [
            "this nested piece is held, or plays backwards: flatten it before exporting the timeline"
        ]

    def test_pieces_nested_too_deep_are_refused(self):
        nested = a_track(a_clip())
        for _ in range(50):
            nested = a_track(otio.schema.Stack("in", [nested]))

        (problem,) = problems_of(read(a_timeline(nested)))
        assert problem[1].startswith("pieces lie in pieces more than 40 deep")


class TestRefusals:
    @pytest.mark.parametrize(
        "text",
        ["", "{", "null", "[]", "1", '{"OTIO_SCHEMA": "Clip.99"}', '{"OTIO_SCHEMA": "Timeline.1"}', '{"a": 1}'],
    )
    def test_what_is_no_timeline_is_refused(self, text):
        with pytest.raises(CutError, match=r"^tram\.otio: (cannot be read as OpenTimelineIO|holds 0 timelines)"):
            read_timeline(text, "tram.otio", Terms(parse_rate("24")))

    def test_what_other_programs_leave_out_is_read_or_told(self):
        """No media, where opentimelineio writes that they are missing; and null for tracks."""
        whole = json.loads(a_timeline(a_track(a_clip())).to_json_string())
        clip = whole["tracks"]["children"][0]["children"][0]
        clip["media_references"] = {}
        listed = read_timeline(json.dumps(whole), "tram.otio", Terms(parse_rate("24")))

        assert [(event.source.clip, event.source.file) for event in listed.events] == [("SH010", "")]
        with pytest.raises(CutError, match=r"^tram\.otio: its timeline has no tracks"):
            read_timeline(json.dumps(whole | {"tracks": None}), "tram.otio", Terms(parse_rate("24")))

    def test_a_collection_is_read_if_it_has_one_timeline(self):
        one = otio.schema.SerializableCollection("bin", [a_timeline(a_track(a_clip()))])
        two = otio.schema.SerializableCollection("bin", [a_timeline(), a_timeline()])

        assert len(read(one).events) == 1
        with pytest.raises(CutError, match="holds 2 timelines: export one"):
            read(two)

    def test_a_clip_of_no_length_is_refused(self):
        listed = read(a_timeline(a_track(otio.schema.Clip("SH010"))))

        assert [(one.place.item, one.text) for one in listed.problems] == [
            ("video track 1", "'SH010' has neither a source range nor media with an available range")
        ]

    @pytest.mark.parametrize(
        ("item", "problem"),
        [
            (a_clip(length=-1), "'SH010' lasts less than nothing"),
            (a_clip(length=24, rate=0), "0 is no rate: it is above 0"),
            (a_clip(effects=[otio.schema.LinearTimeWarp(time_scalar=float("inf"))]), "inf is no speed"),
            (a_transition(-1, 4), "a transition lasts no less than nothing"),
        ],
    )
    def test_times_that_are_none_are_refused(self, item, problem):
        listed = read(a_timeline(a_track(a_clip("SH000"), item)))

        assert [text for _, text in problems_of(listed)] == [problem]

    def test_a_transition_longer_than_its_clip_is_refused(self):
        listed = read(a_timeline(a_track(a_clip(), a_transition(2, 20), a_clip("SH020", length=10))))

        assert [text for _, text in problems_of(listed)] == ["the transition into it is longer than it is itself"]

    def test_every_problem_of_a_timeline_is_told(self):
        bad = [a_clip(f"SH{n}", length=1, rate=7) for n in range(2)]
        listed = read(a_timeline(a_track(*bad), a_track(otio.schema.Clip("SH3"))))

        assert len(listed.problems) == 3
