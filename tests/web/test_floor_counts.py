"""The rule by which counts of frames stand, whatever the order, the repetition and the delay in which they come in.

Tablets are simulated: each counts on from what it has seen, sends its own counts in order, and hears of others' only
when it asks. Each is its own witness: what it told last holds unless somebody who had seen that told another.
"""

from dataclasses import dataclass, field
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as some

from trackread.core.cut import Place, Shot, Source
from trackread.core.timebase import Frame, FrameRate
from trackread.workflow.shooting import Statement, furthest, standing

RATE = FrameRate(Fraction(24))
LENGTH = 40
TABLETS = 3


def a_shot(head=0):
    """The shot with so many frames cut off its head."""
    source = Source(start=Fraction(head, 24), clip="SH010")
    return Shot("SH010", Frame(0), Frame(LENGTH - head), Place("picture.edl", 3), source=source)


SHOT = a_shot()


def said(name, count, *over, shot=SHOT):
    return Statement(name, count, frozenset(over), shot)


def count(every, shot=SHOT):
    found = furthest(every, shot, RATE)
    return found.count if found else 0


@dataclass
class Tablet:
    """A tablet with what it has heard of, and its own counts, of which the server has the first `sent`."""

    name: int
    heard: list = field(default_factory=list)
    own: list = field(default_factory=list)
    sent: int = 0

    @property
    def known(self):
        return [*self.heard, *(one for one in self.own if one not in self.heard)]

    def tell(self, step):
        """Counts a frame more, or one less."""
        told = min(max(count(self.known) + step, 0), LENGTH)
        over = (one.id for one in standing(self.known))
        self.own.append(said(f"{self.name}-{len(self.own)}", told, *over))


# What happens: (tablet, what it does). To send with the answer lost is to send again.
WHAT = ("done", "done", "done", "undo", "send", "send and hear nothing", "ask")
days = some.lists(some.tuples(some.integers(0, TABLETS - 1), some.sampled_from(WHAT)), max_size=60)


def played(day):
    """The tablets after a day, and all that has come in at the server, in order, with what came in twice."""
    tablets, server = [Tablet(name) for name in range(TABLETS)], []
    for name, what in [*day, *((name, "send") for name in range(TABLETS))]:
        tablet = tablets[name]
        if what in ("done", "undo"):
            tablet.tell(1 if what == "done" else -1)
        elif what == "ask":
            tablet.heard = list(dict.fromkeys(server))
        else:
            server += tablet.own[tablet.sent :]
            tablet.sent = len(tablet.own) if what == "send" else tablet.sent
    return tablets, server


@given(days, some.randoms(use_true_random=False))
def test_the_count_is_the_same_in_whatever_order_and_however_often_counts_come_in(day, chance):
    _, server = played(day)
    mixed = [*server, *chance.choices(server, k=len(server))] if server else []
    chance.shuffle(mixed)

    assert count(list(dict.fromkeys(mixed))) == count(list(dict.fromkeys(server))) == count(server)


@given(days)
def test_what_a_tablet_told_last_holds_unless_somebody_who_had_seen_it_told_another(day):
    tablets, server = played(day)

    for tablet in tablets:
        if tablet.own:
            last = tablet.own[-1]
            seen_by_others = [one for one in server if last.id in one.over]
            assert seen_by_others or count(server) >= last.count


@given(days)
def test_without_an_undo_no_frame_that_anybody_told_is_lost(day):
    _, server = played([(name, what) for name, what in day if what != "undo"])

    assert count(server) == max((one.count for one in server), default=0)


@given(days)
def test_one_tablet_alone_counts_as_its_thumb_does(day):
    alone = [(0, what) for _, what in day]
    _, server = played(alone)
    told = 0
    for _, what in alone:
        told = min(max(told + {"done": 1, "undo": -1}.get(what, 0), 0), LENGTH)

    assert count(server) == told


@given(days)
def test_once_all_have_asked_an_undo_takes_back_one_frame_of_what_is_shot(day):
    tablets, server = played(day)
    before = count(server)
    tablets[0].heard = list(dict.fromkeys(server))
    tablets[0].tell(-1)

    assert count([*server, tablets[0].own[-1]]) == max(before - 1, 0)


@given(some.lists(some.tuples(some.integers(0, 5), some.integers(5, 30)), min_size=1, max_size=6), some.integers(0, 5))
def test_the_furthest_is_the_same_picture_whichever_issue_it_is_asked_of(told, asked):
    every = [said(str(place), frames - head, shot=a_shot(head)) for place, (head, frames) in enumerate(told)]
    found = furthest(every, a_shot(asked), RATE)

    # A frame of the picture is a frame of the issue and what is cut off that one's head.
    assert found.count + found.shot.source.start * 24 == max(frames for _, frames in told)


def test_the_hours_of_two_tablets_by_hand():
    base = said("note-7", 3)
    away = [said("b1", 4, "note-7"), said("b2", 5, "b1"), said("b3", 6, "b2")]
    here = [said("a1", 4, "note-7"), said("a2", 5, "a1"), said("a3", 4, "a2")]

    assert count([base]) == 3
    assert count([base, *here]) == 4
    assert count([base, *here, *away]) == count([*away, *here, base]) == 6
    assert {one.id for one in standing([base, *here, *away])} == {"a3", "b3"}
    assert count([base, *here, *away, said("a4", 5, "a3", "b3")]) == 5
    assert count([]) == 0
