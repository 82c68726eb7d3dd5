"""production.toml: what a person writes of a production, checked with all problems at once.

In messages `[[characters]]` count from 1. A character's names are compared as the script's cues are.
"""

import json
import re
import tomllib
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Annotated

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, ValidationError
from pydantic_core import ErrorDetails

from trackread.book.addresses import parse_address
from trackread.book.files import beside
from trackread.book.mouth_settings import MouthSettings, mouths_text, wrong
from trackread.core.production import Character, Production
from trackread.core.script import speaker_of
from trackread.core.timebase import FrameRate, parse_rate
from trackread.core.toml_text import quoted, syntax_problem
from trackread.core.work import STANDARD, WorkRule
from trackread.errors import BookError, ProductionError, RateError

SETTINGS = "production.toml"

PAPERS = ("a4", "letter", "a3", "tabloid")
ROWS = (48, 24)
COUNTS = ("none", "footage35", "footage16", "timecode")

WORK = ("seconds_a_day", "each_further_character")

# What pydantic calls a problem, in plain words.
WORDS = {
    "missing": "is missing",
    "string_type": "must be text in quotes, not {value}",
    "int_type": "must be a whole number, not {value}",
    "greater_than_equal": "must be {least} or more, not {value}",
    "bool_type": "must be true or false, not {value}",
    "tuple_type": "must be a list, not {value}",
    "model_type": "must be written as {table}, not {value}",
}


def as_rate(value: object) -> FrameRate:
    """The rate, written as text or as a number."""
    if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
        raise wrong(f'must be a frame rate such as "24", not {shown(value)}')
    try:
        return parse_rate(str(value))
    except RateError as error:
        raise wrong(str(error)) from error


def as_paper(name: str) -> str:
    if name.strip().lower() not in PAPERS:
        raise wrong(f"must be one of {', '.join(PAPERS)}, not {name!r}")
    return name.strip().lower()


def as_rows(count: int) -> int:
    if count not in ROWS:
        raise wrong(f"must be {' or '.join(map(str, ROWS))}, not {count}")
    return count


def as_code_rule(text: str) -> str:
    """A regular expression with one group, around what is the code; "" for none."""
    try:
        groups = re.compile(text).groups
    except re.error as error:
        raise wrong(f"is no regular expression: {error}, in {text!r}") from error
    if text and groups != 1:
        raise wrong(f"must have ( ) around what is the code, and around nothing else, not {text!r}")
    return text


def as_number(value: object) -> Fraction:
    """A decimal number above zero or zero, exactly as it is written."""
    if isinstance(value, bool) or not isinstance(value, Decimal | int) or not Decimal(value).is_finite() or value < 0:
        raise wrong(f"must be a number, 0 or more, not {shown(value)}")
    return Fraction(value)


def as_speed(value: object) -> Fraction:
    number = as_number(value)
    if not number:
        raise wrong("must be above 0: at 0 seconds a day no shot is ever done")
    return number


def as_count(name: str) -> str:
    if name not in COUNTS:
        raise wrong(f"must be one of {', '.join(COUNTS)}, not {name!r}")
    return name


def as_words(text: str) -> str:
    """One row of words."""
    if not text.strip():
        raise wrong("must not be empty")
    return " ".join(text.split())


def as_address(text: str) -> str:
    try:
        return text and parse_address(text) and text
    except BookError as error:
        raise wrong(str(error)) from error


Words = Annotated[str, AfterValidator(as_words)]


class CharacterSettings(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)

    name: Words
    also: tuple[Words, ...] = Field(default=(), strict=False)
    voice: str = ""


class Settings(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, arbitrary_types_allowed=True)

    title: Words
    rate: Annotated[FrameRate, BeforeValidator(as_rate)]
    first_frame: int = Field(default=1, ge=0)
    paper: Annotated[str, AfterValidator(as_paper)] = "a4"
    rows: Annotated[int, AfterValidator(as_rows)] = 48
    count: Annotated[str, AfterValidator(as_count)] = "none"
    ipa: bool = False
    database: Annotated[str, AfterValidator(as_address)] = ""
    shot_code: Annotated[str, AfterValidator(as_code_rule)] = ""
    scene_code: Annotated[str, AfterValidator(as_code_rule)] = ""
    units: int = Field(default=1, ge=1)
    seconds_a_day: Annotated[Fraction, BeforeValidator(as_speed)] = STANDARD.seconds_a_day
    each_further_character: Annotated[Fraction, BeforeValidator(as_number)] = STANDARD.each_further_character
    mouths: MouthSettings = MouthSettings()
    characters: tuple[CharacterSettings, ...] = Field(default=(), strict=False)


def read_settings(folder: Path) -> Production:
    """The production whose folder this is. Raises ProductionError with everything that is wrong in its settings."""
    path = folder / SETTINGS
    written = parsed(path)
    problems: list[str] = []
    try:
        settings = Settings.model_validate(written)
    except ValidationError as error:
        problems += map(told, error.errors())
    else:
        problems += doubles(settings.characters)
    if problems:
        raise ProductionError("\n".join(f"{path}: {problem}" for problem in problems))
    characters = tuple(Character(one.name, one.also, one.voice) for one in settings.characters)
    rule = WorkRule(**{key: value for key, value in settings if key in WORK})
    plain = {key: value for key, value in settings if key not in ("characters", "mouths", *WORK)}
    mouths = settings.mouths
    return Production(**plain, characters=characters, work=rule, mouths=mouths.rules, mouth_pictures=mouths.pictures)


