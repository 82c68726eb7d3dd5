"""Sheets of shots of The Late Tram made by hand and by hypothesis, before and after a change."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from hypothesis import strategies as st

from trackread.core.mouth import Worn
from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Heading, PlacedLine, Sheet, Voice
from trackread.core.timebase import Frame, parse_rate
from trackread.notes.camera import Key, camera_cells, position_cells
from trackread.notes.shifting import shifted

LENGTH = 60


def a_cell(first, stop, text="Mind", **changes):
    return Cell(Frame(first), Frame(stop), text, **changes)


def a_voice(character="BRACK", words=(), sounds=(), beats=(), **columns):
    return Voice(character, tuple(words), tuple(sounds), tuple(beats), (), (), **columns)


def a_line(text="Mind the step", *, line="L0107", take="L0107-1", character="BRACK", first=5, stop=35, extension=""):
    return PlacedLine(line, take, character, text, Frame(first), Frame(stop), extension)


def brack(*, step=31, held=35, **columns):
    """Mind on 10 to 14, the on 15 to 17 and step from the frame `step` on, each of its sounds a frame."""
    words = (a_cell(10, 15), a_cell(15, 18, "the"), a_cell(step, held, "step"))
    sounds = (a_cell(10, 12, "m"), a_cell(12, 15, "eye"), a_cell(15, 18, "th"))
    sounds += tuple(a_cell(step + k, step + k + 1, text) for k, text in enumerate(("s", "t", "eh")))
    sounds += (a_cell(step + 3, held, "p"),)
    beats = (
        Beat(Frame(10), Frame(15), 2, Tone.FALL, main=True),
        Beat(Frame(15), Frame(18), 0),
        Beat(Frame(step), Frame(held), 1),
    )
    return a_voice(**{"words": words, "sounds": sounds, "beats": beats} | columns)


def a_sheet(*voices, length=LENGTH, heading=None, first_number=1, **changes):
    """A sheet of 24 frames a second; the first frame is printed as 1."""
    names = {"take": "L0107-1", "listeners": ("MISS PELL",), "about": "The tram stands."}
    made = Heading(**names | (heading or {}))
    return replace(Sheet(made, parse_rate("24"), Frame(length), first_number, voices), **changes)


def later(cells, frames):
    """Cells so many frames later."""
    return tuple(replace(cell, first=cell.first + frames, stop=cell.stop + frames) for cell in cells)


def trimmed(sheet, head=0, tail=0):
    """A sheet without so many frames at its ends, as the shot's own sheet would be; below 0, with more of them."""
    length = sheet.length - head - tail

    def within(spans):
        kept = [one for one in spans if one.first < head + length and head < one.stop]
        return tuple(cropped(one, head, length) for one in kept)

    columns = ("words", "sounds", "beats", "events", "manners", "departures", "missing", "mouths")
    voices = tuple(replace(voice, **{name: within(getattr(voice, name)) for name in columns}) for voice in sheet.voices)
    lines = within(sheet.lines)
    return replace(sheet, length=Frame(length), voices=voices, action=within(sheet.action), lines=lines)


def cropped(one, head, length):
    first, stop = max(one.first - head, 0), min(one.stop - head, length)
    changes = {"first": Frame(first), "stop": Frame(stop)}
    if isinstance(one, Cell | Beat):
        changes["before"] = one.before or first > one.first - head
    if isinstance(one, Cell):
        changes["beyond"] = one.beyond or stop < one.stop - head
    return replace(one, **changes)


@st.composite
def columns(draw, texts, length, longest=5):
    """Texts one after another, some at once, some with gaps; the first may have begun before the sheet."""
    found, at = [], 0
    for text in draw(st.lists(st.sampled_from(texts), max_size=6)):
        first = at + draw(st.integers(0, 4))
        at = first + draw(st.integers(1, longest))
        if at > length:
            break
        found.append(a_cell(first, at, text, before=first == 0 and draw(st.booleans())))
    return tuple(found)


def beats_from(cells, degrees):
    """A beat on the frames of each cell."""
    tones = (None, *Tone)
    return tuple(
        Beat(cell.first, cell.stop, degree % 3, tones[degree % 5], main=degree > 7, before=cell.before)
        for cell, degree in zip(cells, degrees, strict=False)
    )


