"""What is counted as found, on readings made by hand."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile

from tests.makers import ReaderByHand, a_reading
from tests.scripts.loading import script
from trackread.core.performance import MANNERS, Event, EventKind
from trackread.core.timebase import Sample

EVENTS = script("measure-events")
RATE = 24000


def a_take(*events: tuple[EventKind, float, float], name: str = "take", transcript: str = "Mind the step.") -> object:
    """A take of LINE in which these events, in seconds, are found."""
    heard = tuple(Event(kind, Sample(round(a * RATE)), Sample(round(b * RATE)), 0.9) for kind, a, b in events)
    reading = a_reading(lengths=[RATE] * len(a_reading().phones), sample_rate=RATE)
    return EVENTS.Found(Path(f"{name}.wav"), transcript, replace(reading, events=heard))


@pytest.fixture
def marked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Marks of our own: a laugh and a breath; the first word sounds from 1 to 5 s."""
    marks = [(EVENTS.LAUGH, 4.0, 6.0), (EVENTS.BREATH, 8.0, 8.4)]
    monkeypatch.setitem(EVENTS.MARKED, "take", marks)


@pytest.mark.parametrize(
    ("transcript", "line"),
    [
        ("[laughter] montreal [laughter] forced", "montreal forced"),
        ("(sighs) mind the [beat] step", "mind the step"),
        ("<cutoff-mont> montreal", "mont montreal"),
        ("<hes-forced> don't <cutoff-don't>", "forced don't don't"),
        ("montreal <unk> aligner", "montreal aligner"),
    ],
)
def test_a_line_has_the_words_of_a_transcript_and_no_hint(transcript: str, line: str) -> None:
    assert EVENTS.line_of(transcript).split() == line.split()


def test_every_mark_lasts_and_is_of_a_kind_that_events_are_of() -> None:
    marks = [mark for take in EVENTS.MARKED.values() for mark in take]

    assert len(marks) > 10
    assert all(start < stop for _, start, stop in marks)
    assert {kind for kind, _, _ in marks} <= set(EVENTS.KINDS.values())
    assert set(EVENTS.KINDS) <= set(EventKind)
    assert not set(EVENTS.KINDS) & MANNERS


@pytest.mark.parametrize(
    ("event", "fits"),
    [
        (("laugh", 4.0, 6.0), True),
        (("laugh", 4.9, 9.0), True),
        (("laugh", 5.1, 9.0), False),
        (("laugh", 5.4, 5.6), True),
        (("laugh", 5.9, 6.3), False),
        (("laugh", 7.0, 8.0), False),
        (("sigh", 4.0, 6.0), False),
        (("hum", 4.0, 6.0), False),
    ],
)
def test_an_event_fits_a_mark_of_its_kind_over_half_of_the_shorter(event: tuple[str, float, float], fits: bool) -> None:
    assert EVENTS.fits((EVENTS.LAUGH, 4.0, 6.0), event) is fits


@pytest.mark.parametrize("kind", ["breath in", "breath out", "sigh", "gasp"])
def test_any_breath_fits_a_breath(kind: str) -> None:
    assert EVENTS.fits((EVENTS.BREATH, 1.0, 2.0), (kind, 1.0, 2.0))


@pytest.mark.usefixtures("marked")
def test_marks_are_counted_once_however_many_events_lie_on_them() -> None:
    twice = [(EventKind.LAUGH, 4.0, 5.0), (EventKind.LAUGH, 5.0, 6.0)]

    assert EVENTS.found_marks(a_take(*twice)) == 1
    assert EVENTS.found_marks(a_take(*twice, (EventKind.SIGH, 8.0, 8.4))) == 2
    assert EVENTS.found_marks(a_take()) == 0
    assert EVENTS.found_marks(a_take(*twice, name="another")) == 0


@pytest.mark.usefixtures("marked")
def test_words_on_a_laugh_are_those_with_more_than_a_frame_in_it(monkeypatch: pytest.MonkeyPatch) -> None:
    # The words start at 1, 5, 7 and 12 s and stop at 5, 7, 11 and 17 s.
    assert EVENTS.words_on_laughs(a_take()) == 2

    monkeypatch.setitem(EVENTS.MARKED, "take", [(EVENTS.LAUGH, 4.97, 7.03), (EVENTS.BREATH, 12.0, 17.0)])
    assert EVENTS.words_on_laughs(a_take()) == 1


@pytest.mark.usefixtures("marked")
def test_a_row_tells_hints_marks_and_events() -> None:
    row = EVENTS.row_of(a_take((EventKind.LAUGH, 4.0, 6.0), transcript="Mind [laughs] the (sighs) step."))

    assert row.split() == "take laughs, sighs 2 marked, 1 found laugh 4.00-6.00".split()
    assert EVENTS.row_of(a_take(name="another")).split() == "another - 0 marked, 0 found -".split()


def test_takes_are_sounds_with_a_transcript_beside_them(tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    for name in ("b.wav", "deep/a.flac", "alone.wav"):
        soundfile.write(tmp_path / name, np.random.default_rng(0).normal(0, 0.1, 2 * RATE), RATE)
    for name in ("b", "deep/a", "silent"):
        (tmp_path / f"{name}.txt").write_text("[laughter] mind the <unk> step\n", encoding="utf-8")
    reader = ReaderByHand()
    takes = list(EVENTS.takes_in(tmp_path, reader))

    assert [take.path.name for take in takes] == ["b.wav", "a.flac"]
    assert {take.transcript for take in takes} == {"[laughter] mind the <unk> step"}
    assert [line.split() for line in reader.lines] == [["mind", "the", "step"]] * 2
