"""The production of tests/films.py, made once and copied for every test, and commands run on it."""

import json
import shutil
from datetime import date

import pytest

from tests.films import a_film, edl, picture, voice
from trackread.book.book import Book
from trackread.cli.main import main
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.issuing import IssueWish, give_out
from trackread.workflow.material import gather
from trackread.workflow.shots import Choice, chosen_briefs


@pytest.fixture(scope="session")
def made(tmp_path_factory):
    return a_film(tmp_path_factory.mktemp("film"))


@pytest.fixture
def folder(made, tmp_path):
    """The folder of a production of one's own."""
    return shutil.copytree(made, tmp_path / "tram")


@pytest.fixture
def film(folder):
    """Its book, opened."""
    with Book.open(folder) as book:
        yield book


# Two shots of scene 7: L0001-1 plays on frames 10 to 29 of the film, L0002-1 on 40 to 52, over the cut at 48.
PICTURES = (("SH010", 0, 0, 48), ("SH020", 200, 48, 36))
VOICES = ((10, 10, 20), (30, 40, 13))
START = 86400


def pictures(*shots, rate):
    """A list of picture: clip, frame of its source, first frame of the film, frames."""
    numbered = enumerate(shots, 1)
    return edl(
        *(picture(k, clip, source, START + first, length, rate) for k, (clip, source, first, length) in numbered)
    )


def voices(*pieces, rate):
    """A list of sound: second of the recording, first frame of the film, frames, and perhaps frames of offset."""
    return edl(
        *(
            voice(k, second, START + first, length, rate, offset=offset[0] if offset else 0)
            for k, (second, first, length, *offset) in enumerate(pieces, 1)
        )
    )


@pytest.fixture
def add_cut(film, tmp_path):
    """Adds a cut of these pictures and voices."""

    def add_cut(shots=PICTURES, pieces=VOICES, **wish):
        files = [tmp_path / "picture.edl", tmp_path / "voice.edl"]
        files[0].write_text(pictures(*shots, rate=film.production.rate))
        files[1].write_text(voices(*pieces, rate=film.production.rate))
        return add_lists(film, files if pieces else files[:1], ListWish(**wish), "ANN")

    return add_cut


def issue(book, *names, unit="7", day=date(2026, 11, 26), reason="first"):
    """Issues the sheets of these shots."""
    material = gather(book)
    briefs = chosen_briefs(material, Choice(names, every=not names))
    return list(give_out(book, material, briefs, IssueWish(unit, reason, day), author="ANN", workers=None))


@pytest.fixture
def command(capsys, folder):
    """Runs a command on the production and gives its status, output and errors."""

    def command(*arguments):
        with pytest.raises(SystemExit) as left:
            main([*map(str, arguments), "--production", str(folder)])
        told = capsys.readouterr()
        return left.value.code, told.out, told.err

    return command


@pytest.fixture
def tram(command):
    """What a command tells; fails unless all is well."""

    def tram(*arguments):
        status, told, errors = command(*arguments)
        assert (status, errors) == (0, "")
        return told

    return tram


@pytest.fixture
def tram_json(tram):
    return lambda *arguments: json.loads(tram(*arguments, "--json"))


@pytest.fixture
def refused(command):
    """Why a command is refused; fails if it is not, or if anything but one message is told."""

    def refused(*arguments):
        status, told, errors = command(*arguments)
        assert (status, told) == (1, "")
        assert errors.startswith("trackread: ")
        return errors.removeprefix("trackread: ").rstrip("\n")

    return refused
