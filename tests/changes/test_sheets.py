"""What has become of a sheet that is out: since when it is stale, what is to be done again, and in which words.

The sentences are read by an animator, so they have the numbers that are printed: frame 0 is 1.
"""

from dataclasses import replace

import pytest

from tests.changes.makers import LENGTH, a_cell, a_line, a_sheet, a_voice, brack, later, trimmed, worn
from trackread.changes.sheets import compare_sheets
from trackread.core.performance import Tone
from trackread.core.sheet import Beat
from trackread.core.timebase import Frame, parse_rate

HEAD_CUT = "5 frames cut off its head: what was frame 6 is 1 now"
STEP = brack().words[2]
ISSUED = a_sheet(brack(), lines=(a_line(),))


def told(after, before=ISSUED, lost=0):
    """The sentences, where a sheet is stale."""
    return compare_sheets(before, after, lost).told


def speaking(before=None, **columns):
    """The issued sheet with other columns of BRACK."""
    return replace(before or ISSUED, voices=(replace(brack(), **columns),))


def saying(*words):
    """The issued sheet with other words from the third on."""
    return speaking(words=(*brack().words[:2], *words))


class TestEnds:
    def test_a_head_that_is_trimmed_makes_a_sheet_stale_from_its_first_frame_and_nothing_is_done_again(self):
        change = compare_sheets(ISSUED, trimmed(ISSUED, head=5), 5)

        assert change.told == (HEAD_CUT,)
        assert (change.first, change.redo, change.lost, change.tail, change.spans) == (0, None, 5, 0, ())

    def test_more_frames_at_the_head_are_the_span_that_is_new(self):
        change = compare_sheets(ISSUED, trimmed(ISSUED, head=-5), -5)

        assert change.told == ("5 frames more at its head: what was frame 1 is 6 now",)
        assert (change.first, change.redo, change.lost, change.tail, change.spans) == (0, None, -5, 0, ((0, 5),))

    def test_an_end_that_is_cut_makes_a_sheet_stale_from_the_first_frame_that_is_gone(self):
        change = compare_sheets(ISSUED, trimmed(ISSUED, tail=6), 0)

        assert change.told == ("6 frames fewer at its end: its last frame is 54 now",)
        assert (change.first, change.redo, change.tail, change.spans) == (54, None, -6, ())

    def test_a_longer_end_makes_a_sheet_stale_where_it_was_over(self):
        change = compare_sheets(ISSUED, trimmed(ISSUED, tail=-1), 0)

        assert change.told == ("1 frame more at its end: its last frame is 61 now",)
        assert (change.first, change.redo, change.tail, change.spans) == (LENGTH, None, 1, ((60, 61),))

    def test_what_is_said_on_new_frames_is_told(self):
        longer = replace(ISSUED, length=Frame(70), voices=(speaking().voices[0], a_voice("TUM")))
        longer = replace(longer, voices=(replace(brack(), words=(*brack().words, a_cell(62, 66, "please"))),))

        assert told(longer)[1:] == ("BRACK: “please” is new on 63",)

    def test_words_that_went_with_the_frames_they_were_on_are_not_told_of(self):
        assert told(trimmed(ISSUED, head=20), lost=20) == ("20 frames cut off its head: what was frame 21 is 1 now",)

    def test_a_trim_in_the_middle_of_a_word_leaves_its_other_frames_as_they_were(self):
        change = compare_sheets(ISSUED, trimmed(ISSUED, head=12, tail=27), 12)

        assert (change.redo, change.spans, len(change.told)) == (None, (), 2)


