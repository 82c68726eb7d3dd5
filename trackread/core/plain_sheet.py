"""A sheet as plain lists and dicts, as JSON holds it, and back.

Frames count from 0, `stop` not included; what has its default value is left out. Level and pitch are rounded to a
thousandth of their range, which no eye can tell.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, Field, fields
from typing import Any, TypeVar, cast

from trackread.core.mouth import Worn
from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Heading, Phrase, PlacedLine, Sheet, Voice
from trackread.core.timebase import Frame, parse_rate
from trackread.errors import RateError, SheetError

PLACES = 3

Plain = dict[str, object]
Value = TypeVar("Value", Cell, Beat, Phrase, Worn, PlacedLine, Heading, Voice)


def sheet_to_plain(sheet: Sheet) -> Plain:
    """A sheet with all that is on it."""
    return {**plain_of(sheet), "rate": str(sheet.rate)}


def sheet_from_plain(plain: Mapping[str, object]) -> Sheet:
    """The sheet that `sheet_to_plain` wrote. Raises SheetError if it is none."""
    try:
        return Sheet(
            heading=made(Heading, plain["heading"], listeners=tuple),
            rate=parse_rate(str(plain["rate"])),
            length=Frame(cast(int, plain["length"])),
            first_number=cast(int, plain["first_number"]),
            voices=tuple(voice_of(voice) for voice in listed(plain, "voices")),
            action=each(Cell, plain, "action"),
            camera=each(Cell, plain, "camera"),
            changed=tuple((Frame(first), Frame(stop)) for first, stop in listed(plain, "changed")),
            lines=each(PlacedLine, plain, "lines"),
            positions=each(Cell, plain, "positions"),
        )
    except KeyError as error:
        raise SheetError(f"not a sheet: {error} is missing") from error
    except (TypeError, ValueError, RateError) as error:
        raise SheetError(f"not a sheet: {error}") from error


def voice_of(plain: Mapping[str, Any]) -> Voice:
    kinds = {"beats": Beat, "phrases": Phrase, "mouths": Worn}
    texts = ("words", "sounds", "events", "manners", "pauses", "departures", "missing")
    spans = {name: each(kinds.get(name, Cell), plain, name) for name in (*texts, *kinds)}
    return Voice(
        character=plain["character"],
        level=tuple(listed(plain, "level")),
        pitch=tuple(listed(plain, "pitch")),
        extension=plain.get("extension", ""),
        mouth_names=tuple(listed(plain, "mouth_names")),
        **cast(dict[str, Any], spans),
    )


def plain_of(value: object) -> Plain:
    """The fields of a value that are not as they are by default."""
    return {
        field.name: plain_part(part)
        for field in fields(cast(Any, value))
        if (part := getattr(value, field.name)) != default_of(field)
    }


def default_of(field: Field[Any]) -> object:
    return None if field.default is MISSING else field.default


def plain_part(part: object) -> object:
    if isinstance(part, tuple):
        return [plain_part(one) for one in part]
    if isinstance(part, float):
        return round(part, PLACES)
    return plain_of(part) if hasattr(part, "__dataclass_fields__") else part


def listed(plain: Mapping[str, object], name: str) -> Sequence[Any]:
    return cast(Sequence[Any], plain.get(name, ()))


def each(kind: type[Value], plain: Mapping[str, object], name: str) -> tuple[Value, ...]:
    turns = {"tone": Tone, "ending": Tone}
    return tuple(made(kind, one, **turns) for one in listed(plain, name))


def made(kind: type[Value], plain: object, **turned: Callable[[Any], object]) -> Value:
    """A value of its fields, some of them turned into what they are."""
    parts = cast(Mapping[str, Any], plain)
    fields_of: dict[str, Any] = {name: turned[name](part) if name in turned else part for name, part in parts.items()}
    return kind(**fields_of)
