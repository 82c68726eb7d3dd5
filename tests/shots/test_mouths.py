"""The mouths of a shot: on its sheet, set by hand, held against other ways, and what makes its sheet stale."""

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from tests.shots.conftest import PICTURES, issue
from trackread.core.mouth import MouthRules, Pace
from trackread.core.production import Character
from trackread.errors import CutError, KitError
from trackread.workflow.material import gather
from trackread.workflow.mouth_plans import compared_plans, plan_wish, shot_plans
from trackread.workflow.pinning import pin_mouth, unpin, wear
from trackread.workflow.shot_brief import brief_of
from trackread.workflow.stale import stale_sheets
from trackread.workflow.telling import Telling, tell, tell_done

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"
ONES, TWOS = MouthRules(on=Pace.ONES), MouthRules(on=Pace.TWOS)


@pytest.fixture
def mouthed(film):
    """The production with the kits of BRACK and MISS PELL, on ones."""
    folder = film.folder / "kits"
    folder.mkdir()
    for name in ("brack", "miss-pell"):
        shutil.copy(KITS / f"{name}.toml", folder)
    wear_on(film, ONES)
    return film


def wear_on(book, rules):
    book.production = replace(book.production, mouths=rules)


def plan(book, shot="SH010", character="BRACK"):
    """The names of the mouths on each frame of a shot."""
    (found,) = shot_plans(book, shot, character)
    return [one.mouth for one in found.worn for _ in range(one.first, one.stop)]


def winter_coat(book, name="brack-winter"):
    """The same puppet with another head, whose mouths are called otherwise."""
    text = (KITS / "brack.toml").read_text(encoding="utf-8").replace("jaw down", "jaw down, scarf")
    (book.folder / "kits" / f"{name}.toml").write_text(text, encoding="utf-8")


def test_a_shot_has_a_mouth_on_every_frame_and_closes_it_for_the_m_of_mind(mouthed, add_cut):
    add_cut()
    names = plan(mouthed)

    assert len(names) == 48
    # The take plays from frame 10 on, a phone to a frame, the first silent: the M of "Mind" is on frame 11.
    assert names[0] == "lips shut"
    assert "lips shut" in names[8:13]
    assert len(set(names)) > 3


def test_who_is_heard_off_the_screen_has_no_mouth_and_who_has_no_kit_neither(mouthed, add_cut):
    add_cut((PICTURES[0], PICTURES[1]), ((40, 10, 15), (30, 40, 13)))
    kit = mouthed.folder / "kits" / "tum.toml"
    shutil.copy(KITS / "tum.toml", kit)

    assert [one.character for one in shot_plans(mouthed, "SH020")] == ["MISS PELL"]
    assert shot_plans(mouthed, "SH010") == shot_plans(mouthed, "SH010", "MISS PELL")


def test_a_puppet_that_is_there_and_says_nothing_is_at_rest(mouthed, add_cut):
    add_cut()
    tell(mouthed, "SH020", Telling(present=("BRACK",)), "ANN")

    assert set(plan(mouthed, "SH020")) == {"lips shut"}


def test_a_mouth_set_by_hand_is_worn_and_its_cost_is_told(mouthed, add_cut):
    add_cut()
    before = plan(mouthed)
    told = pin_mouth(mouthed, "SH010", "7-14", "Jaw Down", character="brack", author="ANN")
    (found,) = shot_plans(mouthed, "SH010", "BRACK")

    assert told == "SH010: BRACK wears 'jaw down' on 7 to 14"
    assert plan(mouthed)[6:14] == ["jaw down"] * 8
    assert plan(mouthed)[30:] == before[30:]
    assert found.cost > found.free
    assert found.free_figures.held > found.figures.held  # the M of "Mind" is lost under it


def test_a_mouth_may_be_called_by_its_number_in_the_kit(mouthed, add_cut):
    add_cut()
    pin_mouth(mouthed, "SH010", "20", "3", character="BRACK", author="ANN")

    assert plan(mouthed)[19] == "tongue tip out"


