"""`trackread score`, with a reading made by hand."""

import json
from types import SimpleNamespace

import pytest

from tests.grids import write_take
from tests.makers import ReaderByHand
from trackread.cli.main import main


class Reader(ReaderByHand):
    trees = SimpleNamespace(facts={"sets": ["depot", "yard"]})


@pytest.fixture
def run(capsys):
    """Runs `trackread score` and gives its status, output and errors."""

    def run(*arguments, reader=None):
        with pytest.raises(SystemExit) as left:
            main(["score", *map(str, arguments)], reader=lambda _: reader or Reader())
        told = capsys.readouterr()
        return left.value.code, told.out, told.err

    return run


@pytest.fixture
def takes(tmp_path):
    """Two sets, the reading 10 and 30 ms late on them, and one take that cannot be read."""
    write_take(tmp_path / "takes" / "depot" / "one", -0.010)
    write_take(tmp_path / "takes" / "upstairs" / "two", -0.030)
    write_take(tmp_path / "takes" / "upstairs" / "zz").with_suffix(".wav").unlink()
    return tmp_path / "takes"


def test_the_table_has_a_row_for_each_set_and_kind_of_boundary(run, takes):
    status, told, errors = run(takes)
    lines = told.splitlines()

    assert (status, errors) == (0, "")
    assert " ".join(lines[0].split()) == "set starts of n bias median 90th ≤10 ≤20 ≤25 same ±1 fr"
    # A phone starts each 70 ms, and only those at 0.28, 0.49, 0.70, 0.91 and 1.12 s are on the frame of 30 ms before.
    assert " ".join(lines[6].split()) == "upstairs phones 15 +30.0 30.0 30.0 0.0 0.0 0.0 33.3 100.0"
    assert [line.split()[:3] for line in lines[1:10]] == [
        [name, kind, str(number)]
        for name, counts in (("depot", (4, 5, 15)), ("upstairs", (4, 5, 15)), ("overall", (8, 10, 30)))
        for kind, number in zip(("words", "vowels", "phones"), counts, strict=True)
    ]


def test_refusals_and_what_the_trees_had_seen_are_told(run, takes):
    lines = run(takes)[1].splitlines()

    assert lines[-2].startswith(f"refused: upstairs/zz: {takes / 'upstairs' / 'zz.TextGrid'}: no sound of this name")
    assert lines[-1] == "The trees in use were fitted on the sets depot, yard: figures on these say little."


def test_the_json_says_what_the_table_says(run, takes, tmp_path):
    place = tmp_path / "score.json"
    status, told, _ = run(takes, "--json", place)
    score = json.loads(place.read_bytes())

    assert status == 0
    assert list(score) == ["rows", "refused", "fitted", "limits_ms"]
    assert score["fitted"] == ["depot", "yard"]
    assert [f"refused: {refusal}" in told for refusal in score["refused"]] == [True]
    shown = [line.split() for line in told.splitlines()[1:10]]
    assert [row_as_shown(row) for row in score["rows"]] == shown
    assert [f"≤{limit}" for limit in score["limits_ms"]] == told.split()[7:10]


def row_as_shown(row):
    figures = row["figures"]
    shares = [*figures["within"], figures["same_frame"], figures["within_frame"]]
    numbers = [f"{figures['bias']:+.1f}", f"{figures['median']:.1f}", f"{figures['p90']:.1f}"]
    return [row["set_name"], row["boundary"], str(figures["n"]), *numbers, *(f"{100 * share:.1f}" for share in shares)]


def test_the_table_is_whole_in_80_columns(run, tmp_path, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    write_take(tmp_path / "conductor_voices" / "one", -0.010)
    told = run(tmp_path)[1]

    assert "…" not in told
    assert all(len(line) <= 80 for line in told.splitlines()[:4])
    assert "conductor_voices" in told


def test_brackets_in_the_name_of_a_set_are_shown_as_they_are(run, tmp_path):
    write_take(tmp_path / "[bold]" / "one")

    assert run(tmp_path)[1].splitlines()[1].startswith("[bold] ")


def test_against_another_labeller_nothing_is_read(run, tmp_path):
    write_take(tmp_path / "anna" / "depot" / "one")
    write_take(tmp_path / "bo" / "depot" / "one", 0.012)
    reader = Reader()
    status, told, _ = run(tmp_path / "anna", "--against", tmp_path / "bo", reader=reader)

    assert (status, reader.lines) == (0, [])
    assert told.splitlines()[3].split()[:5] == ["depot", "phones", "15", "+12.0", "12.0"]
    assert "fitted" not in told


def test_a_folder_without_labels_is_status_1(run, tmp_path):
    status, told, errors = run(tmp_path)

    assert (status, told) == (1, "")
    assert errors.startswith(f"trackread: {tmp_path}: holds no TextGrid: ")


def test_if_nothing_could_be_scored_it_is_status_1(run, tmp_path):
    write_take(tmp_path / "depot" / "one").with_suffix(".wav").unlink()
    status, told, errors = run(tmp_path)

    assert (status, told) == (1, "")
    assert errors.startswith("trackread: nothing could be scored:\ndepot/one: ")


def test_a_place_that_cannot_be_written_is_told_before_anything_is_read(run, takes, tmp_path):
    reader = Reader()
    status, told, errors = run(takes, "--json", tmp_path / "gone" / "score.json", reader=reader)

    assert (status, told, reader.lines) == (1, "", [])
    assert "there is no folder" in errors


@pytest.mark.parametrize("arguments", [[], ["--against"], ["a", "b"], ["a", "--wings"]])
def test_a_command_that_is_none_is_status_2(run, arguments):
    assert run(*arguments)[0] == 2
