"""Fixtures of the tests of sessions."""

import pytest

from tests.sessions.notes import SOUND
from tests.waves import fmt, wave
from trackread.sessions.recorder import recorder_notes


@pytest.fixture
def noted(tmp_path):
    """Writes a wave file with these chunks before its sound and reads what a recorder would have written."""

    def noted(*chunks, form=b"RIFF", rate=48000, **how):
        path = tmp_path / "session.wav"
        path.write_bytes(wave(SOUND, form=form, fmt=fmt(rate=rate), before=b"".join(chunks), **how))
        return recorder_notes(path)

    return noted
