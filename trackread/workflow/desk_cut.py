"""The cut as the desk is told it: its shots down the page, one shot alone, its stale sheets, and what may be placed.

Frames of a shot are told as its sheet numbers them, and frames of the film likewise, from the production's first
number on. A shot's `state` is a digest of all that its sheet would be made from, and of which sheet of it is out: who
issues names the states that were seen.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from trackread.book.issues import issues
from trackread.core.cut import Piece
from trackread.core.session import StretchKind, Take
from trackread.core.timecode import label_of
from trackread.cutting.by_hand import find_shot
from trackread.cutting.fitting import is_placed_in
from trackread.cutting.words import sound_name
from trackread.workflow.issuing import plain_issue
from trackread.workflow.kept_material import Kept
from trackread.workflow.kept_stale import FoundStale, KeptStale
from trackread.workflow.material import line_placed
from trackread.workflow.shot_brief import HeardTake, ShotBrief
from trackread.workflow.stale import Stale, StaleSheet, plain_cost, plain_sheet
from trackread.workflow.stale_words import cost_text, done_text, state_text
from trackread.workflow.take_readings import digest_of

LETTERS = 16  # of a digest: as many as nobody meets twice
FEW = 40  # lines that are offered to be placed

Plain = dict[str, object]


def plain_cut(seen: Kept) -> Plain:
    """All shots, in the order of the film."""
    cut, production = seen.material.cut, seen.material.production
    return {
        "number": seen.material.number,
        "rate": cut.rate.name,
        "first_number": production.first_frame,
        "units": sorted({one.unit for one in seen.out.values()}),
        "shots": [plain_shot(seen, seen.brief(name)) for name in seen.shots],
    }


def plain_shot(seen: Kept, brief: ShotBrief) -> Plain:
    """A shot as a row of the list."""
    shot, issue = brief.shot, seen.out.get(brief.shot.name)
    number = seen.material.production.first_frame
    return {
        "shot": shot.name,
        "scene": brief.scene,
        "state": state_of(seen, shot.name),
        "time": label_of(seen.material.cut.start + shot.first, seen.material.cut.rate),
        "first": number + shot.first,
        "last": number + shot.first + shot.seen - 1,
        "frames": shot.seen,
        "under": shot.fade_out,
        "lines": [plain_line(one, number - shot.first) for one in sorted(brief.heard, key=start_of)],
        "beware": [*brief.warnings, *brief.remarks, *(f"{one} is of no known recording" for one in brief.unknown)],
        "done": min(max(brief.told.done or 0, 0), shot.seen),
        "by_hand": shot.place.by_hand,
        "unit": issue.unit if issue else "",
        "issue": issue.number if issue else None,
        "date": issue.date if issue else "",
        "code": issue.code if issue else "",
    }


def start_of(one: HeardTake) -> int:
    return one.frames.start


def plain_line(one: HeardTake, number: int) -> Plain:
    """A take as it is heard in a shot; `number` is that of the film's first frame, as the shot counts."""
    return {
        "line": one.line,
        "take": one.take.name,
        "character": one.character,
        "words": one.text,
        "first": number + one.frames.start,
        "last": number + one.frames.stop - 1,
    }


def state_of(seen: Kept, shot: str) -> str:
    """The state of a shot."""
    issue = seen.out.get(shot)
    return digest_of(repr((seen.rests(shot), issue.code if issue else "")))[:LETTERS]


def name_in(seen: Kept, asked: str) -> str:
    """The name of a shot that is asked for. Raises CutError if there is none such."""
    return find_shot(seen.material.cut, asked).name