def parsed(path: Path) -> dict[str, object]:
    """The file as TOML has it."""
    try:
        content = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError) as error:
        raise ProductionError(f"{path.parent} holds no production: there is no {path.name} in it") from error
    except OSError as error:
        raise ProductionError(f"{path} cannot be read: {error.strerror or error}") from error
    try:
        return tomllib.loads(content.decode("utf-8-sig"), parse_float=Decimal)
    except UnicodeDecodeError as error:
        line = 1 + content.count(b"\n", 0, error.start)
        raise ProductionError(f"{path}:{line}: is not UTF-8 text: save it as UTF-8") from error
    except tomllib.TOMLDecodeError as error:
        raise ProductionError(syntax_problem(str(path), str(error))) from error


def told(error: ErrorDetails) -> str:
    """One problem as `rows: must be 48 or 24, not 47`."""
    key = key_path(error["loc"])
    if error["type"] == "extra_forbidden":
        inner: dict[str, type[BaseModel]] = {"characters": CharacterSettings, "mouths": MouthSettings}
        model = inner.get(str(error["loc"][0]), Settings) if len(error["loc"]) > 1 else Settings
        return f"{key}: is no key of a production: use {', '.join(model.model_fields)}"
    words = WORDS.get(error["type"], error["msg"])
    least = error.get("ctx", {}).get("ge", 0)
    table = f"[{key}]" if key == "mouths" else "[[characters]]"
    value = shown(error["input"])
    return f"{key}: {words.format(value=value, least=least, table=table) if words in WORDS.values() else words}"


def key_path(place: tuple[int | str, ...]) -> str:
    path = "".join(f"[{key + 1}]" if isinstance(key, int) else f".{key}" for key in place)
    return path.removeprefix(".")


def shown(value: object) -> str:
    if isinstance(value, Decimal):
        return str(value)
    return json.dumps(value, ensure_ascii=False, default=str)


def doubles(characters: tuple[CharacterSettings, ...]) -> Iterator[str]:
    """Every name that two characters have."""
    seen: dict[str, str] = {}
    for place, character in enumerate(characters, 1):
        own = {"name": character.name, **{f"also[{k}]": name for k, name in enumerate(character.also, 1)}}
        for key, name in own.items():
            where = f"characters[{place}].{key}"
            if speaker_of(name) in seen:
                yield f"{where}: {name!r} is {seen[speaker_of(name)]} already: each name is one character's"
            seen.setdefault(speaker_of(name), where)


def write_settings(folder: Path, production: Production) -> None:
    """Writes production.toml, replacing what is there. Raises BookError, having changed nothing."""
    with beside(folder / SETTINGS) as part:
        part.write_text(settings_text(production), encoding="utf-8")


def settings_text(production: Production) -> str:
    """The settings as TOML, with remarks that say what each key means."""
    return (
        "# A production of trackread: change it with any text editor.\n\n"
        f"title = {quoted(production.title)}\n\n"
        "# Pictures a second: 24, 23.976, 25, 29.97df and so on.\n"
        f"rate = {quoted(production.rate.name)}\n\n"
        "# The number of a shot's first frame on its sheet.\n"
        f"first_frame = {production.first_frame}\n\n"
        f"# The paper of the sheets ({', '.join(PAPERS)}), and its rows: {' or '.join(map(str, ROWS))}.\n"
        f"paper = {quoted(production.paper)}\nrows = {production.rows}\n\n"
        f"# Beside the frame numbers: {', '.join(COUNTS)}. Whether sounds are in IPA instead of being respelt.\n"
        f"count = {quoted(production.count)}\nipa = {str(production.ipa).lower()}\n\n"
        '# Where the book is: "" for the file book.sqlite beside this one, or postgresql://user@server/name.\n'
        f"database = {quoted(production.database)}\n\n"
        "# How the name of a clip gives the code of its shot, and that the scene: regular expressions with ( ) around\n"
        '# what is wanted, such as "^(SH[0-9]+)". "" takes the whole name, and the scene of the lines in the shot.\n'
        f"shot_code = {quoted(production.shot_code)}\nscene_code = {quoted(production.scene_code)}\n\n"
        "# Units that shoot at once; seconds that an animator makes in a day of a shot with one character; the share\n"
        "# of that time which each further character costs more. Plans of hours defer to local rules on working time.\n"
        f"units = {production.units}\nseconds_a_day = {decimal(production.work.seconds_a_day)}\n"
        f"each_further_character = {decimal(production.work.each_further_character)}\n\n"
        + mouths_text(production.mouths, pictures=production.mouth_pictures)
        + "# Everybody who speaks: the name as the script has it, other names the script uses, who lends the voice.\n"
        + "".join(map(character_text, production.characters))
    )


def character_text(character: Character) -> str:
    also = ", ".join(map(quoted, character.also))
    return f"[[characters]]\nname = {quoted(character.name)}\nalso = [{also}]\nvoice = {quoted(character.voice)}\n\n"


def decimal(number: Fraction) -> str:
    """A number as TOML has it; what no decimal says exactly is written as near as one can."""
    return str(Decimal(number.numerator) / Decimal(number.denominator))
