"""Accents and strong syllables that people marked, and acted voices; skipped where the recordings do not lie beside.

The left-out figures are honest: each sentence is judged by weights fitted on the others. Those of the shipped weights
are in-sample and guard against breakage only.
"""

from pathlib import Path

import numpy as np
import pytest
from sklearn.metrics import roc_auc_score

from tests.scripts.loading import script
from trackread.core.reading import Reading
from trackread.reading.sounds import load
from trackread.reading.stress import BIAS, RHYTHM, STRONGEST, WEIGHTS
from trackread.reading.take import Reader

DATA = Path(__file__).resolve().parents[3] / "shared" / "data"
ACCENTS = script("measure-accents")


@pytest.fixture(scope="module")
def sentences():
    if not (DATA / "labelled" / "ae").is_dir():
        pytest.skip("no labelled recordings beside the checkout")
    return ACCENTS.sentences_in(DATA / "labelled")


def judged(sentences, judges):
    """The truth of all words and what they score."""
    scores = [one.of_words(judge.accent(one)) for one, judge in zip(sentences, judges, strict=True)]
    return np.concatenate([one.accented_words for one in sentences]), np.concatenate(scores)


def test_the_marks_are_those_of_five_sentences(sentences):
    # Counted by hand in the TextGrids: 16 starred tones on 31 words of ae, 5 accents on the 10 of ked.
    counted = {one.name: (len(one.words), int(one.accented_words.sum())) for one in sentences}

    assert counted == {
        "ae/msajc003": (7, 4),
        "ae/msajc010": (8, 3),
        "ae/msajc012": (8, 5),
        "ae/msajc023": (8, 4),
        "ked/kdt_001": (10, 5),
    }


def test_accents_of_a_sentence_are_told_by_the_other_sentences(sentences):
    truth, scores = judged(sentences, ACCENTS.left_out(sentences, ACCENTS.ALL))

    assert ((scores > 0) == truth).mean() >= 0.86
    assert roc_auc_score(truth, scores) >= 0.93


def test_accents_are_told_by_ear_alone_better_than_published_for_content_words(sentences):
    truth, scores = judged(sentences, ACCENTS.left_out(sentences, ACCENTS.ACOUSTIC))

    # Published for accenting every content word, on Boston radio news: 82.2 %.
    assert ((scores > 0) == truth).mean() >= 0.822


def test_the_weights_are_those_that_the_labels_give(sentences):
    fitted = ACCENTS.fitted(sentences, list(WEIGHTS))

    assert list(fitted.weights) == pytest.approx(list(WEIGHTS.values()), abs=0.1)
    assert (fitted.bias, fitted.rhythm) == pytest.approx((BIAS, RHYTHM), abs=0.1)


def test_the_shipped_reading_makes_accented_words_strong(sentences):
    shipped = ACCENTS.Judge(list(range(len(WEIGHTS))), np.array(list(WEIGHTS.values())), BIAS, RHYTHM)
    truth, scores = judged(sentences, [shipped] * len(sentences))

    assert ((scores > 0) == truth).mean() >= 0.8


def read(reader: Reader, name: str) -> Reading:
    path = DATA / "acted" / name
    if not path.exists():
        pytest.skip("no acted recordings beside the checkout")
    return reader.read(load(path), path.with_suffix(".txt").read_text(encoding="utf-8"))


# Whisper, falsetto, creak, a shift of register, a line of one word, a line of one syllable, a word of three seconds.
@pytest.mark.parametrize(
    "name",
    [
        *(f"vocal/{name}.flac" for name in ("whisper", "falsetto", "mfa_creaky", "mfa_registershift", "mfa_long")),
        *(f"sdap/{name}_ian.flac" for name in ("completion_2", "confirmation_3")),
    ],
)
def test_every_phrase_of_an_acted_voice_has_a_strong_main_beat(reader: Reader, name: str) -> None:
    reading = read(reader, name)
    mains = [phrase.main for phrase in reading.phrases]

    assert mains
    assert None not in mains
    assert all(reading.syllables[main].stress == STRONGEST for main in mains)


@pytest.mark.parametrize("name", ["vocal/whisper.flac", "vocal/whisper2.flac", "vocal/mfa_whisper.flac"])
def test_whisper_has_no_tone(reader: Reader, name: str) -> None:
    reading = read(reader, name)

    assert {syllable.tone for syllable in reading.syllables} == {None}
    assert {phrase.ending for phrase in reading.phrases} == {None}
