"""The plan of mouths: cheapest of all, and never what an animator would throw out.

Windows are those of ITU-R BT.1359-1; holds and pauses are common practice, no source.
"""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trackread.core.mouth import Face, Kit, Mouth, MouthRules, Pace, Pin
from trackread.core.phones import PAUSE
from trackread.core.timebase import FrameRate
from trackread.mouths.judging import judged, looked_up
from trackread.mouths.kit_file import read_kit
from trackread.mouths.planning import Scene, plan_from, plan_of, problem_of
from trackread.mouths.solving import cost_of
from trackread.mouths.targets import Sound

FILM = FrameRate(Fraction(24))
KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"
BRACK = read_kit((KITS / "brack.toml").read_text(encoding="utf-8"), "brack")
SHUT, OPEN, ON_LIP = Mouth("shut", Face()), Mouth("open", Face(0.8)), Mouth("on lip", Face(0.1, bite=1.0))
SMALL = Kit("small", "TUM", (SHUT, OPEN, ON_LIP), "shut")

rule_sets = st.builds(
    MouthRules,
    on=st.sampled_from(Pace),
    lead=st.integers(0, 2),
    late=st.integers(0, 1),
    closed_hold=st.integers(1, 3),
    bite_hold=st.integers(1, 2),
    short_pause=st.integers(0, 3),
    long_pause=st.integers(3, 6),
    least_ease=st.integers(0, 1),
    most_ease=st.integers(1, 2),
    hold=st.integers(1, 3),
)
some_sounds = st.lists(
    st.tuples(st.sampled_from(["P", "M", "F", "AA", "IY", "UW", "T", "S", PAUSE]), st.fractions("1/4", 3)), max_size=8
)


def said(parts, start=Fraction(0)):
    """Sounds one after the other; pauses are left out."""
    found = []
    for symbol, length in parts:
        if symbol != PAUSE:
            found.append(Sound(symbol, start, start + length, stress=2 if symbol == "AA" else 0))
        start += length
    return tuple(found)


def scene(text, frames, *, start=0, beat=0):
    """`AA:3 P:2` from frame `start` on."""
    parts = [(symbol, Fraction(length)) for symbol, length in (one.split(":") for one in text.split())]
    return Scene(said(parts, Fraction(start)), range(frames), FILM, beat)


def on_frames(plan):
    return [one.mouth for one in plan.worn for _ in range(one.first, one.stop)]


