"""How much work shots are, by scene, character and unit, and how many copies of each puppet are wanted at once."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from fractions import Fraction

from trackread.book.book import Book
from trackread.book.issues import issues
from trackread.core.sheet import Sheet
from trackread.core.work import (
    ShotWork,
    Tally,
    copies_wanted,
    days,
    schedule,
    totals_by_character,
    totals_by_scene,
    totals_by_unit,
)
from trackread.workflow.made_sheets import made_sheets
from trackread.workflow.material import gather
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shots import Choice, chosen_briefs, sheet_wish


@dataclass(frozen=True, slots=True)
class WorkWish:
    """Of which shots the work is asked, and on how many units; `left` asks for what is not shot yet."""

    choice: Choice
    units: int
    left: bool = False


@dataclass(frozen=True, slots=True)
class Work:
    """The work of shots with its sums. `copies` are wanted at once on `units` units, which take `together` days."""

    shots: tuple[ShotWork, ...]
    scenes: tuple[Tally, ...]
    characters: tuple[Tally, ...]
    by_unit: tuple[Tally, ...]
    units: int
    copies: Mapping[str, int]
    together: Fraction

    @property
    def frames(self) -> int:
        return sum(shot.frames for shot in self.shots)

    @property
    def days(self) -> Fraction:
        return sum((shot.days for shot in self.shots), Fraction(0))


def work_of(book: Book, wish: WorkWish) -> Work:
    """The work of some shots. Raises CutError for shots that there are none of."""
    material = gather(book)
    briefs = chosen_briefs(material, wish.choice)
    units = {issue.shot: issue.unit for issue in issues(book, current=True)}
    shots = [
        work
        for brief, sheet in made_sheets(book, briefs, replace(sheet_wish(book.production), mouths=None))
        for work in shot_work(book, brief, sheet, units.get(brief.shot.name, ""), left=wish.left)
    ]
    return Work(
        shots=tuple(shots),
        scenes=totals_by_scene(shots),
        characters=totals_by_character(shots),
        by_unit=totals_by_unit(shots),
        units=wish.units,
        copies=copies_wanted(shots, wish.units),
        together=schedule(shots, wish.units).days,
    )


def shot_work(book: Book, brief: ShotBrief, sheet: Sheet, unit: str, *, left: bool) -> list[ShotWork]:
    """The work of a shot, or of what is left of it; nothing if nothing is."""
    production, shot = book.production, brief.shot
    first = min(max(brief.told.done or 0, 0), shot.seen) if left else 0
    if first == shot.seen:
        return []
    return [
        ShotWork(
            name=shot.name,
            scene=brief.scene,
            unit=unit,
            frames=shot.seen - first,
            words=sum(word.first >= first and not word.before for voice in sheet.voices for word in voice.words),
            beats=sum(one.degree > 0 and one.first >= first for voice in sheet.voices for one in voice.beats),
            characters=brief.puppets,
            days=days(shot.seen - first, production.rate, len(brief.puppets), production.work),
        )
    ]


def days_told(count: Fraction) -> str:
    """Days to a tenth, half up: `12.5`."""
    tenths = (20 * count.numerator + count.denominator) // (2 * count.denominator)
    return f"{tenths // 10}.{tenths % 10}"


def plain_work(found: Work) -> dict[str, object]:
    """Work as plain values, for JSON."""
    return {
        "shots": [{**asdict(one), "days": float(one.days)} for one in found.shots],
        "scenes": [{**asdict(one), "days": float(one.days)} for one in found.scenes],
        "characters": [{**asdict(one), "days": float(one.days)} for one in found.characters],
        "by_unit": [{**asdict(one), "days": float(one.days)} for one in found.by_unit],
        "frames": found.frames,
        "days": float(found.days),
        "units": found.units,
        "days_on_units": float(found.together),
        "copies": dict(found.copies),
    }
