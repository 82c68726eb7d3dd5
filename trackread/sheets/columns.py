"""Which columns a page has and how wide each is, worked out from what the page must carry.

Widths are multiples of the type size (ems), so that one plan serves every paper. Of the forms a voice can
take, all speaking voices of a page share the roomiest for which there is width.
"""

from dataclasses import dataclass, replace
from itertools import compress


@dataclass(frozen=True, slots=True)
class Lane:
    """A column's left edge and width, in points."""

    left: float
    width: float

    @property
    def right(self) -> float:
        return self.left + self.width


@dataclass(frozen=True, slots=True)
class VoiceLanes:
    """The columns of the sheet's voice of that number; one that is silent on the page keeps its mouth column alone."""

    number: int
    whole: Lane
    mouth: Lane
    stress: Lane | None = None
    word: Lane | None = None
    sound: Lane | None = None
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """The columns of a page from left to right."""

    number: Lane
    count: Lane | None
    level: Lane | None
    pitch: Lane | None
    voices: tuple[VoiceLanes, ...]
    action: Lane
    camera: Lane | None
    positions: Lane | None
    notes: Lane | None

    @property
    def right(self) -> float:
        return (self.notes or self.positions or self.camera or self.action).right


@dataclass(frozen=True, slots=True)
class Form:
    """Ems that the parts of a speaking voice take at least, and what stands beside the voices with them."""

    stress: float
    word: float
    sound: float
    mouth: float
    level: float
    pitch: float
    aside: float
    turned: bool = False

    @property
    def voice(self) -> float:
        return self.stress + self.word + self.sound + self.mouth


ROOMY = Form(stress=1.4, word=4.8, sound=2.5, mouth=3.0, level=2.6, pitch=2.0, aside=8.2)
CLOSE = Form(stress=1.25, word=3.8, sound=2.0, mouth=2.2, level=2.2, pitch=1.6, aside=5.6)
TIGHT = Form(stress=1.0, word=3.1, sound=1.75, mouth=1.85, level=1.7, pitch=1.3, aside=4.2)
# Words run down their frames, so that sounds and mouths stay upright for six at once. Their six lines of pitch would
# be a black smear, and the turns that count stand on the beats.
TURNED = Form(stress=0.85, word=1.15, sound=1.65, mouth=1.5, level=1.7, pitch=0.0, aside=4.6, turned=True)
# Beside positions of the camera they go without their level too, which hardly changes while all talk.
BARE = Form(stress=0.85, word=1.15, sound=1.6, mouth=1.5, level=0.0, pitch=0.0, aside=3.5, turned=True)
FORMS = (ROOMY, CLOSE, TIGHT, TURNED, BARE)

FOLDED = 2.5
# Longer words are set narrower or broken, rather than that all others pay for them.
WORD_MOST = 6.2
# Where mouths are to be written in by hand, and where they are printed.
MOUTH_MOST, MOUTH_MOST_PRINTED = 4.6, 6.4
# Below this, action and camera share a column; above the other, notes have one of their own.
CAMERA_LEAST, NOTES_LEAST = 7.0, 16.0
CAMERA_SHARE, CAMERA_MOST = 0.4, 4.6
# What action has before positions are set any wider than they must be.
ACTION_FIRST = 6.0
ACTION_MOST = 11.0


@dataclass(frozen=True, slots=True)
class Need:
    """What a page must find width for: ems of some columns and of the sheet's longest word, and voices by number.

    Of `positions` these are what they take at the least and at the most; `mouth_most` is what mouths take of width
    to spare.
    """

    number: float
    count: float
    longest_word: float
    voices: tuple[int, ...]
    speaking: tuple[bool, ...]
    positions: tuple[float, float] = (0.0, 0.0)
    mouth_most: float = MOUTH_MOST


