"""What became of each line from one draft to the next, and the id it keeps."""

from collections import Counter
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.script.makers import SCENE, a_script, drafts, scripts
from trackread.core.script import ChangeKind
from trackread.script.drafts import compare, with_ids
from trackread.script.matching import in_order

SAME, CHANGED, MOVED, NEW, GONE = ChangeKind
BEFORE = a_script()
STOPS = tuple(("6", "BRACK", f"This is stop number {n}, and it rains.") for n in range(60))


def draft(*edits):
    """SCENE with places (from 0) replaced by any number of lines."""
    said = [[one] for one in SCENE]
    for place, *lines in edits:
        said[place] = lines
    return a_script([one for lines in said for one in lines])


def told(after, before=BEFORE):
    """Each change but those of the same."""
    changes = [change for change in compare(before, after) if change.kind is not SAME]
    return [(one.kind, one.before and one.before.number, one.after and one.after.number) for one in changes]


@given(scripts())
def test_a_draft_compared_with_itself_has_only_the_same(script):
    changes = compare(script, script)

    assert [(one.kind, one.before, one.after) for one in changes] == [(SAME, line, line) for line in script.lines]


@given(drafts())
def test_every_line_of_both_drafts_is_in_one_change(two):
    before, after = two
    changes = compare(before, after)

    assert sorted(one.before.number for one in changes if one.before) == [line.number for line in before.lines]
    assert [one.after for one in changes if one.after] == list(after.lines)


@given(drafts())
def test_the_words_of_a_change_make_both_lines(two):
    for change in compare(*two):
        if change.kind is CHANGED:
            assert " ".join(text for kind, text in change.words if kind is not NEW) == change.before.text
            assert " ".join(text for kind, text in change.words if kind is not GONE) == change.after.text


@given(drafts())
def test_a_line_keeps_its_id_unless_it_is_new(two):
    before, after = two
    kept = with_ids(before, after)
    new = [one.after.id for one in compare(before, kept) if one.kind is NEW]

    assert all(one.before.id == one.after.id for one in compare(before, kept) if one.before and one.after)
    assert new == [f"L{before.issued + n:04}" for n in range(1, len(new) + 1)]
    assert kept.issued == before.issued + len(new)


@given(drafts())
def test_giving_ids_twice_gives_the_same_ids(two):
    before, after = two
    once = with_ids(before, after)

    assert with_ids(before, once) == once
    assert with_ids(once, after) == once


@given(drafts())
def test_giving_ids_changes_nothing_else(two):
    before, after = two
    plain = [replace(line, id=original.id) for line, original in zip(with_ids(*two).lines, after.lines, strict=True)]

    assert plain == list(after.lines)
    assert Counter(one.kind for one in compare(before, after)) == Counter(
        one.kind for one in compare(before, with_ids(before, after))
    )


@given(st.permutations(range(7)))
def test_as_few_lines_as_can_be_have_moved(order):
    pairs = dict(enumerate(order))
    longest = max(n for n in range(8) for row in combinations(order, n) if list(row) == sorted(row))
    kept = in_order(pairs)

    assert len(kept) == longest
    assert [pairs[j] for j in sorted(kept)] == sorted(pairs[j] for j in kept)


def test_no_id_is_given_again_after_its_line_is_gone():
    without = with_ids(BEFORE, draft((7,)))
    other = with_ids(without, draft((7, ("8", "BRACK", "Lantern Bridge! Change here for nothing."))))

    assert [line.id for line in without.lines] == [line.id for line in BEFORE.lines[:7]]
    assert other.lines[-1].id == "L0009"


def test_a_changed_line_says_which_words_are():
    after = draft((6, ("8", "TUM", "I have (beat) three acorns, Miss Pell.")))
    (change,) = (one for one in compare(BEFORE, after) if one.kind is not SAME)

    assert change.kind is CHANGED
    assert change.words == (
        (SAME, "I have"),
        (GONE, "two acorns."),
        (NEW, "(beat) three acorns, Miss Pell."),
    )


def test_a_line_put_in_and_a_line_taken_out_stand_where_they_are():
    after = draft((1,), (4, SCENE[4], ("7", "BRACK", "It has not paid either.")))

    assert told(after) == [(GONE, 2, None), (NEW, None, 5)]
    assert [one.kind for one in compare(BEFORE, after)].index(GONE) == 1


