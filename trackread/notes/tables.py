"""Tables of notes while they are read: their rows, and every problem of them at its line.

Frames are numbered as on the sheet, where the first one of the shot has the production's first number; they are counted
from 0 once they are read.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from trackread.core.csv_rows import CsvFault, table_of
from trackread.core.timebase import Frame
from trackread.errors import NotesError

FRAMES = re.compile("-?[0-9]{1,9}")


@dataclass(slots=True)
class NoteTable:
    """A table called `name` that is being read, and what is wrong with it so far."""

    name: str
    first_number: int
    problems: list[CsvFault] = field(default_factory=list)

    def problem(self, line: int, text: str) -> None:
        self.problems.append(CsvFault(line, text))

    def rows(self, text: str, columns: Sequence[str]) -> Iterator[tuple[int, dict[str, str]]]:
        """The rows that have all the columns, each with its line; no row of a table that lacks one."""
        table = table_of(text)
        if table.broken:
            self.problems.append(table.broken)
        # Of a head that cannot be read, no column is missing.
        wrong = [*table.missing(columns), *table.twice(columns)] if table.names or not table.broken else []
        for told in wrong:
            self.problem(table.start, told)
        for row in table.rows if not wrong else ():
            if told := table.uneven(row):
                self.problem(row.line, told)
            else:
                yield row.line, table.named(row)

    def frame_at(self, line: int, text: str) -> Frame | None:
        """The frame of the shot that has a number, None with a problem if it has none."""
        if not FRAMES.fullmatch(text):
            self.problem(line, f"frame is {text!r}: write its number on the sheet, as {self.first_number + 12}")
            return None
        frame = Frame(int(text) - self.first_number)
        if frame < 0:
            self.problem(line, f"frame is {text}, and the first frame of the shot is {self.first_number}")
            return None
        return frame

    def check(self) -> None:
        """Raises NotesError with every problem, in order of lines, if there is one."""
        if self.problems:
            told = sorted(self.problems, key=lambda one: one.line)
            raise NotesError("\n".join(f"{self.name}:{one.line}: {one.text}" for one in told))
