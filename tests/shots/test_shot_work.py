"""How much work shots are, and what they are for other programs."""

import csv
import io
import json
from dataclasses import replace
from fractions import Fraction

import opentimelineio as otio
import pytest

from tests.book.makers import a_production
from tests.shots.conftest import issue
from trackread.book.book import Book
from trackread.book.settings import write_settings
from trackread.core.work import WorkRule
from trackread.errors import CutError
from trackread.workflow.exporting import NAMES, export
from trackread.workflow.material import gather
from trackread.workflow.placing import add_shot, place
from trackread.workflow.shot_work import WorkWish, days_told, work_of
from trackread.workflow.shots import Choice, chosen_briefs
from trackread.workflow.telling import Telling, tell, tell_done

ALL = Choice(every=True)


def test_25_seconds_are_600_frames_and_12_and_a_half_days_at_two_seconds_a_day(film):
    """Common practice, no source."""
    add_shot(film, "SH010", "25s", author="ANN")
    place(film, "L0001", "SH010", 1, author="ANN")
    found = work_of(film, WorkWish(ALL, 1))

    assert (found.frames, found.days, days_told(found.days)) == (600, Fraction(25, 2), "12.5")
    (one,) = found.shots
    assert (one.words, one.characters) == (4, ("BRACK",))


def test_each_further_character_takes_more_time_and_a_voice_from_elsewhere_none(film, add_cut):
    add_cut(pieces=((10, 0, 20), (40, 20, 13)))
    assert [one.characters for one in work_of(film, WorkWish(ALL, 1)).shots] == [("BRACK",), ()]
    tell(film, "SH010", Telling(present=("BRACK", "MISS PELL", "TUM")), "ANN")
    first, second = work_of(film, WorkWish(ALL, 1)).shots

    # 48 frames are a day; two more characters make it half a day longer.
    assert (first.days, second.days) == (Fraction(3, 2), Fraction(36, 48))


def test_the_rule_is_the_productions(film, add_cut):
    add_cut()
    rule = WorkRule(Fraction(4), Fraction(1))
    write_settings(film.folder, replace(a_production(), work=rule, units=3))
    with Book.open(film.folder) as book:
        found = work_of(book, WorkWish(ALL, 1))

    assert [one.days for one in found.shots] == [Fraction(48, 96) * 2, Fraction(36, 96)]


def test_what_is_left_leaves_out_what_is_shot(film, add_cut):
    add_cut()
    tell_done(film, "SH010", 24, "ANN")
    tell_done(film, "SH020", 36, "ANN")
    found = work_of(film, WorkWish(ALL, 1, left=True))

    # Of BRACK's words "ticket!" starts on frame 24, and MISS PELL's first one is in the shot.
    assert [(one.name, one.frames, one.words) for one in found.shots] == [("SH010", 24, 2)]


def test_sums_are_by_scene_character_and_unit(film, add_cut):
    add_cut()
    issue(film, "SH010", unit="7")
    found = work_of(film, WorkWish(ALL, 2))

    assert [(one.name, one.shots, one.frames) for one in found.scenes] == [("7", 2, 84)]
    assert [(one.name, one.shots, one.frames) for one in found.characters] == [("BRACK", 1, 48), ("MISS PELL", 2, 84)]
    assert [(one.name, one.frames) for one in found.by_unit] == [("7", 48), ("", 36)]
    # Both shots at once want two of MISS PELL.
    assert found.copies == {"BRACK": 1, "MISS PELL": 2}


def test_shots_are_chosen_by_name_by_scene_or_all(film, add_cut):
    add_cut(pieces=((10, 0, 20), (50, 50, 10)))
    material = gather(film)

    def names(**choice):
        return [brief.shot.name for brief in chosen_briefs(material, Choice(**choice))]

    assert names(every=True) == ["SH010", "SH020"]
    assert names(names=("sh020", "SH010/1", "SH020")) == ["SH010", "SH020"]
    assert names(scene="8") == ["SH020"]
    with pytest.raises(CutError, match="no shot is in scene 9: there are 7, 8"):
        names(scene="9")
    with pytest.raises(CutError, match="say which shots"):
        names()


def test_a_rule_gives_the_scene_by_the_code(film, add_cut):
    add_cut((("12-010", 0, 0, 48),), ((10, 0, 20),))
    write_settings(film.folder, replace(a_production(), scene_code="^([0-9]+)-"))
    with Book.open(film.folder) as book:
        assert [brief.scene for brief in chosen_briefs(gather(book), ALL)] == ["12"]


@pytest.fixture
def exported(film, add_cut, tmp_path):
    """Exports all shots in a form, and gives the file's bytes."""
    add_cut()

    def exported(form):
        material = gather(film)
        export(film, material, chosen_briefs(material, ALL), form=form, to=tmp_path / f"film.{form}")
        return (tmp_path / f"film.{form}").read_bytes()

    return exported


def test_every_form_but_textgrids_is_a_file_and_the_same_twice(exported):
    forms = [name for name in NAMES if name != "textgrid"]

    assert len(forms) == 6
    assert all(exported(form) == exported(form) for form in forms)


def test_a_table_has_a_row_for_each_frame(exported):
    rows = list(csv.DictReader(io.StringIO(exported("csv").decode("utf-8-sig"))))

    assert len(rows) == 48 + 36
    assert [(row["shot"], row["frame"]) for row in rows if row["BRACK word"] == "step,"] == [("SH010", "18")]


def test_json_has_the_words_on_the_frames_of_their_shots(exported):
    film = json.loads(exported("json"))

    (brack, _), (pell,) = (shot["voices"] for shot in film["shots"])
    assert [(word["text"], word["first"]) for word in brack["words"]][:2] == [("Mind", 11), ("the", 15)]
    assert pell["words"][0]["text"] == "please"


def test_a_timeline_reads_back_in_the_reference_library(exported):
    """opentimelineio itself reads what is written for it."""
    timeline = otio.adapters.read_from_string(exported("otio").decode(), "otio_json")
    clips = list(timeline.find_clips())

    assert [(clip.name, clip.source_range.duration.value) for clip in clips] == [("SH010", 48), ("SH020", 36)]
    assert "step," in [marker.name for marker in clips[0].markers]


def test_each_shot_has_a_textgrid(film, add_cut, tmp_path):
    add_cut()
    material = gather(film)
    written = export(film, material, chosen_briefs(material, ALL), form="textgrid", to=tmp_path / "grids")

    assert [path.name for path in written.files] == ["SH010.TextGrid", "SH020.TextGrid"]
    assert "BRACK words" in written.files[0].read_text()
