"""What a person makes without a list: shots behind the lists', and placements in any shot."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cutting.makers import HAND, HERE, a_cut, a_placement, a_shot, by_hand, of_lists, played, worked_on
from trackread.core.cut import Source, pieces_in
from trackread.core.cut_change import DifferenceKind
from trackread.core.sound import Sound
from trackread.cutting.by_hand import (
    find_shot,
    trimmed,
    with_placement,
    with_shot,
    without_placement,
    without_shot,
)
from trackread.cutting.comparing import compare
from trackread.cutting.words import in_words
from trackread.errors import CutError

CUT = a_cut(a_shot("SH010", 0, 24), a_shot("SH020", 24, 48, 100), a_shot("SH010", 72, 24, part=2))
WITH_SHOT = with_shot(CUT, "SH900", 48, HAND)


def spans(cut):
    return [(shot.name, shot.first, shot.stop) for shot in cut.shots]


def heard(cut):
    """What is placed by hand: its first frame and the one after its last, and the frame of the take it starts with."""
    placed = [one for one in cut.placements if one.place.by_hand]
    return [(one.at, one.stop, one.source.start * 24) for one in placed]


def told(cut):
    return [str(one.text) for one in cut.remarks]


class TestFinding:
    @pytest.mark.parametrize("text", ["SH010/2", "sh010/2", " SH010 (part 2) "])
    def test_a_part_of_a_shot_is_found_as_people_write_it(self, text):
        assert find_shot(CUT, text) is CUT.shots[2]

    @pytest.mark.parametrize("text", ["SH010", "sh010", "Sh010/1"])
    def test_a_code_alone_is_its_first_part(self, text):
        assert find_shot(CUT, text) is CUT.shots[0]

    @pytest.mark.parametrize(
        ("text", "instead"),
        [
            ("SH02", "is SH020 or SH010/2 or SH010 meant?"),
            ("sh010/3", "is SH010/2"),
            ("tram", "it has 3 shots, and none of a name like it"),
        ],
    )
    def test_a_shot_that_is_not_there_is_told_with_what_is(self, text, instead):
        with pytest.raises(CutError, match=r"^the shot '.*' is not in the cut: ") as error:
            find_shot(CUT, text)
        assert instead in str(error.value)

    def test_two_that_differ_by_capitals_alone_need_them(self):
        cut = a_cut(a_shot("sh010"), a_shot("SH010", 24))

        assert find_shot(cut, "SH010") is cut.shots[1]
        with pytest.raises(CutError, match="'Sh010' may be sh010 or SH010: write it with its capitals"):
            find_shot(cut, "Sh010")


class TestShots:
    def test_a_shot_made_by_hand_stands_behind_all_others(self):
        assert spans(WITH_SHOT)[-1] == ("SH900", 96, 144)
        assert WITH_SHOT.shots[:3] == CUT.shots

    def test_a_sound_that_outlasts_the_picture_plays_in_no_shot_made_by_hand(self):
        cut = with_shot(replace(CUT, placements=(a_placement(at=90, length=30),)), "SH900", 48, HAND)

        assert spans(cut)[-1] == ("SH900", 120, 168)
        assert pieces_in(cut, cut.shots[-1]) == ()

    @pytest.mark.parametrize("code", ["SH010", "sh020", "SH010 (part 2)", "SH010/2"])
    def test_a_code_that_the_cut_has_is_refused(self, code):
        with pytest.raises(CutError, match=r"is in the cut already \(tram.edl:1\): give the new shot another code"):
            with_shot(CUT, code, 24, HAND)

    @pytest.mark.parametrize(("code", "length"), [(" ", 24), ("SH900", 0)])
    def test_a_shot_without_a_code_or_a_frame_is_refused(self, code, length):
        with pytest.raises(CutError, match="a shot has a code and one frame at least"):
            with_shot(CUT, code, length, HAND)

    def test_a_shot_that_has_a_file_is_not_made_by_hand(self):
        with pytest.raises(ValueError, match=r"SH900 is made by hand, so it has no file, tram\.edl"):
            with_shot(CUT, "SH900", 24, HERE)

    def test_a_trim_is_told_as_any_other_and_pushes_along_what_is_behind(self):
        before = with_shot(WITH_SHOT, "SH910", 24, HAND)
        after = trimmed(before, "sh900", 4, -6)

        assert spans(after)[-2:] == [("SH900", 96, 146), ("SH910", 146, 170)]
        assert [one for change in compare(before, after) for one in in_words(change, first_frame=1)] == [
            "SH900 loses 4 frames at its head: what was frame 5 is now frame 1",
            "SH900 gains 6 frames at its end, from frame 49",
            "SH910 is pushed along by what is before it: 2 frames later in the cut",
        ]

    def test_what_is_placed_in_a_trimmed_shot_stays_with_its_picture_and_is_cut_with_it(self):
        cut = with_placement(WITH_SHOT, "SH900", 2, by_hand(start=100))
        cut = with_placement(cut, "SH900", 40, by_hand(start=200, length=8))
        after = trimmed(cut, "SH900", 4, 2)

        assert heard(cut) == [(98, 110, 100), (136, 144, 200)]
        assert heard(after) == [(96, 106, 102), (132, 138, 200)]
        assert told(after) == [
            "L0107-3, placed by hand in SH900, has 2 frames fewer at its beginning, as the shot has",
            "L0107-3, placed by hand in SH900, has 2 frames fewer at its end, as the shot has",
        ]

    def test_what_lay_in_the_frames_cut_off_is_left_out_and_told(self):
        cut = with_placement(WITH_SHOT, "SH900", 0, by_hand(length=4))

        assert heard(trimmed(cut, "SH900", 4, 0)) == []
        assert told(trimmed(cut, "SH900", 4, 0)) == [
            "L0107-3, placed by hand in SH900, would play on none of its frames: left out"
        ]

    @pytest.mark.parametrize("trim", [(48, 0), (24, 24), (0, 50)])
    def test_a_trim_that_leaves_nothing_is_refused(self, trim):
        with pytest.raises(CutError, match=r"SH900 has 48 frames: with .* off its end nothing would be left"):
            trimmed(WITH_SHOT, "SH900", *trim)

    @pytest.mark.parametrize(
        "change", [lambda cut: trimmed(cut, "SH020", 1, 0), lambda cut: without_shot(cut, "SH020")]
    )
    def test_a_shot_of_a_list_is_left_to_its_list(self, change):
        with pytest.raises(CutError, match=r"SH020 is the list's, at tram\.edl:1: only shots made by hand can be"):
            change(WITH_SHOT)

    def test_a_shot_taken_out_takes_what_is_placed_in_it_along_and_closes_the_gap(self):
        cut = with_placement(with_shot(WITH_SHOT, "SH910", 24, HAND), "SH900", 2, by_hand())
        cut = with_placement(cut, "SH910", 2, by_hand(start=50))
        after = without_shot(cut, "SH900")

        assert spans(after)[-1] == ("SH910", 96, 120)
        assert heard(after) == [(98, 110, 50)]
        assert told(after) == ["L0107-3 was placed by hand in SH900, which is taken out: left out"]


class TestPlacements:
    def test_what_is_placed_begins_on_a_frame_of_its_shot_and_ends_with_it(self):
        cut = with_placement(CUT, "SH020", 40, by_hand(start=100, length=20, fade_out=4))

        assert heard(cut) == [(64, 72, 100)]
        assert cut.placements[0].fade_out == 0
        assert told(cut) == ["L0107-3, placed by hand in SH020, has 16 frames fewer at its end, as the shot has"]

    def test_what_ends_within_its_shot_is_told_nothing_of(self):
        cut = with_placement(CUT, "SH020", 0, by_hand(length=44, fade_out=4))

        assert (cut.placements[0].heard_stop, cut.placements[0].fade_out, cut.remarks) == (72, 4, ())

    def test_what_fades_out_beyond_its_shot_fades_to_its_end(self):
        cut = with_placement(CUT, "SH020", 30, by_hand(length=16, fade_out=4))

        assert (cut.placements[0].stop, cut.placements[0].fade_out) == (70, 2)
        assert told(cut) == ["L0107-3, placed by hand in SH020, has 2 frames fewer at its end, as the shot has"]

    @pytest.mark.parametrize("at", [-1, 48])
    def test_a_frame_outside_of_the_shot_is_refused(self, at):
        with pytest.raises(CutError, match=f"SH020 has 48 frames: L0107-3 cannot begin {at} frames into it"):
            with_placement(CUT, "SH020", at, by_hand())

    def test_one_recording_is_placed_on_a_frame_once(self):
        cut = with_placement(CUT, "SH020", 4, by_hand())

        with pytest.raises(
            CutError, match=r"L0107-3 begins 4 frames into SH020 already .by hand, by TUM.: take it out"
        ):
            with_placement(cut, "SH020", 4, by_hand(start=7))
        assert len(with_placement(cut, "SH020", 5, by_hand()).placements) == 2
        assert len(with_placement(cut, "SH020", 4, by_hand(name="L0108-1")).placements) == 2

    def test_what_has_a_file_is_not_placed_by_hand(self):
        with pytest.raises(ValueError, match=r"tram\.edl:1: what is placed by hand has no file"):
            with_placement(CUT, "SH020", 0, a_placement())

    def test_one_placement_is_taken_out_and_no_other(self):
        cut = with_placement(with_placement(CUT, "SH020", 4, by_hand()), "SH020", 20, by_hand(start=30))
        listed = a_placement(at=30, name="L0107-3")
        cut = replace(cut, placements=(cut.placements[0], listed, cut.placements[1]))

        after = without_placement(cut, "SH020", lambda one: one.source.start == 0)
        assert after.placements == (listed, cut.placements[2])
        with pytest.raises(
            CutError, match="2 of what is placed by hand in SH020 are meant: there is L0107-3 4 frames into it and"
        ):
            without_placement(cut, "SH020", lambda one: one.source.file == "L0107-3")
        with pytest.raises(
            CutError, match="none of what is placed by hand in SH020 is meant: there is L0107-3 4 frames into"
        ):
            without_placement(cut, "SH020", lambda _: False)
        with pytest.raises(CutError, match="nothing is placed by hand in SH010"):
            without_placement(cut, "SH010", lambda _: True)


@given(worked_on(), st.integers(-8, 8), st.integers(-8, 8))
def test_a_trim_keeps_what_is_heard_with_each_frame_that_is_left(cut, head, tail):
    mine = [shot for shot in cut.shots if shot.place.by_hand]
    if not mine or mine[0].length <= head + tail:
        return
    after = trimmed(cut, mine[0].name, head, tail)
    shot = find_shot(after, mine[0].name)
    kept = range(max(0, head), min(mine[0].length, mine[0].length - tail))

    assert in_shot(after, shot, head, kept) == in_shot(cut, mine[0], 0, kept)
    assert of_lists(after) == of_lists(cut)


def in_shot(cut, shot, head, frames):
    """What is heard by hand on some frames of a shot, counted from `head` at its first."""
    return Counter(
        (frame - shot.first + head, heard, one.source.file)
        for one in cut.placements
        if one.place.by_hand and shot.first <= one.at < shot.stop
        for frame, heard in played(cut, one)
        if frame - shot.first + head in frames
    )


@given(worked_on(), st.integers(-8, 8))
def test_frames_added_and_cut_off_again_leave_all_as_it_was(cut, frames):
    mine = [shot for shot in cut.shots if shot.place.by_hand]
    if mine:
        added = trimmed(cut, mine[0].name, -abs(frames), -3)

        assert trimmed(added, mine[0].name, abs(frames), 3) == cut


@given(worked_on())
def test_all_that_is_placed_by_hand_plays_within_its_shot(cut):
    for one in cut.placements:
        if one.place.by_hand:
            shots = [shot for shot in cut.shots if shot.first <= one.at and one.heard_stop <= shot.stop]
            assert len(shots) == 1


@given(worked_on())
def test_taking_out_all_that_was_made_by_hand_leaves_the_lists_cut(cut):
    for shot in reversed(cut.shots):
        if shot.place.by_hand:
            cut = without_shot(cut, shot.name)
    for one in [one for one in cut.placements if one.place.by_hand]:
        shot = next(shot for shot in cut.shots if shot.first <= one.at < shot.stop)
        cut = without_placement(cut, shot.name, lambda other, one=one: other is one)

    assert replace(cut, remarks=()) == of_lists(cut)


def test_a_known_recording_is_cut_to_the_sample():
    """48000/24 samples a frame."""
    sound = Sound("ab" * 32, 48000, 48000 * 60)
    one = replace(by_hand(), source=Source(Fraction(2), clip="L0107-3"), sound=sound, start=Fraction(96000))
    cut = trimmed(with_placement(WITH_SHOT, "SH900", 0, one), "SH900", 3, 0)

    assert (cut.placements[0].start, cut.placements[0].source.start) == (96000 + 3 * 2000, 2 + Fraction(3, 24))
    assert DifferenceKind.HEAD in [one.kind for change in compare(WITH_SHOT, cut) for one in change.differences]
