"""`trackread demo`, with a reading made by hand."""

import shlex
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import soundfile
from click import Context, Group

from tests.film.watching import heard_in, mouths_in, number_in, pictures_of
from tests.makers import ReaderByHand
from trackread.book.book import Book
from trackread.book.sounds import sound_path
from trackread.cli.main import commands, main
from trackread.core.reading import Match
from trackread.film.film import Film, FilmVoice
from trackread.film.sound import RATE, resampled
from trackread.workflow.demo_film import FOLDER
from trackread.workflow.kits import kits_in, looks_of
from trackread.workflow.material import gather
from trackread.workflow.mouth_plans import shot_plans


def told_by(capsys, *arguments, **changes):
    with pytest.raises(SystemExit) as left:
        main(list(map(str, arguments)), reader=lambda _: ReaderByHand(**changes))
    assert left.value.code == 0
    return capsys.readouterr().out.splitlines()


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A folder in which the demo was run."""
    folder = tmp_path_factory.mktemp("cli") / "tram"
    with pytest.raises(SystemExit):
        main(["demo", str(folder)], reader=lambda _: ReaderByHand())
    return folder


def commands_in(told):
    """The commands that are told, each as its words."""
    text = "\n".join(told).replace(" \\\n   ", "")
    rows = [line.removeprefix("  trackread ") for line in text.splitlines() if line.startswith("  trackread ")]
    return [[word for word in shlex.split(row) if word != "…"] for row in rows]


def context_of(words):
    """What a command makes of its words; refuses what it does not know."""
    command, context = commands, None
    while isinstance(command, Group):
        name, *words = words
        context = Context(command, parent=context, info_name=name)
        command = command.get_command(context, name)
    return command.make_context(command.name, list(words), parent=context)


def test_the_demo_fits_a_screen_and_ends_with_the_sheet_to_open_first(made, capsys):
    told = told_by(capsys, "demo", made)

    assert told[0] == f"14 takes read; {made} has a sheet, a TextGrid and a reading of each."
    assert len(told) <= 50
    assert Path(told[-1]) == made / "issued" / "040-issue-1.pdf"
    assert Path(told[-1]).read_bytes().startswith(b"%PDF")


def test_every_command_that_is_told_is_one_that_can_be_typed(made, capsys):
    typed = commands_in(told_by(capsys, "demo", made))

    assert [words[0] for words in typed] == [
        *("read", "new", "script", "session", "kit", "cut", "shot", "issue", "shot", "cut", "changes"),
    ]
    for words in typed:
        context_of(words).close()


def test_lines_of_commands_are_no_wider_than_a_terminal(made, capsys):
    told = [line for line in told_by(capsys, "demo", made) if line.startswith(("  trackread", "    --"))]

    assert len(told) >= 10
    assert max(map(len, told)) <= 80


def test_the_demo_tells_what_changes_tells(made, capsys):
    told = told_by(capsys, "demo", made)
    changes = told_by(capsys, "changes", "--production", made / FOLDER)
    start = told.index("  trackread changes") + 2

    assert len(changes) > 10
    assert told[start : start + len(changes)] == changes


def test_the_demo_tells_the_same_however_often_it_is_run(made, capsys):
    assert told_by(capsys, "demo", made) == told_by(capsys, "demo", made)


def test_a_production_of_somebodys_own_in_its_place_is_told_and_left(tmp_path, capsys):
    place = tmp_path / FOLDER
    told_by(capsys, "new", place, "--title", "Mind the Step", "--rate", "29.97df")
    told = told_by(capsys, "demo", tmp_path)

    assert "  trackread new production --title 'Mind the Step' --rate 29.97df …" in told
    assert [words[0] for words in commands_in(told)] == ["read", "new", "changes"]
    assert "0 sheets out: 0 current, 0 stale." in told


def test_a_file_in_the_place_of_the_production_is_told_before_anything_is_read(tmp_path, capsys):
    (tmp_path / FOLDER).write_text("no folder")
    reader = ReaderByHand()

    with pytest.raises(SystemExit) as left:
        main(["demo", str(tmp_path)], reader=lambda _: reader)
    assert left.value.code == 1
    assert capsys.readouterr().err.startswith("trackread: ")
    assert reader.lines == []


def test_takes_that_do_not_say_their_lines_are_told(made, capsys):
    told = told_by(capsys, "demo", made, match=Match(0.3, says_line=False))

    assert "Not as the line has it: 01-brack-hold-tight, 02-brack-route-42, " in told[0]


def test_the_pronunciations_of_the_scene_are_used(made):
    asked = []

    def reader(pronunciations):
        asked.append(pronunciations.name)
        return ReaderByHand()

    with pytest.raises(SystemExit):
        main(["demo", str(made)], reader=reader)
    assert asked == ["pronunciations.txt"]


@pytest.fixture(scope="module")
def movie(made):
    return (made / "040.mp4").read_bytes()


@pytest.fixture(scope="module")
def book(made):
    with Book.open(made / FOLDER) as book:
        yield book


@pytest.fixture(scope="module")
def shot(book):
    return next(shot for shot in gather(book).cut.shots if shot.name == "040")


def test_every_frame_of_the_movie_has_its_number_and_the_mouths_of_the_plan(movie, book, shot):
    seen, times = pictures_of(movie)
    plans = shot_plans(book, "040")
    looks = {one.kit.name: looks_of(one) for one in kits_in(book.folder)}
    voices = [FilmVoice(plan.character, looks[plan.kit], plan.worn) for plan in plans]
    film = Film(("040",), book.production.rate, shot.seen, 1, tuple(voices))
    planned = [[one.mouth for one in plan.worn for _ in range(one.first, one.stop)] for plan in plans]

    assert len(seen) == shot.seen == 264
    assert times == [Fraction(k, 24) for k in range(264)]
    assert [number_in(picture) for picture in seen] == list(range(1, 265))
    assert [mouths_in(picture, film) for picture in seen] == list(map(list, zip(*planned, strict=True)))
    assert len({name for names in planned for name in names}) > 6


def test_the_takes_are_heard_where_the_cut_has_them_within_a_millisecond(movie, book, shot):
    """By the lag at which the movie's sound and the recording are most alike, at 48 kHz."""
    heard, begins = heard_in(movie)
    placements = [piece for piece in gather(book).pieces["040"] if piece.placement.sound]

    assert begins == 0
    assert len(placements) == 3
    for piece in placements:
        placement = piece.placement
        wave, rate = soundfile.read(sound_path(book, placement.sound.digest), dtype="float32")
        start = placement.start + Fraction(shot.first + piece.first - placement.at, 24) * rate
        there = resampled(wave[None, int(start) :], rate)[0][: (piece.stop - piece.first) * RATE // 24]
        loudest = min(max(int(np.argmax(np.abs(there))) - RATE // 8, RATE // 50), len(there) - RATE // 4)
        there = there[loudest : loudest + RATE // 4]
        at = piece.first * RATE // 24 + loudest
        lags = range(-RATE // 100, RATE // 100)
        alike = [float(np.dot(heard[0][at + lag : at + lag + len(there)], there)) for lag in lags]

        assert abs(lags[int(np.argmax(alike))]) <= RATE // 1000
        assert max(alike) > 0
