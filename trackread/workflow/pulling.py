"""The pull: which mouths are brought to some shots, and whether as many as are worn at once have been made."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass

from trackread.book.book import Book
from trackread.book.issues import issues
from trackread.core.mouth import Kit, Worn
from trackread.core.pull import KitPull, Use, Wanted, pull_of, wanted_at_once
from trackread.core.sheet import Sheet
from trackread.core.timebase import Frame
from trackread.core.work import ShotWork, schedule
from trackread.errors import CutError, KitError
from trackread.workflow.made_sheets import made_sheets
from trackread.workflow.material import gather
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_work import shot_work
from trackread.workflow.shots import Choice, chosen_briefs, sheet_wish


@dataclass(frozen=True, slots=True)
class PullWish:
    """For which shots mouths are wanted: those of a `unit`, or those shot on a `day` of the work that is left, from 1,
    if one is named, else all that are chosen. So many `units` shoot at once.
    """

    choice: Choice
    units: int
    unit: str | None = None
    day: int | None = None


@dataclass(frozen=True, slots=True)
class Pull:
    """What is brought to `shots`, kit by kit; `wanted` says how many of each mouth `units` units wear at once."""

    shots: tuple[str, ...]
    kits: tuple[KitPull, ...]
    wanted: tuple[Wanted, ...]
    units: int

    @property
    def short(self) -> tuple[Wanted, ...]:
        """Those mouths of which there are too few."""
        return tuple(one for one in self.wanted if one.short)


def pull(book: Book, wish: PullWish) -> Pull:
    """The pull for some shots. Raises CutError for shots that there are none of, KitError where no puppet has a kit."""
    material = gather(book)
    if not material.kits:
        raise KitError("this production has no kits of mouths: `trackread kit new` makes one for a character")
    kits = [one.kit for one in material.kits]
    units = {issue.shot: issue.unit for issue in issues(book, current=True)}
    briefs = [
        brief for brief in chosen_briefs(material, wish.choice) if wish.unit in (None, units.get(brief.shot.name))
    ]
    if not briefs:
        raise CutError(
            f"no shot is out for {wish.unit}: there are {', '.join(sorted({*units.values()})) or 'no units'}"
        )
    found = {brief.shot.name: (brief, sheet) for brief, sheet in made_sheets(book, briefs, sheet_wish(book.production))}
    work = [
        one
        for name, (brief, sheet) in found.items()
        for one in shot_work(book, brief, sheet, units.get(name, ""), left=True)
    ]
    chosen = [one.name for one in (work if wish.day is None else on_day(work, wish))]
    uses = {name: list(uses_in(*found[name])) for name in found}
    return Pull(
        shots=tuple(chosen),
        kits=pull_of([use for name in chosen for use in uses[name]], kits),
        wanted=wanted_at_once(
            [one for one in work if one.name in chosen],
            wish.units,
            uses=[use for name in chosen for use in uses[name]],
            kits=kits,
        ),
        units=wish.units,
    )


def on_day(work: Sequence[ShotWork], wish: PullWish) -> list[ShotWork]:
    """The shots that are worked on during a day, if each unit takes the next as soon as it is free. Raises CutError."""
    day = wish.day or 1
    booked = schedule(work, wish.units)
    found = [one.shot for one in booked.booked if one.start < day and one.stop > day - 1]
    if not found:
        last = -(-booked.days.numerator // booked.days.denominator)
        raise CutError(f"on day {day} nothing is left to shoot: the last is day {last}")
    return found


def uses_in(brief: ShotBrief, sheet: Sheet) -> Iterator[Use]:
    """What is worn in a shot of each kit, from the first frame that is not shot yet on."""
    first = max(brief.told.done or 0, 0)
    speaking = {voice.character: voice.mouths for voice in sheet.voices}
    for puppet in brief.mouthed:
        at_rest = (Worn(puppet.kit.rest, Frame(0), sheet.length),)
        worn = [one for one in speaking.get(puppet.character) or at_rest if one.stop > first]
        yield from uses_of(puppet.kit, worn, brief.shot.name, (first, sheet.first_number))


def uses_of(kit: Kit, worn: Sequence[Worn], shot: str, counted_from: tuple[int, int]) -> Iterator[Use]:
    """The use of each mouth among those worn, in the kit's order."""
    first, number = counted_from
    for mouth in kit.mouths:
        own = [one for one in worn if one.mouth == mouth.name]
        if own:
            frames = sum(one.stop - max(one.first, first) for one in own)
            yield Use(kit.name, mouth.name, shot, number + max(own[0].first, first), frames, len(own))


def plain_pull(found: Pull) -> dict[str, object]:
    """A pull as plain values, for JSON."""
    return {
        "shots": list(found.shots),
        "kits": [asdict(one) for one in found.kits],
        "units": found.units,
        "worn_at_once": [
            {**asdict(one), "shots": list(one.shots), "at_once": len(one.shots), "short": one.short}
            for one in found.wanted
        ],
    }
