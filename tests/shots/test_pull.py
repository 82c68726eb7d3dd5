"""The mouths to bring to shots, as a person at the unit asks for them."""

from pathlib import Path

import pytest

from tests.shots.conftest import issue
from trackread.errors import CutError, KitError
from trackread.workflow.mouth_plans import shot_plans
from trackread.workflow.pulling import PullWish, pull
from trackread.workflow.shots import Choice
from trackread.workflow.telling import Telling, tell, tell_done

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"
ALL = Choice(every=True)


@pytest.fixture
def mouthed(film, add_cut):
    """The production with two shots and the kits of BRACK and MISS PELL; one copy of each mouth."""
    folder = film.folder / "kits"
    folder.mkdir()
    for name in ("brack", "miss-pell"):
        text = (KITS / f"{name}.toml").read_text(encoding="utf-8")
        (folder / f"{name}.toml").write_text(
            text.replace("copies = 2", "copies = 1").replace("copies = 3", "copies = 1")
        )
    add_cut()
    return film


def frames_by_mouth(book, *shots):
    """Frames on which each mouth of each kit is worn, counted from the plans."""
    found = {}
    for shot in shots:
        for plan in shot_plans(book, shot):
            for one in plan.worn:
                key = (plan.kit, one.mouth)
                found[key] = found.get(key, 0) + one.stop - one.first
    return found


def pulled(found):
    return {(kit.kit, mouth.mouth): mouth.frames for kit in found.kits for mouth in kit.mouths}


def test_what_is_pulled_is_what_the_plans_wear_frame_for_frame(mouthed):
    found = pull(mouthed, PullWish(ALL, 1))

    assert found.shots == ("SH010", "SH020")
    assert pulled(found) == frames_by_mouth(mouthed, "SH010", "SH020")


def test_the_first_frame_of_a_mouth_is_the_first_on_which_the_plan_has_it(mouthed):
    (kit,) = [kit for kit in pull(mouthed, PullWish(Choice(("SH010",)), 1)).kits if kit.kit == "brack"]
    (plan,) = shot_plans(mouthed, "SH010", "BRACK")
    first = {one.mouth: 1 + one.first for one in reversed(plan.worn)}

    assert {mouth.mouth: mouth.first for mouth in kit.mouths} == first


def test_a_puppet_that_says_nothing_brings_its_mouth_at_rest(mouthed):
    tell(mouthed, "SH020", Telling(present=("BRACK",)), "ANN")
    found = pulled(pull(mouthed, PullWish(Choice(("SH020",)), 1)))

    assert {mouth: frames for (kit, mouth), frames in found.items() if kit == "brack"} == {"lips shut": 36}


def test_only_what_is_not_shot_yet_is_pulled(mouthed):
    tell_done(mouthed, "SH010", 48, "ANN")
    tell_done(mouthed, "SH020", 30, "ANN")
    found = pull(mouthed, PullWish(ALL, 1))

    assert found.shots == ("SH020",)
    assert sum(mouth.frames for kit in found.kits for mouth in kit.mouths) == 6
    assert all(mouth.first > 30 for kit in found.kits for mouth in kit.mouths)


def test_one_copy_is_enough_for_one_unit_and_too_few_for_two_that_wear_it_at_once(mouthed):
    one, two = (pull(mouthed, PullWish(ALL, units)) for units in (1, 2))

    assert one.short == ()
    assert {(short.kit, short.mouth, short.short) for short in two.short} >= {("miss-pell", "beak shut", 1)}
    assert all(short.shots == ("SH010", "SH020") for short in two.short)


def test_a_units_pull_is_of_the_sheets_that_are_out_for_it(mouthed):
    issue(mouthed, "SH020", unit="A")
    issue(mouthed, "SH010", unit="B")

    assert pull(mouthed, PullWish(ALL, 1, unit="A")).shots == ("SH020",)
    with pytest.raises(CutError, match="no shot is out for C: there are A, B"):
        pull(mouthed, PullWish(ALL, 1, unit="C"))


def test_a_days_pull_is_of_what_is_shot_on_it(mouthed):
    """48 frames with two puppets take a day and a quarter, 36 with one three quarters (`each_further_character`)."""
    first, second = (pull(mouthed, PullWish(ALL, 1, day=day)).shots for day in (1, 2))

    assert (first, second) == (("SH010",), ("SH010", "SH020"))
    with pytest.raises(CutError, match="on day 3 nothing is left to shoot: the last is day 2"):
        pull(mouthed, PullWish(ALL, 1, day=3))


def test_a_production_without_kits_is_told_how_to_make_one(film, add_cut):
    add_cut()
    with pytest.raises(KitError, match="trackread kit new"):
        pull(film, PullWish(ALL, 1))


def test_a_jaw_is_never_brought(film, add_cut):
    (film.folder / "kits").mkdir()
    (film.folder / "kits" / "brack.toml").write_text('character = "BRACK"\njaw = 5\n')
    add_cut()

    assert pull(film, PullWish(ALL, 1)).kits == ()


@pytest.mark.usefixtures("mouthed")
def test_the_command_tells_what_is_missing(tram, tram_json):
    told = tram("pull", "--units", "2").splitlines()

    assert told[0] == "2 shots: SH010, SH020; 2 units at once."
    assert "BRACK, kit brack:" in told
    assert "miss-pell: 1 copy more of 'beak shut': SH010, SH020 run at once" in told
    assert tram_json("pull", "SH020")["shots"] == ["SH020"]
