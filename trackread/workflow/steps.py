"""What wants doing next in a production, in the order of doing it, each with the command that does it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trackread.core.script import ScriptLine
from trackread.core.session import Take
from trackread.workflow.counted import counted
from trackread.workflow.session_status import SessionStatus

if TYPE_CHECKING:
    from trackread.workflow.status import Tally


def next_steps(
    total: Tally,
    sessions: Sequence[SessionStatus],
    every: Sequence[Take],
    lines: Sequence[ScriptLine],
    *,
    has_cut: bool,
) -> tuple[str, ...]:
    """What wants doing; nothing where each line has a circled take of its actor that has been read, and is in a cut."""
    if not lines:
        return ("add the script: `trackread script add FILE`",)
    if not sessions:
        return ("add the first session: `trackread session add FILE`",)
    return (*session_steps(total, sessions), *line_steps(total), *old_steps(every, lines), *cut_steps(has_cut=has_cut))


def session_steps(total: Tally, sessions: Sequence[SessionStatus]) -> Iterator[str]:
    """What the machine or an ear does with what is there."""
    if names := [one.name for one in sessions if one.heard < 100]:
        yield f"listen {', '.join(names)} through: `trackread session add` once more with the same file"
    if unsure := sum(one.unsure for one in sessions):
        yield f"say what {counted(unsure, 'unsure stretch', 'unsure stretches')} may be: `trackread takes --unsure`"
    if total.read < total.takes:
        yield f"read {counted(total.takes - total.read, 'take')}: `trackread session read`"


def line_steps(total: Tally) -> Iterator[str]:
    """What people do: choose takes, and record what is missing."""
    if total.unchosen:
        its = counted(total.unchosen, "line")
        yield f"choose takes of {its} that have no circled one: `trackread circle`"
    if total.missing + total.cut_off:
        yield f"record {counted(total.missing + total.cut_off, 'line')} of which no whole take is there"
    if total.stand_in:
        yield f"record {counted(total.stand_in, 'line')} that only a stand-in has said"


def old_steps(every: Sequence[Take], lines: Sequence[ScriptLine]) -> Iterator[str]:
    """Takes that no draft wants any more."""
    current = {line.id for line in lines}
    if gone := sum(bool(take.line) and take.line not in current for take in every):
        its = counted(gone, "take")
        yield f"look at {its} of lines that are gone from the script: `trackread script changes`"


def cut_steps(*, has_cut: bool) -> Iterator[str]:
    """What comes after the takes."""
    if not has_cut:
        yield "put the lines in shots: `trackread cut add` with the editor's lists, or `trackread shot add`"
