"""A kit of mouths as a person writes it: TOML there and back, checked with all problems at once.

In messages `[[mouths]]` count from 1, and so do lines. Whatever is left out has the default of the core's values, but
a kit says whose it is and which mouth is worn at rest, and each mouth has a name; or it says that the puppet has a jaw
that only opens, and in how many steps.
"""

import json
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from trackread.core.mouth import PARTS, SYMBOLS, Face, Kit, Mouth
from trackread.core.phones import PAUSE, PHONES
from trackread.core.toml_text import quoted, syntax_problem
from trackread.errors import KitError
from trackread.mouths.ready_made import LEAST_STEPS, MOST_STEPS, jaw_kit

KIT_KEYS = ("character", "rest", "jaw", "mouths")
MOUTH_KEYS = ("name", *PARTS, "copies", "phones", "picture")
# What cannot be left out, and what would be right.
NEEDED = {
    "character": 'say whose mouths these are, as character = "BRACK"',
    "rest": 'say which mouth is worn at rest, as rest = "lips shut"',
    "mouths": "write a [[mouths]] for each mouth, or jaw = 5 for a jaw that only opens, in so many steps",
    "name": 'write what people call this mouth, as name = "lips shut"',
}

Place = tuple[int, str]  # the number of a mouth, 0 for what stands outside of all, and a key; "" where the mouth begins
Value = TypeVar("Value")
CheckPicture = Callable[[str], object]  # of the file that a mouth names; raises KitError if it is no picture

HEAD = """\
# A kit: the mouths of one puppet. Change it with any text editor.
#
"""
JAW = "# A jaw that only opens has nothing to swap: say in how many steps, from 2 for shut and open to 20.\n\n"
MOUTHS = f"""\
# Each mouth has a name that people say aloud, and what it looks like in five numbers from 0 to 1:
#   opening   how far lips and jaw are apart: 0 closed, 1 as far as they go
#   width     from corner to corner: 0 drawn together, 0.5 at rest, 1 spread
#   rounding  how far the lips are pushed forward and made round
#   bite      how far the upper teeth lie on the lower lip
#   tongue    how much of the tongue is seen between or behind the teeth
# Then how many copies of it were made, the sounds it was made for if its looks are not to tell (ARPAbet without
# stress, {PAUSE} for rest), and a picture of it: a file beside this one.

"""


@dataclass(slots=True)
class KitFile:
    """A kit in a file called `name` that is being read: its lines, its mouths' names, and what is wrong so far."""

    name: str
    lines: Mapping[Place, int]
    check_picture: CheckPicture
    names: dict[int, str] = field(default_factory=dict)
    problems: list[tuple[int, str]] = field(default_factory=list)

    def problem(self, place: Place, text: str) -> None:
        """Notes what is wrong at a place, with its line, or else that of the mouth, or else that of all mouths."""
        number, key = place
        near = [place, (number, ""), (0, "mouths")] if number else [place]
        line = next((self.lines[one] for one in near if one in self.lines), 0)
        where = f"{self.name}:{line}" if line else self.name
        self.problems.append((line, f"{where}: {f'mouths[{number}].' if number else ''}{key}: {text}"))

    def value(self, place: Place, table: Mapping[str, object], check: Callable[[object], Value], other: Value) -> Value:
        """What a key has; `other` if it is left out, and if it cannot be taken, which is a problem."""
        _, key = place
        if key not in table:
            if key in NEEDED:
                self.problem(place, f"is missing: {NEEDED[key]}")
            return other
        try:
            return check(table[key])
        except KitError as error:
            self.problem(place, str(error))
            return other

    def known(self, number: int, table: Mapping[str, object], keys: Sequence[str]) -> None:
        """Notes each key that means nothing here."""
        whose = "a mouth" if number else "a kit"
        for key in table:
            if key not in keys:
                self.problem((number, key), f"is no key of {whose}: use {', '.join(keys)}")

    def mouth(self, number: int, table: Mapping[str, object]) -> Mouth | None:
        """The mouth of a number; None if a problem was found in it."""
        before = len(self.problems)
        self.known(number, table, MOUTH_KEYS)
        name = self.value((number, "name"), table, as_words, "")
        if name:
            self.names[number] = name
        rest = Face().parts
        face = [self.value((number, part), table, as_part, rest[k]) for k, part in enumerate(PARTS)]
        copies = self.value((number, "copies"), table, as_copies, 1)
        phones: frozenset[str] = self.value((number, "phones"), table, as_phones, frozenset())
        picture = self.value((number, "picture"), table, self.as_picture, "")
        return None if len(self.problems) > before else Mouth(name, Face(*face), copies, phones, picture)

    def as_picture(self, value: object) -> str:
        """A file that is a picture; "" for none."""
        if picture := as_text(value):
            self.check_picture(picture)
        return picture

    def jaw(self, written: Mapping[str, object]) -> int:
        """In how many steps a jaw opens, for which nothing else may be written; LEAST_STEPS if that is a problem."""
        for key in ("rest", "mouths"):
            if key in written:
                self.problem((0, key), "is of no use to a jaw that only opens: leave it out, or else leave out jaw")
        return self.value((0, "jaw"), written, as_steps, LEAST_STEPS)

    def check_names(self, rest: str, count: int) -> None:
        """Notes each name that two of the `count` mouths have, and a mouth at rest that is none of them."""
        first: dict[str, str] = {}
        for number, name in self.names.items():
            said = name.casefold()
            if said in first:
                self.problem((number, "name"), f"{name!r} is {first[said]} already: say each mouth with its own name")
            first.setdefault(said, f"mouths[{number}].name")
        names = self.names.values()
        # If a name cannot be read, that may be the one meant.
        if rest and len(names) == count > 0 and rest not in names:
            self.problem((0, "rest"), f"{rest!r} is no mouth of this kit: use one of {', '.join(names)}")

    def check(self) -> None:
        """Raises KitError with every problem, in order of lines, if there is one."""
        if self.problems:
            raise KitError("\n".join(text for _, text in sorted(self.problems, key=lambda one: one[0])))


