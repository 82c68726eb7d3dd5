"""What the puppets of a shot wear: whose kit, what is pinned by hand, and the plan of mouths on the shot's frames.

A plan is made for the takes as they play in the cut, from a little before the shot to a little after it, and then seen
through the shot: so a trim changes no mouth of the frames that are left, and a mouth may be half open at a cut.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from trackread.core.mouth import Kit, MouthRules, Pin, Worn
from trackread.core.script import speaker_of
from trackread.core.sheet import Voice
from trackread.core.timebase import Frame, FrameRate
from trackread.mouths.planning import Plan, Scene, plan_of
from trackread.workflow.kits import KitInUse
from trackread.workflow.mouth_sounds import sounds_said
from trackread.workflow.sheet_said import Said
from trackread.workflow.shot_told import Told

# Frames that are planned on either side of a shot: no mouth is changed by what is so far from it.
AROUND = 24


@dataclass(frozen=True, slots=True)
class Puppet:
    """A character's puppet in a shot: its kit, the digest of that, and what is pinned, on frames of the shot."""

    character: str
    kit: Kit
    digest: str
    pins: tuple[Pin, ...] = ()


@dataclass(frozen=True, slots=True)
class Seen:
    """The frames of the cut on which a shot is seen, its rate, and the first of its frames on which twos change."""

    window: range
    rate: FrameRate
    beat: int = 0


def puppets_in(kits: Sequence[KitInUse], characters: Sequence[str], told: Told) -> Iterator[Puppet]:
    """The puppets of those characters that have a kit, with what is pinned on mouths that the kit has."""
    chosen = dict(told.kits)
    for character in dict.fromkeys(characters):
        own = kits_of(kits, character)
        one = next((kit for kit in own if kit.kit.name == chosen.get(character)), own[0] if own else None)
        if one:
            names = {mouth.name for mouth in one.kit.mouths}
            pins = (one.pin for one in told.pins if one.character == character)
            yield Puppet(character, one.kit, one.digest, tuple(pin for pin in pins if pin.mouth in names))


def kits_of(kits: Sequence[KitInUse], character: str) -> list[KitInUse]:
    """The kits of a character, in the order of their names."""
    return [one for one in kits if speaker_of(one.kit.character) == speaker_of(character)]


def doubts(kits: Sequence[KitInUse], characters: Sequence[str], told: Told) -> Iterator[str]:
    """What the editor should know of the mouths in a shot."""
    chosen = dict(told.kits)
    for character in dict.fromkeys(characters):
        own = {one.kit.name: one.kit for one in kits_of(kits, character)}
        if not own:
            continue
        wanted = chosen.get(character)
        if wanted and wanted not in own:
            yield f"there is no kit {wanted} of {character} any more: {next(iter(own))} is worn"
        elif not wanted and len(own) > 1:
            yield f"nobody has said which of the kits {', '.join(own)} {character} wears: it is {next(iter(own))}"
        worn = own.get(wanted or "", next(iter(own.values())))
        names = {mouth.name for mouth in worn.mouths}
        for mouth in sorted({one.pin.mouth for one in told.pins if one.character == character} - names):
            yield f"{mouth!r}, pinned on {character}, is no mouth of {worn.name}: what is pinned is not worn"


def planned(puppet: Puppet, saids: Sequence[Said], seen: Seen, rules: MouthRules) -> Plan:
    """The plan for a puppet, on frames of the cut, around the shot too."""
    first = seen.window.start
    frames = range(first - AROUND, seen.window.stop + AROUND)
    pins = [replace(pin, first=Frame(first + pin.first), stop=Frame(first + pin.stop)) for pin in puppet.pins]
    scene = Scene(sounds_said(saids, seen.window), frames, seen.rate, first + seen.beat)
    return plan_of(puppet.kit, scene, rules, pins)


def worn_through(plan: Plan, window: range) -> tuple[Worn, ...]:
    """What is worn within a window, on its own frames."""
    return tuple(
        replace(
            one,
            first=Frame(max(one.first, window.start) - window.start),
            stop=Frame(min(one.stop, window.stop) - window.start),
        )
        for one in plan.worn
        if one.first < window.stop and window.start < one.stop
    )


def with_mouths(voice: Voice, puppet: Puppet, saids: Sequence[Said], seen: Seen, *, rules: MouthRules) -> Voice:
    """A voice with what its puppet wears."""
    plan = planned(puppet, saids, seen, rules)
    names = tuple(mouth.name for mouth in puppet.kit.mouths)
    return replace(voice, mouths=worn_through(plan, seen.window), mouth_names=names)


def by_character(puppets: Sequence[Puppet]) -> Mapping[str, Puppet]:
    """Puppets by the names of their characters."""
    return {puppet.character: puppet for puppet in puppets}
