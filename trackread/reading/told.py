"""Whether a take says its line, and with which departures: a take of another line departs from nothing."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from trackread.core.reading import Match
from trackread.reading.aligner import Aligner, Mark
from trackread.reading.course import StepKind
from trackread.reading.departures import Said, as_written, said_in
from trackread.reading.evidence import Piece
from trackread.reading.line import Line
from trackread.reading.match import judge
from trackread.reading.recogniser import ROW
from trackread.reading.sounds import RATE
from trackread.reading.stretches import Span, stretches

# Share of the phones of a line that a take must say, if it is to be a take of it that departs from it.
KEPT = 0.6
ALIEN = 0.5  # and phones that are none of its words, beside those: `later` is no take of `Bobby ripped the ledger`
USUAL = 0.08  # seconds of a phone


@dataclass(frozen=True, slots=True)
class Told:
    """What a take says, stretch by stretch; `match` is None where nothing departs, until its words are placed."""

    spans: tuple[Span, ...]
    said: tuple[Said, ...]
    match: Match | None

    @property
    def starts(self) -> tuple[float, ...]:
        """Seconds at which each stretch begins."""
        return tuple(span.start / RATE for span in self.spans)


def tell_freely(piece: Piece, line: Line, aligner: Aligner) -> Told:
    """What a whole take says of its line; one that does not say it, whatever it is granted, is told as written."""
    spans = tuple(stretches(piece.signal, piece.heard, line.ways))
    pieces = [part_of(piece, span) for span in spans]
    said = Told(spans, tuple(said_in(part, aligner) for part in pieces), None)
    if not any(each.departures for each in said.said):
        return said
    rewritten = tuple(as_written(each, part) for each, part in zip(said.said, pieces, strict=True))
    written = Told(spans, rewritten, None)
    seconds = len(piece.signal) / RATE
    match = judge(list(marks_of(written)), piece.heard, seconds)
    if match.says_line and kept(said):
        return replace(said, match=match)
    if kept(said) >= KEPT * kept(written) and alien(said) <= ALIEN * kept(said):
        granted = judge(list(marks_of(said)), piece.heard, seconds)
        if granted.says_line:
            return replace(said, match=granted)
    return replace(written, match=match)


def tell_as_written(piece: Piece, line: Line, aligner: Aligner) -> Told:
    """The take as if it said its line."""
    told = tell_freely(piece, line, aligner)
    parts = [part_of(piece, span) for span in told.spans]
    written = tuple(as_written(each, part) for each, part in zip(told.said, parts, strict=True))
    return Told(told.spans, written, None)


def part_of(piece: Piece, span: Span) -> Piece:
    """One stretch of a take."""
    return Piece(
        piece.signal[span.start : span.stop],
        piece.heard.part(span.start // ROW, -(-span.stop // ROW)),
        piece.ways[span.first : span.last],
        piece.narrow,
        frozenset(word - span.first for word in piece.strange),
    )


def kept(told: Told) -> int:
    """The phones of words of the line that are said whole, each word once."""
    words = {
        (k, step.word): len(step.phones)
        for k, each in enumerate(told.said)
        for step in each.steps
        if step.kind is StepKind.WORD
    }
    return sum(words.values())


def alien(told: Told) -> int:
    """The phones that are of no word of the line."""
    return sum(len(step.phones) for each in told.said for step in each.steps if step.kind is StepKind.OTHER)


def marks_of(told: Told) -> Iterator[Mark]:
    """Where the phones are roughly: enough to say whether they are there."""
    for number, (each, start) in enumerate(zip(told.said, told.starts, strict=True)):
        for step in each.steps:
            for k, (phone, time) in enumerate(zip(step.phones, step.times, strict=True)):
                yield Mark(phone, start + time, start + time + USUAL, number, k == 0)
