"""What must be seen, and when.

Windows are those of ITU-R BT.1359-1 and ITU-R Report BS.1204; holds, eases and pauses are common practice, no source.
"""

from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, pairwise
from math import ceil, floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.mouth import MouthRules
from trackread.core.phones import PAUSE, PHONES
from trackread.mouths.needs import Need, needs_of, restless
from trackread.mouths.targets import Sound

RULES = MouthRules()
KINDS = {"P": "lips closed", "B": "lips closed", "M": "lips closed", "F": "teeth on lip", "V": "teeth on lip"}
# Lips that act come often, so that needs crowd one another.
symbols = st.one_of(st.sampled_from("P B M F V AA".split()), st.sampled_from([*PHONES, PAUSE]))
rule_sets = st.builds(MouthRules, lead=st.integers(0, 2), closed_hold=st.integers(1, 4), bite_hold=st.integers(1, 3))
shots = st.builds(lambda first, length: range(first, first + length), st.integers(-5, 30), st.integers(1, 60))


def said(text, *, start=0):
    """Sounds one after the other from `start`; `AA:3/2` lasts for one and a half frames."""
    words = [one.split(":") for one in text.split()]
    edges = list(accumulate((Fraction(length) for _, length in words), initial=Fraction(start)))
    return [Sound(symbol, first, stop) for (symbol, _), (first, stop) in zip(words, pairwise(edges), strict=True)]


def takes(shortest):
    """Sounds one after the other, of random lengths from `shortest` frames up."""
    lengths = st.fractions(shortest, 16, max_denominator=100).filter(bool)
    texts = st.lists(st.tuples(symbols, lengths), min_size=1, max_size=25)
    starts = st.fractions(-10, 10, max_denominator=48)
    return st.builds(
        lambda parts, start: said(" ".join(f"{symbol}:{length}" for symbol, length in parts), start=start),
        texts,
        starts,
    )


def needs(text, *, frames=range(100), rules=RULES, start=0):
    """What must be seen, as (kind, first, stop)."""
    return [(need.kind, need.first, need.stop) for need in needs_of(said(text, start=start), frames, rules)]


def lips(*arguments, **named):
    return [need for need in needs(*arguments, **named) if need[0] != "rest"]


def heard_in(frames, sounds):
    return [one for one in sounds if one.symbol in KINDS and one.start < frames.stop and one.stop > frames.start]


def seen_by(need, sound, rules, frames):
    """Whether a need stands for a sound: of its kind, within its window, and held unless it began before the shot."""
    hold = rules.closed_hold if need.kind == "lips closed" else rules.bite_hold
    earliest = max(ceil(sound.start) - rules.early, frames.start)
    latest = max(floor(sound.start) + 1, frames.start)
    held_to = earliest + hold if sound.start >= frames.start else frames.start + 1
    return need.kind == KINDS[sound.symbol] and need.first <= latest and need.stop >= min(held_to, frames.stop)


@given(takes(Fraction(0)), shots, rule_sets)
def test_every_closure_that_is_heard_in_the_shot_is_seen_within_its_window(sounds, frames, rules):
    found = needs_of(sounds, frames, rules)
    closures = [sound for sound in heard_in(frames, sounds) if KINDS[sound.symbol] == "lips closed"]

    assert all(any(seen_by(need, sound, rules, frames) for need in found) for sound in closures)


@given(takes(Fraction(2)), shots)
def test_of_sounds_of_two_frames_every_bite_is_seen_too(sounds, frames):
    found = needs_of(sounds, frames, RULES)

    assert all(any(seen_by(need, sound, RULES, frames) for need in found) for sound in heard_in(frames, sounds))


@given(takes(Fraction(0)), shots, rule_sets)
def test_needs_are_in_order_and_apart_and_in_the_shot(sounds, frames, rules):
    found = needs_of(sounds, frames, rules)

    assert all(one.stop <= other.first for one, other in pairwise(found))
    assert all(frames.start <= need.first < need.stop <= frames.stop for need in found)


