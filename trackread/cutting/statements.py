"""Cut lists of the kind CMX 3600 (SMPTE 258M) as blocks: lines of events, and what is said below them of these.

pycmx parts each line into its fields. What belongs to what is decided here, from its lines: pycmx 1.5.1 loses the last
line of a list that ends with an event, a first line that is no title, M2 and `>>>`, and takes any mode it does not know
for non-drop.
"""

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from pycmx import parse_cmx3600
from pycmx.statements import (
    StmtAudioExt,
    StmtClipName,
    StmtEffectsName,
    StmtEvent,
    StmtRemark,
    StmtSourceFile,
    StmtSplitEdit,
)

from trackread.core.timebase import DROP_RATES, FrameRate
from trackread.cutting.events import Listed

LONGEST = 4000  # characters of a line: the longest path of a file has fewer
CHANNELS = re.compile("V|A[0-9]{0,2}|AA|B|AA/V|A2/V|NONE")
TRANSITION = re.compile("C|D|W[0-9]{3}|K ?B?|K ?O")
FRAMES = re.compile("[0-9]{3}")
# Reel, frames a second, and the source timecode from which they hold.
MOTION = re.compile(r"M2\s+(?:(\S.*?)\s+)?([+-]?[0-9]{1,3}(?:[.][0-9]{1,3})?)\s+([0-9]{2}(?:[:;][0-9]{2}){3})")
MODES = {"DROP FRAME": True, "NON-DROP FRAME": False, "NON DROP FRAME": False}

COLUMNS = (
    "begins like an event, but its columns are not those of CMX 3600: number, reel, channels, transition, "
    "source in and out, record in and out"
)


@dataclass(frozen=True, slots=True)
class Motion:
    """What an M2 line says: frames a second of a reel, from a source timecode on."""

    line: int
    reel: str
    frames: Fraction
    text: str
    trigger: str


@dataclass
class Edit:
    """One line of an event, its times as text; `rate` is what its source counts."""

    line: int
    number: str
    fields: StmtEvent
    rate: FrameRate
    more_audio: StmtAudioExt | None = None

    @property
    def transition(self) -> str:
        return str(self.fields.trans).replace(" ", "")


@dataclass
class Block:
    """Lines of one event that follow each other, and what is said below them."""

    edits: list[Edit]
    motions: list[Motion] = field(default_factory=list)
    from_names: list[str] = field(default_factory=list)
    to_names: list[str] = field(default_factory=list)
    files: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    closed: bool = False


@dataclass
class Statements:
    """A list as its lines say it; `rate` is what its record counts, `mode` what sources do at the line being read."""

    listed: Listed
    rate: FrameRate
    mode: FrameRate
    blocks: list[Block] = field(default_factory=list)


def statements_of(text: str, listed: Listed, rate: FrameRate) -> Statements:
    """The blocks of a list that counts `rate`. What is wrong with a line is added to the problems of `listed`."""
    found = Statements(listed, rate, rate)
    lines = [line.strip() for line in text.split("\n")]
    for number, line in enumerate(lines, 1):
        if len(line) > LONGEST:
            listed.problem(number, f"this line has {len(line)} characters: no list of cuts has more than {LONGEST}")
            lines[number - 1] = ""
    for number, (line, statement) in enumerate(zip(lines, parsed(lines), strict=True), 1):
        if line:
            take(found, number, line, statement)
    return found


def parsed(lines: list[str]) -> Iterator[object]:
    """What pycmx makes of each line."""
    edits = parse_cmx3600(io.StringIO("".join(f"{line}\n" for line in lines)))
    yield edits.title_statement
    yield from edits.event_statements


def take(found: Statements, number: int, line: str, statement: object) -> None:
    """Adds what one line says."""
    listed = found.listed
    block = found.blocks[-1] if found.blocks else None
    if isinstance(statement, StmtEvent) or line[0].isdigit():
        take_event(found, number, line, statement)
    elif line.startswith("TITLE:"):
        listed.title = line.removeprefix("TITLE:").strip() or listed.title
    elif line.startswith("FCM:"):
        take_mode(found, number, line)
    elif block is None:
        listed.remark(number, f"stands above the first event, and is left aside: {line!r}")
    else:
        take_detail(block, number, line, statement, listed)


