"""Lists of CMX 3600 (SMPTE 258M): what each event becomes, and what is told of it.

The facts of the format are from memory of the standard, unless marked. Frame counts are those of SMPTE ST 12-1.
"""

from fractions import Fraction

import pytest

from tests.cutting.makers import (
    REEL,
    a_list,
    a_row,
    an_event,
    cut_from,
    problems_of,
    read,
    remarks_of,
)
from trackread.core.cut import Source
from trackread.core.timebase import parse_rate
from trackread.errors import CutError

SHOT = "* FROM CLIP NAME: SH010"
NDF = parse_rate("29.97")
DF = parse_rate("29.97df")


def told(*texts, **terms):
    with pytest.raises(CutError) as error:
        cut_from(*texts, **terms)
    return str(error.value).split("\n")


class TestShots:
    def test_the_reel_of_the_check_values_has_its_shots(self):
        """Lengths 84, 48, 24 of black and 72, at 0, 84, 132 and 156: the project's check values."""
        cut = cut_from(REEL)

        assert [(one.code, one.first, one.length) for one in cut.shots] == [
            ("SH010", 0, 84),
            ("SH020", 84, 48),
            ("SH030", 156, 72),
        ]
        assert (cut.title, cut.start, cut.length) == ("THE LATE TRAM", 86400, 228)
        assert [one.source.start for one in cut.shots] == [3600, 3610, 3630]

    def test_black_is_told_and_is_no_shot(self):
        assert (8, "black for 24 frames") in remarks_of(cut_from(REEL))

    def test_a_shot_that_is_dissolved_from_is_seen_longer_by_the_length_of_the_dissolve(self):
        cut = cut_from(
            a_list(
                a_row(1, 0, 0, 48, reel="TAPE1"),
                SHOT,
                a_row(2, 48, 48, 0, reel="TAPE1"),
                a_row(2, 100, 48, 72, reel="TAPE2", transition="D", operand="012"),
                SHOT,
                "* TO CLIP NAME: SH020",
            )
        )

        assert [(one.code, one.first, one.stop, one.fade_in, one.fade_out) for one in cut.shots] == [
            ("SH010", 0, 48, 0, 12),
            ("SH020", 48, 120, 12, 0),
        ]
        assert [text for line, text in remarks_of(cut) if line > 5] == [
            "has no length on the record: it says what is cut or dissolved from, SH010",
            "SH010 is seen 12 frames longer, under this",
        ]

    @pytest.mark.parametrize("transition", ["W001", "D"])
    def test_a_wipe_and_a_dissolve_come_in_alike(self, transition):
        lines = (a_row(1, 0, 0, 48), SHOT, a_row(2, 0, 48, 24, transition=transition, operand="008"))

        assert cut_from(a_list(*lines, "* TO CLIP NAME: SH020")).shots[1].fade_in == 8

    def test_what_is_faded_up_from_black_may_have_its_name_as_from(self):
        pair = (a_row(1, 0, 0, 0, reel="BL"), a_row(1, 0, 0, 24, transition="D", operand="024"))

        assert [one.code for one in cut_from(a_list(*pair, SHOT)).shots] == ["SH010"]

    def test_a_transition_from_what_is_not_there_is_told(self):
        lines = (a_row(2, 48, 48, 0, reel="T1"), a_row(2, 0, 48, 24, transition="D", operand="008"))
        cut = cut_from(a_list(a_row(1, 0, 0, 48, reel="T2"), SHOT, *lines, "* TO CLIP NAME: SH020"))

        assert (7, "comes in from the reel T1, which is not what is before it: taken as it stands") in remarks_of(cut)

    def test_a_transition_longer_than_its_event_is_told(self):
        lines = (a_row(1, 0, 0, 12, transition="D", operand="024"), SHOT)

        assert problems_of(read(a_list(*lines))) == [
            (4, "comes in over 24 frames, but has 12: make the transition shorter")
        ]

    def test_a_gap_is_told_with_its_length(self):
        cut = cut_from(a_list(a_row(1, 0, 0, 24), SHOT, a_row(2, 0, 30, 24), "* FROM CLIP NAME: SH020"))

        assert remarks_of(cut) == [(6, "nothing is seen for 6 frames before it")]

    def test_comments_are_kept_with_their_shot(self):
        cut = cut_from(a_list("* OVER ALL", a_row(1, 0, 0, 24), SHOT, "* RAIN: yes", ">>> SOURCE ABC", "ODD LINE"))

        assert cut.shots[0].notes == ("RAIN: yes", ">>> SOURCE ABC", "ODD LINE")
        assert remarks_of(cut) == [
            (4, "stands above the first event, and is left aside: '* OVER ALL'"),
            (9, "is no statement of CMX 3600, so kept as a note: 'ODD LINE'"),
        ]

    @pytest.mark.parametrize(
        ("line", "reason"),
        [
            (a_row(2, 0, 24, 24, channels="NONE"), "records on no channel: left aside"),
            (a_row(2, 0, 24, 24, transition="K", operand="010"), "a key, laid over the picture: no shot"),
            (a_row(2, 0, 24, 24, transition="K O", operand="010"), "the end of a key: no shot"),
            (a_row(2, 0, 24, 0, transition="D", operand="000"), "has no length on the record: left aside"),
        ],
    )
    def test_an_event_that_is_neither_shot_nor_sound_is_told(self, line, reason):
        cut = cut_from(a_list(a_row(1, 0, 0, 24), SHOT, line))

        assert (6, reason) in remarks_of(cut)
        assert len(cut.shots) == 1

    def test_the_background_of_a_key_is_a_shot(self):
        cut = cut_from(
            a_list(a_row(1, 0, 0, 24, transition="KB"), a_row(1, 0, 0, 24, transition="K", operand="000"), SHOT)
        )

        assert [one.code for one in cut.shots] == ["SH010"]

    def test_a_list_that_runs_over_midnight_goes_on(self):
        day = 24 * 60 * 60 * 24
        rows = (a_row(1, 0, day - 24, 48), SHOT, a_row(2, day - 10, 24, 20), "* FROM CLIP NAME: SH020")
        cut = cut_from(a_list(*rows))

        assert [(one.first, one.length) for one in cut.shots] == [(0, 48), (48, 20)]
        assert remarks_of(cut) == [(4, "its record runs over midnight"), (6, "its source runs over midnight")]


