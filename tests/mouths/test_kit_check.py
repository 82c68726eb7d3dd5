"""What makes a kit unfit to speak, and the mouths that the demo's kits speak with, held against published groupings."""

from collections import Counter
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sklearn.metrics import adjusted_rand_score

from tests.mouths.published_maps import APART, PUBLISHED, always_alike, groups_of, opinions
from trackread.core.mouth import Face, Kit, Mouth
from trackread.core.phones import PHONES
from trackread.mouths.faces import FACES
from trackread.mouths.kit_check import problems_of, remarks_on, spoken_with
from trackread.mouths.kit_file import read_kit
from trackread.mouths.ready_made import jaw_kit, starting_kit

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"

SHUT = Mouth("shut", Face())
HALF = Mouth("half", Face(opening=0.45))
WIDE = Mouth("wide", Face(opening=0.9))
JAW = (SHUT, HALF, WIDE)


def a_kit(*mouths, rest=SHUT):
    return Kit("a kit", "TUM", mouths, rest.name)


def kit_of(puppet):
    return read_kit((KITS / f"{puppet}.toml").read_text(encoding="utf-8"), puppet)


def grouping(kit):
    return {symbol: spoken_with(kit, symbol).name for symbol in PHONES}


def test_the_published_maps_are_typed_as_they_were_counted():
    """603 pairs of phones that never share a group, 116 on which the maps differ, 22 that always share one."""
    told = Counter(frozenset(one) for one in opinions().values())

    assert told == {frozenset({False}): 603, frozenset({True, False}): 116, frozenset({True}): 22}


@pytest.mark.parametrize("puppet", ["brack", "miss-pell", "tum"])
def test_the_kits_of_the_demo_can_speak(puppet):
    assert problems_of(kit_of(puppet)) == ()


def test_sounds_that_every_map_puts_together_share_a_mouth():
    spoken = grouping(kit_of("brack"))

    assert [(one, other) for one, other in always_alike() if spoken[one] != spoken[other]] == []


@pytest.mark.parametrize("group", APART)
def test_sounds_that_every_map_keeps_apart_share_their_mouth_with_no_other(group):
    spoken = grouping(kit_of("brack"))

    sharing = {symbol for symbol in PHONES if spoken[symbol] == spoken[group.split()[0]]}
    assert sharing == set(group.split())


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_mouths_of_a_kit_agree_with_a_published_map_as_the_maps_do_with_one_another(name):
    """0.34 is the least adjusted Rand index of two of these maps (Hubert & Arabie 1985)."""
    spoken, published = grouping(kit_of("brack")), groups_of(PUBLISHED[name])

    assert adjusted_rand_score(list(published.values()), [spoken[symbol] for symbol in published]) >= 0.34


def test_every_mouth_of_the_demo_is_worn_for_some_sound():
    for puppet in ("brack", "miss-pell", "tum"):
        kit = kit_of(puppet)
        assert {*grouping(kit).values(), kit.rest} == {mouth.name for mouth in kit.mouths}


@given(st.lists(st.floats(0.25, 1), min_size=2, max_size=4, unique_by=lambda opening: round(opening * 10)))
def test_a_jaw_that_only_opens_can_speak(openings):
    wide = max(openings) + (1 - max(openings)) / 2
    jaw = [Mouth(f"open {k}", Face(opening=opening)) for k, opening in enumerate({*openings, wide, 0.45})]
    told = [problem for problem in problems_of(a_kit(SHUT, *jaw)) if " are alike: " not in problem]

    assert told == []


def test_a_jaw_that_only_opens_is_told_what_it_does_without():
    told = remarks_on(a_kit(*JAW))

    assert problems_of(a_kit(*JAW)) == ()
    assert [remark.partition(": ")[2].partition(":")[0] for remark in told] == [
        "all mouths are alike in width",
        "all mouths are alike in rounding",
        "all mouths are alike in tongue",
    ]


def a_row(count):
    """As many mouths as asked, no two alike, of which the first is shut."""
    widths = [
        Face(opening, width) for width in (0.5, 0.4, 0.3, 0.6, 0.7, 0.8) for opening in (0, 0.2, 0.4, 0.6, 0.8, 1)
    ]
    faces = [*widths, *(Face(0.2, 0.2, rounding) for rounding in (0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1))]
    return [SHUT, *(Mouth(f"no {k}", face) for k, face in enumerate(faces[1:count]))]


@pytest.mark.parametrize(("count", "fits"), [(2, False), (3, True), (40, True), (41, False)])
def test_a_kit_has_from_three_to_forty_mouths(count, fits):
    mouths = JAW[:count] if count < 4 else a_row(count)

    told = [problem for problem in problems_of(a_kit(*mouths)) if "a kit has from 3 to 40" in problem]

    assert told == ([] if fits else [f"a kit: it has {count} mouths: a kit has from 3 to 40"])


def test_lips_must_close():
    rest = Mouth("ajar", Face(opening=0.1))

    assert problems_of(a_kit(rest, HALF, WIDE, rest=rest)) == (
        "a kit: no mouth closes the lips for p (P), b (B) and m (M): make one with opening 0 and bite 0",
    )


def test_a_mouth_made_for_sounds_that_close_the_lips_closes_them():
    mouth = Mouth("nearly", Face(opening=0.1), phones=frozenset({"M"}))

    assert problems_of(a_kit(*JAW, mouth)) == (
        "a kit: 'nearly' is made for m (M), which close the lips: give it opening 0 and bite 0",
    )