def test_a_later_pin_takes_the_frames_it_is_set_on_and_leaves_the_others(mouthed, add_cut):
    add_cut()
    for frames, mouth in (("10-20", "jaw down"), ("14-16", "small round")):
        pin_mouth(mouthed, "SH010", frames, mouth, character="BRACK", author="ANN")

    assert plan(mouthed)[9:20] == [*["jaw down"] * 4, *["small round"] * 3, *["jaw down"] * 4]


def test_what_is_unpinned_the_plan_chooses_again(mouthed, add_cut):
    add_cut()
    free = plan(mouthed)
    pin_mouth(mouthed, "SH010", "10-20", "jaw down", character="BRACK", author="ANN")
    unpin(mouthed, "SH010", "10-14", character="BRACK", author="ANN")

    assert plan(mouthed)[14:20] == ["jaw down"] * 6
    unpin(mouthed, "SH010", None, character="BRACK", author="ANN")
    assert plan(mouthed) == free
    with pytest.raises(KitError, match="no mouth of BRACK is pinned there"):
        unpin(mouthed, "SH010", None, character="BRACK", author="ANN")


def test_pins_stay_with_their_picture_where_a_shot_loses_its_head(mouthed, add_cut):
    add_cut()
    pin_mouth(mouthed, "SH010", "12-15", "small round", character="BRACK", author="ANN")
    add_cut((("SH010", 5, 0, 43), ("SH020", 200, 43, 36)), ((10, 5, 20), (30, 35, 13)))

    assert plan(mouthed)[6:10] == ["small round"] * 4


@pytest.mark.parametrize(
    ("frames", "mouth", "character", "error", "told"),
    [
        ("0-4", "jaw down", "BRACK", CutError, "SH010 has the frames 1 to 48, not 0-4"),
        ("40-49", "jaw down", "BRACK", CutError, "SH010 has the frames 1 to 48, not 40-49"),
        ("9-4", "jaw down", "BRACK", CutError, "SH010 has the frames 1 to 48, not 9-4"),
        ("some", "jaw down", "BRACK", CutError, "'some' are no frames: write them as 12-15, or 12 for one"),
        ("4", "grin", "BRACK", KitError, "'grin' is no mouth of the kit brack: use one of 1 lips shut, 2 teeth on lip"),
        ("4", "13", "BRACK", KitError, "'13' is no mouth of the kit brack"),
        ("4", "jaw down", "TUM", KitError, "SH010 has no puppet of 'TUM' with a kit: there are BRACK"),
        ("4", "jaw down", None, KitError, "SH010 has BRACK, MISS PELL: say whose mouth, with --character"),
    ],
)
def test_what_cannot_be_pinned_is_told_and_nothing_is_changed(mouthed, add_cut, frames, mouth, character, error, told):
    add_cut()
    with pytest.raises(error) as caught:
        pin_mouth(mouthed, "SH010", frames, mouth, character=character, author="ANN")

    assert str(caught.value).startswith(told)
    assert not brief(mouthed).told.pins


def brief(book, name="SH010"):
    material = gather(book)
    return brief_of(material, next(shot for shot in material.cut.shots if shot.name == name))


def test_of_two_kits_of_a_character_the_one_is_worn_that_is_said_and_else_the_first(mouthed, add_cut):
    add_cut()
    winter_coat(mouthed)
    remark = "nobody has said which of the kits brack, brack-winter BRACK wears: it is brack"

    assert remark in brief(mouthed).remarks
    assert wear(mouthed, "SH010", "Brack-Winter", author="ANN") == "SH010: BRACK wears the kit brack-winter"
    assert [one.kit.name for one in brief(mouthed).mouthed if one.character == "BRACK"] == ["brack-winter"]
    assert remark not in brief(mouthed).remarks
    with pytest.raises(KitError, match="there is no kit 'summer': there are brack, brack-winter, miss-pell"):
        wear(mouthed, "SH010", "summer", author="ANN")


