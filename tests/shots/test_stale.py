"""Which sheets that are out are stale, from which frame, and what that costs."""

from fractions import Fraction

import pytest

from tests.films import PELL, SCRIPT, read_by_hand, reading_of
from tests.makers import a_reading
from tests.shots.conftest import PICTURES, VOICES, issue
from trackread.errors import BookError
from trackread.workflow.correcting import correct, move, stress
from trackread.workflow.decisions import circle
from trackread.workflow.drafts import add, compared
from trackread.workflow.placing import add_shot, place, remove_shot, trim_shot
from trackread.workflow.stale import since_time, stale_sheets
from trackread.workflow.telling import Telling, tell, tell_done

TRIMMED = (("SH010", 5, 0, 43), ("SH020", 200, 43, 36))
FOLLOWED = ((10, 5, 20), (30, 35, 13))


def stale(book, **since):
    return stale_sheets(book, **since).sheets


def test_a_sheet_just_issued_is_not_stale(film, add_cut):
    add_cut()
    issue(film)

    assert stale_sheets(film).sheets == ()
    assert stale_sheets(film).current == 2


def test_five_frames_off_the_head_of_a_shot_half_shot_cost_no_frame_again(film, add_cut):
    """The whole of what is asked: the sheet, the frame, the rows, what is shot again, and nothing else."""
    add_cut()
    issue(film)
    tell_done(film, "SH010", 24, "ANN")
    add_cut(TRIMMED, FOLLOWED)
    (one,) = stale(film)

    assert (one.issue.shot, one.issue.number, one.issue.unit, one.first, one.done) == ("SH010", 1, "7", 1, 24)
    assert one.told == ("5 frames cut off its head: what was frame 6 is 1 now",)
    assert (one.cost.again, one.cost.more, one.cost.lost, one.cost.days) == (0, 0, 5, 0)
    assert [cause.told for cause in one.causes] == [
        "cut 2 (picture.edl, voice.edl: 1 shot changed, 0 new, 0 gone) by ANN"
    ]


def test_the_same_trim_with_the_voice_left_behind_costs_what_is_shot_from_its_first_word_on(film, add_cut):
    add_cut()
    issue(film, "SH010")
    tell_done(film, "SH010", 24, "ANN")
    add_cut(TRIMMED, ((10, 10, 20), (30, 40, 13)))
    (one,) = stale(film)

    # "Mind" started on frame 12 of the sheet, which is frame 7 now, and starts on 12: five frames later in the picture.
    assert one.told[1] == "BRACK: “Mind” to “ticket!” (4) move 5 later, from 12 to 12"
    # From frame 11 (counted from 0, where the word was) to frame 24 all is shot again.
    assert (one.cost.again, one.cost.lost) == (13, 5)
    assert one.cost.days == Fraction(13, 48) * Fraction(5, 4)


def test_a_shot_that_is_only_pushed_along_is_not_stale(film, add_cut):
    add_cut()
    issue(film, "SH020")
    add_cut(TRIMMED, FOLLOWED)

    assert stale(film) == ()


def test_frames_added_at_the_end_are_to_be_shot_and_none_again(film, add_cut):
    add_cut()
    issue(film, "SH020")
    tell_done(film, "SH020", 36, "ANN")
    add_cut((PICTURES[0], ("SH020", 200, 48, 48)))
    (one,) = stale(film)

    assert (one.first, one.is_shot) == (37, False)
    assert one.told == ("12 frames more at its end: its last frame is 48 now",)
    # Half a second is 12 frames, a quarter of the day's 48: common practice, no source; MISS PELL is alone in it.
    assert (one.cost.again, one.cost.more, one.cost.days) == (0, 12, Fraction(1, 4))


def test_a_shot_that_is_cut_out_is_to_be_called_back(film, add_cut):
    add_cut()
    issue(film)
    tell_done(film, "SH020", 30, "ANN")
    add_cut(PICTURES[:1], VOICES[:1])
    gone, other = stale(film)

    assert (gone.issue.shot, gone.gone, gone.cost.lost) == ("SH020", True, 30)
    assert other.issue.shot == "SH010"


