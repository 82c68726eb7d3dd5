"""What became of the lines of a script, in words that can be read without colour.

Words that have gone stand as [-gone-], those that have come as [+come+].
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from trackread.core.script import Change, ChangeKind, ScriptLine, WordRuns

if TYPE_CHECKING:
    from trackread.workflow.hanging import Hanging

# In the order of telling, what touches work that is done first.
HEADINGS = {
    ChangeKind.CHANGED: "changed",
    ChangeKind.GONE: "gone",
    ChangeKind.MOVED: "moved",
    ChangeKind.NEW: "new",
}
SIGNS = {ChangeKind.SAME: "{}", ChangeKind.GONE: "[-{}-]", ChangeKind.NEW: "[+{}+]"}


def counts_text(changes: Sequence[Change]) -> str:
    """How many lines are of each kind: `lines: 2 changed, 1 gone, 0 moved, 3 new, 40 the same`."""
    from trackread.workflow.drafts import counts_of

    counts = counts_of(changes)
    told = [f"{counts[kind]} {words}" for kind, words in HEADINGS.items()]
    return f"lines: {', '.join([*told, f'{counts[ChangeKind.SAME]} the same'])}"


def change_texts(changes: Sequence[Change], hanging: Mapping[str, Hanging]) -> Iterator[str]:
    """The lines that are not the same, by kind, with what hangs on each."""
    for kind, heading in HEADINGS.items():
        some = [change for change in changes if change.kind is kind]
        if some:
            yield f"\n{heading}"
        for change in some:
            yield f"  {change_text(change)}"
            if change.before and (its := hanging.get(change.before.id)):
                yield f"      {hanging_text(its)}"


def change_text(change: Change) -> str:
    """One line: its name, scene and speaker, and its words with what went and came."""
    from trackread.cli.columns import printable

    now = change.after or change.before
    if now is None:
        raise ValueError("a change is of a line")
    before = change.before or now
    words = marked(change.words) if change.words else now.text
    was = [f"was {before.id}"] * (before.id != now.id)
    was += [f"was in {scene_text(before) or 'no scene'}"] * (before.scene != now.scene)
    if change.kind is ChangeKind.CHANGED and speaker_text(before) != speaker_text(now):
        was.append(f"was {speaker_text(before)}")
    remark = f" ({'; '.join(was)})" if was else ""
    told = (now.id, scene_text(now), f"{speaker_text(now)}: {words}{remark}")
    return printable("  ".join(filter(None, told)))


def scene_text(line: ScriptLine) -> str:
    """A line's scene by its number, or its heading where it has none; "" if the script has no scenes."""
    return f"scene {line.scene}" if line.scene[:1].isdigit() else line.scene


def marked(runs: WordRuns) -> str:
    """The words of a changed line, those that went and came between signs."""
    return " ".join(SIGNS[kind].format(words) for kind, words in runs)


def speaker_text(line: ScriptLine) -> str:
    """Who says a line and where from: `TUM (O.S.), at once with the line before`."""
    extension = f" ({line.extension})" if line.extension else ""
    return f"{line.character}{extension}{', at once with the line before' * line.dual}"


def hanging_text(its: Hanging) -> str:
    """What hangs on a line: its takes, how many readings and corrections, its shots, and sheets that are out."""
    from trackread.workflow.counted import counted

    takes = ", ".join(f"{name} (circled)" if name in its.circled else name for name in its.takes)
    told = [f"{'take' if len(its.takes) == 1 else 'takes'} {takes}"]
    told += [counted(its.readings, "reading")] * bool(its.readings)
    told += [counted(its.corrections, "correction")] * bool(its.corrections)
    told += [f"heard in {', '.join(its.shots)}"] * bool(its.shots)
    told += [f"sheets out: {', '.join(its.out)}"] * bool(its.out)
    return "; ".join(told)
