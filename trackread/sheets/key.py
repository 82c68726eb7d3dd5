"""The foot of a page: which frames these are, and what each sign means that the page uses, and no other.

Where positions of the camera are printed, a caution has a line of its own below these. Sizes are multiples of the
head's type size. The rows of all pages leave room for as many lines as the longest key.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from trackread.core.performance import Tone
from trackread.core.sheet import POINTS
from trackread.sheets.cells import HOLD_WEIGHT, UNSAID_DASH
from trackread.sheets.columns import Lane, Plan
from trackread.sheets.departures import MANNER_DASH, MANNER_WEIGHT, caret, wave
from trackread.sheets.draft import Draft
from trackread.sheets.fitting import Measure
from trackread.sheets.marks import BLACK, Face, Line, Mark, Text
from trackread.sheets.mouths import called_on, clamp, corner, on_page
from trackread.sheets.paper import Frame
from trackread.sheets.pauses import DOT_WEIGHT, DOTS
from trackread.sheets.positions import CAUTION
from trackread.sheets.runs import GOES_ON, SOUND_GOES_ON, Run, touching
from trackread.sheets.stress import bracket, flag, lands, signs_on, stress
from trackread.sheets.tones import ARROWS, TRIANGLES, Sign, turn
from trackread.sheets.waveform import stroke_of

SIZE = 0.58
LEADING, PADDING = 1.12, 0.35
MOST_LINES = 2
# Of the letters of a list of mouths.
LIST_STRETCH = 0.88
# Each degree with its word and the width of its sign.
DEGREES = {2: ("strong", 0.8), 1: ("half", 0.8), 0: ("weak", 0.4)}
TURNS = {
    ARROWS[Tone.RISE]: "rises",
    ARROWS[Tone.FALL]: "falls",
    ARROWS[Tone.PEAK]: "peaks",
    TRIANGLES[Tone.RISE]: "ends up",
    TRIANGLES[Tone.FALL]: "ends down",
}

# What is drawn in a lane of the foot, from a height down by another.
Draw = Callable[[Lane, float, float], Mark]


@dataclass(frozen=True, slots=True)
class Entry:
    """A sign, so many times the foot's type wide, and what it means; `draw` is None where words stand alone.

    What is explained may be a text in bold, the `lead`.
    """

    text: str
    draw: Draw | None = None
    wide: float = 0.0
    lead: str = ""

    def before(self, measure: Measure) -> float:
        """What stands before the text, in multiples of the foot's type."""
        lead = measure(self.lead, Face.CONDENSED_BOLD) + 0.3 if self.lead else 0.0
        return (self.wide + 0.25 if self.draw else 0.0) + lead

    def width(self, measure: Measure) -> float:
        """In multiples of the foot's type, with the space after it."""
        return self.before(measure) + measure(self.text, Face.CONDENSED) + 0.7


AT_THE_END = Entry("numbers of mouths: listed at the end")


@dataclass(frozen=True, slots=True)
class Key:
    """The entries of a page's foot, what it warns of, "" for nothing, and the mouths that it calls by number.

    These are listed only if all pages of a sheet have room for it.
    """

    entries: tuple[Entry, ...]
    caution: str
    mouths: tuple[Entry, ...] = ()

    def shown(self, *, lists: bool) -> tuple[Entry, ...]:
        """What stands above the list, or without it."""
        return self.entries if lists or not self.mouths else (*self.entries, AT_THE_END)


def height_of(keys: Iterable[Key], frame: Frame, measure: Measure, *, lists: bool) -> float:
    """The height of the foot that the longest of the keys needs."""
    longest = max(len(_rows(key, frame, measure, lists=lists)) + bool(key.caution) for key in keys)
    return (longest * LEADING + PADDING) * SIZE * frame.em


def foot(key: Key, frame: Frame, measure: Measure, top: float, *, lists: bool) -> Iterator[Mark]:
    """The marks of the key from `top` on."""
    size = SIZE * frame.em
    rows = _rows(key, frame, measure, lists=lists)
    for number, (line, stretch) in enumerate(rows):
        x, baseline = frame.left, top + (PADDING + 0.75 + number * LEADING) * size
        for entry in line:
            yield from _entry(entry, x, baseline, size, stretch, measure)
            x += entry.width(measure) * size * stretch
    if key.caution:
        baseline = top + (PADDING + 0.75 + len(rows) * LEADING) * size
        stretch = min(1.0, (frame.right - frame.left) / (measure(key.caution, Face.CONDENSED_BOLD) * size))
        yield Text(frame.left, baseline, key.caution, Face.CONDENSED_BOLD, size, stretch)


