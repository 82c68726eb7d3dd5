"""Whether a take says the line it is paired with: how much better the line explains what was heard than any sounds do.

The evidence is a log likelihood ratio, in nats a phone: all ways of laying the line's phones over the recogniser's
rows (the forward sum of connectionist temporal classification, Graves et al. 2006) against all ways of laying any
phones there. One number and two bounds judge; what chose the constants is said beside each.
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from trackread.core.phones import VOWELS
from trackread.core.reading import Match
from trackread.reading.aligner import Mark
from trackread.reading.recogniser import HOP, LATE, SYMBOLS, Posteriors
from trackread.reading.stretches import heard_phones

FLOOR = -14.0  # nats; no single row may rule a phone out more than this
ANY_PHONE = -2.0  # nats each phone of the free explanation pays: it may use any phone, the line only its own
AROUND = -8.0  # nats for sound before the line, and again after it: a breath, a laugh, a word to the director
SPARE = 2  # phones added to the line's when its evidence is shared out, so that a single word is not over-judged
SURE = math.log(0.999)  # a row as silent as this says nothing when the row before it was as silent
REACH = 20.0  # seconds around its mark in which a phone is looked for: the aligner may stray by a whole stretch
WORST = -30.0  # nats a phone; below it nothing more is learnt

# Logistic regression on the evidence of 64 right and 4014 wrong pairs of people's takes, from 13 sentences of several
# voices and 51 short shouts of one actor. scripts/measure-match repeats it, and tries on one half of the takes what is
# fitted on the other. ANY_PHONE, AROUND and the weight of a right pair were chosen on all 64 takes, which those
# halves do not show: with ANY_PHONE and AROUND chosen on one half as well, 2 to 3 % of right pairs were refused.
BASE, SLOPE = 9.4, 7.8

# Speech keeps 2 to 9 syllables a second inside a run; an actor who gabbles, on a tape speeded up, passes 12.
FASTEST = 15.0
# A take may hold more than its line, but not this many phones for each of the line's, and a few.
MOST_HEARD, FEW_HEARD = 3, 8


def judge(marks: Sequence[Mark], heard: Posteriors, seconds: float) -> Match:
    """Whether a take of `seconds` says the line whose phones the aligner put at `marks`, seconds of the same take.

    The score is 0 to 1, and the line is said from a half on.
    """
    if not possible(marks, heard, seconds):
        return Match(0.0, says_line=False)
    score = 1 / (1 + math.exp(-(BASE + SLOPE * evidence(marks, heard))))
    return Match(score, says_line=score >= 0.5)


def possible(marks: Sequence[Mark], heard: Posteriors, seconds: float) -> bool:
    """Whether a voice could say these phones in this time, and the take holds not many times more."""
    syllables = sum(mark.phone.rstrip("012") in VOWELS for mark in marks)
    many = MOST_HEARD * len(marks) + FEW_HEARD
    return syllables <= FASTEST * seconds and len(heard_phones(heard)[0]) <= many


def evidence(marks: Sequence[Mark], heard: Posteriors) -> float:
    """Nats a phone by which the line explains the take better than any phones do; at least WORST."""
    rows, times = telling_rows(heard)
    before, after = any_phones(rows), any_phones(rows[::-1])[::-1]
    line = line_likelihood(rows, states_of(marks), windows(marks, times), (before, after))
    return max(WORST, float(line - before[-1]) / (SPARE + len(marks)))


def telling_rows(heard: Posteriors) -> tuple[np.ndarray, np.ndarray]:
    """Log probabilities of silence and the 39 phones, and each row's time: of a silence only its first row."""
    silent = heard.blank > SURE
    told = ~(silent & np.concatenate([[False], silent[:-1]]))
    rows = np.maximum(np.column_stack([heard.blank, heard.phones]), FLOOR).astype(np.float64)
    return rows[told], np.flatnonzero(told) * HOP - LATE


def any_phones(rows: np.ndarray) -> np.ndarray:
    """The log likelihood of the rows up to and including each, whatever phones are said in them."""
    reached = np.empty(len(rows))
    phones = np.full(len(SYMBOLS), -np.inf)
    silence = total = 0.0
    for k, row in enumerate(rows):
        phones = np.logaddexp(phones, ANY_PHONE + total) + row[1:]
        silence = total + row[0]
        top = phones.max()
        total = np.logaddexp(silence, top + math.log(np.exp(phones - top).sum()))
        reached[k] = total
    return reached


def states_of(marks: Sequence[Mark]) -> np.ndarray:
    """Columns of the rows that the line passes through: silence, phone, silence, phone, ..., silence."""
    states = np.zeros(2 * len(marks) + 1, int)
    states[1::2] = [1 + SYMBOLS.index(mark.phone.rstrip("012")) for mark in marks]
    return states


def windows(marks: Sequence[Mark], times: np.ndarray) -> Iterator[tuple[int, int]]:
    """For each row the states, `first` to before `stop`, whose marks lie within REACH; never going back."""
    starts = np.maximum.accumulate([mark.start for mark in marks])
    stops = np.maximum.accumulate([mark.stop for mark in marks])
    first = 2 * np.searchsorted(stops, times - REACH)
    stop = 2 * np.searchsorted(starts, times + REACH) + 1
    return zip(first.tolist(), stop.tolist(), strict=True)


def line_likelihood(
    rows: np.ndarray,
    states: np.ndarray,
    windows: Iterator[tuple[int, int]],
    free: tuple[np.ndarray, np.ndarray],
) -> float:
    """The log likelihood of the rows if the states are passed in order, with any phones around them.

    `free` holds the likelihoods of any phones up to each row, and from each row on.
    """
    before = np.concatenate([[0.0], free[0][:-1] + AROUND])
    after = np.concatenate([free[1][1:] + AROUND, [0.0]])
    # A silence may be left out between two phones, unless they are the same.
    skips = np.where((states > 0) & (states != np.roll(states, 2)), 0.0, -np.inf)
    reached = np.full(len(states) + 2, -np.inf)  # two more in front, so that each state has two before it
    whole = -np.inf
    for k, (first, stop) in enumerate(windows):
        reached[first : first + 2] = -np.inf
        stepped = np.logaddexp(reached[first + 2 : stop + 2], reached[first + 1 : stop + 1])
        now = np.logaddexp(stepped, reached[first:stop] + skips[first:stop])
        if first == 0:
            now[:2] = np.logaddexp(now[:2], before[k])
        reached[first + 2 : stop + 2] = now + rows[k, states[first:stop]]
        whole = np.logaddexp(whole, np.logaddexp(reached[-1], reached[-2]) + after[k]) if stop == len(states) else whole
    return float(whole)