class TestWords:
    def test_a_word_that_moves_is_told_from_the_old_number_to_the_new_one(self):
        change = compare_sheets(ISSUED, a_sheet(brack(step=34, held=38), lines=ISSUED.lines), 0)

        assert change.told == ("BRACK: “step” moves from 32 to 35",)
        assert (change.first, change.redo, change.spans) == (31, 31, ((31, 38),))

    def test_numbers_are_those_of_the_production(self):
        here, there = (replace(a_sheet(brack(step=at, held=at + 4)), first_number=1) for at in (30, 33))

        assert told(there, here) == ("BRACK: “step” moves from 31 to 34",)
        assert told(*(replace(one, first_number=1001) for one in (there, here))) == (
            "BRACK: “step” moves from 1031 to 1034",
        )

    def test_a_word_that_moves_earlier_is_to_be_done_again_from_where_it_is_now(self):
        change = compare_sheets(ISSUED, a_sheet(brack(step=28, held=32), lines=ISSUED.lines), 0)

        assert (change.first, change.redo, change.spans) == (28, 28, ((28, 35),))

    def test_several_words_that_move_alike_are_one_sentence(self):
        was = brack()
        moved = {name: later(getattr(was, name), 3) for name in ("words", "sounds", "beats")}
        change = compare_sheets(ISSUED, speaking(**moved), 0)

        assert change.told == ("BRACK: “Mind” to “step” (3) move 3 later, from 11 to 14",)
        assert (change.first, change.redo, change.spans) == (10, 10, ((10, 21), (31, 38)))

    def test_where_the_head_is_trimmed_too_it_is_said_by_how_much_a_word_moves(self):
        after = trimmed(a_sheet(brack(step=34, held=38), lines=ISSUED.lines), head=5)
        change = compare_sheets(ISSUED, after, 5)

        assert change.told == (HEAD_CUT, "BRACK: “step” moves 3 later, from 32 to 30")
        assert (change.first, change.redo, change.spans) == (0, 31, ((26, 33),))

    def test_a_word_that_gives_way_to_one_that_moved_is_not_told_of(self):
        words = (a_cell(10, 13), a_cell(13, 18, "the"), STEP)

        assert told(speaking(words=words)) == ("BRACK: “the” moves from 16 to 14",)

    @pytest.mark.parametrize(
        ("words", "sentence"),
        [
            ([a_cell(31, 35, "stair")], "“stair” on 32 in place of “step”"),
            ([a_cell(33, 36, "stair")], "“stair” on 34 in place of “step”, which was on 32"),
            ([a_cell(31, 34, "top"), a_cell(34, 36, "stair")], "“top” to “stair” (2) from 32 in place of “step”"),
            ([STEP, a_cell(40, 44, "please")], "“please” is new on 41"),
            ([STEP, a_cell(40, 44, "please"), a_cell(44, 50, "sir")], "“please” to “sir” (2) are new from 41"),
            ([], "“step” is gone from 32"),
            ([a_cell(31, 38, "step")], "“step” is held to 38, before to 35"),
            ([a_cell(31, 33, "step")], "“step” is held to 33, before to 35"),
            ([a_cell(31, 35, "Step!")], "“Step!” on 32 was written “step”"),
            ([a_cell(31, 35, "step", before=True)], "“step” is on 32 without its start now"),
            ([a_cell(33, 35, "step", before=True)], "“step” is on 34 without its start now"),
        ],
    )
    def test_what_becomes_of_a_word_is_told_in_one_sentence(self, words, sentence):
        assert told(saying(*words)) == (f"BRACK: {sentence}",)

    def test_a_word_that_has_its_start_again_says_so(self):
        sentence = "BRACK: “step” starts on 32 now, before it was there without its start"

        assert told(ISSUED, before=saying(replace(STEP, before=True))) == (sentence,)

    def test_a_word_that_is_gone_from_a_trimmed_shot_has_the_number_it_had(self):
        after = trimmed(saying(), head=5)

        assert told(after, lost=5) == (HEAD_CUT, "BRACK: “step” is gone from 32")

    def test_of_words_that_are_said_again_and_again_those_that_stay_are_found(self):
        noes = tuple(a_cell(at, at + 3, "no") for at in (2, 10, 30, 41))
        before, after = (a_sheet(a_voice(words=words)) for words in (noes, noes[1:]))

        assert told(after, before) == ("BRACK: “no” is gone from 3",)

    def test_a_line_that_moves_is_one_sentence_even_if_a_word_comes_to_stand_where_another_such_stood(self):
        texts = ("Mind", "the", "step", "the", "gap")
        words = tuple(a_cell(10 + 5 * place, 15 + 5 * place, text) for place, text in enumerate(texts))
        before, after = (a_sheet(a_voice(words=each)) for each in (words, later(words, 10)))

        assert told(after, before) == ("BRACK: “Mind” to “gap” (5) move 10 later, from 11 to 21",)