def _entry(entry: Entry, x: float, baseline: float, size: float, stretch: float, measure: Measure) -> Iterator[Mark]:
    if entry.draw:
        yield entry.draw(Lane(x, entry.wide * size * stretch), baseline - 0.85 * size, size)
    if entry.lead:
        yield Text(x, baseline, entry.lead, Face.CONDENSED_BOLD, size, stretch)
    if entry.text:
        left = x + entry.before(measure) * size * stretch
        yield Text(left, baseline, entry.text, Face.CONDENSED, size, stretch)


def _rows(key: Key, frame: Frame, measure: Measure, *, lists: bool) -> list[tuple[list[Entry], float]]:
    """The lines of a key, MOST_LINES before those of its list, each with how far its letters are squeezed."""
    stretch = 1.0
    while len(lines := _lines(key.shown(lists=lists), frame, measure, stretch)) > MOST_LINES:
        stretch *= 0.95
    listed = _lines(key.mouths, frame, measure, LIST_STRETCH) if lists else []
    return [*((line, stretch) for line in lines), *((line, LIST_STRETCH) for line in listed)]


def _lines(key: Sequence[Entry], frame: Frame, measure: Measure, stretch: float) -> list[list[Entry]]:
    """The entries in lines, with letters squeezed so far."""
    width = (frame.right - frame.left) / (SIZE * frame.em * stretch)
    lines: list[list[Entry]] = []
    over = width
    for entry in key:
        wide = entry.width(measure)
        if over + wide > width + 0.7:
            lines.append([])
            over = 0.0
        lines[-1].append(entry)
        over += wide
    return lines


def key_of(draft: Draft, plan: Plan, first: int, stop: int, *, em: float) -> Key:
    """The key of the page with the frames from `first` to `stop`, in type of `em` points."""
    sheet = draft.sheet
    number = sheet.first_number
    end = ", the end." if stop == sheet.length else "."
    place = Entry(f"Frames {number + first}–{number + stop - 1} of {number + sheet.length - 1}{end}")
    changed = any(start < stop and first < end for start, end in sheet.changed)
    entries = (
        place,
        *_beats(draft, plan, first, stop),
        *_beside(draft, plan, first, stop),
        *_mouths(draft, plan, first, stop),
        *(_pitches(draft, first, stop) if plan.pitch else ()),
        *([Entry("Bar at the edge: changed since the last issue.")] if changed else []),
    )
    return Key(entries, CAUTION if plan.positions else "", tuple(_numbered(draft, plan, range(first, stop), em)))


def _drawn(plan: Plan) -> list[int]:
    """The voices whose columns are all on the page."""
    return [lanes.number for lanes in plan.voices if lanes.stress]


def _beats(draft: Draft, plan: Plan, first: int, stop: int) -> Iterator[Entry]:
    """Degrees and main beats, phrases, and the turns of both."""
    texts = [draft.voices[number] for number in _drawn(plan)]
    here = [(touching(voice.beats, first, stop), touching(voice.phrases, first, stop)) for voice in texts]
    beats = [beat for found, _ in here for beat in found if beat.stop > first]
    if beats:
        yield Entry("Beat:")
    landing = [[beat for beat in found if lands(beat, first)] for found, _ in here]
    if any(beat.main for found in landing for beat in found):
        yield Entry("main", flag, 1.1)
    degrees = {beat.degree for beat in beats}
    for degree, (word, wide) in DEGREES.items():
        if degree in degrees:
            yield Entry(word, partial(stress, degree), wide)
    if any(phrase.stop > first for _, found in here for phrase in found):
        yield Entry("phrase", lambda lane, top, height: bracket(lane.left, lane.right, top, top + height), 0.45)
    signs = {
        sign
        for found, (_, phrases) in zip(landing, here, strict=True)
        for sign in signs_on(found, phrases, first, stop).values()
    }
    yield from (Entry(word, _turn(sign), 0.7) for sign, word in TURNS.items() if sign in signs)