def test_a_kit_may_call_its_character_as_the_script_does(mouthed, add_cut):
    add_cut()
    others = [one for one in mouthed.production.characters if one.name != "BRACK"]
    driver = Character("BRACK", also=("THE DRIVER",))
    mouthed.production = replace(mouthed.production, characters=(driver, *others))
    path = mouthed.folder / "kits" / "brack.toml"
    path.write_text(path.read_text().replace('character = "BRACK"', 'character = "The Driver"'))

    assert "BRACK" in [one.character for one in brief(mouthed).mouthed]


def test_a_pin_on_a_mouth_that_the_kit_has_no_more_is_told_and_not_worn(mouthed, add_cut):
    add_cut()
    pin_mouth(mouthed, "SH010", "12-15", "jaw down", character="BRACK", author="ANN")
    winter_coat(mouthed)
    wear(mouthed, "SH010", "brack-winter", author="ANN")

    assert (
        "'jaw down', pinned on BRACK, is no mouth of brack-winter: what is pinned is not worn" in brief(mouthed).remarks
    )
    assert not any(one.pinned for one in shot_plans(mouthed, "SH010", "BRACK")[0].worn)


def test_plans_are_held_side_by_side_with_what_each_costs(mouthed, add_cut):
    add_cut()
    usual, twos, lead, same = compared_plans(mouthed, "SH010", ["on=twos", "lead=2 on=ones", "lead=1"], "BRACK")

    assert all(one.first % 2 == 0 for one in twos.worn)
    assert usual == same
    assert lead.worn != usual.worn
    assert twos.figures.changes <= usual.figures.changes


def test_a_plan_in_another_kit_is_held_beside_the_one_that_is_worn(mouthed, add_cut):
    add_cut()
    winter_coat(mouthed)
    _, winter = compared_plans(mouthed, "SH010", ["kit=brack-winter"], "BRACK")

    assert winter.kit == "brack-winter"
    assert [one.kit for one in shot_plans(mouthed, "SH010", "BRACK")] == ["brack"]


def test_a_kit_whose_name_has_blanks_is_named_in_quotes(mouthed):
    assert plan_wish("on=ones kit='brack in winter'", mouthed.production).kit == "brack in winter"


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        ("twos", "'twos' says nothing of mouths: write on=ones or lead=0"),
        ("colour=3", "'colour=3' says nothing of mouths"),
        ("lead=soon", "'lead=soon' is no way to wear mouths"),
        ("on=threes", "'on=threes' is no way to wear mouths"),
        ("lead=9", "'lead=9' is no way to wear mouths"),
        ("kit='winter", '"kit=\'winter" is no way to wear mouths'),
    ],
)
def test_a_way_that_means_nothing_is_told(mouthed, wish, told):
    with pytest.raises(KitError) as caught:
        plan_wish(wish, mouthed.production)

    assert str(caught.value).startswith(told)


