"""Two cuts compared: every difference told, from the first frame on which a shot is no longer what it was.

The laws are checked against comparing frame by frame what is heard.
"""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cutting.makers import a_cut, a_placement, a_shot, a_source, cuts, edited
from trackread.core.cut import pieces_in, source_at
from trackread.core.cut_change import Difference, DifferenceKind, ShotChange
from trackread.core.sound import Sound
from trackread.core.timebase import parse_rate
from trackread.cutting.comparing import compare
from trackread.cutting.words import TOLD, in_words
from trackread.errors import CutError

KIND = DifferenceKind
SHOTS = (a_shot("SH010", 0, 24), a_shot("SH020", 24, 48, 100), a_shot("SH030", 72, 24))
BRACK = a_placement(at=30, length=20, start=240)


def told(after, before=None, first_frame=1):
    """What an animator reads."""
    changes = compare(before or a_cut(*SHOTS, sounds=[BRACK]), after)
    return [sentence for change in changes for sentence in in_words(change, first_frame=first_frame)]


def with_shot(**changes):
    """The cut before with another SH020, and what is after it pushed along."""
    middle = replace(SHOTS[1], **changes)
    return (SHOTS[0], middle, replace(SHOTS[2], first=middle.stop))


def with_sound(**changes):
    source = {"source": a_source(changes.pop("start"))} if "start" in changes else {}
    return a_cut(*SHOTS, sounds=[replace(BRACK, **changes, **source)])


class TestShots:
    def test_a_cut_compared_with_itself_has_only_the_same(self):
        cut = a_cut(*SHOTS, sounds=[BRACK])

        assert compare(cut, cut) == tuple(ShotChange(shot, shot) for shot in SHOTS)
        assert told(cut) == []

    def test_a_new_shot_and_one_that_is_gone_are_told(self):
        after = a_cut(SHOTS[0], a_shot("SH025", 24, 48), SHOTS[2])

        assert told(after) == ["SH025 is new: 48 frames", "SH020 is gone"]

    def test_what_is_behind_a_longer_shot_is_pushed_along_and_no_frame_of_it_differs(self):
        after = a_cut(*with_shot(length=54), sounds=[BRACK])
        changes = compare(a_cut(*SHOTS, sounds=[BRACK]), after)

        assert told(after) == [
            "SH020 gains 6 frames at its end, from frame 49",
            "SH030 is pushed along by what is before it: 6 frames later in the cut",
        ]
        assert [change.first for change in changes] == [None, 48, None]

    def test_a_shot_that_ends_earlier_differs_from_its_new_end_on(self):
        assert told(a_cut(*with_shot(length=40), sounds=[BRACK]))[0] == "SH020 loses 8 frames at its end, from frame 41"

    def test_a_head_cut_off_is_told_once_and_not_of_each_sound(self):
        """Four frames off: SH020 starts with what was its frame 5, and its sound with it is four frames earlier."""
        shots = with_shot(length=44, source=replace(SHOTS[1].source, start=Fraction(104, 24)))
        after = a_cut(*shots, sounds=[replace(BRACK, at=BRACK.at - 4)])

        assert told(after)[0] == "SH020 loses 4 frames at its head: what was frame 5 is now frame 1"
        assert len([sentence for sentence in told(after) if "SH020" in sentence]) == 1

    def test_a_head_added_is_told(self):
        shots = with_shot(length=51, source=replace(SHOTS[1].source, start=Fraction(97, 24)))
        after = a_cut(*shots, sounds=[replace(BRACK, at=BRACK.at + 3)])

        assert told(after)[0] == "SH020 gains 3 frames at its head: what was frame 1 is now frame 4"

    def test_a_picture_from_elsewhere_leaves_the_frames_as_they_are(self):
        """Common practice, no source: a shot that was a drawing becomes the animated one."""
        shots = with_shot(source=replace(SHOTS[1].source, clip="SH020_v2.mov", start=Fraction(0)))
        (_, change, _) = compare(a_cut(*SHOTS, sounds=[BRACK]), a_cut(*shots, sounds=[BRACK]))

        assert change.first is None
        assert told(a_cut(*shots, sounds=[BRACK])) == [
            "SH020 has another picture: its frames cannot be told from those before"
        ]

    def test_a_shot_in_another_place_has_moved_and_those_it_passes_are_pushed_along(self):
        shots = (replace(SHOTS[2], first=0), replace(SHOTS[0], first=24), replace(SHOTS[1], first=48))

        assert told(a_cut(*shots, sounds=[replace(BRACK, at=BRACK.at + 24)])) == [
            "SH030 stands elsewhere among the shots: 72 frames earlier in the cut",
            "SH010 is pushed along by what is before it: 24 frames later in the cut",
            "SH020 is pushed along by what is before it: 24 frames later in the cut",
        ]

    def test_a_shorter_dissolve_and_another_speed_are_told(self):
        before = a_cut(*with_shot(fade_in=12), sounds=[BRACK])

        assert told(a_cut(*with_shot(fade_in=8), sounds=[BRACK]), before) == ["SH020 comes in over 4 frames fewer"]
        assert "SH020 has a picture that plays at another speed, from frame 1" in told(
            a_cut(*with_shot(speed=Fraction(2)))
        )

    def test_a_longer_dissolve_out_of_a_shot_is_more_of_it_to_see(self):
        assert told(a_cut(*with_shot(fade_out=6), sounds=[BRACK])) == ["SH020 gains 6 frames at its end, from frame 49"]

    def test_cuts_of_two_rates_are_not_compared(self):
        with pytest.raises(CutError, match="'Tram' runs at 24/1 and 'Tram' at 25/1: only cuts of one rate"):
            compare(a_cut(), a_cut(rate=parse_rate("25")))


