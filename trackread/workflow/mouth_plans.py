"""The plans of mouths of a shot, for people to look at: what is worn when, what is counted of it, what pins cost."""

import shlex
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, fields, replace

from trackread.book.book import Book
from trackread.book.readings import readings_with
from trackread.core.mouth import MouthRules, Pace, Worn
from trackread.core.production import Production
from trackread.core.timebase import Frame
from trackread.errors import KitError
from trackread.mouths.judging import Figures, judged
from trackread.mouths.planning import Plan, Scene
from trackread.workflow.kits import KitInUse
from trackread.workflow.material import gather
from trackread.workflow.mouth_sounds import sounds_said
from trackread.workflow.pinning import brief_named, puppet_named
from trackread.workflow.sheet_said import Said
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_mouths import Puppet, Seen, planned, worn_through
from trackread.workflow.shot_sheet import reading_ids, readings_of, saids_seen
from trackread.workflow.shots import sheet_wish

KIT = "kit"
WISHES = ("on", *(field.name for field in fields(MouthRules) if field.name != "on"), KIT)


@dataclass(frozen=True, slots=True)
class PlanWish:
    """How mouths would be worn if it were otherwise than the production says: `told` as it was typed."""

    told: str
    rules: MouthRules
    kit: str | None = None


@dataclass(frozen=True, slots=True)
class ShotPlan:
    """A puppet's mouths in a shot, on its frames. `free` is what they would cost if nothing were pinned.

    `figures` are of the shot's frames alone, `cost` of what is planned around it too, as the plan weighs it.
    """

    shot: str
    character: str
    kit: str
    worn: tuple[Worn, ...]
    figures: Figures
    cost: int
    free: int
    free_figures: Figures

    @property
    def pinned(self) -> bool:
        return any(one.pinned for one in self.worn)


@dataclass(frozen=True, slots=True)
class ShotSound:
    """A shot with the readings of what is heard in it, by the character whose mouth is seen."""

    brief: ShotBrief
    saids: Mapping[str, Sequence[Said]]
    seen: Seen


def shot_plans(book: Book, name: str, character: str | None = None) -> list[ShotPlan]:
    """The plans of all puppets with a kit in a shot, or of one.

    Raises CutError for a shot that there is none of, KitError if there is no such puppet.
    """
    brief = brief_named(gather(book), name)
    wanted = [puppet_named(brief, character)] if character or not brief.mouthed else brief.mouthed
    heard = heard_in_shot(book, brief)
    return [shot_plan(heard, puppet, book.production.mouths) for puppet in wanted]


def compared_plans(book: Book, name: str, wishes: Sequence[str], character: str | None = None) -> list[ShotPlan]:
    """One puppet's plan as the production has it, and then as each wish would: `on=ones lead=0`, `kit=brack-winter`.

    Raises KitError for a wish that means nothing, and as `shot_plans` does.
    """
    material = gather(book)
    brief = brief_named(material, name)
    puppet = puppet_named(brief, character)
    heard = heard_in_shot(book, brief)
    usual = PlanWish("", book.production.mouths)
    asked = [usual, *(plan_wish(wish, book.production) for wish in wishes)]
    return [shot_plan(heard, dressed(puppet, wish.kit, material.kits), wish.rules) for wish in asked]


def heard_in_shot(book: Book, brief: ShotBrief) -> ShotSound:
    """What is heard in a shot. Raises ReadingError where a reading is damaged."""
    terms = sheet_wish(book.production).terms
    readings = readings_of(brief, readings_with(book, reading_ids([brief])))
    return ShotSound(brief, saids_seen(brief, readings, terms), Seen(brief.window, terms.rate, brief.beat))


def shot_plan(heard: ShotSound, puppet: Puppet, rules: MouthRules) -> ShotPlan:
    """A puppet's plan, and what it would be without pins."""
    saids = heard.saids.get(puppet.character, ())
    plan = planned(puppet, saids, heard.seen, rules)
    free = planned(replace(puppet, pins=()), saids, heard.seen, rules) if puppet.pins else plan
    return ShotPlan(
        shot=heard.brief.shot.name,
        character=puppet.character,
        kit=puppet.kit.name,
        worn=worn_through(plan, heard.seen.window),
        figures=figures_of(plan, puppet, saids, heard.seen, rules=rules),
        cost=plan.cost,
        free=free.cost,
        free_figures=figures_of(free, puppet, saids, heard.seen, rules=rules),
    )


def figures_of(plan: Plan, puppet: Puppet, saids: Sequence[Said], seen: Seen, *, rules: MouthRules) -> Figures:
    """What is counted of a plan on the frames of its shot."""
    first = seen.window.start
    worn = [
        replace(one, first=Frame(first + one.first), stop=Frame(first + one.stop))  # back on the frames of the cut
        for one in worn_through(plan, seen.window)
    ]
    return judged(puppet.kit, Scene(sounds_said(saids, seen.window), seen.window, seen.rate), rules, worn)


def dressed(puppet: Puppet, kit: str | None, kits: Sequence[KitInUse]) -> Puppet:
    """A puppet in another kit, without the pins that this has no mouth for. Raises KitError if there is none."""
    if kit is None:
        return puppet
    found = next((one for one in kits if one.kit.name.casefold() == kit.casefold()), None)
    if found is None:
        raise KitError(f"there is no kit {kit!r}: there are {', '.join(one.kit.name for one in kits)}")
    names = {mouth.name for mouth in found.kit.mouths}
    return Puppet(puppet.character, found.kit, found.digest, tuple(pin for pin in puppet.pins if pin.mouth in names))


def plan_wish(text: str, production: Production) -> PlanWish:
    """What was typed as `on=ones lead=0`. Raises KitError with what is wrong in it."""
    try:
        wanted = dict(wish_parts(text))
        kit = wanted.pop(KIT, None)
        counts = {key: int(value) for key, value in wanted.items() if key != "on"}
        on = Pace(wanted.get("on", production.mouths.on).lower())
        return PlanWish(text, replace(production.mouths, on=on, **counts), kit)
    except ValueError as error:
        raise KitError(f"{text!r} is no way to wear mouths: {error}") from error


def wish_parts(text: str) -> Iterator[tuple[str, str]]:
    """The keys and values of a wish."""
    for part in shlex.split(text):  # a kit's name may have blanks
        key, equals, value = part.partition("=")
        if not equals or key not in WISHES:
            raise KitError(f"{part!r} says nothing of mouths: write on=ones or lead=0, with one of {', '.join(WISHES)}")
        yield key, value


def plain_plan(plan: ShotPlan, first_number: int) -> dict[str, object]:
    """A plan as plain values, for JSON; frames are numbered as on the sheet."""
    return {
        "shot": plan.shot,
        "character": plan.character,
        "kit": plan.kit,
        "mouths": [
            {
                "mouth": one.mouth,
                "first": first_number + one.first,
                "last": first_number + one.stop - 1,
                "pinned": one.pinned,
            }
            for one in plan.worn
        ],
        "figures": asdict(plan.figures),
        "cost": plan.cost,
        "cost_without_pins": plan.free,
    }
