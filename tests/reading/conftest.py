"""Fixtures of the tests of reading."""

import pytest
import soundfile


@pytest.fixture
def saved(tmp_path):
    """Writes bytes, or samples through libsndfile, to a file and gives its path."""

    def saved(content, name="session.wav", rate=48000, **how):
        path = tmp_path / name
        if isinstance(content, bytes):
            path.write_bytes(content)
        else:
            soundfile.write(path, content, rate, **how)
        return path

    return saved
