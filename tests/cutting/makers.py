"""Cut lists and cuts made by hand and by hypothesis, of The Late Tram."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import strategies as st

from trackread.core.cut import Cut, Place, Placement, Shot, Source, source_at
from trackread.core.timebase import parse_rate
from trackread.core.timecode import label_of
from trackread.cutting.assembly import cut_of
from trackread.cutting.by_hand import with_placement, with_shot
from trackread.cutting.cmx import read_cmx
from trackread.cutting.events import Terms

RATE = parse_rate("24")
HERE = Place("tram.edl", 1)
HAND = Place("", item="by hand, by TUM")
RATES = ("23.976", "24", "25", "29.97", "29.97df", "30")


def an_event(number, reel="AX", channels="V", transition="C", operand="", *, times):
    """A line of an event in the columns of CMX 3600: number, reel, channels, transition, length and four points."""
    return f"{number:03}  {reel:<8} {channels:<5} {transition:<4} {operand:>3} {' '.join(times)}"


def a_row(number, source, record, length, *, reel="AX", channels="V", transition="C", operand="", rate=RATE):
    """An event's line, of frames."""
    frames = (source, source + length, record, record + length)
    times = [label_of(frame, rate) for frame in frames]
    return an_event(number, reel, channels, transition, operand, times=times)


def a_list(*lines):
    return "\n".join(["TITLE: THE LATE TRAM", "FCM: NON-DROP FRAME", "", *lines, ""])


# The list of the project's check values (24 a second): its times and lengths were read alike by pycmx 1.5.1 and by the
# adapter of opentimelineio for such lists.
REEL = a_list(
    a_row(1, 86400, 86400, 84),
    "* FROM CLIP NAME: SH010",
    a_row(2, 86640, 86484, 48),
    "* FROM CLIP NAME: SH020",
    a_row(3, 0, 86532, 24, reel="BL"),
    a_row(4, 0, 86556, 0, reel="BL"),
    a_row(4, 87120, 86556, 72, transition="D", operand="012"),
    "* TO CLIP NAME: SH030",
)


def read(text, rate="24", file="tram.edl", **terms):
    """A list of CMX 3600 as events."""
    return read_cmx(text, file, Terms(parse_rate(rate), **terms))


def cut_from(*texts, rate="24", **terms):
    """Lists of CMX 3600 as one cut; all after the first are named 2.edl, 3.edl."""
    files = ["tram.edl", *(f"{number}.edl" for number in range(2, len(texts) + 1))]
    lists = [read(text, rate, file, **terms) for text, file in zip(texts, files, strict=True)]
    return cut_of(lists, Terms(parse_rate(rate), **terms))


def remarks_of(cut_or_list):
    return [(one.place.line, one.text) for one in cut_or_list.remarks]


def problems_of(listed):
    return [(one.place.line, one.text) for one in listed.problems]


def a_source(start=0, name="01-brack.wav", rate=RATE):
    return Source(Fraction(start) / rate.per_second, file=name)


def a_shot(code="SH010", first=0, length=24, source=None, **changes):
    """A shot of its own file; `source` is the frame of that with which it starts."""
    picture = Source(Fraction(source or 0) / RATE.per_second, clip=code)
    return replace(Shot(code, first, length, HERE, source=picture), **changes)


def a_placement(at=0, length=12, start=0, name="01-brack.wav", **changes):
    return replace(Placement(a_source(start, name), at, length, ("A1",), HERE), **changes)


def a_cut(*shots, sounds=(), rate=RATE):
    return Cut("Tram", rate, 0, shots, tuple(sorted(sounds, key=lambda one: one.at)))


def by_hand(start=0, length=12, name="L0107-3", **changes):
    """What a person places: the frame of the take with which it starts, and how many frames of it."""
    return a_placement(0, length, start, name, place=HAND, **changes)


def played(cut, one):
    """Each frame of the film on which a placement plays, with the frame of its recording that is heard there."""
    for frame in range(one.at, one.heard_stop):
        yield frame, source_at(one, frame, cut.rate) * cut.rate.per_second


SOUNDS = st.builds(
    a_placement,
    at=st.integers(-10, 40),
    length=st.integers(1, 20),
    start=st.integers(0, 30),
    name=st.sampled_from(["01-brack.wav", "03-pell.wav"]),
    speed=st.sampled_from([Fraction(1), Fraction(1), Fraction(2), Fraction(-1)]),
)


@st.composite
def edited(draw):
    """A cut, and the same one with one shot trimmed and one sound moved, slipped, cut at its end or taken out."""
    before = draw(cuts(fewest=1))
    few, first, shots, sounds = st.sampled_from([0, 0, 0, 1, 3]), 0, [], []
    which_shot = draw(st.sampled_from([None, *range(len(before.shots))]))
    which_sound = draw(st.integers(0, len(before.placements) - 1))
    for place, shot in enumerate(before.shots):
        first += shot.first - (before.shots[place - 1].stop if place else 0)
        head, tail = (draw(few), draw(few)) if place == which_shot else (0, 0)
        source = replace(shot.source, start=shot.source.start + Fraction(head, 24))
        shots.append(replace(shot, first=first, length=max(1, shot.length - head + tail), source=source))
        first = shots[-1].stop
    for place, one in enumerate(before.placements):
        if place != which_sound:
            sounds.append(one)
        elif draw(st.integers(0, 4)):
            change = draw(st.sampled_from(["at", "length", "start", "all"]))
            at, length, start = (draw(few) if change in (name, "all") else 0 for name in ("at", "length", "start"))
            source = replace(one.source, start=one.source.start + Fraction(start, 24))
            sounds.append(replace(one, at=one.at + at, length=one.length + length, source=source))
    return before, a_cut(*shots, sounds=sounds)


@st.composite
def cuts(draw, fewest=0):
    """Up to five shots of which some may be missing, in any order, with sounds anywhere."""
    codes = draw(
        st.lists(
            st.sampled_from(["SH010", "SH020", "SH030", "SH040", "SH050"]), unique=True, min_size=fewest, max_size=5
        )
    )
    first, shots = 0, []
    for code in codes:
        first += draw(st.sampled_from([0, 0, 3]))
        length = draw(st.integers(1, 20))
        shots.append(a_shot(code, first, length, draw(st.integers(0, 6)), fade_out=draw(st.sampled_from([0, 0, 4]))))
        first += length
    return a_cut(*shots, sounds=draw(st.lists(SOUNDS, min_size=fewest, max_size=4)))


@st.composite
def worked_on(draw):
    """A cut of lists, with what a person then made: shots behind it, and placements in any shot."""
    cut = draw(cuts(fewest=1))
    for code in draw(st.lists(st.sampled_from(["SH900", "SH910"]), unique=True)):
        cut = with_shot(cut, code, draw(st.integers(1, 20)), HAND)
    for number in range(draw(st.integers(0, 4))):
        shot = draw(st.sampled_from(cut.shots))
        changes = {
            "speed": draw(st.sampled_from([Fraction(1), Fraction(-1)])),
            "fade_out": draw(st.sampled_from([0, 4])),
        }
        one = by_hand(draw(st.integers(0, 30)), draw(st.integers(1, 15)), f"L010{number}-1", **changes)
        cut = with_placement(cut, shot.name, draw(st.integers(0, shot.length - 1)), one)
    return cut


def of_lists(cut):
    """What of a cut the lists have."""
    shots = tuple(shot for shot in cut.shots if not shot.place.by_hand)
    return replace(
        cut, shots=shots, placements=tuple(one for one in cut.placements if not one.place.by_hand), remarks=()
    )