class TestTimes:
    @pytest.mark.parametrize("mode", ["DROP FRAME", "NON-DROP FRAME"])
    def test_the_mode_above_the_first_event_is_that_of_the_record(self, mode):
        """00:00:00:00 to 00:01:00:02 has 1800 frames drop-frame and 1802 non-drop (SMPTE ST 12-1)."""
        times = ("00:00:00:00", "00:01:00:02") * 2
        text = f"TITLE: T\nFCM: {mode}\n{an_event(1, times=times)}\n{SHOT}\n"
        cut = cut_from(text, rate="29.97")

        assert cut.length == (1800 if mode == "DROP FRAME" else 1802)
        assert cut.rate.drop is (mode == "DROP FRAME")

    def test_a_mode_further_down_is_that_of_the_sources(self):
        first, second = a_row(1, 0, 0, 24, rate=NDF), "FCM: DROP FRAME"
        times = ("00:01:00;02", "00:01:00;26", "00:00:00:24", "00:00:01:18")
        cut = cut_from(a_list(first, SHOT, second, an_event(2, times=times), "* FROM CLIP NAME: B"), rate="29.97")

        assert cut.shots[1].source.start == 1800 / NDF.per_second
        assert remarks_of(cut) == [
            (6, "sources are counted drop frame from here on; the record goes on as the list began")
        ]

    @pytest.mark.parametrize(
        ("times", "problem"),
        [
            (
                ("00:00:00:00", "00:00:01:00", "00:00:00:24", "00:00:01:00"),
                "record in: '00:00:00:24' is not a timecode",
            ),
            (
                ("00:00:00:00", "00:00:60:00", "00:00:00:00", "00:00:01:00"),
                "source out: '00:00:60:00' is not a timecode",
            ),
            (
                ("00:00:00:00", "00:00:01:00", "00:00:00;00", "00:00:01;00"),
                "record in: '00:00:00;00' is not a timecode",
            ),
            (
                ("00:00:00:00", "00:00:01:00", "00.00.00.00", "00:00:01:00"),
                "record in: '00.00.00.00' is not a timecode",
            ),
            (("00:00:00:00", "00:00:01:00", "02:00:00:00", "00:00:01:00"), "its record ends at 00:00:01:00, before"),
        ],
    )
    def test_a_time_that_does_not_exist_is_told_with_its_column(self, times, problem):
        told = problems_of(read(a_list(an_event(1, times=times), SHOT)))

        assert told[0][0] == 4
        assert told[0][1].startswith(problem)

    def test_a_number_that_drop_frame_leaves_out_is_told(self):
        times = ("00:00:59;00", "00:01:00;01", "00:00:59;00", "00:01:00;01")
        text = f"FCM: DROP FRAME\n{an_event(1, times=times)}\n"

        assert [text for _, text in problems_of(read(text, "29.97"))] == [
            f"{column} out: '00:01:00;01' is not a timecode: drop-frame begins this minute with 00:01:00;02"
            for column in ("record", "source")
        ]

    def test_drop_frame_at_a_rate_that_has_none_is_told(self):
        assert problems_of(read(f"FCM: DROP FRAME\n{a_row(1, 0, 0, 24)}\n")) == [
            (1, "drop-frame exists at 29.97 and 59.94 only: read the list at its own rate, not at 24/1")
        ]

    def test_a_mode_that_is_none_is_told(self):
        assert problems_of(read(f"FCM: SOMETIMES\n{a_row(1, 0, 0, 24)}\n")) == [
            (1, "'SOMETIMES' is no mode of timecode: it is DROP FRAME or NON-DROP FRAME")
        ]

    def test_sounds_that_last_longer_than_their_record_are_told_and_pictures_remarked(self):
        times = ("00:00:00:00", "00:00:02:00", "00:00:00:00", "00:00:01:00")
        both = "its source has 48 frames and its record 24, but no M2 says at which speed it plays"
        listed = read(a_list(an_event(1, channels="A", times=times), an_event(2, times=times), SHOT))

        assert problems_of(listed) == [(4, both)]
        assert remarks_of(listed) == [(5, f"{both}; the shot is as long as its record")]


