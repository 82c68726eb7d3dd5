"""A stretch is held to be a take only where everything speaks for one line; in doubt a person decides."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sessions.makers import LANTERN, STEP, STEP_MISS, a_candidate, routes, some_lines
from trackread.core.session import StretchKind, Wholeness
from trackread.sessions.deciding import (
    DIES_AWAY,
    HARDLY,
    LEAST_CUT_OFF,
    LEAST_WHOLE,
    LINE,
    NEAR,
    POOREST,
    SHORT,
    SLATE,
    STOPS_SHORT,
    SURE,
    WHOLE,
    Scale,
    line_cues,
    longer_lines,
    verdicts,
    whole_cues,
)
from trackread.sessions.finding import Spot
from trackread.sessions.lines import Spoken
from trackread.sessions.opinions import Opinion

OPINION = Opinion(fitness=0.5, apart=20.0, sound=0.0, sound_apart=80.0, short=1 / 9, complete=8.0, sound_complete=40.0)
TAKE, UNSURE, CHATTER, SLATED = StretchKind.TAKE, StretchKind.UNSURE, StretchKind.CHATTER, StretchKind.SLATE
LONGER = {"L0101": frozenset({"L0102"}), "L0102": frozenset()}
UNLIKE = dict.fromkeys(LONGER, frozenset())
BROKEN = {"whole": -30.0, "broken": 4.0}
# Whether a voice ends by itself, and whether it is cut off: in between it may be either.
ENDED, STOPPED, EITHER = DIES_AWAY + 0.1, STOPS_SHORT - 0.1, (DIES_AWAY + STOPS_SHORT) / 2


def always(probability):
    """A scale on which everything is as likely."""
    return Scale(math.log(probability / (1 - probability)), {})


SURELY = always(0.99)


def a_spot(*candidates, start=50, slate=-5.0, fall=EITHER, **opinion):
    """A second of a line."""
    opinion = replace(OPINION, **opinion)
    return Spot(start, start + 50, candidates or (a_candidate(),), opinion, ("M",) * 9, slate, rest=2.0, fall=fall)


def kinds(*spots, longer=LONGER, line=SURELY, whole=SURELY):
    return [one.kind for one in verdicts(spots, longer, line=line, whole=whole)]


def verdict(spot, *, line=SURELY, whole=SURELY):
    (found,) = verdicts([spot], LONGER, line=line, whole=whole)
    return found


def test_what_both_opinions_are_sure_of_is_a_take() -> None:
    assert kinds(a_spot()) == [TAKE]


@pytest.mark.parametrize("against", [{"sound_apart": -0.1}, {"sound_apart": -500.0}, {"apart": 0.0}])
def test_what_one_opinion_is_against_is_no_take_however_likely(against) -> None:
    assert kinds(a_spot(**against)) == [UNSURE]


def test_a_tie_of_the_second_opinion_is_for_the_first_to_decide() -> None:
    assert kinds(a_spot(sound_apart=0.0)) == [TAKE]


@pytest.mark.parametrize(
    ("likely", "kind"),
    [(SURE + 0.01, TAKE), (SURE - 0.01, UNSURE), (HARDLY * 1.1, UNSURE), (HARDLY * 0.9, CHATTER)],
)
def test_a_stretch_is_what_it_is_likely_enough_to_be(likely, kind) -> None:
    found = verdict(a_spot(), line=always(likely))

    assert found.kind is kind
    assert found.likely == pytest.approx(likely)


@pytest.mark.parametrize(
    ("whole", "complete", "kind", "wholeness"),
    [
        (0.51, 5.0, TAKE, Wholeness.WHOLE),
        (0.49, -5.0, TAKE, Wholeness.CUT_OFF),
        (0.49, 5.0, UNSURE, Wholeness.CUT_OFF),
    ],
)
def test_a_take_is_whole_or_cut_off_whichever_is_likelier(whole, complete, kind, wholeness) -> None:
    found = verdict(a_spot(complete=complete), whole=always(whole))

    assert (found.kind, found.wholeness) == (kind, wholeness)


def test_a_whole_line_that_is_better_begun_again_is_restarted() -> None:
    assert verdict(a_spot(a_candidate(whole=-20.0, again=8.0))).wholeness is Wholeness.RESTARTED
    assert verdict(a_spot(a_candidate(whole=8.0, again=8.0))).wholeness is Wholeness.WHOLE


@pytest.mark.parametrize(("said", "kind"), [(LEAST_CUT_OFF - 1, UNSURE), (LEAST_CUT_OFF, TAKE)])
def test_a_few_phones_are_too_few_for_a_take_that_is_cut_off(said, kind) -> None:
    spot = a_spot(a_candidate(words=0, phones=said, **BROKEN), complete=-5.0)

    assert spot.candidates[0].said == said
    assert kinds(spot, whole=always(0.01)) == [kind]


@pytest.mark.parametrize(("said", "kind"), [("AY", UNSURE), ("OW K EY", TAKE)])
def test_a_whole_line_of_hardly_a_sound_is_for_a_person(said, kind) -> None:
    assert (kind is TAKE) == (len(said.split()) >= LEAST_WHOLE)
    assert kinds(a_spot(a_candidate(said))) == [kind]


@pytest.mark.parametrize(
    ("fall", "whole", "kind"),
    [
        (ENDED, 0.99, TAKE),
        (STOPPED, 0.99, UNSURE),
        (ENDED, 0.01, UNSURE),
        (STOPPED, 0.01, TAKE),
        (EITHER, 0.99, TAKE),
        (EITHER, 0.01, TAKE),
    ],
)
def test_what_is_whole_does_not_stop_short_and_what_is_cut_off_does_not_die_away(fall, whole, kind) -> None:
    assert kinds(a_spot(fall=fall, complete=whole - 0.5), whole=always(whole)) == [kind]


@pytest.mark.parametrize(("fitness", "kind"), [(POOREST + 0.1, TAKE), (POOREST - 0.1, UNSURE)])
def test_what_fits_its_line_poorly_is_for_a_person_however_likely(fitness, kind) -> None:
    assert kinds(a_spot(fitness=fitness)) == [kind]


TALK = Scale(0.0, {"slate": 10.0})  # on which only what is like a slate is a take, so that neighbours can differ
NEAR_ROWS = round(NEAR / 0.020)


@pytest.mark.parametrize("before", [True, False])
@pytest.mark.parametrize(
    ("said", "rest", "talk", "kind"),
    [
        ("OW K EY", NEAR_ROWS - 1, True, UNSURE),
        ("OW K EY", NEAR_ROWS + 1, True, TAKE),
        ("OW K EY", NEAR_ROWS - 1, False, TAKE),
        (STEP, NEAR_ROWS - 1, True, TAKE),
    ],
    ids=["close", "apart", "close to a take", "long"],
)
def test_a_short_line_close_to_what_is_no_take_may_be_a_piece_of_it(said, rest, talk, kind, before) -> None:
    other = a_spot(a_candidate(LANTERN, "L0102"), slate=-1.0 if talk else 1.0, start=50 + (50 + rest) * (not before))
    spot = a_spot(a_candidate(said), slate=1.0, start=50 + (50 + rest) * before)
    found = kinds(*((other, spot) if before else (spot, other)), longer=UNLIKE, line=TALK)

    assert (len(spot.candidates[0].line.phones) <= SHORT) == (said != STEP)
    assert found[before] is kind


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_a_short_line_beside_a_longer_one_that_begins_with_it_is_for_a_person(order) -> None:
    short, longer = a_spot(a_candidate(STEP)), a_spot(a_candidate(STEP_MISS, "L0102"))
    found = kinds(*((short, longer)[place] for place in order))

    assert [found[order.index(place)] for place in (0, 1)] == [UNSURE, TAKE]


def test_a_short_line_away_from_the_longer_one_is_a_take() -> None:
    short, longer = a_spot(a_candidate(STEP)), a_spot(a_candidate(STEP_MISS, "L0102"))

    assert kinds(short, short, longer) == [TAKE, UNSURE, TAKE]


def test_a_line_that_is_cut_off_may_stand_beside_a_longer_one() -> None:
    short, longer = (a_spot(a_candidate(*said), complete=-5.0) for said in ((STEP,), (STEP_MISS, "L0102")))

    assert kinds(short, longer, whole=always(0.01)) == [TAKE, TAKE]


def like_nothing(slate):
    return Spot(50, 110, (), None, ("M",), slate, rest=2.0, fall=0.8)


@pytest.mark.parametrize(("slate", "kind"), [(SLATE + 0.1, SLATED), (SLATE - 0.1, CHATTER)])
def test_what_is_like_no_line_is_a_slate_or_chatter(slate, kind) -> None:
    assert kinds(like_nothing(slate)) == [kind]


@pytest.mark.parametrize(
    ("slate", "fitness", "likely", "kind"),
    [
        (0.5, 0.4, SURE - 0.01, SLATED),
        (0.5, 0.4, HARDLY / 2, SLATED),
        (0.5, 0.4, SURE + 0.01, TAKE),
        (0.4, 0.5, SURE - 0.01, UNSURE),
        (SLATE - 0.1, -3.0, HARDLY / 2, CHATTER),
    ],
)
def test_a_slate_is_what_is_better_explained_as_one_and_is_surely_no_take(slate, fitness, likely, kind) -> None:
    assert kinds(a_spot(slate=slate, fitness=fitness), line=always(likely)) == [kind]


def test_nothing_spoken_has_no_verdicts() -> None:
    assert kinds() == []


@given(st.lists(routes, max_size=8))
def test_longer_lines_are_those_that_begin_with_all_of_a_line_and_go_on(all_words) -> None:
    lines = [Spoken(f"L{number:04}", words) for number, words in enumerate(all_words)]

    assert longer_lines(lines) == {
        one.id: {
            other.id
            for other in lines
            if len(other.phones) > len(one.phones)
            and " ".join([*other.phones, ""]).startswith(" ".join(one.phones) + " ")
        }
        for one in lines
    }


def test_a_line_may_begin_others_across_their_words() -> None:
    lines = some_lines("T IH K", "T IH K AH T", LANTERN, "T IH, K AH T AH T")

    assert longer_lines(lines)["L0101"] == {"L0102", "L0104"}
    assert longer_lines(lines)["L0102"] == {"L0104"}


numbers = st.floats(-500, 500)
opinions = st.builds(
    Opinion,
    fitness=numbers,
    apart=st.floats(0, 500),
    sound=numbers,
    sound_apart=numbers,
    short=st.integers(1, 60).map(lambda count: 1 / count),
    complete=numbers,
    sound_complete=numbers,
)


@given(opinions, st.integers(3, 3000), st.integers(0, 300), st.floats(-1e9, 1), st.floats(0.2, 10), st.floats(0, 1))
def test_every_cue_is_about_one_in_size_whatever_is_heard(opinion, length, heard, slate, rest, fall) -> None:
    spot = Spot(0, length, (a_candidate(),), opinion, ("M",) * heard, slate, rest, fall)
    cues = {**line_cues(spot), **whole_cues(spot)}
    (found,) = verdicts([spot], LONGER)

    assert set(LINE.weights) == set(line_cues(spot))
    assert set(WHOLE.weights) == set(whole_cues(spot))
    assert all(abs(cue) <= 5 for cue in cues.values())
    assert 0 <= found.likely <= 1
    assert 0 <= found.whole <= 1


@pytest.mark.parametrize("cues", [line_cues, whole_cues])
def test_nothing_speaks_for_a_line_where_none_is_like_it(cues) -> None:
    with pytest.raises(ValueError, match="no opinion"):
        cues(like_nothing(0.0))


@given(st.floats(-5, 5), st.floats(-3, 3), st.floats(-1, 1))
def test_a_scale_is_a_logistic_regression(bias, weight, cue) -> None:
    # The logarithm of the odds is the sum of what the cues weigh.
    found = Scale(bias, {"cue": weight}).probability({"cue": cue, "other": 9.0})

    assert math.log(found / (1 - found)) == pytest.approx(bias + weight * cue, abs=1e-6)
