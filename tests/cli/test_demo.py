"""`trackread demo`, with a reading made by hand."""

from pathlib import Path

import pytest

from tests.makers import ReaderByHand
from trackread.cli.main import main
from trackread.core.reading import Match
from trackread.workflow.demo import demo_takes


def told_by_demo(folder, capsys, **changes):
    with pytest.raises(SystemExit) as left:
        main(["demo", str(folder)], reader=lambda _: ReaderByHand(**changes))
    assert left.value.code == 0
    return capsys.readouterr().out.splitlines()


def test_the_demo_tells_each_line_and_the_sheet_to_open_first(tmp_path, capsys):
    told = told_by_demo(tmp_path / "tram", capsys)

    assert told[0].split() == ["character", "line", "frames", "match"]
    assert all(any(line.startswith(take.character) for line in told) for take in demo_takes())
    # 91320 samples at 24 kHz are 91.3 frames.
    assert told[1].split()[-2:] == ["92", "0.93"]
    assert Path(told[-1]) == tmp_path / "tram" / "01-brack-hold-tight.pdf"
    assert Path(told[-1]).is_file()


def test_a_take_that_does_not_say_its_line_is_told_in_the_table(tmp_path, capsys):
    told = told_by_demo(tmp_path, capsys, match=Match(0.3, says_line=False))

    assert told[1].split()[-2:] == ["0.30", "no"]


def test_the_pronunciations_of_the_scene_are_used(tmp_path):
    asked = []

    def reader(pronunciations):
        asked.append(pronunciations.name)
        return ReaderByHand()

    with pytest.raises(SystemExit):
        main(["demo", str(tmp_path)], reader=reader)
    assert asked == ["pronunciations.txt"]
