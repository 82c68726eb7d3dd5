"""Lists to one cut: codes, parts, layers, lists of several tracks; and the laws that every cut keeps."""

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cutting.makers import (
    HERE,
    RATES,
    REEL,
    a_list,
    a_row,
    a_shot,
    cut_from,
    cuts,
    remarks_of,
)
from trackread.core.cut import Handles, Source, pieces_in, shot_at
from trackread.core.timebase import parse_rate
from trackread.cutting.events import Event, Terms, code_rule
from trackread.cutting.joining import joined
from trackread.cutting.pictures import pictures_of
from trackread.errors import CutError

SHOTS = ("* FROM CLIP NAME: SH010", "* FROM CLIP NAME: SH020")


def told(*texts, **terms):
    with pytest.raises(CutError) as error:
        cut_from(*texts, **terms)
    return str(error.value).split("\n")


class TestCodes:
    def test_a_rule_finds_the_code_in_the_clip_else_the_file_else_the_reel(self):
        rows = (
            a_row(1, 0, 0, 24),
            "* FROM CLIP NAME: tram_SH010_v3.mov",
            a_row(2, 0, 24, 24),
            "* FROM CLIP NAME: board",
            "* SOURCE FILE: SH020.mov",
            a_row(3, 0, 48, 24, reel="SH030"),
        )

        assert [one.code for one in cut_from(a_list(*rows), code=code_rule("(SH[0-9]{3})")).shots] == [
            "SH010",
            "SH020",
            "SH030",
        ]

    def test_a_picture_without_a_code_by_the_rule_is_told_and_is_no_shot(self):
        cut = cut_from(a_list(a_row(1, 0, 0, 24), "* FROM CLIP NAME: title card"), code=code_rule("(SH[0-9]+)"))

        assert cut.shots == ()
        assert remarks_of(cut) == [(4, "'title card' has no code of a shot in it by the rule: no shot")]

    def test_a_picture_without_a_name_is_told(self):
        assert told(a_list(a_row(1, 0, 0, 24))) == [
            "tram.edl:4: this picture has no clip name to take the code of its shot from: export the list with clip "
            "names"
        ]

    @pytest.mark.parametrize(("rule", "words"), [("(", "missing )"), ("SH", "put ( )"), ("(S)(H)", "put ( )")])
    def test_a_rule_that_is_none_is_told(self, rule, words):
        with pytest.raises(CutError, match=re.escape(f"{rule!r} is no rule for the codes of shots: {words}")):
            code_rule(rule)

    def test_a_code_that_stands_twice_is_in_parts_and_told(self):
        rows = (a_row(1, 0, 0, 24), SHOTS[0], a_row(2, 0, 24, 24), SHOTS[1], a_row(3, 50, 48, 24), SHOTS[0])
        cut = cut_from(a_list(*rows))

        assert [one.name for one in cut.shots] == ["SH010", "SH020", "SH010 (part 2)"]
        assert remarks_of(cut) == [(8, "SH010 is in the cut at tram.edl:4 already: this is part 2 of it")]

    def test_a_code_that_reads_as_a_part_of_another_is_told(self):
        parts = [a_row(1, 0, 0, 24), SHOTS[0], a_row(2, 500, 24, 24), SHOTS[0]]

        assert told(a_list(*parts, a_row(3, 0, 48, 24), "* FROM CLIP NAME: SH010 (part 2)")) == [
            "tram.edl:8: SH010 (part 2) is the name of the shot at tram.edl:6 as well: give it another"
        ]

    def test_a_cut_that_changes_nothing_of_what_is_seen_is_joined_and_told(self):
        rows = (a_row(1, 10, 0, 24), SHOTS[0], a_row(2, 34, 24, 12), SHOTS[0])
        cut = cut_from(a_list(*rows))

        assert [(one.first, one.length) for one in cut.shots] == [(0, 36)]
        assert remarks_of(cut) == [(6, "this cut within SH010 changes nothing of what is seen: joined")]


class TestLists:
    def test_the_first_picture_is_frame_0_of_all_lists(self):
        cut = cut_from(REEL, a_list(a_row(1, 0, 86412, 24, channels="A")))

        assert [(one.at, one.length) for one in cut.placements] == [(12, 24)]

    def test_a_start_that_is_said_is_frame_0(self):
        cut = cut_from(REEL, start=86376)

        assert (cut.start, cut.shots[0].first) == (86376, 24)
        assert (4, "nothing is seen for 24 frames before it") in remarks_of(cut)

    def test_a_picture_before_the_start_that_is_said_is_told(self):
        assert "tram.edl:4: SH010 starts 1 frame before the cut does" in told(REEL, start=86401)

    def test_pictures_that_every_list_repeats_are_taken_once(self):
        cut = cut_from(REEL, REEL)

        assert len(cut.shots) == 3
        assert remarks_of(cut)[-1] == (10, "is the same picture as at tram.edl:10: taken once")

    def test_a_sound_that_two_lists_have_is_taken_once(self):
        sound = a_list(a_row(1, 0, 86412, 24, channels="A"))
        cut = cut_from(REEL, sound, sound)

        assert len(cut.placements) == 1
        assert remarks_of(cut)[-1] == (4, "is the same sound as at 2.edl:4: taken once")

    def test_two_pictures_at_once_are_told(self):
        one, other = a_list(a_row(1, 0, 0, 24), SHOTS[0]), a_list(a_row(1, 0, 20, 24), SHOTS[1])

        assert told(one, other) == [
            "2.edl:4: starts 4 frames before the picture at tram.edl:4 stops: one track shows one picture at a time"
        ]

    def test_lists_of_two_counts_are_told(self):
        drop = f"FCM: DROP FRAME\n{a_row(1, 0, 0, 24, channels='A', rate=parse_rate('29.97df'))}\n"

        assert told(a_list(a_row(1, 0, 0, 24), SHOTS[0]), drop, rate="29.97") == [
            "2.edl:1: counts 30000/1001df, and tram.edl counts 30000/1001: export both with one"
        ]

    def test_a_list_without_events_is_told(self):
        assert told("") == ["tram.edl:1: holds no event of picture or sound: is it a cut list?"]

    def test_sounds_without_a_picture_are_told(self):
        sounds = a_list(a_row(1, 0, 86300, 24, channels="A"), a_row(2, 0, 86412, 24, channels="A"))
        elsewhere = a_list(a_row(1, 0, 12, 24, channels="A"), a_row(2, 0, 48, 24, channels="A"))
        cut = cut_from(REEL, sounds, elsewhere)
        told = [(one.place.file, one.place.line, one.text) for one in cut.remarks]

        assert told[-2:] == [
            ("2.edl", 4, "plays before the first shot or after the last: heard with no picture"),
            ("3.edl", 4, "no sound of this list plays with any shot: has it another start timecode than the picture?"),
        ]

    def test_sounds_alone_count_from_the_first_of_them(self):
        assert [one.at for one in cut_from(a_list(a_row(1, 0, 90, 24, channels="A"))).placements] == [0]