class TestStale:
    def test_a_mouth_set_by_hand_makes_the_sheet_stale_from_its_frame(self, mouthed, add_cut):
        add_cut()
        issue(mouthed)
        assert stale_sheets(mouthed).sheets == ()

        pin_mouth(mouthed, "SH010", "30-33", "jaw down", character="BRACK", author="ANN")
        (one,) = stale_sheets(mouthed).sheets

        assert (one.issue.shot, one.first) == ("SH010", 30)
        assert [cause.told for cause in one.causes] == ["mouths told by ANN"]
        assert any("jaw down" in told or "mouths" in told for told in one.told)

    def test_a_kit_that_is_changed_makes_those_sheets_stale_that_wear_another_mouth_by_it(self, mouthed, add_cut):
        add_cut()
        issue(mouthed)
        path = mouthed.folder / "kits" / "miss-pell.toml"
        path.write_text(path.read_text().replace('"beak ajar"', '"beak a crack"'))
        sheets = stale_sheets(mouthed).sheets

        assert {one.issue.shot for one in sheets} >= {"SH020"}
        assert all(
            [cause.told for cause in one.causes] == ["the kit miss-pell of MISS PELL is another"] for one in sheets
        )

    def test_a_remark_in_a_kit_and_more_copies_of_a_mouth_make_nothing_stale(self, mouthed, add_cut):
        add_cut()
        issue(mouthed)
        path = mouthed.folder / "kits" / "brack.toml"
        path.write_text(path.read_text().replace("copies = 2", "copies = 5") + "\n# Painted again.\n")

        assert stale_sheets(mouthed).sheets == ()

    def test_other_rules_make_a_sheet_stale_if_its_mouths_are_others(self, mouthed, add_cut):
        add_cut()
        issue(mouthed)
        wear_on(mouthed, replace(ONES, lead=2))

        assert {one.issue.shot for one in stale_sheets(mouthed).sheets} == {"SH010", "SH020"}

    def test_a_kit_that_comes_after_the_sheet_is_told_in_one_sentence(self, film, add_cut):
        add_cut()
        issue(film)
        (film.folder / "kits").mkdir()
        shutil.copy(KITS / "miss-pell.toml", film.folder / "kits")
        sheets = stale_sheets(film).sheets

        assert {one.issue.shot for one in sheets} == {"SH010", "SH020"}
        assert all(one.told == ("MISS PELL: mouths are new on this sheet",) for one in sheets)
        assert all([cause.told for cause in one.causes] == ["MISS PELL has a kit"] for one in sheets)

    def test_on_twos_an_odd_head_cut_off_changes_no_mouth_of_the_frames_that_are_left(self, mouthed, add_cut):
        wear_on(mouthed, TWOS)
        add_cut()
        issue(mouthed)
        tell_done(mouthed, "SH010", 24, "ANN")
        before = plan(mouthed)
        add_cut((("SH010", 5, 0, 43), ("SH020", 200, 43, 36)), ((10, 5, 20), (30, 35, 13)))
        (one,) = stale_sheets(mouthed).sheets

        assert one.told == ("5 frames cut off its head: what was frame 6 is 1 now",)
        assert plan(mouthed) == before[5:]
        # And once that is issued too, another frame off the head changes none either.
        issue(mouthed, "SH010")
        add_cut((("SH010", 6, 0, 42), ("SH020", 200, 42, 36)), ((10, 4, 20), (30, 34, 13)))
        assert plan(mouthed) == before[6:]


@pytest.mark.usefixtures("mouthed")
class TestCommands:
    def test_the_plan_is_listed_as_the_sheet_numbers_it(self, add_cut, tram):
        add_cut()
        listed = tram("mouths", "plan", "SH020")

        assert "SH020, MISS PELL, kit miss-pell:" in listed
        assert "changes/s" in listed

    def test_json_has_every_frame_once(self, add_cut, tram):
        add_cut()
        (one,) = json.loads(tram("mouths", "plan", "SH020", "--json"))["plans"]
        frames = [frame for mouth in one["mouths"] for frame in range(mouth["first"], mouth["last"] + 1)]

        assert frames == list(range(1, 37))

    def test_a_pin_is_set_listed_and_taken_away(self, add_cut, tram):
        add_cut()

        assert "SH020: MISS PELL wears 'beak gaping' on 3 to 5." in tram("mouths", "pin", "SH020", "3-5", "beak gaping")
        assert "what is set by hand costs" in tram("mouths", "plan", "SH020")
        assert "SH020: the plan chooses MISS PELL's mouths on all frames." in tram("mouths", "unpin", "SH020")

    def test_plans_side_by_side_have_a_column_each(self, add_cut, tram):
        add_cut()
        first = tram("mouths", "compare", "SH020", "--with", "on=ones", "--with", "lead=2").splitlines()[0]

        assert first.split("  ")[0] == "frame"
        assert first.split()[1:] == ["as", "it", "is", "on=ones", "lead=2"]

    def test_a_kit_is_worn(self, add_cut, tram):
        add_cut()

        assert tram("mouths", "wear", "SH020", "miss-pell") == "SH020: MISS PELL wears the kit miss-pell.\n"
