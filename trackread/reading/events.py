"""What is heard in a take that is no word: laughs, breaths, sighs, gasps, coughs, hums.

A row is 10 ms. Rows near a phone of the line that the recogniser heard are spoken; what sounds elsewhere is looked
at, from the surest kind to the least sure. Rules stand on what these sounds are; the numbers were chosen on the
recordings named beside them, all of one man (`vocal`), and tried on others as DEVELOPERS.md says.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from trackread.core.performance import EventKind
from trackread.reading.listening import HOP, is_noise
from trackread.reading.pitch import runs_of
from trackread.reading.scene import ROW, Scene

# Laughter is a row of short voiced bursts, 0.2 s apart (Provine and Yong 1991: 0.21 s; Bickley and Hunnicutt 1992:
# 0.2 to 0.3 s; from memory), with breath between them, so that less than half of it is voiced.
BURST_RISE = 6.0  # dB above the dips on both sides
BURST_BELOW = 35.0  # dB below the voice at its loudest, at most
BURSTS_APART = (0.12, 0.35)
LAUGH_BRIDGE = 0.25  # a laugh may fall silent for as long, between two bursts
LAUGH_LEAST = 0.40
LAUGH_VOICED = 0.45
LAUGH_CONSONANTS = 1  # heard in it, at most, but for `h`: the tongue lies still
LAUGH_HIGH = 0.11  # share of its power above 4 kHz, at least: breath; in repeated `uh` it was 0.02

# Breath is noise of the open mouth: neither voiced nor, as `s` and `f` are, high.
BREATH_HIGH = 0.35
BREATH_BEFORE = 0.18  # seconds, of a breath drawn for the words that come
BREATH_LEAST = 0.30  # of any other
BREATH_JOINED = 0.33  # straight after a word: the breathy ends of words are shorter
SOON = 1.0  # seconds until words come
JOINED = 0.15  # seconds from the last voice or phone
BREATH_BRIDGE = 0.10
BREATH_LOUDEST = -8.0  # dB beside the voice at its loudest, straight after a word: louder is a whispered sound
OUT_PEAK = 0.30  # breath let out is loudest at its beginning, breath drawn in swells
SIGH_LEAST, SIGH_LEVEL = 0.60, -14.0  # seconds, and dB beside the voice at its loudest
GASP_MOST, GASP_LEVEL = 0.45, -12.0
GASP_RISE = 0.12  # seconds in which a gasp is at its loudest

HUM_LEAST = 0.25
HUM_LOW = 0.93  # share of its power below 1 kHz: lips closed
COUGH_LEAST, COUGH_MOST, COUGH_LEVEL = 0.08, 0.6, -12.0
COUGH_RISE = 0.03  # seconds from nothing to loud: the glottis bursts open

HINTED_LEAST = 0.12  # where the line says that something is heard, less of it will do
HINTED_CONFIDENCE, CONFIDENCE = 0.6, 0.9


@dataclass(frozen=True, slots=True)
class Found:
    """An event in seconds of the take."""

    kind: EventKind
    start: float
    stop: float
    confidence: float
    hinted: bool = False


@dataclass(frozen=True, slots=True)
class Hint:
    """Something that the line says is heard, between `after` and `before` (seconds), the words around it."""

    kind: EventKind
    after: float
    before: float


def events_in(scene: Scene, hints: Sequence[Hint] = ()) -> list[Found]:
    """The events of a take, in order, none over another."""
    found: list[Found] = []
    free = scene.view.sounds & ~scene.spoken
    for rule in (laughs, breaths, hums, coughs):
        for event in rule(scene, free):
            free[round(event.start / ROW) : round(event.stop / ROW)] = False
            found.append(event)
    for hint in hints:
        found = named(found, hint)
        for event in missing(hint, scene, free, found):
            free[round(event.start / ROW) : round(event.stop / ROW)] = False
            found.append(event)
    return sorted(found, key=lambda event: event.start)


def laughs(scene: Scene, free: np.ndarray) -> Iterator[Found]:
    """Runs of sound with a row of voiced bursts in them; the breath drawn after them is of the laugh."""
    for first, stop in runs_of(bridged(free, scene.spoken, LAUGH_BRIDGE)):
        rows = slice(first, stop)
        peaks = first + bursts(scene.view.level[rows])
        loud = [peak for peak in peaks if scene.view.level[peak] > scene.view.voice - BURST_BELOW]
        voiced = [peak for peak in loud if scene.voiced[max(0, peak - 6) : peak + 7].any()]
        apart = np.diff(loud) * ROW
        if (
            (stop - first) * ROW >= LAUGH_LEAST
            and len(voiced) >= 2
            and BURSTS_APART[0] <= np.median(apart) <= BURSTS_APART[1]
            and scene.voiced[rows].mean() <= LAUGH_VOICED
            and scene.view.high[rows][free[rows]].mean() >= LAUGH_HIGH  # the room between bursts may hiss
            and len(runs_of(scene.consonants[rows])) <= LAUGH_CONSONANTS
        ):
            yield found_at(EventKind.LAUGH, first, stop)


def breaths(scene: Scene, free: np.ndarray) -> Iterator[Found]:
    """Noise that is no consonant: a breath in or out, a gasp, a sigh."""
    noise = free & ~scene.voiced & (scene.view.high < BREATH_HIGH)
    for first, stop in runs_of(bridged(noise, scene.spoken | scene.voiced, BREATH_BRIDGE)):
        seconds, joined = (stop - first) * ROW, scene.since_word(first) < JOINED
        level = scene.level(first, stop)
        peak = int(scene.view.level[first:stop].argmax()) / (stop - first)
        # Whether what began before the take swelled is not to be heard.
        drawn = first * ROW > BREATH_BRIDGE and peak >= OUT_PEAK and scene.until_word(stop) <= SOON
        least = BREATH_JOINED if joined else BREATH_BEFORE if drawn else BREATH_LEAST
        if seconds < least or (joined and (scene.whispered or level > BREATH_LOUDEST)):
            continue
        if is_noise(scene.signal, first * ROW, stop * ROW):
            yield found_at(breath_kind(seconds, level, peak), first, stop)


def breath_kind(seconds: float, level: float, peak: float) -> EventKind:
    """Which breath it is; `peak` is the share of it that comes before its loudest row."""
    if peak < OUT_PEAK:
        return EventKind.SIGH if seconds >= SIGH_LEAST and level >= SIGH_LEVEL else EventKind.BREATH_OUT
    sudden = seconds <= GASP_MOST and level >= GASP_LEVEL and peak * seconds <= GASP_RISE
    return EventKind.GASP if sudden else EventKind.BREATH_IN


def hums(scene: Scene, free: np.ndarray) -> Iterator[Found]:
    """A voice with closed lips, away from words."""
    for first, stop in runs_of(free & scene.voiced):
        rows = slice(first, stop)
        if (
            (stop - first) * ROW >= HUM_LEAST
            and scene.since_word(first) >= JOINED
            and not scene.spoken[stop : stop + round(JOINED / ROW)].any()
            and scene.view.low[rows].mean() >= HUM_LOW
        ):
            yield found_at(EventKind.HUM, first, stop)


def coughs(scene: Scene, free: np.ndarray) -> Iterator[Found]:
    """A burst of noise as loud as the voice that comes from nothing, away from words."""
    for first, stop in runs_of(free):
        seconds = (stop - first) * ROW
        rise = int(scene.view.level[first:stop].argmax()) * ROW
        if (
            COUGH_LEAST <= seconds <= COUGH_MOST
            and scene.level(first, stop) >= COUGH_LEVEL
            and rise <= COUGH_RISE + SMOOTHED
            and scene.since_word(first) >= JOINED
            and scene.voiced[first:stop].mean() < 0.5
        ):
            yield found_at(EventKind.COUGH, first, stop)


SMOOTHED = 0.02  # the view's own smoothing of levels


def named(found: Sequence[Found], hint: Hint) -> list[Found]:
    """The events, the longest of those that a hint could mean named as the hint names it."""
    meant = [
        event
        for event in found
        if event.start < hint.before and hint.after < event.stop and kin(event.kind, hint.kind) and not event.hinted
    ]
    longest = max(meant, key=lambda event: event.stop - event.start, default=None)
    named_so = replace(longest, kind=hint.kind, confidence=1.0, hinted=True) if longest else None
    return [named_so if event is longest and named_so else event for event in found]


BREATHS = frozenset({EventKind.BREATH_IN, EventKind.BREATH_OUT, EventKind.SIGH, EventKind.GASP})


def kin(heard: EventKind, written: EventKind) -> bool:
    """Whether what was heard could be what the line names: any breath may be the sigh that is asked for."""
    return heard is written or (heard in BREATHS and written in BREATHS)


def missing(hint: Hint, scene: Scene, free: np.ndarray, found: Sequence[Found]) -> Iterator[Found]:
    """What a hint asks for and no rule found: the longest sound in its place, if there is one."""
    met = (event for event in found if event.hinted and event.kind is hint.kind)
    if any(event.start < hint.before and hint.after < event.stop for event in met):
        return
    place = np.zeros(len(free), bool)
    place[max(0, int(hint.after / ROW)) : max(0, int(hint.before / ROW))] = True
    runs = runs_of(bridged(free & place, scene.spoken | taken(found, len(free)), LAUGH_BRIDGE))
    longest = max(runs, key=lambda run: run[1] - run[0], default=(0, 0))
    if (longest[1] - longest[0]) * ROW >= HINTED_LEAST:
        yield replace(found_at(hint.kind, *longest), confidence=HINTED_CONFIDENCE, hinted=True)


def taken(found: Sequence[Found], rows: int) -> np.ndarray:
    """The rows that events lie on."""
    on = np.zeros(rows, bool)
    for event in found:
        on[round(event.start / ROW) : round(event.stop / ROW)] = True
    return on


def bridged(rows: np.ndarray, closed: np.ndarray, seconds: float) -> np.ndarray:
    """Marks in `rows` with their gaps of up to `seconds` filled, save where a row is `closed`."""
    filled = rows.copy()
    for first, stop in runs_of(~rows):
        inside = first > 0 and stop < len(rows)
        if inside and (stop - first) * ROW <= seconds and not closed[first:stop].any():
            filled[first:stop] = True
    return filled


def bursts(level: np.ndarray) -> np.ndarray:
    """The rows at which the level is highest between two dips of BURST_RISE, in order."""
    peaks: list[int] = []
    top, dip = -1, float("-inf")
    rising = True
    for row, value in enumerate([*level.tolist(), float("-inf")]):
        if rising:
            if top < 0 or value > level[top]:
                top = row
            elif value < level[top] - BURST_RISE:
                peaks.append(top)
                rising, dip = False, value
        elif value > dip + BURST_RISE:
            rising, top = True, row
        else:
            dip = min(dip, value)
    return np.array(peaks, int)


def found_at(kind: EventKind, first: int, stop: int) -> Found:
    return Found(kind, int(first) * ROW, int(stop) * ROW, CONFIDENCE)


def quietened(scene: Scene, events: Sequence[Found], first: int = 0, stop: int | None = None) -> np.ndarray:
    """The samples from `first` to `stop`, events as soft as the room, so that nothing takes them for words."""
    quiet = scene.signal[first:stop].copy()
    for event in events:
        for row in range(round(event.start / ROW), round(event.stop / ROW)):
            above = float(scene.view.level[row]) - scene.view.room
            start = row * HOP - first
            quiet[max(start, 0) : max(start + HOP, 0)] *= 10 ** (-max(above, 0.0) / 20)
    return quiet