class TestManner:
    def test_other_sounds_of_a_word_are_told_beside_those_it_had(self):
        sounds = tuple(replace(one, text="ih") if one.text == "eh" else one for one in brack().sounds)
        change = compare_sheets(ISSUED, speaking(sounds=sounds), 0)

        assert change.told == ("BRACK: “step” is said s-t-ih-p, before s-t-eh-p",)
        assert (change.redo, change.spans) == (33, ((33, 34),))

    def test_sounds_on_other_rows_of_a_word_are_told(self):
        sounds = (a_cell(10, 13, "m"), a_cell(13, 15, "eye"), *brack().sounds[2:])

        assert told(speaking(sounds=sounds)) == ("BRACK: “Mind” has its sounds on other rows, 11 to 15",)

    def test_another_stress_is_told_with_its_turn_and_its_main_mark(self):
        beats = (*brack().beats[:2], Beat(Frame(31), Frame(35), 2, Tone.RISE, main=True))
        change = compare_sheets(ISSUED, speaking(beats=beats), 0)

        assert change.told == ("BRACK: “step” is strong, main beat, rise, before half stressed",)
        assert (change.redo, change.spans) == (31, ((31, 35),))

    def test_a_beat_that_moves_within_its_word_is_told_by_its_rows(self):
        beats = (*brack().beats[:2], Beat(Frame(32), Frame(35), 1))

        assert told(speaking(beats=beats)) == ("BRACK: “step” has its stress on 33, before on 32",)

    def test_a_beat_of_no_word_is_told_by_its_rows(self):
        beats = (*brack().beats, Beat(Frame(50), Frame(52), 2), Beat(Frame(56), Frame(57), 2))

        assert told(speaking(beats=beats)) == ("BRACK: stress changed on 51 to 52 and 57",)

    def test_a_sound_of_no_word_is_told_by_its_row(self):
        sounds = (*brack().sounds, a_cell(50, 51, "h"))

        assert told(speaking(sounds=sounds)) == ("BRACK: sounds changed on 51",)

    def test_level_and_pitch_make_no_sheet_stale(self):
        louder = speaking(level=(0.9,) * 8 * LENGTH, pitch=(0.1,) * 8 * LENGTH)

        assert not compare_sheets(ISSUED, louder, 0).stale
        assert not compare_sheets(ISSUED, speaking(pauses=(a_cell(18, 31, "13"),)), 0).stale


class TestBesideWords:
    def test_of_breaths_which_are_all_called_the_same_the_one_that_moves_is_told(self):
        breaths = [a_cell(0, 4, "breath in"), a_cell(20, 26, "breath in"), a_cell(50, 54, "breath in")]
        moved = [breaths[0], *later(breaths[1:2], 2), breaths[2]]

        sentence = "BRACK: “breath in” moves from 21 to 23"
        assert told(speaking(events=tuple(moved)), before=speaking(events=tuple(breaths))) == (sentence,)

    def test_manners_and_what_leaves_the_script_are_told(self):
        otherwise = {"manners": (a_cell(10, 18, "whispered"),), "missing": (a_cell(18, 19, 'script has "wet"'),)}

        assert told(speaking(**otherwise)) == (
            "BRACK: “whispered” is new on 11",
            'BRACK: “script has "wet"” is new on 19',
        )

    def test_what_happens_on_a_frame_is_told(self):
        opens = a_cell(20, 21, "opens the door")
        before = replace(ISSUED, action=(opens,))

        assert told(before) == ("action: “opens the door” is new on 21",)
        assert told(replace(ISSUED, action=later([opens], 5)), before) == (
            "action: “opens the door” moves from 21 to 26",
        )