def any_picture(_picture: str) -> None:
    """Takes the name of any file for a picture's."""


def read_kit(text: str, name: str, *, file: str = "", check_picture: CheckPicture = any_picture) -> Kit:
    """The kit that a TOML text describes, called `name`; messages name its `file`, or else it.

    Raises KitError with everything that is wrong in it, and in its pictures as far as they are checked.
    """
    place = file or name
    try:
        written = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise KitError(syntax_problem(place, str(error))) from error
    kit_file = KitFile(place, lines_of(text), check_picture)
    kit_file.known(0, written, KIT_KEYS)
    character = kit_file.value((0, "character"), written, as_words, "")
    if "jaw" in written:
        steps = kit_file.jaw(written)
        kit_file.check()
        return jaw_kit(name, character, steps)
    rest = kit_file.value((0, "rest"), written, as_words, "")
    tables: list[dict[str, object]] = kit_file.value((0, "mouths"), written, as_tables, [])
    mouths = [kit_file.mouth(number, table) for number, table in enumerate(tables, 1)]
    kit_file.check_names(rest, len(tables))
    kit_file.check()
    return Kit(name, character, tuple(filter(None, mouths)), rest)


def lines_of(text: str) -> dict[Place, int]:
    """The line on which each key is written, and on which each [[mouths]] begins."""
    lines: dict[Place, int] = {}
    number = 0
    for line, written, is_head in statements(text):
        if is_head and written == {"mouths": [{}]}:
            number = 1 + sum(not key for _, key in lines)
            lines[number, ""] = line
        for key, value in written.items():
            if is_head and key == "mouths" and isinstance(value, dict):
                # A table of a mouth's own, such as [mouths.teeth].
                lines.update({(number, inner): line for inner in value})
            else:
                lines.setdefault((0 if is_head else number, key), line)
    return lines


def statements(text: str) -> Iterator[tuple[int, dict[str, object], bool]]:
    """Each statement of a TOML text: its first line, what it says, and whether it is the head of a table.

    tomllib tells no lines. But a statement ends with a line, and the fewest lines that are TOML by themselves are one.
    """
    lines = text.split("\n")
    first = 0
    for stop in range(1, len(lines) + 1):
        statement = "".join(f"{line}\n" for line in lines[first:stop])
        try:
            written = tomllib.loads(statement)
        except tomllib.TOMLDecodeError:
            continue
        yield first + 1, written, statement.lstrip().startswith("[")
        first = stop


def as_text(value: object) -> str:
    if not isinstance(value, str):
        raise KitError(f"must be text in quotes, not {shown(value)}")
    return value


def as_words(value: object) -> str:
    """One row of words."""
    words = " ".join(as_text(value).split())
    if not words:
        raise KitError("must not be empty")
    return words


def as_part(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= 1:
        raise KitError(f"must be a number from 0 to 1, not {shown(value)}")
    return float(value)


def as_copies(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise KitError(f"must be a whole number, 1 or more, not {shown(value)}")
    return value


def as_steps(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not LEAST_STEPS <= value <= MOST_STEPS:
        raise KitError(f"must be a whole number from {LEAST_STEPS} to {MOST_STEPS}, not {shown(value)}")
    return value


def as_phones(value: object) -> frozenset[str]:
    """Phones as a list or in a row; small letters will do."""
    symbols = value.split() if isinstance(value, str) else value
    if not isinstance(symbols, list) or not all(isinstance(one, str) for one in symbols):
        raise KitError(f'must be sounds as "P B M" or ["P", "B", "M"], not {shown(value)}')
    if wrong := [one for one in symbols if one.upper() not in SYMBOLS]:
        raise KitError(f"no sounds are {', '.join(map(repr, wrong))}: use {' '.join(PHONES)}, {PAUSE} for rest")
    return frozenset(one.upper() for one in symbols)


def as_tables(value: object) -> list[dict[str, object]]:
    if not isinstance(value, list) or not value or not all(isinstance(one, dict) for one in value):
        raise KitError(f"must be written as [[mouths]], once for each mouth, not {shown(value)}")
    return value


def shown(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, default=str)


def kit_text(kit: Kit) -> str:
    """The kit as TOML, with remarks that say what each key means; `read_kit` reads it back."""
    return HEAD + (JAW if kit.jaw else MOUTHS) + bare_text(kit)


def bare_text(kit: Kit) -> str:
    """The kit as TOML without remarks: two kits that say the same have one bare text."""
    own = f"character = {quoted(kit.character)}\n"
    if kit.jaw:
        return f"{own}jaw = {kit.jaw}\n"
    return f"{own}rest = {quoted(kit.rest)}\n" + "".join(map(mouth_text, kit.mouths))


def mouth_text(mouth: Mouth) -> str:
    """One mouth; what it has none of is left out."""
    parts = zip(PARTS, mouth.face.parts, strict=True)
    rows = [f"name = {quoted(mouth.name)}", *(f"{part} = {number}" for part, number in parts)]
    rows.append(f"copies = {mouth.copies}")
    if mouth.phones:
        rows.append(f"phones = {quoted(' '.join(sorted(mouth.phones)))}")
    if mouth.picture:
        rows.append(f"picture = {quoted(mouth.picture)}")
    return "\n[[mouths]]\n" + "".join(f"{row}\n" for row in rows)
