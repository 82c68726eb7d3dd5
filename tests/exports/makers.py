"""Films of The Late Tram with their sheets, made by hand and by hypothesis."""

from dataclasses import replace
from itertools import pairwise

from hypothesis import strategies as st

from trackread.core.mouth import Worn
from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Heading, PlacedLine, Sheet, Voice
from trackread.core.timebase import Frame, parse_rate
from trackread.exports.shot import ExportedShot, Film

# All rates of picture work, with both counts of timecode where there are two.
RATES = ("23.976", "24", "25", "29.97", "29.97df", "30", "47.952", "48", "50", "59.94", "59.94df", "60")

WORDS = (Cell(2, 8, "Mind"), Cell(8, 10, "the"), Cell(10, 20, "step!"))
SOUNDS = (Cell(2, 4, "m"), Cell(4, 7, "eye"), Cell(7, 8, "nd"), Cell(8, 10, "thuh"), Cell(10, 20, "stehp"))
BEATS = (Beat(2, 8, 1, Tone.RISE), Beat(8, 10, 0), Beat(10, 20, 2, Tone.FALL, main=True))
LINE = PlacedLine("12.3", "A1/4", "BRACK", "Mind the step!", Frame(2), Frame(20), "O.S.")


def a_voice(character="BRACK", **changes):
    return replace(Voice(character, WORDS, SOUNDS, BEATS, (), (), events=(Cell(0, 2, "breath in"),)), **changes)


def a_sheet(*voices, rate="24", length=24, first_number=1, **changes):
    return Sheet(Heading(), parse_rate(rate), Frame(length), first_number, voices, **changes)


def a_shot(name="SH010", first=0, sheet=None, scene="12"):
    return ExportedShot(name, scene, Frame(first), sheet or a_sheet(a_voice(), lines=(LINE,)))


def a_film(*shots, start=86400):
    shots = shots or (a_shot(), a_shot("SH020", 24, a_sheet(a_voice("MISS PELL"))))
    return Film("The Late Tram", shots[0].sheet.rate, Frame(start), shots)


def numbered_lines(rate, firsts):
    """A film of one shot in which a line of a frame starts on each of some frames."""
    lines = tuple(replace(LINE, text=str(first), first=Frame(first), stop=Frame(first + 1)) for first in firsts)
    return a_film(a_shot(sheet=a_sheet(rate=rate, length=max(firsts) + 1, lines=lines)))


def texts(**limits):
    """What people write and what programs take for something else; no lone surrogates, no NUL: no book holds them."""
    odd = st.sampled_from(
        ["=1+1", "+5", "-12.5", "@TUM", "'=", "1/2", "1e5", "#N/A", "a\r\nb", "\tx", " x  y ", "<&>", '"']
    )
    letters = st.characters(exclude_categories=("Cs",), exclude_characters="\0", **limits)
    return st.one_of(odd, st.text(letters, min_size=1, max_size=8))


def spans(length):
    """First frame and stop, within so many frames."""
    edges = st.lists(st.integers(0, length), min_size=2, max_size=2, unique=True)
    return edges.map(sorted)


def cells(length, written):
    def cell(span, text, beyond):
        before = span[0] == 0 and beyond
        return Cell(Frame(span[0]), Frame(span[1]), text, before, beyond and span[1] == length)

    return st.lists(st.builds(cell, spans(length), written, st.booleans()), max_size=4).map(tuple)


def beats(length):
    def beat(span, degree, tone, flag):
        return Beat(Frame(span[0]), Frame(span[1]), degree, tone, flag, before=span[0] == 0 and flag)

    tones = st.one_of(st.none(), st.sampled_from(Tone))
    made = st.builds(beat, spans(length), st.integers(0, 2), tones, st.booleans())
    return st.lists(made, max_size=4).map(tuple)


def voices(length, written, characters):
    of = cells(length, written)
    parts = dict.fromkeys(("words", "sounds", "events", "manners", "departures", "missing"), of)
    seen = st.tuples(st.just(""), worn(length, written))
    heard = st.tuples(st.just("O.S."), st.just(()))
    names = st.sampled_from(characters)
    nothing = st.just(())
    said = st.builds(Voice, names, beats=beats(length), level=nothing, pitch=nothing, **parts)
    return st.builds(
        lambda voice, source: replace(voice, extension=source[0], mouths=source[1]), said, st.one_of(seen, heard)
    )


def worn(length, written):
    """Mouths on all frames up to some frame, or none."""

    def runs(stops, names, pins):
        edges = pairwise([0, *sorted(stops)])
        return tuple(
            Worn(name, Frame(first), Frame(stop), pinned)
            for (first, stop), name, pinned in zip(edges, names, pins, strict=False)
        )

    names = st.lists(written.filter(str.strip), min_size=3, max_size=3)
    return st.builds(
        runs,
        st.sets(st.integers(1, length), max_size=3),
        names,
        st.lists(st.booleans(), min_size=3, max_size=3),
    )


def lines(length, written):
    def line(span, name, text):
        return PlacedLine(name, "A1/4", "TUM", text, Frame(span[0]), Frame(span[1]))

    return st.lists(st.builds(line, spans(length), written, written), max_size=3).map(tuple)


@st.composite
def sheets(draw, rate, written, characters=("BRACK", "MISS PELL", "TUM"), most=2):
    length = draw(st.integers(1, 30))
    said = voices(length, written, characters)
    return Sheet(
        Heading(),
        rate,
        Frame(length),
        draw(st.sampled_from([0, 1, 1001])),
        tuple(draw(st.lists(said, max_size=most, unique_by=lambda voice: voice.character))),
        action=draw(cells(length, written)),
        camera=draw(cells(length, written)),
        lines=draw(lines(length, written)),
    )


@st.composite
def films(draw, written=None):
    """Films at all rates, with gaps and dissolves between their shots."""
    written = texts() if written is None else written
    rate = parse_rate(draw(st.sampled_from(RATES)))
    shots, first, stop = [], draw(st.integers(0, 3)), 0
    for number in range(draw(st.integers(1, 3))):
        sheet = draw(sheets(rate, written))
        # A shot may begin while the one before is still seen, if it is seen for longer.
        first = max(first, stop - sheet.length)
        shots.append(ExportedShot(f"SH{number}0", draw(written), Frame(first), sheet))
        stop = first + sheet.length
        first = stop + draw(st.integers(1 - min(3, sheet.length), 3))
    return Film("The Late Tram", rate, Frame(draw(st.integers(0, 90000))), tuple(shots))
