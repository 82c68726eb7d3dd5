"""Lines of the script that have other words now than when a sheet was issued, though its takes say the old ones."""

from collections.abc import Iterator
from dataclasses import dataclass

from trackread.changes.aligned import Aligned
from trackread.changes.voices import same_words
from trackread.core.timebase import Frame


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line that is another from frame `first` of the sheet that is out on, and what has become of it in words."""

    first: Frame
    told: str


def line_changes(both: Aligned) -> Iterator[LineChange]:
    """Every line that both sheets have and that has other words, another speaker or a voice from elsewhere now."""
    now = {one.line: one for one in both.after.lines}
    for was in {one.line: one for one in reversed(both.before.lines)}.values():
        after = now.get(was.line)
        if after is None or both.now(was.stop) <= 0:
            continue
        if not after.text:
            yield LineChange(was.first, f"{was.line} is not in the script any more: “{was.text}”")
        elif not same_words(was.text, after.text):
            told = f"{was.line} is “{after.text}” in the script now, and {after.take} says “{was.text}”"
            yield LineChange(was.first, told)
        elif (was.character, was.extension) != (after.character, after.extension):
            who = f"{after.character} ({after.extension})" if after.extension else after.character
            yield LineChange(was.first, f"{was.line} is {who}'s now")