class TestSounds:
    @pytest.mark.parametrize(
        ("channels", "tracks", "shots"),
        [
            ("A", ("A1",), 0),
            ("A2", ("A2",), 0),
            ("A7", ("A7",), 0),
            ("AA", ("A1", "A2"), 0),
            ("B", ("A1",), 1),
            ("AA/V", ("A1", "A2"), 1),
            ("A2/V", ("A2",), 1),
        ],
    )
    def test_channels_are_tracks_and_perhaps_a_shot(self, channels, tracks, shots):
        cut = cut_from(a_list(a_row(1, 0, 0, 24, channels=channels), SHOT))

        assert cut.placements[0].tracks == tracks
        assert len(cut.shots) == shots

    def test_more_channels_in_a_line_below_are_tracks(self):
        cut = cut_from(a_list(a_row(1, 0, 0, 24, channels="A"), "AUD   3    4"))

        assert cut.placements[0].tracks == ("A1", "A3", "A4")

    def test_a_sound_keeps_all_that_the_list_says_of_its_source(self):
        row = a_row(1, 864000, 86400, 24, channels="A", reel="DAY1")
        cut = cut_from(a_list(row, "* FROM CLIP NAME: S2-017", "* SOURCE FILE: 01-brack.wav"))

        assert cut.placements[0].source == Source(Fraction(36000), "DAY1", "S2-017", "01-brack.wav")

    @pytest.mark.parametrize(
        ("frames", "length", "speed"),
        [("048.0", 48, 2), ("012.0", 12, Fraction(1, 2)), ("026.4", 26, Fraction(11, 10))],
    )
    def test_a_speed_is_frames_a_second_over_those_of_timecode(self, frames, length, speed):
        """M2 048.0 at 24 is twice the speed: so has it the adapter of opentimelineio."""
        times = ("00:00:00:00", f"00:00:{length // 24:02}:{length % 24:02}", "00:00:00:00", "00:00:01:00")
        lines = (an_event(1, "TAPE1", "A", times=times), f"M2   TAPE1    {frames}                00:00:00:00")

        assert cut_from(a_list(*lines)).placements[0].speed == speed

    @pytest.mark.parametrize(("times", "first"), [((0, 24), 24), ((24, 0), 24)])
    def test_a_sound_played_backwards_begins_at_its_later_end(self, times, first):
        """Common practice, no source: some lists write the later point first, some the earlier."""
        points = (*(f"00:00:{frame // 24:02}:{frame % 24:02}" for frame in times), "00:00:00:00", "00:00:01:00")
        lines = (an_event(1, "T1", "A", times=points), f"M2   T1       -024.0                {points[0]}")
        cut = cut_from(a_list(*lines))

        assert cut.placements[0].source.start == Fraction(first, 24)
        assert cut.placements[0].speed == -1
        assert bool(remarks_of(cut)) is (times[0] < times[1])

    def test_a_sound_held_still_is_told_and_a_picture_held_is_a_shot(self):
        still = "M2   T1       000.0                00:00:00:00"
        cut = cut_from(
            a_list(
                an_event(1, "T1", "A", times=("00:00:00:00", "00:00:00:01", "00:00:00:00", "00:00:01:00")),
                still,
                an_event(2, "T1", "V", times=("00:00:00:00", "00:00:00:01", "00:00:00:00", "00:00:01:00")),
                still,
                SHOT,
            )
        )

        assert cut.placements == ()
        assert cut.shots[0].speed == 0
        assert remarks_of(cut) == [(4, "this sound is held still: nothing is heard of it")]

    def test_a_speed_that_does_not_fit_the_lengths_is_told(self):
        lines = (a_row(1, 0, 0, 24, reel="T1", channels="A"), "M2   T1       030.0                00:00:00:00")

        assert problems_of(read(a_list(*lines))) == [
            (4, "its source has 24 frames and its record 24: at 030.0 frames a second (line 5) it would have 30")
        ]

    def test_a_speed_of_another_reel_or_from_elsewhere_is_told(self):
        lines = (
            a_row(1, 0, 0, 24, reel="T1", channels="A"),
            "M2   T2       048.0                00:00:00:00",
            "M2   T1       024.0                00:00:05:00",
        )

        assert remarks_of(read(a_list(*lines))) == [
            (5, "this speed is of the reel 'T2', which the event above does not use"),
            (6, "this speed is said to hold from 00:00:05:00: taken for the whole event"),
        ]

    def test_a_line_that_is_no_speed_is_told(self):
        assert problems_of(read(a_list(a_row(1, 0, 0, 24, channels="A"), "M2 fast"))) == [
            (5, "is no speed: write M2, the reel, frames a second and a timecode, not 'M2 fast'")
        ]

    def test_two_sounds_at_once_on_one_track_are_told(self):
        lines = (a_row(1, 0, 86400, 24, channels="A"), a_row(2, 0, 86420, 24, channels="AA"))

        assert told(a_list(*lines)) == [
            "tram.edl:5: starts 4 frames before the sound at tram.edl:4 stops, on one track (A1, A2): part the two"
        ]

    def test_sounds_on_two_tracks_or_in_two_lists_may_overlap(self):
        one = a_list(a_row(1, 0, 86400, 24, channels="A"), a_row(2, 0, 86420, 24, channels="A2"))
        other = a_list(a_row(1, 500, 86410, 24, channels="A"))

        assert [one.at for one in cut_from(one, other).placements] == [0, 10, 20]

    def test_a_sound_that_is_faded_into_another_is_heard_longer(self):
        lines = (a_row(1, 0, 0, 24, channels="A"), a_row(2, 90, 24, 24, channels="A", transition="D", operand="006"))
        cut = cut_from(a_list(*lines))

        assert [(one.fade_in, one.fade_out) for one in cut.placements] == [(0, 6), (6, 0)]

    def test_silence_is_told(self):
        cut = cut_from(a_list(a_row(1, 0, 0, 24, channels="A"), a_row(2, 0, 24, 24, channels="AA", reel="BL")))

        assert remarks_of(cut) == [(5, "silence for 24 frames")]