class TestHead:
    @pytest.mark.parametrize(
        ("heading", "sentence"),
        [
            ({"listeners": ("TUM",)}, "TUM listens now in place of MISS PELL"),
            ({"listeners": ("MISS PELL", "TUM", "A MOLE")}, "TUM and A MOLE listen now"),
            ({"listeners": ()}, "MISS PELL listens no more"),
            ({"about": "It rains."}, "what happens in the shot is “It rains.” now"),
            ({"about": ""}, "what happens in the shot is no longer told"),
            ({"board": "ab" * 32}, "there is a board now"),
            ({"warning": "DO NOT SHOOT"}, "the warning over it is now: DO NOT SHOOT"),
            ({"take": "L0107-2"}, "L0107-2 is heard now in place of L0107-1"),
        ],
    )
    def test_what_the_head_says_makes_a_sheet_stale_from_its_first_frame_and_nothing_is_done_again(
        self, heading, sentence
    ):
        change = compare_sheets(ISSUED, a_sheet(brack(), heading=heading, lines=ISSUED.lines), 0)

        assert change.told == (sentence,)
        assert (change.first, change.redo, change.spans) == (0, None, ())

    def test_another_board_and_none_and_a_warning_that_is_gone_are_told(self):
        before = a_sheet(brack(), heading={"board": "ab" * 32, "warning": "DO NOT SHOOT"})

        assert told(a_sheet(brack(), heading={"board": "cd" * 32}), before) == (
            "the board is another",
            "the warning over it is gone",
        )
        assert "there is no board any more" in told(ISSUED, before)

    def test_what_a_sheet_is_called_and_when_it_was_issued_make_it_not_stale(self):
        renamed = a_sheet(brack(), heading={"unit": "3", "issue": "2", "date": "2026-11-26", "code": "X"})

        assert not compare_sheets(ISSUED, replace(renamed, lines=ISSUED.lines), 0).stale

    def test_another_count_or_rate_of_frames_is_told(self):
        assert told(replace(ISSUED, first_number=101)) == ("frames are numbered from 101 now, before from 1",)
        assert told(replace(ISSUED, rate=parse_rate("25"))) == ("it runs at 25 now, before at 24",)

    def test_where_nobody_can_tell_what_the_picture_lost_rows_are_compared_by_their_numbers(self):
        change = compare_sheets(ISSUED, a_sheet(brack(step=34, held=38), lines=ISSUED.lines), None)

        assert (change.first, change.redo, change.lost) == (0, 31, 0)
        assert change.told == (
            "the shot has another picture: what is told of its rows compares those of the same number",
            "BRACK: “step” moves from 32 to 35",
        )


class TestSpeakers:
    TUM = a_voice("TUM", (a_cell(20, 24, "I"), a_cell(24, 30, "had")), events=(a_cell(16, 19, "gasp"),))

    def test_one_who_speaks_now_makes_a_sheet_stale_from_where_he_is_heard(self):
        change = compare_sheets(ISSUED, replace(ISSUED, voices=(brack(), self.TUM)), 0)

        assert change.told == (
            "TUM speaks now",
            "TUM: “I” to “had” (2) are new from 21",
            "TUM: “gasp” is new on 17",
        )
        assert (change.first, change.redo, change.spans) == (16, 16, ((16, 19), (20, 30)))

    def test_one_who_speaks_no_more_is_told_with_what_he_said(self):
        change = compare_sheets(replace(ISSUED, voices=(self.TUM, brack())), ISSUED, 0)

        assert change.told[:2] == ("TUM speaks no more", "TUM: “I” to “had” (2) are gone from 21")
        assert change.first == 16

    def test_one_who_is_heard_and_has_no_word_yet_is_told_of_by_name_alone(self):
        change = compare_sheets(ISSUED, replace(ISSUED, voices=(brack(), a_voice("TUM"))), 0)

        assert (change.first, change.redo, change.told) == (0, None, ("TUM speaks now",))

    def test_the_order_of_the_columns_makes_no_sheet_stale(self):
        both = (brack(), self.TUM)

        assert not compare_sheets(a_sheet(*both), a_sheet(*both[::-1]), 0).stale


class TestLines:
    @pytest.mark.parametrize(
        ("line", "sentence"),
        [
            (a_line("Mind the gap"), "L0107 is “Mind the gap” in the script now, before “Mind the step”"),
            (a_line(""), "L0107 is not in the script any more: “Mind the step”"),
            (a_line(extension="O.S."), "L0107 is said by BRACK (O.S.) now, before by BRACK"),
            (a_line(character="TUM"), "L0107 is said by TUM now, before by BRACK"),
        ],
    )
    def test_a_line_that_the_script_has_otherwise_stops_the_work_where_it_begins(self, line, sentence):
        change = compare_sheets(ISSUED, replace(ISSUED, lines=(line,)), 0)

        assert change.told == (sentence,)
        assert (change.first, change.redo, change.spans) == (5, 5, ())

    def test_signs_and_capitals_of_a_line_make_no_sheet_stale(self):
        assert not compare_sheets(ISSUED, replace(ISSUED, lines=(a_line("MIND, the step!"),)), 0).stale

    def test_a_line_that_was_not_in_the_script_when_the_sheet_was_issued_is_stale_only_when_it_is_back(self):
        struck = replace(ISSUED, lines=(a_line(""),))

        assert not compare_sheets(struck, struck, 0).stale
        assert told(ISSUED, struck) == ("L0107 is “Mind the step” in the script now, before it was not in it",)

    def test_of_a_line_whose_head_is_trimmed_off_only_what_is_still_in_the_film_is_done_again(self):
        change = compare_sheets(ISSUED, trimmed(replace(ISSUED, lines=(a_line("Mind the gap"),)), head=12), 12)

        assert change.redo == 12

    def test_lines_in_two_pieces_are_told_of_once(self):
        pieces = (a_line(stop=10), a_line(take="L0107-2", first=20))
        after = tuple(replace(one, text="Mind the gap") for one in pieces)

        assert len(told(replace(ISSUED, lines=after), replace(ISSUED, lines=pieces))) == 1