@given(takes(Fraction(0)), shots, rule_sets)
def test_each_need_begins_within_a_window_of_a_sound_of_its_own(sounds, frames, rules):
    """Never more than a frame late (45 ms, ITU-R BT.1359-1), nor more than three frames early (125 ms)."""
    found = [need for need in needs_of(sounds, frames, rules) if need.kind != "rest"]
    heard = heard_in(frames, sounds)

    def begins(need, sound):
        latest = max(floor(sound.start) + 1, frames.start)
        return KINDS[sound.symbol] == need.kind and ceil(sound.start) - rules.early <= need.first <= latest

    assert all(any(begins(need, sound) or need.first == frames.start for sound in heard) for need in found)
    assert all(need.earliest <= need.first <= need.latest for need in found)


@given(takes(Fraction(0)), shots, rule_sets)
def test_what_is_held_is_held_for_long_enough_unless_the_shot_ends(sounds, frames, rules):
    holds = {"lips closed": rules.closed_hold, "teeth on lip": rules.bite_hold, "rest": 1}
    inside = [need for need in needs_of(sounds, frames, rules) if need.first > frames.start and need.stop < frames.stop]

    assert all(need.stop - need.first >= holds[need.kind] for need in inside)


@given(takes(Fraction(0)), shots, st.integers(-500, 500))
def test_a_shot_that_moves_by_whole_frames_keeps_its_needs(sounds, frames, shift):
    moved = [replace(sound, start=sound.start + shift, stop=sound.stop + shift) for sound in sounds]
    later = range(frames.start + shift, frames.stop + shift)
    expected = [
        Need(one.kind, *(edge + shift for edge in (one.first, one.stop, one.earliest, one.latest)))
        for one in needs_of(sounds, frames, RULES)
    ]

    assert list(needs_of(moved, later, RULES)) == expected


@given(takes(Fraction(0)), shots)
def test_no_rest_is_asked_for_where_the_mouth_must_not_rest(sounds, frames):
    restful = {k for need in needs_of(sounds, frames, RULES) if need.kind == "rest" for k in range(*span(need))}

    assert not restful & {k for one in restless(sounds, frames, RULES) for k in one}


def span(need):
    return need.first, need.stop


@pytest.mark.parametrize("symbol", KINDS)
def test_lips_are_ahead_of_their_sound_by_the_lead(symbol):
    for lead in (0, 1, 2):
        found = lips(f"AA:10 {symbol}:3 AA:10", rules=MouthRules(lead=lead))

        assert found == [(KINDS[symbol], 10 - lead, 13 - lead)]


def test_a_short_closure_takes_a_frame_of_the_vowel_before():
    assert lips("AA:10 P:1 AA:10") == [("lips closed", 8, 10)]


def test_a_short_bite_takes_a_frame_of_the_vowel_before():
    assert lips("AA:10 F:1/2 AA:10") == [("teeth on lip", 8, 10)]


def test_with_a_shorter_hold_a_short_bite_needs_one_frame():
    assert lips("AA:10 F:1/2 AA:10", rules=MouthRules(bite_hold=1)) == [("teeth on lip", 9, 10)]


@given(st.fractions(5, 9, max_denominator=2000), st.fractions(Fraction(1, 100), 9, max_denominator=2000))
def test_no_picture_is_so_early_or_so_late_that_it_is_noticed(start, length):
    """ITU-R BT.1359-1: at 24 frames a second a picture goes unseen to 125 ms ahead of its sound and 45 ms behind it."""
    (need,) = (one for one in needs_of(said(f"P:{length}", start=start), range(30), RULES) if one.kind != "rest")
    offsets = [(edge - start) * 1000 / 24 for edge in (need.earliest, need.first, need.latest)]

    assert all(-125 <= offset <= 45 for offset in offsets)


def test_a_long_closure_is_closed_for_all_of_it():
    assert lips("AA:10 M:14 AA:10") == [("lips closed", 9, 23)]


