"""Corrections of readings made by hypothesis: any part of the reading, changed in any way that may or may not be."""

from itertools import pairwise

from hypothesis import strategies as st

from trackread.core.correction import (
    Join,
    MoveCut,
    Note,
    PinCut,
    Relabel,
    Reread,
    Respell,
    Right,
    SetStress,
    Side,
    Split,
    UnpinCut,
    Unsure,
)
from trackread.core.passage import Passage, Place, reach_of
from trackread.core.performance import Departure, DepartureKind, Phrase, Reason
from trackread.core.phones import PAUSE, PHONES, VOWELS
from trackread.core.reading import Phone, Syllable, Word
from trackread.editing.places import cut_at, phone_at, place_seen, word_at

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
        first = draw(st.integers(0, len(reading.words) - 1))
        kinds.append(rereads(Place(reading, first, draw(st.integers(first, len(reading.words))))))
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


@st.composite
def rereads(draw, place):
    """Something else said in a place: words of a few sounds, with rests between them or none."""
    start, stop = place.span
    if stop - start < 12:
        return draw(note(place.reading))
    return Reread(*place_seen(place), place.text, draw(passages(place)))


@st.composite
def passages(draw, place):
    start, stop = place.span
    said = draw(st.lists(st.lists(st.sampled_from([*PHONES]), min_size=1, max_size=3), max_size=3))
    symbols, words = [], []
    for number, sounds in enumerate(said):
        symbols += [PAUSE] * draw(st.booleans())
        words.append(Word(f"new{number}", len(symbols), len(symbols) + len(sounds)))
        symbols += sounds
    if not symbols or draw(st.booleans()):
        symbols.append(PAUSE)
    symbols = symbols[: stop - start]
    words = tuple(word for word in words if word.stop <= len(symbols))
    inner = draw(st.sets(st.integers(start + 1, stop - 1), min_size=len(symbols) - 1, max_size=len(symbols) - 1))
    vowels = [[k for k in range(word.first, word.stop) if symbols[k] in VOWELS][:1] for word in words]
    syllables = [Syllable(w.first, w.stop, v[0], 1, 2, 0.7) for w, v in zip(words, vowels, strict=True) if v]
    before, after = reach_of(place)
    edges = sorted({-before, *draw(st.sets(st.integers(0, len(words)))), len(words) + after})
    phrases = [Phrase(a, b, None, None, 3.0) for a, b in pairwise(edges)]
    departures = [Departure(DepartureKind.ADDED, 0, len(words), "")] if words else []
    return Passage(
        tuple(Phone(symbol, 0.5) for symbol in symbols),
        (start, *sorted(inner), stop),
        words,
        tuple(syllables),
        tuple(phrases),
        tuple(departures),
        (before, after),
    )