class TestMouths:
    """BRACK, who speaks from frame 10 to 34, wears mouths on all of the sheet."""

    WORN = worn((0, 10, "lips shut"), (10, 31, "half open"), (31, 45, "jaw down"), (45, LENGTH, "lips shut"))

    def sheet(self, *runs, **columns):
        return speaking(mouths=worn(*runs) if runs else self.WORN, **columns)

    def test_one_mouth_in_place_of_another_is_told_by_name(self):
        after = self.sheet(
            (0, 10, "lips shut"), (10, 31, "half open"), (31, 45, "big round"), (45, LENGTH, "lips shut")
        )

        assert told(after, self.sheet()) == ("BRACK: “big round” on 32 to 45 in place of “jaw down”",)

    def test_a_mouth_that_is_put_between_is_told_of_its_own_frames_though_the_other_starts_again(self):
        after = self.sheet(
            (0, 10, "lips shut"),
            *((10, 20, "half open"), (20, 21, "jaw down"), (21, 31, "half open")),
            *((31, 45, "jaw down"), (45, LENGTH, "lips shut")),
        )
        change = compare_sheets(self.sheet(), after, 0)

        assert change.told == ("BRACK: “jaw down” on 21 in place of “half open”",)
        assert change.spans == ((20, 22),)
        assert change.redo == 20

    def test_several_are_told_by_their_frames(self):
        after = self.sheet((0, 8, "lips shut"), (8, 31, "half open"), (31, 44, "jaw down"), (44, LENGTH, "lips shut"))

        assert told(after, self.sheet()) == ("BRACK: mouths changed on 9 to 10 and 45",)

    def test_what_the_words_explain_is_not_told_again(self):
        """The word step moves from 31 to 36; the mouth that goes with it moves a frame ahead of it."""
        before = self.sheet((0, 30, "half open"), (30, 35, "jaw down"), (35, LENGTH, "half open"))
        after = self.sheet((0, 35, "half open"), (35, 40, "jaw down"), (40, LENGTH, "half open"))
        after = replace(after, voices=(replace(brack(step=36, held=40), mouths=after.voices[0].mouths),))
        sentences = told(after, before)

        assert any("“step” moves from 32 to 37" in text for text in sentences)
        assert not [text for text in sentences if "mouth" in text or "jaw" in text]

    def test_a_change_far_from_the_words_that_changed_is_told_as_well(self):
        after = self.sheet((0, 10, "lips shut"), (10, 31, "half open"), (31, 45, "jaw down"), (45, LENGTH, "half open"))
        words = (*brack().words[:2], a_cell(32, 35, "step"))
        after = replace(after, voices=(replace(after.voices[0], words=words),))

        assert "BRACK: “half open” on 46 to 60 in place of “lips shut”" in told(after, self.sheet())

    @pytest.mark.parametrize(("gone", "sentence"), [(False, "are new on"), (True, "are gone from")])
    def test_mouths_that_one_sheet_does_not_have_at_all_take_one_sentence(self, gone, sentence):
        before, after = (self.sheet(), ISSUED) if gone else (ISSUED, self.sheet())
        change = compare_sheets(before, after, 0)

        assert change.told == (f"BRACK: mouths {sentence} this sheet",)
        assert change.spans == ((0, LENGTH),)

    def test_a_pin_on_what_is_worn_anyway_changes_nothing(self):
        after = speaking(mouths=tuple(replace(one, pinned=True) for one in self.WORN))

        assert not compare_sheets(self.sheet(), after, 0).stale

    def test_a_mouth_that_goes_on_over_the_new_head_of_a_shot_is_no_change(self):
        """What is worn from 10 to 31 starts on the first frame of a sheet whose head is cut off at 15."""
        change = compare_sheets(self.sheet(), trimmed(self.sheet(), head=15), 15)

        assert change.redo is None
        assert not [text for text in change.told if "BRACK" in text]
