"""Corrections of readings made by hypothesis: any part of the reading, changed in any way that may or may not be."""

from hypothesis import strategies as st

from trackread.core.correction import (
    Join,
    MoveCut,
    Note,
    PinCut,
    Relabel,
    Respell,
    Right,
    SetStress,
    Side,
    Split,
    UnpinCut,
    Unsure,
)
from trackread.core.performance import Reason
from trackread.core.phones import PAUSE, PHONES
from trackread.editing.places import cut_at, phone_at, word_at

SYMBOLS = st.sampled_from([*PHONES, PAUSE])
SHARES = st.floats(0, 1)
REASONS = st.lists(st.sampled_from(Reason), max_size=2).map(tuple)


@st.composite
def corrections_of(draw, corrected):
    """One correction of a corrected reading as it stands, of any kind that it has a part for; some may be refused."""
    reading = corrected.reading
    kinds = [note(reading)]
    if len(reading.phones) > 1:
        number = draw(st.integers(0, len(reading.phones) - 2))
        kinds += [*of_cut(reading, number + 1), *of_phone(reading, number)]
    if reading.words:
        kinds += of_word(word_at(reading, draw(st.integers(0, len(reading.words) - 1))))
    return draw(draw(st.sampled_from(kinds)))


def note(reading):
    samples = st.integers(0, reading.sound.length - 1)
    return st.builds(Note, samples, st.sampled_from(["", "look up", "blink"]))


def of_cut(reading, number):
    cut = st.just(cut_at(reading, number))
    between = st.integers(reading.cuts[number - 1] + 1, reading.cuts[number + 1] - 1)
    return [st.builds(MoveCut, cut, between), st.builds(PinCut, cut), st.builds(UnpinCut, cut, SHARES)]


def of_phone(reading, number):
    phone = st.just(phone_at(reading, number))
    inside = st.integers(reading.cuts[number], reading.cuts[number + 1])
    return [
        st.builds(Join, phone, st.just(reading.phones[number + 1].symbol)),
        st.builds(Relabel, phone, SYMBOLS),
        st.builds(Split, phone, inside, SYMBOLS, st.sampled_from(Side), st.sampled_from(Side)),
        st.builds(SetStress, phone, st.integers(0, 2)),
    ]


def of_word(seen):
    word = st.just(seen)
    return [
        st.builds(Respell, word, st.sampled_from(["hat", "tram,", "né"])),
        st.builds(Right, word),
        st.builds(Unsure, word, SHARES, REASONS),
    ]
