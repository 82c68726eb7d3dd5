"""The pull: which mouths are brought to shots, and of which there are too few while several units shoot at once.

Each puppet in a shot needs one of every mouth that it wears there. A jaw that only opens is a part of its puppet, so
there is nothing of it to bring. Shots take their units as `trackread.core.work.schedule` has them.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from trackread.core.mouth import Kit
from trackread.core.work import Booked, ShotWork, schedule


@dataclass(frozen=True, slots=True)
class Use:
    """A mouth of a kit in a shot: the number of the `first` frame on which it is worn, on how many `frames`, and how
    often it is put on, in `changes`.
    """

    kit: str
    mouth: str
    shot: str
    first: int
    frames: int
    changes: int

    def __post_init__(self) -> None:
        if self.frames < 1 or not 0 <= self.changes <= self.frames:
            raise ValueError(f"{self.mouth} is worn in {self.shot}, not on {self.frames} frames after {self.changes}")


@dataclass(frozen=True, slots=True)
class Pulled:
    """A mouth that is brought: all that is done with it, and the shot and the frame on which it is first wanted."""

    mouth: str
    frames: int
    changes: int
    shot: str
    first: int


@dataclass(frozen=True, slots=True)
class KitPull:
    """The mouths of a kit that are brought, in the order of the kit."""

    kit: str
    character: str
    mouths: tuple[Pulled, ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """How many of a mouth there are, and how many are worn at one time at most: one in each of these `shots`."""

    kit: str
    mouth: str
    copies: int
    shots: tuple[str, ...]

    @property
    def short(self) -> int:
        """How many more are needed."""
        return max(0, len(self.shots) - self.copies)


def pull_of(uses: Sequence[Use], kits: Sequence[Kit]) -> tuple[KitPull, ...]:
    """What is brought of each kit to shots that are shot one after another, in the order of `uses`.

    Kits of which nothing is worn are left out. Raises ValueError for a use of what no kit has.
    """
    worn = _worn(uses, kits)
    found = (KitPull(kit.name, kit.character, tuple(_pulled(kit, worn))) for kit in kits if not kit.jaw)
    return tuple(one for one in found if one.mouths)


def _pulled(kit: Kit, worn: dict[tuple[str, str], list[Use]]) -> Iterator[Pulled]:
    for mouth in kit.mouths:
        if uses := worn.get((kit.name, mouth.name)):
            first = min((use for use in uses if use.shot == uses[0].shot), key=lambda use: use.first)
            frames, changes = sum(use.frames for use in uses), sum(use.changes for use in uses)
            yield Pulled(mouth.name, frames, changes, first.shot, first.first)


def wanted_at_once(
    shots: Sequence[ShotWork], units: int, *, uses: Sequence[Use], kits: Sequence[Kit]
) -> tuple[Wanted, ...]:
    """How many of each mouth are worn at one time on so many units, in the order of the kits.

    Of several times at which as many are worn, the first is told. A mouth that is not worn in these shots is left out.
    Raises ValueError without a unit, and for a use of what no kit has.
    """
    worn = {key: {use.shot for use in some} for key, some in _worn(uses, kits).items()}
    by_shot: dict[str, list[tuple[str, str]]] = {}
    for key, names in worn.items():
        for name in names:
            by_shot.setdefault(name, []).append(key)
    most: dict[tuple[str, str], tuple[str, ...]] = {}
    for together in _at_once(schedule(shots, units).booked):
        # Only what the shot that starts wears can be worn more than before.
        for key in by_shot.get(together[-1], ()):
            having = tuple(name for name in together if name in worn[key])
            most[key] = max(most.get(key, ()), having, key=len)
    return tuple(
        Wanted(kit.name, mouth.name, mouth.copies, most[kit.name, mouth.name])
        for kit in kits
        if not kit.jaw
        for mouth in kit.mouths
        if (kit.name, mouth.name) in most
    )


def short_of(shots: Sequence[ShotWork], units: int, *, uses: Sequence[Use], kits: Sequence[Kit]) -> tuple[Wanted, ...]:
    """The mouths of which there are too few while so many units shoot at once. Raises as `wanted_at_once`."""
    return tuple(one for one in wanted_at_once(shots, units, uses=uses, kits=kits) if one.short)


def _worn(uses: Iterable[Use], kits: Iterable[Kit]) -> dict[tuple[str, str], list[Use]]:
    """The uses of each mouth, in the order given."""
    known = {(kit.name, mouth.name) for kit in kits for mouth in kit.mouths}
    worn: dict[tuple[str, str], list[Use]] = {}
    for use in uses:
        if (use.kit, use.mouth) not in known:
            raise ValueError(f"{use.shot} wears {use.mouth!r}, which the kit {use.kit!r} does not have")
        worn.setdefault((use.kit, use.mouth), []).append(use)
    return worn


def _at_once(booked: Iterable[Booked]) -> Iterator[tuple[str, ...]]:
    """The shots that are shot as each of them starts, that one last; at no other time are there others."""
    busy: list[Booked] = []
    for now in booked:
        # What stops goes before what starts at the same time.
        busy = [*(one for one in busy if one.stop > now.start), now]
        yield tuple(one.shot.name for one in busy)
