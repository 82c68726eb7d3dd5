"""What is taken for an accent in TextGrids of either kind."""

from pathlib import Path

from praatio import textgrid
from praatio.data_classes.interval_tier import IntervalTier
from praatio.data_classes.point_tier import PointTier

from tests.scripts.loading import script

ACCENTS = script("measure-accents")
WORDS = [(0.0, 0.4, "late"), (0.4, 0.6, "tick"), (0.6, 0.8, "*"), (0.8, 1.0, "the")]
SYLLABLES = [(0.0, 0.4, "S:l"), (0.4, 0.6, "S:t"), (0.6, 0.8, "W:k"), (0.8, 1.0, "W:D")]


def marked(path: Path, *tiers: IntervalTier | PointTier) -> Path:
    grid = textgrid.Textgrid()
    for tier in (IntervalTier("words", WORDS, 0, 1), IntervalTier("syllables", SYLLABLES, 0, 1), *tiers):
        grid.addTier(tier)
    grid.save(str(path), format="short_textgrid", includeBlankSpaces=True)
    return path


def test_a_word_is_accented_where_a_tone_has_a_star_and_a_starred_word_belongs_to_the_one_before(
    tmp_path: Path,
) -> None:
    tones = PointTier("tones", [(0.2, "L-"), (0.7, "!H*"), (0.95, "L%")], 0, 1)
    truth = ACCENTS.truth_of(marked(tmp_path / "one.TextGrid", tones))

    assert [word[2] for word in truth.words] == ["late", "tick", "the"]
    assert (truth.accented_words, truth.accented_syllables, truth.strong) == ({1}, {2}, {0, 1})


def test_an_event_accents_the_word_it_overlaps_most_and_connections_accent_none(tmp_path: Path) -> None:
    events = IntervalTier("int_events", [(0.0, 0.3, "c"), (0.3, 0.55, "a"), (0.55, 0.8, "m"), (0.8, 1.0, "sil")], 0, 1)
    truth = ACCENTS.truth_of(marked(tmp_path / "one.TextGrid", events))

    assert (truth.accented_words, truth.accented_syllables) == ({1}, {1})


def test_a_textgrid_without_accents_is_passed_over(tmp_path: Path) -> None:
    assert ACCENTS.truth_of(marked(tmp_path / "one.TextGrid")) is None
