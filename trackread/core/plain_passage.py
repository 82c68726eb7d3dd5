"""A passage as plain lists and dicts, as JSON holds it, and back; nothing is rounded, so that nothing is lost."""

from collections.abc import Callable, Mapping
from dataclasses import asdict
from typing import TypeVar, cast

from trackread.core.passage import Passage
from trackread.core.performance import Departure, DepartureKind, Phrase, Reason, Tone
from trackread.core.plain_values import share, some, text, texts, whole
from trackread.core.reading import Phone, Source, Syllable, Word
from trackread.core.timebase import Sample

Plain = dict[str, object]
T = TypeVar("T")


def passage_to_plain(passage: Passage) -> Plain:
    """A passage as plain values."""
    return cast(Plain, listed(asdict(passage)))


def passage_from_plain(plain: Mapping[str, object]) -> Passage:
    """The passage that `passage_to_plain` wrote. Raises KeyError, TypeError or ValueError if it is none."""
    before, after = wholes(plain, "reach")
    return Passage(
        phones=parts(plain, "phones", lambda one: Phone(text(one, "symbol"), share(one, "confidence"))),
        cuts=tuple(Sample(cut) for cut in wholes(plain, "cuts")),
        words=parts(plain, "words", a_word),
        syllables=parts(plain, "syllables", a_syllable),
        phrases=parts(plain, "phrases", a_phrase),
        departures=parts(plain, "departures", a_departure),
        reach=(before, after),
    )


def a_word(plain: Mapping[str, object]) -> Word:
    reasons = tuple(map(Reason, texts(plain, "reasons")))
    source, doubt = Source(text(plain, "source")), share(plain, "doubt")
    return Word(text(plain, "text"), whole(plain, "first"), whole(plain, "stop"), source, doubt, reasons)


def a_syllable(plain: Mapping[str, object]) -> Syllable:
    names = ("first", "stop", "nucleus", "lexical", "stress")
    numbers = {name: whole(plain, name) for name in names}
    return Syllable(**numbers, strength=share(plain, "strength"), tone=a_tone(plain["tone"]))


def a_phrase(plain: Mapping[str, object]) -> Phrase:
    main = None if plain["main"] is None else whole(plain, "main")
    return Phrase(whole(plain, "first"), whole(plain, "stop"), main, a_tone(plain["ending"]), share(plain, "rate"))


def a_departure(plain: Mapping[str, object]) -> Departure:
    kind = DepartureKind(text(plain, "kind"))
    return Departure(kind, whole(plain, "first"), whole(plain, "stop"), text(plain, "written"))


def a_tone(value: object) -> Tone | None:
    return None if value is None else Tone(cast(str, value))


def listed(value: object) -> object:
    """A value whose tuples are lists, and whose names are texts."""
    if isinstance(value, dict):
        return {name: listed(one) for name, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [listed(one) for one in value]
    return str(value) if isinstance(value, str) else value


def parts(plain: Mapping[str, object], name: str, made: Callable[[Mapping[str, object]], T]) -> tuple[T, ...]:
    every = some(plain, name)
    if not all(isinstance(one, Mapping) for one in every):
        raise TypeError(f"{name} are groups of values, not {every!r:.100}")
    return tuple(made(cast(Mapping[str, object], one)) for one in every)


def wholes(plain: Mapping[str, object], name: str) -> list[int]:
    every = some(plain, name)
    if not all(isinstance(one, int) and not isinstance(one, bool) for one in every):
        raise TypeError(f"{name} are whole numbers, not {every!r:.100}")
    return cast(list[int], every)
