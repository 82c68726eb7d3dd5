"""The sessions as a table, of the terminal or of paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trackread.workflow.session_status import SessionStatus

COLUMNS = ("length", "listened", "takes", "unsure", "chatter", "slates")


def print_sessions(sessions: tuple[SessionStatus, ...]) -> None:
    """The table of sessions."""
    from trackread.cli.columns import print_columns

    rows = [
        (
            f"{one.name} {one.recording}{' (stand-in)' * one.stand_in}",
            length_text(one.milliseconds),
            "through" if one.heard == 100 else f"{one.heard} %",
            *(str(count) if count else "-" for count in (one.takes, one.unsure, one.chatter, one.slates)),
        )
        for one in sessions
    ]
    print_columns(("session", *COLUMNS), rows, right=COLUMNS, paper=True)


def length_text(milliseconds: int) -> str:
    """A length as hours, minutes and whole seconds: `1:02:03`."""
    seconds = milliseconds // 1000
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