def test_a_kit_that_does_not_open_cannot_say_ah():
    barely = [Mouth(f"barely {k}", Face(opening=0.1 * k)) for k in (1, 2)]
    (told,) = problems_of(a_kit(SHUT, *barely))

    assert told.startswith("a kit: no mouth looks like ah (AA)")
    assert f"AA: opening {FACES['AA'].opening:g}" in told


def test_where_each_mouth_names_its_sounds_every_sound_is_named():
    half = Mouth("half", HALF.face, phones=frozenset(set(PHONES) - {"P", "B", "M", "ZH", "AA"}))
    wide = Mouth("wide", WIDE.face, phones=frozenset({"AA"}))
    shut = Mouth("shut", Face(), phones=frozenset({"P", "B", "M", "SIL"}))

    assert problems_of(a_kit(shut, half, wide)) == (
        "a kit: no mouth is made for zh (ZH): name each among the phones of a mouth",
    )


def test_sounds_that_no_mouth_names_are_left_to_those_that_name_none():
    pinned = Mouth("pinned", Face(opening=0.9), phones=frozenset({"ZH"}))
    kit = a_kit(SHUT, HALF, WIDE, pinned)

    assert spoken_with(kit, "ZH") == pinned
    assert spoken_with(kit, "AA") == WIDE
    assert problems_of(kit) == ()


def test_a_mouth_at_rest_looks_at_rest():
    (told,) = problems_of(a_kit(*JAW, rest=WIDE))

    assert told.startswith("a kit: 'wide' is no mouth at rest: choose one within 0.5 of SIL: opening 0")


def test_lips_that_stand_open_at_rest_are_remarked():
    assert "a kit: 'half', worn at rest, does not close the lips" in remarks_on(a_kit(*JAW, rest=HALF))
    assert not any("at rest" in remark for remark in remarks_on(a_kit(*JAW)))


def test_two_mouths_that_nothing_tells_apart_are_a_problem():
    twin = Mouth("twin", Face(opening=0.46))

    assert problems_of(a_kit(*JAW, twin)) == (
        "a kit: 'half' and 'twin' are alike: make one of them different, or count both as copies of one mouth",
    )


def test_two_mouths_that_look_alike_are_told_apart_by_their_sounds():
    twin = Mouth("twin", HALF.face, phones=frozenset({"K", "G"}))

    assert not any("alike" in problem for problem in problems_of(a_kit(*JAW, twin)))


@pytest.mark.parametrize(("count", "told"), [(8, False), (9, True)])
def test_a_large_kit_without_teeth_on_the_lip_is_remarked(count, told):
    remarks = remarks_on(a_kit(*a_row(count)))

    assert any("no mouth has its teeth on the lip: f (F) and v (V) are said with" in one for one in remarks) == told


def test_a_large_kit_with_teeth_on_the_lip_is_not():
    biting = Mouth("biting", Face(0.1, bite=1))

    assert not any("teeth" in remark for remark in remarks_on(a_kit(*a_row(12), biting)))


def test_a_mouth_that_looks_otherwise_than_its_sounds_is_remarked():
    odd = Mouth("odd", Face(opening=0.1), phones=frozenset({"AA"}))
    (told,) = [remark for remark in remarks_on(a_kit(*JAW, odd)) if "odd" in remark]

    assert told.startswith("a kit: 'odd' is made for ah (AA), and looks otherwise than AA: opening")


def test_all_problems_are_told_at_once():
    ajar, twin = Mouth("ajar", Face(opening=0.1)), Mouth("twin", Face(opening=0.1))
    told = problems_of(a_kit(ajar, twin, rest=ajar))

    assert len(told) == 4
    assert all(problem.startswith("a kit: ") for problem in told)


def test_faces_that_differ_only_where_the_kit_does_not_are_equally_good():
    """A jaw is held against how far a sound opens alone, so that sounds which open alike share a mouth."""
    spoken = grouping(a_kit(*JAW))

    for one, other in combinations(PHONES, 2):
        if FACES[one].opening == FACES[other].opening:
            assert spoken[one] == spoken[other]


@pytest.mark.parametrize("steps", range(2, 21))
def test_a_jaw_of_any_number_of_steps_can_speak_and_nothing_is_remarked(steps):
    """Whoever wrote that it only opens need not be told that it does nothing else."""
    kit = jaw_kit("a kit", "TUM", steps)

    assert (problems_of(kit), remarks_on(kit)) == ((), ())


@given(st.integers(2, 20))
def test_a_jaw_is_shut_for_sounds_that_close_the_lips_and_opens_with_the_sound(steps):
    kit = jaw_kit("a kit", "TUM", steps)
    by_opening = sorted(PHONES, key=lambda symbol: FACES[symbol].opening)
    openings = [spoken_with(kit, symbol).face.opening for symbol in by_opening]

    assert {spoken_with(kit, symbol).name for symbol in ("P", "B", "M")} == {"jaw shut"}
    assert openings == sorted(openings)


def test_the_mouths_that_a_kit_starts_with_can_speak_and_are_all_of_use():
    kit = starting_kit("a kit", "TUM")

    assert (problems_of(kit), remarks_on(kit)) == ((), ())
    assert {*grouping(kit).values(), kit.rest} == {mouth.name for mouth in kit.mouths}
    assert 8 <= len(kit.mouths) <= 12


@pytest.mark.parametrize("group", always_alike())
def test_the_mouths_that_a_kit_starts_with_say_alike_what_every_map_says_alike(group):
    spoken = grouping(starting_kit("a kit", "TUM"))

    assert len({spoken[symbol] for symbol in group}) == 1
