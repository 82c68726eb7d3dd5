"""TextGrids of shots, read back by praatio and by Praat itself."""

from fractions import Fraction

import parselmouth
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from parselmouth.praat import call
from praatio import textgrid

from tests.exports.makers import RATES, a_sheet, a_shot, a_voice, sheets
from trackread.core.rows import rows_of
from trackread.core.sheet import Beat, Cell
from trackread.core.timebase import parse_rate
from trackread.exports.textgrids import textgrid_of_shot

PARTS = ("words", "sounds", "beats")
# Praat and praatio take blanks off the ends of labels; the rest is theirs to keep.
labels = st.sampled_from(["Mind", 'say "no"', "naïve…", "step!", "é", '"'])


@pytest.fixture(scope="module")
def scratch(tmp_path_factory):
    return tmp_path_factory.mktemp("grids") / "shot.TextGrid"


def by_praatio(path):
    grid = textgrid.openTextgrid(str(path), includeEmptyIntervals=False)
    return {name: [tuple(entry) for entry in grid.getTier(name).entries] for name in grid.tierNames}


def by_praat(path):
    grid = parselmouth.Data.read(str(path))
    tiers = {}
    for number in range(1, call(grid, "Get number of tiers") + 1):
        kind = "interval" if call(grid, "Is interval tier", number) else "point"
        asked = ("start time", "end time", "label") if kind == "interval" else ("time", "label")
        rows = [
            tuple(
                call(
                    grid,
                    "Get label of point" if (kind, what) == ("point", "label") else f"Get {what} of {kind}",
                    number,
                    k,
                )
                for what in asked
            )
            for k in range(1, call(grid, f"Get number of {kind}s", number) + 1)
        ]
        tiers[call(grid, "Get tier name", number)] = rows
    return tiers


def expected_tiers(sheet):
    """What each tier must hold, from the rows of the sheet: a label for each text that starts or goes on."""
    edge = [float(Fraction(frame) / sheet.rate.per_second) for frame in range(sheet.length + 1)]
    tiers = {}
    for number, voice in enumerate(sheet.voices):
        rows = [row.voices[number] for row in rows_of(sheet)]
        for part, name in (("words", "word"), ("sounds", "sound")):
            found = []
            for frame, here in enumerate(getattr(row, name) for row in rows):
                last = getattr(rows[frame - 1], name) if frame else None
                if here and last and not here.starts and here.text == last.text:
                    found[-1] = (found[-1][0], edge[frame + 1], here.text)
                elif here:
                    found.append((edge[frame], edge[frame + 1], here.text))
            tiers[f"{voice.character} {part}"] = found
        stresses = [(edge[frame], row.stress) for frame, row in enumerate(rows)]
        tiers[f"{voice.character} beats"] = [(at, stress.text) for at, stress in stresses if stress and stress.starts]
    return tiers


@settings(max_examples=60)
@given(
    sheet=st.sampled_from(RATES).flatmap(
        lambda rate: sheets(parse_rate(rate), labels, characters=("BRACK",), most=1).filter(lambda one: one.voices)
    )
)
def test_praatio_and_praat_read_back_what_stands_on_the_frames(scratch, sheet):
    scratch.write_bytes(textgrid_of_shot(a_shot(sheet=sheet)))
    ours, theirs, expected = by_praatio(scratch), by_praat(scratch), expected_tiers(sheet)

    assert list(ours) == list(theirs) == list(expected)
    assert ours == expected
    assert {name: [row for row in rows if row[-1]] for name, rows in theirs.items()} == expected


@pytest.mark.parametrize("rate", RATES)
def test_every_tier_of_intervals_covers_the_whole_shot_without_a_gap(scratch, rate):
    scratch.write_bytes(textgrid_of_shot(a_shot(sheet=a_sheet(a_voice(), rate=rate, length=100))))
    tiers = by_praat(scratch)

    assert list(tiers) == ["BRACK words", "BRACK sounds", "BRACK beats"]
    for name in ("BRACK words", "BRACK sounds"):
        rows = tiers[name]
        assert (rows[0][0], rows[-1][1]) == (0, float(100 / parse_rate(rate).per_second))
        assert [row[1] for row in rows[:-1]] == [row[0] for row in rows[1:]]


def test_each_character_has_tiers_of_words_sounds_and_beats(scratch):
    scratch.write_bytes(textgrid_of_shot(a_shot(sheet=a_sheet(a_voice("TUM"), a_voice("MISS PELL")))))

    assert list(by_praat(scratch)) == [f"{name} {part}" for name in ("TUM", "MISS PELL") for part in PARTS]


def test_a_beat_is_a_point_where_its_syllable_starts(scratch):
    beats = (Beat(0, 3, 2, before=True), Beat(3, 6, 0), Beat(12, 20, 2))
    scratch.write_bytes(textgrid_of_shot(a_shot(sheet=a_sheet(a_voice(beats=beats)))))

    assert by_praat(scratch)["BRACK beats"] == [(0.125, "weak"), (0.5, "strong")]


def test_one_word_said_twice_is_two_intervals(scratch):
    scratch.write_bytes(textgrid_of_shot(a_shot(sheet=a_sheet(a_voice(words=(Cell(0, 6, "no"), Cell(6, 12, "no")))))))

    assert by_praatio(scratch)["BRACK words"] == [(0, 0.25, "no"), (0.25, 0.5, "no")]


def test_a_voice_that_says_nothing_has_tiers_that_can_be_read(scratch):
    scratch.write_bytes(textgrid_of_shot(a_shot(sheet=a_sheet(a_voice(words=(), sounds=(), beats=())))))

    assert by_praatio(scratch) == {f"BRACK {part}": [] for part in PARTS}
    assert by_praat(scratch) == {"BRACK words": [(0, 1, "")], "BRACK sounds": [(0, 1, "")], "BRACK beats": []}


def test_a_shot_in_which_nobody_is_heard_has_no_tiers(scratch):
    scratch.write_bytes(textgrid_of_shot(a_shot(sheet=a_sheet())))

    assert by_praatio(scratch) == by_praat(scratch) == {}