class TestLines:
    @pytest.mark.parametrize(
        ("line", "problem"),
        [
            ("001 AX V C 00:00:00:00 00:00:01:00 00:00:00:00 00:00:01:00", "begins like an event, but its columns"),
            (a_row(1, 0, 0, 24) + " 00:00:00:00", "begins like an event, but its columns"),
            (a_row(1, 0, 0, 24)[:-5], "begins like an event, but its columns"),
            (a_row(1, 0, 0, 24, channels="V2"), "has the channels 'V2': they are"),
            (a_row(1, 0, 0, 24, channels="A1/V"), "has the channels 'A1/V': they are"),
            (a_row(1, 0, 0, 24, transition="X"), "has the transition 'X': it is"),
            (a_row(1, 0, 0, 24, transition="D"), "has a transition of 'no' frames"),
            (a_row(1, 0, 0, 24, operand="012"), "has a cut with a length, '012'"),
            (a_row(1, 0, 0, 24, reel=""), "names no reel"),
        ],
    )
    def test_a_line_of_an_event_that_is_none_is_told(self, line, problem):
        (told,) = problems_of(read(a_list(line, "AUD 3", SHOT)))

        assert told[0] == 4
        assert told[1].startswith(problem)

    def test_a_line_longer_than_any_is_told(self):
        assert problems_of(read(a_list(a_row(1, 0, 0, 24), f"* {'x' * 5000}"))) == [
            (5, "this line has 5002 characters: no list of cuts has more than 4000")
        ]

    def test_the_last_line_may_be_an_event(self):
        """pycmx 1.5.1 loses it from the events it gathers."""
        text = "\n".join([a_row(1, 0, 0, 0), a_row(1, 0, 0, 24, channels="A", transition="D", operand="004")])

        assert len(cut_from(text).placements) == 1

    def test_the_first_line_may_be_an_event(self):
        """pycmx 1.5.1 takes the first line for the title."""
        assert len(cut_from(a_row(1, 0, 0, 24, channels="A")).placements) == 1

    def test_a_split_edit_is_told_and_parts_no_event(self):
        split = "SPLIT:    AUDIO DELAY=  00:00:00:05"
        cut = cut_from(a_list(a_row(1, 0, 0, 24), split, a_row(1, 5, 5, 19, channels="A"), SHOT))

        assert (cut.shots[0].code, cut.placements[0].source.clip, cut.placements[0].at) == ("SH010", "SH010", 5)
        assert remarks_of(cut) == [(5, "a split edit: picture and sound are taken as the lines of the event have them")]

    def test_a_name_that_belongs_to_nothing_is_told(self):
        lines = (a_row(1, 0, 0, 24), SHOT, "* TO CLIP NAME: SH020", "* SOURCE FILE: a", "* SOURCE FILE: b")
        texts = [text for _, text in remarks_of(read(a_list(*lines)))]

        assert texts == [
            f"cannot be told to what of this event the name {name!r} belongs: left aside"
            for name in ("SH020", "a", "b")
        ]

    def test_every_problem_of_every_list_is_told_at_once(self):
        assert [line.partition(": ")[0] for line in told(a_list("1 x", "2 y"), a_list("3 z"))] == [
            "tram.edl:4",
            "tram.edl:5",
            "2.edl:4",
        ]
