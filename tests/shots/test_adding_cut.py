"""Cut lists come into the book: shots, placements matched to recordings, what cannot be matched, what has changed."""

from dataclasses import replace

import pytest

from tests.cutting.makers import a_shot
from tests.films import edl, picture, voice
from tests.shots.conftest import START, VOICES
from trackread.core.cut import Cut
from trackread.core.timebase import Frame, parse_rate
from trackread.errors import ClashError, CutError
from trackread.workflow.adding_cut import ListWish, add_lists, check_fits
from trackread.workflow.current_cut import all_cuts, current_cut, keep_cut
from trackread.workflow.material import gather
from trackread.workflow.placing import add_shot, place
from trackread.workflow.shot_brief import brief_of


def heard(book):
    """Which takes are heard in each shot, on which of its frames."""
    material = gather(book)
    return {
        shot.name: [
            (one.take.name, one.frames.start - shot.first, one.frames.stop - shot.first)
            for one in brief_of(material, shot).heard
        ]
        for shot in material.cut.shots
    }


def test_a_line_that_runs_over_a_cut_is_heard_in_both_shots(film, add_cut):
    added = add_cut()

    assert (added.number, added.matched, added.unmatched) == (1, 2, ())
    assert heard(film) == {"SH010": [("L0001-1", 10, 30), ("L0002-1", 40, 48)], "SH020": [("L0002-1", 0, 5)]}


def test_a_line_may_be_made_of_pieces_of_three_takes(film, add_cut):
    add_cut(pieces=((10, 0, 6), (20, 6, 4, 9), (10, 10, 8, 10)))

    assert heard(film)["SH010"] == [("L0001-1", 0, 6), ("L0001-2", 6, 10), ("L0001-1", 10, 18)]


def test_what_cannot_be_matched_is_told_all_at_once_with_file_and_line(film, tmp_path):
    rate = film.production.rate
    lost = tmp_path / "lost.edl"
    events = (voice(k, 10, START + 20 * k, 10, rate) for k in (1, 2))
    lost.write_text(edl(*(event.replace("REEL1", "REEL9").replace("reel 1", "reel 9") for event in events)))
    files = [tmp_path / "picture.edl", lost]
    files[0].write_text(edl(picture(1, "SH010", 0, START, 48, rate)))

    added = add_lists(film, files, ListWish(), "ANN")

    assert [(str(one.place), one.text) for one in added.unmatched] == [
        (f"{lost}:{line}", "no recording has the name of the clip 'reel 9' or the reel 'REEL9'") for line in (4, 6)
    ]
    # It is kept all the same: the recording may come later.
    assert len(current_cut(film).cut.placements) == 2


def test_the_same_lists_again_add_nothing(film, add_cut):
    add_cut()

    assert add_cut().again
    assert len(all_cuts(film)) == 1


def test_what_became_of_shots_is_told_in_words(add_cut):
    add_cut()
    told = add_cut(shots=(("SH010", 5, 0, 43), ("SH020", 200, 43, 36)), pieces=((10, 5, 20), (30, 35, 13))).told

    assert told[0] == "SH010 loses 5 frames at its head: what was frame 6 is now frame 1"
    assert told[1] == "SH020 is pushed along by what is before it: 5 frames earlier in the cut"
    assert len(told) == 2


def test_only_sounds_of_the_wanted_tracks_are_taken(add_cut):
    added = add_cut(tracks=("a1",))

    assert len(added.cut.placements) == 2
    with pytest.raises(CutError, match="no list has a track A7: there are A1"):
        add_cut(tracks=("A7",))


def test_lists_without_a_picture_are_refused_and_the_cut_stays(film, add_cut, tmp_path):
    add_cut()
    alone = tmp_path / "alone.edl"
    alone.write_text(edl(voice(1, 10, START, 10, film.production.rate)))

    with pytest.raises(CutError, match="no list has a picture"):
        add_lists(film, [alone], ListWish(), "ANN")
    assert len(current_cut(film).cut.shots) == 2


def test_lists_that_count_otherwise_than_the_production_are_refused(film):
    cut = Cut("THE LATE TRAM", parse_rate("29.97df"), Frame(0), (a_shot(),))

    with pytest.raises(CutError, match=r"the lists count 29\.97df, and the production 24: export them as"):
        check_fits(cut, film.production)


def test_what_was_made_by_hand_stays_when_a_list_comes(film, add_cut):
    add_shot(film, "SH900", "24", author="ANN")
    place(film, "L0003", "SH900", 3, author="ANN")
    add_cut()

    assert heard(film)["SH900"] == [("L0003-1", 2, 15)]
    assert [shot.name for shot in current_cut(film).cut.shots] == ["SH010", "SH020", "SH900"]


def test_a_line_placed_by_hand_gives_way_to_the_same_take_in_the_list(film, add_cut):
    add_cut(pieces=())
    place(film, "L0001", "SH010", 11, author="ANN")
    add_cut()

    assert heard(film)["SH010"] == [("L0001-1", 10, 30), ("L0002-1", 40, 48)]


def test_a_cut_added_meanwhile_is_not_overwritten(film, add_cut):
    first = add_cut()
    add_cut(pieces=VOICES[:1])

    with pytest.raises(ClashError, match=r"the cut has changed since it was looked at: cut 2 .* by ANN"):
        keep_cut(film, replace(first.cut, title="mine"), "mine", "BEN", after=first.number)
    assert len(all_cuts(film)) == 2


def test_what_a_list_plays_stays_whatever_it_is(add_cut):
    """Talk that the list plays is no take of any line, and takes nothing away with it."""
    add_cut()
    added = add_cut(pieces=((60, 0, 10), (10, 10, 20)))

    assert [one.at for one in added.cut.placements] == [0, 10]
