"""Cuts that people placed are kept to the sample when a take is read again, and nothing far from them moves."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reading.test_take import Takes, recorded
from trackread.core.correction import Pin
from trackread.core.phones import PAUSE
from trackread.core.reading import Reading, Source
from trackread.core.timebase import Sample
from trackread.editing.places import cut_at
from trackread.reading.aligner import Mark
from trackread.reading.between import ENOUGH, Fix, Part, Unit, evenly, limits_of, parts_between
from trackread.reading.pins import best_ways, find_pins, left_out, place_in
from trackread.reading.placement import Placed
from trackread.reading.said import SaidWord
from trackread.reading.sounds import RATE
from trackread.reading.stretches import Span
from trackread.reading.take import Reader

FRAME = 1000  # samples of the tram's takes, at 24 kHz and 24 a second


def pin_at(reading: Reading, number: int, off: int = 0) -> Pin:
    """The cut `number` of a reading, `off` samples from where it is, as a pin."""
    return replace(cut_at(reading, number), sample=Sample(reading.cuts[number] + off))


def starts(reading: Reading) -> list[int]:
    return [reading.start(word) for word in reading.words]


@pytest.mark.parametrize("name", ["03", "05", "14"])
def test_without_pins_a_take_is_read_as_ever(reader: Reader, tram: Takes, name: str) -> None:
    assert reader.read(*tram[name], pins=()) == reader.read(*tram[name])


@pytest.mark.parametrize(("name", "word"), [("03", 3), ("06", 4), ("09", 2), ("14", 3)])
@pytest.mark.parametrize("off", [-1920, 1920])
def test_a_word_pinned_80_ms_off_starts_there_and_the_others_stay(
    reader: Reader, tram: Takes, name: str, word: int, off: int
) -> None:
    first = reader.read(*tram[name])
    pin = pin_at(first, first.words[word].first, off)

    again = reader.read(*tram[name], pins=[pin])

    assert starts(again)[word] == pin.sample
    assert left_out(again, [pin]) == ()
    assert [one.text for one in again.words] == [one.text for one in first.words]
    moved = [abs(a - b) for a, b in zip(starts(again), starts(first), strict=True)]
    assert all(far <= FRAME // 2 for k, far in enumerate(moved) if k != word)


@pytest.mark.parametrize("name", ["02", "04", "08", "10", "11", "13"])
def test_pins_at_all_starts_of_words_are_all_kept(reader: Reader, tram: Takes, name: str) -> None:
    first = reader.read(*tram[name])
    pins = [pin_at(first, word.first) for word in first.words]

    again = reader.read(*tram[name], pins=pins)

    assert starts(again) == starts(first)
    assert left_out(again, pins) == ()


@pytest.mark.parametrize("name", ["01", "02", "03", "09"])
def test_a_take_with_every_cut_pinned_is_the_same_to_the_sample(reader: Reader, tram: Takes, name: str) -> None:
    first = reader.read(*tram[name])
    pins = [pin_at(first, number) for number in range(1, len(first.phones))]

    again = reader.read(*tram[name], pins=pins)

    assert again.cuts == first.cuts
    assert [phone.symbol for phone in again.phones] == [phone.symbol for phone in first.phones]


@pytest.mark.parametrize(("number", "off"), [(4, 700), (-1, -900)])  # inside a word; the end of the last
def test_a_cut_inside_a_word_or_at_its_end_is_kept(reader: Reader, tram: Takes, number: int, off: int) -> None:
    first = reader.read(*tram["12"])
    pin = pin_at(first, range(len(first.phones))[number], off)

    again = reader.read(*tram["12"], pins=[pin])

    assert pin.sample in again.cuts
    assert left_out(again, [pin]) == ()
    assert again.phones[again.cuts.index(pin.sample)].symbol == pin.after


def test_a_word_pinned_on_top_of_the_next_shares_its_room_evenly(reader: Reader, tram: Takes) -> None:
    first = reader.read(*tram["14"])
    word = first.words[1]
    near = first.stop(word) - 1200  # 50 ms for the phones of "down,"
    pins = [pin_at(first, word.first, near - first.start(word)), pin_at(first, word.stop)]

    again = reader.read(*tram["14"], pins=pins)

    again_word = again.words[1]
    lengths = [b - a for a, b in pairwise(again.cuts[again_word.first : again_word.stop + 1])]
    assert left_out(again, pins) == ()
    assert (again.start(again_word), again.stop(again_word)) == (near, first.stop(word))
    assert max(lengths) - min(lengths) <= 1


def test_a_pin_of_a_word_that_is_not_said_is_left_out_and_the_rest_is_as_ever(reader: Reader, tram: Takes) -> None:
    first = reader.read(*tram["05"])
    pin = pin_at(first, first.words[1].first, 500)
    strange = [
        replace(pin, word="Mumblethorpe"),
        replace(pin, after="ZH"),
        replace(pin, sample=Sample(first.sound.length - 10)),
        replace(pin_at(first, len(first.phones) - 1), before="ZH"),
    ]

    again = reader.read(*tram["05"], pins=strange)

    assert again == first
    assert left_out(again, [*strange, pin_at(first, 1)]) == tuple(strange)


def test_a_pin_in_a_long_take_touches_its_own_stretch_alone(reader: Reader, tram: Takes) -> None:
    names = ("02", "11", "08", "14", "01", "06")
    signal = np.concatenate([tram[name][0].signal for name in names])
    take, line = recorded(signal), " ".join(tram[name][1] for name in names)
    first = reader.read(take, line)
    pin = pin_at(first, first.words[-3].first, 800)

    again = reader.read(take, line, pins=[pin])

    assert len(signal) > 25 * RATE
    assert starts(again)[-3] == pin.sample
    assert starts(again)[:20] == starts(first)[:20]


# Parts of words, by hand.

SIT, DOWN = (("S", "IH1", "T"),), (("D", "AW1", "N"),)


def test_a_pin_inside_a_word_splits_its_phones_in_two() -> None:
    parts = parts_between([SIT, DOWN], [Fix(0, 2, stops=False, joined=True, time=0.4)], 1.0)

    assert parts == [
        Part(0.0, False, 0.4, True, [Unit(0, 0, (("S", "IH1"),))]),
        Part(0.4, True, 1.0, False, [Unit(0, 2, (("T",),)), Unit(1, 0, DOWN)]),
    ]


def test_between_a_pinned_end_and_a_pinned_start_nothing_is_said() -> None:
    fixes = [Fix(0, 2, stops=True, joined=True, time=0.4), Fix(1, 0, stops=False, joined=False, time=0.6)]

    parts = parts_between([SIT, DOWN], fixes, 1.0)

    assert [(part.start, part.starts, part.stop, part.stops) for part in parts] == [
        (0.0, False, 0.4, True),
        (0.6, True, 1.0, False),
    ]


def test_a_word_without_pins_keeps_all_its_ways() -> None:
    ways = (("DH", "AH0"), ("DH", "IY0"))

    parts = parts_between([ways, DOWN], [Fix(1, 0, stops=False, joined=False, time=0.6)], 1.0)

    assert parts[0] == Part(0.0, False, 0.6, False, [Unit(0, 0, ways)])


@given(st.floats(0, 9), st.floats(0.001, 2))
def test_phones_without_room_share_it_evenly_and_stay(start: float, length: float) -> None:
    part = Part(start, True, start + length, True, [Unit(0, 1, (("IH1", "T"),)), Unit(1, 0, DOWN)])

    marks, limits = evenly(part)

    edges = [marks[0].start, *(mark.stop for mark in marks)]
    assert np.allclose(np.diff(edges), length / 5)
    assert [mark.opens_word for mark in marks] == [False, False, True, False, False]
    assert all(low == high for limit in limits for low, high in limit)


def test_the_edges_of_phones_keep_room_for_those_around_them() -> None:
    part = Part(1.0, True, 1.0 + 3 * ENOUGH, False, [Unit(0, 0, SIT)])

    limits = limits_of(part, 3)

    assert limits[0][0] == (1.0, 1.0)
    assert np.allclose(limits[2], [(1.02, 1.08), (1.03, 1.09)])


# Which cut a pin is of.

TICKET = (("T", "IH1", "K", "AH0", "T"), ("T", "IH1", "K", "IH0", "T"))


def a_pin(before: str, after: str, word: str, phone: int, **changes: int) -> Pin:
    return Pin(Sample(changes.get("sample", 16000)), before, after, word, phone=phone, order=changes.get("order", 0))


@pytest.mark.parametrize(
    ("pin", "place"),
    [
        (a_pin(PAUSE, "T", "ticket", 0), (0, 0)),
        (a_pin("OW", "T", "ticket", 0), (0, 0)),
        (a_pin("K", "AH", "ticket", 3), (0, 3)),
        (a_pin("K", "AH", "ticket", 2), (0, 3)),  # once said with a sound less
        (a_pin("T", PAUSE, "ticket", 5), (0, 4)),
        (a_pin("T", PAUSE, "ticket", 1), None),  # a pause after the first sound, where none can be
        (a_pin("IH", "AH", "ticket", 3), None),
        (a_pin("K", "AH", "ticket", 1), None),
        (a_pin(PAUSE, "K", "ticket", 0), None),
        (a_pin("K", "IY", "ticket", 3), None),
    ],
)
def test_a_pin_is_found_between_the_same_phones(pin: Pin, place: tuple[int, int] | None) -> None:
    assert place_in(pin, TICKET[:1]) == place


def test_a_pin_counts_the_phones_of_all_the_words_of_a_number() -> None:
    forty_two = (("F", "AO1", "R", "T", "IY0"), ("T", "UW1"))

    assert place_in(a_pin("IY", "T", "42,", 5), forty_two) == (1, 0)
    assert place_in(a_pin("IY", PAUSE, "42,", 5), forty_two) == (0, 4)


def test_a_word_is_said_in_the_way_that_has_its_pins() -> None:
    assert best_ways([a_pin("K", "IH", "ticket", 3)], [TICKET], TICKET[:1]) == TICKET[1:]
    assert best_ways([a_pin("T", "IH", "ticket", 1)], [TICKET], TICKET[:1]) == TICKET[:1]


def two_hats(second: float) -> tuple[list[SaidWord], list[Placed]]:
    """The word hat, said at 1 s and again later."""
    ways = (("HH", "AE1", "T"),)
    words = [SaidWord(k, "hat", Source.DICTIONARY, "hat", ways, (), k, departs=False) for k in (0, 1)]
    placed = [
        Placed(Mark(phone, at + 0.1 * k, at + 0.1 * k + 0.1, word, k == 0), at + 0.1 * k, at + 0.1 * k + 0.1, 0.5, 0.5)
        for word, at in enumerate((1.0, second))
        for k, phone in enumerate(ways[0])
    ]
    return words, placed


@pytest.mark.parametrize(("order", "second", "word"), [(0, 1.6, 0), (1, 1.6, 1), (1, 9.0, 0), (2, 1.6, 0), (0, 0.5, 0)])
def test_a_word_said_twice_is_the_one_of_its_order_if_that_is_near(order: int, second: float, word: int) -> None:
    words, placed = two_hats(second)
    pin = a_pin(PAUSE, "HH", "hat", 0, sample=17000, order=order)

    found = find_pins([pin], words, placed, spans=[Span(0, 10 * RATE, 0, 2)] * 2, sample_rate=RATE)

    assert found.fixes == (Fix(word, 0, stops=False, joined=False, time=17000 / RATE),)


@pytest.mark.parametrize(
    ("samples", "kept"),
    [((16000, 25600), 2), ((25600, 16500), 1), ((16000, 16040), 1), ((16000, 200000), 1), ((0, 25600), 1)],
)
def test_a_pin_that_leaves_no_room_or_lies_outside_its_stretch_is_left_out(samples: tuple[int, int], kept: int) -> None:
    words, placed = two_hats(1.6)
    pins = [a_pin(PAUSE, "HH", "hat", 0, sample=sample, order=order) for order, sample in enumerate(samples)]

    found = find_pins(pins, words, placed, spans=[Span(0, 10 * RATE, 0, 2)] * 2, sample_rate=RATE)

    assert len(found.fixes) == kept
