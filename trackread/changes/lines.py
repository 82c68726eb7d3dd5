"""Lines of the script that are other than when a sheet was issued: their words, who says them, from where."""

from collections.abc import Iterator
from dataclasses import dataclass

from trackread.changes.aligned import Aligned
from trackread.changes.columns import same_words
from trackread.core.sheet import PlacedLine
from trackread.core.timebase import Frame


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line that is another from frame `first` of the sheet that is out on, and what has become of it in words.

    `first` is None if the sheet after has none of the frames on which the line was.
    """

    first: Frame | None
    told: str


def line_changes(both: Aligned) -> Iterator[LineChange]:
    """Every line that both sheets have and that has other words, another speaker or a voice from elsewhere now."""
    now = {one.line: one for one in both.after.lines}
    for was in {one.line: one for one in reversed(both.before.lines)}.values():
        after = now.get(was.line)
        if after and (told := line_told(was, after)):
            first, stop = max(was.first, both.kept.start), min(was.stop, both.kept.stop)
            yield LineChange(Frame(first) if first < stop else None, told)


def line_told(was: PlacedLine, after: PlacedLine) -> str:
    """What has become of a line, "" if it is as it was; its signs and capitals are no part of it."""
    if not same_words(was.text, after.text):
        if not after.text:
            return f"{was.line} is not in the script any more: “{was.text}”"
        before = f"before “{was.text}”" if was.text else "before it was not in it"
        return f"{was.line} is “{after.text}” in the script now, {before}"
    if (was.character, was.extension) != (after.character, after.extension):
        return f"{was.line} is said by {speaker(after)} now, before by {speaker(was)}"
    return ""


def speaker(line: PlacedLine) -> str:
    return f"{line.character} ({line.extension})" if line.extension else line.character
