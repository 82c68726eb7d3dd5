"""Which mouths are brought, and how many are wanted at once, held to a count that looks at each piece of each day."""

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.core.test_work import a_shot
from trackread.core.mouth import Face, Kit, Mouth
from trackread.core.pull import KitPull, Pulled, Use, Wanted, pull_of, short_of, wanted_at_once
from trackread.core.work import copies_wanted, schedule

NAMES = ("shut", "half", "wide")
# Shots last for so many of these pieces of a day.
PIECE = Fraction(1, 4)


def a_kit(name="brack", character="BRACK", *, copies=(1, 1, 1), jaw=0):
    mouths = tuple(Mouth(one, Face(k / 2), count) for k, (one, count) in enumerate(zip(NAMES, copies, strict=True)))
    return Kit(name, character, mouths, "shut", jaw)


def a_use(mouth="half", shot="SH010", *, kit="brack", first=1, frames=2, changes=1):
    return Use(kit, mouth, shot, first, frames, changes)


@st.composite
def shoots(draw):
    """Shots, kits with a few copies of each mouth, and the mouths that are worn in each shot."""
    copies = st.tuples(*[st.integers(1, 3)] * len(NAMES))
    kits = [a_kit("brack", "BRACK", copies=draw(copies)), a_kit("tum", "TUM", copies=draw(copies))]
    shots = [a_shot(f"SH{n:03}0", PIECE * draw(st.integers(1, 12))) for n in range(draw(st.integers(0, 12)))]
    worn = st.sets(st.tuples(st.sampled_from(("brack", "tum")), st.sampled_from(NAMES)))
    uses = [a_use(mouth, shot.name, kit=kit) for shot in shots for kit, mouth in sorted(draw(worn))]
    return shots, kits, uses


UNITS = st.integers(1, 5)


def by_piece(shots, units, uses):
    """The shots that wear each mouth, in each piece of each day."""
    wearing = {(use.kit, use.mouth, use.shot) for use in uses}
    booked = schedule(shots, units).booked
    last = max((one.stop for one in booked), default=Fraction(0))
    for piece in range(int(last / PIECE)):
        now = [one.shot.name for one in booked if one.start <= piece * PIECE < one.stop]
        yield {
            (kit, mouth): [name for name in now if (kit, mouth, name) in wearing]
            for kit in ("brack", "tum")
            for mouth in NAMES
        }


class TestPull:
    def test_each_kit_has_its_mouths_in_the_order_of_the_kit(self):
        uses = [
            a_use("wide", "SH020", first=31, frames=4, changes=2),
            a_use("half", "SH020", first=12),
            a_use("half", "SH010", first=3, frames=7, changes=3),
            a_use("shut", "SH020", kit="tum", first=1, frames=40),
        ]

        assert pull_of(uses, [a_kit("tum", "TUM"), a_kit()]) == (
            KitPull("tum", "TUM", (Pulled("shut", 40, 1, "SH020", 1),)),
            KitPull("brack", "BRACK", (Pulled("half", 9, 4, "SH020", 12), Pulled("wide", 4, 2, "SH020", 31))),
        )

    def test_a_mouth_is_first_wanted_on_its_first_frame_in_the_first_shot(self):
        uses = [a_use(first=30), a_use(first=9), a_use(shot="SH020", first=1)]
        (found,) = pull_of(uses, [a_kit()])

        assert (found.mouths[0].shot, found.mouths[0].first) == ("SH010", 9)

    def test_there_is_nothing_to_bring_of_a_jaw(self):
        assert pull_of([a_use()], [a_kit(jaw=3)]) == ()

    @given(shoots())
    def test_no_frame_and_no_change_is_lost(self, shoot):
        _, kits, uses = shoot
        pulled = {(one.kit, mouth.mouth): mouth for one in pull_of(uses, kits) for mouth in one.mouths}
        frames, changes = Counter(), Counter()
        for use in uses:
            frames[use.kit, use.mouth] += use.frames
            changes[use.kit, use.mouth] += use.changes

        assert {key: one.frames for key, one in pulled.items()} == frames
        assert {key: one.changes for key, one in pulled.items()} == changes