def _beside(draft: Draft, plan: Plan, first: int, stop: int) -> Iterator[Entry]:
    """Pauses, events, manners, departures, and what goes on outside of the shot."""
    drawn = [(draft.voices[number], draft.sheet.voices[number]) for number in _drawn(plan)]
    here = range(first, stop)
    if any(pause.stop > first for texts, _ in drawn for pause in touching(texts.pauses, first, stop)):
        yield Entry("pause", _across(DOT_WEIGHT, DOTS), 2.2)
    if any(run.unsaid and run.stop > first for texts, _ in drawn for run in touching(texts.words, first, stop)):
        yield Entry("( ) no word", _across(HOLD_WEIGHT, UNSAID_DASH), 2.2)
    manners = {cell.text for _, voice in drawn for cell in voice.manners if cell.first < stop and first < cell.stop}
    if manners:
        yield Entry(", ".join(sorted(manners)), _across(MANNER_WEIGHT, MANNER_DASH), 2.2)
    if any(cell.first < stop and first < cell.stop for _, voice in drawn for cell in voice.departures):
        yield Entry("not as in the script", _wave_across, 1.9)
    if any(cell.first in here for _, voice in drawn for cell in voice.missing):
        yield Entry("words left out", lambda lane, top, height: caret(lane.left + 2.0, top + height / 2), 0.8)
    if any(_goes_on(run, first, stop) for texts, _ in drawn for run in (*texts.words, *texts.sounds, *texts.pauses)):
        yield Entry(f"{GOES_ON} {SOUND_GOES_ON} begins before the shot, or ends after it")


def _mouths(draft: Draft, plan: Plan, first: int, stop: int) -> Iterator[Entry]:
    """How mouths are marked."""
    here = [run for lanes in plan.voices for run in on_page(draft.voices[lanes.number].mouths, first, stop)]
    if any(run.changes and run.first >= first and not run.pinned for run in here):
        yield Entry("another mouth", lambda lane, top, height: corner(lane, top + 0.1 * height, height, height), 1.1)
    if any(run.pinned for run in here):
        yield Entry("mouth set by hand", lambda lane, top, height: clamp(lane, top, top + height, height), 1.1)


def _numbered(draft: Draft, plan: Plan, frames: range, em: float) -> Iterator[Entry]:
    """The mouths that a page calls by number, after the name of their puppet."""
    for lanes in plan.voices:
        found = {
            run.number: run.name
            for run in on_page(draft.voices[lanes.number].mouths, frames.start, frames.stop)
            if called_on(run, frames.start, frames.stop, lanes.mouth.width / em, draft.measure).by_number
        }
        if found:
            yield Entry("", lead=f"Mouths of {draft.sheet.voices[lanes.number].character}:")
        yield from (Entry(found[number], lead=str(number)) for number in sorted(found))


def _goes_on(run: Run, first: int, stop: int) -> bool:
    """Whether a run stands on a page and began before the shot, or goes on after it."""
    return (run.before or run.beyond) and run.first < stop and first < run.stop


def _pitches(draft: Draft, first: int, stop: int) -> Iterator[Entry]:
    points = slice(first * POINTS, stop * POINTS)
    heard = [
        (number, voice.character)
        for number, voice in enumerate(draft.sheet.voices)
        if any(value is not None for value in voice.pitch[points])
    ]
    for number, name in heard:
        is_first = number == heard[0][0]
        yield Entry(f"pitch, high at the right: {name}" if is_first else name, _across(*stroke_of(number)), 2.4)


def _turn(sign: Sign) -> Draw:
    return lambda lane, top, height: turn(sign, lane, top - 0.1 * height, 1.2 * height, tone=BLACK)


def _wave_across(lane: Lane, top: float, height: float) -> Mark:
    down = wave(top + 0.6 * height, lane.left, lane.right)
    return replace(down, points=tuple((y, x) for x, y in down.points))


def _across(weight: float, dash: tuple[float, ...]) -> Draw:
    def draw(lane: Lane, top: float, height: float) -> Mark:
        y = top + 0.6 * height
        return Line(lane.left, y, lane.right, y, weight, dash=dash)

    return draw
