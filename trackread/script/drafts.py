"""Two drafts of a script compared: which lines are the same, changed, moved, new and gone, and what ids they carry.

A line is itself as long as the same character says the same or very alike words. An id is a plain number in the order
of giving, `L0107`: short enough to be chalked on a slate and said aloud, and with nothing in it (scene, character,
place) that a later draft could make untrue. A number once given is never given again.
"""

from dataclasses import replace

from trackread.core.script import Change, ChangeKind, Script, ScriptLine, with_id
from trackread.script.alike import word_runs, words_as_set
from trackread.script.matching import Pairs, in_order, pairs_of


def compare(before: Script, after: Script) -> tuple[Change, ...]:
    """What became of every line, in the order of the draft after; a line that is gone stands where it stood.

    Every line of both drafts is in one change. The ids of the draft after play no part.
    """
    pairs = pairs_of(before.lines, after.lines)
    kept = in_order(pairs)
    places = {i: j for j, i in pairs.items()}
    placed: list[tuple[tuple[int, int], Change]] = []
    for j, line in enumerate(after.lines):
        former = before.lines[pairs[j]] if j in pairs else None
        placed.append(((j, 0), change_of(former, line, stays=j in kept)))
    place = -1
    for i, line in enumerate(before.lines):
        if i not in places:
            placed.append(((place, i + 1), Change(ChangeKind.GONE, line, None)))
        elif places[i] in kept:
            place = places[i]
    return tuple(change for _, change in sorted(placed, key=lambda one: one[0]))


def change_of(before: ScriptLine | None, after: ScriptLine, *, stays: bool) -> Change:
    """What became of one line that is in the draft after."""
    if before is None:
        return Change(ChangeKind.NEW, None, after)
    if said_as(before) != said_as(after):
        return Change(ChangeKind.CHANGED, before, after, word_runs(before.text, after.text))
    return Change(ChangeKind.SAME if stays else ChangeKind.MOVED, before, after)


def said_as(line: ScriptLine) -> tuple[str, str, bool]:
    """What two drafts must have alike for a line to be the same: its words, extension and being said at once."""
    return words_as_set(line.text), line.extension, line.dual


def with_ids(before: Script, after: Script) -> Script:
    """The draft after with the ids of the draft before: a new line has the next number that was never given."""
    pairs: Pairs = pairs_of(before.lines, after.lines)
    issued = before.issued
    lines: list[ScriptLine] = []
    for j, line in enumerate(after.lines):
        if j in pairs:
            lines.append(replace(line, id=before.lines[pairs[j]].id))
        else:
            issued += 1
            lines.append(with_id(line, issued))
    return replace(after, lines=tuple(lines), issued=issued)