class TestSounds:
    @pytest.mark.parametrize(
        ("changes", "sentence"),
        [
            ({"at": 33}, "01-brack.wav 3 frames later, from frame 7"),
            ({"at": 29}, "01-brack.wav 1 frame earlier, from frame 6"),
            (
                {"start": 243},
                "01-brack.wav on the same frames, but what is 3 frames later in the recording, from frame 7",
            ),
            ({"speed": Fraction(11, 10)}, "01-brack.wav at 1.1 times its own speed, and before at 1, from frame 7"),
            ({"at": 32, "start": 242, "length": 18}, "2 frames fewer of 01-brack.wav at its beginning, from frame 7"),
            ({"length": 25}, "5 frames more of 01-brack.wav at its end, from frame 27"),
            ({"length": 15}, "5 frames fewer of 01-brack.wav at its end, from frame 22"),
        ],
    )
    def test_a_sound_that_differs_is_told_from_its_first_frame_on(self, changes, sentence):
        assert told(with_sound(**changes)) == [f"SH020 has {sentence}"]

    def test_a_sound_that_moves_and_is_cut_is_told_both(self):
        assert told(with_sound(at=33, length=16)) == [
            "SH020 has 01-brack.wav 3 frames later, from frame 7",
            "SH020 has 4 frames fewer of 01-brack.wav at its end, from frame 7",
        ]

    def test_a_new_sound_and_one_that_is_gone_are_told(self):
        assert told(a_cut(*SHOTS, sounds=[a_placement(at=40, length=8, name="03-pell.wav")])) == [
            "SH020 no longer has the sound 01-brack.wav, from frame 7",
            "SH020 has a new sound, 03-pell.wav, from frame 17",
        ]

    def test_another_take_of_the_same_recording_is_another_sound(self):
        assert told(with_sound(start=900)) == [
            "SH020 no longer has the sound 01-brack.wav, from frame 7",
            "SH020 has a new sound, 01-brack.wav, from frame 7",
        ]

    def test_a_sound_over_two_shots_is_told_where_it_differs(self):
        long = a_placement(at=60, length=24)
        before = a_cut(*SHOTS, sounds=[long])

        assert told(a_cut(*SHOTS, sounds=[replace(long, length=20)]), before) == [
            "SH030 has 4 frames fewer of 01-brack.wav at its end, from frame 9"
        ]
        assert [sentence[:5] for sentence in told(a_cut(*SHOTS, sounds=[replace(long, at=62)]), before)] == [
            "SH020",
            "SH030",
        ]

    def test_a_recording_is_itself_by_its_digest_whatever_the_lists_call_it(self):
        sound = Sound("ab" * 32, 48000, 48000 * 60)
        known = replace(BRACK, sound=sound, start=Fraction(480000))
        renamed = replace(known, source=a_source(0, "x.wav"))
        other = replace(known, sound=replace(sound, digest="cd" * 32))

        assert told(a_cut(*SHOTS, sounds=[renamed]), a_cut(*SHOTS, sounds=[known])) == []
        assert len(told(a_cut(*SHOTS, sounds=[other]), a_cut(*SHOTS, sounds=[known]))) == 2

    def test_a_sound_that_only_changes_its_track_is_no_difference(self):
        assert told(with_sound(tracks=("A7", "A8"))) == []

    def test_two_equal_sounds_of_which_one_is_taken_out_are_told(self):
        twice = [BRACK, replace(BRACK, tracks=("A2",))]

        assert told(a_cut(*SHOTS, sounds=[BRACK]), a_cut(*SHOTS, sounds=twice)) == [
            "SH020 no longer has the sound 01-brack.wav, from frame 7"
        ]

    def test_of_two_pieces_of_one_recording_each_is_compared_with_itself(self):
        pieces = [a_placement(at=26, length=12, start=0), a_placement(at=44, length=12, start=6)]
        moved = [pieces[0], replace(pieces[1], at=46)]

        assert told(a_cut(*SHOTS, sounds=moved), a_cut(*SHOTS, sounds=pieces)) == [
            "SH020 has 01-brack.wav 2 frames later, from frame 21"
        ]


