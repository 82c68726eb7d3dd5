"""The course a voice takes through its line: which of its words are said and in what order, and what else is.

The recogniser's rows are laid over the words of the line, each phone in turn with silence between (as in connectionist
temporal classification, Graves et al. 2006, but the best way alone: Viterbi). At a cost the voice may leave out words,
go back and say some again, break a word off and begin again, or say phones that are no word of the line. The costs are
low, so that hardly any departure is missed: `departures.py` weighs those that are found here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from trackread.reading.lexicon import Pronunciation, bare
from trackread.reading.match import FLOOR
from trackread.reading.recogniser import HOP, LATE, SYMBOLS, Posteriors

# Nats. Chosen on half of the changed takes of scripts/measure-departures.
DROP = 4.0  # for each word left out
REPEAT = 0.0  # for going back
RESTART = 2.0  # for breaking a word off
ADD = 1.5  # for phones that are no word of the line,
EACH = 0.7  # and for each of these
FAR = 0.5  # for each word further back
NEVER = -1e9

Ways = Sequence[tuple[Pronunciation, ...]]


class StepKind(Enum):
    """A word of the line said whole; said in part, then broken off; phones that are no word of the line."""

    WORD = 1
    PART = 2
    OTHER = 3


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the course: its word (an index into the line, None of OTHER), phones, and when each was heard.

    `phones` are ARPAbet without stress digits; `times` are seconds from the first row.
    """

    kind: StepKind
    word: int | None
    phones: tuple[str, ...]
    times: tuple[float, ...]