def plain_one(stale: KeptStale, seen: Kept, name: str) -> Plain:
    """A shot alone: with all its issues, the newest first, its neighbours, and what has changed since the last."""
    brief, issue, names = seen.brief(name), seen.out.get(name), list(seen.shots)
    place = names.index(name)
    its = next(iter(stale.among(seen, [issue]).sheets), None) if issue else None
    return {
        **plain_shot(seen, brief),
        "number": seen.material.number,
        "first_number": seen.material.production.first_frame,
        "about": brief.told.about,
        "placed": [plain_piece(seen, brief, one) for one in seen.material.pieces[name]],
        "issues": [plain_issue(one) for one in reversed(issues(stale.book, shot=name))],
        "stale": its and plain_stale_sheet(its),
        "before": names[place - 1] if place else "",
        "after": names[place + 1] if place + 1 < len(names) else "",
    }


def plain_piece(seen: Kept, brief: ShotBrief, piece: Piece) -> Plain:
    """What is placed in a shot; only what is placed in it by hand can be taken away by hand."""
    number, one = seen.material.production.first_frame, piece.placement
    return {
        "what": one.source.clip if one.place.by_hand else sound_name(one),
        "first": number + piece.first,
        "last": number + piece.stop - 1,
        "by": str(one.place if one.place.by_hand else replace(one.place, file=Path(one.place.file).name)),
        "by_hand": is_placed_in(one, brief.shot),
    }


def plain_stale(found: FoundStale) -> Plain:
    """All stale sheets, what has made them so, and what that costs together."""
    cost = Stale(found.sheets, found.current).cost
    return {
        "current": found.current,
        "waiting": found.waiting,
        "sheets": [plain_stale_sheet(one) for one in found.sheets],
        "causes": list(by_cause(found)),
        "cost": plain_cost(cost),
        "cost_words": cost_text(cost),
    }


def plain_stale_sheet(one: StaleSheet) -> Plain:
    """A stale sheet, in numbers and in words."""
    words = {
        "words": state_text(one),
        "done_words": done_text(one),
        "cost_words": cost_text(one.cost),
    }
    return {**plain_sheet(one), **words}


def by_cause(found: FoundStale) -> Iterator[Plain]:
    """Everything that has made sheets stale, the newest first, with those sheets' shots and what they cost.

    A sheet that is stale for several reasons stands under each of them.
    """
    shots: dict[tuple[str, str], list[StaleSheet]] = {}
    for one in found.sheets:
        for cause in one.causes:
            shots.setdefault((cause.time, cause.told), []).append(one)
    for (time, told), some in sorted(shots.items(), reverse=True):
        again, days = sum(one.cost.again for one in some), sum((one.cost.days for one in some), Fraction(0))
        names = [one.issue.shot for one in some]
        yield {"what": told, "time": time, "shots": names, "shoot_again": again, "days": float(days)}


def may_be_placed(seen: Kept, words: str, shot: str) -> list[Plain]:
    """The lines that have all these words, with their takes; without words those of a shot's scene that play nowhere.

    A line is found by its id, who says it, its scene, and what it says.
    """
    heard = {one.line for name in seen.shots for one in seen.brief(name).heard}
    heard |= {line_placed(one) for one in seen.material.cut.placements}
    scene = seen.brief(shot).scene if shot in seen.shots else ""
    wanted = words.casefold().split()
    by_line = takes_by_line(seen)
    found: list[Plain] = []
    for line_id, known in seen.material.lines.items():
        line = known.line
        text = f"{line_id} {line.character} {line.scene} {line.text}".casefold()
        is_meant = all(word in text for word in wanted) if wanted else line_id not in heard and line.scene == scene
        if known.current and is_meant:
            character = seen.material.cast.name(line.character)
            takes = [{"name": one.name, "circled": one.circled} for one in by_line.get(line_id, ())]
            found.append({"line": line_id, "character": character, "words": line.text, "takes": takes})
    return found[:FEW]


def takes_by_line(seen: Kept) -> Mapping[str, list[Take]]:
    """All takes of each line, in the order of their numbers."""
    found: dict[str, list[Take]] = {}
    for some in seen.material.takes.values():
        for one in some:
            if one.kind is StretchKind.TAKE and one.line:
                found.setdefault(one.line, []).append(one)
    return {line: sorted(some, key=lambda one: one.number or 0) for line, some in found.items()}
