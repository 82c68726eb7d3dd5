"""What makes a kit unfit to speak, and what is as well to know about it, in plain words and all at once.

Faces are as far apart as the points are that their numbers give, in those parts alone in which the kit's mouths differ:
a jaw that only opens is held against how far each sound opens, and against nothing else, and whoever wrote that it only
opens need not be told. What counts as near and as alike is our own measure; no source is known for either.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, combinations
from math import dist

from trackread.core.mouth import PARTS, Face, Kit, Mouth
from trackread.core.phones import PAUSE, PHONES, respelling
from trackread.mouths.faces import FACES

FEWEST, MOST = 3, 40
NEAR = 0.5  # half of what one part of a face can do
ALIKE = 0.05  # in every part: less than that is not seen
DIFFERENT = 0.2  # in one part, between some two mouths of a kit that can do something in this part
BITING = 0.5
MANY = 8  # a kit of more mouths than this can spare one for f and v
LIPS_MEET = ("P", "B", "M")
ON_LIP = ("F", "V")

# What a kit does without if all its mouths are alike in a part.
MISSED = {
    "width": "smiles and spread sounds such as ee are told by how far it opens",
    "rounding": "round sounds such as oo and w are told by how far it opens",
    "tongue": "th and l are told without a tongue",
}


def problems_of(kit: Kit) -> tuple[str, ...]:
    """Each reason for which the kit cannot speak; none if it can."""
    found = chain(wrong_number(kit), unspoken(kit), open_lips(kit), unrested(kit), alike(kit))
    return tuple(f"{kit.name}: {problem}" for problem in found)


def remarks_on(kit: Kit) -> tuple[str, ...]:
    """What the kit does otherwise than a face would; it can speak all the same."""
    found = chain(parts_missed(kit), without_teeth(kit), open_rest(kit), unlike(kit))
    return tuple(f"{kit.name}: {remark}" for remark in found)


def spoken_with(kit: Kit, symbol: str) -> Mouth | None:
    """The mouth that a phone is spoken with when nothing is around it.

    It is the nearest of those that were made for the phone, or else of those that were made for none; None if there is
    neither.
    """
    made = [mouth for mouth in kit.mouths if symbol in mouth.phones]
    found = made or [mouth for mouth in kit.mouths if not mouth.phones]
    return min(found, key=lambda mouth: apart(kit, mouth.face, FACES[symbol]), default=None)


def apart(kit: Kit, one: Face, other: Face) -> float:
    """How far two faces are from one another, as far as this kit can tell them."""
    parts = told_parts(kit)
    return dist([part_of(one, part) for part in parts], [part_of(other, part) for part in parts])


def part_of(face: Face, part: str) -> float:
    """What a face does in one part."""
    number: float = getattr(face, part)
    return number


def told_parts(kit: Kit) -> list[str]:
    """The parts of a face in which the kit's mouths differ; how far it opens is always one."""
    return [part for part in PARTS if part == "opening" or spread(kit, part) >= DIFFERENT]


def spread(kit: Kit, part: str) -> float:
    """How far the kit's mouths differ in a part."""
    numbers = [part_of(mouth.face, part) for mouth in kit.mouths]
    return max(numbers) - min(numbers)


def wrong_number(kit: Kit) -> Iterator[str]:
    if not kit.jaw and not FEWEST <= len(kit.mouths) <= MOST:
        yield f"it has {len(kit.mouths)} mouths: a kit has from {FEWEST} to {MOST}"


def unspoken(kit: Kit) -> Iterator[str]:
    """The phones that no mouth can stand for."""
    spoken = {symbol: spoken_with(kit, symbol) for symbol in PHONES}
    if unmade := [symbol for symbol, mouth in spoken.items() if mouth is None]:
        yield f"no mouth is made for {sounds(unmade)}: name each among the phones of a mouth"
    far = [symbol for symbol, mouth in spoken.items() if mouth and not mouth.phones and is_far(kit, mouth, symbol)]
    if far:
        yield f"no mouth looks like {sounds(far)}: make one within {NEAR} of {faces(kit, far)}"


def is_far(kit: Kit, mouth: Mouth, symbol: str) -> bool:
    return apart(kit, mouth.face, FACES[symbol]) > NEAR


def open_lips(kit: Kit) -> Iterator[str]:
    """That lips cannot close, or do not in what was made for sounds that close them."""
    if not any(mouth.closes for mouth in kit.mouths):
        yield f"no mouth closes the lips for {sounds(LIPS_MEET)}: make one with opening 0 and bite 0"
        return
    for mouth in kit.mouths:
        meant = [symbol for symbol in LIPS_MEET if symbol in mouth.phones]
        if meant and not mouth.closes:
            yield f"{mouth.name!r} is made for {sounds(meant)}, which close the lips: give it opening 0 and bite 0"


def unrested(kit: Kit) -> Iterator[str]:
    if is_far(kit, kit.mouth(kit.rest), PAUSE):
        yield f"{kit.rest!r} is no mouth at rest: choose one within {NEAR} of {faces(kit, [PAUSE])}"


def alike(kit: Kit) -> Iterator[str]:
    """Mouths of which nothing tells the one to wear."""
    for one, other in combinations(kit.mouths, 2):
        same = all(abs(part_of(one.face, part) - part_of(other.face, part)) < ALIKE for part in PARTS)
        if same and one.phones == other.phones:
            yield f"{quoted([one, other])} are alike: make one of them different, or count both as copies of one mouth"


def parts_missed(kit: Kit) -> Iterator[str]:
    told = told_parts(kit)
    for part, missed in MISSED.items():
        if part not in told and not kit.jaw:
            yield f"all mouths are alike in {part}: {missed}"


def without_teeth(kit: Kit) -> Iterator[str]:
    if len(kit.mouths) > MANY and not kit.jaw and not any(mouth.face.bite >= BITING for mouth in kit.mouths):
        worn = {mouth.name: mouth for symbol in ON_LIP if (mouth := spoken_with(kit, symbol))}
        yield f"no mouth has its teeth on the lip: {sounds(ON_LIP)} are said with {quoted(worn.values())}"


def open_rest(kit: Kit) -> Iterator[str]:
    if not kit.mouth(kit.rest).closes:
        yield f"{kit.rest!r}, worn at rest, does not close the lips"


def unlike(kit: Kit) -> Iterator[str]:
    """Mouths that look otherwise than the phones they were made for."""
    for mouth in kit.mouths:
        if far := [symbol for symbol in PHONES if symbol in mouth.phones and is_far(kit, mouth, symbol)]:
            yield f"{mouth.name!r} is made for {sounds(far)}, and looks otherwise than {faces(kit, far)}"


def sounds(symbols: Sequence[str]) -> str:
    """Phones for people: `p (P), b (B) and m (M)`."""
    *some, last = (f"{respelling(symbol)} ({symbol})" for symbol in symbols)
    return f"{', '.join(some)} and {last}" if some else last


def quoted(mouths: Iterable[Mouth]) -> str:
    return " and ".join(repr(mouth.name) for mouth in mouths)


def faces(kit: Kit, symbols: Iterable[str]) -> str:
    """What phones look like, as far as the kit can tell: `UW: opening 0.2, width 0.1`."""
    parts = told_parts(kit)
    each = (", ".join(f"{part} {part_of(FACES[symbol], part):g}" for part in parts) for symbol in symbols)
    return "; ".join(f"{symbol}: {face}" for symbol, face in zip(symbols, each, strict=True))