def test_a_corrected_word_makes_its_sheet_stale_from_the_word_on_and_no_other(film, add_cut):
    add_cut()
    issue(film)
    correct(film, "L0001-1", move("ticket!", 13), "ANN")
    (one,) = stale(film)

    assert (one.issue.shot, one.first) == ("SH010", 23)
    assert one.told[0] == "BRACK: “ticket!” moves from 25 to 23"
    assert "L0001-1 corrected by ANN" in one.causes[0].told


def test_a_changed_stress_is_told(film, add_cut):
    add_cut()
    issue(film, "SH010")
    correct(film, "L0001-1", stress("step,", 1, "weak"), "ANN")
    (one,) = stale(film)

    assert one.told == ("BRACK: “step,” is weak, before strong",)


def test_a_take_read_again_is_stale_only_if_its_rows_are_others(film, add_cut):
    add_cut()
    issue(film)
    slower = a_reading(*PELL, lengths=[*[2000] * 8, 4000, 1000, 1000, 2000, 2000], sample_rate=48_000)
    read_by_hand(film, "L0002-1", slower, engine="2")
    assert [one.issue.shot for one in stale(film)] == ["SH020"]
    read_by_hand(film, "L0002-1", reading_of("L0002-1"), engine="3")

    # The third engine reads what the first did.
    assert stale(film) == ()


def test_another_circled_take_of_a_line_placed_by_hand_makes_its_sheet_stale(film):
    add_shot(film, "SH010", "48", author="ANN")
    place(film, "L0001", "SH010", 11, author="ANN")
    circle(film, ["L0001-1"], "ANN", on=True)
    issue(film)
    circle(film, ["L0001-1"], "ANN", on=False)
    circle(film, ["L0001-2"], "ANN", on=True)
    (one,) = stale(film)

    assert one.told[0] == "L0001-2 is heard now in place of L0001-1"
    # The actor waits three frames longer in his second take.
    assert one.told[1] == "BRACK: “Mind” to “step,” (3) move 3 later, from 12 to 15"
    assert one.first == 12


def test_a_line_that_the_new_draft_has_otherwise_makes_its_sheets_stale(film, add_cut, tmp_path):
    add_cut()
    issue(film)
    draft = tmp_path / "draft2.csv"
    draft.write_text(SCRIPT.replace("the step, ticket!", "the gap ticket").replace("Tickets please", "TICKETS PLEASE!"))
    add(film, compared(film, draft), "BEN")
    (one,) = stale(film)

    assert one.issue.shot == "SH010"
    assert one.told == ("L0001 is “Mind the gap ticket” in the script now, before “Mind the step, ticket!”",)
    assert one.first == 11
    assert [cause.told for cause in one.causes] == ["draft 2 (draft2.csv) by BEN"]


def test_what_is_told_of_a_shot_makes_its_sheet_stale(film, add_cut):
    add_cut()
    issue(film)
    tell(film, "SH020", Telling(present=("TUM",)), "ANN")
    (one,) = stale(film)

    assert (one.issue.shot, one.told) == ("SH020", ("BRACK listens no more",))
    assert "present told by ANN" in [cause.told for cause in one.causes]


def test_a_shot_made_by_hand_is_trimmed_and_removed_like_any_other(film):
    add_shot(film, "SH010", "84", author="ANN")
    place(film, "L0001-1", "SH010", 11, author="ANN")
    issue(film)
    tell_done(film, "SH010", 42, "ANN")
    trim_shot(film, "SH010", head=5, tail=0, author="ANN")
    (one,) = stale(film)
    assert one.told == ("5 frames cut off its head: what was frame 6 is 1 now",)
    assert (one.cost.again, one.cost.lost) == (0, 5)

    add_shot(film, "SH020", "24", author="ANN")
    remove_shot(film, "SH010", author="ANN")
    assert stale(film)[0].gone


def test_only_what_has_changed_since_is_told(film, add_cut):
    add_cut()
    issue(film)
    add_cut(TRIMMED, FOLLOWED)

    assert len(stale(film, since=since_time(film, "cut 1"))) == 1
    assert len(stale(film, since=since_time(film, "2"))) == 0
    assert len(stale(film, since=since_time(film, "2020-01-01"))) == 1
    assert len(stale(film, since=since_time(film, "2999-01-01"))) == 0
    for wrong in ("cut 9", "yesterday"):
        with pytest.raises(BookError, match=r"there is no cut 9|neither a day"):
            since_time(film, wrong)
