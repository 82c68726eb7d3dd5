"""What is shot of every shot of the cut, for the office."""

from trackread.workflow.kept_material import Kept
from trackread.workflow.kept_sheets import KeptSheets
from trackread.workflow.shot_told import NoteKind


def what_is_shot(sheets: KeptSheets) -> list[dict[str, object]]:
    """The shots of the current cut as plain values, in its order; `time` is when frames were last told, None if never.

    `issue` is None and `unit` "" for a shot without a sheet; `stale` says that its sheet would be another now, where
    that has been looked at. Raises CutError if there is no shot.
    """
    kept = sheets.material.now()
    return [{**told_of(kept, name), "stale": is_stale(sheets, kept, name)} for name in kept.shots]


def told_of(kept: Kept, name: str) -> dict[str, object]:
    brief, issue = kept.brief(name), kept.out.get(name)
    note = kept.material.notes.get(name, {}).get(NoteKind.DONE)
    return {
        "shot": name,
        "scene": brief.scene,
        "unit": issue.unit if issue else "",
        "issue": issue.number if issue else None,
        "done": min(max(brief.told.done or 0, 0), brief.shot.seen),
        "of": brief.shot.seen,
        "time": note.time if note else None,
        "by": note.author if note else "",
    }


def is_stale(sheets: KeptSheets, kept: Kept, name: str) -> bool:
    issue = kept.out.get(name)
    return issue is not None and sheets.known(issue) is not None
