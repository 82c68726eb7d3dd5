"""A production of The Late Tram on the disk, and the commands run on it."""

import json

import pytest

from tests.cli.tram import a_production_with_takes
from trackread.cli.main import main


@pytest.fixture
def command(capsys):
    """Runs a command and gives its status, output and errors."""

    def command(*arguments):
        with pytest.raises(SystemExit) as left:
            main(list(map(str, arguments)))
        told = capsys.readouterr()
        return left.value.code, told.out, told.err

    return command


@pytest.fixture
def production(tmp_path):
    """The folder of a production with a draft and the takes of two sessions; tests/cli/tram.py says which."""
    return a_production_with_takes(tmp_path)


@pytest.fixture
def tram(command, production):
    """What a command tells of the production; fails unless all is well."""

    def tram(*arguments):
        status, told, errors = command(*arguments, "--production", production)
        assert (status, errors) == (0, "")
        return told

    return tram


@pytest.fixture
def tram_json(tram):
    """What a command gives as JSON."""
    return lambda *arguments: json.loads(tram(*arguments, "--json"))


@pytest.fixture
def refused(command, production):
    """Why a command is refused, in one line; fails if it is not."""

    def refused(*arguments):
        status, told, errors = command(*arguments, "--production", production)
        assert (status, told) == (1, "")
        assert errors.startswith("trackread: ")
        assert errors.count("\n") == 1
        return errors

    return refused