@settings(max_examples=150)
@given(cuts(), cuts())
def test_every_shot_of_both_cuts_is_in_one_change(before, after):
    changes = compare(before, after)

    assert [one.after for one in changes if one.after] == list(after.shots)
    assert sorted(one.before.first for one in changes if one.before) == [shot.first for shot in before.shots]


@settings(max_examples=300)
@given(st.one_of(edited(), edited(), st.tuples(cuts(), cuts())))
def test_the_first_frame_of_a_change_is_the_first_on_which_anything_differs(two):
    before, after = two
    for change in compare(before, after):
        if change.before and change.after:
            head = sum(-one.frames for one in change.differences if one.kind is KIND.HEAD)
            was, now = on_frames(before, change.before, 0), on_frames(after, change.after, head)
            differing = [frame for frame in {*was, *now} if was.get(frame) != now.get(frame)]

            assert change.first == (max(0, min(differing)) if differing else None)


@given(cuts(), st.integers(1, 5))
def test_a_sound_moved_by_n_is_told_as_moved_by_n_in_each_of_its_shots(cut, n):
    for place, one in enumerate(cut.placements):
        alone = replace(cut, placements=(one,))
        moved = replace(cut, placements=(replace(one, at=one.at + n),))
        kinds = [
            (each.kind, each.frames)
            for change in compare(alone, moved)
            for each in change.differences
            if each.before and each.after
        ]

        assert set(kinds) <= {(KIND.SOUND_MOVED, n)}, place


def on_frames(cut, shot, head):
    """What is heard on each frame of a shot: which recording, from which second, at which speed."""
    frames = {head + frame: Counter() for frame in range(shot.seen)}
    for piece in pieces_in(cut, shot):
        one = piece.placement
        for frame in range(piece.first, piece.stop):
            second = source_at(one, shot.first + frame, cut.rate)
            frames[head + frame][one.source.file, second, one.speed] += 1
    return frames


@pytest.mark.parametrize("kind", DifferenceKind)
def test_every_difference_has_its_words(kind):
    sound = BRACK if kind.startswith("sound") else None
    first = None if kind in (KIND.MOVED, KIND.SHIFTED, KIND.REPLACED) else 4
    change = ShotChange(SHOTS[0], SHOTS[0], (Difference(kind, Fraction(-3), first, sound, sound),))

    assert kind in TOLD
    (sentence,) = in_words(change, first_frame=1)
    assert sentence.startswith("SH010 ")
    assert "{" not in sentence
