"""Files to a cut, whichever way they are written: an editor may export a list for each track."""

from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

from trackread.core.cut import Cut
from trackread.cutting.assembly import cut_of
from trackread.cutting.cmx import read_cmx
from trackread.cutting.events import Listed, Terms
from trackread.cutting.table import read_table
from trackread.cutting.texts import text_of
from trackread.cutting.timelines import read_timeline
from trackread.errors import CutError

Reader = Callable[[str, str, Terms], Listed]
READERS: dict[str, Reader] = {".edl": read_cmx, ".otio": read_timeline, ".csv": read_table, ".tsv": read_table}


def read_cut(paths: Sequence[Path], terms: Terms) -> Cut:
    """The cut that some lists are of, all of one cut.

    Raises CutError with every problem of every list, each with its file and line.
    """
    lists: list[Listed] = []
    problems = [f"{path}: is named twice" for path, count in Counter(paths).items() if count > 1]
    for path in paths:
        try:
            lists.append(read_list(path, terms))
        except CutError as error:
            problems.append(str(error))
    if problems:
        problems += [f"{one.place}: {one.text}" for each in lists for one in each.problems]
        raise CutError("\n".join(problems))
    if not lists:
        raise CutError("no cut list: name one file at least")
    return cut_of(lists, terms)


def read_list(path: Path, terms: Terms) -> Listed:
    """The events of one list. Raises CutError if the file is none, or no text."""
    reader = READERS.get(path.suffix.lower())
    if reader is None:
        known = "CMX 3600 (.edl), OpenTimelineIO (.otio) or as a table (.csv)"
        raise CutError(
            f"{path}: {path.suffix or 'a name without an ending'} is no cut list that can be read: use {known}"
        )
    text, remarks = text_of(path, latin=reader is read_cmx)
    listed = reader(text, str(path), terms)
    listed.remarks[:0] = remarks
    return listed
