"""`trackread session`: recordings come in, also when the program is killed on the way; takes are read again."""

import signal
import subprocess
import sys

import pytest

from tests.cli.tram import SCRIPT, script_of
from tests.processes import all_end, started_by, waits_for
from tests.reels import FOUND, LINES, a_tram, script_text, write_reel
from tests.waves import chunk, encoded, fmt, noise, wave
from trackread.book.book import Book
from trackread.book.checking import check
from trackread.book.readings import find_reading, keys_of
from trackread.book.takes import assign, takes

TRACKREAD = "import sys; from trackread.cli.main import main; main(sys.argv[1:])"
ONE_TAKE = ((12, None, 1.0),)
IXML = b"<?xml version='1.0'?><BWFXML><SCENE>7</SCENE><TAKE>2</TAKE><CIRCLED>TRUE</CIRCLED></BWFXML>"
NUMBERS = (LINES[0], ("7", "TUM", "I have two acorns."), LINES[3])


@pytest.fixture
def tram_folder(tmp_path):
    """The folder of a production with a script in which no two lines sound the same, and no session."""
    folder = tmp_path / "tram"
    a_tram(folder, NUMBERS).close()
    return folder


@pytest.fixture
def told(command, tram_folder):
    """Runs a command on that production with a single process, and gives its status, output and errors."""
    return lambda *words: command(*words, "--production", tram_folder)


@pytest.fixture
def one_take(tmp_path):
    """A recording of one take, as a recorder has circled it."""
    return write_reel(tmp_path / "reel 7.wav", ONE_TAKE, after=chunk(b"iXML", IXML))


def killed_once(folder, is_so, *words):
    """Runs a command in a process, kills it as soon as something is so of the book; gives the processes it had."""
    with Book.open(folder) as book:
        command = [sys.executable, "-c", TRACKREAD, *map(str, words), "--production", str(folder)]
        with subprocess.Popen(command) as program:
            reached = waits_for(lambda: is_so(book) or program.poll() is not None)
            started = started_by(program)
            program.kill()
    assert reached
    assert program.returncode == -signal.SIGKILL
    return started


def test_a_session_whose_command_is_killed_goes_on_and_loses_nothing(command, tmp_path):
    folder, reel = tmp_path / "tram", write_reel(tmp_path / "reel 1.wav")
    a_tram(folder).close()
    add = ("session", "add", reel, "--processes", 1, "--author", "ANN")
    started = killed_once(folder, lambda book: len(keys_of(book)) > 1, *add)

    assert started
    assert all_end(started)
    with Book.open(folder) as book:
        before = {key: find_reading(book, key) for key in keys_of(book)}
        assert check(book) == ()
    status, told, errors = command(*add, "--production", folder)
    assert (status, errors) == (0, "")
    assert told.startswith("S1, reel 1.wav: 5 takes of 4 lines, 1 of them cut off; 0 slates, 0 times other talk.\n")
    assert "1 stretch for you to decide: see `trackread takes --unsure`" in told
    with Book.open(folder) as book:
        assert tuple(take.name for take in takes(book)) == FOUND
        assert {key: find_reading(book, key) for key in before} == before
        assert (len(before) < 5, len(keys_of(book))) == (True, 5)
        assert check(book) == ()


def test_a_file_that_the_recorder_circled_is_brought_in_circled(told, one_take, tram_folder):
    status, out, errors = told("session", "add", one_take, "--processes", 1)

    assert (status, errors) == (0, "")
    assert out.splitlines()[:2] == [
        "S1, reel 7.wav: 1 take of 1 line, 0 of them cut off; 0 slates, 0 times other talk.",
        "The recorder noted: scene 7, take 2, circled.",
    ]
    with Book.open(tram_folder) as book:
        assert [(take.name, take.circled) for take in takes(book)] == [("L0002-1", True)]


def test_several_files_are_brought_in_one_after_the_other(told, tmp_path):
    silent = []
    for number in (1, 2):
        silent.append(tmp_path / f"reel {number}.wav")
        silent[-1].write_bytes(wave(encoded([0.0] * 48000 * number)))
    status, out, errors = told("session", "add", *silent, "--processes", 1)

    assert (status, errors) == (0, "")
    assert [row[:15] for row in out.splitlines()[::2]] == ["S1, reel 1.wav:", "S2, reel 2.wav:"]
    assert out.splitlines()[1::2] == ["Nobody speaks in it."] * 2


def test_a_recording_that_ends_early_is_brought_in_and_told(told, tmp_path):
    path = tmp_path / "cut short.wav"
    path.write_bytes(wave(encoded([0.0] * 48000))[:-9600])
    status, out, errors = told("session", "add", path, "--processes", 1)

    assert (status, out.splitlines()[1]) == (0, "Nobody speaks in it.")
    assert errors.startswith("trackread: beware: cut short.wav: ends early")


def test_a_file_whose_name_is_no_text_is_brought_in(told, tmp_path):
    path = tmp_path / "caf\udce9.wav"
    path.write_bytes(wave(encoded([0.0] * 48000)))
    status, out, errors = told("session", "add", path, "--processes", 1)

    assert (status, errors) == (0, "")
    assert "Nobody speaks in it." in out
    assert told("session", "list")[0] == 0


