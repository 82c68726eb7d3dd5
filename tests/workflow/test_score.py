"""Scores of labelled takes, with a reading made by hand."""

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from tests.grids import even, write_grid, write_take
from tests.makers import ReaderByHand
from trackread.errors import LabelError, ReadingError
from trackread.labels.marks import Mark, Marks
from trackread.workflow.score import OVERALL, labelled_in, score_labels, score_reading, scored

# Of `Mind the step, ticket!`.
WORDS, VOWELS, PHONES = 4, 5, 15


class Reader(ReaderByHand):
    """Hears LINE in every take, with a phone each 0.07 s, and says on which sets its trees were fitted."""

    trees = SimpleNamespace(facts={"sets": ["the depot"]})


def rows_of(score):
    return {(row.set_name, row.boundary): row.figures for row in score.rows}


def test_a_reading_is_scored_against_labels_by_set_and_overall(tmp_path):
    write_take(tmp_path / "depot" / "one", -0.010)
    write_take(tmp_path / "depot" / "two", -0.030)
    write_take(tmp_path / "upstairs" / "front" / "three", 0.020)
    score = score_reading(tmp_path, Reader())
    rows = rows_of(score)

    assert score.refused == ()
    assert score.fitted == ("the depot",)
    assert list(rows) == [
        (name, kind) for name in ("depot", "upstairs/front", OVERALL) for kind in ("words", "vowels", "phones")
    ]
    assert [rows["depot", kind].n for kind in ("words", "vowels", "phones")] == [2 * WORDS, 2 * VOWELS, 2 * PHONES]
    assert [rows[OVERALL, kind].n for kind in ("words", "vowels", "phones")] == [3 * WORDS, 3 * VOWELS, 3 * PHONES]
    assert rows["depot", "phones"].bias == pytest.approx(20, abs=0.01)
    assert rows["upstairs/front", "words"].bias == pytest.approx(-20, abs=0.01)
    assert rows[OVERALL, "vowels"].median == pytest.approx(20, abs=0.01)


def test_shares_count_every_boundary_once_overall(tmp_path):
    write_take(tmp_path / "a" / "one", -0.005)
    write_take(tmp_path / "b" / "two", -0.022)
    write_take(tmp_path / "b" / "three", -0.050)
    rows = rows_of(score_reading(tmp_path, Reader()))

    assert rows["a", "phones"].within == (1, 1, 1)
    assert rows["b", "phones"].within == (0, 0, 0.5)
    assert rows[OVERALL, "phones"].within == pytest.approx((1 / 3, 1 / 3, 2 / 3))
    assert rows[OVERALL, "phones"].within_frame == pytest.approx(2 / 3)


def test_a_folder_may_be_a_set_itself_and_has_no_overall_then(tmp_path):
    write_take(tmp_path / "depot" / "one")

    assert {name for name, _ in rows_of(score_reading(tmp_path / "depot", Reader()))} == {"depot"}


def test_the_folder_one_stands_in_has_its_own_name(tmp_path, monkeypatch):
    write_take(tmp_path / "depot" / "one")
    monkeypatch.chdir(tmp_path / "depot")

    assert [one.name for one in labelled_in(Path())] == ["depot/one"]


def test_a_set_named_overall_is_not_taken_for_the_sum(tmp_path):
    write_take(tmp_path / OVERALL / "one")
    write_take(tmp_path / "depot" / "two")
    score = score_reading(tmp_path, Reader())

    assert [row.figures.n for row in score.rows if (row.set_name, row.boundary) == (OVERALL, "words")] == [
        WORDS,
        2 * WORDS,
    ]


def test_the_line_is_that_of_the_text_file_or_else_the_words_of_the_labels(tmp_path):
    write_take(tmp_path / "a")
    write_take(tmp_path / "b")
    (tmp_path / "a.txt").write_bytes("\ufeffMind the step — ticket!\n".encode())
    reader = Reader()
    score_reading(tmp_path, reader)

    assert reader.lines == ["Mind the step — ticket!\n", "Mind the step, ticket!"]


class ReaderThatRefuses(Reader):
    def read(self, recording, line, progress=None):
        if line == "too much":
            raise ReadingError("the take is too short for its line")
        return super().read(recording, line, progress)


def broken_takes(folder):
    """Five takes with something wrong in each, and what is said of them."""
    write_take(folder / "refused").with_suffix(".txt").write_text("too much", "utf-8")
    write_take(folder / "latin").with_suffix(".txt").write_bytes(b"caf\xe9")
    write_take(folder / "mute").with_suffix(".wav").unlink()
    write_take(folder / "noise").with_suffix(".wav").write_bytes(b"no sound at all")
    write_take(folder / "strange").write_text("no labels", "utf-8")
    write_take(folder / "other", said=[("brrr", "B")])
    return {
        "latin": "latin.txt: cannot be read as UTF-8 text",
        "mute": "mute.TextGrid: no sound of this name lies beside it (.wav, ",
        "noise": "noise.wav: not a sound file",
        "other": "no word or phone of its labels is found again",
        "refused": "the take is too short for its line",
        "strange": "strange.TextGrid: is not a TextGrid",
    }