class TestLaws:
    @given(st.lists(st.integers(1, 500), min_size=1, max_size=8), st.sampled_from(RATES), st.integers(0, 10**6))
    def test_the_sum_of_the_shots_is_the_cut(self, lengths, name, start):
        rate = parse_rate(name)
        at, lines = start, [f"FCM: {'' if rate.drop else 'NON-'}DROP FRAME"]
        for number, length in enumerate(lengths, 1):
            lines += [a_row(number, 0, at, length, rate=rate), f"* FROM CLIP NAME: SH{number:03}"]
            at += length
        cut = cut_from("\n".join(lines), rate=name)

        assert [one.length for one in cut.shots] == lengths
        assert cut.length == sum(lengths) == at - start
        assert cut.start == start

    @given(cuts())
    def test_every_frame_of_every_shot_is_of_that_shot_and_no_other(self, cut):
        frames = [shot_at(cut, frame) for frame in range(cut.length)]

        assert [one for one in frames if one] == [shot for shot in cut.shots for _ in range(shot.length)]

    @given(cuts(), st.data())
    def test_parting_a_shot_and_joining_it_gives_the_same(self, cut, data):
        shots = []
        for shot in cut.shots:
            length = data.draw(st.integers(1, shot.length))
            shots += [shot] if length == shot.length else parted(shot, length, cut.rate)

        assert joined(shots, cut.rate) == cut.shots

    @given(cuts(), st.integers(-20, 20))
    def test_moving_a_sound_by_n_moves_its_frames_by_n(self, cut, n):
        for one in cut.placements:
            moved = replace(cut, placements=(replace(one, at=one.at + n),))
            for shot in cut.shots:
                was_heard = range(one.at - shot.first, one.heard_stop - shot.first)

                assert heard_frames(moved, shot) == [frame for frame in range(shot.seen) if frame - n in was_heard]

    @given(cuts())
    def test_each_frame_on_which_a_sound_is_heard_is_in_one_piece_of_it_in_its_shot(self, cut):
        for one in cut.placements:
            for frame in range(one.at, one.heard_stop):
                shot = shot_at(cut, frame)
                pieces = [each for each in pieces_in(cut, shot) if each.placement is one] if shot else []

                assert [each.first <= frame - shot.first < each.stop for each in pieces] == ([True] if shot else [])


def heard_frames(cut, shot):
    return [frame for piece in pieces_in(cut, shot) for frame in range(piece.first, piece.stop)]


def parted(shot, length, rate):
    """Two shots for one, the picture running on."""
    source = replace(shot.source, start=shot.source.start + Fraction(length) / rate.per_second)
    head = replace(shot, length=length, fade_out=0)
    return [head, replace(shot, first=shot.first + length, length=shot.length - length, source=source, part=1)]


def test_joined_shots_have_the_handles_of_both_ends():
    shot = a_shot(length=24, handles=Handles(3, 5))
    head, tail = parted(shot, 10, parse_rate("24"))
    parts = (replace(head, handles=Handles(3, 19)), replace(tail, handles=Handles(13, 5)))

    assert joined(parts, parse_rate("24")) == (shot,)


PICTURES = st.builds(
    lambda first, length, layer, number: Event(
        HERE, first, first + length, Source(Fraction(0), clip=f"SH{number:04}"), picture=True, layer=layer
    ),
    st.integers(0, 40),
    st.integers(1, 20),
    st.integers(1, 4),
    st.integers(0, 9999),
)


@given(st.lists(PICTURES, max_size=8, unique_by=lambda one: one.source.clip))
def test_each_frame_shows_the_picture_of_the_highest_layer_that_has_one(events):
    found = pictures_of(events, Terms(parse_rate("24")), parse_rate("24"))
    tops = {}
    for event in sorted(events, key=lambda one: one.layer):
        tops |= dict.fromkeys(range(event.start, event.stop), event.source.clip)

    if not found.problems:  # two of one layer at once
        assert {frame: shot.code for shot in found.shots for frame in range(shot.first, shot.stop)} == tops
    else:
        pairs = [(one, other) for one in events for other in events if one is not other and one.layer == other.layer]
        assert any(one.start < other.stop and other.start < one.stop for one, other in pairs)