class TestAtOnce:
    def test_shots_at_one_time_want_a_mouth_each(self):
        shots = [a_shot("SH010", 2), a_shot("SH020", 1), a_shot("SH030", 1)]
        uses = [a_use(shot="SH010"), a_use(shot="SH030"), a_use("wide", "SH020")]

        assert wanted_at_once(shots, 2, uses=uses, kits=[a_kit()]) == (
            Wanted("brack", "half", 1, ("SH010", "SH030")),
            Wanted("brack", "wide", 1, ("SH020",)),
        )
        (short,) = short_of(shots, 2, uses=uses, kits=[a_kit()])
        assert (short.mouth, short.short, short.shots) == ("half", 1, ("SH010", "SH030"))
        assert short_of(shots, 2, uses=uses, kits=[a_kit(copies=(1, 2, 1))]) == ()

    def test_a_mouth_goes_straight_from_one_unit_to_another(self):
        """Unit 1 stops with it on day 1 as unit 2 starts with it."""
        shots = [a_shot("SH010", 1), a_shot("SH020", 1), a_shot("SH030", 2), a_shot("SH040", 1)]
        uses = [a_use(shot="SH010"), a_use(shot="SH040")]

        assert [len(one.shots) for one in wanted_at_once(shots, 2, uses=uses, kits=[a_kit()])] == [1]

    def test_of_a_jaw_there_is_never_too_little(self):
        shots = [a_shot("SH010"), a_shot("SH020")]

        assert short_of(shots, 2, uses=[a_use(), a_use(shot="SH020")], kits=[a_kit(jaw=3)]) == ()

    def test_a_shot_that_is_not_shot_now_wants_nothing(self):
        assert wanted_at_once([a_shot("SH010")], 2, uses=[a_use(shot="SH990")], kits=[a_kit()]) == ()

    @given(shoots(), UNITS)
    def test_so_many_are_wanted_as_on_the_busiest_piece_of_a_day(self, shoot, units):
        shots, kits, uses = shoot
        pieces = list(by_piece(shots, units, uses))
        wanted = {(one.kit, one.mouth): one for one in wanted_at_once(shots, units, uses=uses, kits=kits)}

        assert set(wanted) == {(use.kit, use.mouth) for use in uses}
        for key, one in wanted.items():
            assert len(one.shots) == max(len(piece[key]) for piece in pieces)
            assert list(one.shots) in [piece[key] for piece in pieces]

    @given(shoots(), UNITS)
    def test_short_is_what_goes_beyond_the_copies_and_nothing_else(self, shoot, units):
        shots, kits, uses = shoot
        copies = {(kit.name, mouth.name): mouth.copies for kit in kits for mouth in kit.mouths}
        lacking = Counter()
        for piece in by_piece(shots, units, uses):
            lacking |= Counter({key: len(names) - copies[key] for key, names in piece.items()})

        told = {(one.kit, one.mouth): one.short for one in short_of(shots, units, uses=uses, kits=kits)}
        assert told == +lacking

    @given(shoots())
    def test_one_unit_wants_one_of_each(self, shoot):
        shots, kits, uses = shoot

        assert all(len(one.shots) == 1 for one in wanted_at_once(shots, 1, uses=uses, kits=kits))

    @given(st.lists(st.tuples(st.integers(1, 8), st.booleans()), max_size=12), UNITS)
    def test_a_mouth_worn_wherever_its_puppet_is_is_wanted_as_often_as_the_puppet(self, lengths, units):
        shots = [a_shot(f"SH{n:03}0", length, *["TUM"] * here) for n, (length, here) in enumerate(lengths)]
        uses = [a_use(shot=shot.name) for shot in shots if shot.characters]
        wanted = [len(one.shots) for one in wanted_at_once(shots, units, uses=uses, kits=[a_kit()])]

        assert wanted == list(copies_wanted(shots, units).values())


@pytest.mark.parametrize("use", [a_use("gone"), a_use(kit="gone")])
def test_what_no_kit_has_is_our_bug(use):
    with pytest.raises(ValueError, match=r"which the kit '(gone|brack)' does not have"):
        pull_of([use], [a_kit()])


@pytest.mark.parametrize("change", [{"frames": 0, "changes": 0}, {"changes": 3}])
def test_what_is_worn_is_worn_on_a_frame_for_each_change(change):
    with pytest.raises(ValueError, match="half is worn in SH010"):
        a_use(**change)