class Net:
    """The states of a line: each way of each word as phone, silence, phone, silence ... in order of words.

    All arrays are (states,): `column` of the rows (0 is silence), `word`, whether a state is the `first` of its way,
    may end its word (`last`), is a `phone`; what it costs to come from the state before, and from the phone before.
    In a strict net every word is said once, in order, and nothing else.
    """

    def __init__(self, ways: Ways, *, strict: bool = False) -> None:
        states = [state for word, each in enumerate(ways) for way in each for state in states_of(word, bare(way))]
        column, word, first, last, skips = zip(*states, strict=True)
        self.words = len(ways)
        self.column, self.word = np.array(column), np.array(word)
        self.first, self.last, self.phone = np.array(first), np.array(last), self.column > 0
        self.starts = np.searchsorted(self.word, np.arange(self.words))
        self.from_before = np.where(self.first, NEVER, 0.0)
        self.from_phone = np.where(np.array(skips), 0.0, NEVER)
        # After `u` words, `v` comes next: further on, words are left out; before it, they are said again.
        after, then = np.arange(self.words + 1)[:, None], np.arange(self.words)[None, :]
        back = -REPEAT - FAR * (after - then - 1)
        self.add = NEVER if strict else -ADD
        self.jumps = np.where(then >= after, -DROP * (then - after), back)
        self.breaks = np.where(then <= after[:-1], -RESTART - FAR * (after[:-1] - then), NEVER)
        self.ends = -DROP * np.arange(self.words, -1, -1)
        if strict:
            self.jumps = np.where(then == after, 0.0, NEVER)
            self.breaks = np.full_like(self.breaks, NEVER)
            self.ends = np.where(self.ends < 0, NEVER, 0.0)

    def best_of(self, scores: np.ndarray, counted: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """For each word the highest score among its states that are counted, and that state."""
        shown = np.where(counted, scores, NEVER)
        best: np.ndarray = np.maximum.reduceat(shown, self.starts)
        places = np.flatnonzero(shown == best[self.word])
        state = np.zeros(self.words, np.int32)
        state[self.word[places[::-1]]] = places[::-1]
        return best, state


def states_of(word: int, way: Sequence[str]) -> list[tuple[int, int, bool, bool, bool]]:
    """The states of one way as Net has them, a phone and the silence after it by turns."""
    columns = [1 + SYMBOLS.index(phone) for phone in way]
    found = []
    for k, column in enumerate(columns):
        last = k + 1 == len(columns)
        found.append((column, word, k == 0, last, k > 0 and column != columns[k - 1]))
        found.append((0, word, False, last, False))
    return found


@dataclass(frozen=True, slots=True)
class Walk:
    """All that is known of the best ways: for each row and state, or word, where it came from.

    `step` is how a state was entered: 0 stayed, 1 from the state before, 2 from the phone before, 3 as a new word.
    `entry` is where a new word came from: 2u after u words, 2u + 1 the same after other phones, -1 - u from inside u.
    `ended` and `broken` are each word's best last state and best phone; `other` is 0 stayed, 1 after words, 2 inside
    one. `stop` is where the best way ends: whether in other phones, and after how many words.
    """

    step: np.ndarray
    entry: np.ndarray
    ended: np.ndarray
    broken: np.ndarray
    other: np.ndarray
    stop: tuple[bool, int]


def course_of(heard: Posteriors, ways: Ways, *, strict: bool = False) -> tuple[Step, ...]:
    """The best course through the words that may be said in these ways, over all rows.

    A `strict` course says each word once, in order, and nothing else; it is empty if there are too few rows for it.
    """
    if not len(heard.blank):
        return ()
    net = Net(ways, strict=strict)
    return tuple(step for step in steps_of(walked(net, heard), net, heard) if step.phones)


def rows_of(heard: Posteriors) -> np.ndarray:
    """Log probabilities of silence and the 39 phones, none below FLOOR."""
    return np.maximum(np.column_stack([heard.blank, heard.phones]).astype(np.float64), FLOOR)


def other_rows(rows: np.ndarray) -> np.ndarray:
    """What each row adds to phones that are no word: its likeliest phone or silence, and EACH for a new phone."""
    phone = rows[:, 1:].argmax(1)
    phone[rows[:, 1:].max(1) <= rows[:, 0]] = -1
    new = (phone >= 0) & (phone != np.concatenate([[-1], phone[:-1]]))
    return np.asarray(rows.max(1) - EACH * new)


def walked(net: Net, heard: Posteriors) -> Walk:
    """The best way to every state at every row."""
    rows = rows_of(heard)
    others = other_rows(rows)
    count, words = len(rows), net.words
    walk = Walk(
        np.zeros((count, len(net.column)), np.int8),
        np.zeros((count, words), np.int32),
        np.zeros((count, words), np.int32),
        np.zeros((count, words), np.int32),
        np.zeros((count, words + 1), np.int8),
        (False, 0),
    )
    scores = np.full(len(net.column), NEVER)
    after, other, inside = np.full(words + 1, NEVER), np.full(words + 1, NEVER), np.full(words, NEVER)
    after[0] = 0.0
    for k, row in enumerate(rows):
        entering = entries(net, (after, other, inside), walk.entry[k])
        scores, walk.step[k] = entered(net, scores, entering)
        scores += row[net.column]
        begun = np.maximum(after, np.concatenate([[NEVER], inside])) + net.add
        walk.other[k] = np.where(other >= begun, 0, np.where(after + net.add >= begun, 1, 2))
        other = np.maximum(other, begun) + others[k]
        ended, walk.ended[k] = net.best_of(scores, net.last)
        inside, walk.broken[k] = net.best_of(scores, net.phone)
        after = np.concatenate([[after[0] + row[0]], ended])
    finish = np.maximum(after, other) + net.ends
    stop = int(finish.argmax()) if finish.max() > NEVER / 2 else 0
    return Walk(walk.step, walk.entry, walk.ended, walk.broken, walk.other, (bool(other[stop] > after[stop]), stop))


def entries(net: Net, at: tuple[np.ndarray, np.ndarray, np.ndarray], came_from: np.ndarray) -> np.ndarray:
    """The best score with which each word may begin; `came_from` is told where from, as in Walk.entry."""
    after, other, inside = at
    whole = np.maximum(after, other)[:, None] + net.jumps
    broken = inside[:, None] + net.breaks
    columns = np.arange(net.words)
    best, part = whole.argmax(0), broken.argmax(0)
    came_from[:] = np.where(whole[best, columns] >= broken[part, columns], 2 * best + (other > after)[best], -1 - part)
    return np.asarray(np.maximum(whole[best, columns], broken[part, columns]))


def entered(net: Net, scores: np.ndarray, entering: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The best score with which each state is reached, and from where, as in Walk.step."""
    moves = np.full((4, len(scores)), NEVER)
    moves[0] = scores
    moves[1, 1:] = scores[:-1] + net.from_before[1:]
    moves[2, 2:] = scores[:-2] + net.from_phone[2:]
    moves[3] = np.where(net.first, entering[net.word], NEVER)
    step = moves.argmax(0)
    return moves[step, np.arange(len(scores))], step


def fit_of(heard: Posteriors, ways: Ways) -> float:
    """The log likelihood (nats) of the best way through all rows that says these words, each once, and nothing else."""
    if not ways:
        return float(np.maximum(heard.blank, FLOOR).sum())
    net = Net(ways, strict=True)
    scores = np.full(len(net.column), NEVER)
    silence = 0.0
    ended = np.full(net.words, NEVER)
    for row in rows_of(heard):
        entering = np.concatenate([[silence], ended[:-1]])
        scores, _ = entered(net, scores, entering)
        scores += row[net.column]
        silence += row[0]
        ended = np.maximum.reduceat(np.where(net.last, scores, NEVER), net.starts)
    return float(ended[-1])


def steps_of(walk: Walk, net: Net, heard: Posteriors) -> tuple[Step, ...]:
    """The steps of the best way, followed back from its end."""
    row = len(walk.step) - 1
    in_other, words = walk.stop
    steps: list[Step] = []
    while row >= 0 and (in_other or words):
        if in_other:
            step, row, origin = other_back(walk, heard, row, words)
        else:
            step, row, origin = word_back(walk, net, row, (StepKind.WORD, int(walk.ended[row, words - 1])))
        steps.append(step)
        while origin < 0 and row >= 0:
            part = -1 - origin
            step, row, origin = word_back(walk, net, row, (StepKind.PART, int(walk.broken[row, part])))
            steps.append(step)
        in_other, words = bool(origin % 2), origin // 2
    return tuple(reversed(steps))


def word_back(walk: Walk, net: Net, row: int, end: tuple[StepKind, int]) -> tuple[Step, int, int]:
    """The word, whole or in part, that ends in a state at a row; the row before it, and where it came from."""
    kind, state = end
    word = int(net.word[state])
    heard: list[tuple[int, int]] = []
    while True:
        if net.phone[state]:
            # The first row of a phone is the last that is met.
            heard = [one for one in heard if one[0] != state]
            heard.append((state, row))
        step = walk.step[row, state]
        if step == 3:
            break
        state -= int(step)
        row -= 1
    phones = tuple(SYMBOLS[net.column[place] - 1] for place, _ in reversed(heard))
    times = tuple(at * HOP - LATE for _, at in reversed(heard))
    return Step(kind, word, phones, times), row - 1, int(walk.entry[row, word])


def other_back(walk: Walk, heard: Posteriors, row: int, words: int) -> tuple[Step, int, int]:
    """The phones that are no word and end at a row after `words` words; the row before them, and what came before."""
    stop = row
    while walk.other[row, words] == 0 and row > 0:
        row -= 1
    phones: list[str] = []
    times: list[float] = []
    before = -1
    for k in range(row, stop + 1):
        phone = int(heard.phones[k].argmax())
        phone = phone if heard.phones[k, phone] > heard.blank[k] else -1
        if phone not in (-1, before):
            phones.append(SYMBOLS[phone])
            times.append(k * HOP - LATE)
        before = phone
    origin = -words if walk.other[row, words] == 2 else 2 * words
    return Step(StepKind.OTHER, None, tuple(phones), tuple(times)), row - 1, origin