@settings(max_examples=2000)
@given(some_sounds, st.integers(1, 6), rule_sets, st.integers(0, 1), st.booleans())
def test_no_other_mouths_cost_less_under_any_rules(parts, count, rules, beat, pinned):
    where = Scene(said(parts), range(count), FILM, beat)
    pins = [Pin("open", count // 2, count)] if pinned else []
    problem = problem_of(SMALL, where, rules, pins)
    every = (cost_of(problem, list(sequence)) for sequence in product(range(len(SMALL.mouths)), repeat=count))

    assert plan_of(SMALL, where, rules, pins).cost == min(every)


@given(some_sounds, st.integers(1, 40), rule_sets)
def test_what_a_plan_says_it_costs_is_what_its_mouths_cost(parts, count, rules):
    where = Scene(said(parts), range(count), FILM)
    plan = plan_of(SMALL, where, rules)
    problem = problem_of(SMALL, where, rules)
    numbers = [[mouth.name for mouth in SMALL.mouths].index(name) for name in on_frames(plan)]

    assert plan.cost == cost_of(problem, numbers)
    assert plan_from(SMALL, where, problem, numbers) == plan


@given(some_sounds, st.integers(1, 60), st.sampled_from(Pace), st.integers(0, 2))
def test_mouths_cover_all_frames_in_order_and_each_change_is_one(parts, count, pace, lead):
    plan = plan_of(BRACK, Scene(said(parts), range(7, 7 + count), FILM), MouthRules(on=pace, lead=lead))

    assert (plan.worn[0].first, plan.worn[-1].stop) == (7, 7 + count)
    assert all(one.stop == other.first and one.mouth != other.mouth for one, other in pairwise(plan.worn))


@settings(max_examples=400)
@given(
    st.lists(st.tuples(st.sampled_from("P B M F V AA IY UW T S SIL".split()), st.fractions(1, 6)), max_size=25),
    st.sampled_from(Pace),
    st.integers(0, 2),
)
def test_no_closure_is_open_no_bite_is_missed_and_nothing_is_a_flash(parts, pace, lead):
    rules = MouthRules(on=pace, lead=lead)
    where = Scene(said(parts, Fraction(4)), range(160), FILM)
    figures = judged(BRACK, where, rules, plan_of(BRACK, where, rules).worn)

    assert figures.closed == figures.held == figures.closures
    assert figures.bitten >= figures.bites - sum(near_closures(where.sounds))
    assert figures.flashes == 0


def near_closures(sounds):
    """Bites that have a closure within three frames, which leaves them no room to be held: it goes before."""
    closures = [sound for sound in sounds if sound.symbol in "PBM"]
    for sound in sounds:
        if sound.symbol in "FV":
            yield any(one.start < sound.stop + 3 and sound.start < one.stop + 3 for one in closures)


@given(some_sounds, st.integers(2, 60), st.integers(0, 1))
def test_on_twos_a_mouth_changes_off_the_beat_only_where_lips_must_meet(parts, count, beat):
    where = Scene(said(parts), range(count), FILM, beat)
    plan = plan_of(BRACK, where, MouthRules(on=Pace.TWOS))
    off = [one.first for one in plan.worn[1:] if (one.first - beat) % 2]

    assert len(off) == plan.off_beat
    assert not off or any(sound.symbol in "PBMFV" for sound in where.sounds)


def test_on_twos_the_other_frames_are_the_beat_of_a_shot_that_lost_an_odd_head():
    where = scene("AA:6 T:4 UW:8 S:5 IY:6", 30, start=3)
    starts = {beat: plan_of(BRACK, replace(where, beat=beat), MouthRules(on=Pace.TWOS)).worn[1:] for beat in (0, 1)}

    assert all(one.first % 2 == beat for beat, worn in starts.items() for one in worn)


def test_fast_speech_changes_on_ones_where_mouths_are_mixed_and_on_twos_where_they_are_not():
    fast = scene("IY:1 S:1 UW:1 T:1 AA:1 S:1 OW:1 Z:1 IY:1 SH:1 AA:1 L:1 UW:1 T:1 IY:1 S:1 UW:1", 30, start=6)
    mixed, twos = (plan_of(BRACK, fast, MouthRules(on=pace)) for pace in (Pace.MIXED, Pace.TWOS))

    assert all(one.first % 2 == 0 for one in twos.worn)
    assert mixed.misfit <= twos.misfit


def test_slow_speech_is_the_same_mixed_and_on_twos():
    slow = scene("AA:6 T:4 UW:8 S:5 IY:6", 40, start=3)

    assert plan_of(BRACK, slow, MouthRules(on=Pace.MIXED)) == plan_of(BRACK, slow, MouthRules(on=Pace.TWOS))


def test_a_mouth_leads_its_sound_by_as_many_frames_as_it_is_told_to():
    leads = [plan_of(SMALL, scene("AA:10", 30, start=10), MouthRules(on=Pace.ONES, lead=lead)) for lead in (0, 1, 2)]
    opens = [next(one.first for one in plan.worn if one.mouth == "open") for plan in leads]

    assert opens[0] - opens[2] == 2
    assert opens[0] - opens[1] == 1


@pytest.mark.parametrize(("pause", "rests"), [(5, False), (12, True), (30, True)])
def test_a_pause_goes_to_rest_if_it_is_long_and_not_if_it_is_short(pause, rests):
    """Common practice, no source: under 6 frames a mouth does not rest, from 12 on it does."""
    names = on_frames(plan_of(BRACK, scene(f"AA:8 SIL:{pause} AA:8", 40 + pause, start=10), MouthRules()))

    assert (BRACK.rest in names[18 : 18 + pause]) is rests


def test_a_louder_and_a_stronger_vowel_opens_wider():
    def opening(stress, loud):
        sounds = (Sound("AA", Fraction(6), Fraction(18), stress, loud),)
        worn = plan_of(BRACK, Scene(sounds, range(24), FILM), MouthRules()).worn
        return max(BRACK.mouth(one.mouth).face.opening for one in worn)

    assert opening(2, 1.0) > opening(0, 0.0)


def test_what_is_pinned_is_worn_on_its_frames_and_the_plan_goes_around_it_and_says_what_that_costs():
    where = scene("P:3 AA:8 M:3 IY:8", 40, start=5)
    free, bound = (plan_of(BRACK, where, MouthRules(), pins) for pins in ([], [Pin("small round", 9, 13)]))

    assert on_frames(bound)[9:13] == ["small round"] * 4
    assert [one.mouth for one in bound.worn if one.pinned] == ["small round"]
    assert not any(one.pinned for one in free.worn)
    assert bound.cost > free.cost
    assert on_frames(bound)[20:] == on_frames(free)[20:]


def test_a_pin_goes_before_closed_lips():
    where = scene("AA:6 M:6 AA:6", 30, start=4)

    assert on_frames(plan_of(BRACK, where, MouthRules(), [Pin("jaw down", 8, 16)]))[8:16] == ["jaw down"] * 8


def test_the_later_of_two_pins_counts_where_they_overlap():
    pins = [Pin("jaw down", 4, 10), Pin("small round", 8, 12)]

    assert on_frames(plan_of(BRACK, scene("AA:9", 20, start=4), MouthRules(), pins))[4:12] == [
        *["jaw down"] * 4,
        *["small round"] * 4,
    ]


def test_a_pin_of_no_mouth_of_the_kit_is_refused():
    with pytest.raises(KeyError, match="grin"):
        plan_of(BRACK, scene("AA:9", 20), MouthRules(), [Pin("grin", 4, 10)])


def test_a_jaw_that_only_opens_closes_for_lips_and_opens_for_vowels():
    steps = tuple(Mouth(f"step {k}", Face(k / 4)) for k in range(5))
    jaw = Kit("jaw", "TUM", steps, "step 0", jaw=5)
    names = on_frames(plan_of(jaw, scene("AA:8 M:4 AA:8", 30, start=4), MouthRules()))

    assert "step 0" in names[10:16]
    assert max(names) > "step 2"


def test_a_mouth_that_was_made_for_a_sound_is_worn_for_it_though_another_looks_nearer():
    odd = Mouth("odd", Face(opening=0.45), phones=frozenset({"AA"}))
    kit = Kit("named", "TUM", (SHUT, odd, Mouth("wide", Face(0.55))), "shut")

    assert "odd" in on_frames(plan_of(kit, scene("AA:12", 24, start=6), MouthRules()))


def test_a_shot_that_moves_by_whole_frames_keeps_its_mouths():
    where = scene("P:3 AA:8 M:3 IY:8 F:2 UW:5", 40, start=5)
    later = replace(where, sounds=tuple(moved(one, 86_400) for one in where.sounds), frames=range(86_400, 86_440))

    assert on_frames(plan_of(BRACK, where, MouthRules())) == on_frames(plan_of(BRACK, later, MouthRules()))


def moved(sound, frames):
    return replace(sound, start=sound.start + frames, stop=sound.stop + frames)


def test_a_plan_is_for_a_frame_at_least():
    with pytest.raises(ValueError, match="at least"):
        plan_of(BRACK, Scene((), range(0), FILM), MouthRules())


def test_a_puppet_that_says_nothing_is_at_rest():
    (worn,) = plan_of(BRACK, Scene((), range(50), FILM), MouthRules()).worn

    assert (worn.mouth, worn.first, worn.stop) == (BRACK.rest, 0, 50)


def test_looking_mouths_up_drops_a_closure_that_no_frame_has_in_its_middle():
    """What a plan is held against: the plainest way, which misses what is short."""
    where = scene("AA:39/4 P:1/2 AA:9", 24, start=3)
    plain, plan = looked_up(BRACK, where), plan_of(BRACK, where, MouthRules()).worn

    assert judged(BRACK, where, MouthRules(), plain).closed == 0
    assert judged(BRACK, where, MouthRules(), plan).held == 1