def test_two_closures_with_nothing_between_are_seen_as_one():
    assert lips("AA:10 P:2 M:3 AA:10") == [("lips closed", 9, 14)]


def test_a_vowel_between_two_closures_is_seen_where_there_is_room():
    """`Mum`, said fast: the first goes earlier, the second waits, and the vowel is no flash."""
    assert lips("AA:10 M:1 AH:1 M:1 AA:10") == [("lips closed", 7, 9), ("lips closed", 11, 13)]


def test_two_closures_too_near_for_anything_between_are_seen_as_one():
    assert lips("M:1/4 AH:1/4 M:1/4", frames=range(3)) == [("lips closed", 0, 2)]


def test_a_bite_before_a_closure_goes_earlier_and_both_are_seen_in_order():
    assert lips("AA:10 F:1/2 P:1/2 AA:10") == [("teeth on lip", 7, 9), ("lips closed", 9, 11)]


def test_a_closure_before_a_bite_keeps_its_hold():
    assert lips("AA:10 P:1 F:1 AA:10") == [("lips closed", 7, 9), ("teeth on lip", 9, 11)]


def test_a_closure_is_never_given_up_for_a_bite():
    found = lips(" ".join(["P:1/10 F:1/10"] * 10), frames=range(1))

    assert found == [("lips closed", 0, 1)]


@pytest.mark.parametrize(("length", "rest"), [(5, []), (11, []), (12, [("rest", 9, 14)]), (30, [("rest", 9, 32)])])
def test_only_a_long_pause_between_sounds_must_rest(length, rest):
    assert needs(f"AA:5 SIL:{length} AA:5", frames=range(10 + length)) == rest


def test_rest_may_begin_two_to_four_frames_into_the_pause():
    (need,) = needs_of(said("AA:5 SIL:20 AA:5"), range(30), RULES)

    assert (need.earliest, need.latest) == (7, 9)


@pytest.mark.parametrize(("length", "short"), [(5, (range(5, 10),)), (6, ()), (12, ())])
def test_a_mouth_does_not_rest_in_a_short_pause_between_sounds(length, short):
    assert restless(said(f"AA:5 SIL:{length} AA:5"), range(40), RULES) == short


def test_at_the_ends_of_what_is_said_a_pause_is_no_short_one():
    assert restless(said("SIL:3 AA:5 SIL:3"), range(11), RULES) == ()
    assert needs("SIL:6 AA:5 SIL:6", frames=range(17)) == [("rest", 0, 3), ("rest", 15, 17)]


def test_who_says_nothing_rests():
    assert needs("SIL:5", frames=range(5)) == needs("", frames=range(5)) == [("rest", 0, 5)]


def test_lips_come_before_rest():
    rules = MouthRules(most_ease=0, least_ease=0)

    assert needs("AA:5 SIL:12 P:2 AA:5", frames=range(24), rules=rules) == [("rest", 5, 16), ("lips closed", 16, 18)]


def test_what_goes_over_an_end_of_the_shot_is_cut_off():
    assert lips("M:10 AA:10 M:10", start=-5, frames=range(20)) == [("lips closed", 0, 4), ("lips closed", 14, 20)]


def test_what_is_sounded_outside_the_shot_has_no_need():
    assert lips("M:5 AA:20 M:5", start=-5, frames=range(20)) == []


def test_a_shot_without_frames_needs_nothing():
    assert needs("M:5", frames=range(2, 2)) == []


@pytest.mark.parametrize("wrong", [{"lead": -1}, {"closed_hold": 0}, {"short_pause": 13}, {"least_ease": 5}])
def test_rules_that_contradict_themselves_are_refused(wrong):
    with pytest.raises(ValueError, match="not"):
        MouthRules(**wrong)


def test_a_need_outside_its_window_is_refused():
    with pytest.raises(ValueError, match="window"):
        Need("rest", 5, 9, 6, 7)