def take_event(found: Statements, number: int, line: str, statement: object) -> None:
    """An event's line begins a block, unless the line above is of the same event. A faulty one is taken as no edit."""
    edits: list[Edit] = []
    if not isinstance(statement, StmtEvent) or fields_of(statement) != line.split()[1:]:
        found.listed.problem(number, f"{COLUMNS}: {line!r}")
    elif problems := list(field_problems(statement)):
        for problem in problems:
            found.listed.problem(number, problem)
    else:
        edits.append(Edit(number, line.split()[0], statement, found.mode))
    last = found.blocks[-1] if found.blocks else None
    if last and not last.closed and edits and last.edits and last.edits[-1].number == edits[0].number:
        last.edits += edits
    else:
        found.blocks.append(Block(edits))


def fields_of(event: StmtEvent) -> list[str]:
    """The words of an event's line as pycmx has them, so that nothing of the line is lost to its columns."""
    texts = (event.source, event.channels, event.trans, event.trans_op)
    times = (event.source_in, event.source_out, event.record_in, event.record_out)
    return " ".join((*texts, *times)).split()


def field_problems(event: StmtEvent) -> Iterator[str]:
    if not event.source:
        yield "names no reel: write its name, AX for none or BL for black"
    if not CHANNELS.fullmatch(event.channels):
        yield f"has the channels {event.channels!r}: they are V, A, A2 to A99, AA, B, AA/V, A2/V or NONE"
    if not TRANSITION.fullmatch(event.trans):
        yield f"has the transition {event.trans!r}: it is C, D, W with three digits, K, KB or KO"
    elif event.trans[0] in "DW" and not FRAMES.fullmatch(event.trans_op):
        yield f"has a transition of {event.trans_op or 'no'!r} frames: write its length in three digits"
    elif event.trans == "C" and event.trans_op:
        yield f"has a cut with a length, {event.trans_op!r}: a cut has none"


def take_mode(found: Statements, number: int, line: str) -> None:
    """The mode of what follows: of the record and all sources where no event stands above, of the sources then."""
    name = " ".join(line.removeprefix("FCM:").split())
    if name not in MODES:
        found.listed.problem(number, f"{name!r} is no mode of timecode: it is DROP FRAME or NON-DROP FRAME")
        return
    if MODES[name] and found.rate.per_second not in DROP_RATES:
        found.listed.problem(
            number, f"drop-frame exists at 29.97 and 59.94 only: read the list at its own rate, not at {found.rate}"
        )
        return
    mode = FrameRate(found.rate.per_second, MODES[name])
    if not found.blocks:
        found.rate = mode
    elif mode != found.mode:
        told = f"sources are counted {name.lower()} from here on; the record goes on as the list began"
        found.listed.remark(number, told)
    found.mode = mode


def take_detail(block: Block, number: int, line: str, statement: object, listed: Listed) -> None:
    """What a line below an event says of it. Names and remarks close a block, what is said of one line does not."""
    if line.startswith("M2"):
        if found := MOTION.fullmatch(line):
            block.motions.append(Motion(number, found[1] or "", Fraction(found[2]), found[2], found[3]))
        else:
            listed.problem(number, f"is no speed: write M2, the reel, frames a second and a timecode, not {line!r}")
    elif isinstance(statement, StmtClipName):
        (block.from_names if statement.affect == "from" else block.to_names).append(statement.name)
        block.closed = True
    elif isinstance(statement, StmtSourceFile):
        block.files.append(statement.filename)
        block.closed = True
    elif isinstance(statement, StmtAudioExt):
        for edit in block.edits[-1:]:
            edit.more_audio = statement
    elif isinstance(statement, StmtSplitEdit):
        listed.remark(number, "a split edit: picture and sound are taken as the lines of the event have them")
    elif isinstance(statement, StmtRemark | StmtEffectsName) or line.startswith(("*", ">>>")):
        block.notes.append(line.lstrip("* "))
        block.closed = True
    else:
        block.notes.append(line)
        listed.remark(number, f"is no statement of CMX 3600, so kept as a note: {line!r}")
