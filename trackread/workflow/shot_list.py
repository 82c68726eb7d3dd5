"""The shots of the current cut as a list: what is said in each, what is out of it, and what wants looking at."""

from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.issues import issues
from trackread.core.timebase import Frame
from trackread.workflow.material import gather
from trackread.workflow.shots import Choice, chosen_briefs


@dataclass(frozen=True, slots=True)
class ListedShot:
    """A shot. `first` is its first frame in the cut, `done` counts the frames that are shot, None where nobody said.

    `issue` is the number of the sheet that is out, None if there is none.
    """

    name: str
    scene: str
    first: Frame
    frames: Frame
    lines: tuple[str, ...]
    takes: tuple[str, ...]
    issue: int | None
    unit: str
    done: int | None
    warnings: tuple[str, ...]
    remarks: tuple[str, ...]


def shot_list(book: Book, scene: str | None) -> tuple[ListedShot, ...]:
    """The shots of the current cut, or of a scene. Raises CutError if there is none."""
    briefs = chosen_briefs(gather(book), Choice(scene=scene, every=scene is None))
    out = {issue.shot: issue for issue in issues(book, current=True)}
    return tuple(
        ListedShot(
            name=brief.shot.name,
            scene=brief.scene,
            first=brief.shot.first,
            frames=brief.shot.seen,
            lines=tuple(dict.fromkeys(one.line for one in brief.heard)),
            takes=tuple(dict.fromkeys(one.take.name for one in brief.heard)),
            issue=out[brief.shot.name].number if brief.shot.name in out else None,
            unit=out[brief.shot.name].unit if brief.shot.name in out else "",
            done=None if brief.told.done is None else min(max(brief.told.done, 0), brief.shot.seen),
            warnings=brief.warnings,
            remarks=(*brief.remarks, *(f"{sound} is of no known recording" for sound in brief.unknown)),
        )
        for brief in briefs
    )