def groups(need: Need, ems: float) -> tuple[tuple[int, ...], ...]:
    """The voices shared out over as many sides of paper as they need, nearly always one."""
    if _form_for(need, ems) is not None:
        return (need.voices,)
    talking = tuple(compress(need.voices, need.speaking)) or need.voices
    most = max(1, int((ems - _beside(need, BARE)) / BARE.voice))
    return tuple(talking[start : start + most] for start in range(0, len(talking), most))


def plan_for(need: Need, left: float, width: float, em: float) -> Plan:
    """The columns for `need` from `left` on, filling `width` points in type of `em` points."""
    form, folds = _form_for(need, width / em) or (BARE, True)
    opened = tuple(speaks or not folds for speaks in need.speaking)
    spare = width / em - _beside(need, form) - _ems_of(form, opened)
    form = _grown(form, need, max(spare, 0.0) / max(sum(opened), 1))
    cutter = _Cutter(left, em)
    frames, count = cutter.take(need.number), cutter.take(need.count) if need.count else None
    level, pitch = (cutter.take(ems) if ems else None for ems in (form.level, form.pitch))
    voices = tuple(
        _voice_lanes(number, form, cutter) if is_open else _folded_lanes(number, cutter)
        for number, is_open in zip(need.voices, opened, strict=True)
    )
    return Plan(frames, count, level, pitch, voices, *_aside(cutter, (left + width - cutter.left) / em, need.positions))


class _Cutter:
    """Takes lanes one after another from the left."""

    def __init__(self, left: float, em: float) -> None:
        self.left = left
        self.em = em

    def take(self, ems: float) -> Lane:
        lane = Lane(self.left, ems * self.em)
        self.left = lane.right
        return lane


def _form_for(need: Need, ems: float) -> tuple[Form, bool] | None:
    """The roomiest form that fits, and whether silent voices must fold for it."""
    for form in FORMS:
        for folds in (False, True):
            opened = tuple(speaks or not folds for speaks in need.speaking)
            if _beside(need, form) + _ems_of(form, opened) <= ems:
                return form, folds
    return None


def _ems_of(form: Form, opened: tuple[bool, ...]) -> float:
    return sum(form.voice if is_open else FOLDED for is_open in opened)


def _grown(form: Form, need: Need, spare: float) -> Form:
    """The form with half of a voice's spare ems for its words where they need it, and a quarter for its mouths."""
    wanted = form.word if form.turned else min(max(need.longest_word, form.word), WORD_MOST)
    word = min(wanted, form.word + spare / 2)
    return replace(form, word=word, mouth=max(form.mouth, min(need.mouth_most, form.mouth + spare / 4)))


def _beside(need: Need, form: Form) -> float:
    return need.number + need.count + form.level + form.pitch + form.aside + need.positions[0]


def _voice_lanes(number: int, form: Form, cutter: _Cutter) -> VoiceLanes:
    left = cutter.left
    stress, word = cutter.take(form.stress), cutter.take(form.word)
    sound, mouth = cutter.take(form.sound), cutter.take(form.mouth)
    whole = Lane(left, cutter.left - left)
    return VoiceLanes(number, whole, mouth, stress=stress, word=word, sound=sound, turned=form.turned)


def _folded_lanes(number: int, cutter: _Cutter) -> VoiceLanes:
    mouth = cutter.take(FOLDED)
    return VoiceLanes(number, mouth, mouth)


def _aside(
    cutter: _Cutter, ems: float, wanted: tuple[float, float]
) -> tuple[Lane, Lane | None, Lane | None, Lane | None]:
    """Action, camera as far as there is width for it, positions if wanted, and notes if there is still width."""
    least, most = wanted
    positions = min(most, max(least, ems - ACTION_FIRST))
    rest = ems - positions
    camera = min(rest * CAMERA_SHARE, CAMERA_MOST) if rest >= CAMERA_LEAST else 0.0
    action = rest - camera if rest < NOTES_LEAST else min((rest - camera) * 0.6, ACTION_MOST)
    return (
        cutter.take(action),
        cutter.take(camera) if camera else None,
        cutter.take(positions) if positions else None,
        cutter.take(rest - camera - action) if rest >= NOTES_LEAST else None,
    )
