"""The progress bar."""

import sys
from io import StringIO

from trackread.cli import progress


class Terminal(StringIO):
    def isatty(self):
        return True


def test_nothing_is_shown_where_no_terminal_is(monkeypatch):
    stream = StringIO()
    monkeypatch.setattr(sys, "stderr", stream)
    with progress.progress_bar("reading") as tell:
        tell(0.5)

    assert stream.getvalue() == ""


def test_what_is_done_at_once_shows_no_bar(monkeypatch):
    stream = Terminal()
    monkeypatch.setattr(sys, "stderr", stream)
    with progress.progress_bar("reading") as tell:
        tell(1.0)

    assert "reading" not in stream.getvalue()


def test_what_takes_long_shows_how_far_it_is(monkeypatch):
    stream = Terminal()
    monkeypatch.setattr(sys, "stderr", stream)
    monkeypatch.setattr(progress, "PATIENCE", 0.0)
    with progress.progress_bar("reading") as tell:
        tell(0.5)

    assert "reading" in stream.getvalue()
    assert "50%" in stream.getvalue()
