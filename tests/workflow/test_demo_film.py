"""The demo's production: what is in its book, which of its sheets are stale, and its lists as other readers have them.

pycmx 1.5.1 gives the text of each event of a list, opentimelineio 0.18.1 the frames of its labels.
"""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from opentimelineio import opentime
from PIL import Image
from pycmx import parse_cmx3600

from tests.book.makers import a_production
from tests.makers import ReaderByHand
from trackread.book.book import Book
from trackread.book.checking import check
from trackread.book.cuts import cuts
from trackread.book.drafts import lines_by_id
from trackread.book.issues import issues, pdf_of
from trackread.book.sessions import sessions
from trackread.book.shot_notes import shot_notes
from trackread.book.takes import takes
from trackread.core.cut import pieces_by_shot
from trackread.core.timebase import parse_rate
from trackread.cutting.events import Terms as ListTerms
from trackread.cutting.reading import read_cut
from trackread.errors import CutError, OutputError, ProductionError
from trackread.workflow.current_cut import numbered_cut
from trackread.workflow.demo import demo_folder, demo_takes, read_demo
from trackread.workflow.demo_film import FOLDER, check_place, demo_film, make_film, show_film
from trackread.workflow.printing import form_for
from trackread.workflow.sheet_of_take import Terms

RATE = parse_rate("24")
TERMS = Terms(RATE)
DAY = date(2026, 11, 26)
LISTS = sorted(demo_folder().glob("*.edl"))


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The demo, made once: its folder, the takes that it read, and what it shows."""
    folder = tmp_path_factory.mktemp("demo")
    told = read_demo(folder, form_for(TERMS), ReaderByHand(), progress=[].append)
    return folder, told, show_film(folder, told, TERMS, DAY)


@pytest.fixture
def book(demo):
    with Book.open(demo[0] / FOLDER) as book:
        yield book


def test_the_production_is_whole_and_every_line_is_recorded_and_read(demo, book):
    tally = demo[2].tally

    assert check(book) == ()
    assert (tally.lines, tally.whole, tally.takes, tally.read) == (14, 14, 14, 14)
    assert (tally.missing, tally.cut_off, tally.unsure, tally.stand_in) == (0, 0, 0, 0)


def test_each_file_is_a_session_with_one_take_of_the_line_that_it_says(book):
    said = {known.line.id: known.line.text for known in lines_by_id(book).values()}
    kept = {session.id: session for session in sessions(book)}

    assert [session.name for session in kept.values()] == [take.path.name for take in demo_takes()]
    for take, planned in zip(takes(book), demo_takes(), strict=True):
        assert (said[take.line], take.number) == (planned.line, 1)
        assert (take.stretch.start, take.stretch.stop) == (0, kept[take.session].sound.length)


def test_the_production_works_in_the_folder_that_it_was_moved_to(demo, book):
    hidden = [path.name for path in demo[0].iterdir() if path.name.startswith(".")]

    assert book.folder == demo[0] / FOLDER
    assert hidden == []
    assert (book.folder / "pronunciations.txt").read_bytes() == (demo_folder() / "pronunciations.txt").read_bytes()


def test_every_shot_is_issued_to_its_unit_and_its_sheet_is_written(demo, book):
    shown = demo[2]
    units = {shot.code: shot.unit for shot in demo_film().shots}

    assert {issue.shot: (issue.unit, issue.number, issue.date) for issue in shown.issues} == {
        code: (unit, 1, DAY.isoformat()) for code, unit in units.items()
    }
    assert {*units.values()} == {"1", "2", "3"}
    assert all(shown.files[issue.id].read_bytes() == pdf_of(book, issue) for issue in shown.issues)


def test_the_sheet_to_open_first_has_the_two_who_talk_at_once(demo, book):
    (dual,) = [known.line for known in lines_by_id(book).values() if known.line.dual]
    pieces = pieces_by_shot(numbered_cut(book, 1).cut)[demo[2].first.shot]
    sounds = {session.sound.digest: session.name for session in sessions(book)}
    heard = {sounds[one.placement.sound.digest]: range(one.first, one.stop) for one in pieces}

    assert dual.text == "No ticket, no tram."
    # The sound is over 8 frames before its file is (lines.toml: room tone at both ends).
    assert heard["09-pell-no-ticket.flac"].start + 9 < heard["08-tum-i-can-explain.flac"].stop - 8


def test_the_cut_has_a_line_over_a_cut_a_dissolve_at_its_end_and_a_shot_in_which_nobody_speaks(book):
    cut = numbered_cut(book, 1).cut
    pieces = pieces_by_shot(cut)
    over = [name for name, its in pieces.items() if any("03-pell" in one.placement.source.clip for one in its)]

    assert over == ["020", "025"]
    assert [name for name, its in pieces.items() if not its] == ["045"]
    assert [shot.fade_out for shot in cut.shots] == [0] * 7 + [24]
    assert all(one.sound for one in cut.placements)


def test_the_later_cut_makes_exactly_the_sheets_stale_that_it_touches(demo):
    stale = demo[2].stale
    told = {one.issue.shot: one for one in stale.sheets}

    assert sorted(told) == ["010", "045", "050"]
    assert stale.current == 5
    assert told["010"].told == ("5 frames cut off its head: what was frame 6 is 1 now",)
    assert (told["010"].done, told["010"].cost.again, told["010"].cost.lost) == (132, 0, 5)
    assert told["045"].gone
    assert len(told["050"].told) == 1
    assert "move 3 later" in told["050"].told[0]
    assert told["050"].cost.again == told["050"].done - told["050"].place


def test_half_of_the_trimmed_shot_is_shot(demo, book):
    (shot,) = [shot for shot in numbered_cut(book, 1).cut.shots if shot.code == "010"]

    assert 2 * demo[2].done["010"] == shot.seen


def test_a_second_run_adds_nothing_and_shows_the_same(demo, book):
    folder, told, shown = demo
    before = [path.read_bytes() for path in sorted((folder / "issued").iterdir())]
    again = show_film(folder, told, TERMS, date(2027, 1, 1))

    assert again == shown
    assert (len(sessions(book)), len(cuts(book)), len(issues(book))) == (14, 2, 8)
    assert len(before) == 8
    assert [path.read_bytes() for path in sorted((folder / "issued").iterdir())] == before


def test_a_production_of_somebodys_own_is_left_as_it_is(tmp_path):
    Book.create(tmp_path / FOLDER, a_production()).close()
    check_place(tmp_path)
    shown = show_film(tmp_path, (), TERMS, DAY)

    assert (shown.cuts, shown.issues, shown.drafts, shown.first) == ((), (), (), None)
    assert shown.production == a_production()


def test_what_is_no_production_is_refused(tmp_path):
    (tmp_path / FOLDER).mkdir()

    with pytest.raises(ProductionError, match="production"):
        check_place(tmp_path)


def test_a_step_that_fails_leaves_nothing(tmp_path):
    film = replace(demo_film(), cuts=((tmp_path / "lost.edl",),))

    with pytest.raises(CutError, match=r"lost\.edl"):
        make_film(tmp_path / FOLDER, film, (), terms=TERMS, day=DAY)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(OutputError, match="cannot be written: No such file"):
        make_film(tmp_path / "lost" / FOLDER, demo_film(), (), terms=TERMS, day=DAY)


def test_what_happens_in_a_shot_is_a_passage_of_the_screenplay(book):
    screenplay = " ".join(demo_film().script.read_text(encoding="utf-8").split())
    told = {shot: notes["about"].body["text"] for shot, notes in shot_notes(book).items()}

    assert len(told) == 8
    assert [shot for shot, about in told.items() if about not in screenplay] == []


def test_boards_are_small_pictures_of_one_shape():
    boards = [shot.telling.board for shot in demo_film().shots if shot.telling.board]

    assert sorted(boards) == sorted(demo_folder().glob("*.png"))
    assert len(boards) == 3
    for board in boards:
        assert board.stat().st_size < 10_000
        with Image.open(board) as image:
            assert (image.format, image.size) == ("PNG", (480, 270))


def test_each_list_of_the_demo_is_in_a_cut():
    assert sorted(path for lists in demo_film().cuts for path in lists) == LISTS
    assert len(LISTS) == 4


@pytest.mark.parametrize("path", LISTS, ids=[path.name for path in LISTS])
def test_every_event_of_a_list_is_as_pycmx_and_opentimelineio_have_it(path):
    # A list of sound alone has no shots, so the pictures are read with it.
    (lists,) = [lists for lists in demo_film().cuts if path in lists]
    cut = read_cut(lists, ListTerms(RATE))
    ours = {one.place.line: one for one in (*cut.shots, *cut.placements) if one.place.file == str(path)}
    edits = [edit for edit in events_of(path) if edit.source != "BL"]

    assert len(edits) == len(ours) >= 7
    for edit in edits:
        one = ours[edit.line_number + 1]
        first = one.first if edit.channels.video else one.at
        assert (cut.start + first, cut.start + one.stop) == (frames(edit.record_in), frames(edit.record_out))
        assert one.source.start * 24 == frames(edit.source_in)
        assert (one.source.reel, one.source.clip) == (edit.source, edit.clip_name)
    if edits[0].channels.video:
        (black,) = [edit for edit in events_of(path) if edit.source == "BL"]
        assert cut.shots[-1].fade_out == int(black.transition.operand)


def events_of(path):
    """The edits that have a length."""
    with path.open() as file:
        edits = [edit for event in parse_cmx3600(file).events for edit in event.edits]
    return [edit for edit in edits if edit.record_in != edit.record_out]


def frames(label):
    return opentime.from_timecode(label, 24.0).to_frames()


def test_sounds_play_from_the_beginning_of_files_that_are_there():
    sounds = [edit for path in LISTS if "voice" in path.name for edit in events_of(path)]

    assert len(sounds) == 28
    assert all((demo_folder() / Path(edit.clip_name)).is_file() for edit in sounds)
    assert {edit.source_in for edit in sounds} == {"00:00:00:00"}
