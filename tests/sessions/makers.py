"""Sessions made by hand: lines, what a recogniser gives that hears them clearly, a second opinion that knows them."""

from difflib import SequenceMatcher
from itertools import pairwise

import numpy as np
from hypothesis import strategies as st

from trackread.core.phones import PHONES
from trackread.sessions.graphs import Fit
from trackread.sessions.hearing import COLUMNS, Hearing, Utterance
from trackread.sessions.lines import Spoken
from trackread.sessions.opinions import Candidate

LATE = 4  # rows
SPACING = 4  # rows of sound of a phone; its peak is in the second
VOICE, ROOM = -20.0, -70.0  # dB
HEARD, UNHEARD = -0.02, -12.0  # nats of what wins a row, and of all else

# Lines of The Late Tram.
STEP = "M AY N D, DH AH, S T EH P"
LANTERN = "HH OW L D, DH AH, L AE N T ER N, HH AY"
TICKET = "Y UH R, T IH K AH T, P L IY Z"
BRIDGE = "N EH K S T, S T AA P, B R IH JH, S T R IY T"
STEP_MISS = "M AY N D, DH AH, S T EH P, M IH S, P EH L"


def words_of(said):
    """Words apart by commas, each in ways apart by strokes: `T R AE M | T R EH M, S T EH P`."""
    return tuple(tuple(tuple(way.split()) for way in ways.split("|")) for ways in said.split(","))


def a_line(said, name="L0101"):
    return Spoken(name, words_of(said))


def some_lines(*said):
    return [a_line(one, f"L{101 + number:04}") for number, one in enumerate(said)]


def phones_of(said):
    return said.replace(",", " ").split()


def heard_rows(peaks, count):
    """A row of silence each, but for the phone that each peak, a row and a symbol, has."""
    rows = np.full((count, 1 + len(PHONES)), UNHEARD, np.float32)
    winner = np.zeros(count, int)
    for row, phone in peaks:
        winner[row] = COLUMNS[phone]
    rows[np.arange(count), winner] = HEARD
    return rows


def a_session(*parts):
    """What is heard of a session: a string says phones, a number rests so many rows; a second of room at both ends."""
    peaks, levels = [], [ROOM] * 50
    for part in parts:
        if isinstance(part, int):
            levels += [ROOM] * part
            continue
        for phone in phones_of(part):
            peaks.append((len(levels) + 1 + LATE, phone))
            levels += [VOICE] * SPACING
    levels += [ROOM] * 50
    return Hearing(heard_rows(peaks, len(levels)), np.array(levels), LATE)


def rows_of(*parts):
    """The recogniser's rows of all of a session beside any phones."""
    return a_session(*parts).against_any()


def knowing(*said):
    """A second opinion that knows what is said, and is the surer the more of it the words have."""
    truth = [phone for part in said if isinstance(part, str) for phone in phones_of(part)]

    def likelihood(words):
        return max(
            -200 * (1 - SequenceMatcher(None, truth, phones, autojunk=False).ratio()) for phones in spellings(words)
        )

    return likelihood


def spellings(words):
    """The phones of all ways to say the words."""
    return [[*way, *rest] for way in words[0] for rest in spellings(words[1:])] if words else [[]]


def a_candidate(said=STEP, name="L0101", *, whole=8.0, broken=0.0, again=None, words=1, phones=0):
    """A line that fits as well as told; `words` and `phones` are where it is best broken off."""
    again = whole if again is None else again
    return Candidate(a_line(said, name), Fit(whole, broken, words, phones), Fit(again, broken, words, phones))


def utterances_after(lengths, rests):
    """Utterances of so many rows with so many rows of rest between them, the recogniser's rows those of the sound."""
    starts = np.cumsum([0, *(length + rest for length, rest in zip(lengths[:-1], rests, strict=True))]).tolist()
    return [
        Utterance(start, start + length, start, start + length) for start, length in zip(starts, lengths, strict=True)
    ]


def is_in_order(spans):
    return all(first < stop for first, stop in spans) and all(one[1] <= other[0] for one, other in pairwise(spans))


# Few phones, so that like ones meet; whole numbers of nats, so that sums are exact and ties happen.
few_phones = st.sampled_from(["T", "AH", "S"])
ways = st.lists(few_phones, min_size=1, max_size=2).map(tuple)
words = st.lists(ways, min_size=1, max_size=2, unique=True).map(tuple)
routes = st.lists(words, min_size=1, max_size=3).map(tuple)


@st.composite
def nats(draw, count):
    """Rows beside any phones, (count, 40)."""
    rows = np.full((count, 1 + len(PHONES)), -9.0, np.float32)
    for symbol in ["T", "AH", "S"]:
        rows[:, COLUMNS[symbol]] = draw(st.lists(st.integers(-7, 1), min_size=count, max_size=count))
    rows[:, 0] = draw(st.lists(st.integers(-7, 1), min_size=count, max_size=count))
    return rows