def test_what_a_terminal_would_obey_in_a_files_name_is_not_printed(told, tmp_path):
    path = tmp_path / "red \x1b[31m.wav"
    path.write_bytes(wave(encoded([0.0] * 48000))[:-9600])
    _, out, errors = told("session", "add", path, "--processes", 1)

    assert "S1, red ?[31m.wav:" in out
    assert "\x1b" not in out + errors


def test_takes_of_a_new_draft_and_new_assignments_are_read(told, one_take, tram_folder, tmp_path):
    told("session", "add", one_take, "--processes", 1)
    with Book.open(tram_folder) as book:
        changed = (NUMBERS[0], ("7", "TUM", "I have two brown acorns."), NUMBERS[2])
        script_of(book, tmp_path, script_text((*changed, ("7", "TUM", "(sneezes)"))))
    first, again = told("session", "read", "--processes", 1), told("session", "read", "--processes", 1)
    with Book.open(tram_folder) as book:
        assign(book, "S1-001", "L0004", "ANN")
    status, out, errors = told("session", "read", "--processes", 1)

    assert first == (0, "1 take read.\n", "")
    assert again == (0, "No take wants to be read.\n", "")
    assert (status, out) == (0, "0 takes read.\n")
    assert errors.startswith("trackread: beware: L0004-1 cannot be read: ")


def test_the_sessions_are_listed(tram, tram_json):
    rows = tram("session", "list").splitlines()

    assert rows[0].split() == ["session", "length", "listened", "takes", "unsure", "chatter", "slates"]
    # 48,000,000 samples at 48 kHz are 1000 seconds.
    assert rows[1].split() == ["S1", "reel", "1", "0:16:40", "through", "3", "1", "1", "-"]
    assert rows[2].startswith("S2 reel 1 (stand-in)")
    assert [one["name"] for one in tram_json("session", "list")["sessions"]] == ["S1", "S2"]


def test_where_there_is_no_session_it_is_said_how_to_bring_one_in(told):
    assert told("session", "list") == (0, "No session yet: bring one in with `trackread session add FILE`.\n", "")


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        (["--character", "ZOË"], "ZOË has no line in the script"),
        (["--character", "caf\udce9"], "has no line in the script"),
        (["--channel", 3], "has no channel 3: it has 1 to 2"),
        ([], "has 2 different channels: choose one of 1 to 2 with --channel"),
        (["--author", " "], "the name after --author is empty"),
    ],
)
def test_what_cannot_be_brought_in_is_told_and_nothing_is_written(refused, tram_json, tmp_path, words, reason):
    path = tmp_path / "two actors.wav"
    path.write_bytes(wave(encoded(noise(48000, 2)), fmt=fmt(2)))
    before = tram_json("session", "list")

    assert reason in refused("session", "add", path, *words, "--processes", 1)
    assert tram_json("session", "list") == before


@pytest.mark.parametrize("content", [None, b"", b"no sound at all" * 100, wave(b"")])
def test_what_is_no_recording_is_told_in_a_line(refused, tmp_path, content):
    path = tmp_path / "reel.wav"
    if content is not None:
        path.write_bytes(content)

    assert "reel.wav" in refused("session", "add", path, "--processes", 1)


def test_without_a_script_nothing_can_be_brought_in(command, one_take, tmp_path):
    a_tram(tmp_path / "bare", lines=()).close()
    status, told, errors = command("session", "add", one_take, "--processes", 1, "--production", tmp_path / "bare")

    assert (status, told) == (1, "")
    assert "has no script yet: add it with `trackread script add FILE`" in errors


def test_the_same_recording_for_other_characters_is_refused(told, tmp_path):
    path = tmp_path / "reel.wav"
    path.write_bytes(wave(encoded([0.0] * 48000)))
    told("session", "add", path, "--character", "TUM", "--processes", 1)
    status, _, errors = told("session", "add", path, "--character", "MISS PELL", "--processes", 1)

    assert status == 1
    assert "this recording was added as S1" in errors


@pytest.mark.parametrize("words", [["add", "reel.wav"], ["read"]])
def test_processes_of_this_machine_and_a_cluster_are_not_asked_for_at_once(command, production, words):
    asked = ("session", *words, "--processes", 2, "--cluster", "tcp://127.0.0.1:8786", "--production", production)
    status, told, errors = command(*asked)

    assert (status, told) == (2, "")
    assert "say either --processes or --cluster" in errors


@pytest.mark.parametrize("count", [0, -1, "many"])
def test_a_number_of_processes_that_is_none_is_no_command(command, production, count):
    assert command("session", "read", "--processes", count, "--production", production)[0] == 2


def test_a_draft_may_come_after_the_session_and_its_takes_stay(tram_json, production, tmp_path):
    before = tram_json("session", "list")
    with Book.open(production) as book:
        script_of(book, tmp_path, SCRIPT.replace("depot", "old depot"))

    assert tram_json("session", "list") == before
