"""The feature that is made: what its lists and its book have is what it says is true of them. And its bench's eyes."""

import json
import re
import subprocess
import sys
from collections import Counter
from importlib import import_module

import pytest

from tests.scripts.loading import SCRIPTS, script
from trackread.book.book import Book
from trackread.book.drafts import current_script
from trackread.book.readings import readings_with
from trackread.book.sessions import sessions
from trackread.book.takes import takes
from trackread.core.plain import reading_from_plain
from trackread.core.session import StretchKind
from trackread.core.timebase import parse_rate
from trackread.cutting.comparing import compare
from trackread.cutting.events import Terms
from trackread.cutting.reading import read_cut
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.material import gather, reading_of

SHOTS = 60
TERMS = Terms(parse_rate("24"))
BENCH = script("bench-feature")
TRUE = {"trimmed": {"SH0010": 0, "SH0020": 40}, "moved": ["SH0030"], "gone": ["SH0040"]}


@pytest.fixture(scope="module")
def feature(tmp_path_factory):
    """A short one, made by the script as a person runs it."""
    folder = tmp_path_factory.mktemp("feature")
    subprocess.run([sys.executable, SCRIPTS / "make-feature", folder, "--shots", str(SHOTS)], check=True)
    return folder


@pytest.fixture(scope="module")
def truth(feature):
    return json.loads((feature / "truth.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def made_feature():
    """The values alone; scripts find each other beside them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(SCRIPTS))
        yield import_module("made_feature"), import_module("made_sayings")


@pytest.fixture
def book(feature):
    with Book.open(feature / "production") as opened:
        yield opened


def lists(feature, name):
    found = sorted(feature.glob(f"{name}-*.edl"))

    assert len(found) == 5
    return found


def test_each_shot_has_four_lines_and_each_line_two_takes_of_which_one_is_circled(book):
    lines = current_script(book).lines
    every = takes(book, kind=StretchKind.TAKE)

    assert len(lines) == 4 * SHOTS
    assert Counter(take.line for take in every) == {line.id: 2 for line in lines}
    assert sum(take.circled for take in every) == len(lines)
    assert {take.kind for take in takes(book)} > {StretchKind.TAKE, StretchKind.SLATE}


def test_recordings_last_an_hour_at_most_and_have_takes_of_their_character_only(book):
    spoken = {line.id: line.character for line in current_script(book).lines}
    found = {session.id: session for session in sessions(book)}

    assert all(session.sound.length <= 3600 * session.sound.sample_rate for session in found.values())
    assert all(found[take.session].characters == (spoken[take.line],) for take in takes(book, kind=StretchKind.TAKE))


def test_a_reading_is_as_long_as_its_take_and_lies_where_that_does(book, feature):
    add_lists(book, lists(feature, "cut1"), ListWish(), "TUM")
    material = gather(book)
    every = takes(book, kind=StretchKind.TAKE)
    notes = {take.name: reading_of(material, take) for take in every}
    bodies = readings_with(book, [note.id for note, _ in notes.values()])

    assert len(bodies) == len(every) == 8 * SHOTS
    for take in every:
        note, text = notes[take.name]
        reading, session = reading_from_plain(bodies[note.id]), material.sessions[take.session]
        assert reading.sound.length == take.stretch.stop - take.stretch.start
        assert reading.sound.digest == session.sound.digest
        assert reading.sound.start == session.sound.start + take.stretch.start
        assert [word.text for word in reading.words] == text.split()
        assert 1.2 * 48000 <= reading.sound.length <= 4 * 48000


@pytest.mark.parametrize("name", ["cut1", "cut2"])
def test_lists_are_read_without_a_remark_and_all_their_sounds_matched(book, feature, name):
    added = add_lists(book, lists(feature, name), ListWish(), "TUM")

    assert added.unmatched == ()
    assert added.cut.remarks == ()
    assert all(12 <= shot.length <= 600 for shot in added.cut.shots)
    assert len(added.cut.shots) == SHOTS
    assert {one.tracks for one in added.cut.placements} == {("A1",), ("A2",), ("A3",), ("A4",)}


def test_no_shot_is_another_but_those_that_are_said_to_be(feature, truth):
    before, after = (read_cut(lists(feature, name), TERMS) for name in ("cut1", "cut2"))
    changes = compare(before, after)
    changed = {one.before.code: one for one in changes if one.before and one.after and one.first is not None}

    assert truth["shots"] == [shot.code for shot in before.shots]
    assert sorted(changed) == sorted([*truth["trimmed"], *truth["moved"]])
    assert [one.after.code for one in changes if one.before is None] == truth["new"]
    assert [one.before.code for one in changes if one.after is None] == truth["gone"]
    kinds = {code: {one.kind.value for one in changed[code].differences} for code in changed}
    assert all(kinds[code] & {"head", "tail"} for code in truth["trimmed"])
    assert all("sound moved" in kinds[code] for code in truth["moved"])


def test_each_change_is_there_as_often_as_of_fifteen_hundred_shots(made_feature):
    made, sayings = made_feature
    film = made.film_of(1500, sayings.sayings(20, 1), 1)
    second = made.second_cut(film, 1)
    lengths = [picture.length for picture in film.pictures]

    assert [len(each) for each in (second.trimmed, second.moved, second.gone, second.new)] == [200, 20, 5, 5]
    assert 80 <= sum(lengths) / len(lengths) <= 92
    assert any(picture.carries for picture in film.pictures)
    assert len(film.recordings) in range(90, 120)


def test_the_same_seed_makes_the_same_film_and_another_another(made_feature):
    made, sayings = made_feature
    first, again, other = (made.film_of(60, sayings.sayings(20, seed), seed) for seed in (1, 1, 2))

    assert first == again
    assert first.lines != other.lines
    assert made.lists_of(first.pictures) != made.lists_of(other.pictures)


def test_too_few_shots_are_refused(tmp_path):
    command = [sys.executable, SCRIPTS / "make-feature", tmp_path / "tram", "--shots", "5"]
    told = subprocess.run(command, capture_output=True, text=True, check=False)

    assert told.returncode == 2
    assert re.search(r"--shots: \d+ at least", told.stderr)
    assert not (tmp_path / "tram").exists()


def a_stale(code, first=1, *, gone=False):
    return {"shot": code, "from_frame": first, "gone": gone}


RIGHT = [a_stale("SH0010", 1), a_stale("SH0020", 41), a_stale("SH0030", 7), a_stale("SH0040", gone=True)]


@pytest.mark.parametrize(
    ("stale", "wrong"),
    [
        (RIGHT, []),
        (RIGHT[1:], ["not told to be stale: SH0010"]),
        ([*RIGHT, a_stale("SH0050")], ["told to be stale, and not changed: SH0050"]),
        ([*RIGHT[:3], a_stale("SH0040")], ["told to be gone: nothing, in place of SH0040"]),
        ([RIGHT[0], a_stale("SH0020", 1), *RIGHT[2:]], ["stale from another frame than they truly are: SH0020"]),
    ],
)
def test_the_bench_sees_each_way_in_which_the_stale_sheets_may_be_wrong(tmp_path, stale, wrong):
    came = BENCH.Came(json.dumps({"stale": stale}), tmp_path, TRUE)

    assert list(BENCH.wrong_in_changes(came)) == wrong


@pytest.mark.parametrize(
    ("printed", "right"),
    [
        ("Cut 1: 2 shots, 48 frames; 8 sounds, 8 matched.", True),
        ("Cut 1: 2 shots, 48 frames; 8 sounds, 7 matched.", False),
        ("Cut 1: 2 shots, 48 frames; 0 sounds, 0 matched.", False),
        ("", False),
    ],
)
def test_the_bench_sees_that_a_sound_is_not_matched(tmp_path, printed, right):
    assert (list(BENCH.wrong_in_cut(BENCH.Came(printed, tmp_path, TRUE))) == []) is right


def test_the_bench_sees_that_a_sheet_is_missing_or_empty(tmp_path):
    (tmp_path / "sheets").mkdir()
    (tmp_path / "sheets" / "SH0010.pdf").write_bytes(b"%PDF")
    (tmp_path / "sheets" / "SH0020.pdf").write_bytes(b"")
    came = BENCH.Came("", tmp_path, {"shots": ["SH0010", "SH0020"]})

    assert list(BENCH.wrong_in_sheets(came)) == ["1 sheets in sheets, not 2"]