class ReaderOfVowels(ReaderThatRefuses):
    """Finds nothing of a take whose line is `brrr`."""

    def read(self, recording, line, progress=None):
        reading = super().read(recording, line, progress)
        if line != "brrr":
            return reading
        phones = tuple(replace(phone, symbol="AA" if phone.symbol != "SIL" else "SIL") for phone in reading.phones)
        return replace(reading, phones=phones)


def test_a_take_that_cannot_be_scored_is_listed_and_does_not_stop_the_rest(tmp_path):
    told = broken_takes(tmp_path / "depot")
    write_take(tmp_path / "depot" / "whole")
    score = score_reading(tmp_path, ReaderOfVowels())

    assert rows_of(score)["depot", "words"].n == WORDS
    assert [refusal.partition(":")[0] for refusal in score.refused] == [f"depot/{name}" for name in told]
    for refusal, reason in zip(score.refused, told.values(), strict=True):
        assert reason in refusal


def test_if_no_take_can_be_scored_every_reason_is_told(tmp_path):
    told = broken_takes(tmp_path)

    with pytest.raises(LabelError) as caught:
        score_reading(tmp_path, ReaderOfVowels())
    assert str(caught.value).startswith("nothing could be scored:\n")
    assert all(reason in str(caught.value) for reason in told.values())


def test_our_own_bugs_are_no_refusals(tmp_path):
    write_take(tmp_path / "one")

    class ReaderWithOurBug(Reader):
        def read(self, *_):
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        score_reading(tmp_path, ReaderWithOurBug())


def test_labels_of_words_alone_are_scored_as_words(tmp_path):
    path = write_take(tmp_path / "one")
    write_grid(path, stop=2.0, words=[("the", 0.35, 0.49)])

    assert [kind for _, kind in rows_of(score_reading(tmp_path, Reader()))] == ["words"]


def test_progress_runs_to_one_whatever_is_refused(tmp_path):
    broken_takes(tmp_path)
    write_take(tmp_path / "whole")
    told = []
    score_reading(tmp_path, ReaderOfVowels(), told.append)

    assert told == pytest.approx([k / 7 for k in range(1, 8)])


@pytest.mark.parametrize("suffix", ["WAV", "flac", "aiff", "ogg"])
def test_sounds_and_labels_are_known_by_their_suffix_in_any_case(tmp_path, suffix):
    path = write_take(tmp_path / "one")
    path.with_suffix(".wav").rename(tmp_path / f"one.{suffix}")
    path.rename(tmp_path / "one.textgrid")
    (recording,) = labelled_in(tmp_path)

    assert recording.sound.name == f"one.{suffix}"


def test_a_folder_without_textgrids_says_what_would_be_right(tmp_path):
    (tmp_path / "one.wav").touch()

    with pytest.raises(LabelError, match="holds no TextGrid: give a folder of sounds with a TextGrid of the same name"):
        score_reading(tmp_path, Reader())


@pytest.mark.parametrize("name", ["gone", "file"])
def test_a_folder_that_is_none_is_named(tmp_path, name):
    (tmp_path / "file").touch()

    with pytest.raises(LabelError, match=f"{name}: no such folder"):
        score_reading(tmp_path / name, Reader())
    with pytest.raises(LabelError, match=f"{name}: no such folder"):
        score_labels(tmp_path, tmp_path / name)


def test_one_labeller_is_scored_against_another_and_no_sound_is_needed(tmp_path):
    for labeller, shift in (("anna", 0.0), ("bo", 0.012)):
        for take in ("depot/one", "depot/two"):
            write_take(tmp_path / labeller / take, shift).with_suffix(".wav").unlink()
    score = score_labels(tmp_path / "anna", tmp_path / "bo")

    assert score.fitted == ()
    assert rows_of(score)["depot", "phones"].n == 2 * PHONES
    assert rows_of(score)["depot", "phones"].bias == pytest.approx(12, abs=0.01)


def test_what_only_one_labeller_has_is_listed(tmp_path):
    for take in ("depot/one", "depot/two"):
        write_take(tmp_path / "anna" / take)
    write_take(tmp_path / "bo" / "depot" / "one")
    score = score_labels(tmp_path / "anna", tmp_path / "bo")

    assert score.refused == (f"depot/two: {tmp_path / 'bo'}: has no depot/two.TextGrid",)


def test_labellers_may_use_different_alphabets(tmp_path):
    write_grid(tmp_path / "anna" / "one.TextGrid", phones=even("t r ae m"))
    write_grid(tmp_path / "bo" / "one.TextGrid", phones=even("t ɹ æ m"))
    write_grid(tmp_path / "cy" / "one.TextGrid", phones=even("t r { m"))

    for other in ("bo", "cy"):
        assert rows_of(score_labels(tmp_path / "anna", tmp_path / other))["anna", "phones"].same_frame == 1


def test_marks_of_any_kind_can_be_scored(tmp_path):
    write_take(tmp_path / "one")
    estimated = Marks((Mark("mind", 70_000, 350_000),), ())

    (row,) = scored(labelled_in(tmp_path), lambda _: estimated).rows
    assert (row.boundary, row.figures.n, row.figures.median) == ("words", 1, 0.0)