def test_a_line_with_the_same_words_elsewhere_has_moved():
    assert told(draft((0,), (7, SCENE[7], SCENE[0]))) == [(MOVED, 1, 8)]


def test_a_scene_that_moves_takes_its_changed_lines_with_it():
    before = a_script(SCENE + STOPS)
    edited = (("8", "TUM", "I have three big acorns."),)
    after = a_script(STOPS + SCENE[:6] + edited + SCENE[7:])

    assert (CHANGED, 7, 67) in told(after, before)
    assert Counter(kind for kind, *_ in told(after, before)) == {MOVED: 7, CHANGED: 1}


def test_new_scene_numbers_change_no_line():
    assert told(a_script([(f"{scene}A", *rest) for scene, *rest in SCENE])) == []


def test_a_line_given_to_another_character_is_gone_and_new():
    assert told(draft((3, ("7", "BRACK", SCENE[3][2])))) == [(GONE, 4, None), (NEW, None, 4)]


def test_a_line_rewritten_beyond_half_its_words_is_gone_and_new():
    assert told(draft((3, ("7", "MISS PELL", "Whose is that object on the seat?")))) == [
        (GONE, 4, None),
        (NEW, None, 4),
    ]


def test_a_line_that_keeps_less_than_half_its_words_is_gone_and_new():
    after = draft((3, ("7", "MISS PELL", "Is it anybody's business, Mister Brack?")))  # 2 of 4 and of 6

    assert told(after) == [(GONE, 4, None), (NEW, None, 4)]


def test_the_line_in_its_place_is_taken_before_one_elsewhere_that_is_a_little_more_alike():
    here, there = ("7", "TUM", "I have eaten two acorns now."), ("7", "TUM", "I have eaten three acorns now, Brack.")
    before = a_script((*SCENE[:4], here, *STOPS, there))
    after = a_script((*SCENE[:4], ("7", "TUM", "I have eaten three acorns now."), *STOPS))

    assert told(after, before) == [(CHANGED, 5, 5), (GONE, 66, None)]


def test_a_line_gone_beside_one_that_moved_stands_where_it_stood():
    changes = compare(BEFORE, draft((0,), (1,), (7, SCENE[7], SCENE[0])))

    assert [change.kind for change in changes] == [GONE, *[SAME] * 6, MOVED]


@pytest.mark.parametrize(("old", "new"), [("'", "’"), ("...", "…"), ('"', "“")])
def test_the_shape_of_quotes_and_dots_is_no_change(old, new):
    text = f"Hats{old} do not sneeze."

    assert told(a_script([("7", "TUM", text.replace(old, new))]), a_script([("7", "TUM", text)])) == []


def test_a_comma_is_a_change():
    assert told(draft((6, ("8", "TUM", "I have two acorns!")))) == [(CHANGED, 7, 7)]


@pytest.mark.parametrize("change", [{"extension": "O.S."}, {"dual": True}])
def test_a_mouth_no_longer_seen_or_a_line_now_said_at_once_is_a_change(change):
    lines = (BEFORE.lines[0], replace(BEFORE.lines[1], **change), *BEFORE.lines[2:])
    (found,) = (one for one in compare(BEFORE, replace(BEFORE, lines=lines)) if one.kind is not SAME)

    assert found.kind is CHANGED
    assert found.words == ((SAME, BEFORE.lines[1].text),)


def test_each_of_many_short_lines_keeps_its_place():
    yes = ("7", "TUM", "Yes.")
    before = a_script([SCENE[0], yes, SCENE[1], yes, SCENE[3], yes, SCENE[4]])
    after = a_script([SCENE[0], SCENE[1], yes, SCENE[3], yes, SCENE[4]])

    assert told(after, before) == [(GONE, 2, None)]


def test_a_short_line_of_many_that_turns_up_elsewhere_is_another():
    yes = ("7", "TUM", "Yes.")
    before = a_script([yes, *SCENE, yes, *STOPS])
    after = a_script([*SCENE, yes, *STOPS, yes])

    assert told(after, before) == [(GONE, 1, None), (NEW, None, 70)]


def test_a_long_line_that_moves_and_changes_a_little_is_still_itself():
    moved = ("8", "TUM", "Please, Miss Pell! It is such a very long way to walk.")
    after = a_script((*SCENE[:5], *SCENE[6:], *STOPS, moved))

    assert told(after, a_script(SCENE + STOPS)) == [(CHANGED, 6, 68)]
