"""A cut, and each shot and placement of one, as plain lists and dicts, as JSON holds them, and back.

A part has the name that it has in `core.cut`; one that has its default value there is left out. Fractions are texts,
"n/d", and the rate is text as `parse_rate` reads it.
"""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from fractions import Fraction
from typing import NotRequired, Required, TypedDict, TypeVar, cast

from trackread.core.cut import Cut, Handles, Place, Placement, Remark, Shot, Source
from trackread.core.sound import Sound
from trackread.core.timebase import FrameRate, parse_rate
from trackread.errors import CutError, RateError

Value = TypeVar("Value")
Reader = Callable[[object], object]


class PlainPlace(TypedDict, total=False):
    file: Required[str]
    line: int
    item: str


class PlainRemark(TypedDict):
    place: PlainPlace
    text: str


class PlainSource(TypedDict, total=False):
    start: Required[str]
    reel: str
    clip: str
    file: str
    file_start: str


class PlainSound(TypedDict):
    digest: str
    sample_rate: int
    length: int
    start: NotRequired[int]


class PlainHandles(TypedDict):
    head: int
    tail: int


class PlainShot(TypedDict, total=False):
    code: Required[str]
    first: Required[int]
    length: Required[int]
    place: Required[PlainPlace]
    part: int
    source: PlainSource
    speed: str
    fade_in: int
    fade_out: int
    handles: PlainHandles
    notes: list[str]


class PlainPlacement(TypedDict, total=False):
    source: Required[PlainSource]
    at: Required[int]
    length: Required[int]
    tracks: Required[list[str]]
    place: Required[PlainPlace]
    speed: str
    fade_in: int
    fade_out: int
    sound: PlainSound
    start: str
    notes: list[str]


class PlainCut(TypedDict, total=False):
    title: Required[str]
    rate: Required[str]
    start: Required[int]
    shots: Required[list[PlainShot]]
    placements: list[PlainPlacement]
    remarks: list[PlainRemark]


def cut_to_plain(cut: Cut) -> PlainCut:
    """A cut as plain values."""
    return cast(PlainCut, _plain(cut))


def cut_from_plain(plain: Mapping[str, object]) -> Cut:
    """The cut that `cut_to_plain` wrote. Raises CutError if it is none."""
    return _read(Cut, plain)


def shot_to_plain(shot: Shot) -> PlainShot:
    """A shot as plain values."""
    return cast(PlainShot, _plain(shot))


def shot_from_plain(plain: Mapping[str, object]) -> Shot:
    """The shot that `shot_to_plain` wrote. Raises CutError if it is none."""
    return _read(Shot, plain)


def placement_to_plain(placement: Placement) -> PlainPlacement:
    """A placement as plain values."""
    return cast(PlainPlacement, _plain(placement))


def placement_from_plain(plain: Mapping[str, object]) -> Placement:
    """The placement that `placement_to_plain` wrote. Raises CutError if it is none."""
    return _read(Placement, plain)


def _plain(value: object) -> object:
    match value:
        case Fraction():
            return f"{value.numerator}/{value.denominator}"
        case FrameRate():
            return str(value)
        case tuple():
            return [_plain(one) for one in value]
        case None | int() | str():
            return value
    if not is_dataclass(value):
        raise TypeError(f"a cut has no {value!r}")
    parts = ((part, getattr(value, part.name)) for part in fields(value))
    return {part.name: _plain(one) for part, one in parts if one != part.default}


def _read(kind: type[Value], plain: object) -> Value:
    try:
        return _built(kind, plain)
    except (TypeError, ValueError, RateError) as error:
        raise CutError(f"not a {kind.__name__.lower()}: {error}") from error


def _built(kind: type[Value], plain: object) -> Value:
    """The value of a kind, each of its parts read as READERS says."""
    if not isinstance(plain, Mapping):
        raise TypeError(f"{plain!r} is no group of values")
    readers = READERS[kind]
    values = {}
    for name, one in plain.items():
        if name not in readers:
            raise ValueError(f"{name!r} is no part of a {kind.__name__.lower()}")
        try:
            values[name] = readers[name](one)
        except (TypeError, ValueError) as error:
            raise ValueError(f"{name}: {error}") from error
    if missing := _needed(kind) - values.keys():
        raise ValueError(f"{min(missing)!r} is missing")
    return kind(**values)


def _needed(kind: type) -> set[str]:
    return {part.name for part in fields(kind) if part.default is MISSING}


def _text(plain: object) -> str:
    if not isinstance(plain, str):
        raise TypeError(f"{plain!r} is no text")
    return plain


def _whole(plain: object) -> int:
    if not isinstance(plain, int) or isinstance(plain, bool):
        raise TypeError(f"{plain!r} is no whole number")
    return plain


def _fraction(plain: object) -> Fraction:
    numerator, stroke, denominator = _text(plain).partition("/")
    if not stroke or not int(denominator):
        raise ValueError(f"{plain!r} is no fraction: write it as 1001/24000")
    return Fraction(int(numerator), int(denominator))


def _rate(plain: object) -> FrameRate:
    return parse_rate(_text(plain))


def _each(read: Reader) -> Reader:
    """What reads a list, given what reads one of it."""

    def read_all(plain: object) -> tuple[object, ...]:
        if not isinstance(plain, list):
            raise TypeError(f"{plain!r} is no list")
        return tuple(read(one) for one in plain)

    return read_all


def _one(kind: type) -> Reader:
    return lambda plain: _built(kind, plain)


# How each part of each kind is read.
READERS: Mapping[type, Mapping[str, Reader]] = {
    Place: {"file": _text, "line": _whole, "item": _text},
    Remark: {"place": _one(Place), "text": _text},
    Source: {"start": _fraction, "reel": _text, "clip": _text, "file": _text, "file_start": _fraction},
    Sound: {"digest": _text, "sample_rate": _whole, "length": _whole, "start": _whole},
    Handles: {"head": _whole, "tail": _whole},
    Shot: {
        "code": _text,
        "first": _whole,
        "length": _whole,
        "place": _one(Place),
        "part": _whole,
        "source": _one(Source),
        "speed": _fraction,
        "fade_in": _whole,
        "fade_out": _whole,
        "handles": _one(Handles),
        "notes": _each(_text),
    },
    Placement: {
        "source": _one(Source),
        "at": _whole,
        "length": _whole,
        "tracks": _each(_text),
        "place": _one(Place),
        "speed": _fraction,
        "fade_in": _whole,
        "fade_out": _whole,
        "sound": _one(Sound),
        "start": _fraction,
        "notes": _each(_text),
    },
    Cut: {
        "title": _text,
        "rate": _rate,
        "start": _whole,
        "shots": _each(_one(Shot)),
        "placements": _each(_one(Placement)),
        "remarks": _each(_one(Remark)),
    },
}