@st.composite
def mouths(draw, length):
    """What is worn on every frame, or nothing; two that are alike may follow each other, as where one is pinned."""
    stops = sorted(draw(st.sets(st.integers(1, length), max_size=5)) | {length}) if draw(st.booleans()) else []
    names = st.sampled_from(("lips shut", "half open", "jaw down"))
    return worn(*((first, stop, draw(names)) for first, stop in pairwise([0, *stops])))


def worn(*runs, pinned=False):
    """Mouths from first frame, stop and name."""
    return tuple(Worn(name, Frame(first), Frame(stop), pinned) for first, stop, name in runs)


@st.composite
def voices(draw, character, length):
    words = draw(columns(("no", "No!", "Mind", "step"), length))
    places = draw(st.sampled_from([words, draw(columns(("no",), length))]))
    degrees = draw(st.lists(st.integers(0, 9), min_size=6, max_size=6))
    return a_voice(
        character,
        words,
        draw(columns(("n", "oh", "s"), length)),
        beats_from(places, degrees),
        events=draw(columns(("breath in", "laugh"), length)),
        manners=draw(columns(("shouted",), length)),
        departures=draw(columns(('script: "gap"',), length)),
        missing=draw(columns(('script has "the"',), length, longest=1)),
        mouths=draw(mouths(length)),
    )


@st.composite
def sheets(draw):
    """Any sheet of up to three voices, with notes."""
    length = draw(st.integers(1, 30))
    names = draw(st.lists(st.sampled_from(["BRACK", "TUM", "MISS PELL"]), unique=True, max_size=3))
    return a_sheet(
        *(draw(voices(name, length)) for name in names),
        length=length,
        heading={"about": draw(st.sampled_from(["", "The tram stands."]))},
        action=draw(columns(("waves", "sits"), length)),
        lines=draw(st.lists(lines(length), max_size=2, unique_by=lambda one: one.line).map(tuple)),
    )


@st.composite
def lines(draw, length):
    first = draw(st.integers(0, length - 1))
    return a_line(
        draw(st.sampled_from(["", "Mind the step", "Mind the gap"])),
        line=draw(st.sampled_from(["L0107", "L0108"])),
        extension=draw(st.sampled_from(["", "O.S."])),
        first=first,
        stop=draw(st.integers(first + 1, length)),
    )


keys = st.lists(
    st.builds(
        Key,
        frame=st.integers(-3, 30).map(Frame),
        axis=st.sampled_from(["pan", "track 2"]),
        value=st.sampled_from([Fraction(0), Fraction(3), Fraction(-5, 2)]),
    ),
    max_size=4,
    unique_by=lambda key: (key.frame, key.axis),
)
PARTS = ("words", "sounds", "beats", "events", "manners", "departures", "missing", "mouths")


@st.composite
def changed_sheets(draw):
    """A sheet, how many frames its head has lost since, and the sheet after, which has some of another sheet's rows."""
    before, other, every_frame = draw(sheets()), draw(sheets()), draw(st.booleans())
    lost = draw(st.integers(-5, before.length - 1))
    after = trimmed(before, lost, draw(st.integers(-5, before.length - lost - 1)))
    other = trimmed(other, tail=other.length - after.length)
    taken = draw(st.sets(st.sampled_from([*PARTS, "action", "lines", "camera"])))
    if after.voices and other.voices:
        parts = {name: getattr(other.voices[0], name) for name in taken & set(PARTS)}
        after = replace(after, voices=(replace(after.voices[0], **parts), *after.voices[1:]))
    after = replace(after, **{name: getattr(other, name) for name in taken & {"action", "lines"}})
    told = draw(keys)
    now = draw(keys) if "camera" in taken else shifted(told, -lost)
    return filmed(before, told, every_frame=every_frame), filmed(after, now, every_frame=every_frame), lost


def filmed(sheet, some_keys, *, every_frame=False):
    """A sheet with what the camera does."""
    positions = position_cells(some_keys, sheet.length) if every_frame else ()
    return replace(sheet, camera=camera_cells(some_keys, sheet.length), positions=positions)
