"""What a sheet rests on, told so briefly that thousands of sheets can be asked at once whether anything has changed.

Each part is a text that is another if, and only if, that part of what the sheet was made from is another.
"""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from typing import cast

from trackread.core.cut import Placement, Shot
from trackread.workflow.shot_brief import HeardTake, ShotBrief
from trackread.workflow.shot_sheet import SheetWish
from trackread.workflow.take_readings import digest_of


@dataclass(frozen=True, slots=True)
class Rests:
    """What a sheet rests on: the `cut` within its shot, takes with their readings and corrections, lines and speakers,
    notes by kind, how sheets are wanted, and the kits of the puppets.
    """

    cut: str
    takes: Mapping[str, tuple[int | None, int]]
    lines: Mapping[str, str]
    notes: Mapping[str, int]
    wish: str
    kits: Mapping[str, str]

    def plain(self) -> dict[str, object]:
        takes = {name: list(state) for name, state in self.takes.items()}
        return {**asdict(self), "takes": takes}


def rests_on(brief: ShotBrief, wish: SheetWish) -> Rests:
    """What the sheet of a brief rests on."""
    return Rests(
        cut=digest_of(repr((shot_of(brief.shot), brief.warnings, list(sounds_of(brief))))),
        takes={one.take.name: (one.reading, len(one.corrections)) for one in brief.heard},
        lines={one.line: digest_of(repr((one.text, one.character, one.extension))) for one in brief.heard},
        notes={kind.value: number for kind, number in brief.told.notes},
        wish=digest_of(repr((wish, brief.scene, brief.listeners))),
        kits={puppet.character: f"{puppet.kit.name} {puppet.digest}" for puppet in brief.mouthed},
    )


def rests_from_plain(plain: Mapping[str, object]) -> Rests:
    """What `plain` wrote. Raises ValueError if it is none."""
    match plain:
        case {"cut": str(cut), "takes": dict(takes), "lines": dict(lines), "notes": dict(notes), "wish": str(wish)}:
            kits = cast(Mapping[str, str], plain.get("kits", {}))  # there are none in what 0.4.0 issued
            return Rests(cut, {name: (state[0], state[1]) for name, state in takes.items()}, lines, notes, wish, kits)
        case _:
            raise ValueError(f"an issue rests on something, not on {plain!r}")


def shot_of(shot: Shot) -> tuple[object, ...]:
    """What of a shot its sheet shows; not where in the film it stands."""
    source = shot.source
    return shot.name, shot.length, shot.fade_in, shot.fade_out, shot.speed, source and (source.start, source.file_start)


def sounds_of(brief: ShotBrief) -> Iterable[tuple[object, ...]]:
    """What of the placements in a shot its sheet shows."""
    for one in brief.heard:
        yield sound_of(one, one.placement, brief.shot)


def sound_of(one: HeardTake, placement: Placement, shot: Shot) -> tuple[object, ...]:
    digest = placement.sound.digest if placement.sound else ""
    frames = (one.frames.start - shot.first, one.frames.stop - shot.first, placement.at - shot.first)
    return one.take.name, digest, placement.start, placement.speed, *frames
