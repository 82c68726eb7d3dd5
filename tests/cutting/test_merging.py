"""New lists, and what people made by hand in the cut before."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings

from tests.cutting.makers import (
    HAND,
    RATE,
    a_cut,
    a_placement,
    a_shot,
    by_hand,
    cuts,
    of_lists,
    played,
    worked_on,
)
from trackread.core.cut import Place, Source, shot_at
from trackread.core.sound import Sound
from trackread.core.timebase import parse_rate
from trackread.cutting.by_hand import with_placement, with_shot
from trackread.cutting.comparing import lost_at_head
from trackread.cutting.merging import merged
from trackread.errors import CutError

LISTS = a_cut(a_shot("SH010", 0, 24), a_shot("SH020", 24, 48, 100))
BRACK = Sound("ab" * 32, 48000, 48000 * 60)
NEW = Place("new.edl", 9)


def spans(cut):
    return [(shot.name, shot.first, shot.stop) for shot in cut.shots]


def heard(cut):
    """What is placed by hand: its first frame and the one after its last, and the frame of the take it starts with."""
    placed = [one for one in cut.placements if one.place.by_hand]
    return [(one.at, one.stop, one.source.start * 24) for one in placed]


def told(cut):
    return [f"{one.place}: {one.text}" for one in cut.remarks]


class TestShots:
    FORMER = with_placement(with_shot(with_shot(LISTS, "SH900", 48, HAND), "SH910", 12, HAND), "SH900", 4, by_hand())

    def test_a_shot_made_by_hand_follows_the_new_lists_with_what_is_placed_in_it(self):
        new = a_cut(a_shot("SH010", 0, 30), a_shot("SH020", 30, 48, 100))
        cut = merged(new, self.FORMER)

        assert spans(cut)[2:] == [("SH900", 78, 126), ("SH910", 126, 138)]
        assert heard(cut) == [(82, 94, 0)]
        assert cut.remarks == ()

    def test_a_shot_that_the_lists_have_now_is_theirs_and_told(self):
        new = a_cut(a_shot("SH900", 0, 24, place=NEW), a_shot("SH010", 24, 24))
        cut = merged(new, self.FORMER)

        assert spans(cut) == [("SH900", 0, 24), ("SH010", 24, 48), ("SH910", 48, 60)]
        assert heard(cut) == [(4, 16, 0)]
        assert told(cut) == [
            "new.edl:9: SH900 was made by hand (by hand, by TUM), and the list has it now: taken from the list",
            "new.edl:9: SH900 has another picture: what was placed in it by hand stays on the same frames",
        ]

    def test_remarks_of_the_new_lists_stay_and_those_of_the_former_do_not(self):
        mine = with_placement(LISTS, "SH010", 20, by_hand())

        assert len(mine.remarks) == 1
        assert merged(LISTS, mine).remarks == ()

    def test_cuts_of_two_rates_are_not_merged(self):
        with pytest.raises(CutError, match="only cuts of one rate"):
            merged(a_cut(rate=parse_rate("25")), LISTS)


class TestPlacements:
    FORMER = with_placement(LISTS, "SH020", 10, by_hand(start=200, length=20))

    def test_what_is_placed_by_hand_goes_where_its_shot_goes(self):
        new = a_cut(a_shot("SH020", 0, 48, 100), a_shot("SH010", 48, 24))

        assert heard(merged(new, self.FORMER)) == [(10, 30, 200)]

    @pytest.mark.parametrize(
        ("head", "placed", "remarks"),
        [
            (4, (30, 50, 200), 0),
            (-4, (38, 58, 200), 0),
            (16, (24, 38, 206), 1),
        ],
    )
    def test_what_is_placed_by_hand_stays_with_the_picture_when_the_head_of_its_shot_changes(
        self, head, placed, remarks
    ):
        new = a_cut(a_shot("SH010", 0, 24), a_shot("SH020", 24, 48 - head, 100 + head))
        cut = merged(new, self.FORMER)

        assert heard(cut) == [placed]
        assert len(cut.remarks) == remarks

    def test_what_plays_beyond_a_shorter_shot_is_cut_and_told(self):
        new = a_cut(a_shot("SH010", 0, 24), a_shot("SH020", 24, 25, 100))
        cut = merged(new, self.FORMER)

        assert heard(cut) == [(34, 49, 200)]
        assert told(cut) == [
            "by hand, by TUM: L0107-3, placed by hand in SH020, has 5 frames fewer at its end, as the shot has"
        ]

    def test_what_lies_beyond_a_shorter_shot_is_left_out_and_told(self):
        new = a_cut(a_shot("SH010", 0, 24), a_shot("SH020", 24, 8, 100))
        cut = merged(new, self.FORMER)

        assert (heard(cut), len(cut.remarks)) == ([], 1)

    def test_what_was_in_a_shot_that_is_gone_is_told(self):
        cut = merged(a_cut(a_shot("SH010", 0, 24)), self.FORMER)

        assert heard(cut) == []
        assert told(cut) == ["by hand, by TUM: L0107-3 was placed by hand in SH020, which is not in the cut: left out"]

    def test_what_was_in_no_shot_is_told(self):
        stray = replace(LISTS, placements=(replace(by_hand(), at=-5),))

        assert told(merged(LISTS, stray)) == [
            "by hand, by TUM: L0107-3 was placed by hand in no shot, which is not in the cut: left out"
        ]

    @pytest.mark.parametrize(
        ("start", "shot_frame", "superseded"),
        [
            (200, 10, True),
            (200, 30, True),
            (219, 0, True),
            (220, 0, False),
            (191, 0, True),
            (190, 0, False),
        ],
    )
    def test_a_recording_that_the_lists_play_in_the_shot_now_is_theirs(self, start, shot_frame, superseded):
        """By hand 200 to 219 of the recording: the list has the same recording if it plays any of these frames."""
        known = replace(by_hand(start=200, length=20), sound=BRACK, start=Fraction(200 * 2000))
        theirs = a_placement(24 + shot_frame, 10, start, "brack.wav", place=NEW)
        theirs = replace(theirs, sound=BRACK, start=Fraction(start * 2000))
        new = replace(LISTS, placements=(theirs,))
        cut = merged(new, with_placement(LISTS, "SH020", 10, known))

        assert (heard(cut) == []) == superseded
        assert told(cut) == superseded * [
            "new.edl:9: L0107-3 was placed in SH020 by hand (by hand, by TUM), and the list has it there now: "
            "taken from the list"
        ]

    def test_what_the_lists_play_of_it_in_another_shot_leaves_it(self):
        """Of one sound over two shots only the second half has what is placed by hand, and that is in SH020."""
        theirs = a_placement(14, 20, 200, "L0107-3")
        cut = merged(
            replace(LISTS, placements=(theirs,)), with_placement(LISTS, "SH010", 0, by_hand(start=212, length=8))
        )

        assert heard(cut) == [(0, 8, 212)]


@settings(max_examples=200)
@given(worked_on())
def test_the_same_lists_again_change_nothing(cut):
    again = merged(of_lists(cut), cut)

    assert replace(again, remarks=()) == replace(cut, remarks=())
    assert again.remarks == ()


@settings(max_examples=200)
@given(worked_on(), cuts())
def test_all_of_the_lists_is_there_and_what_is_not_as_it_was_is_told(former, new):
    cut = merged(new, former)
    after = {shot.name: shot for shot in cut.shots}
    kept = Counter(one for one in cut.placements if one.place.by_hand)

    assert replace(of_lists(cut), remarks=()) == new
    assert {shot.name for shot in former.shots if shot.place.by_hand} <= set(after)
    for one in former.placements:
        if one.place.by_hand:
            was = shot_at(former, one.at)
            expected = [moved(one, was, after[was.name])] if was.name in after else []
            name = one.source.file
            assert any(kept[each] for each in expected) or any(name in remark.text for remark in cut.remarks)


def moved(one, was, shot):
    """A placement at the same frame of the picture."""
    return replace(one, at=shot.first + one.at - was.first - (lost_at_head(was, shot, RATE) or 0))


@settings(max_examples=200)
@given(worked_on(), cuts())
def test_what_is_placed_by_hand_plays_within_a_shot_and_with_the_picture_that_it_had(former, new):
    cut = merged(new, former)
    with_picture = Counter(pictured(former))

    untold = {remark.text.partition(" has another picture")[0] for remark in cut.remarks}
    for name, picture, of_recording in pictured(cut):
        assert with_picture[name, picture, of_recording] or picture[0] in untold
    for one in cut.placements:
        if one.place.by_hand:
            assert any(shot.first <= one.at and one.heard_stop <= shot.stop for shot in cut.shots)


def pictured(cut):
    """For each frame on which something placed by hand is heard: which, the picture's frame, the recording's."""
    for one in cut.placements:
        if one.place.by_hand:
            shot = shot_at(cut, one.at)
            for frame, of_recording in played(cut, one):
                picture = shot.source.start * 24 + frame - shot.first
                yield one.source.file, (shot.name, picture), of_recording


@given(worked_on(), cuts())
def test_merging_twice_is_merging_with_the_last(former, new):
    once = merged(new, former)

    assert replace(merged(new, once), remarks=()) == replace(once, remarks=())


def test_a_name_alone_does_not_make_two_recordings_of_which_digests_differ_one():
    known = replace(by_hand(start=200), sound=BRACK, start=Fraction(0), source=Source(Fraction(0), clip="x"))
    theirs = replace(known, place=NEW, sound=replace(BRACK, digest="cd" * 32), at=30)
    cut = merged(replace(LISTS, placements=(theirs,)), with_placement(LISTS, "SH020", 10, known))

    assert len(heard(cut)) == 1
